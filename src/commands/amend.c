#include "command.h"

#include "tundish/base/text.h"
#include "tundish/print/page.h"
#include "tundish/store/amendments.h"
#include "tundish/store/lock.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

struct amending {
	struct run *run;
	struct survey survey;
	struct arena text;
	struct source source;
	struct file_stamp stamp;
	struct chain chain;
	struct amender by;
};

/* -- who and why ------------------------------------------------------------------------------- */

/* A line of the input, and no byte more of it: the rest is for the walk. NULL: it ended. */
static const char *read_line(struct arena *arena)
{
	enum { LINE_MOST = 1000 };
	char line[LINE_MOST];
	size_t length = 0;

	for (;;) {
		char byte = 0;
		ssize_t got = read(STDIN_FILENO, &byte, 1);
		if (got < 0 && errno == EINTR)
			continue;
		if (got <= 0 && length == 0)
			return NULL;
		if (got <= 0 || byte == '\n')
			return arena_copy(arena, line, length);
		if (length < LINE_MOST)
			line[length++] = byte;
	}
}

static bool says_something(const char *text)
{
	return text && text[strspn(text, " \t\r")] && text_is_utf8(text, strlen(text), NULL);
}

/* @return the answer, or NULL where nobody gives one. */
static const char *ask(struct run *run, const char *question)
{
	for (;;) {
		sink_print(&run->out, "%s ", question);
		if (!sink_flush(&run->out, &(struct err){0}))
			return NULL;
		const char *line = read_line(&run->arena);
		if (line && !isatty(STDIN_FILENO)) /* so that it reads like a session */
			sink_print(&run->out, "%s\n", page_safe(&run->scratch, line));
		if (!line || says_something(line)) {
			sink_flush(&run->out, &(struct err){0}); /* the walk writes on its own */
			return line;
		}
		sink_text(&run->out, "It stands in the file for good, so it can't be empty.\n");
	}
}

static bool may_ask(const struct run *run)
{
	return run->options.plain || (isatty(STDIN_FILENO) && isatty(STDOUT_FILENO));
}

static const char *given_or_asked(struct run *run, const char *given, const char *question)
{
	if (given)
		return says_something(given) ? given : NULL;
	return may_ask(run) ? ask(run, question) : NULL;
}

static bool find_amender(struct amending *a)
{
	const struct options *options = &a->run->options;

	a->by.who = given_or_asked(a->run, options->who, "Who amends it?");
	if (a->by.who)
		a->by.why = given_or_asked(a->run, options->why, "Why?");
	a->by.at = amend_time(&a->run->arena);
	if (a->by.who && a->by.why && a->by.at)
		return true;
	run_error(a->run, &(struct err){ERR_USAGE, "an amendment says who and why: --who NAME "
	                                           "--why TEXT, or answer when asked"});
	return false;
}

const char *amend_time(struct arena *arena)
{
	time_t now = time(NULL);
	struct tm parts;
	char text[sizeof("2026-11-25T09:12:03Z") + 8];

	if (!gmtime_r(&now, &parts) ||
	    strftime(text, sizeof(text), "%Y-%m-%dT%H:%M:%SZ", &parts) == 0)
		return NULL;
	return arena_copy(arena, text, strlen(text));
}

/* -- whether it can be ------------------------------------------------------------------------- */

static bool refuse(struct amending *a, enum err_kind kind, const char *why)
{
	struct err err = {0};

	err_set(&err, kind, "%s: %s", a->run->options.operand[0], why);
	run_error(a->run, &err);
	return false;
}

static bool load(struct amending *a)
{
	struct faults faults;

	if (!run_load_survey(a->run, a->run->options.operand[0], &a->text, &a->source, &a->stamp,
	                     &a->survey))
		return false;
	faults_init(&faults, &a->text);
	if (!chain_read(&a->source, &a->text, &a->chain, &faults) || a->chain.broken) {
		run_faults(a->run, &faults);
		return false;
	}
	return true;
}

static bool fits(struct amending *a)
{
	bool adopt = a->run->options.adopt;

	if (a->chain.count == 0 && !survey_signed_off(&a->survey))
		return refuse(a, ERR_USAGE, "it is not signed off: `tundish walk` changes it");
	if (!adopt && a->chain.outside)
		return refuse(
		        a, ERR_TEXT,
		        "it was changed outside tundish, and no amendment says so: see `tundish "
		        "faults --chain`, then take that over with --adopt, or put it back");
	if (adopt && !a->chain.outside)
		return refuse(a, ERR_USAGE,
		              "nothing was changed outside tundish: there is nothing to adopt");
	return true;
}

/* -- taking over ------------------------------------------------------------------------------- */

static void replace(struct amending *a)
{
	const char *path = a->run->options.operand[0];
	char *text = NULL;
	size_t length = 0;
	struct err err = {0};

	if (!amendments_adopt(&a->survey, &a->source, &a->by, &a->text, &text, &length, &err) ||
	    !file_replace(path, text, length, &a->stamp, FILE_KEEP_OLD, &err)) {
		run_error(a->run, &err);
		return;
	}
	amend_say_head(a->run, &(struct source){path, text, length});
}

static void adopt(struct amending *a)
{
	const char *path = a->run->options.operand[0];
	struct lock_holder holder;
	struct lock lock;
	struct err err = {0};

	switch (lock_take(&lock, path, NULL, false, &holder, &err)) {
	case LOCK_HELD:
		refuse(a, ERR_IO, "a walk has it open: end that first");
		return;
	case LOCK_TAKEN:
	case LOCK_IMPOSSIBLE:
		break;
	}
	replace(a);
	lock_release(&lock);
}

void amend_say_head(struct run *run, const struct source *text)
{
	struct arena arena = {0};
	struct chain chain;
	struct faults faults;

	faults_init(&faults, &arena);
	if (chain_read(text, &arena, &chain, &faults) && chain.count > 0)
		sink_print(&run->out, "Amendments %zu, head %s\n", chain.count, chain.head);
	arena_finish(&arena);
}

/* -- the command ------------------------------------------------------------------------------- */

void command_amend(struct run *run)
{
	struct amending a = {.run = run};
	bool ready;

	if (strcmp(run->options.operand[0], "-") == 0) {
		run_error(run,
		          &(struct err){ERR_USAGE,
		                        "an amendment goes into a file: standard input is none"});
		return;
	}
	if (!run_load_book(run))
		return;
	ready = load(&a) && fits(&a) && find_amender(&a);
	if (ready && run->options.adopt)
		adopt(&a);
	survey_finish(&a.survey);
	arena_finish(&a.text);
	if (ready && !run->options.adopt)
		walk_file(run, &a.by);
}
