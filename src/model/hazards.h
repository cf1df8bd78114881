/* The hazard statements that a data sheet or a label may carry: codes of the UN GHS and the EUH codes, with their texts
 * (hazards.def). Compared byte for byte: codes are written in capitals, as on the sheet. */
#ifndef MODEL_HAZARDS_H
#define MODEL_HAZARDS_H

#include <stddef.h>

#include "support/text.h"

/** The statement of a code ("H302": "Harmful if swallowed"); empty where there is no such code. */
struct text hazard_text(struct text code);

/** How many codes there are. */
size_t hazard_count(void);

/** The code at an index, in the order of the table. */
struct text hazard_code(size_t index);

/** The code that a slip in writing seems to mean ("h302", "EUH31"); empty where nothing is near. */
struct text hazard_nearest(struct text code);

#endif
