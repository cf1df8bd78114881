/* Comma-separated values (RFC 4180), row by row. Line ends may be CR LF, LF or CR; a field in quotes may hold commas,
 * line ends and doubled quotes. What is wrong with a row is said in the row, and the rows after it are still read. */
#ifndef SUPPORT_CSV_H
#define SUPPORT_CSV_H

#include <stdbool.h>
#include <stddef.h>

#include "support/text.h"

struct csv_field {
	struct text
		text; /* without the quotes around it, doubled quotes as one; in the arena, or a slice of the bytes */
	size_t begin; /* offset of the field as it is written, with its quotes */
	size_t length;
};

enum csv_problem {
	CSV_FINE,
	CSV_OPEN_QUOTE,	 /* a quote that is not closed before the end; the row is given as far as its line goes */
	CSV_STRAY_QUOTE, /* a quote in a field that does not begin with one */
	CSV_AFTER_QUOTE	 /* something between a closing quote and the comma */
};

struct csv_row {
	struct csv_field *fields;
	size_t count;
	size_t capacity;
	size_t begin;		  /* offset of its first byte */
	size_t length;		  /* without its line end */
	enum csv_problem problem; /* the first one */
	size_t problem_at;	  /* its offset */
};

struct csv_reader {
	struct arena *arena;
	struct text bytes;
	size_t at;
};

/** A reader at the start of `bytes`, which must outlive what it gives. */
struct csv_reader csv_start(struct arena *arena, struct text bytes);

/** Reads the next row into `row`, whose fields then live in the arena; false at the end. A line with nothing in it is a
 * row with one empty field. */
bool csv_next(struct csv_reader *reader, struct csv_row *row);

#endif
