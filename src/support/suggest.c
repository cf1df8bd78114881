#include "support/suggest.h"

#include <utf8proc.h>

#include "support/utf8.h"

/* No keyword or sensible name is longer; the quadratic table stays on the stack. */
#define LONGEST_WORD 64

/* Characters of a word in lower case; 0 where it is longer than a word may be. */
static size_t fold(struct text word, int32_t *letters)
{
	size_t count = 0;
	for (size_t place = 0; place < word.length; count++) {
		if (count == LONGEST_WORD)
			return 0;
		int32_t letter;
		int taken = utf8_decode((struct text){ word.data + place, word.length - place }, &letter);
		if (taken < 0)
			letter = 0xFFFD;
		letters[count] = utf8proc_tolower(letter);
		place += taken > 0 ? (size_t)taken : 1;
	}
	return count;
}

static size_t least(size_t a, size_t b)
{
	return a < b ? a : b;
}

/* Damerau and Levenshtein, each pair of neighbours exchanged at most once. */
static size_t distance(const int32_t *a, size_t a_length, const int32_t *b, size_t b_length)
{
	size_t table[3][LONGEST_WORD + 1];
	size_t *before = table[0], *above = table[1], *row = table[2];
	for (size_t j = 0; j <= b_length; j++)
		above[j] = before[j] = j;
	for (size_t i = 1; i <= a_length; i++) {
		row[0] = i;
		for (size_t j = 1; j <= b_length; j++) {
			size_t changed = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
			row[j] = least(changed, least(above[j], row[j - 1]) + 1);
			if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
				row[j] = least(row[j], before[j - 2] + 1);
		}
		size_t *spare = before;
		before = above;
		above = row;
		row = spare;
	}
	return above[b_length];
}

void suggest_start(struct suggestion_list *list, struct text wrong)
{
	*list = (struct suggestion_list){ .wrong = wrong };
}

static bool is_listed(const struct suggestion_list *list, struct text candidate)
{
	for (size_t i = 0; i < list->count; i++)
		if (text_equal(list->words[i], candidate))
			return true;
	return false;
}

static void insert(struct suggestion_list *list, struct text candidate, size_t slips)
{
	size_t place = list->count;
	while (place > 0 &&
	       (list->distances[place - 1] > slips ||
		(list->distances[place - 1] == slips && text_compare(list->words[place - 1], candidate) > 0)))
		place--;
	if (place == SUGGESTIONS)
		return;
	if (list->count < SUGGESTIONS)
		list->count++;
	for (size_t i = list->count - 1; i > place; i--) {
		list->words[i] = list->words[i - 1];
		list->distances[i] = list->distances[i - 1];
	}
	list->words[place] = candidate;
	list->distances[place] = slips;
}

void suggest_offer(struct suggestion_list *list, struct text candidate)
{
	int32_t wrong[LONGEST_WORD], right[LONGEST_WORD];
	size_t wrong_length = fold(list->wrong, wrong);
	size_t right_length = fold(candidate, right);
	if (wrong_length == 0 || right_length == 0 || text_equal(list->wrong, candidate) || is_listed(list, candidate))
		return;
	size_t allowed = wrong_length / 3;
	size_t apart = wrong_length > right_length ? wrong_length - right_length : right_length - wrong_length;
	if (apart > allowed)
		return;
	size_t slips = distance(wrong, wrong_length, right, right_length);
	if (slips <= allowed)
		insert(list, candidate, slips);
}

static bool has_figure(struct text word)
{
	for (size_t i = 0; i < word.length; i++)
		if (word.data[i] >= '0' && word.data[i] <= '9')
			return true;
	return false;
}

/* Same length, and not just one letter that is another: with one slip at the most, neighbours were exchanged. */
static bool is_rearranged(struct text wrong, struct text right)
{
	int32_t a[LONGEST_WORD], b[LONGEST_WORD];
	size_t length = fold(wrong, a);
	size_t changed = 0;
	if (fold(right, b) != length)
		return false;
	for (size_t i = 0; i < length; i++)
		changed += a[i] != b[i];
	return changed != 1;
}

bool suggest_is_sure(const struct suggestion_list *list, enum suggestion_trust trust)
{
	if (list->count != 1 || list->distances[0] > 1)
		return false;
	if (list->distances[0] == 0)
		return true;
	if (has_figure(list->wrong) || has_figure(list->words[0]))
		return false;
	return trust == SUGGESTION_OF_LANGUAGE || is_rearranged(list->wrong, list->words[0]);
}

struct text suggest_sentence(struct arena *arena, const struct suggestion_list *list)
{
	if (list->count == 0)
		return TEXT("");
	struct text_builder builder = text_builder_start(arena);
	text_append_string(&builder, "did you mean ");
	for (size_t i = 0; i < list->count; i++) {
		if (i > 0)
			text_append_string(&builder, i + 1 == list->count ? " or " : ", ");
		text_append_byte(&builder, '`');
		text_append(&builder, list->words[i]);
		text_append_byte(&builder, '`');
	}
	text_append_byte(&builder, '?');
	return text_builder_text(&builder);
}
