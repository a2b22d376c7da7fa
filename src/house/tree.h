/* Private to src/house: what feeds what, and who drinks from where. */
#ifndef TUNDISH_HOUSE_TREE_H
#define TUNDISH_HOUSE_TREE_H

#include "tundish/assess/survey.h"
#include "tundish/base/arena.h"
#include "tundish/base/err.h"

#include <stdbool.h>
#include <stddef.h>

enum {
	PIPE_MAIN = 0, /* index of the supply pipe that the undertaker's main feeds */
	FEEDS_MOST = 64,
};

/* A draw-off, and its place in the file, counted from 1. */
struct draw_off {
	const struct item *point;
	size_t order;
};

/* The first two draw-offs in the file of one part that a pipe feeds, near or far: two, so that a point can leave itself out. */
struct draw_offs {
	struct draw_off first, second;
};

/* A pipe; or the inside of a point that branches come from, which is fed by all that its inlets name. */
struct pipe {
	const struct item *item; /* NULL: PIPE_MAIN; a branch; or the point */
	size_t *up;              /* what feeds it: of a branch one, of a point one or more, of PIPE_MAIN none */
	size_t up_count;
	size_t like;             /* a pipe whose water passes the same protection on its way to this one; of all like it the same */
	size_t up_done;          /* while the order is worked out: how many of `up` have their place */
	bool on_the_way, placed; /* the same: a loop comes back here; has its place */
	bool comes;              /* while tree_feeds looks for it: comes from the point in question */
};

struct numbered; /* an item and its index */

struct tree {
	struct arena arena;
	const struct survey *survey;
	struct pipe *pipe; /* PIPE_MAIN, the branches in the order of the file, then the points */
	size_t branch_end; /* the first that is a point */
	size_t pipe_count;
	size_t *order;     /* all pipes, each after what feeds it */
	struct numbered *numbered; /* branches and points that are pipes, and parts; open addressing by the item's address */
	size_t numbered_size;
	const struct item **part; /* [0] is NULL: what belongs to none */
	size_t part_count;
	struct draw_offs *draw_off; /* pipe_count x part_count */
};

/* @return false with @p err: no memory, or too many pipes for too many parts. */
bool tree_build(struct tree *tree, const struct survey *survey, struct err *err);
void tree_finish(struct tree *tree);

/* Pipes that an inlet may be fed from; none of them is the inside of a point. */
struct feeds {
	size_t pipe[FEEDS_MOST];
	size_t count;
	bool more;     /* more than FEEDS_MOST */
	bool answered;
	bool named;    /* the answer names pipes */
};

/* Those that the inlet names: none, where nothing was answered or it can't be told. */
void tree_named_feeds(const struct tree *tree, const struct item *inlet, struct feeds *out);

/* Those; where it names none, every pipe that could feed it. The inlet may be NULL: not in the survey yet. */
void tree_feeds(const struct tree *tree, const struct item *point, const struct item *inlet, struct feeds *out);

/* The survey's inlet of a point that is its kind's at @p index; NULL where there is none, or it is on the waste side. */
const struct item *tree_supply_inlet(const struct tree *tree, const struct item *point, unsigned index);

/* The pipe that is the inside of a point; PIPE_MAIN where no branch comes from it. */
size_t tree_inside(const struct tree *tree, const struct item *point);

/* The first draw-off in the file of that part on the pipe or downstream of it, other than @p self; `point` NULL: none. */
struct draw_off tree_draw_off(const struct tree *tree, size_t pipe, size_t part, const struct item *self);

size_t tree_part(const struct tree *tree, const struct item *item);

#endif
