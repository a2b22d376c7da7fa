/**
 * @file
 * The commands, and what they share: one run's options, rulebook, output and exit status.
 */
#ifndef TUNDISH_COMMANDS_COMMAND_H
#define TUNDISH_COMMANDS_COMMAND_H

#include "options.h"

#include "tundish/assess/amendment.h"
#include "tundish/assess/rulebook.h"
#include "tundish/assess/survey.h"
#include "tundish/base/sink.h"
#include "tundish/store/file.h"

/** Exit status; of several the greatest counts. */
enum status {
	STATUS_DONE,  /* and nothing short */
	STATUS_SHORT, /* done, and something is short or due */
	STATUS_USAGE,
	STATUS_BAD_FILE,
	STATUS_IO, /* could not read or write; no memory */
};

struct run;

struct command {
	const char *name, *operands, *summary;
	const char *more;   /* for --help: a paragraph */
	uint64_t takes;     /* TAKES(...) of each option */
	size_t least, most; /* operands; SIZE_MAX: any number */
	void (*carry_out)(struct run *run);
	unsigned formats; /* FORMATS(...) of --format; 0: table, csv, ndjson */
};

extern const struct command commands[];
extern const size_t command_count;

struct run {
	const struct command *command;
	struct options options;
	struct arena arena;   /* arguments, texts of overlays: as long as the run */
	struct arena scratch; /* as long as a message */
	struct sink out;      /* standard output */
	struct rulebook book;
	enum status status;
};

/** The whole program but for the locale. @return the exit status. */
int command_main(int count, char **argument);

/* -- help.c -- */

void help_all(struct sink *sink);
void help_command(struct sink *sink, const struct command *command);

/* -- run.c -- */

void run_raise(struct run *run, enum status status);

/** `tundish assess: message` on standard error, and the status that goes with the kind of error. */
void run_error(struct run *run, const struct err *err);

/** The fatal faults of one text, on standard error; raises to STATUS_BAD_FILE if there are any. */
void run_faults(struct run *run, struct faults *faults);

/** The built-in texts, the overlays, and room for one more; their @p count. NULL: said why, status
 * raised. */
const struct source **run_texts(struct run *run, size_t *count);

/** Read the built-in rulebook and the overlays into run->book. @return false: said why, status
 * raised. */
bool run_load_book(struct run *run);

/**
 * Read a file and the survey in it. @p survey may be one read before: its memory is used again.
 * @return false: said why, status raised.
 */
bool run_load_survey(struct run *run, const char *path, struct arena *text, struct source *source,
                     struct file_stamp *stamp, struct survey *survey);

/** Whether whoever reads the output has gone, or it cannot be written: no use going on. */
bool run_is_over(const struct run *run);

/* -- walk.c -- */

/** Walk the file named. @p by answers for what is changed in a signed-off survey; NULL: such a one is only looked at. With
 * it the book is loaded already. */
void walk_file(struct run *run, const struct amender *by);

/* -- amend.c -- */

/** The time now, as an amendment has it; NULL: no memory. */
const char *amend_time(struct arena *arena);

/** The number of amendments and the head, on standard output. */
void amend_say_head(struct run *run, const struct source *text);

/* -- the commands -- */

void command_amend(struct run *run);
void command_assess(struct run *run);
void command_faults(struct run *run);
void command_history(struct run *run);
void command_invent(struct run *run);
void command_quiz(struct run *run);
void command_redact(struct run *run);
void command_rules(struct run *run);
void command_walk(struct run *run);

#endif
