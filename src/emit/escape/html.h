/* Text on its way into HTML: the only door for it. */
#ifndef EMIT_ESCAPE_HTML_H
#define EMIT_ESCAPE_HTML_H

#include "support/output.h"

/** Writes text as character data or inside a double-quoted attribute: the five characters with a meaning become
 * references, what HTML does not allow in a document becomes U+FFFD. */
void html_text(struct output *output, struct text text);

/** Writes ` name="…"`; the name is not user text. */
void html_attribute(struct output *output, const char *name, struct text value);

/** Writes bytes as base64 (RFC 4648), from their hexadecimal digits; for the hash sources of a content policy. */
void html_base64_of_hex(struct output *output, struct text digits);

#endif
