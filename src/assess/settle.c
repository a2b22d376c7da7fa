/* From raw rows to a book that can be used: thresholds cut numbers and dates into cells, tests
 * become sets of cells. */
#include "tundish/assess/rulebook.h"

#include "words.h"

#include <stdlib.h>
#include <string.h>

struct settling {
	struct rulebook *book;
	struct faults *faults;
	size_t *cut_room;          /* one a question */
	const struct source *text; /* of the row at hand */
	bool no_memory;
};

typedef void visit_fn(struct settling *settling, struct condition *test);

static void visit_tests(struct settling *settling, struct condition *condition, visit_fn *visit)
{
	if (!condition)
		return;
	if (condition->form == CONDITION_TEST)
		visit(settling, condition);
	for (struct condition *child = condition->child; child; child = child->next)
		visit_tests(settling, child, visit);
}

static void visit_row(struct settling *settling, struct row *row, visit_fn *visit)
{
	settling->text = row->text;
	visit_tests(settling, row->when, visit);
}

static void visit_book(struct settling *settling, visit_fn *visit)
{
	struct rulebook *book = settling->book;

	for (size_t k = 0; k < book->kind_count; k++)
		for (size_t r = 0; r < book->kind[k].row_count; r++)
			visit_row(settling, &book->kind[k].row[r], visit);
	for (size_t t = 0; t < book->type_count; t++) {
		for (size_t r = 0; r < book->type[t].row_count; r++)
			visit_row(settling, &book->type[t].row[r], visit);
		for (size_t s = 0; s < book->type[t].series_count; s++)
			visit_row(settling, &book->type[t].series[s].row, visit);
	}
	for (size_t u = 0; u < book->urgency_count; u++)
		visit_row(settling, &book->urgency[u].row, visit);
}

static void note_cut(struct settling *settling, struct condition *test)
{
	struct question *question = &settling->book->question[test->question];
	size_t *room = &settling->cut_room[test->question];
	double *cut;

	if (test->threshold == THRESHOLD_NONE)
		return;
	for (size_t i = 0; i < question->cut_count; i++)
		if (question->cut[i] >= test->bound && question->cut[i] <= test->bound)
			return;
	cut = arena_grow(&settling->book->arena, question->cut, question->cut_count, room,
	                 sizeof *cut);
	if (!cut) {
		settling->no_memory = true;
		return;
	}
	question->cut = cut;
	cut[question->cut_count++] = test->bound;
}

static int by_value(const void *a, const void *b)
{
	double x, y;

	memcpy(&x, a, sizeof x);
	memcpy(&y, b, sizeof y);
	return (x > y) - (x < y);
}

static void count_cells(struct settling *settling, struct question *question)
{
	size_t count = 1;

	switch (question->form) {
	case FORM_CHOICE:
		count = question->option_count;
		break;
	case FORM_YES_NO:
	case FORM_MEASURED:
		count = 2;
		break;
	case FORM_NUMBER:
	case FORM_DATE:
		if (question->cut_count > 1)
			qsort(question->cut, question->cut_count, sizeof *question->cut, by_value);
		count = question->cut_count + 1;
		break;
	case FORM_TEXT:
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
	case FORM_COUNT:
		break;
	}
	if (count < 1 || count > CELLS_MOST) {
		fault_add(settling->faults, SEVERITY_FAULT, question->text, question->span,
		          "question '%s' has %zu values to tell apart: 1 to %d can be",
		          question->id, count, CELLS_MOST);
		count = 1;
	}
	question->cell_count = (unsigned)count;
}

static void settle_test(struct settling *settling, struct condition *test)
{
	const struct question *question = &settling->book->question[test->question];
	cells everything, below;
	unsigned cell = 0;

	if (test->threshold == THRESHOLD_NONE)
		return;
	while (cell < question->cut_count && question->cut[cell] < test->bound)
		cell++;
	/* The bound is cut number `cell`: what is below it is cells 0 .. cell. */
	below = cell + 1 >= CELLS_MOST ? ~(cells)0 : ((cells)1 << (cell + 1)) - 1;
	everything = question->cell_count >= CELLS_MOST ? ~(cells)0
	                                                : ((cells)1 << question->cell_count) - 1;
	test->holds = test->threshold == THRESHOLD_BELOW ? below : everything & ~below;
}

static bool measures(const struct question *measured, question_index number)
{
	if (measured->measure->left.question == number)
		return true;
	for (size_t i = 0; i < measured->measure->right_count; i++)
		if (measured->measure->right[i].question == number)
			return true;
	return false;
}

static bool measure_shares(const struct question *a, const struct question *b)
{
	if (a->measure->left.question != QUESTION_NONE && measures(b, a->measure->left.question))
		return true;
	for (size_t i = 0; i < a->measure->right_count; i++)
		if (a->measure->right[i].question != QUESTION_NONE &&
		    measures(b, a->measure->right[i].question))
			return true;
	return false;
}

static bool tests_number_of(const struct condition *condition, const struct question *measured)
{
	if (!condition)
		return false;
	if (condition->form == CONDITION_TEST && measures(measured, condition->question))
		return true;
	for (const struct condition *child = condition->child; child; child = child->next)
		if (tests_number_of(child, measured))
			return true;
	return false;
}

