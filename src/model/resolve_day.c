/* Days: the clauses of a `day`, and where its rolls come from. */
#include "model/resolve_day.h"

#include "model/date.h"
#include "model/day_hours.h"

struct day_draft {
	struct day *day;
	struct day_hours hours;
	struct roll_list rolls;
	const struct source_file **files; /* of rolls, that were read */
	size_t file_count;
	size_t file_capacity;
};

/* ---- what is at hand -------------------------------------------------------------------------------------------- */

static void read_runs(const struct reader *reader, node_index clause, struct day *day)
{
	struct recipe *recipe = reader->recipe;
	node_index node = first_of(reader, clause);
	struct number_map seen = { 0 };

	if (day->runs != NULL && read_is_repeated(reader, clause, day->runs_span))
		return;
	day->runs_span = span_of(reader, clause);
	day->runs = ARENA_ARRAY(recipe->arena, struct day_run, read_chain_length(reader, node));
	for (; node != 0; node = tree_node(reader->tree, node)->next) {
		struct name_reference name = read_name(reader, node);
		struct symbol *process = symbol_refer(recipe, SYMBOL_PROCESS, name);

		if (process == NULL)
			day->is_incomplete = true;
		else if (!read_is_listed(reader, &seen, name.name, name.span))
			day->runs[day->run_count++] = day_run_of(recipe, process, name);
	}
}

static void read_tanks(const struct reader *reader, node_index clause, struct day *day)
{
	struct recipe *recipe = reader->recipe;
	node_index node = first_of(reader, clause);

	if (day->tanks != NULL && read_is_repeated(reader, clause, day->tanks_span))
		return;
	day->tanks_span = span_of(reader, clause);
	day->tanks = ARENA_ARRAY(recipe->arena, struct day_tank, read_chain_length(reader, node));
	for (; node != 0; node = tree_node(reader->tree, node)->next) {
		struct name_reference name = read_name(reader, node);
		struct symbol *tank = symbol_refer(recipe, SYMBOL_TANK, name);

		if (tank == NULL) {
			day->is_incomplete = true;
			continue;
		}
		tank->declared->is_used = true;
		day->tanks[day->tank_count++] = (struct day_tank){ name, (const struct tank *)tank->declared };
	}
}

static void read_reels(const struct reader *reader, node_index clause, struct day *day)
{
	node_index node = first_of(reader, clause);
	struct number_map seen = { 0 };

	if (day->reels != NULL && read_is_repeated(reader, clause, day->reels_span))
		return;
	day->reels_span = span_of(reader, clause);
	day->reels = ARENA_ARRAY(reader->recipe->arena, struct day_reels, read_chain_length(reader, node));
	for (; node != 0; node = tree_node(reader->tree, node)->next) {
		node_index number = first_of(reader, node);
		struct day_reels reels = { .span = span_of(reader, node) };
		struct quantity count = { 0 };

		if (!read_count(reader, node, number, 1, &count) ||
		    !read_format(reader, tree_node(reader->tree, number)->next, &reels.format) ||
		    read_is_listed(reader, &seen, (uint32_t)reels.format + 1, reels.span))
			continue;
		reels.count = count.value;
		day->reels[day->reels_count++] = reels;
	}
}

static void read_dryer(const struct reader *reader, node_index clause, struct day *day)
{
	struct recipe *recipe = reader->recipe;
	struct symbol *dryer;

	if (read_is_repeated(reader, clause, day->dryer_name.span))
		return;
	day->dryer_name = read_name(reader, first_of(reader, clause));
	dryer = symbol_refer(recipe, SYMBOL_BATH, day->dryer_name);
	if (dryer == NULL) {
		day->is_incomplete = true;
	} else if (dryer->node_kind != NODE_dryer) {
		report_add(recipe->report, CHECK_out_of_place, day->dryer_name.span, "this is a bath, not a dryer");
	} else {
		dryer->declared->is_used = true;
		day->dryer = (const struct dryer *)dryer->declared;
	}
}

