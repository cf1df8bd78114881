// The page as a whole: touches, keys and the passing of time.

const GUARD_MS = 700; // a second tap within this time is the same tap

const reducedMotion = matchMedia("(prefers-reduced-motion: reduce)");
let armedAt = -Infinity; // since when the large key says what it says
let armedFor = "";
let timeout = null;
let isGliding = false;

// ---- time passes ----

function lead(now) {
	if (view.leadDue === null || now < view.leadDue)
		return;
	const at = view.leadDue;
	view.leadDue = null;
	pour(at);
}

function announce(fired, now) {
	const rung = fired.filter((cue) => cueKinds.get(cue.kind).rings);
	// After a sleep: only the last of what was missed.
	const heard = rung.filter((cue) => now - cue.due < 1500 * clock.speed);
	(heard.length > 0 ? heard : rung.slice(-1)).forEach(soundCame);
	const last = fired.filter((cue) => cueKinds.get(cue.kind).rings || cue.kind === "light").pop();
	if (!last)
		return;
	put("said", last.said);
	speak(last.said);
}

function layAhead(now) {
	const until = now + 1000 * AHEAD_S * clock.speed;
	const coming = run.phase === "count" ? cuesToCome(200, until) : [];
	if (view.leadDue !== null)
		coming.push({ kind: "pour", due: view.leadDue });
	const plan = [run.step, run.pourAt, run.shift, run.open, run.drained, view.leadDue, clock.offset];
	soundLay(coming, now, plan.join());
}

// How long until the figures change or a cue is due.
function rest(now) {
	const origin = view.leadDue !== null ? view.leadDue : run.phase === "count" ? run.pourAt : run.stepEndedAt || 0;
	const second = 1000 - (((now - origin) % 1000) + 1000) % 1000;
	const cue = run.phase === "count" ? cueNext() : null;
	return Math.max(1, Math.min(second, cue ? cue.due - now : second) / clock.speed);
}

function tick() {
	clearTimeout(timeout);
	const before = run.log.length;
	if (clockLook() && clock.jump !== 0 && run.phase !== "start" && run.phase !== "ended")
		recordEvent("clock-moved", `${hundredthsText(Math.round(clock.jump / 10))} s, not followed`);
	const now = nowMs();
	if (!view.isElsewhere) {
		lead(now);
		announce(runOn(now), now);
		layAhead(now);
	}
	look();
	if (run.log.length !== before)
		keep(run);
	else if (run.phase === "count" || run.phase === "ready")
		keepClock();
	if (!isGliding)
		glide();
	timeout = setTimeout(tick, Math.ceil(rest(nowMs())));
}

// Asks what is to be asked, and paints.
function look() {
	const question = run.phase === "ready" || (run.phase === "count" && view.isPreparing) ? nextQuestion() : "";
	const isNew = question !== view.asks;
	if (isNew) {
		Object.assign(view, { asks: question, isOutside: false, isSure: false });
		one("typed").value = "";
		view.isPreparing = view.isPreparing && question !== "";
	}
	paint(nowMs());
	arm();
	if (isNew)
		(question ? one("typed") : one("page")).focus({ preventScroll: true });
}

// The large key is armed anew whenever it comes to mean something else.
function arm() {
	const main = mainAct(screenNow());
	const means = main ? `${main[1]} ${run.step}` : "";
	if (means === armedFor)
		return;
	armedAt = armedFor === "" && run.phase === "start" ? -Infinity : performance.now();
	armedFor = means;
}

// Between two looks the strip glides, where motion is wanted and somebody looks.
function glide() {
	isGliding = !reducedMotion.matches && document.visibilityState === "visible" && screenNow() === "count";
	if (!isGliding)
		return;
	stripShow(sinceMs(nowMs()) / 1000);
	requestAnimationFrame(glide);
}

// ---- what the large key does ----

const mainActs = {
	begin() {
		awake.isWanted = true;
		begin(Number(one("first").value), Number(one("speed").value));
		screenStaysOn();
		history.pushState(history.state, "");
	},
	pour() {
		view.told = "";
		pour(nowMs());
	},
	drain() {
		drain(nowMs(), "by the user");
	},
	save: saveLog,
	here() {
		location.reload();
	},
};

