/**
 * @file
 * What a text should say, as a tree with no place in any text yet; and how it looks when it is
 * written.
 */
#ifndef TUNDISH_STORE_FRESH_H
#define TUNDISH_STORE_FRESH_H

#include "events.h"

struct fresh {
	enum event_kind kind;
	const char *key;  /* in a map; else NULL */
	const char *text; /* EVENT_SCALAR */
	bool typed;       /* EVENT_SCALAR: see scalar_style */
	bool flow;        /* a list or map that is written in brackets where it has the choice */
	bool alike; /* its entries look alike: a new one follows the style of those that are there
	             */
	bool items; /* a list of maps that have a `ref` */
	const char *
	        verbatim; /* it is in a text already, in brackets: these bytes, whatever else is said here */
	/* an item of a list that is in a text already, on lines of its own: these, from the comments
	   above its dash on, unless it goes between brackets */
	const char *lines;
	unsigned lines_column; /* where they stood */
	struct fresh *child, *last, *next;
};

/** @return a new last child of @p parent (NULL: of nobody); NULL when there is no memory, or no
 * parent for want of it. */
struct fresh *fresh_add(struct arena *arena, struct fresh *parent, enum event_kind kind,
                        const char *key);
struct fresh *fresh_scalar(struct arena *arena, struct fresh *parent, const char *key,
                           const char *text, bool typed);

struct fresh *fresh_get(const struct fresh *map, const char *key);

/** The `ref` of a map, or NULL. */
const char *fresh_ref(const struct fresh *map);

/** Whether two say the same in the same order (of lists; of maps in any order). NULL is nothing. */
bool fresh_same(const struct fresh *a, const struct fresh *b);

/** Bytes that grow in an arena. After a failure nothing more is added. */
struct bytes {
	struct arena *arena;
	char *text; /* NUL-terminated once anything was added */
	size_t count, room;
	bool failed;
};

void bytes_add(struct bytes *bytes, const char *text, size_t count);
void bytes_text(struct bytes *bytes, const char *text);

struct look {
	const char *line_break;
	char quote; /* of scalars; 0: as needed */
	bool json;  /* double quotes but for numbers */
	bool in_flow;
	unsigned column; /* of what is written, where it is not in brackets */
};

/** Whether it is written on lines of its own, where it has the choice. */
bool fresh_in_lines(const struct fresh *fresh, bool in_flow);

/** Lines that stood at one column, for another; without the last line break. */
void fresh_reindent(struct bytes *out, const char *text, size_t length, unsigned from, unsigned to);

/** A value, from its first byte to its last, with no line break at the end. */
void fresh_write(struct bytes *out, const struct fresh *fresh, struct look look);

/** A value with its key where it has one: `key: value`. */
void fresh_write_entry(struct bytes *out, const struct fresh *fresh, struct look look);

/** A line break, and blanks up to the column. */
void fresh_line(struct bytes *out, struct look look);

#endif
