/* Answers that make a condition hold: narrow what may be said, one test after the other. */
#include "making.h"

#include <string.h>

enum { STEPS_MOST = 4000 };

cells *allowed_all(struct making *making)
{
	cells *may =
	        arena_take(&making->scratch, (making->book->question_count + 1) * sizeof(*may));

	for (size_t q = 0; may && q < making->book->question_count; q++)
		may[q] = question_all(&making->book->question[q]);
	return may;
}

static bool is_listed(const question_index *list, size_t count, question_index question)
{
	for (size_t i = 0; i < count; i++)
		if (list[i] == question)
			return true;
	return false;
}

/* Whether anybody asks it here: what nobody asks makes no row hold. Branches are laid later, by what feeds what. */
static bool is_asked(const struct solving *solving, question_index question)
{
	const struct rulebook *book = solving->making->book;
	enum scope scope = book->question[question].scope;

	if (scope == SCOPE_BRANCH || scope == SCOPE_OUTCOME)
		return false;
	if (!is_own_question(book, question))
		return true;
	if (solving->kind != INDEX_NONE &&
	    is_listed(book->kind[solving->kind].question, book->kind[solving->kind].question_count,
	              question))
		return true;
	return solving->type != INDEX_NONE &&
	       is_listed(book->type[solving->type].question,
	                 book->type[solving->type].question_count, question);
}

/* Each way is tried until one leads through all that is still to come; a way that leads nowhere is gone back. */
static bool reach(struct solving *solving, const struct goal *goal);

static bool reach_test(struct solving *solving, const struct goal *goal)
{
	const struct condition *test = goal->condition;
	cells *may = &solving->may[test->question], before = *may;

	if (!is_asked(solving, test->question))
		return false;
	*may &= goal->want ? test->holds : ~test->holds;
	if (*may && reach(solving, goal->next))
		return true;
	*may = before;
	return false;
}

static size_t children_of(const struct condition *condition, const struct condition **child)
{
	size_t count = 0;

	for (const struct condition *c = condition->child; c && count < GOALS_MOST; c = c->next)
		child[count++] = c;
	return count;
}

static bool reach_each(struct solving *solving, const struct goal *goal)
{
	const struct condition *child[GOALS_MOST];
	struct goal each[GOALS_MOST];
	size_t count = children_of(goal->condition, child);

	for (size_t i = 0; i < count; i++)
		each[i] = (struct goal){child[i], goal->want,
		                        i + 1 < count ? &each[i + 1] : goal->next};
	return reach(solving, count ? &each[0] : goal->next);
}

static bool reach_one(struct solving *solving, const struct goal *goal)
{
	const struct condition *child[GOALS_MOST];
	size_t count = children_of(goal->condition, child);

	random_shuffle(solving->random, child, count, sizeof(child[0]));
	for (size_t i = 0; i < count; i++) {
		const struct goal one = {child[i], goal->want, goal->next};

		if (reach(solving, &one))
			return true;
	}
	return false;
}

static bool reach(struct solving *solving, const struct goal *goal)
{
	if (!goal)
		return true;
	if (solving->steps++ >= STEPS_MOST)
		return false;
	if (!goal->condition)
		return goal->want && reach(solving, goal->next);
	switch (goal->condition->form) {
	case CONDITION_TEST:
		return reach_test(solving, goal);
	case CONDITION_ALL:
		return goal->want ? reach_each(solving, goal) : reach_one(solving, goal);
	case CONDITION_ANY:
		return goal->want ? reach_one(solving, goal) : reach_each(solving, goal);
	case CONDITION_NOT:
		break;
	}
	return reach(solving, &(struct goal){goal->condition->child, !goal->want, goal->next});
}

bool solve(struct solving *solving, struct goal *goal, size_t count)
{
	for (size_t i = 0; i < count; i++)
		goal[i].next = i + 1 < count ? &goal[i + 1] : NULL;
	solving->steps = 0;
	return reach(solving, count ? goal : NULL);
}

size_t goals_of_kind_row(const struct kind *kind, const struct row *row, bool alone,
                         struct goal *goal)
{
	size_t count = 0;

	goal[count++] = (struct goal){row->when, true, NULL};
	for (size_t r = 0; r < kind->row_count && count < GOALS_MOST; r++) {
		const struct row *other = &kind->row[r];
		bool replaces = other->replaces != ROW_NONE && &kind->row[other->replaces] == row;

		if (other == row || other->fluid != row->fluid || row->fluid == ROW_NONE ||
		    other->otherwise)
			continue;
		if (row->otherwise || replaces || (alone && other->category > row->category))
			goal[count++] = (struct goal){other->when, false, NULL};
	}
	return count;
}
