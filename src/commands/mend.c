/* A fix is tried before it is believed: the file is compiled with it, in memory, and its findings are compared. */
#include "commands/mend.h"

#include <stdio.h>
#include <stdlib.h>

#include "commands/delivery.h"
#include "commands/diagnostics.h"
#include "support/line_diff.h"
#include "support/utf8.h"

/* One mistake can hide another that is mended once it is gone; more layers than this are not to be expected. */
#define ROUNDS_MOST 50

/* A fix with the finding that it belongs to. */
struct candidate {
	const struct diagnostic *finding;
	const struct fix *fix;
};

struct mending {
	const struct invocation *invocation;
	const struct report *first; /* of the file as it was found */
	const struct source_file *file;
	struct text content; /* so far */
	size_t findings;     /* so far */
	struct output said;  /* lines for standard error */
};

/* What a trial came to. */
struct verdict {
	size_t findings;
	struct text fresh; /* the first finding that the file did not have; empty where there is none */
};

static bool counts(const struct diagnostic *finding)
{
	return finding->allowed.data == NULL;
}

static size_t count_findings(const struct report *report)
{
	size_t count = 0;

	for (size_t i = 0; i < report->count; i++)
		count += counts(&report->items[i]);
	return count;
}

static int compare_alike(const struct diagnostic *a, const struct diagnostic *b)
{
	if (a->check != b->check)
		return a->check < b->check ? -1 : 1;
	return text_compare(a->message, b->message);
}

static int compare_sorted(const void *left, const void *right)
{
	const struct diagnostic *a = *(const struct diagnostic *const *)left;
	const struct diagnostic *b = *(const struct diagnostic *const *)right;
	int order = compare_alike(a, b);

	return order != 0 ? order : (a > b) - (a < b);
}

/* The findings that count, those that are alike beside each other, in their order. */
struct sorted {
	const struct diagnostic **items;
	size_t count;
};

static struct sorted sort_alike(const struct report *report, struct arena *arena)
{
	struct sorted sorted = { ARENA_ARRAY(arena, const struct diagnostic *, report->count), 0 };

	for (size_t i = 0; i < report->count; i++)
		if (counts(&report->items[i]))
			sorted.items[sorted.count++] = &report->items[i];
	if (sorted.count > 1)
		qsort(sorted.items, sorted.count, sizeof(*sorted.items), compare_sorted);
	return sorted;
}

/* How many from one on are alike. */
static size_t count_alike(const struct sorted *sorted, size_t from)
{
	size_t to = from + 1;

	while (to < sorted->count && compare_alike(sorted->items[from], sorted->items[to]) == 0)
		to++;
	return to - from;
}

/* The first finding that the other report has not, or has fewer times; null where there is none. */
static const struct diagnostic *new_finding(const struct report *before, const struct report *after,
					    struct arena *arena)
{
	struct sorted old = sort_alike(before, arena), fresh = sort_alike(after, arena);
	const struct diagnostic *first = NULL;
	size_t place = 0;

	for (size_t i = 0, alike; i < fresh.count; i += alike) {
		const struct diagnostic *finding = fresh.items[i];
		size_t known = 0;

		alike = count_alike(&fresh, i);
		while (place < old.count && compare_alike(old.items[place], finding) < 0)
			place++;
		if (place < old.count && compare_alike(old.items[place], finding) == 0)
			known = count_alike(&old, place);
		if (alike > known && (first == NULL || finding < first))
			first = finding;
	}
	return first;
}

/* As it is stored, with its byte order mark. */
static struct text stored(const struct mending *mending, struct text content, struct arena *arena)
{
	size_t mark = mending->file->mark_length;
	struct text_builder text = text_builder_start(arena);

	if (mark == 0)
		return content;
	text_append(&text, (struct text){ mending->file->bytes - mark, mark });
	text_append(&text, content);
	return text_builder_text(&text);
}

static void compile_content(const struct mending *mending, const struct invocation *invocation, struct text content,
			    struct compilation *compilation)
{
	compile_text(invocation, mending->file, stored(mending, content, invocation->arena), compilation);
}

/* A content that is tried. */
struct trial {
	const struct mending *mending;
	struct text content;
	struct verdict verdict;
};

