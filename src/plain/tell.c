/*
 * What is said. Nothing is said twice: a title, a head and a verdict only when they change.
 */
#include "inside.h"

#include "tundish/base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { LIST_SHORT = 20 /* choices that are read out unasked */ };

/* -- lines ----------------------------------------------------------------------------------- */

/* A line stays one line, and no byte of an answer reaches the terminal as a command. */
static void put_text(struct plain *plain, const char *text)
{
	size_t length = strlen(text);

	while (length > 0) {
		size_t bytes = text_cluster(text, length, NULL);
		bool shown = !text_is_control(text, bytes) &&
		             !(plain->options.ascii && (unsigned char)text[0] >= 0x80);

		sink_bytes(plain->out, shown ? text : "?", shown ? bytes : 1);
		text += bytes;
		length -= bytes;
	}
}

void tell_line(struct plain *plain, int indent, const char *text)
{
	sink_print(plain->out, "%*s", indent, "");
	put_text(plain, text);
	sink_text(plain->out, "\n");
}

void tell(struct plain *plain, const char *format, ...)
{
	char text[2048];
	size_t bad;
	va_list args;

	va_start(args, format);
	vsnprintf(text, sizeof(text), format, args);
	va_end(args);
	if (!text_is_utf8(text, strlen(text), &bad))
		text[bad] = '\0';
	tell_line(plain, 0, text);
}

bool is_new(struct said *said, const char *text)
{
	size_t length;

	if (text == NULL)
		text = "";
	length = strlen(text) < SAID_MOST - 1 ? strlen(text) : SAID_MOST - 1;
	if (strlen(said->text) == length && memcmp(said->text, text, length) == 0)
		return false;
	memcpy(said->text, text, length);
	said->text[length] = '\0';
	return true;
}

void tell_message(struct plain *plain)
{
	bool trouble;
	const char *message = walk_message(plain->walk, &trouble);

	/* a question is said where it is asked, and not once more when it was answered */
	if (walk_context(plain->walk) == IN_QUESTION || message[0] == '\0' ||
	    strcmp(message, plain->asked.text) == 0 || !is_new(&plain->message, message))
		return;
	tell(plain, "%s%s", trouble ? "! " : "", message);
}

void tell_texts(struct plain *plain, struct told_texts texts)
{
	for (size_t i = 0; i < texts.count; i++)
		tell_line(plain, texts.item[i].indent, texts.item[i].text);
}

/* -- the form and the house ------------------------------------------------------------------ */

/* "Height: 25 mm"; a question mark needs no colon behind it. */
static const char *labelled(struct plain *plain, const struct told_line *line)
{
	size_t length = strlen(line->label);
	const char *between = length > 0 && line->label[length - 1] == '?' ? " " : ": ";

	if (line->value == NULL)
		return line->label;
	return arena_print(&plain->arena, "%s%s%s", line->label, between, line->value);
}

/* A line of the form or the house. */
static void tell_told(struct plain *plain, size_t number, size_t count, const struct told_line *line)
{
	const char *text = labelled(plain, line);
	const char *ask = line->asked ? ", and can move the verdict" : "";

	if (text == NULL)
		return;
	if (count == 0)
		tell(plain, "%zu. %s%s", number, text, ask);
	else
		tell(plain, "%zu of %zu. %s%s", number, count, text, ask);
}

static void tell_above(struct plain *plain, const struct told_line *line)
{
	bool head = is_new(&plain->head, line->head), note = is_new(&plain->note, line->note);

	/* the form of a point is headed by its title, which was just said */
	if (head && line->head != NULL && strstr(plain->title.text, line->head) == NULL)
		tell(plain, "-- %s --", line->head);
	if (note && line->note != NULL)
		tell_line(plain, 0, line->note);
}

static const char *joined(struct plain *plain, const char *so_far, const char *more)
{
	return so_far == NULL ? more : arena_print(&plain->arena, "%s; %s", so_far, more);
}

