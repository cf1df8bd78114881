/* How much film there is. */
#include "model/film_area.h"

/* A square inch in square millimetres is 645.16 (exactly): 1/1000 of it in µm². */
#define UM2_PER_MILLI_SQ_IN 645160

int64_t film_area_of_exposures(enum format_id format, int64_t exposures)
{
	const struct format_row *row = format_row(format);

	if (row->exposures == 0 || exposures < 1 || exposures * 2 > row->exposures * 3)
		return -1;
	return (row->area_milli_sq_in * exposures + row->exposures / 2) / row->exposures;
}

int64_t film_area_of_length(enum format_id format, int64_t length_um)
{
	const struct format_row *row = format_row(format);

	if (row->width_um == 0 || length_um < 0 || length_um > INT64_MAX / row->width_um)
		return -1;
	return (row->width_um * length_um + UM2_PER_MILLI_SQ_IN / 2) / UM2_PER_MILLI_SQ_IN;
}

int64_t film_area_milli_rolls(int64_t area_milli_sq_in)
{
	return (area_milli_sq_in * 1000 + ROLL_AREA_MILLI_SQ_IN - 1) / ROLL_AREA_MILLI_SQ_IN;
}
