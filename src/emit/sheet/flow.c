#include "emit/sheet/flow.h"

#include <limits.h>

#include "support/utf8.h"

/* Advance widths in 1/1000 of the type's size, from the space on: those that the usual sans-serifs share (the
 * Helvetica of PostScript's core fonts, and what was cut to its measure). */
static const short widths[] = {
	278,  278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, /*   ! " # … . / */
	556,  556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, /* 0 1 2 … > ? */
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, /* @ A B … N O */
	667,  778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, /* P Q R … ^ _ */
	333,  556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, /* ` a b … n o */
	556,  556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,	 /* p q r … ~ */
};

/* What is added to that, in per cent: for fonts that run a little wider, and for bold type. */
#define GENEROSITY 1
#define BOLD_GENEROSITY 7

static int character_width(int32_t character)
{
	const int32_t count = (int32_t)(sizeof widths / sizeof widths[0]);
	if (character >= ' ' && character - ' ' < count)
		return widths[character - ' '];
	if (character == 0xA0)
		return widths[0];
	return utf8_width(character) == 2 ? 1000 : 600;
}

/* 1/1000 of a type size in 1/100 mm: a point is 0.3528 mm. */
static int64_t advance_of(int64_t thousandths, int points)
{
	return thousandths * points * 3528 / 100000;
}

/* With what is added to it. */
static int64_t whole_advance(int32_t character, int points, bool is_bold)
{
	int64_t advance = advance_of(character_width(character), points);
	return advance + advance * (is_bold ? BOLD_GENEROSITY : GENEROSITY) / 100;
}

static const short *known_advances(struct advances *advances, int points, bool is_bold)
{
	const size_t count = sizeof widths / sizeof widths[0];
	short *known = points < MOST_POINTS ? advances->of[points][is_bold] : NULL;
	if (known || points >= MOST_POINTS)
		return known;
	known = advances->of[points][is_bold] = ARENA_ARRAY(advances->arena, short, count);
	for (size_t i = 0; i < count; i++)
		known[i] = (short)whole_advance((int32_t)(' ' + i), points, is_bold);
	return known;
}

static int64_t width_of_line(const struct flow *flow)
{
	int y = (flow->lines - 1) * flow->line;
	for (size_t i = 0; i < sizeof flow->beside / sizeof flow->beside[0]; i++)
		if (y < flow->beside[i].until)
			return flow->width - flow->beside[i].taken;
	return flow->width;
}

void flow_new_line(struct flow *flow, int64_t used)
{
	flow->lines++;
	flow->used = used;
}

void flow_text(struct flow *flow, struct text text, int points, bool is_bold)
{
	int64_t word = 0;
	if (flow->lines == 0)
		flow_new_line(flow, 0);
	const short *known = known_advances(flow->advances, points, is_bold);
	int64_t width = width_of_line(flow);
	for (size_t place = 0; place < text.length;) {
		int32_t character = (unsigned char)text.data[place];
		int taken = 1;
		if (character >= 0x80)
			taken = utf8_decode((struct text){ text.data + place, text.length - place }, &character);
		place += taken > 0 ? (size_t)taken : 1;
		int64_t advance = known && character >= ' ' && character <= '~'
					  ? known[character - ' ']
					  : whole_advance(character, points, is_bold);
		flow->used += advance;
		word = character == ' ' ? 0 : word + advance;
		if (flow->used <= width || character == ' ')
			continue;
		if (word >= width)
			word = advance;
		flow_new_line(flow, word);
		width = width_of_line(flow);
	}
}

int flow_width(struct advances *advances, struct text text, int points, bool is_bold)
{
	struct flow flow = { .advances = advances, .width = INT_MAX };
	flow_text(&flow, text, points, is_bold);
	return (int)flow.used;
}
