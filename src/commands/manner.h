/**
 * @file
 * In which manner a walk or a quiz is shown: on the screen, or as lines.
 */
#ifndef TUNDISH_COMMANDS_MANNER_H
#define TUNDISH_COMMANDS_MANNER_H

#include "command.h"

enum manner { MANNER_SCREEN, MANNER_PLAIN, MANNER_NONE };

/** @p instead  what else can be done without a terminal. @return MANNER_NONE: said why, status raised. */
enum manner manner_of(struct run *run, const char *instead);

bool wants_ascii(const struct options *options);
bool wants_color(const struct options *options);

#endif
