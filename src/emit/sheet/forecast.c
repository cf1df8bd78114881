/* The temperature forecast on the bench side: what to do where a bath leaves its window, and the curve. */
#include "emit/forecast/remarks.h"
#include "emit/sheet/words.h"

/* Sentences as one line. What is between backquotes is as it is written in a recipe. */
static void add_line(struct sheet *sheet, cmark_node *item, const struct remarks *remarks)
{
	for (size_t i = 0; i < remarks->count; i++) {
		document_string(sheet->document, item, i > 0 ? " " : "");
		document_prose(sheet->document, item, remarks->items[i]);
	}
}

static bool is_told(const struct forecast *forecast)
{
	return forecast->state == FORECAST_made &&
	       (forecast_wants_remedy(forecast) || forecast->fit == FORECAST_FIT_leaves);
}

static void add_step(struct sheet *sheet, cmark_node *list, size_t index)
{
	struct text name = words_step(sheet, &sheet->process->steps[index]);
	struct remarks remarks = remarks_of_step(sheet->emission, &sheet->forecasts[index], index);
	cmark_node *item = document_add_item(sheet->document, list, NULL);
	document_strong(sheet->document, item,
			text_format(sheet->arena, "%zu" NBSP "%.*s:", index + 1, TEXT_ARGUMENT(name)));
	document_string(sheet->document, item, " ");
	add_line(sheet, item, &remarks);
}

static void add_run(struct sheet *sheet, cmark_node *list)
{
	struct remarks remarks = remarks_of_run(sheet->emission, sheet->forecasts);
	if (remarks.count > 0)
		add_line(sheet, document_add_item(sheet->document, list, NULL), &remarks);
}

/* Returns how many steps there is a forecast of. */
static size_t add_steps(struct sheet *sheet, cmark_node *list)
{
	size_t made = 0, told = 0;
	for (size_t i = 0; i < sheet->process->step_count; i++) {
		made += sheet->forecasts[i].state == FORECAST_made;
		if (!is_told(&sheet->forecasts[i]))
			continue;
		add_step(sheet, list, i);
		told++;
	}
	if (made > 0 && told == 0)
		document_string(sheet->document, document_add_item(sheet->document, list, NULL),
				"No bath leaves its window.");
	return made;
}

cmark_node *sheet_forecast(struct sheet *sheet)
{
	if (!sheet->emission->conditions->wants_forecast)
		return NULL;
	sheet->forecasts = forecast_run(sheet->process, sheet->timeline, sheet->arena);
	cmark_node *block = document_add(sheet->document, NULL, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_forecast));
	document_string(sheet->document, document_add_heading(sheet->document, block, 2, NULL), "Temperature forecast");
	cmark_node *list = document_add_list(sheet->document, block, NULL);
	add_run(sheet, list);
	if (add_steps(sheet, list) > 0)
		document_add(sheet->document, block, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_curve));
	return block;
}
