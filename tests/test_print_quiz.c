#include "tundish/print/paper.h"
#include "tundish/print/progress.h"
#include "tundish/print/reviews.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct arena arena, scratch;
static struct sink sink;
static struct page page = {&sink, &scratch};
static struct rulebook book;
static struct survey survey;
static struct source survey_text;

static const char house[] =
        "tundish: 1\n"
        "premises:\n"
        "  name: Elm <Row> & Sons\n"
        "  parts: [ { ref: flat, name: the flat, use: house } ]\n"
        "supply: { static_pressure_kpa: 320, protection: [ { ref: W1, type: ED } ] }\n"
        "branches:\n"
        "  - { ref: cold, name: rising main, from: main, protection: [ { ref: Z1, type: EB } ] }\n"
        "rooms:\n"
        "  - ref: kitchen\n"
        "    name: Kitchen\n"
        "    part: flat\n"
        "    points:\n"
        "      - ref: K1\n"
        "        kind: kitchen_mixer\n"
        "        name: by the window\n"
        "        installed: before_july_1999\n"
        "        inlets:\n"
        "          cold: { fed_by: cold, protection: [ { ref: K1a, type: EB, fitted: 2019-04, "
        "note: '\"odd\"' } ] }\n"
        "          hot: { protection: cannot_tell }\n"
        "        answers: { spout: [folds_down, pull_out], hose_in_sink: cannot_tell }\n"
        "      - ref: K2\n"
        "        kind: outside_tap\n"
        "        inlets:\n"
        "          cold: { fed_by: main, protection: nothing }\n";

static void setup(void)
{
	const struct source *texts[] = {small_book()};
	struct faults faults;

	arena_init(&arena);
	arena_init(&scratch);
	sink_to_memory(&sink);
	faults_init(&faults, &arena);
	survey_text = (struct source){"house.yaml", house, sizeof(house) - 1};
	memset(&survey, 0, sizeof(survey));
	ck_assert(rulebook_read(&book, texts, 1, date_day(2026, 11, 25), &faults));
	bool ok = survey_read(&survey, &book, &survey_text, &faults);
	ck_assert_msg(ok && faults.count == 0, "%s",
	              faults.count ? fault_text(&faults.item[0], &arena) : "");
}

static void teardown(void)
{
	survey_finish(&survey);
	rulebook_finish(&book);
	sink_finish(&sink);
	arena_finish(&scratch);
	arena_finish(&arena);
}

/* What was printed since the last time. */
static const char *printed(void)
{
	const char *text = arena_copy(&arena, sink.count ? sink.bytes : "", sink.count);

	sink.count = 0;
	return text;
}

static void assert_golden(const char *name, const char *text)
{
	const char *path = arena_print(&arena, TUNDISH_TESTS "/golden/%s", name);
	static char kept[64 * 1024];
	FILE *file;

	if (getenv("UPDATE_GOLDEN") && strcmp(getenv("UPDATE_GOLDEN"), "1") == 0) {
		file = fopen(path, "w");
		ck_assert_ptr_nonnull(file);
		ck_assert_int_ge(fputs(text, file), 0);
		ck_assert_int_eq(fclose(file), 0);
	}
	file = fopen(path, "r");
	ck_assert_msg(file != NULL, "%s is not there", path);
	kept[fread(kept, 1, sizeof(kept) - 1, file)] = '\0';
	fclose(file);
	ck_assert_msg(strcmp(kept, text) == 0, "%s differs; now it is\n%s", name, text);
}

/* -- paper ----------------------------------------------------------------------------------- */

static struct task_choice categories[] = {
        {"none", "it does not come back here", GRADE_DANGEROUS, false},
        {"2",    "fluid category 2",           GRADE_DANGEROUS, false},
        {"5",    "fluid category 5",           GRADE_RIGHT,     false},
};
static struct task_choice urgencies[] = {
        {"now",  "now, before leaving", GRADE_CAUTIOUS,  false},
        {"days", "within days",         GRADE_RIGHT,     false},
        {"none", "not at all",          GRADE_DANGEROUS, false},
};
static struct task_choice ways[] = {
        {"tell", "Tell <everybody> & wait \"a bit\".", GRADE_RIGHT, false},
        {"shut", "Shut it.",                           GRADE_WRONG, false},
};
static struct reason sink_reason = {"Sink water can carry germs from food.",
                                    "Table of the test book line 1", STANDING_PUBLISHED,
                                    "kitchen_mixer_sink"};
