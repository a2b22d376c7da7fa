/*
 * The task in words, and how it went: for the screen and for who reads it line by line.
 */
#include "quiz_inside.h"

#include "tundish/base/number.h"
#include "tundish/walk/quiz.h"

#include <string.h>

static const struct task *task_at(const struct walk *walk, size_t at)
{
	return &walk->quiz.attempt->quiz->task[at];
}

/* -- one task -------------------------------------------------------------------------------- */

/* "K1 Kitchen mixer: enough on paper?" */
static const char *task_title(const struct walk *walk, size_t task, struct arena *arena)
{
	const struct task *of = task_at(walk, task);

	if (of->point == NULL)
		return family_words(of->family);
	return arena_print(arena, "%s: %s", item_title(walk, of->point, arena),
	                   family_words(of->family));
}

/* What a grade is called where there is no room for its sentence. */
static const char *grade_called(enum grade grade)
{
	static const char *const words[] = {
	        [GRADE_NONE] = "not answered", [GRADE_DANGEROUS] = "dangerous",
	        [GRADE_WRONG] = "wrong",       [GRADE_CAUTIOUS] = "on the safe side",
	        [GRADE_RIGHT] = "right",
	};

	return words[grade];
}

static enum role grade_role(enum grade grade)
{
	switch (grade) {
	case GRADE_RIGHT:
		return ROLE_PROTECTED;
	case GRADE_CAUTIOUS:
		return ROLE_UNDECIDED;
	case GRADE_DANGEROUS:
	case GRADE_WRONG:
		return ROLE_SHORT;
	case GRADE_NONE:
	case GRADE_COUNT:
		break;
	}
	return ROLE_PLAIN;
}

const char *quiz_task_state(const struct walk *walk, size_t task)
{
	const struct attempt *attempt = walk->quiz.attempt;
	const struct given *given = &attempt->given[task];

	if (given->answer == NULL)
		return grade_called(GRADE_NONE);
	return attempt->over || !attempt->exam ? grade_called(given->grade) : "answered";
}

const char *quiz_number_words(const struct task *task, struct arena *arena)
{
	char least[32], most[32];

	number_format(task->least, least);
	number_format(task->most, most);
	return task->unit == NULL || task->unit[0] == '\0'
	               ? arena_print(arena, "a number, %s to %s", least, most)
	               : arena_print(arena, "a number in %s, %s to %s", unit_words(task->unit),
	                             least, most);
}

const char *quiz_line(const struct walk *walk, struct arena *arena)
{
	const struct task *task = quiz_task(walk);

	if (walk->quiz.pane == QUIZ_RESULT)
		return "The quiz is over: Space reads its result.";
	return arena_print(arena, "Task %zu of %zu%s%s: %s", walk->quiz.task + 1, quiz_tasks(walk),
	                   task->point == NULL ? "" : ", ",
	                   task->point == NULL ? "" : task->point->ref, family_words(task->family));
}

/* -- what is asked --------------------------------------------------------------------------- */

void quiz_lines_asks(struct pane *pane, const struct walk *walk, struct arena *arena)
{
	pane_add(pane, arena, ROLE_PLAIN, 0, quiz_task(walk)->asks);
}

void quiz_lines_shown(struct pane *pane, const struct walk *walk, struct arena *arena)
{
	const struct task *task = quiz_task(walk);

	for (size_t i = 0; i < task->shown_count; i++)
		pane_add(pane, arena, ROLE_PLAIN, 2, task->shown[i]);
}

/* -- what it was worth ----------------------------------------------------------------------- */

static const char *with_unit(const struct task *task, const char *number, struct arena *arena)
{
	if (task->unit == NULL || task->unit[0] == '\0')
		return number;
	return arena_print(arena, "%s %s", number, unit_words(task->unit));
}

static const char *answer_words(const struct walk *walk, struct arena *arena)
{
	const struct task *task = quiz_task(walk);
	const char *answer = quiz_given(walk)->answer;
	const struct task_choice *choice = answer == NULL ? NULL : task_choice(task, answer);
	double value;

	if (choice != NULL)
		return choice->text;
	/* as it was typed, maybe with a unit */
	return answer == NULL || !number_parse(answer, strlen(answer), &value)
	               ? answer
	               : with_unit(task, answer, arena);
}

