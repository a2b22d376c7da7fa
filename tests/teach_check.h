/**
 * @file
 * For tests of the quiz only: every grade of every task of a quiz, against the assessment and the tables of docs/quiz.md.
 */
#ifndef TUNDISH_TESTS_TEACH_CHECK_H
#define TUNDISH_TESTS_TEACH_CHECK_H

#include "teach_tables.h"
#include "tundish/teach/quiz.h"

#include <check.h>

static struct teach_table tables[FAMILY_COUNT];
static size_t met[FAMILY_COUNT]
                 [TABLE_ROWS_MOST]; /* how often each row of a table was the right one */
static size_t points, tasks, choices, points_judged, asked_figures, without;

static void tables_begin(void)
{
	for (unsigned f = FAMILY_CATEGORY; f <= FAMILY_URGENCY; f++)
		teach_table_read(&tables[f], (enum family)f);
	memset(met, 0, sizeof met);
	points = tasks = choices = points_judged = asked_figures = without = 0;
}

/* -- the right row of a table, from the assessment ---------------------------------------- */

static const struct fluid_verdict *fluid_named(const struct assessment *of,
                                               const struct rulebook *book, const char *id)
{
	const struct kind *kind = &book->kind[of->point->of];

	for (size_t i = 0; i < of->fluid_count; i++)
		if (of->fluid[i].fluid < kind->fluid_count &&
		    strcmp(kind->fluid[of->fluid[i].fluid].id, id) == 0)
			return &of->fluid[i];
	ck_abort_msg("a task about fluid %s, which is not assessed", id);
	return NULL;
}

static size_t row_of_range(struct range range, unsigned lowest)
{
	if (range.least == range.most)
		return range.least - lowest;
	return 5 + (range.most - lowest) - 1;
}

static size_t row_of_shortfall(struct range by)
{
	if (by.least > 0 && by.least < by.most)
		return 9 + by.most - 2;
	return row_of_range(by, 0);
}

static size_t right_row(const struct task *task, const struct assessment *of,
                        const struct rulebook *book)
{
	const char *last = strrchr(task->id, '/') + 1;
	static const size_t of_mechanisms[] = {3, 1, 0, 2};

	switch ((int)task->family) {
	case FAMILY_CATEGORY:
		return row_of_range(fluid_named(of, book, last)->category, 1);
	case FAMILY_MECHANISM:
		return of_mechanisms[fluid_named(of, book, last)->by];
	case FAMILY_ON_PAPER:
		return row_of_shortfall(of->on_paper);
	case FAMILY_IN_FACT:
		return row_of_shortfall(of->in_fact);
	default:
		ck_assert(of->verdict != VERDICT_UNDECIDED);
		return of->urgency;
	}
}

static const char *const columns[FAMILY_COUNT][TABLE_COLUMNS_MOST] = {
        [FAMILY_CATEGORY] = {"no",          "2", "3",                         "4",    "5",  "cannot_say"},
        [FAMILY_MECHANISM] = {"back_siphonage",             "back_pressure", "both", "no"},
        [FAMILY_ON_PAPER] = {"enough",      "1", "2",                         "3",    "4", "short", "cannot_say"},
        [FAMILY_IN_FACT] = {"enough", "1",    "2",                        "3",                           "4",  "short", "cannot_say"},
        [FAMILY_URGENCY] = {"none",          "watch",      "next_job",                     "days", "now"                        },
};

/* Whether a row of that id is certain for the point. */
static bool certain(const struct assessment *of, const char *id)
{
	for (size_t i = 0; i < of->because_count; i++)
		if (of->because[i].certain && strcmp(of->because[i].row->id, id) == 0)
			return true;
	return false;
}

/* -- one task ------------------------------------------------------------------------------- */

static void check_by_table(const struct task *task, const struct assessment *of,
                           const struct rulebook *book)
{
	const struct teach_table *table = &tables[task->family];
	size_t row = right_row(task, of, book);

	ck_assert_msg(row < table->rows, "%s: no such row", task->id);
	met[task->family][row]++;
	for (size_t i = 1; task->family <= FAMILY_MECHANISM && i < task->reason_count; i++)
		ck_assert_msg(certain(of, task->reason[i - 1].id) ||
		                      !certain(of, task->reason[i].id),
		              "%s: a reason that is not certain comes first", task->id);
	ck_assert_msg(task->choice_count == table->columns, "%s: %zu choices", task->id,
	              task->choice_count);
	for (size_t c = 0; c < table->columns; c++) {
		enum grade grade = task_grade(task, columns[task->family][c]);

		choices++;
		ck_assert_msg(grade == table->cell[row][c], "%s: %s is %s, the page says %s",
		              task->id, columns[task->family][c], grade_name(grade),
		              grade_name(table->cell[row][c]));
	}
}

