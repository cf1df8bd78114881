// The plan that the program wrote into the page, and figures as people read them. Times are whole seconds since the time
// of a step starts, so a pour before that is negative; temperatures are hundredths of a degree, as the thermometer shows
// them.

const plan = JSON.parse(document.getElementById("plan").textContent);

const cueKinds = new Map(plan.kinds.map((kind, order) => [kind.word, Object.assign({ order }, kind)]));

function cueOf(fields, index) {
	const [run, since, kind, until, count, words] = fields;
	return { number: index + 1, run, since, kind, until, count, words };
}

// The bath in a bottle; empty where no bottle has the number.
function bathInBottle(number) {
	const step = plan.steps.find((one) => one.bottle === number);
	return step && number > 0 ? step.bath : "";
}

// What is done with a bath.
function bathWords(step) {
	switch (step.bath_kind) {
	case "solution": return `pour bottle ${step.bottle}, ${step.bath}`;
	case "water": return "pour water";
	case "running": return "run water";
	case "light": return "expose to light";
	case "air": return "hang up to dry";
	case "dryer": return `hang in ${step.bath}`;
	default: return "begin";
	}
}

// What the large key says before a step, and what its signal five seconds ahead is for; empty where there is none.
function beginWords(step) {
	switch (step.bath_kind) {
	case "solution":
	case "water": return ["I begin to pour", "I pour at the signal, in 5 s"];
	case "running": return ["The water runs", ""];
	case "light": return ["The light is on", "Light on at the signal, in 5 s"];
	case "air":
	case "dryer": return ["It hangs", ""];
	default: return ["It begins", ""];
	}
}

// ---- figures ----

// Seconds as m:ss or h:mm:ss.
function timeText(seconds) {
	const left = Math.abs(seconds);
	const two = (figure) => String(figure).padStart(2, "0");
	const hours = Math.floor(left / 3600);
	const minutes = Math.floor(left / 60) % 60;
	const text = hours > 0 ? `${hours}:${two(minutes)}` : String(minutes);
	return `${seconds < 0 ? "-" : ""}${text}:${two(left % 60)}`;
}

// Hundredths with two decimals.
function hundredthsText(hundredths) {
	const left = Math.abs(hundredths);
	return `${hundredths < 0 ? "-" : ""}${Math.floor(left / 100)}.${String(left % 100).padStart(2, "0")}`;
}

// Hundredths of a degree: one decimal, or two where it needs them.
function degreesText(hundredths) {
	return hundredthsText(hundredths).replace(/0$/, "");
}

function readingText(hundredths, unit) {
	return `${degreesText(hundredths)} °${unit}`;
}

function rangeText(low, high, unit) {
	return `${degreesText(low)} to ${degreesText(high)} °${unit}`;
}

// Degrees with a point or a comma, as hundredths; null for anything else.
function readDegrees(typed) {
	const parts = /^(\d{1,4})(?:[.,](\d*))?$/.exec(typed);
	return parts ? Number(parts[1]) * 100 + Number(((parts[2] || "") + "00").slice(0, 2)) : null;
}
