/* Rolls: the facts of one, and the clauses of a `roll` declaration. */
#include "model/film_area.h"
#include "model/resolve_day.h"

struct roll *roll_new(struct recipe *recipe)
{
	struct roll *roll = ARENA_NEW(recipe->arena, struct roll);

	roll->format = FORMAT_COUNT;
	roll->needs = FAMILY_COUNT;
	roll->develop_as = FAMILY_COUNT;
	roll->run = ROLL_NO_RUN;
	return roll;
}

void roll_list_add(struct roll_list *list, struct roll *roll)
{
	*(list->end == NULL ? &list->first : list->end) = roll;
	list->end = &roll->next;
	list->count++;
}

/* ---- facts ------------------------------------------------------------------------------------------------------ */

struct text roll_text(struct recipe *recipe, struct text text)
{
	return text.length == 0 ? text : intern_text(recipe->names, intern_name(recipe->names, text));
}

void roll_set_label(struct recipe *recipe, struct roll *roll, struct placed_text value)
{
	roll->label = roll_text(recipe, value.text);
	roll->span = value.span;
}

void roll_set_format(struct recipe *recipe, struct roll *roll, struct placed_text value)
{
	roll->format_span = value.span;
	read_format_at(recipe, value.text, value.span, &roll->format);
}

/* Null, or the finding that it is no family. */
static struct diagnostic *set_family(struct recipe *recipe, struct placed_text value, enum family_id *family,
				     struct span *span)
{
	size_t index;
	struct diagnostic *finding = read_word_at(recipe, value.text, value.span, VOCABULARY_FAMILIES, &index);

	*span = value.span;
	if (finding == NULL)
		*family = (enum family_id)index;
	return finding;
}

void roll_set_needs(struct recipe *recipe, struct roll *roll, struct placed_text value)
{
	struct diagnostic *finding = set_family(recipe, value, &roll->needs, &roll->needs_span);

	if (finding != NULL)
		report_help(recipe->report, finding,
			    "%.*s; where nobody knows it, see `wetside explain undecided-roll`",
			    TEXT_ARGUMENT(finding->help));
}

void roll_set_develop_as(struct recipe *recipe, struct roll *roll, struct placed_text value)
{
	set_family(recipe, value, &roll->develop_as, &roll->develop_span);
}

void roll_add_condition(struct recipe *recipe, struct roll *roll, struct placed_text value)
{
	size_t index;

	roll->conditions_span =
		span_is_set(roll->conditions_span) ? span_join(roll->conditions_span, value.span) : value.span;
	if (read_word_at(recipe, value.text, value.span, VOCABULARY_CONDITIONS, &index) == NULL)
		roll->conditions |= (condition_set)1 << index;
}

void roll_set_name(struct recipe *recipe, struct name_reference *name, struct placed_text value)
{
	*name = (struct name_reference){ intern_name(recipe->names, value.text), value.span };
}

/* ---- what follows ----------------------------------------------------------------------------------------------- */

static void complain_film(struct recipe *recipe, struct span span, const char *problem, const char *help)
{
	report_help(recipe->report, report_add(recipe->report, CHECK_out_of_place, span, "%s", problem), "%s", help);
}

static void find_area(struct recipe *recipe, struct roll *roll)
{
	int64_t area = format_row(roll->format)->area_milli_sq_in;

	if (span_is_set(roll->exposures.span) && span_is_set(roll->length.span)) {
		complain_film(recipe, roll->length.span, "a length and a number of exposures",
			      "say one of them: each tells how much film it is");
	} else if (span_is_set(roll->exposures.span)) {
		area = film_area_of_exposures(roll->format, roll->exposures.value);
		if (area < 0)
			complain_film(recipe, roll->exposures.span, "this format has no such number of exposures",
				      "exposures are counted on 135, 126 and 110");
	} else if (span_is_set(roll->length.span)) {
		area = film_area_of_length(roll->format, roll->length.value);
		if (area < 0)
			complain_film(recipe, roll->length.span, "this format comes in no lengths",
				      "lengths are of 135, super-8, double-8, cine-16 or cine-35");
	}
	if (area > 0)
		roll->area_milli_rolls = film_area_milli_rolls(area);
}

