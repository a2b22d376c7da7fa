/**
 * @file
 * What `history --between` says of two states of a survey: for people, as CSV, as JSON lines. The keys and columns are a
 * contract: they are added to, never renamed (docs/history.md).
 */
#ifndef TUNDISH_PRINT_BETWEEN_H
#define TUNDISH_PRINT_BETWEEN_H

#include "tundish/house/between.h"
#include "tundish/print/page.h"

/** Everything borrowed. */
struct between_shown {
	const char *before, *after; /* the files, as the user named them */
	const struct between *between;
};

void between_table(struct page *page, const struct between_shown *shown);
void between_csv(struct sink *sink, const struct between_shown *shown);
void between_ndjson(struct sink *sink, const struct between_shown *shown);

#endif
