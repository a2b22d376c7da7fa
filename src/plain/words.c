/*
 * What a line means: a command, a request by its word or its key, one of the choices.
 */
#include "inside.h"

#include "tundish/base/text.h"

#include <string.h>

bool same_word(const char *a, const char *b)
{
	return strlen(a) == strlen(b) && text_starts(a, b, strlen(a));
}

size_t number_of(const char *text)
{
	size_t number = 0;

	if (text[0] == '\0' || strlen(text) > 6)
		return 0;
	for (; *text != '\0'; text++) {
		if (*text < '0' || *text > '9')
			return 0;
		number = number * 10 + (size_t)(*text - '0');
	}
	return number;
}

size_t numbers_of(const char *text, size_t *number, size_t most)
{
	size_t count = 0;

	for (;;) {
		char digits[8];
		size_t length = strspn(text, "0123456789");

		if (length == 0 || length >= sizeof(digits) || count == most)
			return 0;
		memcpy(digits, text, length);
		digits[length] = '\0';
		number[count++] = number_of(digits);
		text += length;
		if (*text == '\0')
			return count;
		length = strspn(text, ", ");
		if (length == 0)
			return 0;
		text += length;
	}
}

/* -- commands and requests ------------------------------------------------------------------- */

enum command command_of(const char *text, size_t *number)
{
	static const struct {
		const char *word;
		enum command command;
	} words[] = {
	        {"b",    COMMAND_BACK},
                {"list", COMMAND_LIST},
                {"q",    COMMAND_QUIT},
	        {"quit", COMMAND_QUIT},
                {"?",    COMMAND_HELP},
                {"s",    COMMAND_SAVE},
	};

	*number = 0;
	if (text_small(text[0]) == 'j' && text[1] == ' ') {
		*number = number_of(text + 1 + strspn(text + 1, " "));
		return *number == 0 ? COMMAND_NONE : COMMAND_JUMP;
	}
	for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (same_word(words[i].word, text))
			return words[i].command;
	return COMMAND_NONE;
}

static bool is_key(const char *keys, const char *text, bool exactly)
{
	while (*keys != '\0') {
		size_t length = strcspn(keys, " ");

		if (strlen(text) == length &&
		    (exactly ? memcmp(keys, text, length) == 0 : text_starts(keys, text, length)))
			return true;
		keys += length;
		keys += strspn(keys, " ");
	}
	return false;
}

static bool is_numbered(enum request request)
{
	return request == REQUEST_PICK || request == REQUEST_ROOM;
}

/* Words first: a key of one thing may be the word of another. N is another key than n only where
 * both are keys. */
enum { BY_WORD, BY_KEY, BY_LETTER, WAYS };

static bool is_meant(const struct request_row *row, const char *text, int way)
{
	if (way == BY_WORD)
		return row->word[0] != '\0' && same_word(row->word, text);
	return is_key(row->keys, text, way == BY_KEY);
}

static enum request request_among(const char *text, enum context context, int way, bool anywhere)
{
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if ((row->contexts & context) != 0 && (row->contexts == IN_ALL) == anywhere &&
		    !is_numbered((enum request)i) && is_meant(row, text, way))
			return (enum request)i;
	}
	return REQUEST_NONE;
}

enum request request_of_word(const char *text, enum context context)
{
	/* what is meant for here comes before what is meant for anywhere */
	for (int way = 0; way < WAYS; way++) {
		for (int anywhere = 0; anywhere <= 1; anywhere++) {
			enum request request = request_among(text, context, way, anywhere == 1);

			if (request != REQUEST_NONE)
				return request;
		}
	}
	/* what Enter does has two names, and nobody should have to know which is which */
	if (context == IN_FORM && same_word(text, "open"))
		return REQUEST_ANSWER;
	return REQUEST_NONE;
}

enum request numbered_request(const char *text, enum context context, size_t *number)
{
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);
		size_t length = strlen(row->word);

		if ((row->contexts & context) == 0 || !is_numbered((enum request)i) ||
		    strlen(text) < length || !text_starts(row->word, text, length))
			continue;
		if (text[length] == '\0' || text[length] == ' ') {
			*number = number_of(text + length + strspn(text + length, " "));
			return (enum request)i;
		}
	}
	return REQUEST_NONE;
}

/* -- choices --------------------------------------------------------------------------------- */

size_t choice_named(const struct told_choice *choice, size_t count, const char *text)
{
	size_t number = number_of(text);

	/* a digit is what it is on the screen, though an id be one too */
	if (number > 0 && number <= count)
		return number;
	for (size_t i = 0; i < count; i++)
		if (same_word(choice[i].id, text) || same_word(choice[i].label, text))
			return i + 1;
	return 0;
}

size_t choice_begun(const struct told_choice *choice, size_t count, const char *text)
{
	size_t found = 0, length = strlen(text);

	for (size_t i = 0; i < count; i++) {
		if (strlen(choice[i].label) < length || !text_starts(choice[i].label, text, length))
			continue;
		if (found > 0)
			return 0;
		found = i + 1;
	}
	return found;
}
