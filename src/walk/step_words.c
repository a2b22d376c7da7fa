/*
 * What a step was about, in words: what is taken back out of sight must be named.
 */
#include "inside.h"

#include <string.h>

enum deed { DEED_ADDED, DEED_REMOVED, DEED_MOVED, DEED_ANSWERED };

/* Where a path's last part begins, and the part before it. */
static const char *last_part(const char *where)
{
	const char *slash = strrchr(where, '/');

	return slash == NULL ? where : slash + 1;
}

/* The scope of the item whose presence it is; SCOPE_COUNT: it is an answer. */
static enum scope presence_of(const char *where)
{
	const char *last = last_part(where);

	for (int scope = SCOPE_PART; last > where && scope <= SCOPE_ACTION; scope++) {
		const char *key = survey_list_key((enum scope)scope);
		size_t length = strlen(key);

		if ((size_t)(last - 1 - where) >= length &&
		    strncmp(last - 1 - length, key, length) == 0 &&
		    (last - 1 - length == where || last[-(long)length - 2] == '/'))
			return (enum scope)scope;
	}
	return SCOPE_COUNT;
}

/* What a step is named by: an item that came or went, else its first answer. */
static const struct change *main_change(const struct step *step, enum deed *deed)
{
	const struct changes *list = &step->forward;

	for (size_t i = 0; i < list->count; i++) {
		const struct change *change = &list->item[i];
		enum scope scope = presence_of(change->where);
		bool again = false;

		if (scope == SCOPE_COUNT || scope == SCOPE_INLET)
			continue;
		for (size_t j = i + 1; j < list->count; j++)
			again |= presence_of(list->item[j].where) == scope &&
			         strcmp(last_part(list->item[j].where), last_part(change->where)) ==
			                 0;
		*deed = again || (change->before != NULL && change->after != NULL) ? DEED_MOVED
		        : change->after == NULL                                    ? DEED_REMOVED
		                                                                   : DEED_ADDED;
		return change;
	}
	*deed = DEED_ANSWERED;
	for (size_t i = 0; i < list->count; i++)
		if (presence_of(list->item[i].where) == SCOPE_COUNT)
			return &list->item[i];
	return list->count > 0 ? &list->item[0] : NULL;
}

static const char *item_words(struct walk *walk, const char *where)
{
	const char *ref = last_part(where);
	const struct item *item = survey_find(walk->survey, ref, strlen(ref));
	struct arena *arena = &walk->scratch;

	if (item == NULL)
		return NULL;
	if (item->scope == SCOPE_ACTION)
		return arena_print(arena, "What was done about %s",
		                   item_title(walk, item->parent, arena));
	if (item->scope == SCOPE_TEST)
		return arena_print(arena, "The test of %s", item_title(walk, item->parent, arena));
	return item_title(walk, item, arena);
}

/* -- answers --------------------------------------------------------------------------------- */

struct found {
	const struct item *item;
	question_index question; /* QUESTION_NONE: what is fitted */
};

static bool find_in(struct walk *walk, const struct item *item, const char *where,
                    struct found *out)
{
	struct asked asked;

	if (item == NULL || !survey_asked(walk->survey, item, &walk->scratch, &asked))
		return false;
	for (size_t i = 0; i < asked.count; i++) {
		const char *here =
		        survey_where(walk->survey, item, asked.question[i], &walk->scratch);

		if (here == NULL || strcmp(here, where) != 0)
			continue;
		*out = (struct found){item, asked.question[i]};
		return true;
	}
	return false;
}

static bool find_in_inlets(struct walk *walk, const struct item *point, const char *where,
                           struct found *out)
{
	for (size_t i = 0; i < point->child_count; i++) {
		const struct item *inlet = point->child[i];
		const char *fitted;

		if (inlet->scope != SCOPE_INLET)
			continue;
		if (find_in(walk, inlet, where, out))
			return true;
		fitted = arena_print(&walk->scratch, "%s/inlets/%s/protection", point->ref,
		                     inlet->ref);
		if (fitted == NULL || strcmp(fitted, where) != 0)
			continue;
		*out = (struct found){inlet, QUESTION_NONE};
		return true;
	}
	return false;
}

