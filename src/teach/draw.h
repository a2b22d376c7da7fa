/* Private to src/teach: drawing a quiz. */
#ifndef TUNDISH_TEACH_DRAW_H
#define TUNDISH_TEACH_DRAW_H

#include "make.h"

/* A point of the survey that the quiz may be about. */
struct spot {
	const struct item *point;
	size_t place; /* in the survey */
	bool wanted;
	size_t from, until; /* its tasks among all that were made */
};

struct drawing {
	struct making making;
	const struct quiz_plan *plan;
	const char **with; /* the plan's, by the ids that the book has today */
	bool *kind, *type; /* of the book: named by `with`, or a row of it is */
	bool how_soon;     /* named by `with` is a row of the urgency table: any point may teach it */
	bool *met;         /* of the book's types: to be asked about */
	struct spot *spot; /* in the order in which their tasks are made */
	size_t spot_count, spot_room;
};

/* -- wanted.c --------------------------------------------------------------------------- */

/** @return false with @p err: an id of the plan's `with` names nothing (ERR_USAGE), no memory (ERR_MEMORY). */
bool find_wanted(struct drawing *drawing, struct err *err);
/** By its topic, by the type whose table is a reason, or by a row that is one. */
bool teaches_wanted(const struct drawing *drawing, const struct task *task);
/** The point is of a kind, or something is fitted on it of a type, that is wanted. */
bool spot_wanted(const struct drawing *drawing, const struct item *point);

#endif
