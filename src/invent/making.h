/**
 * @file
 * Private to src/invent: a house while it is made. `may` is what answers may still be, one entry a question of the book. First it is planned (plan.c, aim.c), then put up with an answer to everything
 * (answers.c, draw.c, pipes.c), then something is taken out of it again (fog.c).
 */
#ifndef TUNDISH_INVENT_MAKING_H
#define TUNDISH_INVENT_MAKING_H

#include "tundish/assess/weights.h"
#include "tundish/base/random.h"
#include "tundish/invent/invent.h"

enum { PARTS_MOST = 16 };

struct part_plan {
	uint8_t use;
	cells *may; /* its own questions */
	size_t rooms;
	struct item *item;
	struct item *cold; /* its branch from the main */
};

struct room_plan {
	const struct room_sort *sort;
	size_t part;
	size_t points;
	struct item *item;
};

/** A type that is to be fitted on a point. */
struct wanted {
	uint16_t type,
	        before; /* @p before: of a series, the one that stands just before; else INDEX_NONE */
	unsigned inlet;
};

struct point_plan {
	uint16_t kind;
	size_t part;
	const struct room_sort *sort;
	size_t room;
	cells *may; /* NULL: anything */
	bool is_wanted;
	struct wanted wanted;
	struct item *item;
	struct item *made,
	        *stored; /* branches that start here, of what is made and of what is only kept; NULL: none yet */
};

enum { CHAIN_MOST = FITTING_TYPES_MOST + 2 };

/** What stands on one pipe, in flow order; one of them perhaps with answers for a reason. */
struct chain {
	uint16_t type[CHAIN_MOST];
	size_t count;
	size_t aimed;            /* index; SIZE_MAX: none */
	cells *may;              /* of that one */
	const struct item *like; /* the inlet beside it that is as this one; NULL: none */
};

/** Answers that are there for a reason: no fog comes over them. */
struct pin {
	const struct item *item;
	cells *may;
};

struct making {
	const struct rulebook *book;
	const struct weights *weights;
	const struct invention *wish;
	struct invented *said;
	struct survey *survey;
	struct arena *arena;  /* the survey's */
	struct arena scratch; /* plans */
	struct err *err;
	struct random house, truth, trick,
	        fog;  /* one row of numbers a use, so that a level changes nothing else */
	bool *tested; /* one a question: some row looks at it */
	day built;
	cells *may; /* questions of the premises */
	struct part_plan part[PARTS_MOST];
	size_t part_count;
	struct room_plan *room;
	size_t room_count, room_room;
	struct point_plan *point;
	size_t point_count, point_room;
	struct pin *pin;
	size_t pin_count, pin_room;
	unsigned letter[26]; /* the last number of the refs K1, K2 ... */
};

bool making_no_memory(struct making *making); /* always false, with the error */

/* -- plan.c: parts, rooms, and which kinds stand where -- */

bool plan_parts(struct making *making, const struct site *site);
bool plan_rooms(struct making *making);
bool plan_points(struct making *making);
struct point_plan *plan_point(struct making *making, uint16_t kind, size_t part,
                              const struct room_sort *sort);
/** How often a sort of room is in a part, and how often it holds a kind. */
unsigned room_weight(const struct room_sort *sort, unsigned use);
unsigned hold_weight(const struct room_sort *sort, uint16_t kind);
/** A sort of room for a kind in a part; NULL: none holds it there. */
const struct room_sort *room_for(struct making *making, uint16_t kind, unsigned use);
/** Some sort of room that a part has, where none holds the kind. */
const struct room_sort *any_room(struct making *making, unsigned use);

/* -- aim.c: what was asked for -- */

struct aim {
	const char *id;
	uint16_t kind, type;         /* INDEX_NONE: not known by it */
	const struct row *row;       /* NULL: none in particular */
	const struct series *series; /* the row is of one */
	bool urgency;                /* a row of the urgency table */
};

bool aims_find(struct making *making, struct aim **out);
/** Which of the sites leave most of it possible; @p weight: out, one a site. */
void aims_weigh_sites(struct making *making, const struct aim *aim, unsigned *weight);
bool aims_place(struct making *making, const struct aim *aim);

/* -- solve.c: answers that make a condition hold -- */

