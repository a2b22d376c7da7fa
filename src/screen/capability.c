#include "capability.h"

#include <curses.h>
#include <term.h>
#include <unistd.h>

/* Older headers of curses take their names without const. */
static char *unqualified(const char *name)
{
	union {
		const char *from;
		char *to;
	} same = {name};

	return same.to;
}

const char *capability(const char *name)
{
	const char *text = tigetstr(unqualified(name));

	return text == (const char *)-1 ? NULL : text;
}

enum capability_found capability_of(const char *term, const char *name)
{
	enum capability_found found = CAPABILITY_UNKNOWN_TERMINAL;
	int status;

	if (setupterm(term, STDOUT_FILENO, &status) == ERR)
		return found;
	found = capability(name) != NULL ? CAPABILITY_PRESENT : CAPABILITY_ABSENT;
	del_curterm(cur_term);
	return found;
}
