/* What may be written at the cursor. The parser itself says what fits there; names come from what is declared. */
#include <string.h>

#include "commands/lsp/names.h"
#include "model/hazards.h"
#include "support/folder.h"
#include "syntax/parse.h"

/* Kinds of item of LSP 3.17. */
enum {
	ITEM_IS_FUNCTION = 3,
	ITEM_IS_UNIT = 11,
	ITEM_IS_VALUE = 12,
	ITEM_IS_KEYWORD = 14,
	ITEM_IS_FILE = 17,
	ITEM_IS_REFERENCE = 18,
	ITEM_IS_CONSTANT = 21
};

#define KIND(quantity) (1u << QUANTITY_##quantity)

struct completion {
	const struct request *request;
	const struct document *document;
	struct json_node list;
	struct span typed;	    /* the part of a word before the cursor */
	struct text before;	    /* all text before that */
	struct source_set *sources; /* of that text */
	struct feed_fitting fitting;
};

static void offer(struct completion *completion, int kind, struct text label, struct text detail)
{
	struct json_node item = json_node_object(completion->list, NULL);
	struct json_node edit;

	json_node_text(item, "label", label);
	json_node_whole(item, "kind", kind);
	if (detail.length > 0)
		json_node_text(item, "detail", detail);
	edit = json_node_object(item, "textEdit");
	place_put_range(edit, "range", &completion->document->compilation.sources, completion->request->server->units,
			completion->typed);
	json_node_text(edit, "newText", label);
}

static void offer_texts(struct completion *completion, const char *const *texts)
{
	for (; *texts != NULL; texts++)
		offer(completion, ITEM_IS_VALUE, text_from(*texts), TEXT(""));
}

static void offer_vocabulary(struct completion *completion, enum vocabulary vocabulary)
{
	for (size_t i = 0; i < vocabulary_size(vocabulary); i++)
		offer(completion, ITEM_IS_CONSTANT, vocabulary_word(vocabulary, i), vocabulary_title(vocabulary, i));
}

static void offer_hazards(struct completion *completion)
{
	for (size_t i = 0; i < hazard_count(); i++)
		offer(completion, ITEM_IS_CONSTANT, hazard_code(i), hazard_text(hazard_code(i)));
}

static void offer_checks(struct completion *completion)
{
	for (int i = 0; i < CHECK_COUNT; i++)
		if (check_row((enum check_id)i)->may_allow)
			offer(completion, ITEM_IS_CONSTANT, check_row((enum check_id)i)->name,
			      check_row((enum check_id)i)->summary);
}

/* The names of a kind, each once. */
static void offer_names(struct completion *completion, enum name_kind kind)
{
	struct name_uses uses = name_uses_of(completion->document->compilation.recipe, completion->request->arena);
	const struct source_set *sources = &completion->document->compilation.sources;

	for (size_t i = 0; i < uses.count; i++) {
		const struct name_use *use = &uses.items[i];
		bool is_repeated = false;

		if (use->kind != kind || !use->is_declaration)
			continue;
		for (size_t j = 0; j < i && !is_repeated; j++)
			is_repeated = uses.items[j].kind == kind && uses.items[j].is_declaration &&
				      uses.items[j].name == use->name;
		if (!is_repeated)
			offer(completion, ITEM_IS_REFERENCE, source_text(sources, use->span),
			      text_from(names_kind_word(kind)));
	}
}

/* ---- words and units ---- */

static void offer_words(struct completion *completion)
{
	for (int i = 0; i < WORD_COUNT; i++)
		if (completion->fitting.words[i])
			offer(completion, ITEM_IS_KEYWORD, word_row((enum word_id)i)->spelling,
			      word_row((enum word_id)i)->summary);
}

/* By word, bits of kinds; 0: the word says nothing of a figure. */
static const unsigned kinds_after[WORD_COUNT] = {
#define UNITS_AFTER(id, kinds) [WORD_##id] = (kinds),
#include "commands/lsp/completion_units.def"
#undef UNITS_AFTER
};

static bool is_letter(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (unsigned char)byte >= 0x80;
}

static bool is_word_byte(char byte)
{
	return is_letter(byte) || (byte >= '0' && byte <= '9') || byte == '-' || byte == '%';
}

/* The kinds of quantity that the nearest word before the cursor speaks of; all where none does. */
static unsigned kinds_here(const struct completion *completion)
{
	const char *start = completion->before.data;
	const char *at = start + completion->before.length;
	unsigned kinds = 0;

	while (kinds == 0 && at > start && at[-1] != '\n' && at[-1] != ';' && at[-1] != '{') {
		const char *end = at;
		enum word_id word;

		while (at > start && is_word_byte(at[-1]))
			at--;
		word = word_find((struct text){ at, (size_t)(end - at) });
		if (word != WORD_COUNT)
			kinds = kinds_after[word];
		if (at == end)
			at--;
	}
	return kinds == 0 ? ~0u : kinds;
}

