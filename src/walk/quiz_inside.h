/*
 * What the files of the quiz share: quiz.c (state and keys), quiz_lines.c (in words), quiz_draw.c (on the screen).
 */
#ifndef TUNDISH_WALK_QUIZ_INSIDE_H
#define TUNDISH_WALK_QUIZ_INSIDE_H

#include "pane.h"

/* quiz.c: how it stands. Only where quiz_on(). */
size_t quiz_tasks(const struct walk *walk);
/** The task that is open. */
const struct task *quiz_task(const struct walk *walk);
const struct given *quiz_given(const struct walk *walk);
/** Whether it takes an answer. */
bool quiz_takes(const struct walk *walk);
/** Whether it may be told what its answer was worth, and which is right. */
bool quiz_tells(const struct walk *walk);
/** How many have no answer. */
size_t quiz_open(const struct walk *walk);

/* quiz_lines.c */
/** "K1 Kitchen mixer: enough on paper?" */
const char *quiz_task_title(const struct walk *walk, size_t task, struct arena *arena);
/** Answered or not; what it was worth, where that may be told. */
const char *quiz_task_state(const struct walk *walk, size_t task);
/** How a number is to be written. */
const char *quiz_number_words(const struct task *task, struct arena *arena);
/** What is asked; what belongs to it. */
void quiz_lines_asks(struct pane *pane, const struct walk *walk, struct arena *arena);
void quiz_lines_shown(struct pane *pane, const struct walk *walk, struct arena *arena);
/** What was answered; what that was worth, and why, where it may be told. */
void quiz_lines_told(struct pane *pane, const struct walk *walk, struct arena *arena);
void quiz_lines_result(struct pane *pane, const struct walk *walk, struct arena *arena);
/** "Task 3 of 12, K1: enough on paper?" */
const char *quiz_line(const struct walk *walk, struct arena *arena);

#endif
