/* What differs, as CommonMark: a heading a process, an item a step, bath or tool. */
#include "emit/diff/wording.h"
#include "emit/document.h"
#include "emit/emission.h"

static void add_item(struct document *document, cmark_node *list, struct text name, struct text words)
{
	cmark_node *item = document_add_item(document, list, NULL);

	if (name.length > 0) {
		document_strong(document, item, name);
		document_string(document, item, ": ");
	}
	document_text(document, item, words);
}

/* An item for each thing of which `say` has something to say. */
static void add_items(struct document *document, const struct difference_pair *pair,
		      struct text (*say)(const struct difference_subject *subject, struct arena *arena))
{
	cmark_node *list = NULL;

	for (const struct difference_subject *subject = pair->first; subject != NULL; subject = subject->next) {
		struct text words = say(subject, document->arena);

		if (words.length == 0)
			continue;
		if (list == NULL)
			list = document_add_list(document, document->root, NULL);
		add_item(document, list, difference_subject_name(subject, document->arena), words);
	}
}

static void add_pair(struct document *document, const struct difference_pair *pair)
{
	cmark_node *heading = document_add_heading(document, document->root, 2, NULL);
	struct text total = difference_pair_total(pair, document->arena);
	struct text remark = difference_pair_remark(pair, document->arena);

	document_text(document, heading, difference_pair_name(pair, document->arena));
	if (remark.length > 0) {
		cmark_node *paragraph = document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL);

		document_format(document, paragraph, "%.*s.", TEXT_ARGUMENT(remark));
	}
	add_items(document, pair, difference_subject_words);
	if (total.length > 0)
		document_format(document, document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL), "%.*s.",
				TEXT_ARGUMENT(total));
	if (pair->old == NULL || pair->new == NULL || pair->counts[OUTLINE_WORDING] == 0)
		return;
	heading = document_add_heading(document, document->root, 3, NULL);
	document_string(document, heading, "Wording only");
	add_items(document, pair, difference_subject_wording);
}

void emit_diff_markdown(const struct emission *emission, struct output *output)
{
	struct document *document = document_create(emission->arena);
	bool is_empty = true;

	for (const struct difference_pair *pair = emission->comparison->first; pair != NULL; pair = pair->next) {
		if (pair->first == NULL && !pair->is_renamed)
			continue;
		add_pair(document, pair);
		is_empty = false;
	}
	if (!is_empty)
		output_write(output, document_markdown(document));
}