static void check_whole(const struct task *task)
{
	size_t right = 0;

	ck_assert(task->asks && task->asks[0] && task->id && task->id[0]);
	ck_assert_msg(task->reason_count > 0, "%s: no reason", task->id);
	for (size_t i = 0; i < task->reason_count; i++)
		ck_assert_msg(task->reason[i].says && task->reason[i].source && task->reason[i].id,
		              "%s: half a reason", task->id);
	for (size_t i = 0; i < task->choice_count; i++) {
		ck_assert(task->choice[i].text && task->choice[i].text[0]);
		right += task->choice[i].grade == GRADE_RIGHT;
		for (size_t j = 0; j < i; j++)
			ck_assert_msg(strcmp(task->choice[i].id, task->choice[j].id) != 0,
			              "%s: two choices %s", task->id, task->choice[i].id);
	}
	ck_assert_msg(task->choice_count == 0 || right == 1, "%s: %zu right", task->id, right);
	ck_assert(task_grade(task, "no such answer") == GRADE_NONE);
}

/* Whether assess names a row of the kind about that fluid, of those that bring it or of all. */
static bool has_reason(const struct assessment *of, const struct rulebook *book, unsigned fluid,
                       unsigned category)
{
	const struct kind *kind = &book->kind[of->point->of];

	for (size_t i = 0; i < of->because_count; i++) {
		const struct row *row = of->because[i].row;

		if (!of->because[i].protection && row >= kind->row &&
		    row < kind->row + kind->row_count && row->fluid == (int)fluid &&
		    row->category >= category)
			return true;
	}
	return false;
}

/* What must be asked of a point that can be judged, as far as assess has a reason. */
static void check_all_there(struct judge *judge, const struct quiz *quiz, const struct item *item)
{
	const struct rulebook *book = quiz->survey->book;
	struct assessment of;
	struct err err = {0};
	size_t fluids = 0, mechanisms = 0, asked[FAMILY_COUNT] = {0};

	for (size_t i = 0; i < item->child_count; i++)
		check_all_there(judge, quiz, item->child[i]);
	if (item->scope != SCOPE_POINT || item->of == INDEX_NONE ||
	    !judge_point(judge, item, &of, &err))
		return;
	for (size_t i = 0; i < of.fluid_count; i++) {
		unsigned fluid = of.fluid[i].fluid;

		fluids += has_reason(&of, book, fluid, 1);
		mechanisms += has_reason(&of, book, fluid, of.fluid[i].category.most > 1 ? 2 : 1);
		without += fluid != FLUID_UNDERTAKER && !has_reason(&of, book, fluid, 1);
	}
	for (size_t i = 0; i < quiz->task_count; i++)
		if (quiz->task[i].point == item)
			asked[quiz->task[i].family]++;
	ck_assert_uint_eq(asked[FAMILY_CATEGORY], fluids);
	ck_assert_uint_eq(asked[FAMILY_MECHANISM], mechanisms);
	points_judged++;
	asked_figures += asked[FAMILY_ON_PAPER];
	if (of.verdict == VERDICT_UNDECIDED)
		ck_assert_uint_eq(asked[FAMILY_URGENCY], 0);
}

/* Short for certain or enough for certain; and only then is nothing more needed. */
static void check_remedy_of(const struct task *task, const struct assessment *of)
{
	bool enough = of->on_paper.most == 0 && of->in_fact.most == 0;
	enum grade nothing = task_grade(task, "nothing_more");

	ck_assert_msg(enough || of->on_paper.least > 0 || of->in_fact.least > 0,
	              "%s: neither short nor enough for certain", task->id);
	ck_assert_msg(nothing == (enough                 ? GRADE_RIGHT
	                          : of->in_fact.most > 0 ? GRADE_DANGEROUS
	                                                 : GRADE_WRONG),
	              "%s: nothing more is %s", task->id, grade_name(nothing));
}

static void check_quiz(struct judge *judge, const struct quiz *quiz, const struct rulebook *book)
{
	const struct item *point = NULL;
	struct assessment of;
	struct err err = {0};

	for (size_t i = 0; i < quiz->task_count; i++) {
		const struct task *task = &quiz->task[i];

		tasks++;
		check_whole(task);
		if (task->point && task->point != point) {
			point = task->point;
			points++;
			ck_assert(judge_point(judge, point, &of, &err));
		}
		if (task->family == FAMILY_SPOILED)
			ck_assert_msg(of.verdict != VERDICT_UNDECIDED, "%s: undecided", task->id);
		if (task->family == FAMILY_REMEDY)
			check_remedy_of(task, &of);
		if (task->family <= FAMILY_URGENCY)
			check_by_table(task, &of, book);
	}
}

/* Of each table, each row was the right one somewhere. */
static void check_all_rows_met(void)
{
	for (unsigned f = FAMILY_CATEGORY; f <= FAMILY_URGENCY; f++)
		for (size_t r = 0; r < tables[f].rows; r++)
			ck_assert_msg(met[f][r] > 0, "%s: row %zu of its table was never right",
			              family_name((enum family)f), r);
}

#endif
