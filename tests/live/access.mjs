#!/usr/bin/env node
// builds: plain
// lasts: 50
//
// The live page for those who see, hear or reach little, in each of its states, light and dark: no finding of axe,
// contrast included; keys large enough; no sideways scroll down to 320 px, which is 640 px at 200 %; no light but red in
// the dark mode. And for names that would do something: nothing runs, nothing is fetched.

import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import * as pages from "../pages.mjs";
import * as rig from "./rig.mjs";

const { check } = rig;
const RECIPE = "tests/live/two-hours.wet";
const SIZES = [[320, 568], [390, 844], [844, 390], [1024, 768], [1440, 900]];
const GUARD_MS = 750;

const wait = (page) => page.waitForTimeout(GUARD_MS);

// From state to state, in real time: axe has timers of its own.
const states = [
	["start", async () => {}],
	["asking for a bottle", async (page) => page.keyboard.press("Space")],
	["a wrong bottle", async (page) => rig.type(page, "2")],
	["asking for a temperature", async (page) => rig.type(page, "1")],
	["too cold", async (page) => rig.type(page, "12")],
	["to be poured", async (page) => rig.type(page, "20.3")],
	["five seconds before the pour", async (page) => page.click("#lead")],
	["running", async (page) => page.waitForFunction(() => document.body.className === "count", null,
		{ timeout: 8000 })],
	["asking while running", async (page) => (await page.isVisible("#prepare")) && page.click("#prepare")],
	["menu", async (page) => {
		await page.keyboard.press("Escape");
	}],
	["ended", async (page) => page.click("#menu-stop")],
	["the log", async (page) => page.click("summary")],
];

function look(isDark) {
	const found = { small: [],
		sideways: document.documentElement.scrollWidth - document.documentElement.clientWidth, lit: [],
		tiny: [] };
	for (const element of document.querySelectorAll("button, select, input, summary, textarea")) {
		const box = element.getBoundingClientRect();
		if (box.width > 0 && (box.height < 44 || box.width < 44))
			found.small.push([element.id || element.textContent, box.width, box.height]);
	}
	for (const element of document.querySelectorAll("html, body, body *")) {
		const style = getComputedStyle(element);
		const box = element.getBoundingClientRect();
		if (style.display === "none" || box.width < 2)
			continue;
		const hasText = [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE &&
			node.data.trim());
		if (parseFloat(style.fontSize) < 20 && hasText)
			found.tiny.push([element.id || element.tagName, style.fontSize]);
		for (const property of ["color", "backgroundColor", "borderTopColor", "outlineColor", "fill",
			"stroke"]) {
			const [red, green, blue] = (style[property].match(/\d+/g) ?? [0, 0, 0]).map(Number);
			if (isDark && (green > 0 || blue > 0) && !/, 0\)$/.test(style[property]))
				found.lit.push([element.id || element.tagName, property, style[property], red]);
		}
		if (isDark && hasText && Number(style.fontWeight) < 700)
			found.tiny.push([element.id || element.tagName, style.fontWeight]);
	}
	return found;
}

async function checkState(page, state, isDark) {
	const name = `${state}${isDark ? ", dark" : ""}`;
	await pages.checkAccess(page, { name });
	for (const [width, height] of SIZES) {
		await page.setViewportSize({ width, height });
		const found = await page.evaluate(look, isDark);
		const isRight = found.sideways <= 0 && [found.small, found.lit,
			found.tiny].every((list) => list.length === 0);
		check(isRight, `${name}: keys, type and light at ${width} by ${height}`, found);
	}
}

async function checkStates(browser, folder, isDark) {
	const opened = await rig.open(browser, folder, rig.live(RECIPE, "twelve-minutes"), { realTime: true });
	const { page } = opened;
	if (isDark)
		await page.click("#dark");
	for (const [state, reach] of states) {
		await reach(page);
		await wait(page);
		await checkState(page, state, isDark);
	}
	await page.emulateMedia({ media: "print" });
	const printed = await page.evaluate(() => [document.body, document.documentElement]
		.map((element) => getComputedStyle(element))
		.map((style) => `${style.color} ${style.backgroundColor}`));
	check(printed.every((colours) => /rgb\(0, 0, 0\) rgb\(255, 255, 255\)/.test(colours) || isDark &&
		/255, 255, 255\)$/.test(colours)),
		`print is black on white${isDark ? ", dark mode or not" : ""}`, printed);
	await rig.quiet(opened, `all states${isDark ? ", dark" : ""}`);
	await opened.context.close();
}

