/*
 * Lines of prose in an area: the verdict, the help. And the field being typed.
 */
#include "inside.h"

#include "tundish/base/text.h"

#include <string.h>

static void add(struct pane *pane, struct arena *arena, enum role role, int indent,
                const char *text, size_t length)
{
	struct pane_line *grown =
	        arena_grow(arena, pane->line, pane->count, &pane->room, sizeof(*grown));
	const char *copy = arena_copy(arena, text, length);

	if (grown == NULL || copy == NULL)
		return;
	pane->line = grown;
	grown[pane->count++] = (struct pane_line){copy, role, indent};
}

void pane_wrap(struct pane *pane, struct arena *arena, enum role role, int indent, const char *text,
               int cols)
{
	size_t left = strlen(text);
	int width = cols - indent < 8 ? 8 : cols - indent;

	do {
		size_t bytes = text_wrap(text, left, width);

		add(pane, arena, role, indent, text, bytes);
		while (bytes < left && text[bytes] == ' ')
			bytes++;
		text += bytes;
		left -= bytes;
	} while (left > 0);
}

void draw_pane(struct walk *walk, struct screen *screen, struct area area, const struct pane *pane,
               int *top)
{
	struct pane wrapped = {0};
	int most;

	for (size_t i = 0; i < pane->count; i++)
		pane_wrap(&wrapped, &walk->scratch, pane->line[i].role, pane->line[i].indent,
		          pane->line[i].text, area.cols);
	most = (int)wrapped.count - area.rows;
	if (*top > most)
		*top = most;
	if (*top < 0)
		*top = 0;
	for (int i = 0; i < area.rows && *top + i < (int)wrapped.count; i++) {
		const struct pane_line *line = &wrapped.line[*top + i];

		screen_put(screen, area.row + i, area.col + line->indent, area.cols - line->indent,
		           line->role, line->text, strlen(line->text));
	}
	if (*top < most && area.rows > 0)
		screen_put(screen, area.row + area.rows - 1, area.col + area.cols - 7, 7, ROLE_DIM,
		           " (more)", 7);
}

void draw_field(struct walk *walk, struct screen *screen, int row, int col, int width)
{
	const struct field *field = &walk->field;
	size_t from = 0;
	int before = text_width(field->text, field->at);

	/* the place of typing stays in sight, with a column to type in */
	while (before >= width && from < field->at) {
		int wide;

		from += text_cluster(field->text + from, field->length - from, &wide);
		before -= wide;
	}
	screen_put(screen, row, col, width, ROLE_PLAIN, field->text + from, field->length - from);
	screen_paint(screen, row, col, width, ROLE_FOCUS);
	screen->cursor_row = row;
	screen->cursor_col = col + before < screen->cols ? col + before : screen->cols - 1;
}
