#include "compute/heat_balance.h"

#include "compute/rounding.h"

#define NANOGRAMS_PER_GRAM 1e9

/* Molar masses and heats of solution of the hydroxides, from memory of the usual tables. */
#define SODIUM_HYDROXIDE_G_PER_MOL 40.00
#define SODIUM_HYDROXIDE_KJ_PER_MOL 44.5
#define POTASSIUM_HYDROXIDE_G_PER_MOL 56.11
#define POTASSIUM_HYDROXIDE_KJ_PER_MOL 57.6


double heat_balance_temp_c(const struct heat_share *shares, size_t count)
{
	double heat = 0;
	double volume_ml = 0;
	for (size_t i = 0; i < count; i++) {
		heat += shares[i].volume_ml * shares[i].temp_c;
		volume_ml += shares[i].volume_ml;
	}
	return heat / volume_ml;
}

double heat_balance_pour_c(struct heat_share bath, const struct heat_carried *carried)
{
	const struct heat_share shares[] = { bath, carried->tank, carried->water };
	return heat_balance_temp_c(shares, sizeof(shares) / sizeof(shares[0]));
}

double heat_balance_bath_for_c(double wanted_c, double bath_ml, const struct heat_carried *carried)
{
	double missing = carried->tank.volume_ml * (wanted_c - carried->tank.temp_c) +
			 carried->water.volume_ml * (wanted_c - carried->water.temp_c);
	return wanted_c + missing / bath_ml;
}

int64_t heat_balance_reels(const struct process *process)
{
	if (span_is_set(process->load_span))
		return process->load_pieces;
	int64_t most = 0;
	for (const struct takes *takes = process->tank ? process->tank->takes : NULL; takes; takes = takes->next) {
		if (takes->count > most)
			most = takes->count;
	}
	return most;
}

struct heat_carried heat_balance_carried(const struct process *process, bool has_before, double before_c, double tank_c)
{
	struct heat_carried carried = { { has_before ? before_c : tank_c, 0 }, { before_c, 0 } };
	const struct tank *tank = process->tank;
	if (tank && span_is_set(tank->absorbs.span))
		carried.tank.volume_ml = quantity_ml(tank->absorbs.value);
	if (tank && has_before && span_is_set(tank->carries.span))
		carried.water.volume_ml = quantity_ml(tank->carries.value) * (double)heat_balance_reels(process);
	return carried;
}

double heat_balance_dissolving_k(double mass_g, double g_per_mol, double kj_per_mol, double water_ml)
{
	double joule = mass_g / g_per_mol * kj_per_mol * 1000;
	return joule / (water_ml * WATER_SPECIFIC_HEAT);
}

bool heat_balance_dissolved(const struct part *part, int64_t volume, int64_t before, int64_t *after)
{
	double g_per_mol = SODIUM_HYDROXIDE_G_PER_MOL;
	double kj_per_mol = SODIUM_HYDROXIDE_KJ_PER_MOL;
	if (part->chemical == CHEMICAL_potassium_hydroxide) {
		g_per_mol = POTASSIUM_HYDROXIDE_G_PER_MOL;
		kj_per_mol = POTASSIUM_HYDROXIDE_KJ_PER_MOL;
	} else if (part->chemical != CHEMICAL_sodium_hydroxide) {
		return false;
	}
	if (!span_is_set(part->amount.span) || part->is_volume || volume <= 0)
		return false;
	double mass_g = (double)part->amount.value / NANOGRAMS_PER_GRAM;
	double rise_k = heat_balance_dissolving_k(mass_g, g_per_mol, kj_per_mol, quantity_ml(volume));
	*after = before + rounding_whole(rise_k * TEMPERATURE_PER_KELVIN);
	return true;
}
