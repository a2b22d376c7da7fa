/*
 * Where a new item goes, and the ref that it gets.
 */
#include "inside.h"

#include "tundish/base/text.h"

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
	if (scope != SCOPE_INLET)
		return survey_find(walk->survey, ref, strlen(ref));
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
		char c = text_small(*name);

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
