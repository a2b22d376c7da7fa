#include "tundish/base/match.h"

#include "tundish/base/text.h"

#include <stdbool.h>
#include <string.h>

static bool is_whole(const char *text, const char *typed, size_t length)
{
	return length > 0 && text_starts(text, typed, length) && text[length] == '\0';
}

static bool holds(const char *text, const char *typed, size_t length, bool at_word)
{
	bool start = true;

	for (; *text != '\0'; text++) {
		if ((start || !at_word) && text_starts(text, typed, length))
			return true;
		start = strchr(" -,/(", *text) != NULL;
	}
	return false;
}

static bool also_holds(const struct called *called, const char *typed, size_t length, bool at_word)
{
	for (size_t i = 0; i < called->also_count; i++)
		if (holds(called->also[i], typed, length, at_word))
			return true;
	return false;
}

static bool named_whole(const struct called *called, const char *typed, size_t length)
{
	for (size_t i = 0; i < called->also_count; i++)
		if (is_whole(called->also[i], typed, length))
			return true;
	return is_whole(called->id, typed, length) || is_whole(called->name, typed, length);
}

enum match match_called(const struct called *called, const char *typed, size_t length)
{
	if (named_whole(called, typed, length))
		return MATCH_WHOLE;
	if (text_starts(called->name, typed, length) || text_starts(called->id, typed, length))
		return MATCH_START;
	if (holds(called->name, typed, length, true))
		return MATCH_WORD;
	if (also_holds(called, typed, length, true))
		return MATCH_ALSO;
	if (holds(called->name, typed, length, false) || also_holds(called, typed, length, false))
		return MATCH_WITHIN;
	return MATCH_NONE;
}
