#include "tundish/print/ndjson.h"

#include "tundish/base/text.h"

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

static void escaped(struct sink *sink, const char *text, size_t length)
{
	size_t from = 0;

	for (size_t i = 0; i < length; i++) {
		unsigned char byte = (unsigned char)text[i];
		if (byte >= 0x20 && byte != '"' && byte != '\\' && byte != 0x7f)
			continue;
		sink_bytes(sink, text + from, i - from);
		escape(sink, byte);
		from = i + 1;
	}
	sink_bytes(sink, text + from, length - from);
}

void json_string(struct sink *sink, const char *text)
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

/* Ids, and words of our own: nothing in them needs an escape. */
static void word(struct sink *sink, const char *text)
{
	PUT(sink, "\"");
	sink_text(sink, text);
	PUT(sink, "\"");
}

static void range(struct sink *sink, struct range range)
{
	char text[] = "{\"least\": 0, \"most\": 0}";

	text[10] = (char)('0' + range.least % 10);
	text[21] = (char)('0' + range.most % 10);
	sink_bytes(sink, text, sizeof(text) - 1);
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

	PUT(sink, "{\"fluid\": ");
	word(sink, assessed_fluid(assessed, f->fluid));
	PUT(sink, ", \"category\": ");
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
	PUT(sink, "{\"fluid\": ");
	word(sink, assessed_fluid(assessed, p->fluid));
	PUT(sink, ", \"inlet\": ");
	word(sink, assessed_inlet(assessed, p->inlet_index));
	PUT(sink, ", \"mechanism\": ");
	word(sink, mechanism_name(p->mechanism));
	PUT(sink, ", \"to\": ");
	word(sink, p->to);
	PUT(sink, ", \"needs\": ");
	range(sink, p->needs);
	PUT(sink, ", \"type_good_for\": ");
	range(sink, p->good_for);
	PUT(sink, ", \"accepted\": ");
	range(sink, p->accepted);
	PUT(sink, ", \"as_found\": ");
	range(sink, p->found);
	PUT(sink, ", \"shortfall\": {\"on_paper\": ");
	range(sink, p->on_paper);
	PUT(sink, ", \"in_fact\": ");
	range(sink, p->in_fact);
	PUT(sink, "}}");
}

static void reason(struct sink *sink, const struct because *because)
{
	PUT(sink, "{\"row\": ");
	word(sink, because->row->id);
	PUT(sink, ", \"says\": ");
	json_string(sink, because->row->says);
	PUT(sink, ", \"source\": ");
	json_string(sink, because->row->source_text);
	PUT(sink, ", \"standing\": ");
	word(sink, standing_name(because->row->standing));
	if (because->certain)
		PUT(sink, ", \"holds\": \"yes\"}");
	else
		PUT(sink, ", \"holds\": \"could\"}");
}

static void ask(struct sink *sink, const struct assessed *assessed, const struct ask *a)
{
	struct ask_name name = assessed_ask(assessed, a);

	PUT(sink, "\"");
	if (name.before) {
		sink_text(sink, name.before);
		PUT(sink, "/");
	}
	sink_text(sink, name.id);
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
	json_string(sink, assessed->file);
	PUT(sink, ", \"part\": ");
	json_string(sink, assessed_part(assessed));
	PUT(sink, ", \"room\": ");
	json_string(sink, assessed_room(assessed));
	PUT(sink, ", \"ref\": ");
	word(sink, point->ref);
	PUT(sink, ", \"kind\": ");
	json_string(sink, kind ? kind->id : NULL);
	PUT(sink, ", \"seen\": ");
	json_string(sink, item_text(point, book->known.point_seen));
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
	for (size_t i = 0; i < a->because_count; i++) {
		if (i)
			PUT(sink, ", ");
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
