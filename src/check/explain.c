/* The longer texts about the checks. */
#include "check/explain.h"

#include "embedded/explain.h"

struct text explain_text(enum check_id check)
{
	for (size_t i = 0; i < sizeof explain_texts / sizeof explain_texts[0]; i++)
		if (text_equal(check_row(check)->name, text_from(explain_texts[i].id)))
			return (struct text){ explain_texts[i].text, explain_texts[i].length };
	return TEXT("");
}
