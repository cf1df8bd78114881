/* File names as URI references (RFC 3986). */
#ifndef EMIT_ESCAPE_URI_H
#define EMIT_ESCAPE_URI_H

#include "support/text.h"

/** A path as a URI in `arena`: what has a meaning in a URI is percent-encoded, the slashes stay. An absolute path
 * becomes a `file` URI; a relative one loses its leading "./". */
struct text uri_path(struct arena *arena, struct text path);

#endif
