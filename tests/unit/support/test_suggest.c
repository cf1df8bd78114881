#include "arena_fixture.h"
#include "support/suggest.h"

/* Words of the language as a reader may mistype them: one letter wrong, missing, too many, or two exchanged. */
static const struct {
	const char *wrong;
	const char *right;
} slips[] = {
	{ "solutoin", "solution" },
	{ "soltuion", "solution" },
	{ "proces", "process" },
	{ "procces", "process" },
	{ "tnak", "tank" },
	{ "tanks", "tank" },
	{ "graduat", "graduate" },
	{ "gradute", "graduate" },
	{ "thermometre", "thermometer" },
	{ "termometer", "thermometer" },
	{ "heeter", "heater" },
	{ "hetaer", "heater" },
	{ "dyer", "dryer" },
	{ "drier", "dryer" },
	{ "flim", "film" },
	{ "filn", "film" },
	{ "hold", "holds" },
	{ "hodls", "holds" },
	{ "dilut", "dilute" },
	{ "dillute", "dilute" },
	{ "replenih", "replenish" },
	{ "repelnish", "replenish" },
	{ "usuable", "usable" },
	{ "usible", "usable" },
	{ "capasity", "capacity" },
	{ "capcity", "capacity" },
	{ "lenghten", "lengthen" },
	{ "lengten", "lengthen" },
	{ "keps", "keeps" },
	{ "kepes", "keeps" },
	{ "hazard", "hazards" },
	{ "hazrads", "hazards" },
	{ "wast", "waste" },
	{ "wsate", "waste" },
	{ "contians", "contains" },
	{ "contain", "contains" },
	{ "famliy", "family" },
	{ "familly", "family" },
	{ "backng", "backing" },
	{ "emulison", "emulsion" },
	{ "develop", "develops" },
	{ "resuce", "rescue" },
	{ "wahsless", "washless" },
	{ "agitat", "agitate" },
	{ "draning", "draining" },
	{ "mesure", "measure" },
	{ "expsoe", "expose" },
	{ "coeficient", "coefficient" },
};

enum { SLIPS = sizeof(slips) / sizeof(*slips) };

static void offer_all(struct suggestion_list *list, struct text wrong)
{
	suggest_start(list, wrong);
	for (size_t i = 0; i < SLIPS; i++)
		suggest_offer(list, text_from(slips[i].right));
}

static void test_single_slips_find_their_word(void **state)
{
	(void)state;
	assert_true(SLIPS >= 40);
	for (size_t i = 0; i < SLIPS; i++) {
		struct suggestion_list list;
		offer_all(&list, text_from(slips[i].wrong));
		if (list.count == 0)
			fail_msg("nothing suggested for %s", slips[i].wrong);
		assert_text(list.words[0], slips[i].right);
	}
}

static size_t count_for(const char *wrong, const char *right)
{
	struct suggestion_list list;
	suggest_start(&list, text_from(wrong));
	suggest_offer(&list, text_from(right));
	return list.count;
}

static void test_how_far_a_word_may_be(void **state)
{
	(void)state;
	assert_int_equal(count_for("fix", "fox"), 1);
	assert_int_equal(count_for("fix", "box"), 0);
	assert_int_equal(count_for("washed", "wished"), 1);
	assert_int_equal(count_for("washed", "wishes"), 1);
	assert_int_equal(count_for("washed", "fishes"), 0);
	assert_int_equal(count_for("dveeloper", "developer"), 1);
	assert_int_equal(count_for("bath", "developer"), 0);
	assert_int_equal(count_for("fx", "fix"), 0);
	assert_int_equal(count_for("", "fix"), 0);
	assert_int_equal(count_for("fix", "fix"), 0);
	assert_int_equal(count_for("fix", ""), 0);
	assert_int_equal(count_for("r\xC3\xA9v\xC3\xA9lateur", "revelateur"), 1);
	char long_word[200];
	memset(long_word, 'a', sizeof(long_word) - 1);
	long_word[sizeof(long_word) - 1] = '\0';
	assert_int_equal(count_for(long_word, long_word + 1), 0);
}

static void test_case_alone_is_no_slip_and_comes_first(void **state)
{
	(void)state;
	struct suggestion_list list;
	suggest_start(&list, TEXT("dEV"));
	suggest_offer(&list, TEXT("deb"));
	suggest_offer(&list, TEXT("dev"));
	suggest_offer(&list, TEXT("Dev"));
	assert_int_equal(list.count, 3);
	assert_text(list.words[0], "Dev");
	assert_text(list.words[1], "dev");
	assert_text(list.words[2], "deb");
	assert_int_equal(list.distances[1], 0);
	assert_int_equal(count_for("\xC3\x89toile", "\xC3\xA9toile"), 1);
}

static void test_at_most_three_ties_in_order(void **state)
{
	(void)state;
	static const char *const words[] = { "tint", "tank", "tans", "tang", "tan", "tank", "tane" };
	struct suggestion_list list;
	suggest_start(&list, TEXT("tanx"));
	for (size_t i = 0; i < sizeof(words) / sizeof(*words); i++)
		suggest_offer(&list, text_from(words[i]));
	assert_text(suggest_sentence(&arena, &list), "did you mean `tan`, `tane` or `tang`?");
}

static void test_sentences(void **state)
{
	(void)state;
	struct suggestion_list list;
	suggest_start(&list, TEXT("hols"));
	assert_text(suggest_sentence(&arena, &list), "");
	suggest_offer(&list, TEXT("holds"));
	assert_text(suggest_sentence(&arena, &list), "did you mean `holds`?");
	suggest_offer(&list, TEXT("hole"));
	assert_text(suggest_sentence(&arena, &list), "did you mean `holds` or `hole`?");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_single_slips_find_their_word),
		ARENA_TEST(test_how_far_a_word_may_be),
		ARENA_TEST(test_case_alone_is_no_slip_and_comes_first),
		ARENA_TEST(test_at_most_three_ties_in_order),
		ARENA_TEST(test_sentences),
	};
	RUN_TESTS(tests);
}
