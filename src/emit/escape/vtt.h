/* User text in a WebVTT file (W3C): in a caption, in a comment block. */
#ifndef EMIT_ESCAPE_VTT_H
#define EMIT_ESCAPE_VTT_H

#include "support/output.h"
#include "support/text.h"

/** Writes a text within one line of a caption: & < > as character references, so that no tag and no "-->" remains. */
void vtt_caption(struct output *output, struct arena *arena, struct text text);

/** Writes a text within one line of a comment block, where references mean nothing: "-->" is broken up. */
void vtt_comment(struct output *output, struct arena *arena, struct text text);

#endif