static struct reason own_reason = {"Somebody may be rinsing.", NULL, STANDING_COMMON_PRACTICE,
                                   NULL};
static struct reason gap_reason = {"Twice the bore, and 20 mm at least.", "Table 3",
                                   STANDING_MEMORY, "AA"};
static const char *gap_lines[] = {"The bore is 15 mm."};

static struct quiz quiz_of(struct task *task, size_t count)
{
	return (struct quiz){&survey, task, count};
}

static void make_tasks(struct task task[4])
{
	const struct item *point = survey_find(&survey, "K1", 2);

	task[0] = (struct task){.id = "K1/category/sink_water",
	                        .family = FAMILY_CATEGORY,
	                        .point = point,
	                        .asks = "Of which category is the water from the sink?",
	                        .choice = categories,
	                        .choice_count = 3,
	                        .reason = &sink_reason,
	                        .reason_count = 1};
	task[1] = (struct task){.id = "K1/urgency",
	                        .family = FAMILY_URGENCY,
	                        .point = point,
	                        .asks = "How soon must something be done?",
	                        .choice = urgencies,
	                        .choice_count = 3,
	                        .reason = &sink_reason,
	                        .reason_count = 1};
	task[2] = (struct task){.id = "gap/AA",
	                        .family = FAMILY_GAP,
	                        .asks = "How high must the outlet be over the rim?",
	                        .shown = gap_lines,
	                        .shown_count = 1,
	                        .unit = "mm",
	                        .most = 500,
	                        .right = 30,
	                        .reason = &gap_reason,
	                        .reason_count = 1};
	task[3] = (struct task){.id = "own",
	                        .family = FAMILY_OWN,
	                        .asks = "What do you do before you shut the <stop valve>?",
	                        .choice = ways,
	                        .choice_count = 2,
	                        .reason = &own_reason,
	                        .reason_count = 1};
}

static const struct {
	const char *golden;
	enum paper_form form;
	enum paper_sheet sheet;
} sheets[] = {
        {"paper_tasks.txt",    PAPER_TEXT, PAPER_TASKS  },
        {"paper_answers.txt",  PAPER_TEXT, PAPER_ANSWERS},
        {"paper_tasks.html",   PAPER_HTML, PAPER_TASKS  },
        {"paper_answers.html", PAPER_HTML, PAPER_ANSWERS},
};

static const char *put(struct quiz *quiz, enum paper_form form, enum paper_sheet sheet)
{
	struct paper paper = {quiz, "An evening <class> & a half",
	                      7,    "tundish quiz paper --seed 7 q.yaml",
	                      70,   20};

	paper_print(&page, &paper, form, sheet);
	return printed();
}

/* The digest changes whenever the book of the tests does. */
static const char *without_digest(const char *text)
{
	char *copy = arena_copy(&arena, text, strlen(text));

	char digest[9] = "";

	memcpy(digest, book.digest, 8);
	for (char *at = copy; (at = strstr(at, digest)) != NULL;)
		memset(at, '0', 8);
	return copy;
}

START_TEST(on_paper)
{
	struct task task[4];
	struct quiz quiz = quiz_of(task, 4);

	make_tasks(task);
	assert_golden(sheets[_i].golden,
	              without_digest(put(&quiz, sheets[_i].form, sheets[_i].sheet)));
}
END_TEST

/* Whatever is right, the sheet of the tasks is the same to the byte; that of the answers is not. */
START_TEST(the_tasks_tell_no_answer)
{
	struct task task[4];
	struct quiz quiz = quiz_of(task, 4);

	make_tasks(task);
	for (int form = PAPER_TEXT; form <= PAPER_HTML; form++) {
		const char *tasks = put(&quiz, (enum paper_form)form, PAPER_TASKS);
		const char *answers = put(&quiz, (enum paper_form)form, PAPER_ANSWERS);

		categories[1].grade = GRADE_RIGHT;
		categories[2].grade = GRADE_WRONG;
		task[2].right = 40;
		own_reason.says = "For another reason.";
		ck_assert_str_eq(tasks, put(&quiz, (enum paper_form)form, PAPER_TASKS));
		ck_assert_str_ne(answers, put(&quiz, (enum paper_form)form, PAPER_ANSWERS));
		categories[1].grade = GRADE_DANGEROUS;
		categories[2].grade = GRADE_RIGHT;
		task[2].right = 30;
		own_reason.says = "Somebody may be rinsing.";
	}
}
END_TEST

