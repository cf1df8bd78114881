#!/usr/bin/env node
// builds: plain
// lasts: 55
// timeout: 900
//
// The mixing card in a browser: every example process on A4 and on Letter, on paper and on screen.
//
// On paper: two pages at the most, every bath whole on its page, nothing clipped, nothing over anything else, type of 9 pt
// and amounts of 12 pt at the least, a box for every act of every mix, black on white alone. On screen: no request, no
// violation of the content policy, nothing runs, usable at 320 px, no finding of axe.

import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import * as pages from "../pages.mjs";

const { check } = pages;
const here = dirname(fileURLToPath(import.meta.url));

// A card for A4, and in `on` for each paper.
function onPapers(...rest) {
	const on = Object.fromEntries(Object.keys(pages.papers).map((paper) => [paper, pages.emit("mix", "--paper", paper, ...rest)]));
	return { html: on.a4, on };
}

function exampleCards() {
	const script = "import cards, sheets\nfor path, process in sheets.processes(): print(path, process)";
	return pages.python(here, script).map((line) => {
		const [path, name] = line.split(" ");
		return { name: `${path}: ${name}`, ...onPapers("--process", name, path) };
	});
}

function conditionCards() {
	const script = "import cards, json\nprint(json.dumps(cards.CONDITIONS))";
	const conditions = JSON.parse(pages.python(here, script)[0]);
	return Object.entries(conditions).map(([name, options]) => ({ name,
		...onPapers("--process", "colour-negative", ...options, join("examples", "colour-negative-bleach-fix.wet")) }));
}

function hostileCards(folder) {
	const script = `import cards, sheets
for number, payload in enumerate(sheets.PAYLOADS.values()): print(cards.hostile(${JSON.stringify(folder)}, number, payload))`;
	return pages.python(here, script).map((path) => ({ name: path.split("/").pop(), html: pages.emit("mix", path) }));
}

// Every bath is on one page: its heading and the last words of its cautions.
async function checkPages(page, card, folder, paper) {
	await pages.show(page, folder, card.on[paper]);
	const texts = await pages.printed(page, folder, paper, card.name);
	check(texts.length <= 2, `${card.name}: ${paper}: two pages at the most`, `${texts.length}`);
	const baths = await page.evaluate(() => [...document.querySelectorAll(".bath")].map((bath) =>
		[bath.querySelector(".turn"), bath.querySelector(".work li:last-child"), bath.querySelector(".hazards li:last-child")]
			.map((element) => element.textContent.replace(/\s+/g, " ").trim().split(" ").slice(-3).join(" "))));
	const plain = texts.map((text) => text.replace(/[^\w.]/g, ""));
	const split = baths.filter((ends) => !plain.some((text) =>
		text.includes(ends[0].replace(/[^\w.]/g, ""))));
	check(baths.length > 0 && split.length === 0, `${card.name}: ${paper}: every bath is there`, split);
	const heights = await page.evaluate(() => [...document.querySelectorAll(".bath")].map((bath) =>
		getComputedStyle(bath).breakInside));
	check(heights.every((value) => value === "avoid"), `${card.name}: ${paper}: no bath is broken`, heights);
}

async function checkPrint(page, card, paper) {
	const found = await pages.lookAtPrint(page, paper, { "*": 11.9, ".work *": 14.6, ".amount": 15.9, ".work .amount": 15.9 });
	check(found.clipped.length === 0, `${card.name}: ${paper}: nothing is clipped`, found.clipped);
	check(found.over.length === 0, `${card.name}: ${paper}: no text over another`, found.over);
	check(found.small.length === 0, `${card.name}: ${paper}: no type too small`, found.small);
	check(found.coloured.length === 0, `${card.name}: ${paper}: black on white alone`, found.coloured);
	const unticked = await page.evaluate(() => [...document.querySelectorAll(".acts li")].filter((item) => {
		const boxes = [...item.querySelectorAll(".tick")].map((tick) => tick.getBoundingClientRect());
		return boxes.length === 0 || boxes.some((box) => box.width < 15 || box.height < 15);
	}).map((item) => item.textContent));
	check(unticked.length === 0, `${card.name}: ${paper}: a box of 4 mm for every act`, unticked);
}

async function checkCard(browser, folder, card) {
	const { context, page, watch } = await pages.open(browser, folder, card);
	for (const paper of Object.keys(pages.papers))
		await checkPages(page, card, folder, paper);
	for (const width of [320, 640, 1280])
		await pages.checkScreen(page, card, width);
	await pages.checkQuiet(page, watch, card);
	await pages.checkAccess(page, card);
	await page.emulateMedia({ media: "print", colorScheme: "dark" });
	for (const paper of Object.keys(pages.papers))
		await checkPrint(page, card, paper);
	await context.close();
}

await pages.withBrowser(async (browser, folder) => {
	for (const card of [...exampleCards(), ...conditionCards()]) {
		await checkCard(browser, folder, card);
		await pages.checkOtherFont(browser, folder, card);
	}
	for (const card of hostileCards(folder))
		await pages.checkHostile(browser, folder, card, "mixing card");
});
