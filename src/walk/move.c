/*
 * Another place for an item: among its siblings, or in another room.
 */
#include "inside.h"

#include <string.h>

const char *stands_after(const struct item *item)
{
	const char *before = "";

	for (size_t i = 0; i < item->parent->child_count && item->parent->child[i] != item; i++)
		if (item->parent->child[i]->scope == item->scope)
			before = item->parent->child[i]->ref;
	return before;
}

/* -- among its siblings ---------------------------------------------------------------------- */

static const struct item *sibling(const struct item *item, bool later)
{
	const struct item *before = NULL;
	bool past = false;

	for (size_t i = 0; i < item->parent->child_count; i++) {
		const struct item *child = item->parent->child[i];

		if (child == item) {
			if (!later)
				return before;
			past = true;
		} else if (child->scope == item->scope) {
			if (past)
				return child;
			before = child;
		}
	}
	return NULL;
}

void move_among(struct walk *walk, bool later)
{
	const struct item *item = item_under_cursor(walk), *other;
	const char *where, *title, *ref;

	if (item == NULL) {
		say(walk, "Nothing here has a place among others.");
		return;
	}
	other = sibling(item, later);
	if (other == NULL) {
		say(walk, later ? "It is the last already." : "It is the first already.");
		return;
	}
	title = item_title(walk, item, &walk->scratch);
	where = survey_where(walk->survey, item, QUESTION_NONE, &walk->scratch);
	ref = item->ref;
	if (!step_end(walk,
	              where != NULL && step_change(walk, where, stands_after(item),
	                                           later ? other->ref : stands_after(other), true)))
		return;
	house_focus(walk, survey_find(walk->survey, ref, strlen(ref)));
	say(walk, "%s stands %s now.", title, later ? "after" : "before");
}

/* -- to another room ------------------------------------------------------------------------- */

static struct item *point_under_cursor(struct walk *walk)
{
	struct item *item = item_under_cursor(walk);

	if (walk->view != VIEW_HOUSE && walk->form.item->scope == SCOPE_POINT)
		return walk->form.item;
	while (item != NULL && item->scope != SCOPE_POINT)
		item = item->parent;
	return item;
}

void move_ask(struct walk *walk)
{
	struct item *point = point_under_cursor(walk);
	const struct item *premises = walk->survey->premises;
	struct arena *arena = &walk->chooser.arena;
	struct choices choices = {0};

	if (point == NULL) {
		say(walk, "Go to an outlet or appliance: that can be moved to another room.");
		return;
	}
	arena_reset(arena);
	for (size_t i = 0; i < premises->child_count; i++) {
		const struct item *room = premises->child[i];

		if (room->scope == SCOPE_ROOM && room != point->parent)
			choice_add(arena, &choices, room->ref, item_title(walk, room, arena), NULL);
	}
	if (choices.count == 0) {
		say(walk, "There is no other room yet.");
		return;
	}
	walk->target = (struct line){.item = point};
	choose_open(walk, FOR_MOVE_TO,
	            arena_print(arena, "Move %s to which room?", item_title(walk, point, arena)),
	            choices, false, NULL);
}

/* Taken out with all it holds and put in again there, under its own refs: what names it still
 * finds it. */
void move_to_room(struct walk *walk, const char *ref)
{
	const struct item *point = walk->target.item, *last = NULL;
	struct item *room = survey_find(walk->survey, ref, strlen(ref)), *moved;
	const char *own = point->ref;
	const char *where = survey_where(walk->survey, point, QUESTION_NONE, &walk->scratch);
	struct change out = {where, stands_after(point), NULL};
	struct changes back = {0};
	bool ok;

	for (size_t i = 0; room != NULL && i < room->child_count; i++)
		if (room->child[i]->scope == SCOPE_POINT)
			last = room->child[i];
	ok = room != NULL && where != NULL &&
	     survey_inverse(walk->survey, &out, &walk->scratch, &back) && back.count > 0 &&
	     step_change(walk, where, out.before, NULL, true) &&
	     put_item(walk, room, SCOPE_POINT, own, last == NULL ? "" : last->ref) != NULL;
	for (size_t i = 1; ok && i < back.count; i++)
		ok = step_change(walk, back.item[i].where, NULL, back.item[i].after, true);
	if (!step_end(walk, ok))
		return;
	moved = survey_find(walk->survey, own, strlen(own));
	house_focus(walk, moved);
	if (moved != NULL)
		say(walk, "%s is in %s now.", item_title(walk, moved, &walk->scratch),
		    item_title(walk, moved->parent, &walk->scratch));
}
