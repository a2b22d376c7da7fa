#include "oracle_inside.h"

/* What an answer can stand for, conditions walked as they stand, and completions one by one. */
/* -- what an answer can stand for ------------------------------------------------------------ */

/* Cell i of a number or a date is [cut[i-1], cut[i]): the cells that low..high touches. */
cells oracle_cells_between(const struct question *question, double low, double high)
{
	cells out = 0;

	for (size_t i = 0; i < question->cell_count; i++) {
		bool starts_too_late = i > 0 && question->cut[i - 1] > high;
		bool ends_too_early = i < question->cut_count && question->cut[i] <= low;

		if (!starts_too_late && !ends_too_early)
			out |= (cells)1 << i;
	}
	return out;
}

static cells all_values(const struct question *question)
{
	cells out = 0;

	if (question->form == FORM_NUMBER)
		return oracle_cells_between(question, question->least, question->most);
	for (size_t i = 0; i < question->cell_count; i++)
		out |= (cells)1 << i;
	return out;
}

/* Least and most of one side of a measured test. */
static void term_stretch(const struct oracle *o, const struct item *item, const struct term *term,
                         double *low, double *high)
{
	const struct question *question;
	const struct answer *answer;

	*low = *high = 1;
	if (term->question != QUESTION_NONE) {
		question = &o->book->question[term->question];
		answer = item_answer(item, term->question);
		*low = answer ? answer->low : question->least;
		*high = answer ? answer->high : question->most;
	}
	*low *= term->factor;
	*high *= term->factor;
}

static void answered_number(const struct oracle *o, const struct item *item,
                            const struct term *term, struct unknown *out)
{
	const struct answer *answer;

	(void)o;
	if (term->question == QUESTION_NONE)
		return;
	answer = item_answer(item, term->question);
	if (!answer)
		out->unanswered = true;
	else if (answer->settled)
		out->settled = true;
}

/* Can it be kept, can it be lost: its numbers are free of each other. */
static void measure_values(const struct oracle *o, const struct item *item,
                           const struct measure *measure, struct unknown *out)
{
	double left_low, left_high, right_low = 0, right_high = 0;

	term_stretch(o, item, &measure->left, &left_low, &left_high);
	answered_number(o, item, &measure->left, out);
	for (size_t i = 0; i < measure->right_count; i++) {
		double low, high;

		term_stretch(o, item, &measure->right[i], &low, &high);
		answered_number(o, item, &measure->right[i], out);
		if (i == 0 || low > right_low)
			right_low = low;
		if (i == 0 || high > right_high)
			right_high = high;
	}
	out->may = 0;
	if (left_high >= right_low)
		out->may |= 1 << CELL_YES;
	if (left_low < right_high)
		out->may |= 1 << CELL_NO;
}

/* What stands later in the same list and shuts makes it yes; what is of no known type might. */
static void shut_by_later(const struct oracle *o, const struct item *protection,
                          struct unknown *out)
{
	const struct item *list = protection->parent;
	bool later = false, shuts = false, might = false;

	for (size_t i = 0; i < list->child_count; i++) {
		const struct item *other = list->child[i];

		if (later && other->scope == SCOPE_PROTECTION) {
			might |= other->of == INDEX_NONE;
			shuts |= other->of != INDEX_NONE && o->book->type[other->of].shuts;
		}
		if (other == protection)
			later = true;
	}
	if (shuts) {
		out->may = 1 << CELL_YES;
		out->unanswered = out->settled = false;
	} else if (might) {
		out->may |= 1 << CELL_YES;
		out->settled = !out->unanswered;
	}
}

/* The part of something is not known: `item` is its room or branch. Which it is can be asked of a room, unless that was
 * settled. */
static void part_not_known(const struct oracle *o, const struct item *item, struct unknown *out)
{
	out->unanswered = item->scope == SCOPE_ROOM && !item_answer(item, o->book->known.room_part);
}

