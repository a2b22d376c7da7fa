#include "splice.h"

#include "splice_inside.h"

#include <stdlib.h>
#include <string.h>

/* -- edits ---------------------------------------------------------------------------- */

void splice_fail(struct splice *splice)
{
	splice->failed = true;
	err_set(splice->err, ERR_MEMORY, "there is no memory to write the survey");
}

void splice_edit(struct splice *splice, uint32_t from, uint32_t to, const char *text)
{
	struct edit *grown = arena_grow(splice->arena, splice->edit, splice->edit_count,
	                                &splice->edit_room, sizeof(*grown));

	if (grown == NULL) {
		splice_fail(splice);
		return;
	}
	splice->edit = grown;
	grown[splice->edit_count] = (struct edit){from, to - from, text, splice->edit_count};
	splice->edit_count++;
}

static int by_place(const void *a, const void *b)
{
	const struct edit *one = a, *other = b;

	if (one->at != other->at)
		return one->at < other->at ? -1 : 1;
	/* what is put in at a place stands before what gives way there */
	if ((one->length == 0) != (other->length == 0))
		return one->length == 0 ? -1 : 1;
	return one->number < other->number ? -1 : one->number > other->number;
}

/* The original's bytes with the edits from @p mark on carried out; they are forgotten then. */
void splice_carry_out(struct splice *splice, size_t mark, uint32_t from, uint32_t to,
                      struct bytes *out)
{
	const struct source *source = splice->tree->source;

	if (splice->edit_count > mark + 1)
		qsort(splice->edit + mark, splice->edit_count - mark, sizeof(*splice->edit),
		      by_place);
	for (size_t i = mark; i < splice->edit_count; i++) {
		const struct edit *edit = &splice->edit[i];

		if (edit->at < from || edit->at + edit->length > to) {
			err_set(splice->err, ERR_CONFLICT,
			        "two changes meet on line %zu and can't be written: nothing was "
			        "written",
			        source_place(source, edit->at).line);
			splice->failed = true;
			return;
		}
		bytes_add(out, source->text + from, edit->at - from);
		bytes_text(out, edit->text);
		from = edit->at + edit->length;
	}
	bytes_add(out, source->text + from, to - from);
	splice->edit_count = mark;
}

void splice_drop_comments(struct splice *splice, uint32_t from, uint32_t to)
{
	const struct tree_text *tree = splice->tree;
	const struct span *comment = tree_comment_in(tree, from, to);

	for (; comment != NULL && comment < tree->comment + tree->comment_count && comment->at < to;
	     comment++)
		if (!splice_moves_within(splice, comment->at, from, to))
			splice->gone[comment - tree->comment] = true;
}

struct look splice_look(const struct splice *splice, bool in_flow)
{
	return (struct look){
	        .line_break = splice->tree->line_break, .json = splice->json, .in_flow = in_flow};
}

unsigned splice_column(const struct splice *splice, uint32_t at)
{
	return at - line_start(splice->tree->source, at);
}

bool splice_begins_line(const struct splice *splice, uint32_t at)
{
	return line_is_blank(splice->tree->source, line_start(splice->tree->source, at), at);
}

/* -- maps ----------------------------------------------------------------------------- */

struct slot *splice_slots(struct splice *splice, const struct tree *node)
{
	struct slot *first = NULL, **end = &first;

	for (struct tree *child = node->child; child != NULL; child = child->next) {
		struct slot *slot = arena_take(splice->arena, sizeof(*slot));

		if (slot == NULL) {
			splice_fail(splice);
			return NULL;
		}
		slot->old = child;
		*end = slot;
		end = &slot->next;
	}
	return first;
}

/* After @p after, or first of all. */
struct slot *splice_slot_add(struct splice *splice, struct slot **first, struct slot *after,
                             struct fresh *new)
{
	struct slot *slot = arena_take(splice->arena, sizeof(*slot)),
	            **place = after == NULL ? first : &after->next;

	if (slot == NULL) {
		splice_fail(splice);
		return after;
	}
	slot->state = SLOT_NEW;
	slot->new = new;
	slot->next = *place;
	*place = slot;
	return slot;
}

static struct slot *slot_of(struct slot *first, const struct tree *old)
{
	while (first != NULL && (old == NULL || first->old != old))
		first = first->next;
	return first;
}

static bool any_left(const struct slot *slot)
{
	while (slot != NULL && slot->state != SLOT_KEPT && slot->state != SLOT_NEW)
		slot = slot->next;
	return slot != NULL;
}

