/**
 * @file
 * In which manner a walk or a quiz is shown: on the screen, or as lines.
 */
#ifndef TUNDISH_COMMANDS_MANNER_H
#define TUNDISH_COMMANDS_MANNER_H

#include "command.h"

#include "tundish/walk/host.h"

enum manner { MANNER_SCREEN, MANNER_PLAIN, MANNER_NONE };

/** @p instead  what else can be done without a terminal. @return MANNER_NONE: said why, status raised. */
enum manner manner_of(struct run *run, const char *instead);

bool wants_ascii(const struct options *options);

/** Walk until its end in that manner (not MANNER_NONE), on standard input and output. @p err: why it
 * failed (WALK_END_FAILED). */
struct walk_end manner_run(enum manner manner, const struct options *options, struct walk *walk,
                           const struct walk_host *host, struct err *err);

#endif
