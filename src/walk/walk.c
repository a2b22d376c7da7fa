/*
 * A key becomes a request; a request goes to the view, or to what is open over it.
 */
#include "tundish/walk/walk.h"

#include "inside.h"

#include "tundish/base/text.h"

#include <stdio.h>
#include <string.h>

struct walk *walk_create(struct survey *survey, const struct walk_options *options)
{
	struct arena arena;
	struct walk *walk;

	arena_init(&arena);
	walk = arena_take(&arena, sizeof(*walk));
	if (walk == NULL)
		return NULL;
	walk->arena = arena;
	walk->survey = survey;
	walk->book = survey->book;
	walk->options = *options;
	if (options->unsaved)
		walk->history.saved = SIZE_MAX;
	walk->verdicts.judge = judge_create(survey->book);
	if (walk->verdicts.judge == NULL) {
		walk_destroy(walk);
		return NULL;
	}
	house_list_all(walk);
	if (options->fresh)
		show_form(walk, survey->premises);
	quiz_begin(walk);
	if (walk->house.arena.failed) {
		walk_destroy(walk);
		return NULL;
	}
	return walk;
}

void walk_destroy(struct walk *walk)
{
	struct arena arena;

	if (walk == NULL)
		return;
	judge_destroy(walk->verdicts.judge);
	arena_finish(&walk->scratch);
	arena_finish(&walk->house.arena);
	arena_finish(&walk->form.arena);
	arena_finish(&walk->probe.arena);
	arena_finish(&walk->chooser.arena);
	arena_finish(&walk->history.arena);
	arena_finish(&walk->draft.arena);
	screen_finish(&walk->sketch);
	/* the walk is in its own arena */
	arena = walk->arena;
	arena_finish(&arena);
}

/* -- views ----------------------------------------------------------------------------------- */

void show_form(struct walk *walk, struct item *item)
{
	struct item_form *form = &walk->form;

	walk->view = VIEW_FORM;
	walk->pane_top = 0;
	walk->came_from = NULL;
	walk->came_from_leaving = false;
	if (form->item != item || form->leaving) {
		form->item = item;
		form->leaving = false;
		form->count = form->focus = 0;
		form->top = 0;
	}
	form_rebuild(walk);
}

void show_leaving(struct walk *walk)
{
	struct item_form *form = &walk->form;

	walk->view = VIEW_FORM;
	walk->pane_top = 0;
	walk->came_from = NULL;
	walk->came_from_leaving = false;
	if (!form->leaving) {
		form->item = walk->survey->premises;
		form->leaving = true;
		form->count = form->focus = 0;
		form->top = 0;
	}
	form_rebuild(walk);
}

void show_house(struct walk *walk)
{
	walk->view = VIEW_HOUSE;
	walk->pane_top = 0;
	walk->came_from = NULL;
	walk->came_from_leaving = false;
	if (walk->form.item != NULL)
		house_focus(walk, walk->form.item);
}

static void show_verdict(struct walk *walk)
{
	walk->view_before = walk->view;
	walk->view = VIEW_VERDICT;
	walk->pane_top = 0;
}

/* -- the open field -------------------------------------------------------------------------- */

static void field_done(struct walk *walk, int then, bool opens)
{
	const char *text = walk->field.text;
	struct line line = walk->target;

	if (walk->purpose == FOR_ANSWER) {
		answer_keep(walk, then, opens);
		return;
	}
	if (walk->purpose == FOR_TASK) {
		quiz_typed(walk, text);
		return;
	}
	if (walk->purpose == FOR_FIND) {
		walk->over = OVER_NOTHING;
		find_text(walk, text);
		return;
	}
	if (text[strspn(text, " ")] == '\0') {
		say_trouble(walk, "It needs a name; %s leaves it.",
		            key_words(walk, REQUEST_CANCEL));
		return;
	}
	walk->over = OVER_NOTHING;
	if (walk->purpose == FOR_FILE) {
		effect_add(walk, WALK_SAVE_AS, NULL, WALK_LEAVING_SAVED);
		return;
	}
	if (walk->purpose == FOR_NAME)
		answer_give(walk, &line, text);
	else if (walk->purpose == FOR_COPY)
		copy_named(walk, text);
	else
		add_named(walk, text);
}

