#include "../src/base/arena_test.h"
#include "tundish/base/arena.h"

#include "suite.h"
#include <check.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static struct arena arena;

static void set_up(void)
{
	arena_init(&arena);
}

static void tear_down(void)
{
	arena_fail_after(-1);
	arena_finish(&arena);
}

static const size_t sizes[] = {0, 1, 15, 16, 17, 4096, 16 * 1024, 16 * 1024 + 1, 3 * 1024 * 1024};

enum { SIZES = sizeof(sizes) / sizeof(sizes[0]) };

static bool is_all(const unsigned char *bytes, size_t count, unsigned char value)
{
	for (size_t i = 0; i < count; i++) {
		if (bytes[i] != value)
			return false;
	}
	return true;
}

/* Twice, with a reset between: the second round gets used memory, and it must be zeroed again. */
START_TEST(pieces_are_zeroed_aligned_and_apart)
{
	for (int round = 0; round < 2; round++) {
		unsigned char *piece[4 * SIZES];

		for (size_t i = 0; i < 4 * SIZES; i++) {
			size_t size = sizes[(i + (size_t)_i) % SIZES];

			piece[i] = arena_take(&arena, size);
			ck_assert_ptr_nonnull(piece[i]);
			ck_assert_uint_eq((uintptr_t)piece[i] % 16, 0);
			ck_assert_msg(is_all(piece[i], size ? size : 1, 0), "size %zu, round %d",
			              size, round);
			memset(piece[i], (int)i + 1, size ? size : 1);
		}
		for (size_t i = 0; i < 4 * SIZES; i++) {
			size_t size = sizes[(i + (size_t)_i) % SIZES];

			ck_assert_msg(is_all(piece[i], size ? size : 1, (unsigned char)(i + 1)),
			              "piece %zu of size %zu was written over", i, size);
		}
		arena_reset(&arena);
	}
}
END_TEST

START_TEST(a_zeroed_struct_is_an_empty_arena)
{
	struct arena zeroed = {0};

	arena_finish(&zeroed);
	arena_reset(&zeroed);
	ck_assert_ptr_nonnull(arena_take(&zeroed, 10));
	arena_finish(&zeroed);
	arena_finish(&zeroed);
	ck_assert_ptr_null(zeroed.first);
}
END_TEST

START_TEST(init_takes_no_memory)
{
	ck_assert_ptr_null(arena.first);
	ck_assert(!arena.failed);
}
END_TEST

#ifndef __SANITIZE_ADDRESS__ /* there nothing is kept */
START_TEST(reset_uses_the_same_memory_again)
{
	const void *first = arena_take(&arena, 100);

	arena_take(&arena, 100000);
	arena_reset(&arena);
	ck_assert_ptr_eq(arena_take(&arena, 100), first);
}
END_TEST
#endif

START_TEST(copy_ends_in_nul)
{
	char *copy = arena_copy(&arena, "air gap", 3);

	ck_assert_str_eq(copy, "air");
	ck_assert_str_eq(arena_copy(&arena, NULL, 0), "");
	copy = arena_copy(&arena, "a\0b", 3);
	ck_assert_mem_eq(copy, "a\0b", 4);
}
END_TEST

START_TEST(print_takes_what_it_needs)
{
	char *text = arena_print(&arena, "%d %s", 42, "mm");
	char *padded = arena_print(&arena, "%*s|", 50000, "x");

	ck_assert_str_eq(text, "42 mm");
	ck_assert_uint_eq(strlen(padded), 50001);
	ck_assert_str_eq(padded + 49999, "x|");
	ck_assert_str_eq(arena_print(&arena, "%s", ""), "");
}
END_TEST

START_TEST(grow_keeps_elements_and_zeroes_the_rest)
{
	uint32_t *items = NULL;
	size_t room = 99; /* means nothing while there are no items */

	for (uint32_t i = 0; i < 5000; i++) {
		items = arena_grow(&arena, items, i, &room, sizeof(*items));
		ck_assert_ptr_nonnull(items);
		ck_assert_uint_gt(room, i);
		ck_assert_uint_eq(items[i], 0);
		items[i] = i * 7 + 1;
	}
	for (uint32_t i = 0; i < 5000; i++)
		ck_assert_uint_eq(items[i], i * 7 + 1);
	ck_assert_uint_lt(room, 10001);
}
END_TEST

