/**
 * @file
 * What a survey says, as its text should say it: docs/survey.md, the house layout.
 */
#ifndef TUNDISH_STORE_SURVEY_FRESH_H
#define TUNDISH_STORE_SURVEY_FRESH_H

#include "../yaml/fresh.h"
#include "../yaml/tree.h"

#include "tundish/assess/survey.h"

/** Points that say on themselves what feeds their only inlet and what protects it: they go on doing
 * so. */
struct folded {
	const char **ref; /* sorted */
	size_t count, room;
};

/** @p survey is what @p tree says. @return false when there is no memory. */
bool folded_find(struct folded *folded, const struct tree *root, const struct survey *survey,
                 struct arena *arena);

/** @return the root map; NULL when there is no memory. */
struct fresh *survey_fresh(const struct survey *survey, const struct folded *folded,
                           struct arena *arena);

#endif
