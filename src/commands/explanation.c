#include "commands/explanation.h"

#include <inttypes.h>
#include <string.h>

#include "check/explain.h"
#include "model/hazards.h"
#include "model/quantity.h"
#include "syntax/reference.h"

void explanation_append_check(struct text_builder *builder, enum check_id check)
{
	const struct check_row *row = check_row(check);

	text_append(builder, explain_text(check));
	text_append_format(builder, "\nSeverity: %s. %s\n", severity_name(row->severity),
			   row->may_allow ? "To depart from it on purpose, write `allow` with its name and the reason."
					  : "It cannot be allowed.");
}

void explanation_append_word(struct text_builder *builder, enum word_id word)
{
	const struct word_row *row = word_row(word);
	bool is_first = true;

	text_append_format(builder, "# %.*s\n\nA keyword: %.*s. Stands ", TEXT_ARGUMENT(row->spelling),
			   TEXT_ARGUMENT(row->summary));
	if (row->contexts == IN_ANY)
		text_append_string(builder, "everywhere");
	for (unsigned bit = IN_FILE; bit < IN_ANY && row->contexts != IN_ANY; bit <<= 1) {
		if ((row->contexts & bit) == 0)
			continue;
		text_append_format(builder, "%s%s%s", is_first ? "" : ", ", bit == IN_FILE ? "at " : "in ",
				   word_context_name((enum word_context)bit));
		is_first = false;
	}
	text_append_string(builder, ".\n");
	reference_append_examples(builder, row->spelling);
	text_append_string(builder, "\nThe grammar:\n\n```ebnf\n");
	reference_append_grammar(builder, row->spelling);
	text_append_string(builder, "```\n");
}

/** The unit in which a quantity's factors are told, and whence those come that are no powers of ten. */
struct measure {
	const char *unit, *source;
	int64_t factor; /* base units in one of it */
};

static struct measure measure_of(enum quantity_kind kind)
{
	switch (kind) {
	case QUANTITY_TEMPERATURE:
		return (struct measure){ "°C", "by the definition of the scale", TEMPERATURE_PER_KELVIN };
	case QUANTITY_DURATION:
		return (struct measure){ "s", "by definition; a month is taken as 30 days", MILLISECONDS_PER_SECOND };
	case QUANTITY_VOLUME:
		return (struct measure){ "mL", "NIST Handbook 44, Appendix C", VOLUME_PER_ML };
	case QUANTITY_MASS:
		return (struct measure){ "g", "NIST Handbook 44, Appendix C; the grain: NIST SP 811", 1000000000 };
	case QUANTITY_LENGTH:
		return (struct measure){ "mm", "NIST SP 811", 1000 };
	case QUANTITY_AREA:
		return (struct measure){ "cm²", "NIST SP 811", 10000 };
	case QUANTITY_PERCENT:
		return (struct measure){ "%", "", PERCENT_ONE };
	case QUANTITY_ENERGY:
		return (struct measure){ "J/mol", "", 1 };
	case QUANTITY_DIFFERENCE:
	case QUANTITY_COUNT:
	case QUANTITY_KIND_COUNT:
		break;
	}
	return (struct measure){ "K", "by definition", TEMPERATURE_PER_KELVIN };
}

static int64_t common_divisor(int64_t a, int64_t b)
{
	while (b != 0) {
		int64_t rest = a % b;

		a = b;
		b = rest;
	}
	return a < 0 ? -a : a;
}

/* An exact decimal: the divisor is a power of ten. */
static void append_decimal(struct text_builder *builder, int64_t value, int64_t divisor)
{
	int64_t rest = value % divisor;

	text_append_format(builder, "%" PRId64, value / divisor);
	if (rest != 0)
		text_append_byte(builder, '.');
	for (; rest != 0; rest %= divisor) {
		rest *= 10;
		text_append_format(builder, "%" PRId64, rest / divisor);
	}
}

static bool is_power_of_ten(int64_t value)
{
	while (value > 1 && value % 10 == 0)
		value /= 10;
	return value == 1;
}

