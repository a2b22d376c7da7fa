/*
 * What a change makes of the list of the house, and whose verdicts it moves: the rooms that it
 * is about are listed anew, the others are left alone.
 */
#include "inside.h"

#include <string.h>

/* What a list of changes is about. */
struct affected {
	bool rooms;              /* a room came, went or moved */
	bool all;                /* every verdict */
	const struct item *last; /* the point looked at last, for lists are in order */
};

static void moves(struct walk *walk, struct affected *affected, const struct item *point)
{
	if (!walk->verdicts.surveyed)
		affected->all = true;
	if (!affected->all)
		affected->all = judge_moves_others(walk->verdicts.judge, point);
}

/* -- the points of a room -------------------------------------------------------------------- */

static struct house_row *row_among(struct house_room *room, const struct item *point, size_t *from)
{
	for (size_t i = 0; i < room->count; i++) {
		size_t at = (*from + i) % room->count;

		if (room->point[at].item != point)
			continue;
		*from = at + 1;
		return &room->point[at];
	}
	return NULL;
}

/* @return false where there is no memory: then it is listed as empty. */
static bool make_room(struct house_list *house, struct house_room *room, size_t points)
{
	if (points <= room->space)
		return true;
	room->space = points * 2;
	room->point = arena_take(&house->arena, room->space * sizeof(*room->point));
	if (room->point == NULL)
		room->space = 0;
	return room->point != NULL;
}

static void points_gone(struct walk *walk, const struct house_room *was, struct affected *affected)
{
	for (size_t i = 0; i < was->count; i++) {
		const struct house_row *row = &was->point[i];

		if (row->item == NULL)
			continue;
		verdict_row_gone(&walk->house, row);
		moves(walk, affected, row->item);
	}
}

/* Rows that stay keep what they say. What is no longer in order is looked at as moved. */
static void list_points(struct walk *walk, struct house_room *room, struct affected *affected)
{
	const struct item *item = room->head.item;
	size_t points = item_children(item, SCOPE_POINT), from = 0, at = 0, before = 0;
	struct house_room was = *room;
	bool moved = false;

	was.point = arena_take(&walk->scratch, (was.count + 1) * sizeof(*was.point));
	for (size_t i = 0; was.point != NULL && i < was.count; i++)
		was.point[i] = room->point[i];
	if (was.point == NULL || !make_room(&walk->house, room, points))
		points = was.count = 0;
	for (size_t i = 0; at < points && i < item->child_count; i++) {
		struct item *point = item->child[i];
		struct house_row *old;

		if (point->scope != SCOPE_POINT)
			continue;
		old = row_among(&was, point, &from);
		moved = moved || (old != NULL && from < before);
		before = old == NULL ? before : from;
		room->point[at] =
		        old != NULL
		                ? *old
		                : (struct house_row){.form = ROW_POINT, .item = point, .in = room};
		if (old != NULL)
			old->item = NULL;
		else
			moves(walk, affected, point);
		at++;
	}
	points_gone(walk, &was, affected);
	room->count = at;
	room->unjudged = 0;
	for (size_t i = 0; i < at; i++) {
		room->unjudged += room->point[i].judged ? 0 : 1;
		if (moved)
			moves(walk, affected, room->point[i].item);
	}
}

/* -- the rooms ------------------------------------------------------------------------------- */

/* From @p from on, all that stands after it. */
static void number_rows(struct house_list *house, size_t from)
{
	size_t at = from == 0 ? 1 : house->first[from - 1] + 1 + house->room[from - 1]->count;

	for (size_t i = from; i < house->room_count; i++) {
		house->first[i] = at;
		at += 1 + house->room[i]->count;
	}
	house->count = at + (house->adds ? 1 : 0);
	if (house->focus >= house->count)
		house->focus = house->count - 1;
}

static void list_room(struct walk *walk, size_t at, struct affected *affected)
{
	struct house_list *house = &walk->house;
	struct house_room *room = house->room[at];
	size_t before = room->count;

	list_points(walk, room, affected);
	house->points += room->count - before;
	if (room->count != before)
		number_rows(house, at + 1);
}

static bool grow_rooms(struct house_list *house)
{
	struct house_room **room = arena_grow(&house->arena, house->room, house->room_count,
	                                      &house->room_space, sizeof(struct house_room *));
	size_t *first = arena_grow(&house->arena, house->first, house->room_count,
	                           &house->first_space, sizeof(*first));

	house->room = room == NULL ? house->room : room;
	house->first = first == NULL ? house->first : first;
	return room != NULL && first != NULL;
}