function mainPress() {
	const main = mainAct(screenNow());
	soundWake();
	if (!main || performance.now() - armedAt < GUARD_MS)
		return;
	armedAt = performance.now();
	mainActs[main[1]]();
	changed();
}

function changed() {
	keep(run);
	tick();
}

function saveLog() {
	const url = URL.createObjectURL(new Blob([logText()], { type: "text/plain" }));
	const link = document.createElement("a");
	link.href = url;
	link.download = logName();
	document.body.append(link);
	link.click();
	link.remove();
	setTimeout(() => URL.revokeObjectURL(url), 60000);
	putOrHide("saved", `Saved as ${logName()}. Where a browser saves nothing, copy the text below.`);
}

// ---- answers ----

function answer() {
	const typed = one("typed").value.trim();
	const answered = view.asks === "bottle" ? answerBottle(typed) : answerMeasure(typed);
	view.message = answered.isWrong ? answered.text : "";
	view.told = answered.isWrong ? "" : answered.text;
	view.isOutside = Boolean(answered.isOutside);
	view.isSure = false;
	one("typed").value = "";
	step = run.phase === "ready" ? nextStep() : step;
	changed();
}

function anyway() {
	if (!view.isSure) {
		view.isSure = true;
		look();
		return;
	}
	view.message = "";
	pourAnyway();
	step = run.phase === "ready" ? nextStep() : step;
	changed();
}

function padKey(key) {
	const input = one("typed");
	if (key === "back")
		input.value = input.value.slice(0, -1);
	else if (input.value.length < input.maxLength)
		input.value += key;
}

// ---- the menu ----

function menuOpen() {
	view.menuIsOpen = true;
	view.leadDue = null;
	recordEvent("menu");
	changed();
	one("menu-on").focus();
}

function menuClose() {
	view.menuIsOpen = false;
	changed();
	one("page").focus({ preventScroll: true });
}

const menuActs = {
	"menu-on": () => {},
	"menu-drain": () => run.phase === "count" && drain(nowMs(), "by the menu"),
	"menu-again": () => run.phase === "count" && pourAgain(nowMs()),
	"menu-stop": () => {
		finish("stopped");
		screenMaySleep();
	},
};

// ---- switches ----

function darken(isDark) {
	document.documentElement.className = isDark ? "dark" : "light";
	document.querySelector("meta[name=color-scheme]").content = isDark ? "dark" : "light";
	document.querySelector("meta[name=theme-color]").content = isDark ? "#000000" : "#ffffff";
	pressed("dark", isDark);
}

const SWITCHES_KEY = "wetside-live switches";

function keepSwitches() {
	try {
		localStorage.setItem(SWITCHES_KEY, JSON.stringify({ dark: document.documentElement.className === "dark",
			sound: sound.isOn, voice: sound.speaks }));
	} catch (refused) {
		// Then they are set anew the next time.
	}
}

function takeSwitches() {
	let kept = null;
	try {
		kept = JSON.parse(localStorage.getItem(SWITCHES_KEY));
	} catch (refused) {
		kept = null;
	}
	darken(Boolean(kept && kept.dark));
	sound.isOn = !kept || kept.sound;
	sound.speaks = !kept || kept.voice;
	pressed("sound", sound.isOn);
	pressed("voice", sound.speaks);
}

const switches = {
	dark: () => darken(document.documentElement.className !== "dark"),
	sound: () => {
		sound.isOn = !sound.isOn;
		pressed("sound", sound.isOn);
		signalNow("agitation-start");
	},
	voice: () => {
		sound.speaks = !sound.speaks;
		pressed("voice", sound.speaks);
		speak("voice");
	},
	full: () => {
		if (document.fullscreenElement)
			document.exitFullscreen();
		else
			document.documentElement.requestFullscreen().catch(() => {});
	},
};

// ---- touches and keys ----

function onPress(id, act) {
	one(id).addEventListener("click", () => {
		soundWake();
		act();
	});
}

// A pedal drives the large key, wherever a touch has left the focus; one who walks the page by the tabulator key has the
// key that the focus is on.
let walksByTab = false;

