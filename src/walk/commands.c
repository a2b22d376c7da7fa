/*
 * A list of all that can be done in a view, to be narrowed by what is typed.
 */
#include "inside.h"

#include <stdlib.h>
#include <string.h>

static bool key_of(enum request request, struct walk_key *out)
{
	const char *keys = request_row(request)->keys;

	return walk_key_named(keys, strcspn(keys, " "), out);
}

/* What needs to know which of its keys was pressed can't be taken from a list; and there is no use
 * in listing the list. */
static bool is_listed(const struct walk *walk, enum request request, enum context context)
{
	const struct request_row *row = request_row(request);

	return (row->contexts & (unsigned)context) != 0 && request != REQUEST_PICK &&
	       request != REQUEST_ROOM && request != REQUEST_COMMANDS &&
	       request != REQUEST_INTERRUPT && walk_offers(walk, request);
}

void commands_open(struct walk *walk)
{
	struct arena *arena = &walk->chooser.arena;
	struct choices choices = {0};

	arena_reset(arena);
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if (is_listed(walk, (enum request)i, view_context(walk)))
			choice_add(arena, &choices, row->id,
			           arena_print(arena, "%s: %s", row->word, row->help),
			           arena_print(arena, "key %.*s", (int)strcspn(row->keys, " "),
			                       row->keys));
	}
	choose_open(walk, FOR_COMMAND, "What is to be done?", choices, false, NULL);
}

void commands_take(struct walk *walk, const char *id)
{
	for (int i = 0; i < REQUEST_COUNT; i++) {
		struct walk_key key;

		if (strcmp(request_row((enum request)i)->id, id) != 0 ||
		    !key_of((enum request)i, &key))
			continue;
		walk_request(walk, (enum request)i, &key);
		return;
	}
}
