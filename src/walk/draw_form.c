/*
 * A form: each question with its answer on a line; the focused one opens up and shows how to look
 * and what can be said.
 */
#include "pane.h"

#include "tundish/base/text.h"

#include <string.h>

enum {
	COL_MARK = 1,
	COL_LABEL = 3,
	INDENT_COLS = 2,
	INDENT_MORE = 5, /* of what the focused line shows below it */
};

static int label_col(const struct line *line)
{
	return COL_LABEL + INDENT_COLS * line->indent;
}

static int value_col(int cols)
{
	return cols >= 56 ? cols * 55 / 100 : cols / 2;
}

static bool has_value(const struct line *line)
{
	return line->form == LINE_ANSWER || line->form == LINE_FITTED || line->form == LINE_ITEM;
}

static const char *line_label(const struct walk *walk, const struct line *line)
{
	if (line->text != NULL)
		return line->text;
	return line->form == LINE_ANSWER ? walk->book->question[line->question].label : "";
}

/* -- answers --------------------------------------------------------------------------------- */

static const char *fitted_value(struct walk *walk, const struct item *inlet)
{
	const char *joined = NULL;

	for (size_t i = 0; inlet != NULL && i < inlet->child_count; i++) {
		const struct item *protection = inlet->child[i];
		const char *id = protection->of < walk->book->type_count
		                         ? walk->book->type[protection->of].id
		                         : "?";

		if (protection->scope == SCOPE_PROTECTION)
			joined = joined == NULL ? id
			                        : arena_print(&walk->scratch, "%s, %s", joined, id);
	}
	if (joined != NULL || inlet == NULL)
		return joined;
	if (inlet->cannot_tell)
		return "cannot tell";
	return inlet->nothing_said ? NULL : "nothing";
}

static const char *line_value(struct walk *walk, const struct line *line)
{
	const char *value;

	if (line->form == LINE_ITEM)
		return line->said;
	value = line->form == LINE_FITTED
	                ? fitted_value(walk, line->item)
	                : value_text(walk, line->item, line->question, &walk->scratch);

	return value == NULL ? "[ ]" : value;
}

/* -- what the focused line shows below it ---------------------------------------------------- */

/* One after the other on a line, none broken in two. */
static void flow(struct walk *walk, struct pane *out, const char **row, int cols, const char *text)
{
	struct arena *arena = &walk->scratch;
	int width = *row == NULL ? 0 : text_width(*row, strlen(*row));

	if (text == NULL)
		return;
	if (*row != NULL && width + 3 + text_width(text, strlen(text)) > cols - INDENT_MORE) {
		pane_wrap(out, arena, ROLE_PLAIN, INDENT_MORE, *row, cols);
		*row = NULL;
	}
	*row = *row == NULL ? text : arena_print(arena, "%s   %s", *row, text);
}

/* "1", and beside it the letter that says the same. */
static const char *option_keys(struct walk *walk, const struct question *question, const char *id,
                               size_t number)
{
	static const char *const words[] = {"yes", "no"};

	for (size_t i = 0; i < 2; i++) {
		const char *plain = option_by_word(question, words[i]);

		if (plain != NULL && strcmp(plain, id) == 0)
			return arena_print(&walk->scratch, "%zu/%c", number, words[i][0]);
	}
	return arena_print(&walk->scratch, "%zu", number);
}

static void more_options(struct walk *walk, const struct line *line, struct pane *out, int cols)
{
	const struct question *question = &walk->book->question[line->question];
	struct arena *arena = &walk->scratch;
	struct choices choices = options_of(walk, line->item, line->question, arena);
	const char *row = NULL;

	if (choices.count > 9)
		flow(walk, out, &row, cols,
		     arena_print(arena, "Enter shows %zu to choose from", choices.count));
	for (size_t i = 0; choices.count <= 9 && i < choices.count; i++)
		flow(walk, out, &row, cols,
		     arena_print(arena, "%s %s",
		                 option_keys(walk, question, choices.item[i].id, i + 1),
		                 choices.item[i].label));
	if (question->cannot_tell && question->form != FORM_TEXT)
		flow(walk, out, &row, cols, "t cannot tell");
	if (row != NULL)
		pane_wrap(out, arena, ROLE_PLAIN, INDENT_MORE, row, cols);
}

static void more_fitted(struct walk *walk, const struct line *line, struct pane *out, int cols)
{
	const char *row = NULL;

	if (quiz_on(walk) ||
	    (line->item != NULL && item_children(line->item, SCOPE_PROTECTION) > 0))
		return;
	flow(walk, out, &row, cols, "0 nothing: no valve and no air gap");
	flow(walk, out, &row, cols, "t cannot tell");
	flow(walk, out, &row, cols, "Enter says what is fitted");
	pane_wrap(out, &walk->scratch, ROLE_PLAIN, INDENT_MORE, row, cols);
}

/* All of an answer that its column cuts. */
static void more_value(struct walk *walk, const struct line *line, struct pane *out, int cols)
{
	const char *value = line_value(walk, line);

	if (text_width(value, strlen(value)) > cols - value_col(cols))
		pane_wrap(out, &walk->scratch, ROLE_PLAIN, INDENT_MORE, value, cols);
}

static struct pane more(struct walk *walk, const struct line *line, int cols)
{
	struct pane out = {0};
	struct arena *arena = &walk->scratch;
	const struct question *question;
	const char *words;

