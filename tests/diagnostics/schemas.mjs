#!/usr/bin/env node
// builds: plain
// ajv over what the program writes: SARIF logs against the OASIS schema of SARIF 2.1.0 (errata 01; beside this script, from
// the standard's public repository, sarif-2.1/schema), lines of JSON against docs/schemas/findings.schema.json. Wrong ones
// must fail.
import { spawnSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, "..", "..");
const wetside = process.env.WETSIDE ?? join(root, "build", "wetside");
let failures = 0;

function check(condition, name, why = "") {
	console.log(`${condition ? "ok" : "not ok"} - ${name}`);
	if (!condition) {
		failures++;
		console.log(String(why).replace(/^/gm, "    "));
	}
}

let Ajv04, Ajv2020, formats;
try {
	const load = createRequire(join(root, "tests", "node", "package.json"));
	Ajv04 = load("ajv-draft-04");
	Ajv2020 = load("ajv/dist/2020");
	formats = load("ajv-formats");
} catch (error) {
	console.log(`skip - ajv: ${error.message.split("\n")[0]}`);
	process.exit(77);
}

function recipes() {
	const folders = ["examples", "tests/language", "tests/checks"];
	return folders.flatMap((folder) => readdirSync(join(root, folder)).filter((name) => name.endsWith(".wet"))
		.map((name) => `${folder}/${name}`)).sort();
}

function find(form, ...words) {
	return spawnSync(wetside, ["check", "--diagnostics", form, ...words], { cwd: root, encoding: "utf8", maxBuffer: 1 << 28 }).stdout;
}

function validator(Ajv, path, change = (schema) => schema) {
	const ajv = new Ajv.default({ allErrors: true, strict: false });
	formats.default(ajv);
	return ajv.compile(change(JSON.parse(readFileSync(join(root, path), "utf8"))));
}

// Readers let keys pass that they do not know; here, every key that is written must be in the schema.
function closed(schema) {
	for (const part of Object.values(schema).filter((value) => typeof value === "object" && value !== null))
		closed(part);
	if (schema.properties && schema.type === "object")
		schema.additionalProperties = false;
	return schema;
}

const isLog = validator(Ajv04, "tests/diagnostics/sarif-schema-2.1.0.json");
const isFinding = validator(Ajv2020, "docs/schemas/findings.schema.json", closed);

for (const path of recipes())
	check(isLog(JSON.parse(find("sarif", path))), `D17: ${path}: the log is SARIF 2.1.0`, JSON.stringify(isLog.errors, null, 1));

let lines = 0;
let wrong = [];
for (const path of recipes())
	for (const line of find("json", path).split("\n").filter((text) => text !== "")) {
		lines++;
		if (!isFinding(JSON.parse(line)))
			wrong.push(line + JSON.stringify(isFinding.errors));
	}
check(wrong.length === 0 && lines > 150, `D16: ${lines} findings fit their schema`, wrong.join("\n"));

// What a reader of the standard would call wrong, each in a log that is well otherwise.
const spoil = {
	"another version": (log) => (log.version = "2.0.0"),
	"a result without a message": (log) => delete log.runs[0].results[0].message,
	"a level of our own": (log) => (log.runs[0].results[0].level = "hint"),
	"a line 0": (log) => (log.runs[0].results[0].locations[0].physicalLocation.region.startLine = 0),
	"a column 0": (log) => (log.runs[0].results[0].locations[0].physicalLocation.region.startColumn = 0),
	"a column kind of our own": (log) => (log.runs[0].columnKind = "bytes"),
	"a rule without an id": (log) => delete log.runs[0].tool.driver.rules[0].id,
	"help that is no URI": (log) => (log.runs[0].tool.driver.rules[0].helpUri = "docs/checks.md"),
	"a key that it does not know": (log) => (log.runs[0].results[0].allowed = true),
	"a fix without a place": (log) => delete log.runs[0].results[0].fixes[0].artifactChanges[0].replacements[0].deletedRegion,
};
const log = find("sarif", "tests/language/ten-mistakes.wet", "tests/language/figures.wet");
const whole = JSON.parse(log);
whole.runs[0].results.sort((a, b) => b.fixes.length - a.fixes.length);
check(isLog(whole) && whole.runs[0].results[0].fixes.length > 0, "a log with fixes to spoil");
for (const [name, change] of Object.entries(spoil)) {
	const copy = structuredClone(whole);
	change(copy);
	check(!isLog(copy), `SARIF with ${name} is refused`);
}
const line = JSON.parse(find("json", "tests/language/ten-mistakes.wet").split("\n")[0]);
check(!isFinding({ ...line, severity: "note" }), "a finding of another severity is refused");
check(!isFinding({ ...line, place: { ...line.place, column: 0 } }), "a finding in column 0 is refused");
check(!isFinding({ ...line, format: undefined }), "C18: a finding without its version is refused");
process.exit(failures > 0 ? 1 : 0);
