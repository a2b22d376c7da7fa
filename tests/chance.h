/**
 * @file
 * For tests only: numbers at random, the same on every machine and in every run.
 *
 * splitmix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators"): any
 * seed will do, 0 too.
 */
#ifndef TUNDISH_TESTS_CHANCE_H
#define TUNDISH_TESTS_CHANCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct chance {
	uint64_t state;
};

static inline uint64_t chance_bits(struct chance *chance)
{
	uint64_t z = chance->state += UINT64_C(0x9E3779B97F4A7C15);

	z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
	z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
	return z ^ (z >> 31);
}

/** 0 to @p sides - 1. */
static inline size_t chance_of(struct chance *chance, size_t sides)
{
	return (size_t)(chance_bits(chance) >> 16) % sides;
}

static inline bool chance_in(struct chance *chance, size_t hits, size_t of)
{
	return chance_of(chance, of) < hits;
}

#endif
