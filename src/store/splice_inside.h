/**
 * @file
 * What the parts of the splicer share: splice.c finds what differs, splice_lines.c and
 * splice_flow.c change the bytes of lists and maps that are written in lines and in brackets.
 */
#ifndef TUNDISH_STORE_SPLICE_INSIDE_H
#define TUNDISH_STORE_SPLICE_INSIDE_H

#include "splice.h"

/** Bytes of the original that give way to others. */
struct edit {
	uint32_t at, length;
	const char *text;
	size_t number; /* in the order they were made: those at one place stay in it */
};

/** An item of the original, or of what is wanted, found by its `ref`. */
struct named {
	const char *ref, *list; /* list: the key of the list it stands in */
	struct tree *node;      /* of the original */
	const struct fresh *fresh;
};

struct index {
	struct named *named;
	size_t count, room;
};

struct splice {
	const struct tree_text *tree;
	struct arena *arena;
	struct edit *edit;
	size_t edit_count, edit_room;
	struct index was, will;
	bool *gone;
	bool json;   /* everything in double quotes but numbers */
	bool failed; /* for want of memory, or with err set */
	struct err *err;
};

enum slot_state {
	SLOT_KEPT,
	SLOT_GONE,
	SLOT_MOVED, /* taken from here, to stand somewhere else */
	SLOT_NEW,
};

/** An entry of a list or map as it was, or as it will be. */
struct slot {
	enum slot_state state;
	struct tree *old;        /* not SLOT_NEW */
	const struct fresh *new; /* SLOT_NEW */
	const char *moved;       /* SLOT_NEW: its text, taken from elsewhere: without its dash */
	const char *moved_lines; /* the same with its dash and the comments above, for lines at the
	                            column wanted */
	struct slot *next;
};

void splice_edit(struct splice *splice, uint32_t from, uint32_t to, const char *text);
void splice_fail(struct splice *splice);

/** The comments that start in here go with what they stand in. */
void splice_drop_comments(struct splice *splice, uint32_t from, uint32_t to);

/** How new bytes look as or in @p node: column is left to the caller. */
struct look splice_look(const struct splice *splice, bool in_flow);

/** Bytes from the line's start. */
unsigned splice_column(const struct splice *splice, uint32_t at);
bool splice_begins_line(const struct splice *splice, uint32_t at);

/** The lines of an entry that moves from one list in lines to another: the comments straight above
 * it go with it. */
uint32_t splice_moved_start(const struct splice *splice, const struct tree *node);
uint32_t splice_moved_end(const struct splice *splice, const struct tree *node);

/** From the end of an entry's line past the comments below it that are indented deeper than the
 * entry. */
uint32_t splice_past_deeper_comments(const struct splice *splice, uint32_t at, unsigned column);

/** Take out and put in entries of @p node, which has some. The slots are in the order wanted, with
 * what goes among them. */
void splice_lines(struct splice *splice, struct tree *node, struct slot *slots);
void splice_flow(struct splice *splice, struct tree *node, struct slot *slots);

#endif
