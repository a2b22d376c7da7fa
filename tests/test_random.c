#include "tundish/base/random.h"

#include "suite.h"

#include <check.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* The published outputs of the authors' splitmix64.c from the seed 1234567. */
START_TEST(split_mix_as_published)
{
	static const uint64_t expected[] = {6457827717110365317U, 3203168211198807973U,
	                                    9817491932198370423U, 4593380528125082431U,
	                                    16408922859458223821U};
	uint64_t state = 1234567;

	for (size_t i = 0; i < COUNT(expected); i++)
		ck_assert_uint_eq(random_split_mix(&state), expected[i]);
}
END_TEST

/* The published outputs of the authors' xoshiro256starstar.c from the state 1, 2, 3, 4. */
START_TEST(xoshiro_as_published)
{
	static const uint64_t expected[] = {
	        11520,
	        0,
	        1509978240,
	        1215971899390074240,
	        1216172134540287360,
	        607988272756665600,
	        16172922978634559625U,
	        8476171486693032832,
	        10595114339597558777U,
	        2904607092377533576,
	};
	struct random random = {
	        {1, 2, 3, 4}
        };

	for (size_t i = 0; i < COUNT(expected); i++)
		ck_assert_uint_eq(random_next(&random), expected[i]);
}
END_TEST

/* Both together, as implementations in other languages agree on. */
START_TEST(seeded_as_others_do)
{
	static const uint64_t expected[] = {1546998764402558742, 6990951692964543102,
	                                    12544586762248559009U, 17057574109182124193U};
	struct random random;

	random_seed(&random, 42);
	for (size_t i = 0; i < COUNT(expected); i++)
		ck_assert_uint_eq(random_next(&random), expected[i]);
}
END_TEST

/* FNV-1a of "foobar" is published as 85944171f73967e8, of nothing as its offset basis. */
START_TEST(each_use_has_its_own)
{
	static const struct {
		const char *use;
		uint64_t hash;
	} uses[] = {
	        {"",       0xcbf29ce484222325},
	        {"a",      0xaf63dc4c8601ec8c},
	        {"foobar", 0x85944171f73967e8}
        };

	for (size_t i = 0; i < COUNT(uses); i++) {
		struct random a, b;

		random_seed_for(&a, 99, uses[i].use);
		random_seed(&b, 99 ^ uses[i].hash);
		ck_assert_msg(memcmp(&a, &b, sizeof(a)) == 0, "use '%s'", uses[i].use);
	}
}
END_TEST

/* A bound just over half of all: the plain remainder would give the low numbers twice as often. */
START_TEST(no_number_is_favoured)
{
	static const uint64_t bounds[] = {3, 10, 0xc000000000000000};
	struct random random;

	random_seed(&random, 7);
	for (size_t b = 0; b < COUNT(bounds); b++) {
		uint64_t bound = bounds[b];
		size_t low = 0, draws = 30000;

		for (size_t i = 0; i < draws; i++) {
			uint64_t drawn = random_below(&random, bound);

			ck_assert_uint_lt(drawn, bound);
			low += drawn < bound / 3;
		}
		/* a third, within five times the spread of 82 */
		if (bound != 10)
			ck_assert_msg(low > 9590 && low < 10410, "bound %" PRIu64 ": %zu of %zu",
			              bound, low, draws);
	}
	ck_assert_uint_eq(random_below(&random, 1), 0);
	ck_assert_uint_eq(random_below(&random, 0), 0);
}
END_TEST

START_TEST(as_often_as_it_weighs)
{
	static const unsigned weight[] = {0, 1, 0, 3, 0}, nothing[] = {0, 0};
	size_t met[COUNT(weight)] = {0};
	struct random random, before;

	random_seed(&random, 1);
	for (size_t i = 0; i < 40000; i++)
		met[random_weighted(&random, weight, COUNT(weight))]++;
	ck_assert_uint_eq(met[0] + met[2] + met[4], 0);
	ck_assert_msg(met[1] > 9560 && met[1] < 10440, "%zu",
	              met[1]); /* five times the spread of 87 */
	before = random;
	ck_assert_uint_eq(random_weighted(&random, nothing, COUNT(nothing)), COUNT(nothing));
	ck_assert(memcmp(&random, &before, sizeof(random)) == 0);
}
END_TEST

START_TEST(chance_is_never_and_always)
{
	struct random random;
	size_t met = 0;

	random_seed(&random, 5);
	for (size_t i = 0; i < 1000; i++) {
		ck_assert(!random_chance(&random, 0, 3));
		ck_assert(random_chance(&random, 3, 3));
	}
	for (size_t i = 0; i < 40000; i++)
		met += random_chance(&random, 1, 4);
	ck_assert_msg(met > 9560 && met < 10440, "%zu", met);
}
END_TEST

/* All six orders of three, each a sixth of the time. */
START_TEST(each_order_is_as_likely)
{
	size_t met[1000] = {0}, orders = 0;
	struct random random;

	random_seed(&random, 3);
	for (size_t i = 0; i < 60000; i++) {
		unsigned char item[3] = {1, 2, 3};

		random_shuffle(&random, item, 3, 1);
		met[item[0] * 100 + item[1] * 10 + item[2]]++;
	}
	for (size_t i = 0; i < COUNT(met); i++) {
		if (!met[i])
			continue;
		orders++;
		ck_assert_msg(met[i] > 9540 && met[i] < 10460, "%zu: %zu", i,
		              met[i]); /* the spread is 91 */
	}
	ck_assert_uint_eq(orders, 6);
}
END_TEST

START_TEST(items_of_any_size_stay_whole)
{
	struct {
		uint64_t a, b, c;
	} item[50];
	struct random random;
	uint64_t seen = 0;

	for (size_t i = 0; i < COUNT(item); i++)
		item[i].a = i, item[i].b = ~(uint64_t)i, item[i].c = i * i;
	random_seed(&random, 11);
	random_shuffle(&random, item, COUNT(item), sizeof(item[0]));
	random_shuffle(&random, item, 0, sizeof(item[0]));
	for (size_t i = 0; i < COUNT(item); i++) {
		ck_assert(item[i].b == ~item[i].a && item[i].c == item[i].a * item[i].a);
		seen |= (uint64_t)1 << item[i].a;
	}
	ck_assert_uint_eq(seen, ((uint64_t)1 << COUNT(item)) - 1);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("random");
	TCase *tcase = tcase_create("random");

	tcase_set_timeout(tcase, 20);
	tcase_add_test(tcase, split_mix_as_published);
	tcase_add_test(tcase, xoshiro_as_published);
	tcase_add_test(tcase, seeded_as_others_do);
	tcase_add_test(tcase, each_use_has_its_own);
	tcase_add_test(tcase, no_number_is_favoured);
	tcase_add_test(tcase, as_often_as_it_weighs);
	tcase_add_test(tcase, chance_is_never_and_always);
	tcase_add_test(tcase, each_order_is_as_likely);
	tcase_add_test(tcase, items_of_any_size_stay_whole);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
