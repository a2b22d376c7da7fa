/* Tasks about types by themselves: named by their description, their tests read, their gaps sized. */
#include "tundish/teach/quiz.h"

#include "judge_books.h"
#include "suite.h"

#include <check.h>
#include <string.h>

/* Two that are told in the same words, among others; the small book has one description only. */
static char twins_text[] =
        "types:\n"
        "  - { id: T1, name: One, is: device, good_for: 3, source: s, standing: published, tell: A "
        "lump. }\n"
        "  - { id: T2, name: Two, is: device, good_for: 3, source: s, standing: published, tell: A "
        "lump. }\n"
        "  - { id: T3, name: Three, is: device, good_for: 3, source: s, standing: published, tell: "
        "A ball. }\n"
        "  - { id: T4, name: Four, is: device, good_for: 4, source: s, standing: published, tell: "
        "A tube. }\n"
        "  - { id: T5, name: Five, is: arrangement, good_for: 3, source: s, standing: published, "
        "tell: Air. }\n"
        "  - { id: T6, name: Six, is: device, good_for: 3, source: s, standing: published }\n";
static struct source twins_source = {"twins.yaml", twins_text, sizeof twins_text - 1};
static struct book twins;

static struct survey empty;
static struct arena arena;
static struct quiz quiz;

static void ask(const struct rulebook *book, const char *type, enum family family, uint64_t seed)
{
	const char *with[] = {type};
	struct quiz_plan plan = {
	        .seed = seed, .families = 1u << family, .with = with, .with_count = 1};
	struct err err = {0};

	arena_reset(&arena);
	ck_assert(survey_reset(&empty, book));
	if (!quiz_make(&empty, &plan, &arena, &quiz, &err))
		ck_assert_str_eq(err.message, "there is nothing to ask of this");
}

static void begin(void)
{
	const struct source *texts[] = {small_book(), &twins_source};

	read_books();
	read_book(&twins, texts, 2);
}

static void finish(void)
{
	rulebook_finish(&twins.book);
	arena_finish(&twins.arena);
	survey_finish(&empty);
	arena_finish(&arena);
	finish_books();
}

/* -- by description ---------------------------------------------------------------------------- */

static const struct type *type_of(const struct rulebook *book, const char *id)
{
	uint16_t type = rulebook_type(book, id, strlen(id));

	ck_assert_msg(type != INDEX_NONE, "%s is no type", id);
	return &book->type[type];
}

static enum grade grade_by_table(const struct type *right, const struct type *said)
{
	int less = 0;

	if (said == right)
		return GRADE_RIGHT;
	for (int m = 0; m < MECHANISM_COUNT; m++) {
		if (said->good_for[m] > right->good_for[m])
			return GRADE_DANGEROUS;
		less += said->good_for[m] < right->good_for[m];
	}
	return less ? GRADE_CAUTIOUS : GRADE_WRONG;
}

static int apart(const struct type *a, const struct type *b)
{
	int steps = 0;

	for (int m = 0; m < MECHANISM_COUNT; m++)
		steps += abs((int)a->good_for[m] - (int)b->good_for[m]);
	return steps;
}

/* None that is left out is nearer to the right one than one that is offered. */
static void check_nearest(const struct rulebook *book, const struct type *right,
                          const struct task *task)
{
	int farthest = 0;

	for (size_t c = 0; c < task->choice_count; c++) {
		int far = apart(right, type_of(book, task->choice[c].id));

		farthest = far > farthest ? far : farthest;
	}
	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *out = &book->type[t];
		bool shown = !out->tell || out->device != right->device ||
		             strcmp(out->name, right->name) == 0;

		for (size_t c = 0; c < task->choice_count && !shown; c++)
			shown = strcmp(type_of(book, task->choice[c].id)->tell, out->tell) == 0;
		ck_assert_msg(shown || apart(right, out) >= farthest, "%s: %s is nearer", task->id,
		              out->id);
	}
}

static void check_description(const struct rulebook *book, const struct type *type,
                              const struct task *task)
{
	ck_assert_str_eq(task->topic, type->id);
	ck_assert_uint_eq(task->shown_count, 1);
	ck_assert_str_eq(task->shown[0], type->tell);
	ck_assert_uint_ge(task->choice_count, 3);
	for (size_t c = 0; c < task->choice_count; c++) {
		const struct type *said = type_of(book, task->choice[c].id);

		ck_assert_str_eq(task->choice[c].text, said->name);
		ck_assert_int_eq(said->device, type->device);
		ck_assert_int_eq(task->choice[c].grade, grade_by_table(type, said));
		for (size_t d = 0; d < c; d++)
			ck_assert_str_ne(type_of(book, task->choice[d].id)->tell, said->tell);
	}
	check_nearest(book, type, task);
	ck_assert_uint_ge(task->reason_count, 1);
	ck_assert_str_eq(task->reason[0].id, type->id);
}

