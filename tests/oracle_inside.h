/* Private to the oracle: what its pieces share. */
#ifndef TUNDISH_TESTS_ORACLE_INSIDE_H
#define TUNDISH_TESTS_ORACLE_INSIDE_H

#include "oracle.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum {
	UNKNOWNS_MOST = 128,
	PIPES_MOST = 64,
	GOALS_MOST = 64,
	WAY_PIPES_MOST = 32,
	ANY_WORTH = (1 << CATEGORY_MOST) - 1, /* cells of what may be worth anything, 1 to 5 */
	PROTECTIONS_MOST = 64,
	ROWS_MOST = 256,
};

/* The four figures of what stands in the way. */
enum figure { GOOD_FOR, ACCEPTED, FOUND, PROVEN, FIGURE_COUNT };

struct worth {
	uint8_t is[FIGURE_COUNT][MECHANISM_COUNT];
};

/* Something that has one value in each completion. */
enum unknown_form {
	UNKNOWN_ANSWER, /* of a question: its cells */
	UNKNOWN_WORTH, /* of an inlet of which nothing is known, or a protection without a type: 1 to 5 */
	UNKNOWN_FEED, /* of an inlet of the point: one of `pipe` */
};

struct unknown {
	enum unknown_form form;
	const struct item *item; /* whose; of another scope where nobody of that scope is there */
	question_index question;
	unsigned inlet; /* of an inlet that the survey does not have: `item` is its point */
	cells may;
	unsigned now;                        /* the cell that it has in this completion */
	bool unanswered;                     /* neither answered nor settled */
	bool settled;                        /* looked at, and without a single value */
	const struct item *pipe[PIPES_MOST]; /* UNKNOWN_FEED; NULL: main */
	size_t pipe_count;
	uint8_t on_way; /* UNKNOWN_WORTH: of which inlets of the point */
};

/* An inlet of a kind, whether or not the survey has it. */
struct inlet {
	const struct item *point, *item;
	unsigned index;
};

/* A protection that stands on ways from these inlets of the point. */
struct standing_there {
	const struct item *item;
	uint8_t on_way;
};

struct oracle {
	const struct survey *survey;
	const struct rulebook *book;
	const struct item *point;
	const struct kind *kind;
	struct unknown unknown[UNKNOWNS_MOST];
	size_t unknown_count;
	struct standing_there protection[PROTECTIONS_MOST];
	size_t protection_count;
	uint8_t cannot_tell_on_way; /* of these inlets of the point */
	uint8_t inlets_that_count;  /* something could come by them */
	bool open, due;             /* something takes effect that says so */
	enum urgency at_least;
	struct oracle_verdict *out;
};

static inline uint8_t greater(uint8_t a, uint8_t b)
{
	return a > b ? a : b;
}

static inline uint8_t lesser(uint8_t a, uint8_t b)
{
	return a < b ? a : b;
}

static inline uint8_t short_by(uint8_t needs, uint8_t worth)
{
	return needs > worth ? (uint8_t)(needs - worth) : 0;
}

static inline struct worth same_worth(uint8_t category)
{
	struct worth worth;

	memset(&worth, category, sizeof worth);
	return worth;
}

static inline void widen(struct range *range, uint8_t value, bool first)
{
	range->least = first ? value : lesser(range->least, value);
	range->most = first ? value : greater(range->most, value);
}

static inline const struct kind *kind_of(const struct oracle *o, const struct item *point)
{
	assert(point->of != INDEX_NONE);
	return &o->book->kind[point->of];
}

static inline struct inlet inlet_of(const struct oracle *o, const struct item *point,
                                    unsigned index)
{
	const char *id = kind_of(o, point)->inlet[index].id;
	struct inlet inlet = {point, NULL, index};

	for (size_t i = 0; i < point->child_count; i++)
		if (point->child[i]->scope == SCOPE_INLET && strcmp(point->child[i]->ref, id) == 0)
			inlet.item = point->child[i];
	return inlet;
}

static inline bool is_waste(const struct oracle *o, struct inlet inlet)
{
	return kind_of(o, inlet.point)->inlet[inlet.index].waste;
}

/* -- oracle_answers.c: what an answer can stand for, conditions, completions ------------------------------ */

/* The cells of a number or a date that low..high touches. */
cells oracle_cells_between(const struct question *question, double low, double high);
struct unknown *oracle_find(struct oracle *o, enum unknown_form form, const struct item *item,
                            question_index question, unsigned inlet);
/* One that must be there. */
struct unknown *oracle_get(struct oracle *o, enum unknown_form form, const struct item *item,
                           question_index question, unsigned inlet);
