/*
 * The layout: the title, the views that there is room for, the message, the footer.
 *
 *     from 140 columns: the house, the form, the verdict side by side
 *     from 100:         the house or the form, and the verdict beside it; from 30 rows the form
 *                       with its neighbours in the house above it
 *     from 80 x 24:     one view, the verdict folded under it
 *     from 40 x 10:     one view, the verdict as one line
 *     smaller:          a notice
 */
#include "pane.h"

#include "tundish/base/text.h"

#include <string.h>

enum {
	COLS_THREE = 140,
	COLS_TWO = 100,
	COLS_FOLD = 80,
	ROWS_FOLD = 24,
	ROWS_STRIP = 30,
	COLS_LEAST = 40,
	ROWS_LEAST = 10,
	PANE_COLS = 42,
	HOUSE_COLS = 40,
	STRIP_ROWS = 5,  /* of the house above a form */
	FOLD_ROWS = 7,   /* with its head and the caution */
	ROWS_AROUND = 3, /* title, message, footer */
};

static int put(struct screen *screen, int row, int col, int width, enum role role, const char *text)
{
	return text == NULL || width <= 0 ? 0 : put_cut(screen, row, col, width, role, text);
}

/* -- title, message, footer ------------------------------------------------------------------ */

const char *where_words(struct walk *walk)
{
	const struct item *item = walk->form.item;
	enum view view = walk->view == VIEW_VERDICT ? walk->view_before : walk->view;
	struct arena *arena = &walk->scratch;

	if (view == VIEW_HOUSE || item == NULL)
		return "the house";
	if (walk->form.leaving)
		return "before leaving";
	if (item->scope == SCOPE_POINT)
		return arena_print(arena, "%s: %s", item_title(walk, item->parent, arena),
		                   item_title(walk, item, arena));
	return item_title(walk, item, arena);
}

/* The end of a text, where there is no room for all of it: a path ends with the file's name. */
static const char *end_of(const char *text, int cols, struct arena *arena)
{
	size_t length = strlen(text), at = 0;

	if (text_width(text, length) <= cols)
		return text;
	while (at < length && text_width(text + at, length - at) > cols - 1)
		at += text_cluster(text + at, length - at, NULL);
	return arena_print(arena, "~%s", text + at);
}

/* Where there is no room for both, where one is gives way: the file and whether it is saved never
 * do. */
static void draw_title(struct walk *walk, struct screen *screen)
{
	const char *saved = quiz_on(walk)             ? quiz_state(walk, screen->cols < COLS_FOLD)
	                    : walk->options.read_only ? " (read-only)"
	                    : walk_unsaved(walk)      ? " (not saved)"
	                                              : "";
	struct arena *arena = &walk->scratch;
	const char *where = where_words(walk), *name = walk->options.name, *file;
	const char *title = arena_print(arena, "tundish  %s%s  |  %s", name, saved, where);
	int left = screen->cols - (int)strlen(saved);

	if (title != NULL && text_width(title, strlen(title)) > screen->cols) {
		file = arena_print(arena, "%s%s", end_of(name, left, arena), saved);
		left = file == NULL ? 0 : screen->cols - text_width(file, strlen(file)) - 5;
		title = file;
		if (left > 1)
			left = put(screen, 0, 0, left, ROLE_TITLE, where),
			title = arena_print(arena, "  |  %s", file);
		else
			left = 0;
		put(screen, 0, left, screen->cols - left, ROLE_TITLE, title);
	} else {
		put(screen, 0, 0, screen->cols, ROLE_TITLE, title);
	}
	screen_paint(screen, 0, 0, screen->cols, ROLE_TITLE);
}

const char *prompt_words(struct walk *walk)
{
	if (walk->purpose == FOR_NAME)
		return "New name: ";
	if (walk->purpose == FOR_FIND)
		return "Find: ";
	if (walk->purpose == FOR_TASK)
		return "Your answer: ";
	if (walk->purpose == FOR_FILE)
		return "Save to: ";
	if (walk->purpose == FOR_COPY)
		return "Name of the room like it: ";
	if (walk->adding.scope == SCOPE_PART)
		return "Name of the new part: ";
	if (walk->adding.scope == SCOPE_BRANCH)
		return "Name of the new branch: ";
	return "Name of the new room: ";
}

static void put_blanks(struct screen *screen, int row)
{
	for (int col = 0; col < screen->cols; col++)
		put(screen, row, col, 1, ROLE_PLAIN, " ");
}

