/* The checks of group "chemistry" about hazards and waste. */
#include "check/allowance.h"
#include "check/checks.h"
#include "check/print.h"
#include "check/sequence.h"
#include "compute/mixing.h"
#include "model/hazards.h"

void check_no_hazards_declared(struct check_run *run)
{
	const struct solution *solution = run->solution;
	if (span_is_set(solution->hazards_span))
		return;
	struct diagnostic *finding = check_add(run, solution->declared.name_span, "%.*s says nothing about its hazards",
					       TEXT_ARGUMENT(print_solution(run, solution)));
	check_help(run, finding,
		   "copy the codes from section 2 of its safety data sheet, as in `hazards H315, H317`, or write "
		   "`hazards none`");
}

void check_unknown_hazard(struct check_run *run)
{
	for (const struct hazard *hazard = run->solution->hazards; hazard; hazard = hazard->next) {
		if (hazard->is_known)
			continue;
		struct diagnostic *finding = check_add(run, hazard->span, "no hazard statement has the code %.*s",
						       TEXT_ARGUMENT(hazard->code));
		struct text nearest = hazard_nearest(hazard->code);
		if (nearest.length > 0)
			check_help(run, finding, "did you mean `%.*s`?", TEXT_ARGUMENT(nearest));
		else
			check_help(run, finding,
				   "codes are H and three figures, or EUH and three figures, as on the data sheet");
	}
}

void check_no_waste_route(struct check_run *run)
{
	const struct solution *solution = run->solution;
	if (span_is_set(solution->waste_span) || !span_is_set(solution->role_span) ||
	    !mixing_is_poured(run->process, solution))
		return;
	enum stream_id usual = role_row(solution->role)->usual_stream;
	if (usual == STREAM_none)
		return;
	struct diagnostic *finding = check_add(run, solution->declared.name_span, "%.*s has no waste route",
					       TEXT_ARGUMENT(print_solution(run, solution)));
	check_help(run, finding, "write `waste %.*s`, if your licensed handler takes it with %.*s",
		   TEXT_ARGUMENT(stream_row(usual)->word), TEXT_ARGUMENT(stream_row(usual)->title));
	check_fix_clause(run, finding, &solution->declared, FIX_ASKS,
			 text_format(run->arena, "waste %.*s", TEXT_ARGUMENT(stream_row(usual)->word)));
}

/* The same text at the same place whichever of the two is the subject, so that a pair is reported once. */
static void report_clash(struct check_run *run, const struct solution *early, const struct solution *late,
			 const struct never_mix_row *row)
{
	struct diagnostic *finding =
		check_add(run, late->waste_span, "%.*s and %.*s share the %.*s container: %s",
			  TEXT_ARGUMENT(print_solution(run, late)), TEXT_ARGUMENT(print_solution(run, early)),
			  TEXT_ARGUMENT(stream_row(late->waste)->word), row->reason);
	check_help(run, finding, "give one of the two another container");
	check_note(run, finding, early->waste_span, "%.*s goes there too", TEXT_ARGUMENT(print_solution(run, early)));
}

/* An `allow` on the other bath covers the pair as well. */
static bool is_allowed_by(const struct check_run *run, const struct solution *other)
{
	const struct allowance *allowance = allowance_in_list(other->declared.allowances, run->check);
	if (allowance)
		*allowance->used = true;
	return allowance != NULL;
}

/* One more bath in a container may clash with a whole library; who has read of so many knows. */
#define CLASHES_MOST 20

static const struct never_mix_row *first_row(const struct mixing_rules *rules, row_set rows)
{
	size_t i = 0;
	while ((rows & ROW_BIT(i)) == 0)
		i++;
	return rules->never[i].row;
}

static void report_clashes(struct check_run *run, const struct container_group *group, row_set rows, size_t *left)
{
	const struct solution *solution = run->solution;
	for (size_t i = 0; *left > 0 && i < group->count; i++) {
		const struct solution *other = group->members[i];
		if (other == solution || is_allowed_by(run, other))
			continue;
		bool is_later = other->number > solution->number;
		report_clash(run, is_later ? solution : other, is_later ? other : solution,
			     first_row(run->basis->rules, rows));
		--*left;
	}
}

void check_waste_streams_clash(struct check_run *run)
{
	const struct mixing_rules *rules = run->basis->rules;
	const struct container *container = &run->basis->containers[run->solution->waste];
	if (container->count == 0 || !span_is_set(run->solution->waste_span))
		return;
	struct mixture mixture = mixture_of(run->solution, true);
	struct sides sides = mixture_sides(&mixture, rules);
	size_t left = CLASHES_MOST;
	if ((sides_meeting(sides) & rules->always) != 0)
		return;
	for (size_t i = 0; i < container->count; i++) {
		const struct container_group *group = &container->groups[i];
		row_set rows = sides_clashing(sides, group->sides, rules);
		if (rows != 0)
			report_clashes(run, group, rows, &left);
	}
}
