/* Options that say what is different in this run. */
#include "commands/run_options.h"

#include <string.h>

#include "model/date.h"
#include "support/utf8.h"

static int read_figure(const struct invocation *invocation, enum option_id option, struct text text,
		       enum quantity_kind kind, int64_t *value)
{
	const char *problem = quantity_parse(text, kind, value);

	text = utf8_harmless(invocation->arena, text);
	if (problem != NULL)
		return complain("--%s: `%.*s` %s", option_row(option)->long_name, TEXT_ARGUMENT(text), problem);
	return 0;
}

/* NAME=FIGURE, or for --done a figure alone, added at the end of a list. */
static int take_named(struct invocation *invocation, enum option_id option, struct text text, enum quantity_kind kind,
		      struct condition **list)
{
	const char *equals = memchr(text.data, '=', text.length);
	struct condition *condition = ARENA_NEW(invocation->arena, struct condition);
	size_t name_length = equals == NULL ? 0 : (size_t)(equals - text.data);
	size_t figure_at = equals == NULL ? 0 : name_length + 1;
	struct text figure = { text.data + figure_at, text.length - figure_at };

	if (equals == NULL ? option != OPTION_done : name_length == 0)
		return complain("--%s wants %s", option_row(option)->long_name, option_row(option)->argument);
	condition->name = utf8_normal(invocation->arena, (struct text){ text.data, name_length });
	while (*list != NULL) {
		if (text_equal((*list)->name, condition->name))
			return complain("--%s is given twice for `%.*s`", option_row(option)->long_name,
					TEXT_ARGUMENT(utf8_harmless(invocation->arena, condition->name)));
		list = &(*list)->next;
	}
	*list = condition;
	return read_figure(invocation, option, figure, kind, &condition->value);
}

static int take_date(struct invocation *invocation, struct text text)
{
	if (!date_is_valid(text))
		return complain("--on wants a day of the calendar, as 2026-03-14");
	invocation->conditions->has_date = true;
	invocation->conditions->date = date_days(text);
	return 0;
}

static int take_figure(struct invocation *invocation, enum option_id option, struct text text, enum quantity_kind kind,
		       bool *has, int64_t *value)
{
	*has = true;
	return read_figure(invocation, option, text, kind, value);
}

/* More would fill a file with silence. */
#define LEAD_IN_MOST_MS (INT64_C(10) * 60 * MILLISECONDS_PER_SECOND)

static int take_lead_in(struct invocation *invocation, struct text text)
{
	int64_t *lead_in_ms = &invocation->conditions->lead_in_ms;
	int status = read_figure(invocation, OPTION_lead_in, text, QUANTITY_DURATION, lead_in_ms);

	if (status == 0 && (*lead_in_ms < 0 || *lead_in_ms > LEAD_IN_MOST_MS))
		return complain("--lead-in takes up to 10 min");
	return status;
}

int run_option_take(struct invocation *invocation, enum option_id option, struct text argument)
{
	struct conditions *run = invocation->conditions;

	switch (option) {
	case OPTION_at:
		return take_named(invocation, option, argument, QUANTITY_TEMPERATURE, &run->temperatures);
	case OPTION_done:
		return take_named(invocation, option, argument, QUANTITY_COUNT, &run->done);
	case OPTION_on:
		return take_date(invocation, argument);
	case OPTION_room:
		return take_figure(invocation, option, argument, QUANTITY_TEMPERATURE, &run->has_room, &run->room);
	case OPTION_forecast:
		run->wants_forecast = true;
		return 0;
	case OPTION_voice:
		run->wants_voice = true;
		return 0;
	case OPTION_lead_in:
		return take_lead_in(invocation, argument);
	case OPTION_volume:
		return take_figure(invocation, option, argument, QUANTITY_VOLUME, &run->has_volume, &run->volume);
	case OPTION_hot:
		return take_figure(invocation, option, argument, QUANTITY_TEMPERATURE, &run->has_hot, &run->hot);
	case OPTION_cold:
		return take_figure(invocation, option, argument, QUANTITY_TEMPERATURE, &run->has_cold, &run->cold);
	case OPTION_water_bath:
		return take_figure(invocation, option, argument, QUANTITY_TEMPERATURE, &run->has_water_bath,
				   &run->water_bath);
	default:
		run->wants_avoirdupois = true;
		return 0;
	}
}
