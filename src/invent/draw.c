/* One answer: an option, a number or a day, by its weights and by what it may be. */
#include "making.h"

#include "tundish/base/number.h"

#include <string.h>

enum {
	DRAWS_MOST = 30, /* until one is what it may be */
	DAYS_NEAR = 900, /* of a date: so near to a threshold */
	YEARS_BACK = 60,
};

static bool is_allowed(const struct question *question, cells may, double value)
{
	return may >> question_cell(question, value) & 1;
}

/* -- choices --------------------------------------------------------------------------------- */

/* Everything is seen, until the fog comes. */
static int seen_cell(const struct making *making, question_index question)
{
	if (!seen_question(making->book, question))
		return -1;
	return question_option(&making->book->question[question], "yes", 3);
}

static unsigned draw_cell(struct making *making, const struct answer_weights *weights,
                          question_index question, cells may)
{
	unsigned weight[CELLS_MOST] = {0}, count = making->book->question[question].cell_count;
	int seen = seen_cell(making, question);
	size_t drawn;

	if (seen >= 0 && (may >> seen & 1))
		return (unsigned)seen;
	for (size_t i = 0; weights && i < weights->option_count; i++)
		if (may >> weights->option[i].index & 1)
			weight[weights->option[i].index] = weights->option[i].weight;
	drawn = random_weighted(&making->truth, weight, count);
	if (drawn < count)
		return (unsigned)drawn;
	for (unsigned cell = 0; cell < count; cell++)
		weight[cell] = may >> cell & 1;
	drawn = random_weighted(&making->truth, weight, count);
	return drawn < count ? (unsigned)drawn : 0;
}

/* -- numbers --------------------------------------------------------------------------------- */

/* Ranges of the rulebook are far within what a whole number holds. */
static double rounded_down(double value)
{
	double whole = (double)(int64_t)value;

	return whole > value ? whole - 1 : whole;
}

static double rounded_up(double value)
{
	return -rounded_down(-value);
}

/* Whole numbers where there is one between the two, else tenths. Both ends are drawn too. */
static double between(struct making *making, double low, double high)
{
	double step = rounded_up(low) <= rounded_down(high) ? 1 : 10,
	       first = rounded_up(low * step), last = rounded_down(high * step);

	if (last < first)
		return low;
	return (first + (double)random_below(&making->truth, (uint64_t)(last - first) + 1)) / step;
}

static const struct stretch *draw_stretch(struct making *making,
                                          const struct answer_weights *weights)
{
	unsigned weight[CELLS_MOST] = {0};
	size_t count = weights->stretch_count < CELLS_MOST ? weights->stretch_count : CELLS_MOST,
	       drawn;

	for (size_t i = 0; i < count; i++)
		weight[i] = weights->stretch[i].weight;
	drawn = random_weighted(&making->truth, weight, count);
	return drawn < count ? &weights->stretch[drawn] : NULL;
}

/* A cell that may be, by chance. */
static unsigned some_cell(struct making *making, const struct question *question, cells may)
{
	unsigned weight[CELLS_MOST] = {0};
	size_t drawn;

	for (unsigned cell = 0; cell < question->cell_count; cell++)
		weight[cell] = may >> cell & 1;
	drawn = random_weighted(&making->truth, weight, question->cell_count);
	return drawn < question->cell_count ? (unsigned)drawn : 0;
}

/* Near the threshold, where there is one: there the answer matters. */
static double number_in_cell(struct making *making, const struct question *question, cells may)
{
	unsigned cell = some_cell(making, question, may);
	bool below = cell > 0, above = cell < question->cut_count;
	double low = below ? question->cut[cell - 1] : question->least;
	double high = above ? question->cut[cell] : question->most;

	low = low < question->least ? question->least : low;
	high = high > question->most ? question->most : high;
	if (below && !above && high > low + low / 2 + 10)
		high = low + low / 2 + 10;
	if (above && !below && low < high - high / 2 - 10)
		low = high - high / 2 - 10;
	if (above && high > low) /* the threshold itself is of the next cell */
		high = rounded_up(high) - 1 >= low ? rounded_up(high) - 1 : low;
	return between(making, low, high);
}

static double draw_number(struct making *making, const struct answer_weights *weights,
                          const struct question *question, cells may)
{
	for (unsigned i = 0; weights && i < DRAWS_MOST; i++) {
		const struct stretch *stretch = draw_stretch(making, weights);
		double value =
		        stretch ? between(making, stretch->low, stretch->high) : question->least;

		if (stretch && is_allowed(question, may, value))
			return value;
	}
	return number_in_cell(making, question, may);
}

