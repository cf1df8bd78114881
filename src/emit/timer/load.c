#include "emit/timer/load.h"

#include "compute/day_plan.h"
#include "emit/day/parts.h"
#include "emit/escape/shell.h"
#include "model/date.h"

static void put_word(const struct emission *emission, struct output *output, struct text text)
{
	output_string(output, " ");
	output_write(output, shell_word(emission->arena, text));
}

static void put_roll(const struct emission *emission, struct output *output, const struct plan_place *place)
{
	output_format(output, "\tplan_roll %zu", place->reel);
	put_word(emission, output, place->roll->label);
	put_word(emission, output, format_row(place->roll->format)->word);
	put_word(emission, output, place->mark);
	put_word(emission, output, place->roll->origin);
	output_string(output, "\n");
}

void load_put(const struct emission *emission, struct output *output)
{
	const struct plan_load *load = emission->load;
	output_string(output, "\nplan_rolls() {\n");
	if (load) {
		output_format(output, "\tplan_of_load %zu %zu", load->number, emission->plan->load_count);
		put_word(emission, output, date_print(emission->arena, emission->plan->day->date));
		put_word(emission, output, parts_day(emission));
		output_string(output, "\n");
		for (size_t i = 0; i < load->place_count; i++)
			put_roll(emission, output, &load->places[i]);
	} else {
		output_string(output, "\t:\n");
	}
	output_string(output, "}\n");
}
