/* The forecast as a picture of its own: the <svg> element that a page may hold too, as a file. */
#include "emit/forecast/curve.h"

void emit_forecast_svg(const struct emission *emission, struct output *output)
{
	output_string(output, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
	curve_draw(emission, forecast_run(emission->process, emission->timeline, emission->arena), output);
}
