/* What was asked for: found in the book, and put where it can be. What comes first goes before what comes later. */
#include "making.h"

#include "tundish/base/text.h"

#include <string.h>

enum { TRIES_MOST = 40 };

/* -- finding --------------------------------------------------------------------------------- */

/* Several rows of a kind may share an id (what is asked for its category): one of them by chance. */
static void find_kind_row(struct making *making, struct aim *aim)
{
	unsigned found = 0;

	for (size_t k = 0; k < making->book->kind_count; k++)
		for (size_t r = 0; r < making->book->kind[k].row_count; r++) {
			const struct row *row = &making->book->kind[k].row[r];

			if (!row_is_called(row, aim->id) ||
			    random_below(&making->house, ++found) != 0)
				continue;
			aim->row = row;
			aim->kind = (uint16_t)k;
		}
}

static void find_type_row(const struct rulebook *book, struct aim *aim)
{
	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];

		for (size_t r = 0; r < type->row_count; r++)
			if (row_is_called(&type->row[r], aim->id))
				aim->row = &type->row[r];
		for (size_t s = 0; s < type->series_count; s++)
			if (row_is_called(&type->series[s].row, aim->id))
				aim->series = &type->series[s], aim->row = &type->series[s].row;
		if (aim->row && aim->type == INDEX_NONE)
			aim->type = (uint16_t)t;
	}
}

static bool find_urgency_row(const struct rulebook *book, const char *id)
{
	for (size_t u = 0; u < book->urgency_count; u++)
		if (row_is_called(&book->urgency[u].row, id))
			return true;
	return false;
}

static bool aim_find(struct making *making, const char *id, struct aim *aim)
{
	const struct rulebook *book = making->book;

	*aim = (struct aim){
	        .id = id, .kind = rulebook_kind(book, id, strlen(id)), .type = INDEX_NONE};
	if (aim->kind != INDEX_NONE)
		return true;
	aim->type = rulebook_type(book, id, strlen(id));
	if (aim->type != INDEX_NONE)
		return true;
	find_kind_row(making, aim);
	if (!aim->row)
		find_type_row(book, aim);
	aim->urgency = !aim->row && find_urgency_row(book, id);
	return aim->row || aim->urgency;
}

