/**
 * @file
 * Learners' logs as the commands see them: whose, where, and what in them can't be read.
 */
#ifndef TUNDISH_COMMANDS_QUIZ_LOG_H
#define TUNDISH_COMMANDS_QUIZ_LOG_H

#include "command.h"

#include "tundish/store/reviews.h"
#include "tundish/teach/boxes.h"

/** --learner, else the login name. In the run's arena. */
const char *quiz_learner(struct run *run);

/** The learner's log. NULL: there is no folder of states, or no memory; that was said and the status raised if @p must. */
const char *quiz_log_path(struct run *run, const char *learner, bool must);

/** Read a log, and say on standard error what in it could not be read. @return false: said why, status raised. */
bool quiz_log_read(struct run *run, const char *path, struct arena *arena, struct reviews *out);

/** What the answers of a log leave in the boxes. NULL: no memory (said, status raised). */
struct boxes *quiz_log_boxes(struct run *run, const struct reviews *reviews);

/** The day to reckon with: --on, else that of the clock in UTC, as logs have it. */
day quiz_today(struct run *run);

#endif
