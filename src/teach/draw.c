/* Which tasks of a survey are asked, and in which order: by the seed alone. */
#include "draw.h"

#include "tundish/base/random.h"

#include <stdlib.h>
#include <string.h>

enum {
	CANDIDATES_A_TASK = 3, /* so that tasks come from more points than would do */
	OF_NO_POINT = (1 << FAMILY_TYPE) | (1 << FAMILY_TEST) | (1 << FAMILY_GAP) |
	              (1 << FAMILY_OWN), /* families that look at no point */
};

/* -- the points ------------------------------------------------------------------------- */

static const struct item *point_named(const struct drawing *drawing, const char *ref)
{
	const struct item *item = survey_find(drawing->making.survey, ref, strlen(ref));

	return item && item->scope == SCOPE_POINT ? item : NULL;
}

static bool check_point(const struct drawing *drawing, const char *ref, struct err *err)
{
	if (point_named(drawing, ref))
		return true;
	err_set(err, ERR_USAGE, "`%.60s` is no outlet or appliance of the survey", ref);
	return false;
}

static const char *own_point(const struct quiz_plan *plan, size_t own)
{
	return plan->own_point ? plan->own_point[own] : NULL;
}

static bool check_points(const struct drawing *drawing, struct err *err)
{
	const struct quiz_plan *plan = drawing->plan;

	for (size_t i = 0; i < plan->point_count; i++)
		if (!check_point(drawing, plan->point[i], err))
			return false;
	for (size_t i = 0; i < plan->own_count; i++)
		if (own_point(plan, i) && !check_point(drawing, own_point(plan, i), err))
			return false;
	return true;
}

static bool planned(const struct quiz_plan *plan, const struct item *point)
{
	for (size_t i = 0; i < plan->point_count; i++)
		if (strcmp(plan->point[i], point->ref) == 0)
			return true;
	return plan->point_count == 0;
}

static void add_spot(struct drawing *drawing, const struct item *point)
{
	struct spot *grown;

	if (point->of == INDEX_NONE || !planned(drawing->plan, point))
		return;
	grown = arena_grow(drawing->making.arena, drawing->spot, drawing->spot_count,
	                   &drawing->spot_room, sizeof *grown);
	if (!grown)
		return;
	drawing->spot = grown;
	grown[drawing->spot_count] = (struct spot){.point = point,
	                                           .place = drawing->spot_count,
	                                           .wanted = spot_wanted(drawing, point)};
	drawing->spot_count++;
}

static int wanted_first(const void *a, const void *b)
{
	const struct spot *x = a, *y = b;

	if (x->wanted != y->wanted)
		return y->wanted - x->wanted;
	return x->from < y->from ? -1 : x->from > y->from;
}

/** Those with what is wanted first, and else by chance. */
static void find_spots(struct drawing *drawing)
{
	const struct item *premises = drawing->making.survey->premises;
	struct random random;

	for (size_t r = 0; r < premises->child_count; r++)
		for (size_t p = 0; p < premises->child[r]->child_count; p++)
			if (premises->child[r]->child[p]->scope == SCOPE_POINT)
				add_spot(drawing, premises->child[r]->child[p]);
	if (drawing->spot_count == 0)
		return;
	random_seed_for(&random, drawing->plan->seed, "points");
	random_shuffle(&random, drawing->spot, drawing->spot_count, sizeof *drawing->spot);
	for (size_t i = 0; i < drawing->spot_count; i++)
		drawing->spot[i].from = i;
	qsort(drawing->spot, drawing->spot_count, sizeof *drawing->spot, wanted_first);
}

/* -- making candidates ------------------------------------------------------------------ */

static void meet_types(struct drawing *drawing, const struct item *item)
{
	if (item->scope == SCOPE_PROTECTION && item->of != INDEX_NONE)
		drawing->met[item->of] = true;
	for (size_t i = 0; i < item->child_count; i++)
		meet_types(drawing, item->child[i]);
}

/** A zone's device belongs to no point. */
static void meet_types_of_branches(struct drawing *drawing)
{
	const struct item *premises = drawing->making.survey->premises;

	for (size_t i = 0; drawing->plan->point_count == 0 && i < premises->child_count; i++)
		if (premises->child[i]->scope == SCOPE_BRANCH)
			meet_types(drawing, premises->child[i]);
}

