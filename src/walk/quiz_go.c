/*
 * A quiz: from task to task, answers, handing in and leaving, time.
 */
#include "quiz_inside.h"

#include <stdlib.h>
#include <string.h>

/* -- going about ----------------------------------------------------------------------------- */

static void add_effect(struct walk *walk, enum walk_effect_form form, size_t task, enum grade grade)
{
	size_t before = walk->effect_count;

	effect_add(walk, form, NULL, WALK_LEAVING_SAVED);
	if (walk->effect_count == before)
		return;
	walk->effect[before].task = task;
	walk->effect[before].grade = grade;
}

/* The pane has the focus, and beside it stands what the view shows. */
void quiz_to_pane(struct walk *walk, enum quiz_pane pane)
{
	if (walk->view != VIEW_VERDICT)
		walk->view_before = walk->view;
	walk->view = VIEW_VERDICT;
	walk->pane_top = 0;
	walk->quiz.pane = pane;
	walk->quiz.held = false;
}

static size_t given_choice(const struct walk *walk)
{
	const struct task *task = quiz_task(walk);
	const char *answer = quiz_given(walk)->answer;

	for (size_t i = 0; answer != NULL && i < task->choice_count; i++)
		if (strcmp(task->choice[i].id, answer) == 0)
			return i + 1;
	return 0;
}

/* With what it is about beside it. */
void quiz_show_task(struct walk *walk, size_t at)
{
	struct quizzing *quiz = &walk->quiz;
	const struct item *about;
	struct item *point = NULL;

	quiz->task = at;
	about = quiz_task(walk)->point;
	if (about != NULL)
		point = survey_find(walk->survey, about->ref, strlen(about->ref));
	if (point != NULL) {
		house_focus(walk, point);
		show_form(walk, point);
	} else {
		show_house(walk);
	}
	quiz_to_pane(walk, QUIZ_TASK);
	quiz->focus = given_choice(walk);
	if (quiz->shown == at)
		return;
	quiz->shown = at;
	add_effect(walk, WALK_SHOWN, at, GRADE_NONE);
}

void quiz_show_result(struct walk *walk)
{
	show_house(walk);
	quiz_to_pane(walk, QUIZ_RESULT);
	walk->quiz.shown = SIZE_MAX;
}

static void hand_in(struct walk *walk)
{
	walk->quiz.attempt->over = true;
	verdicts_all_stale(walk); /* they may be told now */
	quiz_show_result(walk);
	add_effect(walk, WALK_HANDED_IN, 0, GRADE_NONE);
}

void quiz_begin(struct walk *walk)
{
	struct attempt *attempt = walk->options.attempt;
	size_t at;

	if (attempt == NULL)
		return;
	walk->options.read_only = true;
	walk->quiz.attempt = attempt;
	walk->quiz.shown = SIZE_MAX;
	house_list_all(walk); /* nothing can be added */
	at = attempt_next(attempt, quiz_tasks(walk) - 1);
	if (attempt->over)
		quiz_show_result(walk);
	else
		quiz_show_task(walk, at < quiz_tasks(walk) ? at : 0);
}

void quiz_by_order(struct walk *walk, int step)
{
	size_t count = quiz_tasks(walk), at = walk->quiz.task;

	if (walk->quiz.pane == QUIZ_RESULT)
		at = step > 0 ? 0 : count - 1;
	else if (step > 0 ? at + 1 == count : at == 0) {
		say(walk, step > 0 ? "This is the last task." : "This is the first task.");
		return;
	} else {
		at = step > 0 ? at + 1 : at - 1;
	}
	quiz_show_task(walk, at);
}

static void say_all_answered(struct walk *walk)
{
	say(walk, "All are answered. %s hands in.", key_words(walk, REQUEST_FINISH));
}

/* The next without an answer. Behind the last of them practice is over; an exam is when it is said so. */
void quiz_go_on(struct walk *walk)
{
	const struct attempt *attempt = walk->quiz.attempt;
	size_t next = attempt_next(attempt, walk->quiz.task);

	if (attempt->over && walk->quiz.pane != QUIZ_RESULT &&
	    walk->quiz.task + 1 == quiz_tasks(walk))
		quiz_show_result(walk);
	else if (attempt->over)
		quiz_by_order(walk, 1);
	else if (next < quiz_tasks(walk))
		quiz_show_task(walk, next);
	else if (attempt->exam)
		say_all_answered(walk);
	else
		hand_in(walk);
}

/* -- answers --------------------------------------------------------------------------------- */

static bool give(struct walk *walk, const char *answer)
{
	struct attempt *attempt = walk->quiz.attempt;
	size_t task = walk->quiz.task;
	enum grade grade = attempt_answer(attempt, task, answer, 0);

	if (grade == GRADE_NONE)
		return false;
	add_effect(walk, WALK_ANSWERED, task, grade);
	if (!attempt->exam) {
		verdicts_all_stale(walk); /* it may have been the last about its point */
		quiz_show_task(walk, task);
		walk->quiz.held = true;
		return true;
	}
	quiz_show_task(walk, task);
	if (quiz_open(walk) > 0)
		quiz_go_on(walk);
	if (quiz_open(walk) > 0)
		say(walk, "Kept. It can be changed till the end.");
	else
		say_all_answered(walk);
	return true;
}

