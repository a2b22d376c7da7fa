/* Private to src/house: what completions come to. So few outcomes differ that a set of them is a bit for each. */
#ifndef TUNDISH_HOUSE_OUTCOMES_H
#define TUNDISH_HOUSE_OUTCOMES_H

#include "tundish/assess/rulebook.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* One completion's, as the verdict and the urgency table need it. */
struct outcome {
	unsigned paper, fact, proof; /* short by */
	unsigned needs;
	bool is_short; /* leaving out what is nothing on paper only because nobody could see it */
};

enum {
	CATEGORIES = CATEGORY_MOST - CATEGORY_LEAST + 1, /* shortfalls are from 0, needs from CATEGORY_LEAST */
	OUTCOMES = CATEGORIES * CATEGORIES * CATEGORIES * CATEGORIES * 2,
};

struct outcomes {
	uint64_t bits[(OUTCOMES + 63) / 64];
};

static inline void outcomes_add(struct outcomes *set, const struct outcome *one)
{
	size_t i = (one->fact * CATEGORIES + one->paper) * CATEGORIES + one->proof;

	i = (i * CATEGORIES + one->needs - CATEGORY_LEAST) * 2 + one->is_short;
	set->bits[i / 64] |= UINT64_C(1) << i % 64;
}

static inline struct outcome outcome_at(size_t i)
{
	unsigned rest = (unsigned)i / 2;
	struct outcome one = {.is_short = i % 2, .needs = rest % CATEGORIES + CATEGORY_LEAST};

	rest /= CATEGORIES;
	one.proof = rest % CATEGORIES;
	rest /= CATEGORIES;
	one.paper = rest % CATEGORIES;
	one.fact = rest / CATEGORIES;
	return one;
}

/* The first from @p i on; OUTCOMES where there is none. */
static inline size_t outcomes_next(const struct outcomes *set, size_t i)
{
	while (i < OUTCOMES) {
		uint64_t left = set->bits[i / 64] >> i % 64;

		if (left)
			return i + (size_t)__builtin_ctzll(left);
		i = (i / 64 + 1) * 64;
	}
	return OUTCOMES;
}

static inline void outcomes_join(struct outcomes *to, const struct outcomes *from)
{
	for (size_t w = 0; w < sizeof to->bits / sizeof *to->bits; w++)
		to->bits[w] |= from->bits[w];
}

#endif
