#include "tree.h"

#include "tundish/base/text.h"

#include <stdint.h>
#include <string.h>

enum { DRAW_OFFS_MOST = 4000000 }; /* pipes times parts: 128 MiB */

/* -- items by their numbers ------------------------------------------------------------- */

struct numbered {
	const struct item *item; /* NULL: free */
	size_t index;
};

static struct numbered *slot_of(const struct tree *tree, const struct item *item)
{
	size_t at = (size_t)((uintptr_t)item / sizeof(max_align_t) * UINT32_C(0x9E3779B1));

	for (;; at++) {
		struct numbered *slot = &tree->numbered[at & (tree->numbered_size - 1)];

		if (!slot->item || slot->item == item)
			return slot;
	}
}

static void number(struct tree *tree, const struct item *item, size_t index)
{
	*slot_of(tree, item) = (struct numbered){item, index};
}

size_t tree_inside(const struct tree *tree, const struct item *point)
{
	const struct numbered *slot = slot_of(tree, point);

	return slot->item ? slot->index : PIPE_MAIN;
}

size_t tree_part(const struct tree *tree, const struct item *item)
{
	const struct item *part = survey_part(tree->survey, item);

	return part ? slot_of(tree, part)->index : 0;
}

/* -- what feeds an inlet ---------------------------------------------------------------- */

/* @return whether a name stands for a pipe; then @p out is it. */
static bool find_pipe(const struct tree *tree, const char *name, size_t length, size_t *out)
{
	const struct item *branch;

	*out = PIPE_MAIN;
	if (text_is(name, length, "main"))
		return true;
	branch = survey_find(tree->survey, name, length);
	if (!branch || branch->scope != SCOPE_BRANCH)
		return false;
	*out = slot_of(tree, branch)->index;
	return true;
}

static const char *names_of_feeds(const struct tree *tree, const struct item *inlet)
{
	const char *names = inlet ? item_text(inlet, tree->survey->book->known.inlet_fed_by) : NULL;

	return names ? names : "";
}

/* The next pipe of names with commas between them. @return false where there is none any more. */
static bool next_named(const struct tree *tree, const char **names, size_t *pipe)
{
	while (**names) {
		const char *name = *names;
		size_t length = strcspn(name, ",");

		*names += length + strspn(name + length, ", ");
		if (find_pipe(tree, name, length, pipe))
			return true;
	}
	return false;
}

const struct item *tree_supply_inlet(const struct tree *tree, const struct item *point,
                                     unsigned index)
{
	const struct kind *kind;

	if (point->of == INDEX_NONE)
		return NULL;
	kind = &tree->survey->book->kind[point->of];
	if (index >= kind->inlet_count || kind->inlet[index].waste)
		return NULL;
	for (size_t i = 0; i < point->child_count; i++)
		if (point->child[i]->scope == SCOPE_INLET &&
		    strcmp(point->child[i]->ref, kind->inlet[index].id) == 0)
			return point->child[i];
	return NULL;
}

static void add_feed(struct feeds *feeds, size_t pipe)
{
	for (size_t i = 0; i < feeds->count; i++)
		if (feeds->pipe[i] == pipe)
			return;
	if (feeds->count < FEEDS_MOST)
		feeds->pipe[feeds->count++] = pipe;
	else
		feeds->more = true;
}

/* Marks all that comes from a pipe, and the pipe itself. */
static void mark_what_comes_from(const struct tree *tree, size_t from)
{
	for (size_t n = 0; n < tree->pipe_count; n++) {
		struct pipe *pipe = &tree->pipe[tree->order[n]];

		pipe->comes = tree->order[n] == from;
		for (size_t i = 0; i < pipe->up_count && !pipe->comes; i++)
			pipe->comes = tree->pipe[pipe->up[i]].comes;
	}
}

void tree_named_feeds(const struct tree *tree, const struct item *inlet, struct feeds *out)
{
	const char *names = names_of_feeds(tree, inlet);
	size_t pipe;

	out->count = 0;
	out->more = false;
	out->answered = *names != '\0';
	while (!out->more && next_named(tree, &names, &pipe))
		add_feed(out, pipe);
	out->named = out->count > 0;
}

void tree_feeds(const struct tree *tree, const struct item *point, const struct item *inlet,
                struct feeds *out)
{
	size_t inside = tree_inside(tree, point);

