// What the tests of the live page share: a page on a clock that the test moves, its log read back, and the timer of the
// same recipe as a second opinion. Not a test by itself.

import { execFile, execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import * as pages from "../pages.mjs";

export const { check, root } = pages;
const wetside = process.env.WETSIDE ?? join(root, "build", "wetside");
export const START = new Date("2026-03-14T09:00:00Z");

/** What a command of the program writes, given something on its standard input. */
export function run(input, ...words) {
	return execFileSync(wetside, words, { cwd: root, encoding: "utf8", input });
}

/** The live page of a recipe. */
export function live(recipe, process, ...options) {
	return pages.emit("live", ...options, ...(process ? ["--process", process] : []), recipe);
}

/** What `cues` says of a run; null where the recipe refuses it. */
export function cueList(recipe, process, ...options) {
	const done = spawnSync(wetside, ["cues", "--to", "json", "--process", process, ...options, recipe],
		{ cwd: root, encoding: "utf8" });
	return done.status === 0 ? JSON.parse(done.stdout) : null;
}

/** The log of the timer of a recipe, run through by a shell on a clock of its own while the test goes on. */
export async function timerLog(folder, recipe, process, made, ...options) {
	const own = mkdtempSync(join(folder, "timer-"));
	const [script, clock, log] = ["timer.sh", "clock", "run.log"].map((name) => join(own, name));
	execFileSync(wetside, ["timer", "--process", process, ...made,
		"-o", script, recipe], { cwd: root, stdio: "pipe" });
	writeFileSync(clock, "100.00\n");
	await promisify(execFile)("sh", [script, "--clock-file", clock, "--log", log, ...options],
		{ env: { ...globalThis.process.env, LC_ALL: "C.UTF-8" } });
	return readFileSync(log, "utf8");
}

// ---- a page ----

// Runs in the page, before its own script: a wall clock, a steady clock and timers that stand still until the test moves
// them. The steady clock of a page begins at 0.
function standStill(start) {
	const kept = { wall: start, steady: 0 };
	let begun = 0;
	const timers = new Map();
	const RealDate = Date;
	let count = 0;
	performance.now = () => kept.steady - begun;
	Object.defineProperty(performance, "timeOrigin", { get: () => start + begun });
	window.Date = class extends RealDate {
		constructor(...given) {
			super(...(given.length > 0 ? given : [kept.wall]));
		}
		static now() {
			return kept.wall;
		}
	};
	window.setTimeout = (act, wait = 0) => {
		timers.set(++count, { at: kept.steady + Math.max(0, wait), act });
		return count;
	};
	window.clearTimeout = (number) => timers.delete(number);
	const move = (wall, steady) => {
		kept.wall += wall;
		kept.steady += steady;
	};
	const fire = async (until) => {
		for (;;) {
			const due = [...timers].filter(([, one]) => one.at <= until).sort(([, one], [,
				two]) => one.at - two.at)[0];
			if (!due)
				return;
			timers.delete(due[0]);
			move(Math.max(0, due[1].at - kept.steady), Math.max(0, due[1].at - kept.steady));
			due[1].act();
			await null;
		}
	};
	window.testClock = {
		// What the clocks show, for the page that comes after this one.
		read: () => kept,
		goOnFrom(earlier) {
			Object.assign(kept, earlier);
			begun = kept.steady;
		},
		// As it goes: timers fire in time.
		async pass(ms) {
			const until = kept.steady + ms;
			await fire(until);
			move(until - kept.steady, until - kept.steady);
		},
		// The tab is frozen: both clocks go on, timers fire once afterwards.
		async freeze(ms) {
			move(ms, ms);
			await fire(kept.steady);
		},
		// The wall clock is set, or the device sleeps and its steady clock with it.
		set: (ms) => move(ms, 0),
	};
}

// Runs in the page, before its own script: notes what goes against the content policy, when each cue is announced, and
// when each tone is to sound, on the page's own steady clock.
function spy() {
	window.violations = [];
	window.announced = [];
	window.tones = [];
	window.spoken = [];
	document.addEventListener("securitypolicyviolation", (event) =>
		window.violations.push(`${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
	document.addEventListener("DOMContentLoaded", () => {
		const said = document.getElementById("said") ?? document.body;
		new MutationObserver(() => window.announced.push([performance.now(), said.textContent]))
			.observe(said, { childList: true, characterData: true, subtree: true });
	});
	const parameter = () => ({ value: 0, setValueAtTime() {}, linearRampToValueAtTime() {} });
	window.AudioContext = class {
		constructor() {
			this.state = "running";
			this.destination = {};
			this.zero = performance.now();
		}
		get currentTime() {
			return (performance.now() - this.zero) / 1000;
		}
		createGain() {
			return { gain: parameter(), connect: (next) => next };
		}
		createOscillator() {
			const tone = { at: null, pitch: 0, stopped: false };
			return {
				frequency: { set value(pitch) { tone.pitch = pitch; } },
				connect: (next) => next,
				start: (at) => window.tones.push(Object.assign(tone, { at: this.zero + at * 1000 })),
				stop(at) { tone.stopped ||= at === undefined && tone.at > performance.now(); },
			};
		}
		resume() {
			return Promise.resolve();
		}
	};
	Object.defineProperty(window, "speechSynthesis", { value: {
		getVoices: () => [{ lang: "xx", localService: true, name: "other" }, { lang: "en-GB",
			localService: false, name: "far" },
			{ lang: "en-GB", localService: true, name: "here" }],
		cancel() {},
		speak: (speech) => window.spoken.push(speech.text),
	} });
	window.SpeechSynthesisUtterance = class {
		constructor(text) {
			this.text = text;
		}
	};
}

/** Opens a page from a file, on clocks that stand still until they are moved, unless `realTime` is asked for. */
export async function open(browser, folder, html, options = {}) {
	const path = join(mkdtempSync(join(folder, "live-")), "run.html");
	writeFileSync(path, html);
	const { realTime, before, ...rest } = options;
	const context = await pages.contextOf(browser, { reducedMotion: "reduce", acceptDownloads: true, ...rest });
	await context.addInitScript(spy);
	if (before)
		await context.addInitScript(before);
	if (!realTime)
		await context.addInitScript(standStill, START.getTime());
	const page = await context.newPage();
	const watch = { requests: [], messages: [] };
	page.on("request", (request) => !/^(file|blob):/.test(request.url()) && watch.requests.push(request.url()));
	page.on("console", (message) => watch.messages.push(message.text()));
	page.on("pageerror", (error) => watch.messages.push(String(error)));
	page.on("dialog", (dialog) => watch.messages.push(dialog.message()) && dialog.dismiss());
	await page.goto(`file://${path}`);
	return { context, page, watch, path };
}

export async function quiet({ page, watch }, name) {
	await pages.checkQuiet(page, watch, { name });
}

/** What the page shows, by id. */
export async function shown(page, id) {
	const element = page.locator(`#${id}`);
	return await element.isVisible() ? (await element.textContent()).trim() : "";
}

export async function screen(page) {
	return page.evaluate(() => document.body.className);
}

/** Time passes. */
export async function pass(page, seconds) {
	await page.evaluate((ms) => window.testClock.pass(ms), Math.round(seconds * 1000));
}

// The clocks of the next page go on from those of this one, moved by so many seconds. The test carries them over: what a
// page leaves behind by itself may reach the next one too late.
async function carryOver(page, wall, steady) {
	const kept = await page.evaluate(() => window.testClock.read());
	await page.addInitScript((earlier) => window.testClock.goOnFrom(earlier),
		{ wall: kept.wall + wall * 1000, steady: kept.steady + steady * 1000 });
}

export async function reload(page) {
	await carryOver(page, 0, 0);
	await page.reload();
}

/** The page is left, its wall clock and its steady clock go on by so many seconds, and it is opened again. */
export async function awayAndBack(page, wall, steady) {
	const here = page.url();
	await carryOver(page, wall, steady);
	await page.goto("about:blank");
	await page.goto(here);
}

/** A press of the pedal, once the large key is armed. */
export async function pedal(page) {
	await pass(page, 1);
	await page.keyboard.press("Space");
}

export async function type(page, text) {
	await page.keyboard.type(text);
	await page.keyboard.press("Enter");
}

/** From the start to the pour of the first step, by keys alone. */
export async function begin(page) {
	await page.keyboard.press("Space");
}

/** Answers what is asked before a step: the right bottle, and `reading` where a temperature is wanted. */
export async function answer(page, bottle, reading) {
	for (let asked = 0; asked < 3 && (await screen(page)).startsWith("ask"); asked++)
		await type(page, /bottle/.test(await shown(page, "asks")) ? String(bottle) : String(reading));
}

// ---- its log ----

const FIELDS = ["type", "stamp", "epoch", "clock", "step", "word", "planned", "actual", "remark"];

/** The log that the page keeps, as it would be saved. */
export async function logOf(page) {
	return page.evaluate(() => {
		const kept = Object.keys(localStorage).find((key) => /^wetside-live (?!switches)/.test(key) &&
			!key.endsWith(" clock"));
		return JSON.parse(localStorage.getItem(kept)).run.log.map((line) => `${line}\n`).join("");
	});
}

/** The lines of a log: its head, which is the plan, and its events as objects. */
export function readLog(text) {
	const lines = text.split("\n").slice(0, -1);
	const place = lines.findIndex((line) => line.startsWith("columns\t"));
	const events = lines.slice(place + 1).map((line) => line.split("\t"));
	return {
		head: lines.slice(0, place + 1),
		events: events.filter(([type]) => type === "event" || type === "cue")
			.map((fields) => Object.assign(Object.fromEntries(FIELDS.map((name, index) => [name,
				fields[index]])),
				{ fields: fields.length })),
		used: events.filter(([type]) => type.startsWith("used-")).map((fields) => fields.join("\t")),
	};
}

export function cuesOf(log) {
	return log.events.filter((event) => event.type === "cue").map((cue) => [cue.step, cue.word,
		cue.planned].join(" "));
}

/** Whether each cue is in the log as often as it is planned for: once. */
export function onceEach(log, steps) {
	const came = cuesOf(log);
	const plan = log.used.length > 0 ? log.used : log.head;
	const planned = plan.filter((line) => /^(plan|used)-cue\t/.test(line)).map((line) => line.split("\t"))
		.filter(([, step, , kind]) => steps.includes(Number(step)) && kind !== "latest-end")
		.map(([, step, since, kind]) => `${step} ${kind} ${since}`);
	return { twice: came.filter((cue, index) => came.indexOf(cue) !== index), lost: planned
		.filter((cue) => !came.includes(cue)) };
}
