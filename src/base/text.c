#include "tundish/base/text.h"

#include <stdint.h>
#include <string.h>
#include <utf8proc.h>

enum { NEAREST_LONGEST = 96 }; /* bytes; no word of ours is longer */

/* The first code point; -1 for a byte that starts none, which then is a character of its own. */
static size_t decode(const char *text, size_t length, int32_t *point)
{
	unsigned char first = (unsigned char)text[0];

	if (first < 0x80) {
		*point = first;
		return 1;
	}
	utf8proc_ssize_t bytes =
	        utf8proc_iterate((const utf8proc_uint8_t *)text, (utf8proc_ssize_t)length, point);

	if (bytes > 0)
		return (size_t)bytes;
	*point = -1;
	return 1;
}

bool text_is_in_any_case(const char *text, size_t length, const char *word)
{
	for (size_t i = 0; i < length; i++) {
		char c = text_small(text[i]);

		if (c != word[i] || c == '\0')
			return false;
	}
	return word[length] == '\0';
}

bool text_starts(const char *text, const char *with, size_t length)
{
	for (size_t i = 0; i < length; i++)
		if (text_small(text[i]) != text_small(with[i]))
			return false;
	return true;
}

size_t text_ascii(const char *text, size_t length)
{
	uint64_t eight;
	size_t at = 0;

	while (at + sizeof eight <= length) {
		memcpy(&eight, text + at, sizeof eight);
		if (eight & UINT64_C(0x8080808080808080))
			break;
		at += sizeof eight;
	}
	while (at < length && (unsigned char)text[at] < 0x80)
		at++;
	return at;
}

bool text_is_utf8(const char *text, size_t length, size_t *bad_at)
{
	for (size_t at = text_ascii(text, length); at < length;) {
		int32_t point;
		size_t bytes = decode(text + at, length - at, &point);

		if (point < 0) {
			if (bad_at)
				*bad_at = at;
			return false;
		}
		at += bytes;
	}
	return true;
}

size_t text_whole(const char *text, size_t length)
{
	size_t back = 0;

	while (back < 3 && back < length && (text[length - 1 - back] & 0xC0) == 0x80)
		back++;
	if (back == length)
		return length;
	unsigned char lead = (unsigned char)text[length - 1 - back];
	size_t needs = lead < 0xC0 ? 0 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : lead < 0xF8 ? 3 : 0;

	return back < needs ? length - 1 - back : length;
}

/* Also what would break the line or turn the order of the rest around. */
static bool is_control(int32_t point)
{
	return point < 0x20 || (point >= 0x7F && point < 0xA0) || point == 0x2028 ||
	       point == 0x2029 || (point >= 0x202A && point <= 0x202E) ||
	       (point >= 0x2066 && point <= 0x2069);
}

bool text_is_control(const char *text, size_t length)
{
	int32_t point;

	if (length == 0)
		return false;
	decode(text, length, &point);
	return is_control(point);
}

static int point_width(int32_t point)
{
	if (point < 0x7F || is_control(point))
		return 1;
	int width = utf8proc_charwidth(point);

	return width < 0 ? 0 : width > 2 ? 2 : width;
}

static bool is_regional(int32_t point)
{
	return point >= 0x1F1E6 && point <= 0x1F1FF;
}

size_t text_cluster(const char *text, size_t length, int *width)
{
	int32_t point, next;
	int widest = 0;
	size_t end = 0;

	if (length > 0) {
		end = decode(text, length, &point);
		widest = point_width(point);
	}
	/* The usual case needs no tables: a byte of ASCII before another, but CR before LF. */
	bool plain =
	        end == 1 && (length == 1 || ((unsigned char)text[1] < 0x80 && text[0] != '\r'));
	utf8proc_int32_t state = 0;

	while (!plain && end > 0 && point >= 0 && end < length) {
		size_t bytes = decode(text + end, length - end, &next);

		if (next < 0 || utf8proc_grapheme_break_stateful(point, next, &state))
			break;
		int wide = is_regional(point) && is_regional(next) ? 2 : point_width(next);

		widest = wide > widest ? wide : widest;
		end += bytes;
		point = next;
	}
	if (width)
		*width = widest;
	return end;
}

int text_width(const char *text, size_t length)
{
	int total = 0;

	for (size_t at = 0; at < length;) {
		int width;

		at += text_cluster(text + at, length - at, &width);
		total += width;
	}
	return total;
}

size_t text_fit(const char *text, size_t length, int columns)
{
	size_t at = 0;

	while (at < length) {
		int width;
		size_t bytes = text_cluster(text + at, length - at, &width);

		if (width > columns)
			break;
		columns -= width;
		at += bytes;
	}
	return at;
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n';
}

size_t text_wrap(const char *text, size_t length, int columns)
{
	size_t at = 0, word_end = 0; /* word_end: of the last word that fits whole */

	while (at < length) {
		int width;
		size_t bytes = text_cluster(text + at, length - at, &width);

		if (is_blank(text[at])) {
			if (at > 0 && !is_blank(text[at - 1]))
				word_end = at;
			if (word_end > 0 && (text[at] == '\n' || width > columns))
				return word_end;
		}
		if (width > columns)
			break;
		columns -= width;
		at += bytes;
	}
	if (at == length && at > 0 && !is_blank(text[at - 1]))
		return at;
	if (word_end > 0)
		return word_end;
	return at > 0 ? at : text_cluster(text, length, NULL);
}

static size_t least(size_t a, size_t b)
{
	return a < b ? a : b;
}

/* Insert, delete, change, or exchange two neighbours: one edit each. Both at most NEAREST_LONGEST
 * bytes. */
static size_t edits(const char *a, size_t a_length, const char *b, size_t b_length)
{
	size_t rows[3][NEAREST_LONGEST + 1];
	size_t *two_back = rows[0], *back = rows[1], *now = rows[2];

	for (size_t j = 0; j <= b_length; j++)
		back[j] = two_back[j] = j;
	for (size_t i = 1; i <= a_length; i++) {
		now[0] = i;
		for (size_t j = 1; j <= b_length; j++) {
			size_t change = text_small(a[i - 1]) != text_small(b[j - 1]);

			now[j] = least(least(back[j], now[j - 1]) + 1, back[j - 1] + change);
			if (i > 1 && j > 1 && text_small(a[i - 1]) == text_small(b[j - 2]) &&
			    text_small(a[i - 2]) == text_small(b[j - 1]))
				now[j] = least(now[j], two_back[j - 2] + 1);
		}
		size_t *spare = two_back;

		two_back = back;
		back = now;
		now = spare;
	}
	return back[b_length];
}

const char *text_nearest(const char *word, const char *const *words, size_t count)
{
	size_t length = strlen(word);
	size_t fewest = SIZE_MAX;
	const char *nearest = NULL;

	for (size_t i = 0; i < count; i++) {
		size_t other = strlen(words[i]);

		if (length > NEAREST_LONGEST || other > NEAREST_LONGEST)
			continue;
		size_t apart = edits(word, length, words[i], other);

		if (apart < fewest && apart * 3 <= (length > other ? length : other)) {
			fewest = apart;
			nearest = words[i];
		}
	}
	return nearest;
}
