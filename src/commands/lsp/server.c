/* `wetside lsp`: messages in, answers out; one table of methods. */
#include "commands/lsp/server.h"

#include <stdio.h>

struct method_row {
	const char *name;
	server_method *function;
	bool is_request;
};

static const struct method_row methods[] = {
#define METHOD(name, function, is_request) { name, function, is_request },
#include "commands/lsp/methods.def"
#undef METHOD
};

static const struct method_row *method_find(struct text name)
{
	for (size_t i = 0; i < sizeof(methods) / sizeof(*methods); i++)
		if (text_equal(text_from(methods[i].name), name))
			return &methods[i];
	return NULL;
}

/* ---- answers ---- */

void answer_null(const struct request *request)
{
	json_node_null(request->answer, "result");
}

void answer_error(const struct request *request, enum rpc_error code, struct text message)
{
	struct json_node error = json_node_object(request->answer, "error");

	json_node_whole(error, "code", code);
	json_node_text(error, "message", message);
}

struct document *request_document(const struct request *request)
{
	struct text uri = json_value_path(request->params, "textDocument.uri")->text;
	struct document *document = documents_find(&request->server->documents, uri);

	if (document != NULL && document->is_compiled)
		return document;
	answer_null(request);
	return NULL;
}

uint32_t request_address(const struct request *request, const struct document *document)
{
	return place_address(&document->compilation.sources, document_file(document), request->server->units,
			     json_value_at(request->params, "position"));
}

void location_put(struct json_node parent, const char *key, const struct request *request,
		  const struct source_set *sources, struct span span)
{
	const struct source_file *file = source_file_of(sources, span);
	struct json_node location = json_node_object(parent, key);

	json_node_text(location, "uri", documents_uri_of(&request->server->documents, request->arena, file));
	place_put_range(location, "range", sources, request->server->units, span);
}

/* ---- one message ---- */

struct reply {
	struct server *server;
	struct message *message;
	const struct method_row *method; /* null: there is none */
};

static void put_id(struct json_node root, const struct json_value *id)
{
	if (id->kind == JSON_VALUE_TEXT)
		json_node_text(root, "id", id->text);
	else if (id->kind == JSON_VALUE_WHOLE)
		json_node_whole(root, "id", id->whole);
	else
		json_node_null(root, "id");
}

/* What keeps a request from being answered; 0 where nothing does. */
static int obstacle(const struct reply *reply, const char **why)
{
	enum server_phase phase = reply->server->phase;
	bool is_start = reply->method != NULL && reply->method->function == lifecycle_initialize;

	*why = "the message is no JSON of a known length";
	if (reply->message->body == NULL)
		return RPC_PARSE_ERROR;
	*why = "the message is no request";
	if (json_value_at(reply->message->body, "method")->kind != JSON_VALUE_TEXT)
		return RPC_INVALID_REQUEST;
	*why = "the server is shut down";
	if (phase == SERVER_IS_SHUT_DOWN)
		return RPC_INVALID_REQUEST;
	*why = "the server is already initialized";
	if (is_start && phase != SERVER_WAITS)
		return RPC_INVALID_REQUEST;
	*why = "the server is not initialized";
	if (!is_start && phase == SERVER_WAITS)
		return RPC_SERVER_NOT_INITIALIZED;
	*why = "the request was cancelled";
	if (reply->message->is_cancelled)
		return RPC_REQUEST_CANCELLED;
	*why = "there is no such method";
	return reply->method == NULL || !reply->method->is_request ? RPC_METHOD_NOT_FOUND : 0;
}

static void fill_reply(struct json_node root, const void *subject)
{
	const struct reply *reply = subject;
	struct request request = { reply->server, &reply->message->arena, NULL, root };
	const char *why;
	int code = obstacle(reply, &why);

	json_node_text(root, "jsonrpc", TEXT("2.0"));
	put_id(root, json_value_at(reply->message->body, "id"));
	if (code != 0) {
		answer_error(&request, (enum rpc_error)code, text_from(why));
		return;
	}
	request.params = json_value_at(reply->message->body, "params");
	reply->method->function(&request);
}

static void answer_request(const struct reply *reply)
{
	struct output output;

	output_open_memory(&output, &reply->message->arena);
	json_tree_write_line(&output, &reply->message->arena, fill_reply, reply);
	message_write(output_memory(&output));
}

static void take_notification(const struct reply *reply)
{
	struct request request = { .server = reply->server, .arena = &reply->message->arena };
	enum server_phase phase = reply->server->phase;

	if (reply->method == NULL || reply->method->is_request)
		return;
	if (phase != SERVER_RUNS && reply->method->function != lifecycle_exit)
		return;
	request.params = json_value_at(reply->message->body, "params");
	reply->method->function(&request);
}

/* A response: the server asks nothing, so that it is nobody's. */
static bool is_response(const struct json_value *body)
{
	return body != NULL && json_value_at(body, "method")->kind == JSON_VALUE_NULL &&
	       (json_value_at(body, "result")->key.length > 0 || json_value_at(body, "error")->key.length > 0);
}

