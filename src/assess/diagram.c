#include "tundish/assess/diagram.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#define LEAF      UINT32_C(0x80000000)
#define TRUTH_NO  (LEAF | 0)
#define TRUTH_YES (LEAF | 1)
enum { FIRST_FIGURE = 2, MEMO_SIZE = 1 << 12 };

struct node {
	uint32_t child; /* where its children start in the pool: one a cell of its variable */
	uint8_t variable;
};

/** Nodes that are made once: equal variable and children give the same index. */
struct node_table {
	struct node *node;
	size_t node_count, node_room;
	diagram *pool;
	size_t pool_count, pool_room;
	uint32_t *slot; /* open addressing: index of its node, where the stamp is `now` */
	uint32_t *stamp;
	size_t slot_count; /* a power of two */
	uint32_t now;      /* a slot of another stamp is free: emptying costs nothing */
};

enum operation { OPERATION_AND, OPERATION_OR, OPERATION_MOST, OPERATION_LEAST, OPERATION_CHOOSE };

/** A finished step, so that a shared node is worked on once. Newer steps overwrite older ones. */
struct memo {
	diagram a, b, c, result;
	uint8_t operation;
	bool used;
};

struct diagram_store {
	size_t width, variable_count;
	unsigned cell_count[VARIABLES_MOST];
	struct node_table kept;
	struct node_table scratch; /* of one narrowing */
	diagram *narrow_memo;
	uint32_t *narrow_stamp;
	size_t narrow_room;
	uint32_t narrow_now;
	unsigned char *leaf;
	size_t leaf_count, leaf_room;
	uint32_t *leaf_seen; /* stamp of the narrowing that met it */
	struct memo *memo;
};

/* -- tables ----------------------------------------------------------------------------- */

static bool grow(void *array_pointer, size_t *room, size_t need, size_t element)
{
	void **array = array_pointer;
	size_t wanted = *room ? *room : 64;
	void *moved;

	if (need <= *room)
		return true;
	while (wanted < need)
		wanted *= 2;
	moved = realloc(*array, wanted * element);
	if (!moved)
		return false;
	*array = moved;
	*room = wanted;
	return true;
}

static void table_finish(struct node_table *table)
{
	free(table->node);
	free(table->pool);
	free(table->slot);
	free(table->stamp);
}

static void table_empty(struct node_table *table)
{
	table->node_count = 0;
	table->pool_count = 0;
	table->now++;
	if (table->now == 0) {
		memset(table->stamp, 0, table->slot_count * sizeof *table->stamp);
		table->now = 1;
	}
}

static uint32_t node_hash(unsigned variable, const diagram *child, unsigned cells_of_it)
{
	uint32_t h = variable * UINT32_C(0x9E3779B1) + 1;

	for (unsigned i = 0; i < cells_of_it; i++)
		h = (h ^ child[i]) * UINT32_C(0x01000193) + (h >> 15);
	return h ^ (h >> 13);
}

static bool table_rehash(struct diagram_store *store, struct node_table *table)
{
	size_t slots = table->slot_count ? table->slot_count * 2 : 256;
	uint32_t *slot = calloc(slots, sizeof *slot);
	uint32_t *stamp = calloc(slots, sizeof *stamp);

	if (!slot || !stamp) {
		free(slot);
		free(stamp);
		return false;
	}
	if (table->now == 0)
		table->now = 1;
	for (size_t i = 0; i < table->node_count; i++) {
		const struct node *node = &table->node[i];
		uint32_t h = node_hash(node->variable, &table->pool[node->child],
		                       store->cell_count[node->variable]);

		while (stamp[h & (slots - 1)] == table->now)
			h++;
		slot[h & (slots - 1)] = (uint32_t)i;
		stamp[h & (slots - 1)] = table->now;
	}
	free(table->slot);
	free(table->stamp);
	table->slot = slot;
	table->stamp = stamp;
	table->slot_count = slots;
	return true;
}

