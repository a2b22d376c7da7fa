/* Which tasks are drawn, in which order: a golden of all of it, and what the plan may say. */
#include "../src/base/arena_test.h"

#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"
#include "tundish/teach/quiz.h"

#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ON = 20782 /* 2026-11-25 */, TEXT_MOST = 1 << 16 };

static struct source survey_source;
static struct arena arena;
static struct faults faults;
static struct rulebook book;
static struct survey survey;
static struct arena quiz_arena;
static struct quiz quiz;
static struct err err;

static void begin(void)
{
	static char survey_text[TEXT_MOST];
	const struct source *texts[] = {small_book()};

	survey_source =
	        text_of(TUNDISH_TESTS "/teach/small.yaml", survey_text, sizeof(survey_text));
	arena_init(&arena);
	faults_init(&faults, &arena);
	ck_assert(rulebook_read(&book, texts, 1, ON, &faults));
	ck_assert_msg(survey_read(&survey, &book, &survey_source, &faults), "%s",
	              faults.item[0].message);
	err = (struct err){0};
	arena_init(&quiz_arena);
}

static void finish(void)
{
	survey_finish(&survey);
	rulebook_finish(&book);
	arena_finish(&arena);
	arena_finish(&quiz_arena);
}

static void make(const struct quiz_plan *plan)
{
	ck_assert_msg(quiz_make(&survey, plan, &quiz_arena, &quiz, &err), "%s", err.message);
}

/* -- as text ------------------------------------------------------------------------------------ */

static void write_task(FILE *file, const struct task *task)
{
	fprintf(file, "%s  %s, teaches %s%s%s\n  %s\n", task->id, family_name(task->family),
	        task->topic ? task->topic : "nothing", task->point ? ", of " : "",
	        task->point ? task->point->ref : "", task->asks);
	for (size_t i = 0; i < task->shown_count; i++)
		fprintf(file, "  > %s\n", task->shown[i]);
	if (task->choice_count == 0)
		fprintf(file, "  %g to %g %s: %g\n", task->least, task->most, task->unit,
		        task->right);
	for (size_t i = 0; i < task->choice_count; i++)
		fprintf(file, "  %-9s %s = %s\n", grade_name(task->choice[i].grade),
		        task->choice[i].id, task->choice[i].text);
	for (size_t i = 0; i < task->reason_count; i++)
		fprintf(file, "  %s: %s (%s, %s)\n", task->reason[i].id, task->reason[i].says,
		        task->reason[i].source, standing_name(task->reason[i].standing));
	fprintf(file, "\n");
}

static char *quiz_text(const struct quiz *of)
{
	char *text = NULL;
	size_t length = 0;
	FILE *file = open_memstream(&text, &length);

	ck_assert_ptr_nonnull(file);
	for (size_t i = 0; i < of->task_count; i++)
		write_task(file, &of->task[i]);
	fclose(file);
	return text;
}

START_TEST(the_quiz_of_seed_7_is_what_it_was)
{
	static char was[TEXT_MOST];
	const char *path = TUNDISH_TESTS "/teach/seed_7.quiz", *update = getenv("UPDATE_GOLDEN");
	struct quiz_plan plan = {.seed = 7, .families = FAMILIES_ALL};
	size_t same = 0;
	char *text;

	make(&plan);
	text = quiz_text(&quiz);
	if (update && strcmp(update, "1") == 0) {
		FILE *file = fopen(path, "wb");

		ck_assert_ptr_nonnull(file);
		fputs(text, file);
		fclose(file);
	}
	text_of(path, was, sizeof(was));
	while (text[same] != '\0' && text[same] == was[same])
		same++;
	ck_assert_msg(text[same] == was[same], "the quiz goes on otherwise with: %.300s",
	              text + same);
	free(text);
}
END_TEST

START_TEST(the_same_seed_gives_the_same_quiz_and_another_another)
{
	struct quiz_plan plan = {.seed = 7, .families = FAMILIES_ALL, .count = 9};
	char *first, *second, *third;

	make(&plan);
	first = quiz_text(&quiz);
	make(&plan);
	second = quiz_text(&quiz);
	plan.seed = 8;
	make(&plan);
	third = quiz_text(&quiz);
	ck_assert_str_eq(first, second);
	ck_assert_str_ne(first, third);
	free(first);
	free(second);
	free(third);
}
END_TEST

