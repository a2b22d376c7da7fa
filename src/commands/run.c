#include "command.h"
#include "language.h"

#include "tundish/base/text.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

/* -- messages and status ----------------------------------------------------------------------- */

void run_raise(struct run *run, enum status status)
{
	if (status > run->status)
		run->status = status;
}

static enum status status_of(enum err_kind kind)
{
	switch (kind) {
	case ERR_NONE:
		return STATUS_DONE;
	case ERR_USAGE:
		return STATUS_USAGE;
	case ERR_TEXT:
		return STATUS_BAD_FILE;
	case ERR_IO:
	case ERR_CONFLICT:
	case ERR_MEMORY:
		break;
	}
	return STATUS_IO;
}

void run_error(struct run *run, const struct err *err)
{
	fprintf(stderr, "tundish%s%s: %s\n", run->command ? " " : "",
	        run->command ? run->command->name : "", err->message);
	run_raise(run, status_of(err->kind));
}

void run_faults(struct run *run, struct faults *faults)
{
	faults_sort(faults);
	for (size_t i = 0; i < faults->count; i++) {
		if (faults->item[i].severity == SEVERITY_NOTICE)
			continue;
		const char *text = fault_text(&faults->item[i], &run->scratch);
		fputs(text ? text : "tundish: no memory for a message\n", stderr);
		arena_reset(&run->scratch);
	}
	if (faults->left_out)
		fprintf(stderr, "tundish: and %zu more\n", faults->left_out);
	if (faults->fatal)
		run_raise(run, STATUS_BAD_FILE);
}

bool run_is_over(const struct run *run)
{
	return run->out.failed;
}

/* -- the rulebook ------------------------------------------------------------------------------ */

static day today(void)
{
	time_t now = time(NULL);
	struct tm parts;

	if (!localtime_r(&now, &parts))
		return 0;
	return date_day(parts.tm_year + 1900, parts.tm_mon + 1, parts.tm_mday);
}

static bool overlay_texts(struct run *run, struct source *overlay)
{
	for (size_t i = 0; i < run->options.rulebook_count; i++) {
		struct err err = {0};
		if (!file_read(run->options.rulebook[i], &run->arena, &overlay[i], NULL, &err)) {
			run_error(run, &err);
			return false;
		}
		enum language language = language_of(&overlay[i]);
		if (language == LANGUAGE_SURVEY || language == LANGUAGE_QUIZ) {
			err_set(&err, ERR_TEXT, "%s is a %s, not a rulebook",
			        run->options.rulebook[i],
			        language == LANGUAGE_SURVEY ? "survey" : "quiz file");
			run_error(run, &err);
			return false;
		}
	}
	return true;
}

const struct source **run_texts(struct run *run, size_t *count)
{
	size_t builtin_count = 0, overlay_count = run->options.rulebook_count;
	const struct source *builtin = rulebook_builtin(&builtin_count);
	const struct source **text =
	        arena_take(&run->arena, (builtin_count + overlay_count + 1) * sizeof(*text));
	struct source *overlay = arena_take(&run->arena, overlay_count * sizeof(*overlay));

	if (!text || !overlay) {
		run_error(run, &(struct err){ERR_MEMORY, "no memory for the rulebook"});
		return NULL;
	}
	if (!overlay_texts(run, overlay))
		return NULL;
	for (size_t i = 0; i < builtin_count; i++)
		text[i] = &builtin[i];
	for (size_t i = 0; i < overlay_count; i++)
		text[builtin_count + i] = &overlay[i];
	*count = builtin_count + overlay_count;
	return text;
}

bool run_load_book(struct run *run)
{
	size_t count = 0;
	const struct source **text = run_texts(run, &count);
	struct faults faults;

	if (!text)
		return false;
	if (!run->options.on_given)
		run->options.on = today();
	faults_init(&faults, &run->arena);
	bool ok = rulebook_read(&run->book, text, count, run->options.on, &faults);
	if (!ok)
		run_faults(run, &faults);
	if (!ok && !faults.fatal)
		run_error(run, &(struct err){ERR_MEMORY, "no memory for the rulebook"});
	return ok;
}

/* -- surveys ----------------------------------------------------------------------------------- */

bool run_load_survey(struct run *run, const char *path, struct arena *text, struct source *source,
                     struct file_stamp *stamp, struct survey *survey)
{
	struct faults faults;
	struct err err = {0};

