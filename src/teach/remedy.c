/*
 * What would put it right, or whether nothing need be: each type of the book is put on the inlet of a copy of the survey, new and
 * well, in place of what stands there, and judged. docs/quiz.md has the rule.
 */
#include "make.h"

#include "tundish/base/random.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

enum {
	WRONG_SHOWN = 3,
	NEAREST = 6,       /* wrong ones are drawn among so many */
	NONE_RIGHT_OF = 5, /* one time in so many the one that closes is left out */
	TYPES_MOST = 64,   /* drawn among so many */
};

#define NONE_OF_THESE "none_of_these"
#define NOTHING_MORE  "nothing_more"

/* For certain. */
static bool is_short(const struct assessment *of)
{
	return of->on_paper.least > 0 || of->in_fact.least > 0;
}

static bool is_enough(const struct assessment *of)
{
	return of->on_paper.most == 0 && of->in_fact.most == 0;
}

/* A type on trial. */
struct candidate {
	const struct type *type;
	bool closes, fails; /* for certain; neither: it depends on what was not answered */
	bool short_in_fact; /* something could still be short in fact */
	size_t usual; /* its place among those usual for the kind; then by how many kinds it is usual for */
};

struct remedy {
	struct making *making;
	const struct kind *kind;
	unsigned inlet;
	struct item *point, *protection, *test; /* of the trial */
	struct candidate *candidate;
	size_t candidate_count;
};

/* -- putting it there ------------------------------------------------------------------- */

static bool take_out_all(struct making *making, struct item *inlet)
{
	struct item *protection;

	while ((protection = item_child(inlet, SCOPE_PROTECTION, 0)) != NULL) {
		struct change change = {.where = survey_where(&making->trial.survey, protection,
		                                              QUESTION_NONE, making->arena)};
		struct err err = {0};

		if (!change.where || !survey_apply(&making->trial.survey, &change, &err))
			return false;
	}
	return true;
}

static bool put_one_there(struct remedy *remedy, struct item *inlet)
{
	struct survey *survey = &remedy->making->trial.survey;
	const char *ref = survey_new_ref(survey, "new", remedy->making->arena);

	remedy->protection = ref ? survey_add(survey, inlet, SCOPE_PROTECTION, ref, NULL) : NULL;
	ref = survey_new_ref(survey, "new", remedy->making->arena);
	if (!remedy->protection || !ref)
		return false;
	remedy->test = survey_add(survey, remedy->protection, SCOPE_TEST, ref, NULL);
	return remedy->test && trial_take_up(remedy->making);
}

static bool prepare(struct remedy *remedy, const struct assessment *of, const struct path *worst)
{
	struct making *making = remedy->making;
	struct item *inlet = NULL, *one;

	if (!trial_clean(making))
		return false;
	making->trial.clean = false;
	remedy->point = survey_find(&making->trial.survey, of->point->ref, strlen(of->point->ref));
	for (size_t i = 0; remedy->point && (one = item_child(remedy->point, SCOPE_INLET, i)); i++)
		if (strcmp(one->ref, worst->inlet->ref) == 0)
			inlet = one;
	return inlet && take_out_all(making, inlet) && put_one_there(remedy, inlet);
}

/* -- trying ----------------------------------------------------------------------------- */

static size_t how_common(const struct remedy *remedy, uint16_t type)
{
	const struct rulebook *book = remedy->making->book;
	size_t kinds = 0;

	for (size_t i = 0; i < remedy->kind->usual_count; i++)
		if (remedy->kind->usual[i] == type)
			return i;
	for (size_t k = 0; k < book->kind_count; k++)
		for (size_t i = 0; i < book->kind[k].usual_count; i++)
			kinds += book->kind[k].usual[i] == type;
	return book->type_count + book->kind_count - kinds;
}

static void look(struct candidate *candidate, const struct assessment *of, unsigned inlet)
{
	candidate->closes = true;
	for (size_t i = 0; i < of->path_count; i++) {
		const struct path *path = &of->path[i];

		if (path->inlet_index != inlet)
			continue;
		if (path->on_paper.most > 0 || path->in_fact.most > 0)
			candidate->closes = false;
		if (path->on_paper.least > 0 || path->in_fact.least > 0)
			candidate->fails = true;
		if (path->in_fact.most > 0)
			candidate->short_in_fact = true;
	}
}

static bool try_type(struct remedy *remedy, uint16_t type, struct candidate *out)
{
	struct making *making = remedy->making;
	struct trial *trial = &making->trial;
	const struct fitting *fitting = fitting_of(making, &making->book->type[type]);
	struct assessment of;

	*out = (struct candidate){.type = &making->book->type[type],
	                          .usual = how_common(remedy, type)};
	if (!fitting || !fitting->accepted ||
	    !value_put(&trial->survey, remedy->protection, making->book->known.protection_type,
	               out->type->id) ||
	    !fitting_put(fitting, &trial->survey, remedy->protection, remedy->test) ||
	    !trial_judge(making, remedy->point, &of))
		return false;
	look(out, &of, remedy->inlet);
	return true;
}

/** An arrangement that is good for nothing is nothing: no answer. */
static bool is_something(const struct type *type)
{
	return type->device || type->good_for[BACK_PRESSURE] > CATEGORY_LEAST ||
	       type->good_for[BACK_SIPHONAGE] > CATEGORY_LEAST;
}

static int commonest_first(const void *a, const void *b)
{
	const struct candidate *x = a, *y = b;

	if (x->usual != y->usual)
		return x->usual < y->usual ? -1 : 1;
	return x->type < y->type ? -1 : x->type > y->type;
}

