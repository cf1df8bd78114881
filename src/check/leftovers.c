#include "check/allowance.h"
#include "check/run.h"

/* What kind of thing a declaration declares: the keyword it begins with. */
static struct text kind_of(const struct recipe *recipe, const struct declared *declared)
{
	struct text text = source_text(recipe->sources, declared->span);
	size_t length = 0;
	while (length < text.length && text.data[length] >= 'a' && text.data[length] <= 'z')
		length++;
	return (struct text){ text.data, length };
}

/* Where something was not understood, what it uses or leaves to be allowed is not known. */
static bool is_understood(const struct recipe *recipe)
{
	if (recipe->has_parse_errors)
		return false;
	for (size_t i = 0; i < recipe->report->count; i++) {
		const struct check_row *row = check_row(recipe->report->items[i].check);
		if (row->subject == SUBJECT_SOURCE && row->severity == SEVERITY_ERROR)
			return false;
	}
	return true;
}

/* The `allow never-used` of a declaration, or the one at the top of its file. */
static const struct allowance *find_allowance(const struct recipe *recipe, const struct declared *declared)
{
	const struct allowance *found = allowance_in_list(declared->allowances, CHECK_never_used);
	if (found)
		return found;
	const struct source_file *home = source_file_of(recipe->sources, declared->name_span);
	found = allowance_in_list(recipe->allowances, CHECK_never_used);
	while (found && source_file_of(recipe->sources, found->span) != home)
		found = allowance_in_list(found->next, CHECK_never_used);
	return found;
}

static void report_never_used(struct recipe *recipe, const struct declared *declared)
{
	struct text kind = kind_of(recipe, declared);
	struct text name = intern_text(recipe->names, declared->name);
	struct diagnostic *finding = report_add(recipe->report, CHECK_never_used, declared->name_span,
						"no process or day of this file uses the %.*s `%.*s`",
						TEXT_ARGUMENT(kind), TEXT_ARGUMENT(name));
	report_help(recipe->report, finding,
		    "take it out, name it in a process, or keep it in a file of its own for `use`");
	const struct allowance *allowance = find_allowance(recipe, declared);
	if (allowance) {
		*allowance->used = true;
		report_allow(recipe->report, finding, allowance->reason.text);
	}
}

/* True where a check has a finding that nothing covers. */
static bool speaks(const struct recipe *recipe, enum check_id check)
{
	for (size_t i = 0; i < recipe->report->count; i++)
		if (recipe->report->items[i].check == check && !recipe->report->items[i].allowed.data)
			return true;
	return false;
}

static void report_allow_unused(struct recipe *recipe, const struct allowance *allowance)
{
	struct text name = check_row(allowance->check)->name;
	struct diagnostic *finding =
		report_add(recipe->report, CHECK_allow_unused, allowance->span,
			   "this covers nothing: %.*s has nothing to say here", TEXT_ARGUMENT(name));
	report_help(recipe->report, finding,
		    "take the `allow` out, or move it to the step or solution that it is about");
	/* While its check speaks elsewhere, it may just stand in the wrong place. */
	report_fix(recipe->report, finding, speaks(recipe, allowance->check) ? FIX_ASKS : FIX_SAFE,
		   fix_whole_clause(recipe->sources, allowance->span), TEXT(""));
}

void check_leftovers(struct recipe *recipe)
{
	if ((recipe_process_count(recipe) == 0 && recipe->day_count == 0) || !is_understood(recipe))
		return;
	for (size_t i = 0; i < recipe->declaration_count; i++) {
		const struct declared *declared = recipe->declarations[i];
		if (declared->is_in_main_file && !declared->is_used)
			report_never_used(recipe, declared);
	}
	const struct allowance *allowance = recipe->all_allowances;
	for (; allowance; allowance = allowance->next_in_recipe) {
		const struct source_file *home = source_file_of(recipe->sources, allowance->span);
		if (!*allowance->used && home && !span_is_set(home->used_from))
			report_allow_unused(recipe, allowance);
	}
}
