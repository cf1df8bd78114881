/* Names, texts, words, notes and allowances from the tree. Figures are in read_figure.c. */
#include "model/resolver.h"

#include <string.h>

#include "support/suggest.h"

struct text read_text(const struct reader *reader, node_index node)
{
	struct span span = tree_node(reader->tree, node)->span;

	return (struct text){ reader->tree->file->bytes + (span.begin - reader->tree->file->base), span.length };
}

struct name_reference read_name(const struct reader *reader, node_index node)
{
	return (struct name_reference){ intern_name(reader->recipe->names, read_text(reader, node)),
					tree_node(reader->tree, node)->span };
}

static void complain_escape(const struct reader *reader, struct span span, size_t offset)
{
	struct report *report = reader->recipe->report;
	struct span place = { span.begin + (uint32_t)offset, 2 };

	report_help(report, report_add(report, CHECK_syntax, place, "an unknown escape"),
		    "write \\\" for a quote, \\\\ for a backslash, \\n for a line break");
}

struct prose read_prose(const struct reader *reader, node_index node)
{
	struct text raw = read_text(reader, node);
	struct span span = tree_node(reader->tree, node)->span;
	struct text inner = { raw.data + 1, raw.length < 2 ? 0 : raw.length - 2 };
	struct text_builder builder;

	if (raw.length < 2 || raw.data[raw.length - 1] != '"') /* reported when it was scanned */
		inner.length = raw.length - 1;
	if (memchr(inner.data, '\\', inner.length) == NULL)
		return (struct prose){ inner, span };
	builder = text_builder_start(reader->recipe->arena);
	for (size_t i = 0; i < inner.length; i++) {
		char byte = inner.data[i];

		if (byte == '\\' && i + 1 < inner.length) {
			byte = inner.data[++i];
			if (byte == 'n')
				byte = '\n';
			else if (byte != '"' && byte != '\\')
				complain_escape(reader, span, i);
		}
		text_append_byte(&builder, byte);
	}
	return (struct prose){ text_builder_text(&builder), span };
}

/* Sulphite is one letter from sulphate: what is near to a chemical may well be another one. */
static enum suggestion_trust trust_in(enum vocabulary vocabulary)
{
	return vocabulary == VOCABULARY_CHEMICALS || vocabulary == VOCABULARY_CLASSES ? SUGGESTION_OF_RECIPE
										      : SUGGESTION_OF_LANGUAGE;
}

bool read_word(const struct reader *reader, node_index name, enum vocabulary vocabulary, size_t *index)
{
	return read_word_at(reader->recipe, read_text(reader, name), tree_node(reader->tree, name)->span, vocabulary,
			    index) == NULL;
}

struct diagnostic *read_word_at(struct recipe *recipe, struct text word, struct span span, enum vocabulary vocabulary,
				size_t *index)
{
	struct report *report = recipe->report;
	struct suggestion_list list;
	struct diagnostic *finding;

	*index = vocabulary_find(vocabulary, word);
	if (*index < vocabulary_size(vocabulary))
		return NULL;
	finding = report_add(report, CHECK_unknown_name, span, "`%.*s` is not %s", TEXT_ARGUMENT(word),
			     vocabulary_name(vocabulary));
	suggest_start(&list, word);
	for (size_t i = 0; i < vocabulary_size(vocabulary); i++)
		suggest_offer(&list, vocabulary_word(vocabulary, i));
	if (!report_suggest(report, finding, span, &list, trust_in(vocabulary)))
		report_help(report, finding, "`wetside explain --list` shows all words");
	return finding;
}

void complain_choice(const struct reader *reader, node_index name, const char *const *words, size_t count)
{
	struct report *report = reader->recipe->report;
	struct text word = read_text(reader, name);
	struct span span = tree_node(reader->tree, name)->span;
	struct text_builder choice = text_builder_start(reader->recipe->arena);
	struct diagnostic *finding =
		report_add(report, CHECK_unknown_name, span, "`%.*s` does not fit here", TEXT_ARGUMENT(word));
	struct suggestion_list list;

	suggest_start(&list, word);
	for (size_t i = 0; i < count; i++) {
		text_append_format(&choice, "%s`%s`", i == 0 ? "" : i + 1 == count ? " or " : ", ", words[i]);
		suggest_offer(&list, text_from(words[i]));
	}
	if (!report_suggest(report, finding, span, &list, SUGGESTION_OF_LANGUAGE))
		report_help(report, finding, "write %.*s", TEXT_ARGUMENT(text_builder_text(&choice)));
}

bool read_is_repeated(const struct reader *reader, node_index clause, struct span earlier)
{
	struct report *report = reader->recipe->report;
	struct span block = tree_node(reader->tree, reader->block)->span;
	const struct tree_node *node = tree_node(reader->tree, clause);

	if (!span_is_set(earlier) || earlier.begin < block.begin || earlier.begin >= block.begin + block.length ||
	    (earlier.begin >= node->span.begin && earlier.begin < node->span.begin + node->span.length))
		return false;
	report_note(report,
		    report_add(report, CHECK_defined_twice, node->span, "%s is said twice",
			       node_kind_name((enum node_kind)node->kind)),
		    earlier, "it was said here before");
	return true;
}

