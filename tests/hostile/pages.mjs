#!/usr/bin/env node
// builds: plain
// Pages with hostile texts in a browser, on a content policy that a browser enforces: nothing runs but the page's own script,
// nothing is asked for, no dialog opens, no violation is told, what is seen has none of the texts' markup. Each text is in some of
// the pages, and each page holds a text in every place. The live page is run: the log that it saves is plain, and `review` reads
// it.

import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";

import * as rig from "../live/rig.mjs";
import * as pages from "../pages.mjs";

const { check } = pages;
const here = dirname(fileURLToPath(import.meta.url));
const ROWS = [0, 28, 56]; // together they have each text in a third of the places, or more
const DEF = readFileSync(new URL("../../src/emit/emitters.def", import.meta.url), "utf8");
const PRODUCTS = [...DEF.matchAll(/^EMITTER\((\w+), html,/gm)].map(([, product]) => product);

// The recipes of the matrix, and the plain one.
function recipes(folder) {
	const script = `import os, sys
sys.path.insert(0, ${JSON.stringify(here)})
import matrix, slots
folder = ${JSON.stringify(folder)}
print(slots.write(os.path.join(folder, "plain"), slots.tame_texts(), slots.tame_names()))
for number in ${JSON.stringify(ROWS)}:
    print(slots.write(os.path.join(folder, str(number)), matrix.row_of(number)[0], slots.tame_names()))`;
	return execFileSync("python3", ["-c", script], { encoding: "utf8" }).trim().split("\n");
}

// Runs in the page: what it is made of.
const inside = () => {
	const all = [...document.querySelectorAll("*")];
	return {
		kinds: [...new Set(all.map((element) => element.tagName))].sort(),
		names: [...new Set(all.flatMap((element) => element.getAttributeNames()))].sort(),
		handlers: all.flatMap((element) => element.getAttributeNames()).filter((name) => name.startsWith("on") || name === "style"),
		scripts: document.scripts.length,
		images: document.images.length,
		links: [...document.links].map((link) => link.href).filter((href) => !/^(https?|mailto):/.test(href)),
		ran: [window.ran, window.pwned, document.title === "ran"].filter(Boolean).length,
		violations: window.violations,
		prototype: "x" in {},
		hidden: /[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/.test(document.documentElement.textContent),
	};
};

const INLINE = ["A", "EM", "STRONG", "CODE"]; // what CommonMark makes

async function judge(browser, folder, name, html, plain) {
	const { context, page, watch } = await pages.open(browser, folder, { name, html });
	const found = await page.evaluate(inside);
	await context.close();
	if (!plain)
		return found;
	const kinds = found.kinds.filter((kind) => !plain.kinds.includes(kind) && !INLINE.includes(kind));
	const names = found.names.filter((each) => !plain.names.includes(each) && each !== "href");
	const isQuiet = watch.requests.length === 0 && watch.messages.length === 0 && found.violations.length === 0;
	check(isQuiet, `${name}: asks for nothing, says nothing, breaks no policy`, [watch, found.violations]);
	check(kinds.length === 0 && names.length === 0 && found.handlers.length === 0 && found.links.length === 0,
		`${name}: no element, attribute, handler or link of its own`, [kinds, names, found.handlers, found.links]);
	check(found.scripts === plain.scripts && found.images === 0 && found.ran === 0 && !found.prototype && !found.hidden,
		`${name}: nothing runs`, found);
	return found;
}

async function judgeLog(browser, folder, name, path) {
	const opened = await rig.open(browser, folder, pages.emit("live", "--load", "1", path));
	const { page } = opened;
	await rig.begin(page);
	await rig.answer(page, 1, "20.0");
	await rig.pedal(page);
	await rig.pass(page, 70);
	await page.keyboard.press("Escape");
	await page.click("#menu-stop");
	const log = await page.inputValue("#log-text");
	check(!/[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/.test(log) && /\tstopped\t/.test(log),
		`${name}: the log that is saved is plain`);
	const fields = new Set(log.split("\n").filter((line) => /^(cue|event)\t/.test(line)).map((line) => line.split("\t").length));
	check(fields.size === 1 && fields.has(9), `${name}: its lines stay whole`, [...fields]);
	const read = JSON.parse(rig.run(log, "review", "--to", "json", "-")).runs[0];
	check(read.end === "stopped" && read.unread_lines === 0, `${name}: review reads it`, [read.end, read.unread_lines]);
	await rig.quiet(opened, name);
	await opened.context.close();
}

await pages.withBrowser(async (browser, folder) => {
	const [tame, ...hostile] = recipes(folder);
	check(PRODUCTS.length >= 5, "the pages are known", PRODUCTS);
	const plain = {};
	for (const product of PRODUCTS)
		plain[product] = await judge(browser, folder, `plain ${product}`, pages.emit(product, tame));
	const work = hostile.flatMap((path, number) => PRODUCTS.map((product) => [path, `${product}, recipe ${ROWS[number]}`, product]));
	for (const [path, name, product] of work)
		await judge(browser, folder, name, pages.emit(product, path), plain[product]);
	for (const [number, path] of hostile.slice(0, 2).entries())
		await judgeLog(browser, folder, `live, recipe ${ROWS[number]}`, path);
	// The browser would see what it is asked about.
	const bad = '<!DOCTYPE html><html lang="en"><head><title>x</title></head><body onload="window.ran = 1"><img src="http://x.invalid/y"></body></html>';
	const { context, page, watch } = await pages.open(browser, folder, { name: "bad", html: bad });
	const found = await page.evaluate(inside);
	check(found.ran === 1 && found.handlers.length === 1 && found.images === 1 && watch.requests.length > 0, "a page that does something is seen", found);
	await context.close();
});