/* @return how many columns it takes. */
static int put_message(struct walk *walk, struct screen *screen, int row)
{
	put_blanks(screen, row);
	return put(screen, row, 0, screen->cols, walk->trouble ? ROLE_ERROR : ROLE_PLAIN,
	           walk->trouble ? arena_print(&walk->scratch, "! %s", walk->message)
	                         : walk->message);
}

static void draw_message(struct walk *walk, struct screen *screen)
{
	enum { FIELD_LEAST = 14 };
	int row = screen->rows - 2, used;

	if (walk->over == OVER_FIELD && walk->purpose != FOR_ANSWER) {
		/* the field has its place: it goes above, over what stands there */
		if (walk->message[0] != '\0')
			put_message(walk, screen, row - 1);
		put_blanks(screen, row);
		used = put(screen, row, 0, screen->cols - FIELD_LEAST, ROLE_HEAD,
		           prompt_words(walk));
		draw_field(walk, screen, row, used, screen->cols - used);
		return;
	}
	if (walk->value_wrong)
		return; /* said at the field */
	if (walk->message[0] == '\0')
		return;
	used = put_message(walk, screen, row);
	if (walk->over != OVER_QUESTION)
		return;
	screen->cursor_row = row;
	screen->cursor_col = used < screen->cols ? used : screen->cols - 1;
}

/* Whether there is any use in naming a request here and now. */
static bool is_of_use(struct walk *walk, enum request request)
{
	const struct line *line = form_line(walk);
	bool in_form = walk->over == OVER_NOTHING && walk->view == VIEW_FORM;

	if (request == REQUEST_UNDO)
		return walk->history.done > 0;
	if (quiz_on(walk) && !quiz_is_of_use(walk, request))
		return false;
	if (walk->over == OVER_QUESTION)
		return leave_can_say(walk, request);
	if (request == REQUEST_CLEAR && in_form)
		return line != NULL && line->form == LINE_ANSWER && line->item != NULL &&
		       item_answer(line->item, line->question) != NULL;
	if (request == REQUEST_REMOVE && walk->view == VIEW_HOUSE)
		return house_row(walk)->form == ROW_ROOM || house_row(walk)->form == ROW_POINT;
	return true;
}

/* What the request is called here: Enter does what the line or the field is for. */
static const char *footer_words(struct walk *walk, enum request request)
{
	const struct line *line = form_line(walk);

	if (request == REQUEST_GIVE)
		return quiz_enter_words(walk);
	if (request == REQUEST_KEEP && walk->purpose == FOR_FIND)
		return "find";
	if (request == REQUEST_KEEP && walk->purpose == FOR_FILE)
		return "save";
	if (request == REQUEST_ANSWER && line != NULL && line->form == LINE_ADD)
		return "add";
	if (request == REQUEST_ANSWER && line != NULL && line->form == LINE_ROOMS)
		return "go on";
	if (request == REQUEST_ANSWER && line != NULL && line->form == LINE_ITEM)
		return "open";
	return request_row(request)->footer;
}

static int put_key(struct walk *walk, struct screen *screen, int col, int end, enum request request)
{
	const struct request_row *row = request_row(request);
	size_t length = strcspn(row->keys, " ");
	const char *key = arena_copy(&walk->scratch, row->keys, length);
	const char *words = footer_words(walk, request);
	int used;

	if (col + (int)length + 1 + text_width(words, strlen(words)) > end)
		return 0;
	used = put(screen, screen->rows - 1, col, end - col, ROLE_KEY, key);
	used += 1 + put(screen, screen->rows - 1, col + used + 1, end - col - used - 1, ROLE_PLAIN,
	                words);
	return used + 2;
}

static bool is_last(enum request request)
{
	return request == REQUEST_HELP || request == REQUEST_HELP_ANYWHERE ||
	       request == REQUEST_INTERRUPT || request == REQUEST_COMMANDS ||
	       request == REQUEST_LEAVE;
}

/* Help, the list of all there is, and the way out are always named, at the end; of the rest what
 * there is room for. */
