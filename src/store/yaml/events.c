#include "events.h"

#include "tundish/base/text.h"
#include "tundish/store/file.h"

#include <stdlib.h>
#include <string.h>

enum { LINEAR_KEYS_MOST = 16 }; /* a map with more keys is sorted at its end instead */

bool events_is_empty(const struct events *events)
{
	return events->kind == EVENT_SCALAR && events->length == 0;
}

/* -- one event after the other --------------------------------------------------------------- */

void events_stop(struct events *events)
{
	events->broken = true;
	events->kind = EVENT_OVER;
}

static bool refuse(struct events *events, struct span span, const char *why)
{
	fault_add(events->faults, SEVERITY_FAULT, events->source, span, "%s", why);
	events_stop(events);
	return false;
}

static bool pull(struct events *events)
{
	if (events->held)
		yaml_event_delete(&events->raw);
	events->held = false;
	if (events->broken)
		return false;
	if (!yaml_parser_parse(&events->parser, &events->raw)) {
		events_explain(events);
		events_stop(events);
		return false;
	}
	events->held = true;
	return true;
}

static void check_properties(struct events *events, const yaml_char_t *anchor,
                             const yaml_char_t *tag)
{
	static const char core[] = "tag:yaml.org,2002:";
	static const char *const known[] = {"str", "map", "seq", "int", "float", "bool", "null"};
	const char *name = (const char *)tag;

	if (anchor)
		fault_add(events->faults, SEVERITY_FAULT, events->source, events->span,
		          "an anchor (`&%.40s`) is not read here: write the value out",
		          (const char *)anchor);
	/* `!` alone says "as it stands" */
	if (!name || strcmp(name, "!") == 0)
		return;
	if (strncmp(name, core, sizeof(core) - 1) == 0) {
		for (size_t i = 0; i < sizeof(known) / sizeof(known[0]); i++)
			if (strcmp(name + sizeof(core) - 1, known[i]) == 0)
				return;
	}
	fault_add(events->faults, SEVERITY_FAULT, events->source, events->span,
	          "a tag (`%.60s`) is not read here: what a value means is decided by its key",
	          name);
}

static bool count_node(struct events *events)
{
	if (++events->nodes > EVENTS_NODES_MOST)
		return refuse(events, events->span, "more than 1,000,000 values in one text");
	return true;
}

static bool take_scalar(struct events *events)
{
	yaml_event_t *raw = &events->raw;

	events->kind = EVENT_SCALAR;
	events->span = events_mark_span(events, &raw->start_mark, &raw->end_mark);
	events->text = (const char *)raw->data.scalar.value;
	events->length = raw->data.scalar.length;
	events->plain = raw->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
	events->read_end = events->span.at + events->span.length;
	if (raw->data.scalar.anchor || raw->data.scalar.tag)
		check_properties(events, raw->data.scalar.anchor, raw->data.scalar.tag);
	if (events->length > EVENTS_TEXT_MOST)
		fault_add(events->faults, SEVERITY_FAULT, events->source, events->span,
		          "a value of more than 64 KiB");
	if (raw->data.scalar.style == YAML_DOUBLE_QUOTED_SCALAR_STYLE &&
	    memchr(events->text, '\0', events->length)) {
		fault_add(events->faults, SEVERITY_FAULT, events->source, events->span,
		          "the character NUL can't stand in a text");
		events->length = strlen(events->text);
	}
	return count_node(events);
}

static bool take_start(struct events *events, enum event_kind kind, bool flow,
                       const yaml_char_t *anchor, const yaml_char_t *tag)
{
	events->kind = kind;
	events->span = (struct span){events_byte(events, events->raw.start_mark.index), 0};
	events->flow = flow;
	if (anchor || tag)
		check_properties(events, anchor, tag);
	if (events->depth == EVENTS_DEPTH_MOST)
		return refuse(events, events->span, "more than 64 levels of lists and maps");
	events->depth++;
	events->flow_bits = events->flow_bits << 1 | flow;
	events->seen_from[events->depth] = events->seen_count;
	return count_node(events);
}

