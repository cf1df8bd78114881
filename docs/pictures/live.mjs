#!/usr/bin/env node
// The live page of an example in the middle of a step, as PNG: live.mjs OUT.png. Called by `make pictures`.

import * as pages from "../../tests/pages.mjs";
import * as rig from "../../tests/live/rig.mjs";

const RECIPE = "examples/colour-negative-bleach-fix.wet";
const PROCESS = "colour-negative";
const INTO_DEVELOPER_S = 52;

await pages.withBrowser(async (browser, folder) => {
	const { page } = await rig.open(browser, folder, rig.live(RECIPE, PROCESS));
	const { steps } = rig.cueList(RECIPE, PROCESS);
	await page.setViewportSize({ width: 900, height: 700 });
	await rig.begin(page);
	for (const step of steps.slice(0, 2)) {
		await rig.answer(page, step.bottle, "39.1");
		await rig.pass(page, 20);
		await page.keyboard.press("Space");
		await rig.pass(page, step === steps[0] ? step.end_s - step.pour_s + 1 : INTO_DEVELOPER_S);
	}
	await page.screenshot({ path: process.argv[2] });
});