START_TEST(html_asks_for_nothing)
{
	static const char *const wants[] = {
	        "http:", "https:", "src=",    "url(",         "<script",     "<link", "@import",
	        "<img",  "<Row>",  "<class>", "<stop valve>", "<everybody>", "& "};
	struct task task[4];
	struct quiz quiz = quiz_of(task, 4);
	const char *text;

	make_tasks(task);
	text = arena_print(&arena, "%s%s", put(&quiz, PAPER_HTML, PAPER_TASKS),
	                   put(&quiz, PAPER_HTML, PAPER_ANSWERS));
	for (size_t i = 0; i < sizeof(wants) / sizeof(wants[0]); i++)
		ck_assert_msg(!strstr(text, wants[i]), "%s is in it", wants[i]);
	ck_assert(strstr(text, "<meta charset=\"utf-8\">") && strstr(text, "lang=\"en\""));
	ck_assert(strstr(text, "Elm &lt;Row&gt; &amp; Sons"));
	ck_assert(strstr(text, "default-src &#39;none&#39;") || strstr(text, "default-src 'none'"));
}
END_TEST

START_TEST(without_a_point_there_is_no_house)
{
	struct task task[4];
	struct quiz quiz = quiz_of(task + 2, 2);
	const char *text;

	make_tasks(task);
	text = put(&quiz, PAPER_TEXT, PAPER_TASKS);
	ck_assert_ptr_null(strstr(text, "The house"));
	ck_assert_ptr_null(strstr(text, "Without the house"));
}
END_TEST

START_TEST(eighty_columns)
{
	struct task task[4];
	struct quiz quiz = quiz_of(task, 4);

	make_tasks(task);
	for (int sheet = PAPER_TASKS; sheet <= PAPER_ANSWERS; sheet++) {
		const char *line = put(&quiz, PAPER_TEXT, (enum paper_sheet)sheet);

		for (; *line; line += strcspn(line, "\n") + 1)
			ck_assert_uint_le(strcspn(line, "\n"), 80);
	}
}
END_TEST

/* -- marks ----------------------------------------------------------------------------------- */

START_TEST(a_score)
{
	char words[SCORE_ROOM];

	score_words(27, 20, words);
	ck_assert_str_eq(words, "13.5 of 20");
	score_words(0, 0, words);
	ck_assert_str_eq(words, "0 of 0");
	score_words(40, 20, words);
	ck_assert_str_eq(words, "20 of 20");
}
END_TEST

static const struct {
	size_t tasks;
	unsigned percent;
	size_t halves; /* the fewest that pass */
} marks[] = {
        {20,   70,  28 },
        {20,   100, 40 },
        {20,   1,   1  },
        {3,    70,  5  }, /* 2.1 points: 2.5 it takes */
        {1,    50,  1  },
        {1,    51,  2  },
        {1000, 33,  660},
        {7,    0,   0  },
};

START_TEST(a_mark)
{
	size_t halves = marks[_i].halves;

	ck_assert_uint_eq(mark_halves(marks[_i].tasks, marks[_i].percent), halves);
	ck_assert(mark_reached(halves, marks[_i].tasks, marks[_i].percent));
	ck_assert(halves == 0 || !mark_reached(halves - 1, marks[_i].tasks, marks[_i].percent));
}
END_TEST

/* -- answers --------------------------------------------------------------------------------- */

static const char *rows[] = {"kitchen_mixer_sink", "EB_old"};

static struct review an_answer(void)
{
	return (struct review){
	        .at = "2026-11-25T09:12:03Z",
	        .learner = "ann",
	        .attempt = "20261125T091200Z-4f2a9c01",
	        .quiz = "spring",
	        .seed = UINT64_MAX,
	        .level = 2,
	        .with = "EB,kitchen_mixer",
	        .rulebook = "0123456789abcdef",
	        .on = "2026-11-25",
	        .exam = true,
	        .pass_percent = 70,
	        .tasks = 3,
	        .item = "K1/category/sink_water",
	        .family = "category",
	        .topic = "kitchen_mixer",
	        .row = rows,
	        .row_count = 2,
	        .given = "none",
	        .correct = "5",
	        .grade = GRADE_DANGEROUS,
	        .ms = 4200,
	        .scheduler = "boxes-1",
	};
}

