/**
 * @file
 * What `history FILE` tells: the amendments of a survey, from the signing off on. docs/history.md has the keys and columns.
 */
#ifndef TUNDISH_PRINT_STORY_H
#define TUNDISH_PRINT_STORY_H

#include "tundish/assess/amendment.h"
#include "tundish/print/page.h"

/** Everything borrowed. */
struct story {
	const char *file; /* as the user named it */
	const struct amendment *amendment;
	size_t count;
	bool broken;  /* there is more, but the chain breaks here */
	bool outside; /* and then it was changed without an amendment */
};

void story_table(struct page *page, const struct story *story);
void story_csv(struct sink *sink, const struct story *story);
void story_ndjson(struct sink *sink, const struct story *story);

#endif
