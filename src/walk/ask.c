/*
 * What can still move the verdict: which lines of a form are asked, and the way to the next.
 */
#include "inside.h"

#include <string.h>

unsigned ask_inlet(const struct walk *walk, const struct ask *ask)
{
	int index;

	if (ask->inlet_index < INLETS_MOST || ask->item == NULL || ask->item->scope != SCOPE_INLET)
		return ask->inlet_index;
	index = survey_inlet_index(walk->survey, ask->item);
	return index < 0 ? INLETS_MOST : (unsigned)index;
}

const struct item *ask_home(const struct walk *walk, const struct ask *ask)
{
	const struct item *item = ask->item;

	while (item != NULL && item->scope != SCOPE_POINT && item->scope != SCOPE_ROOM)
		item = item->parent;
	return item == NULL ? walk->survey->premises : item;
}

/* An inlet that the survey lacks has an item of the judge's own, so inlets are told by their place
 * in the kind. */
static bool line_asks(const struct walk *walk, const struct line *line, const struct ask *ask)
{
	bool of_inlet = ask->item->scope == SCOPE_INLET;

	if (of_inlet &&
	    (line->inlet_index != ask_inlet(walk, ask) || ask_home(walk, ask) != walk->form.item))
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

/* The line that asks it, in the form of its home. */
static const char *ask_where(struct walk *walk, const struct ask *ask)
{
	const struct item *item = ask->item;
	const struct question *question;
	struct arena *arena = &walk->scratch;

	if (item->scope != SCOPE_INLET)
		return ask->question == QUESTION_NONE
		               ? NULL
		               : survey_where(walk->survey, item, ask->question, arena);
	if (ask->question == QUESTION_NONE)
		return arena_print(arena, "%s/inlets/%s/protection", item->parent->ref, item->ref);
	question = &walk->book->question[ask->question];
	return arena_print(arena, "%s/inlets/%s/%s%s%s", item->parent->ref, item->ref, question->at,
	                   question->at[0] == '\0' ? "" : "/", question->id);
}

static struct item *found_again(const struct walk *walk, const struct item *home)
{
	return home->scope == SCOPE_PREMISES
	               ? walk->survey->premises
	               : survey_find(walk->survey, home->ref, strlen(home->ref));
}

/* A question of the premises, a part, a branch or another point that this one's verdict hangs on. */
static bool ask_elsewhere(struct walk *walk, const struct assessment *now)
{
	const struct item *point = walk->form.item;

	for (size_t i = 0; i < now->ask_count; i++) {
		const struct ask *ask = &now->ask[i];
		struct item *home = found_again(walk, ask_home(walk, ask));
		const char *where = ask_where(walk, ask);

		if (home == point || home == NULL || where == NULL)
			continue;
		house_focus(walk, home);
		show_form(walk, home);
		form_focus(walk, where);
		walk->came_from = point->ref;
		say(walk, "The verdict hangs on this too. %s: back to %s.",
		    key_words(walk, REQUEST_BACK), item_title(walk, point, &walk->scratch));
		return true;
	}
	return false;
}

static bool focus_open(struct walk *walk, bool bookkeeping)
{
	struct item_form *form = &walk->form;

	for (size_t i = 1; i <= form->count; i++) {
		size_t at = (form->focus + i) % form->count;
		const struct line *line = &form->line[at];

		if (line->form == LINE_ANSWER && !line_is_answered(line) &&
		    walk->book->question[line->question].books == bookkeeping) {
			form->focus = at;
			return true;
		}
	}
	return false;
}

static void next_open(struct walk *walk)
{
	if (!focus_open(walk, false) && !focus_open(walk, true))
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
	say(walk, "No question left here can move the verdict. %s: back.",
	    key_words(walk, REQUEST_BACK));
}
