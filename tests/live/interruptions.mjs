#!/usr/bin/env node
// builds: plain
// lasts: 30
//
// What happens to a page at a sink: it is reloaded, its tab is frozen, its device sleeps, a clock is set, a wet thumb
// taps twice, somebody goes back, the browser stores nothing, the page is opened twice. No step is lost and none is done
// twice.

import * as pages from "../pages.mjs";
import * as rig from "./rig.mjs";

const { check } = rig;
const RECIPE = "tests/live/two-hours.wet";
const html = rig.live(RECIPE, "twelve-minutes");

// In the developer, `seconds` after its pour.
async function inDeveloper(page, seconds) {
	await rig.begin(page);
	await rig.answer(page, 1, "20.3");
	await rig.pedal(page);
	await rig.pass(page, seconds);
}

// "12:34" as seconds.
async function secondsIn(page, id) {
	const found = /(\d+:)?\d+:\d\d/.exec(await rig.shown(page, id));
	return found ? found[0].split(":").reduce((sum, part) => sum * 60 + Number(part), 0) : null;
}

function freeze(page, seconds) {
	return page.evaluate((ms) => window.testClock.freeze(ms), seconds * 1000);
}

async function setClock(page, seconds) {
	await page.evaluate((ms) => window.testClock.set(ms), seconds * 1000);
	await rig.pass(page, 2);
}

async function checkOnce(page, steps, name) {
	const { twice, lost } = rig.onceEach(rig.readLog(await rig.logOf(page)), steps);
	check(twice.length === 0 && lost.length === 0,
		`${name}: no cue is lost, none comes twice`, { twice, lost: lost.slice(0, 5) });
}