// Luminance and contrast by WCAG 2.2, "contrast ratio": red on black has (0.2126 + 0.05) / 0.05.
function checkRed() {
	const style = readFileSync(join(pages.root, "src", "emit", "live", "live.css"), "utf8");
	const [, red] = /:root\.dark \{ --ink: #(\w+); --paper: #000;/.exec(style) ?? [];
	const ratio = (0.2126 + 0.05) / 0.05;
	check(red === "f00" && ratio > 4.5 && ratio < 7 && style.includes(ratio.toFixed(2)),
		"the style tells its red's contrast", ratio);
}

async function checkFocus(browser, folder) {
	const { page, context } = await rig.open(browser, folder, rig.live(RECIPE, "twelve-minutes"));
	const seen = [];
	for (let presses = 0; presses < 12; presses++) {
		await page.keyboard.press("Tab");
		seen.push(await page.evaluate(() => {
			const style = getComputedStyle(document.activeElement);
			return [document.activeElement.id, parseFloat(style.outlineWidth), style.outlineStyle];
		}));
	}
	const ids = seen.map(([id]) => id);
	check(["first", "speed", "main", "dark", "sound", "voice"].every((id) => ids.includes(id)),
		"everything is reached by Tab", ids);
	check(seen.every(([id, width, style]) => !id || (width >= 3 && style === "solid")),
		"and the focus is seen", seen);
	// A touch leaves no focus that a pedal would press.
	await page.click("#sound");
	await page.keyboard.press("Space");
	check(await page.getAttribute("#sound", "aria-pressed") === "false" && await rig.screen(page) === "ask",
		"a pedal drives the run after a touch elsewhere",
		await rig.screen(page));
	await context.close();
}

async function checkLive(browser, folder) {
	const { page, context } = await rig.open(browser, folder, rig.live(RECIPE, "twelve-minutes"));
	const regions = await page.$$eval("[aria-live], [role=status], [role=alert], [role=log]", (all) => all
		.map((one) => one.id));
	check(regions.sort().join() === "message,said",
		"what is announced: cues, and what is wrong with an answer", regions);
	await rig.begin(page);
	await rig.answer(page, 1, "20.3");
	await rig.pedal(page);
	await rig.pass(page, 200);
	const announced = (await page.evaluate(() => window.announced)).map(([, text]) => text.replace(/\u00a0/g, " "));
	const wanted = "pour; agitate, 1:00; set down; agitate, 10 s; set down; agitate, 10 s; set down";
	check(announced.join("; ") === wanted, "cues and nothing else",
		announced);
	await context.close();
}

// ---- names that would do something ----

const STRINGS = JSON.parse(execFileSync("python3", [join(pages.root, "tests", "hostile", "strings.py")], { encoding: "utf8" }));
const PAYLOADS = Object.fromEntries(["double quotes", "end of a title", "script in a script", "end of a comment", "picture in a picture",
	"template", "end of a string", "direction", "replacement", "long word", "wide"].map((name) => [name, STRINGS[name]]));

async function checkHostile(browser, folder, name) {
	const { mkdtempSync, writeFileSync } = await import("node:fs");
	const path = join(mkdtempSync(join(folder, "hostile-")), "hostile.wet");
	const quoted = `"${PAYLOADS[name].replace(/\\/g, "\\\\").replace(/"/g, '\\"')}"`;
	const recipe = readFileSync(join(pages.root, "tests", "live", "two-hours.wet"), "utf8")
		.replace(/^(solution|tank|thermometer) (\S+) \{/gm, `$1 $2 @ {`)
		.replace(/"Two hours, slowly"/, "@").replace(/measure\n/,
			"measure\n    note @\n").split("@").join(quoted);
	writeFileSync(path, recipe);
	const opened = await rig.open(browser, folder, rig.live(path, "twelve-minutes"));
	const { page } = opened;
	await rig.begin(page);
	await page.setViewportSize({ width: 320, height: 568 });
	await rig.answer(page, 1, "20.3");
	check(await page.evaluate(() => document.documentElement.scrollWidth <= 320), `${name}: no sideways scroll`);
	const shows = [await rig.shown(page, "bath"), await rig.shown(page, "notes")];
	check(shows.every((text) => text.length > 0), `${name}: is shown as it is written`, shows);
	await rig.pedal(page);
	await rig.pass(page, 200);
	await page.keyboard.press("Escape");
	await page.click("#menu-stop");
	const text = await page.inputValue("#log-text");
	check(!/[\u202a-\u202e\u2066-\u2069]/.test(text) && /\tstopped\t/.test(text), `${name}: the log is plain`);
	check(await page.evaluate(() => !window.ran && document.scripts.length === 2 && document.images.length === 0),
		`${name}: nothing runs`);
	await rig.quiet(opened, name);
	await opened.context.close();
}

await pages.withBrowser(async (browser, folder) => {
	checkRed();
	await Promise.all([checkStates(browser, folder, false), checkStates(browser, folder, true), checkFocus(browser,
		folder),
		checkLive(browser, folder), ...Object.keys(PAYLOADS).map((name) => checkHostile(browser, folder,
			name))]);
});
