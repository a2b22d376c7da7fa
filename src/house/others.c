/*
 * Whether a change of one point moves the verdict of another. It can where a branch starts at the
 * point, and where it is, was or becomes one of the draw-offs that stand for all others on a pipe
 * (tree.h). Nothing else of a point is looked at from elsewhere.
 */
#include "work.h"

#include <string.h>

bool judge_feeds_others(const struct judge *judge, const struct item *point)
{
	const struct tree *tree = &judge->tree;

	/* by name: it may have come only now */
	for (size_t i = 1; i < tree->branch_end; i++) {
		const char *from = item_text(tree->pipe[i].item, judge->book->known.branch_from);

		if (from != NULL && strcmp(from, point->ref) == 0)
			return true;
	}
	return false;
}

static bool stands_for_others(const struct tree *tree, const struct item *point)
{
	for (size_t i = 0; i < tree->pipe_count * tree->part_count; i++)
		if (tree->draw_off[i].first.point == point ||
		    tree->draw_off[i].second.point == point)
			return true;
	return false;
}

/* In the order of the file. Both are in the survey. */
static bool comes_before(const struct item *a, const struct item *b)
{
	const struct item *parent = a->parent;

	if (a->parent != b->parent) {
		a = a->parent;
		b = b->parent;
		parent = a->parent;
	}
	for (size_t i = 0; i < parent->child_count; i++)
		if (parent->child[i] == a || parent->child[i] == b)
			return parent->child[i] == a;
	return false;
}

/* Whether it is among the first two of its part on a pipe that feeds it; who is not is not further
 * up either. */
static bool would_stand(const struct tree *tree, const struct item *point, size_t pipe)
{
	const struct draw_offs *found =
	        &tree->draw_off[pipe * tree->part_count + tree_part(tree, point)];

	return found->second.point == NULL || comes_before(point, found->second.point);
}

static bool comes_to_stand(const struct tree *tree, const struct item *point)
{
	bool fed = false;

	if (point->parent == NULL || point->of == INDEX_NONE ||
	    !tree->survey->book->kind[point->of].draw_off)
		return false;
	for (unsigned i = 0; i < INLETS_MOST; i++) {
		struct feeds feeds;

		tree_named_feeds(tree, tree_supply_inlet(tree, point, i), &feeds);
		if (feeds.more)
			return true;
		for (size_t f = 0; f < feeds.count; f++)
			if (would_stand(tree, point, feeds.pipe[f]))
				return true;
		fed = fed || feeds.named;
	}
	return !fed && would_stand(tree, point, PIPE_MAIN);
}

bool judge_moves_others(const struct judge *judge, const struct item *point)
{
	return judge_feeds_others(judge, point) || stands_for_others(&judge->tree, point) ||
	       comes_to_stand(&judge->tree, point);
}
