/* Running the table of checks over a resolved process. Each check is a pure function: it reads the model and the
 * timeline, adds to the report, changes nothing else. Functions are found by the row's id: `check_<id>`. */
#ifndef CHECK_RUN_H
#define CHECK_RUN_H

#include "check/basis.h"
#include "compute/timeline.h"
#include "model/day.h"
#include "model/recipe.h"

struct day_plan;

struct check_run {
	const struct recipe *recipe;
	const struct check_basis *basis;
	const struct process *process;	     /* of a roll: the one that develops it, null where none does */
	const struct timeline *timeline;     /* null for rolls and days */
	const struct used_time *used;	     /* one for each step; null for rolls and days */
	const struct conditions *conditions; /* of this run */
	const struct day *day;		     /* that the subject belongs to; null for all but rolls and days */
	const struct roll *roll;	     /* the subject, where it is a roll; else null */
	const struct process *const *runs;   /* by index of day->runs; null where one may not be judged */
	const struct day_plan *plan;	     /* of the day, where it is the subject and can be planned; else null */
	struct report *report;
	struct arena *arena;	 /* scratch for the run */
	enum check_id check;	 /* the row being run */
	const struct step *step; /* the subject, where it is a step; else null */
	size_t step_index;
	const struct solution *solution; /* the subject's solution, where it has one; else null */
	bool is_complete; /* the process is (sequence_is_complete): asked by many rows about each of its steps */
	bool *has_spoken; /* kept by check/run, by row: it, or a row that it needs, found something about the subject */
};

/** Adds a finding of the row being run. An `allow` of that row on the step, its solution, the process, what it is run
 * in and on (tank, vessels, films), on the roll, its stock, the day, or the file marks it as allowed. Returns it for
 * help and notes; never null. */
struct diagnostic *check_add(struct check_run *run, struct span span, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/** Says what would be right about the finding just added. */
void check_help(struct check_run *run, struct diagnostic *finding, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/** Says what is to be written in the place of `span`: one of the things that may have been meant. */
void check_fix(struct check_run *run, struct diagnostic *finding, struct span span, struct text text);

/** Says which clause is to be added at the end of a declaration's block, where it has one. */
void check_fix_clause(struct check_run *run, struct diagnostic *finding, const struct declared *declared,
		      enum fix_confidence confidence, struct text clause);

/** Points at another place concerned. */
void check_note(struct check_run *run, struct diagnostic *finding, struct span span, const char *format, ...)
	__attribute__((format(printf, 4, 5)));

/** Runs every row on one process: its solutions (those its steps use, and their stocks), its steps, itself. Solutions
 * that several processes share give each finding once. Findings stay in the recipe's report. */
void check_process(struct recipe *recipe, const struct check_basis *basis, const struct process *process,
		   const struct timeline *timeline, const struct used_time *used, const struct conditions *conditions,
		   struct arena *arena);

/** Runs every row on the rolls of a day that may be judged, and on the day itself. Returns the plan by which the day is
 * judged, without its remedies, in `plan_arena`; null where it cannot be planned. */
struct day_plan *check_day(struct recipe *recipe, const struct check_basis *basis, const struct day *day,
			   struct arena *arena, struct arena *plan_arena);

/** Runs the rows of one kind on the subject in the run, which stands at `span`. */
void check_rows(struct check_run *run, enum check_subject subject, struct span span);

/** After all processes: allows that covered nothing, declarations never used. */
void check_leftovers(struct recipe *recipe);

#endif
