/* Parts of the mixing card's data. Figures are those of the card, rounded as it prints them; `_c` is a true
 * temperature, and a reading has beside it what the declared thermometer shows. */
#ifndef EMIT_MIX_JSON_H
#define EMIT_MIX_JSON_H

#include "emit/escape/json_tree.h"
#include "emit/mix/card.h"

void mix_json_volume(struct json_node node, const char *key, int64_t volume);
void mix_json_mass(struct json_node node, const char *key, int64_t mass);
void mix_json_celsius(struct json_node node, const char *key, int64_t temperature);

/** A true temperature, or null. */
void mix_json_temp(struct json_node node, const char *key, struct preparation_temp temp);

/** A temperature and its reading, as a pair of keys. */
void mix_json_reading(const struct mix_card *card, struct json_node parent, const char *key, int64_t temperature);

/** The same, or null. */
void mix_json_reading_or_null(const struct mix_card *card, struct json_node node, const char *key,
			      struct preparation_temp temp);

/** Adds "acts". */
void mix_json_acts(const struct mix_card *card, struct json_node parent, const struct preparation_mix *mix);

#endif
