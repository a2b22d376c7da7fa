/**
 * @file
 * What a text holds beside what we understand of it, and whether another text still holds it.
 */
#ifndef TUNDISH_STORE_SURVEY_KEEP_H
#define TUNDISH_STORE_SURVEY_KEEP_H

#include "../yaml/tree.h"

#include "tundish/assess/survey.h"
#include "tundish/base/err.h"

/**
 * Every unknown key of @p before is in @p after, with the same value and below the same item, and
 * nothing else is; but for those of items that are no longer in @p survey.
 *
 * @return false with @p err: ERR_CONFLICT names what and where, or ERR_MEMORY.
 */
bool keeps_unknown(const struct tree_text *before, const struct tree_text *after,
                   const struct survey *survey, struct arena *arena, struct err *err);

/** Every comment of @p before that is not @p gone is in @p after, and @p after has no others. */
bool keeps_comments(const struct tree_text *before, const bool *gone, const struct tree_text *after,
                    struct arena *arena, struct err *err);

#endif
