/* What stands under the cursor: a figure in other units, a name and its declaration, when a step comes, what a word, a
 * unit or a check means. */
#include <string.h>

#include "commands/explanation.h"
#include "commands/lsp/names.h"
#include "emit/escape/terminal.h"
#include "model/quantity.h"
#include "support/utf8.h"

struct hover {
	const struct request *request;
	const struct document *document;
	struct arena *arena;
	struct text_builder text;
	struct span span; /* of what it is about */
};

static struct text text_of(const struct hover *hover, struct span span)
{
	return source_text(&hover->document->compilation.sources, span);
}

/* ---- figures ---- */

static double part_of(int64_t value, enum unit_id unit)
{
	return (double)value / (double)unit_row(unit)->factor;
}

static void add_temperature(struct hover *hover, int64_t value)
{
	struct text celsius = quantity_print_temperature(hover->arena, value);
	struct text fahrenheit = quantity_print_fahrenheit(hover->arena, value);

	text_append_format(&hover->text, "%.*s = %.*s", TEXT_ARGUMENT(celsius), TEXT_ARGUMENT(fahrenheit));
}

static void add_difference(struct hover *hover, int64_t value)
{
	struct text kelvin = quantity_print_difference(hover->arena, value);

	text_append_format(&hover->text, "%.*s = %.6g °F", TEXT_ARGUMENT(kelvin), part_of(value, UNIT_fahrenheit));
}

static void add_duration(struct hover *hover, int64_t value)
{
	struct text clock = quantity_print_duration(hover->arena, value);
	struct text keeping = quantity_print_keeping(hover->arena, value);

	if (value >= unit_row(UNIT_day)->factor)
		text_append_format(&hover->text, "%.*s = %.6g days", TEXT_ARGUMENT(keeping), part_of(value, UNIT_day));
	else
		text_append_format(&hover->text, "%.*s = %.6g s = %.6g min", TEXT_ARGUMENT(clock),
				   part_of(value, UNIT_second), part_of(value, UNIT_minute));
}

static void add_value(struct hover *hover, enum quantity_kind kind, int64_t value)
{
	struct text text;

	switch (kind) {
	case QUANTITY_TEMPERATURE:
		add_temperature(hover, value);
		break;
	case QUANTITY_DIFFERENCE:
		add_difference(hover, value);
		break;
	case QUANTITY_DURATION:
		add_duration(hover, value);
		break;
	case QUANTITY_VOLUME:
		text = quantity_print_volume(hover->arena, value);
		text_append_format(&hover->text, "%.*s = %.4g US fl oz = %.4g UK fl oz", TEXT_ARGUMENT(text),
				   part_of(value, UNIT_us_fluid_ounce), part_of(value, UNIT_uk_fluid_ounce));
		break;
	case QUANTITY_MASS:
		text = quantity_print_mass(hover->arena, value);
		text_append_format(&hover->text, "%.*s = %.4g oz = %.4g gr", TEXT_ARGUMENT(text),
				   part_of(value, UNIT_ounce), part_of(value, UNIT_grain));
		break;
	case QUANTITY_LENGTH:
		text_append_format(&hover->text, "%.6g mm = %.6g inch", part_of(value, UNIT_millimetre),
				   part_of(value, UNIT_inch));
		break;
	case QUANTITY_AREA:
		text_append_format(&hover->text, "%.6g cm² = %.6g sq in", part_of(value, UNIT_square_centimetre),
				   part_of(value, UNIT_square_inch));
		break;
	default:
		return;
	}
	text_append_string(&hover->text, "\n");
}

/* Where a figure in degrees says how far, not how warm. */
static bool is_difference(const struct tree *tree, node_index parent, node_index node)
{
	switch (tree_node(tree, parent)->kind) {
	case NODE_tolerance:
		return tree_node(tree, parent)->first != node;
	case NODE_reads:
	case NODE_correction:
	case NODE_drops:
		return true;
	default:
		return false;
	}
}

/* A figure without a unit is in the unit of the one beside it, as in 20 ± 0.5 °C and 18 .. 41 °C. */
static enum unit_id unit_of(const struct tree *tree, node_index parent, node_index node)
{
	const struct tree_node *both = tree_node(tree, parent);
	const struct tree_node *figure = tree_node(tree, node);
	bool is_of_two = both->kind == NODE_tolerance || both->kind == NODE_range;

	if (figure->kind == NODE_number && is_of_two)
		figure = tree_node(tree, both->first == node ? figure->next : both->first);
	return figure->kind == NODE_quantity ? (enum unit_id)figure->detail : UNIT_none;
}

