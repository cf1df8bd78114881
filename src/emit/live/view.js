// What the page shows. Everything is painted from the run, and only where it changes, so that a page that slept is right
// at its first look. Texts are set as text, never as markup.

const view = {
	asks: "", // the question on the screen: "", "bottle" or "measure"
	isPreparing: false, // asked for while another step is in the tank
	isOutside: false, // a reading was refused
	isSure: false, // pouring anyway was pressed once
	menuIsOpen: false,
	leadDue: null, // the pour at the signal
	isElsewhere: false, // another window has the run
	message: "",
	told: "",
	remark: "",
};

function one(id) {
	return document.getElementById(id);
}

function put(id, text) {
	const element = one(id);
	if (element.textContent !== text)
		element.textContent = text;
}

function show(id, isShown) {
	const element = one(id);
	if (element.hidden === isShown)
		element.hidden = !isShown;
}

// A text that is not there takes no room.
function putOrHide(id, text) {
	put(id, text);
	show(id, text !== "");
}

function putList(id, texts) {
	const list = one(id);
	if (list.dataset.holds === texts.join("\n"))
		return;
	list.dataset.holds = texts.join("\n");
	list.replaceChildren(...texts.map((text) => {
		const item = document.createElement("li");
		item.textContent = text;
		return item;
	}));
	list.hidden = texts.length === 0;
}

function putPairs(id, pairs) {
	const list = one(id);
	const holds = JSON.stringify(pairs);
	if (list.dataset.holds === holds)
		return;
	list.dataset.holds = holds;
	list.replaceChildren(...pairs.filter(([, text]) => text !== "").map(([name, text]) => {
		const row = document.createElement("div");
		for (const [tag, words] of [["dt", name], ["dd", text]]) {
			const part = document.createElement(tag);
			part.textContent = words;
			row.append(part);
		}
		return row;
	}));
}

function pressed(id, isPressed) {
	one(id).setAttribute("aria-pressed", String(isPressed));
}

// ---- which screen ----

function screenNow() {
	if (view.isElsewhere)
		return "elsewhere";
	if (view.leadDue !== null)
		return "lead";
	if (run.phase === "ready" && view.asks)
		return "ask";
	return run.phase;
}

const largeTimes = ["count", "lead"];

function paint(now) {
	const screen = screenNow();
	const className = view.asks && run.phase === "count" ? `${screen} asking` : screen;
	if (document.body.className !== className)
		document.body.className = className;
	paintWhere(screen);
	paintAlarm();
	if (screen === "ready" || screen === "ask")
		paintNext(now);
	if (largeTimes.includes(screen))
		paintCount(screen, now);
	if (screen === "ended")
		paintEnded();
	paintEntry();
	paintHands(screen);
	putList("remarks", remarks());
}

function paintWhere(screen) {
	const rehearsal = clock.speed === 1 ? "" : ` · rehearsal, ${clock.speed} times as fast`;
	const isRunning = ["ready", "ask", "lead", "count"].includes(screen);
	put("where", isRunning ? `${run.step}/${plan.steps.length} ${step.name}${rehearsal}`
		: `${plan.steps.length} ${plan.steps.length === 1 ? "step" : "steps"}`);
	putOrHide("light", isRunning ? (lightIsAllowed() ? "Light is allowed" : "No light: the lid stays on") : "");
}

function paintAlarm() {
	show("alarm", clock.jump !== 0);
	if (clock.jump === 0)
		return;
	const by = timeText(Math.round(Math.abs(clock.jump) / 1000));
	const where = clock.jump > 0 ? "ahead" : "behind";
	put("alarm-text", `This device's clock is ${by} ${where}. The run goes on as it was counted.`);
	show("slept", clock.jump > 0);
	put("slept", `The device slept: add ${by}`);
}

function remarks() {
	const said = [view.remark];
	if (keptIn === "history")
		said.push("This browser stores nothing for this page: a reload keeps the run, closing it loses it.");
	if (keptIn === "nowhere")
		said.push("This browser keeps nothing for this page: a reload would lose the run.");
	if (run.phase !== "start" && !navigator.wakeLock)
		said.push("This browser cannot keep the screen on: let the device do it.");
	return said.filter((text) => text);
}

// ---- before a step ----

function paintNext(now) {
	put("do", bathWords(step).replace(/^\w/, (letter) => letter.toUpperCase()));
	putOrHide("bottle", step.bottle > 0 ? String(step.bottle) : "");
	putOrHide("bath", step.bath_title);
	const [sinceName, since] = run.stepEndedAt === null ? ["", ""]
		: ["waiting", timeText(Math.floor((now - run.stepEndedAt) / 1000))];
	putPairs("windows", [["at", step.aim], ["limits", step.limits], ["in the tank", step.in_tank],
		["for", step.time], [sinceName, since]]);
	putOrHide("why", step.why);
	putList("notes", step.notes);
	putOrHide("ready", [run.next.remark, run.next.measuredRemark].filter((text) => text).join("; "));
}

// ---- in a step ----

