/* The closed vocabularies of the language: roles, process families, waste streams, classes of chemicals, film formats.
 * Each is one .def file of rows. */
#ifndef MODEL_VOCABULARY_H
#define MODEL_VOCABULARY_H

#include <stdbool.h>
#include <stdint.h>

#include "support/text.h"

/** What a bath does to film. */
enum role_action {
	ACTION_RINSES,
	ACTION_TREATS,
	ACTION_DEVELOPS,
	ACTION_DEVELOPS_AND_FIXES,
	ACTION_FOGS,
	ACTION_STOPS,
	ACTION_BLEACHES,
	ACTION_BLEACHES_AND_FIXES,
	ACTION_CLEARS,
	ACTION_FIXES,
	ACTION_WASHES,
	ACTION_ENDS,
	ACTION_DRIES
};

enum stream_id {
#define STREAM(id, word, holds) STREAM_##id,
#include "model/streams.def"
#undef STREAM
	STREAM_COUNT,
	STREAM_unstated = STREAM_COUNT
};

enum role_id {
#define ROLE(id, word, title, action, stream) ROLE_##id,
#include "model/roles.def"
#undef ROLE
	ROLE_COUNT
};

enum family_kind {
	FAMILY_KIND_BLACK_AND_WHITE,
	FAMILY_KIND_BLACK_AND_WHITE_REVERSAL,
	FAMILY_KIND_COLOUR_NEGATIVE,
	FAMILY_KIND_COLOUR_REVERSAL,
	FAMILY_KIND_COLOUR_PAPER
};

/** When light may come on at the earliest. */
enum light_rule {
	LIGHT_AFTER_TWO_MINUTES_OF_FIX,
	LIGHT_AT_END_OF_BLEACH, /* or of the bleach-fix */
	LIGHT_AFTER_ONE_MINUTE_OF_REVERSAL_BATH,
	LIGHT_AT_EXPOSING,
	LIGHT_AT_END_OF_FIX
};

enum family_id {
#define FAMILY(id, word, makes, kind, light) FAMILY_##id,
#include "model/families.def"
#undef FAMILY
	FAMILY_COUNT
};

enum class_id {
#define CLASS(id, word, title) CLASS_##id,
#include "model/classes.def"
#undef CLASS
	CLASS_COUNT
};

/** A set of classes, one bit each. */
typedef uint32_t class_set;
#define CLASS_BIT(id) ((class_set)1 << CLASS_##id)

enum chemical_id {
#define CHEMICAL(id, word, title, classes, hydrates) CHEMICAL_##id,
#include "model/chemicals.def"
#undef CHEMICAL
	CHEMICAL_COUNT,
	CHEMICAL_free_text = CHEMICAL_COUNT /* a part known only by what its label says */
};

enum format_id {
#define FORMAT(id, word, title, area, exposures, width) FORMAT_##id,
#include "model/formats.def"
#undef FORMAT
	FORMAT_COUNT
};

/** What intake found about a roll. */
enum condition_id {
#define CONDITION(id, word, title) CONDITION_##id,
#include "model/roll_conditions.def"
#undef CONDITION
	CONDITION_COUNT
};

/** A set of conditions, one bit each: CONDITION_BIT(brittle). */
typedef uint32_t condition_set;
#define CONDITION_BIT(id) ((condition_set)1 << CONDITION_##id)

struct role_row {
	struct text word, title;
	enum role_action action;
	enum stream_id usual_stream;
};

struct family_row {
	struct text word, makes;
	enum family_kind kind;
	enum light_rule light;
};

struct named_row {
	struct text word, title;
};

struct chemical_row {
	struct text word, title;
	class_set classes;
	const char *hydrates; /* words separated by spaces, of which one must be said; empty where there is one form */
};

struct format_row {
	struct text word, title;
	int64_t area_milli_sq_in; /* of one roll or sheet, 1/1000 square inch */
	int64_t exposures;	  /* pictures on it; 0: not counted */
	int64_t width_um;	  /* of film that comes in lengths; 0: it does not */
};

/** Square inches that count as one roll (80), in 1/1000. */
#define ROLL_AREA_MILLI_SQ_IN 80000

const struct role_row *role_row(enum role_id role);
const struct family_row *family_row(enum family_id family);
const struct named_row *stream_row(enum stream_id stream);
const struct named_row *class_row(enum class_id class_);
const struct chemical_row *chemical_row(enum chemical_id chemical);
const struct format_row *format_row(enum format_id format);
const struct named_row *condition_row(enum condition_id condition);

/** What a fact about a family is about; see model/family_facts.def. */
enum family_topic { FAMILY_TOPIC_IS, FAMILY_TOPIC_WARMTH, FAMILY_TOPIC_BACKING, FAMILY_TOPIC_TODAY, FAMILY_TOPIC_GONE };

struct family_fact {
	enum family_id family;
	enum family_topic topic;
	struct text fact, source;
};

/** The next fact about a family behind `before`, null for the first; null where there is no further one. */
const struct family_fact *family_fact_next(enum family_id family, const struct family_fact *before);

/** True for a family whose own process is gone, so that film of it is developed as something else. */
bool family_is_gone(enum family_id family);

/** The vocabularies by number, for look-up, suggestions, completion and documents. */
enum vocabulary {
	VOCABULARY_ROLES,
	VOCABULARY_FAMILIES,
	VOCABULARY_STREAMS,
	VOCABULARY_CLASSES,
	VOCABULARY_CHEMICALS,
	VOCABULARY_FORMATS,
	VOCABULARY_CONDITIONS,
	VOCABULARY_COUNT
};

/** How many words a vocabulary has. */
size_t vocabulary_size(enum vocabulary vocabulary);

/** The word at an index, which is the word's enum value. */
struct text vocabulary_word(enum vocabulary vocabulary, size_t index);

/** What the word at an index means, in a few words. */
struct text vocabulary_title(enum vocabulary vocabulary, size_t index);

/** The index of a word, or vocabulary_size where it is not in the vocabulary. */
size_t vocabulary_find(enum vocabulary vocabulary, struct text word);

/** What a vocabulary's words are, with an article: "a role", "a process family". */
const char *vocabulary_name(enum vocabulary vocabulary);

/** A vocabulary in one word, for lists: "role", "family". */
const char *vocabulary_key(enum vocabulary vocabulary);

/** True for the roles whose bath is a developer of any kind (a monobath is one too). */
bool role_develops(enum role_id role);

/** True for fix, bleach-fix and monobath. */
bool role_fixes(enum role_id role);

/** True for stabiliser, final rinse and wetting agent: the film is dipped, in a vessel of its own, off the reels. */
bool role_dips(enum role_id role);

/** True for colour negative, colour slide and colour paper families. */
bool family_is_colour(enum family_id family);

#endif
