/*
 * What the files that make the lines of a form share. Lines go to walk->form, texts to its arena.
 */
#ifndef TUNDISH_WALK_LINES_H
#define TUNDISH_WALK_LINES_H

#include "inside.h"

/* form_lines.c */
/** One more line; NULL when there is no memory or @p where is NULL. */
struct line *line_new(struct walk *walk, enum line_form form, const char *where, const char *text);
void lines_head(struct walk *walk, const char *text);
void lines_note(struct walk *walk, const char *text);
struct line *lines_answer(struct walk *walk, struct item *item, question_index question,
                          int indent);
/** All that is asked of an item, but one question: first what only its type asks, then what is asked
 * of all alike. */
void lines_asked(struct walk *walk, struct item *item, int indent, question_index but);
/** What adds an item below @p parent, whose place is @p parent_where. */
struct line *lines_adder(struct walk *walk, struct item *parent, const char *parent_where,
                         enum scope scope, int indent, const char *text);
/** All that stands on an inlet, a branch or the whole site, in flow order, and the line that adds
 * one more. */
void lines_protections(struct walk *walk, struct item *parent, const char *parent_where,
                       unsigned inlet_index, const char *adder);
/** What was done about a point before leaving, and the line that adds to it. */
void lines_actions(struct walk *walk, struct item *point, int indent);
/** The point that an item belongs to, or NULL. */
struct item *point_of(struct item *item);
/** The question of that id asked of a scope in a map, or QUESTION_NONE. */
question_index question_called(const struct walk *walk, enum scope scope, const char *at,
                               const char *id);

/** Whether a question of the premises is asked only before leaving. */
bool asked_on_leaving(const struct walk *walk, question_index question);

/* point_lines.c, sheet_lines.c, leaving_lines.c */
void lines_of_leaving(struct walk *walk, struct item *premises);
void lines_of_point(struct walk *walk, struct item *point);
void lines_of_premises(struct walk *walk, struct item *premises);
void lines_of_room(struct walk *walk, struct item *room);

#endif
