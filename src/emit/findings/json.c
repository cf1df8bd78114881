/* A finding as a JSON object. */
#include "emit/findings/findings.h"

#define FINDINGS_FORMAT "wetside-findings/1"

struct line {
	struct arena *arena;
	const struct source_set *sources;
	const struct diagnostic *finding;
};

void findings_json_place(struct json_node parent, const char *key, const struct source_set *sources, struct span span)
{
	struct position begin = position_of(sources, span.begin);
	struct position end = position_of_end(sources, span);

	if (begin.file == NULL || end.file == NULL) {
		json_node_null(parent, key);
		return;
	}
	struct json_node node = json_node_object(parent, key);
	json_node_text(node, "file", begin.file->name);
	json_node_whole(node, "offset", (int64_t)begin.offset);
	json_node_whole(node, "line", (int64_t)begin.line);
	json_node_whole(node, "column", (int64_t)begin.code_point_column);
	json_node_whole(node, "end_offset", (int64_t)end.offset);
	json_node_whole(node, "end_line", (int64_t)end.line);
	json_node_whole(node, "end_column", (int64_t)end.code_point_column);
}

static void put_text_or_null(struct json_node node, const char *key, struct text text)
{
	if (text.length > 0)
		json_node_text(node, key, text);
	else
		json_node_null(node, key);
}

static void put_notes(struct json_node node, const struct source_set *sources, const struct diagnostic *finding)
{
	struct json_node list = json_node_list(node, "notes");
	for (const struct diagnostic_note *note = finding->notes; note; note = note->next) {
		struct json_node item = json_node_object(list, NULL);
		json_node_text(item, "message", note->message);
		findings_json_place(item, "place", sources, note->span);
	}
}

/* The way from a used file to the main file. */
static void put_uses(struct json_node node, const struct source_set *sources, struct span span)
{
	struct json_node list = json_node_list(node, "used_from");
	const struct source_file *file = source_file_of(sources, span);
	for (; file && span_is_set(file->used_from); file = source_file_of(sources, file->used_from))
		findings_json_place(list, NULL, sources, file->used_from);
}

static void put_fixes(struct json_node node, const struct source_set *sources, const struct diagnostic *finding)
{
	struct json_node list = json_node_list(node, "fixes");
	for (const struct fix *fix = finding->fixes; fix; fix = fix->next) {
		struct json_node item = json_node_object(list, NULL);
		json_node_text(item, "confidence", text_from(fix_confidence_name(fix->confidence)));
		findings_json_place(item, "place", sources, fix->span);
		json_node_text(item, "text", fix->text);
	}
}

void findings_json_finding(struct json_node node, const struct source_set *sources, const struct diagnostic *finding)
{
	json_node_text(node, "check", check_row(finding->check)->name);
	json_node_text(node, "severity", text_from(severity_name(finding->severity)));
	json_node_text(node, "message", finding->message);
	put_text_or_null(node, "help", report_help_text(sources->arena, finding));
	findings_json_place(node, "place", sources, finding->span);
	put_notes(node, sources, finding);
	put_uses(node, sources, finding->span);
	if (finding->allowed.data)
		json_node_text(node, "allowed", finding->allowed);
	else
		json_node_null(node, "allowed");
	put_fixes(node, sources, finding);
}

static void fill_line(struct json_node root, const void *subject)
{
	const struct line *line = subject;
	json_node_text(root, "format", TEXT(FINDINGS_FORMAT));
	findings_json_finding(root, line->sources, line->finding);
}

void findings_json_write(struct output *output, struct arena *arena, const struct findings *findings, size_t most)
{
	const struct report *report = findings->report;
	for (size_t i = 0; i < report->count && (most == 0 || i < most); i++) {
		struct line line = { arena, findings->sources, &report->items[i] };
		json_tree_write_line(output, arena, fill_line, &line);
	}
}
