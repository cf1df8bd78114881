/* What is in one load: rolls, pieces of a format, lengths of film. */
#include "model/film_area.h"
#include "model/resolve_process.h"

static void complain_film(const struct reader *reader, node_index node, const char *problem, const char *help)
{
	struct report *report = reader->recipe->report;

	report_help(report, report_add(report, CHECK_out_of_place, tree_node(reader->tree, node)->span, "%s", problem),
		    "%s", help);
}

/* Adds `count` pieces of an area each. */
static void add_pieces(struct process *process, int64_t count, int64_t area)
{
	process->load_pieces += count;
	process->load_milli_rolls += film_area_milli_rolls(count * area);
}

static void read_pieces(const struct reader *reader, node_index pieces, node_index exposures, struct process *process)
{
	node_index number = first_of(reader, pieces);
	struct quantity count = { 0 };
	struct quantity pictures = { 0 };
	enum format_id format;
	int64_t area;

	if (!read_count(reader, pieces, number, 1, &count) ||
	    !read_format(reader, tree_node(reader->tree, number)->next, &format))
		return;
	area = format_row(format)->area_milli_sq_in;
	if (exposures != 0) {
		if (!read_count(reader, pieces, exposures, 1, &pictures))
			return;
		area = film_area_of_exposures(format, pictures.value);
		if (area < 0)
			complain_film(reader, exposures, "this format has no such number of exposures",
				      "exposures are counted on 135, 126 and 110");
	}
	if (area > 0)
		add_pieces(process, count.value, area);
}

static void read_length(const struct reader *reader, node_index node, struct process *process)
{
	node_index value = first_of(reader, node);
	struct quantity length = { 0 };
	enum format_id format;
	int64_t area;

	if (!read_quantity(reader, node, value, QUANTITY_LENGTH, &length) ||
	    !read_format(reader, tree_node(reader->tree, value)->next, &format))
		return;
	area = film_area_of_length(format, length.value);
	if (area < 0)
		complain_film(reader, node, "this format comes in no lengths",
			      "lengths are of 135, super-8, double-8, cine-16 or cine-35");
	else
		add_pieces(process, 1, area);
}

static void read_rolls(const struct reader *reader, node_index node, struct process *process)
{
	struct quantity count = { 0 };

	if (read_count(reader, node, first_of(reader, node), 1, &count))
		add_pieces(process, count.value, ROLL_AREA_MILLI_SQ_IN);
}

void load_read(const struct reader *reader, node_index clause, struct process *process)
{
	if (read_is_repeated(reader, clause, process->load_span))
		return;
	process->load_span = tree_node(reader->tree, clause)->span;
	process->load_pieces = 0;
	process->load_milli_rolls = 0;
	for (node_index node = first_of(reader, clause); node != 0; node = tree_node(reader->tree, node)->next) {
		node_index first = first_of(reader, node);

		switch (tree_node(reader->tree, node)->kind) {
		case NODE_load_rolls:
			read_rolls(reader, node, process);
			break;
		case NODE_load_exposures:
			read_pieces(reader, first, tree_node(reader->tree, first)->next, process);
			break;
		case NODE_load_length:
			read_length(reader, node, process);
			break;
		default:
			read_pieces(reader, node, 0, process);
			break;
		}
	}
}