// Each test gets a page in the developer, a minute after its pour, which began 8 s before its time.
const tests = {
	async "a reload"(page) {
		for (let times = 0; times < 3; times++) {
			await rig.reload(page);
			await rig.pass(page, 0.2);
			check(await rig.screen(page) === "count" && Math.abs(await secondsIn(page, "at") - 52) <= 1,
				"a reload: the step is where it was at once", await rig.shown(page, "at"));
		}
		await rig.pass(page, 680);
		await checkOnce(page, [1], "a reload");
		check(rig.readLog(await rig.logOf(page)).events
			.filter((event) => event.word === "resumed").length === 3,
			"a reload: the log tells of it");
	},
	async "a frozen tab"(page) {
		const before = await page.evaluate(() => window.tones.length);
		await freeze(page, 600);
		await rig.pass(page, 0.1);
		check(Math.abs(await secondsIn(page, "at") - 652) <= 1,
			"a frozen tab: the time is right at once", await rig.shown(page, "at"));
		const events = rig.readLog(await rig.logOf(page)).events;
		check(events.filter((event) => /^late \d+\.\d\d s$/.test(event.remark)).length >= 27,
			"a frozen tab: the log says how late each cue was");
		const tones = await page.evaluate((from) => window.tones.slice(from).filter((tone) => !tone.stopped &&
			tone.at <= performance.now()).length, before);
		check(tones <= 8, "a frozen tab: what was missed does not sound at once", tones);
		check(await rig.shown(page, "alarm") === "", "a frozen tab: no clock is doubted");
		await rig.pass(page, 80);
		await checkOnce(page, [1], "a frozen tab");
	},
	async "a clock that is set"(page) {
		await setClock(page, 3600);
		check(/1:00:00 ahead/.test(await rig.shown(page, "alarm-text")),
			"a clock that is set: it is said", await rig.shown(page, "alarm"));
		check(Math.abs(await secondsIn(page, "at") - 54) <= 1,
			"a clock that is set: the run does not follow", await rig.shown(page, "at"));
		await page.click("#was-set");
		check(await rig.shown(page, "alarm") === "",
			"a clock that is set: the remark goes when it is answered");
		await setClock(page, -3600);
		check(/1:00:00 behind/.test(await rig.shown(page, "alarm-text")),
			"a clock that is set back: it is said");
		await page.click("#was-set");
		await rig.reload(page);
		await rig.pass(page, 0.1);
		check(Math.abs(await secondsIn(page, "at") - 56) <= 1,
			"a clock that is set: a reload knows", await rig.shown(page, "at"));
		await rig.pass(page, 680);
		await checkOnce(page, [1], "a clock that is set");
	},
	async "a device that slept"(page) {
		await setClock(page, 300);
		await page.click("#slept");
		check(Math.abs(await secondsIn(page, "at") - 354) <= 1,
			"a device that slept: its time is added when it is told", await rig.shown(page, "at"));
		check(rig.readLog(await rig.logOf(page)).events
			.filter((event) => event.word === "clock-moved").length === 2,
			"a device that slept: the log tells of it");
		await rig.pass(page, 380);
		await checkOnce(page, [1], "a device that slept");
	},
	async "a jump that nobody has answered"(page) {
		await setClock(page, 1800);
		await rig.reload(page);
		check(/30:00 ahead/.test(await rig.shown(page, "alarm-text")),
			"a jump, then a reload: it is asked again");
		check(Math.abs(await secondsIn(page, "at") - 54) <= 1,
			"a jump, then a reload: the run does not follow", await rig.shown(page, "at"));
	},
	async "a clock set while the page was away"(page) {
		await rig.awayAndBack(page, -1800, 0);
		check(/went back by 30:00/.test(await rig.shown(page, "remarks")),
			"a clock set back while away: it is said",
			await rig.shown(page, "remarks"));
		check(Math.abs(await secondsIn(page, "at") - 52) <= 1,
			"a clock set back while away: the time does not go back",
			await rig.shown(page, "at"));
		await rig.awayAndBack(page, 60, 0);
		check(/looks changed: by it the page was away for 1:00/.test(await rig.shown(page, "remarks")),
			"a clock set ahead while away: it is said",
			await rig.shown(page, "remarks"));
	},
	async "Back"(page) {
		for (let times = 0; times < 3; times++)
			await page.evaluate(() => history.back());
		await page.waitForFunction(() => /Back does nothing/.test(document.getElementById("remarks").textContent));
		await rig.pass(page, 1);
		check(await rig.screen(page) === "count" && Math.abs(await secondsIn(page, "at") - 53) <= 1,
			"Back: the run goes on",
			await rig.screen(page));
		await rig.pass(page, 680);
		await checkOnce(page, [1], "Back");
	},
	async "draining by the menu"(page) {
		await page.keyboard.press("Escape");
		await page.click("#menu-drain");
		await rig.pass(page, 9);
		const log = rig.readLog(await rig.logOf(page));
		const own = log.events.filter((event) => event.step === "1");
		check(own.some((event) => event.word === "drain-begun" && event.planned === "720" &&
			event.remark === "by the menu") &&
			own[own.length - 1].word === "step-over",
				"draining by the menu: the step ends with its drain", own.slice(-4));
		check(await rig.shown(page, "where") === "2/4 stop",
			"draining by the menu: the next step is to be poured", await rig.shown(page, "where"));
	},
	async "counting again"(page) {
		await page.keyboard.press("Escape");
		await page.click("#menu-again");
		await rig.pass(page, 11);
		check(Math.abs(await secondsIn(page, "at") - 3) <= 1,
			"counting again: from this moment", await rig.shown(page, "at"));
		check(rig.readLog(await rig.logOf(page)).events.some((event) => event.word === "begun" &&
			event.remark === "again"),
			"counting again: the log tells of it");
	},
};

