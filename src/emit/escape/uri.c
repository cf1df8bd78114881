#include "emit/escape/uri.h"

#include <stdbool.h>
#include <string.h>

/* The unreserved characters, the slash, and those of the others that mean nothing inside a path. */
static bool is_plain(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9') ||
	       (byte != '\0' && strchr("-._~/!$&'()*+,;=@", byte));
}

struct text uri_path(struct arena *arena, struct text path)
{
	struct text_builder uri = text_builder_start(arena);
	if (path.length > 0 && path.data[0] == '/')
		text_append_string(&uri, "file://");
	while (path.length > 2 && path.data[0] == '.' && path.data[1] == '/') {
		path.data += 2;
		path.length -= 2;
	}
	for (size_t i = 0; i < path.length; i++) {
		if (is_plain(path.data[i]))
			text_append_byte(&uri, path.data[i]);
		else
			text_append_format(&uri, "%%%02X", (unsigned)(unsigned char)path.data[i]);
	}
	return text_builder_text(&uri);
}
