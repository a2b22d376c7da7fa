/* The boxes: against a table worked out by hand, and against learning in random order by a learner whose memory is known. */
#include "../src/base/arena_test.h"

#include "tundish/base/random.h"
#include "tundish/teach/boxes.h"

#include "judge_books.h"
#include "suite.h"

#include <check.h>
#include <math.h>
#include <string.h>

static struct boxes *boxes;

static void begin(void)
{
	boxes = boxes_create(&small.book);
	ck_assert_ptr_nonnull(boxes);
}

static void finish(void)
{
	boxes_destroy(boxes);
}

/* -- by hand ----------------------------------------------------------------------------------- */

/* One row, answered on these days; day 100 is the first. Then in which box, and on which day it is due. */
static const struct step {
	const char *title;
	day on;
	enum grade grade;
	unsigned box;
	bool missed;
	day due;
} steps[] = {
        {"right the first time: box 1",                100, GRADE_RIGHT,     1, false, 101},
        {"again the same day: nothing",                100, GRADE_RIGHT,     1, false, 101},
        {"due, right: up",                             101, GRADE_RIGHT,     2, false, 103},
        {"a day early, right: nothing",                102, GRADE_RIGHT,     2, false, 103},
        {"a day early, cautious: nothing",             102, GRADE_CAUTIOUS,  2, false, 103},
        {"due, cautious: stays, counted anew",         103, GRADE_CAUTIOUS,  2, false, 105},
        {"two days late, right: up all the same",      107, GRADE_RIGHT,     3, false, 111},
        {"due, right: up",                             111, GRADE_RIGHT,     4, false, 119},
        {"a year late, right: up all the same",        484, GRADE_RIGHT,     5, false, 500},
        {"due, right: the last box",                   500, GRADE_RIGHT,     5, false, 516},
        {"not answered: nothing",                      516, GRADE_NONE,      5, false, 516},
        {"early, wrong: box 1",                        510, GRADE_WRONG,     1, true,  511},
        {"the same day, right: not missed, but box 1", 510, GRADE_RIGHT,     1, false, 511},
        {"due, right: up",                             511, GRADE_RIGHT,     2, false, 513},
        {"due, dangerous: box 1",                      513, GRADE_DANGEROUS, 1, true,  514},
        {"due, cautious: stays in box 1",              514, GRADE_CAUTIOUS,  1, false, 515},
};

START_TEST(each_answer_moves_the_row_as_the_page_says)
{
	for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
		const struct step *step = &steps[i];
		struct box box;

		boxes_take(boxes, "eb_removed", step->on, step->grade);
		box = boxes_row(boxes, "eb_removed");
		ck_assert_msg(box.box == step->box, "%s: box %d", step->title, box.box);
		ck_assert_msg(box.missed == step->missed, "%s: missed", step->title);
		ck_assert_msg(!box_due(&box, step->due - 1) && box_due(&box, step->due),
		              "%s: due on another day", step->title);
	}
	ck_assert_uint_eq(boxes_row(boxes, "ed_removed").box, BOX_NONE);
}
END_TEST

START_TEST(a_first_answer_that_is_not_right_starts_in_box_1)
{
	boxes_take(boxes, "eb_removed", 100, GRADE_CAUTIOUS);
	boxes_take(boxes, "ed_removed", 100, GRADE_WRONG);
	ck_assert_uint_eq(boxes_row(boxes, "eb_removed").box, 1);
	ck_assert(!boxes_row(boxes, "eb_removed").missed);
	ck_assert_uint_eq(boxes_row(boxes, "ed_removed").box, 1);
	ck_assert(boxes_row(boxes, "ed_removed").missed);
}
END_TEST

START_TEST(what_the_book_does_not_have_is_passed_over)
{
	struct box never;

	boxes_take(boxes, "no_such_row", 100, GRADE_RIGHT);
	never = boxes_row(boxes, "no_such_row");
	ck_assert_uint_eq(never.box, BOX_NONE);
	ck_assert(!box_due(&never, 100000));
	ck_assert_uint_eq(boxes_due(boxes, 100000, NULL, 0), 0);
}
END_TEST

START_TEST(what_was_missed_comes_first_then_the_longest_overdue)
{
	const char *due[3] = {NULL, NULL, NULL};

	boxes_take(boxes, "ed_removed", 99, GRADE_RIGHT); /* due on 100 */
	boxes_take(boxes, "eb_removed", 98, GRADE_RIGHT); /* due on 99 */
	boxes_take(boxes, "ec_failed", 100, GRADE_WRONG); /* due on 101, missed */
	boxes_take(boxes, "EB", 98,
	           GRADE_RIGHT); /* a table; due on 99; before its rows in the book */
	boxes_take(boxes, "db_low", 101, GRADE_RIGHT); /* not due yet */
	ck_assert_uint_eq(boxes_due(boxes, 101, due, 3), 4);
	ck_assert_str_eq(due[0], "ec_failed");
	ck_assert_str_eq(due[1], "EB");
	ck_assert_str_eq(due[2], "eb_removed");
	ck_assert_uint_eq(boxes_due(boxes, 98, due, 3), 0);
}
END_TEST