static bool any_change(const struct slot *slot)
{
	while (slot != NULL && slot->state == SLOT_KEPT)
		slot = slot->next;
	return slot != NULL;
}

static bool merge_map(struct splice *splice, struct tree *node, const struct fresh *from,
                      struct fresh *to);

/* What we know goes; a map stays for what else the person wrote in it, but for an inlet that is gone. */
static void take_key(struct splice *splice, struct slot *slot, const struct fresh *from)
{
	struct fresh nothing = {.kind = EVENT_MAP, .flow = true};

	if (from->alike || from->kind != EVENT_MAP || slot->old->kind != EVENT_MAP ||
	    slot->old->child == NULL || !merge_map(splice, slot->old, from, &nothing))
		slot->state = SLOT_GONE;
}

static void put_keys(struct splice *splice, struct tree *node, struct slot **slots,
                     const struct fresh *from, struct fresh *to)
{
	/* that of the premises is none of ours, but it names what follows */
	bool named = *slots != NULL && node->child->key != NULL &&
	             strcmp(node->child->key, "ref") == 0;
	struct slot *last = named ? *slots : NULL;

	for (struct fresh *child = to->child; child != NULL && !splice->failed;
	     child = child->next) {
		struct slot *slot = slot_of(*slots, tree_get(node, child->key));

		if (slot == NULL) {
			last = splice_slot_add(splice, slots, last, child);
			splice_adopt(splice, child, NULL, node->flow || tree_in_flow(node));
			continue;
		}
		splice_merge(splice, slot->old, fresh_get(from, child->key), child);
		last = slot;
	}
}

void splice_slots_out(struct splice *splice, struct tree *node, struct slot *slots)
{
	if (!any_change(slots) || splice->failed)
		return;
	if (node->flow)
		splice_flow(splice, node, slots);
	else
		splice_lines(splice, node, slots);
}

/* @return whether anything is left in it; if not, nothing was changed: the whole map has to go. */
static bool merge_map(struct splice *splice, struct tree *node, const struct fresh *from,
                      struct fresh *to)
{
	size_t mark = splice->edit_count;
	struct slot *slots = splice_slots(splice, node);

	for (const struct fresh *child = from == NULL ? NULL : from->child; child != NULL;
	     child = child->next) {
		struct slot *slot = slot_of(slots, tree_get(node, child->key));

		if (slot != NULL && fresh_get(to, child->key) == NULL)
			take_key(splice, slot, child);
	}
	put_keys(splice, node, &slots, from, to);
	if (!any_left(slots)) {
		splice->edit_count = mark;
		return false;
	}
	splice_slots_out(splice, node, slots);
	return true;
}

/* -- all of it ------------------------------------------------------------------------ */

/* Recursion ends at EVENTS_DEPTH_MOST. */
void splice_merge(struct splice *splice, struct tree *node, const struct fresh *from,
                  struct fresh *to)
{
	if (splice->failed || fresh_same(from, to))
		return;
	if (node->kind == EVENT_MAP && to->kind == EVENT_MAP && node->child != NULL) {
		if (!merge_map(splice, node, from, to))
			splice_set(splice, node, to);
	} else if (node->kind == EVENT_LIST && to->kind == EVENT_LIST && to->items &&
	           node->child != NULL) {
		splice_list(splice, node, to);
	} else {
		splice_adopt(splice, to, NULL, tree_in_flow(node));
		splice_set(splice, node, to);
	}
}

/* Twice where lines are carried from one place to another: what stands beside them is only then known to go too. */
static void merge_all(struct splice *splice, const struct fresh *from, struct fresh *to)
{
	do {
		splice->learned = false;
		splice->edit_count = 0;
		memset(splice->gone, 0, splice->tree->comment_count * sizeof(*splice->gone));
		splice_merge(splice, splice->tree->root, from, to);
	} while (splice->learned && !splice->failed);
}

bool splice_text(const struct tree_text *tree, const struct fresh *from, struct fresh *to,
                 struct bytes *out, bool *gone, struct err *err)
{
	struct splice splice = {.tree = tree, .arena = out->arena, .gone = gone, .err = err};

	if (tree->root->flow && tree->root->child != NULL &&
	    tree->source->text[tree->root->child->key_span.at] == '"')
		splice.json = true;
	splice_index(&splice, from, to);
	merge_all(&splice, from, to);
	if (!splice.failed)
		splice_carry_out(&splice, 0, 0, (uint32_t)tree->source->length, out);
	if (out->failed)
		splice_fail(&splice);
	return !splice.failed;
}