START_TEST(csv)
{
	struct review review = an_answer();

	reviews_csv_header(&sink);
	reviews_csv(&sink, &review);
	ck_assert_str_eq(
	        printed(),
	        "learner,attempt,at,quiz,survey,seed,level,with,rulebook,on,exam,pass_percent,"
	        "tasks,item,family,topic,rows,given,correct,grade,ms,scheduler\r\n"
	        "ann,20261125T091200Z-4f2a9c01,2026-11-25T09:12:03Z,spring,,"
	        "18446744073709551615,2,\"EB,kitchen_mixer\",0123456789abcdef,2026-11-25,yes,"
	        "70,3,K1/category/sink_water,category,kitchen_mixer,kitchen_mixer_sink EB_old,"
	        "none,5,dangerous,4200,boxes-1\r\n");
}
END_TEST

static const struct {
	const char *learner, *cell;
} odd_texts[] = {
        {"=1+1",       "\"'=1+1\""         },
        {"  @SUM(A1)", "\"'  @SUM(A1)\""   },
        {"-5",         "\"'-5\""           },
        {"a,b",        "\"a,b\""           },
        {"say \"so\"", "\"say \"\"so\"\"\""},
        {"two\nlines", "\"two\nlines\""    },
};

/* Every text cell is made harmless, not only the learner's. */
START_TEST(csv_of_odd_texts)
{
	struct review review = an_answer();
	const char *odd[] = {odd_texts[_i].learner};
	size_t found = 0;

	review.learner = review.quiz = review.survey = review.with = review.item = review.topic =
	        review.given = review.correct = review.scheduler = odd_texts[_i].learner;
	review.attempt = review.rulebook = review.on = review.at = review.family =
	        odd_texts[_i].learner;
	review.row = odd;
	review.row_count = 1;
	reviews_csv(&sink, &review);
	for (const char *at = printed(); (at = strstr(at, odd_texts[_i].cell)) != NULL; found++)
		at += strlen(odd_texts[_i].cell);
	ck_assert_uint_eq(found, 15);
}
END_TEST

START_TEST(json)
{
	struct review review = an_answer();

	review.learner = "Zo\xc3\xab \"x\"";
	reviews_json(&sink, &review);
	ck_assert_str_eq(
	        printed(),
	        "{\"learner\": \"Zo\xc3\xab \\\"x\\\"\", \"attempt\": "
	        "\"20261125T091200Z-4f2a9c01\", "
	        "\"at\": \"2026-11-25T09:12:03Z\", \"quiz\": \"spring\", \"survey\": null, "
	        "\"seed\": \"18446744073709551615\", \"level\": 2, \"with\": \"EB,kitchen_mixer\", "
	        "\"rulebook\": \"0123456789abcdef\", \"on\": \"2026-11-25\", \"exam\": true, "
	        "\"pass_percent\": 70, \"tasks\": 3, \"item\": \"K1/category/sink_water\", "
	        "\"family\": \"category\", \"topic\": \"kitchen_mixer\", "
	        "\"rows\": [\"kitchen_mixer_sink\", \"EB_old\"], \"given\": \"none\", "
	        "\"correct\": \"5\", \"grade\": \"dangerous\", \"ms\": 4200, \"scheduler\": "
	        "\"boxes-1\"}\n");
	review = an_answer();
	review.topic = NULL;
	review.row_count = 0;
	review.exam = false;
	reviews_json(&sink, &review);
	const char *text = printed();
	ck_assert(strstr(text, "\"topic\": null, \"rows\": [], ") &&
	          strstr(text, "\"exam\": false"));
}
END_TEST

/* -- progress -------------------------------------------------------------------------------- */

static struct progress topics[] = {
        {"kitchen_mixer", "Kitchen mixer",               "kind", 4, 1, 2, 1, 2},
        {"outside_tap",   "Outside tap",                 "kind", 3, 0, 0, 3, 0},
        {"EB",            "Single check",                "type", 2, 2, 0, 0, 0},
        {"ED",            "Non-verifiable single check", "type", 5, 0, 0, 5, 0},
        {"idle",          "Nothing to learn of it",      "type", 0, 0, 0, 0, 0},
};