	if (!file_read(path, text, source, stamp, &err)) {
		run_error(run, &err);
		return false;
	}
	enum language language = language_of(source);
	if (language == LANGUAGE_RULEBOOK || language == LANGUAGE_QUIZ) {
		err_set(&err, ERR_TEXT, "%s is a %s, not a survey", path,
		        language == LANGUAGE_QUIZ ? "quiz file" : "rulebook");
		run_error(run, &err);
		return false;
	}
	faults_init(&faults, text);
	bool ok = survey_read(survey, &run->book, source, &faults);
	if (!ok)
		run_faults(run, &faults);
	if (!ok && !faults.fatal)
		run_error(run, &(struct err){ERR_MEMORY, "no memory for the survey"});
	return ok;
}

/* -- the program ------------------------------------------------------------------------------- */

static const struct command *find_command(const char *name)
{
	for (size_t i = 0; i < command_count; i++) {
		if (strcmp(commands[i].name, name) == 0)
			return &commands[i];
	}
	return NULL;
}

static void unknown_command(struct run *run, const char *name)
{
	const char **names = arena_take(&run->arena, command_count * sizeof(*names));
	struct err err = {0};

	for (size_t i = 0; names && i < command_count; i++)
		names[i] = commands[i].name;
	const char *nearest = names ? text_nearest(name, names, command_count) : NULL;
	if (nearest)
		err_set(&err, ERR_USAGE, "%s is not a command; did you mean `tundish %s`?", name,
		        nearest);
	else
		err_set(&err, ERR_USAGE, "%s is not a command; `tundish --help` names them", name);
	run_error(run, &err);
}

static bool operands_fit(struct run *run)
{
	const struct command *command = run->command;
	struct err err = {0};

	if (run->options.operand_count < command->least)
		err_set(&err, ERR_USAGE, "%s is missing; `tundish %s --help` says more",
		        command->operands, command->name);
	else if (run->options.operand_count > command->most)
		err_set(&err, ERR_USAGE, "%s is one too many; `tundish %s --help` says more",
		        run->options.operand[command->most], command->name);
	if (err.kind != ERR_NONE)
		run_error(run, &err);
	return err.kind == ERR_NONE;
}

static void version(struct sink *sink)
{
	sink_print(sink, "tundish %s\n", TUNDISH_VERSION);
}

static void run_command(struct run *run, int count, char **argument)
{
	unsigned formats = run->command->formats;
	struct err err = {0};

	if (!formats)
		formats = FORMATS(TABLE) | FORMATS(CSV) | FORMATS(NDJSON);
	if (!options_read(count, argument, run->command->takes, formats, &run->arena, &run->options, &err))
		run_error(run, &err);
	else if (run->options.help)
		help_command(&run->out, run->command);
	else if (run->options.version)
		version(&run->out);
	else if (operands_fit(run))
		run->command->carry_out(run);
}

/* `tundish help`, `tundish help COMMAND`, `tundish --help`, `tundish --version`. */
static bool run_help(struct run *run, int count, char **argument)
{
	bool help = strcmp(argument[0], "help") == 0;
	const struct command *about = NULL;

	if (strcmp(argument[0], "--version") == 0) {
		version(&run->out);
		return true;
	}
	if (!help && strcmp(argument[0], "--help") != 0 && strcmp(argument[0], "-h") != 0)
		return false;
	if (help && count > 1) {
		about = find_command(argument[1]);
		if (!about)
			unknown_command(run, argument[1]);
		else
			help_command(&run->out, about);
		return true;
	}
	help_all(&run->out);
	return true;
}

static void run_all(struct run *run, int count, char **argument)
{
	if (count < 1) {
		run_error(run, &(struct err){ERR_USAGE,
		                             "a command is missing; `tundish --help` names them"});
		return;
	}
	if (run_help(run, count, argument))
		return;
	run->command = find_command(argument[0]);
	if (!run->command && argument[0][0] == '-')
		run_error(run, &(struct err){ERR_USAGE,
		                             "a command comes first; `tundish --help` names them"});
	else if (!run->command)
		unknown_command(run, argument[0]);
	else
		run_command(run, count - 1, argument + 1);
}

/* A reader that went away early (`| head`) is no trouble of ours; a full disk is. */
static void finish_output(struct run *run)
{
	struct err err = {0};

	if (!sink_flush(&run->out, &err) && run->out.reason != EPIPE)
		run_error(run, &err);
	sink_finish(&run->out);
}

int command_main(int count, char **argument)
{
	struct run run = {0};

	signal(SIGPIPE, SIG_IGN);
	/* a limit on the size of files is a full disk like any other */
	signal(SIGXFSZ, SIG_IGN);
	sink_to_fd(&run.out, STDOUT_FILENO);
	run_all(&run, count - 1, argument + 1);
	finish_output(&run);
	rulebook_finish(&run.book);
	arena_finish(&run.scratch);
	arena_finish(&run.arena);
	return (int)run.status;
}
