/*
 * Another name for an item, and taking one out.
 */
#include "inside.h"

#include <string.h>

static bool can_stand_alone(const struct item *item)
{
	return item->scope == SCOPE_PART || item->scope == SCOPE_BRANCH ||
	       item->scope == SCOPE_PROTECTION || item->scope == SCOPE_TEST ||
	       item->scope == SCOPE_ACTION || item->scope == SCOPE_ROOM ||
	       item->scope == SCOPE_POINT;
}

/* What the cursor is on: of a form, the smallest thing that its line belongs to. */
struct item *item_under_cursor(struct walk *walk)
{
	struct item *item = walk->form.item;

	if (walk->view == VIEW_HOUSE) {
		const struct house_row *row = house_row(walk);

		return row->form == ROW_ROOM || row->form == ROW_POINT ? row->item : NULL;
	}
	if (form_line(walk) != NULL && form_line(walk)->item != NULL)
		item = form_line(walk)->item;
	while (item != NULL && !can_stand_alone(item))
		item = item->parent;
	return item;
}

static question_index name_question(const struct walk *walk, const struct item *item)
{
	const struct known_questions *known = &walk->book->known;

	if (item->scope == SCOPE_PART)
		return known->part_name;
	if (item->scope == SCOPE_BRANCH)
		return known->branch_name;
	if (item->scope == SCOPE_ROOM)
		return known->room_name;
	if (item->scope == SCOPE_POINT)
		return known->point_name;
	return QUESTION_NONE;
}

void name_open(struct walk *walk)
{
	struct item *item = item_under_cursor(walk);
	const char *name;

	while (item != NULL && name_question(walk, item) == QUESTION_NONE)
		item = item->parent;
	if (item == NULL) {
		say(walk, "Nothing here has a name of its own.");
		return;
	}
	walk->target = (struct line){.form = LINE_ANSWER,
	                             .item = item,
	                             .question = name_question(walk, item),
	                             .point = item->scope == SCOPE_POINT ? item : NULL};
	name = item_text(item, walk->target.question);
	field_set(&walk->field, name == NULL ? "" : name);
	walk->purpose = FOR_NAME;
	walk->over = OVER_FIELD;
}

/* -- who would be left hanging --------------------------------------------------------------- */

static bool is_within(const struct item *item, const struct item *outer)
{
	while (item != NULL && item != outer)
		item = item->parent;
	return item == outer;
}

static bool names_within(const struct walk *walk, const struct answer *answer,
                         const struct item *outer)
{
	enum form form = walk->book->question[answer->question].form;
	const char *text = answer->text;

	if (form != FORM_FEED && form != FORM_PART)
		return false;
	while (*text != '\0') {
		size_t length = strcspn(text, ", ");
		const struct item *named = survey_find(walk->survey, text, length);

		if (named != NULL && is_within(named, outer))
			return true;
		text += length;
		text += strspn(text, ", ");
	}
	return false;
}

/* An item outside of @p outer that says it is fed by it or part of it. The tree is four items deep:
 * recursion is bounded. */
static const struct item *hangs_on(const struct walk *walk, const struct item *item,
                                   const struct item *outer)
{
	if (item == outer)
		return NULL;
	for (size_t i = 0; i < item->answer_count; i++)
		if (names_within(walk, &item->answer[i], outer))
			return item;
	for (size_t i = 0; i < item->child_count; i++) {
		const struct item *found = hangs_on(walk, item->child[i], outer);

		if (found != NULL)
			return found;
	}
	return NULL;
}

/* A point can only be named by a branch that starts there; what stands on an inlet, or was done, by
 * nobody. */
static const struct item *hangs_in_house(const struct walk *walk, const struct item *outer)
{
	const struct item *premises = walk->survey->premises;

	if (outer->scope == SCOPE_PART || outer->scope == SCOPE_BRANCH)
		return hangs_on(walk, premises, outer);
	for (size_t i = 0; i < premises->child_count; i++) {
		const struct item *branch = premises->child[i];

		if ((outer->scope == SCOPE_POINT || outer->scope == SCOPE_ROOM) &&
		    branch->scope == SCOPE_BRANCH && hangs_on(walk, branch, outer) != NULL)
			return branch;
	}
	return NULL;
}

void remove_ask(struct walk *walk)
{
	struct item *item = item_under_cursor(walk);
	const struct item *hanging;
	const char *title;

	if (item == NULL) {
		say(walk, "There is nothing here to remove.");
		return;
	}
	title = item_title(walk, item, &walk->scratch);
	hanging = hangs_in_house(walk, item);
	if (hanging != NULL && hanging->scope == SCOPE_INLET)
		hanging = hanging->parent;
	if (hanging != NULL) {
		say_trouble(walk, "%s is named by %s: change that first.", title,
		            item_title(walk, hanging, &walk->scratch));
		return;
	}
	walk->target = (struct line){.item = item};
	walk->purpose = FOR_REMOVE;
	walk->over = OVER_QUESTION;
	say(walk, "Remove %s%s? y removes, n keeps [n]", title,
	    item->child_count > 0 ? " with all it holds" : "");
}

void remove_do(struct walk *walk)
{
	struct item *item = walk->target.item;
	struct item *parent = item->parent;
	const char *title = item_title(walk, item, &walk->scratch);
	const char *where = survey_where(walk->survey, item, QUESTION_NONE, &walk->scratch);

	if (!step_end(walk,
	              where != NULL && step_change(walk, where, stands_after(item), NULL, true)))
		return;
	house_focus(walk, parent);
	say(walk, "%s is removed. %s puts it back.", title, key_words(walk, REQUEST_UNDO));
}
