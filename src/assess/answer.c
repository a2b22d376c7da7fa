#include "tundish/assess/survey.h"

#include "survey_edit.h"

#include "tundish/base/number.h"
#include "tundish/base/text.h"

#include <stdio.h>
#include <string.h>

static const char cannot_tell[] = "cannot_tell";
static const char date_forms[] =
        "a year (2019), a month (2019-04), a day (2019-04-03) or before_july_1999";

/* One answer being read, and where to say what is wrong with it. */
struct reading {
	const struct rulebook *book;
	const struct question *question;
	struct arena *arena;
	struct answer *out;
	struct err *err;
};

/* As much of what was written as fits into a message. */
#define SHOWN(length) ((int)((length) < 60 ? (length) : 60))

static bool out_of_memory(struct err *err)
{
	err_set(err, ERR_MEMORY, "there is no memory for an answer");
	return false;
}

static bool keep_text(struct reading *reading, const char *text, size_t length)
{
	reading->out->text = arena_copy(reading->arena, text, length);
	return reading->out->text != NULL || out_of_memory(reading->err);
}

/* -- words ---------------------------------------------------------------------------- */

/* The words an answer may be, for messages: an option's, a kind's or a type's id. */
static const char *word_at(const struct reading *reading, size_t index)
{
	const struct rulebook *book = reading->book;

	if (reading->question->form == FORM_KIND)
		return index < book->kind_count ? book->kind[index].id : NULL;
	if (reading->question->form == FORM_TYPE)
		return index < book->type_count ? book->type[index].id : NULL;
	return index < reading->question->option_count ? reading->question->option[index].id : NULL;
}

/* The list may be long: as much as leaves the sentence whole. */
static void list_words(const struct reading *reading, char *list, size_t room)
{
	size_t used = 0;
	const char *word;

	list[0] = '\0';
	for (size_t i = 0; (word = word_at(reading, i)) != NULL; i++) {
		if (used + strlen(word) + 8 > room) {
			snprintf(list + used, room - used, " ...");
			return;
		}
		used += (size_t)snprintf(list + used, room - used, "%s%s", i == 0 ? "" : ", ",
		                         word);
	}
}

static const char *nearest_word(const struct reading *reading, const char *text, size_t length)
{
	char *written = arena_copy(reading->arena, text, length);
	const char **words = NULL;
	size_t count = 0, room = 0;

	for (const char *word; (word = word_at(reading, count)) != NULL;) {
		const char **grown =
		        arena_grow(reading->arena, words, count, &room, sizeof(*words));

		if (grown == NULL)
			return NULL;
		words = grown;
		words[count++] = word;
	}
	return written == NULL ? NULL : text_nearest(written, words, count);
}

static bool no_such_word(struct reading *reading, const char *text, size_t length)
{
	const char *nearest = nearest_word(reading, text, length);
	char list[200];

	if (nearest != NULL) {
		err_set(reading->err, ERR_USAGE,
		        "`%.*s` is no answer to \"%s\": did you mean `%s`?", SHOWN(length), text,
		        reading->question->label, nearest);
		return false;
	}
	list_words(reading, list, sizeof(list));
	err_set(reading->err, ERR_USAGE, "`%.*s` is no answer to \"%s\": expected %s",
	        SHOWN(length), text, reading->question->label, list);
	return false;
}

/* A tool that took `yes` or `no` for more than a word has written it back as `true` or `false`. */
static int option_of_truth(const struct question *question, const char *text, size_t length)
{
	if (text_is_in_any_case(text, length, "true"))
		return question_option(question, "yes", 3);
	if (text_is_in_any_case(text, length, "false"))
		return question_option(question, "no", 2);
	return -1;
}

/* One word of a choice, a feed or a type. @p kept is the word that it stands for. */
static bool read_word(struct reading *reading, const char *text, size_t length, cells *may,
                      const char **kept)
{
	const struct question *question = reading->question;
	int option;

	*kept = arena_copy(reading->arena, text, length);
	if (*kept == NULL)
		return out_of_memory(reading->err);
	if (question->form == FORM_FEED) {
		if (text_is(text, length, "main") || ref_shape_fault(text, length) == NULL)
			return true;
		err_set(reading->err, ERR_USAGE, "`%.*s` feeds nothing: expected main or a ref",
		        SHOWN(length), text);
		return false;
	}
	if (question->form == FORM_TYPE) {
		if (text_is(text, length, "nothing") ||
		    rulebook_type(reading->book, text, length) != INDEX_NONE)
			return true;
		return no_such_word(reading, text, length);
	}
	option = question_option(question, text, length);
	if (option < 0)
		option = option_of_truth(question, text, length);
	if (option < 0)
		return no_such_word(reading, text, length);
	*kept = question->option[option].id;
	*may |= (cells)1 << option;
	return true;
}

