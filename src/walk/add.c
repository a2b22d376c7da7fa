/*
 * Adding, naming and removing items.
 */
#include "lines.h"

#include <stdio.h>
#include <string.h>

/* -- where a new item goes ------------------------------------------------------------------- */

static const char *new_where(struct walk *walk, const struct item *parent, enum scope scope,
                             const char *ref)
{
	struct arena *arena = &walk->scratch;
	const char *list = survey_list_key(scope);

	if (parent->scope == SCOPE_PREMISES)
		return arena_print(arena, "%s%s/%s", scope == SCOPE_PROTECTION ? "supply/" : "",
		                   list, ref);
	if (parent->scope == SCOPE_INLET)
		return arena_print(arena, "%s/inlets/%s/%s/%s", parent->parent->ref, parent->ref,
		                   list, ref);
	return arena_print(arena, "%s/%s/%s", parent->ref, list, ref);
}

/* What hangs on a point moves its own verdict alone, unless others are fed through it. */
bool shapes_house(const struct walk *walk, const struct item *parent, enum scope scope)
{
	const struct item *point = item_above(parent, SCOPE_POINT);

	if (scope == SCOPE_POINT || point == NULL)
		return true;
	return point->of < walk->book->kind_count && walk->book->kind[point->of].stores;
}

struct item *put_item(struct walk *walk, struct item *parent, enum scope scope, const char *ref,
                      const char *after)
{
	const char *where = ref == NULL ? NULL : new_where(walk, parent, scope, ref);

	if (where == NULL ||
	    !step_change(walk, where, NULL, after, shapes_house(walk, parent, scope)))
		return NULL;
	for (size_t i = 0; i < parent->child_count; i++)
		if (parent->child[i]->scope == scope && strcmp(parent->child[i]->ref, ref) == 0)
			return parent->child[i];
	return NULL;
}

struct item *inlet_item(struct walk *walk, struct item *point, unsigned inlet_index)
{
	const struct kind *kind = &walk->book->kind[point->of];
	const char *after = "", *id;

	if (point->of >= walk->book->kind_count || inlet_index >= kind->inlet_count)
		return NULL;
	id = kind->inlet[inlet_index].id;
	for (size_t i = 0; i < point->child_count; i++) {
		struct item *inlet = point->child[i];

		if (inlet->scope != SCOPE_INLET)
			continue;
		if (strcmp(inlet->ref, id) == 0)
			return inlet;
		/* the kind's order */
		if (survey_inlet_index(walk->survey, inlet) < (int)inlet_index)
			after = inlet->ref;
	}
	return put_item(walk, point, SCOPE_INLET, id, after);
}

/* -- refs ------------------------------------------------------------------------------------ */

/* A ref from a name: its ASCII letters and digits, small, joined by "_". */
static void slug(const char *name, const char *otherwise, char out[REF_MOST])
{
	size_t length = 0;

	for (; *name != '\0' && length < REF_MOST - 16; name++) {
		char c = *name >= 'A' && *name <= 'Z' ? (char)(*name - 'A' + 'a') : *name;

		if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))
			out[length++] = c;
		else if (length > 0 && out[length - 1] != '_')
			out[length++] = '_';
	}
	while (length > 0 && out[length - 1] == '_')
		length--;
	out[length] = '\0';
	if (length == 0)
		snprintf(out, REF_MOST, "%s", otherwise);
}

static const char *ref_of_name(struct walk *walk, const char *name, const char *otherwise)
{
	char stem[REF_MOST];

	slug(name, otherwise, stem);
	if (survey_ref_fault(walk->survey, stem) == NULL)
		return arena_print(&walk->scratch, "%s", stem);
	return survey_new_ref(walk->survey, stem, &walk->scratch);
}

/* K1 for the first in the kitchen: the room's first letter. */
static const char *ref_of_point(struct walk *walk, const struct item *room)
{
	const char *name = item_title(walk, room, &walk->scratch);
	char stem[2] = "P";

	if (name[0] >= 'a' && name[0] <= 'z')
		stem[0] = (char)(name[0] - 'a' + 'A');
	else if (name[0] >= 'A' && name[0] <= 'Z')
		stem[0] = name[0];
	return survey_new_ref(walk->survey, stem, &walk->scratch);
}

