/* What terminfo says of the terminal. Apart from the rest, because <term.h> takes common words for
 * itself. */
#ifndef TUNDISH_SRC_SCREEN_CAPABILITY_H
#define TUNDISH_SRC_SCREEN_CAPABILITY_H

#include <stdbool.h>

enum capability_found {
	CAPABILITY_UNKNOWN_TERMINAL,
	CAPABILITY_ABSENT,
	CAPABILITY_PRESENT,
};

/** Whether a kind of terminal has a string capability; needs no open terminal. */
enum capability_found capability_of(const char *term, const char *name);

/** Of the terminal that is open: its string, or NULL. */
const char *capability(const char *name);

#endif