static void add_figure(struct hover *hover, const struct tree *tree, node_index parent, node_index node,
		       uint32_t address)
{
	enum unit_id unit = unit_of(tree, parent, node);
	struct text text = text_of(hover, tree_node(tree, node)->span);
	size_t digits = quantity_digits(text);
	bool is_apart = unit_row(unit)->quantity == QUANTITY_TEMPERATURE && is_difference(tree, parent, node);
	int64_t value;

	if (quantity_read((struct text){ text.data, digits }, unit, is_apart, &value) == NULL)
		add_value(hover, is_apart ? QUANTITY_DIFFERENCE : unit_row(unit)->quantity, value);
	if (address - hover->span.begin > digits) {
		text_append_string(&hover->text, "\n");
		explanation_append(&hover->text, unit_row(unit)->canonical);
	}
}

static void add_dilution(struct hover *hover, struct text text)
{
	double parts[2] = { 0, 0 };
	size_t count = 0;

	for (const char *at = text_copy(hover->arena, text).data; *at != '\0'; count++) {
		size_t length = strcspn(at, "+");
		int64_t value;

		if (count == 2 || quantity_read((struct text){ at, length }, UNIT_none, false, &value) != NULL)
			return;
		parts[count] = (double)value / 1000;
		at += length + (at[length] == '+');
	}
	if (count == 2 && parts[0] + parts[1] > 0)
		text_append_format(&hover->text, "%.6g in %.6g parts: %.4g mL in 1 L\n", parts[0], parts[0] + parts[1],
				   1000 * parts[0] / (parts[0] + parts[1]));
}

static void add_clock(struct hover *hover, struct text text)
{
	int64_t seconds = 0;
	int64_t part = 0;

	for (size_t i = 0; i < text.length && part < 100000; i++) {
		if (text.data[i] == '.') /* fractions are said by the figure itself */
			return;
		if (text.data[i] == ':') {
			seconds = (seconds + part) * 60;
			part = 0;
		} else {
			part = part * 10 + (text.data[i] - '0');
		}
	}
	add_duration(hover, (seconds + part) * MILLISECONDS_PER_SECOND);
	text_append_string(&hover->text, "\n");
}

/* ---- names ---- */

static void add_clock_time(struct hover *hover, const char *what, int64_t time_ms)
{
	struct text time = quantity_print_duration(hover->arena, time_ms);

	text_append_format(&hover->text, "%s %.*s", what, TEXT_ARGUMENT(time));
}

static void add_moment(struct hover *hover, const struct name_use *step)
{
	const struct moment *moment = document_moment(hover->document, step);

	if (moment == NULL)
		return;
	text_append_string(&hover->text, "\nFrom the start of the run: ");
	add_clock_time(hover, "poured at", moment->pour_ms);
	add_clock_time(hover, ", its time starts at", moment->start_ms);
	add_clock_time(hover, ", drained from", moment->drain_ms);
	add_clock_time(hover, " to", moment->end_ms);
	text_append_string(&hover->text, "\n");
}

/* ---- code ---- */

/* A row of backquotes that no row in a text is as long as: what stands between two of them is code. */
static struct text fence_for(struct arena *arena, struct text text, size_t least)
{
	struct text_builder fence = text_builder_start(arena);
	size_t row = 0;

	for (size_t i = 0; i < text.length; i++) {
		row = text.data[i] == '`' ? row + 1 : 0;
		if (row >= least)
			least = row + 1;
	}
	while (least-- > 0)
		text_append_byte(&fence, '`');
	return text_builder_text(&fence);
}

/* A text of one line as code. A blank on either side keeps its own backquotes apart from the fence; it is not shown. */
static void add_code(struct hover *hover, struct text text)
{
	struct text line = terminal_line(hover->arena, text);
	struct text fence = fence_for(hover->arena, line, 1);
	const char *blank = fence.length > 1 ? " " : "";

	text_append_format(&hover->text, "%.*s%s%.*s%s%.*s", TEXT_ARGUMENT(fence), blank, TEXT_ARGUMENT(line), blank,
			   TEXT_ARGUMENT(fence));
}

/* The bytes of the line end at a place; 0 at the end of the text. */
static size_t line_end_length(struct text text, size_t at)
{
	if (at >= text.length)
		return 0;
	return text.data[at] == '\r' && at + 1 < text.length && text.data[at + 1] == '\n' ? 2 : 1;
}

/* The lines of a declaration, as they are written; what cannot be seen is spelt out. */
static void add_source(struct hover *hover, const struct name_use *declaration)
{
	enum { LINES_MOST = 30 };
	struct text text = text_of(hover, tree_node(declaration->tree, declaration->node)->span);
	struct text fence = fence_for(hover->arena, text, 3);
	size_t lines = 0;

	text_append_format(&hover->text, "%.*swetside\n", TEXT_ARGUMENT(fence));
	while (text.length > 0 && lines++ < LINES_MOST) {
		size_t length = 0;
		while (length < text.length && text.data[length] != '\n' && text.data[length] != '\r')
			length++;
		struct text line = { text.data, length };

		line = utf8_harmless(hover->arena, line);
		text_append_format(&hover->text, "%.*s\n", TEXT_ARGUMENT(line));
		length += line_end_length(text, length);
		text = (struct text){ text.data + length, text.length - length };
	}
	text_append_format(&hover->text, "%s%.*s\n", text.length > 0 ? "…\n" : "", TEXT_ARGUMENT(fence));
}