/* K1a, K1b ... on the inlets of K1; W1 for the whole site, Z1 on a branch. */
static const char *ref_of_protection(struct walk *walk, const struct item *parent)
{
	const char *stem;

	if (parent->scope == SCOPE_PREMISES)
		return survey_new_ref(walk->survey, "W", &walk->scratch);
	if (parent->scope != SCOPE_INLET)
		return survey_new_ref(walk->survey, "Z", &walk->scratch);
	stem = parent->parent->ref;
	for (char letter = 'a'; letter <= 'z'; letter++) {
		const char *ref = arena_print(&walk->scratch, "%s%c", stem, letter);

		if (ref == NULL || survey_ref_fault(walk->survey, ref) == NULL)
			return ref;
	}
	stem = arena_print(&walk->scratch, "%sp", stem);
	return stem == NULL ? NULL : survey_new_ref(walk->survey, stem, &walk->scratch);
}

const char *new_ref(struct walk *walk, enum scope scope, const struct item *parent,
                    const char *name)
{
	switch (scope) {
	case SCOPE_PART:
		return ref_of_name(walk, name, "part");
	case SCOPE_BRANCH:
		return ref_of_name(walk, name, "branch");
	case SCOPE_ROOM:
		return ref_of_name(walk, name, "room");
	case SCOPE_POINT:
		return ref_of_point(walk, parent);
	case SCOPE_PROTECTION:
		return ref_of_protection(walk, parent);
	case SCOPE_TEST:
		return survey_new_ref(walk->survey, "T", &walk->scratch);
	case SCOPE_ACTION:
		return survey_new_ref(walk->survey, "A", &walk->scratch);
	case SCOPE_PREMISES:
	case SCOPE_INLET:
	case SCOPE_OUTCOME:
	case SCOPE_COUNT:
		break;
	}
	return NULL;
}

/* -- adding ---------------------------------------------------------------------------------- */

static const char *scope_words(enum scope scope)
{
	static const char *const words[SCOPE_COUNT] = {
	        [SCOPE_PREMISES] = "premises",
	        [SCOPE_PART] = "part",
	        [SCOPE_BRANCH] = "branch",
	        [SCOPE_ROOM] = "room",
	        [SCOPE_POINT] = "outlet or appliance",
	        [SCOPE_INLET] = "inlet",
	        [SCOPE_PROTECTION] = "protection",
	        [SCOPE_TEST] = "test",
	        [SCOPE_ACTION] = "action",
	        [SCOPE_OUTCOME] = "outcome",
	};

	return scope < SCOPE_COUNT ? words[scope] : "item";
}

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
		say(walk, "%s is there. a adds what is in it.",
		    item_title(walk, item, &walk->scratch));
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

/* -- what can be added here ------------------------------------------------------------------ */

static void can_add(struct walk *walk, enum scope scope, struct item *parent, struct item *after)
{
	if (walk->addition_count < ADDITIONS_MOST)
		walk->addition[walk->addition_count++] =
		        (struct addition){.scope = scope, .parent = parent, .after = after};
}

static void can_add_to_inlet(struct walk *walk, const struct line *line)
{
	struct item *at = line->item;
	struct addition *addition = &walk->addition[walk->addition_count];

	while (at != NULL && at->scope != SCOPE_PROTECTION && at->scope != SCOPE_INLET)
		at = at->parent;
	can_add(walk, SCOPE_PROTECTION, at == NULL ? NULL : at, NULL);
	addition->point = line->point;
	addition->inlet_index = line->inlet_index;
	if (at != NULL && at->scope == SCOPE_PROTECTION) {
		addition->after = at;
		addition->parent = at->parent;
	} else {
		addition->first = true;
	}
}

static bool of_inlet(const struct line *line)
{
	const struct item *item = line->item;

	if (line->point == NULL)
		return false;
	return item == NULL || line->form == LINE_FITTED || item->scope == SCOPE_INLET ||
	       item->scope == SCOPE_PROTECTION || item->scope == SCOPE_TEST;
}

