#include "splice.h"

#include "scalar.h"
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
static void carry_out(struct splice *splice, size_t mark, uint32_t from, uint32_t to,
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
			          (struct named){fresh_ref(child), fresh->key, NULL, child});
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

/* -- one value ------------------------------------------------------------------------ */

static const char *value_text(struct splice *splice, const struct fresh *fresh, struct look look)
{
	struct bytes out = {.arena = splice->arena};

	fresh_write(&out, fresh, look);
	if (out.failed)
		splice_fail(splice);
	return out.failed ? "" : out.text;
}

static const char *print(struct splice *splice, const char *before, const char *text)
{
	const char *both = arena_print(splice->arena, "%s%s", before, text);

	if (both == NULL)
		splice_fail(splice);
	return both == NULL ? "" : both;
}

/* The comment after | or > stays on its line. */
static void set_literal(struct splice *splice, const struct tree *node, const char *text)
{
	const struct source *source = splice->tree->source;
	const struct span *comment =
	        tree_comment_in(splice->tree, node->span.at, line_end(source, node->span.at));

	if (comment != NULL)
		text = arena_print(splice->arena, "%s %.*s", text, (int)comment->length,
		                   source->text + comment->at);
	if (text == NULL)
		splice_fail(splice);
	else
		splice_edit(splice, node->span.at, tree_end(splice->tree, node), text);
}

/* The value goes to the key's line; what stood on lines below goes, but for a comment beside the
 * last. */
static void set_lines(struct splice *splice, const struct tree *node, const char *text)
{
	const struct source *source = splice->tree->source;
	uint32_t colon = tree_after_colon(splice->tree, node), end = tree_end(splice->tree, node);
	uint32_t key_end = line_end(source, colon);
	const struct span *beside = tree_comment_in(splice->tree, end, line_end(source, end));

	splice_drop_comments(splice, key_end, end);
	splice_edit(splice, colon, colon, print(splice, " ", text));
	if (beside != NULL) /* on a line of its own: the key's line may have a comment already */
		splice_edit(splice, line_next(source, key_end), beside->at,
		            arena_print(splice->arena, "%*s",
		                        (int)splice_column(splice, node->key_span.at), ""));
	else
		splice_edit(splice, key_end, end, "");
}

/* A value on the key's line. */
static void set_on_line(struct splice *splice, const struct tree *node, const char *text)
{
	uint32_t end = tree_end(splice->tree, node);

	if (tree_is_empty(node)) {
		bool colon = end > node->key_span.at + node->key_span.length;

		splice_edit(splice, end, end, print(splice, colon ? " " : ": ", text));
	} else if (node->literal) {
		set_literal(splice, node, text);
	} else if (node->kind != EVENT_SCALAR && !node->flow) {
		set_lines(splice, node, text);
	} else {
		splice_drop_comments(splice, node->span.at, end);
		splice_edit(splice, node->span.at, end, text);
	}
}

/* Lines below the key, and below a comment that stands beside it. */
static void set_below(struct splice *splice, const struct tree *node, const struct fresh *fresh)
{
	struct look look = splice_look(splice, false);
	struct bytes out = {.arena = splice->arena};
	uint32_t colon = tree_after_colon(splice->tree, node), end = tree_end(splice->tree, node);

	look.column = splice_column(splice, node->key_span.at) + 2;
	fresh_line(&out, look);
	fresh_write(&out, fresh, look);
	if (out.failed) {
		splice_fail(splice);
		return;
	}
	splice_drop_comments(splice, colon, end);
	if (end > colon)
		splice_edit(splice, colon, end, "");
	end = line_end(splice->tree->source, end);
	splice_edit(splice, end, end, out.text);
}