void walk_keep_typed(struct walk *walk)
{
	bool kept = walk->purpose == FOR_ANSWER || walk->purpose == FOR_NAME ||
	            walk->purpose == FOR_NEW;

	if (!walk->left && walk->over == OVER_FIELD && kept && walk->field.length > 0)
		field_done(walk, 1, false);
}

static void cancel(struct walk *walk)
{
	draft_none(walk);
	walk->over = OVER_NOTHING;
	walk->value_wrong = false;
	walk->message[0] = '\0';
}

static void edit(struct walk *walk, enum request request, const struct walk_key *key)
{
	bool changed;

	if (request != REQUEST_NONE)
		changed = field_press(&walk->field, request);
	else if (key->name == WALK_KEY_TEXT || key->name == WALK_KEY_PASTE) {
		field_insert(&walk->field, key->text, key->length);
		changed = true;
	} else
		return;
	if (walk->field.full)
		say_trouble(walk, "The field is full: the rest was not taken.");
	if (!changed)
		return;
	if (walk->value_wrong)
		walk->message[0] = '\0';
	walk->value_wrong = false;
	draft_text(walk, walk->field.text);
}

static void field_press_key(struct walk *walk, enum request request, const struct walk_key *key)
{
	if (request == REQUEST_KEEP || request == REQUEST_KEEP_NEXT)
		field_done(walk, 1, true);
	else if (request == REQUEST_KEEP_PREVIOUS)
		field_done(walk, -1, true);
	else if (request == REQUEST_KEEP_DOWN)
		field_done(walk, 1, false);
	else if (request == REQUEST_KEEP_UP)
		field_done(walk, -1, false);
	else if (request == REQUEST_CANCEL)
		cancel(walk);
	else
		edit(walk, request, key);
}

/* -- keys ------------------------------------------------------------------------------------ */

enum context view_context(const struct walk *walk)
{
	static const enum context of_view[] = {
	        [VIEW_HOUSE] = IN_HOUSE,
	        [VIEW_FORM] = IN_FORM,
	        [VIEW_VERDICT] = IN_VERDICT,
	};

	return quiz_on(walk) ? quiz_context(walk) : of_view[walk->view];
}

enum context walk_context(const struct walk *walk)
{
	static const enum context of_over[] = {
	        [OVER_NOTHING] = IN_HOUSE,     [OVER_FIELD] = IN_TEXT, [OVER_LIST] = IN_LIST,
	        [OVER_QUESTION] = IN_QUESTION, [OVER_HELP] = IN_HELP,
	};

	if (walk->over != OVER_NOTHING)
		return of_over[walk->over];
	return walk->finding.on ? IN_FOUND : view_context(walk);
}

static void scroll(int *top, enum request request, int page)
{
	if (request == REQUEST_UP || request == REQUEST_UP_LETTER || request == REQUEST_PREVIOUS)
		*top -= 1;
	else if (request == REQUEST_DOWN || request == REQUEST_DOWN_LETTER ||
	         request == REQUEST_NEXT)
		*top += 1;
	else if (request == REQUEST_PAGE_UP)
		*top -= page;
	else if (request == REQUEST_PAGE_DOWN)
		*top += page;
	else if (request == REQUEST_FIRST)
		*top = 0;
	else if (request == REQUEST_LAST)
		*top = 1000000;
	/* drawing knows how many there are and holds it to that */
	if (*top < 0)
		*top = 0;
}

static void open_help(struct walk *walk)
{
	if (walk->over == OVER_HELP) {
		walk->over = walk->over_before;
		return;
	}
	walk->over_before = walk->over;
	walk->over = OVER_HELP;
	walk->help_top = 0;
}

static void mono(struct walk *walk)
{
	if (walk->options.lines)
		say(walk, "As lines it has no colours.");
	else
		effect_add(walk, WALK_MONO, NULL, WALK_LEAVING_SAVED);
}