/* Of a point only what its kind lists, or every point is asked. */
static bool is_asked(const struct rulebook *book, const struct item *item, question_index index)
{
	const struct kind *kind;

	if (item->scope != SCOPE_POINT || item->of == INDEX_NONE)
		return true;
	kind = &book->kind[item->of];
	for (size_t i = 0; i < kind->question_count; i++)
		if (kind->question[i] == index)
			return true;
	for (size_t i = 0; i < book->scope_question_count[SCOPE_POINT]; i++)
		if (book->scope_question[SCOPE_POINT][i] == index)
			return true;
	return false;
}

static void answer_values(const struct oracle *o, const struct item *item, question_index index,
                          struct unknown *out)
{
	const struct question *question = &o->book->question[index];
	const struct answer *answer = item_answer(item, index);

	if (question->form == FORM_MEASURED) {
		measure_values(o, item, question->measure, out);
	} else if (!answer) {
		out->may = all_values(question);
		if (question->scope == SCOPE_PART && item->scope != SCOPE_PART)
			part_not_known(o, item, out);
		else
			out->unanswered = (item->scope == question->scope &&
			                   is_asked(o->book, item, index)) ||
			                  question->scope == SCOPE_TEST;
		out->settled = !out->unanswered;
	} else {
		bool ahead = question->form == FORM_DATE && answer->low > o->book->on;

		out->may = ahead ? all_values(question)
		           : question->form == FORM_NUMBER || question->form == FORM_DATE
		                   ? oracle_cells_between(question, answer->low, answer->high)
		                   : answer->may;
		out->settled = true; /* where more than one value is left, nobody is asked again */
	}
	if (item->scope == SCOPE_PROTECTION && item->of != INDEX_NONE &&
	    o->book->type[item->of].shuts_downstream == index)
		shut_by_later(o, item, out);
}

/* -- the unknowns of a completion ------------------------------------------------------------ */

struct unknown *oracle_find(struct oracle *o, enum unknown_form form, const struct item *item,
                            question_index question, unsigned inlet)
{
	for (size_t i = 0; i < o->unknown_count; i++) {
		struct unknown *u = &o->unknown[i];

		if (u->form == form && u->item == item && u->question == question &&
		    u->inlet == inlet)
			return u;
	}
	return NULL;
}

/* One that must be there. */
struct unknown *oracle_get(struct oracle *o, enum unknown_form form, const struct item *item,
                           question_index question, unsigned inlet)
{
	struct unknown *u = oracle_find(o, form, item, question, inlet);

	if (!u)
		abort();
	return u;
}

struct unknown *oracle_add(struct oracle *o, enum unknown_form form, const struct item *item,
                           question_index question, unsigned inlet)
{
	struct unknown *u = &o->unknown[o->unknown_count++];

	assert(o->unknown_count <= UNKNOWNS_MOST);
	*u = (struct unknown){.form = form, .item = item, .question = question, .inlet = inlet};
	return u;
}

/* The latest test: by the first day that it could be, without a date the earliest; of equals the
 * later in the file. */
static const struct item *latest_test(const struct oracle *o, const struct item *protection)
{
	const struct item *latest = NULL;
	double latest_day = 0;

	for (size_t i = 0; i < protection->child_count; i++) {
		const struct item *test = protection->child[i];
		const struct answer *date;
		double day_of_it = DAY_FIRST;

		if (test->scope != SCOPE_TEST)
			continue;
		date = item_answer(test, o->book->known.test_date);
		if (date)
			day_of_it = date->low;
		if (!latest || day_of_it >= latest_day) {
			latest = test;
			latest_day = day_of_it;
		}
	}
	return latest;
}

/* Whose question is meant, looked at from a point or from a protection. NULL: there is nobody of
 * that scope. */
