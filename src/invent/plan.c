/* The plan: which parts there are, which rooms they have, and which kinds stand in them. */
#include "making.h"

#include <string.h>

enum {
	ROOMS_LEAST = 4,
	ROOMS_MORE = 5,            /* 4 to 8 where it is not said */
	POINTS_A_ROOM_TENTHS = 20, /* about two points a room */
	POINTS_OF_A_ROOM_MOST = 8,
	AGAIN = 30, /* the same kind once more in a room is so much rarer */
};

/* -- sorts of rooms -------------------------------------------------------------------------- */

unsigned room_weight(const struct room_sort *sort, unsigned use)
{
	for (size_t i = 0; i < sort->in_count; i++)
		if (sort->in[i].index == use)
			return sort->in[i].weight;
	return 0;
}

unsigned hold_weight(const struct room_sort *sort, uint16_t kind)
{
	for (size_t i = 0; i < sort->hold_count; i++)
		if (sort->holds[i].index == kind)
			return sort->holds[i].weight;
	return 0;
}

typedef unsigned weigh_room(const struct making *making, const struct room_sort *sort,
                            const void *by);

static const struct room_sort *draw_room(struct making *making, weigh_room *weigh, const void *by)
{
	const struct weights *weights = making->weights;
	unsigned *weight =
	        arena_take(&making->scratch, (weights->room_count + 1) * sizeof(*weight));
	size_t drawn;

	for (size_t r = 0; weight && r < weights->room_count; r++)
		weight[r] = weigh(making, &weights->room[r], by);
	drawn = weight ? random_weighted(&making->house, weight, weights->room_count)
	               : weights->room_count;
	return drawn < weights->room_count ? &weights->room[drawn] : NULL;
}

struct kind_in_use {
	uint16_t kind;
	unsigned use;
};

static unsigned weigh_for_kind(const struct making *making, const struct room_sort *sort,
                               const void *by)
{
	const struct kind_in_use *wanted = by;

	(void)making;
	return room_weight(sort, wanted->use) * hold_weight(sort, wanted->kind);
}

static unsigned weigh_for_use(const struct making *making, const struct room_sort *sort,
                              const void *by)
{
	(void)making;
	return room_weight(sort, *(const unsigned *)by);
}

const struct room_sort *room_for(struct making *making, uint16_t kind, unsigned use)
{
	const struct kind_in_use wanted = {kind, use};

	return draw_room(making, weigh_for_kind, &wanted);
}

const struct room_sort *any_room(struct making *making, unsigned use)
{
	const struct room_sort *sort = draw_room(making, weigh_for_use, &use);

	return sort ? sort : &making->weights->room[0];
}

/* -- parts ----------------------------------------------------------------------------------- */

static day house_built(struct making *making)
{
	static const unsigned weight[] = {2, 4, 4, 3};
	static const int years[][2] = {
	        {2,  8  },
                {9,  30 },
                {31, 60 },
                {61, 130}
        };
	size_t age = random_weighted(&making->house, weight, 4);
	int old = years[age][0] +
	          (int)random_below(&making->house, (uint64_t)(years[age][1] - years[age][0] + 1));

	return date_years_before(making->book->on, old);
}

bool plan_parts(struct making *making, const struct site *site)
{
	question_index use = making->book->known.part_use;

	making->built = house_built(making);
	making->may = allowed_all(making);
	for (size_t i = 0; i < site->use_count && i < PARTS_MOST; i++) {
		struct part_plan *part = &making->part[making->part_count++];

		*part = (struct part_plan){.use = site->use[i], .may = allowed_all(making)};
		if (!part->may)
			return making_no_memory(making);
		part->may[use] = (cells)1 << part->use;
	}
	return making->may ? true : making_no_memory(making);
}

/* -- rooms ----------------------------------------------------------------------------------- */

static size_t rooms_of_sort(const struct making *making, const struct room_sort *sort, size_t part)
{
	size_t count = 0;

	for (size_t r = 0; r < making->room_count; r++)
		count += making->room[r].sort == sort && making->room[r].part == part;
	return count;
}

static bool add_room(struct making *making, const struct room_sort *sort, size_t part)
{
	struct room_plan *grown = arena_grow(&making->scratch, making->room, making->room_count,
	                                     &making->room_room, sizeof(*grown));

	if (!grown)
		return making_no_memory(making);
	making->room = grown;
	grown[making->room_count++] = (struct room_plan){.sort = sort, .part = part};
	making->part[part].rooms++;
	return true;
}

/* What was asked for, or has to be, needs a room first. */
static bool add_rooms_for_points(struct making *making)
{
	for (size_t p = 0; p < making->point_count; p++) {
		const struct point_plan *point = &making->point[p];

		if (rooms_of_sort(making, point->sort, point->part) == 0 &&
		    !add_room(making, point->sort, point->part))
			return false;
	}
	return true;
}

