/*
 * The walk in words: what has the focus, what can be said of it, what the verdict is.
 */
#include "tundish/walk/tell.h"

#include "pane.h"

#include <string.h>

/* -- where we are ---------------------------------------------------------------------------- */

const char *walk_title(struct walk *walk, struct arena *arena)
{
	const struct line *target = &walk->target;
	const char *title = where_words(walk);

	if (walk->over == OVER_LIST)
		title = walk->chooser.title;
	else if (walk->over == OVER_FIELD && walk->purpose == FOR_ANSWER)
		title = walk->book->question[target->question].label;
	else if (walk->over == OVER_FIELD)
		title = prompt_words(walk);
	return title == NULL ? "" : arena_copy(arena, title, strlen(title));
}

const char *walk_message(const struct walk *walk, bool *trouble)
{
	*trouble = walk->trouble && walk->message[0] != '\0';
	return walk->message;
}

static bool in_form(const struct walk *walk)
{
	enum view view = walk->view == VIEW_VERDICT ? walk->view_before : walk->view;

	return view == VIEW_FORM && walk->form.item != NULL;
}

/* -- lines ----------------------------------------------------------------------------------- */

size_t walk_lines(const struct walk *walk, size_t *focus)
{
	const struct item_form *form = &walk->form;
	size_t count = 0, at = 0;

	if (!in_form(walk)) {
		count = walk->house.count;
		at = count == 0 ? 0 : walk->house.focus + 1;
	}
	for (size_t i = 0; in_form(walk) && i < form->count; i++) {
		if (!line_can_focus(&form->line[i]))
			continue;
		count++;
		if (i == form->focus)
			at = count;
	}
	if (focus != NULL)
		*focus = at;
	return count;
}

static const char *row_value(struct walk *walk, struct house_row *row, struct arena *arena)
{
	const char *words;

	if (row->form == ROW_ROOM && item_children(row->item, SCOPE_POINT) == 0)
		return "nothing in it yet";
	if (row->form != ROW_POINT)
		return NULL;
	words = row_verdict_words(walk, row);
	return words == NULL ? NULL : arena_copy(arena, words, strlen(words));
}

static bool tell_row(struct walk *walk, size_t number, struct arena *arena, struct told_line *out)
{
	struct house_row *row;

	if (number == 0 || number > walk->house.count)
		return false;
	row = house_at(&walk->house, number - 1);
	*out = (struct told_line){.takes = TOLD_NOTHING, .opens_item = row->form != ROW_ADD_ROOM};
	out->label = row->form == ROW_ADD_ROOM ? "add a room" : item_title(walk, row->item, arena);
	if (row->form == ROW_POINT)
		out->head = item_title(walk, row->item->parent, arena);
	out->value = row_value(walk, row, arena);
	return true;
}

static const char *fitted_words(struct walk *walk, const struct item *inlet, struct arena *arena)
{
	const struct item *protection;
	const char *joined = NULL;

	if (inlet == NULL)
		return NULL;
	for (size_t i = 0; (protection = item_child(inlet, SCOPE_PROTECTION, i)) != NULL; i++) {
		const char *title = item_title(walk, protection, arena);

		joined = joined == NULL ? title : arena_print(arena, "%s; %s", joined, title);
	}
	if (joined != NULL)
		return joined;
	if (inlet->cannot_tell)
		return "cannot tell";
	return inlet->nothing_said ? NULL : "nothing";
}

static bool is_typed(enum form form)
{
	return form == FORM_NUMBER || form == FORM_DATE || form == FORM_TEXT;
}

static void tell_answer(struct walk *walk, const struct line *line, struct arena *arena,
                        struct told_line *out)
{
	const struct question *question = &walk->book->question[line->question];

	out->takes = is_typed(question->form) ? TOLD_TEXT : TOLD_CHOICE;
	out->cannot_tell = question->cannot_tell && question->form != FORM_TEXT;
	out->label = line->text == NULL ? question->label : line->text;
	out->value = value_text(walk, line->item, line->question, arena);
}

static void tell_fitted(struct walk *walk, const struct line *line, struct arena *arena,
                        struct told_line *out)
{
	out->takes = TOLD_CHOICE;
	out->cannot_tell = out->nothing = true;
	out->label = line->text;
	out->value = fitted_words(walk, line->item, arena);
}

/* What the screen draws before such a line is no word. */
static const char *unmarked(const char *text)
{
	return text + strspn(text, "+>* ");
}

/* Only what is added by choosing or naming takes a word; a test and an action just appear. */
static enum told_takes addition_takes(enum scope scope)
{
	if (scope == SCOPE_POINT || scope == SCOPE_PROTECTION)
		return TOLD_CHOICE;
	return scope == SCOPE_PART || scope == SCOPE_BRANCH || scope == SCOPE_ROOM ? TOLD_TEXT
	                                                                           : TOLD_NOTHING;
}

