/**
 * @file
 * A survey of one mixer by the book of print_book.h.
 */
#ifndef TUNDISH_TESTS_PRINT_HOUSE_H
#define TUNDISH_TESTS_PRINT_HOUSE_H

#include "print_book.h"

static bool test_answer(struct survey *survey, struct item *item, question_index question,
                        const char *text)
{
	struct answer answer = {.question = question, .may = 1, .text = text};

	return survey_put(survey, item, &answer);
}

/* Part flat; room kitchen with mixer K1, on its cold inlet the check K1a. */
static bool test_house(struct survey *survey, const struct rulebook *book)
{
	if (!survey_init(survey, book))
		return false;
	struct item *part = survey_add(survey, survey->premises, SCOPE_PART, "flat", NULL);
	struct item *room = survey_add(survey, survey->premises, SCOPE_ROOM, "kitchen", part);
	struct item *point = room ? survey_add(survey, room, SCOPE_POINT, "K1", NULL) : NULL;
	if (!point || !test_answer(survey, room, Q_ROOM_NAME, "Kitchen") ||
	    !test_answer(survey, point, Q_KIND, "kitchen_mixer") ||
	    !test_answer(survey, point, Q_SEEN, "yes"))
		return false;
	struct item *cold = survey_add(survey, point, SCOPE_INLET, "cold", NULL);
	struct item *check = cold ? survey_add(survey, cold, SCOPE_PROTECTION, "K1a", NULL) : NULL;
	return check && test_answer(survey, check, Q_TYPE, "EB");
}

#endif
