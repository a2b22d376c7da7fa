#include "language.h"

#include <string.h>

static bool is_word(const char *text, size_t length, const char *const *words)
{
	for (; *words; words++) {
		if (strlen(*words) == length && strncmp(*words, text, length) == 0)
			return true;
	}
	return false;
}

static enum language language_of_word(const char *word, size_t length)
{
	static const char *const of_rulebooks[] = {
	        "about", "questions", "kinds", "types", "urgency", "rows", "drop", "invent", NULL};
	static const char *const of_surveys[] = {"tundish", "premises",   "supply", "branches",
	                                         "rooms",   "amendments", NULL};

	if (is_word(word, length, of_rulebooks))
		return LANGUAGE_RULEBOOK;
	return is_word(word, length, of_surveys) ? LANGUAGE_SURVEY : LANGUAGE_UNKNOWN;
}

/*
 * No parsing: the file may be spoiled in any way. Block style has its top keys at the left edge; in
 * flow style the first word of a line will do.
 */
enum language language_of(const struct source *source)
{
	const char *at = source->text, *end = source->text + source->length;
	enum language language = LANGUAGE_UNKNOWN;

	if (source->length >= 3 && strncmp(at, "\xef\xbb\xbf", 3) == 0)
		at += 3;
	bool flow = at[strspn(at, " \t\r\n")] == '{';
	while (at < end) {
		const char *word = at + strspn(at, flow ? " \t{\"'" : "\"'");
		size_t length = strcspn(word, ":\"' \t\r\n");

		/* It has keys of both others (`questions`, `invent`). */
		if (length == 4 && strncmp(word, "quiz", 4) == 0 &&
		    (!flow || language == LANGUAGE_UNKNOWN))
			return LANGUAGE_QUIZ;
		if (language == LANGUAGE_UNKNOWN)
			language = language_of_word(word, length);
		at = memchr(at, '\n', (size_t)(end - at));
		at = at ? at + 1 : end;
	}
	return language;
}
