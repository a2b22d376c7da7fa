/*
 * What a key does in a quiz.
 */
#include "quiz_inside.h"

/* -- the verdict, where it may be read ------------------------------------------------------- */

static void open_lesson(struct walk *walk)
{
	struct quizzing *quiz = &walk->quiz;

	if (quiz->pane != QUIZ_LESSON)
		quiz->before = quiz->pane;
	if (walk->view != VIEW_VERDICT || quiz->pane != QUIZ_LESSON)
		quiz->looked = walk->view != VIEW_VERDICT;
	quiz_to_pane(walk, QUIZ_LESSON);
}

/* Back to where it was opened. */
static void close_lesson(struct walk *walk)
{
	quiz_to_pane(walk, walk->quiz.before);
	if (walk->quiz.looked)
		walk->view = walk->view_before;
}

static const char *hidden_words(struct walk *walk, const struct item *point)
{
	if (walk->quiz.attempt->exam)
		return "Verdicts are hidden until you hand in.";
	for (size_t i = 0; i < quiz_tasks(walk); i++)
		if (walk->quiz.attempt->quiz->task[i].point == point)
			return arena_print(&walk->scratch, "Hidden until all about %s is answered.",
			                   point->ref);
	return "Hidden until the quiz is over.";
}

static void show_lesson(struct walk *walk)
{
	const struct item *point = point_shown(walk);

	if (point == NULL && !walk->quiz.attempt->over)
		say(walk, "No outlet or appliance, no verdict.");
	else if (point == NULL || !quiz_hides(walk, point))
		open_lesson(walk);
	else
		say(walk, "%s", hidden_words(walk, point));
}

/* -- answers --------------------------------------------------------------------------------- */

static void pick(struct walk *walk, const struct walk_key *key)
{
	if (walk->quiz.pane != QUIZ_TASK)
		say(walk, "Nothing is numbered here.");
	else if (!quiz_takes(walk))
		say(walk, "It was answered: %s goes on.", key_words(walk, REQUEST_GIVE));
	else if (quiz_task(walk)->choice_count == 0)
		quiz_open_field(walk, key);
	else
		quiz_give_choice(walk, (size_t)(key->text[0] - '0'));
}

static void enter(struct walk *walk)
{
	if (walk->quiz.pane == QUIZ_LESSON)
		close_lesson(walk);
	else if (walk->quiz.pane == QUIZ_RESULT || !quiz_takes(walk))
		quiz_go_on(walk);
	else if (quiz_task(walk)->choice_count == 0)
		quiz_open_field(walk, NULL);
	else if (walk->quiz.focus == 0)
		say(walk, walk->options.lines ? "Say its number or its words."
		                              : "Press its number, or mark it: Up, Down.");
	else
		quiz_give_choice(walk, walk->quiz.focus);
}

/* -- keys ------------------------------------------------------------------------------------ */

static void look(struct walk *walk)
{
	if (walk->quiz.pane == QUIZ_LESSON)
		close_lesson(walk);
	else
		walk->view = walk->view_before;
}

static void to_task(struct walk *walk)
{
	if (walk->quiz.pane == QUIZ_RESULT)
		quiz_show_result(walk);
	else {
		size_t focus = walk->quiz.focus;

		quiz_show_task(walk, walk->quiz.task);
		walk->quiz.focus = focus;
	}
}

static bool has_marks(const struct walk *walk)
{
	return walk->quiz.pane == QUIZ_TASK && quiz_takes(walk) &&
	       quiz_task(walk)->choice_count > 0;
}

static void mark(struct walk *walk, size_t focus)
{
	size_t count = quiz_task(walk)->choice_count;

	walk->quiz.focus = focus < 1 ? 1 : focus > count ? count : focus;
	walk->quiz.held = true;
}

/* Up and down mark an answer, where there is one to give; else, and by pages, they scroll. */
static bool press_marks(struct walk *walk, enum request request)
{
	size_t focus = walk->quiz.focus;

	if (!has_marks(walk))
		return false;
	if (request == REQUEST_UP || request == REQUEST_UP_LETTER)
		mark(walk, focus > 1 ? focus - 1 : 1);
	else if (request == REQUEST_DOWN || request == REQUEST_DOWN_LETTER)
		mark(walk, focus + 1);
	else if (request == REQUEST_FIRST)
		mark(walk, 1);
	else if (request == REQUEST_LAST)
		mark(walk, quiz_task(walk)->choice_count);
	else
		return false;
	return true;
}

static bool press_pane(struct walk *walk, enum request request, const struct walk_key *key)
{
	if (request == REQUEST_GIVE)
		enter(walk);
	else if (request == REQUEST_PICK)
		pick(walk, key);
	else if (request == REQUEST_NEXT_TASK)
		quiz_go_on(walk);
	else if (request == REQUEST_TASK_AFTER)
		quiz_by_order(walk, 1);
	else if (request == REQUEST_TASK_BEFORE)
		quiz_by_order(walk, -1);
	else if (request == REQUEST_LOOK)
		look(walk);
	else if (!press_marks(walk, request)) {
		walk->quiz.held = false; /* the rest scrolls away from it */
		return false;
	}
	return true;
}

/* What may be asked for wherever one looks. */
static bool press_anywhere(struct walk *walk, enum request request)
{
	if (request == REQUEST_TO_TASK || (request == REQUEST_BACK && walk->view == VIEW_HOUSE))
		to_task(walk);
	else if (request == REQUEST_TASKS)
		quiz_list_tasks(walk);
	else if (request == REQUEST_RESULT && walk->quiz.attempt->over)
		quiz_show_result(walk);
	else if (request == REQUEST_RESULT)
		say(walk, "No result before it is over.");
	else if (request == REQUEST_FINISH)
		quiz_ask_finish(walk);
	else if (request == REQUEST_VERDICT)
		show_lesson(walk);
	else if (request == REQUEST_LEAVE)
		quiz_ask_leave(walk);
	else if (request == REQUEST_NONE && walk->view != VIEW_VERDICT)
		say(walk, "Only to look. %s: back to the task.", key_words(walk, REQUEST_TO_TASK));
	else
		return false;
	return true;
}

bool quiz_press(struct walk *walk, enum request request, const struct walk_key *key)
{
	if (!quiz_on(walk))
		return false;
	if (request == REQUEST_SAVE_ANYWHERE) {
		say(walk, "Nothing to save: answers are kept.");
		return true;
	}
	if (walk->over != OVER_NOTHING)
		return false;
	if (walk->view == VIEW_VERDICT && press_pane(walk, request, key))
		return true;
	return press_anywhere(walk, request);
}