function isKeyForFocus(target) {
	return target.matches("input, select, textarea, summary") || (walksByTab && target.matches("button"));
}

function onKey(event) {
	if (event.key === "Tab")
		walksByTab = true;
	if (event.key === "Escape" && (run.phase === "count" || run.phase === "ready")) {
		if (view.menuIsOpen)
			menuClose();
		else
			menuOpen();
		return;
	}
	if (![" ", "Enter", "PageDown"].includes(event.key) || event.ctrlKey || event.altKey || event.metaKey)
		return;
	if (event.target.matches("input") && event.key === " ")
		event.preventDefault();
	if (event.key !== "PageDown" && isKeyForFocus(event.target)) {
		// Held down, a key is still one press.
		if (event.repeat)
			event.preventDefault();
		return;
	}
	event.preventDefault();
	if (!event.repeat)
		mainPress();
}

function listen() {
	one("main").addEventListener("click", mainPress);
	one("entry").addEventListener("submit", (event) => {
		event.preventDefault();
		soundWake();
		answer();
	});
	for (const key of one("pad").querySelectorAll("button"))
		key.addEventListener("click", () => padKey(key.dataset.key));
	for (const [id, act] of Object.entries(menuActs))
		onPress(id, () => {
			act();
			menuClose();
		});
	for (const [id, act] of Object.entries(switches))
		onPress(id, () => {
			act();
			keepSwitches();
		});
	onPress("anyway", anyway);
	onPress("later", () => {
		view.isPreparing = false;
		look();
	});
	onPress("lead", () => {
		view.leadDue = nowMs() + 5000;
		changed();
	});
	onPress("again", () => {
		measureAgain();
		changed();
	});
	onPress("prepare", () => {
		view.isPreparing = true;
		look();
	});
	onPress("more", menuOpen);
	onPress("anew", () => {
		run = freshRun();
		clock.speed = 1;
		show("saved", false);
		changed();
	});
	onPress("slept", () => {
		recordEvent("clock-moved", `${hundredthsText(Math.round(clock.jump / 10))} s, slept, added`);
		clockSlept();
		changed();
	});
	onPress("was-set", () => {
		recordEvent("clock-moved", `${hundredthsText(Math.round(clock.jump / 10))} s, was set`);
		clockWasSet();
		changed();
	});
}

function listenToWindow() {
	addEventListener("keydown", onKey);
	addEventListener("pointerdown", () => {
		walksByTab = false;
	});
	document.addEventListener("visibilitychange", () => {
		screenStaysOn();
		tick();
	});
	addEventListener("pageshow", tick);
	addEventListener("focus", tick);
	// Back leaves the place in the history that `begin` made: the page stays, and takes a new one.
	addEventListener("popstate", () => {
		if (run.phase === "start" || run.phase === "ended")
			return;
		history.pushState(null, "");
		view.remark = "Back does nothing in a run. The menu stops it.";
		changed();
	});
	addEventListener("beforeunload", (event) => {
		if (keptIn === "nowhere" && (run.phase === "ready" || run.phase === "count"))
			event.preventDefault();
	});
	document.addEventListener("fullscreenchange", () => pressed("full", Boolean(document.fullscreenElement)));
	watchOthers(() => {
		view.isElsewhere = true;
		soundDrop();
		tick();
	});
}

// ---- the first look ----

function startFacts() {
	const facts = [plan.this_run && `This run: ${plan.this_run}`, lightWords()];
	putList("facts", facts.filter((text) => text));
	one("first").replaceChildren(...plan.steps.map((each, index) => {
		const option = document.createElement("option");
		option.value = String(index + 1);
		option.textContent = `${index + 1}. ${each.name}`;
		return option;
	}));
	show("full", Boolean(document.documentElement.requestFullscreen));
	show("voice", Boolean(window.speechSynthesis));
}

function takeUpKept() {
	const kept = keptRun();
	if (!kept || kept.run.phase === "start")
		return;
	view.remark = takeUp(kept);
	awake.isWanted = run.phase !== "ended";
	screenStaysOn();
	keep(run);
}

takeSwitches();
startFacts();
takeUpKept();
listen();
listenToWindow();
tick();
