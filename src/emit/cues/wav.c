/* Cues as a sound track: PCM in a RIFF WAVE file, one channel of 16 bits. The samples are made a stretch at a time
 * and passed on, so that memory does not grow with the run; behind them, each cue is a cue point with its text for a
 * label. */
#include <errno.h>

#include "emit/cues/wording.h"
#include "emit/escape/terminal.h"
#include "emit/sound/spoken.h"

#define STRETCH 4096
#define BYTES_PER_SAMPLE 2
#define HEADER_BYTES 44
#define CHUNK_HEAD_BYTES 8
#define POINT_BYTES 24

/* Behind the last cue: room for its signals, and for what is said. */
#define TAIL_MS 3000
#define SPOKEN_TAIL_MS 10000

/* Sizes in a RIFF file are 32 bits wide. */
#define MOST_BYTES INT64_C(0xFFFFFFFF)

static void put_number(struct output *output, uint64_t number, int bytes)
{
	for (int i = 0; i < bytes; i++, number >>= 8)
		output_write(output, (struct text){ (const char[]){ (char)(unsigned char)(number & 0xFF) }, 1 });
}

static struct text label_of(const struct emission *emission, size_t index)
{
	const struct cue *cue = &emission->timeline->cues[index];
	struct text step = wording_step(emission, cue->step);
	struct text words = wording_cue_plain(emission, cue);

	return terminal_line(emission->arena,
			     text_format(emission->arena, "%.*s: %.*s", TEXT_ARGUMENT(step), TEXT_ARGUMENT(words)));
}

static void put_chunk_head(struct output *output, const char *name, uint64_t bytes)
{
	output_string(output, name);
	put_number(output, bytes, 4);
}

/* A chunk of cue points, numbered from 1 in the timeline's order, and one of their labels. */
static void put_points(const struct emission *emission, const struct track *track, struct output *output)
{
	struct output labels;

	put_chunk_head(output, "cue ", 4 + track->cue_count * POINT_BYTES);
	put_number(output, track->cue_count, 4);
	output_open_memory(&labels, emission->arena);
	for (size_t i = 0; i < track->cue_count; i++) {
		uint64_t at = (uint64_t)(track->zero + sound_sample(emission->timeline->cues[i].at_ms));
		struct text label = label_of(emission, i);

		put_number(output, i + 1, 4);
		put_number(output, at, 4);
		output_string(output, "data");
		put_number(output, 0, 8); /* the chunk and the block that it lies in */
		put_number(output, at, 4);
		put_chunk_head(&labels, "labl", 4 + label.length + 1);
		put_number(&labels, i + 1, 4);
		output_write(&labels, label);
		put_number(&labels, 0, label.length % 2 == 0 ? 2 : 1); /* its end, and a byte more where it is odd */
	}
	put_chunk_head(output, "LIST", 4 + output_memory(&labels).length);
	output_string(output, "adtl");
	output_write(output, output_memory(&labels));
}

static void put_head(struct output *output, uint64_t data_bytes, uint64_t behind_bytes)
{
	put_chunk_head(output, "RIFF", HEADER_BYTES - CHUNK_HEAD_BYTES + data_bytes + behind_bytes);
	output_string(output, "WAVE");
	put_chunk_head(output, "fmt ", 16);
	put_number(output, 1, 2); /* PCM */
	put_number(output, 1, 2); /* channels */
	put_number(output, SOUND_RATE_HZ, 4);
	put_number(output, (uint64_t)SOUND_RATE_HZ * BYTES_PER_SAMPLE, 4);
	put_number(output, BYTES_PER_SAMPLE, 2);
	put_number(output, (uint64_t)BYTES_PER_SAMPLE * 8, 2);
	put_chunk_head(output, "data", data_bytes);
}

static void put_samples(struct output *output, const int32_t *sums, size_t count)
{
	char bytes[STRETCH * BYTES_PER_SAMPLE];

	for (size_t i = 0; i < count; i++) {
		uint32_t sample = (uint32_t)sums[i];

		bytes[2 * i] = (char)(unsigned char)(sample & 0xFF);
		bytes[2 * i + 1] = (char)(unsigned char)(sample >> 8 & 0xFF);
	}
	output_write(output, (struct text){ bytes, count * BYTES_PER_SAMPLE });
}

static void put_sound(const struct emission *emission, const struct track *track, struct output *output)
{
	struct spoken spoken;
	size_t next = 0;

	spoken_start(&spoken, emission, track);
	for (int64_t from = 0; from < track->sample_count && output->error == 0; from += STRETCH) {
		int32_t sums[STRETCH] = { 0 };
		int64_t left = track->sample_count - from;
		size_t count = left < STRETCH ? (size_t)left : STRETCH;

		track_mix(track, from, sums, count, &next);
		if (emission->speaker != NULL)
			spoken_mix(&spoken, from, sums, count);
		put_samples(output, sums, count);
	}
	if (spoken.has_failed)
		output_fail(output, EIO);
}

void emit_cues_wav(const struct emission *emission, struct output *output)
{
	int64_t tail_ms = emission->speaker == NULL ? TAIL_MS : SPOKEN_TAIL_MS;
	struct track *track =
		track_build(emission->timeline, emission->conditions->lead_in_ms, tail_ms, emission->arena);
	int64_t data_bytes = track->sample_count * BYTES_PER_SAMPLE;
	struct output points;

	output_open_memory(&points, emission->arena);
	put_points(emission, track, &points);
	if (data_bytes > MOST_BYTES - HEADER_BYTES - (int64_t)output_memory(&points).length) {
		output_fail(output, EFBIG);
		return;
	}
	put_head(output, (uint64_t)data_bytes, output_memory(&points).length);
	put_sound(emission, track, output);
	output_write(output, output_memory(&points));
}
