#include "oracle_inside.h"

/* The judge: paths, the word, how soon, over all completions. */

/* -- one completion -------------------------------------------------------------------------- */

static struct oracle_path *path_of(struct oracle *o, unsigned fluid, enum mechanism mechanism,
                                   const struct goal *goal, bool *first)
{
	struct oracle_verdict *out = o->out;
	struct oracle_path *path;

	*first = false;
	for (size_t i = 0; i < out->path_count; i++) {
		path = &out->path[i];
		if (path->fluid == fluid && path->inlet == goal->inlet &&
		    path->mechanism == mechanism && path->to_part == goal->to_part &&
		    strcmp(path->to, goal->to) == 0)
			return path;
	}
	assert(out->path_count < ORACLE_PATHS_MOST);
	path = &out->path[out->path_count++];
	*path = (struct oracle_path){.fluid = fluid,
	                             .inlet = goal->inlet,
	                             .mechanism = mechanism,
	                             .to = goal->to,
	                             .to_part = goal->to_part};
	*first = true;
	return path;
}

static void note_path(struct oracle *o, unsigned fluid, enum mechanism m, const struct goal *goal,
                      uint8_t needs)
{
	bool first;
	struct oracle_path *path =
	        path_of(o, oracle_decided(o) ? FLUID_UNDERTAKER : fluid, m, goal, &first);

	widen(&path->needs, needs, first);
	widen(&path->good_for, goal->worth.is[GOOD_FOR][m], first);
	widen(&path->accepted, goal->worth.is[ACCEPTED][m], first);
	widen(&path->found, goal->worth.is[FOUND][m], first);
	widen(&path->on_paper, short_by(needs, goal->worth.is[ACCEPTED][m]), first);
	widen(&path->in_fact, short_by(needs, goal->worth.is[FOUND][m]), first);
}

/* The highest need of the paths that are short in fact, short on paper, and of all. */
struct highest {
	uint8_t in_fact, on_paper, of_all;
};

static void judge_path(struct outcome *outcome, struct highest *highest, const struct goal *goal,
                       enum mechanism m, uint8_t needs)
{
	uint8_t on_paper = short_by(needs, goal->worth.is[ACCEPTED][m]);
	uint8_t in_fact = short_by(needs, goal->worth.is[FOUND][m]);

	outcome->on_paper = greater(outcome->on_paper, on_paper);
	outcome->in_fact = greater(outcome->in_fact, in_fact);
	if (in_fact > 0 || (goal->some_told && needs > goal->told.is[ACCEPTED][m]))
		outcome->something_short = true;
	outcome->unproven = greater(outcome->unproven, short_by(needs, goal->worth.is[PROVEN][m]));
	highest->of_all = greater(highest->of_all, needs);
	if (on_paper > 0)
		highest->on_paper = greater(highest->on_paper, needs);
	if (in_fact > 0)
		highest->in_fact = greater(highest->in_fact, needs);
}

static void judge_goals(struct oracle *o, struct outcome *outcome, struct highest *highest,
                        const struct goals *goals)
{
	for (unsigned f = 0; f < oracle_fluids(o); f++)
		for (size_t g = 0; g < goals->count; g++)
			for (enum mechanism m = 0; m < MECHANISM_COUNT; m++) {
				const struct goal *goal = &goals->goal[g];
				uint8_t needs = outcome->needs.of[f][goal->inlet][m];

				note_path(o, f, m, goal, needs);
				judge_path(outcome, highest, goal, m, needs);
			}
}

static struct outcome outcome_now(struct oracle *o)
{
	struct outcome outcome = {.needs = oracle_needs(o), .category = CATEGORY_LEAST};
	struct highest highest = {0, 0, CATEGORY_LEAST};
	struct goals goals;

	for (size_t i = 0; i < sizeof outcome.needs; i++)
		outcome.category = greater(outcome.category, (&outcome.needs.of[0][0][0])[i]);
	oracle_goals(o, &goals);
	judge_goals(o, &outcome, &highest, &goals);
	outcome.needs_to_show = highest.in_fact    ? highest.in_fact
	                        : highest.on_paper ? highest.on_paper
	                                           : highest.of_all;
	return outcome;
}

static void note_fluids(struct oracle *o, const struct needs *needs, bool first)
{
	o->out->fluid_count = oracle_fluids(o);
	for (unsigned f = 0; f < o->out->fluid_count; f++) {
		struct oracle_fluid *fluid = &o->out->fluid[f];
		uint8_t category = CATEGORY_LEAST;

		fluid->fluid = oracle_decided(o) ? FLUID_UNDERTAKER : f;
		for (unsigned i = 0; i < o->kind->inlet_count; i++)
			for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
				category = greater(category, needs->of[f][i][m]);
				if (needs->of[f][i][m] == CATEGORY_LEAST)
					continue;
				fluid->by |= (uint8_t)(1 << m);
				fluid->inlets |= (uint8_t)(1 << i);
			}
		widen(&fluid->category, category, first);
	}
}

