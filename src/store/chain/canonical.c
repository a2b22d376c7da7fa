#include "canonical.h"

#include <stdlib.h>
#include <string.h>

static void write_text(struct sink *out, const char *text, size_t length)
{
	sink_print(out, "s%zu:", length);
	sink_bytes(out, text, length);
}

static int by_key(const void *a, const void *b)
{
	const struct tree *const *one = a, *const *other = b;

	return strcmp((*one)->key, (*other)->key);
}

static bool write_map(const struct tree *map, const char *without, struct arena *arena,
                      struct sink *out)
{
	const struct tree **entry;
	size_t count = 0, kept = 0;

	for (const struct tree *child = map->child; child; child = child->next)
		count++;
	entry = arena_take(arena, count * sizeof(*entry));
	if (!entry)
		return false;
	for (const struct tree *child = map->child; child; child = child->next) {
		if (!without || strcmp(child->key, without) != 0)
			entry[kept++] = child;
	}
	if (kept > 1)
		qsort(entry, kept, sizeof(*entry), by_key);
	sink_print(out, "m%zu:", kept);
	for (size_t i = 0; i < kept; i++) {
		write_text(out, entry[i]->key, strlen(entry[i]->key));
		if (!canonical_write(entry[i], NULL, arena, out))
			return false;
	}
	return true;
}

static bool write_list(const struct tree *list, struct arena *arena, struct sink *out)
{
	size_t count = 0;

	for (const struct tree *child = list->child; child; child = child->next)
		count++;
	sink_print(out, "l%zu:", count);
	for (const struct tree *child = list->child; child; child = child->next) {
		if (!canonical_write(child, NULL, arena, out))
			return false;
	}
	return true;
}

/* Recursion ends at EVENTS_DEPTH_MOST. */
bool canonical_write(const struct tree *node, const char *without, struct arena *arena,
                     struct sink *out)
{
	if (!node || tree_is_empty(node)) {
		sink_text(out, "n");
		return true;
	}
	if (node->kind == EVENT_MAP)
		return write_map(node, without, arena, out);
	if (node->kind == EVENT_LIST)
		return write_list(node, arena, out);
	write_text(out, node->text, node->length);
	return true;
}
