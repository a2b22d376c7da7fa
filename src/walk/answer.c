/*
 * Giving, clearing and drafting an answer.
 */
#include "inside.h"

#include "tundish/base/date.h"
#include "tundish/base/number.h"

#include <stdio.h>
#include <string.h>

static bool is_listed(enum form form)
{
	return form == FORM_CHOICE || form == FORM_YES_NO || form == FORM_KIND ||
	       form == FORM_TYPE || form == FORM_FEED || form == FORM_PART;
}

static void open_list(struct walk *walk, const struct line *line)
{
	const struct question *question = &walk->book->question[line->question];
	struct choices choices;

	/* the list keeps what it shows in an arena of its own */
	arena_reset(&walk->chooser.arena);
	choices = options_of(walk, line->item, line->question, &walk->chooser.arena);
	if (choices.count == 0) {
		say(walk, "There is none to choose from yet: add one on the premises sheet.");
		return;
	}
	if (question->cannot_tell) {
		struct choice *grown = arena_grow(&walk->chooser.arena, choices.item, choices.count,
		                                  &choices.room, sizeof(*grown));

		if (grown != NULL) {
			choices.item = grown;
			grown[choices.count++] =
			        (struct choice){.id = "cannot_tell", .label = "cannot tell"};
		}
	}
	choose_open(walk, FOR_ANSWER, question->label, choices,
	            question->form == FORM_CHOICE || question->form == FORM_FEED,
	            line->item == NULL ? NULL : item_text(line->item, line->question));
}

void answer_open(struct walk *walk, const struct line *line, const struct walk_key *first)
{
	const struct question *question = &walk->book->question[line->question];
	const char *text = line->item == NULL ? NULL : item_text(line->item, line->question);

	walk->target = *line;
	walk->purpose = FOR_ANSWER;
	if (is_listed(question->form)) {
		open_list(walk, line);
		return;
	}
	if (text != NULL && strcmp(text, "cannot_tell") == 0)
		text = NULL;
	field_set(&walk->field, first != NULL || text == NULL ? "" : text);
	if (first != NULL)
		field_insert(&walk->field, first->text, first->length);
	walk->over = OVER_FIELD;
	walk->value_wrong = false;
	if (first != NULL)
		draft_text(walk, walk->field.text);
}

/* -- what was meant -------------------------------------------------------------------------- */

/* As the survey keeps it: a number in its question's unit, whatever unit it was typed in. */
static const char *kept_text(struct walk *walk, const struct question *question,
                             const struct answer *answer)
{
	char number[32];

	if (question->form != FORM_NUMBER || answer->settled)
		return answer->text;
	number_format(answer->low, number);
	return arena_print(&walk->scratch, "%s", number);
}

/* -- giving ---------------------------------------------------------------------------------- */

/* The kind and what feeds it shape the house; all else that hangs on a point moves its own verdict
 * alone, unless others are fed through it. */
static bool moves_whole(const struct walk *walk, const struct line *line)
{
	enum form form = walk->book->question[line->question].form;

	return line->point == NULL || form == FORM_KIND || form == FORM_FEED ||
	       shapes_house(walk, line->point, SCOPE_INLET);
}

static bool change_answer(struct walk *walk, const struct line *line, struct item *item,
                          const char *text)
{
	const char *where = survey_where(walk->survey, item, line->question, &walk->scratch);

	return where != NULL && step_change(walk, where, item_text(item, line->question), text,
	                                    moves_whole(walk, line));
}

/* It would be kept and tell nothing: who types it is there to be asked. */
static void say_ahead(struct walk *walk, const struct answer *answer)
{
	char today[11];

	date_format(walk->book->on, today);
	say_trouble(walk, "%s is after today, %s", answer->text, today);
}