/* Any part of the path may be the ref of the item that answers. */
static bool find_answer(struct walk *walk, const char *where, struct found *out)
{
	for (const char *part = where; *part != '\0';) {
		size_t length = strcspn(part, "/");
		const struct item *item = survey_find(walk->survey, part, length);

		if (find_in(walk, item, where, out) ||
		    (item != NULL && find_in_inlets(walk, item, where, out)))
			return true;
		part += length;
		part += *part == '/';
	}
	return find_in(walk, walk->survey->premises, where, out);
}

static const char *fitted_words(const struct item *inlet)
{
	if (item_children(inlet, SCOPE_PROTECTION) > 0)
		return "as listed";
	if (inlet->cannot_tell)
		return "cannot tell";
	return inlet->nothing_said ? "not answered" : "nothing";
}

/* Whose answer it is, where the form that is shown leaves that open. */
static const char *whose(struct walk *walk, const struct item *item)
{
	struct arena *arena = &walk->scratch;
	const struct item *home = item;

	while (home->parent != NULL && home->scope != SCOPE_POINT && home->scope != SCOPE_ROOM)
		home = home->parent;
	if (home->scope == SCOPE_POINT && item->scope == SCOPE_INLET)
		return arena_print(arena, "%s %s: ", home->ref, item_title(walk, item, arena));
	if (item->ref[0] != '\0' && item != home)
		return arena_print(arena, "%s: ", item->ref);
	if (walk->view != VIEW_HOUSE && walk->form.item == home)
		return "";
	return home->scope == SCOPE_PREMISES
	               ? ""
	               : arena_print(arena, "%s: ", item_title(walk, home, arena));
}

static struct about answer_about(struct walk *walk, const struct step *step, const char *where)
{
	struct arena *arena = &walk->scratch;
	const char *label, *value, *more = "";
	struct found found;

	if (!find_answer(walk, where, &found))
		return (struct about){0};
	label = found.question == QUESTION_NONE ? "What is fitted?"
	                                        : walk->book->question[found.question].label;
	value = found.question == QUESTION_NONE
	                ? fitted_words(found.item)
	                : value_text(walk, found.item, found.question, arena);
	if (step->forward.count > 1 && presence_of(step->forward.item[0].where) == SCOPE_COUNT)
		more = arena_print(arena, "and %zu more, ", step->forward.count - 1);
	return (struct about){arena_print(arena, "%s%s %s", whose(walk, found.item), label, more),
	                      value, NULL};
}

/* -- both ------------------------------------------------------------------------------------ */

struct about step_about(struct walk *walk, const struct step *step)
{
	enum deed deed;
	const struct change *change = main_change(step, &deed);
	const char *ref;

	if (change == NULL)
		return (struct about){0};
	if (deed == DEED_ANSWERED)
		return answer_about(walk, step, change->where);
	ref = last_part(change->where);
	return (struct about){item_words(walk, change->where), NULL,
	                      survey_find(walk->survey, ref, strlen(ref))};
}

const char *step_words(struct walk *walk, const struct step *step, struct about before, bool undone)
{
	struct about now = step_about(walk, step);
	const char *thing = now.thing == NULL ? before.thing : now.thing;
	const char *value = now.thing == NULL || now.value == NULL ? "not answered" : now.value;
	struct arena *arena = &walk->scratch;
	const char *again =
	        arena_print(arena, " %s makes it again.", key_words(walk, REQUEST_REDO));
	enum deed deed;

	if (main_change(step, &deed) == NULL || thing == NULL)
		return undone ? arena_print(arena, "Taken back.%s", again) : "Made again.";
	switch (deed) {
	case DEED_ADDED:
		return undone ? arena_print(arena, "%s taken back.%s", thing, again)
		              : arena_print(arena, "%s added again.", thing);
	case DEED_REMOVED:
		return undone ? arena_print(arena, "%s is there again.", thing)
		              : arena_print(arena, "%s removed again.", thing);
	case DEED_MOVED:
		return undone ? arena_print(arena, "%s moved back.%s", thing, again)
		              : arena_print(arena, "%s moved again.", thing);
	case DEED_ANSWERED:
		break;
	}
	return undone ? arena_print(arena, "Taken back: %s%s again.", thing, value)
	              : arena_print(arena, "Made again: %s%s.", thing, value);
}