static const char *right_words(const struct task *task, struct arena *arena)
{
	const struct task_choice *right = task_right(task);
	char number[32];

	if (right != NULL)
		return right->text;
	number_format(task->right, number);
	return with_unit(task, arena_copy(arena, number, strlen(number)), arena);
}

static void add_reasons(struct pane *pane, const struct task *task, struct arena *arena)
{
	pane_add(pane, arena, ROLE_HEAD, 0, "Why");
	for (size_t i = 0; i < task->reason_count; i++) {
		const struct reason *reason = &task->reason[i];

		if (reason->source == NULL)
			pane_add(pane, arena, ROLE_PLAIN, 2,
			         arena_print(arena, "%s (the trainer's own)", reason->says));
		else
			pane_add(pane, arena, ROLE_PLAIN, 2,
			         arena_print(arena, "%s (%s; %s)", reason->says, reason->source,
			                     standing_words(reason->standing)));
	}
}

/* A choice may be a sentence, and has its stop then. */
static bool ends_as_sentence(const char *text)
{
	size_t length = strlen(text);

	return length > 0 && strchr(".!?", text[length - 1]) != NULL;
}

void quiz_lines_told(struct pane *pane, const struct walk *walk, struct arena *arena)
{
	const struct given *given = quiz_given(walk);
	const char *answer = answer_words(walk, arena);

	if (!quiz_tells(walk)) {
		if (answer != NULL)
			pane_add(pane, arena, ROLE_PLAIN, 0,
			         arena_print(arena,
			                     "Your answer: %s%s It can be changed until you hand "
			                     "in.",
			                     answer, ends_as_sentence(answer) ? "" : "."));
		return;
	}
	pane_add(pane, arena, grade_role(given->grade), 0,
	         given->grade == GRADE_NONE ? "Not answered." : grade_words(given->grade));
	if (answer != NULL && given->grade != GRADE_RIGHT)
		pane_add(pane, arena, ROLE_PLAIN, 0, arena_print(arena, "Your answer: %s", answer));
	pane_add(pane, arena, ROLE_PLAIN, 0,
	         arena_print(arena, "Right answer: %s", right_words(quiz_task(walk), arena)));
	add_reasons(pane, quiz_task(walk), arena);
	pane_add(pane, arena, ROLE_DIM, 0, pane_caution);
}

/* -- the result ------------------------------------------------------------------------------ */

static void add_mark(struct pane *pane, const struct walk *walk, const struct score *score,
                     struct arena *arena)
{
	const struct attempt *attempt = walk->quiz.attempt;

	pane_add(pane, arena, ROLE_HEAD, 0,
	         arena_print(arena, "Result: %zu%s of %zu (%zu%%)", score->halves / 2,
	                     score->halves % 2 == 1 ? ".5" : "", score->tasks,
	                     score->tasks == 0 ? 0 : score->halves * 50 / score->tasks));
	if (attempt->pass_percent > 0)
		pane_add(pane, arena, score->passed ? ROLE_PROTECTED : ROLE_SHORT, 0,
		         arena_print(arena, "Pass mark %u%%: %s", attempt->pass_percent,
		                     score->passed ? "reached" : "not reached"));
}

static void add_graded(struct pane *pane, const struct walk *walk, enum grade grade,
                       const char *head, struct arena *arena)
{
	const struct attempt *attempt = walk->quiz.attempt;
	size_t from = pane->count;

	pane_head(pane, arena, head);
	for (size_t i = 0; i < quiz_tasks(walk); i++)
		if (attempt->given[i].grade == grade)
			pane_add(pane, arena, ROLE_PLAIN, 2,
			         arena_print(arena, "%zu. %s", i + 1, task_title(walk, i, arena)));
	/* nothing below it: no head */
	if (pane->count == from + 2)
		pane->count = from;
}

