/*
 * One more like another: a point with what stands on its inlets, a room with all its points. And
 * taking over the answers of the last one of a kind. What is said of one thing alone is never taken
 * over: whether it was seen, its note, what was done about it, its tests, the undertaker's word.
 */
#include "inside.h"

#include <string.h>

/* -- what is taken over ---------------------------------------------------------------------- */

static bool is_of_one_alone(const struct walk *walk, const struct item *item,
                            question_index question)
{
	static const char *const ids[] = {"seen", "why_not_seen", "seen_count", "note"};
	const struct question *asked = &walk->book->question[question];

	if (item->scope == SCOPE_POINT && strcmp(asked->at, "undertaker_says") == 0)
		return true;
	for (size_t i = 0; i < sizeof(ids) / sizeof(ids[0]); i++)
		if (strcmp(asked->id, ids[i]) == 0)
			return true;
	return false;
}

static bool is_name(const struct walk *walk, question_index question)
{
	return question == walk->book->known.point_name || question == walk->book->known.room_name;
}

/* The kind or type decides what the other keys mean: it comes first. */
static bool decides(const struct walk *walk, question_index question)
{
	return question == walk->book->known.point_kind ||
	       question == walk->book->known.protection_type;
}

/* The answers that @p to lacks. */
static bool take_answers(struct walk *walk, const struct item *from, struct item *to, bool names)
{
	for (int deciding = 1; deciding >= 0; deciding--) {
		for (size_t i = 0; i < from->answer_count; i++) {
			question_index question = from->answer[i].question;
			const char *where;

			if (decides(walk, question) != (deciding == 1) ||
			    is_of_one_alone(walk, from, question) ||
			    (!names && is_name(walk, question)) ||
			    item_answer(to, question) != NULL)
				continue;
			where = survey_where(walk->survey, to, question, &walk->scratch);
			if (where == NULL || !step_change(walk, where, NULL, from->answer[i].text,
			                                  shapes_house(walk, to, to->scope)))
				return false;
		}
	}
	return true;
}

static bool take_fitted(struct walk *walk, const struct item *from, struct item *to)
{
	const char *after = "", *known = from->cannot_tell ? "cannot_tell" : "nothing", *where;

	if (from->nothing_said || !to->nothing_said || item_children(to, SCOPE_PROTECTION) > 0)
		return true;
	for (size_t i = 0; i < from->child_count; i++) {
		const struct item *child = from->child[i];
		struct item *copy;

		if (child->scope != SCOPE_PROTECTION)
			continue;
		copy = put_item(walk, to, SCOPE_PROTECTION, new_ref(walk, SCOPE_PROTECTION, to, ""),
		                after);
		if (copy == NULL || !take_answers(walk, child, copy, true))
			return false;
		after = copy->ref;
	}
	if (after[0] != '\0')
		return true;
	where = arena_print(&walk->scratch, "%s/inlets/%s/protection", to->parent->ref, to->ref);
	return where != NULL &&
	       step_change(walk, where, NULL, known, shapes_house(walk, to, SCOPE_PROTECTION));
}

static bool take_inlets(struct walk *walk, const struct item *from, struct item *to)
{
	for (size_t i = 0; i < from->child_count; i++) {
		const struct item *inlet = from->child[i];
		int index = survey_inlet_index(walk->survey, inlet);
		struct item *own;

		if (inlet->scope != SCOPE_INLET || index < 0)
			continue;
		own = inlet_item(walk, to, (unsigned)index);
		if (own == NULL || !take_answers(walk, inlet, own, true) ||
		    !take_fitted(walk, inlet, own))
			return false;
	}
	return true;
}

static struct item *copy_point(struct walk *walk, const struct item *from, struct item *room,
                               const char *after, bool names)
{
	struct item *point =
	        put_item(walk, room, SCOPE_POINT, new_ref(walk, SCOPE_POINT, room, ""), after);

	if (point == NULL || !take_answers(walk, from, point, names) ||
	    !take_inlets(walk, from, point))
		return NULL;
	return point;
}

/* -- copying --------------------------------------------------------------------------------- */

static struct item *room_or_point(struct walk *walk)
{
	struct item *item = item_under_cursor(walk);

