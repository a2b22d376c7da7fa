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

/* In each view the same order wherever the cursor is, so that hands can learn the numbers: what
 * can't be added everywhere in it comes last. @return the likeliest. */
static size_t can_add_to_point(struct walk *walk, struct item *point)
{
	const struct line *line = form_line(walk);

	can_add(walk, SCOPE_POINT, point->parent, point);
	if (walk->book->scope_question_count[SCOPE_ACTION] > 0)
		can_add(walk, SCOPE_ACTION, point, NULL);
	if (line == NULL || !of_inlet(line))
		return 0;
	can_add_to_inlet(walk, line);
	return walk->addition_count - 1;
}

static size_t can_add_to_premises(struct walk *walk, struct item *premises)
{
	const struct line *line = form_line(walk);
	struct item *branch = line == NULL ? NULL : line->item;

	while (branch != NULL && branch->scope != SCOPE_BRANCH)
		branch = branch->parent;
	can_add(walk, SCOPE_PART, premises, NULL);
	can_add(walk, SCOPE_BRANCH, premises, branch);
	can_add(walk, SCOPE_ROOM, premises, NULL);
	can_add(walk, SCOPE_PROTECTION, premises, NULL);
	if (branch != NULL)
		can_add(walk, SCOPE_PROTECTION, branch, NULL);
	return 0;
}

/* Beside an outlet, in or beside a room; where no room is meant, in the last. */
static size_t can_add_in_house(struct walk *walk, struct item *room, struct item *point)
{
	struct item *premises = walk->survey->premises;
	size_t rooms = item_children(premises, SCOPE_ROOM);
	struct item *in =
	        room == NULL && rooms > 0 ? item_child(premises, SCOPE_ROOM, rooms - 1) : room;

	if (in != NULL)
		can_add(walk, SCOPE_POINT, in, point);
	can_add(walk, SCOPE_ROOM, premises, room);
	can_add(walk, SCOPE_PART, premises, NULL);
	can_add(walk, SCOPE_BRANCH, premises, NULL);
	return room == NULL && in != NULL ? 1 : 0;
}

static size_t can_add_here(struct walk *walk)
{
	const struct house_row *row = house_row(walk);
	struct item *item = walk->form.item;

	if (walk->view == VIEW_HOUSE && row->form == ROW_POINT)
		return can_add_in_house(walk, row->item->parent, row->item);
	if (walk->view == VIEW_HOUSE)
		return can_add_in_house(walk, row->form == ROW_ROOM ? row->item : NULL, NULL);
	if (item->scope == SCOPE_POINT)
		return can_add_to_point(walk, item);
	if (item->scope == SCOPE_ROOM)
		return can_add_in_house(walk, item, NULL);
	return can_add_to_premises(walk, item);
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
	size_t likeliest;

	walk->addition_count = 0;
	likeliest = can_add_here(walk);
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
	choose_open(walk, FOR_MENU, "Add what?", choices, false, ids[likeliest]);
}
