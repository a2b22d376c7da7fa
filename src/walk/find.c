/*
 * Looking through the whole house, in the order in which it is listed: the premises sheet, each
 * room, each point, line by line.
 */
#include "inside.h"

#include "tundish/base/text.h"

#include <string.h>

/* What is looked for. */
struct wanted {
	const char
	        *text; /* in names, questions and answers; NULL: a question that is not answered */
	bool bookkeeping; /* and is only for the books */
};

static bool holds(const char *text, const char *part)
{
	size_t length = strlen(part);

	for (; text != NULL && *text != '\0'; text++)
		if (text_starts(text, part, length))
			return true;
	return false;
}

/* What can only be written freely is no gap in a survey. */
static bool is_open(const struct walk *walk, const struct line *line, bool bookkeeping)
{
	if (line->form == LINE_FITTED)
		return !bookkeeping && !line_is_answered(line);
	return line->form == LINE_ANSWER && !line_is_answered(line) &&
	       walk->book->question[line->question].books == bookkeeping &&
	       walk->book->question[line->question].form != FORM_TEXT;
}

static bool line_matches(struct walk *walk, const struct line *line, const struct wanted *wanted)
{
	if (!line_can_focus(line))
		return false;
	if (wanted->text == NULL)
		return is_open(walk, line, wanted->bookkeeping);
	if (line->form != LINE_ANSWER)
		return line->form == LINE_FITTED && holds(line->text, wanted->text);
	return holds(walk->book->question[line->question].label, wanted->text) ||
	       holds(value_text(walk, line->item, line->question, &walk->scratch), wanted->text);
}

/* -- in one form ----------------------------------------------------------------------------- */

/* The lines of another item, out of sight. */
static void probe(struct walk *walk, struct item *item)
{
	struct item_form shown = walk->form;

	walk->form = walk->probe;
	walk->form.item = item;
	walk->form.leaving = false;
	form_build(walk);
	walk->probe = walk->form;
	walk->form = shown;
}

/* The next line from @p at on, @p at among them. @return `where`, or NULL. */
static const char *match_in(struct walk *walk, const struct item_form *form, long at, int step,
                            const struct wanted *wanted)
{
	for (; at >= 0 && at < (long)form->count; at += step)
		if (line_matches(walk, &form->line[at], wanted))
			return form->line[at].where;
	return NULL;
}

/* -- in the house ---------------------------------------------------------------------------- */

/* A name that has it: the row of the house, or the form, that is called so. */
static bool title_matches(struct walk *walk, const struct house_row *row,
                          const struct wanted *wanted)
{
	return wanted->text != NULL && row->form != ROW_ADD_ROOM &&
	       holds(item_title(walk, row->item, &walk->scratch), wanted->text);
}

static void go_to_title(struct walk *walk, size_t at)
{
	walk->house.focus = at;
	if (walk->view == VIEW_FORM) {
		show_form(walk, house_at(&walk->house, at)->item);
		form_move(walk, -(int)walk->form.count);
	}
}

static void go_to_line(struct walk *walk, struct item *item, const char *where)
{
	where = arena_copy(&walk->scratch, where, strlen(where));
	house_focus(walk, item);
	show_form(walk, item);
	if (where != NULL)
		form_focus(walk, where);
}

/* A title comes before the lines that it heads, whichever way one looks. */
static bool match_row(struct walk *walk, size_t at, int step, const struct wanted *wanted)
{
	struct house_row *row = house_at(&walk->house, at);
	const char *where;

	if (row->form == ROW_ADD_ROOM)
		return false;
	if (step > 0 && title_matches(walk, row, wanted)) {
		go_to_title(walk, at);
		return true;
	}
	probe(walk, row->item);
	where = match_in(walk, &walk->probe, step > 0 ? 0 : (long)walk->probe.count - 1, step,
	                 wanted);
	if (where != NULL) {
		go_to_line(walk, row->item, where);
		return true;
	}
	if (step > 0 || !title_matches(walk, row, wanted))
		return false;
	go_to_title(walk, at);
	return true;
}

