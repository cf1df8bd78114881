/* A run as a SARIF 2.1.0 log (OASIS Standard, 27 March 2020). Columns count code points; ends are exclusive. */
#include "check/explain.h"
#include "emit/escape/uri.h"
#include "emit/findings/findings.h"
#include "support/hash.h"
#include "support/intern.h"

#define SARIF_SCHEMA "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
#define FOLDER_ID "WORKING_FOLDER"
#define FINGERPRINT_KEY "wetsideFinding/v1"

/* The one place that every system with the program has: what it says of a check stands in the rule itself. */
#define HELP_URI "man:wetside(1)"

struct log {
	const struct findings_run *run;
	struct intern *seen; /* fingerprints without their number */
	uint32_t *times;     /* how often each came, by its interned number */
	size_t count;
	size_t capacity;
};

/* ---- rules ---- */

static const char *level_of(enum severity severity)
{
	return severity == SEVERITY_HINT ? "note" : severity_name(severity);
}

static void put_message(struct json_node parent, const char *key, struct text text)
{
	struct json_node node = json_node_object(parent, key);
	json_node_text(node, "text", text);
}

static void put_rule(struct json_node list, enum check_id check)
{
	const struct check_row *row = check_row(check);
	struct text explained = explain_text(check);
	struct json_node rule = json_node_object(list, NULL);
	json_node_text(rule, "id", row->name);
	put_message(rule, "shortDescription", row->summary);
	put_message(rule, "fullDescription", row->summary);
	struct json_node help = json_node_object(rule, "help");
	json_node_text(help, "text", explained.length > 0 ? explained : row->summary);
	json_node_text(help, "markdown", explained.length > 0 ? explained : row->summary);
	json_node_text(rule, "helpUri", TEXT(HELP_URI));
	struct json_node configuration = json_node_object(rule, "defaultConfiguration");
	json_node_text(configuration, "level", text_from(level_of(row->severity)));
	struct json_node properties = json_node_object(rule, "properties");
	json_node_flag(properties, "mayBeAllowed", row->may_allow);
}

static void put_tool(struct json_node run, const struct findings_run *findings)
{
	struct json_node driver = json_node_object(json_node_object(run, "tool"), "driver");
	json_node_text(driver, "name", TEXT("wetside"));
	json_node_text(driver, "version", findings->version);
	json_node_text(driver, "semanticVersion", findings->version);
	struct json_node rules = json_node_list(driver, "rules");
	for (int check = 0; check < CHECK_COUNT; check++)
		put_rule(rules, (enum check_id)check);
}

/* ---- places ---- */

/* The name of a file, relative to the working folder where it lies there. */
static void put_file(struct json_node parent, const struct findings_run *run, const struct source_file *file)
{
	struct json_node node = json_node_object(parent, "artifactLocation");
	struct text name = file->name;
	size_t length = run->folder.length;
	bool is_absolute = name.length > 0 && name.data[0] == '/';
	if (is_absolute && length > 0 && name.length > length + 1 && name.data[length] == '/' &&
	    text_equal((struct text){ name.data, length }, run->folder)) {
		name.data += length + 1;
		name.length -= length + 1;
		is_absolute = false;
	}
	json_node_text(node, "uri", uri_path(run->arena, name));
	if (!is_absolute)
		json_node_text(node, "uriBaseId", TEXT(FOLDER_ID));
}

static void put_region(struct json_node parent, const char *key, const struct source_set *sources, struct span span)
{
	struct position begin = position_of(sources, span.begin), end = position_of_end(sources, span);
	struct json_node region = json_node_object(parent, key);
	json_node_whole(region, "startLine", (int64_t)begin.line);
	json_node_whole(region, "startColumn", (int64_t)begin.code_point_column);
	json_node_whole(region, "endLine", (int64_t)end.line);
	json_node_whole(region, "endColumn", (int64_t)end.code_point_column);
}

static void put_physical(struct json_node location, const struct log *log, const struct source_set *sources,
			 struct span span)
{
	const struct source_file *file = source_file_of(sources, span);
	if (!file)
		return;
	struct json_node physical = json_node_object(location, "physicalLocation");
	put_file(physical, log->run, file);
	put_region(physical, "region", sources, span);
}

static void put_related(struct json_node list, const struct log *log, const struct source_set *sources,
			struct span span, struct text message)
{
	struct json_node location = json_node_object(list, NULL);
	put_physical(location, log, sources, span);
	put_message(location, "message", message);
}

/* Notes, and the way from a used file to the main file. */
static void put_notes(struct json_node result, const struct log *log, const struct source_set *sources,
		      const struct diagnostic *finding)
{
	struct json_node list = json_node_list(result, "relatedLocations");
	for (const struct diagnostic_note *note = finding->notes; note; note = note->next)
		put_related(list, log, sources, note->span, note->message);
	const struct source_file *file = source_file_of(sources, finding->span);
	for (; file && span_is_set(file->used_from); file = source_file_of(sources, file->used_from))
		put_related(list, log, sources, file->used_from, TEXT("used from here"));
}

/* ---- results ---- */

