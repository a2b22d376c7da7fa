/**
 * @file
 * One change as people read it.
 */
#ifndef TUNDISH_SRC_PRINT_CHANGE_WORDS_H
#define TUNDISH_SRC_PRINT_CHANGE_WORDS_H

#include "tundish/assess/survey.h"
#include "tundish/print/page.h"

/** `K1/seen: part, was yes`, or `rooms/attic: put in`, from column @p indent on. */
void change_line(struct page *page, int indent, const struct change *change);

/** `{"where": ..., "before": ..., "after": ...}` */
void change_json(struct sink *sink, const struct change *change);

#endif
