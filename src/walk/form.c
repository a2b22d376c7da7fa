/*
 * Moving about in a form, and what its keys ask for.
 */
#include "inside.h"

#include <string.h>

/* -- the form as a whole --------------------------------------------------------------------- */

bool line_is_answered(const struct line *line)
{
	if (line->item == NULL)
		return false;
	if (line->form == LINE_FITTED)
		return !line->item->nothing_said;
	return item_answer(line->item, line->question) != NULL;
}

/* Only in the form of a point: what is asked of the building is asked for all. */
static bool is_folded(struct walk *walk, size_t at)
{
	const struct item_form *form = &walk->form;
	const struct line *line = &form->line[at];

	return at != form->focus && (line->form == LINE_ANSWER || line->form == LINE_FITTED) &&
	       line->question != walk->book->known.point_seen && !line_is_answered(line) &&
	       !line_is_asked(walk, line);
}

void form_fold(struct walk *walk)
{
	struct item_form *form = &walk->form;
	bool folds = walk->folded && form->item->scope == SCOPE_POINT, shown = false;

	for (size_t i = form->count; i-- > 0;) {
		struct line *line = &form->line[i];

		line->hidden = folds && (line->form == LINE_HEAD ? !shown : is_folded(walk, i));
		shown = line->form == LINE_HEAD ? false : shown || !line->hidden;
	}
	/* what heads the form says whose it is */
	if (form->count > 0)
		form->line[0].hidden = false;
}

bool line_can_focus(const struct line *line)
{
	return line->where[0] != '\0' && !line->hidden;
}

struct line *form_line(struct walk *walk)
{
	struct item_form *form = &walk->form;

	if (form->item == NULL || form->focus >= form->count)
		return NULL;
	return &form->line[form->focus];
}

/* The nearest line that can be focused, looking on and then back. */
static void settle_focus(struct item_form *form)
{
	size_t at = form->focus;

	if (form->count == 0)
		return;
	if (at >= form->count)
		at = form->count - 1;
	while (at < form->count && !line_can_focus(&form->line[at]))
		at++;
	if (at == form->count)
		while (at > 0 && !line_can_focus(&form->line[--at]))
			;
	form->focus = at;
}

void form_focus(struct walk *walk, const char *where)
{
	struct item_form *form = &walk->form;

	for (size_t i = 0; i < form->count && where[0] != '\0'; i++) {
		if (strcmp(form->line[i].where, where) == 0) {
			form->focus = i;
			return;
		}
	}
	settle_focus(form);
}

void form_rebuild(struct walk *walk)
{
	const struct line *line = form_line(walk);
	const char *where = line == NULL ? "" : line->where;

	where = arena_copy(&walk->scratch, where, strlen(where));
	form_build(walk);
	form_focus(walk, where == NULL ? "" : where);
}

void form_move(struct walk *walk, int by)
{
	struct item_form *form = &walk->form;
	int step = by < 0 ? -1 : 1;
	long at = (long)form->focus;

	while (by != 0) {
		long next = at + step;

		while (next >= 0 && next < (long)form->count && !line_can_focus(&form->line[next]))
			next += step;
		if (next < 0 || next >= (long)form->count)
			break;
		at = next;
		by -= step;
	}
	form->focus = (size_t)at;
}

/* -- keys ------------------------------------------------------------------------------------ */

/* The form that a question led away from, else the house. */
static void back(struct walk *walk)
{
	const char *ref = walk->came_from;
	struct item *item = ref == NULL ? NULL : survey_find(walk->survey, ref, strlen(ref));

	if (walk->came_from_leaving)
		show_leaving(walk);
	else if (item != NULL)
		show_form(walk, item);
	else
		show_house(walk);
}

static const struct question *line_question(const struct walk *walk, const struct line *line)
{
	return line->form == LINE_ANSWER ? &walk->book->question[line->question] : NULL;
}

static bool is_typed(const struct question *question)
{
	return question != NULL && (question->form == FORM_NUMBER || question->form == FORM_DATE ||
	                            question->form == FORM_TEXT);
}

bool line_is_typed(const struct walk *walk, const struct line *line)
{
	return is_typed(line_question(walk, line));
}

static void give_and_go_on(struct walk *walk, const struct line *line, const char *text)
{
	if (answer_give(walk, line, text))
		form_move(walk, 1);
}

static void pick(struct walk *walk, const struct line *line, const struct walk_key *key)
{
	const struct question *question = line_question(walk, line);
	size_t number = (size_t)(key->text[0] - '1');
	struct choices choices;

	if (is_typed(question)) {
		answer_open(walk, line, key);
		return;
	}
	if (question == NULL) {
		say(walk, "Nothing is numbered here.");
		return;
	}
	choices = options_of(walk, line->item, line->question, &walk->scratch);
	if (choices.count > 9)
		answer_open(walk, line, NULL);
	else if (number < choices.count)
		give_and_go_on(walk, line, choices.item[number].id);
	else
		say(walk, "There is no number %zu here.", number + 1);
}

