/**
 * @file
 * Two states of one survey, point by point: what got better, what got worse, what is new, what is gone.
 *
 * Both are judged by the same rulebook for the same day, so that only what was written makes the difference. Points are
 * paired by their refs. Pure, like all of house.
 */
#ifndef TUNDISH_HOUSE_BETWEEN_H
#define TUNDISH_HOUSE_BETWEEN_H

#include "tundish/house/verdict.h"

/** What became of a point. ORDER TURN: turn_names in house/between.c; in the order in which people want to read them. */
enum turn {
	TURN_WORSE,
	TURN_NEW,       /* not in the earlier state */
	TURN_BETTER,
	TURN_GONE,      /* not in the later state */
	TURN_CHANGED,   /* answers differ, figures do not */
	TURN_AS_BEFORE, /* nothing of its own differs, nor a figure */
	TURN_COUNT,
};

/** How one point stood. */
struct stand {
	enum verdict verdict;
	enum urgency urgency;
	struct range category, on_paper, in_fact;
};

struct between_point {
	const struct item *before, *after; /* NULL: not there; never both */
	struct stand then, now;            /* all zero where it is not there */
	enum turn turn;
	size_t first_change;               /* index of its first change, `change_count` of the whole: none */
};

/** One difference, as survey_compare gives it, and whose it is. */
struct between_change {
	struct change change;
	bool presence;      /* of an item's presence; else an answer, or what is known of an inlet */
	size_t point;       /* index; `point_count`: of no point, but of the premises, a part, a branch or a room */
	size_t next_change; /* of the same point; `change_count`: none */
};

struct between {
	const struct survey *before, *after;
	struct between_point *point; /* in the order of the later state; those that are gone come last */
	size_t point_count;
	struct between_change *change;
	size_t change_count;
	size_t first_elsewhere;      /* the first change that is of no point */
	size_t turn[TURN_COUNT];     /* how many points */
};

/**
 * Compare two states. Both by the same book; both must outlive @p out, which lives in @p arena.
 *
 * A point that stands in another room keeps its answers: only the move and what else differs are its changes.
 * Points about which there is too much doubt to enumerate stand as judge_point gives them: 1 to 5, undecided.
 * @return false with @p err (ERR_MEMORY).
 */
bool between_compare(const struct survey *before, const struct survey *after, struct arena *arena, struct between *out,
                     struct err *err);

/**
 * Which way a point went: by its verdict (short is worst, then undecided, not seen, unproven, protected); of the same
 * verdict by its urgency; then by what it can be short in fact, then on paper, at most and then at least.
 * @return TURN_WORSE, TURN_BETTER, or TURN_AS_BEFORE where all of these are the same.
 */
enum turn stand_turn(const struct stand *then, const struct stand *now);

/** Whether a change is of an item's presence, by its path; else it is of an answer, or of what is known of an inlet. */
bool change_of_presence(const struct change *change);

const char *turn_name(enum turn turn); /* "as_before" */

#endif
