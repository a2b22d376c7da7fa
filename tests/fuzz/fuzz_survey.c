/* Any bytes as a survey: no crash, every place within the text, and a tree that hangs together. */
#include "fuzz.h"

#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include <string.h>

static const struct rulebook *book(void)
{
	static struct rulebook small;
	static struct arena arena;
	struct faults faults;
	const struct source *text = small_book();

	if (small.question_count > 0)
		return &small;
	faults_init(&faults, &arena);
	PROMISE(rulebook_read(&small, &text, 1, date_day(2026, 11, 25), &faults));
	return &small;
}

static void promise_item(const struct survey *survey, const struct item *item)
{
	size_t length = survey->source->length;

	PROMISE((size_t)item->span.at + item->span.length <= length);
	if (item->scope != SCOPE_PREMISES && item->scope != SCOPE_INLET)
		PROMISE(survey_find(survey, item->ref, strlen(item->ref)) == item);
	for (size_t i = 0; i < item->answer_count; i++) {
		const struct answer *answer = &item->answer[i];

		PROMISE(answer->may != 0);
		PROMISE(answer->text && answer->text[0] != '\0');
		PROMISE((size_t)answer->span.at + answer->span.length <= length);
		PROMISE(i == 0 || item->answer[i - 1].span.at < answer->span.at);
		PROMISE(item_answer(item, answer->question) == answer);
		PROMISE(survey->book->question[answer->question].scope == item->scope);
	}
	for (size_t i = 0; i < item->child_count; i++) {
		PROMISE(item->child[i]->parent == item);
		promise_item(survey, item->child[i]);
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct survey survey;
	static struct arena arena;
	struct source source = {"input.yaml", (const char *)data, size};
	struct faults faults;

	arena_reset(&arena);
	faults_init(&faults, &arena);
	if (survey_read(&survey, book(), &source, &faults)) {
		PROMISE(faults.fatal == 0);
		promise_item(&survey, survey.premises);
	} else {
		PROMISE(faults.fatal > 0);
	}
	promise_faults(&faults);
	return 0;
}
