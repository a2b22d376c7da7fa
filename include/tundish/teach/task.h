/**
 * @file
 * A task: one thing asked of a learner, with its answers, what each of them is worth, and the reason.
 *
 * Whether an answer is right is never decided here: every choice was graded when the task was made, out of the
 * assessment, and grading is looking a choice up. Dangerous is what says covered, or a fluid less bad than it is, where it
 * is short or could be; cautious is what errs on the safe side. docs/quiz.md has the tables.
 */
#ifndef TUNDISH_TEACH_TASK_H
#define TUNDISH_TEACH_TASK_H

#include "tundish/assess/survey.h"

#include <stdbool.h>
#include <stddef.h>

/** What is asked. ORDER FAMILY: family_names in teach/task.c; of one point in the order of the job. */
enum family {
	FAMILY_CATEGORY,  /* of one fluid: does it come back here, and of which category is it */
	FAMILY_MECHANISM, /* of one fluid: by which it could come back */
	FAMILY_ON_PAPER,  /* is what is fitted enough on paper, and else short by how much */
	FAMILY_IN_FACT,   /* the same in fact */
	FAMILY_URGENCY,
	FAMILY_REMEDY,  /* which type would close the shortfall */
	FAMILY_SPOILED, /* which answer of the record was written down wrongly */
	FAMILY_TYPE,    /* which type this is, by its description */
	FAMILY_TEST,    /* what a device test says of the device */
	FAMILY_GAP,     /* the least air gap for a bore or a tap */
	FAMILY_OWN,     /* the trainer's own */
	FAMILY_COUNT,
};

/** ORDER GRADE: grade_names in teach/task.c; rising, and never renumbered: logs hold them. */
enum grade {
	GRADE_NONE, /* not an answer to this task */
	GRADE_DANGEROUS,
	GRADE_WRONG,
	GRADE_CAUTIOUS,
	GRADE_RIGHT,
	GRADE_COUNT,
};

struct task_choice {
	const char *id;   /* what is kept, exported and graded by: never its place */
	const char *text; /* as shown */
	enum grade grade; /* exactly one choice of a task is right */
	bool last;        /* stays below the others: `none of these` */
};

/** Why the right answer is right. Every task has at least one. */
struct reason {
	const char *says, *source; /* source: NULL for a trainer's own without one */
	enum standing standing;
	const char *id; /* of the row, or of the type whose table it is; NULL: a trainer's own */
};

struct task {
	const char *
	        id; /* unique in its quiz and the same whenever it is made: `K1/category/sink_water`, `type/EB` */
	enum family family;
	const struct item
	        *point;   /* of the survey; NULL: it can be answered without looking at one */
	const char *asks; /* in words */
	const char **
	        shown; /* lines that belong to it: a test's readings, a description, how the point would stand.
	                             The survey may be seen with every task: its answers are no secret, its verdicts are */
	size_t shown_count;
	struct task_choice *choice; /* in the order to show; empty: a number is typed */
	size_t choice_count;
	bool in_order;    /* of amounts: its choices are never shuffled */
	const char *unit; /* of the number, as number.h knows it */
	double least, most,
	        right; /* of the number: what makes sense, and what is right; below it dangerous, above cautious */
	struct reason *reason;
	size_t reason_count;
	const char *topic; /* id of the kind or the type that it teaches; NULL: a trainer's own */
};

const char *family_name(enum family family);  /* "on_paper" */
const char *family_words(enum family family); /* "enough on paper?" */
const char *grade_name(enum grade grade);  /* "dangerous" */
const char *grade_words(enum grade grade); /* a sentence that a learner reads first */
/** Halves of a point: right 2, cautious 1, else 0. */
unsigned grade_halves(enum grade grade);

/** The choice of that id, or NULL. */
const struct task_choice *task_choice(const struct task *task, const char *id);
/** The right one; NULL where a number is typed. */
const struct task_choice *task_right(const struct task *task);
/** What an answer is worth: a choice's id, or the number as typed. GRADE_NONE: it is no answer here. */
enum grade task_grade(const struct task *task, const char *given);

#endif
