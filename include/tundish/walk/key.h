/**
 * @file
 * A key as the walk knows it, whoever read it: a terminal, a test, a script.
 */
#ifndef TUNDISH_WALK_KEY_H
#define TUNDISH_WALK_KEY_H

#include <stdbool.h>
#include <stddef.h>

/** ORDER KEY: key_names in walk/key.c. */
enum walk_key_name {
	WALK_KEY_TEXT,    /* what `text` holds was typed: one character, or its parts one after the
	                     other */
	WALK_KEY_PASTE,   /* `text` was pasted: never a command */
	WALK_KEY_CONTROL, /* Ctrl and the lower-case letter or sign in text[0] */
	WALK_KEY_ENTER,
	WALK_KEY_TAB,
	WALK_KEY_BACK_TAB,
	WALK_KEY_ESCAPE,
	WALK_KEY_BACKSPACE,
	WALK_KEY_DELETE,
	WALK_KEY_UP,
	WALK_KEY_DOWN,
	WALK_KEY_LEFT,
	WALK_KEY_RIGHT,
	WALK_KEY_HOME,
	WALK_KEY_END,
	WALK_KEY_PAGE_UP,
	WALK_KEY_PAGE_DOWN,
	WALK_KEY_INTERRUPT, /* Ctrl-C where it arrives as a signal */
	WALK_KEY_COUNT,
};

struct walk_key {
	enum walk_key_name name;
	const char *text; /* borrowed; TEXT, PASTE, CONTROL; need not be valid UTF-8 or free of
	                     control characters */
	size_t length;
};

/**
 * The key that a word names: `Enter`, `Shift-Tab`, `PgUp`, `Ctrl-A`, `Space`, or the character
 * itself.
 * @return false where it names none. `text` then borrows from @p word or static memory.
 */
bool walk_key_named(const char *word, size_t length, struct walk_key *out);

#endif
