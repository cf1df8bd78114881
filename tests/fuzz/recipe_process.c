/* Processes: chains of baths that develop a family, and variants of them. */
#include <ctype.h>
#include <string.h>

#include "recipe_maker.h"

const char *const maker_roles[MAKER_ROLES] = {
	"developer",	 "first-developer", "colour-developer", "stop",	      "bleach",	     "bleach-fix",
	"fix",		 "clearing",	    "wash-aid",		"stabiliser", "final-rinse", "wetting-agent",
	"reversal-bath", "pre-bleach",	    "pre-bath",		"toner",      "hardener",    "monobath",
	"conditioner"
};

/* A small letter is a bath of that role (a is the first); P pre-wet, W wash in running water, R rinse in still water, X
 * light, D drying. What stands before `?` may be left out. */
static const struct chain {
	const char *family;
	const char *baths;
	int tenths; /* of a degree: what it is warm */
} chains[] = {
	{ "black-and-white-negative", "P?ad?gi?Wl?D?", 200 },
	{ "C-41", "P?afWk?D?", 380 },
	{ "E-6", "P?bWmcnegWkD?", 380 },
	{ "black-and-white-reversal", "bWeRh?WXagWD?", 200 },
	{ "ECN-2", "oRadWeWgWk?D?", 411 },
	{ "C-41", "P?ad?esWgWjD?", 378 },
	{ "black-and-white-negative", "rWD?", 240 },
	{ "RA-4", "q?adfW", 350 },
	{ "black-and-white-negative", "gp?W", 200 },
};

#define CHAIN_COUNT (sizeof(chains) / sizeof(*chains))
#define RESCUE (CHAIN_COUNT - 1)

static void put_agitation(struct maker *maker)
{
	static const unsigned intervals[] = { 30, 60, 15, 45, 120 };
	unsigned every = intervals[maker_pick(maker, 5)];
	unsigned lasts = 1 + maker_pick(maker, every - 6);
	unsigned way = maker_pick(maker, 6);

	switch (way) {
	case 0:
		maker_say(maker, "agitate first 30 s, then %u s every %u s", lasts, every);
		break;
	case 1:
		maker_say(maker, "agitate continuously for ");
		maker_duration(maker, 5, 60);
		maker_say(maker, ", then %u s every %u s for %u:00, 5 s every 60 s", lasts % 50 + 1, every + 60,
			  1 + maker_pick(maker, 9));
		break;
	case 2:
		maker_say(maker, "agitate none");
		break;
	case 3:
		maker_say(maker, "agitate continuously");
		break;
	case 4:
		return;
	default:
		maker_say(maker, "agitate first ");
		maker_duration(maker, 1, 40);
		break;
	}
	maker_end(maker);
	if (way != 2 && way != 3 && maker_pick(maker, 3) == 1) {
		maker_say(maker, "tap %u for %u s after agitation", 1 + maker_pick(maker, 3), 1 + maker_pick(maker, 3));
		maker_end(maker);
	}
}

/* What a developer's time does with temperature. */
static void put_law(struct maker *maker, int tenths, unsigned seconds)
{
	switch (maker_pick(maker, 4)) {
	case 1:
		maker_say(maker, "time%s { ", maker_pick(maker, 2) == 0 ? "" : " by maker");
		maker_temperature(maker, tenths - 60);
		maker_say(maker, " %u s\n", seconds + 1 + maker_pick(maker, 200));
		maker_temperature(maker, tenths);
		maker_say(maker, " %u s, ", seconds);
		maker_temperature(maker, tenths + 60);
		maker_say(maker, " %u s }", seconds - maker_pick(maker, seconds / 2));
		break;
	case 2:
		maker_say(maker, "coefficient %u.%u %% per K", 1 + maker_pick(maker, 20), maker_pick(maker, 10));
		break;
	case 3:
		maker_say(maker, "activation energy %u kJ/mol", 20 + maker_pick(maker, 100));
		break;
	default:
		return;
	}
	maker_end(maker);
	if (maker_pick(maker, 2) == 1) {
		maker_say(maker, "round to %u s", 1 + maker_pick(maker, 30));
		maker_end(maker);
	}
}