/* A temperature with another zero: °C = (x - zero) × factor. */
static void append_scale(struct text_builder *builder, const struct unit_row *row, const struct measure *measure)
{
	int64_t divisor = common_divisor(row->factor, measure->factor);

	text_append_format(builder, "x %.*s is (x - %" PRId64 ") × %" PRId64 "/%" PRId64 " %s",
			   TEXT_ARGUMENT(row->canonical), -row->offset / row->factor, row->factor / divisor,
			   measure->factor / divisor, measure->unit);
}

static void append_factor(struct text_builder *builder, const struct unit_row *row)
{
	struct measure measure = measure_of(row->quantity);
	int64_t larger = row->factor > measure.factor ? row->factor : measure.factor;
	int64_t smaller = row->factor > measure.factor ? measure.factor : row->factor;
	bool is_plain = larger % smaller == 0 && is_power_of_ten(larger / smaller);

	if (row->offset != 0) {
		append_scale(builder, row, &measure);
	} else {
		struct text one = row->canonical;

		if (one.length > 2 && one.data[one.length - 1] == 's') /* days */
			one.length--;
		text_append_format(builder, "1 %.*s is ", TEXT_ARGUMENT(one));
		append_decimal(builder, row->factor, measure.factor);
		text_append_format(builder, " %s", measure.unit);
	}
	text_append_format(builder, " (%s). ", is_plain ? "by definition" : measure.source);
}

void explanation_append_unit(struct text_builder *builder, enum unit_id unit)
{
	const struct unit_row *row = unit_row(unit);
	struct measure measure = measure_of(row->quantity);

	text_append_format(builder, "# %.*s\n\nA unit of %s. ", TEXT_ARGUMENT(row->canonical),
			   strchr(quantity_kind_name(row->quantity), ' ') + 1);
	if (row->factor != measure.factor || row->offset != 0)
		append_factor(builder, row);
	text_append_string(builder, "Written ");
	for (const char *at = row->spellings; *at != '\0';) {
		size_t length = strcspn(at, " ");

		text_append_byte(builder, '`');
		for (size_t i = 0; i < length; i++)
			text_append_byte(builder, at[i] == '_' ? ' ' : at[i]);
		at += length + (at[length] == ' ');
		text_append_string(builder, *at != '\0' ? "`, " : "`.\n");
	}
}

/* What a role does to film, as the checks see it. */
static const char *action_name(enum role_action action)
{
	static const char *const names[] = {
		[ACTION_RINSES] = "rinses the film",
		[ACTION_TREATS] = "prepares or treats the film",
		[ACTION_DEVELOPS] = "develops",
		[ACTION_DEVELOPS_AND_FIXES] = "develops and fixes at once",
		[ACTION_FOGS] = "fogs what was not developed",
		[ACTION_STOPS] = "stops the developer",
		[ACTION_BLEACHES] = "bleaches the silver",
		[ACTION_BLEACHES_AND_FIXES] = "bleaches and fixes at once",
		[ACTION_CLEARS] = "clears the bleach away",
		[ACTION_FIXES] = "fixes",
		[ACTION_WASHES] = "washes the film",
		[ACTION_ENDS] = "is the last bath; film is dipped into it, off the reels",
		[ACTION_DRIES] = "dries the film",
	};
	return names[action];
}

static const char *light_name(enum light_rule light)
{
	static const char *const names[] = {
		[LIGHT_AFTER_TWO_MINUTES_OF_FIX] = "after 2:00 in the fixer",
		[LIGHT_AT_END_OF_BLEACH] = "at the end of the bleach or bleach-fix",
		[LIGHT_AFTER_ONE_MINUTE_OF_REVERSAL_BATH] = "after 1:00 in the reversal bath",
		[LIGHT_AT_EXPOSING] = "at the exposing step",
		[LIGHT_AT_END_OF_FIX] = "at the end of the fix",
	};
	return names[light];
}

