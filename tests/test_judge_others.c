/*
 * Where judge_moves_others() says that a point moves no other one's verdict, a judge who was told
 * nothing says of every point what one says who takes the house up anew. Houses and changes at
 * random.
 */
#include "tundish/house/verdict.h"

#include "judge_books.h"
#include "random_house.h"
#include "suite.h"

#include <check.h>

enum { HOUSES = 50, STEPS = 12, POINTS_MOST = 64, PATHS_MOST = 256 };

struct tried {
	size_t kept, moved, moved_truly, fed;
};

static size_t points_of(const struct house *house, struct item *point[POINTS_MOST])
{
	const struct item *premises = house->survey.premises;
	size_t count = 0;

	for (size_t r = 0; r < premises->child_count; r++)
		for (size_t p = 0; p < premises->child[r]->child_count && count < POINTS_MOST; p++)
			if (premises->child[r]->child[p]->scope == SCOPE_POINT)
				point[count++] = premises->child[r]->child[p];
	return count;
}

/* -- what is compared ------------------------------------------------------------------------ */

struct kept {
	struct assessment assessment;
	bool ok;
	struct path path[PATHS_MOST];
};

static void keep(struct judge *judge, const struct item *point, struct kept *out)
{
	struct err err = {0};

	memset(out, 0, sizeof(*out));
	out->ok = judge_point(judge, point, &out->assessment, &err);
	ck_assert_uint_le(out->assessment.path_count, PATHS_MOST);
	for (size_t i = 0; i < out->assessment.path_count; i++)
		out->path[i] = out->assessment.path[i];
}

static bool same_range(struct range a, struct range b)
{
	return a.least == b.least && a.most == b.most;
}

static bool same_path(const struct path *a, const struct path *b)
{
	return strcmp(a->to, b->to) == 0 && a->mechanism == b->mechanism && a->fluid == b->fluid &&
	       a->inlet_index == b->inlet_index && same_range(a->needs, b->needs) &&
	       same_range(a->accepted, b->accepted) && same_range(a->found, b->found) &&
	       same_range(a->on_paper, b->on_paper) && same_range(a->in_fact, b->in_fact);
}

static bool same(const struct kept *a, const struct kept *b)
{
	const struct assessment *one = &a->assessment, *other = &b->assessment;

	if (a->ok != b->ok || one->verdict != other->verdict || one->urgency != other->urgency ||
	    !same_range(one->category, other->category) ||
	    !same_range(one->on_paper, other->on_paper) ||
	    !same_range(one->in_fact, other->in_fact) || one->path_count != other->path_count ||
	    one->ask_count != other->ask_count || one->worst != other->worst)
		return false;
	for (size_t i = 0; i < one->path_count; i++)
		if (!same_path(&a->path[i], &b->path[i]))
			return false;
	return true;
}

/* @return whether both say the same of every point but @p but. */
static bool agree(struct judge *old, struct judge *fresh, const struct house *house,
                  const struct item *but, const struct item **differs)
{
	static struct kept a, b;
	struct item *point[POINTS_MOST];
	size_t count = points_of(house, point);

	for (size_t i = 0; i < count; i++) {
		if (point[i] == but)
			continue;
		keep(old, point[i], &a);
		keep(fresh, point[i], &b);
		*differs = point[i];
		if (!same(&a, &b))
			return false;
	}
	return true;
}

/* -- what is changed ------------------------------------------------------------------------- */

static struct item *any_room(struct house *house)
{
	const char *ref = house_in(house, 1, 2) ? "kitchen" : "loft";

	return survey_find(&house->survey, ref, strlen(ref));
}

static struct item *come(struct house *house, size_t step)
{
	struct item *room = any_room(house), *point;
	size_t place = chance_of(house->chance, room->child_count + 1);
	const struct kind *kind;

	point = survey_add(&house->survey, room, SCOPE_POINT,
	                   arena_print(&house->arena, "N%zu", step),
	                   place == 0 ? NULL : room->child[place - 1]);
	ck_assert_ptr_nonnull(point);
	if (house_in(house, 1, 6))
		return point;
	kind = house_kind(house, house_in(house, 2, 3), false);
	ck_assert_ptr_nonnull(kind);
	house_put(house, point, house->book->known.point_kind, kind->id);
	if (house_in(house, 2, 3))
		house_feed(house, point, arena_print(&house->arena, "n%zu_", step), true, 1);
	return point;
}

static bool apply(struct house *house, const struct item *point, const char *after)
{
	struct change change = {
	        arena_print(&house->arena, "%s/points/%s", point->parent->ref, point->ref), NULL,
	        after};
	struct err err = {0};

	return survey_apply(&house->survey, &change, &err);
}

static void move(struct house *house, const struct item *point)
{
	const struct item *room = point->parent,
	                  *other = room->child[chance_of(house->chance, room->child_count)];

	if (other != point)
		ck_assert(apply(house, point, house_in(house, 1, 3) ? "" : other->ref));
}