static void trim(const char **text, size_t *length)
{
	while (*length > 0 && (**text == ' ' || **text == '\t'))
		++*text, --*length;
	while (*length > 0 && ((*text)[*length - 1] == ' ' || (*text)[*length - 1] == '\t'))
		--*length;
}

/* One of several: "a, b". The text is kept with ", " between. */
static bool read_words(struct reading *reading, const char *text, size_t length)
{
	const char *end = text + length, *kept = "", *one;
	size_t count = 0;
	cells may = 0;

	while (text <= end) {
		const char *comma = memchr(text, ',', (size_t)(end - text));
		const char *word = text;
		size_t word_length = (size_t)((comma == NULL ? end : comma) - text);

		trim(&word, &word_length);
		if (!read_word(reading, word, word_length, &may, &one))
			return false;
		kept = arena_print(reading->arena, "%s%s%s", kept, count++ > 0 ? ", " : "", one);
		if (kept == NULL)
			return out_of_memory(reading->err);
		text += (comma == NULL ? (size_t)(end - text) : (size_t)(comma - text)) + 1;
	}
	if (reading->question->form == FORM_CHOICE)
		reading->out->may = may;
	reading->out->settled = count > 1;
	reading->out->text = kept;
	return true;
}

static bool read_kind(struct reading *reading, const char *text, size_t length)
{
	if (rulebook_kind(reading->book, text, length) == INDEX_NONE)
		return no_such_word(reading, text, length);
	return keep_text(reading, text, length);
}

static bool read_part(struct reading *reading, const char *text, size_t length)
{
	const char *fault = ref_shape_fault(text, length);

	if (fault == NULL)
		return keep_text(reading, text, length);
	err_set(reading->err, ERR_USAGE, "`%.*s` names no part: %s", SHOWN(length), text, fault);
	return false;
}

/* -- values --------------------------------------------------------------------------- */

static bool read_yes_no(struct reading *reading, const char *text, size_t length)
{
	/* as other YAML tools may have written it back */
	/* clang-format off */
	static const char *const words[][2] = {
		{"no", "yes"}, {"false", "true"}, {"off", "on"},
	};
	/* clang-format on */

	for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		for (int cell = CELL_NO; cell <= CELL_YES; cell++)
			if (text_is_in_any_case(text, length, words[i][cell])) {
				reading->out->may = (cells)1 << cell;
				return keep_text(reading, words[0][cell], strlen(words[0][cell]));
			}
	err_set(reading->err, ERR_USAGE, "`%.*s` is no answer to \"%s\": expected yes%s",
	        SHOWN(length), text, reading->question->label,
	        reading->question->cannot_tell ? ", no or cannot_tell" : " or no");
	return false;
}

static bool in_range(struct reading *reading, double value)
{
	const struct question *question = reading->question;
	char found[32], least[32], most[32];

	if (value >= question->least && value <= question->most)
		return true;
	number_format(value, found);
	number_format(question->least, least);
	number_format(question->most, most);
	err_set(reading->err, ERR_USAGE, "%s is out of range for \"%s\": expected %s to %s%s%s",
	        found, question->label, least, most, question->unit == NULL ? "" : " ",
	        question->unit == NULL ? "" : question->unit);
	return false;
}

static bool no_number(struct reading *reading, const char *text, size_t length,
                      enum unit_result result)
{
	const struct question *question = reading->question;

	if (result == UNIT_OTHER)
		err_set(reading->err, ERR_USAGE, "`%.*s` has a unit of another kind: expected %s",
		        SHOWN(length), text,
		        question->unit == NULL ? "a bare number" : question->unit);
	else if (result == UNIT_NAMED)
		err_set(reading->err, ERR_USAGE,
		        "`%.*s` is the name of a size and no measure: \"%s\" expects a number of %s",
		        SHOWN(length), text, question->label, question->unit);
	else
		err_set(reading->err, ERR_USAGE, "`%.*s` is not a number: \"%s\" expects %s%s",
		        SHOWN(length), text, question->label,
		        question->unit == NULL ? "a count" : "a number of ",
		        question->unit == NULL ? "" : question->unit);
	return false;
}