static void complain_reason(struct recipe *recipe, const struct roll *roll)
{
	report_help(recipe->report,
		    report_add(recipe->report, CHECK_missing_clause, roll->develop_span,
			       "a roll that is developed as something else, without a reason"),
		    "say why, it is printed");
}

void roll_finish(struct recipe *recipe, struct roll *roll)
{
	struct symbol *film = roll->film_name.name == 0 ? NULL : symbol_refer(recipe, SYMBOL_FILM, roll->film_name);

	if (film != NULL) {
		film->declared->is_used = true;
		roll->film = (const struct film *)film->declared;
		if (!span_is_set(roll->needs_span) && span_is_set(roll->film->family_span))
			roll->needs = roll->film->family;
	}
	if (roll->run_name.name != 0)
		symbol_refer(recipe, SYMBOL_PROCESS, roll->run_name);
	if (span_is_set(roll->develop_span) && roll->develop_reason.text.length == 0)
		complain_reason(recipe, roll);
	if (roll->format != FORMAT_COUNT)
		find_area(recipe, roll);
	else if (!span_is_set(roll->format_span))
		complain_missing(recipe, roll->span, "a roll without its format", "add a line such as `format 135`");
}

/* ---- a declaration ---------------------------------------------------------------------------------------------- */

static struct placed_text word_at(const struct reader *reader, node_index node)
{
	return (struct placed_text){ read_text(reader, node), tree_node(reader->tree, node)->span };
}

static void read_own_text(const struct reader *reader, node_index clause, struct text *text, struct span *span)
{
	if (read_is_repeated(reader, clause, *span))
		return;
	*span = tree_node(reader->tree, clause)->span;
	*text = roll_text(reader->recipe, read_prose(reader, first_of(reader, clause)).text);
}

static void read_own_flag(const struct reader *reader, node_index clause, bool *flag, struct span *span)
{
	if (read_is_repeated(reader, clause, *span))
		return;
	*span = tree_node(reader->tree, clause)->span;
	*flag = true;
}

static void read_own_name(const struct reader *reader, node_index clause, struct name_reference *name)
{
	if (!read_is_repeated(reader, clause, name->span))
		roll_set_name(reader->recipe, name, word_at(reader, first_of(reader, clause)));
}

static void read_own_format(const struct reader *reader, node_index clause, struct roll *roll)
{
	node_index first = first_of(reader, clause);

	if (read_is_repeated(reader, clause, roll->format_span))
		return;
	roll->format_span = tree_node(reader->tree, clause)->span;
	read_format(reader, first, &roll->format);
}

static void read_own_push(const struct reader *reader, node_index clause, struct roll *roll)
{
	if (read_thousandths(reader, clause, first_of(reader, clause), &roll->push) &&
	    tree_node(reader->tree, clause)->kind == NODE_pull)
		roll->push.value = -roll->push.value;
}

static void read_conditions(const struct reader *reader, node_index clause, struct roll *roll)
{
	struct number_map seen = { 0 };

	if (read_is_repeated(reader, clause, roll->conditions_span))
		return;
	for (node_index node = first_of(reader, clause); node != 0; node = tree_node(reader->tree, node)->next) {
		struct placed_text word = word_at(reader, node);

		if (!read_is_listed(reader, &seen, intern_name(reader->recipe->names, word.text), word.span))
			roll_add_condition(reader->recipe, roll, word);
	}
}

static void read_develop_as(const struct reader *reader, node_index node, struct roll *roll)
{
	node_index family = first_of(reader, node);

	if (read_is_repeated(reader, node, roll->develop_span))
		return;
	roll_set_develop_as(reader->recipe, roll, word_at(reader, family));
	roll->develop_reason = read_prose(reader, tree_node(reader->tree, family)->next);
}

