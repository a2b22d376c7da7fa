/*
 * A quiz: the walk with a task in the place of the verdict. How it stands, and what may not be told yet.
 */
#include "quiz_inside.h"

/* -- how it stands --------------------------------------------------------------------------- */

bool quiz_on(const struct walk *walk)
{
	return walk->quiz.attempt != NULL;
}

size_t quiz_tasks(const struct walk *walk)
{
	return walk->quiz.attempt->quiz->task_count;
}

const struct task *quiz_task(const struct walk *walk)
{
	return &walk->quiz.attempt->quiz->task[walk->quiz.task];
}

const struct given *quiz_given(const struct walk *walk)
{
	return &walk->quiz.attempt->given[walk->quiz.task];
}

bool quiz_takes(const struct walk *walk)
{
	const struct attempt *attempt = walk->quiz.attempt;

	return !attempt->over && (attempt->exam || quiz_given(walk)->answer == NULL);
}

bool quiz_tells(const struct walk *walk)
{
	const struct attempt *attempt = walk->quiz.attempt;

	return attempt->over || (!attempt->exam && quiz_given(walk)->answer != NULL);
}

size_t quiz_open(const struct walk *walk)
{
	size_t open = 0;

	for (size_t i = 0; i < quiz_tasks(walk); i++)
		open += walk->quiz.attempt->given[i].answer == NULL ? 1 : 0;
	return open;
}

/* In an exam until its end. In practice until all that is asked about it was answered; one that nothing is asked about
 * could tell what is right of another, and waits for the end. */
bool quiz_hides(const struct walk *walk, const struct item *point)
{
	const struct attempt *attempt = walk->quiz.attempt;
	bool asked = false;

	if (attempt == NULL || attempt->over)
		return false;
	if (attempt->exam)
		return true;
	for (size_t i = 0; i < quiz_tasks(walk); i++) {
		if (attempt->quiz->task[i].point != point)
			continue;
		asked = true;
		if (attempt->given[i].answer == NULL)
			return true;
	}
	return !asked;
}

/* -- what is said of it elsewhere ------------------------------------------------------------ */

const char *quiz_state(struct walk *walk, bool brief)
{
	const struct quizzing *quiz = &walk->quiz;
	struct arena *arena = &walk->scratch;
	size_t count = quiz_tasks(walk), done = count - quiz_open(walk);
	const char *left = "";

	if (quiz->attempt->over)
		return " (over)";
	if (quiz->timed)
		left = arena_print(arena, ", %u min%s", quiz->minutes, brief ? "" : " left");
	return brief ? arena_print(arena, " (%zu/%zu%s)", done, count, left)
	             : arena_print(arena, " (%s: %zu of %zu answered%s)",
	                           quiz->attempt->exam ? "exam" : "practice", done, count, left);
}

const char *quiz_enter_words(const struct walk *walk)
{
	if (walk->quiz.pane == QUIZ_LESSON)
		return "close";
	return walk->quiz.pane == QUIZ_TASK && quiz_takes(walk) ? "answer" : "go on";
}

bool quiz_is_of_use(struct walk *walk, enum request request)
{
	const struct attempt *attempt = walk->quiz.attempt;
	const struct item *point = point_shown(walk);

	if (request == REQUEST_FINISH)
		return !attempt->over;
	if (request == REQUEST_RESULT)
		return attempt->over && walk->quiz.pane != QUIZ_RESULT;
	if (request == REQUEST_NEXT_TASK) /* where Enter does not do it */
		return !attempt->over && walk->quiz.pane == QUIZ_TASK && quiz_takes(walk);
	if (request == REQUEST_VERDICT)
		return walk->quiz.pane != QUIZ_LESSON && point != NULL && !quiz_hides(walk, point);
	return true;
}

bool walk_offers(const struct walk *walk, enum request request)
{
	return !quiz_on(walk) || request != REQUEST_SAVE_ANYWHERE;
}

enum context quiz_context(const struct walk *walk)
{
	if (walk->view == VIEW_VERDICT)
		return IN_TASK;
	return walk->view == VIEW_FORM ? IN_LOOK_FORM : IN_LOOK_HOUSE;
}
