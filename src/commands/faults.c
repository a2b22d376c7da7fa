#include "command.h"
#include "language.h"
#include "quiz_load.h"

#include "tundish/print/page.h"
#include "tundish/store/amendments.h"
#include "tundish/store/quiz_read.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include <stdio.h>
#include <string.h>

/* -- one file ---------------------------------------------------------------------------------- */

struct checking {
	struct run *run;
	struct survey survey;
	struct arena text;
	size_t files, faults, notices;
	bool chained; /* some file had amendments */
};

/* -- the chain of amendments ------------------------------------------------------------------- */

/* A head may be cut short when it is written down, but not by so much that it says nothing. */
enum { HEAD_LEAST = 16, HEAD_MOST = 64 };

static const char what_a_chain_cannot_show[] =
        "What a chain can't show: who really made a change, and when; it says what was typed and "
        "what the clock said. Whoever can write the file can write the whole chain anew, or take "
        "the last amendments away with all that they changed: only a head that was kept elsewhere "
        "(--expect-head) or a signature shows that. What was changed before the signing off, and "
        "comments at any time, are not in it.";

static void hold_head(struct checking *c, const struct source *source, const struct chain *chain,
                      struct faults *faults)
{
	const char *expected = c->run->options.expect_head;

	if (!expected || chain->broken)
		return;
	if (strncmp(chain->head, expected, strlen(expected)) == 0)
		return;
	fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
	          "the head is %s, and not the one expected: amendments were taken off the end "
	          "or put there, the chain was written anew, or it is another survey",
	          *chain->head ? chain->head : "none");
}

static void say_chain(struct checking *c, const char *path, const struct chain *chain)
{
	const char *name = page_safe(&c->run->scratch, path);

	if (chain->broken)
		sink_print(&c->run->out,
		           "%s: the chain holds up to amendment %zu and breaks there\n", name,
		           chain->count);
	else if (chain->outside)
		sink_print(
		        &c->run->out,
		        "%s: amendments %zu, each link holds, but it was changed outside tundish\n",
		        name, chain->count);
	else if (chain->count > 0)
		sink_print(&c->run->out, "%s: amendments %zu, the chain holds; head %s\n", name,
		           chain->count, chain->head);
	else
		sink_print(&c->run->out, "%s: not signed off, no amendments\n", name);
	c->chained |= chain->count > 0 || chain->broken || chain->outside;
	arena_reset(&c->run->scratch);
}

/* @return whether @p chain was filled. */
static bool check_chain(struct checking *c, const struct source *source, struct chain *chain,
                        struct faults *faults)
{
	/* What can't be read at all is in the faults already. */
	if (!c->run->options.chain || !chain_read(source, &c->text, chain, faults))
		return false;
	hold_head(c, source, chain, faults);
	return true;
}

static bool options_fit(struct run *run)
{
	const char *head = run->options.expect_head;
	size_t length = head ? strlen(head) : 0;
	struct err err = {0};

	if (head && !run->options.chain)
		err_set(&err, ERR_USAGE, "--expect-head goes with --chain");
	else if (head && run->options.operand_count != 1)
		err_set(&err, ERR_USAGE, "--expect-head is of one survey");
	else if (head && (length < HEAD_LEAST || length > HEAD_MOST ||
	                  strspn(head, "0123456789abcdef") != length))
		err_set(&err, ERR_USAGE,
		        "--expect-head wants %d to %d digits of a head, 0 to 9 and a to f",
		        HEAD_LEAST, HEAD_MOST);
	if (err.kind != ERR_NONE)
		run_error(run, &err);
	return err.kind == ERR_NONE;
}

/* -- one file, all of it ----------------------------------------------------------------------- */

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

static void check_quiz(struct checking *c, const struct source *source, struct faults *faults)
{
	struct quiz_load load = {0};

	if (quiz_read(&load.file, source, faults))
		quiz_load_names(c->run, &load, source, &c->text, faults);
	quiz_load_finish(&load);
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
	}
	if (faults->left_out)
		fprintf(stderr, "tundish faults: and %zu more\n", faults->left_out);
	c->faults += faults->fatal;
	/* those that were not listed too */
	c->notices += faults->count + faults->left_out - faults->fatal;
	if (faults->fatal)
		run_raise(run, STATUS_BAD_FILE);
}

static void check_file(struct checking *c, const char *path)
{
	struct faults faults;
	struct source source;
	struct chain chain;
	bool chained = false;
	struct err err = {0};

	arena_reset(&c->text);
	if (!file_read(path, &c->text, &source, NULL, &err)) {
		run_error(c->run, &err);
		return;
	}
	c->files++;
	faults_init(&faults, &c->text);
	switch (language_of(&source)) {
	case LANGUAGE_RULEBOOK:
		check_rulebook(c, &source, &faults);
		break;
	case LANGUAGE_QUIZ:
		check_quiz(c, &source, &faults);
		break;
	case LANGUAGE_SURVEY:
	case LANGUAGE_UNKNOWN:
		if (survey_read(&c->survey, &c->run->book, &source, &faults) || c->run->options.chain)
			chained = check_chain(c, &source, &chain, &faults);
		break;
	}
	print_faults(c, &faults);
	if (chained)
		say_chain(c, path, &chain);
}

void command_faults(struct run *run)
{
	struct checking c = {.run = run};

	if (!options_fit(run) || !run_load_book(run))
		return;
	for (size_t i = 0; i < run->options.operand_count && !run_is_over(run); i++)
		check_file(&c, run->options.operand[i]);
	if (c.chained)
		page_prose(&(struct page){&run->out, &run->scratch}, NULL, 0,
		           what_a_chain_cannot_show);
	fprintf(stderr, "tundish faults: files %zu, faults %zu, notices %zu\n", c.files, c.faults,
	        c.notices);
	survey_finish(&c.survey);
	arena_finish(&c.text);
}