	if (walk->value_wrong)
		pane_wrap(&out, arena, ROLE_ERROR, INDENT_MORE,
		          arena_print(arena, "! %s", walk->message), cols);
	if (has_value(line) && walk->over != OVER_FIELD)
		more_value(walk, line, &out, cols);
	if (line->form == LINE_FITTED)
		more_fitted(walk, line, &out, cols);
	if (line->form != LINE_ANSWER)
		return out;
	question = &walk->book->question[line->question];
	if (question->hint != NULL)
		pane_wrap(&out, arena, ROLE_DIM, INDENT_MORE, question->hint, cols);
	/* to be looked at only */
	if (quiz_on(walk))
		return out;
	words = form_words(question, arena);
	if (words != NULL)
		pane_wrap(&out, arena, ROLE_DIM, INDENT_MORE, words, cols);
	more_options(walk, line, &out, cols);
	return out;
}

/* -- rows ------------------------------------------------------------------------------------ */

static struct pane label_rows(struct walk *walk, const struct line *line, int cols)
{
	struct pane out = {0};
	int col = label_col(line), end = has_value(line) ? value_col(cols) - 1 : cols;
	const char *label = line_label(walk, line);

	if (line->form == LINE_HEAD)
		label = arena_print(&walk->scratch, "-- %s --", label), col = 0, end = cols;
	if (label != NULL)
		pane_wrap(&out, &walk->scratch, ROLE_PLAIN, 0, label, end - col);
	return out;
}

static int line_height(struct walk *walk, size_t at, int cols)
{
	const struct line *line = &walk->form.line[at];
	int rows;

	if (line->hidden)
		return 0;
	rows = (int)label_rows(walk, line, cols).count;
	if (at == walk->form.focus && line_can_focus(line))
		rows += (int)more(walk, line, cols).count;
	return rows;
}

static enum role label_role(struct walk *walk, const struct line *line)
{
	if (line->form == LINE_HEAD)
		return ROLE_HEAD;
	if (line->form == LINE_NOTE)
		return ROLE_DIM;
	if (has_value(line) && walk->form.item->scope == SCOPE_POINT && !line_is_answered(line) &&
	    !line_is_asked(walk, line))
		return ROLE_DIM;
	return ROLE_PLAIN;
}

static bool shows(struct area area, int row)
{
	return row >= area.row && row < area.row + area.rows;
}

static void put(struct screen *screen, struct area area, int row, int col, int width,
                enum role role, const char *text)
{
	if (shows(area, row) && width > 0)
		put_cut(screen, row, area.col + col, width, role, text);
}

static void draw_focus(struct walk *walk, struct screen *screen, struct area area,
                       const struct line *line, int row, int rows, bool active)
{
	int col = has_value(line) ? value_col(area.cols) : label_col(line);
	bool typing = walk->over == OVER_FIELD && walk->purpose == FOR_ANSWER;

	put(screen, area, row, 0, 1, ROLE_PLAIN, ">");
	if (!active)
		return;
	for (int i = 0; i < rows; i++)
		if (shows(area, row + i))
			screen_paint(screen, row + i, area.col, area.cols, ROLE_FOCUS);
	if (!shows(area, row))
		return;
	screen->cursor_row = row;
	screen->cursor_col = area.col + col;
	if (typing)
		draw_field(walk, screen, row, area.col + col, area.cols - col);
}

/* @return the row after it. */
static int draw_line(struct walk *walk, struct screen *screen, struct area area, size_t at, int row,
                     bool active)
{
	const struct line *line = &walk->form.line[at];
	bool focused = at == walk->form.focus && line_can_focus(line);
	bool typing = focused && walk->over == OVER_FIELD && walk->purpose == FOR_ANSWER;
	struct pane labels = label_rows(walk, line, area.cols), below = {0};
	int col = line->form == LINE_HEAD ? 0 : label_col(line), value = value_col(area.cols);

	for (size_t i = 0; i < labels.count; i++)
		put(screen, area, row + (int)i, col, area.cols - col, label_role(walk, line),
		    labels.line[i].text);
	if (line_is_asked(walk, line))
		put(screen, area, row, COL_MARK, 1, ROLE_UNDECIDED, "*");
	if (focused && walk->value_wrong)
		put(screen, area, row, COL_MARK, 1, ROLE_ERROR, "!");
	if (has_value(line) && !typing)
		put(screen, area, row, value, area.cols - value, label_role(walk, line),
		    line_value(walk, line));
	if (focused) {
		draw_focus(walk, screen, area, line, row, (int)labels.count, active);
		below = more(walk, line, area.cols);
	}
	row += (int)labels.count;
	for (size_t i = 0; i < below.count; i++)
		put(screen, area, row + (int)i, below.line[i].indent,
		    area.cols - below.line[i].indent, below.line[i].role, below.line[i].text);
	return row + (int)below.count;
}

void draw_form(struct walk *walk, struct screen *screen, struct area area, bool active)
{
	struct item_form *form = &walk->form;
	int start = 0, height = 0, row = area.row, before = 0;

	form_fold(walk);
	for (size_t i = 0; i < form->count; i++) {
		int rows = line_height(walk, i, area.cols);

		if (i < form->focus)
			start += rows;
		if (i == form->focus)
			height = rows;
		before = i > 0 && i == form->focus && !line_can_focus(&form->line[i - 1])
		                 ? line_height(walk, i - 1, area.cols)
		                 : before;
	}
	/* the head above the first line of a group comes into sight with it */
	if (start - before < form->top)
		form->top = start - before;
	if (start + height > form->top + area.rows)
		form->top = start + height - area.rows;
	if (start < form->top)
		form->top = start;
	row -= form->top;
	for (size_t i = 0; i < form->count; i++)
		if (!form->line[i].hidden)
			row = draw_line(walk, screen, area, i, row, active);
}
