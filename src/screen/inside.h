/*
 * What the files of src/screen share.
 *
 *     run.c       the loop: keys to the walk, effects to the host, cells to the terminal
 *     terminal.c  modes, signals, and the way back
 *     capability.c  what terminfo says of it
 *     keys.c      what the terminal sends, as keys of the walk
 *     paint.c     cells and roles, as the terminal shows them
 */
#ifndef TUNDISH_SRC_SCREEN_INSIDE_H
#define TUNDISH_SRC_SCREEN_INSIDE_H

#include "tundish/screen/run.h"

#include <curses.h>

enum {
	PASTE_MOST = 65536,
	/* codes of our own, beyond those of curses */
	CODE_PASTE_BEGIN = KEY_MAX + 1,
	CODE_PASTE_END,
};

/* terminal.c: what arrives by signal, each a byte in the pipe. */
enum news {
	NEWS_INTERRUPT = 'i',
	NEWS_SIZE = 'w',
	NEWS_STOP = 'z',
	NEWS_HANGUP = 'h',
	NEWS_TERMINATE = 't',
	NEWS_TIME = '.', /* none came, and nothing else in the time that was given */
};

/** Open curses on it and take over signals. @return false with @p err; all is then as before. */
bool terminal_open(const struct screen_options *options, struct err *err);
/** Put everything back. */
void terminal_close(void);
/** Stop the process as Ctrl-Z does; returns when it goes on. */
void terminal_stop(void);
/** Take over the terminal's size as it is now. */
void terminal_fit(void);
/** Wait for input or a signal. @return news, or 0 when there is input, or -1: input has failed. */
int terminal_wait(int timeout_ms);

/* keys.c */
struct key_reader {
	bool pasting;
	char paste[PASTE_MOST];
	size_t paste_length;
	char text[8]; /* what the last key's text borrows */
};
/** The next key that has arrived, without waiting. @return false when there is none. */
bool keys_next(struct key_reader *reader, struct walk_key *out);
/** No more of a paste came: take what there is. @return false when nothing was being pasted. */
bool keys_end_paste(struct key_reader *reader, struct walk_key *out);

/* paint.c */
void paint_start(bool color, enum screen_theme theme);
/** Another theme from the next paint() on. */
void paint_theme(enum screen_theme theme);
void paint(const struct screen *screen, bool ascii);

#endif