static void can_add_in_form(struct walk *walk)
{
	const struct line *line = form_line(walk);
	struct item *item = walk->form.item, *branch;

	if (item->scope == SCOPE_POINT) {
		if (line != NULL && of_inlet(line))
			can_add_to_inlet(walk, line);
		if (walk->book->scope_question_count[SCOPE_ACTION] > 0)
			can_add(walk, SCOPE_ACTION, item, NULL);
		can_add(walk, SCOPE_POINT, item->parent, item);
		return;
	}
	if (item->scope == SCOPE_ROOM) {
		can_add(walk, SCOPE_POINT, item, NULL);
		can_add(walk, SCOPE_ROOM, item->parent, item);
		return;
	}
	branch = line == NULL ? NULL : line->item;
	while (branch != NULL && branch->scope != SCOPE_BRANCH)
		branch = branch->parent;
	can_add(walk, SCOPE_PART, item, NULL);
	can_add(walk, SCOPE_BRANCH, item, branch);
	if (branch != NULL)
		can_add(walk, SCOPE_PROTECTION, branch, NULL);
	can_add(walk, SCOPE_PROTECTION, item, NULL);
	can_add(walk, SCOPE_ROOM, item, NULL);
}

static void can_add_in_house(struct walk *walk)
{
	const struct house_row *row = house_row(walk);
	struct item *premises = walk->survey->premises;

	if (row->form == ROW_POINT) {
		can_add(walk, SCOPE_POINT, row->item->parent, row->item);
		can_add(walk, SCOPE_ROOM, premises, row->item->parent);
	} else if (row->form == ROW_ROOM) {
		can_add(walk, SCOPE_POINT, row->item, NULL);
		can_add(walk, SCOPE_ROOM, premises, row->item);
	} else {
		can_add(walk, SCOPE_ROOM, premises, NULL);
		can_add(walk, SCOPE_PART, premises, NULL);
		can_add(walk, SCOPE_BRANCH, premises, NULL);
	}
}

static const char *addition_label(struct walk *walk, const struct addition *addition,
                                  struct arena *arena)
{
	const char *words = scope_words(addition->scope);

	if (addition->scope == SCOPE_POINT)
		return arena_print(arena, "%s in %s", words,
		                   item_title(walk, addition->parent, arena));
	if (addition->scope == SCOPE_PROTECTION && addition->after != NULL)
		return arena_print(arena, "%s next after %s", words,
		                   item_title(walk, addition->after, arena));
	if (addition->scope == SCOPE_PROTECTION && addition->first)
		return arena_print(arena, "%s, first from the supply on", words);
	if (addition->scope == SCOPE_PROTECTION && addition->parent->scope == SCOPE_BRANCH)
		return arena_print(arena, "%s on branch %s", words,
		                   item_title(walk, addition->parent, arena));
	if (addition->scope == SCOPE_PROTECTION)
		return arena_print(arena, "%s of the whole site", words);
	if (addition->scope == SCOPE_ACTION)
		return "action taken before leaving";
	return words;
}

void add_menu(struct walk *walk)
{
	static const char *const ids[ADDITIONS_MOST] = {"0", "1", "2", "3", "4", "5", "6", "7"};
	struct choices choices = {0};

	walk->addition_count = 0;
	if (walk->view == VIEW_HOUSE)
		can_add_in_house(walk);
	else
		can_add_in_form(walk);
	arena_reset(&walk->chooser.arena);
	for (size_t i = 0; i < walk->addition_count; i++) {
		struct choice *grown = arena_grow(&walk->chooser.arena, choices.item, choices.count,
		                                  &choices.room, sizeof(*grown));

		if (grown == NULL)
			return;
		choices.item = grown;
		grown[choices.count++] = (struct choice){
		        .id = ids[i],
		        .label = addition_label(walk, &walk->addition[i], &walk->chooser.arena)};
	}
	choose_open(walk, FOR_MENU, "Add what?", choices, false, NULL);
}
