#include "make.h"

#include <string.h>

bool making_wants(const struct making *making, enum family family)
{
	return (making->families >> family) & 1;
}

struct task making_begin(struct making *making, enum family family, const struct item *point)
{
	making->choice_count = making->reason_count = 0;
	return (struct task){.family = family, .point = point};
}

void making_choice(struct making *making, const char *id, const char *text, enum grade grade)
{
	if (making->choice_count < CHOICES_MOST)
		making->choice[making->choice_count++] =
		        (struct task_choice){.id = id, .text = text, .grade = grade};
}

bool making_has(const struct making *making, const char *id)
{
	for (size_t i = making->count; i-- > 0 && !making->task[i].point;)
		if (strcmp(making->task[i].id, id) == 0)
			return true;
	return false;
}

static size_t right_answers(const struct making *making)
{
	size_t count = 0;

	for (size_t i = 0; i < making->choice_count; i++)
		count += making->choice[i].grade == GRADE_RIGHT;
	return count;
}

static void *keep(struct making *making, const void *items, size_t size)
{
	void *kept = arena_take(making->arena, size);

	if (kept && size > 0)
		memcpy(kept, items, size);
	return kept;
}

void making_keep(struct making *making, struct task *task)
{
	struct task *grown;

	if (making->reason_count == 0 || (making->choice_count > 0 && right_answers(making) != 1))
		return;
	task->choice_count = making->choice_count;
	task->choice = keep(making, making->choice, making->choice_count * sizeof *making->choice);
	task->reason_count = making->reason_count;
	task->reason = keep(making, making->reason, making->reason_count * sizeof *making->reason);
	grown = arena_grow(making->arena, making->task, making->count, &making->room,
	                   sizeof *grown);
	if (!grown)
		return;
	making->task = grown; /* there is room for more from now on */
	if (!task->choice || !task->reason || !task->id || !task->asks)
		return; /* the arena has failed, and who began all this looks */
	grown[making->count++] = *task;
}
