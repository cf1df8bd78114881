#!/usr/bin/env node
// builds: plain
//
// Light that the recipe puts on later than a bath has to last: the page tells it when it comes, where the bath goes on
// for so long; a bath that is over sooner gives light with the next one, and ends when it is over.

import * as pages from "../pages.mjs";
import * as rig from "./rig.mjs";

const { check } = rig;
const html = rig.live("tests/timer/light.wet", "late-light");

// In the fix, a little past its earliest end.
async function inFix(page) {
	await page.selectOption("#first", "2");
	await page.click("#main");
	await rig.type(page, "2");
	await rig.pedal(page);
	await rig.pass(page, 5);
}

async function cuesOfFix(page) {
	return rig.readLog(await rig.logOf(page)).events.filter((event) => event.type === "cue" && event.step === "2");
}

async function goesOn(page) {
	check(await rig.shown(page, "light") === "No light: the lid stays on", "the fix may end, and light still waits",
		await rig.shown(page, "light"));
	await rig.pass(page, 2.5);
	check(await rig.shown(page, "light") === "Light is allowed", "light comes at its moment",
		await rig.shown(page, "light"));
	await page.keyboard.press("Space");
	await rig.pass(page, 2);
	const lights = (await cuesOfFix(page)).filter((cue) => cue.word === "light");
	check(lights.length === 1 && Math.abs(Number(lights[0].actual) - 7) < 0.05, "and is in the log, once", lights);
}

async function isOverSooner(page) {
	await page.keyboard.press("Space");
	await rig.pass(page, 1.5);
	const cues = await cuesOfFix(page);
	check(cues.at(-1).word === "end" && !cues.some((cue) => cue.word === "light"),
		"a bath that is drained before light comes is over when it is over", cues);
	await rig.pedal(page);
	check(await rig.shown(page, "light") === "Light is allowed", "and the next one gives light",
		await rig.shown(page, "light"));
}

await pages.withBrowser(async (browser, folder) => {
	for (const test of [goesOn, isOverSooner]) {
		const opened = await rig.open(browser, folder, html);
		check(/until step 2, fix, 0:07\./.test(await opened.page.textContent("body")),
			"before the run it says for how long the film stays in the dark");
		await inFix(opened.page);
		await test(opened.page);
		await rig.quiet(opened, test.name);
		await opened.context.close();
	}
});
