/**
 * @file
 * What `assess` says, for people: by room, a line a point, and below what is short or open the
 * path, the reason, where the rule comes from and what to ask next.
 */
#ifndef TUNDISH_PRINT_TABLE_H
#define TUNDISH_PRINT_TABLE_H

#include "tundish/print/assessed.h"
#include "tundish/print/page.h"

struct tally {
	size_t files, points;
	size_t verdict[VERDICT_COUNT];
};

/** The heading of one survey. */
void table_file(struct page *page, const char *name, const struct survey *survey);

/** The heading of one room, with what was not seen of it; says so where it has no points. */
void table_room(struct page *page, const struct survey *survey, const struct item *room);

void table_point(struct page *page, const struct assessed *assessed);

/** The counts by verdict, what it was judged by, and the caution. */
void table_end(struct page *page, const struct rulebook *book, const struct tally *tally);

#endif
