/* Vessels, tools, films; baths; days with their rolls. */
#include "recipe_maker.h"

/* ---- vessels, tools, films ---- */

static void put_cooling(struct maker *maker)
{
	int from = 380 + (int)maker_pick(maker, 20);

	if (maker_pick(maker, 3) == 1)
		return;
	maker_say(maker, "cools ");
	maker_temperature(maker, from);
	maker_say(maker, " to ");
	maker_temperature(maker, from - 1 - (int)maker_pick(maker, 60));
	maker_say(maker, " within ");
	maker_duration(maker, 60, 3600);
	maker_say(maker, " in a %s at ", maker_pick(maker, 2) == 0 ? "room" : "bath");
	maker_temperature(maker, 180 + (int)maker_pick(maker, 80));
	maker_end(maker);
}

static void put_tank(struct maker *maker, size_t index)
{
	static const char *const ways[] = { "", "emptied through lid; ", "emptied from bottom; ", "reels lowered; " };
	unsigned format = maker_pick(maker, MAKER_FORMATS);

	maker_say(maker, "tank jar-%zu", index);
	maker_title(maker);
	maker_say(maker, " {\n  holds ");
	maker_volume(maker, 200 + 50 * maker_pick(maker, 100));
	maker_end(maker);
	maker_say(maker, "takes %u x %s", 1 + maker_pick(maker, 12), maker_format(format));
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, " or %u x %s", 1 + maker_pick(maker, 12), maker_format(format + 1));
	maker_end(maker);
	maker_say(maker, "fill ");
	maker_duration(maker, 0, 40);
	maker_end(maker);
	maker_say(maker, "drain ");
	maker_duration(maker, 0, 40);
	maker_end(maker);
	maker_say(maker, "%s", ways[maker_pick(maker, 4)]);
	if (maker_pick(maker, 3) == 1) {
		maker_say(maker, "bath ");
		maker_window(maker, 380);
		maker_end(maker);
	}
	put_cooling(maker);
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, "absorbs %u mL; carries %u mL per reel; ", maker_pick(maker, 250),
			  maker_pick(maker, 40));
	maker_note(maker);
	maker_say(maker, "}\n");
}

static void put_tools(struct maker *maker)
{
	if (maker->graduate_count > 0) {
		maker_say(maker, "graduate jug-0 { holds %u mL; ", 500 + 50 * maker_pick(maker, 100));
		put_cooling(maker);
		maker_say(maker, "}\n");
	}
	if (maker->has_heater)
		maker_say(maker, "heater boiler { gives %u L per min; stores %u L }\n", 1 + maker_pick(maker, 20),
			  1 + maker_pick(maker, 200));
	if (maker->has_thermometer)
		maker_say(maker,
			  "thermometer no-2 { reads 0.1 K within 0.%u K; correction -0.%u K; checked 2026-0%u-01 }\n",
			  1 + maker_pick(maker, 9), maker_pick(maker, 9), 1 + maker_pick(maker, 9));
	if (maker->has_dryer)
		maker_say(maker, "dryer cabinet { takes %u rolls; for %u h; up to %u °C; length %u.5 m }\n",
			  1 + maker_pick(maker, 40), 1 + maker_pick(maker, 4), 25 + maker_pick(maker, 30),
			  1 + maker_pick(maker, 3));
}

static void put_film(struct maker *maker, size_t index)
{
	static const char *const families[] = { "C-41", "black-and-white-negative", "ECN-2", "K-14", "E-6" };
	static const char *const emulsions[] = { "soft", "hardened", "tabular" };

	maker_say(maker, "film stock-%zu", index);
	maker_title(maker);
	maker_say(maker, " { family %s; backing %s; emulsion %s; made %u }\n", families[maker_pick(maker, 5)],
		  maker_pick(maker, 2) == 0 ? "none" : "rem-jet", emulsions[maker_pick(maker, 3)],
		  1930 + maker_pick(maker, 95));
}

