/*
 * A journal's text, both ways. A line is
 *
 *     LINK TAB WORD TAB FIELD ... LF
 *
 * LINK is the first half of SHA-256 over the link before it and the rest of the line, so a line that is torn, damaged, or
 * not the next one ends what can be read.
 */
#include "journal_lines.h"

#include <sodium.h>

#include <string.h>

enum {
	LINK_BYTES = 8, /* shown: against accidents, not against people */
	LINK_DIGITS = 2 * LINK_BYTES,
	FIELDS_MOST = 5,
};

static const char word_head[] = "tundish-journal-1", word_more[] = "+", word_last[] = ".",
                  word_saving[] = "saving";

struct digest digest_of(const char *bytes, size_t length)
{
	unsigned char hash[crypto_hash_sha256_BYTES];
	struct digest digest = {"none"};

	if (bytes == NULL)
		return digest;
	crypto_hash_sha256(hash, (const unsigned char *)bytes, length);
	sodium_bin2hex(digest.text, sizeof(digest.text), hash, sizeof(hash));
	return digest;
}

/* -- the chain -------------------------------------------------------------------------- */

void chain_begin(struct chain *chain)
{
	memset(chain, 0, sizeof(*chain));
}

static void chain_line(struct chain *chain, const char *line, size_t length)
{
	crypto_hash_sha256_state state;

	crypto_hash_sha256_init(&state);
	crypto_hash_sha256_update(&state, chain->link, sizeof(chain->link));
	crypto_hash_sha256_update(&state, (const unsigned char *)line, length);
	crypto_hash_sha256_final(&state, chain->link);
}

static void link_digits(const struct chain *chain, char out[LINK_DIGITS + 1])
{
	sodium_bin2hex(out, LINK_DIGITS + 1, chain->link, LINK_BYTES);
}

/* -- writing ---------------------------------------------------------------------------- */

static void escape(struct sink *sink, const char *text)
{
	for (; *text != '\0'; text++) {
		const char *as = *text == '\\'   ? "\\\\"
		                 : *text == '\t' ? "\\t"
		                 : *text == '\n' ? "\\n"
		                 : *text == '\r' ? "\\r"
		                                 : NULL;

		if (as != NULL)
			sink_text(sink, as);
		else
			sink_bytes(sink, text, 1);
	}
}

/* A value that is there begins with `=`; one that is not is `-`. */
static void value(struct sink *sink, const char *text)
{
	sink_text(sink, text == NULL ? "\t-" : "\t=");
	if (text != NULL)
		escape(sink, text);
}

/* Takes the line in @p body, links it, and clears the body for the next. */
static void close_line(struct sink *sink, struct chain *chain, struct sink *body)
{
	char digits[LINK_DIGITS + 1];

	if (!sink_flush(body, &(struct err){0}) || body->bytes == NULL) {
		sink->failed = true;
		return;
	}
	chain_line(chain, body->bytes, body->count);
	link_digits(chain, digits);
	sink_text(sink, digits);
	sink_text(sink, "\t");
	sink_bytes(sink, body->bytes, body->count);
	sink_text(sink, "\n");
	body->count = 0;
}

void journal_head(struct sink *sink, struct chain *chain, const char *path, const char *begun,
                  struct digest base)
{
	struct sink body;

	sink_to_memory(&body);
	sink_print(&body, "%s\t%s\t%s\t", word_head, begun, base.text);
	escape(&body, path);
	close_line(sink, chain, &body);
	sink_finish(&body);
}

void journal_step(struct sink *sink, struct chain *chain, const struct changes *step)
{
	struct sink body;

	sink_to_memory(&body);
	for (size_t i = 0; i < step->count; i++) {
		const struct change *change = &step->item[i];

		sink_text(&body, i + 1 < step->count ? word_more : word_last);
		sink_text(&body, "\t");
		escape(&body, change->where);
		value(&body, change->before);
		value(&body, change->after);
		close_line(sink, chain, &body);
	}
	sink_finish(&body);
}

void journal_mark(struct sink *sink, struct chain *chain, struct digest file)
{
	struct sink body;

	sink_to_memory(&body);
	sink_print(&body, "%s\t%s", word_saving, file.text);
	close_line(sink, chain, &body);
	sink_finish(&body);
}

/* -- reading ---------------------------------------------------------------------------- */

struct field {
	const char *text;
	size_t length;
};

struct reader {
	const char *text;
	size_t length, at;
	struct chain chain;
	struct arena *arena;
	struct journal_text *out;
	struct field field[FIELDS_MOST];
	size_t field_count;
};

static bool field_is(const struct field *field, const char *word)
{
	return strlen(word) == field->length && memcmp(field->text, word, field->length) == 0;
}

static bool split(struct reader *reader, const char *line, size_t length)
{
	const char *end = line + length;

	reader->field_count = 0;
	for (;;) {
		const char *tab = memchr(line, '\t', (size_t)(end - line));
		const char *stop = tab == NULL ? end : tab;

		if (reader->field_count == FIELDS_MOST)
			return false;
		reader->field[reader->field_count++] = (struct field){line, (size_t)(stop - line)};
		if (tab == NULL)
			return true;
		line = tab + 1;
	}
}