static diagram table_node(struct diagram_store *store, struct node_table *table, unsigned variable,
                          const diagram *child)
{
	unsigned cells_of_it = store->cell_count[variable];
	uint32_t h;

	if ((table->node_count + 1) * 2 > table->slot_count && !table_rehash(store, table))
		return DIAGRAM_NONE;
	h = node_hash(variable, child, cells_of_it);
	for (;; h++) {
		size_t at = h & (table->slot_count - 1);
		const struct node *node;

		if (table->stamp[at] != table->now)
			break;
		node = &table->node[table->slot[at]];
		if (node->variable == variable &&
		    memcmp(&table->pool[node->child], child, cells_of_it * sizeof *child) == 0)
			return table->slot[at];
	}
	if (table->node_count >= DIAGRAM_NODES_MOST ||
	    !grow(&table->node, &table->node_room, table->node_count + 1, sizeof *table->node) ||
	    !grow(&table->pool, &table->pool_room, table->pool_count + cells_of_it,
	          sizeof *table->pool))
		return DIAGRAM_NONE;
	memcpy(&table->pool[table->pool_count], child, cells_of_it * sizeof *child);
	table->node[table->node_count].child = (uint32_t)table->pool_count;
	table->node[table->node_count].variable = (uint8_t)variable;
	table->pool_count += cells_of_it;
	table->slot[h & (table->slot_count - 1)] = (uint32_t)table->node_count;
	table->stamp[h & (table->slot_count - 1)] = table->now;
	return (diagram)table->node_count++;
}

/* -- the store -------------------------------------------------------------------------- */

struct diagram_store *diagram_store_create(size_t width, const unsigned *cell_count,
                                           size_t variable_count)
{
	struct diagram_store *store = calloc(1, sizeof *store);

	assert(variable_count <= VARIABLES_MOST);
	if (!store)
		return NULL;
	store->width = width;
	store->variable_count = variable_count;
	for (size_t i = 0; i < variable_count; i++) {
		assert(cell_count[i] >= 1 && cell_count[i] <= CELLS_MOST);
		store->cell_count[i] = cell_count[i];
	}
	store->memo = calloc(MEMO_SIZE, sizeof *store->memo);
	if (!store->memo || !table_rehash(store, &store->kept) ||
	    !table_rehash(store, &store->scratch)) {
		diagram_store_destroy(store);
		return NULL;
	}
	return store;
}

void diagram_store_destroy(struct diagram_store *store)
{
	if (!store)
		return;
	table_finish(&store->kept);
	table_finish(&store->scratch);
	free(store->narrow_memo);
	free(store->narrow_stamp);
	free(store->leaf);
	free(store->leaf_seen);
	free(store->memo);
	free(store);
}

void diagram_store_settled(struct diagram_store *store)
{
	free(store->memo);
	store->memo = NULL;
}

size_t diagram_store_nodes(const struct diagram_store *store)
{
	return store->kept.node_count;
}

bool diagram_is_leaf(diagram d)
{
	return (d & LEAF) != 0;
}

diagram diagram_leaf(struct diagram_store *store, const unsigned char *leaf)
{
	size_t seen_room = store->leaf_room;

	for (size_t i = 0; i < store->leaf_count; i++)
		if (memcmp(&store->leaf[i * store->width], leaf, store->width) == 0)
			return LEAF | (diagram)(i + FIRST_FIGURE);
	if (store->leaf_count >= DIAGRAM_NODES_MOST ||
	    !grow(&store->leaf, &store->leaf_room, store->leaf_count + 1, store->width) ||
	    !grow(&store->leaf_seen, &seen_room, store->leaf_count + 1, sizeof *store->leaf_seen))
		return DIAGRAM_NONE;
	store->leaf_seen[store->leaf_count] = 0;
	memcpy(&store->leaf[store->leaf_count * store->width], leaf, store->width);
	return LEAF | (diagram)(store->leaf_count++ + FIRST_FIGURE);
}

