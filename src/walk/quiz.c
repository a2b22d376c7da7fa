/*
 * A quiz: the walk with a task in the place of the verdict. What is open, what a key does there, and what may not be told
 * yet.
 */
#include "quiz_inside.h"

#include "tundish/walk/quiz.h"

#include <stdlib.h>
#include <string.h>

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
static void to_pane(struct walk *walk, enum quiz_pane pane)
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
static void show_task(struct walk *walk, size_t at)
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
	to_pane(walk, QUIZ_TASK);
	quiz->focus = given_choice(walk);
	if (quiz->shown == at)
		return;
	quiz->shown = at;
	add_effect(walk, WALK_SHOWN, at, GRADE_NONE);
}

static void show_result(struct walk *walk)
{
	show_house(walk);
	to_pane(walk, QUIZ_RESULT);
	walk->quiz.shown = SIZE_MAX;
}

static void hand_in(struct walk *walk)
{
	walk->quiz.attempt->over = true;
	verdicts_all_stale(walk); /* they may be told now */
	show_result(walk);
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
		show_result(walk);
	else
		show_task(walk, at < quiz_tasks(walk) ? at : 0);
}

static void by_order(struct walk *walk, int step)
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
	show_task(walk, at);
}

/* The next without an answer. Behind the last of them practice is over; an exam is when it is said so. */
static void go_on(struct walk *walk)
{
	const struct attempt *attempt = walk->quiz.attempt;
	size_t next = attempt_next(attempt, walk->quiz.task);

	if (attempt->over && walk->quiz.pane != QUIZ_RESULT &&
	    walk->quiz.task + 1 == quiz_tasks(walk))
		show_result(walk);
	else if (attempt->over)
		by_order(walk, 1);
	else if (next < quiz_tasks(walk))
		show_task(walk, next);
	else if (attempt->exam)
		say(walk, "All are answered. f hands in.");
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
		show_task(walk, task);
		walk->quiz.held = true;
		return true;
	}
	show_task(walk, task);
	if (quiz_open(walk) > 0)
		go_on(walk);
	say(walk, quiz_open(walk) > 0 ? "Kept. It can be changed till the end."
	                              : "All are answered. f hands in.");
	return true;
}

static void give_choice(struct walk *walk, size_t number)
{
	const struct task *task = quiz_task(walk);

	if (number >= 1 && number <= task->choice_count)
		give(walk, task->choice[number - 1].id);
	else
		say(walk, "There is no number %zu here.", number);
}

static void open_field(struct walk *walk, const struct walk_key *first)
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

	text += strspn(text, " ");
	if (text[0] == '\0') {
		walk->over = OVER_NOTHING;
		return;
	}
	walk->over = OVER_NOTHING;
	if (give(walk, text))
		return;
	walk->over = OVER_FIELD;
	say_trouble(walk, "This takes %s.", quiz_number_words(task, &walk->scratch));
}

static void pick(struct walk *walk, const struct walk_key *key)
{
	if (walk->quiz.pane != QUIZ_TASK)
		say(walk, "Nothing is numbered here.");
	else if (!quiz_takes(walk))
		say(walk, "It was answered: Enter goes on.");
	else if (quiz_task(walk)->choice_count == 0)
		open_field(walk, key);
	else
		give_choice(walk, (size_t)(key->text[0] - '0'));
}

static void open_lesson(struct walk *walk)
{
	struct quizzing *quiz = &walk->quiz;

	if (quiz->pane != QUIZ_LESSON)
		quiz->before = quiz->pane;
	if (walk->view != VIEW_VERDICT || quiz->pane != QUIZ_LESSON)
		quiz->looked = walk->view != VIEW_VERDICT;
	to_pane(walk, QUIZ_LESSON);
}

/* Back to where it was opened. */
static void close_lesson(struct walk *walk)
{
	to_pane(walk, walk->quiz.before);
	if (walk->quiz.looked)
		walk->view = walk->view_before;
}

static void enter(struct walk *walk)
{
	if (walk->quiz.pane == QUIZ_LESSON)
		close_lesson(walk);
	else if (walk->quiz.pane == QUIZ_RESULT || !quiz_takes(walk))
		go_on(walk);
	else if (quiz_task(walk)->choice_count == 0)
		open_field(walk, NULL);
	else if (walk->quiz.focus == 0)
		say(walk, "Press its number, or mark it: Up, Down.");
	else
		give_choice(walk, walk->quiz.focus);
}

/* -- handing in and leaving ------------------------------------------------------------------ */

static void ask(struct walk *walk, enum purpose purpose)
{
	walk->purpose = purpose;
	walk->over = OVER_QUESTION;
}

static void ask_finish(struct walk *walk)
{
	size_t open = quiz_open(walk);

	if (walk->quiz.attempt->over) {
		show_result(walk);
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

static void leave(struct walk *walk)
{
	walk->left = true;
	effect_add(walk, WALK_LEAVE, NULL, WALK_LEAVING_SAVED);
}

void quiz_ask_leave(struct walk *walk)
{
	const struct attempt *attempt = walk->quiz.attempt;

	if (attempt->over) {
		leave(walk);
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
		leave(walk);
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

static void list_tasks(struct walk *walk)
{
	struct arena *arena = &walk->chooser.arena;
	struct choices choices = {0};

	arena_reset(arena);
	/* few of them are numbered by the list */
	for (size_t i = 0; i < quiz_tasks(walk); i++) {
		const char *title = quiz_task_title(walk, i, arena);

		if (quiz_tasks(walk) > 9)
			title = arena_print(arena, "task %zu, %s", i + 1, title);
		choice_add(arena, &choices, arena_print(arena, "%zu", i), title,
		           quiz_task_state(walk, i));
	}
	choose_open(walk, FOR_TASKS, "Which task?", choices, false,
	            arena_print(arena, "%zu", walk->quiz.task));
}

void quiz_listed(struct walk *walk, const char *id)
{
	show_task(walk, (size_t)strtoul(id, NULL, 10));
}

/* -- keys ------------------------------------------------------------------------------------ */

static const char *hidden_words(const struct walk *walk, const struct item *point)
{
	if (walk->quiz.attempt->exam)
		return "Verdicts are hidden until you hand in.";
	for (size_t i = 0; i < quiz_tasks(walk); i++)
		if (walk->quiz.attempt->quiz->task[i].point == point)
			return "Hidden until all about it is answered.";
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
		show_result(walk);
	else {
		size_t focus = walk->quiz.focus;

		show_task(walk, walk->quiz.task);
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
		go_on(walk);
	else if (request == REQUEST_TASK_AFTER)
		by_order(walk, 1);
	else if (request == REQUEST_TASK_BEFORE)
		by_order(walk, -1);
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
		list_tasks(walk);
	else if (request == REQUEST_RESULT && walk->quiz.attempt->over)
		show_result(walk);
	else if (request == REQUEST_RESULT)
		say(walk, "No result before it is over.");
	else if (request == REQUEST_FINISH)
		ask_finish(walk);
	else if (request == REQUEST_VERDICT)
		show_lesson(walk);
	else if (request == REQUEST_LEAVE)
		quiz_ask_leave(walk);
	else if (request == REQUEST_NONE && walk->view != VIEW_VERDICT)
		say(walk, "Only to look. Space: back to the task.");
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

enum context quiz_context(const struct walk *walk)
{
	if (walk->view == VIEW_VERDICT)
		return IN_TASK;
	return walk->view == VIEW_FORM ? IN_LOOK_FORM : IN_LOOK_HOUSE;
}
