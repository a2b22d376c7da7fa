#include "tundish/store/quiz_read.h"

#include "../src/base/arena_test.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct arena arena;
static struct faults faults;
static struct quiz_file file;
static struct source source;

static void setup(void)
{
	arena_init(&arena);
	faults_init(&faults, &arena);
	memset(&file, 0, sizeof(file));
}

static void teardown(void)
{
	quiz_file_finish(&file);
	arena_finish(&arena);
}

static bool read_quiz(const char *text)
{
	source = (struct source){"q.yaml", text, strlen(text)};
	return quiz_read(&file, &source, &faults);
}

static const char *all_faults(void)
{
	const char *text = "";

	faults_sort(&faults);
	for (size_t i = 0; i < faults.count; i++)
		text = arena_print(&arena, "%s%s", text, fault_text(&faults.item[i], &arena));
	return text;
}

/* -- faults ---------------------------------------------------------------------------------- */

#define TOP "quiz: 1\nref: q\n"
#define QUESTION(...)                                                                              \
	TOP "questions:\n  - { id: a, ask: What?, because: So it is., " __VA_ARGS__ " }\n"
#define CHOICES           "choices: [ { id: x, text: X, right: yes }, { id: y, text: Y } ]"
#define WITH_CHOICE(more) QUESTION("choices: [ { id: x, text: X, right: yes }, { " more " } ]")