const unsigned char *diagram_leaf_bytes(const struct diagram_store *store, diagram leaf)
{
	assert(diagram_is_leaf(leaf) && leaf != DIAGRAM_NONE && (leaf & ~LEAF) >= FIRST_FIGURE);
	return &store->leaf[((leaf & ~LEAF) - FIRST_FIGURE) * store->width];
}

/**
 * A node with these children, or the child itself where all are the same. A variable has at least
 * one cell: diagram_store_create sees to it.
 */
static diagram make(struct diagram_store *store, unsigned variable, const diagram *child)
{
	bool same = true;
	unsigned i = 0;

	do {
		if (child[i] == DIAGRAM_NONE)
			return DIAGRAM_NONE;
		same = same && child[i] == child[0];
	} while (++i < store->cell_count[variable]);
	return same ? child[0] : table_node(store, &store->kept, variable, child);
}

static unsigned variable_of(const struct diagram_store *store, diagram d)
{
	return diagram_is_leaf(d) ? VARIABLES_MOST : store->kept.node[d].variable;
}

static diagram child_of(const struct diagram_store *store, diagram d, unsigned variable,
                        unsigned cell)
{
	if (variable_of(store, d) != variable)
		return d;
	return store->kept.pool[store->kept.node[d].child + cell];
}

/* -- operations ------------------------------------------------------------------------- */

diagram diagram_truth(bool truth)
{
	return truth ? TRUTH_YES : TRUTH_NO;
}

diagram diagram_test(struct diagram_store *store, unsigned variable, cells holds)
{
	diagram child[CELLS_MOST];

	assert(variable < store->variable_count);
	child[0] = diagram_truth(holds & 1);
	for (unsigned i = 1; i < store->cell_count[variable]; i++)
		child[i] = diagram_truth((holds >> i) & 1);
	return make(store, variable, child);
}

static diagram merge_leaves(struct diagram_store *store, enum operation operation, diagram a,
                            diagram b)
{
	unsigned char merged[256];
	const unsigned char *x = diagram_leaf_bytes(store, a), *y = diagram_leaf_bytes(store, b);

	assert(store->width <= sizeof merged);
	for (size_t i = 0; i < store->width; i++)
		merged[i] = (x[i] > y[i]) == (operation == OPERATION_MOST) ? x[i] : y[i];
	return diagram_leaf(store, merged);
}

/** The outcome where no variable is left to look at; DIAGRAM_NONE: look further. */
static diagram end_of(struct diagram_store *store, enum operation operation, diagram a, diagram b,
                      diagram c)
{
	switch (operation) {
	case OPERATION_AND:
		if (a == TRUTH_NO || b == TRUTH_NO)
			return TRUTH_NO;
		return a == TRUTH_YES || a == b ? b : b == TRUTH_YES ? a : DIAGRAM_NONE;
	case OPERATION_OR:
		if (a == TRUTH_YES || b == TRUTH_YES)
			return TRUTH_YES;
		return a == TRUTH_NO || a == b ? b : b == TRUTH_NO ? a : DIAGRAM_NONE;
	case OPERATION_CHOOSE:
		if (b == c)
			return b;
		return a == TRUTH_YES ? b : a == TRUTH_NO ? c : DIAGRAM_NONE;
	case OPERATION_MOST:
	case OPERATION_LEAST:
		if (a == b)
			return a;
		return diagram_is_leaf(a) && diagram_is_leaf(b)
		               ? merge_leaves(store, operation, a, b)
		               : DIAGRAM_NONE;
	}
	return DIAGRAM_NONE;
}

static unsigned least_of(unsigned a, unsigned b, unsigned c)
{
	unsigned least = a < b ? a : b;

	return least < c ? least : c;
}

