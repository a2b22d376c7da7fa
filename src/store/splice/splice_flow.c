/* Entries within brackets: what stands between two that are kept is written anew, its comments in
 * it. */
#include "splice_inside.h"

#include <string.h>

/* From one kept entry, or the opening bracket, to the next, or the closing one. */
struct region {
	struct splice *splice;
	struct tree *node;
	const struct tree *before, *after; /* NULL: the bracket */
	struct slot *first, *end;          /* what is new, and what goes, between */
	uint32_t from, to;
	struct bytes out;
};

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static uint32_t opening(const struct splice *splice, const struct tree *node)
{
	uint32_t at = node->span.at; /* a tag may stand before it */

	while (splice->tree->source->text[at] != '{' && splice->tree->source->text[at] != '[')
		at++;
	return at;
}

static uint32_t closing(const struct tree *node)
{
	return node->span.at + node->span.length - 1;
}

/* The blanks and line breaks just before a place, as text. */
static void add_space_before(struct region *region, uint32_t at)
{
	const char *text = region->splice->tree->source->text;
	uint32_t from = at;

	while (from > 0 && is_space(text[from - 1]))
		from--;
	bytes_add(&region->out, text + from, at - from);
}

/* What separates entries, after the comma: as before the last one. */
static void add_separator(struct region *region)
{
	const struct tree *last = region->node->last;

	if (last->prev == NULL && !splice_begins_line(region->splice, tree_entry_start(last)))
		bytes_text(&region->out, " ");
	else
		add_space_before(region, tree_entry_start(last));
}

static void add_new(struct region *region, const struct slot *slot)
{
	fresh_write_entry(&region->out, slot->new, splice_look(region->splice, true));
}

static struct slot *next_new(struct slot *slot, const struct slot *end)
{
	while (slot != end && slot->state != SLOT_NEW)
		slot = slot->next;
	return slot == end ? NULL : slot;
}

static const struct slot *going_at(const struct region *region, uint32_t at)
{
	for (const struct slot *slot = region->first; slot != region->end; slot = slot->next)
		if (slot->old != NULL && tree_entry_start(slot->old) == at)
			return slot;
	return NULL;
}

static uint32_t slot_end(const struct region *region, const struct slot *slot)
{
	return tree_end(region->splice->tree, slot->old);
}

/* The first comment of the region that stands in nothing that goes. */
static const struct span *own_comment(const struct region *region)
{
	uint32_t at = region->from;

	while (at < region->to) {
		const struct slot *going = going_at(region, at);
		const struct span *comment = tree_comment_in(region->splice->tree, at, at + 1);

		if (comment != NULL)
			return comment;
		at = going != NULL && slot_end(region, going) > at ? slot_end(region, going)
		                                                   : at + 1;
	}
	return NULL;
}

/* Blanks and comments stay; commas, and what goes, do not. */
static void add_rest(struct region *region, uint32_t at)
{
	const struct tree_text *tree = region->splice->tree;

	while (at < region->to) {
		const struct slot *going = going_at(region, at);
		const struct span *comment = tree_comment_in(tree, at, at + 1);

		if (comment != NULL) {
			if (region->out.count == 0 ||
			    !is_space(region->out.text[region->out.count - 1]))
				bytes_text(&region->out, " ");
			bytes_add(&region->out, tree->source->text + at, comment->length);
			at += comment->length;
		} else if (going != NULL && slot_end(region, going) > at) {
			at = slot_end(region, going);
		} else {
			if (tree->source->text[at] != ',')
				bytes_add(&region->out, tree->source->text + at, 1);
			at++;
		}
	}
}

static bool has_comma(const struct region *region, uint32_t from, uint32_t to)
{
	const struct tree_text *tree = region->splice->tree;

	for (uint32_t at = from; at < to; at++) {
		const struct span *comment = tree_comment_in(tree, at, at + 1);

		if (comment != NULL)
			at += comment->length;
		else if (tree->source->text[at] == ',')
			return true;
	}
	return false;
}

