#include "support/checks.h"

/* The user's word for a check is its id with hyphens. The compiler turns the underscores, so that no second spelling is
 * kept and nothing is computed at run time. */
#define LETTER(id, i) (#id[(i) < sizeof(#id) ? (i) : 0] == '_' ? '-' : #id[(i) < sizeof(#id) ? (i) : 0])
#define LETTERS(id, i)                                                                                                 \
	LETTER(id, i), LETTER(id, i + 1), LETTER(id, i + 2), LETTER(id, i + 3), LETTER(id, i + 4), LETTER(id, i + 5),  \
		LETTER(id, i + 6), LETTER(id, i + 7)
#define LONGEST_NAME 32

#define CHECK(id, severity, subject, may_allow, needs, summary)                                                        \
	_Static_assert(sizeof(#id) <= LONGEST_NAME, "the name of a check is too long: " #id);                          \
	static const char name_of_##id[] = { LETTERS(id, 0), LETTERS(id, 8), LETTERS(id, 16), LETTERS(id, 24) };
#include "support/checks.def"
#undef CHECK

#define CHECK(id, severity, subject, may_allow, needs, summary)                                                        \
	_Static_assert((int)CHECK_##needs < (int)CHECK_##id, "a check may need only a row above: " #id);
#include "support/checks.def"
#undef CHECK

static const struct check_row rows[] = {
#define CHECK(id, severity, subject, may_allow, needs, summary)                                                        \
	{ { name_of_##id, sizeof(#id) - 1 }, SEVERITY_##severity, SUBJECT_##subject, may_allow, CHECK_##needs,         \
	  { summary, sizeof(summary) - 1 } },
#include "support/checks.def"
#undef CHECK
};

const struct check_row *check_row(enum check_id check)
{
	return &rows[check];
}

enum check_id check_find(struct text name)
{
	for (size_t i = 0; i < CHECK_COUNT; i++)
		if (text_equal(rows[i].name, name))
			return (enum check_id)i;
	return CHECK_COUNT;
}

const char *severity_name(enum severity severity)
{
	static const char *const names[] = { "error", "warning", "hint" };
	return names[severity];
}