void maker_vessels(struct maker *maker)
{
	maker->tank_count = 1 + maker_pick(maker, 3);
	maker->graduate_count = maker_pick(maker, 2);
	maker->film_count = maker_pick(maker, 3);
	maker->has_heater = maker_pick(maker, 2) == 1;
	maker->has_dryer = maker_pick(maker, 2) == 1;
	maker->has_thermometer = maker_pick(maker, 2) == 1;
	for (size_t i = 0; i < maker->tank_count; i++)
		put_tank(maker, i);
	put_tools(maker);
	for (size_t i = 0; i < maker->film_count; i++)
		put_film(maker, i);
}

/* ---- baths ---- */

static void put_chemical(struct maker *maker)
{
	static const char *const chemicals[] = { "metol",
						 "hydroquinone",
						 "sodium-sulfite anhydrous",
						 "borax decahydrate",
						 "sulfuric-acid",
						 "sodium-thiosulfate pentahydrate",
						 "potassium-permanganate",
						 "sodium-hydroxide",
						 "CD-4",
						 "sodium-hypochlorite",
						 "acetic-acid-28",
						 "borax" };

	maker_say(maker, "add %s ", chemicals[maker_pick(maker, 12)]);
	maker_say(maker, maker_pick(maker, 3) == 1 ? "%u.5 gr" : "%u.25 g", maker_pick(maker, 200));
}

/* The acts of a mix, or of a formula; of what makes so much. */
static void put_acts(struct maker *maker, unsigned makes, bool is_formula)
{
	unsigned count = 1 + maker_pick(maker, 5);

	maker_say(maker, "water %u mL at ", makes * (40 + maker_pick(maker, 50)) / 100);
	maker_window(maker, 200 + (int)maker_pick(maker, 255));
	maker_end(maker);
	for (unsigned i = 0; i < count; i++) {
		if (is_formula) {
			put_chemical(maker);
		} else {
			maker_say(maker, "add ");
			maker_text(maker);
		}
		if (maker_pick(maker, 2) == 1)
			maker_say(maker, " stirring %u:00", 1 + maker_pick(maker, 9));
		if (maker_pick(maker, 3) == 1)
			maker_say(maker, " drops %u K", 1 + maker_pick(maker, 6));
		maker_end(maker);
	}
	maker_say(maker, "%s%s", maker_pick(maker, 3) == 1 ? "stand 0:10:00; " : "",
		  maker_pick(maker, 3) == 1 ? "stir 2:00; " : "");
	maker_note(maker);
	maker_say(maker, "top up\n  }");
	maker_end(maker);
}

static void put_source(struct maker *maker, const char *role, bool has_stock)
{
	unsigned makes = 250 + 250 * maker_pick(maker, 12);

	switch (maker_pick(maker, 6)) {
	case 0:
		maker_say(maker, "dilute 1+%u", 1 + maker_pick(maker, 100));
		if (has_stock)
			maker_say(maker, " from stock-%s", role);
		break;
	case 1:
		maker_say(maker, "kit makes ");
		maker_volume(maker, makes);
		maker_say(maker, maker_pick(maker, 2) == 0 ? ", powder" : ", liquid");
		maker_say(maker, maker_pick(maker, 2) == 0 ? "; stock pooled; " : "; stock separate; blend; ");
		if (maker_pick(maker, 2) == 1)
			break;
		maker_say(maker, "mix {\n    ");
		put_acts(maker, makes, false);
		return;
	case 2:
		maker_say(maker, "formula makes %u mL {\n    ", makes);
		put_acts(maker, makes, true);
		return;
	case 3:
		maker_say(maker, "dilute 1+%u+%u", 1 + maker_pick(maker, 4), 1 + maker_pick(maker, 99));
		break;
	default:
		return;
	}
	maker_end(maker);
}

static void put_life(struct maker *maker)
{
	static const char *const uses[] = { "one-shot; ", "reuse; ", "replenish 60 mL per roll; ", "" };

	maker_say(maker, "%s", uses[maker_pick(maker, 4)]);
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, "capacity %u rolls per %u mL; ", 1 + maker_pick(maker, 30),
			  100 + 10 * maker_pick(maker, 200));
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, "lengthen %u %% per roll per 1 L%s; ", 1 + maker_pick(maker, 20),
			  maker_pick(maker, 2) == 0 ? ", added up" : ", compounded");
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, "keeps %u weeks full, %u days part full, 1 week in tank; ", 1 + maker_pick(maker, 60),
			  1 + maker_pick(maker, 60));
	if (maker_pick(maker, 4) == 1) {
		maker_say(maker, "usable ");
		maker_window(maker, 200 + (int)maker_pick(maker, 200));
		maker_end(maker);
	}
	if (maker_pick(maker, 4) == 1)
		maker_say(maker, "at least %u mL per roll; ", 1 + maker_pick(maker, 250));
}