static void set_value(struct splice *splice, const struct tree *node, const struct fresh *fresh)
{
	bool in_flow = tree_in_flow(node);
	struct look look = splice_look(splice, in_flow);

	if (fresh->kind != EVENT_SCALAR && !fresh->flow && fresh->child != NULL && !in_flow) {
		set_below(splice, node, fresh);
		return;
	}
	if (fresh->kind == EVENT_SCALAR && node->quote != 0)
		look.quote = node->quote;
	set_on_line(splice, node, value_text(splice, fresh, look));
}

/* -- maps ----------------------------------------------------------------------------- */

static void merge_value(struct splice *splice, struct tree *node, const struct fresh *from,
                        const struct fresh *to);

static struct slot *slots_of(struct splice *splice, const struct tree *node)
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
static struct slot *slot_add(struct splice *splice, struct slot **first, struct slot *after,
                             const struct fresh *new)
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
                      const struct fresh *to);

/* What we know goes; a map stays for what else the person wrote in it, but for an inlet that is gone. */
static void take_key(struct splice *splice, struct slot *slot, const struct fresh *from)
{
	static const struct fresh nothing = {.kind = EVENT_MAP, .flow = true};

	if (from->alike || from->kind != EVENT_MAP || slot->old->kind != EVENT_MAP ||
	    slot->old->child == NULL || !merge_map(splice, slot->old, from, &nothing))
		slot->state = SLOT_GONE;
}

static void put_keys(struct splice *splice, struct tree *node, struct slot **slots,
                     const struct fresh *from, const struct fresh *to)
{
	struct slot *last = NULL;

	for (const struct fresh *child = to->child; child != NULL && !splice->failed;
	     child = child->next) {
		struct slot *slot = slot_of(*slots, tree_get(node, child->key));

		if (slot == NULL) {
			last = slot_add(splice, slots, last, child);
			continue;
		}
		merge_value(splice, slot->old, fresh_get(from, child->key), child);
		last = slot;
	}
}

static void carry_out_slots(struct splice *splice, struct tree *node, struct slot *slots)
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
                      const struct fresh *to)
{
	size_t mark = splice->edit_count;
	struct slot *slots = slots_of(splice, node);

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
	carry_out_slots(splice, node, slots);
	return true;
}

/* -- lists of items ------------------------------------------------------------------- */

/* An item of a list as it is wanted, and where it stands now. */
struct wanted {
	const struct fresh *new;
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

