/*
 * The premises sheet and the form of a room.
 */
#include "lines.h"

#include <string.h>

/* -- the premises and a room ----------------------------------------------------------------- */

static void add_premises_questions(struct walk *walk, const char *head, bool supply)
{
	struct asked asked;
	bool headed = false;

	if (!survey_asked(walk->survey, walk->survey->premises, &walk->form.arena, &asked))
		return;
	for (size_t i = 0; i < asked.count; i++) {
		const char *at = walk->book->question[asked.question[i]].at;

		if ((strcmp(at, "supply") == 0) != supply ||
		    asked_on_leaving(walk, asked.question[i]))
			continue;
		if (!headed)
			lines_head(walk, head);
		headed = true;
		lines_answer(walk, walk->survey->premises, asked.question[i], 0);
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

		lines_note(walk, strcmp(title, item->ref) == 0
		                         ? title
		                         : arena_print(arena, "%s (%s)", title, item->ref));
		lines_asked(walk, item, 1, QUESTION_NONE);
		if (scope == SCOPE_BRANCH)
			lines_protections(walk, item, item->ref, 0,
			                  "+ add a zone protection on it");
	}
}

void lines_of_premises(struct walk *walk, struct item *premises)
{
	if (premises->child_count == 0 && premises->answer_count == 0)
		lines_note(walk, "Begin here: answer what you know of the building, once for all "
		                 "rooms. What you leave open can wait. Then go on to the rooms, on "
		                 "the last line.");
	add_premises_questions(walk, "The premises", false);
	lines_head(walk, "Parts: who occupies what");
	add_listed(walk, SCOPE_PART);
	lines_adder(walk, premises, "premises", SCOPE_PART, 0, "+ add a part");
	add_premises_questions(walk, "The supply", true);
	lines_head(walk, "Branches: what feeds what");
	add_listed(walk, SCOPE_BRANCH);
	lines_adder(walk, premises, "premises", SCOPE_BRANCH, 0, "+ add a branch");
	lines_head(walk, "Protection of the whole site");
	lines_protections(walk, premises, "supply", 0, "+ add a whole-site protection");
	lines_head(walk, "Next");
	line_new(walk, LINE_ROOMS, "rooms", "> go on to the rooms");
}

void lines_of_room(struct walk *walk, struct item *room)
{
	lines_head(walk, item_title(walk, room, &walk->form.arena));
	lines_asked(walk, room, 0, QUESTION_NONE);
	lines_adder(walk, room, room->ref, SCOPE_POINT, 0,
	            "+ add an outlet or appliance in this room");
	line_new(walk, LINE_ROOMS, "rooms", "> back to the house");
}
