/* Clock times beside the steps: when each is poured, counted from the start of the run. */
#include "commands/lsp/server.h"
#include "model/quantity.h"

static void put_hint(struct json_node list, const struct request *request, const struct document *document,
		     const struct name_use *step)
{
	const struct moment *moment = document_moment(document, step);
	struct json_node hint;

	if (moment == NULL)
		return;
	hint = json_node_object(list, NULL);
	place_put_position(hint, "position", &document->compilation.sources, request->server->units,
			   step->span.begin + step->span.length);
	json_node_text(hint, "label", quantity_print_duration(request->arena, moment->pour_ms));
	json_node_flag(hint, "paddingLeft", true);
	json_node_text(hint, "tooltip", TEXT("from the start of the run to this step"));
}

void hints_answer(struct request *request)
{
	const struct document *document = request_document(request);
	enum place_units units = request->server->units;
	const struct source_set *sources;
	struct name_uses uses;
	const struct json_value *range = json_value_at(request->params, "range");
	struct json_node list;
	uint32_t begin;
	uint32_t end;

	if (document == NULL)
		return;
	sources = &document->compilation.sources;
	begin = place_address(sources, document_file(document), units, json_value_at(range, "start"));
	end = place_address(sources, document_file(document), units, json_value_at(range, "end"));
	list = json_node_list(request->answer, "result");
	uses = name_uses_of(document->compilation.recipe, request->arena);
	for (size_t i = 0; i < uses.count; i++) {
		const struct name_use *use = &uses.items[i];
		uint32_t place = use->span.begin + use->span.length;

		if (use->kind == NAME_OF_STEP && use->node != 0 && place >= begin && place <= end)
			put_hint(list, request, document, use);
	}
}
