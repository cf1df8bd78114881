#include "emit/sheet/sheet.h"

void emit_sheet_markdown(const struct emission *emission, struct output *output)
{
	const struct sheet *sheet = sheet_build(emission);
	output_write(output, document_markdown(sheet->document));
}
