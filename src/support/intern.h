/* Names as small numbers: equal names, after Unicode normalisation (NFC), have equal numbers. */
#ifndef SUPPORT_INTERN_H
#define SUPPORT_INTERN_H

#include <stdint.h>

#include "support/text.h"

struct intern;

/** An empty table whose names live in `arena`. Number 0 stands for no name. */
struct intern *intern_create(struct arena *arena);

/** The number of a name, given a new one where it is not known yet. Text that is not ASCII is compared after NFC. */
uint32_t intern_name(struct intern *intern, struct text name);

/** The number of a name, or 0 where it was never seen. */
uint32_t intern_find(const struct intern *intern, struct text name);

/** The name behind a number. */
struct text intern_text(const struct intern *intern, uint32_t number);

#endif