bool answer_give(struct walk *walk, const struct line *line, const char *text)
{
	const struct question *question = &walk->book->question[line->question];
	struct item *item = line->item;
	struct answer answer;
	struct err err = {0};
	const char *kept;

	text = meant(walk, question, text);
	if (!answer_read(walk->book, line->question, text, strlen(text), &walk->scratch, &answer,
	                 &err)) {
		say_trouble(walk, "%s", err.message);
		return false;
	}
	if (answer_is_ahead(walk->book, &answer)) {
		say_ahead(walk, &answer);
		return false;
	}
	kept = kept_text(walk, question, &answer);
	draft_none(walk);
	if (kept == NULL)
		return false;
	if (item != NULL && item_text(item, line->question) != NULL &&
	    strcmp(item_text(item, line->question), kept) == 0)
		return true;
	if (item == NULL)
		item = inlet_item(walk, line->point, line->inlet_index);
	return step_end(walk, item != NULL && change_answer(walk, line, item, kept));
}

static bool clear_fitted(struct walk *walk, const struct line *line)
{
	const struct item *inlet = line->item;

	if (inlet != NULL && item_children(inlet, SCOPE_PROTECTION) > 0) {
		say(walk, "Go to what is fitted and remove it with d.");
		return false;
	}
	return inlet == NULL || inlet->nothing_said || answer_fitted(walk, line, NULL);
}

void answer_clear(struct walk *walk, const struct line *line)
{
	if (line->form == LINE_FITTED) {
		clear_fitted(walk, line);
		return;
	}
	if (line->form != LINE_ANSWER || line->item == NULL ||
	    item_answer(line->item, line->question) == NULL) {
		say(walk, "There is no answer here to take back.");
		return;
	}
	step_end(walk, change_answer(walk, line, line->item, NULL));
}

static const char *fitted_text(const struct item *inlet)
{
	if (inlet->cannot_tell)
		return "cannot_tell";
	return inlet->nothing_said ? NULL : "nothing";
}

/* @p what: "nothing", "cannot_tell", or NULL for not answered. */
bool answer_fitted(struct walk *walk, const struct line *line, const char *what)
{
	struct item *inlet = line->item;
	const char *where;

	if (inlet != NULL && item_children(inlet, SCOPE_PROTECTION) > 0) {
		say(walk, "Something is fitted here: remove it with d first.");
		return false;
	}
	if (inlet == NULL)
		inlet = inlet_item(walk, line->point, line->inlet_index);
	if (inlet == NULL)
		return step_end(walk, false);
	where = arena_print(&walk->scratch, "%s/inlets/%s/protection", line->point->ref,
	                    inlet->ref);
	return step_end(walk,
	                where != NULL && step_change(walk, where, fitted_text(inlet), what,
	                                             shapes_house(walk, inlet, SCOPE_PROTECTION)));
}

/* -- the open field -------------------------------------------------------------------------- */

static bool only_blanks(const char *text)
{
	return text[strspn(text, " ")] == '\0';
}

/* Whoever types on types an answer, never commands: the next field is open already. */
static void open_next(struct walk *walk, const struct line *last)
{
	const struct line *line = form_line(walk);
	struct line next;

	if (line == NULL || !line_is_typed(walk, line) || strcmp(line->where, last->where) == 0)
		return;
	next = *line;
	answer_open(walk, &next, NULL);
}

/* Take what is typed, then go @p then lines on. A wrong value stays to be mended. */
void answer_keep(struct walk *walk, int then, bool opens)
{
	struct line line = walk->target;

	/* the form is made anew by an answer */
	line.where = arena_copy(&walk->scratch, line.where, strlen(line.where));

	if (only_blanks(walk->field.text)) {
		draft_none(walk);
		walk->over = OVER_NOTHING;
		if (line.item != NULL && item_answer(line.item, line.question) != NULL)
			answer_clear(walk, &line);
	} else if (!answer_give(walk, &line, walk->field.text)) {
		walk->value_wrong = true;
		return;
	}
	walk->value_wrong = false;
	walk->over = OVER_NOTHING;
	form_move(walk, then);
	if (opens && line.where != NULL)
		open_next(walk, &line);
}

void draft_text(struct walk *walk, const char *text)
{
	const struct line *line = &walk->target;

	if (walk->purpose == FOR_ANSWER && line->form == LINE_ANSWER)
		draft_answer(walk, line, meant(walk, &walk->book->question[line->question], text));
	else if (walk->purpose == FOR_NEW)
		draft_addition(walk, &walk->adding, text);
	else
		draft_none(walk);
}
