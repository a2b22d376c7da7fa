/* What a case says in `x-expect` (tests/cases/README.md): a YAML map in braces, read as text, so
 * that the runner depends on no reader of the program that it tests. */
#ifndef TUNDISH_TESTS_EXPECT_H
#define TUNDISH_TESTS_EXPECT_H

#include <stdbool.h>
#include <stddef.h>

enum { BODY_MOST = 4000 };

/** Some bytes of an expectation: a word, a list or a map with its brackets, blanks cut off. */
struct piece {
	const char *at;
	size_t length;
};

/** One outlet's, its line ends made blanks. @p whole is the map with its braces. */
struct expectation {
	char ref[40], body[BODY_MOST];
	struct piece whole;
};

/**
 * The next expectation from @p from on, of the outlet whose `ref` stands last before it.
 *
 * @return where it ends, NULL when there is none. One that is too long or does not end has an empty
 *         map.
 */
const char *expect_next(const char *text, const char *from, struct expectation *out);

/** Entry @p index of a map or a list, or of a word as a list of one. @return false past the end. */
bool piece_entry(struct piece piece, size_t index, struct piece *out);

/** `KEY: VALUE` of a map's entry. @return false when it has no colon. */
bool piece_split(struct piece entry, struct piece *key, struct piece *value);

/** The value of @p key in a map. */
bool piece_value(struct piece map, const char *key, struct piece *out);

bool piece_is(struct piece piece, const char *word);

#endif
