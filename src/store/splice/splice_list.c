/* Lists of items that have a `ref`: those that stay, go, come and move. */
#include "splice_inside.h"

#include <stdlib.h>
#include <string.h>

/* -- items by ref --------------------------------------------------------------------- */

static int by_ref(const void *a, const void *b)
{
	const struct named *one = a, *other = b;
	int order = strcmp(one->ref, other->ref);

	return order != 0 ? order : strcmp(one->list, other->list);
}

static void index_add(struct splice *splice, struct index *index, struct named named)
{
	struct named *grown =
	        arena_grow(splice->arena, index->named, index->count, &index->room, sizeof(named));

	if (grown == NULL) {
		splice_fail(splice);
		return;
	}
	index->named = grown;
	grown[index->count++] = named;
}

static void index_fresh(struct splice *splice, struct index *index, const struct fresh *fresh)
{
	for (const struct fresh *child = fresh->child; child != NULL && !splice->failed;
	     child = child->next) {
		if (fresh->items && fresh_ref(child) != NULL)
			index_add(splice, index,
			          (struct named){.ref = fresh_ref(child),
			                         .list = fresh->key,
			                         .fresh = child});
		index_fresh(splice, index, child);
	}
}

static struct named *index_find(const struct index *index, const char *ref, const char *list)
{
	struct named wanted = {.ref = ref, .list = list};

	if (ref == NULL || list == NULL || index->count == 0)
		return NULL;
	return bsearch(&wanted, index->named, index->count, sizeof(wanted), by_ref);
}

static const char *tree_ref(const struct tree *item)
{
	const struct tree *ref = tree_get(item, "ref");

	return ref != NULL && ref->kind == EVENT_SCALAR ? ref->text : NULL;
}

/* Where the items that we understand stand in the text. */
static void place_items(struct index *index, struct tree *node)
{
	for (struct tree *child = node->child; child != NULL; child = child->next) {
		struct named *named = node->kind == EVENT_LIST
		                              ? index_find(index, tree_ref(child), node->key)
		                              : NULL;

		if (named != NULL && named->node == NULL)
			named->node = child;
		place_items(index, child);
	}
}

static void index_sort(struct index *index)
{
	if (index->count > 1)
		qsort(index->named, index->count, sizeof(*index->named), by_ref);
}

void splice_index(struct splice *splice, const struct fresh *from, const struct fresh *to)
{
	index_fresh(splice, &splice->was, from);
	index_fresh(splice, &splice->will, to);
	index_sort(&splice->was);
	index_sort(&splice->will);
	place_items(&splice->was, splice->tree->root);
}

bool splice_moves_within(const struct splice *splice, uint32_t at, uint32_t from, uint32_t to)
{
	for (size_t i = 0; i < splice->was.count; i++) {
		const struct named *named = &splice->was.named[i];
		uint32_t start, end;

		if (named->node == NULL ||
		    index_find(&splice->will, named->ref, named->list) == NULL)
			continue;
		start = tree_entry_start(named->node);
		end = tree_end(splice->tree, named->node);
		if (start >= from && end <= to && at >= start && at < end)
			return true;
	}
	return false;
}

/* -- lists of items ------------------------------------------------------------------- */

/* An item of a list as it is wanted, and where it stands now. */
struct wanted {
	struct fresh *new;
	struct slot *slot; /* NULL: not in this list */
	size_t place;      /* of the slot */
	size_t run;        /* the most items up to here that keep their order */
};

static size_t count_children(const struct fresh *list)
{
	size_t count = 0;

	for (const struct fresh *child = list->child; child != NULL; child = child->next)
		count++;
	return count;
}

/* Most stand where they stood: look on from the last one found. */
static void find_slot(struct slot *slots, struct slot **guess, size_t *place, struct wanted *wanted)
{
	const char *ref = fresh_ref(wanted->new);
	struct slot *slot = *guess;
	size_t at = *place;

	do {
		const char *there;

		if (slot == NULL) {
			slot = slots;
			at = 0;
			continue;
		}
		there = tree_ref(slot->old);
		if (there != NULL && ref != NULL && strcmp(there, ref) == 0) {
			wanted->slot = slot;
			wanted->place = at;
			*guess = slot->next;
			*place = at + 1;
			return;
		}
		slot = slot->next;
		at++;
	} while (slot != *guess);
}