async function checkTaps(browser, folder) {
	const opened = await rig.open(browser, folder, html);
	const { page } = opened;
	const tap = () => page.evaluate(() => {
		document.getElementById("main").click();
		document.getElementById("main").click();
	});
	await tap();
	await tap();
	check(await rig.screen(page) === "ask", "a double tap begins, and no more", await rig.screen(page));
	await rig.answer(page, 1, "20.3");
	await tap();
	check(await rig.screen(page) === "ready", "a tap just after an answer does not pour", await rig.screen(page));
	await rig.pass(page, 1);
	await tap();
	await page.keyboard.down("Space");
	for (let times = 0; times < 30; times++)
		await page.keyboard.down("Space"); // held
	await page.keyboard.up("Space");
	check(await rig.shown(page, "where") === "1/4 develop" && await rig.screen(page) === "count",
		"nor does a pedal held down skip a step");
	await rig.pass(page, 740);
	await rig.pedal(page);
	await rig.pass(page, 60 + 7.9);
	await tap();
	check(await rig.screen(page) === "count",
		"a tap just before the step may end is not taken for its drain", await rig.screen(page));
	await rig.pass(page, 0.2);
	await tap();
	check(!rig.readLog(await rig.logOf(page)).events.some((event) => event.word === "drain-begun"),
		"nor one just after");
	await rig.pass(page, 1);
	await tap();
	await rig.pass(page, 0.8);
	await tap();
	const drains = rig.readLog(await rig.logOf(page)).events.filter((event) => event.word === "drain-begun");
	check(drains.length === 1, "a double tap drains once", drains);
	await rig.quiet(opened, "double taps");
	await opened.context.close();
}

async function checkRefusedStorage(browser, folder) {
	const opened = await rig.open(browser, folder, html, { before: () => {
		Object.defineProperty(window, "localStorage", { get() {
			throw new DOMException("refused", "SecurityError");
		} });
	} });
	const { page } = opened;
	await inDeveloper(page, 60);
	check(/stores nothing/.test(await rig.shown(page, "remarks")), "no storage: it is said", await rig.shown(page,
		"remarks"));
	await rig.reload(page);
	await rig.pass(page, 0.1);
	check(await rig.screen(page) === "count" && Math.abs(await secondsIn(page, "at") - 52) <= 1,
		"no storage: a reload goes on all the same",
		await rig.screen(page));
	await rig.quiet(opened, "no storage");
	await opened.context.close();
}

async function checkKeptNowhere(browser, folder) {
	const { page, context } = await rig.open(browser, folder, html, { before: () => {
		Storage.prototype.setItem = () => {
			throw new DOMException("full", "QuotaExceededError");
		};
		History.prototype.replaceState = () => {
			throw new DOMException("refused", "SecurityError");
		};
	} });
	await inDeveloper(page, 60);
	check(/would lose the run/.test(await rig.shown(page, "remarks")) && await rig.screen(page) === "count",
		"kept nowhere: it is said, and the run goes on", await rig.shown(page, "remarks"));
	await context.close();
}

async function checkTwoWindows(browser, folder) {
	const { page, context, path } = await rig.open(browser, folder, html);
	await inDeveloper(page, 60);
	const second = await context.newPage();
	await second.goto(`file://${path}`);
	await page.waitForFunction(() => document.body.className === "elsewhere");
	check(await rig.shown(page, "main") === "Go on here",
		"opened twice: the first page gives way", await rig.shown(page, "main"));
	check(await rig.screen(second) === "count", "opened twice: the second has the run", await rig.screen(second));
	await context.close();
}

async function checkOldRun(browser, folder) {
	const { page, context } = await rig.open(browser, folder, html);
	await inDeveloper(page, 60);
	await rig.awayAndBack(page, 90000, 90000);
	check(await rig.screen(page) === "ended" && /never finished/.test(await rig.shown(page, "remarks")),
		"a run of yesterday is over",
		await rig.screen(page));
	await rig.pass(page, 1);
	await page.click("#anew");
	check(await rig.screen(page) === "start", "and a new one can begin", await rig.screen(page));
	await context.close();
}

async function checkOne(browser, folder, name) {
	const opened = await rig.open(browser, folder, html);
	await inDeveloper(opened.page, 60);
	await tests[name](opened.page);
	await rig.quiet(opened, name);
	await opened.context.close();
}

await pages.withBrowser(async (browser, folder) => {
	await Promise.all([
		...Object.keys(tests).map((name) => checkOne(browser, folder, name)),
		...[checkTaps, checkRefusedStorage, checkKeptNowhere, checkTwoWindows, checkOldRun]
			.map((test) => test(browser, folder)),
	]);
});
