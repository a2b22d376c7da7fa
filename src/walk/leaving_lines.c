/*
 * The sheet that is gone through before leaving: what is urgent and what was done about it, what
 * is short, was not seen, is unproven or undecided, the most urgent first; who was there and who
 * refused; sign off.
 */
#include "lines.h"

#include <string.h>

static const char *const present[] = {"present", "refused"};
static const char *const signing[] = {"surveyor", "signed_off"};

static question_index called(const struct walk *walk, const char *id)
{
	return question_called(walk, SCOPE_PREMISES, "", id);
}

bool asked_on_leaving(const struct walk *walk, question_index question)
{
	return question == called(walk, "refused") || question == called(walk, "signed_off");
}

static void add_questions(struct walk *walk, struct item *premises, const char *head,
                          const char *const *ids, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		question_index question = called(walk, ids[i]);

		if (question == QUESTION_NONE)
			continue;
		if (head != NULL)
			lines_head(walk, head);
		head = NULL;
		lines_answer(walk, premises, question, 0);
	}
}

/* -- points ---------------------------------------------------------------------------------- */

static struct line *add_item(struct walk *walk, struct item *item, const char *title,
                             const char *said)
{
	struct arena *arena = &walk->form.arena;
	struct line *line = line_new(walk, LINE_ITEM, arena_print(arena, "%s>", item->ref), title);

	if (line == NULL)
		return NULL;
	line->item = item;
	line->point = point_of(item);
	line->said = said == NULL ? "" : arena_copy(arena, said, strlen(said));
	return line;
}

static void add_point(struct walk *walk, struct house_row *row)
{
	struct arena *arena = &walk->form.arena;

	add_item(walk, row->item,
	         arena_print(arena, "%s, %s", item_title(walk, row->item, arena),
	                     item_title(walk, row->item->parent, arena)),
	         row_verdict_words(walk, row));
}

/* What was done in short; all of it can be read in the form. */
static void add_done_words(struct walk *walk, const struct item *point)
{
	question_index what = question_called(walk, SCOPE_ACTION, "", "what");
	struct arena *arena = &walk->form.arena;
	const char *joined = NULL;
	const struct item *action;

	for (size_t i = 0; (action = item_child(point, SCOPE_ACTION, i)) != NULL; i++) {
		const char *words =
		        what == QUESTION_NONE ? NULL : value_text(walk, action, what, arena);

		if (words != NULL)
			joined = joined == NULL ? words
			                        : arena_print(arena, "%s, %s", joined, words);
	}
	if (joined != NULL)
		lines_note(walk, arena_print(arena, "done: %s", joined));
}

static void add_urgent(struct walk *walk)
{
	size_t found = 0;

	lines_head(walk, "Urgent: before you leave");
	for (size_t i = 0; i < walk->house.count; i++) {
		struct house_row *row = house_at(&walk->house, i);

		if (row->form != ROW_POINT || !row_is_urgent(row))
			continue;
		add_point(walk, row);
		lines_actions(walk, row->item, 1);
		found++;
	}
	if (found == 0)
		lines_note(walk, "Nothing.");
}

/* -- rooms and parts ------------------------------------------------------------------------- */

/* A part has no form of its own: it stands on the premises sheet. */
static void add_unseen(struct walk *walk, enum scope scope, question_index seen)
{
	struct item *premises = walk->survey->premises, *item;

	for (size_t i = 0; (item = item_child(premises, scope, i)) != NULL; i++) {
		const char *text = item_text(item, seen);
		struct line *line;

		if (text == NULL || strcmp(text, "yes") == 0)
			continue;
		line = add_item(walk, item, item_title(walk, item, &walk->form.arena),
		                value_text(walk, item, seen, &walk->form.arena));
		if (line != NULL && scope == SCOPE_PART)
			line->item = premises;
	}
}

static void add_verdicts(struct walk *walk, enum verdict verdict, const char *head)
{
	size_t from = walk->form.count;

	lines_head(walk, head);
	if (verdict == VERDICT_NOT_SEEN) {
		add_unseen(walk, SCOPE_PART, walk->book->known.part_seen);
		add_unseen(walk, SCOPE_ROOM, walk->book->known.room_seen);
	}
	for (int urgency = URGENCY_COUNT - 1; urgency >= URGENCY_NONE; urgency--) {
		for (size_t i = 0; i < walk->house.count; i++) {
			struct house_row *row = house_at(&walk->house, i);

			if (row->form != ROW_POINT || row->verdict != verdict ||
			    (int)row->urgency != urgency || row_is_urgent(row) ||
			    !verdict_leaves_work(row->verdict, row->urgency))
				continue;
			add_point(walk, row);
			add_done_words(walk, row->item);
		}
	}
	/* nothing below it: no head */
	if (walk->form.count == from + 1)
		walk->form.count = from;
}

void lines_of_leaving(struct walk *walk, struct item *premises)
{
	for (size_t i = 0; i < walk->house.count; i++)
		verdict_row(walk, house_at(&walk->house, i));
	add_urgent(walk);
	add_verdicts(walk, VERDICT_SHORT, "Short");
	add_verdicts(walk, VERDICT_NOT_SEEN, "Not seen");
	add_verdicts(walk, VERDICT_UNPROVEN, "Unproven");
	add_verdicts(walk, VERDICT_UNDECIDED, "Undecided: something is still to be asked");
	add_verdicts(walk, VERDICT_PROTECTED, "Protected, but not all is done");
	add_questions(walk, premises, "Who was there", present,
	              sizeof(present) / sizeof(present[0]));
	add_questions(walk, premises, "Sign off", signing, sizeof(signing) / sizeof(signing[0]));
	lines_head(walk, "Next");
	line_new(walk, LINE_ROOMS, "rooms", "> back to the house");
}
