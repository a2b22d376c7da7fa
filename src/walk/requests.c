#include "tundish/walk/requests.h"

#include "tundish/base/text.h"

#include <string.h>

static const struct request_row rows[REQUEST_COUNT] = {
#define REQUEST_ROW(id, contexts, keys, word, footer, help)                                        \
	[REQUEST_##id] = {#id, contexts, keys, word, footer, help},
        REQUESTS(REQUEST_ROW)
#undef REQUEST_ROW
};

const struct request_row *request_row(enum request request)
{
	return request < REQUEST_COUNT ? &rows[request] : NULL;
}

static bool same_key(const struct walk_key *a, const struct walk_key *b, bool exactly)
{
	if (a->name != b->name)
		return false;
	if (a->name != WALK_KEY_TEXT && a->name != WALK_KEY_CONTROL)
		return true;
	if (a->length != 1 || b->length != 1)
		return false;
	return exactly ? a->text[0] == b->text[0] : text_small(a->text[0]) == text_small(b->text[0]);
}

static bool is_among(const struct walk_key *key, const char *words, bool exactly)
{
	while (*words != '\0') {
		size_t length = strcspn(words, " ");
		struct walk_key named;

		if (walk_key_named(words, length, &named) && same_key(key, &named, exactly))
			return true;
		words += length;
		words += strspn(words, " ");
	}
	return false;
}

enum request request_of_key(const struct walk_key *key, enum context context)
{
	if (key->name == WALK_KEY_PASTE)
		return REQUEST_NONE;
	for (int exactly = 1; exactly >= 0; exactly--)
		for (int i = 0; i < REQUEST_COUNT; i++)
			if ((rows[i].contexts & context) != 0 &&
			    is_among(key, rows[i].keys, exactly == 1))
				return (enum request)i;
	return REQUEST_NONE;
}

/* ORDER CONTEXT: enum context. */
const char *context_name(enum context context)
{
	static const char *const names[] = {
	        "the house", "a form",      "the verdict",  "a list to choose from",
	        "a field",   "being asked", "the key list", "what was found", "a task", "the house of a quiz", "a form of a quiz",
	};

	for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++)
		if ((unsigned)context == 1u << i)
			return names[i];
	return "anywhere";
}
