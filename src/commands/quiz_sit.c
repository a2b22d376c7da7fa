#include "quiz_sit.h"

#include "tundish/base/number.h"
#include "tundish/base/text.h"
#include "tundish/print/progress.h"
#include "tundish/store/reviews.h"
#include "tundish/teach/boxes.h"
#include "tundish/walk/quiz.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum { TICK_MS = 1000 };

struct sitter {
	struct run *run;
	struct quiz_set *set;
	struct walk *walk;
	struct attempt attempt;
	const char *learner, *log; /* log NULL: nowhere to keep answers */
	char id[ATTEMPT_ROOM];
	const char *on, *survey; /* as the log has them */
	struct review *waiting;  /* answers that are not in the log yet */
	size_t waiting_count, waiting_room;
	bool said_trouble;
	struct timespec begun, shown; /* shown: the task in sight */
	size_t shown_task;
	unsigned minutes_left; /* as last told to the walk */
};

/* -- time -------------------------------------------------------------------------------------- */

static struct timespec now(void)
{
	struct timespec t = {0, 0};

	clock_gettime(CLOCK_MONOTONIC, &t);
	return t;
}

static uint64_t ms_since(struct timespec then)
{
	struct timespec t = now();
	int64_t ms =
	        (int64_t)(t.tv_sec - then.tv_sec) * 1000 + (t.tv_nsec - then.tv_nsec) / 1000000;

	return ms < 0 ? 0 : (uint64_t)ms;
}

static void shown(void *context, struct walk *walk, size_t task)
{
	struct sitter *s = context;

	(void)walk;
	s->shown = now();
	s->shown_task = task;
}

static void tick(void *context, struct walk *walk)
{
	struct sitter *s = context;
	uint64_t limit = (uint64_t)s->set->minutes * 60000, spent = ms_since(s->begun);
	unsigned left = spent >= limit ? 0 : (unsigned)((limit - spent + 59999) / 60000);

	if (left != s->minutes_left)
		walk_quiz_time(walk, left);
	s->minutes_left = left;
}

/* -- answers ----------------------------------------------------------------------------------- */

/* Of what was in the quiz: ids of rows and types, each once. */
static bool fill_rows(struct sitter *s, const struct task *task, struct review *out)
{
	out->row = arena_take(&s->set->arena, task->reason_count * sizeof(*out->row));
	for (size_t i = 0; out->row && i < task->reason_count; i++) {
		const char *id = task->reason[i].id;
		size_t same = 0;

		while (id && same < out->row_count && strcmp(out->row[same], id) != 0)
			same++;
		if (id && same == out->row_count)
			out->row[out->row_count++] = id;
	}
	return out->row != NULL;
}

static const char *right_answer(struct sitter *s, const struct task *task)
{
	const struct task_choice *right = task_right(task);
	char value[32];

	if (right)
		return right->id;
	number_format(task->right, value);
	return arena_copy(&s->set->arena, value, strlen(value));
}

/* All that a line of the log says. @return false when there is no memory. */
static bool fill(struct sitter *s, size_t index, struct review *out)
{
	const struct quiz_set *set = s->set;
	const struct task *task = &set->quiz.task[index];
	const struct given *given = &s->attempt.given[index];

	*out = (struct review){
	        .at = amend_time(&s->set->arena),
	        .learner = s->learner,
	        .attempt = s->id,
	        .quiz = set->of_trainer ? set->load.file.ref : NULL,
	        .survey = s->survey,
	        .seed = set->plan.seed,
	        .level = set->level,
	        .with = set->with,
	        .rulebook = s->run->book.digest,
	        .on = s->on,
	        .exam = set->exam,
	        .pass_percent = set->pass_percent,
	        .tasks = set->quiz.task_count,
	        .item = task->id,
	        .family = family_name(task->family),
	        .topic = task->topic,
	        .given = given->answer,
	        .correct = right_answer(s, task),
	        .grade = given->grade,
	        .ms = given->ms,
	        .scheduler = BOXES_NAME,
	};
	return fill_rows(s, task, out) && out->at && out->correct && out->given;
}

/* What waits goes first; all of it or nothing. */
static bool keep(struct sitter *s, struct err *err)
{
	if (s->waiting_count == 0)
		return true;
	if (!s->log || !reviews_add(s->log, s->waiting, s->waiting_count, err)) {
		err_set(err, ERR_IO, "there is no folder for answers");
		return false;
	}
	s->waiting_count = 0;
	return true;
}

static void answered(void *context, struct walk *walk, size_t task, enum grade grade)
{
	struct sitter *s = context;
	struct given *given = &s->attempt.given[task];
	struct review *grown = arena_grow(&s->set->arena, s->waiting, s->waiting_count,
	                                  &s->waiting_room, sizeof(*grown));
	uint64_t ms = s->shown_task == task ? ms_since(s->shown) : 0;
	struct err err = {0};

	(void)grade;
	given->ms = ms > UINT32_MAX ? UINT32_MAX : (uint32_t)ms;
	if (grown)
		s->waiting = grown;
	if (!grown || !fill(s, task, &grown[s->waiting_count]))
		err_set(&err, ERR_MEMORY, "no memory to keep the answer");
	else
		s->waiting_count++;
	if (err.kind == ERR_NONE && keep(s, &err)) {
		s->said_trouble = false;
		return;
	}
	/* Once: it is tried again with every answer, and told again at the end. */
	if (!s->said_trouble)
		walk_say(walk, true,
		         arena_print(&s->set->arena, "Not kept: %s. It goes on.", err.message));
	s->said_trouble = true;
}

