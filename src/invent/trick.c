/* What misleads: right on paper and not in fact, the reverse, the wrong mechanism, a valve that shuts, a feed that is not sure. */
#include "making.h"

#include <string.h>

enum {
	TRICKS_OF = 6, /* one of each trick in so many inlets, where it can be */
	UNSURE_FEED_OF = 6,
};

static cells *allowed_now(struct making *making, const struct point_plan *point)
{
	const struct item *known[] = {making->survey->premises, making->part[point->part].item,
	                              point->item};
	cells *may = allowed_all(making);

	for (size_t i = 0; may && i < 3; i++)
		for (size_t a = 0; a < known[i]->answer_count; a++)
			may[known[i]->answer[a].question] = known[i]->answer[a].may;
	return may;
}

/* -- rows ------------------------------------------------------------------------------------ */

static bool lowers(const uint8_t figure[MECHANISM_COUNT])
{
	for (unsigned m = 0; m < MECHANISM_COUNT; m++)
		if (figure[m] < CATEGORY_MOST)
			return true;
	return false;
}

static bool parts_paper_from_fact(const struct row *row, bool in_fact)
{
	return !lowers(row->good_for) && lowers(row->accepted) == !in_fact &&
	       lowers(row->found) == in_fact;
}

/* What the rows ask for at an inlet, by what was answered for the point. */
static uint8_t need_at(const struct making *making, const struct point_plan *point, unsigned inlet,
                       unsigned mechanism)
{
	const struct kind *kind = &making->book->kind[point->kind];
	uint8_t need = CATEGORY_LEAST;

	for (size_t r = 0; r < kind->row_count; r++) {
		const struct row *row = &kind->row[r];

		if (row->fluid != ROW_NONE && row->category > need && (row->by >> mechanism & 1) &&
		    (row->inlets >> inlet & 1) &&
		    condition_known(making, point->item, row->when) != KNOWN_NO)
			need = row->category;
	}
	return need;
}

static bool is_enough(const struct making *making, const struct point_plan *point, unsigned inlet,
                      const struct fitting *fitting)
{
	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		uint8_t best = CATEGORY_LEAST;

		for (size_t t = 0; t < fitting->type_count; t++)
			if (making->book->type[fitting->type[t]].good_for[m] > best)
				best = making->book->type[fitting->type[t]].good_for[m];
		if (best < need_at(making, point, inlet, m))
			return false;
	}
	return true;
}

/* Only what would be enough can be spoiled: one of what is met there and is, where there is one. */
static void draw_enough(struct making *making, const struct point_plan *point, unsigned inlet,
                        struct chain *chain)
{
	const struct fittings *fittings = fittings_of(making, point->item, inlet);
	uint64_t count = 0;

	for (size_t i = 0; fittings && i < fittings->count; i++) {
		const struct fitting *fitting = &fittings->item[i];

		if (!is_enough(making, point, inlet, fitting) ||
		    random_below(&making->trick, ++count) != 0)
			continue;
		*chain = (struct chain){.count = fitting->type_count, .aimed = SIZE_MAX};
		memcpy(chain->type, fitting->type, fitting->type_count * sizeof(chain->type[0]));
	}
}

/* One of the types that stand there gets answers that lower one of its two figures and leave the other. */
static bool trick_row(struct making *making, const struct point_plan *point, unsigned inlet,
                      struct chain *chain, bool in_fact)
{
	const struct row *found = NULL;
	struct solving solving = {making, &making->trick, point->kind, INDEX_NONE, NULL, 0};
	uint64_t count = 0;

	draw_enough(making, point, inlet, chain);
	for (size_t i = 0; i < chain->count; i++) {
		const struct type *type = &making->book->type[chain->type[i]];

		for (size_t r = 0; r < type->row_count; r++)
			if (parts_paper_from_fact(&type->row[r], in_fact) &&
			    random_below(&making->trick, ++count) == 0) {
				found = &type->row[r];
				chain->aimed = i;
			}
	}
	if (!found)
		return true;
	solving.type = chain->type[chain->aimed];
	solving.may = allowed_now(making, point);
	if (!solving.may)
		return making_no_memory(making);
	if (solve(&solving, &(struct goal){found->when, true, NULL}, 1))
		chain->may = solving.may;
	else
		chain->aimed = SIZE_MAX;
	return true;
}

