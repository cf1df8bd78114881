/* What a water bath takes up from a mix that cools in it, and how much ice keeps it at its temperature. Water of 1
 * g/mL and WATER_SPECIFIC_HEAT on both sides; the vessel's own heat and what the room adds are left out. */
#ifndef COMPUTE_COOLING_BATH_H
#define COMPUTE_COOLING_BATH_H

/** Latent heat of melting ice, J/g, as chemistry textbooks print it (334 J/g; 80 cal/g). */
#define ICE_LATENT_HEAT 334.0

/** The heat, in J, that so much water gives up from one temperature to a lower one: m·c·(from − to). */
double cooling_bath_heat_j(double volume_ml, double from_c, double to_c);

/** The ice of 0 °C, in g, that takes up this heat in a bath that stays at `bath_c`: it melts, and its water warms to
 * the bath, m = Q / (L + c·T). The bath must not be below 0 °C. */
double cooling_bath_ice_g(double heat_j, double bath_c);

#endif