	if (walk->view != VIEW_HOUSE && walk->form.item->scope == SCOPE_POINT)
		return walk->form.item;
	while (item != NULL && item->scope != SCOPE_POINT && item->scope != SCOPE_ROOM)
		item = item->parent;
	return item;
}

/* What step_end() makes anew is found again by its ref. */
static void end_and_show(struct walk *walk, const struct item *item, const char *like)
{
	const char *ref = item == NULL ? NULL : item->ref;
	struct item *made;

	like = arena_copy(&walk->scratch, like, strlen(like));
	if (!step_end(walk, item != NULL))
		return;
	made = survey_find(walk->survey, ref, strlen(ref));
	if (made == NULL || like == NULL)
		return;
	show_added(walk, made);
	say(walk, "Like %s. Whether it was seen is still open.", like);
}

static void copy_one(struct walk *walk, const struct item *point)
{
	end_and_show(walk, copy_point(walk, point, point->parent, point->ref, false),
	             item_title(walk, point, &walk->scratch));
}

void copy_ask(struct walk *walk)
{
	struct item *item = room_or_point(walk);

	if (item == NULL) {
		say(walk, "Go to a room, or to what is in it: that can be copied.");
		return;
	}
	if (item->scope == SCOPE_POINT) {
		copy_one(walk, item);
		return;
	}
	walk->target = (struct line){.item = item};
	walk->purpose = FOR_COPY;
	walk->over = OVER_FIELD;
	field_set(&walk->field, "");
}

void copy_named(struct walk *walk, const char *name)
{
	const struct item *from = walk->target.item;
	question_index question = walk->book->known.room_name;
	const char *where, *after = "", *like = item_title(walk, from, &walk->scratch);
	struct item *room = put_item(walk, from->parent, SCOPE_ROOM,
	                             new_ref(walk, SCOPE_ROOM, from->parent, name), from->ref);
	bool ok = room != NULL && take_answers(walk, from, room, false);

	if (ok && question != QUESTION_NONE) {
		where = survey_where(walk->survey, room, question, &walk->scratch);
		ok = where != NULL && step_change(walk, where, NULL, name, true);
	}
	for (size_t i = 0; ok && i < from->child_count; i++) {
		const struct item *point = from->child[i], *made;

		if (point->scope != SCOPE_POINT)
			continue;
		made = copy_point(walk, point, room, after, true);
		ok = made != NULL;
		after = ok ? made->ref : "";
	}
	end_and_show(walk, ok ? room : NULL, like);
}

/* -- repeating ------------------------------------------------------------------------------- */

/* The last one of the kind before this one in the house, else the last there is. */
static const struct item *last_alike(struct walk *walk, const struct item *point)
{
	struct house_list *house = &walk->house;
	size_t from = house_number(house, point);

	for (size_t i = 1; i < house->count; i++) {
		const struct house_row *row =
		        house_at(house, (from + house->count - i) % house->count);

		if (row->form == ROW_POINT && row->item->of == point->of)
			return row->item;
	}
	return NULL;
}

static void repeat_in(struct walk *walk, struct item *point)
{
	const struct item *from = last_alike(walk, point);
	const char *title;
	size_t before = walk->history.done;

	if (from == NULL || point->of >= walk->book->kind_count) {
		say(walk, "There is no other one of this kind yet.");
		return;
	}
	title = item_title(walk, from, &walk->scratch);
	if (!step_end(walk,
	              take_answers(walk, from, point, false) && take_inlets(walk, from, point)))
		return;
	if (walk->history.done == before)
		say(walk, "%s says nothing that is still open here.", title);
	else
		say(walk, "What was open is as in %s. Look at each: %s takes it back.", title,
		    key_words(walk, REQUEST_UNDO));
}

static void repeat_in_room(struct walk *walk, struct item *room)
{
	size_t points = item_children(room, SCOPE_POINT);

	if (points == 0) {
		say(walk, "Nothing is in it yet: %s adds the first.", key_words(walk, REQUEST_ADD));
		return;
	}
	copy_one(walk, item_child(room, SCOPE_POINT, points - 1));
}

void repeat_last(struct walk *walk)
{
	struct item *item = room_or_point(walk);

	if (item == NULL)
		say(walk, "Go to a room, or to what is in it: that can be repeated.");
	else if (item->scope == SCOPE_ROOM)
		repeat_in_room(walk, item);
	else
		repeat_in(walk, item);
}
