/**
 * @file
 * An answer -> a line of JSON, and back.
 */
#ifndef TUNDISH_SRC_STORE_REVIEWS_LINE_H
#define TUNDISH_SRC_STORE_REVIEWS_LINE_H

#include "tundish/base/arena.h"
#include "tundish/teach/review.h"

/** With its newline, to be freed with free(). NULL: not UTF-8, or no memory. */
char *review_line(const struct review *review);

enum review_line_is {
	REVIEW_LINE_WHOLE,
	REVIEW_LINE_NEWER, /* written by a newer tundish */
	REVIEW_LINE_NONE,  /* no answer of a log */
};

/** @p text without its newline; what @p out holds is copied into @p arena. */
enum review_line_is review_line_read(const char *text, size_t length, struct arena *arena, struct review *out);

#endif
