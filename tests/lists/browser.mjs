#!/usr/bin/env node
// builds: plain
//
// The pages of a day in a browser. On paper, A4 and Letter: load and hang list of a load of eight reels on one page, black on
// white alone, nothing clipped, nothing over anything else; the lowest row of the load list is reel 1, and the first strip of
// the hang list is the top of the column. On screen: no request, no violation of the content policy, usable at 320 px, no
// finding of axe. A hostile day does nothing.

import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

import * as pages from "../pages.mjs";

const { check } = pages;
const here = dirname(fileURLToPath(import.meta.url));

function days(folder) {
	const script = `import json, os, random, lockers
chance = random.Random("browser")
folder = ${JSON.stringify(folder)}
rolls = [dict(roll, format="135", needs="C-41", together="") for roll in lockers.rolls(chance, 24)]
print(lockers.write(os.path.join(folder, "plain"), rolls, clauses="finish by 18:00"))
print(lockers.write(os.path.join(folder, "hostile"), lockers.rolls(chance, 20, True), title=lockers.SCRIPT))`;
	return pages.python(here, script);
}

async function checkOnePageALoad(page, day, folder, paper) {
	const texts = await pages.printed(page, folder, paper, day.name);
	const loads = await page.evaluate(() => document.querySelectorAll(".load-page").length);
	for (let load = 1; load <= loads; load++) {
		const on = texts.filter((text) => text.includes(`load ${load} of ${loads}`));
		const whole = texts.filter((text) => text.includes(`LOAD list, load ${load} of ${loads}`) &&
			text.includes(`HANG list, load ${load} of ${loads}`) && text.includes("After this load"));
		check(on.length === 1 && whole.length === 1, `${day.name}: ${paper}: load ${load} is one page`, texts.map((text) => text.slice(0, 60)));
	}
	check(loads >= 3, `${day.name}: ${paper}: there are loads`);
}

async function checkShapes(page, day) {
	const found = await page.evaluate(() => [...document.querySelectorAll(".load-page")].map((load) => {
		const rows = [...load.querySelectorAll(".stack tbody tr")].map((row) => ({
			reel: row.querySelector(".reel").textContent, label: row.querySelector(".label")?.textContent,
			top: row.getBoundingClientRect().top, ticks: row.querySelectorAll(".tick").length }));
		const strips = [...load.querySelectorAll(".strip")].map((strip) => ({
			turn: strip.querySelector(".turn").textContent, label: strip.querySelector(".label").textContent,
			left: strip.getBoundingClientRect().left, top: strip.getBoundingClientRect().top,
			ticks: strip.querySelectorAll(".tick").length }));
		return { rows, strips };
	}));
	for (const { rows, strips } of found) {
		const lowest = rows.reduce((a, b) => (b.top > a.top ? b : a));
		check(/^reel\s1\s\(bottom\)$/.test(lowest.reel), `${day.name}: the lowest row is reel 1`, lowest);
		const full = rows.filter((row) => row.label);
		check(strips[0].label === full[0].label && /^hang\s1st$/.test(strips[0].turn), `${day.name}: the top of the column hangs first`,
			[strips[0], full[0]]);
		check(strips.every((strip, index) => index === 0 || strip.top > strips[index - 1].top || strip.left > strips[index - 1].left),
			`${day.name}: the line is read from left to right`);
		check(full.every((row) => row.ticks === 2) && strips.every((strip) => strip.ticks === 2), `${day.name}: two boxes a roll`);
	}
}

async function checkPage(browser, folder, day, least) {
	const { context, page, watch } = await pages.open(browser, folder, day);
	for (const width of [320, 640, 1280])
		await pages.checkScreen(page, day, width);
	await pages.checkQuiet(page, watch, day);
	await pages.checkAccess(page, day);
	if (day.isLists)
		await checkShapes(page, day);
	await context.close();
	for (const paper of Object.keys(pages.papers))
		await checkPrint(browser, folder, { ...day, html: day.on(paper) }, least, paper);
}

async function checkPrint(browser, folder, day, least, paper) {
	const { context, page } = await pages.open(browser, folder, day);
	await page.emulateMedia({ media: "print", colorScheme: "dark" });
	const found = await pages.lookAtPrint(page, paper, least);
	check(found.clipped.length === 0, `${day.name}: ${paper}: nothing is clipped`, found.clipped);
	check(found.over.length === 0, `${day.name}: ${paper}: no text over another`, found.over);
	check(found.small.length === 0, `${day.name}: ${paper}: no type too small`, found.small);
	const coloured = found.coloured.filter(([, , value]) => !/^url\("#day-/.test(value)); // hatching in black and white
	check(coloured.length === 0, `${day.name}: ${paper}: black on white alone`, coloured);
	if (day.isLists)
		await checkOnePageALoad(page, day, folder, paper);
	await context.close();
}

// What goes into the dark with one load begins with its two lists.
async function checkOneLoad(browser, folder, day) {
	const { context, page } = await pages.open(browser, folder, day);
	const texts = await pages.printed(page, folder, "a4", day.name);
	check(texts[0].includes("LOAD list, load 2 of") && texts[0].includes("HANG list, load 2 of") && texts[0].includes("After this load"),
		`${day.name}: its lists are the first page`, texts.map((text) => text.slice(0, 60)));
	await context.close();
}

await pages.withBrowser(async (browser, folder) => {
	const [plain, hostile] = days(folder);
	const twelve = { "*": 14.6, "svg text": 0, "svg *": 0 };
	for (const name of ["lists", "plan"]) {
		const on = (paper) => pages.emit(name, "--paper", paper, plain);
		await checkPage(browser, folder, { name, html: pages.emit(name, plain), on, isLists: name === "lists" }, twelve);
	}
	await checkOneLoad(browser, folder, { name: "lists of a load", html: pages.emit("lists", "--load", "2", plain) });
	await pages.checkHostile(browser, folder, { name: "hostile lists", html: pages.emit("lists", hostile) }, "load and hang lists");
	await pages.checkHostile(browser, folder, { name: "hostile plan", html: pages.emit("plan", hostile) }, "plan of the day");
});