void quiz_lines_result(struct pane *pane, const struct walk *walk, struct arena *arena)
{
	struct score score = attempt_score(walk->quiz.attempt);

	add_mark(pane, walk, &score, arena);
	for (int grade = GRADE_RIGHT; grade >= GRADE_NONE; grade--)
		pane_add(pane, arena, grade_role((enum grade)grade), 2,
		         arena_print(arena, "%zu %s%s", score.grade[grade],
		                     grade_called((enum grade)grade),
		                     grade == GRADE_CAUTIOUS ? ", half the credit" : ""));
	add_graded(pane, walk, GRADE_DANGEROUS, "Dangerous: taken for safe, and is not", arena);
	add_graded(pane, walk, GRADE_WRONG, "Wrong", arena);
	add_graded(pane, walk, GRADE_CAUTIOUS, "On the safe side", arena);
	add_graded(pane, walk, GRADE_NONE, "Not answered", arena);
	add_graded(pane, walk, GRADE_RIGHT, "Right", arena);
	pane_add(pane, arena, ROLE_DIM, 0, pane_caution);
}

/* -- help ------------------------------------------------------------------------------------ */

/* How to work it out, without a word of what comes out. ORDER FAMILY. */
static const char *const ways[FAMILY_COUNT] = {
        "What stands in it or runs through it, who uses the place, and whether it could get back "
        "this "
        "way at all. The highest that fits counts; not answered is not the lowest.",
        "Back pressure wants something that pushes: a pump, a sealed heated circuit, gas, higher "
        "water, unequal hot and cold. Back siphonage wants only that the pressure upstream fails.",
        "What the rules accept here: the category that is needed, by each way back, less what the "
        "type is accepted against, where its limits of use are met.",
        "What stands on the wall today: what is needed less what is really in the way, after its "
        "condition, age and test. Paperwork takes nothing away here.",
        "How bad the water is, how much is missing, whether the path is open as it stands, and who "
        "drinks from it.",
        "It has to be good for what is needed, by each way back, and its limits of use have to be "
        "met in this place.",
        "Work it out with each answer as it is written, and ask which of them, were it another, "
        "would "
        "make the point stand as shown.",
        "What can be seen of it: what moves, what vents, what can be tested, and how it is "
        "mounted.",
        "Hold each reading against the least that the test asks for.",
        "Which kind of gap it is, and what its type asks for at that bore.",
        "Ask the trainer, once you have answered.",
};

void quiz_why(struct pane *pane, struct walk *walk, struct arena *arena)
{
	const struct task *task = quiz_task(walk);

	if (walk->quiz.pane != QUIZ_TASK)
		return;
	pane_add(pane, arena, ROLE_HEAD, 0, family_words(task->family));
	pane_add(pane, arena, ROLE_PLAIN, 2, task->asks);
	pane_add(pane, arena, ROLE_PLAIN, 2, ways[task->family]);
	pane_add(pane, arena, ROLE_PLAIN, 0, "");
}

/* -- for who reads it line by line ----------------------------------------------------------- */

static struct told_choice told(const struct walk *walk, const struct task_choice *choice)
{
	const char *answer = quiz_given(walk)->answer;

	return (struct told_choice){.id = choice->id,
	                            .label = choice->text,
	                            .ticked = answer != NULL && strcmp(answer, choice->id) == 0};
}

static void tell_choices(const struct walk *walk, struct arena *arena, struct told_task *out)
{
	const struct task *task = quiz_task(walk);

	out->takes = quiz_takes(walk);
	out->choice = arena_take(arena, (task->choice_count + 1) * sizeof(*out->choice));
	out->choice_count = out->choice == NULL ? 0 : task->choice_count;
	for (size_t i = 0; i < out->choice_count; i++)
		out->choice[i] = told(walk, &task->choice[i]);
	if (task->choice_count == 0)
		out->typed = quiz_number_words(task, arena);
}

bool walk_task(struct walk *walk, struct arena *arena, struct told_task *out)
{
	struct pane says = {0}, after = {0};

	*out = (struct told_task){0};
	if (!quiz_on(walk))
		return false;
	out->pane = walk->quiz.pane;
	out->number = walk->quiz.task + 1;
	out->count = quiz_tasks(walk);
	if (out->pane == QUIZ_RESULT) {
		quiz_lines_result(&says, walk, arena);
	} else if (out->pane == QUIZ_TASK) {
		out->title = arena_print(arena, "Task %zu of %zu. %s", out->number, out->count,
		                         task_title(walk, walk->quiz.task, arena));
		quiz_lines_asks(&says, walk, arena);
		quiz_lines_shown(&says, walk, arena);
		tell_choices(walk, arena, out);
		quiz_lines_told(&after, walk, arena);
	}
	out->says = pane_texts(&says, arena);
	out->after = pane_texts(&after, arena);
	return true;
}