/* -- types ----------------------------------------------------------------------------------- */

/* A device that is good for what comes here by one mechanism, and not for what comes by the other. */
static void trick_mechanism(struct making *making, const struct point_plan *point, unsigned inlet,
                            struct chain *chain)
{
	const struct rulebook *book = making->book;
	uint64_t count = 0;

	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];
		bool enough = false, wrong = false;

		for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
			uint8_t need = need_at(making, point, inlet, m);

			enough |= need > CATEGORY_LEAST && type->good_for[m] >= need;
			wrong |= type->good_for[m] < need;
		}
		if (!type->device || !enough || !wrong ||
		    random_below(&making->trick, ++count) != 0)
			continue;
		*chain = (struct chain){.type = {(uint16_t)t}, .count = 1, .aimed = SIZE_MAX};
	}
}

/* A valve behind what must not have one. */
static void trick_valve(struct making *making, struct chain *chain)
{
	const struct rulebook *book = making->book;
	bool cares = chain->count > 0 && chain->count < CHAIN_MOST &&
	             book->type[chain->type[chain->count - 1]].shuts_downstream != QUESTION_NONE;

	for (size_t t = 0; cares && t < book->type_count; t++)
		if (book->type[t].shuts) {
			chain->type[chain->count++] = (uint16_t)t;
			return;
		}
}

bool trick_chain(struct making *making, const struct point_plan *point, unsigned inlet,
                 struct chain *chain)
{
	if (making->wish->level < LEVEL_MOST)
		return true;
	switch (random_below(&making->trick, TRICKS_OF)) {
	case 0:
		return trick_row(making, point, inlet, chain, true);
	case 1:
		return trick_row(making, point, inlet, chain, false);
	case 2:
		trick_mechanism(making, point, inlet, chain);
		break;
	case 3:
		trick_valve(making, chain);
		break;
	default:
		break;
	}
	return true;
}

/* -- feeds ----------------------------------------------------------------------------------- */

/* Another cold pipe of the same part: the main's, or one from what stores there. */
static const struct item *other_branch(struct making *making, size_t part, const char *feed)
{
	const struct item *found = NULL, *cold = making->part[part].cold;
	uint64_t count = 0;

	if (strcmp(cold->ref, feed) != 0 && random_below(&making->trick, ++count) == 0)
		found = cold;
	for (size_t p = 0; p < making->point_count; p++) {
		const struct item *stored =
		        making->point[p].part == part ? making->point[p].stored : NULL;

		if (stored && strcmp(stored->ref, feed) != 0 &&
		    random_below(&making->trick, ++count) == 0)
			found = stored;
	}
	return found;
}

static bool trick_inlet(struct making *making, size_t part, struct item *inlet)
{
	question_index fed_by = making->book->known.inlet_fed_by;
	const char *feed = fed_by == QUESTION_NONE ? NULL : item_text(inlet, fed_by);
	const struct item *other = feed ? other_branch(making, part, feed) : NULL;

	/* what comes from a heater can be told by its warmth */
	if (!other || is_made(making, inlet->ref))
		return true;
	return put_text(making, inlet, fed_by,
	                arena_print(&making->scratch, "%s, %s", feed, other->ref));
}

/* Of what stores the feed stays known: a doubtful one could lead back to itself. */
bool trick_feeds(struct making *making)
{
	if (making->wish->level < LEVEL_MOST)
		return true;
	for (size_t p = 0; p < making->point_count; p++) {
		const struct point_plan *point = &making->point[p];

		if (making->book->kind[point->kind].stores || point->may)
			continue;
		for (size_t i = 0; i < item_children(point->item, SCOPE_INLET); i++)
			if (random_chance(&making->trick, 1, UNSURE_FEED_OF) &&
			    !trick_inlet(making, point->part,
			                 item_child(point->item, SCOPE_INLET, i)))
				return false;
	}
	return true;
}
