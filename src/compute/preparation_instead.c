/* What may be taken in place of what a formula names. */
#include "compute/hydrates.h"
#include "compute/preparation.h"

/* Amounts below this are hard to weigh (common practice, no source). */
#define LEAST_WEIGHED_NG 1000000000LL

/* A stronger acid takes water along, to the same volume; a weaker one brings more than the top-up may leave out. */
static void set_acid(struct preparation_act *act, int64_t left)
{
	struct preparation_acid *other = &act->acid;
	if (act->part->chemical == CHEMICAL_acetic_acid_28) {
		other->chemical = CHEMICAL_acetic_acid_glacial;
		other->volume = blending_acid(act->amount, ACETIC_PHOTOGRAPHIC, ACETIC_GLACIAL);
	} else if (act->part->chemical == CHEMICAL_acetic_acid_glacial) {
		other->chemical = CHEMICAL_acetic_acid_28;
		other->volume = blending_acid(act->amount, ACETIC_GLACIAL, ACETIC_PHOTOGRAPHIC);
	}
	other->volume = quantity_round_volume(other->volume);
	other->water = act->amount - other->volume;
	if (-other->water > left)
		other->chemical = CHEMICAL_COUNT;
}

static void set_percent_solution(struct preparation_act *act, int64_t left)
{
	static const int64_t percents[CHEMICAL_COUNT] = {
#define PERCENT_SOLUTION(chemical, percent) [CHEMICAL_##chemical] = (percent)*PERCENT_ONE,
#include "compute/percent_solutions.def"
#undef PERCENT_SOLUTION
	};
	int64_t percent = act->part->chemical < CHEMICAL_COUNT ? percents[act->part->chemical] : 0;
	if (percent == 0 || act->amount >= LEAST_WEIGHED_NG)
		return;
	int64_t volume = quantity_round_volume(blending_percent_volume(act->amount, percent));
	if (volume > left)
		return;
	act->percent = percent;
	act->percent_volume = volume;
}

void preparation_instead(struct preparation_act *act, int64_t left)
{
	if (act->is_volume)
		set_acid(act, left);
	else
		set_percent_solution(act, left);
}

bool preparation_other_form(const struct preparation_act *act, size_t index, struct text *form, int64_t *mass)
{
	if (act->kind != PREPARE_PART || act->is_volume || !act->has_amount)
		return false;
	const struct part *part = act->part;
	for (size_t i = 0; i < hydrate_count(part->chemical); i++) {
		*form = hydrate_word(part->chemical, i);
		if (text_equal(*form, part->hydrate) ||
		    !hydrate_mass(part->chemical, part->hydrate, *form, act->amount, mass))
			continue;
		*mass = quantity_round_mass(*mass);
		if (index-- == 0)
			return true;
	}
	return false;
}
