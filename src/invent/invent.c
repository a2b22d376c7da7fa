#include "tundish/invent/invent.h"

#include "making.h"

#include "tundish/base/text.h"

#include <string.h>

/* -- what is wished for ---------------------------------------------------------------------- */

static bool wish_is_good(struct making *making)
{
	const struct invention *wish = making->wish;
	const struct weights *weights = making->weights;

	if (wish->level < LEVEL_LEAST || wish->level > LEVEL_MOST)
		err_set(making->err, ERR_USAGE, "a level is %d to %d, not %u", LEVEL_LEAST,
		        LEVEL_MOST, wish->level);
	else if (wish->rooms > INVENT_ROOMS_MOST)
		err_set(making->err, ERR_USAGE, "%u rooms are more than the %d that can be",
		        wish->rooms, INVENT_ROOMS_MOST);
	else if (wish->points > INVENT_POINTS_MOST)
		err_set(making->err, ERR_USAGE,
		        "%u outlets and appliances are more than the %d that can be", wish->points,
		        INVENT_POINTS_MOST);
	else if (!weights || weights->site_count == 0 || weights->room_count == 0)
		err_set(making->err, ERR_USAGE,
		        "the rulebook has no sites and rooms under `invent:` to make a house of");
	else
		return true;
	return false;
}

static const struct site *named_site(struct making *making, const char *id)
{
	const struct weights *weights = making->weights;
	const char **word = arena_take(&making->scratch, (weights->site_count + 1) * sizeof(*word)),
	           *nearest;

	for (size_t s = 0; s < weights->site_count; s++) {
		if (strcmp(weights->site[s].id, id) == 0)
			return &weights->site[s];
		if (word)
			word[s] = weights->site[s].id;
	}
	nearest = word ? text_nearest(id, word, weights->site_count) : NULL;
	err_set(making->err, ERR_USAGE, "%.60s is no site of the rulebook%s%s%s", id,
	        nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
	return NULL;
}

static const struct site *choose_site(struct making *making, const struct aim *aim)
{
	const struct weights *weights = making->weights;
	unsigned *weight =
	        arena_take(&making->scratch, (weights->site_count + 1) * sizeof(*weight));
	size_t drawn;

	if (!weight) {
		making_no_memory(making);
		return NULL;
	}
	if (making->wish->site)
		return named_site(making, making->wish->site);
	aims_weigh_sites(making, aim, weight);
	drawn = random_weighted(&making->house, weight, weights->site_count);
	return &weights->site[drawn < weights->site_count ? drawn : 0];
}

/* -- what rows look at ----------------------------------------------------------------------- */

static void note_tested(bool *tested, const struct condition *condition)
{
	if (!condition)
		return;
	if (condition->form == CONDITION_TEST)
		tested[condition->question] = true;
	for (const struct condition *child = condition->child; child; child = child->next)
		note_tested(tested, child);
}

static bool find_tested(struct making *making)
{
	const struct rulebook *book = making->book;

	making->tested = arena_take(&making->scratch, book->question_count + 1);
	if (!making->tested)
		return making_no_memory(making);
	for (size_t k = 0; k < book->kind_count; k++)
		for (size_t r = 0; r < book->kind[k].row_count; r++)
			note_tested(making->tested, book->kind[k].row[r].when);
	for (size_t t = 0; t < book->type_count; t++) {
		for (size_t r = 0; r < book->type[t].row_count; r++)
			note_tested(making->tested, book->type[t].row[r].when);
		for (size_t s = 0; s < book->type[t].series_count; s++)
			note_tested(making->tested, book->type[t].series[s].row.when);
	}
	for (size_t u = 0; u < book->urgency_count; u++)
		note_tested(making->tested, book->urgency[u].row.when);
	return true;
}

/* -- the whole ------------------------------------------------------------------------------- */

static bool make(struct making *making)
{
	struct aim *aim;
	const struct site *site;

	if (!wish_is_good(making) || !find_tested(making) || !aims_find(making, &aim))
		return false;
	site = choose_site(making, aim);
	if (!site)
		return false;
	making->said->site = site->id;
	return plan_parts(making, site) && aims_place(making, aim) && put_up_parts(making) &&
	       plan_rooms(making) && plan_points(making) && put_up(making) && lay_pipes(making) &&
	       trick_feeds(making) && lay_fog(making);
}

bool invent_survey(const struct rulebook *book, const struct invention *wish, struct survey *out,
                   struct invented *said, struct err *err)
{
	struct making making = {.book = book,
	                        .weights = book->weights,
	                        .wish = wish,
	                        .said = said,
	                        .survey = out,
	                        .arena = &out->arena,
	                        .err = err};
	bool made;

	memset(said, 0, sizeof(*said));
	if (!survey_init(out, book))
		return making_no_memory(&making);
	arena_init(&making.scratch);
	random_seed_for(&making.house, wish->seed, "house");
	random_seed_for(&making.truth, wish->seed, "truth");
	random_seed_for(&making.trick, wish->seed, "trick");
	random_seed_for(&making.fog, wish->seed, "fog");
	made = make(&making);
	/* where nothing else was said it is this; and what could not be weighed may have gone unseen */
	if ((!made && err->kind == ERR_NONE) || making.scratch.failed || out->arena.failed)
		made = making_no_memory(&making);
	arena_finish(&making.scratch);
	return made;
}
