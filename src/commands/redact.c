#include "command.h"

#include "tundish/assess/redact.h"
#include "tundish/store/survey_values.h"
#include "tundish/store/survey_write.h"

#include <stdio.h>
#include <string.h>

static const char heading[] =
        "# A copy for training, made by tundish: refs, kinds, types, answers and conditions; dates "
        "as years. All else was left out.\n";

struct redacting {
	struct run *run;
	struct survey survey, copy;
	struct source source, result;
	struct arena arena;
	struct redacted redacted;
};

/* `name 4, note 12`: by id, since a name of a room and one of a point are the same to the reader. */
static void say_questions(const struct redacting *r)
{
	const struct rulebook *book = &r->run->book;
	const char *separator = ": ";

	for (size_t i = 0; i < book->question_count; i++) {
		size_t count = r->redacted.asked[i];
		bool said = false;
		for (size_t j = 0; j < book->question_count; j++) {
			if (strcmp(book->question[i].id, book->question[j].id) != 0)
				continue;
			said |= j < i && r->redacted.asked[j] > 0;
			count += j > i ? r->redacted.asked[j] : 0;
		}
		if (r->redacted.asked[i] == 0 || said)
			continue;
		fprintf(stderr, "%s%s %zu", separator, book->question[i].id, count);
		separator = ", ";
	}
}

static bool say(struct redacting *r, struct err *err)
{
	struct survey_values before, after;

	if (!survey_values(&r->source, &before, err) || !survey_values(&r->result, &after, err))
		return false;
	size_t gone = before.values > after.values ? before.values - after.values : 0;
	size_t other = gone > r->redacted.left_out ? gone - r->redacted.left_out : 0;
	fprintf(stderr, "tundish redact: answers kept %zu, dates cut to their year %zu\n",
	        r->redacted.kept, r->redacted.dates);
	fprintf(stderr, "tundish redact: left out: answers %zu", r->redacted.left_out);
	say_questions(r);
	fprintf(stderr, "; other values %zu, comments %zu\n", other, before.comments);
	fprintf(stderr, "tundish redact: refs are kept as they are: see that none is a name\n");
	return true;
}

static bool redact(struct redacting *r, struct err *err)
{
	const struct source empty = {r->source.name, heading, sizeof(heading) - 1};
	char *text = NULL;

	if (!survey_redact(&r->survey, &r->copy, &r->arena, &r->redacted)) {
		err_set(err, ERR_MEMORY, "no memory for the copy");
		return false;
	}
	r->result.name = r->source.name;
	if (!survey_write(&r->copy, &empty, &r->arena, &text, &r->result.length, err))
		return false;
	r->result.text = text;
	return true;
}

void command_redact(struct run *run)
{
	struct redacting r = {.run = run};
	struct err err = {0};

	if (!run_load_book(run))
		return;
	if (run_load_survey(run, run->options.operand[0], &r.arena, &r.source, NULL, &r.survey)) {
		if (redact(&r, &err) && say(&r, &err))
			sink_bytes(&run->out, r.result.text, r.result.length);
		else
			run_error(run, &err);
	}
	survey_finish(&r.survey);
	survey_finish(&r.copy);
	arena_finish(&r.arena);
}
