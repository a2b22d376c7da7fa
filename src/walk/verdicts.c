/*
 * The judge, what it said, and how a draft gets before it: put into the survey, judged, taken out
 * again, so that nobody else ever sees it.
 */
#include "inside.h"

#include <string.h>

void verdicts_all_stale(struct walk *walk)
{
	walk->verdicts.surveyed = false;
	walk->verdicts.of = NULL;
	for (size_t i = 0; i < walk->house.count; i++)
		walk->house.row[i].judged = false;
}

void verdicts_stale(struct walk *walk, const struct item *point)
{
	walk->verdicts.of = NULL;
	for (size_t i = 0; i < walk->house.count; i++)
		if (walk->house.row[i].item == point)
			walk->house.row[i].judged = false;
}

/* The draft's answer in place of what was there; what it takes to put that back. */
struct put {
	bool done;
	bool had;
	struct answer was;
	uint16_t of;
};

static struct put draft_put(struct walk *walk)
{
	struct draft *draft = &walk->draft;
	struct put put = {0};
	struct answer *was;

	if (draft->item == NULL)
		return put;
	was = item_answer(draft->item, draft->answer.question);
	put.had = was != NULL;
	if (was != NULL)
		put.was = *was;
	put.of = draft->item->of;
	put.done = survey_put(walk->survey, draft->item, &draft->answer);
	return put;
}

/* A new answer stands last: forgetting it is counting one less. */
static void draft_take(struct walk *walk, const struct put *put)
{
	struct draft *draft = &walk->draft;

	if (!put->done)
		return;
	if (put->had)
		*item_answer(draft->item, draft->answer.question) = put->was;
	else
		draft->item->answer_count--;
	draft->item->of = put->of;
}

static bool judge_ready(struct walk *walk)
{
	struct verdicts *verdicts = &walk->verdicts;

	if (!verdicts->surveyed)
		verdicts->surveyed = judge_survey(verdicts->judge, walk->survey);
	if (!verdicts->surveyed)
		err_set(&verdicts->err, ERR_MEMORY, "there is no memory to judge the house");
	return verdicts->surveyed;
}

/* The kind of a point and what feeds it shape the house: then the judge has to take it up anew, and
 * again afterwards. */
static bool draft_shapes(const struct walk *walk)
{
	enum form form;

	if (walk->draft.item == NULL)
		return false;
	form = walk->book->question[walk->draft.answer.question].form;
	return form == FORM_KIND || form == FORM_FEED;
}

const struct assessment *verdict_now(struct walk *walk, struct item *point)
{
	struct verdicts *verdicts = &walk->verdicts;
	struct put put;

	if (verdicts->of == point)
		return verdicts->ok ? &verdicts->now : NULL;
	verdicts->err = (struct err){0};
	put = draft_put(walk);
	if (draft_shapes(walk))
		verdicts->surveyed = false;
	verdicts->ok = judge_ready(walk) &&
	               judge_point(verdicts->judge, point, &verdicts->now, &verdicts->err);
	draft_take(walk, &put);
	if (draft_shapes(walk))
		verdicts->surveyed = false;
	verdicts->of = point;
	verdicts->drafted = put.done;
	return verdicts->ok ? &verdicts->now : NULL;
}

/* As answered: drafts stay out of the list. */
void verdict_row(struct walk *walk, struct house_row *row)
{
	struct verdicts *verdicts = &walk->verdicts;
	struct assessment found;

	if (row->form != ROW_POINT || row->judged)
		return;
	verdicts->of = NULL;
	verdicts->err = (struct err){0};
	row->judged = true;
	row->verdict = VERDICT_UNDECIDED;
	row->urgency = URGENCY_NONE;
	row->category = (struct range){CATEGORY_LEAST, CATEGORY_MOST};
	if (!judge_ready(walk) || !judge_point(verdicts->judge, row->item, &found, &verdicts->err))
		return;
	row->verdict = found.verdict;
	row->urgency = found.urgency;
	row->category = found.category;
	row->on_paper = found.on_paper;
	row->in_fact = found.in_fact;
}

void draft_none(struct walk *walk)
{
	if (walk->draft.item == NULL)
		return;
	walk->draft.item = NULL;
	walk->verdicts.of = NULL;
}