static void put_fixes(struct json_node result, const struct log *log, const struct source_set *sources,
		      const struct diagnostic *finding)
{
	struct json_node list = json_node_list(result, "fixes");
	for (const struct fix *fix = finding->fixes; fix; fix = fix->next) {
		struct json_node item = json_node_object(list, NULL);
		put_message(item, "description", fix_words(log->run->arena, fix));
		struct json_node change = json_node_object(json_node_list(item, "artifactChanges"), NULL);
		put_file(change, log->run, source_file_of(sources, fix->span));
		struct json_node replacement = json_node_object(json_node_list(change, "replacements"), NULL);
		put_region(replacement, "deletedRegion", sources, fix->span);
		put_message(replacement, "insertedContent", fix->text);
		struct json_node properties = json_node_object(item, "properties");
		json_node_text(properties, "confidence", text_from(fix_confidence_name(fix->confidence)));
	}
}

static void put_suppressions(struct json_node result, const struct diagnostic *finding)
{
	struct json_node list = json_node_list(result, "suppressions");
	if (!finding->allowed.data)
		return;
	struct json_node item = json_node_object(list, NULL);
	json_node_text(item, "kind", TEXT("inSource"));
	json_node_text(item, "justification", finding->allowed);
}

/* How often a fingerprint has come before. */
static uint32_t times_before(struct log *log, struct text base)
{
	uint32_t number = intern_name(log->seen, base);
	while (log->count <= number) {
		ARENA_RESERVE(log->run->arena, log->times, log->count, log->capacity);
		log->times[log->count++] = 0;
	}
	return log->times[number]++;
}

static struct text line_without_indent(const struct source_set *sources, struct span span)
{
	struct source_place place = source_locate(sources, span.begin);
	if (!place.file)
		return TEXT("");
	struct text line = source_line(sources, place.file, place.line);
	while (line.length > 0 && (line.data[0] == ' ' || line.data[0] == '\t')) {
		line.data++;
		line.length--;
	}
	return line;
}

/* The same while lines come and go around a finding, and another for each finding of a file: what is said, of which
 * line, and the how-manieth time. */
static void put_fingerprint(struct json_node result, struct log *log, const struct source_set *sources,
			    const struct diagnostic *finding)
{
	const struct source_file *file = source_file_of(sources, finding->span);
	struct text parts[] = { file ? file->name : TEXT(""), check_row(finding->check)->name, finding->message,
				line_without_indent(sources, finding->span) };
	struct hash hash;
	hash_start(&hash);
	for (size_t i = 0; i < sizeof(parts) / sizeof(*parts); i++) {
		hash_add(&hash, parts[i]);
		hash_add(&hash, (struct text){ "\0", 1 });
	}
	struct text base = hash_finish(&hash, log->run->arena);
	struct json_node node = json_node_object(result, "partialFingerprints");
	json_node_text(node, FINGERPRINT_KEY,
		       text_format(log->run->arena, "%.*s:%u", TEXT_ARGUMENT(base), times_before(log, base) + 1));
}

static void put_result(struct json_node list, struct log *log, const struct source_set *sources,
		       const struct diagnostic *finding)
{
	struct json_node result = json_node_object(list, NULL);
	struct text help = report_help_text(log->run->arena, finding);
	struct text message = finding->message;
	if (help.length > 0)
		message = text_format(log->run->arena, "%.*s\n%.*s", TEXT_ARGUMENT(message), TEXT_ARGUMENT(help));
	json_node_text(result, "ruleId", check_row(finding->check)->name);
	json_node_whole(result, "ruleIndex", (int64_t)finding->check);
	json_node_text(result, "level", text_from(level_of(finding->severity)));
	put_message(result, "message", message);
	struct json_node locations = json_node_list(result, "locations");
	if (source_file_of(sources, finding->span))
		put_physical(json_node_object(locations, NULL), log, sources, finding->span);
	put_notes(result, log, sources, finding);
	put_fingerprint(result, log, sources, finding);
	put_suppressions(result, finding);
	put_fixes(result, log, sources, finding);
}

static void fill(struct json_node root, const void *subject)
{
	struct log log = { .run = subject };
	log.seen = intern_create(log.run->arena);
	json_node_text(root, "$schema", TEXT(SARIF_SCHEMA));
	json_node_text(root, "version", TEXT("2.1.0"));
	struct json_node run = json_node_object(json_node_list(root, "runs"), NULL);
	put_tool(run, log.run);
	struct json_node invocation = json_node_object(json_node_list(run, "invocations"), NULL);
	json_node_flag(invocation, "executionSuccessful", log.run->is_complete);
	struct json_node folder = json_node_object(json_node_object(run, "originalUriBaseIds"), FOLDER_ID);
	if (log.run->folder.length > 0) {
		struct text uri = uri_path(log.run->arena, log.run->folder);
		bool has_slash = uri.data[uri.length - 1] == '/';
		json_node_text(folder, "uri",
			       text_format(log.run->arena, "%.*s%s", TEXT_ARGUMENT(uri), has_slash ? "" : "/"));
	}
	put_message(folder, "description", TEXT("the folder in which the program was started"));
	json_node_text(run, "columnKind", TEXT("unicodeCodePoints"));
	struct json_node results = json_node_list(run, "results");
	for (size_t i = 0; i < log.run->file_count; i++) {
		const struct findings *file = &log.run->files[i];
		for (size_t j = 0; j < file->report->count && (log.run->most == 0 || j < log.run->most); j++)
			put_result(results, &log, file->sources, &file->report->items[j]);
	}
}

void findings_sarif_write(struct output *output, const struct findings_run *run)
{
	json_tree_write(output, run->arena, fill, run);
}