/* Those that are not on the longest run in the old order have to move. */
static void keep_longest_run(struct wanted *wanted, size_t count)
{
	size_t longest = 0, below = SIZE_MAX;

	for (size_t i = 0; i < count; i++) {
		wanted[i].run = 1;
		for (size_t j = 0; wanted[i].slot != NULL && j < i; j++)
			if (wanted[j].slot != NULL && wanted[j].place < wanted[i].place &&
			    wanted[j].run >= wanted[i].run)
				wanted[i].run = wanted[j].run + 1;
		if (wanted[i].slot != NULL && wanted[i].run > longest)
			longest = wanted[i].run;
	}
	for (size_t i = count; i-- > 0;) {
		if (wanted[i].slot == NULL)
			continue;
		if (wanted[i].run == longest && wanted[i].place < below) {
			below = wanted[i].place;
			longest--;
			wanted[i].slot->state = SLOT_KEPT;
		} else {
			wanted[i].slot->state = SLOT_MOVED;
			wanted[i].slot = NULL;
		}
	}
}

static bool in_order(const struct wanted *wanted, size_t count)
{
	size_t next = 0;

	for (size_t i = 0; i < count; i++) {
		if (wanted[i].slot == NULL)
			continue;
		if (wanted[i].place < next)
			return false;
		next = wanted[i].place + 1;
	}
	return true;
}

uint32_t splice_moved_start(const struct splice *splice, const struct tree *node)
{
	const struct source *source = splice->tree->source;
	uint32_t start = tree_entry_start(node), line = line_start(source, start);
	unsigned column = splice_column(splice, start);

	while (line > 0) {
		uint32_t above = line_before(source, line);
		const struct span *comment = tree_comment_in(splice->tree, above, line);

		if (above == line || comment == NULL || comment->at - above != column ||
		    !line_is_blank(source, above, comment->at))
			break;
		start = comment->at;
		line = above;
	}
	return start;
}

uint32_t splice_moved_end(const struct splice *splice, const struct tree *node)
{
	const struct tree *leaf = tree_last_leaf(node);
	uint32_t at = leaf->span.at + leaf->span.length;

	/* below | or > the blank lines that follow may belong to the value */
	if (leaf->literal && line_start(splice->tree->source, at) == at)
		return at;
	at = line_end(splice->tree->source, tree_end(splice->tree, node));
	return splice_past_deeper_comments(splice, at,
	                                   splice_column(splice, tree_entry_start(node)));
}

bool splice_ends_carried(const struct splice *splice, const struct tree *node, uint32_t *end)
{
	uint32_t last = tree_end(splice->tree, node);
	bool found = false;

	for (size_t i = 0; i < splice->was.count; i++) {
		const struct named *named = &splice->was.named[i];

		if (!named->carried || tree_entry_start(named->node) < tree_entry_start(node) ||
		    tree_end(splice->tree, named->node) != last)
			continue;
		*end = splice_moved_end(splice, named->node);
		found = true;
	}
	return found;
}

/* Its lines, with the comments above and below, and with what changes in it. @return false: it has none of its own. */
static bool carry_lines(struct splice *splice, struct named *was, struct fresh *item)
{
	struct bytes out = {.arena = splice->arena};
	size_t mark = splice->edit_count;
	uint32_t start;

	if (was == NULL || was->node == NULL || was->node->parent->flow ||
	    !splice_begins_line(splice, tree_entry_start(was->node)))
		return false;
	start = splice_moved_start(splice, was->node);
	splice_merge(splice, was->node, was->fresh, item);
	splice_carry_out(splice, mark, start, splice_moved_end(splice, was->node), &out);
	item->lines = out.text;
	item->lines_column = splice_column(splice, start);
	splice->learned |= !was->carried;
	was->carried = true;
	if (out.failed)
		splice_fail(splice);
	return true;
}

/* An item in brackets is put in as it is, with its unknown keys and comments, and with what changes in it. */
static void carry_flow(struct splice *splice, const struct named *was, struct fresh *item)
{
	struct bytes out = {.arena = splice->arena};
	size_t mark = splice->edit_count;
	struct span span = was->node->span;

	splice_merge(splice, was->node, was->fresh, item);
	splice_carry_out(splice, mark, span.at, span.at + span.length, &out);
	item->verbatim = out.text;
	if (out.failed)
		splice_fail(splice);
}

/* A key of theirs in it, or NULL. */
static const struct tree *first_unknown(const struct tree *node, const struct fresh *fresh)
{
	for (const struct tree *child = node->child; child != NULL; child = child->next) {
		const struct fresh *known =
		        child->key == NULL ? NULL : fresh_get(fresh, child->key);
		const struct tree *unknown;

		if (tree_is_empty(child))
			continue;
		if (child->key != NULL && known == NULL)
			return child;
		for (known = known != NULL ? known : fresh->child;
		     child->key == NULL && known != NULL; known = known->next)
			if (fresh_ref(known) != NULL && tree_ref(child) != NULL &&
			    strcmp(fresh_ref(known), tree_ref(child)) == 0)
				break;
		unknown = known == NULL ? NULL : first_unknown(child, known);
		if (unknown != NULL)
			return unknown;
	}
	return NULL;
}

