/* Names, marking one task, and an attempt, on tasks made by hand. */
#include "tundish/teach/quiz.h"

#include "suite.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

static struct task_choice of_cold[] = {
        {"enough", "Enough",        GRADE_DANGEROUS, false},
        {"1",      "Short by 1",    GRADE_WRONG,     false},
        {"2",      "Short by 2",    GRADE_RIGHT,     false},
        {"3",      "Short by 3",    GRADE_CAUTIOUS,  false},
        {"none",   "None of these", GRADE_WRONG,     true }
};
static struct task tasks[3] = {
        [0] = {.id = "a",          .choice = of_cold, .choice_count = 5                 },
        [1] = {                   .id = "b",                          .choice = of_cold,                  .choice_count = 5                        },
        [2] = { .id = "gap", .unit = "mm",                        .least = 0, .most = 3000, .right = 44},
};
static const struct quiz quiz = {.task = tasks, .task_count = 3};

START_TEST(every_family_has_a_name_of_its_own)
{
	for (unsigned f = 0; f < FAMILY_COUNT; f++) {
		const char *name = family_name((enum family)f);

		for (unsigned before = 0; before < f; before++)
			ck_assert_str_ne(family_name((enum family)before), name);
		ck_assert(family_words((enum family)f)[0] != '\0');
	}
	ck_assert_str_eq(family_name(FAMILY_OWN), "own");
	ck_assert_str_eq(family_name(FAMILY_SPOILED), "spoiled");
}
END_TEST

START_TEST(every_grade_has_its_name_and_its_worth)
{
	static const struct {
		enum grade grade;
		const char *name;
		unsigned halves;
	} rows[] = {
	        {GRADE_NONE,      "none",      0},
	        {GRADE_DANGEROUS, "dangerous", 0},
	        {GRADE_WRONG,     "wrong",     0},
	        {GRADE_CAUTIOUS,  "cautious",  1},
	        {GRADE_RIGHT,     "right",     2}
        };

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_str_eq(grade_name(rows[i].grade), rows[i].name);
		ck_assert_uint_eq(grade_halves(rows[i].grade), rows[i].halves);
		ck_assert(grade_words(rows[i].grade)[0] != '\0');
	}
}
END_TEST

START_TEST(a_choice_is_marked_by_its_id)
{
	ck_assert_uint_eq(task_grade(&tasks[0], "2"), GRADE_RIGHT);
	ck_assert_uint_eq(task_grade(&tasks[0], "enough"), GRADE_DANGEROUS);
	ck_assert_uint_eq(task_grade(&tasks[0], "Enough"), GRADE_NONE);
	ck_assert_uint_eq(task_grade(&tasks[0], ""), GRADE_NONE);
	ck_assert_str_eq(task_right(&tasks[0])->id, "2");
	ck_assert_ptr_null(task_right(&tasks[2]));
	ck_assert_ptr_null(task_choice(&tasks[0], "4"));
}
END_TEST

START_TEST(a_number_is_marked_by_what_it_is)
{
	static const struct {
		const char *given;
		enum grade grade;
	} rows[] = {
	        {"44",     GRADE_RIGHT    },
                {"44 mm",  GRADE_RIGHT    },
                {"4.4 cm", GRADE_RIGHT    },
	        {"43",     GRADE_DANGEROUS},
                {"43.9",   GRADE_DANGEROUS},
                {"0",      GRADE_DANGEROUS},
	        {"44.5",   GRADE_CAUTIOUS },
                {"1 m",    GRADE_CAUTIOUS },
                {"3001",   GRADE_NONE     },
	        {"-1",     GRADE_NONE     },
                {"44 l",   GRADE_NONE     },
                {"much",   GRADE_NONE     },
	        {"",       GRADE_NONE     }
        };

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		ck_assert_msg(task_grade(&tasks[2], rows[i].given) == rows[i].grade, "%s",
		              rows[i].given);
}
END_TEST

static struct arena arena;
static struct attempt attempt;

static void begin(void)
{
	arena_init(&arena);
	ck_assert(attempt_begin(&attempt, &quiz, &arena));
}

static void finish(void)
{
	arena_finish(&arena);
}

