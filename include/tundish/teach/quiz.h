/**
 * @file
 * A quiz: the tasks that a survey gives, drawn and shuffled by a seed. A function of the survey, the plan and the rulebook
 * alone; what a learner remembers only makes the plan (boxes.h). And an attempt: one sitting of it.
 */
#ifndef TUNDISH_TEACH_QUIZ_H
#define TUNDISH_TEACH_QUIZ_H

#include "tundish/house/verdict.h"
#include "tundish/teach/task.h"

#include <stdint.h>

enum { FAMILIES_ALL = (1 << FAMILY_COUNT) - 1, TASKS_MOST = 1000 };

struct quiz_plan {
	uint64_t seed;
	size_t count; /* how many tasks at most, the trainer's own among them; 0: all there are */
	unsigned families;        /* 1 << enum family */
	const char *const *point; /* refs of the points it is about; none: all of the survey */
	size_t point_count;
	const char *const
	        *with; /* ids of rows, kinds and types: tasks that teach these are drawn first */
	size_t with_count;
	const struct task *own; /* the trainer's: always asked, after what the survey gives */
	const char *const *own_point; /* ref of the point that each is about, NULL: of none; or NULL: none of any */
	size_t own_count;
};

struct quiz {
	const struct survey *survey;
	struct task *
	        task; /* in the order of asking: those of one point stand together, in the order of the job */
	size_t task_count;
};

/**
 * Make the tasks and draw.
 *
 * Everything in @p out lives in @p arena. The survey is not changed, and must outlive it. A point with more doubt than can
 * be enumerated gives no tasks, and nor does what the rulebook gives no reason for. Ordered answers (categories, amounts, urgencies) keep their order, others are shuffled, and
 * `none of these` comes last.
 * @return false with @p err: no memory (ERR_MEMORY); a ref or an id of the plan that names nothing, or nothing to ask
 *         (ERR_USAGE); what judge_survey can't take up (ERR_TEXT).
 */
bool quiz_make(const struct survey *survey, const struct quiz_plan *plan, struct arena *arena,
               struct quiz *out, struct err *err);

/** One answer of an attempt. */
struct given {
	const char *
	        answer; /* a choice's id or a number as typed, in the attempt's arena; NULL: not answered */
	enum grade grade; /* GRADE_NONE: not answered */
	uint32_t ms;      /* from when it was shown until it was answered; 0: not measured */
};

struct attempt {
	const struct quiz *quiz;
	bool exam; /* the grade is shown at the end; an answer can be changed until then */
	unsigned pass_percent; /* 0: there is no mark to pass */
	bool over;
	struct given *given; /* one a task */
	struct arena *arena;
};

/** @p quiz and @p arena are borrowed. @return false when there is no memory. */
bool attempt_begin(struct attempt *attempt, const struct quiz *quiz, struct arena *arena);
/**
 * Take an answer. In practice the first one stands; in an exam the last, until it is over.
 * @return its grade; GRADE_NONE where it is no answer to that task, or comes too late: nothing is changed.
 */
enum grade attempt_answer(struct attempt *attempt, size_t task, const char *answer, uint32_t ms);
/** The next task after @p task that has no answer, going round; task_count: none. */
size_t attempt_next(const struct attempt *attempt, size_t task);

/** How an attempt stands. */
struct score {
	size_t tasks, answered;
	size_t grade[GRADE_COUNT]; /* how many; GRADE_NONE: not answered */
	size_t halves;             /* of 2 x tasks */
	bool passed; /* there is a mark, and it was reached: what was not answered counts as wrong */
};
struct score attempt_score(const struct attempt *attempt);

/** How many halves of a point reach a mark of @p percent (0 to 100) of @p tasks: rounded up. */
size_t mark_halves(size_t tasks, unsigned percent);
/** Whether a mark of @p percent is reached: what was not answered counts as wrong. */
bool mark_reached(size_t halves, size_t tasks, unsigned percent);

#endif
