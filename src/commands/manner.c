#include "manner.h"

#include "tundish/plain/run.h"
#include "tundish/screen/run.h"

#include <fcntl.h>
#include <langinfo.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

/* Where input or output is something else, the terminal that one sits at takes its place: the walk
 * reads no data and writes none. @return whether there is one. */
static bool reach_terminal(void)
{
	for (int fd = STDIN_FILENO; fd <= STDOUT_FILENO; fd++) {
		int tty = isatty(fd) ? fd : open("/dev/tty", O_RDWR | O_NOCTTY);

		if (tty < 0 || (tty != fd && dup2(tty, fd) < 0))
			return false;
		if (tty != fd)
			close(tty);
	}
	return true;
}

/* Set to anything but what says no. */
static bool wants_accessible(void)
{
	const char *value = getenv("ACCESSIBLE");

	return value && *value && strcmp(value, "0") != 0 && strcasecmp(value, "false") != 0;
}

/*
 * Lines where they were asked for, or where the terminal can do no more; a script has to ask for
 * them, so that nothing waits for an answer that nobody will give.
 */
enum manner manner_of(struct run *run, const char *instead)
{
	struct err err = {0};

	if (run->options.plain)
		return MANNER_PLAIN;
	if (!reach_terminal()) {
		err_set(&err, ERR_USAGE,
		        "this needs a terminal, and there is none here; run it in one, or with "
		        "--plain, or %s",
		        instead ? instead : "see --help");
		run_error(run, &err);
		run_raise(run, STATUS_USAGE);
		return MANNER_NONE;
	}
	if (wants_accessible())
		return MANNER_PLAIN;
	if (screen_usable(NULL, &err))
		return MANNER_SCREEN;
	fprintf(stderr, "tundish %s: %s. It goes on as lines, like --plain.\n", run->command->name,
	        err.message);
	return MANNER_PLAIN;
}

bool wants_ascii(const struct options *options)
{
	return options->ascii || strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
}

static bool wants_color(const struct options *options)
{
	const char *no_color = getenv("NO_COLOR"), *term = getenv("TERM");

	switch (options->color) {
	case COLOR_ALWAYS:
		return true;
	case COLOR_NEVER:
		return false;
	case COLOR_AUTO:
	case COLOR_COUNT:
		break;
	}
	return !(no_color && *no_color) && term && strcmp(term, "dumb") != 0;
}

struct walk_end manner_run(enum manner manner, const struct options *options, struct walk *walk,
                           const struct walk_host *host, struct err *err)
{
	bool ascii = wants_ascii(options);
	struct plain_options plain = {!isatty(STDIN_FILENO), ascii};
	struct screen_options screen = {stdin,          stdout, NULL, wants_color(options),
	                                options->theme, ascii};

	if (manner == MANNER_PLAIN)
		return plain_run(walk, host, &plain, STDIN_FILENO, STDOUT_FILENO, err);
	return screen_run(walk, host, &screen, err);
}
