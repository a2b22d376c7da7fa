/*
 * Saving, and leaving: what is asked before.
 */
#include "inside.h"

#include <string.h>

void leave_save(struct walk *walk)
{
	if (walk->options.read_only) {
		say(walk, "Read-only: there is nothing to save.");
		return;
	}
	effect_add(walk, WALK_SAVE, NULL, WALK_LEAVING_SAVED);
}

/* Begins with where it is: most often only the name or the folder is another. */
void leave_ask_file(struct walk *walk)
{
	if (walk->options.read_only) {
		say(walk, "Read-only: there is nothing to save.");
		return;
	}
	walk->purpose = FOR_FILE;
	walk->over = OVER_FIELD;
	field_set(&walk->field, walk->options.name);
}

void walk_rename(struct walk *walk, const char *name)
{
	const char *copy = arena_copy(&walk->arena, name, strlen(name));

	if (copy != NULL)
		walk->options.name = copy;
}

void leave_at_once(struct walk *walk, enum walk_leaving leaving)
{
	walk->left = true;
	effect_add(walk, WALK_LEAVE, NULL, leaving);
}

void walk_saved(struct walk *walk, bool ok, const char *message)
{
	if (ok) {
		walk->history.saved = walk->history.done;
		say(walk, "%s", message == NULL ? "Saved." : message);
	} else {
		say_trouble(walk, "Not saved: %s",
		            message == NULL ? "the file could not be written." : message);
	}
	if (ok && walk->leave_when_saved)
		leave_at_once(walk, WALK_LEAVING_SAVED);
	walk->leave_when_saved = false;
}

/* What is urgent, and nothing was done about it yet. Who only looks leaves nothing undone. */
static size_t urgent_left(struct walk *walk)
{
	if (walk->options.read_only)
		return 0;
	while (walk_think(walk))
		;
	return walk->house.tally.left;
}

void leave_ask(struct walk *walk)
{
	size_t left;

	if (quiz_on(walk)) {
		quiz_ask_leave(walk);
		return;
	}
	left = urgent_left(walk);
	if (!walk_unsaved(walk) && left == 0) {
		leave_at_once(walk, WALK_LEAVING_SAVED);
		return;
	}
	walk->purpose = walk_unsaved(walk) ? FOR_LEAVE : FOR_LEAVE_URGENT;
	walk->over = OVER_QUESTION;
	walk->asks_urgent = left > 0;
	if (left == 0)
		say(walk, "Not saved yet. s saves and leaves, d leaves and discards, n stays [n]");
	else if (walk_unsaved(walk))
		say(walk,
		    "%zu urgent, nothing done; not saved. l looks, s saves, d discards, n stays "
		    "[n]",
		    left);
	else
		say(walk,
		    "%zu urgent, nothing done yet. l looks, y leaves all the same, n stays [n]",
		    left);
}

/* What is typed stays typed: an interrupt asks, and only a second one in a row ends it. */
void leave_interrupt(struct walk *walk)
{
	if (walk->interrupted) {
		leave_at_once(walk, walk_unsaved(walk) ? WALK_LEAVING_BROKEN : WALK_LEAVING_SAVED);
		return;
	}
	walk->interrupted = true;
	if (walk->over == OVER_FIELD || walk->over == OVER_LIST) {
		say(walk, "%s leaves the field; Ctrl-C once more ends the walk.",
		    key_words(walk, REQUEST_CANCEL));
		return;
	}
	walk->over = OVER_NOTHING;
	leave_ask(walk);
}

bool leave_can_say(const struct walk *walk, enum request request)
{
	if (request == REQUEST_SAY_YES)
		return walk->purpose != FOR_LEAVE;
	if (request == REQUEST_SAY_SAVE || request == REQUEST_SAY_DISCARD)
		return walk->purpose == FOR_LEAVE;
	if (request == REQUEST_SAY_LOOK)
		return walk->asks_urgent &&
		       (walk->purpose == FOR_LEAVE || walk->purpose == FOR_LEAVE_URGENT);
	return request == REQUEST_SAY_STAY;
}

void leave_question_press(struct walk *walk, enum request request)
{
	bool leaving = walk->purpose == FOR_LEAVE || walk->purpose == FOR_LEAVE_URGENT;

	if (quiz_on(walk)) {
		quiz_said(walk, request);
		return;
	}
	if (!leave_can_say(walk, request))
		return;
	walk->over = OVER_NOTHING;
	walk->message[0] = '\0';
	if (request == REQUEST_SAY_SAVE) {
		walk->leave_when_saved = true;
		leave_save(walk);
	} else if (request == REQUEST_SAY_DISCARD) {
		leave_at_once(walk, WALK_LEAVING_DISCARD);
	} else if (request == REQUEST_SAY_LOOK) {
		show_leaving(walk);
	} else if (request == REQUEST_SAY_YES && leaving) {
		leave_at_once(walk, WALK_LEAVING_SAVED);
	} else if (request == REQUEST_SAY_YES) {
		remove_do(walk);
	} else {
		say(walk, leaving ? "Stayed." : "Kept.");
	}
}
