#!/usr/bin/env node
// builds: plain
//
// A run of two hours by keyboard alone, on a clock that the test moves: each cue is written, announced and sounded
// within 50 ms of its deadline, and the log is the timer's, line by line.

import * as pages from "../pages.mjs";
import * as rig from "./rig.mjs";

const { check } = rig;
const RECIPE = "tests/live/two-hours.wet";
const PROCESS = "two-hours";
const READING = "20.0";

// Runs through all steps; drains at each earliest end, which the page waits for.
async function runThrough(page) {
	const list = rig.cueList(RECIPE, PROCESS, "--at", `develop=${READING}C`);
	const signals = [];
	await rig.begin(page);
	for (const step of list.steps) {
		await rig.answer(page, step.bottle, READING);
		await rig.pass(page, 20);
		await page.keyboard.press("Space");
		const poured = await page.evaluate(() => performance.now());
		const cues = list.cues.filter((cue) => cue.step === step.number);
		const end = step.end_s - step.pour_s;
		const drain = cues.find((cue) => ["drain", "end"].includes(cue.kind)).since_pour_s;
		await rig.pass(page, drain + 0.8);
		const isOpen = /^count/.test(await rig.screen(page)) && await rig.shown(page, "main") !== "";
		if (isOpen)
			await page.keyboard.press("Space");
		// What follows the hand that drains is as late as that hand.
		signals.push(...cues.filter((cue) => cue.rings && cue.kind !== "latest-end")
			.filter((cue) => !isOpen || cue.since_pour_s < drain)
			.map((cue) => [poured + cue.since_pour_s * 1000, cue.kind]));
		await rig.pass(page, end - drain + 1);
	}
	return signals;
}

function judgeLog(text, timers) {
	const log = rig.readLog(text);
	const [timer, unmeasured] = timers.map(rig.readLog);
	const withoutClock = (head) => head.filter((line) => !line.startsWith("clock\t"));
	check(JSON.stringify(withoutClock(log.head)) === JSON.stringify(withoutClock(unmeasured.head)) &&
		log.head.length > 100,
		"the head of the log is the timer's, byte for byte", log.head
			.filter((line) => !unmeasured.head.includes(line)));
	check(log.head.includes("clock\tpage\t-\t1"), "it names its clock");
	check(JSON.stringify(log.used) === JSON.stringify(timer.used) && log.used.length > 10,
		"so is the plan for what was measured", log.used.filter((line) => !timer.used.includes(line)));
	const plain = rig.cuesOf({ events: log.events.filter((event) => event.remark !== "longer") });
	check(JSON.stringify(plain) === JSON.stringify(rig.cuesOf(timer)),
		"the same cues in the same order", plain.length);
	const words = (one) => one.events.filter((event) => event.type === "event" && event.word !== "bottle")
		.map((event) => `${event.step} ${event.word}`);
	const inOrder = (one) => words(one).filter((word) => !/ (measured|used-time)$/.test(word));
	check(JSON.stringify(inOrder(log)) === JSON.stringify(inOrder(timer)),
		"the same events in the same order", inOrder(log));
	check(words(log).includes("2 measured") && words(log).includes("2 used-time"), "what was measured is in it");
	judgeFields(log, timer);
	const wrong = log.events.filter((event) => event.type === "cue")
		.filter((cue) => Math.abs(Number(cue.actual) - Number(cue.planned)) > 0.05)
		// What follows the hand that drains is as late as that hand.
		.filter((cue) => !(cue.word === "end" && log.events.some((event) => event.word === "drain-begun" &&
			event.step === cue.step)));
	check(wrong.length === 0, "every cue within 50 ms of its deadline, by the log", wrong.slice(0, 5));
}

// The shape of each field, from the lines that the timer wrote.
function judgeFields(log, timer) {
	const shapes = {
		type: /^(cue|event)$/, stamp: /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/, epoch: /^\d{10}$/,
			clock: /^\d+\.\d\d$/,
		step: /^\d+$/, word: /^[a-z]+(-[a-z]+)*$/, planned: /^(-|-?\d+)$/, actual: /^(-|-?\d+\.\d\d)$/,
			remark: /^[^\t]+$/,
	};
	for (const [name, one] of [["timer", timer], ["page", log]]) {
		const wrong = one.events.filter((event) => event.fields !== 9 ||
			Object.entries(shapes).some(([field, shape]) => !shape.test(event[field]) &&
				!(field === "clock" && name === "timer")));
		check(wrong.length === 0, `${name}: each line has nine fields of the right shape`, wrong.slice(0, 3));
	}
	const false_ = log.events.filter((event) => Date.parse(event.stamp) / 1000 !== Number(event.epoch));
	check(false_.length === 0, "stamps and seconds agree", false_);
}

// What `wetside review` says of the page's log and of the timer's: the same steps, planned, done and developed.
function judgeReview(text, timer) {
	const steps = (log) => JSON.parse(rig.run(log, "review", "--to", "json", "-")).runs.map((run) => [run.end,
		run.unread_lines, run.steps.map(({ name, verdict, planned_drain_s, measured_c, development }) =>
			[name, verdict, planned_drain_s, measured_c, development && development.wanted_s])]);
	const [mine, theirs] = [text, timer].map(steps);
	check(JSON.stringify(mine) === JSON.stringify(theirs) && mine[0][0] === "finished" && mine[0][1] === 0,
		"a review reads it as it reads the timer's", [mine, theirs]);
}

await pages.withBrowser(async (browser, folder) => {
	const opened = await rig.open(browser, folder, rig.live(RECIPE, PROCESS));
	const { page } = opened;
	const timers = Promise.all([["--measured", `develop=${READING}`], []]
		.map((options) => rig.timerLog(folder, RECIPE, PROCESS, [], ...options)));
	const signals = await runThrough(page);
	check(await rig.screen(page) === "ended" && await rig.shown(page, "ended-word") === "Finished",
		"the run ends, by keys alone",
		await rig.screen(page));
	judgeLog(await rig.logOf(page), await timers);
	judgeReview(await rig.logOf(page), (await timers)[0]);
	const announced = await page.evaluate(() => window.announced);
	const away = (at) => Math.min(...announced.map(([moment]) => Math.abs(moment - at)));
	const late = signals.filter(([at]) => away(at) > 50);
	check(signals.length > 180 && late.length === 0,
		"every signal is announced within 50 ms of its deadline", late.slice(0, 5));
	const tones = (await page.evaluate(() => window.tones)).filter((tone) => !tone.stopped);
	const silent = signals.filter(([at]) => !tones.some((tone) => Math.abs(tone.at - at) <= 50));
	check(silent.length === 0, "and sounds within 50 ms of it", silent.slice(0, 5));
	check((await page.evaluate(() => window.spoken)).some((words) => /agitate, 10 seconds/.test(words)),
		"and is spoken");
	await rig.pass(page, 1);
	const [download] = await Promise.all([page.waitForEvent("download"), page.keyboard.press("Space")]);
	check(download.suggestedFilename() === "two-hours-20260314T090000Z.log",
		"the log is saved as the timer would call it",
		download.suggestedFilename());
	await rig.quiet(opened, "a whole run");
});