static void draw_footer(struct walk *walk, struct screen *screen)
{
	static const enum request in_view[] = {REQUEST_HELP, REQUEST_COMMANDS, REQUEST_LEAVE},
	                          over_it[] = {REQUEST_HELP_ANYWHERE, REQUEST_INTERRUPT};
	enum context context = walk_context(walk);
	bool views = (context & (IN_VIEWS | IN_FOUND)) != 0, asks = context == IN_QUESTION;
	size_t count = views ? 3 : asks ? 1 : 2; /* a question has its own way out */
	int last = views ? 22 : asks ? 11 : 25, col = 0;

	if (screen->cols < last)
		return;
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if ((row->contexts & context) != 0 && row->footer[0] != '\0' &&
		    !is_last((enum request)i) && is_of_use(walk, (enum request)i))
			col += put_key(walk, screen, col, screen->cols - last - 1, (enum request)i);
	}
	col = screen->cols - last;
	for (size_t i = 0; i < count; i++)
		col += put_key(walk, screen, col, screen->cols, views ? in_view[i] : over_it[i]);
}

/* -- views ----------------------------------------------------------------------------------- */

void draw_rule(struct screen *screen, struct area area, const char *text)
{
	for (int i = 0; i < area.cols; i++)
		put(screen, area.row, area.col + i, 1, ROLE_DIM, "-");
	put(screen, area.row, area.col + 2, area.cols - 2, ROLE_HEAD, text);
}

static void draw_side(struct screen *screen, int col, int row, int rows)
{
	for (int i = 0; i < rows; i++)
		put(screen, row + i, col, 1, ROLE_DIM, "|");
}

static bool in_form(const struct walk *walk)
{
	enum view view = walk->view == VIEW_VERDICT ? walk->view_before : walk->view;

	return view == VIEW_FORM && walk->form.item != NULL;
}

static void draw_view(struct walk *walk, struct screen *screen, struct area area)
{
	bool active = walk->view != VIEW_VERDICT;

	walk->page = area.rows > 2 ? area.rows - 2 : 1;
	if (walk->over == OVER_LIST)
		draw_chooser(walk, screen, area);
	else if (in_form(walk))
		draw_form(walk, screen, area, active);
	else
		draw_house(walk, screen, area, active);
}

/* The whole pane, its caution always in sight on the last row. */
static void draw_verdict(struct walk *walk, struct screen *screen, struct area area)
{
	struct pane pane, caution = {0};
	bool active = walk->view == VIEW_VERDICT;
	int none = 0, rows;

	if (quiz_on(walk) && walk->quiz.pane != QUIZ_LESSON) {
		draw_quiz(walk, screen, area);
		return;
	}
	pane = pane_whole(walk, &walk->scratch, area.cols);
	pane_wrap(&caution, &walk->scratch, ROLE_DIM, 0, pane_caution, area.cols);
	rows = area.rows - (int)caution.count;
	draw_pane(walk, screen, (struct area){area.row, area.col, rows, area.cols}, &pane,
	          &walk->pane_top);
	draw_pane(walk, screen,
	          (struct area){area.row + rows, area.col, (int)caution.count, area.cols}, &caution,
	          &none);
	if (!active || walk->over != OVER_NOTHING)
		return;
	walk->page = rows > 2 ? rows - 2 : 1;
	screen->cursor_row = area.row;
	screen->cursor_col = area.col;
}

static void draw_one_line(struct walk *walk, struct screen *screen, struct area area)
{
	struct pane pane = pane_one_line(walk, &walk->scratch, area.cols);

	for (size_t i = 0; i < pane.count && i < 1; i++)
		put(screen, area.row, area.col, area.cols, pane.line[i].role, pane.line[i].text);
	/* the message, if there is one, is drawn over it */
	put(screen, screen->rows - 2, 0, screen->cols, ROLE_DIM, pane_caution_short);
}

/* The house beside a form, or its neighbours above it. @return what is left for the form. */
static struct area draw_house_too(struct walk *walk, struct screen *screen, struct area area,
                                  struct area left)
{
	struct area house = {area.row, area.col, area.rows, HOUSE_COLS};
	struct area rule = {area.row + STRIP_ROWS, area.col, 1, left.cols};

	house_focus(walk, walk->form.item);
	if (area.cols >= COLS_THREE) {
		draw_house(walk, screen, house, false);
		draw_side(screen, HOUSE_COLS + 1, area.row, area.rows);
		left.col += HOUSE_COLS + 3;
		left.cols -= HOUSE_COLS + 3;
	} else if (screen->rows >= ROWS_STRIP) {
		house.rows = STRIP_ROWS;
		house.cols = left.cols;
		draw_house(walk, screen, house, false);
		draw_rule(screen, rule, "");
		left.row += STRIP_ROWS + 1;
		left.rows -= STRIP_ROWS + 1;
	}
	return left;
}

