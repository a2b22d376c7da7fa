/* What is not known: answers are taken out again or made vaguer, the more the higher the level. What is there for a reason
 * stays. */
#include "making.h"

#include <string.h>

/* How often, in so many: of answers, inlets, protections and points. */
struct density {
	uint64_t missing, cannot_tell, one_of_two;
	uint64_t nothing_said, not_to_be_seen, unmarked, not_tested;
	uint64_t seen_in_part, not_seen;
};

enum { NEVER = 0 };

static const struct density densities[LEVEL_MOST + 1] = {
        [LEVEL_MISSING] = {.missing = 14, .not_tested = 5},
        [LEVEL_DOUBT] = { 10,            14,                40, 14, 14, 18, 14, 24},
        [LEVEL_MOST] = {                         18, 24, 60,                          30, 30, 30,  8, 24, 40},
};

static bool once_in(struct making *making, uint64_t times)
{
	return random_chance(&making->fog, 1, times ? times : UINT64_MAX) && times != NEVER;
}

static const struct density *density_of(const struct making *making)
{
	return &densities[making->wish->level];
}

static bool is_pinned(const struct making *making, const struct item *item, question_index question)
{
	for (size_t i = 0; i < making->pin_count; i++)
		if (making->pin[i].item == item &&
		    making->pin[i].may[question] != question_all(&making->book->question[question]))
			return true;
	return false;
}

static bool has_pin(const struct making *making, const struct item *item)
{
	bool pinned = false;

	for (size_t i = 0; i < making->pin_count; i++)
		pinned |= making->pin[i].item == item;
	for (size_t i = 0; i < item->child_count; i++)
		pinned |= has_pin(making, item->child[i]);
	return pinned;
}

/* -- taking out ------------------------------------------------------------------------------ */

static bool apply(struct making *making, const char *where, const char *after)
{
	const struct change change = {.where = where, .after = after};

	if (!where)
		return making_no_memory(making);
	return survey_apply(making->survey, &change, making->err);
}

static bool forget(struct making *making, const struct item *item, question_index question)
{
	return apply(making, survey_where(making->survey, item, question, &making->scratch), NULL);
}

static bool take_out_children(struct making *making, struct item *item)
{
	while (item->child_count > 0)
		if (!apply(making,
		           survey_where(making->survey, item->child[item->child_count - 1],
		                        QUESTION_NONE, &making->scratch),
		           NULL))
			return false;
	return true;
}

/* -- dates ----------------------------------------------------------------------------------- */

static bool is_one_cell(const struct question *question, struct days days)
{
	return question_cell(question, days.first) == question_cell(question, days.last);
}

/* As people know it: the year, the month, or before July 1999; the day where it could be neither. */
static bool write_date(struct making *making, struct item *item, const struct answer *answer)
{
	const struct question *question = &making->book->question[answer->question];
	bool sharp =
	        making->wish->level == LEVEL_LEAST || is_pinned(making, item, answer->question);
	uint64_t drawn = random_below(&making->fog, 4);
	const char *form[3];
	char text[11];

	date_format((day)answer->low, text);
	form[0] = making->wish->level > LEVEL_LEAST && drawn < 2 ? "before_july_1999" : NULL;
	form[1] = making->wish->level > LEVEL_LEAST && drawn > 0
	                  ? arena_copy(&making->scratch, text, 4)
	                  : NULL;
	form[2] = drawn < 3 ? arena_copy(&making->scratch, text, 7) : NULL;
	for (size_t i = 0; i < 3; i++) {
		struct days days;

		if (!form[i] || !date_parse(form[i], strlen(form[i]), &days) ||
		    (day)answer->low < days.first || (day)answer->low > days.last ||
		    days.last > making->book->on || (sharp && !is_one_cell(question, days)))
			continue;
		return put_text(making, item, answer->question, form[i]);
	}
	return true;
}

/* -- answers --------------------------------------------------------------------------------- */

static bool holds_together(const struct making *making, const struct item *item,
                           const struct answer *answer)
{
	const struct rulebook *book = making->book;
	enum form form = book->question[answer->question].form;

	return form == FORM_TEXT || form == FORM_KIND || form == FORM_TYPE || form == FORM_PART ||
	       form == FORM_FEED || answer->question == book->known.part_use ||
	       seen_question(book, answer->question) ||
	       (item->scope == SCOPE_PREMISES && form == FORM_DATE) ||
	       is_pinned(making, item, answer->question);
}

static bool one_of_two(struct making *making, struct item *item, const struct answer *answer)
{
	const struct question *question = &making->book->question[answer->question];
	const char *other = question->option[random_below(&making->fog, question->option_count)].id;

	if (strcmp(other, answer->text) == 0)
		return true;
	return put_text(making, item, answer->question,
	                arena_print(&making->scratch, "%s, %s", answer->text, other));
}

