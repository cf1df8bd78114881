#!/usr/bin/env node
// Every feature, asked for by a client that is not ours.
// builds: plain asan
import { spawnSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { Server, apply, check, end, folder, position, positionAt, program, protocol, uriOf, write } from "./client.mjs";

const where = folder();
const ROOM = `wetside 1

tank small "Four reels" {
  holds 1 L
  takes 4 x 135
  fill 8 s
  drain 10 s
}
`;
const BATHS = `wetside 1

solution fixer "Rapid fixer" {
  role fix
  dilute 1+4
  reuse
  usable 18 .. 41 °C
  hazards none
  waste silver
}

solution soup "Developer" {
  role developer
  dilute 1+9
  one-shot
  usable 18 .. 24 °C
  hazards none
  waste developer
}
`;
const MAIN = `wetside 1
# one
# two
use "room.wet"
use "baths.wet"

process pier "Pier" {
  develops black-and-white-negative
  tank small
  load 4 rolls
  step develop in soup at 20 ± 0.5 °C for 8:00 {
    agitate first 30 s, then 5 s every 30 s
  }
  step fix in fixer at 20 ± 2 °C for at least 5:00 {
    agitate first 15 s, then 5 s every 30 s
  }
  step wash in running water at 20 ± 2 °C for at least 5:00 { flow 3 L per min }
}

process pier-2 from pier {
  step develop for 9:00
  step rinse after fix as rinse in water at 20 ± 2 °C for 0:30
}
`;
const OTHER = `wetside 1
use "baths.wet"
use "room.wet"
process quay {
  tank small
  step fix in fixer at 20 °C for 5:00
}
`;
write(where, { "room.wet": ROOM, "baths.wet": BATHS, "main.wet": MAIN, "other/deep.txt": "no recipe", "quay.wet": OTHER });
const uri = name => uriOf(path.join(where, name));
const MAIN_URI = uri("main.wet");

const server = new Server({ cwd: where });
const { capabilities } = await server.start({ folders: [where] });
check(capabilities.positionEncoding === "utf-16", "UTF-16 where the client says nothing");
await server.open(MAIN_URI, MAIN);
await server.settle();

const ask = (method, text, needle, more = {}) => {
    const { nth, before, ...params } = more;
    return server.at(method, MAIN_URI, position(text, needle, { nth, before }), params);
};
const cut = (text, range) => {
    const lines = text.split("\n");
    return range.start.line === range.end.line ? lines[range.start.line].slice(range.start.character, range.end.character) : null;
};

// --- hover: figures (arithmetic done here), names, times, words ---

const hover = async (needle, more) => (await ask("hover", MAIN, needle, more))?.contents.value ?? "";
const holdsAll = (text, parts, name) => check(parts.every(part => text.includes(part)), name, text);
holdsAll(await hover("at 20 ± 0.5 °C", { before: false }).then(() => hover("± 0")), ["0.9 °F"],
    "a tolerance of half a degree is 0.9 °F (0.5 × 1.8), no temperature");
holdsAll(await hover("flow 3"), ["101.4 US fl oz", "105.6 UK fl oz"],
    "3 L in fluid ounces (3000 / 29.5735 and / 28.4131: NIST Handbook 44)");
holdsAll(await hover("8:0"), ["480 s", "8 min"], "8:00 is 480 s");
holdsAll(await hover("first 30 s", { before: false }), ["0.5 min"], "30 s is half a minute");
holdsAll(await hover("step fi"), ["poured at 8:0", "its time starts"], "a step says when it comes");
holdsAll(await hover("in soup"), ["solution soup", "dilute 1+9", "baths.wet"], "a bath shows its declaration");
holdsAll(await hover("devel"), ["process family"], "a keyword says what it means");
holdsAll(await hover("black-and-white-neg"), ["family"], "a word of a vocabulary too");
check(await ask("hover", MAIN, "# on") === null, "a comment says nothing");

// --- definition, references, highlight ---

let place = await ask("definition", MAIN, "in soup");
check(place.uri === uri("baths.wet") && cut(BATHS, place.range) === "soup", "definition of a bath in another file", place);
place = await ask("definition", MAIN, 'use "room');
check(place.uri === uri("room.wet") && place.range.start.line === 0, "definition of a used file is its start", place);
place = await ask("definition", MAIN, "step develop", { nth: 2 });
check(place.uri === MAIN_URI && place.range.start.line === 10, "a step of a variant leads to its parent's", place);
let places = await ask("references", MAIN, "in fixer", { context: { includeDeclaration: true } });
const shown = list => list.map(item => `${path.basename(item.uri)}:${item.range.start.line + 1}`).sort().join(" ");
check(shown(places) === "baths.wet:3 main.wet:14 quay.wet:6", "references in all files, also those not open", shown(places));
places = await ask("references", MAIN, "in fixer", { context: { includeDeclaration: false } });
check(shown(places) === "main.wet:14 quay.wet:6", "without the declaration where that is asked", shown(places));
places = await ask("references", MAIN, "after fix", { context: { includeDeclaration: true } });
check(shown(places) === "main.wet:14 main.wet:22", "a step's name is another than a bath's", shown(places));
const marks = await ask("documentHighlight", MAIN, "tank small");
check(marks.length === 1 && cut(MAIN, marks[0].range) === "small", "highlights in this file", marks);

// --- rename ---

let range = await ask("prepareRename", MAIN, "in fixer");
check(range.placeholder === "fixer" && cut(MAIN, range.range) === "fixer", "prepareRename gives the name's range", range);
check(await ask("prepareRename", MAIN, "running wat") === null, "plain water has no name to be changed");
check(await ask("prepareRename", MAIN, "tan") === null, "nor has a keyword");
const edited = (edit, texts) => {
    const fresh = { ...texts };
    for (const [name, edits] of Object.entries(edit.changes))
        fresh[path.basename(new URL(name).pathname)] = apply(texts[path.basename(new URL(name).pathname)], edits);
    return fresh;
};
const texts = { "main.wet": MAIN, "baths.wet": BATHS, "quay.wet": OTHER, "room.wet": ROOM };
const renamed = edited(await ask("rename", MAIN, "in fixer", { newName: "hypo" }), texts);
check(Object.values(renamed).every(text => !/\bfixer\b/.test(text.replace(/"[^"]*"/g, ""))) && /in hypo/.test(renamed["quay.wet"]) &&
    /solution hypo/.test(renamed["baths.wet"]) && renamed["room.wet"] === ROOM, "rename covers every file", renamed);
const steps = edited(await ask("rename", MAIN, "step fi", { newName: "last-fix" }), texts);
check(/step last-fix in fixer/.test(steps["main.wet"]) && /after last-fix/.test(steps["main.wet"]) && steps["quay.wet"] === OTHER,
    "a step is renamed in its process and what varies it, and nowhere else", steps["main.wet"]);
const refused = async (needle, newName) => {
    try {
        await ask("rename", MAIN, needle, { newName });
        return "";
    } catch (error) {
        return error.message;
    }
};
check(/another bath/.test(await refused("in fixer", "soup")), "a taken name is refused");
check(/another step/.test(await refused("step fi", "rinse")), "also where only a variant has it");
check(/not a name/.test(await refused("in fixer", "two words")), "what is no name is refused");
check(/not a name/.test(await refused("in fixer", "x {\n}\ntank y")), "also what would be more than a name");
check(/word of the language/.test(await refused("in fixer", "water")), "a word of the language is refused");

// --- symbols, folding, hints ---

const symbols = await server.request("textDocument/documentSymbol", { textDocument: { uri: MAIN_URI } });
check(symbols.map(s => s.name).join(" ") === "room.wet baths.wet pier pier-2", "document symbols", symbols.map(s => s.name));
check(symbols[2].children.map(s => s.name).join(" ") === "develop fix wash", "a process holds its steps");
check(symbols.every(s => cut(MAIN, s.selectionRange).replace(/"/g, "") === s.name), "each selects its name");
const folds = await server.request("textDocument/foldingRange", { textDocument: { uri: MAIN_URI } });
const fold = folds.map(f => `${f.startLine + 1}-${f.endLine + 1}${f.kind ? " " + f.kind : ""}`).sort().join(", ");
check(fold === "11-12, 14-15, 2-3 comment, 20-22, 7-17", "folding of blocks and comments", fold);
const whole = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };
const hints = async text => (await server.request("textDocument/inlayHint", { textDocument: { uri: MAIN_URI }, range: whole }))
    .map(h => `${text.split("\n")[h.position.line].slice(0, h.position.character).trim()} ${h.label}`).join(", ");
// 8 s to fill and 10 s to drain are within the time as the language counts it by default: 8:00, then at least 5:00.
check(await hints(MAIN) === "step develop 0:00, step fix 8:00, step wash 13:00, step develop 0:00, step rinse 14:00",
    "inlay hints say when each step comes", await hints(MAIN));

// --- formatting ---

const loose = MAIN.replace("  tank small", "    tank   small").replace("  load 4 rolls", "load 4 rolls");
await server.change(MAIN_URI, loose, 2);
let edits = await server.request("textDocument/formatting", { textDocument: { uri: MAIN_URI }, options: { tabSize: 8, insertSpaces: false } });
const formatted = spawnSync(program, ["fmt", "-"], { input: loose, encoding: "utf8" }).stdout;
check(edits.length === 1 && apply(loose, edits) === formatted && formatted.length > 100, "formatting gives what `wetside fmt` gives", edits);
check(edits[0].range.start.line > 0 && edits[0].range.end.line < 15, "as an edit of the lines concerned", edits[0].range);
await server.change(MAIN_URI, formatted, 3);
edits = await server.request("textDocument/formatting", { textDocument: { uri: MAIN_URI }, options: {} });
check(edits.length === 0, "a text in that form is left alone", edits);
await server.change(MAIN_URI, MAIN.replace("load 4", "load four 4"), 4);
edits = await server.request("textDocument/formatting", { textDocument: { uri: MAIN_URI }, options: {} });
check(edits === null, "so is one with mistakes of syntax", edits);

// --- completion: what fits, and nothing else ---

let version = 10;
const complete = async (text, needle, more = {}) => {
    await server.change(MAIN_URI, text, ++version);
    return (await server.at("completion", MAIN_URI, position(text, needle, more))).items.map(item => item.label);
};
const within = (clause, more = "") => MAIN.replace("  tank small\n", `  ${clause}\n  tank small\n${more}`);
const inStep = clause => MAIN.replace("    agitate first 15 s", `    ${clause}\n    agitate first 15 s`);
const same = (got, wanted, name) => check([...got].sort().join(" ") === [...wanted].sort().join(" "), name, got);
let items = await complete(within("dev"), "  dev", { nth: 1 });
check(items.includes("develops") && items.includes("step") && !items.includes("holds") && !items.includes("through"),
    "keywords that begin a clause of this block", items);
same(await complete(within("tank "), "  tank "), ["small"], "tanks after `tank`");
same(await complete(within("step stop in "), "step stop in "), ["fixer", "soup", "water", "running water", "light", "air"],
    "baths after `in`");
items = await complete(within("step stop as "), "step stop as ");
check(items.includes("stop") && items.includes("developer") && !items.includes("soup"), "roles after `as`", items);
items = await complete(within("allow "), "allow ");
check(items.includes("carry-over") && !items.includes("syntax"), "checks that may be allowed after `allow`", items);
same(await complete(within("room 20 "), "room 20 "), ["°C", "°F"], "units of temperature after `room 20`");
same(await complete(within("wet time under 40 m"), "under 40 m"),
    ["ms", "s", "min", "h", "days", "weeks", "months"], "units of time, while one is typed");
items = await complete(inStep("agitate "), "    agitate ");
check(items.includes("first") && items.includes("none") && items.includes("continuously") && !items.includes("tank"),
    "what `agitate` may go on with", items);
items = await complete(within("develops "), "develops ");
check(items.includes("c-41") || items.includes("C-41"), "process families after `develops`", items);
items = await complete(MAIN.replace("from pier {", "from  {"), "pier-2 from ");
check(items.includes("pier") && !items.includes("soup"), "processes after `from`", items);
items = await complete(MAIN.replace('use "baths.wet"', 'use "ba'), 'use "ba');
check(items.includes("baths.wet") && items.includes("quay.wet"), "recipes after `use \"`", items);
items = await complete(MAIN + "\nday 2026-03-14 {\n  runs p", "  runs ");
check(items.includes("pier") && items.includes("pier-2") && !items.includes("soup"), "processes after `runs`", items);
items = await complete(MAIN + "\nroll SM-1 {\n  condition v", "  condition ");
check(items.includes("vinegar") && items.includes("nitrate"), "conditions of a roll", items);
items = await complete(MAIN + "\nroll SM-1 {\n  needs C", "  needs ");
check(items.includes("C-41") && items.includes("K-14"), "process families after `needs`", items);
same(await complete(within("note \"tank "), "note \"tank "), [], "nothing in a text");
same(await complete(MAIN, "# on"), [], "nothing in a comment");
same(await complete(MAIN + "\n", MAIN.slice(-20) + "\n"), ["day", "dryer", "film", "graduate", "heater", "on", "process", "roll",
    "solution", "tank", "thermometer", "use", "allow", "wetside"], "declarations at the top level");

// --- diagnostics: codes, versions, related places, fixes ---

const text = MAIN.replace("in soup", "in sop").replace("0.5 °C", "0,5 °C");
await server.change(MAIN_URI, text, 50);
await server.settle();
let said = server.published.get(MAIN_URI);
const byCode = Object.fromEntries(said.diagnostics.map(d => [d.code, d]));
check(said.version === 50 && byCode["unknown-name"] && byCode.syntax, "findings carry the version and their check", said);
check(said.diagnostics.every(d => d.source === "wetside" && /^[a-z]+:/.test(d.codeDescription.href)), "and where the check is described");
check(cut(text, byCode["unknown-name"].range) === "sop" && cut(text, byCode.syntax.range) === "0,5",
    "ranges count UTF-16 units behind ± and °", byCode);
let actions = await server.request("textDocument/codeAction", { textDocument: { uri: MAIN_URI }, range: byCode.syntax.range,
    context: { diagnostics: [byCode.syntax] } });
check(actions.length === 1 && actions[0].isPreferred && apply(text, actions[0].edit.changes[MAIN_URI]).includes("± 0.5 °C"),
    "a sure fix is preferred", actions);
actions = await server.request("textDocument/codeAction", { textDocument: { uri: MAIN_URI }, range: byCode["unknown-name"].range,
    context: { diagnostics: [], only: ["quickfix"] } });
check(actions.some(a => apply(text, a.edit.changes[MAIN_URI]).includes("in soup")), "an unknown name is put right", actions);
check(actions.some(a => /declare/.test(a.title) && apply(text, a.edit.changes[MAIN_URI]).endsWith("solution sop {\n}\n")),
    "or declared", actions);
actions = await server.request("textDocument/codeAction", { textDocument: { uri: MAIN_URI }, range: whole,
    context: { diagnostics: [], only: ["refactor"] } });
check(actions.length === 0, "no action of another kind");

const twice = `${MAIN}\nfilm a {\n family C-41\n}\nfilm a {\n family C-41\n}\n`;
await server.change(MAIN_URI, twice, 51);
await server.settle();
const again = server.published.get(MAIN_URI).diagnostics.find(d => d.code === "defined-twice");
check(again?.relatedInformation.length === 1 && cut(twice, again.relatedInformation[0].location.range) === "a",
    "the other place is related", again);

// --- buffers that are not saved, and files that are used ---

await server.change(MAIN_URI, MAIN, 60);
await server.open(uri("baths.wet"), BATHS.replace("solution soup", "solution stew"), 7);
await server.settle();
check(server.published.get(MAIN_URI).diagnostics.some(d => d.code === "unknown-name"),
    "an unsaved buffer counts in the file that uses it");
await server.notify("textDocument/didChange", { textDocument: { uri: uri("baths.wet"), version: 8 }, contentChanges: [
    { range: { start: position(BATHS, "solution soup", { before: true }), end: position(BATHS, "solution soup") }, text: "solution soup" }] });
await server.settle();
check(!server.published.get(MAIN_URI).diagnostics.some(d => d.code === "unknown-name"),
    "and mending it, by an edit of a range, is seen there too");
await server.change(uri("baths.wet"), BATHS.replace("usable 18 .. 41 °C", "usable 41 .. 18 °C"), 9);
await server.settle();
const fromBaths = server.published.get(uri("baths.wet"));
check(fromBaths.version === 9 && fromBaths.diagnostics.length > 0, "a mistake in a used file is shown in that file", fromBaths);
await server.notify("textDocument/didClose", { textDocument: { uri: uri("baths.wet") } });
await server.settle();
check(server.published.get(uri("baths.wet")).diagnostics.length === 0, "what was mended on closing is taken back");
await server.open(uri("new.wet"), "wetside 1\n");
await server.change(MAIN_URI, MAIN.replace('"room.wet"', '"new.wet"'), 61);
await server.settle();
check(!server.published.get(MAIN_URI).diagnostics.some(d => d.code === "unreadable-file"),
    "a file that is only in the editor can be used");
write(where, { "late.wet": "wetside 1\n" });
fs.rmSync(path.join(where, "late.wet"));
await server.change(MAIN_URI, MAIN.replace('"room.wet"', '"late.wet"'), 62);
await server.settle();
const missing = server.published.get(MAIN_URI).diagnostics.some(d => d.code === "unreadable-file");
write(where, { "late.wet": "wetside 1\n" });
await server.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: uri("late.wet"), type: 1 }] });
await server.settle();
check(missing && !server.published.get(MAIN_URI).diagnostics.some(d => d.code === "unreadable-file"),
    "a file that appears is found");

// --- a broken file lives on ---

const broken = MAIN.replace("  step fix in", "  step fix in in in {{\n  step fix in");
await server.change(MAIN_URI, broken, 70);
const left = await server.request("textDocument/documentSymbol", { textDocument: { uri: MAIN_URI } });
check(left.some(s => s.name === "pier" && s.children.some(c => c.name === "develop")), "symbols of a broken file", left.map(s => s.name));
const brokenFolds = await server.request("textDocument/foldingRange", { textDocument: { uri: MAIN_URI } });
check(brokenFolds.length >= 2, "folding of a broken file", brokenFolds);
items = await complete(MAIN.replace("  load 4 rolls", "  load four of them }{ \n  load 4 rolls").replace("  step wash", "  tank \n  step wash"),
    "  tank ", { nth: 2 });
check(items.includes("small"), "completion in a broken file", items);

// --- documentChanges, for a client that takes them ---

await server.change(MAIN_URI, MAIN, 80);
const second = new Server({ cwd: where });
await second.start({ folders: [where], capabilities: { general: { positionEncodings: ["utf-8", "utf-16"] },
    workspace: { workspaceEdit: { documentChanges: true } } } });
check(second.initialized.capabilities.positionEncoding === "utf-8", "UTF-8 where it is offered");
await second.open(MAIN_URI, MAIN, 3);
const edit = await second.at("rename", MAIN_URI, position(MAIN, "in fixer"), { newName: "hypo" });
const versions = Object.fromEntries(edit.documentChanges.map(c => [path.basename(c.textDocument.uri), c.textDocument.version]));
check(versions["main.wet"] === 3 && versions["baths.wet"] === null, "edits say which version they are for", versions);

// --- positions: surrogate pairs before the mistake, all line ends, both encodings ---

for (const [eol, name] of [["\n", "LF"], ["\r\n", "CR LF"], ["\r", "CR"]]) {
    const wide = MAIN.replace("process pier \"Pier\"", "process pier \"🎞🎞\" oops").replaceAll("\n", eol);
    const at = wide.indexOf("oops");
    await server.change(MAIN_URI, wide, ++version + 100);
    await second.change(MAIN_URI, wide, version + 100);
    await server.settle();
    await second.settle();
    const want16 = positionAt(wide, at);
    const line = wide.slice(0, at).split(/\r\n|\n|\r/).at(-1);
    const find = s => s.published.get(MAIN_URI).diagnostics.find(d => d.code === "syntax")?.range.start;
    check(JSON.stringify(find(server)) === JSON.stringify(want16), `a place behind surrogate pairs in UTF-16, ${name}`,
        [find(server), want16]);
    check(find(second)?.character === Buffer.byteLength(line) && find(second).line === want16.line,
        `the same in UTF-8, ${name}`, find(second));
}

// --- one edit of a range after another gives the text that the client has ---

let mirror = MAIN;
await server.change(MAIN_URI, MAIN, 900);
let state = 12345;
const random = most => (state = (state * 1103515245 + 12345) % 2147483648) % most;
for (let i = 0; i < 300; i++) {
    const begin = random(mirror.length);
    const finish = Math.min(mirror.length, begin + random(6));
    if (/[\uDC00-\uDFFF]/.test(mirror[begin] ?? "") || /[\uDC00-\uDFFF]/.test(mirror[finish] ?? ""))
        continue;
    const fresh = ["", "x", "\n", "🎞", "°", "{", "}"][random(7)];
    const params = { range: { start: positionAt(mirror, begin), end: positionAt(mirror, finish) }, text: fresh };
    mirror = mirror.slice(0, begin) + fresh + mirror.slice(finish);
    await server.notify("textDocument/didChange", { textDocument: { uri: MAIN_URI, version: 1000 + i }, contentChanges: [params] });
}
await server.settle();
const byRanges = JSON.stringify(server.published.get(MAIN_URI).diagnostics);
await server.change(MAIN_URI, mirror, 2000);
await server.settle();
check(byRanges === JSON.stringify(server.published.get(MAIN_URI).diagnostics), "300 edits of ranges and the whole text agree");

check(await server.stop() === 0 && await second.stop() === 0, "exit after shutdown is 0", server.stderr + second.stderr);
check(protocol.DiagnosticSeverity.Error === 1, "severities are those of the protocol");
end();