	while (node->prev != NULL && line > 0) {
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

/* Lines that stood at one column, for another; without the last line break. */
static const char *reindented(struct splice *splice, const struct bytes *text, unsigned from,
                              unsigned to)
{
	struct bytes out = {.arena = splice->arena};
	struct source source = {.text = text->text, .length = text->count};

	for (uint32_t at = 0; at < text->count;) {
		uint32_t end = line_end(&source, at), next = line_next(&source, at), cut = 0;

		if (at > 0 && !line_is_blank(&source, at, end)) {
			while (cut < from && text->text[at + cut] == ' ')
				cut++;
			for (unsigned i = from - cut; i < to; i++)
				bytes_text(&out, " ");
		}
		bytes_add(&out, text->text + at + cut,
		          (next < text->count ? next : end) - at - cut);
		at = next;
	}
	if (out.failed)
		splice_fail(splice);
	return out.failed ? "" : out.text;
}

/* What stands elsewhere goes with its lines, unknown keys and comments, and with what changes in
 * it. */
static void move_text(struct splice *splice, struct slot *slot, const struct tree *list,
                      unsigned column)
{
	struct named *was = index_find(&splice->was, fresh_ref(slot->new), list->key);
	struct bytes out = {.arena = splice->arena};
	size_t mark = splice->edit_count;
	const struct source *source = splice->tree->source;
	bool lines;

	if (was == NULL || was->node == NULL || splice->failed)
		return;
	lines = !was->node->parent->flow && !list->flow &&
	        splice_begins_line(splice, tree_entry_start(was->node));
	if (!lines && !was->node->flow) {
		err_set(splice->err, ERR_CONFLICT,
		        "`%.60s` on line %zu can't be moved into brackets: nothing was written",
		        was->ref, source_place(source, was->node->span.at).line);
		splice->failed = true;
		return;
	}
	merge_value(splice, was->node, was->fresh, slot->new);
	if (lines) {
		uint32_t start = splice_moved_start(splice, was->node);

		carry_out(splice, mark, start, splice_moved_end(splice, was->node), &out);
		slot->moved_lines = reindented(splice, &out, splice_column(splice, start), column);
	} else {
		carry_out(splice, mark, was->node->span.at,
		          was->node->span.at + was->node->span.length, &out);
		slot->moved = out.text;
	}
	if (out.failed)
		splice_fail(splice);
}

static void place_wanted(struct splice *splice, struct tree *node, struct slot **slots,
                         struct wanted *wanted, size_t count, const struct fresh *from)
{
	unsigned column = splice_column(splice, tree_entry_start(node->child));
	struct slot *last = NULL;

	for (size_t i = 0; i < count && !splice->failed; i++) {
		const struct named *was;

		if (wanted[i].slot == NULL) {
			last = slot_add(splice, slots, last, wanted[i].new);
			if (!splice->failed)
				move_text(splice, last, node, column);
			continue;
		}
		last = wanted[i].slot;
		was = from == NULL ? NULL
		                   : index_find(&splice->was, fresh_ref(wanted[i].new), node->key);
		merge_value(splice, last->old, was == NULL ? NULL : was->fresh, wanted[i].new);
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

static void merge_list(struct splice *splice, struct tree *node, const struct fresh *from,
                       const struct fresh *to)
{
	size_t count = count_children(to), place = 0, i = 0;
	struct wanted *wanted = arena_take(splice->arena, count * sizeof(*wanted));
	struct slot *slots = slots_of(splice, node), *guess = slots;

	if (wanted == NULL)
		splice_fail(splice);
	if (splice->failed)
		return;
	settle_slots(splice, slots, node);
	for (const struct fresh *child = to->child; child != NULL; child = child->next) {
		wanted[i].new = child;
		find_slot(slots, &guess, &place, &wanted[i]);
		if (wanted[i].slot != NULL)
			wanted[i].slot->state = SLOT_KEPT;
		i++;
	}
	if (!in_order(wanted, count))
		keep_longest_run(wanted, count);
	place_wanted(splice, node, &slots, wanted, count, from);
	carry_out_slots(splice, node, slots);
}

/* -- all of it ------------------------------------------------------------------------ */

/* Recursion ends at EVENTS_DEPTH_MOST. */
static void merge_value(struct splice *splice, struct tree *node, const struct fresh *from,
                        const struct fresh *to)
{
	if (splice->failed || fresh_same(from, to))
		return;
	if (node->kind == EVENT_MAP && to->kind == EVENT_MAP && node->child != NULL) {
		if (!merge_map(splice, node, from, to))
			set_value(splice, node, to);
	} else if (node->kind == EVENT_LIST && to->kind == EVENT_LIST && to->items &&
	           node->child != NULL) {
		merge_list(splice, node, from, to);
	} else {
		set_value(splice, node, to);
	}
}

bool splice_text(const struct tree_text *tree, const struct fresh *from, const struct fresh *to,
                 struct bytes *out, bool *gone, struct err *err)
{
	struct splice splice = {.tree = tree, .arena = out->arena, .gone = gone, .err = err};

	if (tree->root->flow && tree->root->child != NULL &&
	    tree->source->text[tree->root->child->key_span.at] == '"')
		splice.json = true;
	index_fresh(&splice, &splice.was, from);
	index_fresh(&splice, &splice.will, to);
	index_sort(&splice.was);
	index_sort(&splice.will);
	place_items(&splice.was, tree->root);
	merge_value(&splice, tree->root, from, to);
	if (!splice.failed)
		carry_out(&splice, 0, 0, (uint32_t)tree->source->length, out);
	if (out->failed)
		splice_fail(&splice);
	return !splice.failed;
}