bool read_is_listed(const struct reader *reader, struct number_map *seen, uint32_t number, struct span span)
{
	struct arena *arena = reader->recipe->arena;
	struct report *report = reader->recipe->report;
	const struct span *earlier = number_map_find(seen, number);

	if (earlier == NULL) {
		struct span *place = ARENA_NEW(arena, struct span);

		*place = span;
		number_map_put(seen, arena, number, place);
		return false;
	}
	report_note(report, report_add(report, CHECK_defined_twice, span, "this is listed twice"), *earlier,
		    "it was listed here before");
	return true;
}

static enum check_id allowed_check(const struct reader *reader, node_index name)
{
	struct report *report = reader->recipe->report;
	struct text word = read_text(reader, name);
	struct span span = tree_node(reader->tree, name)->span;
	enum check_id check = check_find(word);
	struct suggestion_list list;
	struct diagnostic *finding;

	if (check == CHECK_COUNT) {
		finding = report_add(report, CHECK_unknown_name, span, "`%.*s` is not a check", TEXT_ARGUMENT(word));
		suggest_start(&list, word);
		for (int i = 0; i < CHECK_COUNT; i++)
			suggest_offer(&list, check_row((enum check_id)i)->name);
		if (!report_suggest(report, finding, span, &list, SUGGESTION_OF_LANGUAGE))
			report_help(report, finding, "`wetside explain --list` shows all checks");
	} else if (!check_row(check)->may_allow) {
		report_help(report,
			    report_add(report, CHECK_out_of_place, span, "`%.*s` cannot be allowed",
				       TEXT_ARGUMENT(word)),
			    "what it finds has no meaning; `wetside explain %.*s` says what to do",
			    TEXT_ARGUMENT(word));
		check = CHECK_COUNT;
	}
	return check;
}

static void read_allow(const struct reader *reader, node_index clause, struct allowance **allowances)
{
	struct recipe *recipe = reader->recipe;
	node_index name = tree_node(reader->tree, clause)->first;
	enum check_id check = allowed_check(reader, name);
	const struct allowance *before;
	struct allowance *allowance;

	if (check == CHECK_COUNT)
		return;
	/* The same clause is read again for each variant of a process: it counts as used if it covers something in
	 * any. */
	before = number_map_find(&recipe->resolver->allowances, tree_node(reader->tree, clause)->span.begin);
	allowance = ARENA_NEW(recipe->arena, struct allowance);
	allowance->check = check;
	allowance->reason = read_prose(reader, tree_node(reader->tree, name)->next);
	allowance->span = tree_node(reader->tree, clause)->span;
	allowance->used = before != NULL ? before->used : ARENA_NEW(recipe->arena, bool);
	if (allowance->reason.text.length == 0)
		report_help(recipe->report,
			    report_add(recipe->report, CHECK_missing_clause, allowance->reason.span,
				       "a departure without a reason"),
			    "say why, it is printed on the sheet");
	while (*allowances != NULL)
		allowances = &(*allowances)->next;
	*allowances = allowance;
	if (before != NULL)
		return;
	number_map_put(&recipe->resolver->allowances, recipe->arena, allowance->span.begin, allowance);
	allowance->next_in_recipe = recipe->all_allowances;
	recipe->all_allowances = allowance;
}

bool read_common(const struct reader *reader, node_index clause, struct note **notes, struct allowance **allowances)
{
	const struct tree_node *node = tree_node(reader->tree, clause);

	if (node->kind == NODE_allow) {
		read_allow(reader, clause, allowances);
		return true;
	}
	if (node->kind == NODE_note) {
		struct note *note = ARENA_NEW(reader->recipe->arena, struct note);

		note->prose = read_prose(reader, node->first);
		while (*notes != NULL)
			notes = &(*notes)->next;
		*notes = note;
		return true;
	}
	return false;
}

size_t read_chain_length(const struct reader *reader, node_index node)
{
	size_t length = 0;

	for (; node != 0; node = tree_node(reader->tree, node)->next)
		length++;
	return length;
}

void read_timing(const struct reader *reader, node_index clause, enum time_start *starts, struct span *starts_span,
		 bool *includes_draining, struct span *draining_span)
{
	const struct tree_node *node = tree_node(reader->tree, clause);
	bool is_start = node->kind == NODE_starts_at_pour || node->kind == NODE_starts_when_full;
	struct span *span = is_start ? starts_span : draining_span;

	if (read_is_repeated(reader, clause, *span))
		return;
	*span = node->span;
	if (is_start)
		*starts = node->kind == NODE_starts_at_pour ? TIME_STARTS_AT_POUR : TIME_STARTS_WHEN_FULL;
	else
		*includes_draining = node->kind == NODE_draining_included;
}
