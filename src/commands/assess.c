#include "command.h"

#include "tundish/house/verdict.h"
#include "tundish/print/csv.h"
#include "tundish/print/ndjson.h"
#include "tundish/print/table.h"

#include <stdio.h>

struct assessing {
	struct run *run;
	struct judge *judge;
	struct survey survey; /* its memory goes from file to file */
	struct arena text;
	struct page page;
	struct tally tally;
};

static void print_point(struct assessing *a, const struct assessed *assessed)
{
	switch (a->run->options.format) {
	case FORMAT_TABLE:
		table_point(&a->page, assessed);
		arena_reset(&a->run->scratch);
		break;
	case FORMAT_CSV:
		csv_point(&a->run->out, assessed);
		break;
	case FORMAT_NDJSON:
		ndjson_point(&a->run->out, assessed);
		break;
	case FORMAT_TEXT:
	case FORMAT_HTML:
	case FORMAT_COUNT:
		break;
	}
}

/* More doubt or more ways than can be gone through is no trouble of the file's: it is said, and the
 * point is undecided. */
static bool judge_one(struct assessing *a, const char *path, const struct item *point,
                      struct assessment *out)
{
	struct err err = {0};

	if (judge_point(a->judge, point, out, &err))
		return true;
	if (err.kind == ERR_MEMORY) {
		run_error(a->run, &err);
		return false;
	}
	fprintf(stderr, "%s: %s\n", path, err.message);
	return true;
}

static bool assess_point(struct assessing *a, const char *path, const struct item *point)
{
	struct assessment assessment;
	struct assessed assessed = {path, &a->survey, &assessment};

	if (!judge_one(a, path, point, &assessment))
		return false;
	a->tally.points++;
	a->tally.verdict[assessment.verdict]++;
	if (assessment.verdict == VERDICT_SHORT)
		run_raise(a->run, STATUS_SHORT);
	print_point(a, &assessed);
	return !run_is_over(a->run);
}

static bool assess_room(struct assessing *a, const char *path, const struct item *room)
{
	if (a->run->options.format == FORMAT_TABLE)
		table_room(&a->page, &a->survey, room);
	for (size_t i = 0; i < room->child_count; i++) {
		if (room->child[i]->scope == SCOPE_POINT && !assess_point(a, path, room->child[i]))
			return false;
	}
	return true;
}

/* @return whether to go on with the next file. */
static bool assess_file(struct assessing *a, const char *path)
{
	const struct item *premises;
	struct source source;
	struct err err = {0}, told = {0};

	arena_reset(&a->text);
	if (!run_load_survey(a->run, path, &a->text, &source, NULL, &a->survey))
		return true;
	if (!judge_survey(a->judge, &a->survey, &err)) {
		err_set(&told, err.kind, "%s: %s", path, err.message);
		run_error(a->run, &told);
		return err.kind != ERR_MEMORY;
	}
	premises = a->survey.premises;
	if (a->run->options.format == FORMAT_TABLE) {
		if (a->tally.files)
			sink_text(&a->run->out, "\n\n");
		table_file(&a->page, path, &a->survey);
	}
	a->tally.files++;
	for (size_t i = 0; i < premises->child_count; i++) {
		if (premises->child[i]->scope == SCOPE_ROOM &&
		    !assess_room(a, path, premises->child[i]))
			return false;
	}
	return true;
}

static void assess_files(struct assessing *a)
{
	const struct options *options = &a->run->options;

	if (options->format == FORMAT_CSV)
		csv_header(&a->run->out);
	for (size_t i = 0; i < options->operand_count; i++) {
		if (!assess_file(a, options->operand[i]))
			break;
	}
	if (options->format == FORMAT_TABLE && a->tally.files)
		table_end(&a->page, &a->run->book, &a->tally);
}

void command_assess(struct run *run)
{
	struct assessing a = {
	        .run = run, .page = {&run->out, &run->scratch}
        };

	if (!run_load_book(run))
		return;
	a.judge = judge_create(&run->book);
	if (a.judge)
		assess_files(&a);
	else
		run_error(run, &(struct err){ERR_MEMORY, "no memory for the assessment"});
	judge_destroy(a.judge);
	survey_finish(&a.survey);
	arena_finish(&a.text);
}
