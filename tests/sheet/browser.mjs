#!/usr/bin/env node
// builds: plain
// lasts: 70
// timeout: 900
//
// The sheet in a browser: every example process, compact and large, on A4 and on Letter, on paper and on screen.
//
// On paper: as many pages as stand below and as the sheet says itself, each side whole on its page and each step whole on
// its side, nothing clipped, nothing over anything else, no time broken, type of 12 pt and times of 24 pt at the least (but
// in the picture of the forecast), black on white alone, also where the screen is dark or the font is another. On screen:
// no request, no violation of the content policy, nothing runs, usable at 320 px and at 200 % (640 px of 1280), no finding
// of axe, contrast of 7:1, the same without colours.

import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import * as pages from "../pages.mjs";

const { check } = pages;
const here = dirname(fileURLToPath(import.meta.url));

// The pages of each process, as [compact, large]. Compact is one page for all up to eight steps but one, which has more
// to say at its head and takes two on Letter; large is two pages up to eleven steps.
const wanted = {
	"black-and-white-reversal": { a4: [2, 3], letter: [2, 3] }, // 16 steps
	"permanganate-reversal": { a4: [2, 3], letter: [2, 3] }, // 16
	"black-and-white": { a4: [1, 2], letter: [1, 2] }, // 8
	"black-and-white-pull-1": { a4: [1, 2], letter: [2, 2] }, // 8
	"black-and-white-d-76": { a4: [1, 2], letter: [1, 2] }, // 8
	"black-and-white-eight": { a4: [1, 2], letter: [1, 2] }, // 8
	"colour-negative": { a4: [1, 2], letter: [1, 2] }, // 6, 7
	"colour-negative-push-1": { a4: [1, 2], letter: [1, 2] }, // 6
	"e-6-six-bath": { a4: [2, 2], letter: [2, 2] }, // 11
	"e-6-three-bath": { a4: [1, 2], letter: [2, 2] }, // 9
	"ecn-2": { a4: [2, 2], letter: [2, 2] }, // 11
};
const sizes = ["compact", "large"];

function exampleProcesses() {
	const found = [];
	for (const file of readdirSync(join(pages.root, "examples")).filter((name) => name.endsWith(".wet")).sort()) {
		const text = readFileSync(join(pages.root, "examples", file), "utf8");
		for (const [, name] of text.matchAll(/^process ([\w-]+)/gm))
			found.push({ name: `${file.replace(".wet", "")}: ${name}`, process: name, recipe: join("examples", file) });
	}
	return found;
}

// What is printed: both sizes on both papers, and the forecast, which adds a page at the most.
function printedSheets({ name, process, recipe }) {
	const made = (label, paper, most, isExact, ...options) => ({ name: `${name} ${label}`, paper, most, isExact,
		html: pages.emit("sheet", "--paper", paper, ...options, "--process", process, recipe) });
	const both = Object.keys(pages.papers).flatMap((paper) => sizes.map((size, index) =>
		made(size, paper, wanted[process][paper][index], true, "--size", size)));
	return [...both, made("--forecast", "a4", wanted[process].a4[1] + 1, false, "--forecast")];
}

// The hostile recipes that sheets.py writes.
function hostileSheets(folder) {
	const script = `import sheets\nfor name in sheets.PAYLOADS: print(sheets.hostile(${JSON.stringify(folder)}, name))`;
	return pages.python(here, script).map((path) => ({ name: `hostile ${path.split("/").pop()}`,
		html: pages.emit("sheet", path) }));
}

async function checkPages(page, sheet, folder) {
	const { name, paper, most } = sheet;
	const texts = await pages.printed(page, folder, paper, name);
	const sides = texts.map((text) => text.match(/Side (\d+) of (\d+)/g) ?? []);
	check(sheet.isExact ? texts.length === most : texts.length <= most, `${name}: ${paper}: ${most} pages`, `${texts.length}`);
	const counted = texts.map((_, index) => [`Side ${index + 1} of ${texts.length}`]);
	check(JSON.stringify(sides) === JSON.stringify(counted), `${name}: ${paper}: each side on its own page`, sides);
}

// Margins of 9 mm above and below; no step reaches beyond its side.
async function checkWhole(page, sheet) {
	const { name, paper } = sheet;
	const broken = await page.evaluate((room) => [...document.querySelectorAll(".side")].flatMap((side) => {
		const whole = side.getBoundingClientRect();
		const beyond = [...side.querySelectorAll(".step, .mix, .care")].filter((block) => {
			const box = block.getBoundingClientRect();
			return box.top < whole.top - 0.5 || box.bottom > whole.bottom + 0.5 || getComputedStyle(block).breakInside !== "avoid";
		});
		return [...(whole.height > room ? [`side of ${whole.height} px`] : []), ...beyond.map((block) => block.textContent.slice(0, 40))];
	}), pages.px(pages.papers[paper][1] - 18));
	check(broken.length === 0, `${name}: ${paper}: every step is whole`, broken);
}

async function checkPrint(page, sheet) {
	const { paper } = sheet;
	const found = await pages.lookAtPrint(page, paper, { "*": 15.9, ".step .time .figure": 31.9, ".curve *": 0 });
	check(found.clipped.length === 0, `${sheet.name}: ${paper}: nothing is clipped`, found.clipped);
	check(found.over.length === 0, `${sheet.name}: ${paper}: no text over another`, found.over);
	check(found.wrapped.length === 0, `${sheet.name}: ${paper}: no time and no temperature is broken`, found.wrapped);
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

async function checkPapers(browser, folder, sheets) {
	const { context, page, watch } = await pages.open(browser, folder, sheets[0]);
	for (const sheet of sheets) {
		await pages.show(page, folder, sheet.html);
		await page.emulateMedia({ media: null, colorScheme: null });
		await checkPages(page, sheet, folder);
		await page.emulateMedia({ media: "print", colorScheme: "dark" });
		await checkPrint(page, sheet);
		await checkWhole(page, sheet);
		await checkScale(page, sheet);
		await pages.checkQuiet(page, watch, sheet);
	}
	await context.close();
}

async function checkOnScreen(browser, folder, sheet, isFirst) {
	const { context, page, watch } = await pages.open(browser, folder, sheet);
	for (const width of [320, 640, 1280])
		await pages.checkScreen(page, sheet, width);
	await pages.checkAccess(page, sheet);
	if (isFirst)
		await pages.checkColours(page, sheet);
	await pages.checkQuiet(page, watch, sheet);
	await context.close();
}

await pages.withBrowser(async (browser, folder) => {
	for (const [index, example] of exampleProcesses().entries()) {
		const sheets = printedSheets(example);
		await checkPapers(browser, folder, sheets);
		// Compact and large in turn: what is asked here hangs on the parts of a sheet, not on the process.
		await checkOnScreen(browser, folder, sheets[index % 2], index < 2);
		await pages.checkOtherFont(browser, folder, sheets[(index + 1) % 2]);
	}
	for (const sheet of hostileSheets(folder))
		await pages.checkHostile(browser, folder, sheet, "sink sheet");
});