static bool add_rooms_always(struct making *making)
{
	const struct weights *weights = making->weights;

	for (size_t p = 0; p < making->part_count; p++)
		for (size_t r = 0; r < weights->room_count; r++)
			if ((weights->room[r].always >> making->part[p].use & 1) &&
			    rooms_of_sort(making, &weights->room[r], p) == 0 &&
			    !add_room(making, &weights->room[r], p))
				return false;
	return true;
}

struct in_part {
	size_t part;
	bool enough_counts;
};

static unsigned weigh_for_part(const struct making *making, const struct room_sort *sort,
                               const void *by)
{
	const struct in_part *in = by;
	size_t there = rooms_of_sort(making, sort, in->part);

	return in->enough_counts && there >= sort->most
	               ? 0
	               : room_weight(sort, making->part[in->part].use);
}

/* @return whether there was one to add; more than there can be only where so many were asked for. */
static bool add_some_room(struct making *making, bool *added)
{
	struct in_part in = {(size_t)random_below(&making->house, making->part_count), true};
	const struct room_sort *sort;

	for (size_t p = 0; p < making->part_count; p++)
		if (making->part[p].rooms < making->part[in.part].rooms)
			in.part = p;
	sort = draw_room(making, weigh_for_part, &in);
	in.enough_counts = false;
	if (!sort && making->wish->rooms > 0)
		sort = draw_room(making, weigh_for_part, &in);
	*added = sort != NULL;
	return !sort || add_room(making, sort, in.part);
}

static bool every_part_has_a_room(struct making *making)
{
	for (size_t p = 0; p < making->part_count; p++)
		if (making->part[p].rooms == 0 &&
		    !add_room(making, any_room(making, making->part[p].use), p))
			return false;
	return true;
}

static bool put_into_rooms(struct making *making)
{
	for (size_t p = 0; p < making->point_count; p++) {
		struct point_plan *point = &making->point[p];
		size_t pick = (size_t)random_below(&making->house,
		                                   rooms_of_sort(making, point->sort, point->part));

		for (point->room = 0;; point->room++)
			if (making->room[point->room].sort == point->sort &&
			    making->room[point->room].part == point->part && pick-- == 0)
				break;
		making->room[point->room].points++;
	}
	return true;
}

bool plan_rooms(struct making *making)
{
	size_t wanted = making->wish->rooms
	                        ? making->wish->rooms
	                        : ROOMS_LEAST + (size_t)random_below(&making->house, ROOMS_MORE);
	bool added = true;

	if (!add_rooms_for_points(making) || !add_rooms_always(making) ||
	    !every_part_has_a_room(making))
		return false;
	while (making->room_count < wanted && added)
		if (!add_some_room(making, &added))
			return false;
	return put_into_rooms(making);
}

/* -- points ---------------------------------------------------------------------------------- */

struct point_plan *plan_point(struct making *making, uint16_t kind, size_t part,
                              const struct room_sort *sort)
{
	struct point_plan *grown = arena_grow(&making->scratch, making->point, making->point_count,
	                                      &making->point_room, sizeof(*grown));

	if (!grown) {
		making_no_memory(making);
		return NULL;
	}
	making->point = grown;
	grown[making->point_count] = (struct point_plan){.kind = kind, .part = part, .sort = sort};
	return &grown[making->point_count++];
}

static size_t points_in_room(const struct making *making, uint16_t kind, size_t room)
{
	size_t count = 0;

	for (size_t p = 0; p < making->point_count; p++)
		count += making->point[p].kind == kind && making->point[p].room == room;
	return count;
}

static size_t points_in_part(const struct making *making, uint16_t kind, size_t part)
{
	size_t count = 0;

	for (size_t p = 0; p < making->point_count; p++)
		count += making->point[p].kind == kind && making->point[p].part == part;
	return count;
}

/* Where the last that said so does not rule it out. */
static bool may_stand(const struct making *making, uint16_t kind, size_t part)
{
	const struct weights *weights = making->weights;
	const struct condition *only = NULL;
	unsigned most = 0;

	for (size_t o = 0; o < weights->often_count; o++) {
		const struct often *often = &weights->often[o];

		if (often->scope != SCOPE_POINT || often->of != kind ||
		    condition_known(making, making->part[part].item, often->when) != KNOWN_YES)
			continue;
		only = often->only ? often->only : only;
		most = often->most ? often->most : most;
	}
	return (!most || points_in_part(making, kind, part) < most) &&
	       (!only || condition_known(making, making->part[part].item, only) == KNOWN_YES);
}

static bool add_to(struct making *making, size_t room, uint16_t kind)
{
	struct point_plan *point =
	        plan_point(making, kind, making->room[room].part, making->room[room].sort);

	if (!point)
		return false;
	point->room = room;
	making->room[room].points++;
	return true;
}

