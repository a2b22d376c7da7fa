/* Any bytes as a text laid over the small book: no crash, every place within a text, and a book
 * that is whole. */
#include "fuzz.h"

#include "tundish/store/rulebook_read.h"

static void promise_condition(const struct rulebook *book, const struct condition *condition)
{
	const struct question *question;

	for (; condition; condition = condition->next) {
		promise_condition(book, condition->child);
		if (condition->form != CONDITION_TEST)
			continue;
		PROMISE(condition->question < book->question_count);
		question = &book->question[condition->question];
		PROMISE(question->cell_count >= 1 && question->cell_count <= CELLS_MOST);
		if (question->cell_count < CELLS_MOST)
			PROMISE(condition->holds >> question->cell_count == 0);
	}
}

static void promise_row(const struct rulebook *book, const struct row *row)
{
	PROMISE(row->id && row->id[0] && row->says && row->source_text && row->text);
	PROMISE((size_t)row->span.at + row->span.length <= row->text->length);
	if (row->when)
		promise_condition(book, row->when);
}

static void promise_kind(const struct rulebook *book, const struct kind *kind)
{
	bool otherwise[FLUIDS_MOST] = {false};

	PROMISE(kind->id && kind->name && kind->inlet_count >= 1 && kind->fluid_count >= 1);
	for (size_t i = 0; i < kind->row_count; i++) {
		const struct row *row = &kind->row[i];

		promise_row(book, row);
		PROMISE(row->replaces < (int)kind->row_count &&
		        row->fluid < (int)kind->fluid_count);
		if (row->fluid == ROW_NONE)
			continue;
		PROMISE(row->category >= CATEGORY_LEAST && row->category <= CATEGORY_MOST);
		PROMISE(row->by && row->by < 1 << MECHANISM_COUNT &&
		        row->inlets < 1 << kind->inlet_count);
		otherwise[row->fluid] |= row->otherwise;
	}
	for (size_t i = 0; i < kind->fluid_count; i++)
		PROMISE(otherwise[i]);
	for (size_t i = 0; i < kind->question_count; i++)
		PROMISE(book->question[kind->question[i]].scope == SCOPE_POINT);
}

static void promise_book(const struct rulebook *book)
{
	for (size_t i = 0; i < book->kind_count; i++)
		promise_kind(book, &book->kind[i]);
	for (size_t i = 0; i < book->type_count; i++) {
		const struct type *type = &book->type[i];

		for (size_t r = 0; r < type->row_count; r++)
			promise_row(book, &type->row[r]);
		for (size_t s = 0; s < type->series_count; s++) {
			promise_row(book, &type->series[s].row);
			PROMISE(type->series[s].with < book->type_count);
			PROMISE(type->series[s].counts_as < book->type_count);
		}
	}
	for (size_t i = 0; i < book->urgency_count; i++)
		promise_row(book, &book->urgency[i].row);
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
		PROMISE(faults.fatal == 0);
		promise_book(&book);
	} else {
		PROMISE(faults.fatal > 0);
	}
	promise_faults(&faults);
	rulebook_finish(&book);
	return 0;
}
