#!/usr/bin/env node
// The base protocol, byte by byte: headers, phases, errors, ends; a cancelled request; memory that does not grow.
// builds: plain asan
import { spawn, spawnSync } from "node:child_process";
import fs from "node:fs";
import { Server, check, end, folder, position, program, root, uriOf } from "./client.mjs";

const frame = body => `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
const message = (method, params, id) => frame(JSON.stringify({ jsonrpc: "2.0", ...(id === undefined ? {} : { id }), method, params }));
const initialize = message("initialize", { processId: null, capabilities: {}, rootUri: null }, 1);

function parse(bytes) {
    const answers = [];
    let rest = bytes;
    while (rest.length > 0) {
        const match = /^Content-Length: (\d+)\r\n\r\n/.exec(rest.subarray(0, 64).toString("latin1"));
        if (!match)
            throw new Error(`stray bytes: ${rest.subarray(0, 80)}`);
        const from = match[0].length;
        answers.push(JSON.parse(rest.subarray(from, from + Number(match[1])).toString("utf8")));
        rest = rest.subarray(from + Number(match[1]));
    }
    return answers;
}

function talk(input) {
    const run = spawnSync(program, ["lsp"], { input, timeout: 20000, maxBuffer: 1 << 28 });
    return { answers: parse(run.stdout), status: run.status, signal: run.signal, stderr: run.stderr.toString() };
}

const code = (run, id) => run.answers.find(a => a.id === id)?.error?.code;

let run = talk(initialize + message("shutdown", undefined, 2) + message("exit"));
check(run.status === 0 && run.answers.length === 2 && run.stderr === "", "exit after shutdown: status 0, nothing else is written", run);
check(talk(initialize + message("exit")).status === 1, "exit without shutdown: status 1");
check(talk(message("exit")).status === 1, "exit before everything: status 1");
check(talk(initialize).status === 1 && talk("").status === 1, "the end of standard input ends it with status 1");
run = talk(initialize + message("shutdown", undefined, 2) + message("textDocument/hover", {}, 3) + message("exit"));
check(code(run, 3) === -32600 && run.status === 0, "a request after shutdown: -32600", run);
run = talk(message("textDocument/hover", {}, 1) + initialize.replace('"id":1', '"id":2') + message("exit"));
check(code(run, 1) === -32002, "a request before initialize: -32002", run);
run = talk(initialize + message("initialize", {}, 2) + message("exit"));
check(code(run, 2) === -32600, "a second initialize: -32600", run);
run = talk(initialize + message("wetside/none", {}, 2) + message("$/none", {}, 3) + message("$/none", {}) + message("wetside/none", {})
    + message("exit"));
check(code(run, 2) === -32601 && code(run, 3) === -32601 && run.answers.length === 3,
    "an unknown request: -32601; an unknown notification: nothing", run);
run = talk(initialize + frame("{\"jsonrpc\":") + frame("") + message("shutdown", undefined, 2) + message("exit"));
check(run.answers.filter(a => a.error?.code === -32700 && a.id === null).length === 2 && run.status === 0, "bad JSON: -32700, id null", run);
run = talk(initialize + frame("[]") + frame("5") + frame('"x"') + frame('{"id":7}') + frame('{"id":8,"method":9}') + frame('{"id":9,"result":null}') +
    message("shutdown", undefined, 2) + message("exit"));
check(run.answers.filter(a => a.error?.code === -32600).length === 5 && run.status === 0, "JSON that is no request: -32600; a response: nothing", run);
run = talk("noise\r\n\r\n" + initialize + "Content-Length: x\r\n\r\n" + "Content-Type: a/b\r\n" + message("shutdown", undefined, 2) +
    "junkcontent-length:" + message("exit").slice("Content-Length:".length));
check(run.status === 0 && code(run, null) === -32700, "noise between messages is survived, field names in any case", run);
run = talk(initialize + "Content-Length: 99999999999999999999\r\n\r\n" + message("shutdown", undefined, 2) + message("exit"));
check(run.status === 0, "a length that nobody can mean is no length", run);
run = talk(initialize + message("shutdown", undefined, "a\u0000ü") + message("exit"));
check(run.answers.at(-1).id === "a\u0000ü", "an id of any letters comes back", run);
check(talk(initialize + frame("[".repeat(100000)) + message("exit")).answers.at(-1).error.code === -32700, "deep nesting is refused");
const methods = [...fs.readFileSync(`${root}/src/commands/lsp/methods.def`, "utf8").matchAll(/METHOD\("([^"]+)", \w+, (\w+)\)/g)];
const odd = [undefined, null, 5, "x", [], {}, { textDocument: 5 }, { textDocument: { uri: "file:///x" }, position: { line: -1, character: 1e300 } }];
for (const open of [false, true]) {
    let input = initialize + (open ? message("textDocument/didOpen", { textDocument: { uri: "file:///x", text: "wetside 1\n", version: 1 } }) : "");
    let id = 10;
    for (const [, name] of methods)
        if (!["exit", "shutdown", "initialize"].includes(name))
            for (const params of odd)
                input += message(name, params, id++) + message(name, params);
    run = talk(input + message("shutdown", undefined, 2) + message("exit"));
    check(run.status === 0 && run.answers.filter(a => a.id >= 10).length === id - 10,
        `every method bears odd parameters${open ? ", with a document open" : ""}`, { status: run.status, stderr: run.stderr });
}

// Cancelled while it waits: what is read in one piece is looked through first.
run = talk(initialize + message("textDocument/hover", {}, 2) + message("textDocument/hover", {}, "s") + message("$/cancelRequest", { id: 2 }) +
    message("$/cancelRequest", { id: "s" }) + message("$/cancelRequest", { id: 77 }) + message("$/cancelRequest") +
    message("shutdown", undefined, 3) + message("exit"));
check(code(run, 2) === -32800 && code(run, "s") === -32800 && run.status === 0, "a cancelled request: -32800", run);

// A parent that goes away.
const parent = spawn("sleep", ["0.5"]);
const orphan = spawn(program, ["lsp"], { stdio: ["pipe", "pipe", "inherit"] });
orphan.stdin.write(message("initialize", { processId: parent.pid, capabilities: {} }, 1));
orphan.stdout.resume();
const ended = await Promise.race([new Promise(resolve => orphan.on("exit", resolve)),
    new Promise(resolve => setTimeout(resolve, 8000, "still there"))]);
check(ended === 1, "it ends when the parent is gone", ended);
orphan.kill("SIGKILL");

// --- memory: what is typed is not kept ---

const where = folder();
const server = new Server({ cwd: where });
await server.start();
const file = `${root}/examples/colour-negative-separate.wet`;
const text = fs.readFileSync(file, "utf8");
const uri = uriOf(file);
const rss = () => Number(/VmRSS:\s+(\d+)/.exec(fs.readFileSync(`/proc/${server.process.pid}/status`, "utf8"))[1]);
await server.open(uri, text);
// The sanitizer keeps what was given back, and says at the end what was not: how much there is tells of the plain build.
const asan = program.includes("asan");
const CHANGES = asan ? 80 : 400;
const round = async number => {
    for (let i = number * CHANGES; i < (number + 1) * CHANGES; i++) {
        await server.change(uri, text.replace("wetside 1", `wetside 1 # ${i}`), i + 2);
        for (const method of ["hover", "completion", "definition", "references"])
            await server.at(method, uri, position(text, "step "), { context: { includeDeclaration: true } });
        await server.request("textDocument/documentSymbol", { textDocument: { uri } });
    }
};
await round(0);
const early = rss();
for (const number of [1, 2, 3])
    await round(number);
const late = rss();
check(asan || late - early < 1500, `${4 * CHANGES} changes and ${20 * CHANGES} requests keep no memory (${early} kB, then ${late} kB)`);
const openAndClose = async from => {
    for (let i = from; i < from + 300; i++) {
        await server.open(`file:///nowhere/${i}.wet`, text);
        await server.notify("textDocument/didClose", { textDocument: { uri: `file:///nowhere/${i}.wet` } });
        await server.settle(); // else many messages may wait at once, each with memory of its own
    }
    return rss();
};
const first = await openAndClose(0);
for (const from of [300, 600, 900])
    await openAndClose(from);
const last = await openAndClose(1200);
check(asan || last - first < 1500, `nor do 1,200 documents that were closed again (${first} kB, then ${last} kB)`);
check(await server.stop() === 0, "and it ends well", server.stderr);
end();
