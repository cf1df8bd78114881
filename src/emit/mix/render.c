/* The mixing card as CommonMark and as one HTML file. */
#include "emit/mix/card.h"
#include "emit/page/page.h"

#include "embedded/mix_css.h"

static struct page_element element_of(const struct page *page, const void *mark)
{
	static const struct page_element elements[] = {
#define MIX_MARK(id, element, class_name) { element, { class_name, sizeof(class_name) - 1 } },
#include "emit/mix/marks.def"
#undef MIX_MARK
	};
	const enum mix_mark_id *id = mark;
	(void)page;
	return elements[*id];
}

void emit_mix_html(const struct emission *emission, struct output *output)
{
	const struct mix_card *card = mix_card_build(emission);
	const struct page page = {
		.document = card->sheet->document,
		.form = &emission->form,
		.memory = emission->pages,
		.title = card->sheet->title,
		.product = "mixing card",
		.style = { mix_css, mix_css_length },
		.element_of = element_of,
	};
	page_write(&page, output);
}

void emit_mix_markdown(const struct emission *emission, struct output *output)
{
	const struct mix_card *card = mix_card_build(emission);
	output_write(output, document_markdown(card->sheet->document));
}
