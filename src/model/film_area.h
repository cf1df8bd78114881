/* How much film there is: areas by format, exposures or length, from the one table of formats. */
#ifndef MODEL_FILM_AREA_H
#define MODEL_FILM_AREA_H

#include "model/vocabulary.h"

/** The area of a roll with so many pictures, in 1/1000 square inch, in proportion to the full roll; -1 for a format
 * whose pictures are not counted, or for more of them than it takes half as many again. */
int64_t film_area_of_exposures(enum format_id format, int64_t exposures);

/** The area of a length of film, in µm, in 1/1000 square inch: width × length; -1 for a format that comes in no
 * lengths. */
int64_t film_area_of_length(enum format_id format, int64_t length_um);

/** An area as rolls of 80 square inches, in 1/1000 roll, rounded up. */
int64_t film_area_milli_rolls(int64_t area_milli_sq_in);

#endif
