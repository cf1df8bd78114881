/* The language server's state and what a method gets of it. */
#ifndef COMMANDS_LSP_SERVER_H
#define COMMANDS_LSP_SERVER_H

#include "commands/lsp/documents.h"
#include "commands/lsp/message.h"

/** Errors of JSON-RPC 2.0 and LSP 3.17. */
enum rpc_error {
	RPC_PARSE_ERROR = -32700,
	RPC_INVALID_REQUEST = -32600,
	RPC_METHOD_NOT_FOUND = -32601,
	RPC_INVALID_PARAMS = -32602,
	RPC_INTERNAL_ERROR = -32603,
	RPC_SERVER_NOT_INITIALIZED = -32002,
	RPC_REQUEST_CANCELLED = -32800,
	RPC_REQUEST_FAILED = -32803
};

enum server_phase { SERVER_WAITS, SERVER_RUNS, SERVER_IS_SHUT_DOWN, SERVER_EXITS };

/** Messages read ahead, so that a cancellation overtakes what it cancels. */
#define QUEUE_MOST 64

/** Folders of a workspace that are looked through. */
#define SERVER_FOLDERS_MOST 64

/** What was said of a URI last. */
struct publication {
	struct text uri;
	uint64_t digest;
};

struct server {
	const struct invocation *invocation;
	struct message_stream stream;
	struct message queue[QUEUE_MOST]; /* a ring */
	size_t queue_first;
	size_t queue_count;
	enum server_phase phase;
	enum place_units units;
	bool takes_versions;			  /* of documents, in edits */
	int status;				  /* with which the program ends */
	struct text folders[SERVER_FOLDERS_MOST]; /* of the workspace */
	size_t folder_count;
	struct documents documents;
	struct arena published_arena;
	struct publication *published;
	size_t published_count;
};

/** One message to be answered. */
struct request {
	struct server *server;
	struct arena *arena; /* of the message */
	const struct json_value *params;
	struct json_node answer; /* the response; of a notification: no tree */
};

/** Answers a request, or takes note of a notification. */
typedef void server_method(struct request *request);

#define METHOD(name, function, is_request) server_method function;
#include "commands/lsp/methods.def"
#undef METHOD

/** Answers null. */
void answer_null(const struct request *request);

/** Answers an error in place of a result. */
void answer_error(const struct request *request, enum rpc_error code, struct text message);

/** The compiled document that a request is about; null, after an answer of null, where there is none. */
struct document *request_document(const struct request *request);

/** The address that a request's `position` names. */
uint32_t request_address(const struct request *request, const struct document *document);

/** Sends what has changed in the findings of all documents. */
void findings_publish(struct server *server);

/** Adds a finding as an editor shows it. */
void finding_put(struct json_node list, const struct request *request, const struct document *document,
		 const struct diagnostic *finding);

/** Adds what holds the edits of documents: by their versions, where the editor takes those. */
struct json_node edit_changes(struct json_node parent, const struct request *request);

/** Adds the edits of one document, which its version goes with, and returns their list. */
struct json_node edits_put(struct json_node changes, const struct request *request, struct text uri);

/** Adds `edit`, which writes a text in the place of a span. */
void edit_put(struct json_node parent, const struct request *request, const struct source_set *sources,
	      struct span span, struct text fresh);

/** Adds a location: URI and range. */
void location_put(struct json_node parent, const char *key, const struct request *request,
		  const struct source_set *sources, struct span span);

#endif