static void yes_or_no(struct walk *walk, const struct line *line, const char *word)
{
	const struct question *question = line_question(walk, line);
	const char *id = question == NULL ? NULL : option_by_word(question, word);

	if (id != NULL)
		give_and_go_on(walk, line, id);
	else if (question != NULL && question->form == FORM_CHOICE && (question->option_count <= 9))
		say(walk, "None of these is a plain %s: press its number.", word);
	else if (question == NULL && line->form != LINE_FITTED)
		say(walk, "There is nothing to be answered on this line.");
	else
		say(walk, "This is no yes or no: %s answers it.", key_words(walk, REQUEST_ANSWER));
}

static void nothing(struct walk *walk, const struct line *line, const struct walk_key *key)
{
	if (is_typed(line_question(walk, line)))
		answer_open(walk, line, key);
	else if (line->form == LINE_FITTED && answer_fitted(walk, line, "nothing"))
		form_move(walk, 1);
	else if (line->form != LINE_FITTED)
		say(walk, "0 says that nothing is fitted, on the line that asks it.");
}

static void cannot_tell(struct walk *walk, const struct line *line)
{
	const struct question *question = line_question(walk, line);

	if (line->form == LINE_FITTED && answer_fitted(walk, line, "cannot_tell"))
		form_move(walk, 1);
	else if (question != NULL && question->cannot_tell && question->form != FORM_TEXT)
		give_and_go_on(walk, line, "cannot_tell");
	else if (line->form != LINE_FITTED)
		say(walk, "That is no answer here: answer it, or leave it open.");
}

static void answer(struct walk *walk, const struct line *line)
{
	struct addition addition = {.scope = line->scope,
	                            .parent = line->item,
	                            .point = line->point,
	                            .inlet_index = line->inlet_index};

	switch (line->form) {
	case LINE_ANSWER:
		answer_open(walk, line, NULL);
		break;
	case LINE_FITTED:
		addition.scope = SCOPE_PROTECTION;
		add_begin(walk, &addition);
		break;
	case LINE_ADD:
		add_begin(walk, &addition);
		break;
	case LINE_ROOMS:
		show_house(walk);
		if (!walk->form.leaving) /* the first room, or where it is added */
			walk->house.focus = 1;
		break;
	case LINE_ITEM:
		house_focus(walk, line->item);
		show_form(walk, line->item);
		form_first_ask(walk);
		walk->came_from_leaving = true;
		break;
	case LINE_HEAD:
	case LINE_NOTE:
		break;
	}
}

/* Folding keeps what is in focus in sight. */
static void fold(struct walk *walk)
{
	if (walk->form.item->scope != SCOPE_POINT) {
		say(walk, "Only the form of an outlet or appliance folds.");
		return;
	}
	walk->folded = !walk->folded;
	if (walk->folded)
		say(walk, "What can't move the verdict is folded away; %s shows it again.",
		    key_words(walk, REQUEST_FOLD));
	else
		say(walk, "All questions are shown.");
}

static bool press_line(struct walk *walk, enum request request, const struct walk_key *key)
{
	const struct line *focused = form_line(walk);
	struct line copy;
	const struct line *line = &copy; /* an answer makes the form anew */

	if (focused == NULL)
		return false;
	copy = *focused;
	if (request == REQUEST_ANSWER)
		answer(walk, line);
	else if (request == REQUEST_PICK)
		pick(walk, line, key);
	else if (request == REQUEST_YES)
		yes_or_no(walk, line, "yes");
	else if (request == REQUEST_NO)
		yes_or_no(walk, line, "no");
	else if (request == REQUEST_NOTHING)
		nothing(walk, line, key);
	else if (request == REQUEST_CANNOT_TELL)
		cannot_tell(walk, line);
	else if (request == REQUEST_CLEAR)
		answer_clear(walk, line);
	else
		return false;
	return true;
}

void form_press(struct walk *walk, enum request request, const struct walk_key *key)
{
	struct item_form *form = &walk->form;

	form_fold(walk);
	if (press_line(walk, request, key))
		return;
	if (request == REQUEST_UP || request == REQUEST_UP_LETTER || request == REQUEST_PREVIOUS)
		form_move(walk, -1);
	else if (request == REQUEST_DOWN || request == REQUEST_DOWN_LETTER ||
	         request == REQUEST_NEXT)
		form_move(walk, 1);
	else if (request == REQUEST_PAGE_UP)
		form_move(walk, -walk->page);
	else if (request == REQUEST_PAGE_DOWN)
		form_move(walk, walk->page);
	else if (request == REQUEST_FIRST)
		form_move(walk, -(int)form->count);
	else if (request == REQUEST_LAST)
		form_move(walk, (int)form->count);
	else if (request == REQUEST_NEXT_ASK)
		form_next_ask(walk);
	else if (request == REQUEST_NEXT_GROUP)
		jump_group(walk, 1);
	else if (request == REQUEST_PREVIOUS_GROUP)
		jump_group(walk, -1);
	else if (request == REQUEST_FOLD)
		fold(walk);
	else if (request == REQUEST_BACK)
		back(walk);
}