START_TEST(every_type_is_named_by_its_description)
{
	const struct rulebook *book = &builtin.book;
	size_t asked = 0, described = 0, places[4] = {0};

	for (size_t t = 0; t < book->type_count; t++) {
		described += book->type[t].tell != NULL;
		for (uint64_t seed = 0; seed < 8; seed++) {
			ask(book, book->type[t].id, FAMILY_TYPE, seed);
			ck_assert_uint_le(quiz.task_count, 1);
			if (quiz.task_count == 0)
				continue;
			asked += seed == 0;
			check_description(book, &book->type[t], &quiz.task[0]);
			for (size_t c = 0; c < 4 && c < quiz.task[0].choice_count; c++)
				places[c] += quiz.task[0].choice[c].grade == GRADE_RIGHT;
		}
	}
	printf("%zu of %zu types are named by their description\n", asked, book->type_count);
	ck_assert_uint_eq(asked, described);
	ck_assert_uint_gt(asked, 25);
	for (size_t c = 0; c < 4; c++)
		ck_assert_msg(places[c] > asked, "the right one is in place %zu only %zu times", c,
		              places[c]);
}
END_TEST

START_TEST(two_of_one_description_are_never_together)
{
	static const struct {
		const char *type;
		size_t choices;
		const char *never;
	} rows[] = {
	        {"T1", 3, "T2"}, /* not its twin; not what has no description, nor an arrangement */
	        {"T3", 3, NULL}, /* one of the twins */
	        {"T4", 3, NULL}
        };

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (uint64_t seed = 0; seed < 20; seed++) {
			const struct task *task;

			ask(&twins.book, rows[i].type, FAMILY_TYPE, seed);
			ck_assert_uint_eq(quiz.task_count, 1);
			task = &quiz.task[0];
			ck_assert_uint_eq(task->choice_count, rows[i].choices);
			check_description(&twins.book, type_of(&twins.book, rows[i].type), task);
			ck_assert(!rows[i].never || !task_choice(task, rows[i].never));
			ck_assert_ptr_null(task_choice(task, "T6"));
		}
	ask(&twins.book, "T6", FAMILY_TYPE, 1); /* no description, no task */
	ck_assert_uint_eq(quiz.task_count, 0);
}
END_TEST

/* -- air gaps ------------------------------------------------------------------------------------- */

/* By the texts of the rulebook: the greater of so much and twice the bore. */
static const struct {
	const char *type;
	int built_in;
	double least;
} gaps[] = {
        {"AUK3",           0, 20},
        {"AA",             1, 20},
        {"AB",             1, 20},
        {"AC",             1, 20},
        {"AD",             1, 20},
        {"AUK3",           1, 20},
        {"hose_restraint", 1, 25}
};

START_TEST(the_least_gap_is_the_greater_of_the_two)
{
	bool by_bore = false, by_least = false;
	size_t asked = 0;

	for (uint64_t seed = 0; seed < 40; seed++) {
		ask(book_of(gaps[_i].built_in), gaps[_i].type, FAMILY_GAP, seed);
		for (size_t i = 0; i < quiz.task_count; i++) {
			const struct task *task = &quiz.task[i];
			const char *colon = strrchr(task->shown[0], ':');
			double bore = atof(colon + 1);
			double right = 2 * bore > gaps[_i].least ? 2 * bore : gaps[_i].least;
			char typed[32];

			asked++;
			by_bore = by_bore || 2 * bore > gaps[_i].least;
			by_least = by_least || 2 * bore < gaps[_i].least;
			snprintf(typed, sizeof typed, "%g", right);
			ck_assert_msg(task_grade(task, typed) == GRADE_RIGHT, "%s %s: %s", task->id,
			              task->shown[0], typed);
			snprintf(typed, sizeof typed, "%g mm", right - 1);
			ck_assert_int_eq(task_grade(task, typed), GRADE_DANGEROUS);
			snprintf(typed, sizeof typed, "%g mm", right + 1);
			ck_assert_int_eq(task_grade(task, typed), GRADE_CAUTIOUS);
			ck_assert_str_eq(task->unit, "mm");
			ck_assert_uint_ge(task->reason_count, 2);
		}
	}
	ck_assert_msg(asked >= 40 && by_bore && by_least, "%s: %zu", gaps[_i].type, asked);
}
END_TEST

/* -- device tests --------------------------------------------------------------------------------- */

static const char *reading(const struct task *task, const char *label)
{
	size_t length = strlen(label);

	for (size_t i = 0; i < task->shown_count; i++) {
		const char *after = task->shown[i] + length;

		if (strncmp(task->shown[i], label, length) != 0)
			continue;
		ck_assert_msg(label[length - 1] == '?' ? after[0] == ' ' : after[0] == ':', "%s",
		              task->shown[i]);
		return after + strspn(after, ": ");
	}
	return "";
}

