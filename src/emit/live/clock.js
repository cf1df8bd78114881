// The clock of the run: milliseconds that only ever go forward, by the steady clock of the page, times the speed of a
// rehearsal. The wall clock is looked at beside it. Where the two part by more than two seconds, either the wall clock
// was set or the device slept and its steady clock with it: the page says so, goes on by the steady clock, and adds the
// time only when it is told to. After a reload there is only the wall clock to go on by.

const JUMP_MS = 2000;
const DRIFT_MS = 200;

const clock = {
	speed: 1,
	offset: Date.now() - performance.now(), // of the steady clock from that of the page
	skew: 0, // of the wall clock from the steady one, as far as it is known and told
	jump: 0, // what is to be told
};

function steadyMs() {
	return performance.now() + clock.offset;
}

function nowMs() {
	return steadyMs() * clock.speed;
}

// For the log: seconds of the steady clock, without the speed.
function clockFigure() {
	return hundredthsText(Math.floor(steadyMs() / 10));
}

// Looks at both clocks; true where a jump is new, has grown, or is gone.
function clockLook() {
	const parted = Date.now() - steadyMs() - clock.skew;
	const before = clock.jump;
	if (Math.abs(parted) < DRIFT_MS)
		clock.skew += parted; // clocks that are steered part slowly
	clock.jump = Math.abs(parted) > JUMP_MS ? parted : 0;
	return Math.abs(clock.jump - before) > JUMP_MS;
}

// The wall clock was set: it stays where it is, and the run does too.
function clockWasSet() {
	clock.skew += clock.jump;
	clock.jump = 0;
}

// The device slept: the run goes on by so much.
function clockSlept() {
	clock.offset += clock.jump;
	clock.jump = 0;
}

// The page's own count of time since its browser started; it goes on over a reload where a browser is the same.
function originMs() {
	return (performance.timeOrigin || 0) + performance.now();
}

function clockKept() {
	return { speed: clock.speed, jump: clock.jump, steady: steadyMs(), wall: Date.now(), origin: originMs() };
}

// Goes on after a reload, by the wall clock. Returns a remark where that looks changed meanwhile; else an empty text.
function clockTakeUp(kept) {
	clock.speed = kept.speed;
	clock.skew = kept.wall - kept.steady - kept.jump; // what was not answered is asked again
	clock.offset = kept.steady + Date.now() - kept.wall - performance.now();
	const byWall = Date.now() - kept.wall;
	const byOrigin = originMs() - kept.origin;
	const lengthOf = (ms) => timeText(Math.round(ms / 1000));
	if (byWall < -JUMP_MS) {
		clock.offset = kept.steady - performance.now();
		clock.skew = Date.now() - kept.steady;
		return `This device's clock went back by ${lengthOf(-byWall)} while the page was away. How long it was away ` +
			"is not known: look at another clock.";
	}
	if (Math.abs(byWall - byOrigin) > JUMP_MS)
		return `This device's clock looks changed: by it the page was away for ${lengthOf(byWall)}, by the browser's ` +
			`count for ${lengthOf(byOrigin)}. The run goes on by the clock.`;
	return "";
}
