/**
 * @file
 * Which of the three languages a file is in: all are YAML, and a file is easily given in the wrong
 * place.
 */
#ifndef TUNDISH_COMMANDS_LANGUAGE_H
#define TUNDISH_COMMANDS_LANGUAGE_H

#include "tundish/base/fault.h"

enum language {
	LANGUAGE_UNKNOWN, /* no key at the top that any of them knows: empty, or not YAML */
	LANGUAGE_SURVEY,
	LANGUAGE_RULEBOOK,
	LANGUAGE_QUIZ,
};

/** `quiz` at the top decides, wherever it stands there; else the first key that one of the languages knows. */
enum language language_of(const struct source *source);

#endif