static void judge(struct arena *scratch, void *data)
{
	struct trial *trial = data;
	const struct mending *mending = trial->mending;
	struct invocation invocation = *mending->invocation;
	struct compilation compilation;
	const struct diagnostic *fresh;

	invocation.arena = scratch;
	compile_content(mending, &invocation, trial->content, &compilation);
	report_sort(&compilation.report);
	fresh = new_finding(mending->first, &compilation.report, scratch);
	trial->verdict = (struct verdict){
		.findings = count_findings(&compilation.report),
		.fresh = fresh == NULL ? TEXT("") : text_copy(mending->invocation->arena, fresh->message),
	};
}

/* Compiles in memory of its own, which is given back. */
static struct verdict try_content(const struct mending *mending, struct text content)
{
	struct trial trial = { .mending = mending, .content = content };

	arena_with_scratch(mending->invocation->arena, judge, &trial);
	return trial.verdict;
}

/* Takes a content over where it has fewer findings, and none that the file did not have. */
static bool take_content(struct mending *mending, struct text content, struct text *fresh)
{
	struct verdict verdict = try_content(mending, content);

	*fresh = verdict.fresh;
	if (verdict.fresh.length > 0 || verdict.findings >= mending->findings)
		return false;
	mending->findings = verdict.findings;
	mending->content = content;
	return true;
}

static int compare_candidates(const void *left, const void *right)
{
	const struct candidate *a = left, *b = right;

	if (a->fix->span.begin != b->fix->span.begin)
		return a->fix->span.begin < b->fix->span.begin ? -1 : 1;
	return (a->fix->span.length > b->fix->span.length) - (a->fix->span.length < b->fix->span.length);
}

/* The safe fixes that lie in the main file, sorted, without those that touch the one before. */
static size_t collect(const struct compilation *compilation, struct candidate *candidates)
{
	const struct source_file *file = compilation->sources.files[0];
	size_t found = 0;
	size_t count = 0;

	for (size_t i = 0; i < compilation->report.count; i++) {
		const struct diagnostic *finding = &compilation->report.items[i];

		if (counts(finding) && finding->fixes != NULL && finding->fixes->confidence == FIX_SAFE &&
		    source_file_of(&compilation->sources, finding->fixes->span) == file)
			candidates[found++] = (struct candidate){ finding, finding->fixes };
	}
	if (found > 1)
		qsort(candidates, found, sizeof(*candidates), compare_candidates);
	for (size_t i = 0; i < found; i++) {
		const struct span *before = count == 0 ? NULL : &candidates[count - 1].fix->span;

		if (before == NULL || candidates[i].fix->span.begin > before->begin + before->length)
			candidates[count++] = candidates[i];
	}
	return count;
}

static struct text content_with(const struct compilation *compilation, const struct candidate *candidates, size_t count)
{
	struct arena *arena = compilation->invocation->arena;
	const struct fix **fixes = ARENA_ARRAY(arena, const struct fix *, count);

	for (size_t i = 0; i < count; i++)
		fixes[i] = candidates[i].fix;
	return fix_apply(arena, compilation->sources.files[0], fixes, count);
}

static void say(struct mending *mending, const struct compilation *compilation, const struct candidate *candidate,
		const char *what, struct text reason)
{
	struct arena *arena = mending->invocation->arena;
	struct source_place place = source_locate(&compilation->sources, candidate->fix->span.begin);
	struct text words = fix_words(arena, candidate->fix);
	struct text line =
		text_format(arena, "%.*s:%zu:%zu: note: %s: %.*s; %.*s%.*s [%.*s]", TEXT_ARGUMENT(place.file->name),
			    place.line, place.column, what, TEXT_ARGUMENT(candidate->finding->message),
			    TEXT_ARGUMENT(words), TEXT_ARGUMENT(reason),
			    TEXT_ARGUMENT(check_row(candidate->finding->check)->name));

	output_write(&mending->said, utf8_harmless(arena, line));
	output_string(&mending->said, "\n");
}

static void say_fixed(struct mending *mending, const struct compilation *compilation,
		      const struct candidate *candidates, size_t count)
{
	const char *what = mending->invocation->shows_difference ? "would be fixed" : "fixed";

	for (size_t i = 0; i < count; i++)
		say(mending, compilation, &candidates[i], what, TEXT(""));
}