/* The next line, split. @return false at the end of what is whole. */
static bool next_line(struct reader *reader)
{
	const char *line = reader->text + reader->at;
	size_t room = reader->length - reader->at;
	const char *end = room == 0 ? NULL : memchr(line, '\n', room);
	char digits[LINK_DIGITS + 1];
	size_t length;

	if (end == NULL)
		return false;
	length = (size_t)(end - line);
	if (length <= LINK_DIGITS || line[LINK_DIGITS] != '\t' ||
	    memchr(line, '\0', length) != NULL)
		return false;
	chain_line(&reader->chain, line + LINK_DIGITS + 1, length - LINK_DIGITS - 1);
	link_digits(&reader->chain, digits);
	if (memcmp(line, digits, LINK_DIGITS) != 0 ||
	    !split(reader, line + LINK_DIGITS + 1, length - LINK_DIGITS - 1))
		return false;
	reader->at += length + 1;
	return true;
}

/* @return NULL when it is escaped wrongly, or there is no memory (arena->failed). */
static const char *unescape(struct reader *reader, const char *text, size_t length)
{
	static const char names[] = "\\tnr", meant[] = "\\\t\n\r";
	char *out = arena_take(reader->arena, length + 1);
	size_t count = 0;

	for (size_t i = 0; out != NULL && i < length; i++) {
		const char *name = text[i] == '\\' && i + 1 < length && text[i + 1] != '\0'
		                           ? strchr(names, text[i + 1])
		                           : NULL;

		if (text[i] == '\\' && name == NULL)
			return NULL;
		out[count++] = name == NULL ? text[i] : meant[name - names];
		i += name != NULL;
	}
	return out;
}

static bool read_value(struct reader *reader, const struct field *field, const char **out)
{
	*out = NULL;
	if (field_is(field, "-"))
		return true;
	if (field->length == 0 || field->text[0] != '=')
		return false;
	*out = unescape(reader, field->text + 1, field->length - 1);
	return *out != NULL;
}

static bool read_digest(const struct field *field, struct digest *out)
{
	if (field->length >= sizeof(out->text))
		return false;
	memcpy(out->text, field->text, field->length);
	out->text[field->length] = '\0';
	return field_is(field, "none") || (field->length == sizeof(out->text) - 1 &&
	                                   strspn(out->text, "0123456789abcdef") == field->length);
}

static bool read_change(struct reader *reader, struct changes *changes)
{
	struct change change, *grown;

	if (reader->field_count != 4)
		return false;
	change.where = unescape(reader, reader->field[1].text, reader->field[1].length);
	if (change.where == NULL || !read_value(reader, &reader->field[2], &change.before) ||
	    !read_value(reader, &reader->field[3], &change.after))
		return false;
	grown = arena_grow(reader->arena, changes->item, changes->count, &changes->room,
	                   sizeof(change));
	if (grown == NULL)
		return false;
	changes->item = grown;
	grown[changes->count++] = change;
	return true;
}

static bool read_mark(struct reader *reader, size_t change_count)
{
	struct journal_text *out = reader->out;
	struct journal_mark *grown = arena_grow(reader->arena, out->mark, out->mark_count,
	                                        &out->mark_room, sizeof(*grown));

	if (grown == NULL || reader->field_count != 2)
		return false;
	out->mark = grown;
	grown[out->mark_count].change_count = change_count;
	if (!read_digest(&reader->field[1], &grown[out->mark_count].digest))
		return false;
	out->mark_count++;
	return true;
}

static void whole_here(struct reader *reader)
{
	reader->out->whole = reader->at;
	memcpy(reader->out->link, reader->chain.link, sizeof(reader->out->link));
}

static bool read_head(struct reader *reader)
{
	struct journal_text *out = reader->out;

	if (!next_line(reader) || reader->field_count != 4 ||
	    !field_is(&reader->field[0], word_head) || !read_digest(&reader->field[2], &out->base))
		return false;
	out->begun = arena_copy(reader->arena, reader->field[1].text, reader->field[1].length);
	out->path = unescape(reader, reader->field[3].text, reader->field[3].length);
	whole_here(reader);
	return out->begun != NULL && out->path != NULL;
}

/* One line of a step, or a mark between two. */
static bool read_line(struct reader *reader, struct changes *changes)
{
	struct journal_text *out = reader->out;
	bool within = changes->count > out->changes.count;
	const struct field *word = &reader->field[0];

	if (field_is(word, word_more))
		return read_change(reader, changes);
	if (field_is(word, word_last)
	            ? !read_change(reader, changes)
	            : within || !field_is(word, word_saving) || !read_mark(reader, changes->count))
		return false;
	out->changes = *changes;
	whole_here(reader);
	return true;
}

bool journal_read(const char *text, size_t length, struct arena *arena, struct journal_text *out,
                  struct err *err)
{
	struct reader reader = {.text = text, .length = length, .arena = arena, .out = out};
	struct changes changes = {0};

	*out = (struct journal_text){0};
	chain_begin(&reader.chain);
	if (read_head(&reader)) {
		while (next_line(&reader) && read_line(&reader, &changes))
			;
	} else if (!arena->failed) {
		err_set(err, ERR_TEXT, "its first line is not that of a journal");
		return false;
	}
	if (!arena->failed)
		return true;
	err_set(err, ERR_MEMORY, "there is no memory to read the journal");
	return false;
}