/* In a room that holds it; of several by chance. */
static bool add_in_some_room(struct making *making, uint16_t kind, size_t part)
{
	unsigned *weight = arena_take(&making->scratch, (making->room_count + 1) * sizeof(*weight));
	const struct room_sort *sort;
	size_t drawn;

	if (!weight)
		return making_no_memory(making);
	for (size_t r = 0; r < making->room_count; r++)
		if (making->room[r].part == part)
			weight[r] = hold_weight(making->room[r].sort, kind);
	drawn = random_weighted(&making->house, weight, making->room_count);
	if (drawn == making->room_count) {
		sort = room_for(making, kind, making->part[part].use);
		if (!sort || !add_room(making, sort, part))
			return sort == NULL;
	}
	return add_to(making, drawn, kind);
}

/* A heater where the sheet says that there is one: each household has its own. Of other things one will do. */
static bool add_always(struct making *making, const struct often *often)
{
	bool each_part = makes_any(making, often->of), there = false;

	for (size_t p = 0; p < making->part_count; p++)
		there |= points_in_part(making, often->of, p) > 0;
	for (size_t p = 0; p < making->part_count && (each_part || !there); p++) {
		if (points_in_part(making, often->of, p) > 0 ||
		    condition_known(making, making->part[p].item, often->always) != KNOWN_YES ||
		    !may_stand(making, often->of, p) ||
		    !room_for(making, often->of, making->part[p].use))
			continue;
		if (!add_in_some_room(making, often->of, p))
			return false;
		there = true;
	}
	return true;
}

/* @return whether anything more goes into the room. */
static bool add_to_room(struct making *making, size_t r, bool *added)
{
	const struct room_plan *room = &making->room[r];
	unsigned *weight =
	        arena_take(&making->scratch, (room->sort->hold_count + 1) * sizeof(*weight));
	size_t drawn;

	*added = false;
	for (size_t h = 0; weight && h < room->sort->hold_count; h++) {
		uint16_t kind = room->sort->holds[h].index;
		size_t there = points_in_room(making, kind, r);

		weight[h] = there > 2 || !may_stand(making, kind, room->part)
		                    ? 0
		                    : room->sort->holds[h].weight * AGAIN * AGAIN;
		while (there-- > 0)
			weight[h] /= AGAIN;
	}
	if (!weight)
		return making_no_memory(making);
	drawn = random_weighted(&making->house, weight, room->sort->hold_count);
	if (drawn == room->sort->hold_count)
		return true;
	*added = true;
	return add_to(making, r, room->sort->holds[drawn].index);
}

/* A kitchen without a tap is none. */
static bool add_what_rooms_have(struct making *making)
{
	for (size_t r = 0; r < making->room_count; r++)
		for (size_t h = 0; h < making->room[r].sort->has_count; h++) {
			uint16_t kind = making->room[r].sort->has[h];

			if (points_in_room(making, kind, r) == 0 &&
			    may_stand(making, kind, making->room[r].part) &&
			    !add_to(making, r, kind))
				return false;
		}
	return true;
}

/* The emptiest rooms first, so that each has something; then by chance. @p weight: one a room, of no meaning before and after. */
static size_t next_room(struct making *making, const bool *full, unsigned *weight)
{
	for (size_t r = 0; r < making->room_count; r++)
		if (!full[r] && making->room[r].points == 0)
			return r;
	for (size_t r = 0; r < making->room_count; r++)
		weight[r] = !full[r] && (making->wish->points ||
		                         making->room[r].points < POINTS_OF_A_ROOM_MOST);
	return random_weighted(&making->house, weight, making->room_count);
}

/* Rooms are filled until there are enough points, or nothing more goes into any. */
static bool fill_rooms(struct making *making, size_t wanted)
{
	bool added, *full = arena_take(&making->scratch, making->room_count + 1);
	unsigned *weight = arena_take(&making->scratch, (making->room_count + 1) * sizeof(*weight));
	size_t room;

	if (!full || !weight)
		return making_no_memory(making);
	while (making->point_count < wanted &&
	       (room = next_room(making, full, weight)) < making->room_count) {
		if (!add_to_room(making, room, &added))
			return false;
		full[room] = !added;
	}
	return true;
}

bool plan_points(struct making *making)
{
	const struct weights *weights = making->weights;
	size_t wanted = making->wish->points;

	for (size_t o = 0; o < weights->often_count; o++)
		if (weights->often[o].always && !add_always(making, &weights->often[o]))
			return false;
	if (!add_what_rooms_have(making))
		return false;
	if (!wanted)
		wanted = making->room_count * POINTS_A_ROOM_TENTHS / 10 +
		         (size_t)random_below(&making->house, making->room_count + 1);
	return fill_rooms(making, wanted);
}
