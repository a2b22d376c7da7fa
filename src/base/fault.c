#include "tundish/base/fault.h"

#include "tundish/base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	SHOWN_COLUMNS = 100, /* of a source line */
	CARET_COLUMN = 60,   /* where the caret stands in a line cut on the left */
	BYTES_AROUND = 600,  /* looked at on each side: enough, however long the line */
};

static const char cut_mark[] = "...";

enum { CUT = sizeof(cut_mark) - 1 };

void faults_init(struct faults *faults, struct arena *arena)
{
	*faults = (struct faults){.arena = arena};
}

/* The last notice is taken out of the list; then there is room at its end. */
static bool drop_notice(struct faults *faults)
{
	size_t last = faults->count;

	if (faults->notices == 0)
		return false;
	do
		last--;
	while (faults->item[last].severity != SEVERITY_NOTICE);
	faults->count--;
	faults->notices--;
	memmove(&faults->item[last], &faults->item[last + 1],
	        (faults->count - last) * sizeof(*faults->item));
	return true;
}

static struct fault *one_more(struct faults *faults, enum severity severity)
{
	struct fault *grown = NULL;

	if (faults->count < FAULTS_MOST)
		grown = arena_grow(faults->arena, faults->item, faults->count, &faults->room,
		                   sizeof(*grown));
	if (!grown)
		faults->left_out++;
	else
		faults->item = grown;
	if (!grown && !(severity == SEVERITY_FAULT && drop_notice(faults)))
		return NULL;
	faults->notices += severity == SEVERITY_NOTICE;
	return &faults->item[faults->count++];
}

void fault_add(struct faults *faults, enum severity severity, const struct source *source,
               struct span span, const char *format, ...)
{
	va_list values;

	if (severity == SEVERITY_FAULT)
		faults->fatal++;
	struct fault *fault = one_more(faults, severity);

	if (!fault)
		return;
	*fault = (struct fault){.severity = severity, .source = source, .span = span};
	va_start(values, format);
	if (vsnprintf(fault->message, sizeof(fault->message), format, values) < 0)
		fault->message[0] = '\0';
	va_end(values);
	fault->message[text_whole(fault->message, strlen(fault->message))] = '\0';
}

struct sort_key {
	uint32_t source, at, index;
};

static int compare_keys(const void *one, const void *other)
{
	const struct sort_key *a = one, *b = other;

	if (a->source != b->source)
		return a->source < b->source ? -1 : 1;
	if (a->at != b->at)
		return a->at < b->at ? -1 : 1;
	return a->index < b->index ? -1 : a->index > b->index;
}

/* Which of the sources, counted as first met. */
static uint32_t source_rank(const struct faults *faults, size_t index)
{
	size_t first = 0;

	while (faults->item[first].source != faults->item[index].source)
		first++;
	return (uint32_t)first;
}

/* Keys are sorted, not the long faults: and so it takes no memory that could be wanting. */
void faults_sort(struct faults *faults)
{
	struct sort_key key[FAULTS_MOST];

	for (size_t i = 0; i < faults->count; i++)
		key[i] = (struct sort_key){source_rank(faults, i), faults->item[i].span.at,
		                           (uint32_t)i};
	qsort(key, faults->count, sizeof(key[0]), compare_keys);
	/* Go round each ring of faults that take each other's places. */
	for (size_t start = 0; start < faults->count; start++) {
		struct fault kept = faults->item[start];
		size_t to = start;

		while (key[to].index != start) {
			size_t from = key[to].index;

			faults->item[to] = faults->item[from];
			key[to].index = (uint32_t)to;
			to = from;
		}
		faults->item[to] = kept;
		key[to].index = (uint32_t)to;
	}
}

