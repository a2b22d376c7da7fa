/**
 * @file
 * A thin pull reader over libyaml's events, shared by the readers of surveys and rulebooks.
 *
 * It is the one place that knows libyaml's marks and its traps, and that holds every text to the
 * same limits: UTF-8 only, one document, no alias, anchor or merge key, no tag but the core ones,
 * no key twice in a map, 16 MiB, 64 levels, 1,000,000 values, 64 KiB a value. What breaks one of
 * them is a fault with its place; after a fault that leaves nothing to go on with, the events are
 * over.
 *
 * Reading is a descent. On EVENT_MAP call events_key until it says false, on EVENT_LIST
 * events_item; after each true the event at hand is the value, which must be read whole: a scalar
 * is at hand already, a map or a list is descended into or skipped (events_skip).
 */
#ifndef TUNDISH_STORE_EVENTS_H
#define TUNDISH_STORE_EVENTS_H

#include "tundish/base/arena.h"
#include "tundish/base/fault.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <yaml.h>

enum {
	EVENTS_DEPTH_MOST = 64,
	EVENTS_NODES_MOST = 1000000,
	EVENTS_TEXT_MOST = 64 * 1024,
};

enum event_kind {
	EVENT_OVER, /* nothing (more) to read: the end, or a fault */
	EVENT_SCALAR,
	EVENT_LIST,
	EVENT_MAP,
	EVENT_END, /* of the list or map opened last */
};

/** A key of a map: unquoted, not NUL-terminated; lives as long as the source and the arena. */
struct key {
	const char *text;
	size_t length;
	struct span span;
};

/** Whether a key is this word; @p word is a literal. */
#define KEY_IS(key, word)                                                                          \
	((key)->length == sizeof(word) - 1 && memcmp((key)->text, word, sizeof(word) - 1) == 0)

/** Keys of the maps that are open, to see one twice. */
struct seen_key {
	const char *text;
	uint32_t length, at;
};

struct events {
	/* the event at hand */
	enum event_kind kind;
	struct span span; /* scalar: as written, quotes and all; list, map: its start, no length */
	const char *text; /* scalar: its value, NUL-terminated; until the next event */
	size_t length;
	bool plain;        /* scalar: written without quotes, in one line or folded */
	bool flow;         /* list, map: in brackets */
	uint32_t read_end; /* of the last scalar or bracket: where a block ends that ends now */

	/* the rest is for events*.c */
	const struct source *source;
	struct arena *arena;
	struct faults *faults;
	yaml_parser_t parser;
	yaml_event_t raw;
	bool held;        /* raw must be deleted */
	bool broken;      /* a fault left nothing to go on with */
	bool ascii;       /* then libyaml's index is the byte offset */
	size_t index, at; /* one place in the text: in characters and in bytes */
	size_t nodes;
	unsigned depth;
	uint64_t flow_bits; /* of the open lists and maps, innermost in bit 0 */
	struct seen_key *seen;
	size_t seen_count, seen_room;
	size_t seen_from[EVENTS_DEPTH_MOST + 1]; /* where in `seen` the keys of a depth start */
};

/**
 * Start on a text, up to its first value.
 *
 * @p arena   for keys that can't be borrowed from the text. @p faults and @p source must outlive
 * the events.
 * @return    true when a value is at hand; false for a text that says nothing, and for a broken
 * one.
 */
bool events_open(struct events *events, const struct source *source, struct arena *arena,
                 struct faults *faults);

/** After the first value was read: nothing more may stand in the text. */
void events_end(struct events *events);
/** Also after events_open said false. */
void events_close(struct events *events);

/** The next key of the map at hand, its value then at hand. @return false at the map's end, and
 * when broken. */
bool events_key(struct events *events, struct key *key);

/** The next value of the list at hand. @return false at its end, and when broken. */
bool events_item(struct events *events);

/** Read past the value at hand; its keys and limits are checked all the same. */
void events_skip(struct events *events);

/** Leave nothing more to read: after a fault that makes all the rest useless. */
void events_stop(struct events *events);

/** Note why the parser gave up (events_explain.c). */
void events_explain(struct events *events);

/* events_place.c */

/** The byte offset of libyaml's index: a count of characters. Cheap as long as they rise. */
uint32_t events_byte(struct events *events, size_t index);

/** The bytes from one of libyaml's marks to another. */
struct span events_mark_span(struct events *events, const yaml_mark_t *start,
                             const yaml_mark_t *end);

/** Bytes from @p at to where the last scalar or bracket ended. */
struct span events_span_from(const struct events *events, uint32_t at);

/** Whether nothing was written: an empty value counts as no key. */
bool events_is_empty(const struct events *events);

#endif
