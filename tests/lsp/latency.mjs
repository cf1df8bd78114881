#!/usr/bin/env node
// A letter typed in a file of 5,000 lines: how long until the findings are there. The limit is generous, for machines
// that have something else to do; the figure is printed.
// builds: plain
import fs from "node:fs";
import { Server, check, end, folder, positionAt, root, uriOf } from "./client.mjs";

const LIMIT_MS = 250;
const LINES = 5000;

// An example over and over, each time with names of its own.
function longRecipe() {
    const source = fs.readFileSync(`${root}/examples/black-and-white.wet`, "utf8");
    const [head, ...rest] = source.split(/\n(?=film )/);
    let text = head + "\n";
    for (let i = 0; text.split("\n").length < LINES; i++)
        text += rest.join("\n")
            .replace(/\b(lighthouse-negative|developer)\b(?=[ \n])/g, (word, _, at, all) =>
                /(role|waste) $/.test(all.slice(0, at)) ? word : `${word}-${i}`)
            .replace(/\b(black-and-white)(?=(-pull-1)? )/g, `$1-${i}`) + "\n";
    return text;
}

const where = folder();
for (const name of ["room.wet", "baths.wet"])
    fs.copyFileSync(`${root}/examples/${name}`, `${where}/${name}`);
const text = longRecipe();
const uri = uriOf(`${where}/long.wet`);
const server = new Server({ cwd: where });
await server.start();
await server.open(uri, text);
await server.settle();
const hints = await server.request("textDocument/inlayHint", { textDocument: { uri }, range: { start: { line: 0, character: 0 }, end: { line: 1e6, character: 0 } } });
check(text.split("\n").length >= LINES && hints.length > 300, `${text.split("\n").length} lines, ${hints.length} steps computed`,
    server.published.get(uri).diagnostics.slice(0, 3));

// Computing time alone, whatever else the machine does: utime and stime of proc(5), in 1/100 s.
const computed = () => {
    const fields = fs.readFileSync(`/proc/${server.process.pid}/stat`, "utf8").split(") ")[1].split(" ");
    return (Number(fields[11]) + Number(fields[12])) * 10;
};
const spent = [];
const completed = [];
const LETTERS = 60;
const computedBefore = computed();
let version = 1;
for (let i = 0; i < LETTERS; i++) {
    const at = positionAt(text, text.indexOf("note ", Math.floor(text.length * i / (LETTERS + 1))) + 6);
    const begin = performance.now();
    const seen = new Promise(resolve => {
        const listen = server.connection.onNotification("textDocument/publishDiagnostics", params => {
            if (params.version === version + 1) {
                listen.dispose();
                resolve();
            }
        });
    });
    await server.notify("textDocument/didChange", { textDocument: { uri, version: version + 1 },
        contentChanges: [{ range: { start: at, end: at }, text: "k" }] });
    await seen;
    spent.push(performance.now() - begin);
    version++;
    const start = performance.now();
    await server.at("completion", uri, at);
    completed.push(performance.now() - start);
}
const middle = list => [...list].sort((a, b) => a - b)[list.length >> 1];
const figure = list => `median ${middle(list).toFixed(1)} ms, worst ${Math.max(...list).toFixed(1)} ms`;
check(middle(spent) < LIMIT_MS, `a letter is answered: ${figure(spent)}`);
const perLetter = (computed() - computedBefore) / LETTERS;
check(perLetter < LIMIT_MS, `computing alone, completion counted in: ${perLetter.toFixed(1)} ms a letter`);
check(middle(completed) < LIMIT_MS, `completion is answered: ${figure(completed)}`);
check(await server.stop() === 0, "and it ends well", server.stderr);
end();
