/* Ten thousand points of invented houses: every grade of every task is what the assessment and docs/quiz.md say. */
#include "tundish/invent/invent.h"

#include "judge_books.h"
#include "teach_check.h"
#include "suite.h"

/* A tenth under sanitizers, which make it some ten times as long. */
#ifdef __SANITIZE_ADDRESS__
enum { POINTS = 1000, SOME = 10 };
#else
enum { POINTS = 10000, SOME = 100 };
#endif

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
		ck_assert_msg(families[f] > SOME, "%s", family_name((enum family)f));
	}
	printf("\n");
	ck_assert_uint_ge(points, POINTS);
	ck_assert_uint_eq(without, 0);
	check_all_rows_met();
}
END_TEST

/* -- no row goes untaught ---------------------------------------------------------------------- */

enum { TRIES = 20 }; /* houses invented about one row */

static bool has_reason_of(const struct quiz *quiz, const char *id)
{
	for (size_t i = 0; i < quiz->task_count; i++)
		for (size_t r = 0; r < quiz->task[i].reason_count; r++)
			if (strcmp(quiz->task[i].reason[r].id, id) == 0)
				return true;
	return false;
}

static bool is_taught_by(const struct rulebook *book, const char *id, uint64_t seed)
{
	const char *with[] = {id};
	struct invention wish = {.seed = seed,
	                         .level = 1 + seed % LEVEL_MOST,
	                         .points = 5,
	                         .with = with,
	                         .with_count = 1};
	struct quiz_plan plan = {
	        .seed = seed, .families = FAMILIES_ALL, .count = 10, .with = with, .with_count = 1};
	struct survey survey;
	struct invented said;
	struct arena arena = {0};
	struct quiz quiz;
	struct err err = {0};
	bool taught;

	ck_assert_msg(invent_survey(book, &wish, &survey, &said, &err), "%s", err.message);
	taught = quiz_make(&survey, &plan, &arena, &quiz, &err) && has_reason_of(&quiz, id);
	arena_finish(&arena);
	survey_finish(&survey);
	return taught;
}

static size_t taught, tries;

static void teach(const struct rulebook *book, const char *id)
{
	for (uint64_t seed = 0; seed < TRIES; seed++) {
		tries++;
		if (is_taught_by(book, id, seed)) {
			taught++;
			return;
		}
	}
	ck_abort_msg("no task of %d houses that are about it teaches %s", TRIES, id);
}

static void teach_rows(const struct rulebook *book, const struct row *row, size_t count)
{
	for (size_t r = 0; r < count; r++)
		if (r == 0 || strcmp(row[r].id, row[r - 1].id) != 0) /* `otherwise: ask` is five */
			teach(book, row[r].id);
}

START_TEST(every_row_and_every_table_is_taught_by_some_task)
{
	const struct rulebook *book = &builtin.book;

	taught = tries = 0;
	for (size_t k = 0; k < book->kind_count; k++)
		teach_rows(book, book->kind[k].row, book->kind[k].row_count);
	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];

		teach(book, type->id);
		teach_rows(book, type->row, type->row_count);
		for (size_t s = 0; s < type->series_count; s++)
			teach(book, type->series[s].row.id);
	}
	printf("%zu rows and tables are taught, by %zu houses\n", taught, tries);
	ck_assert_uint_gt(taught, 1000);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach_invented");
	TCase *grades = tcase_create("grades");

	tcase_add_unchecked_fixture(grades, begin, finish_books);
	tcase_set_timeout(grades, 0); /* the suite has one, which follows the multiplier */
	tcase_add_test(grades, every_grade_of_ten_thousand_invented_points);
	tcase_add_test(grades, every_row_and_every_table_is_taught_by_some_task);
	suite_add_tcase(s, grades);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
