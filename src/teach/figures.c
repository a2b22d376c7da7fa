/* Of one point: whether what is fitted is enough, and how soon something must be done. docs/quiz.md has the tables. */
#include "make.h"

enum { SHORT_BY_MOST = CATEGORY_MOST - CATEGORY_LEAST };

static const char *const short_ids[SHORT_BY_MOST + 1] = {"enough", "1", "2", "3", "4"};
static const char *const short_texts[SHORT_BY_MOST + 1] = {"Enough", "Short by 1", "Short by 2",
                                                           "Short by 3", "Short by 4"};

static enum grade grade_of_shortfall(struct range right, unsigned said)
{
	if (said == 0 && right.most > 0)
		return GRADE_DANGEROUS;
	if (said == right.least && said == right.most)
		return GRADE_RIGHT;
	return said >= right.most ? GRADE_CAUTIOUS : GRADE_WRONG;
}

static enum grade grade_of_some(struct range right)
{
	if (right.least > 0)
		return right.least < right.most ? GRADE_RIGHT : GRADE_WRONG;
	return GRADE_CAUTIOUS;
}

/** What the undertaker decided is no row and gives no reason: it is said beforehand. */
static void show_decision(struct making *making, const struct assessment *of, struct task *task)
{
	const char **shown;

	if (of->fluid_count == 0 || of->fluid[0].fluid != FLUID_UNDERTAKER)
		return;
	shown = arena_take(making->arena, sizeof *shown);
	if (!shown)
		return;
	shown[0] = arena_print(making->arena, "The undertaker has decided: fluid category %d.",
	                       of->fluid[0].category.most);
	task->shown = shown;
	task->shown_count = shown[0] ? 1 : 0;
}

static void make_shortfall(struct making *making, const struct assessment *of, bool on_paper)
{
	enum family family = on_paper ? FAMILY_ON_PAPER : FAMILY_IN_FACT;
	struct range right = on_paper ? of->on_paper : of->in_fact;
	struct task task = making_begin(making, family, of->point);

	task.id = arena_print(making->arena, "%s/%s", of->point->ref, family_name(family));
	task.asks = on_paper ? "Is what is fitted here enough on paper?"
	                     : "Is it enough in fact, as it was found?";
	task.in_order = true;
	show_decision(making, of, &task);
	task.topic = making->book->kind[of->point->of].id;
	for (unsigned s = 0; s <= SHORT_BY_MOST; s++)
		making_choice(making, short_ids[s], short_texts[s], grade_of_shortfall(right, s));
	making_choice(making, "short", "Short, by how much cannot be said yet",
	              grade_of_some(right));
	making_choice(making, CANNOT_SAY, "Cannot be said yet",
	              right.least == 0 && right.most > 0 ? GRADE_RIGHT : GRADE_WRONG);
	reasons_of_shortfall(making, of, on_paper);
	making_keep(making, &task);
}

static enum grade grade_of_urgency(enum urgency right, enum urgency said)
{
	if (said == right)
		return GRADE_RIGHT;
	if (said > right)
		return GRADE_CAUTIOUS;
	return right >= URGENCY_DAYS ? GRADE_DANGEROUS : GRADE_WRONG;
}

static void make_urgency(struct making *making, const struct assessment *of)
{
	/* ORDER URGENCY */
	static const char *const texts[URGENCY_COUNT] = {
	        "Nothing is to be done", "Keep an eye on it (watch)", "At the next job",
	        "Within days", "Now, before leaving"};
	struct task task = making_begin(making, FAMILY_URGENCY, of->point);

	task.id = arena_print(making->arena, "%s/urgency", of->point->ref);
	task.asks = "How soon must something be done about it?";
	task.in_order = true;
	show_decision(making, of, &task);
	task.topic = making->book->kind[of->point->of].id;
	for (unsigned u = 0; u < URGENCY_COUNT; u++)
		making_choice(making, urgency_name((enum urgency)u), texts[u],
		              grade_of_urgency(of->urgency, (enum urgency)u));
	reasons_of_urgency(making, of);
	making_keep(making, &task);
}

void make_of_figures(struct making *making, const struct assessment *of)
{
	if (making_wants(making, FAMILY_ON_PAPER))
		make_shortfall(making, of, true);
	if (making_wants(making, FAMILY_IN_FACT))
		make_shortfall(making, of, false);
	/* of what is undecided the least urgent is what assess says: no answer to teach */
	if (making_wants(making, FAMILY_URGENCY) && of->verdict != VERDICT_UNDECIDED)
		make_urgency(making, of);
}
