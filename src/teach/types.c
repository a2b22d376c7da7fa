/* Which type a thing is, by how it can be told by eye. docs/quiz.md has the rule. */
#include "make.h"

#include "tundish/base/random.h"

#include <stdlib.h>
#include <string.h>

enum { OTHERS = 3 }; /* wrong answers shown */

/* A type that could be taken for the one asked about. */
struct other {
	const struct type *type;
	unsigned far; /* how far its figures are */
	size_t place; /* by chance, of equals */
};

static unsigned how_far(const struct type *a, const struct type *b)
{
	unsigned far = 0;

	for (unsigned m = 0; m < MECHANISM_COUNT; m++)
		far += (unsigned)abs((int)a->good_for[m] - (int)b->good_for[m]);
	return far;
}

static bool could_be_taken_for(const struct type *type, const struct type *other)
{
	return other != type && other->tell && other->device == type->device &&
	       strcmp(other->tell, type->tell) != 0 && strcmp(other->name, type->name) != 0;
}

static int nearest_first(const void *a, const void *b)
{
	const struct other *x = a, *y = b;

	if (x->far != y->far)
		return x->far < y->far ? -1 : 1;
	return x->place < y->place ? -1 : x->place > y->place;
}

static size_t list_others(struct making *making, const struct type *type, const char *id,
                          struct other *list)
{
	const struct rulebook *book = making->book;
	struct random random;
	size_t count = 0;

	for (size_t t = 0; t < book->type_count; t++)
		if (could_be_taken_for(type, &book->type[t]))
			list[count++] =
			        (struct other){&book->type[t], how_far(type, &book->type[t]), 0};
	if (count == 0)
		return 0;
	random_seed_for(&random, making->seed, id);
	random_shuffle(&random, list, count, sizeof *list);
	for (size_t i = 0; i < count; i++)
		list[i].place = i;
	qsort(list, count, sizeof *list, nearest_first);
	return count;
}

/** Two with one description can't be told apart: never both. */
static bool same_as_one_before(const struct other *list, size_t at)
{
	for (size_t i = 0; i < at; i++)
		if (strcmp(list[i].type->tell, list[at].type->tell) == 0)
			return true;
	return false;
}

static enum grade grade_of_other(const struct type *right, const struct type *said)
{
	bool worse = false;

	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		if (said->good_for[m] > right->good_for[m])
			return GRADE_DANGEROUS;
		worse = worse || said->good_for[m] < right->good_for[m];
	}
	return worse ? GRADE_CAUTIOUS : GRADE_WRONG;
}

void make_type(struct making *making, const struct type *type)
{
	struct task task = making_begin(making, FAMILY_TYPE, NULL);
	struct other *list =
	        arena_take(making->arena, (making->book->type_count + 1) * sizeof *list);
	const char **shown = arena_take(making->arena, sizeof *shown);
	size_t count;

	task.id = arena_print(making->arena, "type/%s", type->id);
	if (!list || !shown || !task.id || !type->tell)
		return;
	task.asks = "Which type of protection is this?";
	task.topic = type->id;
	shown[0] = type->tell;
	task.shown = shown;
	task.shown_count = 1;
	making_choice(making, type->id, type->name, GRADE_RIGHT);
	count = list_others(making, type, task.id, list);
	for (size_t i = 0; i < count && making->choice_count <= OTHERS; i++)
		if (!same_as_one_before(list, i))
			making_choice(making, list[i].type->id, list[i].type->name,
			              grade_of_other(type, list[i].type));
	making_reason_table(making, type);
	if (making->choice_count > 1)
		making_keep(making, &task);
}

void make_of_type(struct making *making, const struct type *type)
{
	if (making_wants(making, FAMILY_TYPE))
		make_type(making, type);
	if (making_wants(making, FAMILY_TEST))
		make_tests(making, type);
	if (making_wants(making, FAMILY_GAP))
		make_gaps(making, type);
}