/* "1 fixed; 2 swivels; cannot tell" */
static void tell_options(struct plain *plain, const struct told_line *line)
{
	struct told_choice *option;
	size_t count = walk_options(plain->walk, &plain->arena, &option);
	const char *text = walk_form_words(plain->walk, &plain->arena);

	for (size_t i = 0; count <= 9 && i < count; i++)
		text = joined(plain, text,
		              arena_print(&plain->arena, "%zu %s", i + 1, option[i].label));
	if (count > 9)
		text = arena_print(
		        &plain->arena,
		        "%zu to choose from: part of a name finds one, answer opens the list",
		        count);
	if (line->nothing)
		text = joined(plain, text, "nothing");
	if (line->cannot_tell)
		text = joined(plain, text, "cannot tell");
	if (line->nothing)
		text = joined(plain, text, "or what is fitted: part of a name finds it");
	if (text != NULL)
		tell_line(plain, 2, text);
}

static void tell_verdict_line(struct plain *plain)
{
	const char *verdict = walk_verdict(plain->walk, &plain->arena);

	if (!is_new(&plain->verdict, verdict) || verdict == NULL)
		return;
	tell(plain, "Verdict: %s", verdict);
	tell_line(plain, 0, walk_caution());
}

static void tell_title(struct plain *plain, bool house)
{
	const char *title = walk_title(plain->walk, &plain->arena);

	if (!is_new(&plain->title, title) || title == NULL)
		return;
	/* another place: all of it is new */
	plain->head = plain->note = plain->verdict = (struct said){0};
	tell(plain, "== %s ==", title);
	/* its lines are verdicts too */
	if (house)
		tell_line(plain, 0, walk_caution());
}

static void tell_focus(struct plain *plain)
{
	size_t focus, count = walk_lines(plain->walk, &focus);
	struct told_line line;
	bool house;

	if (!walk_line(plain->walk, focus, &plain->arena, &line))
		return;
	house = line.where == NULL;
	tell_title(plain, house || line.opens_item);
	/* an item to open says its own */
	if (!house && !line.opens_item)
		tell_verdict_line(plain);
	tell_above(plain, &line);
	tell_told(plain, focus, count, &line);
	if (!house && line.takes != TOLD_NOTHING && !is_in(plain, IN_LOOK))
		tell_options(plain, &line);
}

/* -- a list ---------------------------------------------------------------------------------- */

static void tell_choice(struct plain *plain, size_t number)
{
	struct told_choice choice;
	const char *ticked = "";

	if (!walk_choice(plain->walk, number, &choice))
		return;
	if (walk_several(plain->walk) && choice.ticked)
		ticked = " [x]";
	if (choice.note == NULL)
		tell(plain, "  %zu%s %s", number, ticked, choice.label);
	else
		tell(plain, "  %zu%s %s (%s)", number, ticked, choice.label, choice.note);
}

static void tell_choices(struct plain *plain)
{
	size_t count = walk_choices(plain->walk, NULL);

	for (size_t i = 1; i <= count; i++)
		tell_choice(plain, i);
}

static void tell_list(struct plain *plain)
{
	size_t focus, count = walk_choices(plain->walk, &focus);
	/* one may lead to another */
	bool another = is_new(&plain->list, walk_title(plain->walk, &plain->arena));
	bool opened = plain->context != IN_LIST || another;

	if (opened)
		tell_line(plain, 0, walk_title(plain->walk, &plain->arena));
	if (opened || count != plain->shown) {
		if (count <= LIST_SHORT)
			tell_choices(plain);
		else
			tell(plain, "  %zu to choose from: part of a name narrows, list reads all",
			     count);
	} else if (focus != plain->marked) {
		tell_choice(plain, focus);
	}
	plain->shown = count;
	plain->marked = focus;
}

/* -- all of it ------------------------------------------------------------------------------- */

