/* Houses with more pipes than a house has: what is said then, and that it comes to an end. */
#include "tundish/base/sink.h"
#include "tundish/house/verdict.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	ON = 20782, /* 2026-11-25 */
};

static struct rulebook book;
static struct arena arena;

/* One house, and P1 of it as judged. */
static struct survey survey;
static struct judge *judge;
static struct assessment p1;
static struct err err;
static struct sink text;
static struct source source;

static void read_book(void)
{
	const struct source *only = small_book();
	struct faults faults;

	faults_init(&faults, &arena);
	ck_assert(rulebook_read(&book, &only, 1, ON, &faults));
	judge = judge_create(&book);
	ck_assert_ptr_nonnull(judge);
}

static void finish_book(void)
{
	judge_destroy(judge);
	survey_finish(&survey);
	sink_finish(&text);
	rulebook_finish(&book);
	arena_finish(&arena);
}

static void start(void)
{
	sink_finish(&text);
	sink_to_memory(&text);
	sink_text(&text, "tundish: 1\npremises: { parts: [ { ref: flat, use: house } ] }\n"
	                 "supply: { supply_shared: no }\nbranches:\n");
}

static const char ed[] = "type: ED, mark: yes, checks: sound, fitted: 2024";
static const char eb[] = "type: EB, check: sound";

/* A branch, and what stands at its head (NULL: nothing). */
static void branch(const char *ref, int i, const char *from, int f, const char *protection)
{
	sink_print(&text, "- { ref: %s%d, from: %s", ref, i, from);
	if (f >= 0)
		sink_print(&text, "%d", f);
	if (protection)
		sink_print(&text, ", protection: [ { ref: at_%s%d, %s } ]", ref, i, protection);
	sink_text(&text, " }\n");
}

static void names(const char *ref, int count)
{
	sink_text(&text, "[");
	for (int i = 0; i < count; i++)
		sink_print(&text, "%s %s%d", i ? "," : "", ref, i);
	sink_text(&text, " ]");
}

static void rooms(void)
{
	sink_text(&text, "rooms:\n- ref: yard\n  part: flat\n  points:\n");
}

/* An outside tap for watering with nothing fitted: 3 by back siphonage. Fed by names that follow. */
static void tap(void)
{
	sink_text(&text, "  - { ref: P1, kind: outside_tap, answers: { used_for: watering, raised: "
	                 "no, hose_lies_in: no }, inlets: { cold: { protection: nothing, fed_by: ");
}

static void cistern(int i)
{
	sink_print(&text,
	           "  - { ref: C%d, kind: cistern, inlets: { inlet: { protection: nothing, "
	           "fed_by: ",
	           i);
}

static void end_of_point(void)
{
	sink_text(&text, " } } }\n");
}

static void take_up(void)
{
	struct faults faults;

	ck_assert(sink_flush(&text, &err));
	source = (struct source){"survey.yaml", text.bytes, text.count};
	faults_init(&faults, &arena);
	ck_assert_msg(survey_read(&survey, &book, &source, &faults), "%s",
	              faults.count ? fault_text(&faults.item[0], &arena) : "");
}

static bool judged(void)
{
	err = (struct err){0};
	ck_assert(judge_survey(judge, &survey, &err));
	return judge_point(judge, survey_find(&survey, "P1", 2), &p1, &err);
}

static void assert_on_paper(int least, int most)
{
	ck_assert_int_eq(p1.on_paper.least, least);
	ck_assert_int_eq(p1.on_paper.most, most);
}

static bool asks(const char *id)
{
	for (size_t i = 0; i < p1.ask_count; i++)
		if (p1.ask[i].question != QUESTION_NONE &&
		    strcmp(book.question[p1.ask[i].question].id, id) == 0)
			return true;
	return false;
}

/* b0 from b1, b1 from b2 ...: the last from main. */
static void chain(int length, const char *near, const char *last)
{
	start();
	for (int i = 0; i < length; i++)
		branch("b", i, i + 1 < length ? "b" : "main", i + 1 < length ? i + 1 : -1,
		       i + 1 < length ? near : last);
	rooms();
	tap();
	sink_text(&text, "b0");
	end_of_point();
	take_up();
}

