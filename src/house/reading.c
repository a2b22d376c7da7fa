#include "reading.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* -- measured tests --------------------------------------------------------------------- */

struct stretch {
	double low, high;
	bool open; /* a number in it was not answered */
};

static struct stretch term_stretch(const struct rulebook *book, const struct term *term,
                                   const struct sight *sight)
{
	const struct question *question;
	const struct item *item;
	const struct answer *answer;
	struct stretch stretch = {term->factor, term->factor, false};

	if (term->question == QUESTION_NONE)
		return stretch;
	question = &book->question[term->question];
	item = sight->of[question->scope];
	answer = item ? item_answer(item, term->question) : NULL;
	if (answer && !answer->settled) {
		stretch.low *= answer->low;
		stretch.high *= answer->high;
		return stretch;
	}
	stretch.low *= question->least;
	stretch.high *= question->most;
	stretch.open = !answer && item;
	return stretch;
}

static cells measured_cells(const struct rulebook *book, const struct measure *measure,
                            const struct sight *sight, enum known *known)
{
	struct stretch left = term_stretch(book, &measure->left, sight);
	double low = -HUGE_VAL, high = -HUGE_VAL;
	bool open = left.open;

	for (size_t i = 0; i < measure->right_count; i++) {
		struct stretch right = term_stretch(book, &measure->right[i], sight);

		low = right.low > low ? right.low : low;
		high = right.high > high ? right.high : high;
		open = open || right.open;
	}
	*known = KNOWN_ANSWERED;
	if (left.low >= high)
		return (cells)1 << CELL_YES;
	if (left.high < low)
		return (cells)1 << CELL_NO;
	*known = open ? KNOWN_OPEN : KNOWN_SETTLED;
	return (cells)1 << CELL_YES | (cells)1 << CELL_NO;
}

/* -- looking ---------------------------------------------------------------------------- */

/** Nobody to ask is settled. But a device with no test on record could still be tested, and the part
 * that a room is in could still be said. */
static bool could_be_found(const struct rulebook *book, enum scope scope, const struct sight *sight)
{
	const struct item *room = sight->of[SCOPE_ROOM];

	if (scope == SCOPE_TEST)
		return sight->of[SCOPE_PROTECTION] != NULL;
	return scope == SCOPE_PART && room && book->known.room_part != QUESTION_NONE &&
	       !item_answer(room, book->known.room_part);
}

static bool listed(const question_index *list, size_t count, question_index question)
{
	for (size_t i = 0; i < count; i++)
		if (list[i] == question)
			return true;
	return false;
}

/** A row of a type may test a question of the point that only some kinds ask: of the others nobody asks it. */
static bool asked_of(const struct rulebook *book, const struct item *item, question_index question)
{
	const struct kind *kind;

	if (item->scope != SCOPE_POINT || item->of == INDEX_NONE)
		return true;
	kind = &book->kind[item->of];
	return listed(kind->question, kind->question_count, question) ||
	       listed(book->scope_question[SCOPE_POINT], book->scope_question_count[SCOPE_POINT],
	              question);
}

cells reading_cells(const struct rulebook *book, question_index index, const struct sight *sight,
                    enum known *known)
{
	const struct question *question = &book->question[index];
	const struct item *item = sight->of[question->scope];
	const struct answer *answer;

	if (question->form == FORM_MEASURED)
		return measured_cells(book, question->measure, sight, known);
	answer = item ? item_answer(item, index) : NULL;
	if (answer && answer_is_ahead(book, answer)) {
		*known = KNOWN_SETTLED;
		return question_all(question);
	}
	if (answer) {
		/* A year that straddles a threshold is an answer too: nobody is asked again. */
		*known = answer->may & (answer->may - 1) ? KNOWN_SETTLED : KNOWN_ANSWERED;
		return answer->may;
	}
	*known = (item && asked_of(book, item, index)) ||
	                         could_be_found(book, question->scope, sight)
	                 ? KNOWN_OPEN
	                 : KNOWN_SETTLED;
	return question_all(question);
}

void reading_look(const struct rulebook *book, struct reading *reading)
{
	const struct subject *subject = reading->subject;

	for (size_t v = 0; v < subject->variable_count; v++) {
		enum known known = KNOWN_ANSWERED;

		reading->may[v] =
		        reading_cells(book, subject->variable[v], &reading->sight, &known);
		reading->known[v] = (uint8_t)known;
	}
}

void reading_force(struct reading *reading, question_index question, enum holds yes)
{
	int v = question == QUESTION_NONE ? -1 : subject_variable(reading->subject, question);

	if (v < 0 || yes == HOLDS_NEVER)
		return;
	if (yes == HOLDS_ALWAYS) {
		reading->may[v] = (cells)1 << CELL_YES;
		reading->known[v] = KNOWN_ANSWERED;
		return;
	}
	if (reading->known[v] == KNOWN_ANSWERED)
		reading->known[v] = KNOWN_SETTLED;
	reading->may[v] |= (cells)1 << CELL_YES;
}

bool reading_narrow(struct reading *reading)
{
	struct narrowed narrowed = {0};

	for (;;) {
		diagram *more;
		size_t room = reading->leaf_room ? reading->leaf_room * 4 : 16;

		narrowed.leaf = reading->leaf;
		narrowed.leaf_room = reading->leaf_room;
		if (reading->leaf_room > 0) {
			if (!diagram_narrow(reading->subject->store, reading->root, reading->may,
			                    &narrowed))
				return false;
			if (!narrowed.overflow)
				break;
		}
		more = realloc(reading->leaf, room * sizeof *more);
		if (!more)
			return false;
		reading->leaf = more;
		reading->leaf_room = room;
	}
	reading->leaf_count = narrowed.leaf_count;
	reading->live = narrowed.live;
	return true;
}

enum holds reading_holds(const struct reading *reading, diagram truth)
{
	return diagram_holds(reading->subject->store, truth, reading->may);
}

uint64_t reading_decides(const struct reading *reading, diagram truth)
{
	diagram leaf[2];
	struct narrowed narrowed = {.leaf = leaf, .leaf_room = 2};

	if (!diagram_narrow(reading->subject->store, truth, reading->may, &narrowed))
		return 0;
	return narrowed.live;
}

void reading_finish(struct reading *reading)
{
	free(reading->leaf);
	memset(reading, 0, sizeof *reading);
}
