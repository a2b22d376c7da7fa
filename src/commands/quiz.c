#include "command.h"
#include "keep.h"
#include "quiz_log.h"
#include "quiz_set.h"
#include "quiz_sit.h"

#include "tundish/print/paper.h"
#include "tundish/print/progress.h"
#include "tundish/print/reviews.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum {
	DUE_MOST = 6, /* rows that one drill is about */
	SITTINGS_SHOWN = 10,
};

/* -- which of them ----------------------------------------------------------------------------- */

static bool usage(struct run *run, const char *what)
{
	struct err err = {0};

	err_set(&err, ERR_USAGE, "%s", what);
	run_error(run, &err);
	return false;
}

/* Of formats that one of the others has. */
static bool format_fits(struct run *run, unsigned formats, const char *what)
{
	if (!run->options.format_given || formats & 1u << run->options.format)
		return true;
	return usage(run, what);
}

/* -- a quiz ------------------------------------------------------------------------------------ */

/* What is due and what was missed. Where the log can't be read the drill is about anything; that was said. */
static size_t due_rows(struct run *run, const char *log, const char **out)
{
	struct arena arena = {0};
	struct reviews reviews;
	struct boxes *boxes = NULL;
	size_t due = 0;

	if (log && quiz_log_read(run, log, &arena, &reviews))
		boxes = quiz_log_boxes(run, &reviews);
	if (boxes)
		due = boxes_due(boxes, quiz_today(run), out, DUE_MOST);
	if (due > 0)
		fprintf(stderr, "tundish quiz: rows that are due: %zu%s\n", due,
		        due > DUE_MOST ? "; this quiz is about the first of them" : "");
	boxes_destroy(boxes);
	arena_finish(&arena);
	return due < DUE_MOST ? due : DUE_MOST;
}

static void sit(struct run *run, const char *file)
{
	struct quiz_set set = {0};
	const char *due[DUE_MOST], *learner, *log;
	size_t due_count = 0;
	enum manner manner;

	if (file && strcmp(file, "-") == 0) {
		usage(run, "a quiz takes its answers from standard input: name a file");
		return;
	}
	if (!format_fits(run, 0, "--format is of paper, of export and of --progress"))
		return;
	manner = manner_of(run, "print it with `tundish quiz paper`");
	if (manner == MANNER_NONE)
		return;
	learner = quiz_learner(run);
	log = quiz_log_path(run, learner, true);
	if (learner && quiz_set_read(&set, run, file)) {
		if (!file && !run->options.seed_given && !run->options.with_given)
			due_count = due_rows(run, log, due);
		if (quiz_set_make(&set, due, due_count))
			quiz_sit(run, &set, manner, learner, log);
	}
	quiz_set_finish(&set);
}

/* -- paper ------------------------------------------------------------------------------------- */

/* Who did not fix the seed has to name it for the other sheet. */
static void say_other_sheet(struct run *run, const char *again)
{
	if (!run->options.answers)
		fprintf(stderr, "tundish quiz: its answers: %s --answers\n",
		        page_safe(&run->scratch, again));
}

static void paper(struct run *run, const char *file)
{
	struct page page = {&run->out, &run->scratch};
	struct quiz_set set = {0};
	const char *again;

	if (!format_fits(run, FORMATS(TEXT) | FORMATS(HTML), "--format of paper is text or html"))
		return;
	if (quiz_set_read(&set, run, file) && quiz_set_make(&set, NULL, 0)) {
		again = quiz_set_again(&set, "quiz paper");
		struct paper sheet = {&set.quiz,          quiz_set_title(&set), set.plan.seed,
		                      again ? again : "", set.pass_percent,     set.minutes};

		paper_print(&page, &sheet,
		            run->options.format == FORMAT_HTML ? PAPER_HTML : PAPER_TEXT,
		            run->options.answers ? PAPER_ANSWERS : PAPER_TASKS);
		say_other_sheet(run, sheet.again);
	}
	quiz_set_finish(&set);
}

/* -- export ------------------------------------------------------------------------------------ */

/* @return false when there is no memory. */
static bool export_scores(struct run *run, const struct reviews *reviews, struct arena *arena)
{
	struct sitting *sitting = NULL;
	size_t count = 0;

	if (!sittings_of(reviews->item, reviews->count, arena, &sitting, &count))
		return false;
	for (size_t i = 0; i < count && !run_is_over(run); i++) {
		if (run->options.format == FORMAT_NDJSON)
			scores_json(&run->out, &sitting[i]);
		else
			scores_csv(&run->out, &sitting[i]);
	}
	return true;
}

static void export_each(struct run *run, const struct reviews *reviews)
{
	for (size_t i = 0; i < reviews->count && !run_is_over(run); i++) {
		if (run->options.format == FORMAT_NDJSON)
			reviews_json(&run->out, &reviews->item[i]);
		else
			reviews_csv(&run->out, &reviews->item[i]);
	}
}