static void feed_otherwise(struct house *house, struct item *point)
{
	for (size_t i = 0; i < point->child_count; i++)
		if (point->child[i]->scope == SCOPE_INLET && house_in(house, 1, 2))
			house_put(house, point->child[i], house->book->known.inlet_fed_by,
			          house_pipe(house, true, true));
}

/* @return the point that something became of. */
static struct item *change(struct house *house, size_t step)
{
	struct item *point[POINTS_MOST];
	size_t count = points_of(house, point), what = chance_of(house->chance, 5);
	struct item *one = point[chance_of(house->chance, count)];

	if (what == 0 || count < 2)
		return come(house, step);
	if (what == 1)
		ck_assert(apply(house, one, NULL));
	else if (what == 2)
		move(house, one);
	else if (what == 3)
		house_put(house, one, house->book->known.point_kind,
		          house->book->kind[chance_of(house->chance, house->book->kind_count)].id);
	else
		feed_otherwise(house, one);
	return one;
}

/* -- trying ---------------------------------------------------------------------------------- */

static void try_house(struct judge *old, struct judge *fresh, struct house *house, size_t seed,
                      struct tried *tried)
{
	struct err err = {0};

	ck_assert(judge_survey(old, &house->survey, &err));
	for (size_t step = 0; step < STEPS; step++) {
		const struct item *point = change(house, step), *differs = NULL;
		bool moves = judge_moves_others(old, point), feeds = judge_feeds_others(old, point);
		bool agreed;

		ck_assert(judge_survey(fresh, &house->survey, &err));
		if (!feeds) /* its own verdict needs no new look at the house */
			ck_assert_msg(agree(old, fresh, house, NULL, &differs) || moves,
			              "seed %zu, step %zu: after %s, %s is another", seed, step,
			              point->ref, differs->ref);
		tried->fed += feeds ? 1 : 0;
		tried->kept += moves ? 0 : 1;
		tried->moved += moves ? 1 : 0;
		if (!moves)
			continue;
		/* what was removed is not to be looked at through the old tree */
		agreed = point->parent == NULL || agree(old, fresh, house, point, &differs);
		tried->moved_truly += agreed ? 0 : 1;
		ck_assert(judge_survey(old, &house->survey, &err));
	}
}

START_TEST(who_is_said_to_move_nobody_moves_nobody)
{
	const struct rulebook *book = book_of(_i);
	struct judge *old = judge_create(book), *fresh = judge_create(book);
	struct tried tried = {0};

	ck_assert(old != NULL && fresh != NULL);
	for (size_t n = 0; n < HOUSES * scale(); n++) {
		struct chance chance = {n + 55000000000};
		struct house house;

		house_make(&house, book, &chance, &book->kind[n % book->kind_count], INDEX_NONE,
		           60);
		try_house(old, fresh, &house, n, &tried);
		house_end(&house);
	}
	printf("changes that move nobody: %zu; that may: %zu, and did: %zu; of what feeds: %zu\n",
	       tried.kept, tried.moved, tried.moved_truly, tried.fed);
	ck_assert_uint_gt(tried.kept, 100);
	ck_assert_uint_gt(tried.moved_truly, 50);
	ck_assert_uint_gt(tried.fed, 10);
	judge_destroy(old);
	judge_destroy(fresh);
}
END_TEST

/* A kind or a feed that is only tried moves the point's own verdict as if the house knew of it. */
START_TEST(own_verdict_needs_no_new_look_at_the_house)
{
	static struct kept a, b;
	const struct rulebook *book = book_of(_i);
	struct judge *old = judge_create(book), *fresh = judge_create(book);
	size_t compared = 0;

	ck_assert(old != NULL && fresh != NULL);
	for (size_t n = 0; n < HOUSES * scale(); n++) {
		struct chance chance = {n + 66000000000};
		struct house house;
		struct err err = {0};
		struct item *point[POINTS_MOST], *one;

		house_make(&house, book, &chance, &book->kind[n % book->kind_count], INDEX_NONE,
		           60);
		one = point[chance_of(&chance, points_of(&house, point))];
		ck_assert(judge_survey(old, &house.survey, &err));
		if (house_in(&house, 1, 2))
			house_put(&house, one, book->known.point_kind,
			          book->kind[chance_of(&chance, book->kind_count)].id);
		feed_otherwise(&house, one);
		if (!judge_feeds_others(old, one)) {
			ck_assert(judge_survey(fresh, &house.survey, &err));
			keep(old, one, &a);
			keep(fresh, one, &b);
			ck_assert_msg(same(&a, &b), "seed %zu: %s", n, one->ref);
			compared++;
		}
		house_end(&house);
	}
	ck_assert_uint_gt(compared, HOUSES / 2);
	judge_destroy(old);
	judge_destroy(fresh);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("judge_others");
	TCase *others = tcase_create("others");

	tcase_add_unchecked_fixture(others, read_books, finish_books);
	tcase_set_timeout(others, 120);
	tcase_add_loop_test(others, who_is_said_to_move_nobody_moves_nobody, 0, 2);
	tcase_add_loop_test(others, own_verdict_needs_no_new_look_at_the_house, 0, 2);
	suite_add_tcase(s, others);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
