/*
 * A list to choose from. Letters narrow it to what has a word that starts so; where nothing has, to
 * what holds it anywhere. What a kind or type is also called counts after its name.
 */
#include "inside.h"

#include "tundish/base/match.h"

#include <stdlib.h>
#include <string.h>

static enum match match(const struct chooser *chooser, const struct choice *choice)
{
	const struct called called = {choice->id, choice->label, choice->also, choice->also_count};

	return match_called(&called, chooser->filter, chooser->filter_length);
}

static void narrow(struct chooser *chooser)
{
	chooser->shown_count = 0;
	for (size_t i = 0; chooser->filter_length == 0 && i < chooser->choices.count; i++)
		chooser->shown[chooser->shown_count++] = i;
	for (enum match want = MATCH_WHOLE; want < MATCH_NONE && chooser->filter_length > 0;
	     want++) {
		if (want == MATCH_WITHIN && chooser->shown_count > 0)
			break;
		for (size_t i = 0; i < chooser->choices.count; i++)
			if (match(chooser, &chooser->choices.item[i]) == want)
				chooser->shown[chooser->shown_count++] = i;
	}
	chooser->focus = chooser->top = 0;
}

static const struct choice *focused(const struct chooser *chooser)
{
	if (chooser->focus >= chooser->shown_count)
		return NULL;
	return &chooser->choices.item[chooser->shown[chooser->focus]];
}

static void draft_focused(struct walk *walk)
{
	const struct choice *choice = focused(&walk->chooser);

	if (choice != NULL)
		draft_text(walk, choice->id);
	else
		draft_none(walk);
}

void choose_open(struct walk *walk, enum purpose purpose, const char *title, struct choices choices,
                 bool several, const char *chosen)
{
	struct chooser *chooser = &walk->chooser;

	chooser->shown = arena_take(&chooser->arena, (choices.count + 1) * sizeof(*chooser->shown));
	if (chooser->shown == NULL) {
		say_trouble(walk, "There is no memory for a list: save and leave.");
		return;
	}
	chooser->title = title;
	chooser->choices = choices;
	chooser->several = several;
	chooser->filter_length = 0;
	chooser->filter[0] = '\0';
	narrow(chooser);
	for (size_t i = 0; chosen != NULL && i < choices.count; i++)
		if (strcmp(choices.item[i].id, chosen) == 0)
			chooser->focus = i;
	walk->purpose = purpose;
	walk->over = OVER_LIST;
	draft_focused(walk);
}

/* -- taking ---------------------------------------------------------------------------------- */

static const char *ticked_text(struct walk *walk)
{
	const struct chooser *chooser = &walk->chooser;
	const char *joined = NULL;

	for (size_t i = 0; i < chooser->choices.count; i++) {
		const struct choice *choice = &chooser->choices.item[i];

		if (choice->ticked)
			joined = joined == NULL ? choice->id
			                        : arena_print(&walk->scratch, "%s, %s", joined,
			                                      choice->id);
	}
	return joined;
}

static void take(struct walk *walk)
{
	const struct choice *choice = focused(&walk->chooser);
	const char *text = ticked_text(walk);
	struct line line = walk->target;

	if (choice == NULL && text == NULL) {
		say(walk, "Nothing in the list is called so: %s",
		    walk->options.lines ? "say another word." : "Backspace widens it again.");
		return;
	}
	if (text == NULL)
		text = choice->id;
	walk->over = OVER_NOTHING;
	draft_none(walk);
	if (walk->purpose == FOR_MENU)
		add_begin(walk, &walk->addition[atoi(text)]);
	else if (walk->purpose == FOR_COMMAND)
		commands_take(walk, text);
	else if (walk->purpose == FOR_TASKS)
		quiz_listed(walk, text);
	else if (walk->purpose == FOR_MOVE_TO)
		move_to_room(walk, text);
	else if (walk->purpose == FOR_NEW)
		add_named(walk, text);
	else if (answer_give(walk, &line, text))
		form_move(walk, 1);
}

static void tick(struct walk *walk)
{
	struct chooser *chooser = &walk->chooser;

	if (!chooser->several || chooser->focus >= chooser->shown_count) {
		say(walk, "Only one can be chosen here.");
		return;
	}
	chooser->choices.item[chooser->shown[chooser->focus]].ticked ^= true;
}

static void move(struct walk *walk, long by)
{
	struct chooser *chooser = &walk->chooser;
	long to = (long)chooser->focus + by, last = (long)chooser->shown_count - 1;

	if (to > last)
		to = last;
	if (to < 0)
		to = 0;
	chooser->focus = (size_t)to;
	draft_focused(walk);
}

static void type(struct walk *walk, const struct walk_key *key)
{
	struct chooser *chooser = &walk->chooser;
	size_t number;

	if (key->name != WALK_KEY_TEXT && key->name != WALK_KEY_PASTE)
		return;
	number = key->length == 1 ? (size_t)(key->text[0] - '1') : SIZE_MAX;
	if (chooser->filter_length == 0 && chooser->choices.count <= 9 &&
	    number < chooser->shown_count) {
		chooser->focus = number;
		take(walk);
		return;
	}
	for (size_t i = 0; i < key->length && chooser->filter_length < FILTER_MOST; i++)
		if ((unsigned char)key->text[i] >= 0x20 && key->text[i] != 0x7f)
			chooser->filter[chooser->filter_length++] = key->text[i];
	chooser->filter[chooser->filter_length] = '\0';
	narrow(chooser);
	draft_focused(walk);
}

static void widen(struct walk *walk, size_t to)
{
	walk->chooser.filter_length = to;
	walk->chooser.filter[to] = '\0';
	narrow(&walk->chooser);
	draft_focused(walk);
}

/* Whole characters: continuation bytes go with the byte that leads them. */
static size_t one_less(const struct chooser *chooser)
{
	size_t length = chooser->filter_length;

	while (length > 0 && ((unsigned char)chooser->filter[length - 1] & 0xc0) == 0x80)
		length--;
	return length > 0 ? length - 1 : 0;
}

void choose_press(struct walk *walk, enum request request, const struct walk_key *key)
{
	struct chooser *chooser = &walk->chooser;

	if (request == REQUEST_TAKE)
		take(walk);
	else if (request == REQUEST_TICK)
		tick(walk);
	else if (request == REQUEST_UP)
		move(walk, -1);
	else if (request == REQUEST_DOWN)
		move(walk, 1);
	else if (request == REQUEST_PAGE_UP)
		move(walk, -walk->page);
	else if (request == REQUEST_PAGE_DOWN)
		move(walk, walk->page);
	else if (request == REQUEST_FIRST)
		move(walk, -(long)chooser->shown_count);
	else if (request == REQUEST_LAST)
		move(walk, (long)chooser->shown_count);
	else if (request == REQUEST_TEXT_BACKSPACE)
		widen(walk, one_less(chooser));
	else if (request == REQUEST_TEXT_KILL_START)
		widen(walk, 0);
	else if (request == REQUEST_NONE)
		type(walk, key);
}