static bool make_of_point(struct drawing *drawing, const struct item *point, struct err *err)
{
	struct making *making = &drawing->making;
	struct err doubt = {0};
	struct assessment of;

	meet_types(drawing, point);
	if ((making->families & ~(unsigned)OF_NO_POINT) == 0)
		return true;
	if (!judge_point(making->judge, point, &of, &doubt)) {
		if (doubt.kind == ERR_MEMORY)
			*err = doubt;
		return doubt.kind != ERR_MEMORY;
	}
	make_of_fluids(making, &of);
	make_of_figures(making, &of);
	if (making_wants(making, FAMILY_REMEDY))
		make_remedy(making, &of);
	if (making_wants(making, FAMILY_SPOILED))
		make_spoiled(making, &of);
	return true;
}

/** How many tasks are asked for, but the trainer's own. */
static size_t tasks_asked_for(const struct quiz_plan *plan)
{
	if (plan->count == 0 || plan->count > TASKS_MOST)
		return TASKS_MOST;
	return plan->count > plan->own_count ? plan->count - plan->own_count : 0;
}

static size_t wanted_of(const struct drawing *drawing, const struct spot *spot)
{
	size_t count = 0;

	for (size_t i = spot->from; i < spot->until; i++)
		count += teaches_wanted(drawing, &drawing->making.task[i]);
	return count;
}

/** Points that may teach what is wanted are gone through until there is enough that does. */
static bool make_candidates(struct drawing *drawing, struct err *err)
{
	size_t asked = tasks_asked_for(drawing->plan), wanted = 0;
	size_t enough =
	        asked > TASKS_MOST / CANDIDATES_A_TASK ? TASKS_MOST : asked * CANDIDATES_A_TASK;

	meet_types_of_branches(drawing);
	for (size_t i = 0; i < drawing->spot_count && drawing->making.count < TASKS_MOST; i++) {
		struct spot *spot = &drawing->spot[i];

		if (drawing->making.count >= enough &&
		    !((spot->wanted || drawing->how_soon) && wanted < asked))
			break;
		spot->from = drawing->making.count;
		if (!make_of_point(drawing, spot->point, err))
			return false;
		spot->until = drawing->making.count;
		wanted += wanted_of(drawing, spot);
	}
	for (size_t t = 0; t < drawing->making.book->type_count; t++)
		if (drawing->met[t] || drawing->type[t])
			make_of_type(&drawing->making, &drawing->making.book->type[t]);
	return true;
}

/* -- drawing ---------------------------------------------------------------------------- */

/* A candidate. */
struct drawn {
	const struct task *task;
	size_t place; /* of its point in the survey; SIZE_MAX: of none */
	size_t made;  /* when: of one point in the order of the job */
	bool wanted;
};

static int in_order_of_asking(const void *a, const void *b)
{
	const struct drawn *x = a, *y = b;

	if (x->place != y->place)
		return x->place < y->place ? -1 : 1;
	return x->made < y->made ? -1 : x->made > y->made;
}

static struct drawn *list_candidates(const struct drawing *drawing)
{
	const struct making *making = &drawing->making;
	struct drawn *list = arena_take(making->arena, (making->count + 1) * sizeof *list);

	if (!list)
		return NULL;
	for (size_t i = 0; i < making->count; i++)
		list[i] = (struct drawn){&making->task[i], SIZE_MAX, i,
		                         teaches_wanted(drawing, &making->task[i])};
	for (size_t s = 0; s < drawing->spot_count; s++)
		for (size_t i = drawing->spot[s].from; i < drawing->spot[s].until; i++)
			list[i].place = drawing->spot[s].place;
	return list;
}

/** Put @p count of them first: those that teach what is wanted, then any, by chance. */
static void draw(const struct drawing *drawing, struct drawn *list, size_t count)
{
	size_t all = drawing->making.count, n = 0;
	struct random random;

	random_seed_for(&random, drawing->plan->seed, "tasks");
	if (all > 0)
		random_shuffle(&random, list, all, sizeof *list);
	for (size_t i = 0; i < all && n < count; i++) {
		struct drawn one = list[i];

		if (!one.wanted)
			continue;
		memmove(list + n + 1, list + n, (i - n) * sizeof *list);
		list[n++] = one;
	}
}

