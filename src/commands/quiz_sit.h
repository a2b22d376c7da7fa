/**
 * @file
 * Sitting a quiz: the walk with tasks, each answer in the log before the next task.
 */
#ifndef TUNDISH_COMMANDS_QUIZ_SIT_H
#define TUNDISH_COMMANDS_QUIZ_SIT_H

#include "manner.h"
#include "quiz_set.h"

/** @p log  NULL: there is nowhere to keep answers, which was said. */
void quiz_sit(struct run *run, struct quiz_set *set, enum manner manner, const char *learner,
              const char *log);

#endif
