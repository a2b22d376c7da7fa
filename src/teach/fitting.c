#include "make.h"

#include <string.h>

static void add(struct making *making, struct fitting *fitting, size_t *room,
                question_index question, const char *text)
{
	struct fitted *grown = arena_grow(making->arena, fitting->answer, fitting->answer_count,
	                                  room, sizeof *grown);

	if (!grown)
		return;
	fitting->answer = grown;
	if (text)
		grown[fitting->answer_count++] = (struct fitted){question, text};
}

static void add_number(struct making *making, struct fitting *fitting, size_t *room,
                       question_index question, double value)
{
	if (question != QUESTION_NONE)
		add(making, fitting, room, question,
		    arena_print(making->arena, "%ld", (long)value));
}

/** A gap that is kept: as much as makes sense on the left, as little on the right. */
static void add_measured(struct making *making, struct fitting *fitting, size_t *room,
                         const struct measure *measure)
{
	const struct rulebook *book = making->book;
	question_index left = measure->left.question;

	if (left != QUESTION_NONE)
		add_number(making, fitting, room, left, book->question[left].most);
	for (size_t i = 0; i < measure->right_count; i++) {
		question_index right = measure->right[i].question;

		if (right != QUESTION_NONE)
			add_number(making, fitting, room, right, book->question[right].least + 1);
	}
}

static bool add_variable(struct making *making, struct fitting *fitting, size_t *room,
                         struct bench *bench, size_t variable)
{
	question_index index = bench->subject->variable[variable];
	const struct question *question = &making->book->question[index];
	struct stretch stretch;
	unsigned cell;

	if (question->scope != SCOPE_PROTECTION && question->scope != SCOPE_TEST)
		return true; /* of the house: as it is */
	if (!bench_best_cell(bench, variable, SCOPE_COUNT, &cell) ||
	    !cell_stretch(making->book, question, cell, &stretch))
		return false;
	bench->may[variable] = (cells)1 << cell;
	if (question->form == FORM_MEASURED) {
		if (cell == CELL_YES)
			add_measured(making, fitting, room, question->measure);
		return true;
	}
	add(making, fitting, room, index,
	    drawn_text(making->arena, question, cell,
	               question->form == FORM_DATE ? stretch.high : stretch.low));
	return true;
}

static bool is_accepted(struct bench *bench)
{
	struct bench_sight sight;
	bool good = false;

	if (!bench_look(bench, &sight))
		return false;
	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		good = good || bench->type->good_for[m] > CATEGORY_LEAST;
		if (sight.figure[WORTH_ACCEPTED + m] > CATEGORY_LEAST)
			return true;
	}
	return !good;
}

const struct fitting *fitting_of(struct making *making, const struct type *type)
{
	struct fitting *fitting = &making->fitting[type - making->book->type];
	struct bench bench;
	size_t room = 0;
	bool made = true;

	if (fitting->tried)
		return fitting->made ? fitting : NULL;
	fitting->tried = true;
	if (!bench_begin(&bench, making, type))
		return NULL;
	for (size_t v = 0; v < bench.subject->variable_count && made; v++)
		made = add_variable(making, fitting, &room, &bench, v);
	fitting->accepted = made && is_accepted(&bench);
	bench_end(&bench);
	fitting->made = made && !making->arena->failed;
	return fitting->made ? fitting : NULL;
}

bool fitting_put(const struct fitting *fitting, struct survey *survey, struct item *protection,
                 struct item *test)
{
	for (size_t i = 0; i < fitting->answer_count; i++) {
		const struct fitted *fitted = &fitting->answer[i];
		bool of_test = survey->book->question[fitted->question].scope == SCOPE_TEST;

		if (!value_put(survey, of_test ? test : protection, fitted->question, fitted->text))
			return false;
	}
	return true;
}
