/**
 * @file
 * Invented surveys for measuring: what they hold is drawn at random from a rulebook, the same for
 * the same seed.
 */
#ifndef TUNDISH_TESTS_BENCH_CORPUS_H
#define TUNDISH_TESTS_BENCH_CORPUS_H

#include "tundish/assess/rulebook.h"
#include "tundish/base/sink.h"

#include <stdint.h>

struct corpus {
	const struct rulebook *book;
	uint64_t seed;
	unsigned points;             /* of one survey */
	unsigned unanswered_percent; /* of all questions that could be asked */
	size_t asked, answered;      /* out: counted over all surveys written */
};

/** Write survey number @p index of the corpus. */
void corpus_survey(struct corpus *corpus, unsigned index, struct sink *sink);

#endif
