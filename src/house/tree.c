#include "tree.h"

#include "tundish/base/text.h"

#include <string.h>

static bool is_draw_off(const struct survey *survey, const struct item *point)
{
	return point->of != INDEX_NONE && survey->book->kind[point->of].draw_off;
}

static size_t *slot_of(const struct tree *tree, const struct item *branch)
{
	size_t at = (size_t)((uintptr_t)branch / sizeof(max_align_t) * UINT32_C(0x9E3779B1));

	for (;; at++) {
		size_t *slot = &tree->by_branch[at & (tree->by_branch_size - 1)];

		if (*slot == PIPE_MAIN || tree->pipe[*slot].branch == branch)
			return slot;
	}
}

/** @return pipe_count where the name is not one of a pipe. */
static size_t pipe_of(const struct tree *tree, const char *name, size_t length)
{
	const struct item *branch;

	if (text_is(name, length, "main"))
		return PIPE_MAIN;
	branch = survey_find(tree->survey, name, length);
	if (!branch || branch->scope != SCOPE_BRANCH)
		return tree->pipe_count;
	return *slot_of(tree, branch);
}

static void add_feed(struct feeds *feeds, size_t pipe)
{
	for (size_t i = 0; i < feeds->count; i++)
		if (feeds->pipe[i] == pipe)
			return;
	if (feeds->count < sizeof feeds->pipe / sizeof *feeds->pipe)
		feeds->pipe[feeds->count++] = pipe;
}

/** Whether the way from this pipe to the main leads through the point. */
static bool comes_from(const struct tree *tree, size_t pipe, const struct item *point,
                       unsigned depth_left)
{
	const struct pipe *p = &tree->pipe[pipe];
	const struct item *inlet;

	if (pipe == PIPE_MAIN || depth_left == 0)
		return false;
	if (!p->from_point)
		return comes_from(tree, p->from, point, depth_left - 1);
	if (p->from_point == point)
		return true;
	for (size_t i = 0; (inlet = item_child(p->from_point, SCOPE_INLET, i)) != NULL; i++) {
		const struct answer *fed_by =
		        item_answer(inlet, tree->survey->book->known.inlet_fed_by);
		size_t up = fed_by ? pipe_of(tree, fed_by->text, strlen(fed_by->text))
		                   : tree->pipe_count;

		if (up < tree->pipe_count && comes_from(tree, up, point, depth_left - 1))
			return true;
	}
	return false;
}

static void feeds_of_text(const struct tree *tree, const char *text, struct feeds *out)
{
	while (*text) {
		size_t length = strcspn(text, ",");
		size_t pipe = pipe_of(tree, text, length);

		if (pipe < tree->pipe_count)
			add_feed(out, pipe);
		text += length;
		text += strspn(text, ", ");
	}
}

void tree_feeds(const struct tree *tree, const struct item *point, const struct item *inlet,
                struct feeds *out)
{
	const struct answer *fed_by =
	        inlet ? item_answer(inlet, tree->survey->book->known.inlet_fed_by) : NULL;

	out->count = 0;
	out->answered = fed_by != NULL;
	out->settled = fed_by && fed_by->settled;
	if (fed_by)
		feeds_of_text(tree, fed_by->text, out);
	out->named = out->count > 0;
	if (out->named)
		return;
	for (size_t i = 0; i < tree->pipe_count; i++)
		if (tree->pipe[i].like == i && !comes_from(tree, i, point, 64))
			add_feed(out, i);
}

size_t tree_part(const struct tree *tree, const struct item *item)
{
	const struct item *part = survey_part(tree->survey, item);

	for (size_t i = 1; i < tree->part_count; i++)
		if (tree->part[i] == part)
			return i;
	return 0;
}

struct draw_off tree_draw_off(const struct tree *tree, size_t pipe, size_t part,
                              const struct item *self)
{
	const struct draw_offs *found = &tree->draw_off[pipe * tree->part_count + part];

	return found->first.point != self ? found->first : found->second;
}

