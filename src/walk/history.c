/*
 * Changes, the steps they make up, undo and redo without limit, and the effects that the caller
 * carries out.
 */
#include "inside.h"

#include <string.h>

static const char *copy(struct walk *walk, const char *text)
{
	return text == NULL ? NULL : arena_copy(&walk->history.arena, text, strlen(text));
}

static bool append(struct arena *arena, struct changes *list, const struct change *change)
{
	struct change *grown =
	        arena_grow(arena, list->item, list->count, &list->room, sizeof(*grown));

	if (grown == NULL)
		return false;
	list->item = grown;
	grown[list->count++] = *change;
	return true;
}

/* What takes the later change back comes before what takes the earlier ones back. */
static bool prepend_all(struct arena *arena, struct changes *list, const struct changes *first)
{
	struct changes joined = {0};

	for (size_t i = 0; i < first->count; i++)
		if (!append(arena, &joined, &first->item[i]))
			return false;
	for (size_t i = 0; i < list->count; i++)
		if (!append(arena, &joined, &list->item[i]))
			return false;
	*list = joined;
	return true;
}

bool step_change(struct walk *walk, const char *where, const char *before, const char *after,
                 bool whole)
{
	struct history *history = &walk->history;
	struct change change = {copy(walk, where), copy(walk, before), copy(walk, after)};
	struct changes inverse = {0};
	struct err err = {0};

	if (walk->options.read_only) {
		say_trouble(walk, "Read-only: nothing was changed.");
		return false;
	}
	if (change.where == NULL || history->arena.failed ||
	    !survey_inverse(walk->survey, &change, &history->arena, &inverse)) {
		say_trouble(walk, "There is no memory for one more change: save and leave.");
		return false;
	}
	if (!survey_apply(walk->survey, &change, &err)) {
		say_trouble(walk, "%s", err.message);
		return false;
	}
	history->open.whole |= whole;
	return append(&history->arena, &history->open.forward, &change) &&
	       prepend_all(&history->arena, &history->open.inverse, &inverse);
}

/* "" is the premises, NULL nothing. */
static struct item *item_of_ref(const struct walk *walk, const char *ref)
{
	if (ref == NULL)
		return NULL;
	return ref[0] == '\0' ? walk->survey->premises
	                      : survey_find(walk->survey, ref, strlen(ref));
}

/* The points that a list of changes is about: each `where` begins with the ref of something on
 * one. Called while all of it is there. */
static void points_stale(struct walk *walk, const struct changes *list)
{
	for (size_t i = 0; i < list->count; i++) {
		const char *where = list->item[i].where;
		const struct item *item = survey_find(walk->survey, where, strcspn(where, "/"));

		if (item != NULL)
			verdicts_stale(walk, item_above(item, SCOPE_POINT));
	}
}

/* What is shown may be gone or of another kind: items are found again by their refs. */
static void refresh(struct walk *walk, const char *ref, const struct changes *list, bool whole)
{
	draft_none(walk);
	if (whole) {
		walk->form.item = item_of_ref(walk, ref);
		house_changed(walk, list);
	} else {
		points_stale(walk, list);
	}
	if (walk->form.item == NULL) {
		if (walk->view == VIEW_FORM)
			show_house(walk);
		return;
	}
	form_rebuild(walk);
}

static void apply_all(struct walk *walk, const struct changes *list)
{
	struct err err = {0};

	for (size_t i = 0; i < list->count; i++)
		if (!survey_apply(walk->survey, &list->item[i], &err))
			say_trouble(walk, "%s", err.message);
}

static bool keep(struct walk *walk, struct step *step)
{
	struct history *history = &walk->history;
	struct step *grown;
	const struct line *line = form_line(walk);

	step->ref = walk->view == VIEW_HOUSE || walk->form.item == NULL
	                    ? NULL
	                    : copy(walk, walk->form.item->ref);
	step->where = copy(walk, line == NULL ? "" : line->where);
	step->leaving = walk->form.leaving;
	history->count = history->done;
	if (history->saved != SIZE_MAX && history->saved > history->done)
		history->saved = SIZE_MAX;
	grown = arena_grow(&history->arena, history->step, history->count, &history->room,
	                   sizeof(*grown));
	if (grown == NULL)
		return false;
	history->step = grown;
	grown[history->count++] = *step;
	history->done = history->count;
	return true;
}

