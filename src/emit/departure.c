#include "emit/departure.h"

void departure_add(struct document *document, cmark_node *item, const struct diagnostic *finding)
{
	document_strong(document, item, check_row(finding->check)->name);
	document_format(document, item, ": %.*s. ", TEXT_ARGUMENT(finding->message));
	document_strong(document, item, TEXT("Reason:"));
	document_string(document, item, " ");
	document_prose(document, item, finding->allowed);
}
