/* The live page: one HTML file that cues a run at the sink, offline. The plan stands in it as JSON; the markup, the
 * style and the script stand beside this file. Its content policy allows that one style and that one script, by their
 * hashes, and nothing else: the page cannot fetch, send or be told to run anything. */
#include "embedded/clock_js.h"
#include "embedded/cues_js.h"
#include "embedded/keep_js.h"
#include "embedded/live_css.h"
#include "embedded/live_html.h"
#include "embedded/live_js.h"
#include "embedded/plan_js.h"
#include "embedded/record_js.h"
#include "embedded/run_js.h"
#include "embedded/sound_js.h"
#include "embedded/strip_js.h"
#include "embedded/times_js.h"
#include "embedded/view_js.h"
#include "emit/escape/html.h"
#include "emit/escape/json_tree.h"
#include "emit/escape/shell.h"
#include "emit/escape/terminal.h"
#include "emit/log_head.h"
#include "emit/plan/plan.h"
#include "support/hash.h"

/* The plan and the arena for what is made of its texts. */
struct written_plan {
	const struct plan *plan;
	const struct emission *emission;
};

/* ---- the plan as JSON ---- */

/* Texts are on one line and without hidden characters, as in the timer: the log of both holds the same bytes. */
static void put_text(struct json_node parent, const char *key, struct arena *arena, struct text text)
{
	json_node_text(parent, key, terminal_line(arena, text));
}

static void put_seconds(struct json_node parent, const char *key, struct plan_seconds seconds)
{
	if (seconds.is_there)
		json_node_whole(parent, key, seconds.count);
	else
		json_node_null(parent, key);
}

/* A cue is a list: run, since, kind, until, count, words. */
static void put_cues(struct json_node list, struct arena *arena, const struct plan_cue *cues, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		struct json_node cue = json_node_list(list, NULL);
		json_node_whole(cue, NULL, cues[i].run_s);
		json_node_whole(cue, NULL, cues[i].since_s);
		json_node_text(cue, NULL, cues[i].kind);
		json_node_whole(cue, NULL, cues[i].until_s);
		json_node_whole(cue, NULL, cues[i].count);
		put_text(cue, NULL, arena, cues[i].words);
	}
}

/* A row is a list: reading, time, agitations, then what is moved, then when agitation goes on. */
static void put_times(struct json_node step, struct arena *arena, const struct plan_times *times)
{
	struct json_node node = json_node_object(step, "times");
	json_node_whole(node, "to_drain", (int64_t)times->to_drain);
	put_text(node, "declared", arena, times->declared);
	put_text(node, "done", arena, times->done);
	struct json_node rows = json_node_list(node, "rows");
	for (size_t i = 0; i < times->row_count; i++) {
		struct json_node row = json_node_list(rows, NULL);
		json_node_whole(row, NULL, times->rows[i].reading);
		json_node_whole(row, NULL, times->rows[i].time_s);
		json_node_whole(row, NULL, (int64_t)times->rows[i].agitations);
		for (size_t moved = 0; moved < MOVED_COUNT; moved++)
			put_seconds(row, NULL, times->rows[i].moved[moved]);
		put_seconds(row, NULL, times->rows[i].again);
	}
	put_cues(json_node_list(node, "more"), arena, times->more, times->more_count);
}

static void put_bath(struct json_node node, struct arena *arena, const struct plan_step *step)
{
	json_node_text(node, "bath_kind", text_from(step->bath_kind));
	json_node_whole(node, "bottle", step->bottle);
	json_node_flag(node, "asks_bottle", step->asks_bottle);
	json_node_flag(node, "develops", step->develops);
	put_text(node, "bath", arena, step->bath);
	put_text(node, "bath_title", arena, step->bath_title);
	put_text(node, "aim", arena, step->aim);
	put_text(node, "limits", arena, step->limits);
	put_text(node, "in_tank", arena, step->in_tank);
	if (!step->measures) {
		json_node_null(node, "measure");
		return;
	}
	struct json_node measure = json_node_object(node, "measure");
	json_node_text(measure, "unit", (struct text){ &step->unit, 1 });
	json_node_whole(measure, "low", step->low);
	json_node_whole(measure, "high", step->high);
	put_text(measure, "thermometer", arena, step->thermometer);
}

static void put_ends(struct json_node node, struct arena *arena, const struct plan_step *step)
{
	json_node_text(node, "form", text_from(step->form));
	json_node_whole(node, "seconds", step->time_s);
	put_text(node, "time", arena, step->time);
	json_node_whole(node, "declared", step->declared_s);
	put_text(node, "why", arena, step->why);
	json_node_whole(node, "pour", step->pour_s);
	put_seconds(node, "drain", step->drain);
	json_node_whole(node, "end", step->end_s);
	put_seconds(node, "latest", step->latest);
	put_seconds(node, "again", step->again);
	json_node_whole(node, "again_every", step->again_every_s);
	json_node_whole(node, "again_length", step->again_length_s);
}

static void put_step(struct json_node list, struct arena *arena, const struct plan_step *step)
{
	struct json_node node = json_node_object(list, NULL);
	put_text(node, "name", arena, step->name);
	put_bath(node, arena, step);
	put_ends(node, arena, step);
	struct json_node notes = json_node_list(node, "notes");
	for (size_t i = 0; i < step->note_count; i++)
		put_text(notes, NULL, arena, step->notes[i]);
	put_cues(json_node_list(node, "cues"), arena, step->cues, step->cue_count);
	if (step->times)
		put_times(node, arena, step->times);
	else
		json_node_null(node, "times");
}