static bool take_end(struct events *events)
{
	if (events->flow_bits & 1)
		events->read_end = events_byte(events, events->raw.end_mark.index);
	events->kind = EVENT_END;
	events->flow_bits >>= 1;
	events->depth--;
	return true;
}

/* Something to go on with: the alias stands for nothing. */
static bool take_alias(struct events *events)
{
	events->kind = EVENT_SCALAR;
	events->span = events_mark_span(events, &events->raw.start_mark, &events->raw.end_mark);
	events->text = "";
	events->length = 0;
	events->plain = true;
	events->read_end = events->span.at + events->span.length;
	fault_add(events->faults, SEVERITY_FAULT, events->source, events->span,
	          "an alias (`*%.40s`) is not read here: write the value out",
	          (const char *)events->raw.data.alias.anchor);
	return count_node(events);
}

static bool next(struct events *events)
{
	const yaml_event_t *raw = &events->raw;

	if (!pull(events))
		return false;
	switch (raw->type) {
	case YAML_SCALAR_EVENT:
		return take_scalar(events);
	case YAML_SEQUENCE_START_EVENT:
		return take_start(events, EVENT_LIST,
		                  raw->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE,
		                  raw->data.sequence_start.anchor, raw->data.sequence_start.tag);
	case YAML_MAPPING_START_EVENT:
		return take_start(events, EVENT_MAP,
		                  raw->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE,
		                  raw->data.mapping_start.anchor, raw->data.mapping_start.tag);
	case YAML_SEQUENCE_END_EVENT:
	case YAML_MAPPING_END_EVENT:
		return take_end(events);
	case YAML_ALIAS_EVENT:
		return take_alias(events);
	case YAML_NO_EVENT:
	case YAML_STREAM_START_EVENT:
	case YAML_STREAM_END_EVENT:
	case YAML_DOCUMENT_START_EVENT:
	case YAML_DOCUMENT_END_EVENT:
		break;
	}
	events->kind = EVENT_OVER;
	return false;
}

/* -- keys ------------------------------------------------------------------------------------ */

static bool same_key(const struct seen_key *a, const struct seen_key *b)
{
	return a->length == b->length && memcmp(a->text, b->text, a->length) == 0;
}

static void twice(struct events *events, const struct seen_key *first, const struct seen_key *again)
{
	struct span span = {again->at, again->length};

	fault_add(events->faults, SEVERITY_FAULT, events->source, span,
	          "the key `%.*s` stands here twice: first on line %zu",
	          (int)(again->length < 60 ? again->length : 60), again->text,
	          source_place(events->source, first->at).line);
}

static int by_text(const void *a, const void *b)
{
	const struct seen_key *one = a, *other = b;
	int order;

	if (one->length != other->length)
		return one->length < other->length ? -1 : 1;
	order = memcmp(one->text, other->text, one->length);
	if (order != 0)
		return order;
	return one->at < other->at ? -1 : one->at > other->at;
}

/* Sorting keeps a hostile map of a million keys at n log n, whatever its keys are. */
static void forget_keys(struct events *events, size_t from)
{
	size_t count = events->seen_count - from;
	struct seen_key *seen;

	if (count > LINEAR_KEYS_MOST) {
		seen = events->seen + from;
		qsort(seen, count, sizeof(*seen), by_text);
		for (size_t i = 1; i < count; i++)
			if (same_key(&seen[i - 1], &seen[i]))
				twice(events, &seen[i - 1], &seen[i]);
	}
	events->seen_count = from;
}

static void note_key(struct events *events, const struct key *key)
{
	size_t from = events->seen_from[events->depth];
	size_t count = events->seen_count - from;
	struct seen_key seen = {key->text, (uint32_t)key->length, key->span.at};
	struct seen_key *grown;

	for (size_t i = from; count < LINEAR_KEYS_MOST && i < events->seen_count; i++) {
		if (!same_key(&events->seen[i], &seen))
			continue;
		twice(events, &events->seen[i], &seen);
		return;
	}
	if (events->seen_count == events->seen_room) {
		grown = arena_grow(events->arena, events->seen, events->seen_count,
		                   &events->seen_room, sizeof(*grown));
		if (!grown) {
			refuse(events, key->span, "no memory to read this");
			return;
		}
		events->seen = grown;
	}
	events->seen[events->seen_count++] = seen;
}