	tree_named_feeds(tree, inlet, out);
	if (out->named)
		return;
	if (inside != PIPE_MAIN)
		mark_what_comes_from(tree, inside);
	for (size_t i = 0; i < tree->branch_end && !out->more; i++)
		if (tree->pipe[i].like == i && !(inside != PIPE_MAIN && tree->pipe[i].comes))
			add_feed(out, i);
}

/* -- building: pipes, and what feeds them ------------------------------------------------ */

static bool make_room(struct tree *tree, size_t branches, size_t parts)
{
	size_t pipes = 2 * branches + 1; /* each could come from a point of its own */

	tree->numbered_size = 16;
	while (tree->numbered_size < (pipes + parts) * 2)
		tree->numbered_size *= 2;
	tree->numbered = arena_take(&tree->arena, tree->numbered_size * sizeof *tree->numbered);
	tree->pipe = arena_take(&tree->arena, pipes * sizeof *tree->pipe);
	tree->order = arena_take(&tree->arena, pipes * sizeof *tree->order);
	tree->part = arena_take(&tree->arena, (parts + 1) * sizeof(struct item *));
	return tree->numbered && tree->pipe && tree->order && tree->part;
}

static bool list_pipes(struct tree *tree)
{
	const struct item *premises = tree->survey->premises;

	if (!make_room(tree, item_children(premises, SCOPE_BRANCH),
	               item_children(premises, SCOPE_PART)))
		return false;
	tree->part_count = tree->pipe_count = 1;
	for (size_t c = 0; c < premises->child_count; c++) {
		const struct item *child = premises->child[c];

		if (child->scope == SCOPE_PART) {
			number(tree, child, tree->part_count);
			tree->part[tree->part_count++] = child;
		} else if (child->scope == SCOPE_BRANCH) {
			number(tree, child, tree->pipe_count);
			tree->pipe[tree->pipe_count++].item = child;
		}
	}
	tree->branch_end = tree->pipe_count;
	return true;
}

/* What a branch comes from. One whose source is not known, or names nothing, counts as fed by the
 * supply pipe: nothing stands in its way. */
static size_t source_of(struct tree *tree, const struct item *branch)
{
	const char *from = item_text(branch, tree->survey->book->known.branch_from);
	const struct item *point;
	size_t pipe;

	if (!from || find_pipe(tree, from, strlen(from), &pipe))
		return from ? pipe : PIPE_MAIN;
	point = survey_find(tree->survey, from, strlen(from));
	if (!point || point->scope != SCOPE_POINT)
		return PIPE_MAIN;
	pipe = tree_inside(tree, point);
	if (pipe == PIPE_MAIN) {
		pipe = tree->pipe_count++;
		tree->pipe[pipe].item = point;
		number(tree, point, pipe);
	}
	return pipe;
}

static bool add_up(struct tree *tree, struct pipe *pipe, size_t *room, size_t up)
{
	size_t *grown = arena_grow(&tree->arena, pipe->up, pipe->up_count, room, sizeof *grown);

	if (!grown)
		return false;
	pipe->up = grown;
	grown[pipe->up_count++] = up;
	return true;
}

static bool join_point(struct tree *tree, struct pipe *pipe)
{
	size_t room = 0, up;

	for (unsigned i = 0; i < INLETS_MOST; i++) {
		const char *names = names_of_feeds(tree, tree_supply_inlet(tree, pipe->item, i));

		while (next_named(tree, &names, &up))
			if (!add_up(tree, pipe, &room, up))
				return false;
	}
	return pipe->up_count > 0 || add_up(tree, pipe, &room, PIPE_MAIN);
}

static bool join_pipes(struct tree *tree)
{
	for (size_t i = 1; i < tree->branch_end; i++) {
		struct pipe *pipe = &tree->pipe[i];

		pipe->up = arena_take(&tree->arena, sizeof *pipe->up);
		if (!pipe->up)
			return false;
		pipe->up_count = 1;
		pipe->up[0] = source_of(tree, pipe->item);
	}
	for (size_t i = tree->branch_end; i < tree->pipe_count; i++)
		if (!join_point(tree, &tree->pipe[i]))
			return false;
	return true;
}

/**
 * Puts a pipe in its place after all that feeds it, without recursion: a survey may have more branches, one from the other, than
 * a stack holds. A loop (the walk may have one until it is mended) is cut where it closes: that pipe then counts as fed by
 * the supply.
 *
 * @p way  room for all pipes
 */
