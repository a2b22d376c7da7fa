/*
 * Which answer of the record was written down wrongly. One of the point's answers is tried with other values until the point
 * stands otherwise; how it then stands is shown, and of the answers shown only this one, changed alone, can give that.
 */
#include "make.h"

#include "tundish/base/random.h"

#include <string.h>

enum {
	ANSWERS_MOST = 24, /* of one point, tried */
	STANDS_MOST = 128, /* ways in which it could stand otherwise */
	SHOWN_MOST = 5,
	SHOWN_LEAST = 3,
};

/* How a point stands, as far as it is shown. */
struct stand {
	enum verdict verdict;
	enum urgency urgency;
	struct range on_paper, in_fact;
};

/* An answer that is tried. */
struct tried {
	struct item *item; /* of the trial */
	question_index question;
	bool moves; /* some other value of it makes the point stand otherwise */
};

/* A way in which it could stand, and by which answers. */
struct outcome {
	struct stand stand;
	uint32_t by; /* bit: index of the answer */
};

struct spoiling {
	struct making *making;
	const struct assessment *of; /* as it stands */
	struct stand now;
	struct item *point; /* of the trial */
	struct tried tried[ANSWERS_MOST];
	size_t tried_count;
	struct outcome outcome[STANDS_MOST];
	size_t outcome_count;
	bool failed; /* something could not be judged: then nothing is certain */
};

static struct stand stand_of(const struct assessment *of)
{
	return (struct stand){of->verdict, of->urgency, of->on_paper, of->in_fact};
}

static bool same_range(struct range a, struct range b)
{
	return a.least == b.least && a.most == b.most;
}

static bool same_stand(const struct stand *a, const struct stand *b)
{
	return a->verdict == b->verdict && a->urgency == b->urgency &&
	       same_range(a->on_paper, b->on_paper) && same_range(a->in_fact, b->in_fact);
}

/* -- the answers ------------------------------------------------------------------------ */

/** What code itself looks at is no reading of the point: whether it was seen, how many there are, the decision. */
static bool can_be_spoiled(const struct rulebook *book, const struct answer *answer)
{
	const struct known_questions *known = &book->known;
	const struct question *question = &book->question[answer->question];

	if (answer->settled || question->cell_count < 2 || (answer->may & (answer->may - 1)))
		return false;
	if (answer->question == known->point_seen || answer->question == known->point_count ||
	    answer->question == known->says_category || answer->question == known->says_date)
		return false;
	return form_has_cells(question->form);
}

static void list_answers(struct spoiling *spoiling, struct item *item)
{
	for (size_t i = 0; i < item->answer_count; i++)
		if (spoiling->tried_count < ANSWERS_MOST &&
		    can_be_spoiled(spoiling->making->book, &item->answer[i]))
			spoiling->tried[spoiling->tried_count++] =
			        (struct tried){item, item->answer[i].question, false};
	for (size_t i = 0; i < item->child_count; i++)
		if (item->child[i]->scope == SCOPE_INLET ||
		    item->child[i]->scope == SCOPE_PROTECTION)
			list_answers(spoiling, item->child[i]);
}

/* -- trying ----------------------------------------------------------------------------- */

static void note(struct spoiling *spoiling, size_t which, const struct stand *stand)
{
	struct tried *tried = &spoiling->tried[which];

	if (same_stand(stand, &spoiling->now))
		return;
	tried->moves = true;
	for (size_t i = 0; i < spoiling->outcome_count; i++)
		if (same_stand(&spoiling->outcome[i].stand, stand)) {
			spoiling->outcome[i].by |= UINT32_C(1) << which;
			return;
		}
	if (spoiling->outcome_count == STANDS_MOST)
		spoiling->failed = true;
	else
		spoiling->outcome[spoiling->outcome_count++] =
		        (struct outcome){*stand, UINT32_C(1) << which};
}

/** Another value of one answer, by itself; @p out as it then stands. */
static bool try_cell(struct spoiling *spoiling, const struct tried *tried, unsigned cell,
                     struct assessment *out)
{
	struct survey *survey = &spoiling->making->trial.survey;
	const struct question *question = &spoiling->making->book->question[tried->question];
	struct answer was = *item_answer(tried->item, tried->question), answer = was;
	bool judged;

