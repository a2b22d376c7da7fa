/**
 * @file
 * Chance that can be repeated: the same numbers for the same seed on every machine, today and in ten years.
 *
 * xoshiro256** (Blackman and Vigna, "Scrambled linear pseudorandom number generators", ACM Transactions on Mathematical
 * Software 47(4), 2021), its state filled by SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number
 * generators", OOPSLA 2014), as the authors' public domain code does both. Whole numbers only. Nothing here is for secrets.
 */
#ifndef TUNDISH_BASE_RANDOM_H
#define TUNDISH_BASE_RANDOM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Not all zero. A copy goes on with the same numbers. */
struct random {
	uint64_t state[4];
};

/** One step of SplitMix64: @p state goes on, @return the number drawn. */
uint64_t random_split_mix(uint64_t *state);

/** Start: the state is the first four numbers of SplitMix64 from @p seed. */
void random_seed(struct random *random, uint64_t seed);

/**
 * Start a row of numbers of its own for one use of a seed, so that what else is drawn does not move them: as random_seed,
 * from @p seed exclusive-or the 64-bit FNV-1a hash of @p use.
 */
void random_seed_for(struct random *random, uint64_t seed, const char *use);

/** @return 64 bits. */
uint64_t random_next(struct random *random);

/** @return 0 to @p bound - 1, each as likely: what would favour some is drawn again. @p bound 0 gives 0, and draws nothing. */
uint64_t random_below(struct random *random, uint64_t bound);

/** Whether something happens that does @p times in @p of. @p of is not 0. */
bool random_chance(struct random *random, uint64_t times, uint64_t of);

/** @return an index of @p weight, as likely as its weight says; @p count when all weigh nothing (then nothing is drawn). */
size_t random_weighted(struct random *random, const unsigned *weight, size_t count);

/** Put @p count items of @p size bytes (at most 64) in an order of chance, each order as likely (Fisher and Yates). */
void random_shuffle(struct random *random, void *items, size_t count, size_t size);

#endif