/* -- the word -------------------------------------------------------------------------------- */

static bool said(const struct item *item, question_index question, const char *word)
{
	const char *text = item ? item_text(item, question) : NULL;

	return text && strcmp(text, word) == 0;
}

static bool not_seen(const struct oracle *o)
{
	const struct known_questions *known = &o->book->known;

	if (item_answer(o->point, known->point_seen))
		return said(o->point, known->point_seen, "no");
	return said(item_above(o->point, SCOPE_ROOM), known->room_seen, "no") ||
	       said(survey_part(o->survey, o->point), known->part_seen, "no");
}

static enum verdict word(const struct oracle *o, bool always_short, bool ever_short,
                         bool ever_unproven, const struct doubt *doubt)
{
	if (always_short)
		return VERDICT_SHORT;
	if (not_seen(o))
		return VERDICT_NOT_SEEN;
	if (ever_short)
		return doubt->unanswered_moves      ? VERDICT_UNDECIDED
		       : doubt->settled_moves_fluid ? VERDICT_SHORT
		       : doubt->cannot_tell         ? VERDICT_NOT_SEEN
		                                    : VERDICT_UNPROVEN;
	if (said(o->point, o->book->known.point_seen, "part"))
		return VERDICT_NOT_SEEN;
	return ever_unproven ? VERDICT_UNPROVEN : VERDICT_PROTECTED;
}

/* -- how soon -------------------------------------------------------------------------------- */

/* What the urgency table looks at in one completion. */
struct outcomes {
	uint8_t needs, on_paper, in_fact;
	bool open, unproven, due;
	enum verdict verdict;
};

static unsigned outcome_cell(const struct oracle *o, question_index index,
                             const struct outcomes *outcomes)
{
	const struct known_questions *known = &o->book->known;
	const struct question *question = &o->book->question[index];
	double number = 0;

	if (index == known->outcome_open)
		return outcomes->open;
	if (index == known->outcome_unproven)
		return outcomes->unproven;
	if (index == known->outcome_due)
		return outcomes->due;
	if (index == known->outcome_verdict) {
		for (unsigned i = 0; i < question->option_count; i++)
			if (strcmp(question->option[i].id, verdict_name(outcomes->verdict)) == 0)
				return i;
		assert(!"a verdict that the table does not know");
	}
	number = index == known->outcome_needs      ? outcomes->needs
	         : index == known->outcome_on_paper ? outcomes->on_paper
	                                            : outcomes->in_fact;
	return oracle_first_cell(oracle_cells_between(question, number, number));
}

static bool outcome_holds(struct oracle *o, const struct condition *condition,
                          const struct outcomes *outcomes)
{
	const struct condition *child;

	if (!condition)
		return true;
	switch (condition->form) {
	case CONDITION_ALL:
		for (child = condition->child; child; child = child->next)
			if (!outcome_holds(o, child, outcomes))
				return false;
		return true;
	case CONDITION_ANY:
		for (child = condition->child; child; child = child->next)
			if (outcome_holds(o, child, outcomes))
				return true;
		return false;
	case CONDITION_NOT:
		return !outcome_holds(o, condition->child, outcomes);
	case CONDITION_TEST:
		break;
	}
	if (o->book->question[condition->question].scope == SCOPE_OUTCOME)
		return condition->holds >> outcome_cell(o, condition->question, outcomes) & 1;
	return oracle_holds(o, condition, o->point);
}

static enum urgency table_says(struct oracle *o, const struct outcomes *outcomes)
{
	for (size_t u = 0; u < o->book->urgency_count; u++)
		if (!o->book->urgency[u].raises &&
		    outcome_holds(o, o->book->urgency[u].row.when, outcomes))
			return o->book->urgency[u].row.urgency;
	return URGENCY_NONE;
}

/* Whether a row holds in some completion of the table's own questions, in all, and whether one that was not answered can
 * still decide it. */
struct raising {
	bool ever, always, open;
};

static bool unanswered_moves(struct oracle *table, const struct row *row,
                             const struct outcomes *outcomes, bool now)
{
	for (size_t i = 0; i < table->unknown_count; i++) {
		struct unknown *u = &table->unknown[i];
		unsigned was = u->now;
		bool moves = false;

		for (unsigned cell = 0; u->unanswered && cell < CELLS_MOST; cell++) {
			if (!(u->may >> cell & 1))
				continue;
			u->now = cell;
			moves |= outcome_holds(table, row->when, outcomes) != now;
		}
		u->now = was;
		if (moves)
			return true;
	}
	return false;
}

