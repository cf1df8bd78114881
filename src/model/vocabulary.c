#include "model/vocabulary.h"

/* The members of a struct text. */
#define WORD(literal) (literal), sizeof(literal) - 1

static const struct role_row roles[] = {
#define ROLE(id, word, title, action, stream) { { WORD(word) }, { WORD(title) }, ACTION_##action, STREAM_##stream },
#include "model/roles.def"
#undef ROLE
};

static const struct family_row families[] = {
#define FAMILY(id, word, makes, kind, light) { { WORD(word) }, { WORD(makes) }, FAMILY_KIND_##kind, LIGHT_##light },
#include "model/families.def"
#undef FAMILY
};

static const struct named_row streams[] = {
#define STREAM(id, word, holds) { { WORD(word) }, { WORD(holds) } },
#include "model/streams.def"
#undef STREAM
};

_Static_assert(CLASS_COUNT <= 8 * sizeof(class_set), "a class_set has one bit for each class");

static const struct named_row classes[] = {
#define CLASS(id, word, title) { { WORD(word) }, { WORD(title) } },
#include "model/classes.def"
#undef CLASS
};

static const struct chemical_row chemicals[] = {
#define CHEMICAL(id, word, title, classes, hydrates) { { WORD(word) }, { WORD(title) }, classes, hydrates },
#include "model/chemicals.def"
#undef CHEMICAL
};

static const struct format_row formats[] = {
#define FORMAT(id, word, title, area, exposures, width) { { WORD(word) }, { WORD(title) }, area, exposures, width },
#include "model/formats.def"
#undef FORMAT
};

_Static_assert(CONDITION_COUNT <= 8 * sizeof(condition_set), "a condition_set has one bit for each condition");

static const struct named_row conditions[] = {
#define CONDITION(id, word, title) { { WORD(word) }, { WORD(title) } },
#include "model/roll_conditions.def"
#undef CONDITION
};

static const struct family_fact family_facts[] = {
#define FAMILY_FACT(family, topic, fact, source)                                                                       \
	{ FAMILY_##family, FAMILY_TOPIC_##topic, { WORD(fact) }, { WORD(source) } },
#include "model/family_facts.def"
#undef FAMILY_FACT
};

const struct family_fact *family_fact_next(enum family_id family, const struct family_fact *before)
{
	const struct family_fact *end = family_facts + sizeof(family_facts) / sizeof(*family_facts);
	const struct family_fact *fact = before == NULL ? family_facts : before + 1;

	while (fact < end && fact->family != family)
		fact++;
	return fact < end ? fact : NULL;
}

bool family_is_gone(enum family_id family)
{
	const struct family_fact *fact = NULL;

	while ((fact = family_fact_next(family, fact)) != NULL)
		if (fact->topic == FAMILY_TOPIC_GONE)
			return true;
	return false;
}

const struct role_row *role_row(enum role_id role)
{
	return &roles[role];
}

const struct family_row *family_row(enum family_id family)
{
	return &families[family];
}

const struct named_row *stream_row(enum stream_id stream)
{
	return &streams[stream];
}

const struct named_row *class_row(enum class_id class_)
{
	return &classes[class_];
}

const struct chemical_row *chemical_row(enum chemical_id chemical)
{
	return &chemicals[chemical];
}

const struct format_row *format_row(enum format_id format)
{
	return &formats[format];
}

const struct named_row *condition_row(enum condition_id condition)
{
	return &conditions[condition];
}

/* Every row begins with its word, so one walk serves all vocabularies. */
static const struct {
	const void *rows;
	size_t row_size;
	size_t count;
	const char *name;
	const char *key;
} vocabularies[] = {
	[VOCABULARY_ROLES] = { roles, sizeof(*roles), ROLE_COUNT, "a role", "role" },
	[VOCABULARY_FAMILIES] = { families, sizeof(*families), FAMILY_COUNT, "a process family", "family" },
	[VOCABULARY_STREAMS] = { streams, sizeof(*streams), STREAM_COUNT, "a waste stream", "stream" },
	[VOCABULARY_CLASSES] = { classes, sizeof(*classes), CLASS_COUNT, "a class of chemicals", "class" },
	[VOCABULARY_CHEMICALS] = { chemicals, sizeof(*chemicals), CHEMICAL_COUNT, "a chemical", "chemical" },
	[VOCABULARY_FORMATS] = { formats, sizeof(*formats), FORMAT_COUNT, "a film format", "format" },
	[VOCABULARY_CONDITIONS] = { conditions, sizeof(*conditions), CONDITION_COUNT, "a condition of a roll",
				    "condition" },
};

size_t vocabulary_size(enum vocabulary vocabulary)
{
	return vocabularies[vocabulary].count;
}

struct text vocabulary_word(enum vocabulary vocabulary, size_t index)
{
	const char *row = (const char *)vocabularies[vocabulary].rows + index * vocabularies[vocabulary].row_size;
	return *(const struct text *)(const void *)row;
}

/* The text behind the word is its title. */
struct text vocabulary_title(enum vocabulary vocabulary, size_t index)
{
	const char *row = (const char *)vocabularies[vocabulary].rows + index * vocabularies[vocabulary].row_size;
	return ((const struct text *)(const void *)row)[1];
}

size_t vocabulary_find(enum vocabulary vocabulary, struct text word)
{
	size_t count = vocabulary_size(vocabulary);
	size_t row_size = vocabularies[vocabulary].row_size;
	const char *row = vocabularies[vocabulary].rows;
	for (size_t i = 0; i < count; i++, row += row_size)
		if (text_equal(*(const struct text *)(const void *)row, word))
			return i;
	return count;
}

const char *vocabulary_name(enum vocabulary vocabulary)
{
	return vocabularies[vocabulary].name;
}

bool role_develops(enum role_id role)
{
	enum role_action action = roles[role].action;
	return action == ACTION_DEVELOPS || action == ACTION_DEVELOPS_AND_FIXES;
}

bool role_fixes(enum role_id role)
{
	enum role_action action = roles[role].action;
	return action == ACTION_FIXES || action == ACTION_BLEACHES_AND_FIXES || action == ACTION_DEVELOPS_AND_FIXES;
}

bool role_dips(enum role_id role)
{
	return roles[role].action == ACTION_ENDS;
}

bool family_is_colour(enum family_id family)
{
	enum family_kind kind = families[family].kind;
	return kind == FAMILY_KIND_COLOUR_NEGATIVE || kind == FAMILY_KIND_COLOUR_REVERSAL ||
	       kind == FAMILY_KIND_COLOUR_PAPER;
}

const char *vocabulary_key(enum vocabulary vocabulary)
{
	return vocabularies[vocabulary].key;
}
