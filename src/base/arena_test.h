/**
 * @file
 * For tests only: make one request to an arena fail.
 */
#ifndef TUNDISH_BASE_ARENA_TEST_H
#define TUNDISH_BASE_ARENA_TEST_H

/**
 * Let @p n more requests (of all arenas together) be met, and fail the one after; later ones are
 * met again, as when only the big piece did not fit. -1: fail none.
 *
 * @return what was still left of an earlier call: -1 when its failure has happened (or none was
 * asked for). So a test goes on with greater n until the answer is not -1: then the work was done
 * without reaching the failure.
 */
long arena_fail_after(long n);

#endif