START_TEST(by_topic)
{
	progress_table(&page, topics, 5);
	ck_assert_str_eq(
	        printed(),
	        "rows of the rulebook, by topic              rows   known   shaky  unseen     due\n"
	        "Kitchen mixer                                  4       1       2       1       2\n"
	        "Single check                                   2       2       0       0       0\n"
	        "all topics                                    14       3       2       9       2\n"
	        "known: asked again after 8 days or more; shaky: after 4 or fewer; due: now.\n"
	        "Topics not asked yet: 2 (--format csv names them).\n");
	progress_table(&page, topics + 3, 2);
	const char *text = printed();
	ck_assert_msg(strstr(text, "Nothing was asked yet") && !strstr(text, "not asked yet"), "%s",
	              text);
}
END_TEST

START_TEST(by_topic_for_machines)
{
	progress_csv(&sink, topics, 1);
	ck_assert_str_eq(printed(), "topic,name,is,rows,known,shaky,unseen,due\r\n"
	                            "kitchen_mixer,Kitchen mixer,kind,4,1,2,1,2\r\n");
	progress_json(&sink, topics + 2, 1);
	ck_assert_str_eq(
	        printed(),
	        "{\"topic\": \"EB\", \"name\": \"Single check\", \"is\": \"type\", \"rows\": 2, "
	        "\"known\": 2, \"shaky\": 0, \"unseen\": 0, \"due\": 0}\n");
}
END_TEST

START_TEST(sittings)
{
	struct review review[5] = {an_answer(), an_answer(), an_answer(), an_answer(), an_answer()};
	struct sitting *sitting;
	size_t count;

	/* Two at once: their answers are mixed in the log. */
	review[1].attempt = review[3].attempt = "b";
	review[1].at = review[3].at = "2026-11-26T18:00:00Z";
	review[1].quiz = review[3].quiz = NULL;
	review[1].exam = review[3].exam = false;
	review[1].pass_percent = review[3].pass_percent = 0;
	review[1].grade = GRADE_CAUTIOUS;
	review[3].grade = GRADE_WRONG;
	review[2].grade = review[4].grade = GRADE_RIGHT;
	ck_assert(sittings_of(review, 5, &arena, &sitting, &count));
	ck_assert_uint_eq(count, 2);
	ck_assert_uint_eq(sitting[0].answered, 3);
	ck_assert_uint_eq(sitting[0].halves, 4);
	ck_assert_uint_eq(sitting[0].grade[GRADE_DANGEROUS], 1);
	ck_assert_uint_eq(sitting[0].grade[GRADE_RIGHT], 2);
	ck_assert_uint_eq(sitting[0].ms, 3 * 4200);
	ck_assert_uint_eq(sitting[1].halves, 1);
	sittings_table(&page, sitting, count, 5);
	ck_assert_str_eq(printed(),
	                 "The attempts:\n"
	                 "2026-11-26 18:00  practice  an invented house\n"
	                 "                  0.5 of 3; 1 not answered\n"
	                 "2026-11-25 09:12  exam      spring\n"
	                 "                  2 of 3; 1 dangerous; mark 70%: not reached\n\n");
	sittings_table(&page, sitting, count, count);
	ck_assert(strncmp(printed(), "The attempts:\n", 14) == 0);
	sittings_table(&page, sitting, count, 1);
	const char *text = printed();
	ck_assert(strstr(text, "The last attempts") && !strstr(text, "spring"));
	sittings_table(&page, sitting, 0, 5);
	ck_assert_str_eq(printed(), "");
}
END_TEST

/* -- scores ---------------------------------------------------------------------------------- */