/* The key says the unit: what was written with one is kept as the bare number. */
/** What another unit gives is no more exact than what was read off: four figures. (45 psi is 310.3 kPa.) */
static double four_figures(double value)
{
	double size = value < 0 ? -value : value, scale = 1;

	while (size * scale < 1000 && scale < 1e6)
		scale *= 10;
	size = (double)(int64_t)(size * scale + 0.5) / scale;
	return value < 0 ? -size : size;
}

static bool read_number(struct reading *reading, const char *text, size_t length)
{
	double value = 0;
	enum unit_result result = number_with_unit(text, length, reading->question->unit, &value);
	char formatted[32];

	if (result == UNIT_OTHER || result == UNIT_NAMED || result == UNIT_BAD)
		return no_number(reading, text, length, result);
	if (result == UNIT_CONVERTED)
		value = four_figures(value);
	if (!in_range(reading, value))
		return false;
	reading->out->low = reading->out->high = value;
	reading->out->may = question_stretch(reading->question, value, value);
	if (result == UNIT_NONE)
		return keep_text(reading, text, length);
	number_format(value, formatted);
	return keep_text(reading, formatted, strlen(formatted));
}

static bool read_date(struct reading *reading, const char *text, size_t length)
{
	struct days days;

	if (!date_parse(text, length, &days)) {
		err_set(reading->err, ERR_USAGE, "`%.*s` is not a date: expected %s", SHOWN(length),
		        text, date_forms);
		return false;
	}
	reading->out->low = days.first;
	reading->out->high = days.last;
	reading->out->may = question_stretch(reading->question, days.first, days.last);
	return keep_text(reading, text, length);
}

static bool read_cannot_tell(struct reading *reading)
{
	const struct question *question = reading->question;

	if (!question->cannot_tell) {
		err_set(reading->err, ERR_USAGE, "\"%s\" can't be answered with %s",
		        question->label, cannot_tell);
		return false;
	}
	reading->out->settled = true;
	if (question->form == FORM_NUMBER) {
		reading->out->low = question->least;
		reading->out->high = question->most;
	} else if (question->form == FORM_DATE) {
		reading->out->low = DAY_FIRST;
		reading->out->high = DAY_LAST;
	}
	return keep_text(reading, cannot_tell, strlen(cannot_tell));
}

static bool read_form(struct reading *reading, const char *text, size_t length)
{
	switch (reading->question->form) {
	case FORM_CHOICE:
	case FORM_FEED:
	case FORM_TYPE:
		return read_words(reading, text, length);
	case FORM_YES_NO:
		return read_yes_no(reading, text, length);
	case FORM_NUMBER:
		return read_number(reading, text, length);
	case FORM_DATE:
		return read_date(reading, text, length);
	case FORM_TEXT:
		return keep_text(reading, text, length);
	case FORM_KIND:
		return read_kind(reading, text, length);
	case FORM_PART:
		return read_part(reading, text, length);
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	err_set(reading->err, ERR_USAGE, "\"%s\" is worked out, not answered",
	        reading->question->label);
	return false;
}

bool answer_read(const struct rulebook *book, question_index question, const char *text,
                 size_t length, struct arena *arena, struct answer *out, struct err *err)
{
	const struct question *asked = &book->question[question];
	struct answer answer = {.question = question, .may = question_all(asked)};
	struct reading reading = {book, asked, arena, &answer, err};

	if (!text_is_utf8(text, length, NULL) || memchr(text, '\0', length) != NULL) {
		err_set(err, ERR_USAGE, "the answer to \"%s\" is not text", asked->label);
		return false;
	}
	if (asked->form != FORM_TEXT) {
		trim(&text, &length);
		if (length == 0) {
			err_set(err, ERR_USAGE, "\"%s\" has an empty answer", asked->label);
			return false;
		}
		if (asked->form != FORM_MEASURED && text_is(text, length, cannot_tell)) {
			if (!read_cannot_tell(&reading))
				return false;
			*out = answer;
			return true;
		}
	}
	if (!read_form(&reading, text, length))
		return false;
	*out = answer;
	return true;
}

bool answer_is_ahead(const struct rulebook *book, const struct answer *answer)
{
	return book->question[answer->question].form == FORM_DATE && !answer->settled &&
	       answer->low > book->on;
}
