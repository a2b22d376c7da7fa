/* Every grade of every task, over houses at random, against the assessment and the tables of docs/quiz.md. */
#include "judge_books.h"
#include "random_house.h"
#include "teach_check.h"
#include "suite.h"

enum { ROUNDS = 250 }; /* houses a book */

static void begin(void)
{
	read_books();
	tables_begin();
}

static size_t shuffled; /* tasks whose answers stand in another order with another seed */

static const struct task *task_named(const struct quiz *quiz, const char *id)
{
	for (size_t i = 0; i < quiz->task_count; i++)
		if (strcmp(quiz->task[i].id, id) == 0)
			return &quiz->task[i];
	return NULL;
}

/* What an answer is worth does not hang on where it stands, or on what else is shown; but whether none of them is right does. */
static void check_shuffled(const struct quiz *quiz, const struct quiz *other)
{
	for (size_t i = 0; i < quiz->task_count; i++) {
		const struct task *task = &quiz->task[i], *again = task_named(other, task->id);
		bool moved = false;

		ck_assert_msg(again || task->family > FAMILY_URGENCY, "%s is not asked", task->id);
		if (!again || task->family == FAMILY_SPOILED)
			continue;
		for (size_t c = 0; c < task->choice_count; c++) {
			enum grade grade = task_grade(again, task->choice[c].id);

			if (task->choice[c].last || grade == GRADE_NONE)
				continue;
			ck_assert_msg(grade == task->choice[c].grade, "%s: %s", task->id,
			              task->choice[c].id);
			moved = moved || c >= again->choice_count ||
			        strcmp(again->choice[c].id, task->choice[c].id) != 0;
		}
		ck_assert(!moved || !task->in_order);
		shuffled += moved;
	}
}

static void check_house(struct judge *judge, const struct house *house, uint64_t seed)
{
	struct quiz_plan plan = {.seed = seed, .families = FAMILIES_ALL};
	struct arena arena = {0};
	struct quiz quiz, other;
	struct err err = {0};

	ck_assert(judge_survey(judge, &house->survey, &err));
	if (!quiz_make(&house->survey, &plan, &arena, &quiz, &err)) {
		ck_assert_msg(err.kind == ERR_USAGE, "%s", err.message);
	} else {
		check_quiz(judge, &quiz, house->book);
		check_all_there(judge, &quiz, house->survey.premises);
		plan.seed++;
		ck_assert(quiz_make(&house->survey, &plan, &arena, &other, &err));
		check_shuffled(&quiz, &other);
	}
	arena_finish(&arena);
}

START_TEST(every_grade_is_what_the_page_says)
{
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);

	ck_assert_ptr_nonnull(judge);
	shuffled = 0;
	for (size_t n = 0; n < ROUNDS * scale(); n++) {
		struct chance chance = {n + 77};
		struct house house;

		house_make(&house, book, &chance, &book->kind[n % book->kind_count],
		           (uint16_t)(n % book->type_count), 30 + 10 * (n % 8));
		check_house(judge, &house, n);
		house_end(&house);
	}
	judge_destroy(judge);
	printf("%s book: %zu points, %zu tasks, %zu answers graded\n", _i ? "built-in" : "small",
	       points, tasks, choices);
	printf("  %zu points judged, figures asked of %zu; %zu fluids without a reason; %zu "
	       "shuffled\n",
	       points_judged, asked_figures, without, shuffled);
	ck_assert_uint_gt(shuffled, 200);
	ck_assert_uint_eq(without, 0);
	ck_assert(asked_figures * 100 > points_judged * 98);
	check_all_rows_met();
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach_grades");
	TCase *grades = tcase_create("grades");

	tcase_add_unchecked_fixture(grades, begin, finish_books);
	tcase_set_timeout(grades, 120.0 * (double)scale());
	tcase_add_loop_test(grades, every_grade_is_what_the_page_says, 0, 2);
	suite_add_tcase(s, grades);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
