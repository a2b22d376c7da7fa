/**
 * @file
 * Which of the two languages a file is in: both are YAML, and a file is easily given in the wrong
 * place.
 */
#ifndef TUNDISH_COMMANDS_LANGUAGE_H
#define TUNDISH_COMMANDS_LANGUAGE_H

#include "tundish/base/fault.h"

enum language {
	LANGUAGE_UNKNOWN, /* no key at the top that either knows: empty, or not YAML */
	LANGUAGE_SURVEY,
	LANGUAGE_RULEBOOK,
};

/** The first key at the top that one of the languages knows decides. */
enum language language_of(const struct source *source);

#endif
