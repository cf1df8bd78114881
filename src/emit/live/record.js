// The log, in the lines of the timer's: tab-separated, only ever added. First the plan that is run, then one line an
// event. record.sh writes the same, and docs/outputs.md says what the fields hold.

// Our own words without the degree sign, which the log does not have.
function plainText(words) {
	return words.replace(/°/g, "").replace(/\u00a0/g, " ").replace(/\u2212/g, "-");
}

function orDash(value) {
	return value === null || value === "" ? "-" : String(value);
}

function recordLine(...fields) {
	run.log.push(fields.join("\t"));
}

function recordAt(step, type, word, planned, actual, remark) {
	const now = new Date();
	const stamp = now.toISOString().replace(/\.\d+Z/, "Z");
	const epoch = Math.floor(now.getTime() / 1000);
	recordLine(type, stamp, epoch, clockFigure(), step, word, planned, actual, remark || "-");
}

// An event at this moment of the step.
function recordEvent(word, remark) {
	if (run.log.length > 0)
		recordAt(run.step, "event", word, "-", run.phase === "count" ? sinceText(nowMs()) : "-", remark);
}

// An event about a step that is not in the tank.
function recordOf(step, word, remark) {
	recordAt(step, "event", word, "-", "-", remark);
}

// The plan of a step, as it is now.
function recordStep(number, prefix) {
	const step = stepAt(number, readingOf(number));
	recordLine(`${prefix}-step`, number, step.name, step.bath || "-", step.bottle, step.form, step.pour,
		orDash(step.drain), step.end, orDash(step.latest));
	if (step.why && prefix === "plan")
		recordLine("plan-time", number, step.declared, step.seconds, plainText(step.why));
	for (const cue of step.cues)
		recordLine(`${prefix}-cue`, number, cue.since, cue.kind, cue.until, cue.count);
}

// The time of a step by its measured temperature, why it is that, and the plan that follows from it.
function recordUsed(number) {
	const step = stepAt(number, readingOf(number));
	recordAt(number, "event", "used-time", step.declared, hundredthsText(step.seconds * 100), plainText(step.why));
	recordStep(number, "used");
}

function recordHead() {
	recordLine("wetside-log", 1);
	recordLine("process", plan.name, plan.title);
	recordLine("fingerprint", plan.fingerprint || "-");
	if (plan.this_run)
		recordLine("this-run", plainText(plan.this_run));
	recordLine("clock", "page", "-", clock.speed);
	for (const fields of plan.head)
		recordLine(...fields);
	plan.steps.forEach((step, index) => recordStep(index + 1, "plan"));
	recordLine("columns", "stamp", "epoch", "clock", "step", "word", "planned", "actual", "remark");
}

function logText() {
	return run.log.map((line) => `${line}\n`).join("");
}

// As the timer would call it.
function logName() {
	const first = run.log.map((line) => line.split("\t")).find((fields) => fields[0] === "event");
	const moment = first ? first[1].replace(/[-:]/g, "") : "";
	return `${plan.file}${clock.speed === 1 ? "" : "-rehearsal"}-${moment}.log`;
}
