/* Clock times beside the steps: when each is poured, counted from the start of the run. */
#include "commands/lsp/server.h"
#include "model/quantity.h"

void hints_answer(struct request *request)
{
	const struct document *document = request_document(request);
	enum place_units units = request->server->units;
	const struct source_set *sources;
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
	for (const struct moment *moment = document->moments; moment != NULL; moment = moment->next) {
		uint32_t place = moment->name.begin + moment->name.length;
		struct json_node hint;

		if (!moment->is_own || place < begin || place > end)
			continue;
		hint = json_node_object(list, NULL);
		place_put_position(hint, "position", sources, units, place);
		json_node_text(hint, "label", quantity_print_duration(request->arena, moment->pour_ms));
		json_node_flag(hint, "paddingLeft", true);
		json_node_text(hint, "tooltip", TEXT("from the start of the run to this step"));
	}
}