static void put_room(struct walk *walk, size_t at, struct item *item, struct affected *affected)
{
	struct house_list *house = &walk->house;
	struct house_room *room = arena_take(&house->arena, sizeof(*room));

	if (room == NULL || !grow_rooms(house))
		return;
	room->head = (struct house_row){.form = ROW_ROOM, .item = item};
	memmove(&house->room[at + 1], &house->room[at],
	        (house->room_count - at) * sizeof(struct house_room *));
	house->room[at] = room;
	house->room_count++;
	list_points(walk, room, affected);
	house->points += room->count;
}

static void take_room_out(struct walk *walk, size_t at, struct affected *affected)
{
	struct house_list *house = &walk->house;
	struct house_room *room = house->room[at];

	points_gone(walk, room, affected);
	house->points -= room->count;
	house->room_count--;
	memmove(&house->room[at], &house->room[at + 1],
	        (house->room_count - at) * sizeof(struct house_room *));
}

static void move_room(struct house_list *house, size_t from, size_t to)
{
	struct house_room *room = house->room[from];

	memmove(&house->room[to + 1], &house->room[to], (from - to) * sizeof(struct house_room *));
	house->room[to] = room;
}

static bool is_listed(const struct item *premises, const struct house_room *room)
{
	return room->head.item->parent == premises;
}

/* In the order of the survey. What stands where it stood costs one look. */
static void list_rooms(struct walk *walk, struct affected *affected)
{
	struct house_list *house = &walk->house;
	const struct item *premises = walk->survey->premises;
	size_t at = 0;

	for (size_t i = 0; i < premises->child_count; i++) {
		struct item *item = premises->child[i];
		size_t found;

		while (at < house->room_count && house->room[at]->head.item != item &&
		       !is_listed(premises, house->room[at]))
			take_room_out(walk, at, affected);
		if (at < house->room_count && house->room[at]->head.item == item) {
			at++;
			continue;
		}
		if (item->scope != SCOPE_ROOM)
			continue;
		found = house_room_at(house, item);
		if (found < house->room_count) {
			move_room(house, found, at);
			affected->all = true;
		} else {
			put_room(walk, at, item, affected);
		}
		at++;
	}
	while (house->room_count > at)
		take_room_out(walk, house->room_count - 1, affected);
	number_rows(house, 0);
}

void house_list_all(struct walk *walk)
{
	struct house_list *house = &walk->house;
	struct item *premises = walk->survey->premises;
	struct affected affected = {.all = true};

	house->premises = (struct house_row){.form = ROW_PREMISES, .item = premises};
	house->adds = !quiz_on(walk);
	house->add_room = (struct house_row){.form = ROW_ADD_ROOM, .item = premises};
	list_rooms(walk, &affected);
}

/* -- changes --------------------------------------------------------------------------------- */

static bool begins(const char *where, const char *with)
{
	return strncmp(where, with, strlen(with)) == 0;
}

static void room_changed(struct walk *walk, const struct item *room, const char *where,
                         struct affected *affected)
{
	question_index name = walk->book->known.room_name;
	size_t at = house_room_at(&walk->house, room);
	const char *key = where + strlen(room->ref) + 1;

	if (at == walk->house.room_count) /* with its points, when the rooms are listed */
		return;
	walk->house.room[at]->head.title = NULL;
	if (begins(key, "points/"))
		list_room(walk, at, affected);
	else if (name == QUESTION_NONE || strcmp(key, walk->book->question[name].id) != 0)
		affected->all = true;
}

/* Each `where` begins with the ref of what it is about, or what holds it; of what is gone that is
 * enough. */
static void look_at(struct walk *walk, const char *where, struct affected *affected)
{
	const struct item *item = survey_find(walk->survey, where, strcspn(where, "/"));
	const struct item *point = item_above(item, SCOPE_POINT);

	if (item == NULL && begins(where, "rooms/"))
		affected->rooms = true;
	else if (item == NULL && (begins(where, "premises/") || begins(where, "supply/") ||
	                          begins(where, "parts/") || begins(where, "branches/")))
		affected->all = true;
	else if (item != NULL && item->scope == SCOPE_ROOM)
		room_changed(walk, item, where, affected);
	else if (item != NULL && point == NULL)
		affected->all = true;
	else if (point != NULL && point != affected->last) {
		affected->last = point;
		verdicts_stale(walk, point);
		moves(walk, affected, point);
	}
}

void house_changed(struct walk *walk, const struct changes *list)
{
	struct affected affected = {0};

	for (size_t i = 0; i < list->count; i++)
		look_at(walk, list->item[i].where, &affected);
	if (affected.rooms)
		list_rooms(walk, &affected);
	if (affected.all)
		verdicts_all_stale(walk);
	else
		walk->verdicts.of = NULL;
}
