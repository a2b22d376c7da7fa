/**
 * @file
 * How often things are met, as a rulebook says it under `invent:`. For invented houses alone: no statistics are behind
 * it, and no verdict reads it. The language: docs/rulebook.md.
 *
 * A weight is a whole number from 0 (never) to WEIGHT_MOST; what is met how often is its share of the sum.
 */
#ifndef TUNDISH_ASSESS_WEIGHTS_H
#define TUNDISH_ASSESS_WEIGHTS_H

#include "tundish/assess/rulebook.h"

enum {
	WEIGHT_MOST = 1000,
	FITTING_TYPES_MOST = 4,
};

/** A thing, by its index where it is kept, and how often. */
struct weighed {
	uint16_t index;
	unsigned weight;
};

/** Which parts stand together on one premises. */
struct site {
	const char *id, *name;
	unsigned weight;
	uint8_t *use; /* of each part: an option of the question `part.use` */
	size_t use_count;
};

/** A sort of room. */
struct room_sort {
	const char *id, *name;
	struct weighed *in; /* options of `part.use` */
	size_t in_count;
	cells always;          /* of `part.use`: a part of that use has one at least */
	unsigned most;         /* of them in a part */
	struct weighed *holds; /* kinds */
	size_t hold_count;
	uint16_t *has; /* kinds of which there is one at least */
	size_t has_count;
	struct span span;
	const struct source *text;
};

/** A number between the two, both included; of a date, years of age on the day of the book. */
struct stretch {
	double low, high;
	unsigned weight;
};

/** How often a question has which answer. All of them never: it is not answered. */
struct answer_weights {
	question_index question;
	struct weighed *option; /* cells of a choice or a yes/no */
	size_t option_count;
	struct stretch *stretch; /* of a number or a date */
	size_t stretch_count;
};

/** What stands on one pipe, in flow order; no type: nothing. */
struct fitting {
	uint16_t type[FITTING_TYPES_MOST];
	size_t type_count;
	unsigned weight;
};

struct fittings {
	uint8_t inlets; /* of a kind: 1 << index of its inlets; of another scope: 1 */
	struct fitting *item;
	size_t count;
};

enum { FED_BY_MAIN = INDEX_NONE };

/**
 * What is met on one kind, one type, or everything of a scope. Of several that say it, what is said of a kind or a type
 * goes before what is said of its scope, and of those the last whose `when` holds counts.
 */
struct often {
	enum scope scope;
	uint16_t of; /* the kind or type; INDEX_NONE: all of the scope */
	struct condition
	        *when; /* NULL: always. Its thresholds cut no cells: compare with `bound` */

	/* of branches: only those that start at one of these, kinds that store or FED_BY_MAIN; none: all */
	uint16_t *from;
	size_t from_count;

	/* of a type, or of all protections or tests: only where they stand on one of these kinds; none: all */
	uint16_t *on;
	size_t on_count;

	/* of a kind: it stands only where `only` holds of premises and part; where `always` does one stands in the
	   premises; in a part so many at most. NULL, 0: not said */
	struct condition *only, *always;
	unsigned most;

	struct answer_weights *answer;
	size_t answer_count;
	struct fittings *fittings;
	size_t fittings_count;
	const char *
	        *makes; /* of a kind that stores: ids of inlets that it feeds, and the main never */
	size_t make_count;
	struct weighed *fed_by; /* of a kind, or of all points: kinds that store, or FED_BY_MAIN */
	size_t fed_by_count;
	struct span span;
	const struct source *text;
};

struct weights {
	struct site *site;
	size_t site_count;
	struct room_sort *room;
	size_t room_count;
	struct often *often;
	size_t often_count;
};

#endif
