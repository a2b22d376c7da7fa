/**
 * @file
 * The assessment of one point: what could come back, on which path, what stands in the way on paper and in fact, and the
 * word for it. Pure: a survey, a rulebook and a day in, figures out.
 */
#ifndef TUNDISH_HOUSE_VERDICT_H
#define TUNDISH_HOUSE_VERDICT_H

#include "tundish/assess/survey.h"
#include "tundish/base/err.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** The first that holds. ORDER VERDICT: verdict_names in house/verdict.c. */
enum verdict {
	VERDICT_SHORT,     /* a shortfall is certain on paper or in fact; or possible, with only settled doubt about the fluid left */
	VERDICT_UNDECIDED, /* one is possible, and an unanswered question can still move a figure */
	VERDICT_NOT_SEEN,  /* the point, or whether anything is fitted, was not seen */
	VERDICT_UNPROVEN,  /* right type, right place, nobody can say that it still works */
	VERDICT_PROTECTED,
	VERDICT_COUNT,
};

/** Still possible, both ends included. */
struct range {
	uint8_t least, most;
};

struct fluid_verdict {
	unsigned fluid;      /* index in the kind; FLUID_UNDERTAKER for what the undertaker decided */
	struct range category;
	uint8_t by, inlets;  /* flags: every mechanism and inlet that it still could come by */
};
enum { FLUID_UNDERTAKER = FLUIDS_MOST };

/** One fluid, one inlet, one mechanism, one place it could get to. */
struct path {
	unsigned fluid;
	const struct item *inlet; /* the survey's, or NULL where the survey does not have it yet */
	unsigned inlet_index;     /* in the kind */
	enum mechanism mechanism;
	const char *to;           /* "main", or the ref of the first other draw-off in the file, or of a separately occupied part */
	bool to_part;
	struct range needs, good_for, accepted, found, on_paper, in_fact;
};

struct because {
	const struct row *row;
	const struct item *protection; /* whose row it is; NULL: the kind's */
	bool certain;                  /* "yes", else "could" */
};

/** Whether a reason says only that a fluid does not come back: worth a line only where nothing else is to be said. */
bool because_why_not(const struct because *because);

/** A question still worth asking about this point: it can move a figure and was neither answered nor settled. */
struct ask {
	const struct item *item; /* whose question: of the survey, or an inlet that it does not have yet (no child of its
	                            parent; `ref` is the inlet's id, and it lives as long as the assessment) */
	question_index question; /* QUESTION_NONE: what is fitted on the inlet `item` */
	unsigned inlet_index;    /* of an inlet's feed: in the kind */
};

/** Arrays belong to the judge, and hold until its next verdict. */
struct assessment {
	const struct item *point;
	struct range category;
	struct range on_paper, in_fact; /* shortfall of the point, exact over all completions */
	enum verdict verdict;
	enum urgency urgency;
	struct fluid_verdict *fluid;
	size_t fluid_count;
	struct path *path;
	size_t path_count;
	size_t worst;            /* index of the path that the verdict speaks of; path_count: none */
	struct because *because;
	size_t because_count;
	struct ask *ask;         /* in the order of asking: kind, then inlets and protections in flow order */
	size_t ask_count;
	bool lawful_old;         /* certainly installed before 1 July 1999, and short on paper only */
	bool due;                /* a change, service or test could be due */
};

const char *verdict_name(enum verdict verdict);  /* "not_seen" */
const char *verdict_words(enum verdict verdict); /* "not seen" */

/**
 * Whether something is still to be done about a point: it is not protected; or it is, and a row wants more all the same, by the
 * next job at the latest (a link to be taken off, heating water that has come through).
 */
bool verdict_leaves_work(enum verdict verdict, enum urgency urgency);

struct judge;

/** Works for one book, one thread. Diagrams are made on first use. @return NULL when there is no memory. */
struct judge *judge_create(const struct rulebook *book);
void judge_destroy(struct judge *judge);

/**
 * Take up a survey: work out its tree of branches. Call again when anything but answers of points, inlets and
 * protections changed, or a point's kind, or what feeds an inlet. @return false with @p err: no memory; or ERR_TEXT for
 * more than 4 million pairs of a pipe and a part.
 */
bool judge_survey(struct judge *judge, const struct survey *survey, struct err *err);

/**
 * Whether what became of a point since judge_survey() can move the verdict of another one, or its own through others: it
 * came, went (then it has no parent), moved, has another kind or another feed. Where not, the judge is right for the
 * survey as it is now, without being told. Never false where a verdict moves; may be true where none does. Of the work,
 * nothing grows with the number of points.
 */
bool judge_moves_others(const struct judge *judge, const struct item *point);

/** Whether a branch starts at a point: then its kind and feeds count for its own verdict as the judge took them up. */
bool judge_feeds_others(const struct judge *judge, const struct item *point);

/**
 * Assess one point of that survey. A point with no kind yet is undecided, 1 to 5, with its kind to ask.
 *
 * @return false with @p err: no memory; or ERR_TEXT for more doubt than can be enumerated, or more ways than can be
 *         followed (then the figures are 1 to 5, the verdict undecided, and `ask` has what was found so far: of doubt,
 *         answering it is the way out).
 */
bool judge_point(struct judge *judge, const struct item *point, struct assessment *out, struct err *err);

#endif
