/* Heat balance of waters: what temperature comes out when several are together. Vessels and film count as so much
 * water; photographic baths are taken as water. Temperatures in °C, volumes in mL, nothing rounded. */
#ifndef COMPUTE_HEAT_BALANCE_H
#define COMPUTE_HEAT_BALANCE_H

#include <stddef.h>

#include "model/recipe.h"

/** Specific heat of water, J/(g K), as chemistry textbooks print it. */
#define WATER_SPECIFIC_HEAT 4.184

/** Between these there is liquid water to pour. */
#define WATER_FREEZES_C 0.0
#define WATER_BOILS_C 100.0

/** So much water of a temperature. */
struct heat_share {
	double temp_c;
	double volume_ml;
};

/** The common temperature: sum of volume × temperature over the sum of volumes. Some volume must be above 0. */
double heat_balance_temp_c(const struct heat_share *shares, size_t count);

/** What a bath meets when it is poured into a tank: the tank itself and the water that the film carries. */
struct heat_carried {
	struct heat_share tank;	 /* what the tank soaks up, as so much water */
	struct heat_share water; /* left in the wet reels by the bath before */
};

/** The temperature after a pour: T = (V·Tb + A·Tt + C·Tc) / (V + A + C). */
double heat_balance_pour_c(struct heat_share bath, const struct heat_carried *carried);

/** The temperature that a bath must have before the pour, so that it is `wanted_c` after it. */
double heat_balance_bath_for_c(double wanted_c, double bath_ml, const struct heat_carried *carried);

/** What the bath of a step meets. `before_c` is the temperature of the bath before it, which is in the reels and has
 * tempered the tank; with no bath before it (`has_before` false) reels are dry and the tank is at `tank_c`. */
struct heat_carried heat_balance_carried(const struct process *process, bool has_before, double before_c,
					 double tank_c);

/** Reels in one load: one for each roll of a declared load, else those of a full tank; 0 where nothing says. */
int64_t heat_balance_reels(const struct process *process);

/** By how many kelvin dissolving warms so much water: moles × enthalpy set free, over the heat of the water. */
double heat_balance_dissolving_k(double mass_g, double g_per_mol, double kj_per_mol, double water_ml);

/** The temperature (model's unit) after a part has dissolved in a volume at `before`; false where its heat of solution
 * is not known here: only those of the hydroxides are. */
bool heat_balance_dissolved(const struct part *part, int64_t volume, int64_t before, int64_t *after);

#endif