static void offer_units(struct completion *completion)
{
	unsigned kinds = kinds_here(completion);

	for (int i = UNIT_none + 1; i < UNIT_COUNT; i++) {
		const struct unit_row *row = unit_row((enum unit_id)i);

		if ((kinds & 1u << row->quantity) != 0)
			offer(completion, ITEM_IS_UNIT, row->canonical, text_from(quantity_kind_name(row->quantity)));
	}
}

/* ---- names ---- */

/* What follows the word that stands right before the cursor; false where that word does not say. */
static bool offer_after(struct completion *completion, enum word_id word)
{
	switch (word) {
	case WORD_allow:
		offer_checks(completion);
		return true;
	case WORD_as:
	case WORD_role:
		offer_vocabulary(completion,
				 completion->fitting.context == IN_ROLL ? VOCABULARY_FAMILIES : VOCABULARY_ROLES);
		return true;
	case WORD_in:
		offer_names(completion, NAME_OF_BATH);
		offer_texts(completion, (const char *const[]){ "water", "running water", "light", "air", NULL });
		return true;
	case WORD_from:
		offer_names(completion,
			    completion->fitting.clause_word == WORD_process ? NAME_OF_PROCESS : NAME_OF_BATH);
		return true;
	case WORD_hand:
		offer_names(completion, NAME_OF_BATH);
		return true;
	case WORD_after:
	case WORD_before:
	case WORD_step:
		offer_names(completion, NAME_OF_STEP);
		return true;
	case WORD_per:
		offer_texts(completion, completion->fitting.clause_word == WORD_coefficient
						? (const char *const[]){ "K", NULL }
						: (const char *const[]){ "min", NULL });
		return true;
	default:
		return false;
	}
}

/* What a clause that begins with a word wants as a name. */
static void offer_in_clause(struct completion *completion, enum word_id clause)
{
	bool declares = completion->fitting.context == IN_FILE;

	switch (clause) {
	case WORD_tank:
	case WORD_heater:
	case WORD_thermometer:
	case WORD_graduate:
	case WORD_film:
		if (!declares)
			offer_names(completion, clause == WORD_tank	     ? NAME_OF_TANK
						: clause == WORD_heater	     ? NAME_OF_HEATER
						: clause == WORD_thermometer ? NAME_OF_THERMOMETER
						: clause == WORD_graduate    ? NAME_OF_GRADUATE
									     : NAME_OF_FILM);
		break;
	case WORD_runs:
		offer_names(completion, NAME_OF_PROCESS);
		break;
	case WORD_process:
		if (!declares)
			offer_names(completion, NAME_OF_PROCESS);
		break;
	case WORD_tanks:
		offer_names(completion, NAME_OF_TANK);
		break;
	case WORD_dryer:
		if (!declares)
			offer_names(completion, NAME_OF_BATH);
		break;
	case WORD_condition:
		offer_vocabulary(completion, VOCABULARY_CONDITIONS);
		break;
	case WORD_needs:
	case WORD_develop:
	case WORD_family:
	case WORD_develops:
		offer_vocabulary(completion, VOCABULARY_FAMILIES);
		break;
	case WORD_waste:
		offer_vocabulary(completion, VOCABULARY_STREAMS);
		break;
	case WORD_contains:
		offer_vocabulary(completion, VOCABULARY_CLASSES);
		break;
	case WORD_hazards:
		offer_hazards(completion);
		offer_texts(completion, (const char *const[]){ "none", NULL });
		break;
	case WORD_takes:
	case WORD_load:
	case WORD_format:
	case WORD_reels:
		offer_vocabulary(completion, VOCABULARY_FORMATS);
		break;
	case WORD_kit:
		offer_texts(completion, (const char *const[]){ "powder", "liquid", NULL });
		break;
	case WORD_stock:
		offer_texts(completion, (const char *const[]){ "pooled", "separate", NULL });
		break;
	case WORD_backing:
		offer_texts(completion, (const char *const[]){ "none", "rem-jet", NULL });
		break;
	case WORD_emulsion:
		offer_texts(completion, (const char *const[]){ "soft", "hardened", "tabular", NULL });
		break;
	default:
		break;
	}
}

/* Behind `add`: a chemical, and behind that which of its forms. */
static void offer_chemicals(struct completion *completion, struct text last)
{
	size_t chemical = vocabulary_find(VOCABULARY_CHEMICALS, last);
	const char *at;

	if (text_equal(last, TEXT("add"))) {
		offer_vocabulary(completion, VOCABULARY_CHEMICALS);
		return;
	}
	if (chemical == vocabulary_size(VOCABULARY_CHEMICALS))
		return;
	for (at = chemical_row((enum chemical_id)chemical)->hydrates; *at != '\0';) {
		size_t length = strcspn(at, " ");

		offer(completion, ITEM_IS_VALUE, (struct text){ at, length }, TEXT("which form"));
		at += length + (at[length] == ' ');
	}
}