/* clang-format off */
static const struct {
	const char *title, *text, *says; /* what is said, from its place on */
} bad[] = {
	{"nothing", "", "q.yaml: this says nothing: a quiz file begins with `quiz: 1`"},
	{"comments alone", "# later\n", "q.yaml: this says nothing"},
	{"no YAML", "quiz: [1\n", "q.yaml:1:7: not YAML: this `[` is never closed"},
	{"an alias", TOP "title: *x\n", "q.yaml:3:8: an alias (`*x`)"},
	{"a key twice", TOP "quiz: 1\n", "q.yaml:3:1: the key `quiz` stands here twice: first on line 1"},
	{"a list", "- quiz: 1\n", "q.yaml:1:1: a quiz file is a map"},
	{"no version", "ref: q\n", "q.yaml: this does not say `quiz: 1`: is it a quiz file?"},
	{"a version in words", "quiz: one\nref: q\n", "q.yaml:1:7: `quiz` says the format of the file: 1"},
	{"a version that is none", "quiz: 0\nref: q\n", "q.yaml:1:7: `quiz` says the format"},
	{"a version that is a list", "quiz: [1]\nref: q\n", "q.yaml:1:7: `quiz` says the format"},
	{"a version from the future", "quiz: 2\nrefs: [q]\n",
	 "q.yaml:1:7: format 2 is from a newer tundish: this one reads format 1 and leaves the file alone"},
	{"no ref", "quiz: 1\n", "q.yaml:1:1: a quiz file needs `ref`"},
	{"a ref with blanks", "quiz: 1\nref: my quiz\n", "q.yaml:2:6: `ref` is made of letters, 0-9, _ and -: `my quiz` is not"},
	{"a ref that is a list", "quiz: 1\nref: [q]\n", "q.yaml:2:6: `ref` is one text"},
	{"a title that is a map", TOP "title: { a: b }\n", "q.yaml:3:8: `title` is one text"},

	{"both a survey and what is invented", TOP "survey: a.yaml\ninvent: { rooms: 3 }\n",
	 "q.yaml:4:9: a quiz is about a `survey` or about what it lets `invent`, not both"},
	{"what is invented is no map", TOP "invent: yes\n", "q.yaml:3:9: `invent` is a map"},
	{"no rooms", TOP "invent: { rooms: 0 }\n", "q.yaml:3:18: `rooms` is a whole number, 1 to 200"},
	{"too many points", TOP "invent: { points: 2001 }\n", "q.yaml:3:19: `points` is a whole number, 1 to 2000"},
	{"a level above all", TOP "invent: { level: 5 }\n", "q.yaml:3:18: `level` is a whole number, 1 to 4"},
	{"half a room", TOP "invent: { rooms: 1.5 }\n", "q.yaml:3:18: `rooms` is a whole number"},
	{"points of a house that nobody knows", TOP "points: [K1]\n",
	 "q.yaml:3:9: `points` are of a `survey`, or of a house invented from a fixed `seed`"},

	{"a month", TOP "on: 2026-11\n", "q.yaml:3:5: `on` is a day, such as 2026-11-25"},
	{"a day that is none", TOP "on: 2026-02-30\n", "q.yaml:3:5: `on` is a day"},
	{"a seed in words", TOP "seed: seven\n", "q.yaml:3:7: `seed` is a whole number, 0 to 18446744073709551615"},
	{"a seed below nothing", TOP "seed: -1\n", "q.yaml:3:7: `seed` is a whole number"},
	{"a seed that others take for eight", TOP "seed: 010\n", "q.yaml:3:7: `seed` is a whole number"},
	{"a seed past all", TOP "seed: 18446744073709551616\n", "q.yaml:3:7: `seed` is a whole number"},
	{"a seed that is a list", TOP "seed: [7]\n", "q.yaml:3:7: `seed` is a whole number"},
	{"no such mode", TOP "mode: exams\n", "q.yaml:3:7: `exams` is no mode: did you mean `exam`?"},
	{"a mode that is a list", TOP "mode: [exam]\n", "q.yaml:3:7: mode is one word"},
	{"a mark that nobody misses", TOP "pass_percent: 0\n", "q.yaml:3:15: `pass_percent` is a whole number, 1 to 100"},
	{"a mark that nobody reaches", TOP "pass_percent: 101\n", "q.yaml:3:15: `pass_percent` is a whole number, 1 to 100"},
	{"a mark with a sign", TOP "pass_percent: 70%\n", "q.yaml:3:15: `pass_percent` is a whole number"},
	{"no minutes", TOP "minutes: 0\n", "q.yaml:3:10: `minutes` is a whole number, 1 to 600"},
	{"too many minutes", TOP "minutes: 601\n", "q.yaml:3:10: `minutes` is a whole number, 1 to 600"},
	{"nothing to ask", TOP "count: 0\n", "q.yaml:3:8: `count` is a whole number, 1 to 1000"},
	{"too much to ask", TOP "count: 1001\n", "q.yaml:3:8: `count` is a whole number, 1 to 1000"},
	{"a mode like none", TOP "mode: test\n", "q.yaml:3:7: `test` is no mode: expected `practice`, `exam`"},
	{"no such family", TOP "ask: [catgory]\n", "q.yaml:3:7: `catgory` is no family of tasks: did you mean `category`?"},
	{"a family twice", TOP "ask: [gap, type, gap]\n", "q.yaml:3:18: `gap` is there twice"},
	{"no family", TOP "ask: []\n", "q.yaml:3:6: `ask` is empty: leave it out where all is to be asked"},
	{"a family alone", TOP "ask: gap\n", "q.yaml:3:6: `ask` is a list"},
	{"a family that is a map", TOP "ask: [ { gap: yes } ]\n", "q.yaml:3:8: family of tasks is one word"},
	{"a point twice", TOP "survey: s.yaml\npoints: [K1, K2, K1]\n", "q.yaml:4:18: `K1` is there twice"},
	{"with a list", TOP "with: [[EB]]\n", "q.yaml:3:8: `with` is a list of names"},
	{"with a word", TOP "with: EB\n", "q.yaml:3:7: `with` is a list"},

	{"questions are no list", TOP "questions: { id: a }\n", "q.yaml:3:12: `questions` is a list"},
	{"a question is no map", TOP "questions: [ What? ]\n", "q.yaml:3:14: a question is a map"},
	{"a question without an id", TOP "questions:\n  - { ask: What?, because: So it is., " CHOICES " }\n",
	 "q.yaml:4:5: a question needs `id`"},
	{"a question without words", TOP "questions:\n  - { id: a, because: So it is., " CHOICES " }\n",
	 "q.yaml:4:5: the question `a` has no `ask`: its words"},
	{"two questions of one id", TOP "questions:\n  - { id: a, ask: What?, because: So., " CHOICES " }\n"
	 "  - { id: a, ask: When?, because: So., " CHOICES " }\n", "q.yaml:5:11: the question `a` is there twice"},
	{"no choices", QUESTION("x-a: b"), "q.yaml:4:5: the question `a` has 0 choices: 2 to 20 can be"},
	{"one choice", QUESTION("choices: [ { id: x, text: X, right: yes } ]"), "q.yaml:4:55: the question `a` has 1 choices"},
	{"no right answer", QUESTION("choices: [ { id: x, text: X }, { id: y, text: Y } ]"),
	 "q.yaml:4:55: the question `a` has no right answer: one choice says `right: yes`"},
	{"no right answer, as all say", QUESTION("choices: [ { id: x, text: X, right: no }, { id: y, text: Y, right: no } ]"),
	 "q.yaml:4:55: the question `a` has no right answer"},
	{"two right answers", QUESTION("choices: [ { id: x, text: X, right: yes }, { id: y, text: Y, right: yes } ]"),
	 "q.yaml:4:55: the question `a` has 2 right answers: one choice alone says `right: yes`"},
	{"right, perhaps", WITH_CHOICE("id: y, text: Y, right: maybe"), "q.yaml:4:114: `right` is yes or no"},
	{"a choice that is a word", QUESTION("choices: [ { id: x, text: X, right: yes }, y ]"), "q.yaml:4:89: a choice is a map"},
	{"a choice without an id", WITH_CHOICE("text: Y"), "q.yaml:4:89: a choice needs `id`"},
	{"a choice without a text", WITH_CHOICE("id: y"), "q.yaml:4:89: a choice needs `text`"},
	{"a choice twice", WITH_CHOICE("id: x, text: Y"), "q.yaml:4:95: the choice `x` is there twice"},
	{"a text twice", WITH_CHOICE("id: y, text: X"), "q.yaml:4:104: two choices of `a` say the same"},
	{"no such grade", WITH_CHOICE("id: y, text: Y, grade: dangerus"),
	 "q.yaml:4:114: `dangerus` is no grade of a choice that is not right: did you mean `dangerous`?"},
	{"a grade that `right` gives", WITH_CHOICE("id: y, text: Y, grade: right"), "q.yaml:4:114: `right` is no grade of a choice"},
	{"right and wrong", QUESTION("choices: [ { id: x, text: X, right: yes, grade: wrong }, { id: y, text: Y } ]"),
	 "q.yaml:4:94: what is right has no other grade"},
	{"no reason", TOP "questions:\n  - { id: a, ask: What?, " CHOICES " }\n",
	 "q.yaml:4:5: the question `a` has no reason: `because` says why the right answer is right"},
	{"an empty reason", TOP "questions:\n  - { id: a, ask: What?, because: '', " CHOICES " }\n",
	 "q.yaml:4:5: the question `a` has no reason"},
	{"a reason that is the answer", TOP "questions:\n  - { id: a, ask: What?, because: X, " CHOICES " }\n",
	 "q.yaml:4:35: the reason of `a` says no more than its right answer"},
	{"a reason that is the answer, but for its looks", TOP "questions:\n  - { id: a, ask: What?, because: ' x. ', " CHOICES " }\n",
	 "q.yaml:4:35: the reason of `a` says no more than its right answer"},
	{"no such standing", QUESTION(CHOICES ", source: A book, standing: publishd"),
	 "q.yaml:4:137: `publishd` is no standing: did you mean `published`?"},
	{"published nowhere", QUESTION(CHOICES ", standing: published"),
	 "q.yaml:4:121: what is published has a `source`: document, edition, clause"},
	{"common practice with a source", QUESTION(CHOICES ", source: A book, standing: common practice"),
	 "q.yaml:4:119: common practice has `no source`: with one it is published or memory"},
	{"a number beside choices", QUESTION(CHOICES ", number: { right: 20, least: 0, most: 50 }"),
	 "q.yaml:4:119: the question `a` has `choices` or a `number`, not both"},
	{"a number that is none", QUESTION("number: 20"), "q.yaml:4:54: `number` is a map"},
	{"nothing that is right", QUESTION("number: { least: 0, most: 50 }"), "q.yaml:4:54: a number needs `right`"},
	{"no least", QUESTION("number: { right: 20, most: 50 }"), "q.yaml:4:54: a number needs `least`"},
	{"no most", QUESTION("number: { right: 20, least: 0 }"), "q.yaml:4:54: a number needs `most`"},
	{"a number in words", QUESTION("number: { right: twenty, least: 0, most: 50 }"),
	 "q.yaml:4:63: `right` is a number, such as 20 or 0.5"},
	{"a number with a unit", QUESTION("number: { right: 20 mm, least: 0, most: 50 }"), "q.yaml:4:63: `right` is a number"},
	{"a number that is a list", QUESTION("number: { right: [20], least: 0, most: 50 }"), "q.yaml:4:63: `right` is a number"},
	{"no such unit", QUESTION("number: { unit: bars, right: 20, least: 0, most: 50 }"), "q.yaml:4:62: `bars` is no unit: did you mean `bar`?"},
	{"right past all", QUESTION("number: { right: 51, least: 0, most: 50 }"), "q.yaml:4:63: `right` is not between `least` and `most`"},
	{"right below all", QUESTION("number: { right: -1, least: 0, most: 50 }"), "q.yaml:4:63: `right` is not between"},
	{"the wrong way round", QUESTION("number: { right: 20, least: 50, most: 0 }"), "q.yaml:4:84: `most` is more than `least`"},
	{"a reason that is the number", TOP "questions:\n  - { id: a, ask: What?, because: 20, number: { right: 20, least: 0, most: 50 } }\n",
	 "q.yaml:4:35: the reason of `a` says no more than its right answer"},
	{"a point of no known house", QUESTION(CHOICES ", point: K1"),
	 "q.yaml:4:118: a `point` is of a `survey`, or of a house invented from a fixed `seed`"},
	{"points that are several", TOP "survey: s.yaml\nquestions:\n  - { id: a, ask: What?, because: So., point: [K1, K2], " CHOICES " }\n",
	 "q.yaml:5:47: `point` is one text"},
	{"a line that is a list", QUESTION(CHOICES ", shows: [ [a] ]"), "q.yaml:4:120: `shows` is a list of lines"},
};
/* clang-format on */

