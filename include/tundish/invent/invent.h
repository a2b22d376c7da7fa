/**
 * @file
 * A house that could be, from a seed: parts, rooms, outlets and what stands on them, by the weights of the rulebook
 * (assess/weights.h). For drills, tests and load. Nobody lives there, and nothing is measured by it.
 *
 * Pure: the same seed, wish and rulebook (with its day) give the same survey on every machine. A house of one seed is the same at
 * every level but for what is missing (2 and 3) and what misleads (4).
 */
#ifndef TUNDISH_INVENT_INVENT_H
#define TUNDISH_INVENT_INVENT_H

#include "tundish/assess/survey.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
	LEVEL_LEAST = 1, /* everything answered */
	LEVEL_MISSING,   /* a few answers missing, dates as years */
	LEVEL_DOUBT, /* more missing, what cannot be told, what was not seen, what is fitted not said */
	LEVEL_MOST, /* and what misleads: right on paper and not in fact and the reverse, the wrong mechanism, shut valves */
	INVENT_ROOMS_MOST = 200,
	INVENT_POINTS_MOST = 2000,
};

/** What is wished for. All zero but the level: anything. */
struct invention {
	uint64_t seed;
	unsigned level; /* LEVEL_LEAST to LEVEL_MOST */
	unsigned rooms,
	        points; /* about how many; 0: by chance. More where what is wished for takes more */
	const char *site; /* id of a site; NULL: by its weight */
	const char *const
	        *with; /* ids (earlier ones too) of kinds, types and rows that are to be met */
	size_t with_count;
};

/** What came of it. */
struct invented {
	const char *site; /* id; borrowed from the book */
	const char **
	        left_out; /* of `with`: what could not be had together with the rest; in the survey's arena */
	size_t left_out_count;
};

/**
 * Invent a house.
 *
 * What is wished for in `with` is aimed at: a kind is put in, a type fitted, and answers are drawn so that a row holds; what
 * was asked for first goes before what was asked for later. Whether a row also decides is for the assessment to say. A row of
 * the urgency table can't be aimed at.
 *
 * @p out   holds nothing before (survey_init is done here); finished by the caller whatever comes back.
 * @return  false with @p err: ERR_USAGE (a wish out of range, an id that names nothing, or a book without sites or rooms to
 *          invent with) or ERR_MEMORY.
 */
bool invent_survey(const struct rulebook *book, const struct invention *wish, struct survey *out,
                   struct invented *said, struct err *err);

#endif