static void place(struct tree *tree, size_t i, size_t *way, size_t *placed)
{
	size_t length = 0;

	if (!tree->pipe[i].placed)
		way[length++] = i;
	while (length > 0) {
		struct pipe *pipe = &tree->pipe[way[length - 1]];
		size_t *up;

		pipe->on_the_way = true;
		if (pipe->up_done == pipe->up_count) {
			pipe->on_the_way = false;
			pipe->placed = true;
			tree->order[(*placed)++] = way[--length];
			continue;
		}
		up = &pipe->up[pipe->up_done++];
		if (tree->pipe[*up].on_the_way)
			*up = PIPE_MAIN;
		if (!tree->pipe[*up].placed)
			way[length++] = *up;
	}
}

static bool put_in_order(struct tree *tree)
{
	size_t *way = arena_take(&tree->arena, tree->pipe_count * sizeof *way);
	size_t placed = 0;

	if (!way)
		return false;
	for (size_t i = 0; i < tree->pipe_count; i++)
		place(tree, i, way, &placed);
	return true;
}

static void find_likes(struct tree *tree)
{
	for (size_t n = 0; n < tree->pipe_count; n++) {
		size_t i = tree->order[n];
		struct pipe *pipe = &tree->pipe[i];

		pipe->like = i;
		if (i != PIPE_MAIN && i < tree->branch_end && pipe->up[0] < tree->branch_end &&
		    item_child(pipe->item, SCOPE_PROTECTION, 0) == NULL)
			pipe->like = tree->pipe[pipe->up[0]].like;
	}
}

/* -- building: who drinks from where ------------------------------------------------------ */

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

static void note_point(struct tree *tree, const struct item *point, size_t order)
{
	struct draw_off draw_off = {point, order};
	size_t part, pipe;
	bool fed = false;

	if (point->of == INDEX_NONE || !tree->survey->book->kind[point->of].draw_off)
		return;
	part = tree_part(tree, point);
	for (unsigned i = 0; i < INLETS_MOST; i++) {
		const char *names = names_of_feeds(tree, tree_supply_inlet(tree, point, i));

		while (next_named(tree, &names, &pipe)) {
			note_draw_off(tree, pipe, part, draw_off);
			fed = true;
		}
	}
	if (!fed)
		note_draw_off(tree, PIPE_MAIN, part, draw_off);
}

/* What drinks from a pipe drinks from what feeds it. */
static void pass_up(struct tree *tree, size_t i)
{
	const struct pipe *pipe = &tree->pipe[i];

	for (size_t u = 0; u < pipe->up_count; u++)
		for (size_t p = 0; p < tree->part_count; p++) {
			const struct draw_offs *found = &tree->draw_off[i * tree->part_count + p];

			note_draw_off(tree, pipe->up[u], p, found->first);
			note_draw_off(tree, pipe->up[u], p, found->second);
		}
}

static bool find_draw_offs(struct tree *tree, struct err *err)
{
	const struct item *premises = tree->survey->premises;
	size_t order = 0;

	if (tree->pipe_count > DRAW_OFFS_MOST / tree->part_count) {
		err_set(err, ERR_TEXT,
		        "%zu branches, and points that they come from, for %zu parts: more than "
		        "can be followed",
		        tree->pipe_count - 1, tree->part_count - 1);
		return false;
	}
	tree->draw_off = arena_take(&tree->arena,
	                            tree->pipe_count * tree->part_count * sizeof *tree->draw_off);
	if (!tree->draw_off)
		return false;
	for (size_t r = 0; r < premises->child_count; r++) {
		const struct item *room = premises->child[r];

		for (size_t p = 0; room->scope == SCOPE_ROOM && p < room->child_count; p++)
			if (room->child[p]->scope == SCOPE_POINT)
				note_point(tree, room->child[p], ++order);
	}
	for (size_t n = tree->pipe_count; n-- > 0;)
		pass_up(tree, tree->order[n]);
	return true;
}

bool tree_build(struct tree *tree, const struct survey *survey, struct err *err)
{
	arena_reset(&tree->arena);
	tree->survey = survey;
	if (!list_pipes(tree) || !join_pipes(tree) || !put_in_order(tree))
		goto no_memory;
	find_likes(tree);
	if (find_draw_offs(tree, err))
		return true;
no_memory:
	err_set(err, ERR_MEMORY, "not enough memory for what feeds what");
	return false;
}

void tree_finish(struct tree *tree)
{
	arena_finish(&tree->arena);
	memset(tree, 0, sizeof *tree);
}