static void draw_views(struct walk *walk, struct screen *screen, struct area area)
{
	struct area left = area, right = area;

	if (area.cols < COLS_TWO)
		return;
	right.cols = PANE_COLS - 2;
	right.col = area.col + area.cols - right.cols;
	left.cols = area.cols - PANE_COLS - 1;
	if (in_form(walk) && walk->over != OVER_LIST)
		left = draw_house_too(walk, screen, area, left);
	/* the verdict before the form: what the form marks comes from it */
	draw_verdict(walk, screen, right);
	draw_side(screen, right.col - 2, area.row, area.rows);
	draw_view(walk, screen, left);
	if (walk->view == VIEW_VERDICT && walk->over == OVER_NOTHING && !quiz_on(walk)) {
		screen->cursor_row = right.row;
		screen->cursor_col = right.col;
	}
}

/* A form that no verdict belongs to needs no room for one. */
static int fold_rows(struct walk *walk, const struct screen *screen, struct area area)
{
	bool folds = area.cols >= COLS_FOLD && screen->rows >= ROWS_FOLD;

	if (quiz_on(walk) && walk->view == VIEW_VERDICT && walk->over != OVER_LIST)
		return folds ? quiz_rows(walk, area) : area.rows;
	if (!quiz_on(walk) && in_form(walk) && walk->form.item->scope != SCOPE_POINT &&
	    !walk->form.leaving)
		return 0;
	return folds ? FOLD_ROWS : 1;
}

static void draw_under(struct walk *walk, struct screen *screen, struct area area)
{
	if (quiz_on(walk) && area.rows > 1)
		draw_quiz_fold(walk, screen, area);
	else if (quiz_on(walk))
		draw_quiz_line(walk, screen, area);
	else if (area.rows == FOLD_ROWS)
		draw_fold(walk, screen, area);
	else if (area.rows == 1)
		draw_one_line(walk, screen, area);
}

static void draw_narrow(struct walk *walk, struct screen *screen, struct area area)
{
	int fold = fold_rows(walk, screen, area);
	struct area view = {area.row, area.col, area.rows - fold, area.cols};
	struct area under = {area.row + area.rows - fold, area.col, fold, area.cols};
	bool whole = quiz_on(walk) ? fold == area.rows : walk->view == VIEW_VERDICT;

	if (whole && walk->over != OVER_LIST) {
		draw_verdict(walk, screen, area);
		return;
	}
	draw_under(walk, screen, under);
	draw_view(walk, screen, view);
}

static void draw_help(struct walk *walk, struct screen *screen, struct area area)
{
	struct pane pane = help_lines(walk, &walk->scratch, area.cols);

	walk->page = area.rows > 2 ? area.rows - 2 : 1;
	draw_pane(walk, screen, area, &pane, &walk->help_top);
	screen->cursor_row = area.row;
	screen->cursor_col = area.col;
}

/* Keys work all the same: what is said to them, or asked, is there as far as it goes. */
static void draw_notice(struct walk *walk, struct screen *screen)
{
	put(screen, 0, 0, screen->cols, ROLE_PLAIN, "too small: 40x10");
	if (screen->rows > 1)
		put(screen, 1, 0, screen->cols, ROLE_PLAIN, "nothing is lost");
	if (screen->rows > 2)
		put(screen, 2, 0, screen->cols, ROLE_PLAIN, walk->message);
}

void walk_draw(struct walk *walk, struct screen *screen)
{
	struct area body = {1, 0, screen->rows - ROWS_AROUND, screen->cols};

	arena_reset(&walk->scratch);
	screen_clear(screen);
	walk->drawn = true;
	walk->rows = screen->rows;
	walk->cols = screen->cols;
	if (screen->cols < COLS_LEAST || screen->rows < ROWS_LEAST) {
		draw_notice(walk, screen);
		return;
	}
	if (walk->over == OVER_HELP)
		draw_help(walk, screen, body);
	else if (body.cols >= COLS_TWO)
		draw_views(walk, screen, body);
	else
		draw_narrow(walk, screen, body);
	draw_title(walk, screen);
	draw_message(walk, screen);
	draw_footer(walk, screen);
}
