/**
 * @file
 * Which rows of the rulebook a learner knows: five boxes (Leitner 1972, "So lernt man lernen"), worked out anew from the log of
 * every answer, so that another way of reckoning can be laid over the same log.
 *
 * What is learned is each row of the kinds, the types and the urgency table, and of each type its published table, which goes by
 * the type's id.
 *
 * A row that was never asked is in no box. A right answer takes each of the task's rows up one box from the day it was given, a
 * cautious one leaves it where it is (in box 1 where it was in none), a wrong or dangerous one puts it into box 1. A row of box
 * 1 to 5 is due 1, 2, 4, 8, 16 days after it was last asked; being late is no failure. An answer on a day on which the row is not due
 * yet moves it down if it is wrong and else not at all: cramming is not knowing.
 */
#ifndef TUNDISH_TEACH_BOXES_H
#define TUNDISH_TEACH_BOXES_H

#include "tundish/base/date.h"
#include "tundish/teach/task.h"

enum {
	BOX_NONE = 0,
	BOX_MOST = 5,
	BOX_KNOWN = 4, /* from this box on a row counts as known */
};
#define BOXES_NAME "boxes-1" /* this way of reckoning, as logs name it */

struct box {
	uint8_t box; /* BOX_NONE: never asked */
	bool missed; /* the last answer was wrong or dangerous */
	day asked; /* the last time that counted: a right or cautious answer before it is due does not put it off */
};

struct boxes;

/** @return NULL when there is no memory. The book must live as long. */
struct boxes *boxes_create(const struct rulebook *book);
void boxes_destroy(struct boxes *boxes);

/** One answer of the log, in the order of time. An id that the book has no more (`was:` counts) is passed over. */
void boxes_take(struct boxes *boxes, const char *row_id, day on, enum grade grade);

struct box boxes_row(const struct boxes *boxes, const char *row_id);
/** The day a row is due; a row of no box is never due. */
bool box_due(const struct box *box, day on);

/**
 * What to ask next: rows that are due, those missed first, then the longest overdue.
 * @return how many are due; @p out (room for @p room) gets the first of them.
 */
size_t boxes_due(const struct boxes *boxes, day on, const char **out, size_t room);

/** How a topic stands: a kind, a type, or the urgency table. */
struct progress {
	const char *topic, *name; /* id, and in words */
	const char *is; /* "kind", "type" or, of the urgency table, "urgency" */
	size_t rows, known, shaky, unseen; /* shaky: asked, and not in box 4 or 5 */
	size_t due;
};
/** Every topic, in the order of the book. In @p arena. @return false when there is no memory. */
bool boxes_progress(const struct boxes *boxes, day on, struct arena *arena, struct progress **out,
                    size_t *count);

#endif
