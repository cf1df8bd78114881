// The cues of the step in the tank, as the timer's cues.sh does them. run.left holds what is still to come, in order. A
// step that may go on (`at least`, a range, no time) is open from its earliest end until the user drains; what follows
// the drain then follows the real one. All deadlines are points in time, so what comes late shifts nothing after it.

function sinceMs(at) {
	return at - run.pourAt + step.pour * 1000;
}

function sinceText(at) {
	return hundredthsText(Math.floor(sinceMs(at) / 10));
}

function cuesStart(at) {
	Object.assign(run, { pourAt: at, left: step.cues, tail: [], shift: 0, open: false, drained: false, again: 0,
		over: false, act: null, aside: null });
}

// ---- what is to come ----

function dueCue(cue) {
	return Object.assign({}, cue, { due: run.pourAt + (cue.since - step.pour) * 1000 + run.shift, isAgain: false });
}

// While the step goes on past its earliest end, agitation goes on in its pattern.
function againCue(count) {
	const isStart = count % 2 === 0;
	const since = step.again + Math.floor(count / 2) * step.again_every + (isStart ? 0 : step.again_length);
	const kind = isStart ? "agitation-start" : "agitation-end";
	return { kind, since, until: isStart ? since + step.again_length : since, words: cueKinds.get(kind).title,
		due: run.pourAt + (since - step.pour) * 1000, isAgain: true };
}

// The step stays open from here until the user drains.
function opens(cue) {
	return (cue.kind === "drain" || cue.kind === "end") && step.form !== "exact" && !run.drained && !run.open;
}

// The cues to come, `most` of them or those until a point in time, up to where it lies with the user.
function cuesToCome(most, until) {
	const found = [];
	let place = 0;
	let again = run.again;
	while (found.length < most) {
		let cue = place < run.left.length ? dueCue(run.left[place]) : null;
		const more = run.open && step.again !== null ? againCue(again) : null;
		if (more && (!cue || more.due <= cue.due)) {
			cue = more;
			again++;
		} else {
			place++;
		}
		if (!cue || cue.due > until)
			break;
		found.push(cue);
		if (!cue.isAgain && opens(cue))
			break;
	}
	return found;
}

function cueNext() {
	return cuesToCome(1, Infinity)[0] || null;
}

// ---- what comes ----

// Every cue that is due is written down, and then counts as done. Returns them.
function cuesFire(now) {
	const fired = [];
	for (let cue = cueNext(); !run.over && cue && cue.due <= now; cue = cueNext()) {
		cueRecord(cue, now);
		if (cue.isAgain)
			run.again++;
		else
			run.left = run.left.slice(1);
		fired.push(Object.assign(cue, { said: cueSettle(cue, now) }));
	}
	return fired;
}

function cueRecord(cue, now) {
	const remarks = cue.isAgain ? ["longer"] : [];
	const late = Math.floor((now - cue.due) / clock.speed / 10);
	if (late >= 100)
		remarks.push(`late ${hundredthsText(late)} s`);
	recordAt(run.step, "cue", cue.kind, cue.since, sinceText(now), remarks.join(", "));
}

// What a cue changes; returns what it says.
function cueSettle(cue, now) {
	if (!cue.isAgain && opens(cue)) {
		cuesOpen(now);
		return run.act.words;
	}
	// After a drain of the user's own the end is no longer the earliest; what is poured was said before.
	const isPlain = cue.kind === "pour" || (cue.kind === "end" && run.drained);
	const words = isPlain ? cueKinds.get(cue.kind).title : cue.words;
	switch (cue.kind) {
	case "pour": case "expose": case "agitation-start": case "taps": case "drain":
		act(cue, words, now);
		break;
	case "agitation-end":
		act(cue, words, now);
		if (run.open)
			actOpen(now);
		break;
	case "full":
		if (run.act && run.act.kind === "pour")
			act(cue, words, now);
		break;
	case "start":
		if (!run.act)
			act(cue, words, now);
		break;
	case "end":
		act(cue, words, now);
		run.over = true;
		break;
	default:
		settleAside(cue, words, now);
	}
	return words;
}

function settleAside(cue, words, now) {
	if (cue.kind === "light")
		run.lightAllowed = true;
	if (cue.kind !== "measure" || !run.wasMeasured)
		run.aside = { words, at: now };
}

function act(cue, words, at) {
	run.act = { kind: cue.kind, words, until: cue.until > cue.since ? cue.until : null, at };
}

function actOpen(at) {
	run.act = { kind: "open", words: step.drain === null ? "may end" : "may be drained", until: null, at };
}

// The earliest end: an agitation that has begun and the latest end are still timed, agitations to come are those of the
// pattern, and the rest waits for the drain.
function cuesOpen(now) {
	const left = run.left;
	let what = "";
	run.open = true;
	run.left = [];
	run.tail = [];
	for (const cue of left) {
		if (cue.kind === "agitation-start")
			what = "again";
		else if (cue.kind === "drain" || cue.kind === "end")
			what = "tail";
		else if (cue.kind === "light" || cue.kind === "latest-end" || what !== "again")
			what = "timed";
		if (what === "again" && step.again === null)
			what = "timed";
		if (what === "tail")
			run.tail.push(cue);
		else if (what === "timed")
			run.left.push(cue);
	}
	run.aside = null;
	actOpen(now);
}

// What comes in the drain where the user drains now: at the earliest end, later, or before it. What comes behind the
// earliest end, the latest end or light, does not.
function cuesOfDrain() {
	if (run.open)
		return run.left.filter((cue) => cue.since <= step.end).concat(run.tail);
	const place = run.left.findIndex((cue) => cue.kind === "drain" || cue.kind === "end");
	if (place < 0)
		return [];
	return run.left.slice(run.left[place].kind === "end" ? place : place + 1);
}

function drainBegin(now) {
	const planned = step.drain === null ? step.end : step.drain;
	const left = cuesOfDrain();
	Object.assign(run, { shift: now - run.pourAt - (planned - step.pour) * 1000, left, open: false, drained: true,
		aside: null, over: step.drain === null });
	run.act = { kind: "drain", words: cueKinds.get("drain").title, until: null, at: now };
	return planned;
}