START_TEST(refused)
{
	ck_assert_msg(!read_quiz(bad[_i].text), "%s: was read", bad[_i].title);
	const char *said = all_faults();
	ck_assert_msg(strncmp(said, bad[_i].says, strlen(bad[_i].says)) == 0,
	              "%s\nexpected: %s\nsaid: %s", bad[_i].title, bad[_i].says, said);
	ck_assert_msg(faults.fatal == 1, "%s: %zu faults\n%s", bad[_i].title, faults.fatal, said);
}
END_TEST

static const struct {
	const char *title, *text, *says;
} noticed[] = {
        {"a key",         TOP "tilte: x\n",
         "q.yaml:3:1: notice: `tilte` is no key of a quiz file: did you mean `title`?"        },
        {"of invented",   TOP "invent: { room: 3 }\n",
         "q.yaml:3:11: notice: `room` is no key of `invent`: did you mean `rooms`?"           },
        {"of a question", QUESTION("asks: x, " CHOICES),
         "q.yaml:4:46: notice: `asks` is no key of a question: did you mean `ask`?"           },
        {"of a number",   QUESTION("number: { right: 2, least: 0, most: 5, units: mm }"),
         "q.yaml:4:85: notice: `units` is no key of `number`: did you mean `unit`?"           },
        {"of a choice",   WITH_CHOICE("id: y, text: Y, rigth: no"),
         "q.yaml:4:107: notice: `rigth` is no key of a choice: did you mean `right`?"         },
        {"one of theirs", TOP "x-room: 4\ninvent: { x-a: 1 }\n",                          NULL},
};