/* What a person at intake wants to know, each with where it is from. */
static void append_family_facts(struct text_builder *builder, enum family_id family)
{
	static const char *const topics[] = { [FAMILY_TOPIC_IS] = "What it is",
					      [FAMILY_TOPIC_WARMTH] = "Developer",
					      [FAMILY_TOPIC_BACKING] = "Backing",
					      [FAMILY_TOPIC_TODAY] = "Today",
					      [FAMILY_TOPIC_GONE] = "Today, its process being gone" };
	const struct family_fact *fact = NULL;

	while ((fact = family_fact_next(family, fact)) != NULL)
		text_append_format(builder, "- %s: %.*s (%.*s)\n", topics[fact->topic], TEXT_ARGUMENT(fact->fact),
				   TEXT_ARGUMENT(fact->source));
}

static void append_role(struct text_builder *builder, const struct role_row *row)
{
	text_append_format(builder, " A bath with it %s.", action_name(row->action));
	if (row->usual_stream < STREAM_COUNT && row->usual_stream != STREAM_none)
		text_append_format(builder, " It is usually collected in the stream `%.*s`.",
				   TEXT_ARGUMENT(stream_row(row->usual_stream)->word));
	text_append_format(builder, "\n\nWritten `role %.*s` in a solution, `as %.*s` in a step.\n",
			   TEXT_ARGUMENT(row->word), TEXT_ARGUMENT(row->word));
}

static void append_chemical(struct text_builder *builder, const struct chemical_row *row)
{
	bool is_first = true;

	for (int class_ = 0; class_ < CLASS_COUNT; class_++) {
		if ((row->classes >> class_ & 1) == 0)
			continue;
		text_append_format(builder, "%s`%.*s`",
				   is_first ? " For the rules on what must never meet it is of the class " : ", ",
				   TEXT_ARGUMENT(class_row((enum class_id)class_)->word));
		is_first = false;
	}
	text_append_string(builder, is_first ? "" : ".");
	if (row->hydrates[0] != '\0')
		text_append_format(builder, " It is sold in several hydrates, and a formula says which: %s.",
				   row->hydrates);
	text_append_format(builder, "\n\nWritten `add %.*s%s%.*s 2 g` in a formula or mix.\n", TEXT_ARGUMENT(row->word),
			   row->hydrates[0] != '\0' ? " " : "", (int)strcspn(row->hydrates, " "), row->hydrates);
}

static void append_format_row(struct text_builder *builder, const struct format_row *row)
{
	text_append_string(builder, " One counts as ");
	append_decimal(builder, row->area_milli_sq_in, 1000);
	text_append_string(builder, " square inches; a roll is 80.");
	if (row->width_um > 0)
		text_append_format(builder, " It comes in lengths too: `load 30 m of %.*s`.", TEXT_ARGUMENT(row->word));
	text_append_format(builder, "\n\nWritten `takes 4 x %.*s` in a tank, `load 4 x %.*s` in a process.\n",
			   TEXT_ARGUMENT(row->word), TEXT_ARGUMENT(row->word));
}

void explanation_append_term(struct text_builder *builder, enum vocabulary vocabulary, size_t index)
{
	struct text word = vocabulary_word(vocabulary, index);
	char article[] = { vocabulary_name(vocabulary)[0], '\0' };

	if (article[0] == 'a')
		article[0] = 'A';
	text_append_format(builder, "# %.*s\n\n%s%s: %.*s.", TEXT_ARGUMENT(word), article,
			   vocabulary_name(vocabulary) + 1, TEXT_ARGUMENT(vocabulary_title(vocabulary, index)));
	switch (vocabulary) {
	case VOCABULARY_ROLES:
		append_role(builder, role_row((enum role_id)index));
		break;
	case VOCABULARY_FAMILIES:
		text_append_format(builder, " White light may come on %s.\n\n",
				   light_name(family_row((enum family_id)index)->light));
		append_family_facts(builder, (enum family_id)index);
		text_append_format(builder,
				   "\nWritten `develops %.*s` in a process, `family %.*s` in a film, `needs %.*s` in a "
				   "roll.\n",
				   TEXT_ARGUMENT(word), TEXT_ARGUMENT(word), TEXT_ARGUMENT(word));
		break;
	case VOCABULARY_STREAMS:
		text_append_format(builder, "\n\nWritten `waste %.*s` in a solution.\n", TEXT_ARGUMENT(word));
		break;
	case VOCABULARY_CLASSES:
		text_append_format(builder, "\n\nWritten `contains %.*s` in a solution.\n", TEXT_ARGUMENT(word));
		break;
	case VOCABULARY_CHEMICALS:
		append_chemical(builder, chemical_row((enum chemical_id)index));
		break;
	case VOCABULARY_FORMATS:
		append_format_row(builder, format_row((enum format_id)index));
		break;
	case VOCABULARY_CONDITIONS:
		text_append_format(builder, "\n\nWritten `condition %.*s` in a roll.\n", TEXT_ARGUMENT(word));
		break;
	case VOCABULARY_COUNT:
		break;
	}
}

