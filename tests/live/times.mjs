#!/usr/bin/env node
// builds: plain
// lasts: 20
//
// The time for a measured temperature: what is typed at the sink gives the very cues of `cues --at`, to the second;
// between the rows of a table those of the timer; what lies beyond is refused, and colour is not put right by time.

import * as pages from "../pages.mjs";
import * as rig from "./rig.mjs";

const { check } = rig;
const RECIPE = "tests/timer/measured.wet";
const seconds = (exact) => Math.floor(exact + 0.5);

async function openAt(browser, folder, process, number, ...made) {
	const opened = await rig.open(browser, folder, rig.live(RECIPE, process, ...made));
	const plan = await opened.page.evaluate(() => JSON.parse(document.getElementById("plan").textContent));
	const step = plan.steps[number - 1];
	await opened.page.selectOption("#first", String(number));
	await opened.page.click("#main");
	if (step.asks_bottle)
		await rig.type(opened.page, String(step.bottle));
	return { ...opened, plan, step };
}

// Types a reading and returns what the log then says the step is.
async function measure(page, reading) {
	if (await page.isVisible("#again"))
		await page.click("#again");
	const before = rig.readLog(await rig.logOf(page)).used.length;
	await rig.type(page, (reading / 100).toFixed(2));
	return rig.readLog(await rig.logOf(page)).used.slice(before).map((line) => line.split("\t"));
}

function usedCues(used) {
	return used.filter(([type]) => type === "used-cue").map(([, , since, kind, until, count]) => [since, kind,
		until, count].join(" "));
}

function listedCues(list, number) {
	const step = list.steps.find((one) => one.number === number);
	const since = (at_s) => seconds(at_s - step.start_s);
	const agitations = { n: 0 };
	return list.cues.filter((cue) => cue.step === number).map((cue) => {
		agitations.n += cue.kind === "agitation-start" ? 1 : 0;
		const count = cue.count ?? (cue.kind.startsWith("agitation") ? agitations.n : 0);
		return [since(cue.at_s), cue.kind, since(cue.until_s ?? cue.at_s), count].join(" ");
	});
}

async function checkRows(browser, folder, process, number, ...made) {
	const name = [process, `step ${number}`, ...made].join(" ");
	const { page, step, context } = await openAt(browser, folder, process, number, ...made);
	const readings = step.times.rows.map(([reading]) => reading);
	const some = readings.filter((_, index) => index % Math.ceil(readings.length / 8) === 0 ||
		index === readings.length - 1);
	const wrong = [];
	for (const reading of some) {
		const given = `${step.name}=${(reading / 100).toFixed(2)}${step.measure.unit}`;
		const list = rig.cueList(RECIPE, process, ...made, "--at", given);
		const used = usedCues(await measure(page, reading));
		if (!list || used.length < 3 || JSON.stringify(used) !== JSON.stringify(listedCues(list, number)))
			wrong.push([given, used.filter((cue) => !list || !listedCues(list, number).includes(cue))]);
	}
	check(some.length >= 5 && wrong.length === 0, `${name}: the cues of --at, to the second`, wrong);
	for (const [beyond, why] of [[readings[0] - 1, "cold"], [readings[readings.length - 1] + 1, "hot"]]) {
		await measure(page, beyond);
		const said = await rig.shown(page, "message");
		const refused = rig.cueList(RECIPE, process, ...made, "--at",
			`${step.name}=${(beyond / 100).toFixed(2)}${step.measure.unit}`);
		check(new RegExp(`too ${why}.*Temper again`,
			"i").test(said) && refused === null && !await page.isVisible("#main"),
			`${name}: too ${why} is refused, as by --at`, said);
	}
	await context.close();
}

// Between two rows; the timer is asked.
async function checkBetween(browser, folder) {
	const { page, step, context } = await openAt(browser, folder, "short", 1);
	const [low, high] = step.times.rows.slice(2, 4).map(([reading]) => reading);
	for (const reading of [low + 1, Math.floor((low + high) / 2), Math.ceil((low + high) / 2) + 1, high - 1]) {
		const used = await measure(page, reading);
		const log = await rig.timerLog(folder, RECIPE, "short", [], "--measured",
			`${step.name}=${(reading / 100).toFixed(2)}`);
		const timer = rig.readLog(log);
		check(JSON.stringify(used.map((line) => line.join("\t"))) === JSON.stringify(timer.used) &&
			used.length > 5,
			`${reading / 100}: the timer's plan`, { used, timer: timer.used });
		const why = (one) => one.events.filter((event) => event.word === "used-time").pop();
		const [mine, theirs] = [rig.readLog(await rig.logOf(page)), timer].map(why);
		check(["planned", "actual", "remark"].every((field) => mine[field] === theirs[field]),
			`${reading / 100}: and its reason`,
			[mine, theirs]);
	}
	await context.close();
}

async function checkColour(browser, folder) {
	const { page, step, context } = await openAt(browser, folder, "by-guess", 1);
	check(step.times === null, "colour without its maker's table has no times");
	await measure(page, step.measure.low - 10);
	const said = await rig.shown(page, "message");
	check(said === "TOO COLD: do not pour. Temper again and measure again.", "it is not poured too cold", said);
	await rig.pass(page, 1);
	await page.keyboard.press("Space");
	check(await rig.screen(page) === "ask", "nor does the pedal pour it", await rig.screen(page));
	await page.click("#anyway");
	check(await rig.screen(page) === "ask", "pouring anyway is asked twice");
	await page.click("#anyway");
	check(await rig.screen(page) === "ready", "and then may be", await rig.screen(page));
	const departed = rig.readLog(await rig.logOf(page)).events.filter((event) => event.word === "departure");
	check(departed.length === 1 && /^poured at \d+\.\d+ C$/.test(departed[0].remark),
		"and is written down", departed);
	await page.click("#again");
	check((await measure(page, step.measure.low)).length === 0 && await rig.shown(page, "main") !== "",
		"inside its window it is poured, for its time");
	await context.close();
}

async function checkBottle(browser, folder) {
	const { page, context } = await rig.open(browser, folder, rig.live(RECIPE, "short"));
	await rig.begin(page);
	check(/number on the bottle/.test(await rig.shown(page, "asks")), "before a developer the bottle is asked for");
	await rig.type(page, "2");
	check(await rig.shown(page, "message") === "WRONG: 2 is fixer. Take 1.",
		"the wrong bottle is named", await rig.shown(page, "message"));
	await rig.type(page, "7");
	check(await rig.shown(page, "message") === "WRONG: 7 is no bottle here. Take 1.", "so is none");
	await rig.type(page, "");
	check(await rig.shown(page, "main") === "", "nothing typed pours nothing");
	for (const key of ["2", "back", "1"])
		await page.click(`#pad [data-key="${key}"]`);
	await page.click("#answer");
	const words = rig.readLog(await rig.logOf(page)).events.map((event) => `${event.word} ${event.remark}`);
	check(JSON.stringify(words) === JSON.stringify(["started -", "wrong-bottle 2", "wrong-bottle 7", "bottle 1"]),
		"all of it is in the log", words);
	await context.close();
}

await pages.withBrowser(async (browser, folder) => {
	await Promise.all([
		checkRows(browser, folder, "short", 1),
		checkRows(browser, folder, "short", 1, "--done", "brew=2"),
		checkRows(browser, folder, "mono", 1),
		...[1, 2, 3].map((number) => checkRows(browser, folder, "open", number)),
		checkRows(browser, folder, "by-maker", 1),
		checkBetween(browser, folder),
		checkColour(browser, folder),
		checkBottle(browser, folder),
	]);
});
