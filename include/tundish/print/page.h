/**
 * @file
 * Prose and columns for people: 80 columns, whole words, nothing in it that could drive a terminal.
 */
#ifndef TUNDISH_PRINT_PAGE_H
#define TUNDISH_PRINT_PAGE_H

#include "tundish/base/arena.h"
#include "tundish/base/sink.h"

enum { PAGE_COLUMNS = 80 };

struct page {
	struct sink *sink;     /* borrowed */
	struct arena *scratch; /* borrowed; for what lives as long as a line */
};

/**
 * A text that is safe to show: blanks for line breaks and tabs, `?` for other control characters
 * and for bytes that are not UTF-8. @return @p text itself where it is safe already, else a copy in
 * @p scratch; "" for NULL or no memory.
 */
const char *page_safe(struct arena *scratch, const char *text);

/**
 * @p lead at the left, then @p text from column @p indent (counted from 0) on, broken at blanks,
 * its further lines below its first. A lead that reaches past the indent has a line of its own. No
 * text: the lead alone.
 */
void page_prose(struct page *page, const char *lead, int indent, const char *text);

/** @p text cut to @p columns with `~` as its last where it is longer, then blanks up to @p columns.
 */
void page_cell(struct page *page, const char *text, int columns);

#endif
