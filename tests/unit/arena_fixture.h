/* What every unit test needs: cmocka, an arena that is opened before and dropped after each test, texts compared. */
#ifndef ARENA_FIXTURE_H
#define ARENA_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "support/arena.h"
#include "support/text.h"

static struct landing memory_is_gone;
static struct arena arena;

static inline int open_arena(void **state)
{
	(void)state;
	arena_init(&arena, &memory_is_gone);
	return 0;
}

static inline int close_arena(void **state)
{
	(void)state;
	arena_release(&arena);
	return 0;
}

/* A test that may use `arena`. */
#define ARENA_TEST(function) cmocka_unit_test_setup_teardown(function, open_arena, close_arena)

/* The body of main. */
#define RUN_TESTS(tests)                                                                                               \
	do {                                                                                                           \
		if (setjmp(memory_is_gone.place)) {                                                                    \
			fputs("memory ran out\n", stderr);                                                             \
			return 1;                                                                                      \
		}                                                                                                      \
		return cmocka_run_group_tests(tests, NULL, NULL);                                                      \
	} while (0)

/* Compares a text, which may hold NULs, with a string. */
#define assert_text(text, string) check_text((text), (string), __FILE__, __LINE__)

static inline void check_text(struct text text, const char *string, const char *file, int line)
{
	if (text.length == strlen(string) && (text.length == 0 || memcmp(text.data, string, text.length) == 0))
		return;
	print_error("\"%.*s\" is not \"%s\"\n", TEXT_ARGUMENT(text), string);
	_fail(file, line);
}

#endif