static void say_measured(struct settling *settling, const struct question *measured,
                         const char *what, const char *id)
{
	fault_add(settling->faults, SEVERITY_FAULT, measured->text, measured->span,
	          "measured test '%s' uses a number that %s '%s' tests too: only one of the two "
	          "may",
	          measured->id, what, id);
}

/**
 * A measured test enters a diagram as a yes/no of its own, which is exact only where no other test
 * of the same rows looks at its numbers: so that is refused. Rows of other kinds and types may:
 * they are asked of another item.
 */
static void check_measured(struct settling *settling, const question_index *asked,
                           size_t asked_count, const struct row *row, size_t row_count)
{
	const struct rulebook *book = settling->book;

	for (size_t i = 0; i < asked_count; i++) {
		const struct question *measured = &book->question[asked[i]];

		if (measured->form != FORM_MEASURED)
			continue;
		for (size_t r = 0; r < row_count; r++)
			if (tests_number_of(row[r].when, measured))
				say_measured(settling, measured, "row", row[r].id);
		for (size_t j = i + 1; j < asked_count; j++) {
			const struct question *other = &book->question[asked[j]];

			if (other->form == FORM_MEASURED && measure_shares(measured, other))
				say_measured(settling, measured, "measured test", other->id);
		}
	}
}

/** The same for the rows of a type's series, which are asked with it. */
static void check_measured_type(struct settling *settling, const struct type *type)
{
	check_measured(settling, type->question, type->question_count, type->row, type->row_count);
	for (size_t s = 0; s < type->series_count; s++)
		for (size_t i = 0; i < type->question_count; i++) {
			const struct question *measured =
			        &settling->book->question[type->question[i]];

			if (measured->form == FORM_MEASURED &&
			    tests_number_of(type->series[s].row.when, measured))
				say_measured(settling, measured, "row", type->series[s].row.id);
		}
}

static bool fill_words(struct rulebook *book)
{
	size_t most = book->kind_count + book->type_count;

	for (int s = 0; s < SCOPE_COUNT; s++)
		most += book->scope_question_count[s];
	for (size_t k = 0; k < book->kind_count; k++)
		most += book->kind[k].question_count + book->kind[k].was_count;
	for (size_t t = 0; t < book->type_count; t++)
		most += book->type[t].question_count + book->type[t].was_count;
	if (!words_init(book, most))
		return false;
	for (size_t k = 0; k < book->kind_count; k++) {
		words_add(book, WORD_KIND, INDEX_NONE, "", book->kind[k].id, (uint16_t)k);
		for (size_t i = 0; i < book->kind[k].was_count; i++)
			words_add(book, WORD_KIND, INDEX_NONE, "", book->kind[k].was[i],
			          (uint16_t)k);
		for (size_t i = 0; i < book->kind[k].question_count; i++) {
			question_index q = book->kind[k].question[i];

			words_add(book, book->question[q].scope, (uint16_t)k, book->question[q].at,
			          book->question[q].id, q);
		}
	}
	for (size_t t = 0; t < book->type_count; t++) {
		words_add(book, WORD_TYPE, INDEX_NONE, "", book->type[t].id, (uint16_t)t);
		for (size_t i = 0; i < book->type[t].was_count; i++)
			words_add(book, WORD_TYPE, INDEX_NONE, "", book->type[t].was[i],
			          (uint16_t)t);
		for (size_t i = 0; i < book->type[t].question_count; i++) {
			question_index q = book->type[t].question[i];

			words_add(book, book->question[q].scope, (uint16_t)t, book->question[q].at,
			          book->question[q].id, q);
		}
	}
	for (unsigned s = 0; s < SCOPE_COUNT; s++) {
		for (size_t i = 0; i < book->scope_question_count[s]; i++) {
			question_index q = book->scope_question[s][i];

			words_add(book, s, INDEX_NONE, book->question[q].at, book->question[q].id,
			          q);
		}
	}
	return true;
}

bool rulebook_settle(struct rulebook *book, struct faults *faults)
{
	struct settling settling = {.book = book, .faults = faults};

	settling.cut_room = arena_take(&book->arena, book->question_count * sizeof(size_t) + 1);
	if (!settling.cut_room || !fill_words(book))
		settling.no_memory = true;
	else
		visit_book(&settling, note_cut);
	if (settling.no_memory) {
		fault_add(faults, SEVERITY_FAULT, NULL, (struct span){0, 0},
		          "not enough memory for the rulebook");
		return false;
	}
	for (size_t q = 0; q < book->question_count; q++)
		count_cells(&settling, &book->question[q]);
	visit_book(&settling, settle_test);
	for (size_t k = 0; k < book->kind_count; k++)
		check_measured(&settling, book->kind[k].question, book->kind[k].question_count,
		               book->kind[k].row, book->kind[k].row_count);
	for (size_t t = 0; t < book->type_count; t++)
		check_measured_type(&settling, &book->type[t]);
	return faults->fatal == 0;
}