static const struct progress *topic(const struct progress *list, size_t count, const char *id)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(list[i].topic, id) == 0)
			return &list[i];
	ck_abort_msg("no topic %s", id);
	return NULL;
}

START_TEST(progress_counts_known_shaky_and_unseen_by_topic)
{
	struct arena arena = {0};
	struct progress *list;
	const struct progress *ed, *mixer;
	size_t count;

	for (day on = 100; on < 100 + 1 + 2 + 4 + 8; on++) /* due on 101, 103, 107: box 4 */
		boxes_take(boxes, "ed_removed", on, GRADE_RIGHT);
	boxes_take(boxes, "ED", 110, GRADE_WRONG);
	ck_assert(boxes_progress(boxes, 111, &arena, &list, &count));
	ck_assert_uint_eq(count, small.book.kind_count + small.book.type_count + 1);
	ed = topic(list, count, "ED");
	ck_assert_str_eq(ed->is, "type");
	ck_assert_str_eq(ed->name, "Non-verifiable double check valve");
	ck_assert_uint_eq(ed->rows, 6); /* five rows and the table */
	ck_assert_uint_eq(ed->known, 1);
	ck_assert_uint_eq(ed->shaky, 1);
	ck_assert_uint_eq(ed->unseen, 4);
	ck_assert_uint_eq(ed->due, 1);
	mixer = topic(list, count, "kitchen_mixer");
	ck_assert_str_eq(mixer->is, "kind");
	ck_assert_uint_eq(mixer->rows, 4);
	ck_assert_uint_eq(mixer->unseen, 4);
	ck_assert_uint_eq(topic(list, count, "urgency")->rows, small.book.urgency_count);
	ck_assert_str_eq(topic(list, count, "urgency")->is, "urgency");
	/* `otherwise: ask` of two fluids is two rows to learn, not ten */
	ck_assert_uint_eq(topic(list, count, "other")->rows, 4);
	arena_finish(&arena);
}
END_TEST

START_TEST(without_memory_there_are_no_boxes)
{
	struct boxes *made = NULL;
	long requests = 0;

	for (; !made; requests++) {
		arena_fail_after(requests);
		made = boxes_create(&small.book);
		ck_assert((made == NULL) == (arena_fail_after(-1) == -1));
	}
	ck_assert_int_gt(requests, 10);
	boxes_destroy(made);
}
END_TEST

/* -- a learner whose memory is known -------------------------------------------------------------- */

/*
 * An exponential memory (Ebbinghaus's curve in its simplest form): what was last asked `t` days ago is recalled with
 * probability 2 to the power of -t/h. The half-life h of a row is HALF_LIFE days when the answer was first heard; a right
 * answer on a later day doubles it; a wrong one, after which the answer is heard again, halves it, but never below
 * HALF_LIFE. An answer on the day on which it was heard already changes nothing. Nobody is right by guessing.
 *
 * Mastery: of all rows of the book, 90 of 100 would be recalled tomorrow.
 */
enum { ITEMS_A_DAY = 15, DAYS_MOST = 2000, ROWS_MOST = 256, SEEDS = 20 };

struct memory {
	double half_life; /* 0: never heard */
	day heard;
};

struct learner {
	struct random random;
	const char *row[ROWS_MOST];
	struct memory memory[ROWS_MOST];
	size_t rows;
	double half_life;
};

static double recall(const struct memory *memory, day on)
{
	return memory->half_life > 0 ? exp2(-(double)(on - memory->heard) / memory->half_life) : 0;
}

/* `otherwise: ask` is several rows with one id. */
static void learner_add(struct learner *learner, const char *row)
{
	for (size_t i = 0; i < learner->rows; i++)
		if (strcmp(learner->row[i], row) == 0)
			return;
	ck_assert(learner->rows < ROWS_MOST);
	learner->row[learner->rows++] = row;
}

static void learner_begin(struct learner *learner, uint64_t seed, double half_life)
{
	const struct rulebook *book = &small.book;

	*learner = (struct learner){.half_life = half_life};
	random_seed(&learner->random, seed);
	for (size_t k = 0; k < book->kind_count; k++)
		for (size_t r = 0; r < book->kind[k].row_count; r++)
			learner_add(learner, book->kind[k].row[r].id);
	for (size_t t = 0; t < book->type_count; t++) {
		learner_add(learner, book->type[t].id);
		for (size_t r = 0; r < book->type[t].row_count; r++)
			learner_add(learner, book->type[t].row[r].id);
		for (size_t r = 0; r < book->type[t].series_count; r++)
			learner_add(learner, book->type[t].series[r].row.id);
	}
	for (size_t u = 0; u < book->urgency_count; u++)
		learner_add(learner, book->urgency[u].row.id);
}

static enum grade ask(struct learner *learner, size_t row, day on)
{
	struct memory *memory = &learner->memory[row];
	double drawn = (double)random_below(&learner->random, 1000000) / 1000000;
	bool right = drawn < recall(memory, on);