/* Nothing of the survey can be changed in a quiz. */
static void committed(void *context, struct walk *walk, const struct changes *changes)
{
	(void)context;
	(void)walk;
	(void)changes;
}

static void save(void *context, struct walk *walk)
{
	(void)context;
	walk_saved(walk, false, "A quiz changes nothing: there is nothing to save.");
}

/* -- the end ----------------------------------------------------------------------------------- */

/* An exam that was not handed in has no result: else one could look, and begin again. */
static void say_score(struct sitter *s)
{
	struct score score = attempt_score(&s->attempt);
	struct review first = {.tasks = score.tasks, .pass_percent = s->set->pass_percent};
	struct sitting sitting = {
	        .first = &first, .answered = score.answered, .halves = score.halves};
	const char *words, *again = quiz_set_again(s->set, "quiz");

	memcpy(sitting.grade, score.grade, sizeof(sitting.grade));
	words = sitting_words(&sitting, &s->set->arena);
	if (s->set->exam && !s->attempt.over)
		sink_print(&s->run->out, "Not handed in: %zu of %zu answered.\n", score.answered,
		           score.tasks);
	else if (score.answered > 0)
		sink_print(&s->run->out, "Score: %s.\n", words ? words : "");
	sink_print(&s->run->out, "The same again: %s\n", page_safe(&s->run->scratch, again));
	if (s->set->exam && s->set->pass_percent && !(s->attempt.over && score.passed))
		run_raise(s->run, STATUS_SHORT);
}

static void keep_at_last(struct sitter *s)
{
	struct err err = {0}, why = {0};

	if (keep(s, &err))
		return;
	err_set(&why, ERR_IO, "answers that could not be kept: %zu (%s)", s->waiting_count,
	        err.message);
	run_error(s->run, &why);
}

static void ended(struct sitter *s, struct walk_end end, const struct err *err)
{
	keep_at_last(s);
	switch (end.form) {
	case WALK_END_LEFT:
	case WALK_END_INPUT:
		say_score(s);
		break;
	case WALK_END_SIGNAL:
		signal(end.signal, SIG_DFL);
		raise(end.signal);
		break;
	case WALK_END_LOST:
		run_error(s->run, &(struct err){ERR_IO, "the terminal is gone"});
		break;
	case WALK_END_FAILED:
		run_error(s->run, err);
		break;
	}
}

/* -- the beginning ----------------------------------------------------------------------------- */

/* A file may be called anything; a log is UTF-8. */
static const char *as_utf8(struct arena *arena, const char *name)
{
	size_t length = strlen(name), bad_at;
	char *copy = arena_copy(arena, name, length);

	while (copy && !text_is_utf8(copy, length, &bad_at))
		copy[bad_at] = '?';
	return copy;
}

static bool begin(struct sitter *s, enum manner manner)
{
	const struct quiz_set *set = s->set;
	char on[11];
	bool fine;

	date_format(s->run->book.on, on);
	s->on = arena_copy(&s->set->arena, on, strlen(on));
	s->survey = set->survey_name ? as_utf8(&s->set->arena, set->survey_name) : NULL;
	reviews_attempt(s->id);
	fine = s->on && (!set->survey_name || s->survey) &&
	       attempt_begin(&s->attempt, &set->quiz, &s->set->arena);
	s->attempt.exam = set->exam;
	s->attempt.pass_percent = set->pass_percent;
	s->walk = fine ? walk_create(set->house,
	                             &(struct walk_options){
	                                     .name = quiz_set_title(set),
	                                     .ascii = wants_ascii(&s->run->options),
	                                     .lines = manner == MANNER_PLAIN,
	                                     .read_only = true,
	                                     .attempt = &s->attempt,
	                             })
	               : NULL;
	if (!s->walk)
		run_error(s->run, &(struct err){ERR_MEMORY, "no memory for the quiz"});
	return s->walk != NULL;
}

static void run_it(struct sitter *s, enum manner manner)
{
	struct walk_host host = {.context = s,
	                         .committed = committed,
	                         .save = save,
	                         .shown = shown,
	                         .answered = answered};
	struct err err = {0};
	struct walk_end end;

	s->begun = s->shown = now();
	if (s->set->minutes) {
		host.tick = tick;
		host.tick_ms = TICK_MS;
		s->minutes_left = s->set->minutes + 1;
		tick(s, s->walk);
	}
	end = manner_run(manner, &s->run->options, s->walk, &host, &err);
	ended(s, end, &err);
}

void quiz_sit(struct run *run, struct quiz_set *set, enum manner manner, const char *learner,
              const char *log)
{
	struct sitter s = {.run = run, .set = set, .learner = learner, .log = log};

	if (begin(&s, manner))
		run_it(&s, manner);
	walk_destroy(s.walk);
}