/* @return whether it was for the whole walk, whatever is open. */
static bool press_anywhere(struct walk *walk, enum request request)
{
	if (request == REQUEST_HELP || request == REQUEST_HELP_ANYWHERE)
		open_help(walk);
	else if (request == REQUEST_SAVE || request == REQUEST_SAVE_ANYWHERE)
		leave_save(walk);
	else if (request == REQUEST_SAVE_AS)
		leave_ask_file(walk);
	else if (request == REQUEST_LEAVE)
		leave_ask(walk);
	else if (request == REQUEST_UNDO)
		history_undo(walk);
	else if (request == REQUEST_REDO)
		history_redo(walk);
	else if (request == REQUEST_ADD)
		add_menu(walk);
	else if (request == REQUEST_RENAME)
		name_open(walk);
	else if (request == REQUEST_REMOVE)
		remove_ask(walk);
	else if (request == REQUEST_VERDICT)
		show_verdict(walk);
	else if (request == REQUEST_REPEAT)
		repeat_last(walk);
	else if (request == REQUEST_COPY)
		copy_ask(walk);
	else if (request == REQUEST_MOVE)
		move_ask(walk);
	else if (request == REQUEST_LEAVING)
		show_leaving(walk);
	else if (request == REQUEST_DONE)
		add_done(walk);
	else if (request == REQUEST_FIND)
		find_ask(walk);
	else if (request == REQUEST_NEXT_OPEN)
		find_open(walk);
	else if (request == REQUEST_NEXT_SHORT || request == REQUEST_NEXT_UNPROVEN)
		jump_verdict(walk, request);
	else if (request == REQUEST_COMMANDS)
		commands_open(walk);
	else if (request == REQUEST_MONO)
		mono(walk);
	else if (request == REQUEST_EARLIER || request == REQUEST_LATER)
		move_among(walk, request == REQUEST_LATER);
	else
		return false;
	return true;
}

static void press_view(struct walk *walk, enum request request, const struct walk_key *key)
{
	if (walk->view == VIEW_HOUSE)
		house_press(walk, request, key);
	else if (walk->view == VIEW_FORM)
		form_press(walk, request, key);
	else if (request == REQUEST_BACK)
		walk->view = walk->view_before;
	else
		scroll(&walk->pane_top, request, walk->page);
}

static void press_over(struct walk *walk, enum request request, const struct walk_key *key)
{
	switch (walk->over) {
	case OVER_FIELD:
		field_press_key(walk, request, key);
		break;
	case OVER_LIST:
		if (request == REQUEST_CANCEL)
			cancel(walk);
		else
			choose_press(walk, request, key);
		break;
	case OVER_QUESTION:
		leave_question_press(walk, request);
		break;
	case OVER_HELP:
		if (request == REQUEST_CLOSE)
			walk->over = walk->over_before;
		else
			scroll(&walk->help_top, request, walk->page);
		break;
	case OVER_NOTHING:
		press_view(walk, request, key);
		break;
	}
}

void walk_request(struct walk *walk, enum request request, const struct walk_key *key)
{
	if (!find_press(walk, request) && !quiz_press(walk, request, key) &&
	    !press_anywhere(walk, request))
		press_over(walk, request, key);
}

/* What is scrolled to follows from what was in sight after each key. Where that was not drawn it is
 * drawn now, out of sight: so it does not matter when somebody looks. */
static void settle(struct walk *walk)
{
	if (!walk->drawn && walk->rows > 0 && screen_resize(&walk->sketch, walk->rows, walk->cols))
		walk_draw(walk, &walk->sketch);
	walk->drawn = false;
}

void walk_press(struct walk *walk, const struct walk_key *key)
{
	enum request request = request_of_key(key, walk_context(walk));

	if (walk->left)
		return;
	settle(walk);
	arena_reset(&walk->scratch);
	if (walk->over != OVER_QUESTION && !walk->value_wrong)
		walk->message[0] = '\0';
	if (key->name == WALK_KEY_INTERRUPT || request == REQUEST_INTERRUPT) {
		leave_interrupt(walk);
		return;
	}
	walk->interrupted = false;
	/* what is no key of finding goes on from what was found */
	if (walk->finding.on && request == REQUEST_NONE) {
		walk->finding.on = false;
		request = request_of_key(key, walk_context(walk));
	}
	walk_request(walk, request, key);
}
