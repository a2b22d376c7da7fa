/*
 * The house as a list: the premises sheet, then each room with its points.
 */
#include "inside.h"

/* -- rows by number, and numbers of rows ----------------------------------------------------- */

/* The last room whose row has at most that number; room_count: none. */
static size_t room_with(const struct house_list *house, size_t at)
{
	size_t low = 0, high = house->room_count;

	while (low < high) {
		size_t middle = low + (high - low) / 2;

		if (house->first[middle] <= at)
			low = middle + 1;
		else
			high = middle;
	}
	return low == 0 ? house->room_count : low - 1;
}

struct house_row *house_at(struct house_list *house, size_t at)
{
	size_t room;

	if (at == 0)
		return &house->premises;
	if (house->adds && at + 1 >= house->count)
		return &house->add_room;
	room = room_with(house, at);
	if (at == house->first[room])
		return &house->room[room]->head;
	return &house->room[room]->point[at - house->first[room] - 1];
}

struct house_row *house_row(struct walk *walk)
{
	return house_at(&walk->house, walk->house.focus);
}

/* Mostly it is the one in focus. */
size_t house_room_at(const struct house_list *house, const struct item *room)
{
	size_t near = room_with(house, house->focus);

	if (near < house->room_count && house->room[near]->head.item == room)
		return near;
	for (size_t i = 0; i < house->room_count; i++)
		if (house->room[i]->head.item == room)
			return i;
	return house->room_count;
}

size_t house_room_number(const struct house_list *house, size_t at)
{
	size_t room = room_with(house, at);

	return room < house->room_count && house->first[room] == at ? room + 1 : 0;
}

size_t house_number(const struct house_list *house, const struct item *item)
{
	const struct item *room = item_above(item, SCOPE_ROOM);
	size_t at = room == NULL ? house->room_count : house_room_at(house, room);

	if (item == house->premises.item)
		return 0;
	if (at == house->room_count)
		return house->count;
	if (item == room)
		return house->first[at];
	for (size_t i = 0; i < house->room[at]->count; i++)
		if (house->room[at]->point[i].item == item)
			return house->first[at] + 1 + i;
	return house->count;
}

struct house_row *house_row_of(struct house_list *house, const struct item *item)
{
	size_t at = item == NULL ? house->count : house_number(house, item);

	return at == house->count ? NULL : house_at(house, at);
}

void house_focus(struct walk *walk, const struct item *item)
{
	const struct house_row *row = house_row(walk);
	size_t at;

	if (item == NULL || (row->item == item && row->form != ROW_ADD_ROOM))
		return;
	at = house_number(&walk->house, item);
	if (at < walk->house.count)
		walk->house.focus = at;
}

/* -- what a row says ------------------------------------------------------------------------- */

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

	if (row->urgency == URGENCY_NONE || words == NULL ||
	    !verdict_leaves_work(row->verdict, row->urgency))
		return words;
	return arena_print(arena, "%s, %s", words, urgency_words(row->urgency));
}

const char *row_verdict_brief(struct walk *walk, struct house_row *row)
{
	const char *words = row_verdict_words(walk, row);

	if (!row->judged || row->verdict != VERDICT_SHORT || row->in_fact.most > 0)
		return words;
	if (row->urgency == URGENCY_NONE)
		return arena_print(&walk->scratch, "paper short %u", (unsigned)row->on_paper.most);
	return arena_print(&walk->scratch, "paper short %u, %s", (unsigned)row->on_paper.most,
	                   urgency_words(row->urgency));
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
	return verdict_leaves_work(row->verdict, row->urgency) ? ROLE_UNDECIDED : ROLE_PROTECTED;
}

bool row_is_urgent(const struct house_row *row)
{
	return row->urgency == URGENCY_NOW;
}

bool row_is_short_or_urgent(const struct house_row *row)
{
	return row->verdict == VERDICT_SHORT || row_is_urgent(row);
}

/* -- keys ------------------------------------------------------------------------------------ */

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

		if (wants_asking(walk, house_at(house, at))) {
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