START_TEST(unknown_keys)
{
	ck_assert_msg(read_quiz(noticed[_i].text), "%s: %s", noticed[_i].title, all_faults());
	ck_assert_uint_eq(faults.count, noticed[_i].says ? 1 : 0);
	if (noticed[_i].says)
		ck_assert_msg(strncmp(all_faults(), noticed[_i].says, strlen(noticed[_i].says)) ==
		                      0,
		              "%s: %s", noticed[_i].title, all_faults());
}
END_TEST

START_TEST(all_is_said_at_once)
{
	ck_assert(!read_quiz(
	        "quiz: 1\nmode: x\nminutes: y\nquestions:\n  - { id: a }\n  - { ask: b }\n"));
	/* ref, mode, minutes; of `a` ask, choices, because; of the other id, choices, because */
	ck_assert_msg(faults.fatal == 9, "%s", all_faults());
}
END_TEST

/* -- what is read ---------------------------------------------------------------------------- */

START_TEST(everything)
{
	const struct quiz_plan *plan = &file.plan;

	ck_assert_msg(
	        read_quiz("quiz: 1\n"
	                  "ref: spring_course\n"
	                  "title: Spring course, second evening\n"
	                  "survey: salon_with_flat.yaml\n"
	                  "on: 2026-11-25\n"
	                  "seed: 18446744073709551615\n"
	                  "mode: exam\n"
	                  "pass_percent: 70\n"
	                  "minutes: 20\n"
	                  "ask: [category, own]\n"
	                  "points: [K1, S2]\n"
	                  "with: [EB, kitchen_mixer]\n"
	                  "count: 20\n"
	                  "questions:\n"
	                  "  - id: own_meter\n"
	                  "    ask: What do you do first?\n"
	                  "    shows: [The shop is open., The valve turns.]\n"
	                  "    choices:\n"
	                  "      - { id: tell, text: Tell everybody on it., right: yes }\n"
	                  "      - { id: shut, text: Shut it., grade: dangerous }\n"
	                  "      - { id: wait, text: Wait for the evening., grade: cautious }\n"
	                  "      - { id: go, text: Go home., last: yes }\n"
	                  "    because: Somebody may be rinsing bleach off.\n"
	                  "    source: no source\n"),
	        "%s", all_faults());
	ck_assert_uint_eq(faults.count, 0);
	ck_assert_str_eq(file.ref, "spring_course");
	ck_assert_str_eq(file.title, "Spring course, second evening");
	ck_assert_str_eq(file.survey, "salon_with_flat.yaml");
	ck_assert(file.has_on && file.has_seed && file.exam);
	ck_assert_int_eq(file.on, date_day(2026, 11, 25));
	ck_assert_uint_eq(plan->seed, UINT64_MAX);
	ck_assert_uint_eq(file.pass_percent, 70);
	ck_assert_uint_eq(file.minutes, 20);
	ck_assert_uint_eq(plan->families, 1u << FAMILY_CATEGORY | 1u << FAMILY_OWN);
	ck_assert_uint_eq(plan->point_count, 2);
	ck_assert_str_eq(plan->point[1], "S2");
	ck_assert_uint_eq(plan->with_count, 2);
	ck_assert_str_eq(plan->with[0], "EB");
	ck_assert_uint_eq(file.with_span[1].length, strlen("kitchen_mixer"));
	ck_assert_uint_eq(plan->count, 20);
	ck_assert_uint_eq(plan->own_count, 1);

	const struct task *task = plan->own;
	ck_assert_int_eq(task->family, FAMILY_OWN);
	ck_assert_str_eq(task->id, "own_meter");
	ck_assert_str_eq(task->asks, "What do you do first?");
	ck_assert_uint_eq(task->shown_count, 2);
	ck_assert_str_eq(task->shown[1], "The valve turns.");
	ck_assert_int_eq(task_grade(task, "tell"), GRADE_RIGHT);
	ck_assert_int_eq(task_grade(task, "shut"), GRADE_DANGEROUS);
	ck_assert_int_eq(task_grade(task, "wait"), GRADE_CAUTIOUS);
	ck_assert_int_eq(task_grade(task, "go"), GRADE_WRONG);
	ck_assert_uint_eq(task->reason_count, 1);
	ck_assert_str_eq(task->reason->says, "Somebody may be rinsing bleach off.");
	ck_assert_ptr_null(task->reason->source);
	ck_assert_int_eq(task->reason->standing, STANDING_COMMON_PRACTICE);
	ck_assert_ptr_null(task->topic);
	ck_assert_ptr_null(task->reason->id);
	ck_assert(!task->in_order && task->choice[3].last && !task->choice[0].last);
}
END_TEST

