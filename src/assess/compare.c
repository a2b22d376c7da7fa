#include "tundish/assess/survey.h"

#include "survey_edit.h"

#include <string.h>

/* Where changes are noted. After a failure nothing more is. */
struct noting {
	const struct survey *survey; /* for its rulebook */
	struct arena *arena;
	struct changes *out;
	bool failed;
};

static const char *copy(struct noting *noting, const char *text)
{
	return text == NULL ? NULL : arena_copy(noting->arena, text, strlen(text));
}

static void note(struct noting *noting, const char *where, const char *before, const char *after)
{
	struct changes *out = noting->out;
	struct change *grown;
	struct change change = {where, copy(noting, before), copy(noting, after)};

	if (where == NULL || (before != NULL && change.before == NULL) ||
	    (after != NULL && change.after == NULL)) {
		noting->failed = true;
		return;
	}
	grown = arena_grow(noting->arena, out->item, out->count, &out->room, sizeof(change));
	if (grown == NULL) {
		noting->failed = true;
		return;
	}
	out->item = grown;
	out->item[out->count++] = change;
}

static const char *where(struct noting *noting, const struct item *item, question_index question)
{
	return survey_where(noting->survey, item, question, noting->arena);
}

static void note_known(struct noting *noting, const struct item *inlet, const char *before,
                       const char *after)
{
	const char *path = where(noting, inlet, QUESTION_NONE);

	if (path != NULL)
		path = arena_print(noting->arena, "%s/%s", path, survey_list_key(SCOPE_PROTECTION));
	note(noting, path, before, after);
}

