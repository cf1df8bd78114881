/* The signals of a sound track: their sine against the mathematics library's, their onset, level and length. */
#include <math.h>
#include <stdlib.h>

#include "arena_fixture.h"
#include "emit/sound/signal.h"

static void test_the_sine_is_a_sine(void **state)
{
	(void)state;
	double worst = 0;
	for (uint64_t phase = 0; phase < UINT64_C(1) << 32; phase += 65521) {
		double turn = (double)phase / 4294967296.0;
		double off =
			(double)signal_sine((uint32_t)phase) / 1073741824.0 - sin(turn * 2 * 3.14159265358979323846);
		worst = fabs(off) > worst ? fabs(off) : worst;
	}
	assert_true(worst < 4e-6);
	assert_int_equal(signal_sine(0), 0);
	assert_int_equal(signal_sine(UINT32_C(1) << 31), 0);
}

/* 22.05 samples a millisecond; halves go up. */
static void test_a_time_is_its_nearest_sample(void **state)
{
	(void)state;
	assert_int_equal(sound_sample(0), 0);
	assert_int_equal(sound_sample(1), 22);
	assert_int_equal(sound_sample(10), 221);   /* 220.5 */
	assert_int_equal(sound_sample(-10), -220); /* -220.5 */
	assert_int_equal(sound_sample(-1000), -22050);
	assert_int_equal(sound_sample(7200000), 158760000);
}

static void test_each_signal_begins_with_its_first_sample(void **state)
{
	(void)state;
	for (int signal = 0; signal < SIGNAL_COUNT; signal++) {
		struct samples samples = signal_render(signal, &arena);
		int most = 0;
		assert_true(samples.count >= SOUND_RATE_HZ / 20 && samples.count <= SOUND_RATE_HZ);
		assert_true(samples.items[0] > 0);
		for (size_t i = 0; i < samples.count; i++)
			most = abs(samples.items[i]) > most ? abs(samples.items[i]) : most;
		int level = signal == CUE_pour || signal == CUE_drain ? 90 : 40;
		assert_true(most >= SOUND_FULL_SCALE * level / 100 - 1 && most <= SOUND_FULL_SCALE * 90 / 100);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_the_sine_is_a_sine),
		ARENA_TEST(test_a_time_is_its_nearest_sample),
		ARENA_TEST(test_each_signal_begins_with_its_first_sample),
	};
	RUN_TESTS(tests);
}
