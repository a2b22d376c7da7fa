/* Entries that stand on lines of their own: what goes, and what is put in. */
#include "splice_inside.h"

#include <string.h>

/* -- taking out ----------------------------------------------------------------------- */

/*
 * The first key after a dash: the next one that stays takes its place on that line, unless a comment stands between.
 * @return the last slot that went with it.
 */
static struct slot *take_from_dash(struct splice *splice, struct slot *slot)
{
	const struct tree *entry = slot->old;
	uint32_t start = tree_entry_start(entry), end = tree_end(splice->tree, entry), at = end;
	struct slot *last = slot;

	while (last->next != NULL && last->next->state == SLOT_GONE &&
	       tree_comment_in(splice->tree, at, tree_entry_start(last->next->old)) == NULL) {
		last = last->next;
		at = tree_end(splice->tree, last->old);
	}
	if (last->next == NULL || last->next->state != SLOT_KEPT ||
	    tree_comment_in(splice->tree, at, tree_entry_start(last->next->old)) != NULL) {
		splice_edit(splice, start, end, "");
		return slot;
	}
	at = tree_entry_start(last->next->old);
	splice_drop_comments(splice, start, at);
	splice_edit(splice, start, at, "");
	return last;
}

/* The end of the line above: lines go and come between two line ends, so that what comes after the last entry of a
   list stands beside what goes, not in it. */
static uint32_t end_above(const struct splice *splice, uint32_t at)
{
	const struct source *source = splice->tree->source;
	uint32_t start = line_start(source, at), above = line_before(source, at);

	return above < start ? line_end(source, above) : start;
}

/* A comment beside the last line stays, as a line of its own. */
static struct slot *take_out(struct splice *splice, struct slot *slot)
{
	const struct tree *entry = slot->old;
	const struct source *source = splice->tree->source;
	uint32_t start = tree_entry_start(entry), end = tree_end(splice->tree, entry);
	const struct span *beside = tree_comment_in(splice->tree, end, line_end(source, end));

	splice_drop_comments(splice, start, end);
	if (!splice_begins_line(splice, start))
		return take_from_dash(splice, slot);
	if (splice_ends_carried(splice, entry, &end)) {
		beside = NULL;
		if (line_start(source, end) == end)
			end = end_above(splice, end);
	}
	if (beside != NULL)
		splice_edit(splice, start, beside->at, "");
	else
		splice_edit(splice, end_above(splice, start), line_end(source, end), "");
	return slot;
}

static void move_out(struct splice *splice, const struct tree *entry)
{
	const struct source *source = splice->tree->source;
	uint32_t end = splice_moved_end(splice, entry);

	if (line_start(source, end) == end)
		end = end_above(splice, end);
	splice_edit(splice, end_above(splice, splice_moved_start(splice, entry)), end, "");
}

/* -- putting in ----------------------------------------------------------------------- */

/* In a list of rooms or the like a new one looks as those that are there. */
static bool looks_flow(const struct tree *list, const struct fresh *fresh)
{
	return list->last->kind == EVENT_SCALAR ? fresh->flow : list->last->flow;
}

/* What stands between a dash and its entry: as in the list's first. */
static unsigned dash_room(const struct splice *splice, const struct tree *list)
{
	const struct tree *first = list->child;
	uint32_t start = first->kind == EVENT_MAP && !first->flow && first->child != NULL
	                         ? tree_entry_start(first->child)
	                         : first->span.at;

	return line_start(splice->tree->source, start) ==
	                               line_start(splice->tree->source, first->dash) &&
	                       start > first->dash + 1
	               ? start - first->dash - 1
	               : 1;
}

static const char *entry_text(struct splice *splice, const struct tree *node,
                              const struct slot *slot, unsigned column)
{
	struct look look = splice_look(splice, false);
	struct bytes out = {.arena = splice->arena};
	struct fresh fresh = *slot->new;

	if (slot->moved_lines != NULL)
		return slot->moved_lines;
	look.column = column;
	if (node->kind == EVENT_LIST) {
		unsigned room = dash_room(splice, node);

		bytes_text(&out, "-");
		for (unsigned i = 0; i < room; i++)
			bytes_text(&out, " ");
		look.column += 1 + room;
	}
	if (fresh.alike)
		fresh.flow = looks_flow(node, &fresh);
	fresh_write_entry(&out, &fresh, look);
	if (out.failed)
		splice_fail(splice);
	return out.failed ? "" : out.text;
}