struct unknown *oracle_add(struct oracle *o, enum unknown_form form, const struct item *item,
                           question_index question, unsigned inlet);
/* Whose question is meant, looked at from a point or from a protection. Where nobody of that scope is there, of whom it
 * is not known: for a part the room or branch, else @p from itself. */
const struct item *oracle_whose(const struct oracle *o, const struct item *from, enum scope scope);
/* Every question that a condition tests becomes an unknown. */
void oracle_add_answers(struct oracle *o, const struct condition *condition,
                        const struct item *from);
/* Whether it holds in this completion. NULL always does. */
bool oracle_holds(struct oracle *o, const struct condition *condition, const struct item *from);

unsigned oracle_first_cell(cells may);
size_t oracle_cells_in(cells may);
/* The first completion of the unknowns that are among @p which (NULL: all). */
void oracle_start(struct oracle *o, const bool *which);
/* The next completion of the unknowns that are among @p which (NULL: all). @return false after the last. */
bool oracle_next(struct oracle *o, const bool *which);
/* How many completions, or @p most + 1 where there are more. */
size_t oracle_completions(const struct oracle *o, const bool *which, size_t most);

/* -- oracle_worth.c: what stands in the way, and what could come -------------------------------------------- */

struct worth oracle_own_worth(struct oracle *o, const struct item *protection);
/* The series row that a protection has with the one straight before it, or NULL. */
const struct series *oracle_paired(const struct oracle *o, const struct item *protection);
/* Past all that stands on an inlet or a branch, in flow order. */
void oracle_pass_list(struct oracle *o, struct worth *way, const struct item *list);
bool oracle_inlet_unknown(struct inlet inlet);
bool oracle_inlet_cannot_tell(struct inlet inlet);
struct unknown *oracle_inlet_worth(struct oracle *o, struct inlet inlet);
void oracle_pass_inlet(struct oracle *o, struct worth *way, struct inlet inlet);

/* What could come back in one completion: a category for each fluid, inlet and mechanism. */
struct needs {
	uint8_t of[FLUIDS_MOST][INLETS_MOST][MECHANISM_COUNT];
};

/* The undertaker's decision: a category with a reference and a date. Or NULL. */
const struct answer *oracle_decided(const struct oracle *o);
size_t oracle_fluids(const struct oracle *o);
/* Which rows of the kind count in this completion. */
void oracle_rows_that_count(struct oracle *o, bool *counts);
struct needs oracle_needs(struct oracle *o);

/* -- oracle_ways.c: where it could go ------------------------------------------------------------------------- */

/* Somewhere that an inlet's fluid could get to in one completion: the least worth of all ways there. */
struct goal {
	unsigned inlet;
	const char *to;
	bool to_part;
	struct worth worth;
	struct worth told; /* of the ways past no inlet that can't be told */
	bool some_told;
};

struct goals {
	struct goal goal[GOALS_MOST];
	size_t count;
};

/* The branch that feeds an inlet, in this completion; NULL: `main`, or not one pipe. */
const struct item *oracle_feeding_branch(const struct oracle *o, const struct item *inlet);
/* What could feed an inlet of the point; NULL: it stands on a way, but is another's. */
struct unknown *oracle_feed_of(struct oracle *o, const struct item *inlet);
/* All unknowns of all ways of all inlets of the point. */
void oracle_add_ways(struct oracle *o);
void oracle_goals(struct oracle *o, struct goals *out);

/* -- oracle_doubt.c: what can still move a figure ---------------------------------------------------------------- */

/* What one completion comes to. */
struct outcome {
	struct needs needs;
	uint8_t category, on_paper, in_fact;
	bool something_short; /* leaving out what is short on paper on a way that can't be told */
	uint8_t unproven;     /* needs less proven */
	uint8_t needs_to_show; /* the highest of the paths short in fact, else on paper, else of all */
};

/* What came of one completion, and by which feeds: the cells of the inlets' feeds in order. */
enum { CAME_ON_PAPER, CAME_IN_FACT, CAME_UNPROVEN, CAME_NEEDS, CAME_SHORT, CAME_COUNT };

struct came {
	uint8_t feed[INLETS_MOST];
	uint8_t outcome[CAME_COUNT];
};

struct all_that_came {
	struct came *item;
	size_t count;
};

struct doubt {
	bool unanswered_moves, settled_moves_fluid, cannot_tell;
};

void oracle_note_outcome(struct oracle *o, struct all_that_came *all,
                         const struct outcome *outcome);
/* Fills the list of what to ask, and what takes effect. @return false: more than @p most completions of one subject. */
bool oracle_find_doubt(struct oracle *o, size_t most, const struct all_that_came *all,
                       struct doubt *doubt);

#endif
