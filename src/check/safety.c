/* The checks of group "chemistry" about hazards and waste. */
#include "check/allowance.h"
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
	check_help(run, finding,
		   "copy the codes from section 2 of its safety data sheet, as in `hazards H315, H317`, or write "
		   "`hazards none`");
}

void check_unknown_hazard(struct check_run *run)
{
	for (const struct hazard *hazard = run->solution->hazards; hazard; hazard = hazard->next) {
		if (hazard_text(hazard->code).length > 0)
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

static bool is_any(const char *things)
{
	return things[0] == '*';
}

/* Both sides of a row in one bath: it is dangerous by itself, which never-mix says. */
static bool clashes_with_itself(const struct mixture *mixture)
{
	size_t count;
	const struct never_mix_row *rows = never_mix_rows(&count);
	for (size_t i = 0; i < count; i++) {
		if (rows[i].when == NEVER_MIX_ALWAYS && !mixture_holds(mixture, rows[i].unless) &&
		    mixture_holds(mixture, rows[i].one) &&
		    (is_any(rows[i].other) ? mixture_holds_else(mixture, rows[i].one)
					   : mixture_holds(mixture, rows[i].other)))
			return true;
	}
	return false;
}

/* The row by which two baths must never be poured together; null where there is none. */
static const struct never_mix_row *clash_between(const struct mixture *a, const struct mixture *b)
{
	size_t count;
	const struct never_mix_row *rows = never_mix_rows(&count);
	for (size_t i = 0; i < count; i++) {
		const struct never_mix_row *row = &rows[i];
		bool forth = mixture_holds(a, row->one) && (is_any(row->other) || mixture_holds(b, row->other));
		bool back = mixture_holds(b, row->one) && (is_any(row->other) || mixture_holds(a, row->other));
		bool is_harmless = mixture_holds(a, row->unless) || mixture_holds(b, row->unless);
		if (row->when == NEVER_MIX_ALWAYS && (forth || back) && !is_harmless)
			return row;
	}
	return NULL;
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

static bool shares_container(const struct solution *a, const struct solution *b)
{
	return a != b && span_is_set(a->waste_span) && span_is_set(b->waste_span) && a->waste == b->waste &&
	       a->waste != STREAM_none;
}

/* The classes that may clash with a mixture; too many rather than too few. Most baths clash with nothing that is in the
 * room, and for them no other bath need be looked at. */
static class_set classes_against(const struct mixture *mixture)
{
	class_set against = 0;
	size_t count;
	const struct never_mix_row *rows = never_mix_rows(&count);
	for (size_t i = 0; i < count; i++) {
		class_set one = mixture_classes_asked(rows[i].one);
		class_set other = mixture_classes_asked(rows[i].other);
		if ((mixture->classes & one) != 0)
			against |= is_any(rows[i].other) ? ~(class_set)0 : other;
		if ((mixture->classes & other) != 0 || is_any(rows[i].other))
			against |= one;
	}
	return against;
}

/* A container stands in the room for all processes, so every declared bath counts. */
void check_waste_streams_clash(struct check_run *run)
{
	const struct solution *solution = run->solution;
	struct mixture mine = mixture_of(solution, true);
	class_set against = classes_against(&mine);
	bool meets_all = against == ~(class_set)0;
	if ((!meets_all && (run->recipe->waste_classes[solution->waste] & against) == 0) || clashes_with_itself(&mine))
		return;
	bool is_past = false;
	for (size_t i = 0; i < run->recipe->solution_count; i++) {
		const struct solution *other = run->recipe->solutions[i];
		is_past = is_past || other == solution;
		if (!shares_container(solution, other))
			continue;
		struct mixture theirs = mixture_of(other, true);
		if ((!meets_all && (theirs.classes & against) == 0) || clashes_with_itself(&theirs))
			continue;
		const struct never_mix_row *row = clash_between(&mine, &theirs);
		if (row && !is_allowed_by(run, other))
			report_clash(run, is_past ? solution : other, is_past ? other : solution, row);
	}
}
