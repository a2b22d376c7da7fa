/**
 * @file
 * The journal: what was committed and is not saved, on disk before the next question is asked.
 *
 * It is a text of lines beside the survey, `.NAME.journal`, mode 0600; where nothing can be written there, below a folder
 * of states that the caller names. docs/journal.md has the lines. It is removed only when all of it is durably in the
 * file, and one that was discarded is kept, as `.NAME.journal~`, until the next is.
 */
#ifndef TUNDISH_STORE_JOURNAL_H
#define TUNDISH_STORE_JOURNAL_H

#include "tundish/assess/survey.h"
#include "tundish/base/arena.h"
#include "tundish/base/err.h"

#include <stdbool.h>
#include <stddef.h>

/* -- its text (no file is touched) ----------------------------------------------------------------------------- */

/** What a file holds: SHA-256 in hex, or `none` where there is no file. */
struct digest {
	char text[65];
};

/** @p bytes NULL: there is no file. */
struct digest digest_of(const char *bytes, size_t length);

/** A save that was begun: if it came to its end, the file holds all changes up to here. */
struct journal_mark {
	size_t change_count;
	struct digest digest;
};

struct journal_text {
	const char *path;    /* of the survey, as the journal says */
	const char *begun;   /* UTC, such as 2026-11-25T09:12:03Z */
	struct digest base;  /* of the file that the first change was made on */
	struct changes changes; /* of whole steps, in order */
	struct journal_mark *mark;
	size_t mark_count, mark_room;
	size_t whole; /* bytes up to the end of the last whole step; what follows is torn or damaged */
	unsigned char link[32]; /* what the next line would be chained to */
};

/**
 * Read as much of a journal as is whole: a text that was cut anywhere, or damaged, gives the steps before that place.
 * Every line is chained to those before it, so none can be missing in between.
 * @return false with @p err: ERR_TEXT when not even its head is whole, ERR_MEMORY.
 */
bool journal_read(const char *text, size_t length, struct arena *arena, struct journal_text *out, struct err *err);

/* -- its file -------------------------------------------------------------------------------------------------- */

struct journal;

/**
 * The journal of the survey at @p path. Nothing is written yet.
 * @p states  a folder to use where nothing can be written beside the survey; made (0700) when needed; NULL: none.
 * @p file    what the survey's file holds now.
 * @return    NULL when there is no memory.
 */
struct journal *journal_create(const char *path, const char *states, struct digest file);

/** Closes the file; removes nothing. */
void journal_destroy(struct journal *journal);

enum journal_fit {
	JOURNAL_FITS,    /* the file holds what these changes were made on */
	JOURNAL_SAVED,   /* the file holds them all */
	JOURNAL_CHANGED, /* the file holds something else */
	JOURNAL_DAMAGED, /* not even the head can be read: no changes */
};

/** What an earlier walk left. */
struct journal_left {
	const char *path; /* of the journal; NULL: there is none */
	enum journal_fit fit;
	struct changes changes; /* those that the file does not hold */
	size_t torn;            /* bytes at the end that were not whole: a step that was being written, or damage */
	const char *begun;
	const char *bytes; /* all of it */
	size_t length, whole;
	unsigned char link[32];
};

/**
 * Look for a journal of an earlier walk, beside the survey and in the folder of states. One that was only half made, and
 * so was never told of, is removed. To be called with the lock held. @return false with @p err.
 */
bool journal_find(struct journal *journal, struct arena *arena, struct journal_left *out, struct err *err);

/**
 * Go on with what was left: this walk's journal begins with its changes, in the same place. Where not all of it could be
 * read, or @p keep says so, the old one stays as `.NAME.journal~`.
 * @return false with @p err: what was left is as it was, and the changes are in memory until the next journal_add().
 */
bool journal_adopt(struct journal *journal, const struct journal_left *left, bool keep, struct err *err);

/** Remove what was left: only where the file holds it all. */
void journal_forget(const struct journal_left *left);

/** Keep what was left as `.NAME.journal~` alone, and begin anew. @return false with @p err. */
bool journal_set_aside(const struct journal_left *left, struct err *err);

/**
 * Put a step at the end, durably. A step is one line of input's worth: all of its changes are replayed, or none.
 *
 * Where that fails, all of the journal is written in the other place. Where that fails too, it stays in memory, and the
 * next step tries again.
 * @return false with @p err: this step and perhaps earlier ones are in memory alone.
 */
bool journal_add(struct journal *journal, const struct changes *step, struct err *err);

/** Try again what could not be put on disk. @return false with @p err. */
bool journal_keep(struct journal *journal, struct err *err);

/** Whether all steps are on disk. */
bool journal_is_kept(const struct journal *journal);

/** Where it is, or NULL while there is none on disk. */
const char *journal_path(const struct journal *journal);

/** To be called before the file is replaced: a kill between that and journal_saved() must not bring back what was saved. */
void journal_saving(struct journal *journal, struct digest file);

/** All of it is durably in @p path, which is the survey's file from now on: the journal is removed. */
void journal_saved(struct journal *journal, const char *path, struct digest file);

/** The user said so: what was not saved is kept as `.NAME.journal~` alone. @return false with @p err. */
bool journal_discard(struct journal *journal, struct err *err);

#endif
