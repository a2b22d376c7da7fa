#include "command.h"

#include "tundish/invent/invent.h"
#include "tundish/store/survey_write.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { DIGEST_SHORT = 8 }; /* as reports show it */

struct inventing {
	struct run *run;
	struct invention wish;
	struct invented said;
	struct survey survey;
	struct arena arena;
};

/* The options that make the same house again, in the order of the manual. */
static const char *options_again(const struct inventing *i)
{
	const struct options *options = &i->run->options;
	struct arena *arena = &i->run->scratch;
	char on[11];
	const char *text =
	        arena_print(arena, "--seed %" PRIu64 " --level %u", i->wish.seed, i->wish.level);

	if (text && options->premises)
		text = arena_print(arena, "%s --premises %s", text, options->premises);
	if (text && options->rooms)
		text = arena_print(arena, "%s --rooms %u", text, options->rooms);
	if (text && options->points)
		text = arena_print(arena, "%s --points %u", text, options->points);
	for (size_t w = 0; text && w < options->with_count; w++)
		text = arena_print(arena, "%s%s%s", text, w == 0 ? " --with " : ",",
		                   options->with[w]);
	date_format(i->run->options.on, on);
	return text ? arena_print(arena, "%s --on %s", text, on) : NULL;
}

static const char *heading(const struct inventing *i)
{
	const char *again = options_again(i);

	return again ? arena_print(&i->run->scratch,
	                           "# An invented house (%s): nobody lives there, and nothing in "
	                           "it was seen.\n"
	                           "# tundish invent %s\n# rulebook %.*s\n",
	                           i->said.site, again, DIGEST_SHORT, i->run->book.digest)
	             : NULL;
}

static void say_left_out(const struct inventing *i)
{
	for (size_t w = 0; w < i->said.left_out_count; w++)
		fprintf(stderr, "%s%s",
		        w == 0 ? "tundish invent: left out, as it does not go with the rest: "
		               : ", ",
		        i->said.left_out[w]);
	if (i->said.left_out_count > 0)
		fputc('\n', stderr);
}

static bool write_out(struct inventing *i, struct err *err)
{
	struct source empty = {"an invented house", heading(i), 0};
	size_t length = 0;
	char *text = NULL;

	if (!empty.text) {
		err_set(err, ERR_MEMORY, "no memory for an invented house");
		return false;
	}
	empty.length = strlen(empty.text);
	if (!survey_write(&i->survey, &empty, &i->arena, &text, &length, err))
		return false;
	sink_bytes(&i->run->out, text, length);
	say_left_out(i);
	return true;
}

void command_invent(struct run *run)
{
	const struct options *options = &run->options;
	struct inventing i = {.run = run};
	struct err err = {0};

	if (!options->seed_given) {
		run_error(run, &(struct err){ERR_USAGE,
		                             "--seed is missing: --seed 1 is as good as any"});
		return;
	}
	if (!run_load_book(run))
		return;
	i.wish = (struct invention){.seed = options->seed,
	                            .level = options->level ? options->level : LEVEL_LEAST,
	                            .rooms = options->rooms,
	                            .points = options->points,
	                            .site = options->premises,
	                            .with = options->with,
	                            .with_count = options->with_count};
	if (!invent_survey(&run->book, &i.wish, &i.survey, &i.said, &err) || !write_out(&i, &err))
		run_error(run, &err);
	survey_finish(&i.survey);
	arena_finish(&i.arena);
}
