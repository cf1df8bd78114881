/* What the checks of all processes of a recipe share: rules that are read once, and what comes into each waste
 * container. */
#ifndef CHECK_BASIS_H
#define CHECK_BASIS_H

#include "check/mixture.h"

/** Baths of one container that are alike in the rows of never_mix.def, stocks included. */
struct container_group {
	struct sides sides;
	const struct solution **members; /* in order of declaration */
	size_t count;
};

/** What is poured into one waste container. A container stands in the room for all processes, so every declared bath
 * counts, but none that is dangerous by itself, which is said of it alone. */
struct container {
	struct container_group *groups; /* empty where no two of its baths clash */
	size_t count;
};

/** The rows of checks.def about one kind of subject, in order. */
struct subject_rows {
	enum check_id ids[CHECK_COUNT];
	enum check_id needs[CHECK_COUNT]; /* of each, as its row says */
	size_t count;
};

struct check_basis {
	struct subject_rows rows[SUBJECT_COUNT];
	const struct mixing_rules *rules;
	struct container containers[STREAM_COUNT + 1];
};

/** Reads the rules and looks into the containers; lives in the recipe's arena. */
const struct check_basis *check_basis_of(const struct recipe *recipe);

#endif
