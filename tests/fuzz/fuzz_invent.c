/* Any bytes as a text laid over the small book, and houses invented by it: whole, whatever the weights are. */
#include "fuzz.h"

#include "tundish/assess/weights.h"
#include "tundish/invent/invent.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"
#include "tundish/store/survey_write.h"

#include <string.h>

static void promise_answers(const struct rulebook *book, const struct often *often)
{
	for (size_t a = 0; a < often->answer_count; a++) {
		const struct answer_weights *answer = &often->answer[a];

		PROMISE(answer->question < book->question_count);
		for (size_t i = 0; i < answer->option_count; i++)
			PROMISE(answer->option[i].index <
			                book->question[answer->question].cell_count &&
			        answer->option[i].weight <= WEIGHT_MOST);
		for (size_t i = 0; i < answer->stretch_count; i++)
			PROMISE(answer->stretch[i].low <= answer->stretch[i].high);
	}
}

static void promise_pipes(const struct rulebook *book, const struct often *often)
{
	for (size_t f = 0; f < often->fittings_count; f++)
		for (size_t i = 0; i < often->fittings[f].count; i++)
			for (size_t t = 0; t < often->fittings[f].item[i].type_count; t++)
				PROMISE(often->fittings[f].item[i].type[t] < book->type_count);
	for (size_t i = 0; i < often->fed_by_count; i++)
		PROMISE(often->fed_by[i].index == FED_BY_MAIN ||
		        book->kind[often->fed_by[i].index].stores);
	for (size_t i = 0; i < often->from_count; i++)
		PROMISE(often->from[i] == FED_BY_MAIN || book->kind[often->from[i]].stores);
	for (size_t i = 0; i < often->on_count; i++)
		PROMISE(often->on[i] < book->kind_count);
}

static void promise_weights(const struct rulebook *book)
{
	const struct weights *weights = book->weights;

	PROMISE(weights);
	for (size_t r = 0; r < weights->room_count; r++)
		for (size_t h = 0; h < weights->room[r].hold_count; h++)
			PROMISE(weights->room[r].holds[h].index < book->kind_count);
	for (size_t o = 0; o < weights->often_count; o++) {
		promise_answers(book, &weights->often[o]);
		promise_pipes(book, &weights->often[o]);
	}
}

/* What was written is read without a word, and says the same. */
static void promise_house(const struct rulebook *book, const struct survey *house,
                          struct arena *arena)
{
	const struct source empty = {"house.yaml", "", 0};
	struct source source = {"house.yaml", NULL, 0};
	struct changes changes = {0};
	struct survey again = {0};
	struct faults faults;
	struct err err = {0};
	char *text;

	faults_init(&faults, arena);
	PROMISE(survey_write(house, &empty, arena, &text, &source.length, &err));
	source.text = text;
	PROMISE(survey_read(&again, book, &source, &faults));
	if (faults.count)
		fprintf(stderr, "%s\n%s", fault_text(&faults.item[0], arena), text);
	PROMISE(faults.count == 0);
	PROMISE(survey_compare(house, &again, arena, &changes) && changes.count == 0);
	survey_finish(&again);
}

static void invent_houses(const struct rulebook *book, uint64_t seed, struct arena *arena)
{
	for (unsigned level = LEVEL_LEAST; level <= LEVEL_MOST; level++) {
		const char *with = book->kind_count ? book->kind[seed % book->kind_count].id : NULL;
		struct invention wish = {.seed = seed,
		                         .level = level,
		                         .rooms = 3,
		                         .points = 6,
		                         .with = &with,
		                         .with_count = with && level % 2};
		struct invented said;
		struct survey house;
		struct err err = {0};

		if (invent_survey(book, &wish, &house, &said, &err))
			promise_house(book, &house, arena);
		else
			PROMISE(err.kind == ERR_USAGE && err.message[0]);
		survey_finish(&house);
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct arena arena;
	struct source source = {"input.yaml", (const char *)data, size};
	const struct source *texts[] = {small_book(), &source};
	struct rulebook book;
	struct faults faults;

	arena_reset(&arena);
	faults_init(&faults, &arena);
	if (rulebook_read(&book, texts, 2, date_day(2026, 11, 25), &faults)) {
		promise_weights(&book);
		invent_houses(&book, size, &arena);
	}
	promise_faults(&faults);
	rulebook_finish(&book);
	return 0;
}
