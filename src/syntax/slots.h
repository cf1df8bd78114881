/* Where words stand in the hash tables that grammar/slots.awk makes: in the slot of their hash, or in the first free
 * one behind it. */
#ifndef SYNTAX_SLOTS_H
#define SYNTAX_SLOTS_H

#include "support/text.h"

#define SLOT_COUNT 512u

/** The slot of a word that is not empty. Four bytes tell the words apart well enough for a table four times their
 * number. */
static inline unsigned slot_first(struct text word)
{
	unsigned first = (unsigned char)word.data[0];
	unsigned middle = (unsigned char)word.data[word.length / 2];
	unsigned last = (unsigned char)word.data[word.length - 1];

	return (first * 7u + middle * 61u + last * 131u + (unsigned)word.length * 17u) % SLOT_COUNT;
}

/** The slot behind one. */
static inline unsigned slot_next(unsigned slot)
{
	return (slot + 1) % SLOT_COUNT;
}

#endif
