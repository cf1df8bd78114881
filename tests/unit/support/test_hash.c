#include "arena_fixture.h"
#include "support/hash.h"

static struct text hash_of(struct text text)
{
	struct hash hash;
	hash_start(&hash);
	hash_add(&hash, text);
	return hash_finish(&hash, &arena);
}

/* NIST, "Descriptions of SHA-256" examples (FIPS 180-4): one block, two blocks, and a million letters. */
static void test_published_digests(void **state)
{
	(void)state;
	assert_text(hash_of(TEXT("abc")), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
	assert_text(hash_of(TEXT("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")),
		    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
	assert_text(hash_of(TEXT("")), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
	char *letters = ARENA_ARRAY(&arena, char, 1000000);
	memset(letters, 'a', 1000000);
	assert_text(hash_of((struct text){ letters, 1000000 }),
		    "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

static void test_pieces_give_the_digest_of_the_whole(void **state)
{
	(void)state;
	struct hash hash;
	hash_start(&hash);
	for (int i = 0; i < 1000; i++) {
		hash_add(&hash, TEXT("wet"));
		hash_add(&hash, (struct text){ NULL, 0 });
		hash_add(&hash, TEXT("side"));
	}
	struct text_builder whole = text_builder_start(&arena);
	for (int i = 0; i < 1000; i++)
		text_append_string(&whole, "wetside");
	assert_true(text_equal(hash_finish(&hash, &arena), hash_of(text_builder_text(&whole))));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_published_digests),
		ARENA_TEST(test_pieces_give_the_digest_of_the_whole),
	};
	RUN_TESTS(tests);
}
