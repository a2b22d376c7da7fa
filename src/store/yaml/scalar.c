#include "scalar.h"

#include "tundish/base/text.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* -- what others take for something else ---------------------------------------------- */

/* bool, null, merge and value of the types repository for YAML 1.1; bool and null of the core
 * schema of 1.2 */
static bool is_special_word(const char *text, size_t length)
{
	static const char *const words[] = {"y",  "n",   "yes",  "no", "true", "false",
	                                    "on", "off", "null", "~",  "<<",   "="};

	for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (text_is_in_any_case(text, length, words[i]))
			return true;
	return false;
}

/*
 * int, float and timestamp: rather too many than too few. Whatever starts like a number and goes on
 * with nothing but what numbers (in bases 2, 8, 10, 16 and 60), exponents and dates are made of.
 */
static bool looks_like_number(const char *text, size_t length)
{
	size_t start = text[0] == '-' || text[0] == '+' ? 1 : 0;

	if (start < length && text[start] == '.' && length - start == 4 &&
	    (text_is_in_any_case(text + start, 4, ".inf") ||
	     text_is_in_any_case(text + start, 4, ".nan")))
		return true;
	if (start == length || !((text[start] >= '0' && text[start] <= '9') || text[start] == '.'))
		return false;
	for (size_t i = start; i < length; i++)
		if (text[i] == '\0' ||
		    strchr("0123456789abcdefABCDEFxXoO_:.+-eEtTzZ \t", text[i]) == NULL)
			return false;
	return true;
}

/* Whether some reader of YAML 1.1 or 1.2 takes this for nothing, yes or no, a number, a date or a
 * merge key. */
static bool is_not_text(const char *text, size_t length)
{
	return length == 0 || is_special_word(text, length) || looks_like_number(text, length);
}

/* -- characters ----------------------------------------------------------------------- */

/* Of valid UTF-8. */
static uint32_t character(const char *text, size_t *bytes)
{
	unsigned char first = (unsigned char)text[0];
	uint32_t value;

	*bytes = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
	value = *bytes == 1 ? first : first & (0x7Fu >> *bytes);
	for (size_t i = 1; i < *bytes; i++)
		value = value << 6 | ((unsigned char)text[i] & 0x3Fu);
	return value;
}

/* Printable in YAML, and no line break in either version: NEL, LS and PS break lines in 1.1. */
static bool shows_as_itself(uint32_t c)
{
	return (c >= 0x20 && c <= 0x7E) ||
	       (c >= 0xA0 && c <= 0xFFFD && c != 0x2028 && c != 0x2029 && c != 0xFEFF) ||
	       c >= 0x10000;
}

bool scalar_shows(const char *text, size_t length)
{
	size_t bytes;

	for (size_t i = 0; i < length; i += bytes)
		if (!shows_as_itself(character(text + i, &bytes)))
			return false;
	return true;
}

static bool can_be_plain(const char *text, size_t length, bool in_flow)
{
	if (strchr("-?:,[]{}#&*!|>'\"%@` ", text[0]) != NULL || text[length - 1] == ' ' ||
	    text[length - 1] == ':')
		return false;
	if (length >= 3 && memcmp(text, "...", 3) == 0)
		return false;
	for (size_t i = 0; i < length; i++) {
		if (text[i] == ':' && (in_flow || text[i + 1] == ' '))
			return false;
		if (text[i] == '#' && text[i - 1] == ' ')
			return false;
		/* some readers take a ? anywhere between brackets for a key's */
		if (in_flow && strchr(",[]{}?", text[i]) != NULL)
			return false;
	}
	return true;
}

/* Read back as this number, date, yes or no by everybody: no octal, no sexagesimal, no sign but a
 * minus. */
static bool is_canonical(const char *text, size_t length)
{
	size_t start = text[0] == '-' ? 1 : 0;
	bool number = text[start] >= '0' && text[start] <= '9';

	if (start == length || text[length - 1] == '.' || text[length - 1] == '-')
		return false;
	if (text[start] == '0' && length > start + 1 && text[start + 1] != '.')
		return false;
	for (size_t i = start; i < length; i++)
		if (strchr(number ? "0123456789.-" : "abcdefghijklmnopqrstuvwxyz0123456789_",
		           text[i]) == NULL)
			return false;
	return number || start == 0;
}

/* -- writing -------------------------------------------------------------------------- */

static const char *single_quoted(const char *text, size_t length, struct arena *arena)
{
	char *out = arena_take(arena, length * 2 + 3), *to = out;

	if (out == NULL)
		return NULL;
	*to++ = '\'';
	for (size_t i = 0; i < length; i++) {
		if (text[i] == '\'')
			*to++ = '\'';
		*to++ = text[i];
	}
	*to++ = '\'';
	*to = '\0';
	return out;
}

static char *escaped(char *to, uint32_t c)
{
	static const char letters[][2] = {
	        {'\n', 'n' },
                {'\t', 't' },
                {'\r', 'r' },
                {'"',  '"' },
                {'\\', '\\'}
        };

	for (size_t i = 0; i < sizeof(letters) / sizeof(letters[0]); i++)
		if (c == (unsigned char)letters[i][0]) {
			*to++ = '\\';
			*to++ = letters[i][1];
			return to;
		}
	return to + sprintf(to, c <= 0xFF ? "\\x%02X" : "\\u%04X", (unsigned)c);
}

static const char *double_quoted(const char *text, size_t length, struct arena *arena)
{
	char *out = arena_take(arena, length * 6 + 3), *to = out;
	size_t bytes;

	if (out == NULL)
		return NULL;
	*to++ = '"';
	for (size_t i = 0; i < length; i += bytes) {
		uint32_t c = character(text + i, &bytes);

		if (c == '"' || c == '\\' || !shows_as_itself(c)) {
			to = escaped(to, c);
		} else {
			memcpy(to, text + i, bytes);
			to += bytes;
		}
	}
	*to++ = '"';
	*to = '\0';
	return out;
}

const char *scalar_write(const char *text, size_t length, struct scalar_style style,
                         struct arena *arena)
{
	if (style.quote == '"' || !scalar_shows(text, length))
		return double_quoted(text, length, arena);
	if (style.quote == 0 && length > 0) {
		if (style.typed && is_canonical(text, length))
			return arena_copy(arena, text, length);
		if (!is_not_text(text, length) && can_be_plain(text, length, style.in_flow))
			return arena_copy(arena, text, length);
	}
	return single_quoted(text, length, arena);
}