/* -- the plan ------------------------------------------------------------------------------------- */

START_TEST(as_many_as_asked_for_in_the_order_of_the_survey)
{
	static const char *const order[] = {"K1", "K2", "S1", "S2"};

	for (size_t count = 1; count <= 20; count++) {
		struct quiz_plan plan = {.seed = count, .families = FAMILIES_ALL, .count = count};
		size_t at = 0;

		make(&plan);
		ck_assert_uint_eq(quiz.task_count, count);
		for (size_t i = 0; i < count; i++) {
			const struct task *task = &quiz.task[i];

			if (!task->point) {
				at = 4;
				continue;
			}
			while (at < 4 && strcmp(order[at], task->point->ref) != 0)
				at++;
			ck_assert_msg(at < 4, "%s out of its order", task->id);
			ck_assert(i == 0 || quiz.task[i - 1].point != task->point ||
			          quiz.task[i - 1].family <= task->family);
		}
	}
}
END_TEST

START_TEST(every_id_is_there_once)
{
	struct quiz_plan plan = {.seed = 3, .families = FAMILIES_ALL};

	make(&plan);
	for (size_t i = 0; i < quiz.task_count; i++)
		for (size_t j = 0; j < i; j++)
			ck_assert_str_ne(quiz.task[i].id, quiz.task[j].id);
}
END_TEST

START_TEST(only_the_families_and_points_asked_for)
{
	static const char *const points[] = {"S2", "K1"};
	struct quiz_plan plan = {.seed = 3,
	                         .families = (1 << FAMILY_URGENCY) | (1 << FAMILY_IN_FACT),
	                         .point = points,
	                         .point_count = 2};

	make(&plan);
	ck_assert_uint_eq(quiz.task_count, 4);
	ck_assert_str_eq(quiz.task[0].id, "K1/in_fact");
	ck_assert_str_eq(quiz.task[1].id, "K1/urgency");
	ck_assert_str_eq(quiz.task[2].id, "S2/in_fact");
	ck_assert_str_eq(quiz.task[3].id, "S2/urgency");
}
END_TEST

static bool teaches(const struct task *task, const char *id)
{
	if (task->topic && strcmp(task->topic, id) == 0)
		return true;
	for (size_t i = 0; i < task->reason_count; i++)
		if (strcmp(task->reason[i].id, id) == 0)
			return true;
	return false;
}

/* What is wanted, and the points of such a kind or with such a type: their tasks are made first. */
static const struct {
	const char *id, *points;
} wanted[] = {
        {"outside_tap",        "K2 S1"},
        {"outside_tap_raised", "K2 S1"},
        {"ED",                 "K2"   },
        {"eb_removed",         "K1"   },
        {"ba_relief_low",      "S2"   },
        {"bad_short",          "K1"   }
};

START_TEST(what_teaches_what_is_wanted_is_drawn_first)
{
	const char *with[] = {wanted[_i].id};
	size_t some = 0;

	for (uint64_t seed = 0; seed < 30; seed++) {
		struct quiz_plan plan = {
		        .seed = seed, .families = FAMILIES_ALL, .with = with, .with_count = 1};
		size_t all = 0, drawn = 0;

		make(&plan);
		for (size_t i = 0; i < quiz.task_count; i++)
			all += teaches(&quiz.task[i], wanted[_i].id) &&
			       (!quiz.task[i].point ||
			        strstr(wanted[_i].points, quiz.task[i].point->ref));
		plan.count = 3;
		make(&plan);
		ck_assert_uint_eq(quiz.task_count, 3);
		for (size_t i = 0; i < quiz.task_count; i++)
			drawn += teaches(&quiz.task[i], wanted[_i].id);
		ck_assert_msg(drawn >= (all < 3 ? all : 3), "seed %d: %zu of %zu", (int)seed, drawn,
		              all);
		some += all;
	}
	ck_assert(some > 0);
}
END_TEST