struct solving {
	struct making *making;
	struct random *random;
	uint16_t kind, type; /* whose questions can be answered; INDEX_NONE: of none */
	cells *may;
	unsigned steps; /* taken so far */
};

enum { GOALS_MOST = 96 };

/** What a condition is to be. */
struct goal {
	const struct condition *condition; /* NULL: holds always */
	bool want;
	const struct goal *next;
};

/** All that can be said. NULL when there is no memory. */
cells *allowed_all(struct making *making);
/**
 * Narrow what may be answered until every condition is what is wanted, whatever is then answered. By chance, where there
 * are several ways. @return false where none was found in a bounded number of steps: `may` is as before.
 */
bool solve(struct solving *solving, struct goal *goal, size_t count);
/**
 * That a row of a kind counts: none of the same fluid replaces it; @p alone: and none gives more.
 * @return how many goals, at most GOALS_MOST.
 */
size_t goals_of_kind_row(const struct kind *kind, const struct row *row, bool alone,
                         struct goal *goal);

/* -- known.c: what is known of an item so far -- */

enum known { KNOWN_NO, KNOWN_YES, KNOWN_NOT };

/** Whether a condition holds by what was answered for the item and what it stands in; KNOWN_NOT: can't be said. */
enum known condition_known(const struct making *making, const struct item *item,
                           const struct condition *condition);
/** What is said of a question of an item under `invent:`; NULL: nothing. */
const struct answer_weights *answer_weights(const struct making *making, const struct item *item,
                                            question_index question);
/** The same of what stands on its pipe (@p inlet: of a kind; else 0), and of what feeds it. */
const struct fittings *fittings_of(const struct making *making, const struct item *item,
                                   unsigned inlet);
const struct often *feeding_of(const struct making *making, const struct item *item);

/** Whether a kind feeds inlets of that id and the main never does; whether any kind does; whether a kind feeds any so. */
bool kind_makes(const struct making *making, uint16_t kind, const char *inlet);
bool is_made(const struct making *making, const char *inlet);
bool makes_any(const struct making *making, uint16_t kind);

/** Whether any fluid could still come through an inlet, by what was answered for the point. */
bool anything_may_come(const struct making *making, const struct item *point, unsigned inlet);

/** Whether a question is how much of something was seen. */
bool seen_question(const struct rulebook *book, question_index question);
/** Whether only some kinds or types ask it, not every item of its scope. */
bool is_own_question(const struct rulebook *book, question_index question);

/* -- draw.c: one answer -- */

/** A cell, number or day as text; in the scratch arena. NULL: nothing can be said, or no memory. */
const char *draw_answer(struct making *making, const struct item *item, question_index question,
                        cells may, day since);
/** Make a measured test what it may be, by its numbers. */
bool draw_measured(struct making *making, struct item *item, const struct question *measured,
                   cells may);

/* -- answers.c: items and their answers -- */

bool put_text(struct making *making, struct item *item, question_index question, const char *text);
/** Only where the book asks it so. */
bool put_words(struct making *making, struct item *item, question_index question, enum form form,
               const char *text);
/** Answer what is asked of an item; @p may NULL: anything. */
bool answer_all(struct making *making, struct item *item, const cells *may);
/** A ref that is free: the stem, or with the first number from 2 on. */
const char *free_ref(struct making *making, const char *stem);
/** K1, K2 ... */
const char *numbered_ref(struct making *making, char letter);
struct item *add_last(struct making *making, struct item *parent, enum scope scope,
                      const char *ref);
bool pin(struct making *making, const struct item *item, cells *may);
bool put_up_parts(struct making *making); /* premises and parts */
bool put_up(struct making *making);       /* rooms and points */

/* -- pipes.c: what feeds what, and what stands in the way -- */

bool lay_pipes(struct making *making);

/* -- trick.c: what misleads, at the highest level -- */

/** Perhaps change what stands on an inlet of a point, whose own answers are there. */
bool trick_chain(struct making *making, const struct point_plan *point, unsigned inlet,
                 struct chain *chain);
/** Perhaps leave open which of two pipes feeds what. */
bool trick_feeds(struct making *making);

/* -- fog.c: what is not known, by level -- */

bool lay_fog(struct making *making);

#endif
