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

static void row_stale(struct house_list *house, struct house_row *row)
{
	row->title = row->words = NULL;
	if (!row->judged)
		return;
	count_row(house, row, false);
	row->judged = false;
	row->in->unjudged++;
}

static void look_anew(struct verdicts *verdicts)
{
	verdicts->surveyed = false;
	verdicts->refused = (struct err){0};
}

void verdicts_all_stale(struct walk *walk)
{
	struct house_list *house = &walk->house;

	look_anew(&walk->verdicts);
	walk->verdicts.of = NULL;
	for (size_t i = 0; i < house->room_count; i++) {
		house->room[i]->head.title = NULL;
		for (size_t p = 0; p < house->room[i]->count; p++)
			row_stale(house, &house->room[i]->point[p]);
	}
}

void verdicts_stale(struct walk *walk, const struct item *point)
{
	struct house_row *row = house_row_of(&walk->house, point);

	walk->verdicts.of = NULL;
	if (row != NULL && row->form == ROW_POINT)
		row_stale(&walk->house, row);
}

void verdict_row_gone(struct house_list *house, const struct house_row *row)
{
	if (row->judged)
		count_row(house, row, false);
}

/* A house that can't be taken up (verdict.h: too many pipes for too many parts) is not tried again
 * for each of its points. */
static bool judge_ready(struct walk *walk)
{
	struct verdicts *verdicts = &walk->verdicts;

	if (!verdicts->surveyed && verdicts->refused.kind == ERR_NONE)
		verdicts->surveyed =
		        judge_survey(verdicts->judge, walk->survey, &verdicts->refused);
	if (!verdicts->surveyed)
		verdicts->err = verdicts->refused;
	if (verdicts->refused.kind == ERR_MEMORY) /* there may be some later */
		verdicts->refused = (struct err){0};
	return verdicts->surveyed;
}

/* The house is taken up without the draft, and where a branch starts at the point once more with
 * it; else what the draft says is seen at the point itself. */
const struct assessment *verdict_now(struct walk *walk, struct item *point)
{
	struct verdicts *verdicts = &walk->verdicts;
	bool ready, shaped;

	verdicts->err = (struct err){0};
	if (quiz_hides(walk, point)) {
		err_set(&verdicts->err, ERR_USAGE, "hidden until the tasks about it are answered");
		return NULL;
	}
	if (verdicts->of == point)
		return verdicts->ok ? &verdicts->now : NULL;
	ready = judge_ready(walk);
	verdicts->drafted = draft_put(walk);
	shaped = ready && draft_shapes(walk) && judge_feeds_others(verdicts->judge, point);
	if (shaped)
		look_anew(verdicts);
	verdicts->ok = ready && judge_ready(walk) &&
	               judge_point(verdicts->judge, point, &verdicts->now, &verdicts->err);
	if (verdicts->drafted)
		draft_take(walk);
	if (shaped)
		look_anew(verdicts);
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
	if (!judge_ready(walk) || !judge_point(verdicts->judge, row->item, &found, &verdicts->err))
		return;
	row->verdict = found.verdict;
	row->urgency = found.urgency;
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
	row->left = row_is_urgent(row) && item_children(row->item, SCOPE_ACTION) == 0;
	row->judged = true;
	row->in->unjudged--;
	count_row(&walk->house, row, true);
}

/* Some more of what was not looked at yet. */
static void judge_more(struct walk *walk, size_t most)
{
	struct house_list *house = &walk->house;

	for (size_t i = 0; i < house->room_count && house->tally.points < house->points; i++) {
		struct house_room *room = house->room[i];

		for (size_t p = 0; p < room->count && room->unjudged > 0 && most > 0; p++) {
			most -= room->point[p].judged ? 0 : 1;
			verdict_row(walk, &room->point[p]);
		}
		if (most == 0)
			return;
	}
}

/* So many verdicts that no key waits for more than some thousandths of a second. */
enum { ROWS_AT_ONCE = 250 };

const struct tally *verdict_tally(struct walk *walk)
{
	judge_more(walk, ROWS_AT_ONCE);
	return &walk->house.tally;
}

bool walk_think(struct walk *walk)
{
	if (walk->left || quiz_on(walk))
		return false;
	judge_more(walk, ROWS_AT_ONCE);
	return walk->house.tally.points < walk->house.points;
}
