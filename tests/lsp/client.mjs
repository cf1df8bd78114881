// What the tests of the language server share: a client that is not ours (vscode-jsonrpc), and printing results.
import { spawn } from "node:child_process";
import { fileURLToPath, pathToFileURL } from "node:url";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { createRequire } from "node:module";

const require = createRequire(new URL("../node/package.json", import.meta.url));
export const protocol = require("vscode-languageserver-protocol/node");
const rpc = require("vscode-jsonrpc/node");

export const root = fileURLToPath(new URL("../..", import.meta.url)).replace(/\/$/, "");
export const program = process.env.WETSIDE ?? path.join(root, "build/wetside");

let failures = 0;

export function check(condition, name, why = "") {
    console.log(`${condition ? "ok" : "not ok"} - ${name}`);
    if (!condition) {
        failures++;
        const text = typeof why === "string" ? why : JSON.stringify(why, null, 1);
        for (const line of text.split("\n").slice(0, 40))
            console.log(`    ${line}`);
    }
    return condition;
}

export function end() {
    process.exit(failures > 0 ? 1 : 0);
}

export function folder() {
    return fs.realpathSync(fs.mkdtempSync(path.join(process.env.TMPDIR ?? os.tmpdir(), "lsp-")));
}

export function write(where, files) {
    for (const [name, text] of Object.entries(files)) {
        fs.mkdirSync(path.dirname(path.join(where, name)), { recursive: true });
        fs.writeFileSync(path.join(where, name), text);
    }
}

export const uriOf = file => pathToFileURL(file).href;

// The position behind the `nth` occurrence of a text (or before it, with `before`).
export function position(text, needle, { nth = 1, before = false } = {}) {
    let at = -1;
    for (let i = 0; i < nth; i++)
        at = text.indexOf(needle, at + 1);
    if (at < 0)
        throw new Error(`no ${JSON.stringify(needle)}`);
    return positionAt(text, before ? at : at + needle.length);
}

// The place of an offset in UTF-16 units.
export function positionAt(text, offset) {
    const lines = text.slice(0, offset).split(/\r\n|\n|\r/);
    return { line: lines.length - 1, character: lines.at(-1).length };
}

// A text with an editor's edits (ranges in UTF-16 units) applied.
export function apply(text, edits) {
    const starts = [0];
    for (let i = 0; i < text.length; i++)
        if (text[i] === "\n")
            starts.push(i + 1);
    const offset = place => (starts[place.line] ?? text.length) + place.character;
    for (const edit of [...edits].sort((a, b) => offset(b.range.start) - offset(a.range.start)))
        text = text.slice(0, offset(edit.range.start)) + edit.newText + text.slice(offset(edit.range.end));
    return text;
}

export class Server {
    constructor({ cwd = root, args = [], program: other = program } = {}) {
        this.process = spawn(other, ["lsp", ...args], { cwd, stdio: ["pipe", "pipe", "pipe"] });
        this.stderr = "";
        this.process.stderr.setEncoding("utf8").on("data", data => { this.stderr += data; });
        this.exited = new Promise(resolve => this.process.on("exit", (code, signal) => resolve(code ?? signal)));
        this.connection = rpc.createMessageConnection(
            new rpc.StreamMessageReader(this.process.stdout), new rpc.StreamMessageWriter(this.process.stdin));
        this.published = new Map();
        this.history = [];
        this.connection.onNotification("textDocument/publishDiagnostics", params => {
            this.published.set(params.uri, params);
            this.history.push(params);
        });
        this.connection.listen();
    }

    request(method, params, token) {
        return token ? this.connection.sendRequest(method, params, token) : this.connection.sendRequest(method, params);
    }

    notify(method, params) {
        return this.connection.sendNotification(method, params);
    }

    async start({ folders = [], capabilities = {}, processId = process.pid } = {}) {
        this.initialized = await this.request("initialize", {
            processId, rootUri: null, capabilities,
            workspaceFolders: folders.map(name => ({ uri: uriOf(name), name })),
        });
        await this.notify("initialized", {});
        return this.initialized;
    }

    open(uri, text, version = 1) {
        return this.notify("textDocument/didOpen", { textDocument: { uri, languageId: "wetside", version, text } });
    }

    change(uri, text, version) {
        return this.notify("textDocument/didChange", { textDocument: { uri, version }, contentChanges: [{ text }] });
    }

    // A request is answered after all that came before it.
    settle() {
        return this.request("textDocument/hover", { textDocument: { uri: "none:" }, position: { line: 0, character: 0 } });
    }

    at(method, uri, place, more = {}) {
        return this.request(`textDocument/${method}`, { textDocument: { uri }, position: place, ...more });
    }

    async stop() {
        await this.request("shutdown");
        await this.notify("exit");
        const status = await this.exited;
        this.connection.dispose();
        return status;
    }
}

export { rpc };
