/**
 * @file
 * The walk on a terminal: reads keys, paints what changed, and puts the terminal back after any
 * end.
 */
#ifndef TUNDISH_SCREEN_RUN_H
#define TUNDISH_SCREEN_RUN_H

#include "tundish/base/err.h"
#include "tundish/walk/host.h"

#include <stdbool.h>
#include <stdio.h>

/** How roles look. ORDER THEME: themes in screen/paint.c, theme_names
 * in commands/options.c. */
enum screen_theme {
	THEME_ANY,   /* reads on light and on dark */
	THEME_MONO,  /* no colour, and what matters in reverse: for the sun */
	THEME_LIGHT, /* a light background: nothing pale */
	THEME_DARK,  /* a dark one: colours in bold */
	THEME_COUNT,
};

struct screen_options {
	FILE *in, *out;   /* the terminal; both must be one (screen_usable) */
	const char *term; /* NULL: TERM of the environment */
	bool color;       /* the caller has looked at --color, NO_COLOR and TERM */
	enum screen_theme theme;
	bool ascii; /* only ASCII may be written, as in a locale that is not UTF-8 */
};

/** Whether that kind of terminal can move its cursor. If not, @p err says so and what to do
 * instead. */
bool screen_usable(const char *term, struct err *err);

/**
 * Walk until its end. Signals, modes of the terminal and the locale's LC_CTYPE (set by the caller
 * before) are as they were when it returns. One at a time in a process.
 */
struct walk_end screen_run(struct walk *walk, const struct walk_host *host,
                           const struct screen_options *options, struct err *err);

#endif
