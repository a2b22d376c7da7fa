#include "expect.h"

#include <string.h>

/** The last `- ref: WORD`, or `- { ref: WORD`, before @p at. */
static void ref_before(const char *text, const char *at, char *ref, size_t room)
{
	static const char *const mark[] = {"- ref: ", "- { ref: "};
	size_t length = 0;

	for (; at > text; at--)
		for (size_t i = 0; i < 2; i++)
			if (strncmp(at, mark[i], strlen(mark[i])) == 0) {
				at += strlen(mark[i]);
				length = strcspn(at, ",} \r\n");
				length = length < room ? length : room - 1;
				memcpy(ref, at, length);
				ref[length] = '\0';
				return;
			}
	ref[0] = '\0';
}

static int step(char c)
{
	return (c == '{' || c == '[') - (c == '}' || c == ']');
}

const char *expect_next(const char *text, const char *from, struct expectation *out)
{
	const char *at = strstr(from, "x-expect: {");
	size_t length = 0;
	int depth = 0;
	char quote = '\0';

	if (!at)
		return NULL;
	ref_before(text, at, out->ref, sizeof out->ref);
	for (at = strchr(at, '{'); *at && length < BODY_MOST - 1; at++) {
		out->body[length++] = *at == '\n' || *at == '\r' ? ' ' : *at;
		if (quote || *at == '"')
			quote = *at != '"' ? quote : quote ? '\0' : '"';
		else if ((depth += step(*at)) == 0)
			break;
	}
	if (depth != 0)
		length = 0;
	out->body[length] = '\0';
	out->whole = (struct piece){out->body, length};
	return at;
}

static struct piece trim(struct piece piece)
{
	while (piece.length > 0 && piece.at[0] == ' ') {
		piece.at++;
		piece.length--;
	}
	while (piece.length > 0 && piece.at[piece.length - 1] == ' ')
		piece.length--;
	return piece;
}

/** Up to the next @p end outside of brackets and quotes, or all. */
static size_t span(struct piece piece, char end)
{
	int depth = 0;
	bool quoted = false;

	for (size_t i = 0; i < piece.length; i++) {
		char c = piece.at[i];

		quoted = c == '"' ? !quoted : quoted;
		if (quoted)
			continue;
		depth += step(c);
		if (depth == 0 && c == end)
			return i;
	}
	return piece.length;
}

bool piece_entry(struct piece piece, size_t index, struct piece *out)
{
	bool bracket = piece.length >= 2 && step(piece.at[0]) > 0;
	struct piece rest = bracket ? (struct piece){piece.at + 1, piece.length - 2} : piece;

	rest = trim(rest);
	while (rest.length > 0) {
		size_t length = span(rest, ',');

		*out = trim((struct piece){rest.at, length});
		if (index-- == 0)
			return true;
		rest.at += length;
		rest.length -= length;
		if (rest.length > 0)
			rest = trim((struct piece){rest.at + 1, rest.length - 1});
	}
	return false;
}

bool piece_split(struct piece entry, struct piece *key, struct piece *value)
{
	size_t colon = span(entry, ':');

	if (colon == entry.length)
		return false;
	*key = trim((struct piece){entry.at, colon});
	*value = trim((struct piece){entry.at + colon + 1, entry.length - colon - 1});
	return true;
}

bool piece_value(struct piece map, const char *key, struct piece *out)
{
	struct piece entry, name, value;

	for (size_t i = 0; piece_entry(map, i, &entry); i++)
		if (piece_split(entry, &name, &value) && piece_is(name, key)) {
			*out = value;
			return true;
		}
	return false;
}

bool piece_is(struct piece piece, const char *word)
{
	return piece.length == strlen(word) && memcmp(piece.at, word, piece.length) == 0;
}