function paintCount(screen, now) {
	if (screen === "lead") {
		putFigures(timeText(Math.ceil((view.leadDue - now) / 1000)));
		put("now-word", `${bathWords(step)} at the signal`);
		put("now-until", "");
		put("until", "in");
		put("then", "");
		put("at", "");
		show("aside", false);
		stripShow(step.pour - (view.leadDue - now) / 1000);
		return;
	}
	const since = Math.floor(sinceMs(now) / 1000);
	paintAct(since, now);
	paintAhead(since, now);
	stripShow(sinceMs(now) / 1000);
}

function putFigures(text) {
	put("figures", text);
	one("figures").dataset.length = String(Math.max(4, text.length));
}

function paintAct(since, now) {
	let { words, until } = run.act || { words: "", until: null };
	if (until !== null && since >= until) {
		if (run.act.kind === "taps")
			words = cueKinds.get("agitation-end").title;
		until = null;
	}
	const isNew = run.act !== null && now - run.act.at < 4000 * clock.speed;
	const isActing = run.act !== null && (run.act.kind === "open" || until !== null || isNew);
	put("now-word", words);
	put("now-until", until === null ? "" : `until ${timeText(until)}`);
	one("now").classList.toggle("acting", isActing);
	const aside = run.aside && now - run.aside.at < 10000 * clock.speed ? run.aside.words : "";
	putOrHide("aside", isLatest(since) ? "The latest end is over: drain" : aside);
}

function isLatest(since) {
	return run.open && step.latest !== null && since >= step.latest;
}

// The next two things to do; a warning is nothing to wait for.
function paintAhead(since, now) {
	const isAwaited = (cue) => cueKinds.get(cue.kind).rings && cue.kind !== "drain-soon";
	const ahead = cuesToCome(24, Infinity).filter(isAwaited);
	const inTime = (cue) => timeText(Math.ceil((cue.due - now) / 1000));
	const [first, second] = run.open ? [null, ahead[0]] : ahead;
	put("until", first ? `next: ${first.words}` : "in the bath for");
	putFigures(first ? inTime(first) : timeText(since));
	put("then", second ? `then ${second.words}, in ${inTime(second)}` : "");
	const of = step.time ? ` of ${step.time}` : "";
	const isLast = first && first.kind === "drain";
	const drains = step.drain !== null && !run.open && !run.drained && !isLast && since < step.drain;
	put("at", `${timeText(since)}${of}${drains ? `; drain in ${timeText(step.drain - since)}` : ""}`);
}

// ---- the end ----

function paintEnded() {
	put("ended-word", run.endedBy === "finished" ? "Finished" : "Stopped");
	if (one("log-text").value !== logText())
		one("log-text").value = logText();
}

// ---- questions ----

function asked() {
	const next = nextStep();
	if (view.asks === "bottle")
		return `${next.name}: the number on the bottle in your hand?`;
	const on = next.measure.thermometer ? ` on ${next.measure.thermometer}` : "";
	return `${next.name}: measured${on}? ${measureWords(next)}`;
}

function paintEntry() {
	const isAsked = view.asks !== "" && view.leadDue === null && !view.isElsewhere;
	show("entry", isAsked);
	putOrHide("told", isAsked || run.phase === "start" || run.phase === "ended" ? "" : view.told);
	if (!isAsked)
		return;
	put("asks", asked());
	putOrHide("message", view.message);
	show("anyway", view.asks === "measure" && view.isOutside);
	put("anyway", view.isSure ? "Yes, pour anyway: it is written down" : "Pour anyway");
	show("later", run.phase === "count");
}

// ---- what hands do ----

// What the large key does now: [words, name of what it does]; null where there is nothing to do.
function mainAct(screen) {
	if (view.menuIsOpen)
		return null;
	switch (screen) {
	case "start": return ["Begin", "begin"];
	case "ready": return [beginWords(step)[0], "pour"];
	case "count": return run.open ? [step.drain === null ? "It is over" : "I drain now", "drain"] : null;
	case "ended": return ["Save the log", "save"];
	case "elsewhere": return ["Go on here", "here"];
	default: return null;
	}
}

function paintHands(screen) {
	const main = mainAct(screen);
	show("hands", !(screen === "ask"));
	putOrHide("main", main ? main[0] : "");
	const lead = screen === "ready" ? beginWords(step)[1] : "";
	putOrHide("lead", lead);
	show("again", screen === "ready" && step.measure !== null);
	putOrHide("prepare", prepareWords(screen));
	show("more", ["ready", "count", "lead"].includes(screen) && !view.menuIsOpen);
	show("anew", screen === "ended");
	show("menu", view.menuIsOpen);
	show("menu-drain", run.phase === "count");
	show("menu-again", run.phase === "count");
	putOrHide("coming", comingWords(screen));
}

// The step to come, while one is in the tank.
function prepareWords(screen) {
	return screen === "count" && !view.asks && nextQuestion() ? "Check the next bottle and bath" : "";
}

function comingWords(screen) {
	if (screen !== "count" || !run.next || view.asks)
		return "";
	const next = nextStep();
	const isReady = nextQuestion() === "" && (next.asks_bottle || next.measure);
	return `Next step: ${next.name}: ${bathWords(next)}${isReady ? ": ready" : ""}`;
}