	answer.may = (cells)1 << cell;
	if (question->form == FORM_NUMBER || question->form == FORM_DATE) {
		struct stretch stretch;

		if (!cell_stretch(spoiling->making->book, question, cell, &stretch))
			return false;
		answer.low = answer.high = (double)stretch.low;
	}
	judged = survey_put(survey, tried->item, &answer) &&
	         trial_judge(spoiling->making, spoiling->point, out);
	if (!survey_put(survey, tried->item, &was) || !judged)
		spoiling->failed = true;
	return judged;
}

static void try_answer(struct spoiling *spoiling, size_t which)
{
	const struct tried *tried = &spoiling->tried[which];
	const struct question *question = &spoiling->making->book->question[tried->question];
	cells now = item_answer(tried->item, tried->question)->may;

	for (unsigned c = 0; c < question->cell_count; c++) {
		struct assessment of;

		if (!((now >> c) & 1) && try_cell(spoiling, tried, c, &of)) {
			struct stand stand = stand_of(&of);

			note(spoiling, which, &stand);
		}
	}
}

/* -- choosing --------------------------------------------------------------------------- */

/** Answers that can't give this outcome: those that move something are better company. */
static size_t list_company(const struct spoiling *spoiling, const struct outcome *outcome,
                           struct random *random, size_t *list)
{
	size_t count = 0;

	for (int moves = 1; moves >= 0; moves--) {
		size_t from = count;

		for (size_t i = 0; i < spoiling->tried_count; i++)
			if (!((outcome->by >> i) & 1) && spoiling->tried[i].moves == (moves == 1))
				list[count++] = i;
		if (count > from)
			random_shuffle(random, list + from, count - from, sizeof *list);
	}
	return count;
}

/** One outcome by chance, of those that can be told and have company enough; outcome_count: none. */
static size_t draw_outcome(const struct spoiling *spoiling, struct random *random)
{
	size_t fit[STANDS_MOST], count = 0;

	for (size_t i = 0; i < spoiling->outcome_count; i++) {
		const struct outcome *outcome = &spoiling->outcome[i];
		size_t company = spoiling->tried_count - (size_t)__builtin_popcount(outcome->by);

		if (outcome->stand.verdict != VERDICT_UNDECIDED && company + 1 >= SHOWN_LEAST)
			fit[count++] = i;
	}
	return count == 0 ? spoiling->outcome_count : fit[random_below(random, count)];
}

static size_t draw_answer(const struct outcome *outcome, struct random *random)
{
	size_t list[ANSWERS_MOST], count = 0;

	for (size_t i = 0; i < ANSWERS_MOST; i++)
		if ((outcome->by >> i) & 1)
			list[count++] = i;
	return list[random_below(random, count)];
}

/* -- the task --------------------------------------------------------------------------- */

static const char *answer_words(struct spoiling *spoiling, const struct tried *tried)
{
	const struct rulebook *book = spoiling->making->book;
	const char *line = said_line(spoiling->making->arena, &book->question[tried->question],
	                             item_text(tried->item, tried->question));
	const struct item *inlet = item_above(tried->item, SCOPE_INLET);

	if (!line || !inlet)
		return line;
	if (tried->item->of == INDEX_NONE)
		return arena_print(spoiling->making->arena, "The %s inlet. %s", inlet->ref, line);
	return arena_print(spoiling->making->arena, "%s on the %s inlet. %s",
	                   book->type[tried->item->of].name, inlet->ref, line);
}

static void add_answer(struct spoiling *spoiling, size_t which, enum grade grade)
{
	const struct tried *tried = &spoiling->tried[which];
	struct making *making = spoiling->making;
	const char *id =
	        survey_where(&making->trial.survey, tried->item, tried->question, making->arena);
	const char *text = answer_words(spoiling, tried);

	if (id && text)
		making_choice(making, id, text, grade);
}

static const char *short_words(struct making *making, const char *where, struct range by)
{
	if (by.most == 0)
		return arena_print(making->arena, "%s: enough", where);
	if (by.least == by.most)
		return arena_print(making->arena, "%s: short by %d", where, by.most);
	if (by.least == 0)
		return arena_print(making->arena, "%s: enough, or short by up to %d", where,
		                   by.most);
	return arena_print(making->arena, "%s: short by %d to %d", where, by.least, by.most);
}

