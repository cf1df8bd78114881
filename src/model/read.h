/* Reading figures, texts and names from the tree: where a node becomes a value with a unit, or a finding. Private to
 * model/. */
#ifndef MODEL_READ_H
#define MODEL_READ_H

#include "model/number_map.h"
#include "model/recipe.h"
#include "syntax/tree.h"

/** What every reading function needs. */
struct reader {
	struct recipe *recipe;
	const struct tree *tree;
	node_index block; /* the declaration or step whose clauses are being read */
};

/** The first node in a node; 0: there is none. */
static inline node_index first_of(const struct reader *reader, node_index node)
{
	return tree_node(reader->tree, node)->first;
}

/** The node behind a node, in the same one; 0: it is the last. */
static inline node_index next_of(const struct reader *reader, node_index node)
{
	return tree_node(reader->tree, node)->next;
}

/** Where a node stands. */
static inline struct span span_of(const struct reader *reader, node_index node)
{
	return tree_node(reader->tree, node)->span;
}

/** The bytes of a node. */
struct text read_text(const struct reader *reader, node_index node);

/** The interned name of a name node. */
struct name_reference read_name(const struct reader *reader, node_index node);

/** A text without its quotes and escapes (\" \\ \n). */
struct prose read_prose(const struct reader *reader, node_index node);

/** Reads a value of a kind of quantity into `quantity`, which must not have been said in this block before. Returns
 * false, after a finding, where it cannot. `clause` is the node of the whole clause. */
bool read_quantity(const struct reader *reader, node_index clause, node_index value, enum quantity_kind kind,
		   struct quantity *quantity);

/** The same for one that has no meaning unless it is more than nothing. */
bool read_positive(const struct reader *reader, node_index clause, node_index value, enum quantity_kind kind,
		   struct quantity *quantity);

/** Reads a whole number, at least `least`. */
bool read_count(const struct reader *reader, node_index clause, node_index number, int64_t least,
		struct quantity *quantity);

/** Reads a number in thousandths (pH, push). */
bool read_thousandths(const struct reader *reader, node_index clause, node_index number, struct quantity *quantity);

/** Reads a temperature, a tolerance or a range. */
bool read_window(const struct reader *reader, node_index clause, node_index measure, struct temperature_window *window);

/** Reads the time of a step. */
bool read_time(const struct reader *reader, node_index clause, node_index measure, struct time_window *time);

/** Reads a volume a minute: value and the name behind `per`. */
bool read_flow(const struct reader *reader, node_index clause, struct quantity *quantity);

/** Reads a `time starts …`, `time includes …` or `time excludes …` clause. */
void read_timing(const struct reader *reader, node_index clause, enum time_start *starts, struct span *starts_span,
		 bool *includes_draining, struct span *draining_span);

/** Reads a date (YYYY-MM-DD) that exists; returns its span, unset after a finding. */
struct span read_date(const struct reader *reader, node_index date);

/** Reads a word of a closed vocabulary into `index`. */
bool read_word(const struct reader *reader, node_index name, enum vocabulary vocabulary, size_t *index);

/** The same for a word that stands at `span`, in whatever file. Null, or the finding that it is none. */
struct diagnostic *read_word_at(struct recipe *recipe, struct text word, struct span span, enum vocabulary vocabulary,
				size_t *index);

/** A finding about a word that is none of the few that fit. */
void complain_choice(const struct reader *reader, node_index name, const char *const *words, size_t count);

/** Reads a format: a number, a name, or a sheet's two sides. */
bool read_format(const struct reader *reader, node_index first, enum format_id *format);

/** The same for one that stands at `span`, in whatever file. */
bool read_format_at(struct recipe *recipe, struct text word, struct span span, enum format_id *format);

/** True, after a finding, where a clause was already said in the same block: `earlier` is where the value in hand was
 * written. A clause of a parent process may be said again. */
bool read_is_repeated(const struct reader *reader, node_index clause, struct span earlier);

/** True, after a finding, where a list holds something twice. `seen` is empty when the list begins; `number`, not 0,
 * tells what stands at `span` from all else that the list may hold. */
bool read_is_listed(const struct reader *reader, struct number_map *seen, uint32_t number, struct span span);

/** Reads `note` and `allow` clauses; false for any other node. */
bool read_common(const struct reader *reader, node_index clause, struct note **notes, struct allowance **allowances);

/** The number of siblings from a node on. */
size_t read_chain_length(const struct reader *reader, node_index node);

#endif