START_TEST(an_order_that_stays)
{
	ck_assert_msg(read_quiz(QUESTION(CHOICES ", in_order: yes")), "%s", all_faults());
	ck_assert_uint_eq(faults.count, 0);
	ck_assert(file.plan.own->in_order);
}
END_TEST

START_TEST(a_number_about_a_point)
{
	ck_assert_msg(
	        read_quiz(TOP
	                  "survey: s.yaml\nquestions:\n"
	                  "  - { id: a, ask: What?, because: So., " CHOICES " }\n"
	                  "  - { id: b, ask: How high?, because: The bore is 15 mm., point: K1,\n"
	                  "      number: { unit: mm, right: 20.5, least: -10, most: 500 } }\n"),
	        "%s", all_faults());
	ck_assert_uint_eq(faults.count, 0);
	ck_assert_uint_eq(file.plan.own_count, 2);
	ck_assert_ptr_null(file.plan.own_point[0]);
	ck_assert_str_eq(file.plan.own_point[1], "K1");
	ck_assert_uint_eq(file.own_point_span[1].length, 2);

	const struct task *task = &file.plan.own[1];
	ck_assert_uint_eq(task->choice_count, 0);
	ck_assert_str_eq(task->unit, "mm");
	ck_assert_int_eq(task_grade(task, "20.5"), GRADE_RIGHT);
	ck_assert_int_eq(task_grade(task, "2.05 cm"), GRADE_RIGHT);
	ck_assert_int_eq(task_grade(task, "-10"), GRADE_DANGEROUS);
	ck_assert_int_eq(task_grade(task, "500"), GRADE_CAUTIOUS);
	ck_assert_int_eq(task_grade(task, "501"), GRADE_NONE);
	ck_assert_int_eq(task_grade(task, "-11"), GRADE_NONE);
}
END_TEST