size_t source_bom(const struct source *source)
{
	return source->length >= 3 && memcmp(source->text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

static bool is_break(char c)
{
	return c == '\n' || c == '\r';
}

/* The line that holds `at`: its first byte, and the break (or end) after its last. The LF of a CRLF
 * is in the line it ends. */
static void find_line(const struct source *source, size_t at, size_t *start, size_t *end)
{
	const char *text = source->text;
	size_t first = at, last;

	if (first > 0 && first < source->length && text[first] == '\n' && text[first - 1] == '\r')
		first--;
	last = first;
	while (first > 0 && !is_break(text[first - 1]))
		first--;
	while (last < source->length && !is_break(text[last]))
		last++;
	*start = first;
	*end = last;
}

static size_t count_breaks(const char *text, size_t length)
{
	size_t breaks = 0;

	for (size_t i = 0; i < length; i++)
		breaks += text[i] == '\n' ||
		          (text[i] == '\r' && !(i + 1 < length && text[i + 1] == '\n'));
	return breaks;
}

/* Bytes of the first character; one that is no UTF-8 is a character of its own. */
static size_t character(const char *text, size_t length)
{
	unsigned char lead = (unsigned char)text[0];
	size_t bytes = lead < 0xC2 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 1;

	return bytes <= length && text_is_utf8(text, bytes, NULL) ? bytes : 1;
}

struct place source_place(const struct source *source, size_t at)
{
	size_t start, end;
	struct place place = {1, 1};

	if (at > source->length)
		at = source->length;
	find_line(source, at, &start, &end);
	place.line += count_breaks(source->text, start);
	size_t here = start == 0 ? source_bom(source) : start;

	if (at > end)
		at = end;
	while (here < at) {
		here += character(source->text + here, source->length - here);
		if (here <= at)
			place.column++;
	}
	return place;
}

/* Text under way. The room is worked out before: nothing that is put takes more
 * bytes than it had. */
struct pen {
	char *text;
	size_t used, room;
};

static void put(struct pen *pen, const char *bytes, size_t count)
{
	if (count > pen->room - pen->used)
		count = pen->room - pen->used;
	memcpy(pen->text + pen->used, bytes, count);
	pen->used += count;
}

/* One cluster, fit for a terminal. */
static void put_cluster(struct pen *pen, const char *text, size_t length)
{
	if (text[0] == '\t')
		put(pen, " ", 1);
	else if (text_is_control(text, length))
		put(pen, "?", 1);
	else
		put(pen, text, length);
}

static void put_shown(struct pen *pen, const char *text)
{
	size_t length = strlen(text);

	while (length > 0) {
		size_t bytes = text_cluster(text, length, NULL);

		put_cluster(pen, text, bytes);
		text += bytes;
		length -= bytes;
	}
}

/* The part of a source line that is looked at, and in its columns: where the caret is, and what is
 * shown. */
struct strip {
	const char *text;
	size_t length;
	size_t caret_at;            /* byte, at most length */
	bool goes_left, goes_right; /* the line does, past this part */
	int caret, width;
	int from, to;
};

/* Back to where a character starts. */
static size_t whole_start(const char *text, size_t at, size_t least)
{
	while (at > least && (text[at] & 0xC0) == 0x80)
		at--;
	return at;
}

static void find_strip(const struct source *source, size_t at, struct strip *strip)
{
	size_t start, end;

	find_line(source, at, &start, &end);
	if (start == 0)
		start = source_bom(source);
	at = at > end ? end : at < start ? start : at;
	*strip = (struct strip){0};
	if (at - start > BYTES_AROUND) {
		start = whole_start(source->text, at - BYTES_AROUND, start);
		strip->goes_left = true;
	}
	if (end - at > BYTES_AROUND) {
		end = whole_start(source->text, at + BYTES_AROUND, at);
		strip->goes_right = true;
	}
	strip->text = source->text + start;
	strip->length = end - start;
	strip->caret_at = at - start;
}

static void measure_strip(struct strip *strip)
{
	for (size_t at = 0; at < strip->length;) {
		int width;
		size_t bytes = text_cluster(strip->text + at, strip->length - at, &width);

		if (at + bytes <= strip->caret_at)
			strip->caret += width;
		strip->width += width;
		at += bytes;
	}
}

static void choose_columns(struct strip *strip)
{
	int wanted = strip->width > strip->caret ? strip->width : strip->caret + 1;

	strip->to = strip->width;
	if (wanted <= SHOWN_COLUMNS && !strip->goes_left && !strip->goes_right)
		return;
	if (strip->goes_left || strip->caret >= SHOWN_COLUMNS - CUT) {
		strip->from = strip->caret > CARET_COLUMN ? strip->caret - CARET_COLUMN : 0;
		strip->goes_left = true;
	}
	int most = strip->from + SHOWN_COLUMNS - (strip->goes_left ? CUT : 0);

	if (strip->width > most || strip->goes_right) {
		strip->goes_right = true;
		strip->to = most - CUT < strip->width ? most - CUT : strip->width;
	}
}

static void put_strip(struct pen *pen, const struct strip *strip)
{
	int column = 0;

	if (strip->goes_left)
		put(pen, cut_mark, CUT);
	for (size_t at = 0; at < strip->length;) {
		int width;
		size_t bytes = text_cluster(strip->text + at, strip->length - at, &width);

		if (column >= strip->from && column + width <= strip->to)
			put_cluster(pen, strip->text + at, bytes);
		else if (column < strip->from && column + width > strip->from)
			put(pen, " ", 1); /* a wide character of which one column is cut off */
		column += width;
		at += bytes;
	}
	if (strip->goes_right)
		put(pen, cut_mark, CUT);
	put(pen, "\n", 1);
}

static void put_source_line(struct pen *pen, const struct source *source, size_t at)
{
	struct strip strip;

	find_strip(source, at, &strip);
	measure_strip(&strip);
	choose_columns(&strip);
	put_strip(pen, &strip);
	int blanks = strip.caret - strip.from + (strip.goes_left ? CUT : 0);

	while (blanks-- > 0)
		put(pen, " ", 1);
	put(pen, "^\n", 2);
}

static void put_head(struct pen *pen, const struct fault *fault, bool has_place)
{
	if (fault->source) {
		put_shown(pen, fault->source->name);
		put(pen, ":", 1);
	}
	if (has_place) {
		char numbers[48];
		struct place place = source_place(fault->source, fault->span.at);

		snprintf(numbers, sizeof(numbers), "%zu:%zu:", place.line, place.column);
		put(pen, numbers, strlen(numbers));
	}
	if (fault->source)
		put(pen, " ", 1);
	if (fault->severity == SEVERITY_NOTICE)
		put(pen, "notice: ", 8);
	put_shown(pen, fault->message);
	put(pen, "\n", 1);
}

const char *fault_text(const struct fault *fault, struct arena *arena)
{
	const struct source *source = fault->source;
	bool has_place = source && source->text && (fault->span.at > 0 || fault->span.length > 0);
	struct pen pen = {0};

	pen.room = strlen(fault->message) + 100;
	if (source)
		pen.room += strlen(source->name);
	if (has_place)
		pen.room += 2 * (size_t)BYTES_AROUND + 4 + 2 * (SHOWN_COLUMNS + CUT);
	pen.text = arena_take(arena, pen.room + 1);
	if (!pen.text)
		return NULL;
	put_head(&pen, fault, has_place);
	if (has_place)
		put_source_line(&pen, source,
		                fault->span.at < source->length ? fault->span.at : source->length);
	return pen.text;
}