START_TEST(a_type_that_the_survey_does_not_have_can_be_asked_about)
{
	const char *with[] = {"DB", "auk3_gap_lost"}, *const point[] = {"S1"};
	struct quiz_plan plan = {.families = FAMILIES_ALL & ~(1u << FAMILY_REMEDY),
	                         .point = point,
	                         .point_count = 1};
	bool gap = false;

	make(&plan);
	for (size_t i = 0; i < quiz.task_count; i++)
		ck_assert(quiz.task[i].point != NULL);
	plan.with = with;
	plan.with_count = 2;
	make(&plan);
	for (size_t i = 0; i < quiz.task_count; i++)
		gap = gap || quiz.task[i].family == FAMILY_GAP;
	ck_assert(gap);
}
END_TEST

static const struct {
	const char *title, *point, *with, *says;
	unsigned families;
} bad[] = {
        {"a point that is not there",        "K9",      NULL,     "`K9` is no outlet or appliance of the survey",
         FAMILIES_ALL                                                                                                              },
        {"a room",                           "kitchen", NULL,     "`kitchen` is no outlet or appliance of the survey",
         FAMILIES_ALL                                                                                                              },
        {"a row that is not there",          NULL,      "no_row",
         "`no_row` is no row, kind or type of the rulebook: nothing can be asked about it",                            FAMILIES_ALL},
        {"nothing to ask",                   "K1",      NULL,     "there is nothing to ask of this",                   0           },
};

START_TEST(a_plan_that_can_not_be_says_why)
{
	struct quiz_plan plan = {.families = bad[_i].families,
	                         .point = &bad[_i].point,
	                         .point_count = bad[_i].point != NULL,
	                         .with = &bad[_i].with,
	                         .with_count = bad[_i].with != NULL};

	ck_assert_msg(!quiz_make(&survey, &plan, &quiz_arena, &quiz, &err), "%s", bad[_i].title);
	ck_assert_int_eq(err.kind, ERR_USAGE);
	ck_assert_str_eq(err.message, bad[_i].says);
	ck_assert_uint_eq(quiz.task_count, 0);
}
END_TEST

/* Whichever request for memory fails: no quiz, or the whole one. */
START_TEST(without_memory_there_is_no_quiz_rather_than_half_a_one)
{
	struct quiz_plan plan = {.seed = 7, .families = FAMILIES_ALL};
	size_t refused = 0;
	char *whole;

	make(&plan);
	whole = quiz_text(&quiz);
	for (long n = 0;; n++) {
		struct arena own = {0};
		bool made;

		err = (struct err){0};
		arena_fail_after(n);
		made = quiz_make(&survey, &plan, &own, &quiz, &err);
		if (arena_fail_after(-1) != -1) {
			ck_assert(made);
			arena_finish(&own);
			break;
		}
		if (made) {
			char *text = quiz_text(&quiz);

			ck_assert_msg(strcmp(text, whole) == 0, "request %ld failed: another quiz",
			              n);
			free(text);
		} else {
			ck_assert_int_eq(err.kind, ERR_MEMORY);
			ck_assert_uint_eq(quiz.task_count, 0);
			refused++;
		}
		arena_finish(&own);
	}
	printf("%zu times no memory, and no quiz\n", refused);
	ck_assert_uint_gt(refused, 200);
	free(whole);
}
END_TEST

/* -- the trainer's own ------------------------------------------------------------------------------ */

static struct task_choice own_choices[] = {
        {"none", "None of these",  GRADE_WRONG,     true },
        {"a",    "Tell everybody", GRADE_RIGHT,     false},
        {"b",    "Shut it",        GRADE_DANGEROUS, false},
        {"c",    "Go home",        GRADE_CAUTIOUS,  false}
};
static struct reason own_reason = {.says = "Somebody may be rinsing bleach off.", .source = NULL};

