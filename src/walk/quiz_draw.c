/*
 * The task on the screen, where the verdict of a walk stands: beside the form, under it, or alone.
 */
#include "quiz_inside.h"

#include <string.h>

enum {
	ROWS_LEAST = 7, /* under a form, with the line across */
	FORM_LEAST = 6, /* rows that stay for the form */
};

/* All of it, in lines of the area's width; which of them are the marked answer; from which on is told what it was worth. */
struct laid {
	struct pane pane;
	int from, to, told;
};

static void add_wrapped(struct laid *laid, struct walk *walk, const struct pane *pane, int cols)
{
	for (size_t i = 0; i < pane->count; i++)
		pane_wrap(&laid->pane, &walk->scratch, pane->line[i].role, pane->line[i].indent,
		          pane->line[i].text, cols);
}

/* "> 1 [x] enough": the number is a key. */
static void add_choice(struct laid *laid, struct walk *walk, size_t number, int cols)
{
	const struct task_choice *choice = &quiz_task(walk)->choice[number - 1];
	const char *answer = quiz_given(walk)->answer;
	bool given = answer != NULL && strcmp(answer, choice->id) == 0;
	bool marked = number == walk->quiz.focus;
	struct arena *arena = &walk->scratch;
	const char *before =
	        arena_print(arena, "%s%zu %s", marked ? "> " : "  ", number, given ? "[x] " : "");
	int indent = before == NULL ? 0 : (int)strlen(before);
	struct pane text = {0};

	pane_wrap(&text, arena, ROLE_PLAIN, 0, choice->text, cols - indent);
	if (marked)
		laid->from = (int)laid->pane.count;
	for (size_t i = 0; i < text.count; i++)
		pane_put(&laid->pane, arena,
		         &(struct pane_line){
		                 .text = i == 0 ? arena_print(arena, "%s%s", before,
		                                              text.line[i].text)
		                                : text.line[i].text,
		                 .role = ROLE_PLAIN,
		                 .indent = i == 0 ? 0 : indent,
		                 .drawn = true,
		                 .lit_at = 2,
		                 .lit_cols = i == 0 ? indent - 3 - (given ? 4 : 0) : 0,
		                 .lit = ROLE_KEY,
		         });
	if (marked)
		laid->to = (int)laid->pane.count;
}

static void add_answers(struct laid *laid, struct walk *walk, int cols)
{
	const struct task *task = quiz_task(walk);
	struct arena *arena = &walk->scratch;

	for (size_t i = 1; i <= task->choice_count; i++)
		add_choice(laid, walk, i, cols);
	if (task->choice_count == 0)
		pane_wrap(&laid->pane, arena, ROLE_DIM, 2,
		          arena_print(arena, "%s%s",
		                      walk->over == OVER_FIELD ? "" : "Enter types it: ",
		                      quiz_number_words(task, arena)),
		          cols);
}

/* What it was worth comes before what was shown with it, which was read already. */
static void lay_task(struct laid *laid, struct walk *walk, int cols, bool airy)
{
	struct arena *arena = &walk->scratch;
	struct pane before = {0}, after = {0};
	bool tells = quiz_tells(walk);

	pane_add(&before, arena, ROLE_HEAD, 0, quiz_line(walk, arena));
	quiz_lines_asks(&before, walk, arena);
	if (!tells)
		quiz_lines_shown(&before, walk, arena);
	add_wrapped(laid, walk, &before, cols);
	if (airy)
		pane_add(&laid->pane, arena, ROLE_PLAIN, 0, "");
	laid->told = tells ? (int)laid->pane.count : 0;
	if (!tells)
		add_answers(laid, walk, cols);
	if (!tells && airy)
		pane_add(&after, arena, ROLE_PLAIN, 0, "");
	quiz_lines_told(&after, walk, arena);
	if (tells)
		quiz_lines_shown(&after, walk, arena);
	add_wrapped(laid, walk, &after, cols);
}

static struct laid lay(struct walk *walk, int cols, int rows)
{
	enum { ROWS_AIRY = 18 };
	struct laid laid = {0};
	struct pane result = {0};

	if (walk->quiz.pane == QUIZ_RESULT) {
		quiz_lines_result(&result, walk, &walk->scratch);
		add_wrapped(&laid, walk, &result, cols);
	} else {
		lay_task(&laid, walk, cols, rows >= ROWS_AIRY);
	}
	return laid;
}

static void draw_laid(struct walk *walk, struct screen *screen, struct area area, struct laid *laid)
{
	struct quizzing *quiz = &walk->quiz;
	bool active = walk->view == VIEW_VERDICT && walk->over != OVER_LIST;
	int *top = &walk->pane_top;

	if (quiz->held && laid->told > 0 && (int)laid->pane.count > area.rows)
		*top = laid->told;
	else if (quiz->held && laid->from < *top)
		*top = laid->from;
	if (quiz->held && laid->to > *top + area.rows)
		*top = laid->to - area.rows;
	draw_pane(walk, screen, area, &laid->pane, top);
	if (!active)
		return;
	walk->page = area.rows > 2 ? area.rows - 2 : 1;
	screen->cursor_row = area.row;
	screen->cursor_col = area.col;
	for (int row = laid->from; row < laid->to; row++) {
		if (row < *top || row >= *top + area.rows)
			continue;
		screen_paint(screen, area.row + row - *top, area.col, area.cols, ROLE_FOCUS);
		if (row > laid->from)
			continue;
		screen->cursor_row = area.row + row - *top;
		screen->cursor_col = area.col + 2;
	}
}

void draw_quiz(struct walk *walk, struct screen *screen, struct area area)
{
	struct laid laid = lay(walk, area.cols, area.rows);

	draw_laid(walk, screen, area, &laid);
}

void draw_quiz_fold(struct walk *walk, struct screen *screen, struct area area)
{
	struct area inside = {area.row + 1, area.col, area.rows - 1, area.cols};

	draw_rule(screen, area, walk->quiz.pane == QUIZ_RESULT ? " Result " : " Task ");
	draw_quiz(walk, screen, inside);
}

void draw_quiz_line(struct walk *walk, struct screen *screen, struct area area)
{
	put_cut(screen, area.row, area.col, area.cols, ROLE_HEAD, quiz_line(walk, &walk->scratch));
}

int quiz_rows(struct walk *walk, struct area area)
{
	int wanted = (int)lay(walk, area.cols, 0).pane.count + 1, most = area.rows - FORM_LEAST;

	if (walk->quiz.pane != QUIZ_TASK)
		return area.rows;
	if (wanted < ROWS_LEAST)
		wanted = ROWS_LEAST;
	return wanted < most ? wanted : most;
}