START_TEST(what_stands_far_up_counts)
{
	chain(40, eb, ed);
	ck_assert(judged());
	assert_on_paper(0, 0);
}
END_TEST

START_TEST(what_stands_further_than_can_be_followed_is_said)
{
	chain(80, eb, ed);
	ck_assert(!judged());
	ck_assert_str_eq(err.message, "'P1': its water comes by more ways or past more protection than can be followed");
	ck_assert_int_eq(p1.verdict, VERDICT_UNDECIDED);
	assert_on_paper(0, 4);
}
END_TEST

/* Checks in a row on the branch that feeds the tap. */
static void row_of_checks(int count)
{
	start();
	sink_text(&text, "- { ref: b0, from: main, protection: [");
	for (int i = 0; i < count; i++)
		sink_print(&text, "%s { ref: d%d, %s }", i ? "," : "", i, ed);
	sink_text(&text, " ] }\n");
	rooms();
	tap();
	sink_text(&text, "b0");
	end_of_point();
	take_up();
}

START_TEST(what_stands_in_a_long_row_counts)
{
	row_of_checks(200);
	ck_assert(judged());
	assert_on_paper(0, 0);
}
END_TEST

START_TEST(a_longer_row_is_said)
{
	row_of_checks(20000);
	ck_assert(!judged());
	ck_assert_ptr_nonnull(strstr(err.message, "past more protection than can be followed"));
	ck_assert_int_eq(p1.verdict, VERDICT_UNDECIDED);
	assert_on_paper(0, 4);
}
END_TEST

/* Each further up in the file's order than the one before: deep for whoever recurses. */
START_TEST(a_long_chain_of_branches_needs_no_stack)
{
	chain(60000, NULL, NULL);
	ck_assert(judged());
	assert_on_paper(2, 2);
}
END_TEST

START_TEST(a_longer_one_is_said)
{
	chain(150000, NULL, NULL);
	ck_assert(!judged());
	ck_assert_str_eq(err.message, "'P1': its water comes by more ways or past more protection than can be followed");
}
END_TEST

/* One of many: all with the device that would do, but the last. */
static void one_of(int count)
{
	start();
	for (int i = 0; i < count; i++)
		branch("b", i, "main", -1, i + 1 < count ? ed : eb);
	rooms();
	tap();
	names("b", count);
	end_of_point();
	take_up();
}

START_TEST(each_of_many_named_pipes_counts)
{
	one_of(20);
	ck_assert(judged());
	assert_on_paper(0, 1);
	one_of(64);
	ck_assert(judged());
	assert_on_paper(0, 1);
}
END_TEST

START_TEST(more_names_than_can_be_followed_are_said)
{
	one_of(65);
	ck_assert(!judged());
	ck_assert_str_eq(err.message, "'P1': its water comes by more ways or past more protection than can be followed");
	ck_assert_int_eq(p1.verdict, VERDICT_UNDECIDED);
	assert_on_paper(0, 4);
}
END_TEST

/* Any of them, or the supply pipe: nobody said which. */
static void one_of_all(int count)
{
	start();
	for (int i = 0; i < count; i++)
		branch("b", i, "main", -1, ed);
	rooms();
	tap();
	sink_text(&text, "cannot_tell");
	end_of_point();
	take_up();
}

START_TEST(each_of_many_pipes_that_could_feed_it_counts)
{
	one_of_all(63);
	ck_assert(judged());
	assert_on_paper(0, 2);
}
END_TEST

/* What any of them is worth is not looked at: nothing stands on the supply pipe. */
START_TEST(of_more_than_can_be_tried_it_counts_as_on_the_supply_pipe)
{
	struct change unsaid = {"P1/inlets/cold/fed_by", "cannot_tell", NULL};

	one_of_all(64);
	ck_assert(judged());
	assert_on_paper(2, 2);
	ck_assert(survey_apply(&survey, &unsaid, &err));
	ck_assert(judged());
	assert_on_paper(2, 2);
	ck_assert(asks("fed_by"));
}
END_TEST

