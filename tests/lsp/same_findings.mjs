#!/usr/bin/env node
// The server and `check --diagnostics json` find the same: for every example, every file of tests/language and of
// tests/checks, opened as it is stored.
// Every fix of theirs is a code action.
// builds: plain asan
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import fs from "node:fs";
import path from "node:path";
import { Server, check, end, program, root, uriOf } from "./client.mjs";

const SEVERITY = { error: 1, warning: 2, hint: 4 };

function files() {
    const list = [];
    const walk = folder => {
        for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
            const name = path.join(folder, entry.name);
            if (entry.isDirectory())
                walk(name);
            else if (entry.name.endsWith(".wet"))
                list.push(name);
        }
    };
    for (const folder of ["examples", "tests/language", "tests/checks"])
        walk(path.join(root, folder));
    return list.sort();
}

// Columns count characters in the one, UTF-16 units in the other.
function utf16(file, line, column) {
    let text = fs.readFileSync(file, "utf8");
    const mark = text.startsWith("\uFEFF") && line === 1;
    const row = text.replace(/^\uFEFF/, "").split(/\r\n|\n|\r/)[line - 1] ?? "";
    return [...row].slice(0, column - 1).join("").length + (mark ? 1 : 0);
}

function found(file) {
    const out = spawnSync(program, ["check", "--diagnostics", "json", "--max-errors", "0", file], { encoding: "utf8" });
    return out.stdout.split("\n").filter(Boolean).map(line => JSON.parse(line)).filter(item => item.allowed == null);
}

function fixes(file, findings) {
    return findings.filter(item => item.place != null && path.resolve(item.place.file) === file)
        .flatMap(item => item.fixes.map(fix => JSON.stringify([item.check, fix.place.line - 1,
            utf16(file, fix.place.line, fix.place.column), fix.text]))).sort();
}

function said(findings, file) {
    return findings
        .map(item => {
            const place = item.place;
            const where = place == null ? [path.resolve(file), 0, 0]
                : [path.resolve(place.file), place.line - 1, utf16(place.file, place.line, place.column)];
            const remarks = item.notes.filter(note => note.place == null).map(note => note.message);
            const message = [item.message, ...(item.help == null ? [] : [item.help]), ...remarks].join("\n");
            return JSON.stringify([...where, SEVERITY[item.severity], item.check, message]);
        }).sort();
}

const server = new Server();
await server.start();
let wrong = 0;
let count = 0;
let fixed = 0;
for (const file of files()) {
    const bytes = fs.readFileSync(file);
    let text;
    try {
        text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    } catch {
        continue; // an editor has no such text
    }
    server.published.clear();
    await server.open(uriOf(file), text);
    await server.settle();
    const shown = [...server.published.values()].flatMap(({ uri, diagnostics }) => diagnostics.map(item =>
        JSON.stringify([fileURLToPath(uri), item.range.start.line, item.range.start.character, item.severity, item.code,
            item.message]))).sort();
    const findings = found(file);
    const wanted = said(findings, file);
    const actions = await server.request("textDocument/codeAction", { textDocument: { uri: uriOf(file) },
        range: { start: { line: 0, character: 0 }, end: { line: 1e6, character: 0 } }, context: { diagnostics: [] } });
    const offered = actions.filter(action => !action.title.startsWith("declare the ")).map(action => {
        const edit = action.edit.changes[uriOf(file)][0];
        return JSON.stringify([action.diagnostics[0].code, edit.range.start.line, edit.range.start.character, edit.newText]);
    }).sort();
    fixed += offered.length;
    if (JSON.stringify(offered) !== JSON.stringify(fixes(file, findings))) {
        wrong++;
        check(false, `${path.relative(root, file)}: every fix is a code action`, { offered, wanted: fixes(file, findings) });
    }
    count += wanted.length;
    if (JSON.stringify(shown) !== JSON.stringify(wanted)) {
        wrong++;
        check(false, path.relative(root, file), { wanted: wanted.filter(x => !shown.includes(x)),
                                                  shown: shown.filter(x => !wanted.includes(x)) });
    }
    await server.notify("textDocument/didClose", { textDocument: { uri: uriOf(file) } });
    await server.settle();
    const left = [...server.published.values()].filter(({ diagnostics }) => diagnostics.length > 0);
    if (left.length > 0) {
        wrong++;
        check(false, `${path.relative(root, file)}: nothing is left when it is closed`, left);
    }
}
check(wrong === 0 && count > 200, `the server and check find the same ${count} things`);
check(fixed > 20, `and ${fixed} fixes are code actions`);
check(await server.stop() === 0, "and the server ends well", server.stderr);
end();
