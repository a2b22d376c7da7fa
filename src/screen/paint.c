/*
 * Cells, as the terminal shows them. Roles become attributes in one table; the text is the same
 * with and without colour.
 */
#include "inside.h"

#include <string.h>

struct look {
	attr_t attributes;
	short color; /* on the terminal's own background; -1: its own colour */
};

/*
 * ORDER THEME, ORDER ROLE. No yellow, no blue, nothing faint, no background of ours: it is read in
 * cupboards and in the sun, on light and on dark.
 */
/* clang-format off */
static const struct look themes[THEME_COUNT][ROLE_COUNT] = {
	[THEME_ANY] = {
		[ROLE_PLAIN]     = {A_NORMAL,             -1},
		[ROLE_TITLE]     = {A_BOLD | A_UNDERLINE, -1},
		[ROLE_HEAD]      = {A_BOLD,               -1},
		[ROLE_FOCUS]     = {A_REVERSE,            -1},
		[ROLE_DIM]       = {A_NORMAL,             -1},
		[ROLE_KEY]       = {A_BOLD,               -1},
		[ROLE_SHORT]     = {A_BOLD,               COLOR_RED},
		[ROLE_UNDECIDED] = {A_NORMAL,             COLOR_CYAN},
		[ROLE_PROTECTED] = {A_NORMAL,             COLOR_GREEN},
		[ROLE_ERROR]     = {A_BOLD | A_REVERSE,   -1},
	},
	[THEME_MONO] = {
		[ROLE_PLAIN]     = {A_NORMAL,             -1},
		[ROLE_TITLE]     = {A_BOLD | A_REVERSE,   -1},
		[ROLE_HEAD]      = {A_BOLD | A_UNDERLINE, -1},
		[ROLE_FOCUS]     = {A_REVERSE,            -1},
		[ROLE_DIM]       = {A_NORMAL,             -1},
		[ROLE_KEY]       = {A_BOLD | A_UNDERLINE, -1},
		[ROLE_SHORT]     = {A_BOLD | A_REVERSE,   -1},
		[ROLE_UNDECIDED] = {A_BOLD | A_UNDERLINE, -1},
		[ROLE_PROTECTED] = {A_BOLD,               -1},
		[ROLE_ERROR]     = {A_BOLD | A_REVERSE,   -1},
	},
	[THEME_LIGHT] = {
		[ROLE_PLAIN]     = {A_NORMAL,             -1},
		[ROLE_TITLE]     = {A_BOLD | A_UNDERLINE, -1},
		[ROLE_HEAD]      = {A_BOLD,               -1},
		[ROLE_FOCUS]     = {A_REVERSE,            -1},
		[ROLE_DIM]       = {A_NORMAL,             -1},
		[ROLE_KEY]       = {A_BOLD,               -1},
		[ROLE_SHORT]     = {A_BOLD,               COLOR_RED},
		[ROLE_UNDECIDED] = {A_UNDERLINE,          -1},
		[ROLE_PROTECTED] = {A_NORMAL,             -1},
		[ROLE_ERROR]     = {A_BOLD | A_REVERSE,   -1},
	},
	[THEME_DARK] = {
		[ROLE_PLAIN]     = {A_NORMAL,             -1},
		[ROLE_TITLE]     = {A_BOLD | A_UNDERLINE, -1},
		[ROLE_HEAD]      = {A_BOLD,               -1},
		[ROLE_FOCUS]     = {A_REVERSE,            -1},
		[ROLE_DIM]       = {A_NORMAL,             -1},
		[ROLE_KEY]       = {A_BOLD,               COLOR_CYAN},
		[ROLE_SHORT]     = {A_BOLD,               COLOR_RED},
		[ROLE_UNDECIDED] = {A_BOLD,               COLOR_CYAN},
		[ROLE_PROTECTED] = {A_BOLD,               COLOR_GREEN},
		[ROLE_ERROR]     = {A_BOLD | A_REVERSE,   -1},
	},
};
/* clang-format on */

static const struct look *role_look = themes[THEME_ANY];
static bool colored;

void paint_theme(enum screen_theme theme)
{
	role_look = themes[theme];
	for (short role = 0; colored && role < ROLE_COUNT; role++)
		if (role_look[role].color >= 0)
			init_pair((short)(role + 1), role_look[role].color, -1);
}

void paint_start(bool color, enum screen_theme theme)
{
	colored = color && has_colors() && start_color() == OK && use_default_colors() == OK;
	paint_theme(theme);
}

static void take_look(enum role role)
{
	const struct look *look = &role_look[role];
	short pair = colored && look->color >= 0 ? (short)(role + 1) : 0;

	attr_set(look->attributes, pair, NULL);
}

static bool is_ascii(const struct cell *cell)
{
	return (unsigned char)cell->text[0] < 0x80 && cell->text[1] == '\0';
}

/*
 * Cells of one look go out together as long as they are ASCII. Anything else is put at its own
 * place, because the terminal's idea of its width may not be ours.
 */
static int paint_run(const struct screen *screen, int row, int col, bool ascii)
{
	const struct cell *cell = &screen->cell[(size_t)row * (size_t)screen->cols + (size_t)col];
	char text[256];
	int length = 0;

	take_look((enum role)cell->role);
	if (cell->width == 0)
		return 1;
	if (!is_ascii(cell)) {
		mvaddstr(row, col, ascii ? (cell->width == 2 ? "??" : "?") : cell->text);
		return cell->width;
	}
	while (col + length < screen->cols && length < (int)sizeof(text) - 1 &&
	       is_ascii(&cell[length]) && cell[length].width == 1 &&
	       cell[length].role == cell->role) {
		text[length] = cell[length].text[0];
		length++;
	}
	text[length] = '\0';
	mvaddstr(row, col, text);
	return length;
}

void paint(const struct screen *screen, bool ascii)
{
	for (int row = 0; row < screen->rows && row < LINES; row++)
		for (int col = 0; col < screen->cols && col < COLS;)
			col += paint_run(screen, row, col, ascii);
	move(screen->cursor_row, screen->cursor_col);
	refresh();
}