static void read_needs(const struct reader *reader, node_index clause, struct roll *roll)
{
	node_index first = first_of(reader, clause);

	if (read_is_repeated(reader, clause, roll->needs_span))
		return;
	roll_set_needs(reader->recipe, roll, word_at(reader, first));
	for (node_index node = tree_node(reader->tree, first)->next; node != 0;
	     node = tree_node(reader->tree, node)->next)
		if (tree_node(reader->tree, node)->kind == NODE_develop_as)
			read_develop_as(reader, node, roll);
		else
			read_own_text(reader, node, &roll->decided_by, &roll->decided_span);
}

static void read_set_aside(const struct reader *reader, node_index clause, struct roll *roll)
{
	if (read_is_repeated(reader, clause, roll->set_aside.span))
		return;
	roll->set_aside = read_prose(reader, first_of(reader, clause));
	if (roll->set_aside.text.length == 0)
		report_help(reader->recipe->report,
			    report_add(reader->recipe->report, CHECK_missing_clause, roll->set_aside.span,
				       "a roll set aside without a reason"),
			    "say why, it is printed");
}

static void read_clause(const struct reader *reader, node_index clause, struct roll *roll)
{
	node_index first = first_of(reader, clause);

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_format:
		read_own_format(reader, clause, roll);
		break;
	case NODE_exposures:
		read_count(reader, clause, first, 1, &roll->exposures);
		break;
	case NODE_length:
		read_positive(reader, clause, first, QUANTITY_LENGTH, &roll->length);
		break;
	case NODE_needs:
		read_needs(reader, clause, roll);
		break;
	case NODE_develop_as:
		read_develop_as(reader, clause, roll);
		break;
	case NODE_decided:
		read_own_text(reader, clause, &roll->decided_by, &roll->decided_span);
		break;
	case NODE_use_film:
		read_own_name(reader, clause, &roll->film_name);
		break;
	case NODE_use_process:
		read_own_name(reader, clause, &roll->run_name);
		break;
	case NODE_origin:
		read_own_text(reader, clause, &roll->origin, &roll->origin_span);
		break;
	case NODE_together:
		if (!read_is_repeated(reader, clause, roll->together_span)) {
			roll->together = roll_text(reader->recipe, read_text(reader, first));
			roll->together_span = tree_node(reader->tree, clause)->span;
		}
		break;
	case NODE_urgent:
		read_own_flag(reader, clause, &roll->is_urgent, &roll->urgent_span);
		break;
	case NODE_precious:
		read_own_flag(reader, clause, &roll->is_precious, &roll->precious_span);
		break;
	case NODE_push:
	case NODE_pull:
		read_own_push(reader, clause, roll);
		break;
	case NODE_condition:
		read_conditions(reader, clause, roll);
		break;
	case NODE_made:
		read_count(reader, clause, first, 1, &roll->made);
		break;
	case NODE_mark:
		read_own_text(reader, clause, &roll->mark, &roll->mark_span);
		break;
	default:
		read_set_aside(reader, clause, roll);
		break;
	}
}

/* A label is a name, or a text in quotes where it is none. */
static void read_label(const struct reader *reader, node_index node, struct roll *roll)
{
	struct placed_text label = word_at(reader, node);

	if (tree_node(reader->tree, node)->kind == NODE_string)
		label.text = read_prose(reader, node).text;
	roll_set_label(reader->recipe, roll, label);
	if (label.text.length == 0)
		report_help(reader->recipe->report,
			    report_add(reader->recipe->report, CHECK_missing_clause, label.span,
				       "a roll without a label"),
			    "write what stands on its sticker, as in `roll SM-041`");
}

struct roll *roll_read(const struct reader *reader)
{
	struct roll *roll = roll_new(reader->recipe);
	node_index child = first_of(reader, reader->block);

	roll->whole = tree_node(reader->tree, reader->block)->span;
	read_label(reader, child, roll);
	child = tree_node(reader->tree, child)->next;
	if (child != 0 && tree_node(reader->tree, child)->kind == NODE_string) {
		roll->title = read_prose(reader, child);
		child = tree_node(reader->tree, child)->next;
	}
	for (; child != 0; child = tree_node(reader->tree, child)->next)
		if (!read_common(reader, child, &roll->notes, &roll->allowances))
			read_clause(reader, child, roll);
	roll_finish(reader->recipe, roll);
	return roll;
}