static void show_stand(struct making *making, const struct stand *stand, struct task *task)
{
	enum { LINES = 4 };
	const char **shown = arena_take(making->arena, LINES * sizeof *shown);

	if (!shown)
		return;
	shown[0] = arena_print(making->arena, "Verdict: %s", verdict_words(stand->verdict));
	shown[1] = short_words(making, "On paper", stand->on_paper);
	shown[2] = short_words(making, "In fact", stand->in_fact);
	shown[3] = arena_print(making->arena, "How soon: %s", urgency_words(stand->urgency));
	task->shown = shown;
	task->shown_count = shown[0] && shown[1] && shown[2] && shown[3] ? LINES : 0;
}

static bool names(const struct assessment *of, const struct row *row)
{
	for (size_t i = 0; i < of->because_count; i++)
		if (of->because[i].row == row)
			return true;
	return false;
}

/** Rows of one that the other does not name, those that are certain first. */
static void reasons_of_one(struct making *making, const struct assessment *one,
                           const struct assessment *other)
{
	for (int certain = 1; certain >= 0; certain--)
		for (size_t i = 0; i < one->because_count; i++)
			if (one->because[i].certain == (certain == 1) &&
			    !names(other, one->because[i].row))
				making_reason(making, one->because[i].row);
}

/** The rows that then count and now do not; or else those that now do and then do not. */
static void reasons_of_change(struct making *making, const struct assessment *now,
                              const struct assessment *then)
{
	reasons_of_one(making, then, now);
	if (making->reason_count == 0)
		reasons_of_one(making, now, then);
}

/** Which value it was: the first that gives this outcome. */
static bool try_again(struct spoiling *spoiling, size_t which, const struct stand *stand,
                      struct assessment *out)
{
	const struct tried *tried = &spoiling->tried[which];
	const struct question *question = &spoiling->making->book->question[tried->question];
	cells now = item_answer(tried->item, tried->question)->may;

	for (unsigned c = 0; c < question->cell_count; c++) {
		struct stand found;

		if (((now >> c) & 1) || !try_cell(spoiling, tried, c, out))
			continue;
		found = stand_of(out);
		if (same_stand(&found, stand))
			return true;
	}
	return false;
}

static void make_of_outcome(struct spoiling *spoiling, const struct outcome *outcome,
                            struct random *random, struct task *task)
{
	struct making *making = spoiling->making;
	size_t company[ANSWERS_MOST], right = draw_answer(outcome, random);
	size_t count = list_company(spoiling, outcome, random, company);
	struct assessment then;

	add_answer(spoiling, right, GRADE_RIGHT);
	for (size_t i = 0; i < count && making->choice_count < SHOWN_MOST; i++)
		add_answer(spoiling, company[i], GRADE_WRONG);
	show_stand(making, &outcome->stand, task);
	if (!try_again(spoiling, right, &outcome->stand, &then))
		return;
	reasons_of_change(making, spoiling->of, &then);
	if (making->choice_count >= SHOWN_LEAST && task->shown_count > 0)
		making_keep(making, task);
}

void make_spoiled(struct making *making, const struct assessment *of)
{
	struct task task = making_begin(making, FAMILY_SPOILED, of->point);
	struct spoiling spoiling = {.making = making, .of = of, .now = stand_of(of)};
	struct random random;
	size_t drawn;

	task.id = arena_print(making->arena, "%s/spoiled", of->point->ref);
	/* what is in doubt already is no record to find a fault in, and slow to try */
	if (of->verdict == VERDICT_UNDECIDED)
		return;
	if (!task.id || !trial_clean(making))
		return;
	task.asks =
	        "One of these answers was written down wrongly. Written down right, it would stand "
	        "as follows. Which one is it?";
	task.topic = making->book->kind[of->point->of].id;
	spoiling.point = survey_find(&making->trial.survey, of->point->ref, strlen(of->point->ref));
	if (!spoiling.point)
		return;
	list_answers(&spoiling, spoiling.point);
	for (size_t i = 0; i < spoiling.tried_count && !spoiling.failed; i++)
		try_answer(&spoiling, i);
	random_seed_for(&random, making->seed, task.id);
	drawn = spoiling.failed ? spoiling.outcome_count : draw_outcome(&spoiling, &random);
	if (drawn < spoiling.outcome_count)
		make_of_outcome(&spoiling, &spoiling.outcome[drawn], &random, &task);
}