/* A mixer with both inlets fed by one of so many pipes, all with the same device; or @p unsaid. */
static void mixer(int count, const char *unsaid)
{
	start();
	for (int i = 0; i < count; i++)
		branch("b", i, "main", -1, ed);
	rooms();
	sink_text(&text, "  - { ref: P1, kind: kitchen_mixer, inlets: { ");
	for (int i = 0; i < 2; i++) {
		sink_text(&text, i ? " }, hot: { " : "cold: { ");
		sink_text(&text, "protection: nothing, fed_by: ");
		if (unsaid)
			sink_text(&text, unsaid);
		else
			names("b", count);
	}
	end_of_point();
	take_up();
}

START_TEST(more_combinations_of_named_pipes_than_can_be_tried_are_said)
{
	mixer(8, NULL);
	ck_assert(judged());
	mixer(9, NULL);
	ck_assert(!judged());
	ck_assert_str_eq(err.message, "'P1': its water comes by more ways or past more protection than can be followed");
}
END_TEST

/* With the supply pipe 8 and 9 that could: then the first inlet counts as on it. */
START_TEST(of_more_combinations_than_can_be_tried_the_first_inlet_is_on_the_supply_pipe)
{
	struct range accepted[2][2];

	for (int i = 0; i < 2; i++) {
		mixer(7 + i, "cannot_tell");
		ck_assert(judged());
		for (size_t p = 0; p < p1.path_count; p++)
			accepted[i][p1.path[p].inlet_index] = p1.path[p].accepted;
	}
	ck_assert_int_eq(accepted[0][0].most, 3);
	ck_assert_int_eq(accepted[0][1].most, 3);
	ck_assert_int_eq(accepted[1][0].most, 1);
	ck_assert_int_eq(accepted[1][1].most, 3);
}
END_TEST

START_TEST(more_pipes_and_parts_than_can_be_kept_are_said)
{
	enum { PARTS = 2000, PIPES = 2000 }; /* and the supply pipe, and what belongs to no part */

	sink_finish(&text);
	sink_to_memory(&text);
	sink_text(&text, "tundish: 1\npremises:\n  parts:\n");
	for (int i = 0; i < PARTS; i++)
		sink_print(&text, "  - { ref: part%d, use: house }\n", i);
	sink_text(&text, "branches:\n");
	for (int i = 0; i < PIPES; i++)
		branch("b", i, "main", -1, NULL);
	take_up();
	ck_assert(!judge_survey(judge, &survey, &err));
	ck_assert_int_eq(err.kind, ERR_TEXT);
	ck_assert_str_eq(err.message, "2000 branches, and points that they come from, for 2000 "
	                              "parts: more than can be followed");
}
END_TEST

START_TEST(of_a_cistern_on_the_way_it_is_said)
{
	start();
	for (int i = 0; i < 65; i++)
		branch("b", i, "main", -1, NULL);
	branch("loft", 0, "C", 0, NULL);
	rooms();
	tap();
	sink_text(&text, "loft0");
	end_of_point();
	cistern(0);
	names("b", 65);
	end_of_point();
	take_up();
	ck_assert(!judged());
	ck_assert_int_eq(err.kind, ERR_TEXT);
}
END_TEST

/* One after the other, each fed by one of so many pipes from the next. */
static void cisterns(int count, int pipes, const char *protection)
{
	char pipe[16];

	start();
	for (int c = 0; c < count; c++)
		for (int i = 0; i < pipes; i++) {
			snprintf(pipe, sizeof(pipe), "b%d_", c);
			branch(pipe, i, "C", c, protection);
		}
	rooms();
	tap();
	sink_text(&text, "b0_0");
	end_of_point();
	for (int c = 0; c < count; c++) {
		snprintf(pipe, sizeof(pipe), "b%d_", c + 1);
		cistern(c);
		if (c + 1 < count)
			names(pipe, pipes);
		else
			sink_text(&text, "main");
		end_of_point();
	}
	take_up();
}