static bool is_raised(struct oracle *table, const struct outcomes *outcomes, bool most)
{
	for (size_t u = 0; u < table->book->urgency_count; u++) {
		const struct urgency_row *row = &table->book->urgency[u];
		struct raising raising = {false, true, false};

		if (!row->raises)
			continue;
		oracle_start(table, NULL);
		do {
			bool holds = outcome_holds(table, row->row.when, outcomes);

			raising.ever |= holds;
			raising.always &= holds;
			raising.open |= unanswered_moves(table, &row->row, outcomes, holds);
		} while (oracle_next(table, NULL));
		if (raising.always || (most && raising.ever && !raising.open))
			return true;
	}
	return false;
}

/* The table for one outcome: its own questions are taken by themselves, whatever else they decide. */
static void judge_outcome(struct oracle *table, const struct came *came, bool most,
                          enum urgency *found, bool *any)
{
	struct outcomes outcomes = {
	        .on_paper = came->outcome[CAME_ON_PAPER],
	        .in_fact = came->outcome[CAME_IN_FACT],
	        .unproven = came->outcome[CAME_UNPROVEN] > 0,
	        .needs = came->outcome[CAME_NEEDS],
	        .open = table->open,
	        .due = table->due,
	        .verdict = table->out->verdict,
	};
	enum urgency level = most ? URGENCY_NONE : URGENCY_NOW;

	oracle_start(table, NULL);
	do {
		enum urgency urgency = table_says(table, &outcomes);

		if (most ? urgency > level : urgency < level)
			level = urgency;
	} while (oracle_next(table, NULL));
	if (level > URGENCY_NONE && level < URGENCY_NOW && is_raised(table, &outcomes, most))
		level++;
	if (table->at_least > level)
		level = table->at_least;
	if (!*any || (most ? level > *found : level < *found))
		*found = level;
	*any = true;
}

static void judge_urgency(const struct oracle *o, const struct all_that_came *all)
{
	bool most = o->out->verdict != VERDICT_UNDECIDED && o->out->verdict != VERDICT_UNPROVEN;
	enum urgency found = URGENCY_NONE;
	struct oracle *table = calloc(1, sizeof *table);
	bool any = false;

	assert(table);
	*table = *o;
	table->unknown_count = 0;
	for (size_t u = 0; u < o->book->urgency_count; u++)
		oracle_add_answers(table, o->book->urgency[u].row.when, o->point);
	for (size_t i = 0; i < all->count; i++)
		judge_outcome(table, &all->item[i], most, &found, &any);
	free(table);
	o->out->urgency = found;
}

/* -- the judge ------------------------------------------------------------------------------- */

static void add_all(struct oracle *o)
{
	for (size_t r = 0; r < o->kind->row_count; r++)
		oracle_add_answers(o, o->kind->row[r].when, o->point);
	oracle_add_ways(o);
}

/* What is kept over all completions. */
struct over_all {
	bool always_short, ever_short, ever_unproven;
	struct all_that_came came;
};

static void note_completion(struct oracle *o, struct over_all *over_all, bool first)
{
	struct outcome outcome = outcome_now(o);
	struct oracle_verdict *out = o->out;

	note_fluids(o, &outcome.needs, first);
	oracle_note_outcome(o, &over_all->came, &outcome);
	widen(&out->category, outcome.category, first);
	widen(&out->on_paper, outcome.on_paper, first);
	widen(&out->in_fact, outcome.in_fact, first);
	over_all->always_short &= outcome.something_short;
	over_all->ever_short |= outcome.on_paper > 0 || outcome.in_fact > 0;
	over_all->ever_unproven |= outcome.unproven > 0;
}

/* @return false: too many completions. */
static bool judge(struct oracle *o, size_t most, struct over_all *over_all)
{
	struct oracle_verdict *out = o->out;
	struct doubt doubt;

	out->completions = oracle_completions(o, NULL, most);
	if (out->completions > most)
		return false;
	oracle_start(o, NULL);
	for (bool first = true, more = true; more; first = false) {
		note_completion(o, over_all, first);
		more = oracle_next(o, NULL);
	}
	for (size_t f = 0; f < out->fluid_count; f++)
		o->inlets_that_count |= out->fluid[f].inlets;
	if (!oracle_find_doubt(o, most, &over_all->came, &doubt))
		return false;
	out->verdict = word(o, over_all->always_short, over_all->ever_short,
	                    over_all->ever_unproven, &doubt);
	judge_urgency(o, &over_all->came);
	if (not_seen(o))
		out->ask_count = 0; /* nobody is there to look */
	return true;
}

void oracle_judge(const struct survey *survey, const struct item *point, size_t completions_most,
                  struct oracle_verdict *out)
{
	struct oracle *o = calloc(1, sizeof *o);
	struct over_all over_all = {.always_short = true};

	assert(o && point->of != INDEX_NONE);
	*out = (struct oracle_verdict){0};
	*o = (struct oracle){.survey = survey,
	                     .book = survey->book,
	                     .point = point,
	                     .kind = &survey->book->kind[point->of],
	                     .out = out};
	add_all(o);
	out->too_many = !judge(o, completions_most, &over_all);
	free(over_all.came.item);
	free(o);
}
