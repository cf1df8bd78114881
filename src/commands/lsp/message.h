/* The base protocol of LSP 3.17: messages behind a header that says their length, on standard input and output. */
#ifndef COMMANDS_LSP_MESSAGE_H
#define COMMANDS_LSP_MESSAGE_H

#include "commands/lsp/json_value.h"

#include <sys/types.h>

/** One message that came in; everything of it lives in its own arena until message_drop. */
struct message {
	struct arena arena;
	const struct json_value *body; /* null: it is no JSON, or its header says no length */
	bool is_cancelled;
};

enum stream_state { STREAM_OPEN, STREAM_ENDED, STREAM_ORPHANED };

struct message_stream {
	char bytes[65536]; /* read and not yet used */
	size_t begin;
	size_t end;
	enum stream_state state;
	pid_t parent; /* ends the stream when it is gone; 0: nobody was named */
};

/** The stream of standard input. */
void message_stream_init(struct message_stream *stream);

/** Whether more can be read at once. */
bool message_stream_is_ready(struct message_stream *stream);

/** Waits for the next message. False where there is none any more: the stream has ended, or the parent is gone. Jumps
 * to `landing` where memory ends; the message is dropped then. */
bool message_read(struct message_stream *stream, struct message *message, struct landing *landing);

/** Gives its memory back. */
void message_drop(struct message *message);

/** Writes a body to standard output. */
void message_write(struct text body);

#endif
