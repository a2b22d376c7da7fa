#include "tundish/teach/task.h"

#include "tundish/base/number.h"

#include <string.h>

/* ORDER FAMILY */
static const char *const family_names[FAMILY_COUNT] = {
        "category", "mechanism", "on_paper", "in_fact", "urgency", "remedy",
        "spoiled",  "type",      "test",     "gap",     "own"};
static const char *const family_in_words[FAMILY_COUNT] = {"fluid and category",
                                                          "how it could come back",
                                                          "enough on paper?",
                                                          "enough in fact?",
                                                          "how soon?",
                                                          "what puts it right",
                                                          "the answer that is wrong",
                                                          "which type is it?",
                                                          "reading a device test",
                                                          "sizing an air gap",
                                                          "the trainer's own"};

/* ORDER GRADE */
static const char *const grade_names[GRADE_COUNT] = {"none", "dangerous", "wrong", "cautious",
                                                     "right"};
static const char *const grade_in_words[GRADE_COUNT] = {
        "Not answered.", "Dangerous: it takes for safe what is not.",
        "Wrong.",        "Not right, but it errs on the safe side: half a point.",
        "Right.",
};

const char *family_name(enum family family)
{
	return family_names[family];
}

const char *family_words(enum family family)
{
	return family_in_words[family];
}

const char *grade_name(enum grade grade)
{
	return grade_names[grade];
}

const char *grade_words(enum grade grade)
{
	return grade_in_words[grade];
}

unsigned grade_halves(enum grade grade)
{
	return grade == GRADE_RIGHT ? 2 : grade == GRADE_CAUTIOUS ? 1 : 0;
}

const struct task_choice *task_choice(const struct task *task, const char *id)
{
	for (size_t i = 0; i < task->choice_count; i++)
		if (strcmp(task->choice[i].id, id) == 0)
			return &task->choice[i];
	return NULL;
}

const struct task_choice *task_right(const struct task *task)
{
	for (size_t i = 0; i < task->choice_count; i++)
		if (task->choice[i].grade == GRADE_RIGHT)
			return &task->choice[i];
	return NULL;
}

static enum grade grade_of_number(const struct task *task, const char *given)
{
	double value = 0;

	switch (number_with_unit(given, strlen(given), task->unit, &value)) {
	case UNIT_NONE:
	case UNIT_SAME:
	case UNIT_CONVERTED:
		break;
	case UNIT_OTHER:
	case UNIT_NAMED:
	case UNIT_BAD:
		return GRADE_NONE;
	}
	if (value < task->least || value > task->most)
		return GRADE_NONE;
	return value < task->right   ? GRADE_DANGEROUS
	       : value > task->right ? GRADE_CAUTIOUS
	                             : GRADE_RIGHT;
}

enum grade task_grade(const struct task *task, const char *given)
{
	const struct task_choice *choice;

	if (task->choice_count == 0)
		return grade_of_number(task, given);
	choice = task_choice(task, given);
	return choice ? choice->grade : GRADE_NONE;
}
