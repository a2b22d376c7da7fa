/**
 * @file
 * A survey's text as a tree that knows where each thing's bytes stand, and every comment. For
 * splices only.
 */
#ifndef TUNDISH_STORE_TREE_H
#define TUNDISH_STORE_TREE_H

#include "events.h"

#include "tundish/base/err.h"

struct tree {
	enum event_kind kind; /* EVENT_SCALAR, EVENT_LIST or EVENT_MAP */
	bool flow;            /* a list or map in brackets */
	bool literal;         /* a scalar below | or > */
	char quote;           /* a scalar's ' or ", else 0 */
	const char *text;     /* a scalar's value, NUL-terminated */
	size_t length;
	/* As written. Of a list or map without brackets only where it starts: where libyaml says
	   that it ends is the next token, past comments and blank lines. */
	struct span span;
	const char *key; /* in a map: NUL-terminated */
	struct span key_span;
	uint32_t dash; /* in a list without brackets: where its dash stands */
	struct tree *parent, *child, *last, *next, *prev;
};

struct tree_text {
	const struct source *source;
	struct tree *root; /* NULL: the text says nothing */
	struct span *comment;
	size_t comment_count, comment_room;
	struct span *scalar; /* of all scalars and keys, rising */
	size_t scalar_count, scalar_room;
	const char *line_break; /* the text's own: the first one in it */
};

/** @return false with faults where the text can't be read, or for want of memory. */
bool tree_read(struct tree_text *tree, const struct source *source, struct arena *arena,
               struct faults *faults);

/** As tree_read, for what can go on with a whole text only. @return false with @p err, which has the first fault: ERR_TEXT,
 * or ERR_MEMORY. */
bool tree_read_whole(struct tree_text *tree, const struct source *source, struct arena *arena,
                     struct err *err);

/** The value of a key, also where nothing stands after it; NULL. */
struct tree *tree_get(const struct tree *map, const char *key);

/** Whether nothing was written. */
bool tree_is_empty(const struct tree *node);

/** Whether it stands within brackets (its own do not count). */
bool tree_in_flow(const struct tree *node);

/** Where an entry of a list or map starts: its key, its dash, or its value. */
uint32_t tree_entry_start(const struct tree *node);

/**
 * Where a value ends: of a list or map without brackets with its last entry; below | or > with the
 * last line that is not blank, before its line break; where nothing was written after the colon,
 * the dash or the bare key.
 */
uint32_t tree_end(const struct tree_text *tree, const struct tree *node);

/** The last scalar or bracket of a value. */
const struct tree *tree_last_leaf(const struct tree *node);

/** Just after the colon of a key, or its end where it has none. */
uint32_t tree_after_colon(const struct tree_text *tree, const struct tree *node);

/* -- lines, as libyaml breaks them: LF, CRLF, CR, NEL, LS, PS */

/** After a BOM. */
uint32_t line_start(const struct source *source, uint32_t at);
/** Before its break, or the end of the text. */
uint32_t line_end(const struct source *source, uint32_t at);
/** After its break. */
uint32_t line_next(const struct source *source, uint32_t at);
/** The start of the line above, or of its own if none. */
uint32_t line_before(const struct source *source, uint32_t at);
bool line_is_blank(const struct source *source, uint32_t from, uint32_t to);

/** The first comment that starts in from .. to - 1, or NULL. */
const struct span *tree_comment_in(const struct tree_text *tree, uint32_t from, uint32_t to);

#endif