/* `a, # about a`: what is new comes after that line. */
static uint32_t add_head(struct region *region)
{
	const struct tree_text *tree = region->splice->tree;
	uint32_t end = line_end(tree->source, region->from);

	if (region->before == NULL)
		return region->from;
	for (uint32_t at = region->from; at < end; at++)
		if (going_at(region, at) != NULL)
			end = region->from;
	if (end >= region->to)
		end = region->from;
	if (!has_comma(region, region->from, end) &&
	    (region->after != NULL || next_new(region->first, region->end) != NULL))
		bytes_text(&region->out, ",");
	bytes_add(&region->out, tree->source->text + region->from, end - region->from);
	return end;
}

static void write_with_comments(struct region *region)
{
	uint32_t rest = add_head(region);
	struct slot *new = next_new(region->first, region->end);

	while (new != NULL) {
		struct slot *next = next_new(new->next, region->end);

		if (region->before == NULL)
			bytes_text(&region->out, " ");
		else
			add_separator(region);
		add_new(region, new);
		if (next != NULL || region->after != NULL)
			bytes_text(&region->out, ",");
		new = next;
	}
	add_rest(region, rest);
}

static void write_without_comments(struct region *region)
{
	const struct source *source = region->splice->tree->source;
	const struct tree *last = region->node->last;
	struct slot *new = next_new(region->first, region->end);
	uint32_t lead = region->from;

	if (region->before == NULL) {
		while (is_space(source->text[lead]))
			lead++;
		bytes_add(&region->out, source->text + region->from, lead - region->from);
	} else if (new != NULL) {
		bytes_text(&region->out, ",");
		add_separator(region);
	}
	for (; new != NULL; new = next_new(new->next, region->end)) {
		add_new(region, new);
		if (next_new(new->next, region->end) != NULL) {
			bytes_text(&region->out, ",");
			add_separator(region);
		} else if (region->before == NULL && region->after != NULL) {
			bytes_text(&region->out, ",");
			add_separator(region);
		}
	}
	if (region->after == NULL) {
		if (has_comma(region, tree_end(region->splice->tree, last), region->to))
			bytes_text(&region->out, ",");
		add_space_before(region, region->to);
	} else if (region->before != NULL) {
		bytes_text(&region->out, ",");
		add_space_before(region, region->to);
	}
}

static void write_region(struct region *region)
{
	bool changes = false;

	for (struct slot *slot = region->first; slot != region->end; slot = slot->next) {
		changes = true;
		if (slot->state == SLOT_GONE)
			splice_drop_comments(region->splice, tree_entry_start(slot->old),
			                     slot_end(region, slot));
	}
	if (!changes)
		return;
	region->from = region->before == NULL ? opening(region->splice, region->node) + 1
	                                      : tree_end(region->splice->tree, region->before);
	region->to =
	        region->after == NULL ? closing(region->node) : tree_entry_start(region->after);
	region->out = (struct bytes){.arena = region->splice->arena};
	if (own_comment(region) != NULL)
		write_with_comments(region);
	else
		write_without_comments(region);
	if (region->out.failed)
		splice_fail(region->splice);
	else
		splice_edit(region->splice, region->from, region->to,
		            region->out.count == 0 ? "" : region->out.text);
}

void splice_flow(struct splice *splice, struct tree *node, struct slot *slots)
{
	struct region region = {.splice = splice, .node = node, .first = slots};

	for (struct slot *slot = slots; slot != NULL && !splice->failed; slot = slot->next) {
		if (slot->state != SLOT_KEPT)
			continue;
		region.end = slot;
		region.after = slot->old;
		write_region(&region);
		region.before = slot->old;
		region.first = slot->next;
	}
	region.end = NULL;
	region.after = NULL;
	write_region(&region);
}