static void put_cue_kinds(struct json_node root)
{
	struct json_node kinds = json_node_list(root, "kinds");
	for (int kind = 0; kind < CUE_KIND_COUNT; kind++) {
		const struct cue_row *row = cue_row((enum cue_kind)kind);
		struct json_node node = json_node_object(kinds, NULL);
		json_node_text(node, "word", row->word);
		json_node_text(node, "title", row->title);
		json_node_flag(node, "rings", row->is_signal);
	}
}

struct head_lines {
	struct json_node list;
	struct arena *arena;
};

static void put_head_line(void *data, const struct text *fields, size_t count)
{
	const struct head_lines *lines = data;
	struct json_node line = json_node_list(lines->list, NULL);
	for (size_t i = 0; i < count; i++)
		put_text(line, NULL, lines->arena, fields[i]);
}

/* What the log's head says beyond the plan of the steps. */
static void put_log_head(struct json_node root, const struct emission *emission)
{
	struct head_lines lines = { json_node_list(root, "head"), emission->arena };
	log_head(emission, put_head_line, &lines);
}

static void fill(struct json_node root, const void *subject)
{
	const struct written_plan *written = subject;
	const struct plan *plan = written->plan;
	struct arena *arena = written->emission->arena;
	put_text(root, "name", arena, plan->name);
	json_node_text(root, "file", shell_file_name(arena, plan->name));
	put_text(root, "title", arena, plan->title);
	json_node_text(root, "fingerprint", plan->fingerprint);
	put_text(root, "this_run", arena, plan->this_run);
	json_node_whole(root, "light_step", (int64_t)plan->light_step);
	json_node_whole(root, "light_since", plan->light_s);
	put_cue_kinds(root);
	put_log_head(root, written->emission);
	struct json_node steps = json_node_list(root, "steps");
	for (size_t i = 0; i < plan->step_count; i++)
		put_step(steps, arena, &plan->steps[i]);
}

/* ---- the script and the style ---- */

static struct text without_line_ends(struct text text)
{
	while (text.length > 0 && text.data[text.length - 1] == '\n')
		text.length--;
	return text;
}

/* All parts in one function, so that nothing of the page's is a name of the window's. */
static struct text whole_script(struct arena *arena)
{
	const struct text parts[] = {
		{ plan_js, plan_js_length }, { times_js, times_js_length },   { clock_js, clock_js_length },
		{ keep_js, keep_js_length }, { record_js, record_js_length }, { cues_js, cues_js_length },
		{ run_js, run_js_length },   { sound_js, sound_js_length },   { strip_js, strip_js_length },
		{ view_js, view_js_length }, { live_js, live_js_length },
	};
	struct text_builder script = text_builder_start(arena);
	text_append_string(&script, "(() => {\n\"use strict\";\n");
	for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
		text_append(&script, parts[i]);
	text_append_string(&script, "})();");
	return text_builder_text(&script);
}

static void put_hash(struct arena *arena, struct output *output, struct text text)
{
	struct hash hash;
	hash_start(&hash);
	hash_add(&hash, text);
	output_string(output, "'sha256-");
	html_base64_of_hex(output, hash_finish(&hash, arena));
	output_string(output, "'");
}

/* ---- the page ---- */

static void put_head(struct arena *arena, const struct plan *plan, struct text style, struct text script,
		     struct output *output)
{
	output_string(output, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
			      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src ");
	put_hash(arena, output, style);
	output_string(output, "; script-src ");
	put_hash(arena, output, script);
	output_string(output, "; base-uri 'none'; form-action 'none'\">\n<title>");
	html_text(output, terminal_line(arena, plan->title));
	output_string(output, ", live</title>\n"
			      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
			      "<meta name=\"color-scheme\" content=\"dark light\">\n"
			      "<meta name=\"theme-color\" content=\"#000000\">\n"
			      "<meta name=\"referrer\" content=\"no-referrer\">\n<style>");
	output_write(output, style);
	output_string(output, "</style>\n</head>\n");
}

/* The beginning of the body, up to where live.html goes on. */
static void put_title(struct arena *arena, const struct plan *plan, struct output *output)
{
	output_string(output,
		      "<body class=\"start\">\n<main id=\"page\" tabindex=\"-1\">\n<header>\n<h1 id=\"title\">");
	html_text(output, terminal_line(arena, plan->title));
	output_string(output, "</h1>\n");
}

void emit_live_html(const struct emission *emission, struct output *output)
{
	struct written_plan written = { plan_make(emission), emission };
	struct text style = without_line_ends((struct text){ live_css, live_css_length });
	struct text script = whole_script(emission->arena);
	put_head(emission->arena, written.plan, style, script, output);
	put_title(emission->arena, written.plan, output);
	output_write(output, (struct text){ live_html, live_html_length });
	output_string(output, "<script type=\"application/json\" id=\"plan\">");
	json_tree_write_script(output, emission->arena, fill, &written);
	output_string(output, "</script>\n<script>");
	output_write(output, script);
	output_string(output, "</script>\n</body>\n</html>\n");
}
