#include "command.h"

#include "tundish/house/between.h"
#include "tundish/print/between.h"
#include "tundish/print/story.h"
#include "tundish/store/amendments.h"

/* -- two states of a survey -------------------------------------------------------------------- */

static void show(struct run *run, const struct between_shown *shown)
{
	struct page page = {&run->out, &run->scratch};

	switch (run->options.format) {
	case FORMAT_TABLE:
		between_table(&page, shown);
		break;
	case FORMAT_CSV:
		between_csv(&run->out, shown);
		break;
	case FORMAT_NDJSON:
		between_ndjson(&run->out, shown);
		break;
	case FORMAT_TEXT:
	case FORMAT_HTML:
	case FORMAT_COUNT:
		break;
	}
}

/* Worse, or new and short: what somebody has to look at. */
static bool needs_a_look(const struct between *between)
{
	if (between->turn[TURN_WORSE] > 0)
		return true;
	for (size_t i = 0; i < between->point_count; i++) {
		if (between->point[i].turn == TURN_NEW &&
		    between->point[i].now.verdict == VERDICT_SHORT)
			return true;
	}
	return false;
}

static void compare(struct run *run, const struct survey *before, const struct survey *after,
                    struct arena *arena)
{
	struct between between;
	struct between_shown shown = {run->options.between, run->options.operand[0], &between};
	struct err err = {0};

	if (!between_compare(before, after, arena, &between, &err)) {
		run_error(run, &err);
		return;
	}
	show(run, &shown);
	if (needs_a_look(&between))
		run_raise(run, STATUS_SHORT);
}

static void between(struct run *run)
{
	struct survey before = {0}, after = {0};
	struct source source[2];
	struct arena arena = {0};

	/* Both are read, so that the faults of both are seen. */
	bool ok = run_load_survey(run, run->options.between, &arena, &source[0], NULL, &before);
	ok &= run_load_survey(run, run->options.operand[0], &arena, &source[1], NULL, &after);
	if (ok)
		compare(run, &before, &after, &arena);
	survey_finish(&before);
	survey_finish(&after);
	arena_finish(&arena);
}

/* -- the story of one -------------------------------------------------------------------------- */

static void tell(struct run *run, const struct story *story)
{
	struct page page = {&run->out, &run->scratch};

	switch (run->options.format) {
	case FORMAT_TABLE:
		story_table(&page, story);
		break;
	case FORMAT_CSV:
		story_csv(&run->out, story);
		break;
	case FORMAT_NDJSON:
		story_ndjson(&run->out, story);
		break;
	case FORMAT_TEXT:
	case FORMAT_HTML:
	case FORMAT_COUNT:
		break;
	}
}

/* What does not hold is told with its place on standard error, and makes the file a bad one. */
static void story(struct run *run)
{
	const char *path = run->options.operand[0];
	struct survey survey = {0};
	struct source source;
	struct arena arena = {0};
	struct chain chain;
	struct faults faults;

	faults_init(&faults, &arena);
	if (run_load_survey(run, path, &arena, &source, NULL, &survey)) {
		bool told = chain_read(&source, &arena, &chain, &faults);
		run_faults(run, &faults);
		if (told)
			tell(run, &(struct story){path, chain.amendment, chain.count, chain.broken,
			                          chain.outside});
	}
	survey_finish(&survey);
	arena_finish(&arena);
}

void command_history(struct run *run)
{
	if (!run_load_book(run))
		return;
	if (run->options.between)
		between(run);
	else
		story(run);
}