static bool is(const char *text, const char *word)
{
	return strcmp(text, word) == 0;
}

/* The rules as they stand in the two books, for a day that is 2026-11-25. */
static const char *small_ba(const struct task *task)
{
	const char *date = reading(task, "Date of the test"),
	           *relief = reading(task, "Relief opens at");

	if (relief[0] && atoi(relief) < 140)
		return "nothing";
	return date[0] && strcmp(date, "2025-11-25") < 0 ? "unproven" : "works";
}

static const char *small_ec(const struct task *task)
{
	return is(reading(task, "Result"), "failed") ? "2" : "works";
}

static const char *builtin_ba(const struct task *task)
{
	const char *date = reading(task, "Date of the test"),
	           *relief = reading(task, "Relief opens at");
	const char *result = reading(task, "Result of the test");
	bool leaks = is(reading(task, "First check"), "leaks") ||
	             is(reading(task, "Second check"), "leaks");

	ck_assert(!is(result, "passed") ||
	          (!reading(task, "First check")[0] && !reading(task, "Second check")[0]));
	if ((relief[0] && atoi(relief) < 140) || is(result, "failed") ||
	    (!is(result, "passed") && leaks))
		return "nothing";
	return is(result, "could not be read") || (date[0] && strcmp(date, "2025-11-25") < 0)
	               ? "unproven"
	               : "works";
}

static const char *builtin_ec(const struct task *task)
{
	const char *result = reading(task, "Result of the test");
	const char *held = reading(task, "Which checks held?");

	/* what can move nothing any more is not read out */
	ck_assert(!is(result, "passed") || !held[0]);
	if (is(result, "passed"))
		return "works";
	if (is(held, "neither") || (is(result, "failed") && !is(held, "one")))
		return "nothing";
	return is(held, "one") ? "2" : "works";
}

static const struct {
	const char *type;
	int built_in;
	const char *(*right)(const struct task *task);
	size_t outcomes; /* different right answers that there are */
} readings[] = {
        {"BA", 0, small_ba,   3},
        {"EC", 0, small_ec,   2},
        {"BA", 1, builtin_ba, 3},
        {"EC", 1, builtin_ec, 3}
};

/* From the best down: what says more than it is is dangerous. */
static size_t rank(const char *id)
{
	static const char *const order[] = {"works", "unproven", "4", "3", "2", "nothing"};

	for (size_t i = 0; i < 6; i++)
		if (is(id, order[i]))
			return i;
	ck_abort_msg("%s is no answer", id);
	return 0;
}

START_TEST(a_test_says_what_the_rulebook_says)
{
	size_t seen[6] = {0}, outcomes = 0, asked = 0;

	for (uint64_t seed = 0; seed < 100; seed++) {
		ask(book_of(readings[_i].built_in), readings[_i].type, FAMILY_TEST, seed);
		for (size_t i = 0; i < quiz.task_count; i++) {
			const struct task *task = &quiz.task[i];
			size_t right = rank(readings[_i].right(task));

			asked++;
			seen[right]++;
			ck_assert_str_eq(task->shown[0], "Today is 2026-11-25");
			for (size_t c = 0; c < task->choice_count; c++) {
				size_t said = rank(task->choice[c].id);
				enum grade grade = said == right  ? GRADE_RIGHT
				                   : said < right ? GRADE_DANGEROUS
				                                  : GRADE_CAUTIOUS;

				ck_assert_msg(task->choice[c].grade == grade, "%s: %s is %s",
				              task->id, task->choice[c].id,
				              grade_name(task->choice[c].grade));
			}
			ck_assert(right == 0 || !is(task->reason[0].id, readings[_i].type));
		}
	}
	for (size_t i = 0; i < 6; i++)
		outcomes += seen[i] > asked / 50;
	printf("%s of the %s book: %zu tests read, %zu work, %zu unproven, %zu no more than 2, %zu "
	       "nothing\n",
	       readings[_i].type, readings[_i].built_in ? "built-in" : "small", asked, seen[0],
	       seen[1], seen[4], seen[5]);
	fflush(stdout);
	ck_assert_uint_eq(outcomes, readings[_i].outcomes);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach_types");
	TCase *types = tcase_create("types");

	tcase_add_unchecked_fixture(types, begin, finish);
	tcase_set_timeout(types, 60);
	tcase_add_test(types, every_type_is_named_by_its_description);
	tcase_add_test(types, two_of_one_description_are_never_together);
	tcase_add_loop_test(types, the_least_gap_is_the_greater_of_the_two, 0,
	                    (int)(sizeof gaps / sizeof *gaps));
	tcase_add_loop_test(types, a_test_says_what_the_rulebook_says, 0,
	                    (int)(sizeof readings / sizeof *readings));
	suite_add_tcase(s, types);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
