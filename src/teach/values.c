/* A value that stands in a cell of a question, in the words of a survey and in those of people. */
#include "make.h"

#include "tundish/base/number.h"

#include <string.h>

enum { YEARS_BACK = 3 }; /* of a date before the first threshold */

/** The least whole number that is not less. */
static long whole_from(double value)
{
	long whole = (long)value;

	return (double)whole < value ? whole + 1 : whole;
}

bool cell_stretch(const struct rulebook *book, const struct question *question, unsigned cell,
                  struct stretch *out)
{
	bool date = question->form == FORM_DATE, last = cell >= question->cut_count;

	if (question->form != FORM_NUMBER && !date) {
		*out = (struct stretch){0, 0};
		return true;
	}
	out->high = !last  ? whole_from(question->cut[cell]) - 1
	            : date ? book->on
	                   : (long)question->most;
	if (date && out->high > book->on)
		out->high = book->on;
	out->low = cell > 0 ? whole_from(question->cut[cell - 1])
	           : date   ? date_years_before((day)out->high, YEARS_BACK)
	                    : whole_from(question->least);
	return out->low <= out->high;
}

const char *drawn_text(struct arena *arena, const struct question *question, unsigned cell,
                       long value)
{
	char date[11];

	if (!form_has_cells(question->form))
		return NULL;
	if (question->form == FORM_CHOICE)
		return question->option[cell].id;
	if (question->form == FORM_YES_NO)
		return cell == CELL_YES ? "yes" : "no";
	if (question->form == FORM_NUMBER)
		return arena_print(arena, "%ld", value);
	date_format((day)value, date);
	return arena_print(arena, "%s", date);
}

static const char *value_words(struct arena *arena, const struct question *question,
                               const char *text)
{
	int option;

	if (question->form == FORM_NUMBER && question->unit)
		return arena_print(arena, "%s %s", text, unit_words(question->unit));
	if (question->form == FORM_DATE && strcmp(text, "before_july_1999") == 0)
		return "before July 1999";
	if (question->form != FORM_CHOICE)
		return text;
	option = question_option(question, text, strlen(text));
	return option < 0 ? text : question->option[option].label;
}

const char *said_line(struct arena *arena, const struct question *question, const char *text)
{
	const char *words = value_words(arena, question, text);
	size_t length = strlen(question->label);

	if (!words)
		return NULL;
	return arena_print(arena, "%s%s %s", question->label,
	                   length > 0 && question->label[length - 1] == '?' ? "" : ":", words);
}

bool value_put(struct survey *survey, struct item *item, question_index question, const char *text)
{
	struct answer answer;
	struct err err = {0};

	return answer_read(survey->book, question, text, strlen(text), &survey->arena, &answer,
	                   &err) &&
	       survey_put(survey, item, &answer);
}
