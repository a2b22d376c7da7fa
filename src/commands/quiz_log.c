#include "quiz_log.h"

#include "keep.h"

#include <pwd.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const char *quiz_learner(struct run *run)
{
	const struct passwd *user;
	const char *name = run->options.learner;

	if (name)
		return name;
	user = getpwuid(getuid());
	name = user ? user->pw_name : getenv("LOGNAME");
	if (!name || learner_fault(name))
		name = "learner";
	return arena_copy(&run->arena, name, strlen(name));
}

const char *quiz_log_path(struct run *run, const char *learner, bool must)
{
	const char *states = keep_states(&run->arena);
	const char *path = states && learner ? reviews_path(states, learner, &run->arena) : NULL;

	if (!path && must)
		run_error(run, &(struct err){ERR_IO, "there is no folder for answers: neither "
		                                     "XDG_STATE_HOME nor HOME names one"});
	return path;
}

static void say_passed_over(struct run *run, const char *path, const struct reviews *reviews)
{
	if (reviews->passed_over)
		fprintf(stderr,
		        "tundish %s: %s: lines that are no answers are passed over: %zu, the first "
		        "is line %zu%s\n",
		        run->command->name, path, reviews->passed_over, reviews->first_line,
		        reviews->newer ? "; a newer tundish wrote some" : "");
	if (reviews->torn)
		fprintf(stderr,
		        "tundish %s: %s: the last line was cut short (%zu bytes) and is passed "
		        "over\n",
		        run->command->name, path, reviews->torn);
}

bool quiz_log_read(struct run *run, const char *path, struct arena *arena, struct reviews *out)
{
	struct err err = {0};

	if (!reviews_read(path, arena, out, &err)) {
		run_error(run, &err);
		return false;
	}
	say_passed_over(run, path, out);
	return true;
}

static day day_of(const char *at)
{
	struct days days = {0, 0};

	date_parse(at, 10, &days);
	return days.first;
}

struct boxes *quiz_log_boxes(struct run *run, const struct reviews *reviews)
{
	struct boxes *boxes = boxes_create(&run->book);

	if (!boxes)
		run_error(run, &(struct err){ERR_MEMORY, "no memory for what was learned"});
	for (size_t i = 0; boxes && i < reviews->count; i++) {
		const struct review *review = &reviews->item[i];

		for (size_t r = 0; r < review->row_count; r++)
			boxes_take(boxes, review->row[r], day_of(review->at), review->grade);
	}
	return boxes;
}

day quiz_today(struct run *run)
{
	const char *now = amend_time(&run->scratch);
	day today = run->options.on_given || !now ? run->options.on : day_of(now);

	arena_reset(&run->scratch);
	return today;
}
