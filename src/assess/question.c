#include "tundish/assess/question.h"

#include "tundish/base/text.h"

/* ORDER SCOPE */
static const char *const scope_names[SCOPE_COUNT] = {
        "premises", "part",       "branch", "room",   "point",
        "inlet",    "protection", "test",   "action", "outcome",
};

/* ORDER FORM */
static const char *const form_names[FORM_COUNT] = {
        "choice", "yes_no", "number", "date", "text", "kind", "type", "feed", "part", "measured",
};

const char *scope_name(enum scope scope)
{
	return scope_names[scope];
}

const char *form_name(enum form form)
{
	return form_names[form];
}

bool form_has_cells(enum form form)
{
	switch (form) {
	case FORM_CHOICE:
	case FORM_YES_NO:
	case FORM_NUMBER:
	case FORM_DATE:
		return true;
	case FORM_TEXT:
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return false;
}

cells question_all(const struct question *question)
{
	if (question->form == FORM_NUMBER)
		return question_stretch(question, question->least, question->most);
	if (question->cell_count >= CELLS_MOST)
		return ~(cells)0;
	return ((cells)1 << question->cell_count) - 1;
}

/* How many cuts are at or below it. */
unsigned question_cell(const struct question *question, double value)
{
	unsigned cell = 0;

	while (cell < question->cut_count && question->cut[cell] <= value)
		cell++;
	return cell;
}

cells question_stretch(const struct question *question, double low, double high)
{
	unsigned first = question_cell(question, low), last = question_cell(question, high);
	cells up_to_last = last + 1 >= CELLS_MOST ? ~(cells)0 : ((cells)1 << (last + 1)) - 1;

	return up_to_last & ~(((cells)1 << first) - 1);
}

int question_option(const struct question *question, const char *id, size_t length)
{
	for (size_t i = 0; i < question->option_count; i++)
		if (text_is(id, length, question->option[i].id))
			return (int)i;
	return -1;
}