	if (memory->half_life <= 0)
		memory->half_life = learner->half_life;
	else if (on > memory->heard)
		memory->half_life = right ? memory->half_life * 2
		                    : memory->half_life / 2 > learner->half_life
		                            ? memory->half_life / 2
		                            : learner->half_life;
	memory->heard = on;
	return right ? GRADE_RIGHT : GRADE_WRONG;
}

static bool mastered(const struct learner *learner, day tomorrow)
{
	double sum = 0;

	for (size_t i = 0; i < learner->rows; i++)
		sum += recall(&learner->memory[i], tomorrow);
	return sum >= 0.9 * (double)learner->rows;
}

static size_t row_of(const struct learner *learner, const char *id)
{
	for (size_t i = 0; i < learner->rows; i++)
		if (strcmp(learner->row[i], id) == 0)
			return i;
	ck_abort_msg("no row %s", id);
	return 0;
}

/* What is due, in the order of boxes_due, then what was never asked, in the order of the book. */
static size_t day_by_boxes(struct learner *learner, struct boxes *own, day on)
{
	const char *due[ITEMS_A_DAY];
	size_t count = boxes_due(own, on, due, ITEMS_A_DAY), asked = 0;

	for (; asked < count && asked < ITEMS_A_DAY; asked++)
		boxes_take(own, due[asked], on, ask(learner, row_of(learner, due[asked]), on));
	for (size_t i = 0; i < learner->rows && asked < ITEMS_A_DAY; i++)
		if (boxes_row(own, learner->row[i]).box == BOX_NONE) {
			boxes_take(own, learner->row[i], on, ask(learner, i, on));
			asked++;
		}
	return asked;
}

static size_t day_at_random(struct learner *learner, day on)
{
	size_t order[ROWS_MOST];

	for (size_t i = 0; i < learner->rows; i++)
		order[i] = i;
	random_shuffle(&learner->random, order, learner->rows, sizeof *order);
	for (size_t i = 0; i < ITEMS_A_DAY; i++)
		ask(learner, order[i], on);
	return ITEMS_A_DAY;
}

/* @return the items until mastery. */
static size_t learn(uint64_t seed, double half_life, bool by_boxes, day *days)
{
	struct boxes *own = boxes_create(&small.book);
	struct learner learner;
	size_t items = 0;

	ck_assert_ptr_nonnull(own);
	learner_begin(&learner, seed, half_life);
	for (*days = 0; *days < DAYS_MOST && !mastered(&learner, *days); ++*days)
		items += by_boxes ? day_by_boxes(&learner, own, *days)
		                  : day_at_random(&learner, *days);
	ck_assert_msg(*days < DAYS_MOST, "never mastered, %s", by_boxes ? "boxes" : "random");
	boxes_destroy(own);
	return items;
}

static const double half_lives[] = {1, 2, 4};

START_TEST(by_the_boxes_mastery_takes_fewer_items_than_in_random_order)
{
	double half_life = half_lives[_i];
	size_t boxed = 0, random = 0, fewer = 0;
	day days, all_days[2] = {0, 0};

	for (uint64_t seed = 1; seed <= SEEDS; seed++) {
		size_t one = learn(seed, half_life, true, &days), other;

		all_days[0] += days;
		other = learn(seed, half_life, false, &days);
		all_days[1] += days;
		boxed += one;
		random += other;
		fewer += one < other;
	}
	printf("half-life %.0f: mastery after %zu items and %d days by the boxes, %zu and %d in "
	       "random "
	       "order (mean of %d learners); fewer for %zu of them\n",
	       half_life, boxed / SEEDS, all_days[0] / SEEDS, random / SEEDS, all_days[1] / SEEDS,
	       SEEDS, fewer);
	fflush(stdout);
	ck_assert(fewer == SEEDS);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("teach_boxes");
	TCase *hand = tcase_create("by hand"), *learner = tcase_create("learner");

	tcase_add_unchecked_fixture(hand, read_books, finish_books);
	tcase_add_checked_fixture(hand, begin, finish);
	tcase_add_test(hand, each_answer_moves_the_row_as_the_page_says);
	tcase_add_test(hand, a_first_answer_that_is_not_right_starts_in_box_1);
	tcase_add_test(hand, what_the_book_does_not_have_is_passed_over);
	tcase_add_test(hand, what_was_missed_comes_first_then_the_longest_overdue);
	tcase_add_test(hand, progress_counts_known_shaky_and_unseen_by_topic);
	tcase_add_test(hand, without_memory_there_are_no_boxes);
	suite_add_tcase(s, hand);
	tcase_add_unchecked_fixture(learner, read_books, finish_books);
	tcase_set_timeout(learner, 60);
	tcase_add_loop_test(learner, by_the_boxes_mastery_takes_fewer_items_than_in_random_order, 0,
	                    (int)(sizeof half_lives / sizeof *half_lives));
	suite_add_tcase(s, learner);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