static void put_timing(struct maker *maker)
{
	static const char *const timings[] = { "",
					       "",
					       "time starts when full",
					       "time starts at first pour",
					       "time includes draining",
					       "time excludes draining" };
	unsigned which = maker_pick(maker, 6);

	if (which < 2)
		return;
	maker_say(maker, "%s", timings[which]);
	maker_end(maker);
}

static void put_step_time(struct maker *maker, unsigned least, unsigned most, unsigned *seconds)
{
	unsigned kind = maker_pick(maker, 3);

	maker_say(maker, kind == 1 ? " for at least " : " for ");
	*seconds = maker_duration(maker, least, most);
	if (kind == 2) {
		maker_say(maker, " .. ");
		maker_duration(maker, *seconds + 1, most + 60);
	}
}

static void put_bath_clauses(struct maker *maker, char bath, int tenths, unsigned seconds)
{
	bool develops = bath == 'a' || bath == 'b' || bath == 'c' || bath == 'r';

	put_agitation(maker);
	if (develops)
		put_law(maker, tenths, seconds);
	if (develops && maker_pick(maker, 3) == 1) {
		maker_say(maker, "pour at ");
		maker_window(maker, tenths + 2);
		maker_end(maker);
		maker_say(maker, "mean ");
		maker_window(maker, tenths);
		maker_end(maker);
	}
	if (maker_pick(maker, 3) == 1) {
		maker_say(maker, "measure");
		maker_end(maker);
	}
	put_timing(maker);
	if (bath == 'g' && maker_pick(maker, 3) == 1) {
		maker_say(maker, "lights on after 0:%02u", 5 + maker_pick(maker, 20));
		maker_end(maker);
	}
}

static void put_out_of_bath(struct maker *maker, char bath)
{
	if (bath == 'X') {
		maker_say(maker, "in light { expose ");
		maker_duration(maker, 10, 60);
		maker_say(maker, " each side; %s", maker_pick(maker, 2) == 0 ? "" : "lights on; ");
	} else {
		maker_say(maker, maker->has_dryer && maker_pick(maker, 2) == 0 ? "in cabinet" : "in air");
		maker_say(maker, " for %u h { ", 1 + maker_pick(maker, 4));
	}
	maker_note(maker);
	maker_say(maker, "}");
}

static void put_step(struct maker *maker, char bath, int tenths)
{
	unsigned seconds;

	if (bath == 'X' || bath == 'D') {
		put_out_of_bath(maker, bath);
		return;
	}
	if (islower((unsigned char)bath)) {
		maker->roles |= (uint32_t)1 << (bath - 'a');
		maker_say(maker, "in bath-%s", maker_roles[bath - 'a']);
	} else {
		maker_say(maker, "%s",
			  bath == 'W'	? "in running water"
			  : bath == 'R' ? "as rinse in water"
					: "in water");
	}
	maker_say(maker, " at ");
	maker_window(maker, tenths);
	put_step_time(maker, 30, 900, &seconds);
	maker_say(maker, " {\n  ");
	if (islower((unsigned char)bath))
		put_bath_clauses(maker, bath, tenths, seconds);
	if (bath == 'W' && maker_pick(maker, 2) == 1)
		maker_say(maker, "flow %u L per min; ", 1 + maker_pick(maker, 12));
	if (bath == 'R' && maker_pick(maker, 2) == 1)
		maker_say(maker, "changes %u; ", 1 + maker_pick(maker, 6));
	maker_note(maker);
	maker_say(maker, "}");
}

static void put_load(struct maker *maker)
{
	switch (maker_pick(maker, 5)) {
	case 1:
		maker_say(maker, "load %u rolls", 1 + maker_pick(maker, 8));
		break;
	case 2:
		maker_say(maker, "load %u x 135 of 24 exposures, %u x 120", 1 + maker_pick(maker, 4),
			  1 + maker_pick(maker, 4));
		break;
	case 3:
		maker_say(maker, "load %u m of cine-16", 1 + maker_pick(maker, 60));
		break;
	default:
		return;
	}
	maker_end(maker);
}

