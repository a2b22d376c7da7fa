/**
 * @file
 * The walk on a terminal: reads keys, paints what changed, and puts the terminal back after any
 * end.
 */
#ifndef TUNDISH_SCREEN_RUN_H
#define TUNDISH_SCREEN_RUN_H

#include "tundish/base/err.h"
#include "tundish/walk/walk.h"

#include <stdbool.h>
#include <stdio.h>

/** How the caller carries out effects. None may write to the terminal: what is to be said goes
 * through walk_say(). */
struct screen_host {
	void *context; /* given back to each */
	/** Keep the changes that were just applied (the journal). NULL: not wanted. */
	void (*committed)(void *context, struct walk *walk, const struct changes *changes);
	/** Save, and tell with walk_saved(). Must not be NULL. */
	void (*save)(void *context, struct walk *walk);
};

struct screen_options {
	FILE *in, *out;   /* the terminal; both must be one (screen_usable) */
	const char *term; /* NULL: TERM of the environment */
	bool color;       /* the caller has looked at --color, NO_COLOR and TERM */
	bool ascii;       /* only ASCII may be written, as in a locale that is not UTF-8 */
};

enum screen_end {
	SCREEN_LEFT,   /* the walk ended: see `leaving` */
	SCREEN_SIGNAL, /* HUP or TERM: see `signal`; the caller keeps unsaved work, then raises it
	                  again */
	SCREEN_LOST,   /* the terminal is gone: end of its input, or a run of failed reads */
	SCREEN_FAILED, /* it could not be opened: see err */
};

struct screen_result {
	enum screen_end end;
	enum walk_leaving leaving;
	int signal;
};

/** Whether that kind of terminal can move its cursor. If not, @p err says so and what to do
 * instead. */
bool screen_usable(const char *term, struct err *err);

/**
 * Walk until its end. Signals, modes of the terminal and the locale's LC_CTYPE (set by the caller
 * before) are as they were when it returns. One at a time in a process.
 */
struct screen_result screen_run(struct walk *walk, const struct screen_host *host,
                                const struct screen_options *options, struct err *err);

#endif
