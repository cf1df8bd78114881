/* What the model keeps while it resolves: the trees of the files and the declarations by kind and name. Private to
 * model/. */
#ifndef MODEL_RESOLVER_H
#define MODEL_RESOLVER_H

#include "model/load.h"
#include "model/number_map.h"
#include "model/read.h"

/** Names are looked for by kind; solutions and dryers share one, since both are baths to a step. */
enum symbol_kind {
	SYMBOL_TANK,
	SYMBOL_GRADUATE,
	SYMBOL_HEATER,
	SYMBOL_THERMOMETER,
	SYMBOL_BATH,
	SYMBOL_FILM,
	SYMBOL_PROCESS,
	SYMBOL_DAY,
	SYMBOL_KIND_COUNT
};

/** One declaration of a file. */
struct symbol {
	enum symbol_kind kind;
	enum node_kind node_kind;
	uint32_t name;
	struct span name_span;
	const struct tree *tree;
	node_index node;
	struct declared *declared; /* what it was resolved into; null for processes and until then */
	bool is_in_main_file;
	bool is_lost;	       /* known by its name only: it was given up for a mistake, which was reported */
	bool is_being_applied; /* a process whose parents are being followed */
	bool is_in_circle;     /* of processes that vary each other, which was reported */
};

struct file_state {
	const struct source_file *file;
	bool is_open; /* what it uses is still being read */
	struct span used_from;
	const struct tree *tree;
};

/** Where the errors that were found in the text lie, rising; see soundness.c. */
struct error_places {
	uint32_t *begins;
	size_t count;
	size_t capacity;
	size_t seen; /* findings of the report that were looked at */
};

struct resolver {
	const struct search_path *path;
	struct source_file *main_file;
	struct file_state *files;
	size_t file_count;
	size_t file_capacity;
	struct symbol **symbols; /* in order of declaration */
	size_t symbol_count;
	size_t symbol_capacity;
	struct symbol **slots; /* by kind and name */
	size_t slot_count;
	struct number_map allowances; /* by where they were written down */
	struct on_hand *last_on_hand;
	struct roll **last_roll; /* where the next roll of the top level is hung in */
	struct error_places errors;
	unsigned lost_kinds;	 /* kinds, by bit, of which a declaration without a readable name, or a file, is lost */
	size_t suggestions_left; /* names that may still be compared with wrong ones */
	struct symbol **processes; /* of the main file, then those of used files that days run */
	size_t main_process_count;
	size_t process_count;
	size_t process_capacity;
};

/** Adds a declaration; a second one of the same kind and name is reported and left out. */
void symbol_add(struct recipe *recipe, struct symbol *symbol);

/** Finds a declaration, or null. */
struct symbol *symbol_find(const struct recipe *recipe, enum symbol_kind kind, uint32_t name);

/** Finds what a reference names, or reports it with the nearest right name and returns null. Null without a report
 * where the declaration was lost to a mistake. */
struct symbol *symbol_refer(struct recipe *recipe, enum symbol_kind kind, struct name_reference reference);

/** Whether a wrong name may still be compared with so many others, for "did you mean". */
bool symbols_may_suggest(struct recipe *recipe, size_t names);

/** A reader over a declaration's clauses. */
struct reader symbol_reader(struct recipe *recipe, const struct symbol *symbol);

/** The first clause of a declaration, behind its name; reads title and common fields into `declared`. */
node_index symbol_open(const struct reader *reader, const struct symbol *symbol, struct declared *declared);

/** Resolves tanks, graduates, heaters, dryers, thermometers, films. */
struct declared *vessel_resolve(struct recipe *recipe, const struct symbol *symbol);

/** Resolves a solution but for what it refers to. */
struct solution *solution_resolve(struct recipe *recipe, const struct symbol *symbol);

/** Resolves what a solution refers to: its stock and its graduate. */
void solution_refer(struct recipe *recipe, const struct symbol *symbol);

/** Reads an `on hand` line; what it names is found later. */
void on_hand_read(const struct reader *reader, node_index node);

/** Reads what an `on hand` line says; what it names is found later. */
struct on_hand *on_hand_of(const struct reader *reader, node_index node);

/** The solution that an `on hand` line names; null, after a finding, where it names none. */
struct solution *on_hand_solution(struct recipe *recipe, const struct on_hand *on_hand);

/** Finds the file that a recipe names in `wanted`: beside `from`, then in the search path, within bounds. Null, after a
 * finding at `span`, where there is none that may be read. */
struct source_file *load_named_file(struct recipe *recipe, const struct source_file *from, struct text wanted,
				    struct span span);

/** Finds the solutions that `on hand` lines name, each once. */
void on_hand_refer(struct recipe *recipe);

/** Reports a clause that a declaration cannot do without. */
void complain_missing(struct recipe *recipe, struct span span, const char *what, const char *help);

#endif
