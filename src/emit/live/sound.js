// Signals and voice. Signals are laid ahead on the clock of the sound hardware, so that a page that is slow, or slowed
// in the background, does not make them late; laid anew whenever the plan or the two clocks change. Nothing sounds
// before the first touch or key, since browsers forbid it, and a browser without either feature is silent.

// What each kind of cue sounds like: [from second, pitch in Hz, length in seconds]. Told apart by number and direction
// of the tones, not by pitch alone.
const signals = {
	"pour": [[0, 523, 0.16], [0.2, 659, 0.16], [0.4, 784, 0.5]],
	"expose": [[0, 880, 0.15], [0.2, 1175, 0.15], [0.4, 880, 0.15], [0.6, 1175, 0.15]],
	"agitation-start": [[0, 1047, 0.12], [0.18, 1047, 0.12]],
	"agitation-end": [[0, 330, 0.55]],
	"drain-soon": [[0, 880, 0.05], [0.15, 880, 0.05], [0.3, 880, 0.05], [0.45, 880, 0.05]],
	"drain": [[0, 784, 0.28], [0.3, 587, 0.28], [0.6, 392, 0.5], [1.3, 784, 0.28], [1.6, 587, 0.28],
		[1.9, 392, 0.5]],
	"end": [[0, 523, 0.25], [0.35, 523, 0.25], [0.7, 1047, 0.8]],
	"latest-end": [[0, 1047, 0.2], [0.25, 392, 0.2], [0.5, 1047, 0.2], [0.75, 392, 0.2], [1, 1047, 0.2],
		[1.25, 392, 0.4]],
};
const AHEAD_S = 120;
const LOUDNESS = 0.5;
const CLOCKS_PART_S = 0.02;

const sound = { isOn: true, speaks: true, context: null, laid: new Map(), mark: "", origin: 0 };

// To be called from a touch or key.
function soundWake() {
	const Context = window.AudioContext || window.webkitAudioContext;
	if (!sound.context && Context)
		sound.context = new Context();
	if (sound.context && sound.context.state === "suspended")
		sound.context.resume().catch(() => {});
}

function soundIsReady() {
	return sound.isOn && sound.context !== null && sound.context.state === "running";
}

function tone(at, pitch, length) {
	const oscillator = sound.context.createOscillator();
	const gain = sound.context.createGain();
	oscillator.type = "triangle";
	oscillator.frequency.value = pitch;
	gain.gain.setValueAtTime(0, at);
	gain.gain.linearRampToValueAtTime(LOUDNESS, at + 0.01);
	gain.gain.setValueAtTime(LOUDNESS, at + length - 0.02);
	gain.gain.linearRampToValueAtTime(0, at + length);
	oscillator.connect(gain).connect(sound.context.destination);
	oscillator.start(at);
	oscillator.stop(at + length);
	return oscillator;
}

function signalAt(kind, at) {
	return signals[kind].map(([from, pitch, length]) => tone(at + from, pitch, length));
}

function signalNow(kind) {
	if (soundIsReady())
		signalAt(kind, sound.context.currentTime);
}

function soundDrop() {
	for (const tones of sound.laid.values())
		tones.forEach((one) => one.stop());
	sound.laid.clear();
}

// Lays the signals of `coming` ahead: cues with their deadlines. `mark` changes with the plan.
function soundLay(coming, now, mark) {
	if (!soundIsReady()) {
		soundDrop();
		return;
	}
	const origin = sound.context.currentTime - now / 1000 / clock.speed;
	if (mark !== sound.mark || Math.abs(origin - sound.origin) > CLOCKS_PART_S) {
		soundDrop();
		Object.assign(sound, { mark, origin });
	}
	for (const cue of coming) {
		const at = sound.origin + cue.due / 1000 / clock.speed;
		const key = `${cue.kind} ${cue.due}`;
		if (signals[cue.kind] && !sound.laid.has(key) && at > sound.context.currentTime)
			sound.laid.set(key, signalAt(cue.kind, at));
	}
}

// What has come: a signal that was laid ahead has sounded by itself.
function soundCame(cue) {
	const key = `${cue.kind} ${cue.due}`;
	if (signals[cue.kind] && !sound.laid.delete(key))
		signalNow(cue.kind);
}

// ---- voice ----

// Only a voice of the device itself: others send what they say over the network.
function localVoice() {
	if (!window.speechSynthesis)
		return null;
	const voices = speechSynthesis.getVoices().filter((voice) => voice.localService);
	return voices.find((voice) => /^en/i.test(voice.lang)) || null;
}

function speak(words) {
	const voice = sound.speaks ? localVoice() : null;
	if (!voice)
		return;
	const speech = new SpeechSynthesisUtterance(words.replace(/(\d)[ \u00a0]s\b/g, "$1 seconds"));
	speech.voice = voice;
	speech.lang = voice.lang;
	speechSynthesis.cancel();
	speechSynthesis.speak(speech);
}

// ---- the screen stays on ----

const awake = { lock: null, isWanted: false };

// Asked again each time that the page comes to the front: hiding it lets the lock go.
function screenStaysOn() {
	if (!awake.isWanted || !navigator.wakeLock || document.visibilityState !== "visible")
		return;
	navigator.wakeLock.request("screen").then((lock) => {
		awake.lock = lock;
		lock.addEventListener("release", () => {
			awake.lock = null;
		});
	}).catch(() => {});
}

function screenMaySleep() {
	awake.isWanted = false;
	if (awake.lock)
		awake.lock.release().catch(() => {});
}
