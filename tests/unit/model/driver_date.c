/* Days of the calendar from standard input: for tests/reference/dates_against_datetime.py. A line `is TEXT` is answered
 * by `no`, or by the days since 1970-01-01; a line `day N` by the date of that day. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "model/date.h"

static void answer_is(const char *text)
{
	struct text date = text_from(text);
	if (date_is_valid(date))
		printf("%" PRId64 "\n", date_days(date));
	else
		puts("no");
}

int main(void)
{
	struct landing landing;
	struct arena arena;
	char line[256];
	if (setjmp(landing.place))
		return 1;
	arena_init(&arena, &landing);
	while (fgets(line, sizeof(line), stdin)) {
		int64_t days;
		line[strcspn(line, "\n")] = '\0';
		if (strncmp(line, "is ", 3) == 0)
			answer_is(line + 3);
		else if (sscanf(line, "day %" SCNd64, &days) == 1)
			printf("%.*s\n", TEXT_ARGUMENT(date_print(&arena, days)));
	}
	arena_release(&arena);
	return 0;
}