void quiz_give_choice(struct walk *walk, size_t number)
{
	const struct task *task = quiz_task(walk);

	if (number >= 1 && number <= task->choice_count)
		give(walk, task->choice[number - 1].id);
	else
		say(walk, "There is no number %zu here.", number);
}

void quiz_open_field(struct walk *walk, const struct walk_key *first)
{
	const struct given *given = quiz_given(walk);

	walk->purpose = FOR_TASK;
	walk->over = OVER_FIELD;
	field_set(&walk->field, first != NULL || given->answer == NULL ? "" : given->answer);
	if (first != NULL)
		field_insert(&walk->field, first->text, first->length);
}

void quiz_typed(struct walk *walk, const char *text)
{
	const struct task *task = quiz_task(walk);

	walk->over = OVER_NOTHING;
	text += strspn(text, " ");
	if (text[0] == '\0' || give(walk, text))
		return;
	walk->over = OVER_FIELD;
	say_trouble(walk, "This takes %s.", quiz_number_words(task, &walk->scratch));
}

/* -- handing in and leaving ------------------------------------------------------------------ */

static void ask(struct walk *walk, enum purpose purpose)
{
	walk->purpose = purpose;
	walk->over = OVER_QUESTION;
}

void quiz_ask_finish(struct walk *walk)
{
	size_t open = quiz_open(walk);

	if (walk->quiz.attempt->over) {
		quiz_show_result(walk);
		return;
	}
	if (open == 0 && !walk->quiz.attempt->exam) {
		hand_in(walk);
		return;
	}
	ask(walk, FOR_FINISH);
	if (open == 0)
		say(walk, "All are answered. Hand in? y/n [n]");
	else
		say(walk, "%zu of %zu not answered. Hand in? y/n [n]", open, quiz_tasks(walk));
}

void quiz_ask_leave(struct walk *walk)
{
	const struct attempt *attempt = walk->quiz.attempt;

	/* of a practice whose last answer was given only the result was not read */
	if (attempt->over || (!attempt->exam && quiz_open(walk) == 0)) {
		leave_at_once(walk, WALK_LEAVING_SAVED);
		return;
	}
	ask(walk, FOR_LEAVE_QUIZ);
	if (attempt->exam)
		say(walk, "Not handed in. Leave? y/n [n]");
	else
		say(walk, "%zu of %zu not answered. Leave? y/n [n]", quiz_open(walk),
		    quiz_tasks(walk));
}

void quiz_said(struct walk *walk, enum request request)
{
	if (request != REQUEST_SAY_YES && request != REQUEST_SAY_STAY)
		return;
	walk->over = OVER_NOTHING;
	walk->message[0] = '\0';
	if (request == REQUEST_SAY_STAY)
		say(walk, "Stayed.");
	else if (walk->purpose == FOR_FINISH)
		hand_in(walk);
	else
		leave_at_once(walk, WALK_LEAVING_SAVED);
}

void walk_quiz_time(struct walk *walk, unsigned minutes)
{
	static const unsigned warned[] = {5, 1};
	struct quizzing *quiz = &walk->quiz;
	unsigned before = quiz->timed ? quiz->minutes : minutes;

	if (!quiz_on(walk) || quiz->attempt->over)
		return;
	quiz->timed = true;
	quiz->minutes = minutes;
	if (minutes == 0) {
		walk->over = OVER_NOTHING;
		hand_in(walk);
		say(walk, "Time is up: handed in as it stands.");
		return;
	}
	for (size_t i = 0; i < 2 && walk->over != OVER_QUESTION; i++)
		if (before > warned[i] && minutes <= warned[i])
			say(walk, minutes == 1 ? "1 minute left." : "%u minutes left.", minutes);
}

/* -- all tasks ------------------------------------------------------------------------------- */

/* How it stands and what is asked come first: a narrow list cuts the end. */
static const char *listed_words(struct walk *walk, struct arena *arena, size_t at)
{
	const struct task *task = &walk->quiz.attempt->quiz->task[at];
	const char *state = quiz_task_state(walk, at), *asked = family_words(task->family), *title;

	if (task->point == NULL)
		return arena_print(arena, "%s, %s", state, asked);
	title = item_title(walk, task->point, arena);
	if (title != NULL) /* it begins with the ref */
		title += strlen(task->point->ref) + 1;
	return arena_print(arena, "%s, %s: %s (%s)", state, task->point->ref, asked, title);
}

void quiz_list_tasks(struct walk *walk)
{
	struct arena *arena = &walk->chooser.arena;
	struct choices choices = {0};

	arena_reset(arena);
	for (size_t i = 0; i < quiz_tasks(walk); i++) {
		const char *words = listed_words(walk, arena, i);

		if (quiz_tasks(walk) > 9) /* few of them are numbered by the list */
			words = arena_print(arena, "task %zu, %s", i + 1, words);
		choice_add(arena, &choices, arena_print(arena, "%zu", i), words, NULL);
	}
	choose_open(walk, FOR_TASKS, "Which task?", choices, false,
	            arena_print(arena, "%zu", walk->quiz.task));
}

void quiz_listed(struct walk *walk, const char *id)
{
	quiz_show_task(walk, (size_t)strtoul(id, NULL, 10));
}
