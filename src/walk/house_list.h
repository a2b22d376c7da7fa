/*
 * The house as a list: its rows, what each says, and what a change makes of them.
 */
#ifndef TUNDISH_WALK_HOUSE_LIST_H
#define TUNDISH_WALK_HOUSE_LIST_H

#include "tundish/base/arena.h"
#include "tundish/house/verdict.h"
#include "tundish/walk/requests.h"
#include "tundish/walk/screen.h"

struct walk;

enum row_form {
	ROW_PREMISES,
	ROW_ROOM,
	ROW_POINT,
	ROW_ADD_ROOM,
};

struct house_row {
	enum row_form form;
	struct item *item;
	struct house_room *in; /* ROW_POINT: the room that it is listed in */
	bool judged;           /* ROW_POINT: the rest holds */
	enum verdict verdict;
	enum urgency urgency;
	struct range on_paper, in_fact;
	bool asks;                 /* an answer can still move its verdict */
	bool left;                 /* urgent, and nothing was done about it yet */
	const char *title, *words; /* as shown, once it was; NULL: not yet */
};

/** How many points have which verdict, of those that were judged. */
struct tally {
	size_t count[VERDICT_COUNT], points, left;
};

/** A room, and the rows of what is in it. */
struct house_room {
	struct house_row head;
	struct house_row *point;
	size_t count, space, unjudged;
};

/** All rows are numbered through: the premises sheet, each room with its points, the one that adds
 * a room. A change of one room leaves the others alone. */
struct house_list {
	struct arena arena;
	struct house_row premises, add_room;
	bool adds;                /* add_room is listed */
	struct house_room **room; /* in the survey's order */
	size_t *first;            /* by room: the number of its row */
	size_t room_count, room_space, first_space;
	size_t count, points; /* rows of all; those of points */
	struct tally tally;
	size_t focus;
	size_t top;
};

/* house_list.c */
/** The row of a number, below house.count. */
struct house_row *house_at(struct house_list *house, size_t at);
/** The row in focus. */
struct house_row *house_row(struct walk *walk);
/** The number of the row of the premises, a room or a point; house.count where it has none. */
size_t house_number(const struct house_list *house, const struct item *item);
/** That row, or NULL. */
struct house_row *house_row_of(struct house_list *house, const struct item *item);
/** The room's place among the rooms; room_count where it is not listed. */
size_t house_room_at(const struct house_list *house, const struct item *room);
/** The number, from 1, that the room goes by whose row has the number @p at; 0 where that is no
 * room's. */
size_t house_room_number(const struct house_list *house, size_t at);
void house_focus(struct walk *walk, const struct item *item);
/** The verdict of a row in a few words, as long as the list is not made anew; NULL where it may not be told. */
const char *row_verdict_words(struct walk *walk, struct house_row *row);
/** Shorter, where there is little room and one of them is long. */
const char *row_verdict_brief(struct walk *walk, struct house_row *row);
/** The role of those words. */
enum role row_role(const struct house_row *row);
/** What a row is called, as long as the list is not made anew. */
const char *row_title(struct walk *walk, struct house_row *row);
/** Whether it can't wait until one has left. Of a row that was judged, as all that asks of verdicts. */
bool row_is_urgent(const struct house_row *row);
/** Whether `!` marks it, and goes to it. */
bool row_is_short_or_urgent(const struct house_row *row);
void house_press(struct walk *walk, enum request request, const struct walk_key *key);

/* house_change.c */
/** The list as the survey is, all of it anew. */
void house_list_all(struct walk *walk);
/** Changes that may be about more than one point were just carried out: bring the list up to date,
 * and forget the verdicts that they could move, no others. */
void house_changed(struct walk *walk, const struct changes *list);

/* verdicts.c */
/** Judge a row that was not yet: its verdict and what follows hold then. */
void verdict_row(struct walk *walk, struct house_row *row);
/** A row is not listed any more: nor is its verdict counted. */
void verdict_row_gone(struct house_list *house, const struct house_row *row);
/** How the points stand. Of a very large house not all at once: `points` is how many were looked at
 * so far, beside house.points. */
const struct tally *verdict_tally(struct walk *walk);

#endif
