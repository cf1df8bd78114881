/* Recipes that are well, made from any bytes: each byte is a choice, and where the bytes end, the first choice is
 * taken. So a fuzzer's mutations change what a recipe says and not whether it is one. */
#ifndef FUZZ_RECIPE_MAKER_H
#define FUZZ_RECIPE_MAKER_H

#include <stdint.h>

#include "support/text.h"

struct maker {
	const unsigned char *bytes;
	size_t left;
	struct text_builder out;
	unsigned fahrenheit; /* not 0: temperatures are written so */
	size_t tank_count, graduate_count, film_count, process_count;
	bool has_heater, has_dryer, has_thermometer;
	struct made_process {
		int family; /* its row in the maker's table */
		int push;
		bool is_variant;
	} processes[4];
	uint32_t roles; /* of the baths that are needed, by their place in the maker's table */
};

/** One choice of so many, which takes one byte; the first where no byte is left. */
unsigned maker_pick(struct maker *maker, unsigned count);

/** A recipe, in `arena`. */
struct text recipe_make(struct arena *arena, struct maker *maker);

/* The parts of it, which are written in this order. */
void maker_vessels(struct maker *maker);
void maker_processes(struct maker *maker);
void maker_solutions(struct maker *maker);
void maker_days(struct maker *maker);

/* Pieces that several parts share. */
void maker_say(struct maker *maker, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** Ends a clause: with its line or without. */
void maker_end(struct maker *maker);
/** A text in quotes: of the bytes, of the odd ones, or a plain one. */
void maker_text(struct maker *maker);
/** A blank and a title, or nothing. */
void maker_title(struct maker *maker);
/** A note, or none. */
void maker_note(struct maker *maker);
/** A duration of `least` to `most` seconds. Returns it. */
unsigned maker_duration(struct maker *maker, unsigned least, unsigned most);
/** A temperature in tenths of a degree Celsius, with its unit. */
void maker_temperature(struct maker *maker, int tenths);
/** A window around it. */
void maker_window(struct maker *maker, int tenths);
/** A volume of so many millilitres. */
void maker_volume(struct maker *maker, unsigned millilitres);
/** A format of film, by its place in a table. */
const char *maker_format(unsigned index);
#define MAKER_FORMATS 7

/* The tables of families and baths. */
/** The family of a process. */
const char *maker_family(const struct maker *maker, size_t process);
extern const char *const maker_roles[];
#define MAKER_ROLES 19

#endif