START_TEST(ways_that_multiply_come_to_an_end)
{
	cisterns(8, 16, NULL); /* 16^7 */
	ck_assert(!judged());
	ck_assert_str_eq(err.message, "'P1': its water comes by more ways or past more protection than can be followed");
}
END_TEST

/* Two pipes into each cistern but the last. */
START_TEST(ways_past_different_protection_are_counted)
{
	cisterns(6, 2, ed); /* 32 */
	ck_assert(judged());
	assert_on_paper(0, 0);
	cisterns(7, 2, ed);
	ck_assert(!judged());
	ck_assert_str_eq(err.message, "'P1': its water comes by more ways or past more protection than can be followed");
	ck_assert_int_eq(p1.verdict, VERDICT_UNDECIDED);
}
END_TEST

/* A loop that the reader refuses; while a survey is written there may be one. */
START_TEST(a_loop_counts_as_fed_by_the_supply_where_it_closes)
{
	struct change loop = {"C0/inlets/inlet/fed_by", "main", "loft0"};

	start();
	branch("loft", 0, "C", 0, NULL);
	rooms();
	tap();
	sink_text(&text, "loft0");
	end_of_point();
	cistern(0);
	sink_text(&text, "main");
	end_of_point();
	take_up();
	ck_assert(judged());
	assert_on_paper(2, 2);
	ck_assert(survey_apply(&survey, &loop, &err));
	ck_assert(judged());
	assert_on_paper(2, 2);
}
END_TEST

/* What comes from P1 over one of three pipes comes from P1: it is none that could feed it. */
START_TEST(no_point_is_fed_by_what_comes_from_it_over_one_of_several)
{
	start();
	branch("own", 0, "P1", -1, NULL);
	branch("other", 0, "main", -1, NULL);
	branch("other", 1, "main", -1, NULL);
	branch("far", 0, "C", 0, ed);
	rooms();
	sink_text(&text, "  - { ref: P1, kind: cistern, inlets: { inlet: { protection: nothing } } "
	                 "}\n");
	cistern(0);
	sink_text(&text, "[ other0, own0, other1 ]");
	end_of_point();
	take_up();
	ck_assert(judged());
	ck_assert(!asks("fed_by"));
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("judge_far");
	TCase *tcase = tcase_create("far");

	tcase_set_timeout(tcase, 60);
	tcase_add_checked_fixture(tcase, read_book, finish_book);
	tcase_add_test(tcase, what_stands_far_up_counts);
	tcase_add_test(tcase, what_stands_further_than_can_be_followed_is_said);
	tcase_add_test(tcase, what_stands_in_a_long_row_counts);
	tcase_add_test(tcase, a_longer_row_is_said);
	tcase_add_test(tcase, a_long_chain_of_branches_needs_no_stack);
	tcase_add_test(tcase, a_longer_one_is_said);
	tcase_add_test(tcase, each_of_many_named_pipes_counts);
	tcase_add_test(tcase, more_names_than_can_be_followed_are_said);
	tcase_add_test(tcase, each_of_many_pipes_that_could_feed_it_counts);
	tcase_add_test(tcase, more_combinations_of_named_pipes_than_can_be_tried_are_said);
	tcase_add_test(
	        tcase,
	        of_more_combinations_than_can_be_tried_the_first_inlet_is_on_the_supply_pipe);
	tcase_add_test(tcase, more_pipes_and_parts_than_can_be_kept_are_said);
	tcase_add_test(tcase, of_more_than_can_be_tried_it_counts_as_on_the_supply_pipe);
	tcase_add_test(tcase, of_a_cistern_on_the_way_it_is_said);
	tcase_add_test(tcase, ways_that_multiply_come_to_an_end);
	tcase_add_test(tcase, ways_past_different_protection_are_counted);
	tcase_add_test(tcase, a_loop_counts_as_fed_by_the_supply_where_it_closes);
	tcase_add_test(tcase, no_point_is_fed_by_what_comes_from_it_over_one_of_several);
	suite_add_tcase(s, tcase);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
