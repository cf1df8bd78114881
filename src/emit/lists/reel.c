#include "emit/lists/reel.h"

/* The cell is drawn as 100 × 40 units, whatever its shape: lines keep their width. */

static void put_line(struct output *output, int x1, int y1, int x2, int y2, const char *width)
{
	output_format(output,
		      "<line x1=\"%d\" y1=\"%d\" x2=\"%d\" y2=\"%d\" stroke=\"black\" stroke-width=\"%s\" "
		      "vector-effect=\"non-scaling-stroke\"/>",
		      x1, y1, x2, y2, width);
}

/* Film on the spiral, both sides of the tube, edge on. */
static void put_film(struct output *output)
{
	for (int i = 0; i < 7; i++) {
		put_line(output, 10 + 4 * i, 9, 10 + 4 * i, 31, "1.2");
		put_line(output, 90 - 4 * i, 9, 90 - 4 * i, 31, "1.2");
	}
}

void reel_draw(size_t bits, struct output *output)
{
	int tube_top = (bits & REEL_IS_TOP) != 0 ? 2 : 0;
	output_string(output, "<svg class=\"reel-picture\" viewBox=\"0 0 100 40\" preserveAspectRatio=\"none\" "
			      "aria-hidden=\"true\">");
	put_line(output, 43, tube_top, 43, 40, "1.2");
	put_line(output, 57, tube_top, 57, 40, "1.2");
	if ((bits & REEL_IS_TOP) != 0)
		put_line(output, 43, 2, 57, 2, "2");
	put_line(output, 4, 7, 96, 7, (bits & REEL_IS_EMPTY) != 0 ? "1" : "2.4");
	put_line(output, 4, 33, 96, 33, (bits & REEL_IS_EMPTY) != 0 ? "1" : "2.4");
	if ((bits & REEL_IS_EMPTY) == 0)
		put_film(output);
	if ((bits & REEL_IS_BOTTOM) != 0)
		put_line(output, 0, 39, 100, 39, "5");
	output_string(output, "</svg>");
}