/* Whether a blank line stands between entries, above the comments that belong to the later one. */
static bool is_spaced(const struct splice *splice, const struct tree *node)
{
	const struct source *source = splice->tree->source;
	uint32_t start, above;

	if (node->kind != EVENT_LIST || node->child->next == NULL)
		return false;
	start = line_start(source, splice_moved_start(splice, node->child->next));
	above = line_before(source, start);
	return above < start && line_is_blank(source, above, line_end(source, above));
}

/* Comments that are indented deeper than the entry stand below it for a reason. */
uint32_t splice_past_deeper_comments(const struct splice *splice, uint32_t at, unsigned column)
{
	const struct source *source = splice->tree->source;

	for (;;) {
		uint32_t next = line_next(source, at), end = line_end(source, next);
		const struct span *comment = tree_comment_in(splice->tree, next, end);

		if (next == at || comment == NULL || !line_is_blank(source, next, comment->at) ||
		    comment->at - next <= column)
			return at;
		at = end;
	}
}

static const char *joined(struct splice *splice, const char *before, unsigned column_before,
                          const char *text, const char *after, unsigned column_after)
{
	struct bytes out = {.arena = splice->arena};

	bytes_text(&out, before);
	for (unsigned i = 0; i < column_before; i++)
		bytes_text(&out, " ");
	bytes_text(&out, text);
	bytes_text(&out, after);
	for (unsigned i = 0; i < column_after; i++)
		bytes_text(&out, " ");
	if (out.failed)
		splice_fail(splice);
	return out.failed ? "" : out.text;
}

static void put_line_at(struct splice *splice, uint32_t at, unsigned column, const char *text)
{
	splice_edit(splice, at, at, joined(splice, "", column, text, splice->tree->line_break, 0));
}

static void put_before_first(struct splice *splice, const struct tree *first, unsigned column,
                             const char *text)
{
	uint32_t start = tree_entry_start(first), at = end_above(splice, start);

	if (!splice_begins_line(splice, start))
		splice_edit(splice, start, start,
		            joined(splice, "", 0, text, splice->tree->line_break, column));
	else if (line_start(splice->tree->source, start) == at)
		put_line_at(splice, at, column, text);
	else
		splice_edit(splice, at, at,
		            joined(splice, splice->tree->line_break, column, text, "", 0));
}

/* The text ends in | or > without a line break. One more would be the value's, but for a dash after the sign. */
static void strip_literal(struct splice *splice, const struct tree *leaf)
{
	const char *text = splice->tree->source->text;
	uint32_t at = leaf->span.at + 1;

	while (text[at] >= '0' && text[at] <= '9')
		at++;
	for (size_t i = 0; i < splice->edit_count; i++)
		if (splice->edit[i].at == at && splice->edit[i].text[0] == '-')
			return;
	if (text[at] != '-')
		splice_edit(splice, at, at + (text[at] == '+'), "-");
}

static void put_after(struct splice *splice, const struct tree *kept, unsigned column,
                      const char *text, bool spaced)
{
	const struct source *source = splice->tree->source;
	const struct tree *leaf = tree_last_leaf(kept);
	uint32_t at = leaf->span.at + leaf->span.length;

	/* below | or > blank lines may belong to the value: its end mark is past them */
	if (leaf->literal && line_start(source, at) == at) {
		at = end_above(splice, at);
	} else {
		if (leaf->literal)
			strip_literal(splice, leaf);
		at = splice_past_deeper_comments(
		        splice, line_end(source, tree_end(splice->tree, kept)), column);
	}
	text = joined(splice, splice->tree->line_break, column, text, "", 0);
	if (spaced)
		text = joined(splice, splice->tree->line_break, 0, text, "", 0);
	splice_edit(splice, at, at, text);
}

void splice_lines(struct splice *splice, struct tree *node, struct slot *slots)
{
	unsigned column = splice_column(splice, tree_entry_start(node->child));
	bool spaced = is_spaced(splice, node);
	const struct tree *kept = NULL;

	for (struct slot *slot = slots; slot != NULL && !splice->failed; slot = slot->next) {
		switch (slot->state) {
		case SLOT_KEPT:
			kept = slot->old;
			break;
		case SLOT_GONE:
			slot = take_out(splice, slot);
			break;
		case SLOT_MOVED:
			move_out(splice, slot->old);
			break;
		case SLOT_NEW:
			if (kept == NULL)
				put_before_first(splice, node->child, column,
				                 entry_text(splice, node, slot, column));
			else
				put_after(splice, kept, column,
				          entry_text(splice, node, slot, column), spaced);
			break;
		}
	}
}
