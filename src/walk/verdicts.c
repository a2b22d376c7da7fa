/*
 * The judge, and what it said.
 */
#include "inside.h"

#include <string.h>

static void count_row(struct house_list *house, const struct house_row *row, bool in)
{
	struct tally *tally = &house->tally;
	size_t one = in ? 1 : (size_t)-1;

	tally->count[row->verdict] += one;
	tally->points += one;
	tally->left += row->left ? one : 0;
}

static void row_stale(struct house_list *house, size_t at)
{
	struct house_row *row = &house->row[at];

	row->title = row->words = NULL;
	if (!row->judged)
		return;
	count_row(house, row, false);
	row->judged = false;
	if (at < house->judged)
		house->judged = at;
}

void verdicts_all_stale(struct walk *walk)
{
	walk->verdicts.surveyed = false;
	walk->verdicts.of = NULL;
	for (size_t i = 0; i < walk->house.count; i++)
		row_stale(&walk->house, i);
}

void verdicts_stale(struct walk *walk, const struct item *point)
{
	walk->verdicts.of = NULL;
	for (size_t i = 0; i < walk->house.count; i++)
		if (walk->house.row[i].item == point)
			row_stale(&walk->house, i);
}

static bool judge_ready(struct walk *walk)
{
	struct verdicts *verdicts = &walk->verdicts;

	if (!verdicts->surveyed)
		verdicts->surveyed = judge_survey(verdicts->judge, walk->survey, &verdicts->err);
	return verdicts->surveyed;
}

const struct assessment *verdict_now(struct walk *walk, struct item *point)
{
	struct verdicts *verdicts = &walk->verdicts;

	verdicts->err = (struct err){0};
	if (quiz_hides(walk, point)) {
		err_set(&verdicts->err, ERR_USAGE, "hidden until the tasks about it are answered");
		return NULL;
	}
	if (verdicts->of == point)
		return verdicts->ok ? &verdicts->now : NULL;
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

static void judge_row(struct walk *walk, struct house_row *row)
{
	struct verdicts *verdicts = &walk->verdicts;
	struct assessment found;

	verdicts->of = NULL;
	verdicts->err = (struct err){0};
	row->verdict = VERDICT_UNDECIDED;
	row->urgency = URGENCY_NONE;
	row->asks = false;
	row->category = (struct range){CATEGORY_LEAST, CATEGORY_MOST};
	if (!judge_ready(walk) || !judge_point(verdicts->judge, row->item, &found, &verdicts->err))
		return;
	row->verdict = found.verdict;
	row->urgency = found.urgency;
	row->category = found.category;
	row->on_paper = found.on_paper;
	row->in_fact = found.in_fact;
	row->asks = found.ask_count > 0;
}

/* As answered: drafts stay out of the list. */
void verdict_row(struct walk *walk, struct house_row *row)
{
	if (row->form != ROW_POINT || row->judged)
		return;
	if (quiz_hides(walk, row->item)) {
		row->verdict = VERDICT_COUNT;
		return;
	}
	judge_row(walk, row);
	row->left = row->urgency == URGENCY_NOW && item_children(row->item, SCOPE_ACTION) == 0;
	row->judged = true;
	count_row(&walk->house, row, true);
}

const struct tally *verdict_tally(struct walk *walk)
{
	struct house_list *house = &walk->house;

	for (; house->judged < house->count; house->judged++)
		verdict_row(walk, &house->row[house->judged]);
	return &house->tally;
}
