// The time of a step by what the thermometer reads in its bath. The plan has a row for each reading; the row nearest to
// what was measured (of two as near the warmer) says how many of the agitations there are, and when those cues come that
// hang on the end of the time. All else about the cues is as in the plan. The timer's times.sh does the same sums.

function rowOf(fields) {
	const [reading, seconds, agitations, soon, drain, end, latest, light, again] = fields;
	return { reading, seconds, agitations, soon, drain, end, latest, light, again };
}

function nearestRow(times, reading) {
	let nearest = null;
	for (const row of times.rows.map(rowOf))
		if (!nearest || Math.abs(row.reading - reading) <= Math.abs(nearest.reading - reading))
			nearest = row;
	return nearest;
}

// For which readings a step may be poured: [low, high].
function readingLimits(step) {
	const { measure, times } = step;
	return times ? [times.rows[0][0], times.rows[times.rows.length - 1][0]] : [measure.low, measure.high];
}

// "cold" or "hot" for a reading outside of them.
function judgeReading(step, reading) {
	const [low, high] = readingLimits(step);
	if (reading > high)
		return "hot";
	return reading < low ? "cold" : "";
}

function isBefore(one, two) {
	if (one.since !== two.since)
		return one.since < two.since;
	return cueKinds.get(one.kind).order < cueKinds.get(two.kind).order;
}

// Where a cue that hangs on the end comes: [since, until]; null for a cue that does not.
function hangingEnds(cue, row) {
	switch (cue.kind) {
	case "drain-soon": return [row.soon, row.drain];
	case "drain": return [row.drain, row.end];
	case "end": return [row.end, row.end];
	case "latest-end": return [row.latest, row.latest];
	case "light": return [row.light, row.light];
	default: return null;
	}
}

function wordsInRow(cue, step, row, reading) {
	if (cue.kind === "pour")
		return cue.words.replace(` at ${step.aim}`,
			() => ` at ${readingText(reading, step.measure.unit)}, as measured`);
	if (cue.kind !== "agitation-start" || cue.count !== step.times.to_drain)
		return cue.words;
	const length = row.drain - cue.since;
	return `${cue.words.replace(/,[^,]*$/, "")}, ${length < 60 ? `${length} s` : timeText(length)}`;
}

// A cue as it is with the row; null where it falls away. `part` is the number of the agitation that it belongs to, or 0.
function cueInRow(cue, step, row, reading, part) {
	let ends = hangingEnds(cue, row);
	let hangs = ends !== null;
	if (part > row.agitations || (ends && ends[0] === null))
		return null;
	if (part > 0 && part === step.times.to_drain) {
		hangs = cue.kind !== "agitation-start";
		ends = hangs ? [row.drain, row.drain + cue.until - cue.since] : [cue.since, row.drain];
	}
	const [since, until] = ends || [cue.since, cue.until];
	const moved = Object.assign({}, cue, { since, until, run: cue.run + since - cue.since, hangs });
	moved.words = wordsInRow(Object.assign({}, cue, { since }), step, row, reading);
	return moved;
}

function cuesInRow(step, row, reading) {
	let taps = 0;
	const cues = step.cues.concat(step.times.more).map(cueOf).map((cue) => {
		taps += cue.kind === "taps" ? 1 : 0;
		const isAgitation = cue.kind === "agitation-start" || cue.kind === "agitation-end";
		return cueInRow(cue, step, row, reading, cue.kind === "taps" ? taps : isAgitation ? cue.count : 0);
	}).filter((cue) => cue !== null);
	const fixed = cues.filter((cue) => !cue.hangs);
	for (const cue of cues.filter((one) => one.hangs)) {
		const place = fixed.findIndex((other) => isBefore(cue, other));
		fixed.splice(place < 0 ? fixed.length : place, 0, cue);
	}
	return fixed;
}

function timeWordsInRow(step, row) {
	const time = timeText(row.seconds);
	if (step.form === "least")
		return `at least ${time}`;
	return step.form === "range" && row.latest !== null
		? `${time} to ${timeText(row.seconds + row.latest - row.end)}` : time;
}

function whyInRow(step, row, reading) {
	const { unit } = step.measure;
	const taken = row.reading === reading ? "" : `, taken as ${readingText(row.reading, unit)}`;
	const done = step.times.done ? `; ${step.times.done}` : "";
	return `${step.times.declared}; measured ${readingText(reading, unit)}${taken}${done}`;
}

const stepsKnown = new Map();

// A step as it is where its bath was measured so; `reading` null: as planned. It is looked at many times a second.
function stepAt(number, reading) {
	const key = `${number} ${reading}`;
	if (!stepsKnown.has(key))
		stepsKnown.set(key, stepMake(number, reading));
	return stepsKnown.get(key);
}

function stepMake(number, reading) {
	const planned = plan.steps[number - 1];
	const step = Object.assign({}, planned, { number, measured: "" });
	if (reading === null || !planned.times) {
		step.cues = planned.cues.map(cueOf);
		return step;
	}
	const row = nearestRow(planned.times, reading);
	return Object.assign(step, {
		cues: cuesInRow(planned, row, reading), drain: row.drain, end: row.end, latest: row.latest,
		light: row.light, again: row.again, seconds: row.seconds, time: timeWordsInRow(planned, row),
		measured: readingText(reading, planned.measure.unit), why: whyInRow(planned, row, reading),
	});
}