static void note_draw_off(struct tree *tree, size_t pipe, size_t part, struct draw_off draw_off)
{
	struct draw_offs *found = &tree->draw_off[pipe * tree->part_count + part];

	if (!draw_off.point || found->first.point == draw_off.point ||
	    found->second.point == draw_off.point)
		return;
	if (!found->first.point || draw_off.order < found->first.order) {
		found->second = found->first;
		found->first = draw_off;
	} else if (!found->second.point || draw_off.order < found->second.order) {
		found->second = draw_off;
	}
}

/* -- building --------------------------------------------------------------------------- */

static bool list_pipes(struct tree *tree)
{
	const struct survey *survey = tree->survey;
	const struct item *premises = survey->premises, *part;
	size_t branches = item_children(premises, SCOPE_BRANCH);
	size_t parts = item_children(premises, SCOPE_PART);

	tree->pipe = arena_take(&tree->arena, (branches + 1) * sizeof *tree->pipe);
	tree->by_branch_size = 16;
	while (tree->by_branch_size < (branches + 1) * 2)
		tree->by_branch_size *= 2;
	tree->by_branch = arena_take(&tree->arena, tree->by_branch_size * sizeof *tree->by_branch);
	tree->part = arena_take(&tree->arena, (parts + 1) * sizeof(struct item *));
	tree->draw_off =
	        arena_take(&tree->arena, (branches + 1) * (parts + 1) * sizeof *tree->draw_off);
	if (!tree->pipe || !tree->by_branch || !tree->part || !tree->draw_off)
		return false;
	tree->part_count = 1;
	tree->pipe_count = 1;
	for (size_t i = 0; (part = item_child(premises, SCOPE_PART, i)) != NULL; i++)
		tree->part[tree->part_count++] = part;
	for (size_t c = 0; c < premises->child_count; c++) {
		if (premises->child[c]->scope != SCOPE_BRANCH)
			continue;
		tree->pipe[tree->pipe_count].branch = premises->child[c];
		*slot_of(tree, premises->child[c]) = tree->pipe_count;
		tree->pipe_count++;
	}
	return true;
}

/** A branch whose source is not known, or names nothing, counts as fed by the supply pipe: nothing
 * stands in its way. */
static void join_pipes(struct tree *tree)
{
	for (size_t i = 1; i < tree->pipe_count; i++) {
		struct pipe *pipe = &tree->pipe[i];
		const char *from = item_text(pipe->branch, tree->survey->book->known.branch_from);
		size_t up;

		pipe->from = PIPE_MAIN;
		if (!from)
			continue;
		up = pipe_of(tree, from, strlen(from));
		if (up < tree->pipe_count) {
			pipe->from = up;
		} else {
			const struct item *point = survey_find(tree->survey, from, strlen(from));

			if (point && point->scope == SCOPE_POINT)
				pipe->from_point = point;
		}
	}
}

static unsigned depth_of(struct tree *tree, size_t i);

static unsigned depth_of_point(struct tree *tree, const struct item *point)
{
	const struct item *inlet;
	unsigned deepest = 0;

	for (size_t i = 0; (inlet = item_child(point, SCOPE_INLET, i)) != NULL; i++) {
		const struct answer *fed_by =
		        item_answer(inlet, tree->survey->book->known.inlet_fed_by);
		struct feeds feeds = {.count = 0};

		if (fed_by)
			feeds_of_text(tree, fed_by->text, &feeds);
		for (size_t f = 0; f < feeds.count; f++) {
			unsigned depth = depth_of(tree, feeds.pipe[f]);

			deepest = depth > deepest ? depth : deepest;
		}
	}
	return deepest;
}

/** A loop (the walk may hold one until it is mended) is cut where it closes: that pipe then counts
 * as fed by the supply. */
static unsigned depth_of(struct tree *tree, size_t i)
{
	struct pipe *pipe = &tree->pipe[i];

	if (i == PIPE_MAIN || pipe->depth)
		return pipe->depth;
	if (pipe->on_the_way)
		return 0;
	pipe->on_the_way = true;
	if (pipe->from_point) {
		pipe->depth = depth_of_point(tree, pipe->from_point) + 1;
	} else {
		if (tree->pipe[pipe->from].on_the_way && pipe->from != i &&
		    tree->pipe[pipe->from].depth == 0)
			pipe->from = PIPE_MAIN;
		if (pipe->from == i)
			pipe->from = PIPE_MAIN;
		pipe->depth = depth_of(tree, pipe->from) + 1;
	}
	pipe->on_the_way = false;
	return pipe->depth;
}

