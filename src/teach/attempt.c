#include "tundish/teach/quiz.h"

#include <string.h>

bool attempt_begin(struct attempt *attempt, const struct quiz *quiz, struct arena *arena)
{
	*attempt = (struct attempt){.quiz = quiz, .arena = arena};
	attempt->given = arena_take(arena, (quiz->task_count + 1) * sizeof *attempt->given);
	return attempt->given != NULL;
}

enum grade attempt_answer(struct attempt *attempt, size_t task, const char *answer, uint32_t ms)
{
	struct given *given;
	enum grade grade;
	const char *kept;

	if (attempt->over || task >= attempt->quiz->task_count)
		return GRADE_NONE;
	given = &attempt->given[task];
	if (given->answer && !attempt->exam)
		return GRADE_NONE;
	grade = task_grade(&attempt->quiz->task[task], answer);
	kept = grade == GRADE_NONE ? NULL : arena_copy(attempt->arena, answer, strlen(answer));
	if (!kept)
		return GRADE_NONE;
	*given = (struct given){kept, grade, ms};
	return grade;
}

size_t attempt_next(const struct attempt *attempt, size_t task)
{
	size_t count = attempt->quiz->task_count;

	for (size_t i = 1; i <= count; i++) {
		size_t next = (task + i) % count;

		if (!attempt->given[next].answer)
			return next;
	}
	return count;
}

size_t mark_halves(size_t tasks, unsigned percent)
{
	return (tasks * 2 * percent + 99) / 100;
}

bool mark_reached(size_t halves, size_t tasks, unsigned percent)
{
	return halves >= mark_halves(tasks, percent);
}

struct score attempt_score(const struct attempt *attempt)
{
	struct score score = {.tasks = attempt->quiz->task_count};

	for (size_t i = 0; i < score.tasks; i++) {
		const struct given *given = &attempt->given[i];

		score.answered += given->answer != NULL;
		score.grade[given->grade]++;
		score.halves += grade_halves(given->grade);
	}
	score.passed = attempt->pass_percent > 0 &&
	               mark_reached(score.halves, score.tasks, attempt->pass_percent);
	return score;
}
