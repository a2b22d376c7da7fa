#include "tundish/print/ndjson.h"

#include "tundish/base/text.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* A text known when compiling, without strlen: lines are many and long. */
#define PUT(sink, literal) sink_bytes(sink, literal, sizeof(literal) - 1)

static void escape(struct sink *sink, unsigned char byte)
{
	static const char named[] = "b\bf\fn\nr\rt\t";

	if (byte == '"' || byte == '\\') {
		char text[2] = {'\\', (char)byte};
		sink_bytes(sink, text, 2);
		return;
	}
	for (const char *at = named; *at; at += 2) {
		if (at[1] == (char)byte) {
			char text[2] = {'\\', at[0]};
			sink_bytes(sink, text, 2);
			return;
		}
	}
	char text[8];
	snprintf(text, sizeof(text), "\\u%04x", byte);
	sink_bytes(sink, text, 6);
}

/* How many bytes at the start need no escape: eight at a time, since nearly all
 * are of this sort. */
static size_t plain_length(const char *text, size_t length)
{
	const uint64_t ones = UINT64_C(0x0101010101010101), tops = ones << 7;
	size_t i = 0;

	for (; i + 8 <= length; i += 8) {
		uint64_t eight, quote, slash, deleted;
		memcpy(&eight, text + i, 8);
		quote = eight ^ ones * '"';
		slash = eight ^ ones * '\\';
		deleted = eight ^ ones * 0x7f;
		/* The top bit of a byte is set where it is below 0x20, or where one of the three is
		 * zero. */
		uint64_t found = ((eight - ones * 0x20) & ~eight) | ((quote - ones) & ~quote) |
		                 ((slash - ones) & ~slash) | ((deleted - ones) & ~deleted);
		if (found & tops)
			break;
	}
	for (; i < length; i++) {
		unsigned char byte = (unsigned char)text[i];
		if (byte < 0x20 || byte == '"' || byte == '\\' || byte == 0x7f)
			break;
	}
	return i;
}

static void escaped(struct sink *sink, const char *text, size_t length)
{
	while (length > 0) {
		size_t plain = plain_length(text, length);
		sink_bytes(sink, text, plain);
		if (plain == length)
			return;
		escape(sink, (unsigned char)text[plain]);
		text += plain + 1;
		length -= plain + 1;
	}
}

void ndjson_string(struct sink *sink, const char *text)
{
	if (!text) {
		PUT(sink, "null");
		return;
	}
	size_t length = strlen(text), bad_at = 0;
	PUT(sink, "\"");
	while (!text_is_utf8(text, length, &bad_at)) {
		escaped(sink, text, bad_at);
		PUT(sink, "\xef\xbf\xbd");
		text += bad_at + 1;
		length -= bad_at + 1;
	}
	escaped(sink, text, length);
	PUT(sink, "\"");
}

/* The same for what comes out of a survey or a rulebook, whose readers let only UTF-8 in. */
static void read_string(struct sink *sink, const char *text)
{
	if (!text) {
		PUT(sink, "null");
		return;
	}
	PUT(sink, "\"");
	escaped(sink, text, strlen(text));
	PUT(sink, "\"");
}

/* Ids, and words of our own: nothing in them needs an escape. */
static void word(struct sink *sink, const char *text)
{
	PUT(sink, "\"");
	sink_text(sink, text);
	PUT(sink, "\"");
}

/* A literal and the range that follows it, put at @p at. @return what is behind them. One piece for
 * the sink in place of many: of all that is printed the paths are the most. */
static inline char *literal_and_range(char *at, const char *literal, size_t length,
                                      struct range range)
{
	static const char form[] = "{\"least\": 0, \"most\": 0}";

	memcpy(at, literal, length);
	at += length;
	memcpy(at, form, sizeof(form) - 1);
	at[sizeof("{\"least\": ") - 1] = (char)('0' + range.least % 10);
	at[sizeof("{\"least\": 0, \"most\": ") - 1] = (char)('0' + range.most % 10);
	return at + sizeof(form) - 1;
}
#define RANGE(at, literal, range) literal_and_range(at, literal, sizeof(literal) - 1, range)

/* Room for what is put there. */
enum { PIECE = 512 };

static void range(struct sink *sink, struct range range)
{
	char text[PIECE];

	sink_bytes(sink, text, (size_t)(RANGE(text, "", range) - text));
}

static void separate(struct sink *sink, bool *first)
{
	if (!*first)
		PUT(sink, ", ");
	*first = false;
}

static void fluid(struct sink *sink, const struct assessed *assessed, const struct fluid_verdict *f)
{
	bool first = true;

	PUT(sink, "{\"fluid\": \"");
	sink_text(sink, assessed_fluid(assessed, f->fluid));
	PUT(sink, "\", \"category\": ");
	range(sink, f->category);
	PUT(sink, ", \"by\": [");
	for (enum mechanism m = 0; m < MECHANISM_COUNT; m++) {
		if (f->by & 1u << m) {
			separate(sink, &first);
			word(sink, mechanism_name(m));
		}
	}
	PUT(sink, "], \"inlets\": [");
	first = true;
	for (unsigned i = 0; i < INLETS_MOST; i++) {
		if (f->inlets & 1u << i) {
			separate(sink, &first);
			word(sink, assessed_inlet(assessed, i));
		}
	}
	PUT(sink, "]}");
}

