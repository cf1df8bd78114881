// Where the run is kept, so that a reload loses nothing: in the browser's storage for pages; where that is refused, as
// some browsers do for files, with the page's own place in the history of its window, which a reload keeps; else
// nowhere.

const KEEP_KEY = `wetside-live ${plan.fingerprint} ${plan.this_run}`;
const CLOCK_KEY = `${KEEP_KEY} clock`;
const KEPT_FORMAT = 1;
const writer = `${Date.now()}-${Math.random()}`;

// How it is kept: "storage", "history" or "nowhere".
let keptIn = "storage";

function keepInStorage(text) {
	try {
		localStorage.setItem(KEEP_KEY, text);
		return true;
	} catch (refused) {
		return false;
	}
}

function keepInHistory(text) {
	try {
		history.replaceState({ [KEEP_KEY]: text }, "");
		return true;
	} catch (refused) {
		return false;
	}
}

function keep(run) {
	const text = JSON.stringify({ format: KEPT_FORMAT, writer, clock: clockKept(), run });
	if (keepInStorage(text))
		keptIn = "storage";
	else
		keptIn = keepInHistory(text) ? "history" : "nowhere";
}

// Between two events only the clock moves.
function keepClock() {
	try {
		if (keptIn === "storage")
			localStorage.setItem(CLOCK_KEY, JSON.stringify(clockKept()));
	} catch (refused) {
		// The run itself says so at its next event.
	}
}

function stored(key) {
	try {
		return localStorage.getItem(key);
	} catch (refused) {
		return null;
	}
}

// What was kept: { clock, run }; null where there is nothing.
function keptRun() {
	const text = stored(KEEP_KEY) || (history.state && history.state[KEEP_KEY]);
	try {
		const kept = JSON.parse(text);
		const later = JSON.parse(stored(CLOCK_KEY));
		if (!kept || kept.format !== KEPT_FORMAT)
			return null;
		return later && later.steady > kept.clock.steady ? Object.assign(kept, { clock: later }) : kept;
	} catch (broken) {
		return null;
	}
}

// Calls back when another window goes on with the same run.
function watchOthers(taken) {
	addEventListener("storage", (event) => {
		if (event.key !== KEEP_KEY || !event.newValue)
			return;
		const kept = JSON.parse(event.newValue);
		if (kept.writer !== writer)
			taken();
	});
}