START_TEST(nothing_but_its_name)
{
	ck_assert_msg(read_quiz(TOP), "%s", all_faults());
	ck_assert(!file.has_on && !file.has_seed && !file.exam && !file.survey && !file.title);
	ck_assert_uint_eq(file.pass_percent + file.minutes + file.level + file.rooms, 0);
	ck_assert_uint_eq(file.plan.families, FAMILIES_ALL);
	ck_assert_uint_eq(file.plan.count + file.plan.own_count + file.plan.with_count, 0);
}
END_TEST

START_TEST(what_is_invented)
{
	ck_assert_msg(
	        read_quiz(TOP
	                  "invent: { rooms: 4, points: 8, premises: terraced_house, level: 2 }\n"
	                  "seed: 7\npoints: [P1]\n"),
	        "%s", all_faults());
	ck_assert_uint_eq(file.rooms, 4);
	ck_assert_uint_eq(file.points, 8);
	ck_assert_uint_eq(file.level, 2);
	ck_assert_str_eq(file.premises, "terraced_house");
	ck_assert_ptr_null(file.survey);
}
END_TEST

static const struct {
	const char *title, *more, *source;
	enum standing standing;
} sources[] = {
        {"nothing said",       "",                                               NULL,     STANDING_COMMON_PRACTICE},
        {"no source",          ", source: no source",                            NULL,     STANDING_COMMON_PRACTICE},
        {"no source, said so", ", source: no source, standing: common practice", NULL,
         STANDING_COMMON_PRACTICE                                                                                  },
        {"a source alone",     ", source: A book",                               "A book", STANDING_MEMORY         },
        {"published",          ", source: A book, standing: published",          "A book", STANDING_PUBLISHED      },
        {"from memory",        ", source: A book, standing: memory",             "A book", STANDING_MEMORY         },
};

