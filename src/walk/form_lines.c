/*
 * The form of one item as lines. What is asked comes from the rulebook; only the grouping is ours.
 */
#include "inside.h"

#include <string.h>

enum { INDENT_PROTECTION = 1, INDENT_OWN = 2, INDENT_TEST = 3 };

static struct line *add(struct walk *walk, enum line_form form, const char *where, const char *text)
{
	struct item_form *shown = &walk->form;
	struct line *grown =
	        arena_grow(&shown->arena, shown->line, shown->count, &shown->room, sizeof(*grown));

	if (grown == NULL || where == NULL)
		return NULL;
	shown->line = grown;
	grown[shown->count] = (struct line){
	        .form = form, .where = where, .text = text, .question = QUESTION_NONE};
	return &grown[shown->count++];
}

static void add_head(struct walk *walk, const char *text)
{
	if (text != NULL)
		add(walk, LINE_HEAD, "", text);
}

static void add_note(struct walk *walk, const char *text)
{
	add(walk, LINE_NOTE, "", text);
}

static struct item *point_of(struct item *item)
{
	while (item != NULL && item->scope != SCOPE_POINT)
		item = item->parent;
	return item;
}

static struct line *add_answer(struct walk *walk, struct item *item, question_index question,
                               int indent)
{
	struct line *line =
	        add(walk, LINE_ANSWER,
	            survey_where(walk->survey, item, question, &walk->form.arena), NULL);

	if (line == NULL)
		return NULL;
	line->item = item;
	line->point = point_of(item);
	line->question = question;
	line->indent = indent;
	return line;
}

static struct line *add_adder(struct walk *walk, struct item *parent, const char *parent_where,
                              enum scope scope, int indent, const char *text)
{
	struct line *line =
	        add(walk, LINE_ADD,
	            arena_print(&walk->form.arena, "%s+%s", parent_where, survey_list_key(scope)),
	            text);

	if (line == NULL)
		return NULL;
	line->item = parent;
	line->point = parent == NULL ? walk->form.item : point_of(parent);
	line->scope = scope;
	line->indent = indent;
	return line;
}

/* -- protections and tests ------------------------------------------------------------------- */

static bool has_tests(const struct walk *walk, const struct item *protection)
{
	const struct type *type;

	if (protection->of >= walk->book->type_count)
		return false;
	type = &walk->book->type[protection->of];
	for (size_t i = 0; i < type->question_count; i++)
		if (walk->book->question[type->question[i]].scope == SCOPE_TEST)
			return true;
	return false;
}

static void add_asked(struct walk *walk, struct item *item, int indent, question_index but)
{
	struct asked asked;

	if (!survey_asked(walk->survey, item, &walk->form.arena, &asked))
		return;
	for (size_t i = 0; i < asked.count; i++)
		if (asked.question[i] != but)
			add_answer(walk, item, asked.question[i], indent);
}

static void add_tests(struct walk *walk, struct item *protection, unsigned inlet_index)
{
	struct arena *arena = &walk->form.arena;
	struct item *test;
	struct line *line;

	for (size_t i = 0; (test = item_child(protection, SCOPE_TEST, i)) != NULL; i++) {
		line = add(walk, LINE_NOTE, "", arena_print(arena, "Test %s", test->ref));
		if (line != NULL)
			line->indent = INDENT_TEST;
		add_asked(walk, test, INDENT_TEST, QUESTION_NONE);
	}
	if (!has_tests(walk, protection))
		return;
	line = add_adder(walk, protection, protection->ref, SCOPE_TEST, INDENT_OWN,
	                 "+ add a test of it");
	if (line != NULL)
		line->inlet_index = inlet_index;
}

static void add_protection(struct walk *walk, struct item *protection, size_t number,
                           unsigned inlet_index)
{
	question_index type = walk->book->known.protection_type;
	size_t first = walk->form.count;

	if (type != QUESTION_NONE) {
		struct line *line = add_answer(walk, protection, type, INDENT_PROTECTION);

		if (line != NULL)
			line->text = arena_print(&walk->form.arena, "%zu. %s", number,
			                         walk->book->question[type].label);
	}
	add_asked(walk, protection, INDENT_OWN, type);
	add_tests(walk, protection, inlet_index);
	for (size_t i = first; i < walk->form.count; i++)
		walk->form.line[i].inlet_index = inlet_index;
}

/* All that stands on an inlet, a branch or the whole site, in flow order, and the line that adds
 * one more. */
static void add_protections(struct walk *walk, struct item *parent, const char *parent_where,
                            unsigned inlet_index, const char *adder)
{
	struct item *protection;
	struct line *line;

	for (size_t i = 0;
	     parent != NULL && (protection = item_child(parent, SCOPE_PROTECTION, i)) != NULL; i++)
		add_protection(walk, protection, i + 1, inlet_index);
	line = add_adder(walk, parent, parent_where, SCOPE_PROTECTION, INDENT_PROTECTION, adder);
	if (line != NULL)
		line->inlet_index = inlet_index;
}

/* -- a point --------------------------------------------------------------------------------- */