/* -- dates ----------------------------------------------------------------------------------- */

static day day_between(struct making *making, day first, day last)
{
	return last <= first
	               ? first
	               : first + (day)random_below(&making->truth, (uint64_t)(last - first) + 1);
}

static day day_of_age(struct making *making, const struct stretch *stretch)
{
	day on = making->book->on;

	return day_between(making, date_years_before(on, (int)stretch->high + 1) + 1,
	                   date_years_before(on, (int)stretch->low));
}

static day later(day a, day b)
{
	return a > b ? a : b;
}

static day earlier(day a, day b)
{
	return a < b ? a : b;
}

/* Not before @p since where the cell reaches so far: what it may be goes first. */
static day day_in_cell(struct making *making, const struct question *question, cells may, day since)
{
	unsigned cell = some_cell(making, question, may);
	day on = making->book->on;
	day first = cell > 0 ? (day)question->cut[cell - 1] : date_years_before(on, YEARS_BACK);
	day last = cell < question->cut_count ? (day)question->cut[cell] - 1 : on;

	if (cell == 0)
		first = question->cut_count ? later(earlier(first, last - 1), last - DAYS_NEAR * 4)
		                            : later(first, since);
	last = earlier(last, on);
	if (cell > 0 && first < since && since <= last)
		first = since;
	if (cell > 0)
		last = earlier(last, first + DAYS_NEAR);
	else if (since <= last)
		first = later(first, since);
	return day_between(making, earlier(first, on), last);
}

static day draw_day(struct making *making, const struct answer_weights *weights,
                    const struct question *question, cells may, day since)
{
	for (unsigned i = 0; weights && i < DRAWS_MOST; i++) {
		const struct stretch *stretch = draw_stretch(making, weights);
		day drawn = stretch ? day_of_age(making, stretch) : since;

		/* what would be older than what it stands on mostly came with it */
		if (drawn < since)
			drawn = random_chance(&making->truth, 3, 4)
			                ? since
			                : day_between(making, since, making->book->on);
		if (stretch && is_allowed(question, may, drawn))
			return drawn;
	}
	return day_in_cell(making, question, may, since);
}

/* -- any answer ------------------------------------------------------------------------------ */

const char *draw_answer(struct making *making, const struct item *item, question_index index,
                        cells may, day since)
{
	const struct question *question = &making->book->question[index];
	const struct answer_weights *weights = answer_weights(making, item, index);
	char number[32], date[11];

	if (!form_has_cells(question->form))
		return NULL;
	if (question->form == FORM_CHOICE)
		return question->option[draw_cell(making, weights, index, may)].id;
	if (question->form == FORM_YES_NO)
		return draw_cell(making, weights, index, may) == CELL_YES ? "yes" : "no";
	if (question->form == FORM_NUMBER) {
		number_format(draw_number(making, weights, question, may), number);
		return arena_copy(&making->scratch, number, strlen(number));
	}
	date_format(draw_day(making, weights, question, may, since), date);
	return arena_copy(&making->scratch, date, strlen(date));
}

/* -- measured tests -------------------------------------------------------------------------- */

static double term_value(const struct item *item, const struct term *term)
{
	const struct answer *answer =
	        term->question == QUESTION_NONE ? NULL : item_answer(item, term->question);

	return answer ? term->factor * answer->low : term->factor;
}

static double threshold_of(const struct item *item, const struct measure *measure)
{
	double most = term_value(item, &measure->right[0]);

	for (size_t i = 1; i < measure->right_count; i++)
		if (term_value(item, &measure->right[i]) > most)
			most = term_value(item, &measure->right[i]);
	return most;
}

/* By its left number: just over the threshold, or just under it. */
bool draw_measured(struct making *making, struct item *item, const struct question *measured,
                   cells may)
{
	const struct measure *measure = measured->measure;
	const struct question *left;
	bool holds = term_value(item, &measure->left) >= threshold_of(item, measure);
	double value, step;
	char text[32];

	if (measure->left.question == QUESTION_NONE || (may >> (holds ? CELL_YES : CELL_NO) & 1))
		return true;
	left = &making->book->question[measure->left.question];
	value = threshold_of(item, measure) / measure->left.factor;
	step = 1 + (double)random_below(&making->truth,
	                                (uint64_t)((value < 0 ? -value : value) / 3) + 1);
	value = holds ? rounded_up(value) - step : rounded_up(value) + step - 1;
	value = value < left->least ? left->least : value > left->most ? left->most : value;
	number_format(value, text);
	return put_text(making, item, measure->left.question, text);
}