static void add_name(struct hover *hover, const struct name_uses *uses, const struct name_use *use)
{
	const struct name_use *declaration = names_declaration(uses, use);
	const struct source_set *sources = &hover->document->compilation.sources;
	struct text name = text_of(hover, use->span);
	struct source_place place;

	hover->span = use->span;
	if (declaration == NULL) {
		text_append_format(&hover->text, "no %s is called ", names_kind_word(use->kind));
		add_code(hover, name);
		text_append_string(&hover->text, "\n");
		return;
	}
	place = source_locate(sources, declaration->span.begin);
	text_append_format(&hover->text, "%s ", names_kind_word(use->kind));
	add_code(hover, name);
	text_append_string(&hover->text, ", declared in ");
	add_code(hover, place.file->name);
	text_append_format(&hover->text, ", line %zu\n", place.line);
	if (use->kind == NAME_OF_STEP)
		add_moment(hover, use);
	if (declaration->span.begin != use->span.begin) {
		text_append_string(&hover->text, "\n");
		add_source(hover, declaration);
	}
}

/* ---- words ---- */

static bool is_word_byte(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9') ||
	       byte == '-' || byte == '%' || (unsigned char)byte >= 0x80;
}

static struct span word_at(const struct source_file *file, uint32_t address)
{
	uint32_t begin = address - file->base;
	uint32_t end = begin;

	while (begin > 0 && is_word_byte(file->bytes[begin - 1]))
		begin--;
	while (end < file->length && is_word_byte(file->bytes[end]))
		end++;
	return (struct span){ file->base + begin, end - begin };
}

static bool holds(struct span span, uint32_t address)
{
	return address >= span.begin && address <= span.begin + span.length;
}

/* The innermost node at an address, and what it hangs on; 0 where there is none. */
static node_index leaf_at(const struct tree *tree, uint32_t address, node_index *parent)
{
	node_index node = tree->first;
	node_index found = 0;

	*parent = 0;
	while (node != 0) {
		if (!holds(tree_node(tree, node)->span, address)) {
			node = tree_node(tree, node)->next;
			continue;
		}
		*parent = found;
		found = node;
		node = tree_node(tree, node)->first;
	}
	return found;
}

static void add_leaf(struct hover *hover, const struct tree *tree, uint32_t address)
{
	node_index parent;
	node_index node = leaf_at(tree, address, &parent);
	const struct tree_node *leaf = tree_node(tree, node);

	hover->span = leaf->span;
	if (node != 0 && unit_of(tree, parent, node) != UNIT_none) {
		add_figure(hover, tree, parent, node, address);
	} else if (node != 0 && leaf->kind == NODE_clock) {
		add_clock(hover, text_of(hover, leaf->span));
	} else if (node != 0 && leaf->kind == NODE_dilution) {
		add_dilution(hover, text_of(hover, leaf->span));
	} else if (node == 0 || leaf->kind != NODE_string) {
		hover->span = word_at(document_file(hover->document), address);
		explanation_append(&hover->text, text_of(hover, hover->span));
	}
}

static bool is_in_comment(const struct tree *tree, uint32_t address)
{
	for (size_t i = 0; i < tree->comment_count; i++)
		if (address > tree->comments[i].begin && holds(tree->comments[i], address))
			return true;
	return false;
}

void hover_answer(struct request *request)
{
	const struct document *document = request_document(request);
	struct hover hover = { request, document, request->arena, text_builder_start(request->arena), { 0, 0 } };
	struct name_uses uses;
	const struct name_use *use;
	struct json_node result;
	struct json_node contents;
	uint32_t address;

	if (document == NULL)
		return;
	address = request_address(request, document);
	uses = name_uses_of(document->compilation.recipe, request->arena);
	use = names_at(&uses, address);
	if (use != NULL)
		add_name(&hover, &uses, use);
	else if (!is_in_comment(document_tree(document), address))
		add_leaf(&hover, document_tree(document), address);
	if (hover.text.length == 0) {
		answer_null(request);
		return;
	}
	result = json_node_object(request->answer, "result");
	contents = json_node_object(result, "contents");
	json_node_text(contents, "kind", TEXT("markdown"));
	json_node_text(contents, "value", text_builder_text(&hover.text));
	place_put_range(result, "range", &document->compilation.sources, request->server->units, hover.span);
}
