/*
 * The form of a point: was it seen; what its kind asks, in the kind's own order; each inlet with
 * what stands on it; what was done; and last what is only kept in the books.
 */
#include "lines.h"

#include <string.h>

/* -- inlets ---------------------------------------------------------------------------------- */

/* An inlet that the survey lacks is asked the same; giving an answer makes it. */
static void add_inlet_answer(struct walk *walk, struct item *inlet, const char *path,
                             unsigned inlet_index, question_index question)
{
	const struct question *asked = &walk->book->question[question];
	struct line *line = line_new(walk, LINE_ANSWER,
	                             arena_print(&walk->form.arena, "%s/%s%s%s", path, asked->at,
	                                         asked->at[0] == '\0' ? "" : "/", asked->id),
	                             NULL);

	if (line == NULL)
		return;
	line->item = inlet;
	line->point = walk->form.item;
	line->question = question;
	line->inlet_index = inlet_index;
}

/* What feeds it before what is fitted; what is only written down after it. */
static void add_inlet_questions(struct walk *walk, struct item *inlet, const char *path,
                                unsigned inlet_index, bool written)
{
	const struct rulebook *book = walk->book;

	for (size_t i = 0; i < book->scope_question_count[SCOPE_INLET]; i++) {
		question_index question = book->scope_question[SCOPE_INLET][i];

		if ((book->question[question].form == FORM_TEXT) == written)
			add_inlet_answer(walk, inlet, path, inlet_index, question);
	}
}

static void add_fitted(struct walk *walk, struct item *inlet, const char *path,
                       unsigned inlet_index)
{
	struct line *line =
	        line_new(walk, LINE_FITTED, arena_print(&walk->form.arena, "%s/protection", path),
	                 "What is fitted, from the supply on?");

	if (line != NULL) {
		line->item = inlet;
		line->point = walk->form.item;
		line->inlet_index = inlet_index;
	}
	if (inlet != NULL && item_children(inlet, SCOPE_PROTECTION) > 0)
		lines_protections(walk, inlet, path, inlet_index,
		                  "+ add what comes next in the flow");
}

static void add_inlet(struct walk *walk, struct item *inlet, const char *id, const char *name,
                      unsigned inlet_index)
{
	struct arena *arena = &walk->form.arena;
	const char *path = arena_print(arena, "%s/inlets/%s", walk->form.item->ref, id);

	if (path == NULL)
		return;
	lines_head(walk, arena_print(arena, "Inlet: %s", name));
	add_inlet_questions(walk, inlet, path, inlet_index, false);
	add_fitted(walk, inlet, path, inlet_index);
	add_inlet_questions(walk, inlet, path, inlet_index, true);
}

static struct item *inlet_named(struct item *point, const char *id)
{
	struct item *inlet;

	for (size_t i = 0; (inlet = item_child(point, SCOPE_INLET, i)) != NULL; i++)
		if (strcmp(inlet->ref, id) == 0)
			return inlet;
	return NULL;
}

/* Also those that the kind does not have: they came from a file or from another kind, and can be
 * looked at. */
static void add_inlets(struct walk *walk, struct item *point)
{
	const struct kind *kind;
	struct item *inlet;

	if (point->of >= walk->book->kind_count)
		return;
	kind = &walk->book->kind[point->of];
	for (unsigned i = 0; i < kind->inlet_count; i++)
		add_inlet(walk, inlet_named(point, kind->inlet[i].id), kind->inlet[i].id,
		          kind->inlet[i].name, i);
	for (size_t i = 0; (inlet = item_child(point, SCOPE_INLET, i)) != NULL; i++)
		if (survey_inlet_index(walk->survey, inlet) < 0)
			add_inlet(
			        walk, inlet, inlet->ref,
			        arena_print(&walk->form.arena, "%s (not of this kind)", inlet->ref),
			        INLETS_MOST);
}

/* -- the point itself ------------------------------------------------------------------------ */

/* Where a question of a point stands in its form. */
enum stands { STANDS_SEEN, STANDS_WHY_NOT_SEEN, STANDS_OWN, STANDS_BOOKS, STANDS_UNDERTAKER };

static bool asked_by_kind(const struct walk *walk, const struct item *point,
                          question_index question)
{
	const struct kind *kind;

	if (point->of >= walk->book->kind_count)
		return false;
	kind = &walk->book->kind[point->of];
	for (size_t i = 0; i < kind->question_count; i++)
		if (kind->question[i] == question)
			return true;
	return false;
}

static enum stands place_of(const struct walk *walk, const struct item *point,
                            question_index question)
{
	if (question == walk->book->known.point_seen)
		return STANDS_SEEN;
	if (question == question_called(walk, SCOPE_POINT, "", "why_not_seen"))
		return STANDS_WHY_NOT_SEEN;
	if (strcmp(walk->book->question[question].at, "undertaker_says") == 0)
		return STANDS_UNDERTAKER;
	return asked_by_kind(walk, point, question) ? STANDS_OWN : STANDS_BOOKS;
}

static bool is_all_seen(const struct walk *walk, const struct item *point, question_index why)
{
	const char *seen = item_text(point, walk->book->known.point_seen);

	return (seen == NULL || strcmp(seen, "yes") == 0) && item_answer(point, why) == NULL;
}

/* Within a place the order is the rulebook's. */
static void add_placed(struct walk *walk, struct item *point, const struct asked *asked,
                       enum stands place, const char *head)
{
	for (size_t i = 0; i < asked->count; i++) {
		question_index question = asked->question[i];

		if (place_of(walk, point, question) != place ||
		    (place == STANDS_WHY_NOT_SEEN && is_all_seen(walk, point, question)))
			continue;
		if (head != NULL)
			lines_head(walk, head);
		head = NULL;
		lines_answer(walk, point, question, 0);
	}
}

static void add_actions(struct walk *walk, struct item *point)
{
	/* what was done about it says how bad it was */
	if (walk->book->scope_question_count[SCOPE_ACTION] == 0 || quiz_hides(walk, point))
		return;
	lines_head(walk, "Action taken before leaving");
	lines_actions(walk, point, 0);
}

/* A point that is nothing yet has to be made something first. */
static bool is_nothing_yet(const struct walk *walk, const struct item *point)
{
	return point->of >= walk->book->kind_count && walk->book->known.point_kind != QUESTION_NONE;
}

void lines_of_point(struct walk *walk, struct item *point)
{
	struct asked asked;

	lines_head(walk, item_title(walk, point, &walk->form.arena));
	if (!survey_asked(walk->survey, point, &walk->form.arena, &asked))
		return;
	if (is_nothing_yet(walk, point))
		lines_answer(walk, point, walk->book->known.point_kind, 0);
	add_placed(walk, point, &asked, STANDS_SEEN, NULL);
	add_placed(walk, point, &asked, STANDS_WHY_NOT_SEEN, NULL);
	add_placed(walk, point, &asked, STANDS_OWN, NULL);
	add_inlets(walk, point);
	add_actions(walk, point);
	if (is_nothing_yet(walk, point))
		return;
	add_placed(walk, point, &asked, STANDS_BOOKS, "For the books");
	add_placed(walk, point, &asked, STANDS_UNDERTAKER, "The undertaker says, in writing");
}