static diagram apply(struct diagram_store *store, enum operation operation, diagram a, diagram b,
                     diagram c)
{
	diagram child[CELLS_MOST], result;
	struct memo *memo;
	unsigned variable;
	uint32_t h;

	if (a == DIAGRAM_NONE || b == DIAGRAM_NONE || c == DIAGRAM_NONE)
		return DIAGRAM_NONE;
	result = end_of(store, operation, a, b, c);
	if (result != DIAGRAM_NONE)
		return result;
	variable = least_of(variable_of(store, a), variable_of(store, b), variable_of(store, c));
	if (variable == VARIABLES_MOST)
		return DIAGRAM_NONE; /* leaves that could not be merged: no memory */
	h = (a * UINT32_C(0x9E3779B1)) ^ (b * UINT32_C(0x85EBCA6B)) ^ (c * UINT32_C(0xC2B2AE35)) ^
	    (uint32_t)operation;
	memo = &store->memo[(h ^ (h >> 15)) & (MEMO_SIZE - 1)];
	if (memo->used && memo->operation == operation && memo->a == a && memo->b == b &&
	    memo->c == c)
		return memo->result;
	for (unsigned i = 0; i < store->cell_count[variable]; i++)
		child[i] = apply(store, operation, child_of(store, a, variable, i),
		                 child_of(store, b, variable, i), child_of(store, c, variable, i));
	result = make(store, variable, child);
	*memo = (struct memo){a, b, c, result, (uint8_t)operation, result != DIAGRAM_NONE};
	return result;
}

diagram diagram_not(struct diagram_store *store, diagram a)
{
	return apply(store, OPERATION_CHOOSE, a, TRUTH_NO, TRUTH_YES);
}

diagram diagram_and(struct diagram_store *store, diagram a, diagram b)
{
	return apply(store, OPERATION_AND, a, b, TRUTH_NO);
}

diagram diagram_or(struct diagram_store *store, diagram a, diagram b)
{
	return apply(store, OPERATION_OR, a, b, TRUTH_NO);
}

diagram diagram_choose(struct diagram_store *store, diagram if_true, diagram yes, diagram no)
{
	return apply(store, OPERATION_CHOOSE, if_true, yes, no);
}

diagram diagram_most(struct diagram_store *store, diagram a, diagram b)
{
	return apply(store, OPERATION_MOST, a, b, TRUTH_NO);
}

diagram diagram_least(struct diagram_store *store, diagram a, diagram b)
{
	return apply(store, OPERATION_LEAST, a, b, TRUTH_NO);
}

/* -- narrowing -------------------------------------------------------------------------- */

struct narrowing {
	struct diagram_store *store;
	const cells *may;
	struct narrowed *out;
};

static void meet_leaf(struct narrowing *narrowing, diagram leaf)
{
	struct diagram_store *store = narrowing->store;
	struct narrowed *out = narrowing->out;
	size_t figure = leaf & ~LEAF;

	if (figure >= FIRST_FIGURE) {
		if (store->leaf_seen[figure - FIRST_FIGURE] == store->narrow_now)
			return;
		store->leaf_seen[figure - FIRST_FIGURE] = store->narrow_now;
	} else {
		for (size_t i = 0; i < out->leaf_count; i++)
			if (out->leaf[i] == leaf)
				return;
	}
	if (out->leaf_count < out->leaf_room)
		out->leaf[out->leaf_count++] = leaf;
	else
		out->overflow = true;
}

static unsigned lowest_cell(cells set)
{
	return (unsigned)__builtin_ctzll(set);
}

/**
 * Follows single cells down without a trace; only a real fork makes a node. Every node made is part
 * of the outcome, so the variables of all of them are the live ones.
 */
