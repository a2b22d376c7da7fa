/*
 * The house, and a list to choose from.
 */
#include "pane.h"

#include "tundish/base/text.h"

#include <string.h>

static int put(struct screen *screen, int row, int col, int width, enum role role, const char *text)
{
	return put_cut(screen, row, col, width, role, text);
}

/* Keep the focused row in sight, and no more blank rows below the last than there have to be. */
static void hold(size_t *top, size_t focus, int rows, size_t count)
{
	size_t fits = rows < 1 ? 1 : (size_t)rows;

	if (focus < *top)
		*top = focus;
	if (focus >= *top + fits)
		*top = focus - fits + 1;
	if (*top + fits > count)
		*top = count > fits ? count - fits : 0;
}

/* -- the house ------------------------------------------------------------------------------- */

/* Which part a room is in, where that is a question. */
static const char *part_words(struct walk *walk, const struct item *room)
{
	const struct item *part = survey_part(walk->survey, room);

	if (item_child(walk->survey->premises, SCOPE_PART, 1) == NULL)
		return NULL;
	return part == NULL ? "which part?" : item_title(walk, part, &walk->scratch);
}

static const char *row_words(struct walk *walk, struct house_row *row)
{
	if (row->form == ROW_ROOM && item_child(row->item, SCOPE_POINT, 0) == NULL)
		return "nothing in it yet";
	if (row->form == ROW_ROOM)
		return part_words(walk, row->item);
	if (row->form != ROW_POINT)
		return NULL;
	return row_verdict_words(walk, row);
}

/* Rooms have the number that their key goes by; points stand under them. */
static int row_indent(const struct house_row *row)
{
	if (row->form == ROW_POINT)
		return 6;
	return row->form == ROW_ROOM ? 4 : 2;
}

static void draw_mark(struct walk *walk, struct screen *screen, struct area area, int at,
                      const struct house_row *row, size_t number)
{
	if (row->form == ROW_POINT && row_is_short_or_urgent(row))
		put(screen, at, area.col + 4, 1, ROLE_SHORT, "!");
	if (number > 0 && number <= 9)
		put(screen, at, area.col + 2, 1, ROLE_KEY,
		    arena_print(&walk->scratch, "%zu", number));
}

enum { TITLE_LEAST = 8, WORDS_LEAST = 8 };

/* What is said of a room gives way to what it is called; of a point it is the other way round. */
static int words_cols(struct walk *walk, struct area area, struct house_row *row, int wants)
{
	const char *title = row_title(walk, row);
	int left = area.cols - row_indent(row) - 2 - text_width(title, strlen(title));

	if (row->form == ROW_POINT || wants <= left || wants <= WORDS_LEAST)
		return wants;
	return left < WORDS_LEAST ? WORDS_LEAST : left;
}

static void draw_row(struct walk *walk, struct screen *screen, struct area area, int at,
                     struct house_row *row, size_t number, bool focused)
{
	int indent = row_indent(row);
	const char *words = row_words(walk, row);
	int width =
	        words == NULL ? 0 : words_cols(walk, area, row, text_width(words, strlen(words)));
	int room = area.cols - indent - (width == 0 ? 0 : width + 2);
	enum role role =
	        row->form == ROW_ROOM || row->form == ROW_PREMISES ? ROLE_HEAD : ROLE_PLAIN;

	if (room < TITLE_LEAST && row->form == ROW_POINT) {
		words = row_verdict_brief(walk, row);
		width = text_width(words, strlen(words));
		room = area.cols - indent - width - 2;
	}
	if (room < TITLE_LEAST)
		room = TITLE_LEAST;
	if (focused)
		put(screen, at, area.col, 1, ROLE_PLAIN, ">");
	draw_mark(walk, screen, area, at, row, number);
	put(screen, at, area.col + indent, room, role, row_title(walk, row));
	put(screen, at, area.col + area.cols - width, width, row_role(row), words);
}

void draw_house(struct walk *walk, struct screen *screen, struct area area, bool active)
{
	struct house_list *house = &walk->house;

	/* where it only stands by, with what is around it */
	if (!active)
		house->top = house->focus > (size_t)area.rows / 2
		                     ? house->focus - (size_t)area.rows / 2
		                     : 0;
	hold(&house->top, house->focus, area.rows, house->count);
	for (int i = 0; i < area.rows && house->top + (size_t)i < house->count; i++) {
		size_t at = house->top + (size_t)i;
		struct house_row *row = house_at(house, at);
		bool focused = at == house->focus;

		draw_row(walk, screen, area, area.row + i, row,
		         row->form == ROW_ROOM ? house_room_number(house, at) : 0, focused);
		if (!focused || !active)
			continue;
		screen_paint(screen, area.row + i, area.col, area.cols, ROLE_FOCUS);
		screen->cursor_row = area.row + i;
		screen->cursor_col = area.col + row_indent(row);
	}
}

