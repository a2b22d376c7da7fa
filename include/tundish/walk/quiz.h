/**
 * @file
 * A quiz in the walk: the same house with its answers shown and its verdicts hidden; where the verdict stands, a task does.
 *
 *     options.attempt = &attempt;             of walk_create(): all below is for such a walk alone
 *     WALK_SHOWN, WALK_ANSWERED, WALK_HANDED_IN   its effects
 *
 * Nothing of the survey can be changed, and nothing is saved. Answers go into the attempt (teach/quiz.h) as they are given;
 * the walk knows no clock, so their time is the host's to measure, from WALK_SHOWN to WALK_ANSWERED, and to put into
 * `attempt->given[task].ms`.
 *
 * When a verdict is hidden: always, until the attempt is over; but in practice that of an outlet or appliance is shown as
 * soon as each of the tasks about it was answered, and then it is the lesson. So in an exam nothing is told before the end,
 * and an outlet or appliance that no task is about tells nothing that could help with the others.
 */
#ifndef TUNDISH_WALK_QUIZ_H
#define TUNDISH_WALK_QUIZ_H

#include "tundish/walk/tell.h"

/**
 * How many minutes are left, where somebody asked for a limit: shown on the title line, said at five and at one. At 0 the
 * attempt is handed in as it stands. Give the effects that follow to the host like those of a key.
 */
void walk_quiz_time(struct walk *walk, unsigned minutes);

/** What stands in the place of the verdict. */
enum quiz_pane {
	QUIZ_TASK,
	QUIZ_RESULT, /* of an attempt that is over */
	QUIZ_LESSON, /* a verdict that may be read: see walk_whole_verdict() */
};

/** The task in words; of QUIZ_RESULT only @p says is filled. */
struct told_task {
	enum quiz_pane pane;
	size_t number, count;       /* from 1; of all tasks */
	const char *title;          /* "Task 3 of 12. K1 Kitchen mixer: enough on paper?" */
	struct told_texts says;     /* what is asked, and what is shown with it */
	struct told_choice *choice; /* `ticked`: the answer that was given */
	size_t choice_count;        /* 0: a number is typed */
	const char *typed;          /* how the number is written; NULL: there are choices */
	bool takes;                 /* an answer can be given */
	struct told_texts after;    /* the answer; what it was worth and why, once it may be read */
};

/** In @p arena. @return false where the walk is no quiz. */
bool walk_task(struct walk *walk, struct arena *arena, struct told_task *out);

#endif
