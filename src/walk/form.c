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

/* -- what can still move the verdict --------------------------------------------------------- */

unsigned ask_inlet(const struct walk *walk, const struct ask *ask)
{
	int index;

	if (ask->inlet_index < INLETS_MOST || ask->item == NULL || ask->item->scope != SCOPE_INLET)
		return ask->inlet_index;
	index = survey_inlet_index(walk->survey, ask->item);
	return index < 0 ? INLETS_MOST : (unsigned)index;
}

/* An inlet that the survey lacks has an item of the judge's own, so inlets are told by their place
 * in the kind. */
static bool line_asks(const struct walk *walk, const struct line *line, const struct ask *ask)
{
	bool of_inlet = ask->item == NULL || ask->item->scope == SCOPE_INLET;

	if (of_inlet && line->inlet_index != ask_inlet(walk, ask))
		return false;
	if (ask->question == QUESTION_NONE)
		return line->form == LINE_FITTED && of_inlet;
	/* a question of a test, where none was made yet */
	if (line->form == LINE_ADD && line->scope == SCOPE_TEST && line->item == ask->item)
		return walk->book->question[ask->question].scope == SCOPE_TEST;
	return line->form == LINE_ANSWER && line->question == ask->question &&
	       (of_inlet || line->item == ask->item);
}

bool line_is_asked(struct walk *walk, const struct line *line)
{
	const struct assessment *now;

	if (walk->form.item->scope != SCOPE_POINT)
		return false;
	now = verdict_now(walk, walk->form.item);
	for (size_t i = 0; now != NULL && i < now->ask_count; i++)
		if (line_asks(walk, line, &now->ask[i]))
			return true;
	return false;
}

/* A question of the premises, a part or a branch that this point's verdict hangs on. */
static bool ask_elsewhere(struct walk *walk, const struct assessment *now)
{
	const struct item *point = walk->form.item;

	for (size_t i = 0; i < now->ask_count; i++) {
		const struct ask *ask = &now->ask[i];
		const char *where;

		if (ask->item == NULL || ask->item->scope > SCOPE_ROOM ||
		    ask->question == QUESTION_NONE)
			continue;
		where = survey_where(walk->survey, ask->item, ask->question, &walk->scratch);
		if (where == NULL)
			continue;
		show_form(walk,
		          ask->item->scope == SCOPE_ROOM ? point->parent : walk->survey->premises);
		form_focus(walk, where);
		walk->came_from = point->ref;
		say(walk, "The verdict hangs on this too. Esc: back to %s.",
		    item_title(walk, point, &walk->scratch));
		return true;
	}
	return false;
}

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

static void next_open(struct walk *walk)
{
	struct item_form *form = &walk->form;

	for (size_t i = 1; i <= form->count; i++) {
		size_t at = (form->focus + i) % form->count;
		const struct line *line = &form->line[at];

		if (line->form == LINE_ANSWER &&
		    (line->item == NULL || item_answer(line->item, line->question) == NULL)) {
			form->focus = at;
			return;
		}
	}
	say(walk, "All is answered here.");
}

static bool focus_asked(struct walk *walk, size_t from, size_t to)
{
	for (size_t i = from; i < to; i++) {
		if (line_is_asked(walk, &walk->form.line[i])) {
			walk->form.focus = i;
			return true;
		}
	}
	return false;
}

void form_first_ask(struct walk *walk)
{
	if (walk->form.item->scope == SCOPE_POINT && verdict_now(walk, walk->form.item) != NULL)
		focus_asked(walk, 0, walk->form.count);
}

void form_next_ask(struct walk *walk)
{
	struct item_form *form = &walk->form;
	const struct assessment *now;

	if (form->item->scope != SCOPE_POINT) {
		next_open(walk);
		return;
	}
	now = verdict_now(walk, form->item);
	if (now == NULL) {
		say_trouble(walk, "%s", walk->verdicts.err.message);
		return;
	}
	if (focus_asked(walk, form->focus + 1, form->count) || ask_elsewhere(walk, now) ||
	    focus_asked(walk, 0, form->focus + 1))
		return;
	say(walk, "No question left here can move the verdict. Esc: back.");
}

/* -- keys ------------------------------------------------------------------------------------ */

static const struct question *line_question(const struct walk *walk, const struct line *line)
{
	return line->form == LINE_ANSWER ? &walk->book->question[line->question] : NULL;
}

static bool is_typed(const struct question *question)
{
	return question != NULL && (question->form == FORM_NUMBER || question->form == FORM_DATE ||
	                            question->form == FORM_TEXT);
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

	if (question != NULL &&
	    (question->form == FORM_YES_NO ||
	     (question->form == FORM_CHOICE && question_option(question, word, strlen(word)) >= 0)))
		give_and_go_on(walk, line, word);
	else
		say(walk, "This is no yes or no: Enter answers it.");
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
	say(walk, walk->folded ? "What can't move the verdict is folded away; z shows it again."
	                       : "All questions are shown.");
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
