#include "commands/lsp/message.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "support/limits.h"

/* How often it is looked whether the parent is still there. */
#define PARENT_LOOK_MS 1000

/* A header line longer than this is noise. */
#define HEADER_MOST 4096

#define LENGTH_FIELD "content-length:"
#define NO_LENGTH SIZE_MAX

void message_stream_init(struct message_stream *stream)
{
	stream->begin = 0;
	stream->end = 0;
	stream->state = STREAM_OPEN;
	stream->parent = 0;
}

static bool is_orphaned(const struct message_stream *stream)
{
	return stream->parent > 0 && kill(stream->parent, 0) != 0 && errno == ESRCH;
}

/* Waits until something can be read, no longer than so many milliseconds; -1: as long as it takes. */
static bool wait_for_input(struct message_stream *stream, int longest_ms)
{
	struct pollfd input = { .fd = STDIN_FILENO, .events = POLLIN };

	for (;;) {
		int ready = poll(&input, 1, longest_ms < 0 ? PARENT_LOOK_MS : longest_ms);

		if (ready > 0)
			return true;
		if (is_orphaned(stream)) {
			stream->state = STREAM_ORPHANED;
			return false;
		}
		if (ready == 0 && longest_ms >= 0)
			return false;
		if (ready < 0 && errno != EINTR && errno != EAGAIN) {
			stream->state = STREAM_ENDED;
			return false;
		}
	}
}

bool message_stream_is_ready(struct message_stream *stream)
{
	return stream->state == STREAM_OPEN && (stream->begin < stream->end || wait_for_input(stream, 0));
}

/* Fills the buffer once; false at the end. */
static bool fill(struct message_stream *stream)
{
	ssize_t taken;

	if (stream->begin == stream->end)
		stream->begin = stream->end = 0;
	do {
		if (stream->state != STREAM_OPEN || !wait_for_input(stream, -1))
			return false;
		taken = read(STDIN_FILENO, stream->bytes + stream->end, sizeof(stream->bytes) - stream->end);
	} while (taken < 0 && (errno == EINTR || errno == EAGAIN));
	if (taken <= 0) {
		stream->state = STREAM_ENDED;
		return false;
	}
	stream->end += (size_t)taken;
	return true;
}

/* The next line of a header without its end, which is CR LF; LF alone is taken too. What is too long loses its
 * start. */
static bool read_line(struct message_stream *stream, char line[HEADER_MOST], size_t *length)
{
	*length = 0;
	for (;;) {
		char byte;

		if (stream->begin == stream->end && !fill(stream))
			return false;
		byte = stream->bytes[stream->begin++];
		if (byte == '\n')
			break;
		if (*length == HEADER_MOST) {
			memmove(line, line + HEADER_MOST / 2, HEADER_MOST / 2);
			*length = HEADER_MOST / 2;
		}
		line[(*length)++] = byte;
	}
	if (*length > 0 && line[*length - 1] == '\r')
		--*length;
	return true;
}

/* The length that a line says; noise may stand before its field. */
static size_t length_in(const char *line, size_t length)
{
	size_t field = sizeof(LENGTH_FIELD) - 1;

	for (size_t from = 0; from + field <= length; from++) {
		size_t wanted = 0;
		size_t at = from + field;

		if (strncasecmp(line + from, LENGTH_FIELD, field) != 0)
			continue;
		while (at < length && (line[at] == ' ' || line[at] == '\t'))
			at++;
		if (at == length || line[at] < '0' || line[at] > '9')
			continue;
		for (; at < length && line[at] >= '0' && line[at] <= '9'; at++)
			wanted = wanted > limit_value(LIMIT_MESSAGE) ? wanted : wanted * 10 + (size_t)(line[at] - '0');
		return wanted;
	}
	return NO_LENGTH;
}

/* Reads up to the empty line; a header without a length, or with one that cannot be meant, gives NO_LENGTH. */
static bool read_header(struct message_stream *stream, size_t *body)
{
	char line[HEADER_MOST];
	size_t length;
	bool is_empty = true;

	*body = NO_LENGTH;
	for (;;) {
		size_t said;

		if (!read_line(stream, line, &length))
			return false;
		if (length == 0 && is_empty)
			continue; /* line ends between messages */
		if (length == 0)
			break;
		is_empty = false;
		said = length_in(line, length);
		if (said != NO_LENGTH)
			*body = said;
	}
	if (*body > limit_value(LIMIT_MESSAGE))
		*body = NO_LENGTH;
	return true;
}

/* Room is taken as bytes arrive: a length is a promise only. */
static bool read_body(struct message_stream *stream, struct arena *arena, size_t length, struct text *body)
{
	struct text_builder builder = text_builder_start(arena);

	while (builder.length < length) {
		size_t here = stream->end - stream->begin;
		size_t missing = length - builder.length;

		if (here == 0) {
			if (!fill(stream))
				return false;
			continue;
		}
		here = here < missing ? here : missing;
		text_append(&builder, (struct text){ stream->bytes + stream->begin, here });
		stream->begin += here;
	}
	*body = text_builder_text(&builder);
	return true;
}

bool message_read(struct message_stream *stream, struct message *message, struct landing *landing)
{
	struct landing here;
	size_t length;
	struct text body;

	message->body = NULL;
	message->is_cancelled = false;
	arena_init(&message->arena, &here);
	if (setjmp(here.place) != 0) {
		message_drop(message);
		longjmp(landing->place, 1);
	}
	if (!read_header(stream, &length))
		return false;
	if (length != NO_LENGTH) {
		if (!read_body(stream, &message->arena, length, &body)) {
			message_drop(message);
			return false;
		}
		message->body = json_value_read(&message->arena, body);
	}
	message->arena.landing = landing;
	return true;
}

void message_drop(struct message *message)
{
	arena_release(&message->arena);
	message->body = NULL;
}

void message_write(struct text body)
{
	fprintf(stdout, "Content-Length: %zu\r\n\r\n", body.length);
	fwrite(body.data, 1, body.length, stdout);
	fflush(stdout); /* where nobody reads any more, standard input ends soon too */
}