const struct item *oracle_whose(const struct oracle *o, const struct item *from, enum scope scope)
{
	const struct item *item = NULL;

	switch (scope) {
	case SCOPE_PREMISES:
		return o->survey->premises;
	case SCOPE_PART:
		item = survey_part(o->survey, from);
		if (!item)
			item = item_above(from, SCOPE_ROOM);
		if (!item)
			item = item_above(from, SCOPE_BRANCH);
		break;
	case SCOPE_TEST:
		item = latest_test(o, from);
		break;
	case SCOPE_BRANCH:
		item = item_above(from, SCOPE_INLET)
		               ? oracle_feeding_branch(o, item_above(from, SCOPE_INLET))
		               : item_above(from, SCOPE_BRANCH);
		break;
	case SCOPE_ROOM:
	case SCOPE_POINT:
	case SCOPE_INLET:
	case SCOPE_PROTECTION:
		item = item_above(from, scope);
		break;
	case SCOPE_ACTION:
	case SCOPE_OUTCOME:
	case SCOPE_COUNT:
		assert(!"never tested here");
	}
	return item ? item : from;
}

void oracle_add_answers(struct oracle *o, const struct condition *condition,
                        const struct item *from)
{
	if (!condition)
		return;
	for (const struct condition *child = condition->child; child; child = child->next)
		oracle_add_answers(o, child, from);
	if (condition->form == CONDITION_TEST) {
		enum scope scope = o->book->question[condition->question].scope;
		const struct item *item;

		if (scope == SCOPE_OUTCOME)
			return;
		item = oracle_whose(o, from, scope);
		if (!oracle_find(o, UNKNOWN_ANSWER, item, condition->question, 0))
			answer_values(o, item, condition->question,
			              oracle_add(o, UNKNOWN_ANSWER, item, condition->question, 0));
	}
}

bool oracle_holds(struct oracle *o, const struct condition *condition, const struct item *from)
{
	const struct unknown *u;

	if (!condition)
		return true;
	switch (condition->form) {
	case CONDITION_ALL:
		for (const struct condition *child = condition->child; child; child = child->next)
			if (!oracle_holds(o, child, from))
				return false;
		return true;
	case CONDITION_ANY:
		for (const struct condition *child = condition->child; child; child = child->next)
			if (oracle_holds(o, child, from))
				return true;
		return false;
	case CONDITION_NOT:
		return !oracle_holds(o, condition->child, from);
	case CONDITION_TEST:
		break;
	}
	u = oracle_get(o, UNKNOWN_ANSWER,
	               oracle_whose(o, from, o->book->question[condition->question].scope),
	               condition->question, 0);
	return condition->holds >> u->now & 1;
}

/* -- every completion ------------------------------------------------------------------------ */

unsigned oracle_first_cell(cells may)
{
	unsigned cell = 0;

	while (!(may >> cell & 1))
		cell++;
	return cell;
}

void oracle_start(struct oracle *o, const bool *which)
{
	for (size_t i = 0; i < o->unknown_count; i++)
		if (!which || which[i])
			o->unknown[i].now = oracle_first_cell(o->unknown[i].may);
}

/* The next completion of the unknowns that are among `which` (NULL: all). @return false after the
 * last. */
bool oracle_next(struct oracle *o, const bool *which)
{
	for (size_t i = 0; i < o->unknown_count; i++) {
		struct unknown *u = &o->unknown[i];

		if (which && !which[i])
			continue;
		for (unsigned cell = u->now + 1; cell < CELLS_MOST; cell++)
			if (u->may >> cell & 1) {
				u->now = cell;
				return true;
			}
		u->now = oracle_first_cell(u->may);
	}
	return false;
}

size_t oracle_cells_in(cells may)
{
	size_t count = 0;

	for (; may; may &= may - 1)
		count++;
	return count;
}

/* How many completions, or @p most + 1 where there are more. */
size_t oracle_completions(const struct oracle *o, const bool *which, size_t most)
{
	size_t count = 1;

	for (size_t i = 0; i < o->unknown_count; i++) {
		if (which && !which[i])
			continue;
		count *= oracle_cells_in(o->unknown[i].may);
		if (count > most)
			return most + 1;
	}
	return count;
}
