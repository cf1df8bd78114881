#include "compute/reading.h"
#include "emit/json_recipe.h"
#include "emit/mix/json.h"

#define NANOGRAMS_PER_GRAM 1000000000LL

void mix_json_volume(struct json_node node, const char *key, int64_t volume)
{
	json_node_ratio(node, key, quantity_round_volume(volume), VOLUME_PER_ML);
}

void mix_json_mass(struct json_node node, const char *key, int64_t mass)
{
	json_node_ratio(node, key, quantity_round_mass(mass), NANOGRAMS_PER_GRAM);
}

void mix_json_celsius(struct json_node node, const char *key, int64_t temperature)
{
	json_recipe_celsius(node, key, quantity_round_temperature(temperature));
}

void mix_json_temp(struct json_node node, const char *key, struct preparation_temp temp)
{
	if (temp.is_known)
		mix_json_celsius(node, key, temp.value);
	else
		json_node_null(node, key);
}

void mix_json_reading(const struct mix_card *card, struct json_node parent, const char *key, int64_t temperature)
{
	const struct temperature_window point = { .form = WINDOW_POINT, .nominal = temperature };
	const struct temperature_window shown = reading_window(card->emission->process->thermometer, &point);
	struct json_node node = json_node_object(parent, key);
	mix_json_celsius(node, "true_c", temperature);
	mix_json_celsius(node, "read_c", shown.nominal);
}

void mix_json_reading_or_null(const struct mix_card *card, struct json_node node, const char *key,
			      struct preparation_temp temp)
{
	if (temp.is_known)
		mix_json_reading(card, node, key, temp.value);
	else
		json_node_null(node, key);
}