static void offer_fitting_names(struct completion *completion)
{
	struct text last = source_text(completion->sources, completion->fitting.last);
	enum word_id clause = completion->fitting.clause_word;

	if (clause == WORD_add)
		offer_chemicals(completion, last);
	else if (!offer_after(completion, word_find(last)))
		offer_in_clause(completion, clause);
}

/* ---- texts ---- */

/* In a text or a comment, as far as its line tells. */
static bool is_in_text(const struct completion *completion, bool *is_comment, struct text *line)
{
	size_t begin = completion->before.length;
	bool is_open = false;

	while (begin > 0 && completion->before.data[begin - 1] != '\n' && completion->before.data[begin - 1] != '\r')
		begin--;
	*line = (struct text){ completion->before.data + begin, completion->before.length - begin };
	*is_comment = false;
	for (size_t i = 0; i < line->length; i++) {
		char byte = line->data[i];

		if (byte == '#' && !is_open) {
			*is_comment = true;
			return true;
		}
		if (byte == '\\' && is_open)
			i++;
		else if (byte == '"')
			is_open = !is_open;
	}
	return is_open;
}

/* Behind `use "` and `rolls from "`: the files of a kind beside this one and below. */
static void offer_files(struct completion *completion, struct text suffix)
{
	const struct source_file *file = document_file(completion->document);
	struct folder_files files = { 0 };

	if (file->real.length == 0)
		return;
	folder_find(&files, completion->request->arena, file->directory, suffix, true);
	for (size_t i = 0; i < files.count; i++) {
		struct text path = files.paths[i];

		path.data += file->directory.length + 1;
		path.length -= file->directory.length + 1;
		if (!text_equal(files.paths[i], file->name))
			offer(completion, ITEM_IS_FILE, path, TEXT(""));
	}
}

/* ---- the request ---- */

/* The text before the cursor, without the part of a word that has been typed. */
static void find_typed(struct completion *completion)
{
	const struct source_file *file = document_file(completion->document);
	uint32_t address = request_address(completion->request, completion->document);
	uint32_t begin = address - file->base;

	while (begin > 0 && is_word_byte(file->bytes[begin - 1]))
		begin--;
	while (begin < address - file->base && !is_letter(file->bytes[begin]) && file->bytes[begin] != '%')
		begin++; /* a figure before its unit */
	completion->typed = (struct span){ file->base + begin, address - file->base - begin };
	completion->before = (struct text){ file->bytes, begin };
}

static void find_fitting(struct completion *completion)
{
	struct arena *arena = completion->request->arena;
	const struct source_file *file;
	struct text problem;

	completion->sources = ARENA_NEW(arena, struct source_set);
	source_set_init(completion->sources, arena);
	file = source_add(completion->sources, TEXT(""), completion->before, &problem);
	if (file != NULL)
		completion->fitting = parse_fitting(completion->sources, file, arena);
}

/* A line, but for the blanks before it. */
static bool begins_with(struct text line, struct text words)
{
	while (line.length > 0 && (line.data[0] == ' ' || line.data[0] == '\t'))
		line = (struct text){ line.data + 1, line.length - 1 };
	return line.length > words.length && memcmp(line.data, words.data, words.length) == 0;
}

/* Where a name fits, so does every word of the language, which is not worth saying. */
static bool takes_any_word(const struct feed_fitting *fitting)
{
	return fitting->name && fitting->words[WORD_lid] && fitting->words[WORD_energy];
}

void completion_answer(struct request *request)
{
	const struct document *document = request_document(request);
	struct completion completion = { .request = request, .document = document };
	struct json_node result;
	struct text line;
	bool is_comment;

	if (document == NULL)
		return;
	result = json_node_object(request->answer, "result");
	json_node_flag(result, "isIncomplete", false);
	completion.list = json_node_list(result, "items");
	find_typed(&completion);
	if (is_in_text(&completion, &is_comment, &line)) {
		if (!is_comment && begins_with(line, TEXT("use")))
			offer_files(&completion, TEXT(".wet"));
		else if (!is_comment && begins_with(line, TEXT("rolls from")))
			offer_files(&completion, TEXT(".csv"));
		return;
	}
	find_fitting(&completion);
	if (!completion.fitting.is_known)
		return;
	if (completion.fitting.unit)
		offer_units(&completion);
	if (completion.fitting.name)
		offer_fitting_names(&completion);
	if (!takes_any_word(&completion.fitting))
		offer_words(&completion);
}
