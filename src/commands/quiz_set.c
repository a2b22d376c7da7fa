#include "quiz_set.h"

#include "language.h"

#include "tundish/store/quiz_read.h"
#include "tundish/store/reviews.h"
#include "tundish/store/survey_read.h"

#include <stdio.h>
#include <string.h>

_Static_assert((int)QUIZ_ROOMS_MOST == (int)INVENT_ROOMS_MOST &&
                       (int)QUIZ_POINTS_MOST == (int)INVENT_POINTS_MOST,
               "a quiz file can ask for any house that can be invented");

static bool no_memory(struct quiz_set *set)
{
	run_error(set->run, &(struct err){ERR_MEMORY, "no memory for the quiz"});
	return false;
}

/* -- the file ---------------------------------------------------------------------------------- */

static bool read_trainer(struct quiz_set *set, struct faults *faults)
{
	struct options *options = &set->run->options;

	set->of_trainer = true;
	if (!quiz_read(&set->load.file, &set->text, faults))
		return false;
	if (set->load.file.has_on && !options->on_given) {
		options->on = set->load.file.on;
		options->on_given = true;
	}
	return run_load_book(set->run) &&
	       quiz_load_names(set->run, &set->load, &set->text, &set->arena, faults);
}

static bool read_file(struct quiz_set *set)
{
	struct run *run = set->run;
	struct faults faults;
	struct err err = {0};
	enum language language;
	bool ok;

	if (!file_read(set->file, &set->arena, &set->text, NULL, &err)) {
		run_error(run, &err);
		return false;
	}
	language = language_of(&set->text);
	if (language == LANGUAGE_RULEBOOK) {
		err_set(&err, ERR_TEXT, "%s is a rulebook, neither a survey nor a quiz file",
		        set->file);
		run_error(run, &err);
		return false;
	}
	faults_init(&faults, &set->arena);
	if (language == LANGUAGE_QUIZ)
		ok = read_trainer(set, &faults);
	else
		ok = run_load_book(run) &&
		     survey_read(&set->survey, &run->book, &set->text, &faults);
	if (!ok)
		run_faults(run, &faults);
	return ok;
}

bool quiz_set_read(struct quiz_set *set, struct run *run, const char *file)
{
	*set = (struct quiz_set){.run = run, .file = file};
	return file ? read_file(set) : run_load_book(run);
}

/* -- the house --------------------------------------------------------------------------------- */

static unsigned first_said(unsigned option, unsigned in_file, unsigned otherwise)
{
	return option ? option : in_file ? in_file : otherwise;
}

/* What was asked for by hand and can't be had; of what is due nobody has asked. */
static void say_left_out(const struct quiz_set *set, const struct invented *said)
{
	if (!set->run->options.with_given && !set->of_trainer)
		return;
	for (size_t i = 0; i < said->left_out_count; i++)
		fprintf(stderr, "%s%s",
		        i ? ", "
		          : "tundish quiz: not in the house, as it does not go with the rest: ",
		        said->left_out[i]);
	if (said->left_out_count)
		fprintf(stderr, "\n");
}

static bool invent(struct quiz_set *set)
{
	const struct options *options = &set->run->options;
	struct invention wish = quiz_load_wish(&set->load.file);
	struct invented said = {0};
	struct err err = {0};

	wish.seed = set->plan.seed;
	wish.with = set->plan.with;
	wish.with_count = set->plan.with_count;
	wish.level = first_said(options->level, wish.level, LEVEL_LEAST);
	wish.rooms = first_said(options->rooms, wish.rooms, set->of_trainer ? 0 : DRILL_ROOMS);
	wish.points = first_said(options->points, wish.points, set->of_trainer ? 0 : DRILL_POINTS);
	if (options->premises)
		wish.site = options->premises;
	set->level = wish.level;
	if (!invent_survey(&set->run->book, &wish, &set->survey, &said, &err)) {
		run_error(set->run, &err);
		return false;
	}
	say_left_out(set, &said);
	return true;
}

/* A trainer's own questions alone need no house, where they are about no point of one. */
static bool needs_no_house(const struct quiz_set *set)
{
	const struct quiz_plan *plan = &set->plan;

	for (size_t i = 0; i < plan->own_count; i++)
		if (plan->own_point[i])
			return false;
	return plan->families == 1u << FAMILY_OWN;
}

static bool find_house(struct quiz_set *set)
{
	set->house = set->load.has_survey ? &set->load.survey : &set->survey;
	if (set->load.has_survey) {
		set->survey_name = set->load.file.survey;
		return true;
	}
	if (set->file && !set->of_trainer) {
		set->survey_name = set->file;
		return true;
	}
	if (needs_no_house(set))
		return survey_init(&set->survey, &set->run->book) || no_memory(set);
	return invent(set);
}

/* -- the plan ---------------------------------------------------------------------------------- */

static bool join_with(struct quiz_set *set)
{
	set->with = "";
	for (size_t i = 0; i < set->plan.with_count && set->with; i++)
		set->with = arena_print(&set->arena, "%s%s%s", set->with, i ? "," : "",
		                        set->plan.with[i]);
	return set->with || no_memory(set);
}

