/* The checks of group "chemistry" that look at the parts of a mix, one by one and in their order. */
#include <string.h>

#include "check/checks.h"
#include "check/print.h"
#include "compute/heat_balance.h"
#include "compute/hydrates.h"
#include "compute/mixing.h"

/* Hydroxide into warm water: at 60 °C a splash scalds in seconds (from memory). Water up to 25 °C counts as cold. */
#define COLD_WATER (25 * TEMPERATURE_PER_KELVIN)
#define SCALDS (60 * TEMPERATURE_PER_KELVIN)

/* How the rows call what goes in as water. */
#define WATER "water"

static bool is_water(const struct part *part)
{
	return part->kind == PART_WATER || part->kind == PART_TOP_UP;
}

static bool is_one_of(const struct part *part, const struct things *things)
{
	if (is_water(part))
		return strcmp(things->words, WATER) == 0;
	return things_hold_part(things, part);
}

static const struct part *first_of(const struct solution *solution, const struct things *things)
{
	const struct part *part = solution->parts;
	while (part && !is_one_of(part, things))
		part = part->next;
	return part;
}

static struct text part_title(const struct part *part)
{
	if (part->kind != PART_ADD)
		return TEXT(WATER);
	return part->chemical == CHEMICAL_free_text ? part->label.text : chemical_row(part->chemical)->title;
}

/* ---- order ---- */

static int64_t amount_of(const struct solution *solution, const struct things *things)
{
	int64_t sum = 0;
	for (const struct part *part = solution->parts; part; part = part->next)
		sum += is_one_of(part, things) ? part->amount.value : 0;
	return sum;
}

/* The part that goes in too early by a row; null where the order is right. */
static const struct part *too_early(const struct solution *solution, const struct add_order_rule *rule)
{
	const struct part *first = first_of(solution, &rule->first);
	int64_t bearable = amount_of(solution, &rule->second) / 100 * rule->row->percent_before;
	int64_t before = 0;
	for (const struct part *part = solution->parts; first && part != first; part = part->next) {
		if (!is_one_of(part, &rule->second))
			continue;
		before += part->amount.value;
		if (!span_is_set(part->amount.span) || before > bearable)
			return part;
	}
	return NULL;
}

static void report_order(struct check_run *run, const struct add_order_rule *rule, const struct part *early)
{
	const struct part *first = first_of(run->solution, &rule->first);
	struct text name = part_title(early);
	struct text name_first = part_title(first);
	struct diagnostic *finding = check_add(run, early->span, "%.*s goes in before %.*s: %s", TEXT_ARGUMENT(name),
					       TEXT_ARGUMENT(name_first), rule->row->reason);
	int64_t bearable = amount_of(run->solution, &rule->second) / 100 * rule->row->percent_before;
	if (bearable > 0)
		check_help(run, finding, "%.*s first; up to %.*s of the %.*s may go before it",
			   TEXT_ARGUMENT(name_first), TEXT_ARGUMENT(print_mass(run, bearable)), TEXT_ARGUMENT(name));
	else
		check_help(run, finding, "%.*s first", TEXT_ARGUMENT(name_first));
	check_note(run, finding, first->span, "%.*s comes here", TEXT_ARGUMENT(name_first));
}

static int64_t to_whole_degree(int64_t temperature)
{
	return (temperature + TEMPERATURE_PER_KELVIN / 2) / TEMPERATURE_PER_KELVIN * TEMPERATURE_PER_KELVIN;
}

/* Hydroxide that makes its water scalding hot. */
static void check_hydroxide(struct check_run *run)
{
	const struct part *water = NULL;
	int64_t volume = 0;
	for (const struct part *part = run->solution->parts; part; part = part->next) {
		if (part->kind == PART_WATER && span_is_set(part->at.span))
			water = part;
		int64_t after;
		if (part->kind == PART_ADD && water && water->at.nominal > COLD_WATER &&
		    heat_balance_dissolved(part, volume, water->at.nominal, &after) && after > SCALDS) {
			struct text name = part_title(part);
			struct diagnostic *finding =
				check_add(run, part->span, "%.*s of %.*s warm %.*s of water from %.*s to about %.*s",
					  TEXT_ARGUMENT(print_mass(run, part->amount.value)), TEXT_ARGUMENT(name),
					  TEXT_ARGUMENT(print_volume(run, volume)),
					  TEXT_ARGUMENT(print_temperature(run, water->at.nominal)),
					  TEXT_ARGUMENT(print_temperature(run, to_whole_degree(after))));
			check_help(run, finding, "dissolve it in water of %.*s or colder, little by little",
				   TEXT_ARGUMENT(print_temperature(run, COLD_WATER)));
			check_note(run, finding, water->at.span, "the water is declared here");
			return;
		}
		if (span_is_set(part->amount.span) && part->is_volume && part->kind != PART_TOP_UP)
			volume += part->amount.value;
	}
}

