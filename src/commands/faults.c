#include "command.h"
#include "language.h"

#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include <stdio.h>

/* -- one file ---------------------------------------------------------------------------------- */

struct checking {
	struct run *run;
	struct survey survey;
	struct arena text;
	size_t files, faults, notices;
};

static void check_rulebook(struct checking *c, const struct source *source, struct faults *faults)
{
	struct rulebook book = {0};
	size_t count = 0;
	const struct source **text = run_texts(c->run, &count);

	if (!text)
		return;
	text[count++] = source;
	if (rulebook_read(&book, text, count, c->run->options.on, faults))
		rulebook_check(&book, faults);
	rulebook_finish(&book);
}

/* Here the faults are what was asked for: they go to standard output. */
static void print_faults(struct checking *c, struct faults *faults)
{
	struct run *run = c->run;

	faults_sort(faults);
	for (size_t i = 0; i < faults->count; i++) {
		const char *text = fault_text(&faults->item[i], &run->scratch);
		sink_text(&run->out, text ? text : "");
		arena_reset(&run->scratch);
		c->notices += faults->item[i].severity == SEVERITY_NOTICE;
	}
	if (faults->left_out)
		fprintf(stderr, "tundish faults: and %zu more\n", faults->left_out);
	c->faults += faults->fatal;
	if (faults->fatal)
		run_raise(run, STATUS_BAD_FILE);
}

static void check_file(struct checking *c, const char *path)
{
	struct faults faults;
	struct source source;
	struct err err = {0};

	arena_reset(&c->text);
	if (!file_read(path, &c->text, &source, NULL, &err)) {
		run_error(c->run, &err);
		return;
	}
	c->files++;
	faults_init(&faults, &c->text);
	if (language_of(&source) == LANGUAGE_RULEBOOK)
		check_rulebook(c, &source, &faults);
	else
		survey_read(&c->survey, &c->run->book, &source, &faults);
	print_faults(c, &faults);
}

void command_faults(struct run *run)
{
	struct checking c = {.run = run};

	if (!run_load_book(run))
		return;
	for (size_t i = 0; i < run->options.operand_count && !run_is_over(run); i++)
		check_file(&c, run->options.operand[i]);
	fprintf(stderr, "tundish faults: files %zu, faults %zu, notices %zu\n", c.files, c.faults,
	        c.notices);
	survey_finish(&c.survey);
	arena_finish(&c.text);
}