static void shuffle_choices(const struct drawing *drawing, struct task *task)
{
	struct random random;
	size_t count = 0;

	if (task->in_order)
		return;
	for (size_t i = 0; i < task->choice_count; i++) { /* those that stay last, last */
		struct task_choice one = task->choice[i];

		if (one.last)
			continue;
		memmove(task->choice + count + 1, task->choice + count, (i - count) * sizeof one);
		task->choice[count++] = one;
	}
	random_seed_for(&random, drawing->plan->seed, task->id);
	if (count > 0)
		random_shuffle(&random, task->choice, count, sizeof *task->choice);
}

static bool copy_own(struct drawing *drawing, struct task *to)
{
	for (size_t i = 0; i < drawing->plan->own_count; i++) {
		const struct task *own = &drawing->plan->own[i];
		struct task_choice *choice =
		        arena_take(drawing->making.arena, (own->choice_count + 1) * sizeof *choice);

		if (!choice)
			return false;
		if (own->choice_count > 0)
			memcpy(choice, own->choice, own->choice_count * sizeof *choice);
		to[i] = *own;
		to[i].choice = choice;
		if (own_point(drawing->plan, i))
			to[i].point = point_named(drawing, own_point(drawing->plan, i));
	}
	return true;
}

static bool fill_quiz(struct drawing *drawing, struct quiz *out, struct err *err)
{
	size_t own = drawing->plan->own_count, count = tasks_asked_for(drawing->plan);
	struct drawn *list = list_candidates(drawing);

	if (count > drawing->making.count)
		count = drawing->making.count;
	if (count + own == 0) {
		err_set(err, ERR_USAGE, "there is nothing to ask of this");
		return false;
	}
	out->task = arena_take(drawing->making.arena, (count + own) * sizeof *out->task);
	if (!list || !out->task)
		return false;
	draw(drawing, list, count);
	if (count > 0)
		qsort(list, count, sizeof *list, in_order_of_asking);
	for (size_t i = 0; i < count; i++)
		out->task[i] = *list[i].task;
	if (!copy_own(drawing, out->task + count))
		return false;
	out->task_count = count + own;
	for (size_t i = 0; i < out->task_count; i++)
		shuffle_choices(drawing, &out->task[i]);
	return true;
}

/* -- the whole -------------------------------------------------------------------------- */

static bool begin(struct drawing *drawing, struct err *err)
{
	const struct rulebook *book = drawing->making.book;
	struct arena *arena = drawing->making.arena;

	drawing->kind = arena_take(arena, book->kind_count + 1);
	drawing->type = arena_take(arena, book->type_count + 1);
	drawing->met = arena_take(arena, book->type_count + 1);
	drawing->making.fitting =
	        arena_take(arena, (book->type_count + 1) * sizeof *drawing->making.fitting);
	drawing->making.judge = judge_create(book);
	return drawing->kind && drawing->type && drawing->met && drawing->making.fitting &&
	       drawing->making.judge &&
	       judge_survey(drawing->making.judge, drawing->making.survey, err);
}

static bool make_and_draw(struct drawing *drawing, struct quiz *out, struct err *err)
{
	if (!find_wanted(drawing, err) || !check_points(drawing, err))
		return false;
	find_spots(drawing);
	return make_candidates(drawing, err) && !drawing->making.arena->failed &&
	       !drawing->making.no_memory && !drawing->making.trial.survey.arena.failed &&
	       fill_quiz(drawing, out, err);
}

bool quiz_make(const struct survey *survey, const struct quiz_plan *plan, struct arena *arena,
               struct quiz *out, struct err *err)
{
	struct drawing drawing = {
	        .plan = plan,
	        .making = {.survey = survey,
	                   .book = survey->book,
	                   .arena = arena,
	                   .families = plan->families,
	                   .seed = plan->seed}
        };
	struct err own = {0};
	bool made;

	*out = (struct quiz){.survey = survey};
	made = begin(&drawing, &own) && make_and_draw(&drawing, out, &own);
	judge_destroy(drawing.making.judge);
	trial_end(&drawing.making.trial);
	if (made)
		return true;
	*out = (struct quiz){.survey = survey};
	if (own.kind == ERR_NONE)
		err_set(err, ERR_MEMORY, "there is no memory for a quiz");
	else
		err_set(err, own.kind, "%s", own.message);
	return false;
}
