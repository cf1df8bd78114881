/* The checks of group "chemistry" about hazards and waste. */
#include "check/checks.h"
#include "check/mixture.h"
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
	check_help(run, finding, "copy the codes from section 2 of its safety data sheet, as in `hazards H315, H317`, or write "
				 "`hazards none`");
}

void check_unknown_hazard(struct check_run *run)
{
	for (const struct hazard *hazard = run->solution->hazards; hazard; hazard = hazard->next) {
		if (hazard_text(hazard->code).length > 0)
			continue;
		struct diagnostic *finding =
			check_add(run, hazard->span, "no hazard statement has the code %.*s", TEXT_ARGUMENT(hazard->code));
		struct text nearest = hazard_nearest(hazard->code);
		if (nearest.length > 0)
			check_help(run, finding, "did you mean `%.*s`?", TEXT_ARGUMENT(nearest));
		else
			check_help(run, finding, "codes are H and three figures, or EUH and three figures, as on the data sheet");
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
	struct diagnostic *finding =
		check_add(run, solution->declared.name_span, "%.*s has no waste route", TEXT_ARGUMENT(print_solution(run, solution)));
	check_help(run, finding, "write `waste %.*s`, if your licensed handler takes it with %.*s",
		   TEXT_ARGUMENT(stream_row(usual)->word), TEXT_ARGUMENT(stream_row(usual)->title));
}

/* The row by which two baths must never be poured together; null where there is none. */
static const struct never_mix_row *clash_between(const struct mixture *a, const struct mixture *b)
{
	size_t count;
	const struct never_mix_row *rows = never_mix_rows(&count);
	for (size_t i = 0; i < count; i++) {
		const struct never_mix_row *row = &rows[i];
		bool is_any = row->other[0] == '*';
		bool forth = mixture_holds(a, row->one) && (is_any || mixture_holds(b, row->other));
		bool back = mixture_holds(b, row->one) && (is_any || mixture_holds(a, row->other));
		bool is_harmless = mixture_holds(a, row->unless) || mixture_holds(b, row->unless);
		if (row->when == NEVER_MIX_ALWAYS && (forth || back) && !is_harmless)
			return row;
	}
	return NULL;
}

static bool has_container(const struct solution *solution)
{
	return span_is_set(solution->waste_span) && solution->waste != STREAM_none;
}

static void report_clash(struct check_run *run, const struct solution *other, const struct never_mix_row *row)
{
	struct text stream = stream_row(run->solution->waste)->word;
	struct diagnostic *finding =
		check_add(run, run->solution->waste_span, "%.*s and %.*s share the %.*s container: %s",
			  TEXT_ARGUMENT(print_solution(run, run->solution)), TEXT_ARGUMENT(print_solution(run, other)),
			  TEXT_ARGUMENT(stream), row->reason);
	check_help(run, finding, "give one of the two another container");
	check_note(run, finding, other->waste_span, "%.*s goes there too", TEXT_ARGUMENT(print_solution(run, other)));
}

/* A container stands in the room for all processes, so that every declared bath counts. Of two that are both used here
 * the one declared later speaks, once. */
void check_waste_streams_clash(struct check_run *run)
{
	const struct solution *solution = run->solution;
	if (!has_container(solution))
		return;
	struct mixture mine = mixture_of(solution, true);
	bool is_past = false;
	for (size_t i = 0; i < run->recipe->solution_count; i++) {
		const struct solution *other = run->recipe->solutions[i];
		is_past = is_past || other == solution;
		if (other == solution || !has_container(other) || other->waste != solution->waste ||
		    (is_past && mixing_needed(run->process, other) > 0))
			continue;
		struct mixture theirs = mixture_of(other, true);
		const struct never_mix_row *row = clash_between(&mine, &theirs);
		if (row)
			report_clash(run, other, row);
	}
}
