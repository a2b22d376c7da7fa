#include "tundish/walk/screen.h"

#include "tundish/base/text.h"

#include <stdlib.h>
#include <string.h>

static int within(int value, int most)
{
	return value < 0 ? 0 : value > most ? most : value;
}

void screen_clear(struct screen *screen)
{
	size_t count = (size_t)screen->rows * (size_t)screen->cols;

	for (size_t i = 0; i < count; i++)
		screen->cell[i] = (struct cell){.text = " ", .width = 1, .role = ROLE_PLAIN};
	screen->cursor_row = 0;
	screen->cursor_col = 0;
}

bool screen_init(struct screen *screen, int rows, int cols)
{
	*screen = (struct screen){0};
	return screen_resize(screen, rows, cols);
}

/* Cells are the one thing of the walk that an arena does not fit: they change size and live long.
 */
bool screen_resize(struct screen *screen, int rows, int cols)
{
	struct cell *cell;

	rows = within(rows, SCREEN_ROWS_MOST);
	cols = within(cols, SCREEN_COLS_MOST);
	if (rows == 0 || cols == 0)
		rows = cols = 0;
	cell = calloc((size_t)rows * (size_t)cols + 1, sizeof(*cell));
	if (cell == NULL)
		return false;
	free(screen->cell);
	screen->cell = cell;
	screen->rows = rows;
	screen->cols = cols;
	screen_clear(screen);
	return true;
}

void screen_finish(struct screen *screen)
{
	free(screen->cell);
	*screen = (struct screen){0};
}

static struct cell *cell_at(struct screen *screen, int row, int col)
{
	return &screen->cell[(size_t)row * (size_t)screen->cols + (size_t)col];
}

/* What is written over one half of a wide character takes the other half's text too. */
static void cell_part(struct screen *screen, int row, int col)
{
	struct cell *cell = cell_at(screen, row, col);
	struct cell *other = cell->width == 0 ? cell - 1 : cell->width == 2 ? cell + 1 : NULL;

	if (other != NULL) {
		strcpy(other->text, " ");
		other->width = 1;
	}
	strcpy(cell->text, " ");
	cell->width = 1;
}

static void cell_set(struct screen *screen, int row, int col, enum role role, const char *text,
                     size_t length, int width)
{
	struct cell *cell;

	cell_part(screen, row, col);
	if (width == 2)
		cell_part(screen, row, col + 1);
	cell = cell_at(screen, row, col);
	if (length == 1 && ((unsigned char)text[0] < 0x20 || text[0] == 0x7f))
		text = "?";
	/* marks past the room are dropped, never half a character */
	while (length >= SCREEN_CLUSTER_MOST || !text_is_utf8(text, length, NULL))
		length--;
	memcpy(cell->text, text, length);
	cell->text[length] = '\0';
	cell->width = (uint8_t)width;
	cell->role = (uint8_t)role;
	if (width == 2)
		cell[1] = (struct cell){.text = "", .width = 0, .role = (uint8_t)role};
}

/* Most text is ASCII, of which each byte is a cluster, unless something that belongs to it follows. */
static bool is_plain(const char *text, size_t length)
{
	return text[0] >= ' ' && text[0] < 0x7f && (length == 1 || (text[1] & 0x80) == 0);
}

/* The same as cell_set() for one that is plain. */
static void cell_set_plain(struct screen *screen, int row, int col, enum role role, char text)
{
	struct cell *cell = cell_at(screen, row, col);

	if (cell->width != 1)
		cell_part(screen, row, col);
	cell->text[0] = text;
	cell->text[1] = '\0';
	cell->role = (uint8_t)role;
}

int screen_put(struct screen *screen, int row, int col, int width, enum role role, const char *text,
               size_t length)
{
	int used = 0;

	if (row < 0 || row >= screen->rows || col < 0 || col >= screen->cols)
		return 0;
	if (width > screen->cols - col)
		width = screen->cols - col;
	while (length > 0) {
		bool plain = is_plain(text, length);
		int wide = 1;
		size_t bytes = plain ? 1 : text_cluster(text, length, &wide);

		if (used + wide > width)
			break;
		if (plain)
			cell_set_plain(screen, row, col + used, role, text[0]);
		else if (wide > 0)
			cell_set(screen, row, col + used, role, text, bytes, wide);
		used += wide;
		text += bytes;
		length -= bytes;
	}
	return used;
}

void screen_paint(struct screen *screen, int row, int col, int width, enum role role)
{
	if (row < 0 || row >= screen->rows)
		return;
	for (int i = col < 0 ? 0 : col; i < col + width && i < screen->cols; i++)
		cell_at(screen, row, i)->role = (uint8_t)role;
}

size_t screen_line(const struct screen *screen, int row, char *out)
{
	size_t length = 0, kept = 0;

	for (int col = 0; col < screen->cols; col++) {
		const struct cell *cell =
		        &screen->cell[(size_t)row * (size_t)screen->cols + (size_t)col];
		size_t bytes = strlen(cell->text);

		memcpy(out + length, cell->text, bytes);
		length += bytes;
		if (bytes > 0 && strcmp(cell->text, " ") != 0)
			kept = length;
	}
	out[kept] = '\0';
	return kept;
}