void check_add_order(struct check_run *run)
{
	struct mixture mixture = mixture_of(run->solution, false);
	for (size_t i = 0; run->solution->parts && i < ADD_ORDER_COUNT; i++) {
		const struct add_order_rule *rule = &run->basis->rules->order[i];
		if (!mixture_holds(&mixture, &rule->second) ||
		    (rule->where.words[0] != '\0' && !mixture_holds(&mixture, &rule->where)))
			continue;
		const struct part *early = too_early(run->solution, rule);
		if (early)
			report_order(run, rule, early);
	}
	check_hydroxide(run);
}

/* ---- things that must never meet ---- */

/* Both sides go in before any water does. */
static bool meet_dry(const struct solution *solution, const struct never_mix_rule *rule)
{
	bool one = false;
	bool other = false;
	for (const struct part *part = solution->parts; part && !is_water(part); part = part->next) {
		one = one || is_one_of(part, &rule->one);
		other = other || is_one_of(part, &rule->other);
	}
	return one && other;
}

static void report_meeting(struct check_run *run, const struct mixture *mixture, const struct never_mix_rule *rule)
{
	bool is_alone = rule->other.is_anything;
	struct span one = mixture_place(mixture, &rule->one);
	struct span other = is_alone ? one : mixture_place(mixture, &rule->other);
	bool one_is_later = one.begin > other.begin;
	struct text name = mixture_name(mixture, &rule->one, run->arena);
	struct text name_other = is_alone ? TEXT("anything else") : mixture_name(mixture, &rule->other, run->arena);
	struct diagnostic *finding =
		check_add(run, one_is_later ? one : other, "%.*s and %.*s must never meet in one vessel: %s",
			  TEXT_ARGUMENT(name), TEXT_ARGUMENT(name_other), rule->row->reason);
	check_help(run, finding, "leave one of the two out, or keep them as baths of their own");
	if (one.begin != other.begin)
		check_note(run, finding, one_is_later ? other : one, "%.*s is here",
			   TEXT_ARGUMENT(one_is_later ? name_other : name));
}

void check_never_mix(struct check_run *run)
{
	struct mixture mixture = mixture_of(run->solution, false);
	row_set meeting = sides_meeting(mixture_sides(&mixture, run->basis->rules));
	for (size_t i = 0; meeting != 0 && i < NEVER_MIX_COUNT; i++) {
		const struct never_mix_rule *rule = &run->basis->rules->never[i];
		if ((meeting & ROW_BIT(i)) != 0 && (rule->row->when != NEVER_MIX_DRY || meet_dry(run->solution, rule)))
			report_meeting(run, &mixture, rule);
	}
}

/* ---- hydrates ---- */

static void help_hydrate(struct check_run *run, struct diagnostic *finding, const struct part *part)
{
	struct text title = chemical_row(part->chemical)->word;
	struct text one = hydrate_word(part->chemical, 0);
	struct text other = hydrate_word(part->chemical, 1);
	int64_t mass;
	if (!hydrate_mass(part->chemical, one, other, part->amount.value, &mass))
		return;
	struct text written = print_mass(run, part->amount.value);
	check_help(run, finding, "write `%.*s %.*s` or another form; %.*s of it hold as much as %.*s of %.*s",
		   TEXT_ARGUMENT(title), TEXT_ARGUMENT(one), TEXT_ARGUMENT(written),
		   TEXT_ARGUMENT(print_mass(run, mass)), TEXT_ARGUMENT(other));
}

/* "anhydrous, monohydrate or decahydrate" */
static struct text forms_text(const struct check_run *run, enum chemical_id chemical)
{
	struct text_builder builder = text_builder_start(run->arena);
	size_t count = hydrate_count(chemical);
	for (size_t i = 0; i < count; i++) {
		if (i > 0)
			text_append_string(&builder, i + 1 < count ? ", " : " or ");
		text_append(&builder, hydrate_word(chemical, i));
	}
	return text_builder_text(&builder);
}

void check_hydrate_unstated(struct check_run *run)
{
	for (const struct part *part = run->solution->parts; part; part = part->next) {
		bool is_open = part->kind == PART_ADD && part->chemical != CHEMICAL_free_text && !part->hydrate.data;
		if (!is_open || part->is_volume || hydrate_count(part->chemical) == 0)
			continue;
		struct text title = chemical_row(part->chemical)->title;
		struct diagnostic *finding =
			check_add(run, part->span, "%.*s without its form; it is sold as %.*s", TEXT_ARGUMENT(title),
				  TEXT_ARGUMENT(forms_text(run, part->chemical)));
		help_hydrate(run, finding, part);
	}
}
