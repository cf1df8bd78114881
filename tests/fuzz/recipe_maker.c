#include "recipe_maker.h"

#include <ctype.h>
#include <stdarg.h>
#include <string.h>

unsigned maker_pick(struct maker *maker, unsigned count)
{
	if (maker->left == 0 || count < 2)
		return 0;
	maker->left--;
	return *maker->bytes++ % count;
}

void maker_say(struct maker *maker, const char *format, ...)
{
	va_list arguments;

	va_start(arguments, format);
	text_append_format_list(&maker->out, format, arguments);
	va_end(arguments);
}

void maker_end(struct maker *maker)
{
	static const char *const ends[] = { "\n  ", "; ", "\n\t# a remark {\n  ", " ;\n  " };

	maker_say(maker, "%s", ends[maker_pick(maker, 4)]);
}

/* ---- texts ---- */

static void put_bytes(struct maker *maker, unsigned count)
{
	for (unsigned i = 0; i < count; i++) {
		unsigned byte = ' ' + maker_pick(maker, 95);

		maker_say(maker, byte == '"' || byte == '\\' ? "\\%c" : "%c", (int)byte);
	}
}

void maker_text(struct maker *maker)
{
	static const char *const texts[] = { "a text",
					     "*one* **two** `three` [four](http://five \\\"six\\\")",
					     "</script><b>&amp; ]]> {{x}} --> ${HOME} $(id) `id`",
					     "Küste, 海辺, побережье, \xd7\x90\xd7\x91 \xe2\x80\xae",
					     "=1+1,\\\"a\\\"\\nb;c\\\\n",
					     "'; rm -- x #",
					     "" };
	unsigned which = maker_pick(maker, 9);

	maker_say(maker, "\"");
	if (which >= 7)
		put_bytes(maker, 1 + maker_pick(maker, which == 7 ? 8 : 250));
	else
		maker_say(maker, "%s", which == 6 ? "x" : texts[which]);
	maker_say(maker, "\"");
}

void maker_title(struct maker *maker)
{
	if (maker_pick(maker, 2) == 0)
		return;
	maker_say(maker, " ");
	maker_text(maker);
}

void maker_note(struct maker *maker)
{
	if (maker_pick(maker, 6) != 1)
		return;
	maker_say(maker, "note ");
	maker_text(maker);
	maker_end(maker);
}

/* ---- figures ---- */

unsigned maker_duration(struct maker *maker, unsigned least, unsigned most)
{
	unsigned seconds = least;

	if (most > least)
		seconds += (maker_pick(maker, 256) << 8 | maker_pick(maker, 256)) % (most - least + 1);
	switch (maker_pick(maker, 4)) {
	case 0:
		if (seconds >= 3600)
			maker_say(maker, "%u:%02u:%02u", seconds / 3600, seconds / 60 % 60, seconds % 60);
		else
			maker_say(maker, "%u:%02u", seconds / 60, seconds % 60);
		break;
	case 1:
		maker_say(maker, "%u s", seconds);
		break;
	case 2:
		maker_say(maker, "%u.250 s", seconds);
		break;
	default:
		maker_say(maker, "%us", seconds);
		break;
	}
	return seconds;
}

void maker_temperature(struct maker *maker, int tenths)
{
	if (maker->fahrenheit != 0) {
		int in_fahrenheit = tenths * 18 + 3200; /* hundredths */

		maker_say(maker, "%d.%02d °F", in_fahrenheit / 100, in_fahrenheit % 100);
	} else {
		static const char *const units[] = { " °C", " C", "C", " degC" };

		maker_say(maker, "%d.%d%s", tenths / 10, tenths % 10, units[maker_pick(maker, 4)]);
	}
}

void maker_window(struct maker *maker, int tenths)
{
	int reach = 1 + (int)maker_pick(maker, 40);

	switch (maker_pick(maker, 3)) {
	case 0:
		maker_temperature(maker, tenths);
		break;
	case 1:
		maker_temperature(maker, tenths);
		maker_say(maker, " %s %d.%d%s", maker_pick(maker, 2) == 0 ? "±" : "+-", reach / 10, reach % 10,
			  maker->fahrenheit == 0 ? " K" : "");
		break;
	default:
		maker_temperature(maker, tenths - reach);
		maker_say(maker, " .. ");
		maker_temperature(maker, tenths + reach);
		break;
	}
}

void maker_volume(struct maker *maker, unsigned millilitres)
{
	switch (maker_pick(maker, 4)) {
	case 0:
		maker_say(maker, "%u mL", millilitres);
		break;
	case 1:
		maker_say(maker, "%u.%03u L", millilitres / 1000, millilitres % 1000);
		break;
	case 2:
		maker_say(maker, "%u US fl oz", millilitres / 29 + 1);
		break;
	default:
		maker_say(maker, "%u cc", millilitres);
		break;
	}
}

const char *maker_format(unsigned index)
{
	static const char *const formats[MAKER_FORMATS] = { "135", "120", "4x5", "super-8", "110", "cine-16", "620" };

	return formats[index % MAKER_FORMATS];
}

/* ---- a whole recipe ---- */

/* What is wrong of the trade may be done on purpose. */
static void put_allowances(struct maker *maker)
{
	static const char *const ids[] = {
#define CHECK(id, severity, subject, may_be_allowed, needs, summary) (may_be_allowed) ? #id : NULL,
#include "support/checks.def"
#undef CHECK
	};

	for (size_t i = 0; i < sizeof(ids) / sizeof(*ids); i++) {
		if (ids[i] == NULL)
			continue;
		maker_say(maker, "allow ");
		for (const char *byte = ids[i]; *byte != '\0'; byte++)
			text_append_byte(&maker->out, *byte == '_' ? '-' : *byte);
		maker_say(maker, " \"on purpose\"\n");
	}
}

/* A whole number that stands alone begins here, after the allowances. */
static bool is_figure(struct text recipe, size_t at)
{
	static const char joined[] = ":.-+_";
	char before = recipe.data[at - 1];

	return isdigit((unsigned char)recipe.data[at]) && !isalnum((unsigned char)before) &&
	       memchr(joined, before, sizeof(joined) - 1) == NULL;
}

/* One figure becomes one that nobody means: what is made of it must have an end all the same. */
static struct text exaggerate(struct maker *maker, struct text recipe)
{
	static const char *const figures[] = { "0", "1", "999999999", "315360000", "100000", "10000000000" };
	size_t skipped = maker_pick(maker, 256);
	size_t found = 0;

	for (size_t at = 1; at < recipe.length; at++) {
		size_t past = at;

		if (!is_figure(recipe, at) || found++ < skipped)
			continue;
		while (past < recipe.length && isdigit((unsigned char)recipe.data[past]))
			past++;
		return text_format(maker->out.arena, "%.*s%s%.*s", (int)at, recipe.data, figures[maker_pick(maker, 6)],
				   (int)(recipe.length - past), recipe.data + past);
	}
	return recipe;
}

struct text recipe_make(struct arena *arena, struct maker *maker)
{
	maker->out = text_builder_start(arena);
	maker_say(maker, "wetside 1\n");
	maker->fahrenheit = maker_pick(maker, 4) == 3;
	if (maker_pick(maker, 16) != 15)
		put_allowances(maker);
	maker_vessels(maker);
	maker_processes(maker);
	maker_solutions(maker);
	maker_days(maker);
	return maker_pick(maker, 8) == 7 ? exaggerate(maker, text_builder_text(&maker->out))
					 : text_builder_text(&maker->out);
}