static void read_on_hand(const struct reader *reader, node_index clause, struct day *day)
{
	struct recipe *recipe = reader->recipe;
	struct day_on_hand *bath = ARENA_NEW(recipe->arena, struct day_on_hand);
	struct day_on_hand **end = &day->on_hand;

	bath->on_hand = *on_hand_of(reader, clause);
	bath->on_hand.solution = on_hand_solution(recipe, &bath->on_hand);
	bath->is_tested = tree_child(reader->tree, clause, NODE_tested) != 0;
	for (; *end != NULL; end = &(*end)->next) {
		if ((*end)->on_hand.name.name != bath->on_hand.name.name)
			continue;
		report_note(recipe->report,
			    report_add(recipe->report, CHECK_defined_twice, bath->on_hand.name.span,
				       "this bath is on hand twice"),
			    (*end)->on_hand.span, "it was said here before");
		return;
	}
	*end = bath;
}

static void read_rolls_from(const struct reader *reader, node_index clause, struct day_draft *draft)
{
	struct recipe *recipe = reader->recipe;
	node_index path = first_of(reader, clause);
	struct text wanted = read_prose(reader, path).text;
	struct span span = span_of(reader, path);
	struct source_file *file = NULL;

	if (wanted.length > 0 || span.length >= 2) /* else reported when it was scanned */
		file = load_named_file(recipe, reader->tree->file, wanted, span);
	for (size_t i = 0; file != NULL && i < draft->file_count; i++) {
		if (draft->files[i]->real.length == 0 || !text_equal(draft->files[i]->real, file->real))
			continue;
		report_note(recipe->report,
			    report_add(recipe->report, CHECK_defined_twice, span, "this file is named twice"),
			    draft->files[i]->used_from, "it was named here before");
		file = NULL;
	}
	if (file == NULL)
		return;
	ARENA_RESERVE(recipe->arena, draft->files, draft->file_count, draft->file_capacity);
	draft->files[draft->file_count++] = file;
	rolls_file_read(recipe, file, span, &draft->rolls);
}

/* ---- the clauses of a day --------------------------------------------------------------------------------------- */

/* The time of the day that a clause declares; DAY_TIME_COUNT for any other clause. */
static enum day_time time_of(enum node_kind kind)
{
	switch (kind) {
#define DAY_TIME(id, word, usual_s, summary)                                                                           \
	case NODE_time_##id:                                                                                           \
		return DAY_TIME_##id;
#include "model/day_times.def"
#undef DAY_TIME
	default:
		return DAY_TIME_COUNT;
	}
}

static void read_clause(const struct reader *reader, node_index clause, struct day_draft *draft)
{
	struct day *day = draft->day;
	enum node_kind kind = (enum node_kind)tree_node(reader->tree, clause)->kind;
	enum day_time time = time_of(kind);

	if (time != DAY_TIME_COUNT) {
		read_quantity(reader, clause, first_of(reader, clause), QUANTITY_DURATION, &day->times[time]);
		return;
	}
	if (day_hours_read(reader, clause, &draft->hours))
		return;
	switch (kind) {
	case NODE_room:
		read_quantity(reader, clause, first_of(reader, clause), QUANTITY_TEMPERATURE, &day->room);
		break;
	case NODE_runs:
		read_runs(reader, clause, day);
		break;
	case NODE_tanks:
		read_tanks(reader, clause, day);
		break;
	case NODE_reels:
		read_reels(reader, clause, day);
		break;
	case NODE_use_dryer:
		read_dryer(reader, clause, day);
		break;
	case NODE_on_hand:
		read_on_hand(reader, clause, day);
		break;
	default:
		break;
	}
}

