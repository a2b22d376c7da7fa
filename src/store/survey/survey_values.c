#include "tundish/store/survey_values.h"

#include "../yaml/tree.h"

static size_t count_values(const struct tree *node)
{
	size_t count = node->kind == EVENT_SCALAR && !tree_is_empty(node);

	for (const struct tree *child = node->child; child; child = child->next)
		count += count_values(child);
	return count;
}

bool survey_values(const struct source *source, struct survey_values *out, struct err *err)
{
	struct arena arena = {0};
	struct tree_text tree;
	bool ok = tree_read_whole(&tree, source, &arena, err);

	*out = (struct survey_values){0};
	if (ok) {
		out->values = tree.root ? count_values(tree.root) : 0;
		out->comments = tree.comment_count;
	}
	arena_finish(&arena);
	return ok;
}