static void put_push(struct maker *maker, int push)
{
	if (push == 0)
		return;
	maker_say(maker, "%s %d", push > 0 ? "push" : "pull", push > 0 ? push : -push);
	maker_end(maker);
}

static void put_equipment(struct maker *maker)
{
	if (maker->has_heater && maker_pick(maker, 2) == 0)
		maker_say(maker, "heater boiler; ");
	if (maker->has_thermometer && maker_pick(maker, 2) == 0)
		maker_say(maker, "thermometer no-2; ");
	if (maker->graduate_count > 0 && maker_pick(maker, 2) == 0)
		maker_say(maker, "graduate jug-0; ");
	if (maker->film_count > 0 && maker_pick(maker, 2) == 0)
		maker_say(maker, "film stock-%u; ", maker_pick(maker, (unsigned)maker->film_count));
	if (maker_pick(maker, 3) == 1) {
		maker_say(maker, "room ");
		maker_temperature(maker, 150 + (int)maker_pick(maker, 120));
		maker_end(maker);
	}
	if (maker_pick(maker, 3) == 1)
		maker_say(maker, "wet time under %u min; ", 5 + maker_pick(maker, 100));
}

static void put_process(struct maker *maker, size_t index)
{
	unsigned which = maker_pick(maker, CHAIN_COUNT);
	const struct chain *chain = &chains[which];
	int push = (int)maker_pick(maker, 5) - 2;
	int tenths = chain->tenths + (int)maker_pick(maker, 10);

	push = push == -2 ? 0 : push;
	maker->processes[index] = (struct made_process){ (int)which, push, false };
	maker_say(maker, "process make-%zu", index);
	maker_title(maker);
	maker_say(maker, " {\n  develops %s; tank jar-%u", chain->family,
		  maker_pick(maker, (unsigned)maker->tank_count));
	maker_end(maker);
	maker_say(maker, "%s", which == RESCUE ? "rescue; " : maker_pick(maker, 9) == 1 ? "washless; " : "");
	put_equipment(maker);
	put_push(maker, push);
	put_load(maker);
	put_timing(maker);
	maker_note(maker);
	for (const char *bath = chain->baths; *bath != '\0'; bath++) {
		bool may_lack = bath[1] == '?';

		if (*bath == '?' || (may_lack && maker_pick(maker, 2) == 0))
			continue;
		maker_say(maker, "\n  step s%zu ", (size_t)(bath - chain->baths));
		put_step(maker, *bath, tenths);
	}
	maker_say(maker, "\n}\n");
}

/* The place of the first step of a chain that no process lacks. */
static size_t certain_step(const struct chain *chain)
{
	size_t at = 0;

	while (chain->baths[at + 1] == '?')
		at += 2;
	return at;
}

static void put_variant(struct maker *maker, size_t index)
{
	const struct made_process *parent = &maker->processes[index - 1];
	const struct chain *chain = &chains[parent->family];
	size_t step = certain_step(chain);
	int push = 1 + (int)maker_pick(maker, 3);

	maker->processes[index] = (struct made_process){ parent->family, push, true };
	maker_say(maker, "process make-%zu", index);
	maker_title(maker);
	maker_say(maker, " from make-%zu {\n  ", index - 1);
	put_push(maker, push);
	maker_say(maker, "step s%zu for ", step);
	maker_duration(maker, 60, 1200);
	maker_end(maker);
	if (maker_pick(maker, 2) == 1 && !maker->processes[index - 1].is_variant) {
		maker_say(maker, "step extra after s%zu as rinse in water at ", step);
		maker_window(maker, chain->tenths);
		maker_say(maker, " for 1:00\n  ");
	}
	maker_note(maker);
	maker_say(maker, "}\n");
}

const char *maker_family(const struct maker *maker, size_t process)
{
	return chains[maker->processes[process].family].family;
}

void maker_processes(struct maker *maker)
{
	maker->process_count = 1 + maker_pick(maker, 4);
	for (size_t i = 0; i < maker->process_count; i++) {
		if (i > 0 && maker_pick(maker, 2) == 1)
			put_variant(maker, i);
		else
			put_process(maker, i);
	}
}
