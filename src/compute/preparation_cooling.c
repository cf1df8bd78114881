/* From the temperature of mixing to that of working: by Newton's law with the vessel's heat-loss test. */
#include <math.h>

#include "compute/cooling.h"
#include "compute/cooling_bath.h"
#include "compute/preparation.h"

#define MINUTE_MS 60000.0
#define ICE_STEP_G 10
#define NANOGRAMS_PER_GRAM 1000000000LL

/* Which way, and to what: a working point, or the near end of a range of which every point is as good. */
static void set_way(struct preparation_cooling *cooling, const struct temperature_window *target, int64_t start)
{
	cooling->start = start;
	cooling->target = target->nominal;
	cooling->way = WAY_READY;
	if (start > target->high) {
		cooling->way = WAY_COOL;
		cooling->target = target->form == WINDOW_RANGE ? target->high : target->nominal;
	} else if (start < target->low) {
		cooling->way = WAY_WARM;
		cooling->target = target->form == WINDOW_RANGE ? target->low : target->nominal;
	}
}

/* A mix that comes out right needs no tempered water to top it up. */
static void forget_ready(struct preparation_stage *stage)
{
	for (size_t i = 0; i < stage->mix_count; i++) {
		for (size_t j = 0; j < stage->mixes[i].act_count; j++)
			stage->mixes[i].acts[j].ready.is_known = false;
	}
}

static void set_time(struct preparation_cooling *cooling)
{
	double rate;
	if (!cooling->is_reached || !cooling->vessel || !cooling_rate_of_test(&cooling->vessel->cools, &rate))
		return;
	double time_s = cooling_time_s(quantity_celsius(cooling->start), quantity_celsius(cooling->target),
				       quantity_celsius(cooling->surroundings.value), rate);
	double minutes = ceil(time_s * MILLISECONDS_PER_SECOND / MINUTE_MS);
	cooling->time_ms = (int64_t)(minutes * MINUTE_MS);
}

static void set_ice(struct preparation_cooling *cooling, int64_t volume)
{
	double bath_c = quantity_celsius(cooling->surroundings.value);
	if (!cooling->is_in_bath || !cooling->is_reached || bath_c < 0)
		return;
	double heat_j = cooling_bath_heat_j(quantity_ml(volume), quantity_celsius(cooling->start),
					    quantity_celsius(cooling->target));
	double steps = ceil(cooling_bath_ice_g(heat_j, bath_c) / ICE_STEP_G);
	cooling->ice_ng = (int64_t)steps * ICE_STEP_G * NANOGRAMS_PER_GRAM;
}

void preparation_cool(const struct preparation_scene *scene, struct preparation_bath *bath)
{
	struct preparation_cooling *cooling = &bath->cooling;
	if (bath->stage_count == 0 || !bath->stages[0].temp.is_known || !span_is_set(scene->target.span))
		return;
	struct preparation_stage *stage = &bath->stages[0];
	set_way(cooling, &scene->target, stage->temp.value);
	if (cooling->way == WAY_READY)
		forget_ready(stage);
	cooling->vessel = stage->plan.mix_count > 1 ? stage->together : stage->vessel;
	cooling->is_in_bath = scene->preparation->water_bath.is_known;
	cooling->surroundings = cooling->is_in_bath ? scene->preparation->water_bath : scene->preparation->room;
	if (cooling->way != WAY_COOL || !cooling->surroundings.is_known)
		return;
	/* Where the working point is never reached, the upper limit of the window may be. */
	if (cooling->surroundings.value >= cooling->target && cooling->surroundings.value < scene->target.high)
		cooling->target = scene->target.high;
	cooling->is_reached = cooling->surroundings.value < cooling->target;
	set_time(cooling);
	set_ice(cooling, stage->plan.makes);
}
