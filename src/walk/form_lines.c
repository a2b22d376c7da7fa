/*
 * The form of one item as lines. What is asked comes from the rulebook; only the grouping is ours.
 */
#include "lines.h"

#include <string.h>

enum { INDENT_PROTECTION = 1, INDENT_OWN = 2, INDENT_TEST = 3 };

struct line *line_new(struct walk *walk, enum line_form form, const char *where, const char *text)
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

void lines_head(struct walk *walk, const char *text)
{
	if (text != NULL)
		line_new(walk, LINE_HEAD, "", text);
}

void lines_note(struct walk *walk, const char *text)
{
	line_new(walk, LINE_NOTE, "", text);
}

struct item *point_of(struct item *item)
{
	while (item != NULL && item->scope != SCOPE_POINT)
		item = item->parent;
	return item;
}

struct line *lines_answer(struct walk *walk, struct item *item, question_index question, int indent)
{
	struct line *line =
	        line_new(walk, LINE_ANSWER,
	                 survey_where(walk->survey, item, question, &walk->form.arena), NULL);

	if (line == NULL)
		return NULL;
	line->item = item;
	line->point = point_of(item);
	line->question = question;
	line->indent = indent;
	return line;
}

struct line *lines_adder(struct walk *walk, struct item *parent, const char *parent_where,
                         enum scope scope, int indent, const char *text)
{
	struct line *line = quiz_on(walk)
	                            ? NULL
	                            : line_new(walk, LINE_ADD,
	                                       arena_print(&walk->form.arena, "%s+%s", parent_where,
	                                                   survey_list_key(scope)),
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

question_index question_called(const struct walk *walk, enum scope scope, const char *at,
                               const char *id)
{
	return rulebook_question(walk->book, scope, INDEX_NONE, at, id, strlen(id));
}

static bool is_of_scope(const struct walk *walk, enum scope scope, question_index question)
{
	for (size_t i = 0; i < walk->book->scope_question_count[scope]; i++)
		if (walk->book->scope_question[scope][i] == question)
			return true;
	return false;
}

void lines_asked(struct walk *walk, struct item *item, int indent, question_index but)
{
	struct asked asked;

	if (!survey_asked(walk->survey, item, &walk->form.arena, &asked))
		return;
	for (int of_all = 0; of_all <= 1; of_all++)
		for (size_t i = 0; i < asked.count; i++)
			if (asked.question[i] != but &&
			    is_of_scope(walk, item->scope, asked.question[i]) == (of_all == 1))
				lines_answer(walk, item, asked.question[i], indent);
}

static void add_tests(struct walk *walk, struct item *protection, unsigned inlet_index)
{
	struct arena *arena = &walk->form.arena;
	struct item *test;
	struct line *line;

	for (size_t i = 0; (test = item_child(protection, SCOPE_TEST, i)) != NULL; i++) {
		line = line_new(walk, LINE_NOTE, "", arena_print(arena, "Test %s", test->ref));
		if (line != NULL)
			line->indent = INDENT_TEST;
		lines_asked(walk, test, INDENT_TEST, QUESTION_NONE);
	}
	if (!has_tests(walk, protection))
		return;
	line = lines_adder(walk, protection, protection->ref, SCOPE_TEST, INDENT_OWN,
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
		struct line *line = lines_answer(walk, protection, type, INDENT_PROTECTION);

		if (line != NULL)
			line->text = arena_print(&walk->form.arena, "%zu. %s", number,
			                         walk->book->question[type].label);
	}
	lines_asked(walk, protection, INDENT_OWN, type);
	add_tests(walk, protection, inlet_index);
	for (size_t i = first; i < walk->form.count; i++)
		walk->form.line[i].inlet_index = inlet_index;
}

/* All that stands on an inlet, a branch or the whole site, in flow order, and the line that adds
 * one more. */
void lines_protections(struct walk *walk, struct item *parent, const char *parent_where,
                       unsigned inlet_index, const char *adder)
{
	struct item *protection;
	struct line *line;

	for (size_t i = 0;
	     parent != NULL && (protection = item_child(parent, SCOPE_PROTECTION, i)) != NULL; i++)
		add_protection(walk, protection, i + 1, inlet_index);
	line = lines_adder(walk, parent, parent_where, SCOPE_PROTECTION, INDENT_PROTECTION, adder);
	if (line != NULL)
		line->inlet_index = inlet_index;
}

void lines_actions(struct walk *walk, struct item *point, int indent)
{
	struct item *action;

	for (size_t i = 0; (action = item_child(point, SCOPE_ACTION, i)) != NULL; i++)
		lines_asked(walk, action, indent, QUESTION_NONE);
	lines_adder(walk, point, point->ref, SCOPE_ACTION, indent, "+ say what was done");
}

/* -- all of them ------------------------------------------------------------------------------ */

void form_build(struct walk *walk)
{
	struct item_form *form = &walk->form;

	arena_reset(&form->arena);
	form->line = NULL;
	form->count = form->room = 0;
	if (form->leaving)
		lines_of_leaving(walk, form->item);
	else if (form->item->scope == SCOPE_PREMISES)
		lines_of_premises(walk, form->item);
	else if (form->item->scope == SCOPE_ROOM)
		lines_of_room(walk, form->item);
	else
		lines_of_point(walk, form->item);
}