static void find_likes(struct tree *tree)
{
	for (size_t i = 1; i < tree->pipe_count; i++) {
		size_t up = i;

		while (up != PIPE_MAIN && !tree->pipe[up].from_point &&
		       item_children(tree->pipe[up].branch, SCOPE_PROTECTION) == 0)
			up = tree->pipe[up].from;
		tree->pipe[i].like = up;
	}
}

static void note_point(struct tree *tree, const struct item *point, size_t order)
{
	struct draw_off draw_off = {point, order};
	const struct item *inlet;
	size_t part = tree_part(tree, point);
	bool fed = false;

	if (!is_draw_off(tree->survey, point))
		return;
	for (size_t i = 0; (inlet = item_child(point, SCOPE_INLET, i)) != NULL; i++) {
		const struct answer *fed_by =
		        item_answer(inlet, tree->survey->book->known.inlet_fed_by);
		struct feeds feeds = {.count = 0};

		if (fed_by)
			feeds_of_text(tree, fed_by->text, &feeds);
		for (size_t f = 0; f < feeds.count; f++) {
			note_draw_off(tree, feeds.pipe[f], part, draw_off);
			fed = true;
		}
	}
	if (!fed)
		note_draw_off(tree, PIPE_MAIN, part, draw_off);
}

static void pass_up(struct tree *tree, size_t from, size_t to)
{
	for (size_t p = 0; p < tree->part_count; p++) {
		const struct draw_offs *found = &tree->draw_off[from * tree->part_count + p];

		note_draw_off(tree, to, p, found->first);
		note_draw_off(tree, to, p, found->second);
	}
}

static void pass_up_from(struct tree *tree, size_t i)
{
	const struct pipe *pipe = &tree->pipe[i];
	const struct item *inlet;
	bool fed = false;

	if (!pipe->from_point) {
		pass_up(tree, i, pipe->from);
		return;
	}
	for (size_t n = 0; (inlet = item_child(pipe->from_point, SCOPE_INLET, n)) != NULL; n++) {
		const struct answer *fed_by =
		        item_answer(inlet, tree->survey->book->known.inlet_fed_by);
		struct feeds feeds = {.count = 0};

		if (fed_by)
			feeds_of_text(tree, fed_by->text, &feeds);
		for (size_t f = 0; f < feeds.count; f++) {
			if (tree->pipe[feeds.pipe[f]].depth < pipe->depth)
				pass_up(tree, i, feeds.pipe[f]);
			fed = true;
		}
	}
	if (!fed)
		pass_up(tree, i, PIPE_MAIN);
}

static void find_draw_offs(struct tree *tree)
{
	const struct item *premises = tree->survey->premises;
	unsigned deepest = 0;
	size_t order = 0;

	for (size_t r = 0; r < premises->child_count; r++) {
		const struct item *room = premises->child[r];

		for (size_t p = 0; room->scope == SCOPE_ROOM && p < room->child_count; p++)
			if (room->child[p]->scope == SCOPE_POINT)
				note_point(tree, room->child[p], ++order);
	}
	for (size_t i = 1; i < tree->pipe_count; i++)
		deepest = tree->pipe[i].depth > deepest ? tree->pipe[i].depth : deepest;
	for (unsigned depth = deepest; depth > 0; depth--)
		for (size_t i = 1; i < tree->pipe_count; i++)
			if (tree->pipe[i].depth == depth)
				pass_up_from(tree, i);
}

bool tree_build(struct tree *tree, const struct survey *survey)
{
	arena_reset(&tree->arena);
	tree->survey = survey;
	if (!list_pipes(tree))
		return false;
	join_pipes(tree);
	for (size_t i = 1; i < tree->pipe_count; i++)
		depth_of(tree, i);
	find_likes(tree);
	find_draw_offs(tree);
	return true;
}

void tree_finish(struct tree *tree)
{
	arena_finish(&tree->arena);
	memset(tree, 0, sizeof *tree);
}
