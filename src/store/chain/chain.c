#include "chain.h"

#include <string.h>

const char amendments_key[] = "amendments", signed_off_key[] = "signed_off";

static const char rooms_key[] = "rooms";

/* -- digests ----------------------------------------------------------------------------------- */

static bool digest(const char *heading, const struct tree *node, const char *without,
                   struct arena *arena, struct digest *out)
{
	struct sink sink;
	bool ok;

	sink_to_memory(&sink);
	sink_text(&sink, heading);
	ok = canonical_write(node, without, arena, &sink) && !sink.failed;
	if (ok)
		*out = digest_of(sink.bytes, sink.count);
	sink_finish(&sink);
	return ok;
}

bool chain_state(const struct tree *root, struct arena *arena, struct digest *out)
{
	return digest("tundish state 1\n", root, amendments_key, arena, out);
}

bool chain_head(const char *before, const struct tree *amendment, struct arena *arena,
                struct digest *out)
{
	const char *heading =
	        arena_print(arena, "tundish amendment 1\n%s\n", *before ? before : "none");

	return heading && digest(heading, amendment, "head", arena, out);
}

/* -- parts ------------------------------------------------------------------------------------- */

static bool fill_part(struct chain_part *part, const char *name, const struct tree *node,
                      struct arena *arena)
{
	struct digest full;

	part->name = name;
	part->span = node->key ? node->key_span : (struct span){tree_entry_start(node), 1};
	if (!name || !digest("tundish part 1\n", node, NULL, arena, &full))
		return false;
	memcpy(part->digest, full.text, PART_LENGTH);
	return true;
}

static const char *room_name(const struct tree *room, size_t number, struct arena *arena)
{
	const struct tree *ref = tree_get(room, "ref");

	if (ref && ref->kind == EVENT_SCALAR)
		return arena_print(arena, "%s/%s", rooms_key, ref->text);
	return arena_print(arena, "%s/#%zu", rooms_key, number);
}

static bool is_rooms(const struct tree *node)
{
	return strcmp(node->key, rooms_key) == 0 && node->kind == EVENT_LIST;
}

static size_t count_parts(const struct tree *root)
{
	size_t count = 0;

	for (const struct tree *node = root->child; node; node = node->next) {
		count++;
		for (const struct tree *room = is_rooms(node) ? node->child : NULL; room;
		     room = room->next)
			count++;
	}
	return count;
}

struct chain_part *chain_parts(const struct tree *root, struct arena *arena, size_t *count)
{
	struct chain_part *part = arena_take(arena, count_parts(root) * sizeof(*part));
	bool ok = part != NULL;

	*count = 0;
	for (const struct tree *node = root->child; ok && node; node = node->next) {
		size_t number = 0;
		if (strcmp(node->key, amendments_key) == 0)
			continue;
		if (!is_rooms(node)) {
			ok = fill_part(&part[(*count)++], node->key, node, arena);
			continue;
		}
		for (const struct tree *room = node->child; ok && room; room = room->next)
			ok = fill_part(&part[(*count)++], room_name(room, ++number, arena), room,
			               arena);
	}
	return ok ? part : NULL;
}
