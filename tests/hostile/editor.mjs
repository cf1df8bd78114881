#!/usr/bin/env node
// Hostile documents in the language server: the recipe that has every text, a text in each of its slots, one document after the
// other; refused bytes cannot come here, since a message is UTF-8, but lone surrogates can. Every request is answered, and what
// an editor would render as Markdown has no markup of the document's own.
// builds: plain asan
import { execFileSync, spawnSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { createRequire } from "node:module";
import { Server, check, end, folder, positionAt, uriOf } from "../lsp/client.mjs";

const here = path.dirname(new URL(import.meta.url).pathname);
const where = folder();
const script = `
import sys
sys.path.insert(0, ${JSON.stringify(here)})
import os, slots, strings
texts = list(strings.STRINGS.values())
for row in range(0, len(texts), ${process.env.WETSIDE_BUILD === "asan" ? 12 : 6}):
    held = {slot: texts[(number + row) % len(texts)] for number, slot in enumerate(slots.SLOTS)}
    print(slots.write(os.path.join(${JSON.stringify(where)}, str(row)), held, slots.tame_names()))
`;
const paths = execFileSync("python3", ["-c", script], { encoding: "utf8" }).trim().split("\n");
let parse5;
try {
    parse5 = createRequire(new URL("../node/package.json", import.meta.url))("parse5");
} catch {
    console.log("parse5 is not installed in tests/node");
    process.exit(77);
}
if (spawnSync("cmark", ["--version"]).error) {
    console.log("cmark is not installed");
    process.exit(77);
}

const FEWER = 3; // of the places of a long document
const ELEMENTS = new Set(["html", "head", "body", "p", "strong", "em", "code", "pre", "a", "ul", "ol", "li", "h1", "h2", "h3", "hr"]);

// What an editor would show of Markdown: elements and links that are none of ours.
function strange(markdown) {
    const html = execFileSync("cmark", ["--unsafe"], { input: markdown, encoding: "utf8" });
    const found = [];
    const visit = node => {
        if (node.tagName && !ELEMENTS.has(node.tagName))
            found.push(node.tagName);
        for (const { name, value } of node.attrs ?? [])
            if (!(name === "href" && /^(https?:\/\/|mailto:)\w/.test(value)) && name !== "class")
                found.push(`${name}=${value}`);
        for (const child of node.childNodes ?? [])
            visit(child);
    };
    visit(parse5.parse(html));
    return found;
}

function markdownOf(answer) {
    const contents = answer?.contents;
    if (contents === undefined || contents === null)
        return "";
    return typeof contents === "string" ? contents : contents.kind === "plaintext" ? "" : contents.value ?? "";
}

const server = new Server();
await server.start({ folders: [where], capabilities: { textDocument: { hover: { contentFormat: ["markdown", "plaintext"] } } } });
const wrong = [];
let asked = 0;
let shown = 0;
const documents = paths.map(file => [uriOf(file), fs.readFileSync(file, "utf8")]);
// What ends a block of code, in a declaration with a mistake; a file whose name is markup.
const used = path.join(where, "<img src=x onerror=alert(1)> `b` ``c *d*.wet");
fs.writeFileSync(used, "wetside 1\ntank far { holds 1 L; fill 8 s; drain 8 s }\n");
documents.push([uriOf(path.join(where, "fence.wet")), `wetside 1
use "${path.basename(used)}"
tank near {
  holds 1 L
\`\`\`
<img src=x onerror=alert(1)>
\`\`\`\`
\`\`\`
}
process one { develops black-and-white-negative; tank near }
process two { develops black-and-white-negative; tank far }
`]);
documents.push(["untitled:lone", `wetside 1\ntank t "a\ud800b" { holds 1 L; note "\udc00" }\n`],
    ["file:///%00%ff/<script>", "wetside 1\n"], ["", "wetside 1\n"], ["javascript:alert(1)", "wetside 1\ntank \"<script>\" {\n"]);
for (const [uri, text] of documents) {
    await server.open(uri, text);
    const whole = { textDocument: { uri } };
    for (const method of ["documentSymbol", "foldingRange", "formatting"])
        await server.request(`textDocument/${method}`, { ...whole, options: { tabSize: 2, insertSpaces: true } });
    const range = { start: { line: 0, character: 0 }, end: positionAt(text, text.length) };
    await server.request("textDocument/inlayHint", { ...whole, range });
    await server.request("textDocument/codeAction", { ...whole, range, context: { diagnostics: server.published.get(uri)?.diagnostics ?? [] } });
    // A name, and the text behind it: each place where a word or a text begins.
    const places = [...text.matchAll(/(?<=[\s{;])[\w"]/g)].filter((_, number) => text.length < 1000 || number % FEWER === 0).slice(0, 120);
    for (const { index } of places) {
        const place = positionAt(text, index);
        const markdown = markdownOf(await server.at("hover", uri, place));
        asked++;
        if (!markdown)
            continue;
        shown++;
        const found = strange(markdown);
        if (found.length > 0 || /[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]/.test(markdown))
            wrong.push([uri, place, found.slice(0, 3), markdown.slice(0, 300)]);
    }
    for (const { index } of places.slice(0, 10))
        await server.at("completion", uri, positionAt(text, index));
}
await server.settle();
check(wrong.length === 0, `nothing in ${shown} hovers is markup of the document's own`, wrong.slice(0, 5));
check(shown > 100, "hovers are shown", `${shown} of ${asked}`);
const said = [...server.published.values()].flatMap(({ diagnostics }) => diagnostics.map(each => each.message));
const raw = said.filter(text => /[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/.test(text));
check(said.length > 100 && raw.length === 0, `nothing raw in the words of ${said.length} findings`, raw.slice(0, 5));
check(await server.stop() === 0 && server.stderr === "", "it ends well and says nothing", server.stderr);
fs.rmSync(where, { recursive: true });
end();