static void tell_line(struct walk *walk, const struct line *line, struct arena *arena,
                      struct told_line *out)
{
	*out = (struct told_line){.where = line->where, .takes = TOLD_NOTHING};
	if (line->form == LINE_ANSWER || line->form == LINE_FITTED) {
		if (line->form == LINE_ANSWER)
			tell_answer(walk, line, arena, out);
		else
			tell_fitted(walk, line, arena, out);
		out->answered = out->value != NULL;
		if (!out->answered)
			out->value = "not answered";
	} else {
		out->label = unmarked(line->text);
		out->opens_item = line->form == LINE_ITEM;
		out->value = out->opens_item && line->said[0] != '\0' ? line->said : NULL;
		if (line->form == LINE_ADD)
			out->takes = addition_takes(line->scope);
	}
	out->asked = line_is_asked(walk, line);
}

static void tell_above(const struct item_form *form, size_t at, struct told_line *out)
{
	while (at-- > 0) {
		const struct line *line = &form->line[at];

		if (line->form == LINE_NOTE && out->note == NULL)
			out->note = line->text;
		if (line->form != LINE_HEAD)
			continue;
		out->head = line->text;
		return;
	}
}

bool walk_line(struct walk *walk, size_t number, struct arena *arena, struct told_line *out)
{
	const struct item_form *form = &walk->form;

	if (!in_form(walk))
		return tell_row(walk, number, arena, out);
	if (form->item->scope == SCOPE_POINT)
		verdict_now(walk, form->item); /* what is asked comes from it */
	for (size_t i = 0; number > 0 && i < form->count; i++) {
		if (!line_can_focus(&form->line[i]) || --number > 0)
			continue;
		tell_line(walk, &form->line[i], arena, out);
		tell_above(form, i, out);
		return true;
	}
	return false;
}

/* -- what can be said ------------------------------------------------------------------------ */

static struct told_choice told(const struct choice *choice)
{
	return (struct told_choice){choice->id, choice->label, choice->note, choice->ticked};
}

static const struct line *answer_line(struct walk *walk)
{
	const struct line *line = in_form(walk) ? form_line(walk) : NULL;

	return line != NULL && line->form == LINE_ANSWER ? line : NULL;
}

size_t walk_options(struct walk *walk, struct arena *arena, struct told_choice **out)
{
	const struct line *line = answer_line(walk);
	struct choices choices = {0};

	if (line != NULL)
		choices = options_of(walk, line->item, line->question, arena);
	*out = arena_take(arena, (choices.count + 1) * sizeof(**out));
	if (*out == NULL)
		return 0;
	for (size_t i = 0; i < choices.count; i++)
		(*out)[i] = told(&choices.item[i]);
	return choices.count;
}

const char *walk_form_words(struct walk *walk, struct arena *arena)
{
	const struct line *line = answer_line(walk);
	const struct question *question;

	if (line == NULL)
		return NULL;
	question = &walk->book->question[line->question];
	if (question->form == FORM_DATE)
		return "a year, month or day: 2019, 4/2019, 3/4/2019, today; or before July 1999";
	return question->form == FORM_TEXT ? "any text" : form_words(question, arena);
}

size_t walk_choices(const struct walk *walk, size_t *focus)
{
	if (focus != NULL)
		*focus = walk->chooser.shown_count == 0 ? 0 : walk->chooser.focus + 1;
	return walk->chooser.shown_count;
}

bool walk_choice(const struct walk *walk, size_t number, struct told_choice *out)
{
	const struct chooser *chooser = &walk->chooser;

	if (number == 0 || number > chooser->shown_count)
		return false;
	*out = told(&chooser->choices.item[chooser->shown[number - 1]]);
	return true;
}

bool walk_several(const struct walk *walk)
{
	return walk->chooser.several;
}

/* -- the verdict, and why -------------------------------------------------------------------- */

const char *walk_verdict(struct walk *walk, struct arena *arena)
{
	struct pane pane;

	if (point_shown(walk) == NULL || quiz_hides(walk, point_shown(walk)))
		return NULL;
	pane = pane_one_line(walk, arena, 0);
	return pane.count == 0 ? NULL : pane.line[0].text;
}

struct told_texts walk_whole_verdict(struct walk *walk, struct arena *arena)
{
	struct pane pane;

	while (walk_think(walk)) /* a sum that is read is a whole one */
		;
	pane = pane_whole(walk, arena, 0);
	return pane_texts(&pane, arena);
}

const char *walk_caution(void)
{
	return pane_caution;
}

struct told_texts walk_why(struct walk *walk, struct arena *arena)
{
	struct pane pane = help_why(walk, arena);

	return pane_texts(&pane, arena);
}
