// Independent parsers from npm. Called by the tests as `node readers.mjs MODE FILE…`; prints one JSON value for each
// file, in a list. Status 77 where the parser is not installed.
//
//   vtt FILE…             the W3C group's WebVTT parser: { errors, cues }
//   csv FILE…             papaparse: { errors, rows }
//   schema SCHEMA FILE…   ajv: the errors, against the schema and against one that lets no unknown key pass

import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const [mode, ...files] = process.argv.slice(2);
const require = createRequire(new URL("../node/package.json", import.meta.url));

function load(name) {
	try {
		return require(name);
	} catch (problem) {
		if (problem.code !== "MODULE_NOT_FOUND")
			throw problem;
		console.error(`${name} is not installed in tests/node`);
		process.exit(77);
	}
}

function closed(schema) {
	if (Array.isArray(schema))
		return schema.map(closed);
	if (schema === null || typeof schema !== "object")
		return schema;
	const copy = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
	if (copy.properties && copy.type === "object")
		copy.additionalProperties = false;
	return copy;
}

const modes = {
	vtt(texts) {
		const { WebVTTParser } = load("webvtt-parser");
		return texts.map((text) => {
			const { cues: tree, errors } = new WebVTTParser().parse(text);
			const kept = ({ id, startTime, endTime, text: payload }) => ({ id, startTime, endTime, payload });
			return { errors, cues: tree.map(kept) };
		});
	},
	csv(texts) {
		const papaparse = load("papaparse");
		return texts.map((text) => {
			const how = { header: true, delimiter: ",", newline: "\r\n", skipEmptyLines: true };
			const read = papaparse.parse(text, how);
			return { errors: read.errors, rows: read.data };
		});
	},
	schema([schemaText, ...texts]) {
		const Ajv = load("ajv/dist/2020");
		const schema = JSON.parse(schemaText);
		const options = { strict: true, allErrors: true, allowUnionTypes: true };
		const open = new Ajv(options).compile(schema);
		const strict = new Ajv(options).compile(closed(schema));
		return texts.map((text) => {
			const value = JSON.parse(text);
			return [open, strict].flatMap((validate) => (validate(value) ? [] : validate.errors));
		});
	},
};

console.log(JSON.stringify(modes[mode](files.map((file) => readFileSync(file, "utf8")))));
