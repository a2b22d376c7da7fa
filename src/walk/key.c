#include "tundish/walk/key.h"

#include "tundish/base/text.h"

#include <string.h>

/* ORDER KEY: enum walk_key_name; NULL where no one word names it. */
static const char *const key_names[WALK_KEY_COUNT] = {
        [WALK_KEY_TEXT] = NULL,        [WALK_KEY_PASTE] = NULL,
        [WALK_KEY_CONTROL] = NULL,     [WALK_KEY_ENTER] = "Enter",
        [WALK_KEY_TAB] = "Tab",        [WALK_KEY_BACK_TAB] = "Shift-Tab",
        [WALK_KEY_ESCAPE] = "Esc",     [WALK_KEY_BACKSPACE] = "Backspace",
        [WALK_KEY_DELETE] = "Delete",  [WALK_KEY_UP] = "Up",
        [WALK_KEY_DOWN] = "Down",      [WALK_KEY_LEFT] = "Left",
        [WALK_KEY_RIGHT] = "Right",    [WALK_KEY_HOME] = "Home",
        [WALK_KEY_END] = "End",        [WALK_KEY_PAGE_UP] = "PgUp",
        [WALK_KEY_PAGE_DOWN] = "PgDn", [WALK_KEY_INTERRUPT] = "Ctrl-C",
};

static bool word_is(const char *word, size_t length, const char *name)
{
	return strlen(name) == length && memcmp(word, name, length) == 0;
}

/* Letters of a Ctrl are told apart by no terminal: kept in lower case. */
static const char *control_letter(char c)
{
	static const char letters[] = "abcdefghijklmnopqrstuvwxyz_\\]^@";

	if (c >= 'A' && c <= 'Z')
		c = (char)(c - 'A' + 'a');
	return c == '\0' ? NULL : strchr(letters, c);
}

bool walk_key_named(const char *word, size_t length, struct walk_key *out)
{
	static const char ctrl[] = "Ctrl-";
	size_t prefix = sizeof(ctrl) - 1;

	for (int name = 0; name < WALK_KEY_COUNT; name++) {
		if (key_names[name] != NULL && word_is(word, length, key_names[name])) {
			*out = (struct walk_key){.name = (enum walk_key_name)name};
			return true;
		}
	}
	if (word_is(word, length, "Space")) {
		*out = (struct walk_key){.name = WALK_KEY_TEXT, .text = " ", .length = 1};
		return true;
	}
	if (length == prefix + 1 && memcmp(word, ctrl, prefix) == 0) {
		const char *letter = control_letter(word[prefix]);

		*out = (struct walk_key){.name = WALK_KEY_CONTROL, .text = letter, .length = 1};
		return letter != NULL;
	}
	if (length == 0 || !text_is_utf8(word, length, NULL) ||
	    text_cluster(word, length, NULL) != length)
		return false;
	*out = (struct walk_key){.name = WALK_KEY_TEXT, .text = word, .length = length};
	return true;
}