static void export_log(struct run *run, const char *path)
{
	struct arena arena = {0};
	struct reviews reviews;
	struct err err = {0};

	/* An empty log is fine, one that is not there was misspelt. */
	if (access(path, F_OK) != 0) {
		err_set(&err, ERR_IO, "%s: %s", path, strerror(errno));
		run_error(run, &err);
		return;
	}
	if (quiz_log_read(run, path, &arena, &reviews)) {
		if (!run->options.scores)
			export_each(run, &reviews);
		else if (!export_scores(run, &reviews, &arena))
			run_error(run, &(struct err){ERR_MEMORY, "no memory for the scores"});
	}
	arena_finish(&arena);
}

static void export_all(struct run *run)
{
	const char *states = keep_states(&run->arena), **path = NULL;
	struct err err = {0};
	size_t count = 0;

	if (states && !reviews_all(states, &run->arena, &path, &count, &err))
		run_error(run, &err);
	for (size_t i = 0; i < count && !run_is_over(run); i++)
		export_log(run, path[i]);
}

static void export_answers(struct run *run)
{
	const struct options *options = &run->options;

	if (!format_fits(run, FORMATS(CSV) | FORMATS(NDJSON),
	                 "--format of export is csv or ndjson"))
		return;
	if (options->learner && options->operand_count > 1) {
		usage(run, "--learner and the logs named are two ways to say whose answers");
		return;
	}
	if (options->format != FORMAT_NDJSON && options->scores)
		scores_csv_header(&run->out);
	else if (options->format != FORMAT_NDJSON)
		reviews_csv_header(&run->out);
	if (options->learner) {
		const char *log = quiz_log_path(run, options->learner, true);

		if (log)
			export_log(run, log);
		return;
	}
	for (size_t i = 1; i < options->operand_count && !run_is_over(run); i++)
		export_log(run, options->operand[i]);
	if (options->operand_count == 1)
		export_all(run);
}

/* -- progress ---------------------------------------------------------------------------------- */

static void print_progress(struct run *run, const struct reviews *reviews,
                           const struct progress *progress, size_t count, struct arena *arena)
{
	struct page page = {&run->out, &run->scratch};
	struct sitting *sitting = NULL;
	size_t sittings = 0;

	switch (run->options.format) {
	case FORMAT_CSV:
		progress_csv(&run->out, progress, count);
		return;
	case FORMAT_NDJSON:
		progress_json(&run->out, progress, count);
		return;
	case FORMAT_TABLE:
	case FORMAT_TEXT:
	case FORMAT_HTML:
	case FORMAT_COUNT:
		break;
	}
	if (sittings_of(reviews->item, reviews->count, arena, &sitting, &sittings))
		sittings_table(&page, sitting, sittings, SITTINGS_SHOWN);
	progress_table(&page, progress, count);
}

static void show_progress(struct run *run)
{
	const char *learner = quiz_learner(run), *log = quiz_log_path(run, learner, true);
	struct arena arena = {0};
	struct reviews reviews;
	struct boxes *boxes = NULL;
	struct progress *progress = NULL;
	size_t count = 0;

	if (!format_fits(run, FORMATS(TABLE) | FORMATS(CSV) | FORMATS(NDJSON),
	                 "--format of --progress is table, csv or ndjson"))
		return;
	if (log && run_load_book(run) && quiz_log_read(run, log, &arena, &reviews))
		boxes = quiz_log_boxes(run, &reviews);
	if (boxes && boxes_progress(boxes, quiz_today(run), &arena, &progress, &count))
		print_progress(run, &reviews, progress, count, &arena);
	else if (boxes)
		run_error(run, &(struct err){ERR_MEMORY, "no memory for the progress"});
	boxes_destroy(boxes);
	arena_finish(&arena);
}

/* ---------------------------------------------------------------------------------------------- */

/* A file of these names is named as ./export. */
void command_quiz(struct run *run)
{
	const struct options *options = &run->options;
	const char *first = options->operand_count ? options->operand[0] : NULL;
	bool is_export = first && strcmp(first, "export") == 0;
	bool is_paper = first && strcmp(first, "paper") == 0;

	if (options->answers && !is_paper)
		usage(run, "--answers is of `quiz paper`");
	else if (options->scores && (!is_export || options->progress))
		usage(run, "--scores is of `quiz export`");
	else if (options->progress && first)
		usage(run, "--progress is of all quizzes: it takes no file");
	else if (options->progress)
		show_progress(run);
	else if (is_export)
		export_answers(run);
	else if (options->operand_count > (is_paper ? 2u : 1u))
		usage(run, "a quiz is about one file; what may stand before it is paper or export");
	else if (is_paper)
		paper(run, options->operand_count > 1 ? options->operand[1] : NULL);
	else
		sit(run, first);
}
