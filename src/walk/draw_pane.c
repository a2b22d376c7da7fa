/*
 * Lines of prose in an area: the verdict, the help. And the field being typed.
 */
#include "pane.h"

#include "tundish/base/text.h"

#include <string.h>

void draw_pane(struct walk *walk, struct screen *screen, struct area area, const struct pane *pane,
               int *top)
{
	struct pane wrapped = {0};
	int most;

	for (size_t i = 0; i < pane->count; i++) {
		const struct pane_line *line = &pane->line[i];

		if (line->drawn)
			pane_put(&wrapped, &walk->scratch, line);
		else
			pane_wrap(&wrapped, &walk->scratch, line->role, line->indent, line->text,
			          area.cols);
	}
	most = (int)wrapped.count - area.rows;
	if (*top > most)
		*top = most;
	if (*top < 0)
		*top = 0;
	for (int i = 0; i < area.rows && *top + i < (int)wrapped.count; i++) {
		const struct pane_line *line = &wrapped.line[*top + i];

		screen_put(screen, area.row + i, area.col + line->indent, area.cols - line->indent,
		           line->role, line->text, strlen(line->text));
		if (line->drawn && line->lit_cols > 0)
			screen_paint(screen, area.row + i, area.col + line->lit_at,
			             line->lit_cols < area.cols - line->lit_at
			                     ? line->lit_cols
			                     : area.cols - line->lit_at,
			             line->lit);
	}
	if (*top < most && area.rows > 0)
		screen_put(screen, area.row + area.rows - 1, area.col + area.cols - 7, 7, ROLE_DIM,
		           " (more)", 7);
}

int put_cut(struct screen *screen, int row, int col, int width, enum role role, const char *text)
{
	size_t length, fits;
	int used;

	if (text == NULL)
		return 0;
	length = strlen(text);
	if (width > screen->cols - col)
		width = screen->cols - col;
	if (width < 2 || text_width(text, length) <= width)
		return screen_put(screen, row, col, width, role, text, length);
	fits = text_fit(text, length, width - 1);
	used = screen_put(screen, row, col, width - 1, role, text, fits);
	return used + screen_put(screen, row, col + used, 1, role, "~", 1);
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
