/* Ten thousand points of invented houses: every grade of every task is what the assessment and docs/quiz.md say. */
#include "tundish/invent/invent.h"

#include "judge_books.h"
#include "teach_check.h"

enum { POINTS = 10000 };

static void begin(void)
{
	read_books();
	tables_begin();
}

static size_t families[FAMILY_COUNT];

static void check_house(struct judge *judge, const struct survey *survey, uint64_t seed)
{
	struct quiz_plan plan = {.seed = seed, .families = FAMILIES_ALL};
	struct arena arena = {0};
	struct quiz quiz;
	struct err err = {0};

	ck_assert_msg(quiz_make(survey, &plan, &arena, &quiz, &err), "%s", err.message);
	ck_assert(judge_survey(judge, survey, &err));
	check_quiz(judge, &quiz, survey->book);
	if (quiz.task_count < TASKS_MOST)
		check_all_there(judge, &quiz, survey->premises);
	for (size_t i = 0; i < quiz.task_count; i++)
		families[quiz.task[i].family]++;
	arena_finish(&arena);
}

START_TEST(every_grade_of_ten_thousand_invented_points)
{
	const struct rulebook *book = &builtin.book;
	struct judge *judge = judge_create(book);
	size_t houses = 0;

	ck_assert_ptr_nonnull(judge);
	for (; points < POINTS; houses++) {
		struct invention wish = {.seed = houses, .level = 1 + houses % LEVEL_MOST};
		struct survey survey;
		struct invented said;
		struct err err = {0};

		ck_assert_msg(invent_survey(book, &wish, &survey, &said, &err), "%s", err.message);
		check_house(judge, &survey, houses);
		survey_finish(&survey);
	}
	judge_destroy(judge);
	printf("%zu invented houses: %zu points, %zu tasks, %zu answers graded;", houses, points,
	       tasks, choices);
	for (unsigned f = 0; f < FAMILY_OWN; f++) {
		printf(" %s %zu", family_name((enum family)f), families[f]);
		ck_assert_msg(families[f] > 100, "%s", family_name((enum family)f));
	}
	printf("\n");
	ck_assert_uint_ge(points, POINTS);
	ck_assert_uint_eq(without, 0);
	check_all_rows_met();
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach_invented");
	TCase *grades = tcase_create("grades");

	tcase_add_unchecked_fixture(grades, begin, finish_books);
	tcase_set_timeout(grades, 280);
	tcase_add_test(grades, every_grade_of_ten_thousand_invented_points);
	suite_add_tcase(s, grades);
	return s;
}

int main(void)
{
	SRunner *runner = srunner_create(suite());
	int failed;

	srunner_run_all(runner, CK_ENV);
	failed = srunner_ntests_failed(runner);
	srunner_free(runner);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
