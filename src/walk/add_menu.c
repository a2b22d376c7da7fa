/*
 * What can be added here, as a list.
 */
#include "inside.h"

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
