/**
 * @file
 * A screen as the walk draws it and anyone may read it: cells of text, and where the cursor stands.
 * No terminal here: a role says what a cell is, and the terminal's one table says how that looks.
 * So the text is the same with and without colour.
 */
#ifndef TUNDISH_WALK_SCREEN_H
#define TUNDISH_WALK_SCREEN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** What a cell is. ORDER ROLE: themes in screen/paint.c. */
enum role {
	ROLE_PLAIN,
	ROLE_TITLE, /* the first line */
	ROLE_HEAD,  /* heads a group of lines */
	ROLE_FOCUS, /* the item that the next key acts on */
	ROLE_DIM,   /* can be left unread: hints, questions that can't move the verdict */
	ROLE_KEY,   /* a key in the footer */
	ROLE_SHORT,
	ROLE_UNDECIDED, /* undecided, not seen, unproven */
	ROLE_PROTECTED,
	ROLE_ERROR, /* a value that is not one, a save that failed */
	ROLE_COUNT,
};

enum {
	SCREEN_CLUSTER_MOST =
	        24, /* bytes of a cell's text with its NUL; what is longer loses its last marks */
	SCREEN_ROWS_MOST = 1000,
	SCREEN_COLS_MOST = 1000,
};

/** A cell of width 2 is followed by one of width 0 and no text. An empty cell is one blank,
 * width 1. */
struct cell {
	char text[SCREEN_CLUSTER_MOST]; /* one cluster of UTF-8, NUL-terminated */
	uint8_t width;
	uint8_t role; /* enum role */
};

struct screen {
	int rows, cols;             /* 0 to SCREEN_..._MOST */
	int cursor_row, cursor_col; /* from 0, always inside where there is a cell */
	struct cell *cell;          /* owned; row after row */
};

/** A blank screen. @return false when there is no memory (then 0 x 0). Sizes are brought into 0 to
 * ..._MOST. */
bool screen_init(struct screen *screen, int rows, int cols);
/** Another size, blank. @return false when there is no memory: the screen is unchanged. */
bool screen_resize(struct screen *screen, int rows, int cols);
void screen_clear(struct screen *screen);
void screen_finish(struct screen *screen);

/**
 * Put a text at a place, cut to @p width columns and to the screen. Control characters show as `?`.
 * @return columns used.
 */
int screen_put(struct screen *screen, int row, int col, int width, enum role role, const char *text,
               size_t length);

/** All cells of a stretch take a role; their text stays. */
void screen_paint(struct screen *screen, int row, int col, int width, enum role role);

/**
 * One line as text, trailing blanks cut, NUL-terminated.
 * @p out  at least cols * SCREEN_CLUSTER_MOST + 1 bytes. @return its length.
 */
size_t screen_line(const struct screen *screen, int row, char *out);

#endif
