#!/usr/bin/env node
// builds: plain
// timeout: 900
//
// The sheet in a browser: every example process on A4 and on Letter, on paper and on screen.
//
// On paper: as many pages as the sheet says itself, two at the most and three with a forecast, each side whole on its page
// (so no step is broken), nothing clipped, nothing over anything else, type of 12 pt and times of 24 pt at the least (but
// in the picture of the forecast), black on white alone, also where the screen is dark or the font is another. On screen: no request, no violation of the content policy, nothing
// runs, usable at 320 px and at 200 %, no finding of axe.

import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import * as pages from "../pages.mjs";

const { check } = pages;
const here = dirname(fileURLToPath(import.meta.url));

function exampleSheets() {
	const sheets = [];
	for (const file of readdirSync(join(pages.root, "examples")).filter((name) => name.endsWith(".wet")).sort()) {
		const text = readFileSync(join(pages.root, "examples", file), "utf8");
		for (const [, name] of text.matchAll(/^process ([\w-]+)/gm))
			for (const [options, most] of [[[], 2], [["--forecast"], 3]])
				sheets.push({ name: [`${file.replace(".wet", "")}: ${name}`, ...options].join(" "), most,
					html: pages.emit("sheet", ...options, "--process", name, join("examples", file)) });
	}
	return sheets;
}

// The hostile recipes that sheets.py writes.
function hostileSheets(folder) {
	const script = `import sheets\nfor name in sheets.PAYLOADS: print(sheets.hostile(${JSON.stringify(folder)}, name))`;
	return pages.python(here, script).map((path) => ({ name: `hostile ${path.split("/").pop()}`,
		html: pages.emit("sheet", path) }));
}

async function checkPages(page, sheet, folder, paper) {
	const texts = await pages.printed(page, folder, paper);
	const sides = texts.map((text) => text.match(/Side (\d+) of (\d+)/g) ?? []);
	check(texts.length <= sheet.most, `${sheet.name}: ${paper}: ${sheet.most} pages at the most`, `${texts.length}`);
	const wanted = texts.map((_, index) => [`Side ${index + 1} of ${texts.length}`]);
	check(JSON.stringify(sides) === JSON.stringify(wanted), `${sheet.name}: ${paper}: each side on its own page`, sides);
}

async function checkPrint(page, sheet, paper) {
	const found = await pages.lookAtPrint(page, paper, { "*": 15.9, ".step .time .figure": 31.9, ".curve *": 0 });
	check(found.clipped.length === 0, `${sheet.name}: ${paper}: nothing is clipped`, found.clipped);
	check(found.over.length === 0, `${sheet.name}: ${paper}: no text over another`, found.over);
	check(found.small.length === 0, `${sheet.name}: ${paper}: no type below 12 pt, no time below 24 pt`, found.small);
	// Hatching is lines, which are looked at themselves.
	const coloured = found.coloured.filter(([, , value]) => value !== 'url("#forecast-hatch")');
	check(coloured.length === 0, `${sheet.name}: ${paper}: black on white alone`, coloured);
	const { steps, ticks } = await page.evaluate(() => ({
		steps: document.querySelectorAll(".step").length,
		ticks: [...document.querySelectorAll(".step .tick")].map((tick) => tick.getBoundingClientRect())
			.filter((box) => box.width >= 30 && box.height >= 30).length,
	}));
	check(steps > 0 && ticks === steps, `${sheet.name}: ${paper}: a box of 8 mm for every step`, { steps, ticks });
}

// A strip's length is its step's: all strips of a sheet have one scale, in pixels for each second.
async function checkScale(page, sheet) {
	const scales = await page.evaluate(() => [...document.querySelectorAll("svg.strip")].map((strip) => {
		const drain = strip.querySelector("text.drain");
		const zero = strip.querySelector("text.zero");
		if (!drain || !zero)
			return null;
		const seconds = drain.textContent.split(":").reduce((sum, part) => sum * 60 + Number(part), 0);
		const width = strip.getBoundingClientRect().width;
		const at = (text) => (parseFloat(text.getAttribute("x")) / 100) * width;
		return (at(drain) - at(zero)) / seconds;
	}).filter((scale) => scale !== null));
	const spread = Math.max(...scales) - Math.min(...scales);
	check(scales.length > 0 && spread < 0.02 * Math.max(...scales), `${sheet.name}: strips have one scale`, scales);
}

async function checkExample(browser, folder, sheet) {
	const { context, page, watch } = await pages.open(browser, folder, sheet);
	for (const paper of Object.keys(pages.papers))
		await checkPages(page, sheet, folder, paper);
	for (const width of [320, 640, 1280])
		await pages.checkScreen(page, sheet, width);
	await checkScale(page, sheet);
	await pages.checkQuiet(page, watch, sheet);
	await pages.checkAccess(page, sheet);
	await page.emulateMedia({ media: "print", colorScheme: "dark" });
	for (const paper of Object.keys(pages.papers))
		await checkPrint(page, sheet, paper);
	await context.close();
}

await pages.withBrowser(async (browser, folder) => {
	for (const sheet of exampleSheets()) {
		await checkExample(browser, folder, sheet);
		await pages.checkOtherFont(browser, folder, sheet);
	}
	for (const sheet of hostileSheets(folder))
		await pages.checkHostile(browser, folder, sheet, "sink sheet");
});