/* One line, and as long as its value: then nothing in it was folded or escaped. */
static const char *borrow(const struct events *events)
{
	size_t quotes = events->plain ? 0 : 1;

	if (events->raw.start_mark.line != events->raw.end_mark.line ||
	    events->span.length != events->length + 2 * quotes)
		return NULL;
	return events->source->text + events->span.at + quotes;
}

static bool take_key(struct events *events, struct key *key)
{
	key->span = events->span;
	key->length = events->length;
	key->text = borrow(events);
	if (!key->text)
		key->text = arena_copy(events->arena, events->text, events->length);
	if (!key->text)
		return refuse(events, key->span, "no memory to read this");
	if (events->plain && KEY_IS(key, "<<"))
		fault_add(events->faults, SEVERITY_FAULT, events->source, key->span,
		          "a merge key (`<<`) is not read here: write the keys out");
	note_key(events, key);
	return !events->broken;
}

bool events_key(struct events *events, struct key *key)
{
	size_t from = events->seen_from[events->depth];

	while (next(events)) {
		if (events->kind == EVENT_END) {
			forget_keys(events, from);
			return false;
		}
		if (events->kind == EVENT_SCALAR)
			return take_key(events, key) && next(events);
		fault_add(events->faults, SEVERITY_FAULT, events->source, events->span,
		          "a key is a word, not a list or a map");
		events_skip(events);
		if (next(events))
			events_skip(events);
	}
	return false;
}

bool events_item(struct events *events)
{
	return next(events) && events->kind != EVENT_END;
}

/* Recursion ends at EVENTS_DEPTH_MOST. */
void events_skip(struct events *events)
{
	struct key key;

	if (events->kind == EVENT_MAP) {
		while (events_key(events, &key))
			events_skip(events);
	} else if (events->kind == EVENT_LIST) {
		while (events_item(events))
			events_skip(events);
	}
}

/* -- begin and end --------------------------------------------------------------------------- */

bool events_open(struct events *events, const struct source *source, struct arena *arena,
                 struct faults *faults)
{
	memset(events, 0, sizeof(*events));
	events->source = source;
	events->arena = arena;
	events->faults = faults;
	events->ascii = text_ascii(source->text, source->length) == source->length;
	if (!yaml_parser_initialize(&events->parser)) {
		memset(&events->parser, 0, sizeof(events->parser));
		return refuse(events, events->span, "no memory to read this");
	}
	if (source->length > FILE_BYTES_MOST)
		return refuse(events, events->span, "more than 16 MiB in one text");
	/* Without this libyaml takes UTF-16. With it, it counts a BOM as a column, and the first line of
	 * a map would stand deeper than the next: so it never sees one. */
	yaml_parser_set_encoding(&events->parser, YAML_UTF8_ENCODING);
	events->at = source_bom(source);
	yaml_parser_set_input_string(&events->parser,
	                             (const unsigned char *)source->text + events->at,
	                             source->length - events->at);
	while (pull(events)) {
		if (events->raw.type == YAML_STREAM_END_EVENT)
			return false;
		if (events->raw.type == YAML_DOCUMENT_START_EVENT)
			return next(events);
	}
	return false;
}

void events_end(struct events *events)
{
	while (pull(events)) {
		if (events->raw.type == YAML_STREAM_END_EVENT) {
			events->kind = EVENT_OVER;
			return;
		}
		if (events->raw.type == YAML_DOCUMENT_START_EVENT) {
			events->span =
			        (struct span){events_byte(events, events->raw.start_mark.index), 0};
			refuse(events, events->span, "a second document: one file holds one text");
		}
	}
}

void events_close(struct events *events)
{
	if (events->held)
		yaml_event_delete(&events->raw);
	events->held = false;
	yaml_parser_delete(&events->parser);
	events->kind = EVENT_OVER;
}
