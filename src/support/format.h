/* The conversions of printf that most texts are made of, without printf's cost. */
#ifndef SUPPORT_FORMAT_H
#define SUPPORT_FORMAT_H

#include "support/text.h"

/** Appends as printf would, up to the first conversion that is not one of these: %% %c %s %.*s, and %d and %u with or
 * without l, ll or z and a width that is filled up with zeros. Returns what is left of the format, for printf, which
 * goes on with `arguments`. */
const char *format_append(struct text_builder *builder, const char *format, va_list *arguments);

#endif