START_TEST(the_trainers_own_come_last_and_count)
{
	struct task own[2] = {
	        {.id = "own_1",
	         .family = FAMILY_OWN,
	         .asks = "?",
	         .choice = own_choices,
	         .choice_count = 4,
	         .reason = &own_reason,
	         .reason_count = 1},
	        { .id = "own_2",
	         .family = FAMILY_OWN,
	         .asks = "?",
	         .choice = own_choices,
	         .choice_count = 4,
	         .reason = &own_reason,
	         .reason_count = 1,
	         .in_order = true},
	};
	struct quiz_plan plan = {.families = FAMILIES_ALL, .count = 5, .own = own, .own_count = 2};
	size_t first[4] = {0};

	for (plan.seed = 0; plan.seed < 60; plan.seed++) {
		make(&plan);
		ck_assert_uint_eq(quiz.task_count, 5);
		ck_assert_str_eq(quiz.task[3].id, "own_1");
		ck_assert_str_eq(quiz.task[3].choice[3].id, "none");
		ck_assert_str_eq(quiz.task[4].choice[0].id, "none");
		ck_assert_uint_eq(task_grade(&quiz.task[3], "c"), GRADE_CAUTIOUS);
		first[quiz.task[3].choice[0].id[0] - 'a']++;
	}
	ck_assert_str_eq(own_choices[0].id, "none"); /* the plan's own stay as they were */
	for (size_t i = 0; i < 3; i++)
		ck_assert_msg(first[i] > 5, "choice %zu came first %zu times of 60", i, first[i]);
	plan.count = 1;
	make(&plan);
	ck_assert_uint_eq(quiz.task_count, 2);
	plan.families = 0;
	make(&plan);
	ck_assert_uint_eq(quiz.task_count, 2);
}
END_TEST

/* It is shown with its point, and waits with its verdict as any other task; a number is graded like that of an air gap. */
START_TEST(the_trainers_own_may_be_about_a_point)
{
	struct task own[2] = {
	        {.id = "own_1",
	         .family = FAMILY_OWN,
	         .asks = "?",
	         .choice = own_choices,
	         .choice_count = 4,
	         .reason = &own_reason,
	         .reason_count = 1},
	        { .id = "own_2",
	         .family = FAMILY_OWN,
	         .asks = "?",
	         .unit = "mm",
	         .most = 500,
	         .right = 20,
	         .reason = &own_reason,
	         .reason_count = 1},
	};
	const char *point[2] = {NULL, NULL};
	struct quiz_plan plan = {.own = own, .own_point = point, .own_count = 2};

	point[1] = "K1";
	make(&plan);
	ck_assert_ptr_null(quiz.task[0].point);
	ck_assert_ptr_eq(quiz.task[1].point, survey_find(&survey, "K1", 2));
	ck_assert_uint_eq(quiz.task[1].choice_count, 0);
	ck_assert_uint_eq(task_grade(&quiz.task[1], "19"), GRADE_DANGEROUS);
	point[1] = "Q99";
	ck_assert(!quiz_make(&survey, &plan, &arena, &quiz, &err));
	ck_assert_uint_eq(err.kind, ERR_USAGE);
	ck_assert_ptr_nonnull(strstr(err.message, "`Q99` is no outlet or appliance"));
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach_quiz");
	TCase *draw = tcase_create("draw");

	tcase_add_checked_fixture(draw, begin, finish);
	tcase_set_timeout(draw, 60);
	tcase_add_test(draw, the_quiz_of_seed_7_is_what_it_was);
	tcase_add_test(draw, the_same_seed_gives_the_same_quiz_and_another_another);
	tcase_add_test(draw, as_many_as_asked_for_in_the_order_of_the_survey);
	tcase_add_test(draw, every_id_is_there_once);
	tcase_add_test(draw, only_the_families_and_points_asked_for);
	tcase_add_loop_test(draw, what_teaches_what_is_wanted_is_drawn_first, 0,
	                    (int)(sizeof wanted / sizeof *wanted));
	tcase_add_test(draw, a_type_that_the_survey_does_not_have_can_be_asked_about);
	tcase_add_loop_test(draw, a_plan_that_can_not_be_says_why, 0,
	                    (int)(sizeof bad / sizeof *bad));
	tcase_add_test(draw, without_memory_there_is_no_quiz_rather_than_half_a_one);
	tcase_add_test(draw, the_trainers_own_come_last_and_count);
	tcase_add_test(draw, the_trainers_own_may_be_about_a_point);
	suite_add_tcase(s, draw);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
