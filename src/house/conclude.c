/* From the outcomes of all completions to the word. */
#include "work.h"

#include <string.h>

/* -- the word --------------------------------------------------------------------------- */

enum seen { SEEN_ALL, SEEN_IN_PART, SEEN_NOT };

static enum seen seen_of(const struct item *item, question_index question)
{
	const char *text = item && question != QUESTION_NONE ? item_text(item, question) : NULL;

	if (!text)
		return SEEN_ALL;
	return strcmp(text, "no") == 0     ? SEEN_NOT
	       : strcmp(text, "part") == 0 ? SEEN_IN_PART
	                                   : SEEN_ALL;
}

static enum seen worse(enum seen a, enum seen b)
{
	return a > b ? a : b;
}

/** What was not seen of a room or a part was not seen of what is in it. */
static enum seen point_seen(const struct work *work)
{
	const struct known_questions *known = &work->book->known;
	enum seen seen = seen_of(work->point, known->point_seen);
	enum seen room = seen_of(item_above(work->point, SCOPE_ROOM), known->room_seen);
	enum seen part = seen_of(work->tree->part[work->part], known->part_seen);

	if (item_answer(work->point, known->point_seen))
		return seen; /* said of the point itself: that counts */
	return worse(room == SEEN_NOT ? room : SEEN_ALL, part == SEEN_NOT ? part : SEEN_ALL);
}

static enum verdict word_for(const struct work *work, enum seen seen)
{
	const struct outcomes *all = &work->outcomes;
	bool possible = false, certain = true, unproven = false;

	for (size_t i = outcomes_next(all, 0); i < OUTCOMES; i = outcomes_next(all, i + 1)) {
		struct outcome outcome = outcome_at(i);

		possible = possible || outcome.paper > 0 || outcome.fact > 0;
		certain = certain && outcome.is_short;
		unproven = unproven || outcome.proof > 0;
	}
	if (certain)
		return VERDICT_SHORT;
	if (seen == SEEN_NOT)
		return VERDICT_NOT_SEEN;
	if (possible) {
		if (work->asks.count > 0)
			return VERDICT_UNDECIDED;
		if (work->fluid_doubt)
			return VERDICT_SHORT;
		return work->presence_doubt ? VERDICT_NOT_SEEN : VERDICT_UNPROVEN;
	}
	if (seen == SEEN_IN_PART)
		return VERDICT_NOT_SEEN;
	return unproven ? VERDICT_UNPROVEN : VERDICT_PROTECTED;
}

/* -- the whole -------------------------------------------------------------------------- */

static void lower(struct range *range)
{
	range->least--;
	range->most--;
}

static void stretch(struct range *range, unsigned value)
{
	if (value < range->least)
		range->least = (uint8_t)value;
	if (value > range->most)
		range->most = (uint8_t)value;
}

static void finish_figures(struct work *work)
{
	const struct outcomes *all = &work->outcomes;
	struct assessment *out = work->out;

	for (size_t i = 0; i < out->path_count; i++) {
		lower(&out->path[i].on_paper);
		lower(&out->path[i].in_fact);
	}
	out->on_paper = out->in_fact = (struct range){CATEGORY_MOST, 0};
	for (size_t i = outcomes_next(all, 0); i < OUTCOMES; i = outcomes_next(all, i + 1)) {
		struct outcome outcome = outcome_at(i);

		stretch(&out->on_paper, outcome.paper);
		stretch(&out->in_fact, outcome.fact);
	}
}

static unsigned greater(unsigned a, unsigned b)
{
	return a > b ? a : b;
}

/** What is certainly short comes before what could be, more before less, in
 * fact before on paper. */
static unsigned rank(const struct path *path)
{
	unsigned certain = greater(path->on_paper.least, path->in_fact.least);
	unsigned possible = greater(path->on_paper.most, path->in_fact.most);

	return ((certain * 8 + possible) * 8 + path->in_fact.most) * 8 + path->needs.most;
}

static void find_worst(struct assessment *out)
{
	out->worst = out->path_count;
	for (size_t i = 0; i < out->path_count; i++)
		if (out->worst == out->path_count ||
		    rank(&out->path[i]) > rank(&out->path[out->worst]))
			out->worst = i;
}

/** 1 July 1999: the day the Regulations came into force (SI 1999/1148 reg. 1). */
static bool certainly_old(const struct work *work)
{
	question_index question = work->book->known.point_installed;
	const struct answer *installed =
	        question == QUESTION_NONE ? NULL : item_answer(work->point, question);

	return installed && !installed->settled && installed->high < date_day(1999, 7, 1);
}

/** First what can move a figure. */
static void list_asks(struct work *work)
{
	for (size_t i = 0; i < work->later.count; i++)
		work_add_ask(work, &work->asks, work->later.item[i]);
	work->out->ask = work->asks.item;
	work->out->ask_count = work->asks.count;
}

void work_conclude(struct work *work)
{
	struct assessment *out = work->out;
	enum seen seen = point_seen(work);

	finish_figures(work);
	find_worst(out);
	work_say_why_of_kind(work);
	work_note_effects_of_kind(work);
	out->due = work->due;
	out->verdict = word_for(work, seen);
	if (seen != SEEN_NOT)
		list_asks(work);
	out->lawful_old =
	        out->verdict == VERDICT_SHORT && out->in_fact.most == 0 && certainly_old(work);
	work_find_urgency(work);
}