static bool try_all(struct remedy *remedy)
{
	const struct rulebook *book = remedy->making->book;

	remedy->candidate = arena_take(remedy->making->arena,
	                               (book->type_count + 1) * sizeof *remedy->candidate);
	if (!remedy->candidate)
		return false;
	for (uint16_t t = 0; t < book->type_count; t++)
		if (is_something(&book->type[t]) &&
		    try_type(remedy, t, &remedy->candidate[remedy->candidate_count]))
			remedy->candidate_count++;
	if (remedy->candidate_count > 0)
		qsort(remedy->candidate, remedy->candidate_count, sizeof *remedy->candidate,
		      commonest_first);
	return true;
}

/* -- choosing --------------------------------------------------------------------------- */

/* How readily one is drawn that closes: what must not be shut downstream comes last, since a trial does not see a float valve. */
static unsigned rank_of(const struct remedy *remedy, const struct candidate *candidate)
{
	if (candidate->type->shuts_downstream != QUESTION_NONE)
		return 2;
	return candidate->usual < remedy->kind->usual_count ? 0 : 1;
}

/** Among those usual for the kind, else among all. */
static const struct candidate *draw_closing(const struct remedy *remedy, struct random *random)
{
	const struct candidate *best[TYPES_MOST];
	size_t count = 0;
	unsigned least = UINT_MAX;

	for (size_t i = 0; i < remedy->candidate_count; i++) {
		const struct candidate *candidate = &remedy->candidate[i];
		unsigned rank = rank_of(remedy, candidate);

		if (!candidate->closes || rank > least)
			continue;
		if (rank < least)
			count = 0;
		least = rank;
		if (count < TYPES_MOST)
			best[count++] = candidate;
	}
	return count > 0 ? best[random_below(random, count)] : NULL;
}

static size_t draw_wrong(const struct remedy *remedy, struct random *random,
                         const struct candidate **list)
{
	size_t count = 0;

	for (size_t i = 0; i < remedy->candidate_count && count < NEAREST; i++)
		if (remedy->candidate[i].fails)
			list[count++] = &remedy->candidate[i];
	if (count > 0)
		random_shuffle(random, list, count, sizeof(struct candidate *));
	return count;
}

/** What is short on paper alone hurts nobody today: wrong, not dangerous. */
static void add_wrong(struct making *making, const struct candidate *candidate)
{
	making_choice(making, candidate->type->id, candidate->type->name,
	              candidate->short_in_fact ? GRADE_DANGEROUS : GRADE_WRONG);
}

static void add_last(struct making *making, const char *id, const char *text, enum grade grade)
{
	making_choice(making, id, text, grade);
	making->choice[making->choice_count - 1].last = true;
}

static void choose(struct remedy *remedy, const struct assessment *of, const struct path *worst,
                   struct random *random)
{
	struct making *making = remedy->making;
	bool enough = is_enough(of);
	const struct candidate *wrong[NEAREST], *closing = draw_closing(remedy, random);
	size_t count = draw_wrong(remedy, random, wrong), shown = WRONG_SHOWN;

	if (count > WRONG_SHOWN && random_chance(random, 1, NONE_RIGHT_OF))
		closing = NULL;
	if (closing)
		making_choice(making, closing->type->id, closing->type->name,
		              enough ? GRADE_CAUTIOUS : GRADE_RIGHT);
	else
		shown++;
	shown = shown < count ? shown : count;
	for (size_t i = 0; i < shown; i++)
		add_wrong(making, wrong[i]);
	add_last(making, NOTHING_MORE, "Nothing: what is there is enough",
	         enough                 ? GRADE_RIGHT
	         : of->in_fact.most > 0 ? GRADE_DANGEROUS
	                                : GRADE_WRONG);
	add_last(making, NONE_OF_THESE, "None of these",
	         closing || enough ? GRADE_CAUTIOUS : GRADE_RIGHT);
	if (enough) {
		reasons_of_shortfall(making, of, true);
		return;
	}
	reasons_of_fluid(making, of, worst->fluid, true);
	if (closing)
		making_reason_table(making, closing->type);
	for (size_t i = 0; !closing && i < shown; i++)
		making_reason_table(making, wrong[i]->type);
}

/* -- the task --------------------------------------------------------------------------- */

void make_remedy(struct making *making, const struct assessment *of)
{
	const struct path *worst = of->worst < of->path_count ? &of->path[of->worst] : NULL;
	const struct kind *kind = &making->book->kind[of->point->of];
	struct remedy remedy = {.making = making, .kind = kind};
	struct task task;
	struct random random;

	if (!worst || !worst->inlet || !(is_short(of) || is_enough(of)))
		return;
	task = making_begin(making, FAMILY_REMEDY, of->point);
	remedy.inlet = worst->inlet_index;
	task.id = arena_print(making->arena, "%s/remedy/%s", of->point->ref, worst->inlet->ref);
	task.asks = arena_print(
	        making->arena,
	        "What would put it right on the %s inlet? Each is by itself, new and put "
	        "in well, in place of what is there now.",
	        kind->inlet[worst->inlet_index].name);
	task.topic = kind->id;
	if (!task.id || !prepare(&remedy, of, worst) || !try_all(&remedy))
		return;
	random_seed_for(&random, making->seed, task.id);
	choose(&remedy, of, worst, &random);
	if (making->choice_count > 2)
		making_keep(making, &task);
}
