/*
 * What is half given, before the judge. It is put into the survey, judged, and taken out again, so
 * that nobody else ever sees it: an answer beside the others, an item that the survey lacks among
 * its siblings. No ref is used up by it.
 */
#include "inside.h"

#include <string.h>

void draft_none(struct walk *walk)
{
	struct draft *draft = &walk->draft;

	if (draft->item == NULL)
		return;
	*draft = (struct draft){.arena = draft->arena};
	walk->verdicts.of = NULL;
}

/* -- making one ------------------------------------------------------------------------------ */

/* An item that the survey lacks, below @p parent after @p after (NULL: last, or first where @p
 * first). */
static struct item *graft_new(struct draft *draft, struct item *parent, enum scope scope,
                              const char *ref, const struct item *after, bool first)
{
	struct graft *graft = &draft->graft[draft->graft_count];
	struct item **child = arena_take(&draft->arena, (parent->child_count + 1) * sizeof(*child));
	struct item *item = arena_take(&draft->arena, sizeof(*item));
	struct answer *answer = arena_take(&draft->arena, sizeof(*answer));
	size_t place = first ? 0 : parent->child_count;

	if (child == NULL || item == NULL || answer == NULL)
		return NULL;
	for (size_t i = 0; after != NULL && i < parent->child_count; i++)
		if (parent->child[i] == after)
			place = i + 1;
	for (size_t i = 0; i < parent->child_count; i++)
		child[i < place ? i : i + 1] = parent->child[i];
	child[place] = item;
	*item = (struct item){.scope = scope,
	                      .ref = ref,
	                      .parent = parent,
	                      .of = INDEX_NONE,
	                      .answer = answer,
	                      .answer_room = 1,
	                      .nothing_said = scope == SCOPE_INLET};
	*graft = (struct graft){.parent = parent, .child = child, .count = parent->child_count + 1};
	draft->graft_count++;
	return item;
}

/* The inlet of a point that the survey lacks. */
static struct item *graft_inlet(struct walk *walk, struct item *point, unsigned inlet_index)
{
	const struct kind *kind;

	if (point == NULL || point->of >= walk->book->kind_count)
		return NULL;
	kind = &walk->book->kind[point->of];
	if (inlet_index >= kind->inlet_count)
		return NULL;
	return graft_new(&walk->draft, point, SCOPE_INLET, kind->inlet[inlet_index].id, NULL,
	                 false);
}

static bool begin(struct walk *walk, question_index question, const char *text)
{
	struct draft *draft = &walk->draft;
	struct err err = {0};

	arena_reset(&draft->arena);
	return answer_read(walk->book, question, text, strlen(text), &draft->arena, &draft->answer,
	                   &err);
}

void draft_answer(struct walk *walk, const struct line *line, const char *text)
{
	draft_none(walk);
	if (line->form != LINE_ANSWER || line->point == NULL || text[0] == '\0' ||
	    !begin(walk, line->question, text))
		return;
	walk->draft.item =
	        line->item != NULL ? line->item : graft_inlet(walk, line->point, line->inlet_index);
	walk->verdicts.of = NULL;
}

/* The kind of a point that may be added, the type of a protection that may be added to an inlet. */
void draft_addition(struct walk *walk, const struct addition *adding, const char *text)
{
	struct draft *draft = &walk->draft;
	question_index type = walk->book->known.protection_type;
	struct item *parent = adding->parent;

	draft_none(walk);
	if (adding->scope == SCOPE_POINT && text[0] != '\0' &&
	    begin(walk, walk->book->known.point_kind, text))
		draft->item =
		        graft_new(draft, parent, SCOPE_POINT, "", adding->after, adding->first);
	if (adding->scope != SCOPE_PROTECTION || adding->point == NULL || type == QUESTION_NONE ||
	    text[0] == '\0' || !begin(walk, type, text))
		return;
	if (parent == NULL)
		parent = graft_inlet(walk, adding->point, adding->inlet_index);
	if (parent == NULL || parent->scope != SCOPE_INLET)
		return;
	draft->item = graft_new(draft, parent, SCOPE_PROTECTION, "", adding->after, adding->first);
	if (draft->item == NULL)
		draft->graft_count = 0;
	walk->verdicts.of = NULL;
}

/* -- putting it in and taking it out --------------------------------------------------------- */

static void swap_children(struct graft *graft)
{
	struct item *parent = graft->parent;
	struct graft was = {parent, parent->child, parent->child_count, parent->nothing_said,
	                    parent->cannot_tell};

	parent->child = graft->child;
	parent->child_count = graft->count;
	parent->nothing_said = graft->nothing_said;
	parent->cannot_tell = graft->cannot_tell;
	*graft = was;
}

bool draft_put(struct walk *walk)
{
	struct draft *draft = &walk->draft;
	const struct answer *was;

	if (draft->item == NULL)
		return false;
	was = item_answer(draft->item, draft->answer.question);
	draft->had = was != NULL;
	if (was != NULL)
		draft->was = *was;
	draft->of = draft->item->of;
	if (!survey_put(walk->survey, draft->item, &draft->answer))
		return false;
	for (size_t i = 0; i < draft->graft_count; i++)
		swap_children(&draft->graft[i]);
	return true;
}

/* A new answer stands last: forgetting it is counting one less. */
void draft_take(struct walk *walk)
{
	struct draft *draft = &walk->draft;

	for (size_t i = draft->graft_count; i-- > 0;)
		swap_children(&draft->graft[i]);
	if (draft->had)
		*item_answer(draft->item, draft->answer.question) = draft->was;
	else
		draft->item->answer_count--;
	draft->item->of = draft->of;
}

/* A judged draft stays put in while what was said of it is put into words: whose kind, inlets and
 * fluids are named must be of the same item. */
bool draft_speaks(struct walk *walk)
{
	return walk->verdicts.drafted && walk->verdicts.of != NULL && draft_put(walk);
}

/* The kind of a point and what feeds it shape the house: then the judge has to take it up anew, and
 * again afterwards. */
bool draft_shapes(const struct walk *walk)
{
	enum form form;

	if (walk->draft.item == NULL)
		return false;
	form = walk->book->question[walk->draft.answer.question].form;
	return form == FORM_KIND || form == FORM_FEED;
}
