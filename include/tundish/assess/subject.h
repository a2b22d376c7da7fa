/**
 * @file
 * A kind, a type, or the urgency table, made into one decision diagram over its questions.
 *
 * Variables are the questions that its conditions test, in the order of scopes and then of the rulebook: what is shared
 * with other subjects stands on top.
 */
#ifndef TUNDISH_ASSESS_SUBJECT_H
#define TUNDISH_ASSESS_SUBJECT_H

#include "tundish/assess/diagram.h"
#include "tundish/assess/rulebook.h"
#include "tundish/base/err.h"

#include <stdbool.h>
#include <stddef.h>

/**
 * Leaf of a kind: what is needed, a category from 1 to 5 for each fluid, inlet and mechanism. Merged by `most`. A
 * circumstance is no figure: where it counts is the truth of its row.
 */
static inline size_t subject_needs_at(size_t inlet_count, unsigned fluid, unsigned inlet,
                                      enum mechanism mechanism)
{
	return (fluid * inlet_count + inlet) * MECHANISM_COUNT + mechanism;
}

/** Leaf of a type: its four figures for each mechanism. Merged by `least`, so the index of a series row counts down. */
enum {
	WORTH_GOOD_FOR,
	WORTH_ACCEPTED = WORTH_GOOD_FOR + MECHANISM_COUNT,
	WORTH_FOUND = WORTH_ACCEPTED + MECHANISM_COUNT,
	WORTH_PROVEN = WORTH_FOUND + MECHANISM_COUNT, /* as found, where somebody can say that it works */
	WORTH_FIGURES = WORTH_PROVEN + MECHANISM_COUNT,
	WORTH_NO_SERIES = WORTH_FIGURES, /* SERIES_NONE less the index of the series row that holds, less 1 */
	WORTH_WIDTH,
	SERIES_NONE = 255,
};

struct subject {
	struct diagram_store *store;
	question_index variable[VARIABLES_MOST];
	size_t variable_count;
	diagram root;
	diagram comes;     /* of a kind: as root, of one fluid that is CATEGORY_MOST wherever any fluid of the kind comes; where none
	                      does, on each inlet by each mechanism that some row names (both where none does) */
	diagram alone;     /* of a type: as root, where nothing stands before it that its series could name */
	diagram *row;      /* of each row: the truth that it counts (matches, and is not replaced) */
	size_t row_count;
};

/** @return NULL with @p err: no memory, or ERR_TEXT where its rows are too entangled. */
struct subject *subject_of_kind(const struct rulebook *book, const struct kind *kind, struct err *err);
struct subject *subject_of_type(const struct rulebook *book, const struct type *type, struct err *err);
/** Leaf: one byte, enum urgency by the table alone; which rows raise it are truths. */
struct subject *subject_of_urgency(const struct rulebook *book, struct err *err);
void subject_destroy(struct subject *subject);

/** The root as it would be without one of its rows (not a fluid's only `otherwise`), made in the same store. */
diagram subject_without_kind_row(const struct kind *kind, struct subject *subject, size_t row);
diagram subject_without_type_row(const struct type *type, struct subject *subject, size_t row);

/** @return the variable of a question, or -1. */
int subject_variable(const struct subject *subject, question_index question);

/** The truth of a condition (NULL: always) in the subject's store. */
diagram subject_condition(struct subject *subject, const struct condition *condition);

#endif
