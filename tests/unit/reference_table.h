/* Reads the tables of tests/reference/: comment lines, a line of column names, rows. Tests run from the top of the
 * repository. */
#ifndef REFERENCE_TABLE_H
#define REFERENCE_TABLE_H

#include <stdbool.h>
#include <stdlib.h>

#include "arena_fixture.h"

struct reference_table {
	FILE *file;
	bool is_past_names;
	char line[2048];
	char *columns[16];
	size_t count;
};

static inline void open_table(struct reference_table *table, const char *path)
{
	*table = (struct reference_table){ .file = fopen(path, "r") };
	if (!table->file)
		fail_msg("%s cannot be read; run from the top of the repository", path);
}

static inline void split_columns(struct reference_table *table)
{
	char *place = table->line;
	place[strcspn(place, "\n")] = '\0';
	for (table->count = 0; table->count < 16; table->count++) {
		table->columns[table->count] = place;
		size_t length = strcspn(place, "\t");
		if (place[length] == '\0') {
			table->count++;
			return;
		}
		place[length] = '\0';
		place += length + 1;
	}
}

/* The next row into `columns`; false, and closed, at the end. */
static inline bool next_row(struct reference_table *table)
{
	while (fgets(table->line, sizeof(table->line), table->file)) {
		if (table->line[0] == '#')
			continue;
		if (!table->is_past_names) {
			table->is_past_names = true;
			continue;
		}
		split_columns(table);
		return true;
	}
	fclose(table->file);
	return false;
}

#endif
