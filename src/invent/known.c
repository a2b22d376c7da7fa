/* What is known of an item so far, and which weights go with it. */
#include "making.h"

#include <string.h>

/* -- conditions ------------------------------------------------------------------------------ */

/* Where a question of a scope is answered, seen from an item; of a protection the latest test, of the premises the first
 * part. */
static const struct item *holder(const struct making *making, const struct item *item,
                                 enum scope scope)
{
	if (scope == SCOPE_PREMISES)
		return making->survey->premises;
	if (scope == SCOPE_PART && item->scope == SCOPE_PREMISES)
		return item_child(item, SCOPE_PART, 0);
	if (scope == SCOPE_PART && item->scope != SCOPE_PART)
		return survey_part(making->survey, item);
	if (scope == SCOPE_TEST && item->scope == SCOPE_PROTECTION)
		return item_child(item, SCOPE_TEST, 0);
	return item_above(item, scope);
}

static enum known known_if(bool yes, bool no)
{
	return yes ? KNOWN_YES : no ? KNOWN_NO : KNOWN_NOT;
}

/* Weights cut no cells: their thresholds are compared as they are. */
static enum known test_known(const struct making *making, const struct item *item,
                             const struct condition *test)
{
	const struct item *at = holder(making, item, making->book->question[test->question].scope);
	const struct answer *answer = at ? item_answer(at, test->question) : NULL;

	if (!answer)
		return KNOWN_NOT;
	switch (test->threshold) {
	case THRESHOLD_NONE:
		return known_if(!(answer->may & ~test->holds), !(answer->may & test->holds));
	case THRESHOLD_AT_LEAST:
		return known_if(answer->low >= test->bound, answer->high < test->bound);
	case THRESHOLD_BELOW:
		return known_if(answer->high < test->bound, answer->low >= test->bound);
	}
	return KNOWN_NOT;
}

enum known condition_known(const struct making *making, const struct item *item,
                           const struct condition *condition)
{
	bool any = condition && condition->form == CONDITION_ANY, open = false;

	if (!condition)
		return KNOWN_YES;
	if (condition->form == CONDITION_TEST)
		return test_known(making, item, condition);
	if (condition->form == CONDITION_NOT) {
		enum known child = condition_known(making, item, condition->child);

		return child == KNOWN_NOT ? KNOWN_NOT : child == KNOWN_YES ? KNOWN_NO : KNOWN_YES;
	}
	for (const struct condition *child = condition->child; child; child = child->next) {
		enum known known = condition_known(making, item, child);

		if (known == (any ? KNOWN_YES : KNOWN_NO))
			return known;
		open |= known == KNOWN_NOT;
	}
	return open ? KNOWN_NOT : any ? KNOWN_NO : KNOWN_YES;
}

bool seen_question(const struct rulebook *book, question_index question)
{
	const struct known_questions *known = &book->known;

	return question != QUESTION_NONE &&
	       (question == known->part_seen || question == known->room_seen ||
	        question == known->point_seen);
}

bool is_own_question(const struct rulebook *book, question_index question)
{
	enum scope scope = book->question[question].scope;

	for (size_t i = 0; i < book->scope_question_count[scope]; i++)
		if (book->scope_question[scope][i] == question)
			return false;
	return true;
}

/* -- inlets ------------------------------------------------------------------------------------ */

/* Whether a fluid could still come through an inlet, by what was answered for the point. */
static bool fluid_may_come(const struct making *making, const struct item *point, unsigned fluid,
                           unsigned inlet)
{
	const struct kind *kind = &making->book->kind[point->of];
	bool settled = false, otherwise = false;

	for (size_t r = 0; r < kind->row_count; r++) {
		const struct row *row = &kind->row[r];
		enum known known = condition_known(making, point, row->when);
		bool comes = row->category > CATEGORY_LEAST && (row->inlets >> inlet & 1);

		if (row->fluid != (int)fluid || known == KNOWN_NO)
			continue;
		if (row->otherwise)
			otherwise |= comes;
		else if (comes)
			return true;
		else
			settled |= known == KNOWN_YES;
	}
	return otherwise && !settled;
}

bool anything_may_come(const struct making *making, const struct item *point, unsigned inlet)
{
	for (unsigned fluid = 0; fluid < making->book->kind[point->of].fluid_count; fluid++)
		if (fluid_may_come(making, point, fluid, inlet))
			return true;
	return false;
}

