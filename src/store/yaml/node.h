/**
 * @file
 * A text of the rulebook, or a quiz file, as a tree: small, short-lived, and read by key. Surveys are not read this
 * way (survey_read.c).
 */
#ifndef TUNDISH_STORE_NODE_H
#define TUNDISH_STORE_NODE_H

#include "events.h"

struct node {
	enum event_kind kind; /* EVENT_SCALAR, EVENT_LIST or EVENT_MAP */
	const char *key;      /* NULL: not in a map */
	const char *text;     /* EVENT_SCALAR: NUL-terminated, else NULL */
	struct span span, key_span;
	const struct source *source;
	struct node *child, *next; /* in order */
};

/**
 * Read a whole text.
 *
 * @p nodes  holds the tree; @p texts holds what its `text` and `key` point at.
 * @return   NULL for a text that says nothing, and for one with a fault that leaves nothing to go
 * on with.
 */
struct node *node_read(const struct source *source, struct arena *nodes, struct arena *texts,
                       struct faults *faults);

/** The value of a key, NULL where it is missing or nothing stands after it. NULL for what is no
 * map. */
const struct node *node_get(const struct node *map, const char *key);

/** The text of a key's value; NULL where node_get gives NULL. A list or a map there is a fault. */
const char *node_text(const struct node *map, const char *key, struct faults *faults);

/** `yes` or `no`; @p absent where the key is missing. Anything else is a fault. */
bool node_yes(const struct node *map, const char *key, bool absent, struct faults *faults);

/** The first entry of a key's list; NULL where it is missing or empty. What is no
 * list is a fault. */
const struct node *node_list(const struct node *map, const char *key, struct faults *faults);

/** @return whether @p node is a map; if not, that is a fault: "WHAT is a map". */
bool node_is_map(const struct node *node, const char *what, struct faults *faults);

/** A notice for each key that is not among @p known and does not start with `x-`. @p known ends in
 * NULL. */
void node_known_keys(const struct node *map, const char *what, const char *const *known,
                     struct faults *faults);

/** @return ": did you mean `x`?" in the faults' arena, or "". */
const char *node_meant(const char *word, const char *const *words, size_t count,
                       struct faults *faults);

void node_fault(const struct node *node, struct faults *faults, const char *format, ...)
        __attribute__((format(printf, 3, 4)));

#endif
