/* Private to src/assess: the words that a survey may use, found by hash. Filled once, when a rulebook is settled. */
#ifndef TUNDISH_ASSESS_WORDS_H
#define TUNDISH_ASSESS_WORDS_H

#include "tundish/assess/rulebook.h"

/* A word's sort is an enum scope, or one of these. */
enum { WORD_KIND = SCOPE_COUNT, WORD_TYPE };

struct word {
	const char *id; /* NULL: free */
	const char *at;
	uint32_t hash, length;
	uint16_t sort, owner, index;
};

struct word_table {
	struct word *word;
	size_t slots; /* a power of two, at least twice the words */
};

bool words_init(struct rulebook *book, size_t most);

/* The first of equals stays. */
void words_add(struct rulebook *book, unsigned sort, uint16_t owner, const char *at, const char *id, uint16_t index);

#endif
