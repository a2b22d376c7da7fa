/* Private to src/house: what feeds what, and who drinks from where. Linear in the survey, to make and to keep. */
#ifndef TUNDISH_HOUSE_TREE_H
#define TUNDISH_HOUSE_TREE_H

#include "tundish/assess/survey.h"
#include "tundish/base/arena.h"

#include <stdbool.h>
#include <stddef.h>

enum { PIPE_MAIN = 0 }; /* index of the supply pipe that the undertaker's main feeds */

/* A draw-off, and its place in the file, counted from 1. */
struct draw_off {
	const struct item *point;
	size_t order;
};

/* The first two draw-offs in the file of one part that a pipe feeds, near or far: two, so that a point can leave itself out. */
struct draw_offs {
	struct draw_off first, second;
};

struct pipe {
	const struct item *branch; /* NULL: PIPE_MAIN */
	size_t from;               /* the pipe that feeds it, where from_point is NULL */
	const struct item *from_point;
	unsigned depth;            /* longest way to the main */
	bool on_the_way;           /* while depths are worked out: a loop comes back here */
	size_t like;               /* first pipe whose water passes the same protection on its way here */
};

struct tree {
	struct arena arena;
	const struct survey *survey;
	struct pipe *pipe;
	size_t pipe_count;
	size_t *by_branch; /* open addressing by the branch's address: index of its pipe, PIPE_MAIN where free */
	size_t by_branch_size;
	const struct item **part; /* [0] is NULL: what belongs to none */
	size_t part_count;
	struct draw_offs *draw_off; /* pipe_count x part_count */
};

bool tree_build(struct tree *tree, const struct survey *survey);
void tree_finish(struct tree *tree);

/* Pipes that an inlet may be fed from. */
struct feeds {
	size_t pipe[16];
	size_t count;  /* at least 1 */
	bool answered;
	bool named;    /* the answer names pipes; else every pipe that differs is listed */
	bool settled;  /* "cannot tell", or one of several */
};

/* The inlet may be NULL: not in the survey yet. Past 16 pipes the rest counts as the supply pipe, the worst there is. */
void tree_feeds(const struct tree *tree, const struct item *point, const struct item *inlet, struct feeds *out);

/* The first draw-off in the file of that part on the pipe or downstream of it, other than @p self; `point` NULL: none. */
struct draw_off tree_draw_off(const struct tree *tree, size_t pipe, size_t part, const struct item *self);

size_t tree_part(const struct tree *tree, const struct item *item);

#endif