START_TEST(where_a_reason_comes_from)
{
	const char *text = arena_print(&arena, QUESTION(CHOICES "%s"), sources[_i].more);

	ck_assert_msg(read_quiz(text), "%s: %s", sources[_i].title, all_faults());
	const struct reason *reason = file.plan.own->reason;
	ck_assert_msg(reason->standing == sources[_i].standing, "%s", sources[_i].title);
	ck_assert_msg(!reason->source == !sources[_i].source, "%s", sources[_i].title);
	if (reason->source)
		ck_assert_str_eq(reason->source, sources[_i].source);
}
END_TEST

/* -- what it names --------------------------------------------------------------------------- */

static struct rulebook book;
static struct survey survey;
static struct source survey_text;

static void setup_names(void)
{
	static const char text[] = "tundish: 1\nrooms:\n  - ref: kitchen\n    points:\n      - { "
	                           "ref: K1, kind: kitchen_mixer }\n"
	                           "      - { ref: K2, kind: kitchen_mixer }\n";
	const struct source *texts[] = {small_book()};

	setup();
	survey_text = (struct source){"s.yaml", text, sizeof(text) - 1};
	memset(&survey, 0, sizeof(survey));
	ck_assert_msg(rulebook_read(&book, texts, 1, date_day(2026, 11, 25), &faults), "%s",
	              all_faults());
	ck_assert_msg(survey_read(&survey, &book, &survey_text, &faults), "%s", all_faults());
	ck_assert_uint_eq(faults.count, 0);
}

static void teardown_names(void)
{
	survey_finish(&survey);
	rulebook_finish(&book);
	teardown();
}

static const struct {
	const char *title, *text, *says;
} names[] = {
        {"all is there",
         "survey: s.yaml\npoints: [K2, K1]\nwith: [kitchen_mixer, ED, kitchen_mixer_sink]\n", NULL                                                              },
        {"no such point",               "survey: s.yaml\npoints: [K1, K11]\n",
         "q.yaml:4:14: `K11` is no point of the survey: did you mean `K1`?"                                                                                     },
        {"a room is no point",          "survey: s.yaml\npoints: [kitchen]\n",
         "q.yaml:4:10: `kitchen` is no point of the survey"                                                                                                     },
        {"a question's point",
         "survey: s.yaml\nquestions:\n  - { id: a, ask: What?, because: So., point: K2, " CHOICES
         " }\n",                                                                              NULL                                                              },
        {"no such point of a question",
         "survey: s.yaml\nquestions:\n  - { id: a, ask: What?, because: So., point: K11, " CHOICES
         " }\n",                                                                              "q.yaml:5:47: `K11` is no point of the survey: did you mean `K1`?"},
        {"no such row",                 "with: [kitchen_mixer_snik]\n",
         "q.yaml:3:8: `kitchen_mixer_snik` is no row, kind or type of the rulebook: did you mean "
         "`kitchen_mixer_sink`?"                                                                                                                                },
        {"a question is no row",        "with: [spout]\n",                                    "q.yaml:3:8: `spout` is no row, kind or type"                     },
};

