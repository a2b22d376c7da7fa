/**
 * @file
 * The walk: keys in, lines of text out, and effects for the caller to carry out. Knows no terminal,
 * no file and no clock.
 *
 *     key -> request -> state -> screen
 *                    -> effects: what was changed (to keep), save, leave
 *
 * The caller feeds keys, carries out every effect in its order, then draws:
 *
 *     walk_press(walk, &key);
 *     while (walk_next_effect(walk, &effect)) ...
 *     walk_draw(walk, &screen);
 */
#ifndef TUNDISH_WALK_WALK_H
#define TUNDISH_WALK_WALK_H

#include "tundish/assess/survey.h"
#include "tundish/teach/quiz.h"
#include "tundish/walk/key.h"
#include "tundish/walk/screen.h"

#include <stdbool.h>

struct walk;

struct walk_options {
	const char
	        *name; /* what the survey is called on the title line: its file's path; borrowed */
	bool fresh;    /* no file yet: start at the premises sheet; else at the list of the house */
	bool ascii;    /* draw with ASCII alone: the terminal can show nothing else */
	bool lines;    /* it is told line by line: messages name words, not keys */
	bool unsaved;  /* the survey already differs from its file: an earlier walk's work */
	bool read_only;          /* no change is taken, and nothing saved */
	struct attempt *attempt; /* a quiz: see walk/quiz.h; borrowed. NULL: a walk */
};

/**
 * Begin a walk. @p survey is the caller's, changed by the walk through survey_apply and by nobody
 * else until the walk is destroyed; its book must live as long. @return NULL when there is no
 * memory.
 */
struct walk *walk_create(struct survey *survey, const struct walk_options *options);
void walk_destroy(struct walk *walk);

/** Take one key. Never fails: what can't be done is said on the screen. */
void walk_press(struct walk *walk, const struct walk_key *key);

/**
 * Keep what is being typed as if it were ended here, where it is a value or a name: the walk is about to be ended from
 * outside. Its effects are to be carried out.
 */
void walk_keep_typed(struct walk *walk);

enum walk_effect_form {
	WALK_COMMITTED, /* `changes` were just applied, in this order: keep them (undo and redo
	                   commit too) */
	WALK_SAVE,      /* save the survey now and tell with walk_saved() before the next key */
	WALK_SAVE_AS,   /* the same to the file at `path`, and keep that one from then on */
	WALK_MONO,      /* show it without colours, or as it was begun again */
	WALK_LEAVE,     /* end; `leaving` says what becomes of the work */
	/* of a quiz (walk/quiz.h) */
	WALK_SHOWN,     /* `task` came in sight: its time begins */
	WALK_ANSWERED,  /* `task` got an answer, worth `grade`: keep it before the next key */
	WALK_HANDED_IN, /* the attempt is over */
};

enum walk_leaving {
	WALK_LEAVING_SAVED,   /* nothing unsaved */
	WALK_LEAVING_DISCARD, /* the user said so: unsaved changes are to be forgotten */
	WALK_LEAVING_BROKEN,  /* interrupted twice: leave at once, keep unsaved work if there is a
	                         place for it */
};

struct walk_effect {
	enum walk_effect_form form;
	struct changes changes; /* WALK_COMMITTED: borrowed, lives as long as the walk */
	enum walk_leaving leaving;
	const char *path; /* WALK_SAVE_AS: as typed, never blank; lives until the next key */
	size_t task;      /* WALK_SHOWN, WALK_ANSWERED: its place in the quiz, from 0 */
	enum grade grade; /* WALK_ANSWERED */
};

/** The next effect to carry out. @return false when there is none. */
bool walk_next_effect(struct walk *walk, struct walk_effect *out);

/** How WALK_SAVE or WALK_SAVE_AS ended. @p message is one sentence to show; NULL: the walk's own. May give rise to
 * WALK_LEAVE. */
void walk_saved(struct walk *walk, bool ok, const char *message);

/** What the survey is called from now on; copied. */
void walk_rename(struct walk *walk, const char *name);

/** Say something on the message line until the next key. Copied. */
void walk_say(struct walk *walk, bool trouble, const char *message);

/** Whether there are changes since the last save. */
bool walk_unsaved(const struct walk *walk);

/**
 * Some thousandths of a second of work ahead, for while no key comes: verdicts that were not looked at yet. What is drawn
 * next is only the more complete for it. @return whether there is more to do.
 */
bool walk_think(struct walk *walk);

/** Draw all of it, at the size that @p screen has. Sets its cursor on the focused item or the place
 * of typing. */
void walk_draw(struct walk *walk, struct screen *screen);

#endif