/* Written anew between brackets it has no place for what we don't understand: better to say so than to lose it. */
static void refuse_brackets(struct splice *splice, const struct named *was)
{
	const struct source *source = splice->tree->source;
	const struct span *comment = tree_comment_in(splice->tree, tree_entry_start(was->node),
	                                             tree_end(splice->tree, was->node));
	const struct tree *unknown = first_unknown(was->node, was->fresh);
	uint32_t at = comment != NULL ? comment->at : unknown != NULL ? unknown->key_span.at : 0;

	if (comment == NULL && unknown == NULL)
		return;
	err_set(splice->err, ERR_CONFLICT,
	        "`%.30s` moves into brackets, and its %s%.30s%s on line %zu can't: write that "
	        "list with a dash before each first; nothing was written",
	        was->ref, comment != NULL ? "comment" : "key `",
	        comment != NULL ? "" : unknown->key, comment != NULL ? "" : "`",
	        source_place(source, at).line);
	splice->failed = true;
}

/* An item that stood elsewhere is carried over; from lines into brackets it is written anew. */
static void adopt(struct splice *splice, struct fresh *item, const char *list, bool in_flow)
{
	struct named *was = index_find(&splice->was, fresh_ref(item), list);

	if (was == NULL || was->node == NULL || (!in_flow && carry_lines(splice, was, item)))
		return;
	if (was->node->flow)
		carry_flow(splice, was, item);
	else if (in_flow)
		refuse_brackets(splice, was);
}

void splice_adopt(struct splice *splice, struct fresh *fresh, const char *list, bool in_flow)
{
	if (splice->failed)
		return;
	if (list != NULL)
		adopt(splice, fresh, list, in_flow);
	if (fresh->verbatim != NULL || fresh->lines != NULL)
		return;
	for (struct fresh *child = fresh->child; child != NULL; child = child->next)
		splice_adopt(splice, child, fresh->items ? fresh->key : NULL, in_flow);
}

/* Lines go from one list in lines to another. */
static bool move_lines(struct splice *splice, struct slot *slot, const struct tree *list)
{
	struct bytes out = {.arena = splice->arena};
	struct fresh *item = slot->new;

	if (list->flow ||
	    !carry_lines(splice, index_find(&splice->was, fresh_ref(item), list->key), item))
		return false;
	fresh_reindent(&out, item->lines, strlen(item->lines), item->lines_column,
	               splice_column(splice, tree_entry_start(list->child)));
	slot->moved_lines = out.text;
	if (out.failed)
		splice_fail(splice);
	return true;
}

static void place_wanted(struct splice *splice, struct tree *node, struct slot **slots,
                         struct wanted *wanted, size_t count)
{
	struct slot *last = NULL;

	for (size_t i = 0; i < count && !splice->failed; i++) {
		const struct named *was;

		if (wanted[i].slot == NULL) {
			last = splice_slot_add(splice, slots, last, wanted[i].new);
			if (!splice->failed && !move_lines(splice, last, node))
				splice_adopt(splice, wanted[i].new, node->key,
				             node->flow || tree_in_flow(node));
			continue;
		}
		last = wanted[i].slot;
		was = index_find(&splice->was, fresh_ref(wanted[i].new), node->key);
		splice_merge(splice, last->old, was == NULL ? NULL : was->fresh, wanted[i].new);
	}
}

/* What is wanted nowhere goes for good. */
static void settle_slots(struct splice *splice, struct slot *slots, const struct tree *node)
{
	for (struct slot *slot = slots; slot != NULL; slot = slot->next) {
		const char *ref = tree_ref(slot->old);

		if (ref == NULL)
			continue;
		slot->state =
		        index_find(&splice->will, ref, node->key) != NULL ? SLOT_MOVED : SLOT_GONE;
	}
}

void splice_list(struct splice *splice, struct tree *node, struct fresh *to)
{
	size_t count = count_children(to), place = 0, i = 0;
	struct wanted *wanted = arena_take(splice->arena, count * sizeof(*wanted));
	struct slot *slots = splice_slots(splice, node), *guess = slots;

	if (wanted == NULL)
		splice_fail(splice);
	if (splice->failed)
		return;
	settle_slots(splice, slots, node);
	for (struct fresh *child = to->child; child != NULL; child = child->next) {
		wanted[i].new = child;
		find_slot(slots, &guess, &place, &wanted[i]);
		if (wanted[i].slot != NULL)
			wanted[i].slot->state = SLOT_KEPT;
		i++;
	}
	if (!in_order(wanted, count))
		keep_longest_run(wanted, count);
	place_wanted(splice, node, &slots, wanted, count);
	splice_slots_out(splice, node, slots);
}