void explanation_append_hazard(struct text_builder *builder, struct text code)
{
	struct text statement = hazard_text(code);

	text_append_format(
		builder,
		"# %.*s\n\nA hazard statement: %.*s.\n\nWritten `hazards %.*s` in a solution, as its safety data "
		"sheet has it.\n",
		TEXT_ARGUMENT(code), TEXT_ARGUMENT(statement), TEXT_ARGUMENT(code));
}

static void part_from_last(struct text_builder *builder, size_t before)
{
	if (builder->length > before)
		text_append_byte(builder, '\n');
}

bool explanation_append(struct text_builder *builder, struct text word)
{
	size_t before = builder->length;
	enum check_id check = check_find(word);
	enum unit_id unit = unit_find(word);
	enum word_id keyword = word_find(word);

	if (check != CHECK_COUNT)
		explanation_append_check(builder, check);
	if (keyword != WORD_COUNT) {
		part_from_last(builder, before);
		explanation_append_word(builder, keyword);
	}
	if (unit != UNIT_none) {
		part_from_last(builder, before);
		explanation_append_unit(builder, unit);
	}
	for (int i = 0; i < VOCABULARY_COUNT; i++) {
		size_t found = vocabulary_find((enum vocabulary)i, word);

		if (found == vocabulary_size((enum vocabulary)i))
			continue;
		part_from_last(builder, before);
		explanation_append_term(builder, (enum vocabulary)i, found);
	}
	if (hazard_text(word).length > 0) {
		part_from_last(builder, before);
		explanation_append_hazard(builder, word);
	}
	return builder->length > before;
}

struct text explanation_list(struct arena *arena)
{
	struct text_builder text = text_builder_start(arena);

	for (int i = 0; i < CHECK_COUNT; i++) {
		const struct check_row *row = check_row((enum check_id)i);

		text_append_format(&text, "check\t%.*s\t%s: %.*s\n", TEXT_ARGUMENT(row->name),
				   severity_name(row->severity), TEXT_ARGUMENT(row->summary));
	}
	for (int i = UNIT_none + 1; i < UNIT_COUNT; i++)
		text_append_format(&text, "unit\t%.*s\tof %s\n", TEXT_ARGUMENT(unit_row((enum unit_id)i)->canonical),
				   strchr(quantity_kind_name(unit_row((enum unit_id)i)->quantity), ' ') + 1);
	for (int i = 0; i < WORD_COUNT; i++)
		text_append_format(&text, "word\t%.*s\t%.*s\n", TEXT_ARGUMENT(word_row((enum word_id)i)->spelling),
				   TEXT_ARGUMENT(word_row((enum word_id)i)->summary));
	for (int i = 0; i < VOCABULARY_COUNT; i++)
		for (size_t j = 0; j < vocabulary_size((enum vocabulary)i); j++)
			text_append_format(&text, "%s\t%.*s\t%.*s\n", vocabulary_key((enum vocabulary)i),
					   TEXT_ARGUMENT(vocabulary_word((enum vocabulary)i, j)),
					   TEXT_ARGUMENT(vocabulary_title((enum vocabulary)i, j)));
	for (size_t i = 0; i < hazard_count(); i++)
		text_append_format(&text, "hazard\t%.*s\t%.*s\n", TEXT_ARGUMENT(hazard_code(i)),
				   TEXT_ARGUMENT(hazard_text(hazard_code(i))));
	return text_builder_text(&text);
}
