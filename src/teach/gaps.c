/* The least air gap for a bore, out of the measured tests of a type. */
#include "make.h"

#include "tundish/base/number.h"
#include "tundish/base/random.h"

#include <string.h>

enum {
	GAPS_A_MEASURE = 2, /* at most */
	TERMS_MOST = 4,
};

/* Sizes that pipes and taps come in, by their bore, mm. Some are small enough for the fixed least figure to count. */
static const long bores[] = {6, 8, 10, 13, 15, 20, 22, 25, 32, 40, 50};
enum { BORES = sizeof bores / sizeof *bores };

static bool draw_bore(struct random *random, const struct question *question, long *out)
{
	long fit[BORES];
	size_t count = 0;

	if (question->form != FORM_NUMBER || !question->unit || strcmp(question->unit, "mm") != 0)
		return false;
	for (size_t i = 0; i < BORES; i++)
		if ((double)bores[i] >= question->least && (double)bores[i] <= question->most)
			fit[count++] = bores[i];
	if (count == 0)
		return false;
	*out = fit[random_below(random, count)];
	return true;
}

/** What a term comes to; a number is drawn where it has a question. */
struct size {
	const struct question *question; /* NULL: a bare figure */
	long value;
};

static bool draw_sizes(const struct making *making, const struct measure *measure,
                       struct random *random, struct size *size, double *right)
{
	*right = 0;
	if (measure->right_count > TERMS_MOST || measure->left.question == QUESTION_NONE)
		return false;
	for (size_t i = 0; i < measure->right_count; i++) {
		const struct term *term = &measure->right[i];
		double value = term->factor;

		size[i].question = NULL;
		if (term->question != QUESTION_NONE) {
			size[i].question = &making->book->question[term->question];
			if (!draw_bore(random, size[i].question, &size[i].value))
				return false;
			value *= (double)size[i].value;
		}
		*right = value > *right ? value : *right;
	}
	*right /= measure->left.factor;
	return true;
}

/** As it is written: what is typed is compared with it. */
static double as_written(double value)
{
	char text[32];
	double read = value;

	number_format(value, text);
	number_parse(text, strlen(text), &read);
	return read;
}

static void say_sizes(struct making *making, struct task *task, const struct size *size,
                      size_t count)
{
	const char **shown = arena_take(making->arena, (count + 1) * sizeof *shown);

	if (!shown)
		return;
	task->shown = shown;
	for (size_t i = 0; i < count; i++) {
		if (!size[i].question)
			continue;
		shown[task->shown_count] = arena_print(making->arena, "%s: %ld mm",
		                                       size[i].question->label, size[i].value);
		if (!shown[task->shown_count++] || !task->id)
			return;
		task->id = arena_print(making->arena, "%s/%ld", task->id, size[i].value);
	}
}

static bool tests(const struct condition *condition, const struct question *of,
                  const struct rulebook *book)
{
	for (; condition; condition = condition->next) {
		if (condition->form == CONDITION_TEST && condition->question != QUESTION_NONE &&
		    &book->question[condition->question] == of)
			return true;
		if (tests(condition->child, of, book))
			return true;
	}
	return false;
}

static void make_gap(struct making *making, const struct type *type, const struct question *kept,
                     struct random *random)
{
	struct task task = making_begin(making, FAMILY_GAP, NULL);
	const struct measure *measure = kept->measure;
	const struct question *left;
	struct size size[TERMS_MOST];

	if (!draw_sizes(making, measure, random, size, &task.right))
		return;
	left = &making->book->question[measure->left.question];
	task.right = as_written(task.right);
	task.id = arena_print(making->arena, "gap/%s/%s", type->id, kept->id);
	task.asks = arena_print(making->arena, "%s. How much must this be at least: %s?",
	                        type->name, left->label);
	task.topic = type->id;
	task.unit = left->unit;
	task.least = left->least;
	task.most = left->most;
	say_sizes(making, &task, size, measure->right_count);
	for (size_t r = 0; r < type->row_count; r++)
		if (tests(type->row[r].when, kept, making->book))
			making_reason(making, &type->row[r]);
	making_reason_table(making, type);
	if (task.id && task.shown_count > 0 && task.right >= task.least &&
	    task.right <= task.most && !making_has(making, task.id))
		making_keep(making, &task);
}

void make_gaps(struct making *making, const struct type *type)
{
	for (size_t q = 0; q < type->question_count; q++) {
		const struct question *question = &making->book->question[type->question[q]];
		const char *use;
		struct random random;

		if (question->form != FORM_MEASURED || !question->measure)
			continue;
		use = arena_print(making->arena, "gap/%s/%s", type->id, question->id);
		if (!use)
			return;
		random_seed_for(&random, making->seed, use);
		for (size_t i = 0; i < GAPS_A_MEASURE; i++)
			make_gap(making, type, question, &random);
	}
}