/* One fix after the other. Returns how many were applied; where none was, it is said why not. */
static size_t mend_round(struct mending *mending, const struct compilation *compilation,
			 const struct candidate *candidates, size_t count)
{
	struct arena *arena = mending->invocation->arena;
	struct text *reasons = ARENA_ARRAY(arena, struct text, count);
	struct candidate *kept_list = ARENA_ARRAY(arena, struct candidate, count);
	size_t kept = 0;

	for (size_t i = 0; i < count; i++) {
		kept_list[kept] = candidates[i];
		kept += take_content(mending, content_with(compilation, kept_list, kept + 1), &reasons[i]);
	}
	say_fixed(mending, compilation, kept_list, kept);
	for (size_t i = 0; kept == 0 && i < count; i++)
		say(mending, compilation, &candidates[i], "not fixed",
		    reasons[i].length == 0 ? TEXT(", but that does not help")
					   : text_format(arena, ", but then: %.*s", TEXT_ARGUMENT(reasons[i])));
	return kept;
}

static struct compilation *compilation_of(const struct mending *mending, struct text content)
{
	struct compilation *compilation = ARENA_NEW(mending->invocation->arena, struct compilation);

	compile_content(mending, mending->invocation, content, compilation);
	report_sort(&compilation->report);
	return compilation;
}

static struct candidate *room_for_candidates(const struct compilation *compilation)
{
	return ARENA_ARRAY(compilation->invocation->arena, struct candidate, compilation->report.count + 1);
}

/* All fixes, and those of what comes to light behind them: a mistake may hide one that has a fix too. False, and
 * nothing done, where that does not end well. */
static bool mend_boldly(struct mending *mending, const struct compilation *compilation)
{
	struct output said = mending->said;
	struct text content = mending->content;
	struct text fresh;

	for (int round = 0; round < ROUNDS_MOST; round++) {
		struct candidate *candidates = room_for_candidates(compilation);
		size_t count = collect(compilation, candidates);

		if (count == 0 && round > 0 && take_content(mending, content, &fresh))
			return true;
		if (count == 0)
			break;
		say_fixed(mending, compilation, candidates, count);
		content = content_with(compilation, candidates, count);
		compilation = compilation_of(mending, content);
	}
	mending->said = said;
	return false;
}

/* As far as each fix is well by itself. */
static void mend_carefully(struct mending *mending, const struct compilation *compilation)
{
	for (int round = 0; round < ROUNDS_MOST; round++) {
		struct candidate *candidates = room_for_candidates(compilation);
		size_t count = collect(compilation, candidates);

		if (count == 0 || mend_round(mending, compilation, candidates, count) == 0)
			return;
		compilation = compilation_of(mending, mending->content);
	}
}

/* ---- the file ---------------------------------------------------------------------------------------------------- */

static int write_difference(const struct mending *mending)
{
	struct arena *arena = mending->invocation->arena;
	struct text name = mending->file->name;

	return delivery_to_standard_output(arena, line_diff(arena, name, name, source_original(mending->file),
							    stored(mending, mending->content, arena)));
}

static int write_file(const struct mending *mending)
{
	struct arena *arena = mending->invocation->arena;

	return delivery_to_file(arena, mending->file->name, stored(mending, mending->content, arena), false);
}

int mend_file(const struct invocation *invocation, struct text file, struct compilation *compilation)
{
	struct mending mending = { .invocation = invocation, .first = &compilation->report };
	struct text before;
	bool is_changed;
	int status = 0;

	if (text_equal(file, TEXT("-")) && !invocation->shows_difference)
		return complain("--fix writes into files, and standard input is none; --diff beside it shows what it "
				"would write");
	if (compile_quietly(invocation, file, TEXT(""), compilation, NULL, NULL) == 2)
		return 2;
	report_sort(&compilation->report);
	mending.file = compilation->sources.files[0];
	before = (struct text){ mending.file->bytes, mending.file->length };
	mending.content = before;
	mending.findings = count_findings(&compilation->report);
	output_open_memory(&mending.said, invocation->arena);
	if (!mend_boldly(&mending, compilation))
		mend_carefully(&mending, compilation);
	is_changed = !text_equal(mending.content, before);
	if (is_changed)
		status = invocation->shows_difference ? write_difference(&mending) : write_file(&mending);
	if (status != 0)
		return status;
	fwrite(output_memory(&mending.said).data, 1, output_memory(&mending.said).length, stderr);
	if (is_changed && !invocation->shows_difference)
		compile_content(&mending, invocation, mending.content, compilation);
	status = diagnostics_print(invocation, &compilation->sources, &compilation->report);
	if (status != 0)
		return status;
	return is_changed && invocation->shows_difference ? 1 : compile_status(compilation);
}
