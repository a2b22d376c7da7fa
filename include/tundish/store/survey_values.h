/**
 * @file
 * How much a survey's text holds, whether we understand it or not.
 */
#ifndef TUNDISH_STORE_SURVEY_VALUES_H
#define TUNDISH_STORE_SURVEY_VALUES_H

#include "tundish/base/arena.h"
#include "tundish/base/err.h"
#include "tundish/base/fault.h"

struct survey_values {
	size_t values;   /* scalars that say something, of unknown keys too; keys themselves are none */
	size_t comments; /* lines with one */
};

/** @return false with @p err: ERR_TEXT where the text can't be read, or ERR_MEMORY. */
bool survey_values(const struct source *source, struct survey_values *out, struct err *err);

#endif