/* All is drawn, whatever comes of it: then one answer's fog does not move the next one's. */
static bool lay_on_answer(struct making *making, struct item *item, const struct answer *answer)
{
	const struct question *question = &making->book->question[answer->question];
	const struct density *density = density_of(making);
	bool missing = once_in(making, density->missing),
	     cannot = once_in(making, density->cannot_tell);
	bool two = once_in(making, density->one_of_two);

	if (!holds_together(making, item, answer)) {
		if (missing)
			return forget(making, item, answer->question);
		if (cannot && question->cannot_tell)
			return put_text(making, item, answer->question, "cannot_tell");
		if (two && question->form == FORM_CHOICE)
			return one_of_two(making, item, answer);
	}
	if (question->form == FORM_DATE && answer->low >= answer->high &&
	    item->scope != SCOPE_PREMISES)
		return write_date(making, item, answer);
	return true;
}

static bool lay_on_answers(struct making *making, struct item *item)
{
	size_t count = item->answer_count;
	struct answer *answer = arena_take(&making->scratch, (count + 1) * sizeof(*answer));

	if (!answer)
		return making_no_memory(making);
	for (size_t i = 0; i < count; i++)
		answer[i] = item->answer[i];
	for (size_t i = 0; i < count; i++)
		if (item_answer(item, answer[i].question) &&
		    !lay_on_answer(making, item, &answer[i]))
			return false;
	return true;
}

/* -- protections, inlets, points ------------------------------------------------------------- */

static bool forget_own(struct making *making, struct item *item)
{
	for (size_t i = item->answer_count; i-- > 0;)
		if (is_own_question(making->book, item->answer[i].question) &&
		    !forget(making, item, item->answer[i].question))
			return false;
	return true;
}

/* Something is there, but not what. */
static bool lay_on_type(struct making *making, struct item *protection)
{
	question_index type = making->book->known.protection_type;

	if (!once_in(making, density_of(making)->unmarked) || has_pin(making, protection) ||
	    type == QUESTION_NONE || !making->book->question[type].cannot_tell)
		return true;
	return take_out_children(making, protection) && forget_own(making, protection) &&
	       put_text(making, protection, type, "cannot_tell");
}

/* Of its tests nothing is known, or not what it is. */
static bool lay_on_protection(struct making *making, struct item *protection)
{
	if (once_in(making, density_of(making)->not_tested) && !has_pin(making, protection) &&
	    !take_out_children(making, protection))
		return false;
	return lay_on_type(making, protection);
}

static bool lay_on_inlet(struct making *making, struct item *inlet)
{
	bool nothing = once_in(making, density_of(making)->nothing_said);
	bool cannot = once_in(making, density_of(making)->not_to_be_seen);

	if ((!nothing && !cannot) || has_pin(making, inlet))
		return true;
	if (!take_out_children(making, inlet))
		return false;
	inlet->nothing_said = nothing;
	inlet->cannot_tell = !nothing;
	return true;
}

static bool hide_inlets(struct making *making, struct item *point)
{
	for (size_t i = 0; i < point->child_count; i++) {
		struct item *inlet = point->child[i];

		if (inlet->scope != SCOPE_INLET)
			continue;
		if (!take_out_children(making, inlet))
			return false;
		inlet->cannot_tell = true;
	}
	return true;
}

static bool say_seen(struct making *making, struct item *point, const char *how, const char *why)
{
	question_index seen = making->book->known.point_seen,
	               why_not = rulebook_question(making->book, SCOPE_POINT, INDEX_NONE, "",
	                                           "why_not_seen", sizeof("why_not_seen") - 1);

	if (seen == QUESTION_NONE ||
	    question_option(&making->book->question[seen], how, strlen(how)) < 0)
		return true;
	return put_text(making, point, seen, how) &&
	       put_words(making, point, why_not, FORM_TEXT, why);
}

static bool lay_on_point(struct making *making, struct item *point)
{
	const struct density *density = density_of(making);
	bool in_part = once_in(making, density->seen_in_part),
	     not_seen = once_in(making, density->not_seen);

	if (has_pin(making, point))
		return true;
	if (not_seen)
		return say_seen(making, point, "no", "behind a panel that was not to be opened") &&
		       forget_own(making, point) && hide_inlets(making, point);
	return !in_part || say_seen(making, point, "part", "boxed in, only one side can be seen");
}

static bool lay_on_item(struct making *making, struct item *item)
{
	if ((item->scope == SCOPE_POINT && !lay_on_point(making, item)) ||
	    (item->scope == SCOPE_INLET && !lay_on_inlet(making, item)) ||
	    (item->scope == SCOPE_PROTECTION && !lay_on_protection(making, item)) ||
	    !lay_on_answers(making, item))
		return false;
	for (size_t i = 0; i < item->child_count; i++)
		if (!lay_on_item(making, item->child[i]))
			return false;
	return true;
}

bool lay_fog(struct making *making)
{
	return lay_on_item(making, making->survey->premises);
}
