/*
 * Adding an item: what it begins with, and where it is answered.
 */
#include "lines.h"

#include <string.h>

/* The question whose answer a new item begins with, QUESTION_NONE where it begins with none. */
static question_index first_question(const struct walk *walk, enum scope scope)
{
	const struct known_questions *known = &walk->book->known;

	if (scope == SCOPE_PART)
		return known->part_name;
	if (scope == SCOPE_BRANCH)
		return known->branch_name;
	if (scope == SCOPE_ROOM)
		return known->room_name;
	if (scope == SCOPE_POINT)
		return known->point_kind;
	if (scope == SCOPE_PROTECTION)
		return known->protection_type;
	if (scope == SCOPE_ACTION)
		return question_called(walk, SCOPE_ACTION, "", "what");
	return QUESTION_NONE;
}

static const char *adding_title(struct walk *walk, const struct addition *addition)
{
	struct arena *arena = &walk->chooser.arena;

	if (addition->scope == SCOPE_POINT)
		return arena_print(arena, "New outlet or appliance in %s: what is it?",
		                   item_title(walk, addition->parent, arena));
	if (addition->scope == SCOPE_ACTION)
		return arena_print(arena, "What was done about %s?",
		                   item_title(walk, addition->parent, arena));
	return "What is fitted?";
}

/* What a new item begins with is chosen from a list; or it is named. */
static bool begins_with_list(const struct walk *walk, question_index question)
{
	return question != QUESTION_NONE && walk->book->question[question].form != FORM_TEXT;
}

void add_begin(struct walk *walk, const struct addition *addition)
{
	question_index question = first_question(walk, addition->scope);

	walk->adding = *addition;
	walk->purpose = FOR_NEW;
	if (begins_with_list(walk, question)) {
		arena_reset(&walk->chooser.arena);
		choose_open(walk, FOR_NEW, adding_title(walk, addition),
		            options_of(walk, NULL, question, &walk->chooser.arena), false, NULL);
	} else if (question == QUESTION_NONE) {
		add_named(walk, "");
	} else {
		field_set(&walk->field, "");
		walk->over = OVER_FIELD;
	}
}

static struct item *last_child(const struct item *parent, enum scope scope)
{
	struct item *last = NULL;

	for (size_t i = 0; i < parent->child_count; i++)
		if (parent->child[i]->scope == scope)
			last = parent->child[i];
	return last;
}

static struct item *add_item(struct walk *walk, const char *text)
{
	const struct addition *adding = &walk->adding;
	question_index question = first_question(walk, adding->scope);
	struct item *parent = adding->parent, *after = adding->after, *item;
	const char *where;

	if (parent == NULL)
		parent = inlet_item(walk, adding->point, adding->inlet_index);
	if (parent == NULL)
		return NULL;
	if (after == NULL && !adding->first)
		after = last_child(parent, adding->scope);
	item = put_item(walk, parent, adding->scope, new_ref(walk, adding->scope, parent, text),
	                after == NULL ? "" : after->ref);
	if (item == NULL || question == QUESTION_NONE || text[0] == '\0')
		return item;
	where = survey_where(walk->survey, item, question, &walk->scratch);
	return where != NULL && step_change(walk, where, NULL, text,
	                                    shapes_house(walk, item, item->scope))
	               ? item
	               : NULL;
}

/* What is asked of the item and can move the verdict; else what is not answered. */
static void focus_open(struct walk *walk, const struct item *item)
{
	struct item_form *form = &walk->form;

	for (int asked = 1; asked >= 0; asked--) {
		for (size_t i = 0; i < form->count; i++) {
			const struct line *line = &form->line[i];

			if (line->item != item || line->form != LINE_ANSWER ||
			    item_answer(item, line->question) != NULL ||
			    (asked == 1 && !line_is_asked(walk, line)))
				continue;
			form->focus = i;
			return;
		}
	}
}

/* Where the new item is answered: rooms in the house, points on their own, all else where it was
 * added. */
void show_added(struct walk *walk, struct item *item)
{
	if (item->scope == SCOPE_ACTION && walk->view != VIEW_FORM) {
		say(walk, "Noted for %s. Its form asks when and who was told.",
		    item_title(walk, item->parent, &walk->scratch));
		return;
	}
	house_focus(walk, item);
	if (item->scope == SCOPE_ROOM) {
		show_house(walk);
		house_focus(walk, item);
		say(walk, "%s is there. %s adds what is in it.",
		    item_title(walk, item, &walk->scratch), key_words(walk, REQUEST_ADD));
		return;
	}
	if (item->scope == SCOPE_POINT) {
		show_form(walk, item);
		form_first_ask(walk);
		return;
	}
	if (item->scope == SCOPE_PART || item->scope == SCOPE_BRANCH)
		show_form(walk, walk->survey->premises);
	focus_open(walk, item);
}

void add_named(struct walk *walk, const char *text)
{
	struct item *item = add_item(walk, text);
	const char *ref;

	if (!step_end(walk, item != NULL))
		return;
	ref = item->ref;
	item = survey_find(walk->survey, ref, strlen(ref));
	if (item != NULL)
		show_added(walk, item);
}

void add_done(struct walk *walk)
{
	struct addition action = {.scope = SCOPE_ACTION, .parent = point_shown(walk)};

	if (action.parent == NULL)
		say(walk, "Go to an outlet or appliance: something was done about that.");
	else if (walk->book->scope_question_count[SCOPE_ACTION] > 0)
		add_begin(walk, &action);
}
