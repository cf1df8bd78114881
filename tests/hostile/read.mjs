// Reads outputs with parsers that are not ours. `node read.mjs MODE FILE…` prints one JSON value for each file, in a list: what a
// reader understood as a flat list of texts ("leaves"), and for pages what they link to and hold. Status 77 where a parser is
// not installed. Elements and attributes of a page begin with a NUL, which no text in it can hold.
//
//   html FILE…   parse5, the tokenizer and tree builder of the HTML standard
//   vtt FILE…    the W3C group's WebVTT parser
//   ics FILE…    ical.js

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const [mode, ...files] = process.argv.slice(2);
const require = createRequire(new URL("../node/package.json", import.meta.url));

async function load(name) {
	try {
		return await import(require.resolve(name));
	} catch {
		console.error(`${name} is not installed in tests/node`);
		process.exit(77);
	}
}

// What CommonMark's inlines become: their text counts, they do not.
const INLINE = new Set(["a", "em", "strong", "code"]);
const LINKS = new Set(["href", "src", "srcset", "action", "formaction", "data", "poster", "xlink:href", "background"]);

function html({ parse }) {
	return (text) => {
		const page = { leaves: [], links: [], handlers: [], errors: [], code: [] };
		const tree = parse(text, { onParseError: ({ code }) => page.errors.push(code) });
		let run = null;
		const say = (leaf) => {
			if (run !== null)
				page.leaves.push(run);
			run = null;
			page.leaves.push(leaf);
		};
		const visit = (node) => {
			if (node.nodeName === "#text") {
				run = (run ?? "") + node.value;
				return;
			}
			if (node.nodeName === "#comment")
				say(`\0<!--${node.data}-->`);
			for (const { name, value } of node.attrs ?? []) {
				if (LINKS.has(name))
					page.links.push(`${node.tagName} ${name} ${value}`);
				if (name.startsWith("on") || name === "style")
					page.handlers.push(`${name}=${value}`);
			}
			const isInline = INLINE.has(node.tagName);
			if (node.tagName && !isInline) {
				say(`\0<${node.tagName}>`);
				for (const { name, value } of [...node.attrs].sort((a, b) => (a.name < b.name ? -1 : 1)))
					say(`\0@${name}=${value}`);
			}
			if (node.tagName === "script" || node.tagName === "style") {
				const inside = node.childNodes.map((child) => child.value).join("");
				const isData = node.attrs.some(({ name, value }) => name === "type" && value === "application/json");
				page.code.push([node.tagName, isData, inside]);
			} else {
				for (const child of node.childNodes ?? [])
					visit(child);
			}
			if (node.tagName && !isInline)
				say(`\0</${node.tagName}>`);
		};
		visit(tree);
		return page;
	};
}

function vtt({ default: { WebVTTParser } }) {
	return (text) => {
		const { cues, errors } = new WebVTTParser().parse(text);
		const flat = (nodes) => nodes.flatMap((node) => (node.type === "text" ? [node.value] : [`<${node.name}>`, ...flat(node.children)]));
		// What stands in comments is no cue; it is read as the lines that it has.
		const notes = text.split("\n\n").filter((block) => block.startsWith("NOTE"));
		return { errors, leaves: [...cues.flatMap((cue) => [cue.id, `${cue.startTime} ${cue.endTime}`, ...flat(cue.tree.children)]), ...notes] };
	};
}

function ics({ default: ICAL }) {
	const leaves = (component) => [`<${component.name}>`,
		...component.getAllProperties().flatMap((property) => [`@${property.name}`, ...property.getValues().map(String)]),
		...component.getAllSubcomponents().flatMap(leaves), `</${component.name}>`];
	return (text) => ({ errors: [], leaves: leaves(new ICAL.Component(ICAL.parse(text))) });
}

const parsers = { html: ["parse5", html], vtt: ["webvtt-parser", vtt], ics: ["ical.js", ics] };
const [name, reader] = parsers[mode];
const read = reader(await load(name));
console.log(JSON.stringify(files.map((file) => {
	try {
		return read(readFileSync(file, "utf8"));
	} catch (problem) {
		return { errors: [String(problem)], leaves: [], links: [], handlers: [], code: [] };
	}
})));