void tell_where(struct plain *plain)
{
	enum context context = walk_context(plain->walk);
	bool trouble;

	if (context == IN_LIST) {
		tell_list(plain);
	} else if (context == IN_TASK) {
		tell_task(plain);
	} else if (context == IN_TEXT) {
		tell_line(plain, 0, walk_title(plain->walk, &plain->arena));
	} else if (context == IN_QUESTION) {
		is_new(&plain->asked, walk_message(plain->walk, &trouble));
		tell_line(plain, 0, plain->asked.text);
	} else {
		tell_focus(plain);
	}
	plain->context = context;
}

void tell_all(struct plain *plain)
{
	size_t count = walk_lines(plain->walk, NULL);

	if (walk_context(plain->walk) == IN_LIST) {
		tell_choices(plain);
		return;
	}
	if (walk_context(plain->walk) == IN_TASK) {
		plain->task = plain->told = (struct said){0};
		return;
	}
	plain->head = plain->note = (struct said){0};
	for (size_t i = 1; i <= count; i++) {
		struct told_line line;

		if (!walk_line(plain->walk, i, &plain->arena, &line))
			break;
		tell_above(plain, &line);
		tell_told(plain, i, 0, &line);
	}
	plain->head = plain->note = (struct said){0};
}

void tell_verdict(struct plain *plain)
{
	tell_texts(plain, walk_whole_verdict(plain->walk, &plain->arena));
	tell_line(plain, 0, walk_caution());
}

/* -- help ------------------------------------------------------------------------------------ */

static const char *how_words(enum context context)
{
	switch (context) {
	case IN_FORM:
		return "A line is the answer, a choice by its number, its name or the start of it. "
		       "An empty line goes on to the next. = before a line makes it an answer, "
		       "whatever it says.";
	case IN_HOUSE:
		return "A number opens the item of that number. An empty line goes on to the next.";
	case IN_LIST:
		return "A number or a name takes it, part of a name narrows the list. An empty "
		       "line leaves it as it was.";
	case IN_TEXT:
		return "A line is the text; = before it if it is a command too. An empty line "
		       "leaves it as it was.";
	case IN_QUESTION:
		return "An empty line stays.";
	case IN_FOUND:
		return "Any other line goes on from what was found.";
	case IN_TASK:
		return "A line is the answer: a choice by its number, its name or the start of it; "
		       "or "
		       "the number that is asked for. An empty line goes on to the next task.";
	case IN_LOOK_HOUSE:
		return "A number opens the item of that number. b goes back to the task.";
	case IN_LOOK_FORM:
		return "An empty line goes on to the next answer. task goes back to the task.";
	case IN_VERDICT:
	case IN_HELP:
	case IN_LOOK:
	case IN_QUIZ:
	case IN_WALK:
	case IN_VIEWS:
	case IN_ALL:
		break;
	}
	return "";
}

/* One word, one line, though several keys have it. */
static bool is_told_already(int request, enum context context)
{
	const struct request_row *row = request_row((enum request)request);

	for (int i = 0; i < request; i++) {
		const struct request_row *before = request_row((enum request)i);

		if ((before->contexts & context) != 0 && strcmp(before->word, row->word) == 0)
			return true;
	}
	return false;
}

void tell_help(struct plain *plain, enum context context)
{
	tell_texts(plain, walk_why(plain->walk, &plain->arena));
	tell(plain, "In %s:", context_name(context));
	tell_line(plain, 2, how_words(context));
	tell(plain, "  b: back.  j and a number: jump there.  ?: this.%s  q: leave.",
	     walk_offers(plain->walk, REQUEST_SAVE_ANYWHERE) ? "  s: save." : "");
	tell_line(plain, 2, "list: read all that is here.");
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if ((row->contexts & context) != 0 && row->word[0] != '\0' &&
		    walk_offers(plain->walk, (enum request)i) && !is_told_already(i, context))
			tell(plain, "  %s: %s", row->word, row->help);
	}
}