/* -- a list to choose from ------------------------------------------------------------------- */

/* All of it, below each other, where its line has no room for it. */
static struct pane choice_rows(struct walk *walk, const struct choice *choice, bool whole, int cols)
{
	struct arena *arena = &walk->scratch;
	struct pane out = {0};
	const char *text = choice->label;

	if (choice->note != NULL)
		text = arena_print(arena, "%s   %s", choice->label, choice->note);
	if (text == NULL || text_width(text, strlen(text)) <= cols || !whole) {
		pane_add(&out, arena, ROLE_PLAIN, 0, choice->label);
		return out;
	}
	pane_wrap(&out, arena, ROLE_PLAIN, 0, choice->label, cols);
	if (choice->note != NULL)
		pane_wrap(&out, arena, ROLE_DIM, 0, choice->note, cols);
	return out;
}

/* @return how many rows it took. */
static int draw_choice(struct walk *walk, struct screen *screen, struct area area, int at,
                       size_t place)
{
	const struct chooser *chooser = &walk->chooser;
	const struct choice *choice = &chooser->choices.item[chooser->shown[place]];
	bool numbered = chooser->choices.count <= 9 && chooser->filter_length == 0;
	bool focused = place == chooser->focus;
	int col = area.col + 2, end = area.col + area.cols, used;
	struct pane rows;

	if (focused)
		put(screen, at, area.col, 1, ROLE_PLAIN, ">");
	if (numbered)
		col += put(screen, at, col, end - col, ROLE_KEY,
		           arena_print(&walk->scratch, "%zu ", place + 1));
	if (chooser->several && choice->ticked)
		col += put(screen, at, col, end - col, ROLE_PLAIN, "[x] ");
	rows = choice_rows(walk, choice, focused, end - col);
	for (size_t i = 0; i < rows.count && at + (int)i < area.row + area.rows; i++) {
		used = put(screen, at + (int)i, col, end - col, rows.line[i].role,
		           rows.line[i].text);
		if (rows.count == 1 && choice->note != NULL && col + used + 3 < end)
			put(screen, at, col + used + 3, end - col - used - 3, ROLE_DIM,
			    choice->note);
		if (focused)
			screen_paint(screen, at + (int)i, area.col, area.cols, ROLE_FOCUS);
	}
	if (focused) {
		screen->cursor_row = at;
		screen->cursor_col = area.col + 2;
	}
	return (int)rows.count;
}

static const char *filter_words(struct walk *walk)
{
	const struct chooser *chooser = &walk->chooser;

	if (chooser->filter_length == 0)
		return chooser->several ? "Letters narrow the list; + marks one of several."
		                        : "Letters narrow the list.";
	return arena_print(&walk->scratch, "Starts with: %s%s", chooser->filter,
	                   chooser->shown_count == 0 ? "   (none: Backspace widens)" : "");
}

void draw_chooser(struct walk *walk, struct screen *screen, struct area area)
{
	struct chooser *chooser = &walk->chooser;
	enum { COLS_BEFORE = 2 + 2 + 4 }; /* the mark, the number, the tick */
	int rows = area.rows - 2, row = area.row + 2, more = 0;

	put(screen, area.row, area.col + 2, area.cols - 2, ROLE_HEAD, chooser->title);
	put(screen, area.row + 1, area.col + 2, area.cols - 2, ROLE_DIM, filter_words(walk));
	screen->cursor_row = area.row + 1;
	screen->cursor_col = area.col + 2;
	if (chooser->focus < chooser->shown_count)
		more = (int)choice_rows(walk,
		                        &chooser->choices.item[chooser->shown[chooser->focus]],
		                        true, area.cols - COLS_BEFORE)
		               .count -
		       1;
	hold(&chooser->top, chooser->focus, rows - more, chooser->shown_count);
	for (size_t at = chooser->top; row < area.row + area.rows && at < chooser->shown_count;
	     at++)
		row += draw_choice(walk, screen, area, row, at);
}
