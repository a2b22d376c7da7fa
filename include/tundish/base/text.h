/**
 * @file
 * Words and characters: UTF-8, what a terminal shows of it, and the word that was probably meant.
 *
 * Widths and clusters come from utf8proc, so they are the same in every locale.
 */
#ifndef TUNDISH_BASE_TEXT_H
#define TUNDISH_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

/** @return whether the @p length bytes of @p text are @p word, which ends in a NUL. */
static inline bool text_is(const char *text, size_t length, const char *word)
{
	for (size_t i = 0; i < length; i++)
		if (word[i] != text[i] || word[i] == '\0')
			return false;
	return word[length] == '\0';
}

/** The same whatever the case of ASCII letters in @p text; those of @p word are small. */
bool text_is_in_any_case(const char *text, size_t length, const char *word);

/** A letter of ASCII in its small form; any other byte as it is. */
static inline char text_small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/** Whether a text starts with the first @p length bytes of @p with, the case of ASCII letters aside. @p with has at least so
 * many; @p length 0 is the start of everything. */
bool text_starts(const char *text, const char *with, size_t length);

/** @return how many bytes at the start are ASCII: nearly always all of them. */
size_t text_ascii(const char *text, size_t length);

/** @return whether all @p length bytes are UTF-8; if not, @p bad_at (may be NULL) is the first bad byte's offset. */
bool text_is_utf8(const char *text, size_t length, size_t *bad_at);

/** @return how many of @p length bytes are left when a character cut short at the end is taken off. */
size_t text_whole(const char *text, size_t length);

/**
 * Whether the first character must not reach a terminal as it is, and is shown as `?`: control characters, line and
 * paragraph separators, what turns the direction of writing around, and a byte that is not UTF-8.
 */
bool text_is_control(const char *text, size_t length);

/**
 * The first grapheme cluster of a valid UTF-8 text: what one press of a key moves over or deletes.
 *
 * @p width  out, may be NULL: columns it takes on a terminal, 0 to 2; a control character counts 1 (shown as `?`).
 * @return   its bytes, 0 only for @p length 0.
 */
size_t text_cluster(const char *text, size_t length, int *width);

/** @return columns that a valid UTF-8 text takes on a terminal. */
int text_width(const char *text, size_t length);

/** @return how many bytes of @p text fit into @p columns, whole clusters only. */
size_t text_fit(const char *text, size_t length, int columns);

/**
 * Where to break a line of prose: @return how many bytes of @p text go on a line of @p columns, at a blank where
 * there is one; at least one cluster. The blanks at the break are not counted: the caller skips them. A blank is a
 * space, a tab or a newline; a newline always breaks.
 */
size_t text_wrap(const char *text, size_t length, int columns);

/**
 * The word that was probably meant.
 *
 * @return the nearest of @p words by edits (an exchange of neighbours counts one), NULL if none is within a third of
 *         the longer one's length. The first of equals wins. ASCII case is ignored.
 */
const char *text_nearest(const char *word, const char *const *words, size_t count);

#endif