static void path(struct sink *sink, const struct assessed *assessed, const struct path *p)
{
	char text[PIECE], *at = text;

	PUT(sink, "{\"fluid\": \"");
	sink_text(sink, assessed_fluid(assessed, p->fluid));
	PUT(sink, "\", \"inlet\": \"");
	sink_text(sink, assessed_inlet(assessed, p->inlet_index));
	PUT(sink, "\", \"mechanism\": \"");
	sink_text(sink, mechanism_name(p->mechanism));
	PUT(sink, "\", \"to\": \"");
	sink_text(sink, p->to);
	at = RANGE(at, "\", \"needs\": ", p->needs);
	at = RANGE(at, ", \"type_good_for\": ", p->good_for);
	at = RANGE(at, ", \"accepted\": ", p->accepted);
	at = RANGE(at, ", \"as_found\": ", p->found);
	at = RANGE(at, ", \"shortfall\": {\"on_paper\": ", p->on_paper);
	at = RANGE(at, ", \"in_fact\": ", p->in_fact);
	sink_bytes(sink, text, (size_t)(at - text));
	PUT(sink, "}}");
}

static void reason(struct sink *sink, const struct because *because)
{
	PUT(sink, "{\"row\": \"");
	sink_text(sink, because->row->id);
	PUT(sink, "\", \"says\": ");
	read_string(sink, because->row->says);
	PUT(sink, ", \"source\": ");
	read_string(sink, because->row->source_text);
	PUT(sink, ", \"standing\": \"");
	sink_text(sink, standing_name(because->row->standing));
	if (because->certain)
		PUT(sink, "\", \"holds\": \"yes\"}");
	else
		PUT(sink, "\", \"holds\": \"could\"}");
}

static void ask(struct sink *sink, const struct assessed *assessed, const struct ask *a)
{
	struct ask_name name = assessed_ask(assessed, a);

	PUT(sink, "\"");
	for (unsigned w = 0; w < name.count; w++) {
		sink_text(sink, w ? "/" : "");
		sink_text(sink, name.word[w]);
	}
	PUT(sink, "\"");
}

static void which_point(struct sink *sink, const struct assessed *assessed)
{
	const struct rulebook *book = assessed->survey->book;
	const struct item *point = assessed->assessment->point;
	const struct kind *kind = assessed_kind(assessed);
	char on[11];

	date_format(book->on, on);
	PUT(sink, "{\"file\": ");
	ndjson_string(sink, assessed->file);
	PUT(sink, ", \"part\": ");
	read_string(sink, assessed_part(assessed));
	PUT(sink, ", \"room\": ");
	read_string(sink, assessed_room(assessed));
	PUT(sink, ", \"ref\": ");
	word(sink, point->ref);
	PUT(sink, ", \"kind\": ");
	read_string(sink, kind ? kind->id : NULL);
	PUT(sink, ", \"seen\": ");
	read_string(sink, item_text(point, book->known.point_seen));
	PUT(sink, ", \"on\": ");
	word(sink, on);
	PUT(sink, ", \"rulebook\": \"");
	sink_bytes(sink, book->digest, strnlen(book->digest, 8));
	PUT(sink, "\", \"category\": ");
	range(sink, assessed->assessment->category);
}

void ndjson_point(struct sink *sink, const struct assessed *assessed)
{
	const struct assessment *a = assessed->assessment;
	bool first;

	which_point(sink, assessed);
	PUT(sink, ", \"fluids\": [");
	for (size_t i = 0; i < a->fluid_count; i++) {
		if (i)
			PUT(sink, ", ");
		fluid(sink, assessed, &a->fluid[i]);
	}
	PUT(sink, "], \"paths\": [");
	for (size_t i = 0; i < a->path_count; i++) {
		if (i)
			PUT(sink, ", ");
		path(sink, assessed, &a->path[i]);
	}
	PUT(sink, "], \"shortfall\": {\"on_paper\": ");
	range(sink, a->on_paper);
	PUT(sink, ", \"in_fact\": ");
	range(sink, a->in_fact);
	PUT(sink, "}, \"verdict\": ");
	word(sink, verdict_name(a->verdict));
	PUT(sink, ", \"urgency\": ");
	word(sink, urgency_name(a->urgency));
	PUT(sink, ", \"because\": [");
	first = true;
	for (size_t i = 0; i < a->because_count; i++) {
		if (assessed_repeats(a, i))
			continue;
		separate(sink, &first);
		reason(sink, &a->because[i]);
	}
	PUT(sink, "], \"ask_next\": [");
	for (size_t i = 0; i < a->ask_count; i++) {
		if (i)
			PUT(sink, ", ");
		ask(sink, assessed, &a->ask[i]);
	}
	PUT(sink, "]}\n");
}
