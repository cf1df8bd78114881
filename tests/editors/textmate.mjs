#!/usr/bin/env node
// builds: plain
// grammar/editor/textmate/wetside.tmLanguage.json, read by a TextMate engine: the scopes of one example against those
// stored in textmate.scopes, and of every example what a comment, a text and a keyword are. `--update` stores them anew.
import { existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const require = createRequire(join(root, "tests", "node", "package.json"));
const STORED = join(root, "tests", "editors", "textmate.scopes");
const SHOWN = "home-mixed-developer.wet";
const GRAMMAR = join(root, "grammar", "editor", "textmate", "wetside.tmLanguage.json");
let failures = 0;

function check(condition, name, why = "") {
	console.log(`${condition ? "ok" : "not ok"} - ${name}`);
	if (!condition) {
		failures++;
		console.log(String(why).split("\n").slice(0, 20).map((line) => `    ${line}`).join("\n"));
	}
}

async function loadGrammar() {
	const oniguruma = require("vscode-oniguruma");
	const { Registry, parseRawGrammar, INITIAL } = require("vscode-textmate");
	const wasm = readFileSync(join(dirname(require.resolve("vscode-oniguruma")), "onig.wasm"));
	await oniguruma.loadWASM(wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength));
	const registry = new Registry({
		onigLib: Promise.resolve({
			createOnigScanner: (sources) => new oniguruma.OnigScanner(sources),
			createOnigString: (text) => new oniguruma.OnigString(text),
		}),
		loadGrammar: async (scope) =>
			scope === "source.wetside" ? parseRawGrammar(readFileSync(GRAMMAR, "utf8"), GRAMMAR) : null,
	});
	return { grammar: await registry.loadGrammar("source.wetside"), INITIAL };
}

// Every piece of a text with its innermost scope ("" where it has none but the language's), blanks left out.
function pieces({ grammar, INITIAL }, text) {
	const found = [];
	let stack = INITIAL;
	text.split("\n").forEach((line, index) => {
		const told = grammar.tokenizeLine(line, stack);
		stack = told.ruleStack;
		for (const token of told.tokens) {
			const piece = line.slice(token.startIndex, token.endIndex);
			if (piece.trim() !== "") {
				const scope = token.scopes.length > 1 ? token.scopes[token.scopes.length - 1] : "";
				found.push({ line: index + 1, start: token.startIndex, text: piece.trim(), scope });
			}
		}
	});
	return found;
}

const row = (file, pattern) => [...readFileSync(join(root, "src", "syntax", file), "utf8").matchAll(pattern)];
const keywords = row("words.def", /^WORD\(\w+, "([^"]+)"/gm).map((match) => match[1]);
const units = row("units.def", /^UNIT\(.*, "([^"]+)"\)$/gm).flatMap((match) => match[1].split(" "));

function judgeTables(loaded) {
	const scopeOf = (text, piece) => pieces(loaded, text).find((one) => one.text === piece)?.scope;
	const wrong = keywords.filter((word) => !/^(keyword\.other|storage\.type)\.wetside$/.test(scopeOf(`{ ${word} }`, word) ?? "")
		&& scopeOf(`${word} x`, word) !== "storage.type.wetside");
	check(keywords.length > 100 && wrong.length === 0, "every keyword has its scope", wrong);
	const names = keywords.filter((word) => scopeOf(`{ x-${word}-y }`, `x-${word}-y`) !== "variable.other.wetside");
	check(names.length === 0, "a keyword inside a name is a name", names);
	const spelt = units.map((unit) => unit.replaceAll("_", " "));
	const bare = spelt.filter((unit) => scopeOf(`holds 5 ${unit}; x`, unit) !== "keyword.other.unit.wetside");
	check(units.length > 50 && bare.length === 0, "every unit has its scope", bare);
}

// What is a comment or a text is known without the grammar: a "#" or quote that is not inside one.
function plainScope(line, at) {
	let open = "";
	for (let i = 0; i <= at; i++) {
		if (open === "" && line[i] === "#") return "comment";
		if (line[i] === "\\" && open === '"') { if (i === at || i + 1 === at) return "string"; i++; continue; }
		if (line[i] === '"') { if (i === at) return "string"; open = open === "" ? '"' : ""; }
	}
	return open === "" ? "code" : "string";
}

function judgeExample(loaded, name) {
	const text = readFileSync(join(root, "examples", name), "utf8");
	const lines = text.split("\n");
	const wrong = pieces(loaded, text).filter(({ line, start, scope, text: piece }) => {
		const offset = lines[line - 1].slice(start).search(/\S/);
		const wanted = plainScope(lines[line - 1], start + offset);
		const kind = scope.startsWith("comment.") ? "comment" : /^(string|constant\.character)\./.test(scope) ? "string" : "code";
		return kind !== wanted || (kind === "code" && scope === "" && /[^\s{};,:=+.-]/.test(piece));
	});
	check(wrong.length === 0, `${name}: comments, texts and all other pieces have their scopes`, JSON.stringify(wrong, null, 1));
}

if (!existsSync(join(root, "tests", "node", "node_modules", "vscode-textmate"))) {
	console.log("skip - the TextMate grammar: no vscode-textmate (make node-modules)");
	process.exit(0);
}
const loaded = await loadGrammar();
const told = pieces(loaded, readFileSync(join(root, "examples", SHOWN), "utf8"))
	.map(({ line, scope, text }) => `${line}\t${scope}\t${text}`).join("\n") + "\n";
if (process.argv.includes("--update")) {
	writeFileSync(STORED, told);
} else {
	check(readFileSync(STORED, "utf8") === told, `${SHOWN} has the scopes that are stored`,
		"look at them, then: tests/editors/textmate.mjs --update");
	for (const name of readdirSync(join(root, "examples")).filter((one) => one.endsWith(".wet")).sort())
		judgeExample(loaded, name);
	judgeTables(loaded);
}
process.exit(failures > 0 ? 1 : 0);
