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
	bool carried; /* its lines are put in somewhere else, with the comments beside and below */
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
	bool json;    /* everything in double quotes but numbers */
	bool learned; /* something is carried that was not known to be */
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
	struct fresh *new;       /* SLOT_NEW */
	const char *moved_lines; /* SLOT_NEW: its lines, with its dash, taken from elsewhere */
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

/**
 * Whether @p node ends with an item whose lines are carried somewhere else: the comments that stand beside and below go too.
 * @p end  out then: of the last of these lines.
 */
bool splice_ends_carried(const struct splice *splice, const struct tree *node, uint32_t *end);

/** From the end of an entry's line past the comments below it that are indented deeper than the
 * entry. */
uint32_t splice_past_deeper_comments(const struct splice *splice, uint32_t at, unsigned column);

/* splice.c */

/** Change @p node, which says @p from, to say @p to. */
void splice_merge(struct splice *splice, struct tree *node, const struct fresh *from,
                  struct fresh *to);

/** All entries of a list or map, as they stand. */
struct slot *splice_slots(struct splice *splice, const struct tree *node);

/** A new one after @p after, or first of all. */
struct slot *splice_slot_add(struct splice *splice, struct slot **first, struct slot *after,
                             struct fresh *new);

/** Take out and put in entries of @p node, which has some. The slots are in the order wanted, with what goes among them. */
void splice_slots_out(struct splice *splice, struct tree *node, struct slot *slots);

/**
 * The original's bytes from @p from to @p to with the edits from @p mark on carried out; they are forgotten then.
 */
void splice_carry_out(struct splice *splice, size_t mark, uint32_t from, uint32_t to,
                      struct bytes *out);

/* splice_value.c */

/** Write @p fresh in place of the value of @p node. */
void splice_set(struct splice *splice, const struct tree *node, const struct fresh *fresh);

/* splice_list.c */

void splice_index(struct splice *splice, const struct fresh *from, const struct fresh *to);
void splice_list(struct splice *splice, struct tree *node, struct fresh *to);

/** Whether a place is in an item that stands between @p from and @p to, and that will stand somewhere. */
bool splice_moves_within(const struct splice *splice, uint32_t at, uint32_t from, uint32_t to);

/**
 * What is put in holds items that stood elsewhere.
 * @p list     the key of the list it is put in; NULL: none.
 * @p in_flow  it is put between brackets.
 */
void splice_adopt(struct splice *splice, struct fresh *fresh, const char *list, bool in_flow);

/* splice_lines.c, splice_flow.c: splice_slots_out for what stands on lines of its own, and in brackets */

void splice_lines(struct splice *splice, struct tree *node, struct slot *slots);
void splice_flow(struct splice *splice, struct tree *node, struct slot *slots);

#endif