/* An inlet that the survey lacks is asked the same; giving an answer makes it. */
static void add_inlet_answer(struct walk *walk, struct item *inlet, const char *path,
                             unsigned inlet_index, question_index question)
{
	const struct question *asked = &walk->book->question[question];
	struct line *line = add(walk, LINE_ANSWER,
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

static void add_inlet(struct walk *walk, struct item *inlet, const char *id, const char *name,
                      unsigned inlet_index)
{
	struct arena *arena = &walk->form.arena;
	const char *path = arena_print(arena, "%s/inlets/%s", walk->form.item->ref, id);
	const struct rulebook *book = walk->book;
	struct line *line;

	if (path == NULL)
		return;
	add_head(walk, arena_print(arena, "Inlet: %s", name));
	for (size_t i = 0; i < book->scope_question_count[SCOPE_INLET]; i++)
		add_inlet_answer(walk, inlet, path, inlet_index,
		                 book->scope_question[SCOPE_INLET][i]);
	line = add(walk, LINE_FITTED, arena_print(arena, "%s/protection", path),
	           "What is fitted, from the supply on?");
	if (line != NULL) {
		line->item = inlet;
		line->point = walk->form.item;
		line->inlet_index = inlet_index;
	}
	if (inlet == NULL || item_children(inlet, SCOPE_PROTECTION) == 0)
		return;
	add_protections(walk, inlet, path, inlet_index, "+ add what comes next in the flow");
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

static void add_actions(struct walk *walk, struct item *point)
{
	struct item *action;

	if (walk->book->scope_question_count[SCOPE_ACTION] == 0)
		return;
	add_head(walk, "Action taken before leaving");
	for (size_t i = 0; (action = item_child(point, SCOPE_ACTION, i)) != NULL; i++)
		add_asked(walk, action, 0, QUESTION_NONE);
	add_adder(walk, point, point->ref, SCOPE_ACTION, 0, "+ add an action taken");
}

static bool said_by_undertaker(const struct question *question)
{
	return strcmp(question->at, "undertaker_says") == 0;
}

/* The point's own questions in the order of asking, without what the undertaker says, or only that.
 */
static void add_point_questions(struct walk *walk, struct item *point, bool undertaker)
{
	struct asked asked;
	bool headed = !undertaker;

	if (!survey_asked(walk->survey, point, &walk->form.arena, &asked))
		return;
	for (size_t i = 0; i < asked.count; i++) {
		if (said_by_undertaker(&walk->book->question[asked.question[i]]) != undertaker)
			continue;
		if (!headed)
			add_head(walk, "The undertaker says, in writing");
		headed = true;
		add_answer(walk, point, asked.question[i], 0);
	}
}

static void add_point(struct walk *walk, struct item *point)
{
	add_head(walk, item_title(walk, point, &walk->form.arena));
	add_point_questions(walk, point, false);
	add_inlets(walk, point);
	add_actions(walk, point);
	add_point_questions(walk, point, true);
}

/* -- the premises and a room ----------------------------------------------------------------- */

static void add_premises_questions(struct walk *walk, const char *head, bool supply)
{
	struct asked asked;
	bool headed = false;

	if (!survey_asked(walk->survey, walk->survey->premises, &walk->form.arena, &asked))
		return;
	for (size_t i = 0; i < asked.count; i++) {
		const char *at = walk->book->question[asked.question[i]].at;

		if ((strcmp(at, "supply") == 0) != supply)
			continue;
		if (!headed)
			add_head(walk, head);
		headed = true;
		add_answer(walk, walk->survey->premises, asked.question[i], 0);
	}
}

/* Parts and branches: each starts with a line that names it. */
static void add_listed(struct walk *walk, enum scope scope)
{
	struct item *premises = walk->survey->premises;
	struct arena *arena = &walk->form.arena;
	struct item *item;

	for (size_t i = 0; (item = item_child(premises, scope, i)) != NULL; i++) {
		const char *title = item_title(walk, item, arena);

		add_note(walk, strcmp(title, item->ref) == 0
		                       ? title
		                       : arena_print(arena, "%s (%s)", title, item->ref));
		add_asked(walk, item, INDENT_PROTECTION, QUESTION_NONE);
		if (scope == SCOPE_BRANCH)
			add_protections(walk, item, item->ref, 0, "+ add a zone protection on it");
	}
}

static void add_premises(struct walk *walk, struct item *premises)
{
	if (premises->child_count == 0 && premises->answer_count == 0)
		add_note(walk, "Begin here: answer what you know of the building, once for all "
		               "rooms. What you leave open can wait. Then go on to the rooms, on "
		               "the last line.");
	add_premises_questions(walk, "The premises", false);
	add_premises_questions(walk, "The supply", true);
	add_head(walk, "Parts: who occupies what");
	add_listed(walk, SCOPE_PART);
	add_adder(walk, premises, "premises", SCOPE_PART, 0, "+ add a part");
	add_head(walk, "Branches: what feeds what");
	add_listed(walk, SCOPE_BRANCH);
	add_adder(walk, premises, "premises", SCOPE_BRANCH, 0, "+ add a branch");
	add_head(walk, "Protection of the whole site");
	add_protections(walk, premises, "supply", 0, "+ add a whole-site protection");
	add_head(walk, "Next");
	add(walk, LINE_ROOMS, "rooms", "> go on to the rooms");
}

static void add_room(struct walk *walk, struct item *room)
{
	add_head(walk, item_title(walk, room, &walk->form.arena));
	add_asked(walk, room, 0, QUESTION_NONE);
	add_adder(walk, room, room->ref, SCOPE_POINT, 0,
	          "+ add an outlet or appliance in this room");
	add(walk, LINE_ROOMS, "rooms", "> back to the house");
}

void form_build(struct walk *walk)
{
	struct item_form *form = &walk->form;

	arena_reset(&form->arena);
	form->line = NULL;
	form->count = form->room = 0;
	if (form->item->scope == SCOPE_PREMISES)
		add_premises(walk, form->item);
	else if (form->item->scope == SCOPE_ROOM)
		add_room(walk, form->item);
	else
		add_point(walk, form->item);
}