START_TEST(what_names_nothing)
{
	const char *text = arena_print(&arena, TOP "%s", names[_i].text);

	ck_assert_msg(read_quiz(text), "%s: %s", names[_i].title, all_faults());
	bool ok = quiz_names(&file, &source, &book, &survey, &faults);
	ck_assert_msg(ok == !names[_i].says, "%s: %s", names[_i].title, all_faults());
	ck_assert_uint_eq(faults.fatal, names[_i].says ? 1 : 0);
	if (names[_i].says)
		ck_assert_msg(strncmp(all_faults(), names[_i].says, strlen(names[_i].says)) == 0,
		              "%s: %s", names[_i].title, all_faults());
}
END_TEST

/* Every row that a book has may be asked for, those of types too, and every kind and type. */
START_TEST(all_of_the_book_can_be_named)
{
	size_t count = 0;

	for (size_t k = 0; k < book.kind_count; k++)
		for (size_t r = 0; r < book.kind[k].row_count; r++, count++) {
			const char *text = arena_print(&arena, TOP "with: [%s, %s]\n",
			                               book.kind[k].id, book.kind[k].row[r].id);
			ck_assert(read_quiz(text));
			ck_assert_msg(quiz_names(&file, &source, &book, NULL, &faults), "%s",
			              all_faults());
			quiz_file_finish(&file);
		}
	for (size_t t = 0; t < book.type_count; t++)
		for (size_t r = 0; r < book.type[t].row_count; r++, count++) {
			const char *text = arena_print(&arena, TOP "with: ['%s', %s]\n",
			                               book.type[t].id, book.type[t].row[r].id);
			ck_assert(read_quiz(text));
			ck_assert_msg(quiz_names(&file, &source, &book, NULL, &faults), "%s",
			              all_faults());
			quiz_file_finish(&file);
		}
	ck_assert_uint_gt(count, 10);
}
END_TEST

/* -- no memory ------------------------------------------------------------------------------- */

START_TEST(no_memory)
{
	long n = 0;

	do {
		quiz_file_finish(&file);
		faults_init(&faults, &arena);
		arena_fail_after(n);
		bool ok = read_quiz(
		        TOP "survey: s.yaml\nquestions:\n  - { id: a, ask: What?, because: So., "
		            "point: K1, shows: [a], " CHOICES " }\n");
		ck_assert_msg(ok == (arena_fail_after(-1) != -1), "request %ld", n);
		n++;
	} while (faults.fatal > 0 || faults.left_out > 0);
	ck_assert_int_gt(n, 5);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("quiz_read");
	TCase *reading = tcase_create("reading"), *naming = tcase_create("naming");

	tcase_add_checked_fixture(reading, setup, teardown);
	tcase_add_loop_test(reading, refused, 0, sizeof(bad) / sizeof(bad[0]));
	tcase_add_loop_test(reading, unknown_keys, 0, sizeof(noticed) / sizeof(noticed[0]));
	tcase_add_test(reading, all_is_said_at_once);
	tcase_add_test(reading, everything);
	tcase_add_test(reading, an_order_that_stays);
	tcase_add_test(reading, a_number_about_a_point);
	tcase_add_test(reading, nothing_but_its_name);
	tcase_add_test(reading, what_is_invented);
	tcase_add_loop_test(reading, where_a_reason_comes_from, 0,
	                    sizeof(sources) / sizeof(sources[0]));
	tcase_add_test(reading, no_memory);
	suite_add_tcase(suite, reading);
	tcase_add_checked_fixture(naming, setup_names, teardown_names);
	tcase_add_loop_test(naming, what_names_nothing, 0, sizeof(names) / sizeof(names[0]));
	tcase_add_test(naming, all_of_the_book_can_be_named);
	suite_add_tcase(suite, naming);
	return suite_run(suite);
}
