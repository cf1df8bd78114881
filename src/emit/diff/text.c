/* What differs, to read: one line a step, bath or tool. Nothing at all where nothing differs. */
#include "emit/diff/wording.h"
#include "emit/emission.h"
#include "emit/escape/terminal.h"

#define UNBROKEN 1000000 /* columns: what is said of a thing stays on its line */
#define INDENT "  "

struct listing {
	struct arena *arena;
	struct output *output;
};

static void put_line(const struct listing *listing, const char *indent, struct text name, struct text words)
{
	const char *colon = name.length > 0 && words.length > 0 ? ": " : "";
	struct text line = text_format(listing->arena, "%.*s%s%.*s", TEXT_ARGUMENT(name), colon, TEXT_ARGUMENT(words));

	output_string(listing->output, indent);
	terminal_wrap(listing->output, terminal_line(listing->arena, line), 0, UNBROKEN);
}

static void put_wordings(const struct listing *listing, const struct difference_pair *pair)
{
	if (pair->old == NULL || pair->new == NULL || pair->counts[OUTLINE_WORDING] == 0)
		return;
	put_line(listing, INDENT, TEXT("wording only:"), TEXT(""));
	for (const struct difference_subject *subject = pair->first; subject != NULL; subject = subject->next) {
		struct text words = difference_subject_wording(subject, listing->arena);

		if (words.length > 0)
			put_line(listing, INDENT INDENT, difference_subject_name(subject, listing->arena), words);
	}
}

static void put_pair(const struct listing *listing, const struct difference_pair *pair)
{
	struct text total;

	put_line(listing, "", difference_pair_name(pair, listing->arena), difference_pair_remark(pair, listing->arena));
	for (const struct difference_subject *subject = pair->first; subject != NULL; subject = subject->next) {
		struct text words = difference_subject_words(subject, listing->arena);

		if (words.length > 0)
			put_line(listing, INDENT, difference_subject_name(subject, listing->arena), words);
	}
	total = difference_pair_total(pair, listing->arena);
	if (total.length > 0)
		put_line(listing, INDENT, total, TEXT(""));
	put_wordings(listing, pair);
}

void emit_diff_text(const struct emission *emission, struct output *output)
{
	const struct listing listing = { emission->arena, output };

	for (const struct difference_pair *pair = emission->comparison->first; pair != NULL; pair = pair->next)
		if (pair->first != NULL || pair->is_renamed)
			put_pair(&listing, pair);
}