static void put_danger(struct maker *maker, const char *role)
{
	static const char *const hazards[] = { "none", "H302, H317", "H301+H311", "EUH031, H314", "H350" };
	static const char *const wastes[] = { "silver", "developer", "bleach", "acid", "chromium", "none" };
	static const char *const classes[] = { "strong-acid",  "developing-agent, sulfite",
					       "thiosulfate",  "hypochlorite",
					       "permanganate", "alkali, carbonate" };

	if (maker_pick(maker, 4) != 1)
		maker_say(maker, "hazards %s; ", hazards[maker_pick(maker, 5)]);
	if (maker_pick(maker, 4) != 1)
		maker_say(maker, "waste %s; ", wastes[maker_pick(maker, 6)]);
	if (maker_pick(maker, 3) == 1)
		maker_say(maker, "contains %s; ", classes[maker_pick(maker, 6)]);
	if (maker_pick(maker, 3) == 1)
		maker_say(maker, "pH %u.%u; ", maker_pick(maker, 14), maker_pick(maker, 10));
	if (maker_pick(maker, 4) == 1)
		maker_say(maker, "sheet dated 202%u-11-03; ", maker_pick(maker, 6));
	if (role == maker_roles[6] && maker_pick(maker, 2) == 1)
		maker_say(maker, "clears fresh 0:%u now 1:%u; ", 10 + maker_pick(maker, 50),
			  10 + maker_pick(maker, 40));
}

static void put_solution(struct maker *maker, const char *prefix, const char *role, bool has_stock)
{
	maker_say(maker, "solution %s-%s", prefix, role);
	maker_title(maker);
	maker_say(maker, " {\n  role %s", role);
	maker_end(maker);
	put_source(maker, role, has_stock);
	put_life(maker);
	put_danger(maker, role);
	maker_note(maker);
	maker_say(maker, "}\n");
}

void maker_solutions(struct maker *maker)
{
	for (unsigned i = 0; i < MAKER_ROLES; i++) {
		bool has_stock;

		if ((maker->roles >> i & 1) == 0)
			continue;
		has_stock = maker_pick(maker, 3) == 1;
		if (has_stock)
			put_solution(maker, "stock", maker_roles[i], false);
		put_solution(maker, "bath", maker_roles[i], has_stock);
	}
}

/* ---- days ---- */

static void put_on_hand(struct maker *maker, bool is_in_day)
{
	for (unsigned i = 0; i < MAKER_ROLES; i++) {
		if ((maker->roles >> i & 1) == 0 || maker_pick(maker, 3) != 1)
			continue;
		maker_say(maker, "  on hand bath-%s ", maker_roles[i]);
		maker_volume(maker, 100 + 100 * maker_pick(maker, 60));
		if (maker_pick(maker, 2) == 1)
			maker_say(maker, " mixed 2026-0%u-11", 1 + maker_pick(maker, 3));
		if (maker_pick(maker, 2) == 1)
			maker_say(maker, " done %u rolls", maker_pick(maker, 40));
		maker_say(maker, is_in_day && maker_pick(maker, 2) == 1 ? ", tested\n" : "\n");
	}
}

static void put_roll_clauses(struct maker *maker)
{
	static const char *const conditions[] = { "vinegar",	  "brittle, shrunk", "nitrate",
						  "acetate, wet", "frozen",	     "mould" };

	if (maker_pick(maker, 3) == 1) {
		maker_say(maker, "origin ");
		maker_text(maker);
		maker_end(maker);
	}
	maker_say(maker, "%s%s", maker_pick(maker, 4) == 1 ? "urgent; " : "",
		  maker_pick(maker, 4) == 1 ? "precious; " : "");
	if (maker_pick(maker, 3) == 1)
		maker_say(maker, "together album-%u; ", maker_pick(maker, 2));
	if (maker_pick(maker, 4) == 1)
		maker_say(maker, "condition %s; made %u; ", conditions[maker_pick(maker, 6)],
			  1900 + maker_pick(maker, 120));
	if (maker_pick(maker, 4) == 1) {
		maker_say(maker, "mark ");
		maker_text(maker);
		maker_end(maker);
	}
	maker_note(maker);
}