static void say_not_found(struct making *making, const char *id)
{
	const struct rulebook *book = making->book;
	size_t count = 0, most = book->kind_count + book->type_count;
	const char **word, *nearest;

	for (size_t k = 0; k < book->kind_count; k++)
		most += book->kind[k].row_count;
	for (size_t t = 0; t < book->type_count; t++)
		most += book->type[t].row_count;
	word = arena_take(&making->scratch, (most + 1) * sizeof(*word));
	for (size_t k = 0; word && k < book->kind_count; k++) {
		word[count++] = book->kind[k].id;
		for (size_t r = 0; r < book->kind[k].row_count; r++)
			word[count++] = book->kind[k].row[r].id;
	}
	for (size_t t = 0; word && t < book->type_count; t++) {
		word[count++] = book->type[t].id;
		for (size_t r = 0; r < book->type[t].row_count; r++)
			word[count++] = book->type[t].row[r].id;
	}
	nearest = text_nearest(id, word, count);
	err_set(making->err, ERR_USAGE, "%.60s is no kind, type or row of the rulebook%s%s%s", id,
	        nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

bool aims_find(struct making *making, struct aim **out)
{
	const struct invention *wish = making->wish;

	*out = arena_take(&making->scratch, (wish->with_count + 1) * sizeof(**out));
	for (size_t i = 0; *out && i < wish->with_count; i++)
		if (!aim_find(making, wish->with[i], &(*out)[i])) {
			say_not_found(making, wish->with[i]);
			return false;
		}
	return *out ? true : making_no_memory(making);
}

/* -- where a type may stand ------------------------------------------------------------------ */

/* An inlet, and how often the type stands there. */
struct host {
	uint16_t kind;
	unsigned inlet, weight;
};

struct hosts {
	struct host *item;
	size_t count, room;
};

static bool add_host(struct making *making, struct hosts *hosts, struct host host)
{
	struct host *grown = arena_grow(&making->scratch, hosts->item, hosts->count, &hosts->room,
	                                sizeof(*grown));

	if (!grown)
		return making_no_memory(making);
	hosts->item = grown;
	grown[hosts->count++] = host;
	return true;
}

static bool add_weighed_hosts(struct making *making, uint16_t type, struct hosts *hosts)
{
	const struct weights *weights = making->weights;

	for (size_t o = 0; o < weights->often_count; o++)
		for (size_t f = 0;
		     weights->often[o].of != INDEX_NONE && f < weights->often[o].fittings_count;
		     f++) {
			const struct fittings *fittings = &weights->often[o].fittings[f];
			unsigned weight = 0;

			for (size_t i = 0; i < fittings->count; i++)
				for (size_t t = 0; t < fittings->item[i].type_count; t++)
					if (fittings->item[i].type[t] == type)
						weight += fittings->item[i].weight;
			for (unsigned inlet = 0; weight && inlet < INLETS_MOST; inlet++)
				if ((fittings->inlets >> inlet & 1) &&
				    !add_host(making, hosts,
				              (struct host){weights->often[o].of, inlet, weight}))
					return false;
		}
	return true;
}

/* What is usual, where no weight says more; and else anywhere. */
static bool add_usual_hosts(struct making *making, uint16_t type, bool any, struct hosts *hosts)
{
	const struct rulebook *book = making->book;

	for (size_t k = 0; k < book->kind_count; k++) {
		bool usual = any;

		for (size_t u = 0; u < book->kind[k].usual_count; u++)
			usual |= book->kind[k].usual[u] == type;
		for (unsigned inlet = 0; usual && inlet < book->kind[k].inlet_count; inlet++)
			if (!book->kind[k].inlet[inlet].waste &&
			    !add_host(making, hosts, (struct host){(uint16_t)k, inlet, 1}))
				return false;
	}
	return true;
}

static bool find_hosts(struct making *making, const struct aim *aim, struct hosts *hosts)
{
	if (aim->kind != INDEX_NONE)
		return add_host(making, hosts, (struct host){aim->kind, 0, 1});
	return add_weighed_hosts(making, aim->type, hosts) &&
	       (hosts->count || add_usual_hosts(making, aim->type, false, hosts)) &&
	       (hosts->count || add_usual_hosts(making, aim->type, true, hosts));
}

/* -- which site ------------------------------------------------------------------------------ */

static bool may_be_in(const struct making *making, uint16_t kind, const struct site *site)
{
	for (size_t u = 0; u < site->use_count; u++)
		for (size_t r = 0; r < making->weights->room_count; r++)
			if (room_weight(&making->weights->room[r], site->use[u]) > 0 &&
			    hold_weight(&making->weights->room[r], kind) > 0)
				return true;
	return false;
}

/* That the part may be used as it is: what a row says of `part.use` goes by the site. */
static bool use_may_be(struct making *making, const struct aim *aim, unsigned use)
{
	struct solving solving = {making,    &making->house,      aim->kind,
	                          aim->type, allowed_all(making), 0};
	struct goal goal[GOALS_MOST];

	if (!solving.may)
		return false;
	/* a type's rows may ask what only some kinds are asked: that is seen when it is placed */
	if (aim->kind == INDEX_NONE || !aim->row)
		return true;
	solving.may[making->book->known.part_use] = (cells)1 << use;
	return solve(&solving, goal,
	             goals_of_kind_row(&making->book->kind[aim->kind], aim->row, true, goal));
}

/* 0: not there; 1: somewhere it would not be met; 2: well. */
static size_t fit_in_site(struct making *making, const struct aim *aim, const struct site *site)
{
	for (size_t u = 0; u < site->use_count; u++)
		if (use_may_be(making, aim, site->use[u]))
			return aim->kind == INDEX_NONE || may_be_in(making, aim->kind, site) ? 2
			                                                                     : 1;
	return 0;
}

void aims_weigh_sites(struct making *making, const struct aim *aim, unsigned *weight)
{
	const struct weights *weights = making->weights;
	size_t best = 0,
	       *fit = arena_take(&making->scratch, (weights->site_count + 1) * sizeof(*fit));

	for (size_t s = 0; fit && s < weights->site_count; s++) {
		for (size_t i = 0; i < making->wish->with_count; i++)
			fit[s] += aim[i].urgency ? 0
			                         : fit_in_site(making, &aim[i], &weights->site[s]);
		best = fit[s] > best ? fit[s] : best;
	}
	for (size_t s = 0; s < weights->site_count; s++)
		weight[s] = fit && fit[s] == best ? weights->site[s].weight : 0;
}

/* -- placing --------------------------------------------------------------------------------- */

static const struct condition *only_of(const struct making *making, uint16_t kind)
{
	const struct condition *only = NULL;

	for (size_t o = 0; o < making->weights->often_count; o++)
		if (making->weights->often[o].scope == SCOPE_POINT &&
		    making->weights->often[o].of == kind && making->weights->often[o].only)
			only = making->weights->often[o].only;
	return only;
}

/* Weights' conditions cut no cells, so one with a threshold can't be narrowed to: it is tried as it is. */
static bool is_threshold(const struct condition *condition)
{
	if (!condition)
		return false;
	if (condition->form == CONDITION_TEST)
		return condition->threshold != THRESHOLD_NONE;
	for (const struct condition *child = condition->child; child; child = child->next)
		if (is_threshold(child))
			return true;
	return false;
}

static bool solve_aim(struct solving *solving, const struct aim *aim, bool alone)
{
	const struct making *making = solving->making;
	const struct condition *only = only_of(making, solving->kind);
	struct goal goal[GOALS_MOST + 1];
	size_t count = 0;

	if (aim->row && aim->kind != INDEX_NONE)
		count = goals_of_kind_row(&making->book->kind[aim->kind], aim->row, alone, goal);
	else if (aim->row)
		goal[count++] = (struct goal){aim->row->when, true, NULL};
	if (only && !is_threshold(only))
		goal[count++] = (struct goal){only, true, NULL};
	return solve(solving, goal, count);
}

/* What it takes of the premises and the part binds whatever comes later. */
static void keep_shared(struct making *making, const struct solving *solving,
                        struct part_plan *part)
{
	for (size_t q = 0; q < making->book->question_count; q++) {
		if (making->book->question[q].scope == SCOPE_PREMISES)
			making->may[q] = solving->may[q];
		if (making->book->question[q].scope == SCOPE_PART)
			part->may[q] = solving->may[q];
	}
}

static bool start_from_shared(struct making *making, struct solving *solving,
                              const struct part_plan *part)
{
	solving->may = allowed_all(making);
	if (!solving->may)
		return making_no_memory(making);
	for (size_t q = 0; q < making->book->question_count; q++) {
		if (making->book->question[q].scope == SCOPE_PREMISES)
			solving->may[q] = making->may[q];
		if (making->book->question[q].scope == SCOPE_PART)
			solving->may[q] = part->may[q];
	}
	return true;
}

static const struct host *draw_host(struct making *making, const struct hosts *hosts)
{
	unsigned *weight = arena_take(&making->scratch, (hosts->count + 1) * sizeof(*weight));
	size_t drawn;

	for (size_t h = 0; weight && h < hosts->count; h++)
		weight[h] = hosts->item[h].weight;
	drawn = weight ? random_weighted(&making->house, weight, hosts->count) : hosts->count;
	return drawn < hosts->count ? &hosts->item[drawn] : NULL;
}

static bool put_aim(struct making *making, const struct aim *aim, const struct host *host,
                    size_t part, const struct room_sort *sort, cells *may)
{
	struct point_plan *point = plan_point(making, host->kind, part, sort);

	if (!point)
		return false;
	point->may = may;
	point->is_wanted = aim->type != INDEX_NONE;
	point->wanted = (struct wanted){aim->type, aim->series ? aim->series->with : INDEX_NONE,
	                                host->inlet};
	return true;
}

/* Where it would be met by itself, then in any room, then also where another row of its fluid gives more. @return false with the error: no memory. */
static bool place_aim(struct making *making, const struct aim *aim, bool *placed)
{
	struct hosts hosts = {0};

	if (!find_hosts(making, aim, &hosts))
		return false;
	for (unsigned try = 0; try < TRIES_MOST && hosts.count; try++) {
		const struct host *host = draw_host(making, &hosts);
		size_t part = (size_t)random_below(&making->house, making->part_count);
		struct solving solving = {making,    &making->house, host ? host->kind : INDEX_NONE,
		                          aim->type, NULL,           0};
		const struct room_sort *sort =
		        host ? room_for(making, host->kind, making->part[part].use) : NULL;

		if (!host || !start_from_shared(making, &solving, &making->part[part]))
			return false;
		if (!sort && try >= TRIES_MOST / 3)
			sort = any_room(making, making->part[part].use);
		if (!sort || !solve_aim(&solving, aim, try < TRIES_MOST * 2 / 3))
			continue;
		keep_shared(making, &solving, &making->part[part]);
		*placed = true;
		return put_aim(making, aim, host, part, sort, solving.may);
	}
	return true;
}

bool aims_place(struct making *making, const struct aim *aim)
{
	struct invented *said = making->said;

	said->left_out =
	        arena_take(making->arena, (making->wish->with_count + 1) * sizeof(*said->left_out));
	if (!said->left_out)
		return making_no_memory(making);
	for (size_t i = 0; i < making->wish->with_count; i++) {
		bool placed = false;

		if (!aim[i].urgency && !place_aim(making, &aim[i], &placed))
			return false;
		if (!placed)
			said->left_out[said->left_out_count++] = aim[i].id;
	}
	return true;
}