static bool plan(struct quiz_set *set, const char *const *due, size_t due_count)
{
	const struct options *options = &set->run->options;
	const struct quiz_file *file = &set->load.file;
	struct quiz_plan *p = &set->plan;

	*p = file->plan;
	if (!file->has_seed)
		p->seed = reviews_draw(SEED_DRAWN_MOST);
	if (options->seed_given)
		p->seed = options->seed;
	if (!p->families)
		p->families = FAMILIES_ALL;
	if (options->families)
		p->families = options->families;
	if (options->with_given) {
		p->with = options->with;
		p->with_count = options->with_count;
	} else if (!p->with_count) {
		p->with = due;
		p->with_count = due_count;
	}
	if (!set->file)
		p->count = DRILL_TASKS;
	if (options->tasks)
		p->count = options->tasks;
	set->exam = options->mode_given ? options->exam : file->exam;
	set->pass_percent = file->pass_percent;
	set->minutes = first_said(options->minutes, file->minutes, 0);
	return join_with(set);
}

/* What makes a house is of no use where there is one. */
static bool options_fit(struct quiz_set *set)
{
	const struct options *options = &set->run->options;
	bool has_house = set->load.has_survey || (set->file && !set->of_trainer);
	const char *which = options->level      ? "--level"
	                    : options->rooms    ? "--rooms"
	                    : options->points   ? "--points"
	                    : options->premises ? "--premises"
	                                        : NULL;
	struct err err = {0};

	if (!has_house || !which)
		return true;
	err_set(&err, ERR_USAGE, "%s is of an invented house: here there is a survey", which);
	run_error(set->run, &err);
	return false;
}

bool quiz_set_make(struct quiz_set *set, const char *const *due, size_t due_count)
{
	struct err err = {0};

	if (!options_fit(set) || !plan(set, due, due_count) || !find_house(set))
		return false;
	if (quiz_make(set->house, &set->plan, &set->arena, &set->quiz, &err))
		return true;
	run_error(set->run, &err);
	return false;
}

/* -- in words ---------------------------------------------------------------------------------- */

const char *quiz_set_title(const struct quiz_set *set)
{
	if (set->of_trainer && set->load.file.title)
		return set->load.file.title;
	if (set->of_trainer)
		return set->load.file.ref;
	return set->file ? set->file : "An invented house";
}

/* As a shell takes it for one word. */
static const char *shell_word(struct arena *arena, const char *word)
{
	static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
	                            "_-./,:+@%";
	const char *quoted = "'";

	if (word[0] && word[strspn(word, plain)] == '\0')
		return word;
	while (quoted && *word) {
		size_t length = strcspn(word, "'");

		quoted = arena_print(arena, "%s%.*s%s", quoted, (int)length, word,
		                     word[length] ? "'\\''" : "");
		word += length;
		word += *word == '\'';
	}
	return quoted ? arena_print(arena, "%s'", quoted) : NULL;
}

/* ` --name value` at the end of @p text. */
static const char *and_option(struct arena *arena, const char *text, const char *name,
                              const char *value)
{
	const char *word = text && value ? shell_word(arena, value) : NULL;

	return word ? arena_print(arena, "%s --%s %s", text, name, word) : NULL;
}

static const char *and_number(struct arena *arena, const char *text, const char *name,
                              unsigned long long value)
{
	return text && value ? arena_print(arena, "%s --%s %llu", text, name, value) : text;
}

static const char *and_families(struct arena *arena, const char *text, unsigned families)
{
	const char *names = NULL;

	if (!families)
		return text;
	for (enum family f = 0; f < FAMILY_COUNT; f++)
		if (families & 1u << f)
			names = arena_print(arena, "%s%s%s", names ? names : "", names ? "," : "",
			                    family_name(f));
	return and_option(arena, text, "ask", names);
}

const char *quiz_set_again(struct quiz_set *set, const char *of)
{
	const struct options *options = &set->run->options;
	struct arena *arena = &set->arena;
	char on[11];
	const char *text = arena_print(arena, "tundish %s --seed %llu", of,
	                               (unsigned long long)set->plan.seed);

	date_format(set->run->book.on, on);
	/* Else it is in the file, or there is none, which is what a seed alone means. */
	if (set->plan.with != set->load.file.plan.with && set->plan.with_count)
		text = and_option(arena, text, "with", set->with);
	text = and_number(arena, text, "level", options->level);
	text = and_number(arena, text, "rooms", options->rooms);
	text = and_number(arena, text, "points", options->points);
	if (options->premises)
		text = and_option(arena, text, "premises", options->premises);
	text = and_number(arena, text, "count", options->tasks);
	text = and_families(arena, text, options->families);
	if (options->mode_given)
		text = and_option(arena, text, "mode", options->exam ? "exam" : "practice");
	text = and_number(arena, text, "minutes", options->minutes);
	text = and_option(arena, text, "on", on);
	for (size_t i = 0; i < options->rulebook_count; i++)
		text = and_option(arena, text, "rulebook", options->rulebook[i]);
	if (text && set->file)
		text = arena_print(arena, "%s %s", text, shell_word(arena, set->file));
	return text;
}

void quiz_set_finish(struct quiz_set *set)
{
	quiz_load_finish(&set->load);
	survey_finish(&set->survey);
	arena_finish(&set->arena);
}
