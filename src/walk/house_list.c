/*
 * The house as a list: the premises sheet, then each room with its points.
 */
#include "inside.h"

static void add_row(struct house_list *house, enum row_form form, struct item *item)
{
	struct house_row *grown =
	        arena_grow(&house->arena, house->row, house->count, &house->room, sizeof(*grown));

	if (grown == NULL)
		return;
	house->row = grown;
	grown[house->count++] = (struct house_row){.form = form, .item = item};
}

void house_rebuild(struct walk *walk)
{
	struct house_list *house = &walk->house;
	struct item *premises = walk->survey->premises;
	size_t focus = house->focus, rooms = 0;

	arena_reset(&house->arena);
	house->row = NULL;
	house->count = house->room = house->judged = 0;
	house->tally = (struct tally){0};
	add_row(house, ROW_PREMISES, premises);
	for (size_t i = 0; i < premises->child_count; i++) {
		struct item *room = premises->child[i];

		if (room->scope != SCOPE_ROOM)
			continue;
		add_row(house, ROW_ROOM, room);
		if (house->count > 0)
			house->row[house->count - 1].number = ++rooms;
		for (size_t j = 0; j < room->child_count; j++)
			if (room->child[j]->scope == SCOPE_POINT)
				add_row(house, ROW_POINT, room->child[j]);
	}
	if (!quiz_on(walk))
		add_row(house, ROW_ADD_ROOM, premises);
	house->focus = focus < house->count ? focus : house->count - 1;
}

struct house_row *house_row(struct walk *walk)
{
	return walk->house.count == 0 ? NULL : &walk->house.row[walk->house.focus];
}

void house_focus(struct walk *walk, const struct item *item)
{
	const struct house_row *row = house_row(walk);

	if (row != NULL && row->item == item && row->form != ROW_ADD_ROOM)
		return;
	for (size_t i = 0; i < walk->house.count; i++) {
		if (walk->house.row[i].item == item) {
			walk->house.focus = i;
			return;
		}
	}
}

static const char *worst_words(const struct house_row *row, struct arena *arena)
{
	unsigned fact = row->in_fact.most, paper = row->on_paper.most;

	if (row->verdict != VERDICT_SHORT)
		return verdict_words(row->verdict);
	if (row->in_fact.least == 0 && row->on_paper.least == 0)
		return "could be short";
	if (fact == 0)
		return arena_print(arena, "short by %u on paper", paper);
	return arena_print(arena, "short by %u", fact);
}

static const char *verdict_words_of(const struct house_row *row, struct arena *arena)
{
	const char *words = worst_words(row, arena);

	if (row->urgency == URGENCY_NONE || row->verdict == VERDICT_PROTECTED || words == NULL)
		return words;
	return arena_print(arena, "%s, %s", words, urgency_words(row->urgency));
}

const char *row_verdict_words(struct walk *walk, struct house_row *row)
{
	verdict_row(walk, row);
	if (row->words == NULL && row->judged)
		row->words = verdict_words_of(row, &walk->house.arena);
	return row->words;
}

const char *row_title(struct walk *walk, struct house_row *row)
{
	if (row->form == ROW_ADD_ROOM)
		return "+ add a room";
	if (row->title == NULL)
		row->title = item_title(walk, row->item, &walk->house.arena);
	return row->title;
}

enum role row_role(const struct house_row *row)
{
	if (row->form == ROW_ROOM)
		return ROLE_DIM;
	if (row->verdict == VERDICT_SHORT)
		return ROLE_SHORT;
	return row->verdict == VERDICT_PROTECTED ? ROLE_PROTECTED : ROLE_UNDECIDED;
}

static void move(struct house_list *house, long by)
{
	long to = (long)house->focus + by;

	if (to < 0)
		to = 0;
	if (to >= (long)house->count)
		to = (long)house->count - 1;
	house->focus = (size_t)to;
}

static bool wants_asking(struct walk *walk, struct house_row *row)
{
	if (row->form != ROW_POINT)
		return false;
	verdict_row(walk, row);
	return row->verdict == VERDICT_UNDECIDED || row->asks;
}

/* The next point whose verdict an answer can still move, round the end. */
static void next_asked(struct walk *walk)
{
	struct house_list *house = &walk->house;

	for (size_t i = 1; i <= house->count; i++) {
		size_t at = (house->focus + i) % house->count;

		if (wants_asking(walk, &house->row[at])) {
			house->focus = at;
			return;
		}
	}
	say(walk, "No question left in the house can move a verdict.");
}

static void open_row(struct walk *walk)
{
	struct house_row *row = house_row(walk);
	struct addition room = {.scope = SCOPE_ROOM, .parent = walk->survey->premises};

	if (row->form == ROW_ADD_ROOM) {
		size_t rooms = item_children(room.parent, SCOPE_ROOM);

		if (rooms > 0)
			room.after = item_child(room.parent, SCOPE_ROOM, rooms - 1);
		add_begin(walk, &room);
		return;
	}
	show_form(walk, row->item);
	form_first_ask(walk);
}

void house_press(struct walk *walk, enum request request, const struct walk_key *key)
{
	struct house_list *house = &walk->house;

	if (request == REQUEST_OPEN)
		open_row(walk);
	else if (request == REQUEST_UP || request == REQUEST_UP_LETTER ||
	         request == REQUEST_PREVIOUS)
		move(house, -1);
	else if (request == REQUEST_DOWN || request == REQUEST_DOWN_LETTER ||
	         request == REQUEST_NEXT)
		move(house, 1);
	else if (request == REQUEST_PAGE_UP)
		move(house, -walk->page);
	else if (request == REQUEST_PAGE_DOWN)
		move(house, walk->page);
	else if (request == REQUEST_FIRST)
		house->focus = 0;
	else if (request == REQUEST_LAST)
		house->focus = house->count - 1;
	else if (request == REQUEST_NEXT_ASK)
		next_asked(walk);
	else if (request == REQUEST_NEXT_GROUP)
		jump_group(walk, 1);
	else if (request == REQUEST_PREVIOUS_GROUP)
		jump_group(walk, -1);
	else if (request == REQUEST_ROOM)
		jump_room(walk, (size_t)(key->text[0] - '0'));
}
