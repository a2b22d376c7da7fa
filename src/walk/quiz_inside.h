/*
 * What the files of the quiz share: quiz.c (how it stands), quiz_keys.c, quiz_go.c (what keys do), quiz_lines.c (in words),
 * quiz_draw.c (on the screen).
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

/* quiz_go.c */
/** The pane has the focus; beside it stands what the view shows. */
void quiz_to_pane(struct walk *walk, enum quiz_pane pane);
/** A task, with what it is about beside it. */
void quiz_show_task(struct walk *walk, size_t task);
void quiz_show_result(struct walk *walk);
/** The task after or before it. */
void quiz_by_order(struct walk *walk, int step);
/** The next without an answer; behind the last of them practice is over. */
void quiz_go_on(struct walk *walk);
/** Give the answer of that number, from 1. */
void quiz_give_choice(struct walk *walk, size_t number);
/** Type a number, whose first key it may be. */
void quiz_open_field(struct walk *walk, const struct walk_key *first);
/** Hand in; where something is open, and in an exam, ask first. */
void quiz_ask_finish(struct walk *walk);
void quiz_list_tasks(struct walk *walk);

/* quiz_lines.c */
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