/* -- weights --------------------------------------------------------------------------------- */

/* Follows branches up to the main or to a point that stores. */
static uint16_t start_of(const struct making *making, const struct item *branch)
{
	const char *from = item_text(branch, making->book->known.branch_from);
	const struct item *source = from ? survey_find(making->survey, from, strlen(from)) : NULL;

	while (source && source->scope == SCOPE_BRANCH) {
		from = item_text(source, making->book->known.branch_from);
		source = from ? survey_find(making->survey, from, strlen(from)) : NULL;
	}
	return source && source->scope == SCOPE_POINT ? source->of : FED_BY_MAIN;
}

static bool starts_there(const struct making *making, const struct often *often,
                         const struct item *branch)
{
	uint16_t start = start_of(making, branch);

	for (size_t i = 0; i < often->from_count; i++)
		if (often->from[i] == start)
			return true;
	return false;
}

static bool stands_there(const struct often *often, const struct item *item)
{
	const struct item *point = item_above(item, SCOPE_POINT);

	for (size_t i = 0; point && i < often->on_count; i++)
		if (often->on[i] == point->of)
			return true;
	return false;
}

/* Whether an entry speaks of the item; @p own: of its kind or type, not of all of its scope. */
static bool speaks_of(const struct making *making, const struct often *often,
                      const struct item *item, bool own)
{
	const struct item *of = item;

	if (own && item->scope == SCOPE_TEST && often->scope == SCOPE_PROTECTION)
		of = item->parent;
	if (item->scope == SCOPE_BRANCH && often->from_count && !starts_there(making, often, item))
		return false;
	if (often->on_count && !stands_there(often, item))
		return false;
	return often->scope == of->scope &&
	       (own ? often->of != INDEX_NONE && often->of == of->of : often->of == INDEX_NONE) &&
	       condition_known(making, item, often->when) == KNOWN_YES;
}

const struct answer_weights *answer_weights(const struct making *making, const struct item *item,
                                            question_index question)
{
	const struct weights *weights = making->weights;

	for (int own = 1; own >= 0; own--)
		for (size_t o = weights->often_count; o-- > 0;)
			for (size_t a = 0; a < weights->often[o].answer_count; a++)
				if (weights->often[o].answer[a].question == question &&
				    speaks_of(making, &weights->often[o], item, own))
					return &weights->often[o].answer[a];
	return NULL;
}

const struct fittings *fittings_of(const struct making *making, const struct item *item,
                                   unsigned inlet)
{
	const struct weights *weights = making->weights;
	bool own = item->scope == SCOPE_POINT;

	for (size_t o = weights->often_count; o-- > 0;)
		for (size_t f = weights->often[o].fittings_count; f-- > 0;)
			if ((weights->often[o].fittings[f].inlets >> inlet & 1) &&
			    speaks_of(making, &weights->often[o], item, own))
				return &weights->often[o].fittings[f];
	return NULL;
}

const struct often *feeding_of(const struct making *making, const struct item *item)
{
	const struct weights *weights = making->weights;

	for (int own = 1; own >= 0; own--)
		for (size_t o = weights->often_count; o-- > 0;)
			if (weights->often[o].fed_by &&
			    speaks_of(making, &weights->often[o], item, own))
				return &weights->often[o];
	return NULL;
}

/* -- what is made on the premises ------------------------------------------------------------ */

bool kind_makes(const struct making *making, uint16_t kind, const char *inlet)
{
	for (size_t o = 0; o < making->weights->often_count; o++) {
		const struct often *often = &making->weights->often[o];

		for (size_t m = 0;
		     often->scope == SCOPE_POINT && often->of == kind && m < often->make_count; m++)
			if (strcmp(often->makes[m], inlet) == 0)
				return true;
	}
	return false;
}

bool is_made(const struct making *making, const char *inlet)
{
	for (size_t o = 0; o < making->weights->often_count; o++)
		if (making->weights->often[o].make_count &&
		    kind_makes(making, making->weights->often[o].of, inlet))
			return true;
	return false;
}

bool makes_any(const struct making *making, uint16_t kind)
{
	for (size_t o = 0; o < making->weights->often_count; o++)
		if (making->weights->often[o].make_count && making->weights->often[o].of == kind)
			return true;
	return false;
}