START_TEST(grow_that_fails_leaves_the_old_array)
{
	size_t room = 0;
	int *items = arena_grow(&arena, NULL, 0, &room, sizeof(*items));
	size_t full = room;

	for (size_t i = 0; i < full; i++)
		items[i] = (int)i;
	arena_fail_after(0);
	ck_assert_ptr_null(arena_grow(&arena, items, full, &room, sizeof(*items)));
	ck_assert_uint_eq(room, full);
	ck_assert(arena.failed);
	for (size_t i = 0; i < full; i++)
		ck_assert_int_eq(items[i], (int)i);
}
END_TEST

START_TEST(sizes_that_overflow_fail)
{
	size_t room = 8;
	int some[8] = {0};

	ck_assert_ptr_null(arena_take(&arena, SIZE_MAX));
	ck_assert(arena.failed);
	arena_reset(&arena);
	ck_assert(!arena.failed);
	ck_assert_ptr_null(arena_take(&arena, SIZE_MAX - 15));
	ck_assert_ptr_null(arena_copy(&arena, "", SIZE_MAX));
	ck_assert_ptr_null(arena_grow(&arena, some, 8, &room, SIZE_MAX / 8));
	ck_assert_uint_eq(room, 8);
	/* 16 of these come to 16 bytes where sizes wrap round. */
	ck_assert_ptr_null(arena_grow(&arena, some, 8, &room, SIZE_MAX / 16 + 2));
	ck_assert_uint_eq(room, 8);
	room = SIZE_MAX;
	ck_assert_ptr_null(arena_grow(&arena, some, SIZE_MAX, &room, 1));
	ck_assert_uint_eq(room, SIZE_MAX);
	ck_assert(arena.failed);
}
END_TEST

static bool three_requests(void)
{
	bool all = arena_take(&arena, 8) != NULL;

	all = arena_copy(&arena, "x", 1) && all;
	all = arena_print(&arena, "%d", 1) && all;
	return all;
}

START_TEST(the_request_asked_for_fails_and_it_is_remembered)
{
	arena_fail_after(_i);
	ck_assert_int_eq(three_requests(), _i >= 3);
	ck_assert_int_eq(arena.failed, _i < 3);
	ck_assert_int_eq(arena_fail_after(-1), _i < 3 ? -1 : _i - 3);
	ck_assert(three_requests());
	ck_assert_int_eq(arena.failed, _i < 3);
	arena_reset(&arena);
	ck_assert(!arena.failed);
}
END_TEST

/* Rounds of different shape must not make an arena that is used again and
 * again grow without end. */
START_TEST(rounds_do_not_lengthen_the_chain)
{
	size_t most = 0;

	for (size_t round = 0; round < 300; round++) {
		arena_reset(&arena);
		for (size_t i = 0; i < 20; i++)
			ck_assert_ptr_nonnull(
			        arena_take(&arena, (round * 37 + i * 91) % 500 * 100 + 1));
		/* Only its length is counted: the first word of a block is the next one. */
		size_t blocks = 0;

		for (void *block = arena.first; block; memcpy(&block, block, sizeof(block)))
			blocks++;
		most = blocks > most ? blocks : most;
	}
	ck_assert_uint_le(most, 20);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("arena");
	TCase *tcase = tcase_create("arena");

	tcase_add_checked_fixture(tcase, set_up, tear_down);
	tcase_add_loop_test(tcase, pieces_are_zeroed_aligned_and_apart, 0, SIZES);
	tcase_add_test(tcase, a_zeroed_struct_is_an_empty_arena);
	tcase_add_test(tcase, init_takes_no_memory);
#ifndef __SANITIZE_ADDRESS__
	tcase_add_test(tcase, reset_uses_the_same_memory_again);
#endif
	tcase_add_test(tcase, copy_ends_in_nul);
	tcase_add_test(tcase, print_takes_what_it_needs);
	tcase_add_test(tcase, grow_keeps_elements_and_zeroes_the_rest);
	tcase_add_test(tcase, grow_that_fails_leaves_the_old_array);
	tcase_add_test(tcase, sizes_that_overflow_fail);
	tcase_add_loop_test(tcase, the_request_asked_for_fails_and_it_is_remembered, 0, 6);
	tcase_add_test(tcase, rounds_do_not_lengthen_the_chain);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