static void handle(struct server *server, struct message *message)
{
	struct reply reply = { server, message, NULL };
	const struct json_value *body = message->body;

	reply.method = method_find(json_value_at(body, "method")->text);
	if (is_response(body))
		return;
	if (body != NULL && json_value_at(body, "method")->kind == JSON_VALUE_TEXT &&
	    json_value_at(body, "id")->key.length == 0) {
		take_notification(&reply);
		return;
	}
	if (reply.method != NULL && server->phase == SERVER_RUNS && documents_refresh(&server->documents))
		findings_publish(server);
	answer_request(&reply);
}

/* Memory ended: a request is answered all the same, with what little it takes. A message that could not be read may
 * have been one; so it is answered without its id, as one whose id is a text. */
static void answer_that_memory_ended(const struct message *message)
{
	char body[256];
	char number[32];
	const struct json_value *id = json_value_at(message == NULL ? NULL : message->body, "id");
	int length;

	complain("there is not enough memory");
	if (message != NULL && id->key.length == 0)
		return;
	snprintf(number, sizeof(number), "%lld", (long long)id->whole);
	length = snprintf(body, sizeof(body),
			  "{\"jsonrpc\":\"2.0\",\"id\":%s,\"error\":{\"code\":%d,\"message\":\"there is not "
			  "enough memory\"}}",
			  id->kind == JSON_VALUE_WHOLE ? number : "null", RPC_INTERNAL_ERROR);
	message_write((struct text){ body, (size_t)length });
}

/* ---- the queue ---- */

static struct message *queued(struct server *server, size_t index)
{
	return &server->queue[(server->queue_first + index) % QUEUE_MOST];
}

static bool is_same_id(const struct json_value *a, const struct json_value *b)
{
	return a->kind == b->kind && ((a->kind == JSON_VALUE_WHOLE && a->whole == b->whole) ||
				      (a->kind == JSON_VALUE_TEXT && text_equal(a->text, b->text)));
}

static void cancel(struct server *server, const struct json_value *id)
{
	for (size_t i = 0; i < server->queue_count; i++)
		if (is_same_id(json_value_at(queued(server, i)->body, "id"), id))
			queued(server, i)->is_cancelled = true;
}

/* Reads one message, and all that has arrived behind it. False where nothing is left to be done. */
static bool fill_queue(struct server *server)
{
	struct arena *arena = server->invocation->arena;

	while (server->queue_count < QUEUE_MOST &&
	       (server->queue_count == 0 || message_stream_is_ready(&server->stream))) {
		struct message *message = queued(server, server->queue_count);

		if (!message_read(&server->stream, message, arena->landing))
			break;
		if (text_equal(json_value_at(message->body, "method")->text, TEXT("$/cancelRequest"))) {
			cancel(server, json_value_path(message->body, "params.id"));
			message_drop(message);
			continue;
		}
		server->queue_count++;
	}
	return server->queue_count > 0;
}

static void drop_first(struct server *server)
{
	message_drop(queued(server, 0));
	server->queue_first = (server->queue_first + 1) % QUEUE_MOST;
	server->queue_count--;
}

/* Findings are sent when nothing waits any more: what is typed faster than it is compiled is not compiled letter by
 * letter. */
static void publish_if_idle(struct server *server)
{
	if (server->phase == SERVER_RUNS && server->queue_count == 0 && !message_stream_is_ready(&server->stream) &&
	    documents_refresh(&server->documents))
		findings_publish(server);
}

/* One message, from the queue to its end; false where there is none. */
static bool step(struct server *server, struct landing *landing)
{
	volatile bool is_handling = false;

	if (setjmp(landing->place) != 0) {
		answer_that_memory_ended(is_handling && server->queue_count > 0 ? queued(server, 0) : NULL);
		if (is_handling && server->queue_count > 0)
			drop_first(server);
		return true;
	}
	if (!fill_queue(server))
		return false;
	is_handling = true;
	queued(server, 0)->arena.landing = landing;
	handle(server, queued(server, 0));
	drop_first(server);
	is_handling = false;
	publish_if_idle(server);
	return true;
}

static void serve(struct server *server)
{
	struct landing *const outer = server->invocation->arena->landing;
	struct landing landing;

	server->invocation->arena->landing = &landing;
	while (server->phase != SERVER_EXITS && step(server, &landing))
		;
	server->invocation->arena->landing = outer;
}

int command_lsp(const struct invocation *invocation)
{
	struct server *server;

	if (invocation->operand_count > 0)
		return complain("lsp takes no FILE: an editor says what is open");
	server = ARENA_NEW(invocation->arena, struct server);
	server->invocation = invocation;
	server->status = 1; /* but for `exit` after `shutdown` */
	message_stream_init(&server->stream);
	documents_init(&server->documents, invocation);
	arena_init(&server->published_arena, invocation->arena->landing);
	serve(server);
	while (server->queue_count > 0)
		drop_first(server);
	documents_drop(&server->documents);
	arena_release(&server->published_arena);
	if (ferror(stdout))
		return complain("cannot write to standard output");
	return server->status;
}