static void put_roll(struct maker *maker, size_t index)
{
	unsigned process = maker_pick(maker, (unsigned)maker->process_count);
	int push = maker->processes[process].push;

	maker_say(maker, "  roll SM-%zu", index);
	maker_title(maker);
	maker_say(maker, " {\n  format %s; ", maker_format(maker_pick(maker, MAKER_FORMATS)));
	if (maker_pick(maker, 12) == 11)
		maker_say(maker, "set aside \"later\"; ");
	else if (maker_pick(maker, 8) == 7)
		maker_say(maker, "needs C-22 develop as %s \"no baths\", decided by \"KM\"; process make-%u",
			  maker_family(maker, process), process);
	else
		maker_say(maker, "needs %s; process make-%u", maker_family(maker, process), process);
	maker_end(maker);
	if (push != 0)
		maker_say(maker, "%s %d; ", push > 0 ? "push" : "pull", push > 0 ? push : -push);
	put_roll_clauses(maker);
	maker_say(maker, "}\n");
}

static void put_hours(struct maker *maker)
{
	unsigned start = 6 + maker_pick(maker, 6);

	maker_say(maker, "start %02u:%02u; ", start, maker_pick(maker, 60));
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, "finish by %02u:00; ", start + 4 + maker_pick(maker, 9));
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, "break %02u:30 for %u min; ", start + 1 + maker_pick(maker, 2),
			  5 + maker_pick(maker, 90));
	if (maker_pick(maker, 4) == 1)
		maker_say(maker, "clock %u h %s utc; ", 1 + maker_pick(maker, 11),
			  maker_pick(maker, 2) == 0 ? "ahead of" : "behind");
	if (maker_pick(maker, 3) == 1)
		maker_say(maker, "load %u s per roll; mix %u min; temper %u min; reels dry for %u min; ",
			  10 + maker_pick(maker, 250), 1 + maker_pick(maker, 60), 1 + maker_pick(maker, 60),
			  1 + maker_pick(maker, 90));
}

static void put_day(struct maker *maker)
{
	unsigned format = maker_pick(maker, MAKER_FORMATS);

	maker_say(maker, "day 2026-03-%02u", 11 + maker_pick(maker, 20));
	maker_title(maker);
	maker_say(maker, " {\n  ");
	put_hours(maker);
	for (size_t i = 0; i < maker->process_count; i++)
		maker_say(maker, i == 0 ? "runs make-%zu" : ", make-%zu", i);
	maker_end(maker);
	if (maker_pick(maker, 2) == 1) {
		for (size_t i = 0; i < maker->tank_count; i++)
			maker_say(maker, i == 0 ? "tanks jar-%zu" : ", jar-%zu", i);
		maker_say(maker, maker_pick(maker, 2) == 1 ? ", jar-0\n" : "\n");
	}
	if (maker_pick(maker, 2) == 1)
		maker_say(maker, "reels %u x %s, %u x %s\n", 1 + maker_pick(maker, 16), maker_format(format),
			  1 + maker_pick(maker, 16), maker_format(format + 1));
	if (maker->has_dryer && maker_pick(maker, 2) == 1)
		maker_say(maker, "dryer cabinet; ");
	put_on_hand(maker, true);
	maker_note(maker);
	for (size_t i = maker_pick(maker, 10); i > 0; i--)
		put_roll(maker, i);
	maker_say(maker, "}\n");
}

void maker_days(struct maker *maker)
{
	if (maker_pick(maker, 2) == 0) {
		put_on_hand(maker, false);
		return;
	}
	put_day(maker);
	for (size_t i = maker_pick(maker, 3); i > 0; i--)
		put_roll(maker, 100 + i);
}
