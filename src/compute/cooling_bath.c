#include "compute/cooling_bath.h"

#include "compute/heat_balance.h"

double cooling_bath_heat_j(double volume_ml, double from_c, double to_c)
{
	return volume_ml * WATER_SPECIFIC_HEAT * (from_c - to_c);
}

double cooling_bath_ice_g(double heat_j, double bath_c)
{
	return heat_j / (ICE_LATENT_HEAT + WATER_SPECIFIC_HEAT * bath_c);
}