static bool same_text(const char *a, const char *b)
{
	return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

/* -- answers -------------------------------------------------------------------------- */

static void note_answer(struct noting *noting, const struct item *from, const struct item *to,
                        question_index question)
{
	const char *before = from == NULL ? NULL : item_text(from, question);
	const char *after = item_text(to, question);

	if (!same_text(before, after))
		note(noting, where(noting, to, question), before, after);
}

/* The kind or type decides what the other keys mean: it comes first. */
static bool decides(const struct noting *noting, const struct answer *answer)
{
	enum form form = noting->survey->book->question[answer->question].form;

	return form == FORM_KIND || form == FORM_TYPE;
}

/* @p from is NULL for a new item. */
static void note_answers(struct noting *noting, const struct item *from, const struct item *to)
{
	for (size_t i = 0; i < to->answer_count; i++)
		if (decides(noting, &to->answer[i]))
			note_answer(noting, from, to, to->answer[i].question);
	for (size_t i = 0; i < to->answer_count; i++)
		if (!decides(noting, &to->answer[i]))
			note_answer(noting, from, to, to->answer[i].question);
	for (size_t i = 0; from != NULL && i < from->answer_count; i++)
		if (item_answer(to, from->answer[i].question) == NULL)
			note_answer(noting, from, to, from->answer[i].question);
}

/* What a change of presence leaves behind is `nothing_said`; what more is known has to be noted. */
static void note_inlet(struct noting *noting, const struct item *from, const struct item *to)
{
	const char *before = NULL, *after = inlet_known(to);

	if (to->scope != SCOPE_INLET || item_children(to, SCOPE_PROTECTION) > 0)
		return;
	if (from != NULL && item_children(from, SCOPE_PROTECTION) == 0)
		before = inlet_known(from);
	if (!same_text(before, after))
		note_known(noting, to, before, after);
}

/* -- items ---------------------------------------------------------------------------- */

static void note_new(struct noting *noting, const struct item *item, const char *stands_after)
{
	const char *last[SCOPE_COUNT] = {NULL};

	note(noting, where(noting, item, QUESTION_NONE), NULL, stands_after);
	note_answers(noting, NULL, item);
	note_inlet(noting, NULL, item);
	for (size_t i = 0; i < item->child_count && !noting->failed; i++) {
		const struct item *child = item->child[i];
		const char *after = last[child->scope];

		note_new(noting, child, after == NULL ? "" : after);
		last[child->scope] = child->ref;
	}
}

/* The same item below @p parent, which is the same item as its own parent there. */
static const struct item *same_item(const struct survey *there, const struct item *parent,
                                    const struct item *item)
{
	const struct item *found;

	if (item->scope == SCOPE_INLET)
		return item_named(parent, SCOPE_INLET, item->ref, strlen(item->ref));
	found = survey_find(there, item->ref, strlen(item->ref));
	return found != NULL && found->parent == parent && found->scope == item->scope ? found
	                                                                               : NULL;
}

static void note_removals(struct noting *noting, const struct item *from, const struct survey *to,
                          const struct item *there)
{
	for (size_t i = 0; i < from->child_count && !noting->failed; i++) {
		const struct item *child = from->child[i];
		const struct item *same = same_item(to, there, child);

		if (same != NULL)
			note_removals(noting, child, to, same);
		else
			note(noting, where(noting, child, QUESTION_NONE), item_stands_after(child),
			     NULL);
	}
}

/* One child of the new survey, and where the same child stood among its parent's in the old one. */
struct pairing {
	const struct item *old; /* NULL: it is new */
	size_t old_place;
	size_t run; /* the most children up to here, of its scope, that keep their order */
	bool stays; /* among those that keep their order */
};

/* Most children stand where they stood: the search starts after the last one found. */
static size_t place_from(const struct item *parent, const struct item *child, size_t guess)
{
	for (size_t i = 0; i < parent->child_count; i++) {
		size_t place = (guess + i) % parent->child_count;

		if (parent->child[place] == child)
			return place;
	}
	return 0;
}

static bool pair(const struct survey *from, const struct item *old, const struct item *now,
                 struct pairing *pairing)
{
	size_t last[SCOPE_COUNT] = {0}, guess = 0;
	bool in_order = true;

	for (size_t i = 0; i < now->child_count; i++) {
		enum scope scope = now->child[i]->scope;

		pairing[i].old = same_item(from, old, now->child[i]);
		pairing[i].stays = pairing[i].old != NULL;
		if (pairing[i].old == NULL)
			continue;
		pairing[i].old_place = place_from(old, pairing[i].old, guess);
		guess = pairing[i].old_place + 1;
		/* inlets are keys of a map: their order says nothing */
		if (scope != SCOPE_INLET && guess <= last[scope])
			in_order = false;
		last[scope] = guess;
	}
	return in_order;
}

static bool goes_before(const struct item *now, const struct pairing *pairing, size_t i, size_t j)
{
	return pairing[i].old != NULL && now->child[i]->scope == now->child[j]->scope &&
	       pairing[i].old_place < pairing[j].old_place;
}

/* Of one scope, keep the longest run that is in its old order; the others have to be moved. */
static void settle_moves(const struct item *now, struct pairing *pairing, enum scope scope)
{
	size_t longest = 0, last = 0;

	for (size_t i = 0; i < now->child_count; i++) {
		if (now->child[i]->scope != scope || pairing[i].old == NULL)
			continue;
		pairing[i].stays = false;
		pairing[i].run = 1;
		for (size_t j = 0; j < i; j++)
			if (goes_before(now, pairing, j, i) && pairing[j].run >= pairing[i].run)
				pairing[i].run = pairing[j].run + 1;
		if (pairing[i].run > longest) {
			longest = pairing[i].run;
			last = i;
		}
	}
	for (size_t i = last + 1; longest > 0 && i-- > 0;)
		if (now->child[i]->scope == scope && pairing[i].old != NULL &&
		    pairing[i].run == longest &&
		    (i == last || pairing[i].old_place < pairing[last].old_place)) {
			pairing[i].stays = true;
			last = i;
			longest--;
		}
}

static struct pairing *pair_children(struct noting *noting, const struct survey *from,
                                     const struct item *old, const struct item *now)
{
	struct pairing *pairing =
	        arena_take(noting->arena, now->child_count * sizeof(struct pairing));

	if (pairing == NULL) {
		noting->failed = true;
		return NULL;
	}
	if (!pair(from, old, now, pairing))
		for (enum scope scope = SCOPE_PART; scope < SCOPE_OUTCOME; scope++)
			if (scope != SCOPE_INLET)
				settle_moves(now, pairing, scope);
	return pairing;
}

static void note_items(struct noting *noting, const struct survey *from, const struct item *old,
                       const struct item *now)
{
	const char *last[SCOPE_COUNT] = {NULL};
	struct pairing *pairing = pair_children(noting, from, old, now);

	note_answers(noting, old, now);
	note_inlet(noting, old, now);
	for (size_t i = 0; i < now->child_count && !noting->failed; i++) {
		const struct item *child = now->child[i];
		const char *after = last[child->scope] == NULL ? "" : last[child->scope];

		last[child->scope] = child->ref;
		if (pairing[i].old == NULL) {
			note_new(noting, child, after);
			continue;
		}
		if (!pairing[i].stays)
			note(noting, where(noting, child, QUESTION_NONE),
			     item_stands_after(pairing[i].old), after);
		note_items(noting, from, pairing[i].old, child);
	}
}

bool survey_compare(const struct survey *from, const struct survey *to, struct arena *arena,
                    struct changes *out)
{
	struct noting noting = {from, arena, out, false};

	*out = (struct changes){0};
	note_removals(&noting, from->premises, to, to->premises);
	if (!noting.failed)
		note_items(&noting, from, from->premises, to->premises);
	return !noting.failed;
}

/* -- taking back ---------------------------------------------------------------------- */

static void note_inverse_presence(struct noting *noting, const struct survey *survey,
                                  const struct change *change, const struct target *target)
{
	const struct item *item = target_child(survey, target, target->ref, target->ref_length);

	if (item != NULL && change->after == NULL) {
		note_new(noting, item, item_stands_after(item));
	} else if (item != NULL) {
		note(noting, copy(noting, change->where), change->after, item_stands_after(item));
	} else if (change->after != NULL) {
		note(noting, copy(noting, change->where), change->after, NULL);
		/* the first protection ended what was known of the inlet */
		if (target->item->scope == SCOPE_INLET && target->item->child_count == 0 &&
		    inlet_known(target->item) != NULL)
			note_known(noting, target->item, NULL, inlet_known(target->item));
	}
}

bool survey_inverse(const struct survey *survey, const struct change *change, struct arena *arena,
                    struct changes *out)
{
	struct noting noting = {survey, arena, out, false};
	struct target target;

	*out = (struct changes){0};
	if (!change_target(survey, change->where, &target))
		return true;
	switch (target.form) {
	case TARGET_ANSWER:
		note(&noting, copy(&noting, change->where), change->after,
		     item_text(target.item, target.question));
		break;
	case TARGET_KNOWN:
		note(&noting, copy(&noting, change->where), change->after,
		     inlet_known(target.item));
		break;
	case TARGET_PRESENCE:
		note_inverse_presence(&noting, survey, change, &target);
		break;
	}
	return !noting.failed;
}
