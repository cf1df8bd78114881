// The step as a strip that passes from right to left under a fixed line: pour and drain as slopes, agitations as blocks,
// taps as points above them, minutes below. All to scale, drawn once for each change of the plan; then it only moves.

const STRIP_SCALE = 3.2; // px a second
const STRIP_AHEAD_S = 600; // how far agitation past the earliest end is drawn
const BAND = { top: 26, bottom: 74, middle: 50, labels: 100 };

const strip = { mark: "", tape: document.getElementById("tape"), at: null };

function svg(name, attributes, text) {
	const element = document.createElementNS("http://www.w3.org/2000/svg", name);
	for (const [key, value] of Object.entries(attributes))
		element.setAttribute(key, value);
	if (text !== undefined)
		element.textContent = text;
	return element;
}

function stripX(since) {
	return (since - step.pour) * STRIP_SCALE;
}

function stripLine(className, x1, y1, x2, y2) {
	return svg("line", { class: className, x1, y1, x2, y2 });
}

function stripMinutes(until) {
	const marks = [];
	for (let since = 0; since <= until; since += 30) {
		const isMinute = since % 60 === 0;
		const x = stripX(since);
		marks.push(stripLine("scale", x, BAND.bottom + 4, x, BAND.bottom + (isMinute ? 12 : 8)));
		if (isMinute)
			marks.push(svg("text", { x, y: BAND.labels }, timeText(since)));
	}
	return marks;
}

function stripSlope(from, until, rises) {
	const [x1, x2] = [stripX(from), stripX(Math.max(until, from + 1))];
	const peak = rises ? x2 : x1;
	return svg("path", { class: "slope",
		d: `M${x1} ${BAND.bottom - 1.5} L${peak} ${BAND.top + 1.5} L${x2} ${BAND.bottom - 1.5} Z` });
}

function stripBlock(from, until) {
	return svg("rect", { class: "block", x: stripX(from), y: BAND.top,
		width: Math.max(2, (until - from) * STRIP_SCALE), height: BAND.bottom - BAND.top });
}

function stripEnd(since) {
	return stripLine("end", stripX(since), BAND.top - 8, stripX(since), BAND.bottom);
}

function stripCue(cue) {
	const x = stripX(cue.since);
	switch (cue.kind) {
	case "agitation-start": return [stripBlock(cue.since, cue.until)];
	case "taps": return [svg("circle", { class: "point", cx: x + 5, cy: BAND.top - 11, r: 5 })];
	case "drain-soon": return [stripLine("warning", x, BAND.top, x, BAND.bottom)];
	case "end": case "latest-end": return [stripEnd(cue.since)];
	default: return [];
	}
}

function stripSlopes() {
	const full = step.cues.find((cue) => cue.kind === "full");
	const slopes = [];
	if (full && full.since > step.pour)
		slopes.push(stripSlope(step.pour, full.since, true));
	if (step.drain !== null && step.end > step.drain)
		slopes.push(stripSlope(step.drain, step.end, false));
	return slopes;
}

// Agitation goes on past the earliest end for as long as is likely to be looked at.
function stripAgain() {
	const blocks = [];
	const until = step.again + (Math.floor(run.again / 2) * step.again_every) + STRIP_AHEAD_S;
	for (let count = 0; run.open && step.again !== null; count += 2) {
		const cue = againCue(count);
		if (cue.since > until)
			break;
		blocks.push(stripBlock(cue.since, cue.until));
	}
	return blocks;
}

function stripDraw() {
	const shift = run.phase === "count" ? run.shift / 1000 : 0;
	const end = step.end + shift + (run.open ? STRIP_AHEAD_S : 0);
	const base = stripLine(run.open ? "base open" : "base", 0, BAND.middle, stripX(end), BAND.middle);
	const cues = run.open || run.drained ? step.cues.filter((cue) => cue.kind === "agitation-start") : step.cues;
	const drawn = [base, ...stripMinutes(end)];
	if (!run.open && !run.drained)
		drawn.push(...stripSlopes());
	else if (run.drained && step.drain !== null)
		drawn.push(stripSlope(step.drain + shift, step.end + shift, false), stripEnd(end));
	for (const cue of cues)
		drawn.push(...stripCue(cue));
	strip.tape.replaceChildren(...drawn, ...stripAgain());
}

// Draws what has changed, and moves the strip to `since`.
function stripShow(since) {
	const { step: number, phase, open, drained, shift, again } = run;
	const mark = [number, readingOf(number), phase === "count", open, drained, shift, again].join();
	if (mark !== strip.mark) {
		strip.mark = mark;
		stripDraw();
	}
	const x = Math.round(-stripX(since) * 10) / 10;
	if (x !== strip.at) {
		strip.at = x;
		strip.tape.setAttribute("transform", `translate(${x} 0)`);
	}
}