bool step_end(struct walk *walk, bool ok)
{
	struct step step = walk->history.open;
	const char *ref = walk->form.item == NULL ? NULL : copy(walk, walk->form.item->ref);

	walk->history.open = (struct step){0};
	if (ok && step.forward.count > 0 && keep(walk, &step))
		effect_add(walk, WALK_COMMITTED, &step.forward, WALK_LEAVING_SAVED);
	else
		apply_all(walk, &step.inverse);
	if (step.forward.count > 0)
		refresh(walk, ref, &step.forward, step.whole);
	return ok;
}

/* -- undo and redo --------------------------------------------------------------------------- */

/* The item that one is at, and what holds it, by refs: outermost last. */
enum { ABOVE_MOST = 8 };
struct whereabouts {
	const char *ref[ABOVE_MOST];
	size_t count;
};

static struct whereabouts place_now(struct walk *walk)
{
	const struct house_row *row = house_row(walk);
	const struct item *item = walk->view == VIEW_HOUSE || walk->form.item == NULL
	                                  ? row == NULL ? NULL : row->item
	                                  : walk->form.item;
	struct whereabouts place = {0};

	for (; item != NULL && place.count < ABOVE_MOST; item = item->parent)
		place.ref[place.count++] = arena_copy(&walk->scratch, item->ref, strlen(item->ref));
	return place;
}

static bool is_gone(const struct walk *walk, const struct whereabouts *place)
{
	return place->count > 0 && item_of_ref(walk, place->ref[0]) == NULL;
}

/* To what is left of the place. */
static void show_left(struct walk *walk, const struct whereabouts *place)
{
	struct item *item = NULL;

	for (size_t i = 0; i < place->count && item == NULL; i++)
		item = item_of_ref(walk, place->ref[i]);
	show_house(walk);
	if (item != NULL)
		house_focus(walk, item);
}

/* One stays where one is: what changed is said, and shown where it is in sight. */
static void again(struct walk *walk, const struct step *step, bool undone)
{
	const struct changes *list = undone ? &step->inverse : &step->forward;
	const struct whereabouts place = place_now(walk);
	const struct about before = step_about(walk, step);
	const char *ref = walk->form.item == NULL ? NULL
	                                          : arena_copy(&walk->scratch, walk->form.item->ref,
	                                                       strlen(walk->form.item->ref));
	bool in_house = walk->view == VIEW_HOUSE;

	apply_all(walk, list);
	effect_add(walk, WALK_COMMITTED, list, WALK_LEAVING_SAVED);
	refresh(walk, ref, list, step->whole);
	if (is_gone(walk, &place))
		show_left(walk, &place);
	else if (in_house && step_about(walk, step).came != NULL)
		house_focus(walk, step_about(walk, step).came);
	else if (in_house && place.count > 0 && house_row(walk)->form != ROW_ADD_ROOM)
		house_focus(walk, item_of_ref(walk, place.ref[0]));
	else if (step->ref != NULL && ref != NULL && strcmp(step->ref, ref) == 0 &&
	         step->leaving == walk->form.leaving)
		form_focus(walk, step->where);
	say(walk, "%s", step_words(walk, step, before, undone));
}

void history_undo(struct walk *walk)
{
	struct history *history = &walk->history;

	if (history->done == 0) {
		say(walk, "Nothing to take back.");
		return;
	}
	history->done--;
	again(walk, &history->step[history->done], true);
}

void history_redo(struct walk *walk)
{
	struct history *history = &walk->history;

	if (history->done == history->count) {
		say(walk, "Nothing to make again.");
		return;
	}
	history->done++;
	again(walk, &history->step[history->done - 1], false);
}

void effect_add(struct walk *walk, enum walk_effect_form form, const struct changes *changes,
                enum walk_leaving leaving)
{
	struct walk_effect *grown =
	        arena_grow(&walk->history.arena, walk->effect, walk->effect_count,
	                   &walk->effect_room, sizeof(*grown));

	if (grown == NULL) {
		say_trouble(walk, "There is no memory: save and leave.");
		return;
	}
	walk->effect = grown;
	grown[walk->effect_count] = (struct walk_effect){.form = form, .leaving = leaving};
	if (changes != NULL)
		grown[walk->effect_count].changes = *changes;
	if (form == WALK_SAVE_AS)
		grown[walk->effect_count].path = walk->field.text;
	walk->effect_count++;
}

bool walk_next_effect(struct walk *walk, struct walk_effect *out)
{
	if (walk->effect_first == walk->effect_count) {
		walk->effect_first = walk->effect_count = 0;
		return false;
	}
	*out = walk->effect[walk->effect_first++];
	return true;
}

bool walk_unsaved(const struct walk *walk)
{
	return walk->history.done != walk->history.saved;
}
