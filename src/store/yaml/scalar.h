/**
 * @file
 * Text -> a scalar of YAML on one line, which every reader of YAML 1.1 and 1.2 takes for the same
 * text.
 */
#ifndef TUNDISH_STORE_SCALAR_H
#define TUNDISH_STORE_SCALAR_H

#include "tundish/base/arena.h"

#include <stdbool.h>
#include <stddef.h>

struct scalar_style {
	bool in_flow; /* between brackets more has to be quoted */
	char quote;   /* ' or ": in these quotes if they can hold it; 0: plain if it can be */
	bool typed;   /* meant as a number, date or yes/no: plain, although it is no text to all */
};

/** @return the scalar in @p arena; NULL when there is no memory. @p text is valid UTF-8. */
const char *scalar_write(const char *text, size_t length, struct scalar_style style,
                         struct arena *arena);

/** Whether all of its characters can stand in a text as they are; a line break or a tab can't. */
bool scalar_shows(const char *text, size_t length);

#endif
