#include "survey_fresh.h"

#include <stdlib.h>
#include <string.h>

struct making {
	const struct survey *survey;
	const struct folded *folded;
	struct arena *arena;
	bool failed;
};

/* -- what is folded into the point ---------------------------------------------------- */

static int by_text(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static const struct kind *kind_of(const struct survey *survey, const struct item *point)
{
	return point->of < survey->book->kind_count ? &survey->book->kind[point->of] : NULL;
}

static bool folds_in_text(const struct tree *point, const struct survey *survey)
{
	const struct tree *ref = tree_get(point, "ref"), *fed_by = tree_get(point, "fed_by");
	const struct tree *protection = tree_get(point, "protection");
	const struct item *item = NULL;
	const struct kind *kind;

	if (ref != NULL && ref->kind == EVENT_SCALAR)
		item = survey_find(survey, ref->text, ref->length);
	if (item == NULL || item->scope != SCOPE_POINT)
		return false;
	kind = kind_of(survey, item);
	if (kind == NULL || kind->inlet_count != 1 ||
	    tree_get(tree_get(point, "inlets"), kind->inlet[0].id) != NULL)
		return false;
	return (fed_by != NULL && !tree_is_empty(fed_by)) ||
	       (protection != NULL && !tree_is_empty(protection));
}

static bool folded_add(struct folded *folded, const char *ref, struct arena *arena)
{
	const char **grown =
	        arena_grow(arena, folded->ref, folded->count, &folded->room, sizeof(*grown));

	if (grown == NULL)
		return false;
	folded->ref = grown;
	grown[folded->count++] = ref;
	return true;
}

static bool find_in_room(struct folded *folded, const struct tree *room,
                         const struct survey *survey, struct arena *arena)
{
	const struct tree *points = tree_get(room, "points");

	for (const struct tree *point = points == NULL ? NULL : points->child; point != NULL;
	     point = point->next)
		if (folds_in_text(point, survey) &&
		    !folded_add(folded, tree_get(point, "ref")->text, arena))
			return false;
	return true;
}

bool folded_find(struct folded *folded, const struct tree *root, const struct survey *survey,
                 struct arena *arena)
{
	const struct tree *rooms = tree_get(root, "rooms");

	for (const struct tree *room = rooms == NULL ? NULL : rooms->child; room != NULL;
	     room = room->next)
		if (!find_in_room(folded, room, survey, arena))
			return false;
	if (folded->count > 1)
		qsort(folded->ref, folded->count, sizeof(*folded->ref), by_text);
	return true;
}

/* Only what can be said on a point: what feeds the inlet, and its protection. */
static bool is_folded(const struct making *making, const struct item *inlet)
{
	const struct item *point = inlet->parent;
	const struct kind *kind = kind_of(making->survey, point);

	if (making->folded->count == 0 || kind == NULL || kind->inlet_count != 1 ||
	    strcmp(kind->inlet[0].id, inlet->ref) != 0 ||
	    bsearch(&point->ref, making->folded->ref, making->folded->count,
	            sizeof(*making->folded->ref), by_text) == NULL)
		return false;
	for (size_t i = 0; i < inlet->answer_count; i++)
		if (inlet->answer[i].question != making->survey->book->known.inlet_fed_by)
			return false;
	/* with nothing to say of it the inlet itself would not be there */
	return inlet->answer_count > 0 || inlet->child_count > 0 || !inlet->nothing_said;
}

/* -- answers -------------------------------------------------------------------------- */

static struct fresh *add(struct making *making, struct fresh *parent, enum event_kind kind,
                         const char *key)
{
	struct fresh *fresh = fresh_add(making->arena, parent, kind, key);

	if (fresh == NULL)
		making->failed = true;
	return fresh;
}

static void add_text(struct making *making, struct fresh *parent, const char *key, const char *text,
                     bool typed)
{
	if (fresh_scalar(making->arena, parent, key, text, typed) == NULL)
		making->failed = true;
}

/* A choice is typed where its word is a number, or yes or no: a tool that takes it for one writes
 * it back as one. */
static bool is_typed(const struct question *question, const char *text)
{
	if (question->form != FORM_CHOICE)
		return form_has_cells(question->form);
	return text[strspn(text, "0123456789")] == '\0' || strcmp(text, "yes") == 0 ||
	       strcmp(text, "no") == 0;
}

static void add_several(struct making *making, struct fresh *map, const struct question *question,
                        const char *text)
{
	struct fresh *list = add(making, map, EVENT_LIST, question->id);

	if (list != NULL)
		list->flow = true;
	while (list != NULL && *text != '\0' && !making->failed) {
		size_t length = strcspn(text, ",");
		const char *word = arena_copy(making->arena, text, length);

		if (word == NULL)
			making->failed = true;
		else
			add_text(making, list, NULL, word, is_typed(question, word));
		text += length + strspn(text + length, ", ");
	}
}

static void add_answer(struct making *making, struct fresh *map, const struct answer *answer)
{
	const struct question *question = &making->survey->book->question[answer->question];
	bool has_words = question->form == FORM_CHOICE || question->form == FORM_FEED ||
	                 question->form == FORM_TYPE;

	if (has_words && strchr(answer->text, ',') != NULL)
		add_several(making, map, question, answer->text);
	else
		add_text(making, map, question->id, answer->text, is_typed(question, answer->text));
}

/* In the order of asking; those that nobody asks any more at the end. */
struct ordered {
	const struct answer **answer;
	size_t count;
};

static bool is_in(const struct ordered *ordered, const struct answer *answer)
{
	for (size_t i = 0; i < ordered->count; i++)
		if (ordered->answer[i] == answer)
			return true;
	return false;
}

static struct ordered order_answers(struct making *making, const struct item *item)
{
	struct ordered ordered = {
	        arena_take(making->arena, item->answer_count * sizeof(struct answer *)), 0};
	struct asked asked;

	if (ordered.answer == NULL || !survey_asked(making->survey, item, making->arena, &asked)) {
		making->failed = true;
		return (struct ordered){NULL, 0};
	}
	for (size_t i = 0; i < asked.count; i++) {
		const struct answer *answer = item_answer(item, asked.question[i]);

		if (answer != NULL)
			ordered.answer[ordered.count++] = answer;
	}
	for (size_t i = 0; i < item->answer_count; i++)
		if (!is_in(&ordered, &item->answer[i]))
			ordered.answer[ordered.count++] = &item->answer[i];
	return ordered;
}

static const char *answer_at(const struct making *making, const struct answer *answer)
{
	return making->survey->book->question[answer->question].at;
}

static bool add_answers_at(struct making *making, struct fresh *map, const struct ordered *ordered,
                           const char *at)
{
	bool any = false;

	for (size_t i = 0; i < ordered->count && map != NULL; i++)
		if (strcmp(answer_at(making, ordered->answer[i]), at) == 0) {
			add_answer(making, map, ordered->answer[i]);
			any = true;
		}
	return any;
}

static bool has_at(const struct making *making, const struct ordered *ordered, const char *at)
{
	for (size_t i = 0; i < ordered->count; i++)
		if (strcmp(answer_at(making, ordered->answer[i]), at) == 0)
			return true;
	return false;
}

static void add_map_at(struct making *making, struct fresh *map, const struct ordered *ordered,
                       const char *at)
{
	struct fresh *answers;

	if (map == NULL || fresh_get(map, at) != NULL || !has_at(making, ordered, at))
		return;
	answers = add(making, map, EVENT_MAP, at);
	if (answers != NULL)
		answers->flow = true;
	add_answers_at(making, answers, ordered, at);
}

/* Maps of answers: `answers` first, the others as they are asked. */
static void add_maps(struct making *making, struct fresh *map, const struct ordered *ordered)
{
	add_map_at(making, map, ordered, "answers");
	for (size_t i = 0; i < ordered->count; i++)
		if (answer_at(making, ordered->answer[i])[0] != '\0')
			add_map_at(making, map, ordered, answer_at(making, ordered->answer[i]));
}

/* -- items ---------------------------------------------------------------------------- */

static void add_item(struct making *making, struct fresh *parent, const struct item *item);

static void add_list(struct making *making, struct fresh *map, const struct item *parent,
                     enum scope scope)
{
	struct fresh *list;

	if (making->failed || item_children(parent, scope) == 0)
		return;
	list = add(making, map, scope == SCOPE_INLET ? EVENT_MAP : EVENT_LIST,
	           survey_list_key(scope));
	if (list == NULL)
		return;
	list->items = scope != SCOPE_INLET;
	list->flow = scope == SCOPE_PROTECTION || scope == SCOPE_TEST || scope == SCOPE_ACTION;
	for (size_t i = 0; i < parent->child_count && !making->failed; i++)
		if (parent->child[i]->scope == scope)
			add_item(making, list, parent->child[i]);
}

/* What is fitted on an inlet, or what is known of it. */
static void add_protection(struct making *making, struct fresh *map, const struct item *inlet)
{
	if (item_children(inlet, SCOPE_PROTECTION) > 0)
		add_list(making, map, inlet, SCOPE_PROTECTION);
	else if (inlet->cannot_tell || !inlet->nothing_said)
		add_text(making, map, survey_list_key(SCOPE_PROTECTION),
		         inlet->cannot_tell ? "cannot_tell" : "nothing", false);
}

static void add_inlets(struct making *making, struct fresh *map, const struct item *point)
{
	struct fresh *inlets = NULL;

	for (size_t i = 0; i < point->child_count && !making->failed; i++) {
		const struct item *inlet = point->child[i];
		struct ordered ordered;

		if (inlet->scope != SCOPE_INLET)
			continue;
		if (!is_folded(making, inlet)) {
			if (inlets == NULL)
				inlets = add(making, map, EVENT_MAP, survey_list_key(SCOPE_INLET));
			if (inlets != NULL)
				add_item(making, inlets, inlet);
			continue;
		}
		ordered = order_answers(making, inlet);
		add_answers_at(making, map, &ordered, "");
		add_protection(making, map, inlet);
	}
}

static void add_children(struct making *making, struct fresh *map, const struct item *item,
                         const struct ordered *ordered)
{
	if (item->scope == SCOPE_INLET)
		add_protection(making, map, item);
	if (item->scope == SCOPE_POINT)
		add_inlets(making, map, item);
	add_maps(making, map, ordered);
	for (enum scope scope = SCOPE_PART; scope < SCOPE_OUTCOME; scope++)
		if (scope != SCOPE_INLET &&
		    !(scope == SCOPE_PROTECTION && item->scope == SCOPE_INLET))
			add_list(making, map, item, scope);
}

static void add_item(struct making *making, struct fresh *parent, const struct item *item)
{
	bool is_inlet = item->scope == SCOPE_INLET;
	struct fresh *map = add(making, parent, EVENT_MAP, is_inlet ? item->ref : NULL);
	struct ordered ordered = order_answers(making, item);

	if (map == NULL || making->failed)
		return;
	map->alike = true;
	map->flow = item->scope != SCOPE_ROOM && item->scope != SCOPE_POINT;
	if (!is_inlet)
		add_text(making, map, "ref", item->ref, false);
	add_answers_at(making, map, &ordered, "");
	add_children(making, map, item, &ordered);
}

/* -- the whole ------------------------------------------------------------------------ */

/* A map of the root, made when it has something to say. */
static struct fresh *section(struct making *making, const char *key)
{
	return add(making, NULL, EVENT_MAP, key);
}

static void keep_section(struct fresh *root, struct fresh *map)
{
	if (map == NULL || map->child == NULL)
		return;
	if (root->last != NULL)
		root->last->next = map;
	else
		root->child = map;
	root->last = map;
}

struct fresh *survey_fresh(const struct survey *survey, const struct folded *folded,
                           struct arena *arena)
{
	struct making making = {survey, folded, arena, false};
	struct fresh *root = add(&making, NULL, EVENT_MAP, NULL);
	struct fresh *premises = section(&making, "premises"), *supply = section(&making, "supply");
	struct ordered ordered = order_answers(&making, survey->premises);

	if (making.failed)
		return NULL;
	add_text(&making, root, "tundish", "1", true);
	add_answers_at(&making, premises, &ordered, "");
	add_answers_at(&making, premises, &ordered, "premises");
	add_list(&making, premises, survey->premises, SCOPE_PART);
	add_answers_at(&making, supply, &ordered, "supply");
	add_list(&making, supply, survey->premises, SCOPE_PROTECTION);
	keep_section(root, premises);
	keep_section(root, supply);
	for (size_t i = 0; i < ordered.count; i++) {
		const char *at = answer_at(&making, ordered.answer[i]);

		if (at[0] != '\0' && strcmp(at, "premises") != 0 && strcmp(at, "supply") != 0)
			add_map_at(&making, root, &ordered, at);
	}
	add_list(&making, root, survey->premises, SCOPE_BRANCH);
	add_list(&making, root, survey->premises, SCOPE_ROOM);
	return making.failed ? NULL : root;
}
