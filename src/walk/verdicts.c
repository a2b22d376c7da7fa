/*
 * The judge, and what it said.
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

static bool judge_ready(struct walk *walk)
{
	struct verdicts *verdicts = &walk->verdicts;

	if (!verdicts->surveyed)
		verdicts->surveyed = judge_survey(verdicts->judge, walk->survey);
	if (!verdicts->surveyed)
		err_set(&verdicts->err, ERR_MEMORY, "there is no memory to judge the house");
	return verdicts->surveyed;
}

const struct assessment *verdict_now(struct walk *walk, struct item *point)
{
	struct verdicts *verdicts = &walk->verdicts;

	if (verdicts->of == point)
		return verdicts->ok ? &verdicts->now : NULL;
	verdicts->err = (struct err){0};
	verdicts->drafted = draft_put(walk);
	if (draft_shapes(walk))
		verdicts->surveyed = false;
	verdicts->ok = judge_ready(walk) &&
	               judge_point(verdicts->judge, point, &verdicts->now, &verdicts->err);
	if (verdicts->drafted)
		draft_take(walk);
	if (draft_shapes(walk))
		verdicts->surveyed = false;
	verdicts->of = point;
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
