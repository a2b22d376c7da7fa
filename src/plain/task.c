/*
 * A quiz as lines: the task, its answer, what that was worth.
 */
#include "inside.h"

#include "tundish/walk/quiz.h"

#include <string.h>

/* -- what is said ---------------------------------------------------------------------------- */

bool is_lesson(struct plain *plain)
{
	struct told_task task;

	return walk_task(plain->walk, &plain->arena, &task) && task.pane == QUIZ_LESSON;
}

static void tell_choices(struct plain *plain, const struct told_task *task)
{
	if (!task->takes)
		return;
	for (size_t i = 0; i < task->choice_count; i++)
		tell(plain, "  %zu%s %s", i + 1, task->choice[i].ticked ? " [x]" : "",
		     task->choice[i].label);
	if (task->typed != NULL)
		tell(plain, "  %s", task->typed);
}

static void tell_whole(struct plain *plain, const struct told_task *task)
{
	if (task->title != NULL)
		tell(plain, "== %s ==", task->title);
	tell_texts(plain, task->says);
	tell_choices(plain, task);
}

static const char *key_of(struct plain *plain, const struct told_task *task)
{
	return arena_print(&plain->arena, "%d %zu", (int)task->pane, task->number);
}

/* What its answer gave rise to, as one text to compare. */
static const char *all_of(struct plain *plain, const struct told_texts *texts)
{
	const char *all = "";

	for (size_t i = 0; i < texts->count && all != NULL; i++)
		all = arena_print(&plain->arena, "%s%s/", all, texts->item[i].text);
	return all;
}

void tell_task(struct plain *plain)
{
	struct told_task task;
	bool new_task, new_answer;

	if (!walk_task(plain->walk, &plain->arena, &task))
		return;
	/* what is looked at in between is said anew */
	plain->title = plain->head = plain->note = (struct said){0};
	new_task = is_new(&plain->task, key_of(plain, &task));
	new_answer = is_new(&plain->told, all_of(plain, &task.after));
	if (new_task)
		tell_whole(plain, &task);
	else if (task.title != NULL && !new_answer)
		tell_line(plain, 0, task.title);
	if (!new_task && !new_answer)
		return;
	tell_texts(plain, task.after);
	if (task.after.count > 0 && !task.takes)
		tell_line(plain, 0, "An empty line goes on.");
}

/* -- answers --------------------------------------------------------------------------------- */

bool is_choice_of_task(struct plain *plain, const char *text)
{
	struct told_task task;

	return walk_task(plain->walk, &plain->arena, &task) && task.takes &&
	       choice_named(task.choice, task.choice_count, text) > 0;
}

void go_to_task(struct plain *plain, size_t number)
{
	size_t focus;

	press_request(plain, REQUEST_TASKS);
	if (!is_in(plain, IN_LIST))
		return;
	if (number > walk_choices(plain->walk, NULL)) {
		press_request(plain, REQUEST_CANCEL);
		tell(plain, "! There is no task %zu.", number);
		return;
	}
	press_request(plain, REQUEST_FIRST);
	for (walk_choices(plain->walk, &focus); focus < number; focus++)
		press_request(plain, REQUEST_DOWN);
	press_request(plain, REQUEST_TAKE);
}

static void give_choice(struct plain *plain, const struct told_task *task, size_t number,
                        const char *text)
{
	struct told_task now;

	press_request(plain, REQUEST_FIRST);
	for (size_t focus = 1; focus < number; focus++)
		press_request(plain, REQUEST_DOWN);
	if (!same_word(task->choice[number - 1].label, text))
		tell(plain, "= %s", task->choice[number - 1].label);
	press_request(plain, REQUEST_GIVE);
	/* the same answer once more says the same once more */
	if (walk_task(plain->walk, &plain->arena, &now) && now.number == task->number)
		plain->told = (struct said){0};
}

static void give_typed(struct plain *plain, const char *text)
{
	press_request(plain, REQUEST_GIVE);
	if (!is_in(plain, IN_TEXT))
		return;
	answer_field(plain, text);
	if (is_in(plain, IN_TEXT))
		press_request(plain, REQUEST_CANCEL);
}

void answer_task(struct plain *plain, const char *text)
{
	struct told_task task;
	size_t number;

	if (!walk_task(plain->walk, &plain->arena, &task))
		return;
	number = choice_named(task.choice, task.choice_count, text);
	if (number == 0)
		number = choice_begun(task.choice, task.choice_count, text);
	if (task.pane == QUIZ_RESULT && number_of(text) > 0)
		go_to_task(plain, number_of(text));
	else if (!task.takes)
		tell(plain,
		     "! It was answered: an empty line goes on, `?` says what else can be said.");
	else if (task.typed != NULL)
		give_typed(plain, text);
	else if (number > 0)
		give_choice(plain, &task, number, text);
	else
		tell(plain,
		     "! No answer here is called `%s`, or several begin so; ? says what can be "
		     "said.",
		     text);
}