static const struct {
	const char *title;
	enum grade grade[3]; /* GRADE_NONE: not answered */
	unsigned mark;
	bool exam;
	const char *csv, *json;
} scores[] = {
        {"half a point",
         {GRADE_CAUTIOUS},
         0,  false,
         "practice,3,1,0,1,0,0,0.5,3,0,,4200", "\"mode\": \"practice\", \"tasks\": 3, \"answered\": 1, \"right\": 0, \"cautious\": 1, "
         "\"wrong\": 0, \"dangerous\": 0, \"points\": 0.5, \"of\": 3, \"pass_percent\": 0, "
         "\"passed\": null, \"ms\": 4200}"},
        {"a mark not reached",
         {GRADE_RIGHT, GRADE_DANGEROUS, GRADE_WRONG},
         34, true,
         "exam,3,3,1,0,1,1,1,3,34,no,12600",   "\"mode\": \"exam\", \"tasks\": 3, \"answered\": 3, \"right\": 1, \"cautious\": 0, "
         "\"wrong\": 1, \"dangerous\": 1, \"points\": 1, \"of\": 3, \"pass_percent\": 34, "
         "\"passed\": false, \"ms\": 12600}"},
        {"a mark reached",
         {GRADE_RIGHT, GRADE_CAUTIOUS, GRADE_CAUTIOUS},
         66, true,
         "exam,3,3,1,2,0,0,2,3,66,yes,12600",  "\"mode\": \"exam\", \"tasks\": 3, \"answered\": 3, \"right\": 1, \"cautious\": 2, "
         "\"wrong\": 0, \"dangerous\": 0, \"points\": 2, \"of\": 3, \"pass_percent\": 66, "
         "\"passed\": true, \"ms\": 12600}"},
};

START_TEST(a_line_an_attempt)
{
	struct review review[3];
	struct sitting *sitting;
	size_t count = 0;
	const char *text;

	for (size_t i = 0; i < 3 && scores[_i].grade[i] != GRADE_NONE; i++) {
		review[i] = an_answer();
		review[i].grade = scores[_i].grade[i];
		review[i].exam = scores[_i].exam;
		review[i].pass_percent = scores[_i].mark;
		count++;
	}
	ck_assert(sittings_of(review, count, &arena, &sitting, &count));
	ck_assert_uint_eq(count, 1);
	scores_csv_header(&sink);
	scores_csv(&sink, sitting);
	text = printed();
	ck_assert_msg(strstr(text,
	                     "learner,attempt,started,quiz,survey,seed,level,with,rulebook,on,"
	                     "mode,tasks,answered,right,cautious,wrong,dangerous,points,of,"
	                     "pass_percent,passed,ms\r\n"
	                     "ann,20261125T091200Z-4f2a9c01,2026-11-25T09:12:03Z,spring,,"
	                     "18446744073709551615,2,\"EB,kitchen_mixer\",0123456789abcdef,"
	                     "2026-11-25,") == text &&
	                      strstr(text, scores[_i].csv),
	              "%s: %s", scores[_i].title, text);
	scores_json(&sink, sitting);
	text = printed();
	ck_assert_msg(strstr(text,
	                     "{\"learner\": \"ann\", \"attempt\": "
	                     "\"20261125T091200Z-4f2a9c01\", \"started\": "
	                     "\"2026-11-25T09:12:03Z\", \"quiz\": \"spring\", "
	                     "\"survey\": null, \"seed\": \"18446744073709551615\", ") == text &&
	                      strstr(text, scores[_i].json),
	              "%s: %s", scores[_i].title, text);
}
END_TEST

/* What a spreadsheet would take for a formula is none here either. */
START_TEST(scores_of_odd_texts)
{
	struct review review = an_answer();
	struct sitting sitting = {.first = &review, .answered = 1};

	review.learner = odd_texts[_i].learner;
	scores_csv(&sink, &sitting);
	ck_assert_ptr_nonnull(strstr(printed(), odd_texts[_i].cell));
}
END_TEST

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

int main(void)
{
	Suite *suite = suite_create("print_quiz");
	TCase *tests = tcase_create("print_quiz");

	tcase_add_checked_fixture(tests, setup, teardown);
	tcase_add_loop_test(tests, on_paper, 0, COUNT(sheets));
	tcase_add_test(tests, the_tasks_tell_no_answer);
	tcase_add_test(tests, html_asks_for_nothing);
	tcase_add_test(tests, without_a_point_there_is_no_house);
	tcase_add_test(tests, eighty_columns);
	tcase_add_test(tests, a_score);
	tcase_add_loop_test(tests, a_mark, 0, COUNT(marks));
	tcase_add_test(tests, csv);
	tcase_add_loop_test(tests, csv_of_odd_texts, 0, COUNT(odd_texts));
	tcase_add_test(tests, json);
	tcase_add_test(tests, by_topic);
	tcase_add_test(tests, by_topic_for_machines);
	tcase_add_test(tests, sittings);
	tcase_add_loop_test(tests, a_line_an_attempt, 0, COUNT(scores));
	tcase_add_loop_test(tests, scores_of_odd_texts, 0, COUNT(odd_texts));
	suite_add_tcase(suite, tests);
	return suite_run(suite);
}
