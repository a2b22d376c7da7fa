/* Any bytes as a quiz file: no crash, every place within the text, and a quiz that is whole. */
#include "fuzz.h"

#include "tundish/store/quiz_read.h"
#include "tundish/store/rulebook_read.h"

#include <string.h>

static void promise_task(const struct task *task)
{
	size_t right = 0;

	PROMISE(task->family == FAMILY_OWN && task->id && task->id[0] && task->asks);
	if (task->choice_count == 0)
		PROMISE(task->least < task->most && task->right >= task->least &&
		        task->right <= task->most);
	else
		PROMISE(task->choice_count >= 2 && task->choice_count <= QUIZ_CHOICES_MOST);
	PROMISE(task->reason_count == 1 && task->reason->says && task->reason->says[0]);
	for (size_t i = 0; i < task->choice_count; i++) {
		const struct task_choice *choice = &task->choice[i];

		PROMISE(choice->id && choice->text && choice->grade > GRADE_NONE);
		PROMISE(task_choice(task, choice->id) == choice);
		right += choice->grade == GRADE_RIGHT;
	}
	PROMISE(right == (task->choice_count == 0 ? 0 : 1));
	for (size_t i = 0; i < task->shown_count; i++)
		PROMISE(task->shown[i]);
}

static void promise_quiz(const struct quiz_file *file, size_t size)
{
	const struct quiz_plan *plan = &file->plan;

	PROMISE(file->ref && file->ref[0]);
	PROMISE(!file->survey || (file->rooms == 0 && file->points == 0 && file->level == 0));
	PROMISE(file->level <= 4 && file->pass_percent <= 100 &&
	        file->minutes <= QUIZ_MINUTES_MOST);
	PROMISE(plan->families && plan->families <= FAMILIES_ALL && plan->count <= TASKS_MOST);
	for (size_t i = 0; i < plan->point_count; i++)
		PROMISE(strlen(plan->point[i]) <= file->point_span[i].length);
	for (size_t i = 0; i < plan->with_count; i++)
		PROMISE((size_t)file->with_span[i].at + file->with_span[i].length <= size);
	PROMISE(plan->own_count <= TASKS_MOST);
	for (size_t i = 0; i < plan->own_count; i++) {
		promise_task(&plan->own[i]);
		if (plan->own_point[i])
			PROMISE((size_t)file->own_point_span[i].at +
			                file->own_point_span[i].length <=
			        size);
		for (size_t other = 0; other < i && i < 50; other++)
			PROMISE(strcmp(plan->own[i].id, plan->own[other].id) != 0);
	}
}

static const struct rulebook *book(void)
{
	static struct rulebook small;
	static struct arena arena;
	const struct source *text = small_book();
	struct faults faults;

	faults_init(&faults, &arena);
	if (small.kind_count == 0)
		PROMISE(rulebook_read(&small, &text, 1, date_day(2026, 11, 25), &faults));
	return &small;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct arena arena;
	struct source source = {"input.yaml", (const char *)data, size};
	struct quiz_file file;
	struct faults faults;

	arena_reset(&arena);
	faults_init(&faults, &arena);
	if (quiz_read(&file, &source, &faults)) {
		PROMISE(faults.fatal == 0);
		promise_quiz(&file, size);
		PROMISE(quiz_names(&file, &source, book(), NULL, &faults) == (faults.fatal == 0));
	} else {
		PROMISE(faults.fatal > 0);
	}
	promise_faults(&faults);
	quiz_file_finish(&file);
	return 0;
}
