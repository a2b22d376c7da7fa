/**
 * @file
 * Whether what somebody typed names a thing, and how well: by its id, its name, or another word that people have for it.
 */
#ifndef TUNDISH_BASE_MATCH_H
#define TUNDISH_BASE_MATCH_H

#include <stddef.h>

/** From best to worst. */
enum match {
	MATCH_WHOLE,  /* its id, its name or another word for it, and nothing more */
	MATCH_START,  /* its id or its name starts so */
	MATCH_WORD,   /* a word of its name does */
	MATCH_ALSO,   /* a word of what it is also called does */
	MATCH_WITHIN, /* somewhere in any of these: shown only where nothing is better */
	MATCH_NONE,
};

/** What a thing is called. */
struct called {
	const char *id, *name;
	const char *const *also; /* other words for it, @p also_count of them */
	size_t also_count;
};

/** ASCII case is ignored. @p length 0 is the start of everything. */
enum match match_called(const struct called *called, const char *typed, size_t length);

#endif