/* The rolls come after all else: first those of files, then the day's own. */
static void read_rolls(const struct reader *reader, node_index clauses, struct day_draft *draft)
{
	for (node_index clause = clauses; clause != 0; clause = tree_node(reader->tree, clause)->next)
		if (tree_node(reader->tree, clause)->kind == NODE_rolls_from)
			read_rolls_from(reader, clause, draft);
	for (node_index clause = clauses; clause != 0; clause = tree_node(reader->tree, clause)->next) {
		struct reader roll = { reader->recipe, reader->tree, clause };

		if (tree_node(reader->tree, clause)->kind == NODE_roll)
			roll_list_add(&draft->rolls, roll_read(&roll));
	}
}

static struct day *day_resolve(struct recipe *recipe, struct symbol *symbol, const struct roll_list *loose)
{
	struct reader reader = symbol_reader(recipe, symbol);
	struct day *day = ARENA_NEW(recipe->arena, struct day);
	struct day_draft draft = { .day = day, .hours = day_hours_of(day) };
	node_index date = tree_node(symbol->tree, symbol->node)->first;
	node_index clauses = symbol_open(&reader, symbol, &day->declared);
	size_t errors = recipe->report->errors;

	if (span_is_set(read_date(&reader, date)))
		day->date = date_days(read_text(&reader, date));
	for (node_index clause = clauses; clause != 0; clause = tree_node(symbol->tree, clause)->next)
		if (!read_common(&reader, clause, &day->declared.notes, &day->declared.allowances))
			read_clause(&reader, clause, &draft);
	day_hours_settle(&reader, &draft.hours);
	if (recipe->report->errors == errors && !span_is_set(day->runs_span))
		complain_missing(recipe, day->declared.name_span, "a day without its processes",
				 "add a line such as `runs colour-negative`");
	read_rolls(&reader, clauses, &draft);
	if (loose != NULL && loose->first != NULL) {
		*(draft.rolls.end == NULL ? &draft.rolls.first : draft.rolls.end) = loose->first;
		draft.rolls.count += loose->count;
	}
	day->rolls = draft.rolls.first;
	day->roll_count = draft.rolls.count;
	day_assign(day);
	return day;
}

/* ---- all of them ------------------------------------------------------------------------------------------------ */

static struct roll_list read_loose_rolls(struct recipe *recipe)
{
	const struct resolver *resolver = recipe->resolver;
	struct roll_list rolls = { 0 };

	for (size_t i = 0; i < resolver->file_count; i++) {
		const struct tree *tree = resolver->files[i].tree;

		for (node_index node = tree->first; node != 0; node = tree_node(tree, node)->next) {
			struct reader reader = { recipe, tree, node };

			if (tree_node(tree, node)->kind == NODE_roll)
				roll_list_add(&rolls, roll_read(&reader));
		}
	}
	recipe->rolls = rolls.first;
	return rolls;
}

/* A roll is developed once: where there are two days, it says by its place which is meant. */
static void complain_loose(struct recipe *recipe, const struct roll *roll)
{
	report_help(recipe->report,
		    report_add(recipe->report, CHECK_out_of_place, roll->span,
			       "a roll outside of all days, where there are several"),
		    "move it into the day on which it is to be developed");
}

void days_resolve(struct recipe *recipe)
{
	const struct resolver *resolver = recipe->resolver;
	struct roll_list loose = read_loose_rolls(recipe);
	bool is_taken = false;
	size_t capacity = 0;

	for (size_t i = 0; i < resolver->symbol_count; i++) {
		struct symbol *symbol = resolver->symbols[i];
		bool takes_loose = symbol->is_in_main_file && !is_taken;
		struct day *day;

		if (symbol->kind != SYMBOL_DAY || symbol->is_lost)
			continue;
		if (symbol->is_in_main_file && is_taken && loose.first != NULL) {
			complain_loose(recipe, loose.first);
			loose.first = NULL;
		}
		day = day_resolve(recipe, symbol, takes_loose ? &loose : NULL);
		is_taken = is_taken || symbol->is_in_main_file;
		symbol->declared = &day->declared;
		ARENA_RESERVE(recipe->arena, recipe->days, recipe->day_count, capacity);
		recipe->days[recipe->day_count++] = day;
	}
}
