// The run: one step after the other. `run` is all that a reload must bring back; `step` is the step in the tank, or the
// one to be poured, as it is by what was measured. Phases: start, ready (a step is to be poured), count (a step is in
// the tank), ended.

const DAY_MS = 86400000;

let run = freshRun();
let step = null;

function freshRun() {
	return { phase: "start", step: 1, readings: {}, next: null, log: [], lightAllowed: false, stepEndedAt: null };
}

function readingOf(number) {
	const reading = run.readings[number];
	return reading === undefined ? null : reading;
}

function begin(first, speed) {
	clock.speed = speed;
	run = freshRun();
	run.step = first;
	run.phase = "ready";
	recordHead();
	recordEvent("started");
	nextTake(first);
	step = nextStep();
}

// Goes on where a run was: what came due meanwhile comes now, and late. Returns a remark, or an empty text.
function takeUp(kept) {
	const remark = clockTakeUp(kept.clock);
	run = kept.run;
	step = stepAt(run.step, readingOf(run.step));
	if (run.phase === "start" || run.phase === "ended")
		return "";
	if (steadyMs() - kept.clock.steady > DAY_MS) {
		finish("stopped");
		return "A run of more than a day ago was never finished.";
	}
	recordOf(run.step, "resumed", remark ? "the clock looks changed" : "");
	return remark;
}

function finish(word) {
	recordEvent(word);
	run.phase = "ended";
	run.endedBy = word;
}

// ---- the step to be poured next ----

function nextTake(number) {
	if (run.next && run.next.number === number)
		return;
	run.next = number > plan.steps.length ? null
		: { number, bottle: false, measured: false, remark: "", measuredRemark: "", measuredText: "" };
}

function nextStep() {
	return run.next ? stepAt(run.next.number, readingOf(run.next.number)) : null;
}

// What is still to be asked before it: "bottle", "measure" or nothing.
function nextQuestion() {
	const next = nextStep();
	if (!next)
		return "";
	if (next.asks_bottle && !run.next.bottle)
		return "bottle";
	return next.measure && !run.next.measured ? "measure" : "";
}

// Answers give what is to be said: { text, isWrong, isOutside }.
function answerBottle(typed) {
	const next = nextStep();
	if (!/^\d{1,9}$/.test(typed))
		return { text: "Type the figure that stands on the bottle.", isWrong: true };
	const number = Number(typed);
	if (number === next.bottle) {
		run.next.bottle = true;
		run.next.remark = `bottle ${number}: right`;
		recordOf(next.number, "bottle", number);
		return { text: "" };
	}
	recordOf(next.number, "wrong-bottle", number);
	return { text: `WRONG: ${number} is ${bathInBottle(number) || "no bottle here"}. Take ${next.bottle}.`,
		isWrong: true };
}

function measureWords(next) {
	const { low, high, unit } = next.measure;
	const window = rangeText(low, high, unit);
	return next.times ? `${window}; there are times for ${rangeText(...readingLimits(next), unit)}` : window;
}

function answerMeasure(typed) {
	const next = nextStep();
	const reading = readDegrees(typed);
	if (reading === null)
		return { text: "Type a figure such as 38.1.", isWrong: true };
	run.next.measuredText = `${degreesText(reading)} ${next.measure.unit}`;
	const judged = judgeReading(next, reading);
	if (judged)
		return refuse(next, judged);
	recordOf(next.number, "measured", run.next.measuredText);
	run.next.measured = true;
	run.next.measuredRemark = `${readingText(reading, next.measure.unit)} measured, inside the window`;
	return next.times ? useTime(next.number, reading) : { text: "" };
}

function refuse(next, judged) {
	recordOf(next.number, "measured", `${run.next.measuredText}, too ${judged}`);
	const text = next.develops ? `TOO ${judged.toUpperCase()}: do not pour. Temper again and measure again.`
		: `Too ${judged}. Temper again and measure again.`;
	return { text, isWrong: true, isOutside: true };
}

function useTime(number, reading) {
	run.next.measuredRemark = "";
	run.readings[number] = reading;
	recordUsed(number);
	const used = nextStep();
	const declared = used.seconds === used.declared ? "as declared" : `declared ${timeText(used.declared)}`;
	return { text: `The time is ${used.time}, ${declared}.` };
}

function pourAnyway() {
	const { number, measuredText } = run.next;
	run.next.measured = true;
	run.next.measuredRemark = "poured anyway";
	run.readings[number] = null;
	recordOf(number, "departure", `poured at ${measuredText || "an unmeasured temperature"}`);
}

function measureAgain() {
	run.next.measured = false;
	run.next.measuredRemark = "";
}

// ---- the step in the tank ----

function pour(at) {
	run.step = run.next.number;
	run.wasMeasured = run.next.measured;
	step = nextStep();
	run.phase = "count";
	cuesStart(at);
	recordEvent("begun");
	if (plan.light_step > 0 && run.step > plan.light_step)
		run.lightAllowed = true;
	nextTake(run.step + 1);
}

function pourAgain(at) {
	cuesStart(at);
	recordEvent("begun", "again");
}

function drain(at, remark) {
	const planned = drainBegin(at);
	recordAt(run.step, "event", "drain-begun", planned, sinceText(at), remark);
}

// What is due by now; returns the cues that came.
function runOn(now) {
	if (run.phase !== "count")
		return [];
	const fired = cuesFire(now);
	if (run.over)
		stepIsOver(now);
	return fired;
}

function stepIsOver(now) {
	recordEvent("step-over");
	run.phase = "ready";
	run.stepEndedAt = now;
	if (!run.next) {
		finish("finished");
		return;
	}
	run.step = run.next.number;
	step = nextStep();
}

// Whether light is allowed now, or with the step to be poured.
function lightIsAllowed() {
	if (run.lightAllowed || plan.light_step === 0 || run.phase !== "ready")
		return run.lightAllowed;
	const next = run.next.number;
	return next > plan.light_step || (next === plan.light_step && plan.light_since <= 0);
}

function lightWords() {
	if (plan.light_step === 0)
		return "Keep the film in the dark until the last step is over.";
	const at = plan.light_since > 0 ? `, ${timeText(plan.light_since)}` : "";
	return `Keep the film in the dark until step ${plan.light_step}, ${plan.steps[plan.light_step - 1].name}${at}.`;
}