START_TEST(in_practice_the_first_answer_stands)
{
	ck_assert_uint_eq(attempt_answer(&attempt, 0, "nonsense", 5), GRADE_NONE);
	ck_assert_ptr_null(attempt.given[0].answer);
	ck_assert_uint_eq(attempt_answer(&attempt, 0, "enough", 1200), GRADE_DANGEROUS);
	ck_assert_uint_eq(attempt_answer(&attempt, 0, "2", 1), GRADE_NONE);
	ck_assert_str_eq(attempt.given[0].answer, "enough");
	ck_assert_uint_eq(attempt.given[0].grade, GRADE_DANGEROUS);
	ck_assert_uint_eq(attempt.given[0].ms, 1200);
	ck_assert_uint_eq(attempt_answer(&attempt, 3, "2", 1), GRADE_NONE);
}
END_TEST

START_TEST(in_an_exam_the_last_stands_until_it_is_over)
{
	char typed[] = "2";

	attempt.exam = true;
	ck_assert_uint_eq(attempt_answer(&attempt, 0, "enough", 1), GRADE_DANGEROUS);
	ck_assert_uint_eq(attempt_answer(&attempt, 0, typed, 2), GRADE_RIGHT);
	typed[0] = '9';
	ck_assert_str_eq(attempt.given[0].answer, "2");
	ck_assert_uint_eq(attempt_answer(&attempt, 0, "nonsense", 3), GRADE_NONE);
	ck_assert_str_eq(attempt.given[0].answer, "2");
	attempt.over = true;
	ck_assert_uint_eq(attempt_answer(&attempt, 0, "3", 3), GRADE_NONE);
	ck_assert_uint_eq(attempt_answer(&attempt, 1, "3", 3), GRADE_NONE);
	ck_assert_str_eq(attempt.given[0].answer, "2");
}
END_TEST

START_TEST(the_next_open_task_is_found_going_round)
{
	ck_assert_uint_eq(attempt_next(&attempt, 0), 1);
	ck_assert_uint_eq(attempt_next(&attempt, 2), 0);
	attempt_answer(&attempt, 1, "2", 0);
	ck_assert_uint_eq(attempt_next(&attempt, 0), 2);
	attempt_answer(&attempt, 0, "2", 0);
	ck_assert_uint_eq(attempt_next(&attempt, 2), 2);
	attempt_answer(&attempt, 2, "44", 0);
	ck_assert_uint_eq(attempt_next(&attempt, 2), 3);
}
END_TEST

START_TEST(the_score_counts_halves_and_what_was_not_answered)
{
	struct score score;

	attempt.pass_percent = 50;
	attempt_answer(&attempt, 0, "2", 0);
	score = attempt_score(&attempt);
	ck_assert_uint_eq(score.tasks, 3);
	ck_assert_uint_eq(score.answered, 1);
	ck_assert_uint_eq(score.halves, 2);
	ck_assert_uint_eq(score.grade[GRADE_RIGHT], 1);
	ck_assert_uint_eq(score.grade[GRADE_NONE], 2);
	ck_assert(!score.passed); /* 2 of 6 */
	attempt_answer(&attempt, 1, "3", 0);
	score = attempt_score(&attempt);
	ck_assert_uint_eq(score.halves, 3);
	ck_assert(score.passed); /* 3 of 6: the mark itself */
	attempt.pass_percent = 51;
	ck_assert(!attempt_score(&attempt).passed);
	attempt.pass_percent = 0;
	ck_assert(!attempt_score(&attempt).passed);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach");
	TCase *marks = tcase_create("marks"), *attempts = tcase_create("attempts");

	tcase_add_test(marks, every_family_has_a_name_of_its_own);
	tcase_add_test(marks, every_grade_has_its_name_and_its_worth);
	tcase_add_test(marks, a_choice_is_marked_by_its_id);
	tcase_add_test(marks, a_number_is_marked_by_what_it_is);
	suite_add_tcase(s, marks);
	tcase_add_checked_fixture(attempts, begin, finish);
	tcase_add_test(attempts, in_practice_the_first_answer_stands);
	tcase_add_test(attempts, in_an_exam_the_last_stands_until_it_is_over);
	tcase_add_test(attempts, the_next_open_task_is_found_going_round);
	tcase_add_test(attempts, the_score_counts_halves_and_what_was_not_answered);
	suite_add_tcase(s, attempts);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
