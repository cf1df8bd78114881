/* The voice of a sound track: libespeak-ng, where it is installed. */
#ifndef COMMANDS_VOICE_H
#define COMMANDS_VOICE_H

#include "emit/sound/speaker.h"

/** Finds the library, which is looked for only now, so that nothing else needs it. Returns 0, or 2 after one line on
 * standard error. */
int voice_open(struct speaker *speaker, struct arena *arena);

/** Lets the library go. */
void voice_close(struct speaker *speaker);

#endif
