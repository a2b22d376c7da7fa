/**
 * @file
 * Reduced ordered decision diagrams over questions, with figures as leaves.
 *
 * A question can still move a figure if and only if it is still in the diagram narrowed to the answers; the leaves of
 * the narrowed diagram are the figures still possible. Both are exact by construction, given one set of cells a
 * question. (Bryant 1986, "Graph-based algorithms for Boolean function manipulation", IEEE Trans. Computers C-35(8);
 * many-valued nodes and leaves in place of two.)
 *
 * A store holds nodes over variables 0 .. n-1 with 1 to 64 cells each; equal nodes are one node. A leaf is `width`
 * bytes; equal leaves are one leaf.
 */
#ifndef TUNDISH_ASSESS_DIAGRAM_H
#define TUNDISH_ASSESS_DIAGRAM_H

#include "tundish/assess/question.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** A node or a leaf of one store. Leaves have the top bit set. */
typedef uint32_t diagram;

enum {
	DIAGRAM_NODES_MOST = 65536,
	VARIABLES_MOST = 64,
};
#define DIAGRAM_NONE UINT32_MAX

struct diagram_store;

/** @return NULL when there is no memory. @p cell_count has one entry a variable. */
struct diagram_store *diagram_store_create(size_t width, const unsigned *cell_count, size_t variable_count);
void diagram_store_destroy(struct diagram_store *store);

/** Nothing will be built any more: give back what only building needs. Narrowing goes on working. */
void diagram_store_settled(struct diagram_store *store);

/** How many nodes have been made in all; from DIAGRAM_NODES_MOST on a call that needs another gives DIAGRAM_NONE. */
size_t diagram_store_nodes(const struct diagram_store *store);

/** The diagram of one leaf. DIAGRAM_NONE when there is no memory; so all below, and they pass DIAGRAM_NONE on. */
diagram diagram_leaf(struct diagram_store *store, const unsigned char *leaf);
const unsigned char *diagram_leaf_bytes(const struct diagram_store *store, diagram leaf);
bool diagram_is_leaf(diagram d);

/** Truths are diagrams of two leaves that the store keeps apart from figures. */
diagram diagram_truth(bool truth);
diagram diagram_test(struct diagram_store *store, unsigned variable, cells holds);
diagram diagram_not(struct diagram_store *store, diagram a);
diagram diagram_and(struct diagram_store *store, diagram a, diagram b);
diagram diagram_or(struct diagram_store *store, diagram a, diagram b);

/** @p yes where the truth @p if_true holds, @p no elsewhere. */
diagram diagram_choose(struct diagram_store *store, diagram if_true, diagram yes, diagram no);

/** Byte by byte the greater (or, least) of two figures, everywhere. */
diagram diagram_most(struct diagram_store *store, diagram a, diagram b);
diagram diagram_least(struct diagram_store *store, diagram a, diagram b);

/** What narrowing found: leaves still possible, and variables that can still move the outcome. */
struct narrowed {
	diagram *leaf;       /* in memory of the caller's */
	size_t leaf_count, leaf_room; /* in: how many fit in `leaf` */
	uint64_t live;       /* bit v: variable v */
	bool overflow;       /* more leaves than fit: `leaf` holds some of them */
};

/**
 * Narrow @p root to the cells @p may (one entry a variable, none empty).
 *
 * @return false when there is no memory. A diagram whose variables all have one cell is a walk down, with no memory.
 */
bool diagram_narrow(struct diagram_store *store, diagram root, const cells *may, struct narrowed *out);

/** Whether a truth is yes, or no, everywhere that @p may leaves open; else maybe, also when there is no memory to tell. */
enum holds { HOLDS_NEVER, HOLDS_MAYBE, HOLDS_ALWAYS };
enum holds diagram_holds(struct diagram_store *store, diagram truth, const cells *may);

#endif
