/* What misleads: right on paper and not in fact, the reverse, the wrong mechanism, a valve that shuts, a feed that is not sure. */
#include "making.h"

#include <string.h>

enum {
	TRICKS_OF = 8, /* one of each trick in so many inlets, where it can be */
	UNSURE_FEED_OF = 10,
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

/* One of the types that stand there gets answers that lower one of its two figures and leave the other. */
static bool trick_row(struct making *making, const struct point_plan *point, struct chain *chain,
                      bool in_fact)
{
	const struct row *found = NULL;
	struct solving solving = {making, &making->trick, point->kind, INDEX_NONE, NULL, 0};
	uint64_t count = 0;

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

static unsigned comes_by(const struct kind *kind, unsigned inlet)
{
	unsigned by = 0;

	for (size_t r = 0; r < kind->row_count; r++)
		if (kind->row[r].fluid != ROW_NONE && kind->row[r].category > CATEGORY_LEAST &&
		    (kind->row[r].inlets >> inlet & 1))
			by |= kind->row[r].by;
	return by;
}

/* A device that is good for much, but not against the mechanism by which something comes here. */
static void trick_mechanism(struct making *making, const struct point_plan *point,
                            struct chain *chain)
{
	const struct rulebook *book = making->book;
	unsigned by = 0;
	uint64_t count = 0;

	for (unsigned inlet = 0; inlet < book->kind[point->kind].inlet_count; inlet++)
		by |= comes_by(&book->kind[point->kind], inlet);
	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];
		bool wrong = false;

		for (unsigned m = 0; m < MECHANISM_COUNT; m++)
			wrong |= (by >> m & 1) &&
			         type->good_for[m] < type->good_for[MECHANISM_COUNT - 1 - m];
		if (!type->device || !wrong || random_below(&making->trick, ++count) != 0)
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

bool trick_chain(struct making *making, const struct point_plan *point, struct chain *chain)
{
	if (making->wish->level < LEVEL_MOST)
		return true;
	switch (random_below(&making->trick, TRICKS_OF)) {
	case 0:
		return trick_row(making, point, chain, true);
	case 1:
		return trick_row(making, point, chain, false);
	case 2:
		trick_mechanism(making, point, chain);
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

static const struct item *other_branch(struct making *making, const struct item *inlet,
                                       const char *feed)
{
	const struct item *premises = making->survey->premises,
	                  *part = survey_part(making->survey, inlet), *found = NULL;
	uint64_t count = 0;

	for (size_t i = 0; i < item_children(premises, SCOPE_BRANCH); i++) {
		const struct item *branch = item_child(premises, SCOPE_BRANCH, i);

		if (survey_part(making->survey, branch) == part && strcmp(branch->ref, feed) != 0 &&
		    random_below(&making->trick, ++count) == 0)
			found = branch;
	}
	return found;
}

static bool trick_inlet(struct making *making, struct item *inlet)
{
	question_index fed_by = making->book->known.inlet_fed_by;
	const char *feed = fed_by == QUESTION_NONE ? NULL : item_text(inlet, fed_by);
	const struct item *other = feed ? other_branch(making, inlet, feed) : NULL;

	if (!other)
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
			    !trick_inlet(making, item_child(point->item, SCOPE_INLET, i)))
				return false;
	}
	return true;
}
