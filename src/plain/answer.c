/*
 * What a line answers: one of a list, the text of a field, the focused line of a form.
 */
#include "inside.h"

#include <string.h>

/* -- a list ---------------------------------------------------------------------------------- */

static void go_to_choice(struct plain *plain, size_t number)
{
	size_t focus;

	press_request(plain, REQUEST_FIRST);
	for (walk_choices(plain->walk, &focus); focus < number; focus++)
		press_request(plain, REQUEST_DOWN);
}

/* What was understood is said, where it is not what was typed. */
static void take_choice(struct plain *plain, size_t number, const char *text)
{
	struct told_choice choice;
	const char *label = NULL;

	go_to_choice(plain, number);
	if (walk_choice(plain->walk, number, &choice))
		label = arena_copy(&plain->arena, choice.label, strlen(choice.label));
	press_request(plain, REQUEST_TAKE);
	if (label != NULL && !same_word(label, text))
		tell(plain, "= %s", label);
}

/* "1, 3": one of these, not known which. */
static bool tick_numbers(struct plain *plain, const char *text)
{
	enum { TICKS_MOST = 64 };
	size_t number[TICKS_MOST], count = numbers_of(text, number, TICKS_MOST);
	size_t shown = walk_choices(plain->walk, NULL);
	const char *labels = NULL;

	if (count < 2 || !walk_several(plain->walk))
		return false;
	for (size_t i = 0; i < count; i++) {
		if (number[i] < 1 || number[i] > shown) {
			tell(plain, "! There is no number %zu here.", number[i]);
			return true;
		}
	}
	for (size_t i = 0; i < count; i++) {
		struct told_choice choice;

		go_to_choice(plain, number[i]);
		if (!walk_choice(plain->walk, number[i], &choice))
			continue;
		labels = arena_print(&plain->arena, "%s%s%s", labels == NULL ? "" : labels,
		                     labels == NULL ? "" : " or ", choice.label);
		if (!choice.ticked)
			press_request(plain, REQUEST_TICK);
	}
	press_request(plain, REQUEST_TAKE);
	if (labels != NULL)
		tell(plain, "= %s", labels);
	return true;
}

static size_t find_choice(struct plain *plain, const char *text)
{
	size_t count = walk_choices(plain->walk, NULL);
	struct told_choice *choice = arena_take(&plain->arena, (count + 1) * sizeof(*choice));

	for (size_t i = 0; choice != NULL && i < count; i++)
		walk_choice(plain->walk, i + 1, &choice[i]);
	return choice == NULL ? 0 : choice_named(choice, count, text);
}

static bool is_number(const char *text)
{
	return text[0] != '\0' && text[strspn(text, "0123456789")] == '\0';
}

/* A name that only one thing has takes it; one that several share leaves these to choose from. */
void answer_list(struct plain *plain, const char *text)
{
	size_t number = find_choice(plain, text);

	if (number > 0) {
		take_choice(plain, number, text);
		return;
	}
	if (tick_numbers(plain, text))
		return;
	if (is_number(text)) { /* of what is shown: never of what was narrowed away */
		plain->unknown = true;
		tell(plain, "! There is no number %s here.", text);
		return;
	}
	press_request(plain, REQUEST_TEXT_KILL_START);
	number = find_choice(plain, text);
	if (number > 0) {
		take_choice(plain, number, text);
		return;
	}
	paste(plain, text);
	if (walk_choices(plain->walk, NULL) == 1) {
		take_choice(plain, 1, text);
	} else if (walk_choices(plain->walk, NULL) == 0) {
		press_request(plain, REQUEST_TEXT_KILL_START);
		plain->unknown = true;
		tell(plain, "! Nothing to choose here is called `%s`; ? says what can be said.",
		     text);
	}
}

/* -- a field --------------------------------------------------------------------------------- */

/* Nothing is cut: a text that the field can't hold is not taken at all. */
void answer_field(struct plain *plain, const char *text)
{
	bool trouble;

	press_request(plain, REQUEST_TEXT_LAST);
	press_request(plain, REQUEST_TEXT_KILL_START);
	paste(plain, text);
	walk_message(plain->walk, &trouble);
	if (trouble)
		press_request(plain, REQUEST_CANCEL);
	else
		press_request(plain, REQUEST_KEEP_DOWN); /* each line says what it answers */
}

/* -- the form -------------------------------------------------------------------------------- */

/* What was understood, where it is not what was typed. */
static void tell_understood(struct plain *plain, const char *where, const char *text)
{
	size_t count = walk_lines(plain->walk, NULL);
	struct told_line line;

	for (size_t i = 1; where != NULL && i <= count; i++) {
		if (!walk_line(plain->walk, i, &plain->arena, &line) || line.where == NULL ||
		    strcmp(line.where, where) != 0)
			continue;
		if (line.value != NULL && line.answered && !same_word(line.value, text))
			tell(plain, "= %s", line.value);
		return;
	}
}

/* Open it, say it; a value that is none leaves the line as it was. */
static void answer_line(struct plain *plain, const struct told_line *line, const char *text)
{
	const char *where = line->where == NULL
	                            ? NULL
	                            : arena_copy(&plain->arena, line->where, strlen(line->where));

	plain->unknown = false;
	press_request(plain, REQUEST_ANSWER);
	if (is_in(plain, IN_LIST)) {
		answer_list(plain, text);
		if (plain->unknown && is_in(plain, IN_LIST))
			press_request(plain, REQUEST_CANCEL);
	} else if (is_in(plain, IN_TEXT)) {
		answer_field(plain, text);
		if (is_in(plain, IN_TEXT))
			press_request(plain, REQUEST_CANCEL);
		else if (line->value != NULL)
			tell_understood(plain, where, text);
	}
}

void answer_form(struct plain *plain, const char *text)
{
	struct told_line line;
	size_t focus;

	walk_lines(plain->walk, &focus);
	if (!walk_line(plain->walk, focus, &plain->arena, &line))
		return;
	if (line.takes == TOLD_NOTHING)
		tell(plain, "! `%s` is no command here: ? lists them.", text);
	else if (line.nothing && same_word(text, "nothing"))
		press_request(plain, REQUEST_NOTHING);
	else if (line.cannot_tell &&
	         (same_word(text, "cannot tell") || same_word(text, "cannot_tell")))
		press_request(plain, REQUEST_CANNOT_TELL);
	else
		answer_line(plain, &line, text);
}

bool is_answer_first(struct plain *plain, const char *text, enum request request)
{
	struct told_choice *option;
	struct told_line line;
	size_t focus, count;

	if (is_in(plain, IN_TASK))
		return is_choice_of_task(plain, text);
	if (!is_in(plain, IN_FORM))
		return false;
	walk_lines(plain->walk, &focus);
	if (!walk_line(plain->walk, focus, &plain->arena, &line))
		return false;
	if (line.takes == TOLD_TEXT)
		return request == REQUEST_YES || request == REQUEST_NO ||
		       (request == REQUEST_NOTHING && line.value != NULL);
	count = walk_options(plain->walk, &plain->arena, &option);
	return count > 0 && choice_named(option, count, text) > 0;
}