static diagram narrow(struct narrowing *narrowing, diagram d)
{
	struct diagram_store *store = narrowing->store;
	diagram child[CELLS_MOST], first = DIAGRAM_NONE, original;
	const struct node *node;
	bool same = true;
	cells may;

	for (;;) {
		if (diagram_is_leaf(d)) {
			meet_leaf(narrowing, d);
			return d;
		}
		node = &store->kept.node[d];
		may = narrowing->may[node->variable];
		if (may & (may - 1))
			break;
		d = store->kept.pool[node->child + lowest_cell(may)];
	}
	if (store->narrow_stamp[d] == store->narrow_now)
		return store->narrow_memo[d];
	original = d;
	for (unsigned i = 0; i < store->cell_count[node->variable]; i++) {
		if (!((may >> i) & 1)) {
			child[i] = DIAGRAM_NONE;
			continue;
		}
		child[i] = narrow(narrowing, store->kept.pool[node->child + i]);
		if (child[i] == DIAGRAM_NONE)
			return DIAGRAM_NONE;
		if (first == DIAGRAM_NONE)
			first = child[i];
		same = same && child[i] == first;
	}
	if (same) {
		d = first;
	} else {
		d = table_node(store, &store->scratch, node->variable, child);
		narrowing->out->live |= UINT64_C(1) << node->variable;
	}
	store->narrow_stamp[original] = store->narrow_now;
	store->narrow_memo[original] = d;
	return d;
}

static bool narrow_begin(struct diagram_store *store)
{
	size_t stamp_room = store->narrow_room, need = store->kept.node_count;
	size_t memo_room = store->narrow_room;

	if (need > store->narrow_room) {
		if (!grow(&store->narrow_memo, &memo_room, need, sizeof *store->narrow_memo) ||
		    !grow(&store->narrow_stamp, &stamp_room, need, sizeof *store->narrow_stamp))
			return false;
		memset(store->narrow_stamp, 0, stamp_room * sizeof *store->narrow_stamp);
		if (store->leaf_seen)
			memset(store->leaf_seen, 0, store->leaf_count * sizeof *store->leaf_seen);
		store->narrow_now = 0;
		store->narrow_room = stamp_room;
	}
	if (++store->narrow_now == 0) {
		memset(store->narrow_stamp, 0, store->narrow_room * sizeof *store->narrow_stamp);
		memset(store->leaf_seen, 0, store->leaf_count * sizeof *store->leaf_seen);
		store->narrow_now = 1;
	}
	table_empty(&store->scratch);
	return true;
}

bool diagram_narrow(struct diagram_store *store, diagram root, const cells *may,
                    struct narrowed *out)
{
	struct narrowing narrowing = {store, may, out};

	out->leaf_count = 0;
	out->live = 0;
	out->overflow = false;
	if (root == DIAGRAM_NONE || !narrow_begin(store))
		return false;
	return narrow(&narrowing, root) != DIAGRAM_NONE;
}

/* -- truths ------------------------------------------------------------------------------- */

enum { CAN_BE_NO = 1, CAN_BE_YES = 2, CAN_BE_BOTH = CAN_BE_NO | CAN_BE_YES };

/** Looks no further once both can be. @p found so far */
static unsigned can_be(struct diagram_store *store, diagram d, const cells *may, unsigned found)
{
	const struct node *node;
	cells left;

	for (;;) {
		if (diagram_is_leaf(d))
			return found | (d == TRUTH_YES ? CAN_BE_YES : CAN_BE_NO);
		node = &store->kept.node[d];
		left = may[node->variable];
		if (left & (left - 1))
			break;
		d = store->kept.pool[node->child + lowest_cell(left)];
	}
	if (store->narrow_stamp[d] == store->narrow_now)
		return found;
	store->narrow_stamp[d] = store->narrow_now;
	for (; left && found != CAN_BE_BOTH; left &= left - 1)
		found = can_be(store, store->kept.pool[node->child + lowest_cell(left)], may,
		               found);
	return found;
}

enum holds diagram_holds(struct diagram_store *store, diagram truth, const cells *may)
{
	unsigned found;

	if (truth == DIAGRAM_NONE || !narrow_begin(store))
		return HOLDS_MAYBE;
	found = can_be(store, truth, may, 0);
	return found == CAN_BE_BOTH  ? HOLDS_MAYBE
	       : found == CAN_BE_YES ? HOLDS_ALWAYS
	                             : HOLDS_NEVER;
}
