/*
 * A line of text being typed. A press of a key moves over or deletes one cluster: what a person
 * sees as one character.
 */
#include "inside.h"

#include "tundish/base/text.h"

#include <string.h>

void field_set(struct field *field, const char *text)
{
	*field = (struct field){0};
	field_insert(field, text, strlen(text));
}

/* Line breaks of pasted text become blanks, other control characters go: a field is one line. */
static bool insert_one(struct field *field, const char *text, size_t bytes)
{
	if (bytes == 1 && ((unsigned char)*text < 0x20 || *text == 0x7f)) {
		if (*text != '\n' && *text != '\r' && *text != '\t')
			return true;
		text = " ";
	}
	if (field->length + bytes > TEXT_MOST) {
		field->full = true;
		return false;
	}
	memmove(field->text + field->at + bytes, field->text + field->at,
	        field->length - field->at);
	memcpy(field->text + field->at, text, bytes);
	field->length += bytes;
	field->at += bytes;
	field->text[field->length] = '\0';
	return true;
}

void field_insert(struct field *field, const char *text, size_t length)
{
	size_t bad, bytes;

	field->full = false;
	if (!text_is_utf8(text, length, &bad))
		length = bad;
	while (length > 0) {
		/* CR LF is one break */
		if (length > 1 && text[0] == '\r' && text[1] == '\n') {
			text++;
			length--;
		}
		bytes = text_cluster(text, length, NULL);
		if (!insert_one(field, text, bytes))
			return;
		text += bytes;
		length -= bytes;
	}
}

static size_t cluster_before(const struct field *field)
{
	size_t at = 0, last = 0;

	while (at < field->at) {
		last = at;
		at += text_cluster(field->text + at, field->length - at, NULL);
	}
	return last;
}

static size_t cluster_after(const struct field *field)
{
	return field->at + text_cluster(field->text + field->at, field->length - field->at, NULL);
}

static size_t word_before(const struct field *field)
{
	size_t at = field->at;

	while (at > 0 && field->text[at - 1] == ' ')
		at--;
	while (at > 0 && field->text[at - 1] != ' ')
		at--;
	return at;
}

static void cut(struct field *field, size_t from, size_t to)
{
	memmove(field->text + from, field->text + to, field->length - to);
	field->length -= to - from;
	field->text[field->length] = '\0';
	field->at = from;
}

/* @return whether the text changed. */
bool field_press(struct field *field, enum request request)
{
	size_t length = field->length;

	field->full = false;
	if (request == REQUEST_TEXT_LEFT)
		field->at = cluster_before(field);
	else if (request == REQUEST_TEXT_RIGHT)
		field->at = cluster_after(field);
	else if (request == REQUEST_TEXT_FIRST)
		field->at = 0;
	else if (request == REQUEST_TEXT_LAST)
		field->at = field->length;
	else if (request == REQUEST_TEXT_BACKSPACE)
		cut(field, cluster_before(field), field->at);
	else if (request == REQUEST_TEXT_DELETE)
		cut(field, field->at, cluster_after(field));
	else if (request == REQUEST_TEXT_KILL_END)
		cut(field, field->at, field->length);
	else if (request == REQUEST_TEXT_KILL_START)
		cut(field, 0, field->at);
	else if (request == REQUEST_TEXT_KILL_WORD)
		cut(field, word_before(field), field->at);
	return field->length != length;
}
