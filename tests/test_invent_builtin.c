/* Invented houses by the built-in book: whole, sensible, and nothing in it goes unmet. TUNDISH_SEEDS=N: so many houses by chance. */
#include "invent_houses.h"
#include "suite.h"

START_TEST(every_house_of_the_built_in_book_is_whole)
{
	for (uint64_t seed = 0; seed < 40; seed++)
		for (unsigned level = LEVEL_LEAST; level <= LEVEL_MOST; level++)
			assert_whole(&(struct invention){.seed = seed, .level = level});
}
END_TEST

START_TEST(at_level_1_nothing_of_the_built_in_book_is_left_to_ask)
{
	assert_all_answered(100);
}
END_TEST

START_TEST(dates_and_rooms_of_the_built_in_book_make_sense)
{
	for (uint64_t seed = 0; seed < 60; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(assert_dates_in_order, NULL);
		walk_points(assert_room_holds, NULL);
	}
}
END_TEST

/* What a trick at level 4 makes, counted at any level. */
struct misleading {
	struct judge *judge;
	size_t paper_only, fact_only; /* short on the other of the two alone */
	size_t wrong_mechanism, shut, unsure;
};

static void look_at_inlet(const struct item *inlet, struct misleading *found)
{
	const char *feed = item_text(inlet, book.known.inlet_fed_by);

	found->unsure += feed && strchr(feed, ',') != NULL;
	for (size_t p = 0; p + 1 < inlet->child_count; p++)
		found->shut += inlet->child[p]->of != INDEX_NONE &&
		               inlet->child[p + 1]->of != INDEX_NONE &&
		               book.type[inlet->child[p]->of].shuts_downstream != QUESTION_NONE &&
		               book.type[inlet->child[p + 1]->of].shuts;
}

static void look_at_point(const struct item *point, void *to)
{
	struct misleading *found = to;
	struct assessment out;
	struct err err = {0};

	ck_assert_msg(judge_point(found->judge, point, &out, &err), "%s: %s", point->ref,
	              err.message);
	found->paper_only += out.on_paper.most == 0 && out.in_fact.least > 0;
	found->fact_only += out.on_paper.least > 0 && out.in_fact.most == 0;
	for (size_t p = 0; p < out.path_count; p++)
		if (out.path[p].good_for.most + 1 < out.path[p].needs.least)
			for (size_t q = 0; q < out.path_count; q++)
				found->wrong_mechanism +=
				        out.path[q].inlet == out.path[p].inlet &&
				        out.path[q].mechanism != out.path[p].mechanism &&
				        out.path[q].good_for.least >= out.path[q].needs.most;
	for (size_t i = 0; i < item_children(point, SCOPE_INLET); i++)
		look_at_inlet(item_child(point, SCOPE_INLET, i), found);
}

static struct misleading look_at_level(unsigned level)
{
	struct misleading found = {.judge = judge_create(&book)};
	struct err err = {0};

	for (uint64_t seed = 0; seed < 150; seed++) {
		invent(&(struct invention){.seed = seed, .level = level});
		ck_assert(judge_survey(found.judge, &survey, &err));
		walk_points(look_at_point, &found);
	}
	judge_destroy(found.judge);
	printf("level %u, of 150 houses: good on paper only %zu, in fact only %zu, against the "
	       "other mechanism only %zu, "
	       "shut just behind %zu, feed not sure %zu\n",
	       level, found.paper_only, found.fact_only, found.wrong_mechanism, found.shut,
	       found.unsure);
	fflush(stdout);
	return found;
}

START_TEST(level_4_misleads)
{
	struct misleading plain = look_at_level(LEVEL_DOUBT),
	                  misleading = look_at_level(LEVEL_MOST);

	ck_assert_uint_gt(misleading.paper_only, plain.paper_only * 5 / 4);
	ck_assert_uint_gt(misleading.fact_only, plain.fact_only * 5 / 4);
	ck_assert_uint_gt(misleading.wrong_mechanism, plain.wrong_mechanism * 11 / 10);
	ck_assert_uint_gt(misleading.shut, plain.shut * 5 / 4);
	ck_assert_uint_eq(plain.unsure, 0);
	ck_assert_uint_gt(misleading.unsure, 30);
}
END_TEST

/* By chance every kind and type; asked for by name every row too: none goes untaught. */
START_TEST(everything_of_the_built_in_book_is_met)
{
	const char *more = getenv("TUNDISH_SEEDS");
	struct meeting meeting = {judge_create(&book), all_targets()};

	meet_by_chance(&meeting, more ? strtoull(more, NULL, 10) : 4000);
	name_unmet(meeting.targets, "not met by chance: ");
	ck_assert_uint_eq(count_met(meeting.targets, false) + count_of_rows(meeting.targets),
	                  meeting.targets->count);
	meet_by_name(&meeting, 40);
	name_unmet(meeting.targets, "not met by name: ");
	ck_assert_uint_eq(count_met(meeting.targets, false) + count_met(meeting.targets, true),
	                  meeting.targets->count);
	judge_destroy(meeting.judge);
}
END_TEST

/* What it takes of the premises binds what comes later. */
START_TEST(what_is_asked_of_the_premises_holds_every_time)
{
	assert_always_met("kitchen_mixer_coil_leak", 15);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("invent_builtin");
	TCase *tcase = tcase_create("builtin");

	tcase_add_checked_fixture(tcase, setup_builtin, teardown);
	tcase_set_timeout(tcase, 280);
	tcase_add_test(tcase, every_house_of_the_built_in_book_is_whole);
	tcase_add_test(tcase, at_level_1_nothing_of_the_built_in_book_is_left_to_ask);
	tcase_add_test(tcase, dates_and_rooms_of_the_built_in_book_make_sense);
	tcase_add_test(tcase, level_4_misleads);
	tcase_add_test(tcase, what_is_asked_of_the_premises_holds_every_time);
	tcase_add_test(tcase, everything_of_the_built_in_book_is_met);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
