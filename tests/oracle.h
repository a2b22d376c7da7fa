/**
 * @file
 * For tests only: a second judge of one point, written from docs/assessment.md alone and as plainly as that page.
 *
 * It goes through every completion, one by one. It shares nothing with src/house and no diagram with src/assess:
 * conditions are walked as they stand in the rulebook.
 */
#ifndef TUNDISH_TESTS_ORACLE_H
#define TUNDISH_TESTS_ORACLE_H

#include "tundish/house/verdict.h"

enum {
	ORACLE_PATHS_MOST = 256,
	ORACLE_ASK_MOST = 128,
};

struct oracle_fluid {
	unsigned fluid; /* index in the kind, or FLUID_UNDERTAKER */
	struct range category;
	uint8_t by, inlets;
};

struct oracle_path {
	unsigned fluid, inlet;
	enum mechanism mechanism;
	const char *to;
	bool to_part;
	struct range needs, good_for, accepted, found, on_paper, in_fact;
};

/** A question that can still move a figure and was neither answered nor settled; see struct ask. */
struct oracle_ask {
	const struct item *item;
	question_index question;
	unsigned inlet; /* where `item` is the point: of this one, not in the survey yet */
};

struct oracle_verdict {
	bool too_many; /* more completions than allowed: nothing else is set */
	size_t completions;
	struct range category, on_paper, in_fact;
	enum verdict verdict;
	enum urgency urgency;
	struct oracle_fluid fluid[FLUIDS_MOST];
	size_t fluid_count;
	struct oracle_path path[ORACLE_PATHS_MOST];
	size_t path_count;
	struct oracle_ask ask[ORACLE_ASK_MOST];
	size_t ask_count;
};

/** Judge a point that has a kind, of a survey without loops. At most @p completions_most completions are looked at. */
void oracle_judge(const struct survey *survey, const struct item *point, size_t completions_most,
                  struct oracle_verdict *out);

#endif
