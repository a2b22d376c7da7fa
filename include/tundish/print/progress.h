/**
 * @file
 * What a learner knows, by topic, and how the last attempts went.
 */
#ifndef TUNDISH_PRINT_PROGRESS_H
#define TUNDISH_PRINT_PROGRESS_H

#include "tundish/print/page.h"
#include "tundish/teach/boxes.h"
#include "tundish/teach/review.h"

/** For people: the topics that were asked, a line each; what is due in all; what the words mean; and how many topics were not asked. */
void progress_table(struct page *page, const struct progress *progress, size_t count);

void progress_csv(struct sink *sink, const struct progress *progress, size_t count);
/** A line each. */
void progress_json(struct sink *sink, const struct progress *progress, size_t count);

/** One sitting, summed up of its answers. */
struct sitting {
	const struct review *first; /* what is the same in all of them */
	size_t answered, halves;    /* halves: of 2 x first->tasks */
	size_t grade[GRADE_COUNT];  /* how many of each */
	uint64_t ms;                /* of all its answers */
};

/**
 * The sittings of a log, in the order in which they began; in @p arena.
 * @return false when there is no memory.
 */
bool sittings_of(const struct review *review, size_t count, struct arena *arena, struct sitting **out, size_t *out_count);

/** `13.5 of 20`, half a point for what errs on the safe side; into @p out. */
enum { SCORE_ROOM = 48 };
void score_words(size_t halves, size_t tasks, char out[SCORE_ROOM]);

/** `13.5 of 20; 1 not answered; 2 dangerous; mark 70%: reached`, in @p scratch. */
const char *sitting_words(const struct sitting *sitting, struct arena *scratch);
/** The last @p most of them, the latest first, and a blank line; nothing where there is none. */
void sittings_table(struct page *page, const struct sitting *sitting, size_t count, size_t most);

#endif