/* The rest of what is shown. */
static bool match_here(struct walk *walk, int step, const struct wanted *wanted)
{
	const char *where;

	if (walk->view == VIEW_FORM) {
		where = match_in(walk, &walk->form, (long)walk->form.focus + step, step, wanted);
		if (where == NULL)
			return false;
		form_focus(walk, arena_copy(&walk->scratch, where, strlen(where)));
		return true;
	}
	if (step < 0)
		return false;
	probe(walk, house_row(walk)->item);
	where = match_in(walk, &walk->probe, 0, step, wanted);
	if (where != NULL && house_row(walk)->form != ROW_ADD_ROOM) {
		go_to_line(walk, house_row(walk)->item, where);
		return true;
	}
	return false;
}

static bool match(struct walk *walk, int step, const struct wanted *wanted)
{
	size_t count = walk->house.count, from;

	if (match_here(walk, step, wanted))
		return true;
	if (walk->view == VIEW_FORM)
		house_focus(walk, walk->form.item);
	from = walk->house.focus;
	for (size_t i = 1; i <= count; i++)
		if (match_row(walk, (from + (step > 0 ? i : count - i)) % count, step, wanted))
			return true;
	return false;
}

/* -- finding --------------------------------------------------------------------------------- */

void find_ask(struct walk *walk)
{
	walk->purpose = FOR_FIND;
	walk->over = OVER_FIELD;
	field_set(&walk->field, "");
}

static void remember_place(struct walk *walk)
{
	struct finding *finding = &walk->finding;
	struct arena *arena = &walk->history.arena;
	const struct line *line = form_line(walk);

	finding->view = walk->view;
	finding->row = walk->house.focus;
	finding->leaving = walk->form.leaving;
	finding->ref = finding->where = NULL;
	if (walk->view != VIEW_FORM || line == NULL)
		return;
	finding->ref = arena_copy(arena, walk->form.item->ref, strlen(walk->form.item->ref));
	finding->where = arena_copy(arena, line->where, strlen(line->where));
}

static void find(struct walk *walk, int step)
{
	struct finding *finding = &walk->finding;

	finding->on = match(walk, step, &(struct wanted){finding->text, false});
	if (finding->on)
		say(walk, "Found \"%s\". %s: next, %s: the one before, %s: stay, %s: go back.",
		    finding->text, key_words(walk, REQUEST_FOUND_NEXT),
		    key_words(walk, REQUEST_FOUND_PREVIOUS), key_words(walk, REQUEST_FOUND_STAY),
		    key_words(walk, REQUEST_FOUND_BACK));
	else
		say(walk, "Nothing in the house says \"%s\".", finding->text);
}

void find_text(struct walk *walk, const char *text)
{
	struct finding *finding = &walk->finding;
	size_t length = strlen(text);

	/* nothing typed: what was looked for last */
	if (length > 0) {
		length = text_whole(text, length < FILTER_MOST ? length : FILTER_MOST);
		memcpy(finding->text, text, length);
		finding->text[length] = '\0';
	}
	if (finding->text[0] == '\0')
		return;
	remember_place(walk);
	find(walk, 1);
}

static void go_back(struct walk *walk)
{
	const struct finding *finding = &walk->finding;
	struct item *item = finding->ref == NULL ? NULL
	                    : finding->ref[0] == '\0'
	                            ? walk->survey->premises
	                            : survey_find(walk->survey, finding->ref, strlen(finding->ref));

	if (item != NULL) {
		if (finding->leaving)
			show_leaving(walk);
		else
			show_form(walk, item);
		form_focus(walk, finding->where);
		return;
	}
	show_house(walk);
	if (finding->row < walk->house.count)
		walk->house.focus = finding->row;
}

bool find_press(struct walk *walk, enum request request)
{
	if (request == REQUEST_FOUND_NEXT)
		find(walk, 1);
	else if (request == REQUEST_FOUND_PREVIOUS)
		find(walk, -1);
	else if (request == REQUEST_FOUND_STAY || request == REQUEST_FOUND_BACK)
		walk->finding.on = false;
	else
		return false;
	if (request == REQUEST_FOUND_BACK)
		go_back(walk);
	return true;
}

void find_open(struct walk *walk)
{
	if (!match(walk, 1, &(struct wanted){NULL, false}) &&
	    !match(walk, 1, &(struct wanted){NULL, true}))
		say(walk, "All questions in the house are answered.");
}
