/* The signals of a sound track, made from signals.def. */
#include "emit/sound/signal.h"

#define ONE (INT64_C(1) << 30)

/* A pulse comes in fast, so that its onset is sharp, and goes out without a click. */
#define ATTACK_MS 2
#define RELEASE_MS 8

/* A pulse is its pitch and two partials above it, up to 3.3 kHz: running water drowns one, but hardly all three. */
#define PARTIALS 3

struct pulse {
	int signal;
	int at_ms, length_ms;
	int from_hz, to_hz;
};

static const struct pulse pulses[] = {
#define SIGNAL(signal, level, sounds)
#define PULSE(signal, at_ms, length_ms, from_hz, to_hz) { signal, at_ms, length_ms, from_hz, to_hz },
#include "emit/sound/signals.def"
#undef SIGNAL
#undef PULSE
};

static const int levels_percent[SIGNAL_COUNT] = {
#define SIGNAL(signal, level, sounds) [signal] = level,
#define PULSE(signal, at_ms, length_ms, from_hz, to_hz)
#include "emit/sound/signals.def"
#undef SIGNAL
#undef PULSE
};

int64_t sound_sample(int64_t time_ms)
{
	int64_t doubled = 2 * time_ms * SOUND_RATE_HZ + MILLISECONDS_PER_SECOND;
	int64_t divisor = INT64_C(2) * MILLISECONDS_PER_SECOND;

	return doubled >= 0 ? doubled / divisor : -((divisor - 1 - doubled) / divisor);
}

/* Taylor's series of sin(x·π/2) to the ninth power, each factor times 2³⁰: all that is multiplied is below 2⁶². */
int64_t signal_sine(uint32_t phase)
{
	static const int64_t factors[] = { 172272, 5026995, 85569306, 693598668, 1686629713 };
	int64_t x = phase & (uint32_t)(ONE - 1);
	bool is_falling = (phase >> 30 & 1) != 0;
	bool is_negative = phase >> 31 != 0;
	int64_t square, sum;

	if (is_falling)
		x = ONE - x;
	square = x * x / ONE;
	sum = factors[0];
	for (size_t i = 1; i < sizeof factors / sizeof *factors; i++)
		sum = factors[i] - square * sum / ONE;
	sum = sum * x / ONE;
	return is_negative ? -sum : sum;
}

/* Between 0 and the attack's length times the release's. */
static int64_t envelope(int64_t at, int64_t length)
{
	int64_t attack = sound_sample(ATTACK_MS), release = sound_sample(RELEASE_MS);
	int64_t in = at < attack ? at + 1 : attack;
	int64_t out = length - at < release ? length - at : release;

	return in * out;
}

/* Adds a pulse to sums that begin at its onset. The pitch goes from one end to the other by equal steps; a partial is
 * the weaker the higher it is, but not by much: the ear is best where water is weakest. */
static void add_pulse(const struct pulse *pulse, int64_t *sums, int64_t length)
{
	int64_t from = pulse->from_hz, to = pulse->to_hz;
	uint32_t phase = 0;

	for (int64_t at = 0; at < length; at++) {
		int64_t sum = 0;

		phase += (uint32_t)(((from * (length - at) + to * at) << 32) / (length * SOUND_RATE_HZ));
		for (uint32_t partial = 1; partial <= PARTIALS; partial++)
			sum += signal_sine(partial * phase) / (partial + 2);
		sums[at] += sum * envelope(at, length);
	}
}

static int64_t length_of(int signal)
{
	int64_t length = 0;

	for (size_t i = 0; i < sizeof pulses / sizeof *pulses; i++) {
		int64_t end = sound_sample(pulses[i].at_ms + pulses[i].length_ms);

		if (pulses[i].signal == signal && end > length)
			length = end;
	}
	return length;
}

struct samples signal_render(int signal, struct arena *arena)
{
	size_t count = (size_t)length_of(signal);
	struct samples samples = { ARENA_ARRAY(arena, int16_t, count), count };
	int64_t *sums = ARENA_ARRAY(arena, int64_t, count);
	int64_t level = (int64_t)SOUND_FULL_SCALE * levels_percent[signal] / 100;
	int64_t peak = 1;

	for (size_t i = 0; i < sizeof pulses / sizeof *pulses; i++) {
		const struct pulse *pulse = &pulses[i];
		int64_t from = sound_sample(pulse->at_ms);

		if (pulse->signal == signal)
			add_pulse(pulse, sums + from, sound_sample(pulse->at_ms + pulse->length_ms) - from);
	}
	for (size_t i = 0; i < count; i++)
		peak = sums[i] > peak ? sums[i] : -sums[i] > peak ? -sums[i] : peak;
	for (size_t i = 0; i < count; i++)
		samples.items[i] = (int16_t)(sums[i] * level / peak);
	return samples;
}
