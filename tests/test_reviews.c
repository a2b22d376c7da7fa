#include "tundish/store/reviews.h"

#include "../src/base/arena_test.h"
#include "tundish/store/file.h"

#include "suite.h"

#include <check.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static char folder[] = "/tmp/tundish_reviews_XXXXXX";
static struct arena arena;
static struct err err;
static struct reviews reviews;
static const char *log_path;

static void setup(void)
{
	memset(&err, 0, sizeof(err));
	arena_init(&arena);
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
	umask(022);
	log_path = reviews_path("states", "ann", &arena);
}

static void teardown(void)
{
	struct dirent **entry;
	int count = scandir("states/reviews", &entry, NULL, NULL);

	for (int i = 0; i < count; i++) {
		const char *path = arena_print(&arena, "states/reviews/%s", entry[i]->d_name);

		if (entry[i]->d_name[0] != '.' || strlen(entry[i]->d_name) > 2)
			ck_assert_int_eq(unlink(path), 0);
		free(entry[i]);
	}
	if (count >= 0)
		free(entry);
	rmdir("states/reviews");
	rmdir("states");
	ck_assert_int_eq(rmdir(folder), 0);
	arena_finish(&arena);
}

static const char *rows[] = {"kitchen_mixer_sink", "EB_old"};

static struct review an_answer(void)
{
	return (struct review){
	        .at = "2026-11-25T09:12:03Z",
	        .learner = "ann",
	        .attempt = "20261125T091200Z-4f2a9c01",
	        .quiz = "spring_course",
	        .survey = "house.yaml",
	        .seed = 7,
	        .level = 2,
	        .with = "EB,kitchen_mixer",
	        .rulebook = "0123456789abcdef",
	        .on = "2026-11-25",
	        .exam = false,
	        .pass_percent = 70,
	        .tasks = 20,
	        .item = "K1/category/sink_water",
	        .family = "category",
	        .topic = "kitchen_mixer",
	        .row = rows,
	        .row_count = 2,
	        .given = "category_5",
	        .correct = "category_5",
	        .grade = GRADE_RIGHT,
	        .ms = 4200,
	        .scheduler = "boxes-1",
	};
}

static void assert_added(const struct review *review, size_t count)
{
	ck_assert_msg(reviews_add(log_path, review, count, &err), "%s", err.message);
}

static void assert_read(size_t count)
{
	ck_assert_msg(reviews_read(log_path, &arena, &reviews, &err), "%s", err.message);
	ck_assert_uint_eq(reviews.count, count);
}

static struct source bytes_of_log(void)
{
	struct source source;

	ck_assert_msg(file_read(log_path, &arena, &source, NULL, &err), "%s", err.message);
	return source;
}

static void put(const char *bytes, size_t length)
{
	FILE *file = fopen(log_path, "wb");

	ck_assert_ptr_nonnull(file);
	ck_assert_uint_eq(fwrite(bytes, 1, length, file), length);
	ck_assert_int_eq(fclose(file), 0);
}

static void assert_text(const char *a, const char *b)
{
	ck_assert_msg(!a == !b && (!a || strcmp(a, b) == 0), "%s and %s", a ? a : "null",
	              b ? b : "null");
}

static void assert_same(const struct review *a, const struct review *b)
{
	assert_text(a->at, b->at);
	assert_text(a->learner, b->learner);
	assert_text(a->attempt, b->attempt);
	assert_text(a->quiz, b->quiz);
	assert_text(a->survey, b->survey);
	ck_assert_uint_eq(a->seed, b->seed);
	ck_assert_uint_eq(a->level, b->level);
	assert_text(a->with, b->with);
	assert_text(a->rulebook, b->rulebook);
	assert_text(a->on, b->on);
	ck_assert_int_eq(a->exam, b->exam);
	ck_assert_uint_eq(a->pass_percent, b->pass_percent);
	ck_assert_uint_eq(a->tasks, b->tasks);
	assert_text(a->item, b->item);
	assert_text(a->family, b->family);
	assert_text(a->topic, b->topic);
	ck_assert_uint_eq(a->row_count, b->row_count);
	for (size_t i = 0; i < a->row_count; i++)
		assert_text(a->row[i], b->row[i]);
	assert_text(a->given, b->given);
	assert_text(a->correct, b->correct);
	ck_assert_int_eq(a->grade, b->grade);
	ck_assert_uint_eq(a->ms, b->ms);
	assert_text(a->scheduler, b->scheduler);
}

/* -- one answer ------------------------------------------------------------------------------ */

START_TEST(comes_back_as_it_went)
{
	struct review review = an_answer();

	assert_added(&review, 1);
	review.quiz = review.survey = review.topic = NULL;
	review.seed = UINT64_MAX;
	review.exam = true;
	review.level = review.pass_percent = 0;
	review.row_count = 0;
	review.with = "";
	review.learner = "Zo\xc3\xab \"the\\wrench\"\n\xf0\x9f\x94\xa7";
	review.grade = GRADE_DANGEROUS;
	review.ms = UINT32_MAX;
	assert_added(&review, 1);
	assert_read(2);
	assert_same(&reviews.item[1], &review);
	review = an_answer();
	assert_same(&reviews.item[0], &review);
	ck_assert_uint_eq(
	        reviews.passed_over + reviews.torn + reviews.replaced + reviews.first_line, 0);
}
END_TEST

START_TEST(every_grade)
{
	struct review review = an_answer();

	for (enum grade g = GRADE_DANGEROUS; g < GRADE_COUNT; g++) {
		review.grade = g;
		assert_added(&review, 1);
	}
	assert_read(GRADE_COUNT - GRADE_DANGEROUS);
	for (size_t i = 0; i < reviews.count; i++)
		ck_assert_uint_eq(reviews.item[i].grade, GRADE_DANGEROUS + i);
}
END_TEST

/* The line itself is a contract: written down once, by hand. */
START_TEST(the_line)
{
	struct review review = an_answer();
	static const char line[] =
	        "{\"format\":1,\"at\":\"2026-11-25T09:12:03Z\",\"learner\":\"ann\","
	        "\"attempt\":\"20261125T091200Z-4f2a9c01\",\"quiz\":\"spring_course\","
	        "\"survey\":\"house.yaml\",\"seed\":\"7\",\"level\":2,"
	        "\"with\":\"EB,kitchen_mixer\",\"rulebook\":\"0123456789abcdef\","
	        "\"on\":\"2026-11-25\",\"exam\":false,\"pass_percent\":70,\"tasks\":20,"
	        "\"item\":\"K1/category/sink_water\",\"family\":\"category\","
	        "\"topic\":\"kitchen_mixer\",\"rows\":[\"kitchen_mixer_sink\",\"EB_old\"],"
	        "\"given\":\"category_5\",\"correct\":\"category_5\",\"grade\":\"right\","
	        "\"ms\":4200,\"scheduler\":\"boxes-1\"}\n";

	assert_added(&review, 1);
	ck_assert_str_eq(bytes_of_log().text, line);
}
END_TEST

START_TEST(not_utf8)
{
	struct review review = an_answer();

	review.learner = "Zo\xeb";
	ck_assert(!reviews_add(log_path, &review, 1, &err));
	ck_assert_int_eq(err.kind, ERR_TEXT);
	assert_read(0);
}
END_TEST

/* -- the file -------------------------------------------------------------------------------- */

START_TEST(nobody_else_reads_it)
{
	struct review review = an_answer();
	struct stat status;

	assert_read(0);
	assert_added(&review, 1);
	ck_assert_int_eq(stat(log_path, &status), 0);
	ck_assert_uint_eq(status.st_mode & 07777, 0600);
	ck_assert_int_eq(stat("states/reviews", &status), 0);
	ck_assert_uint_eq(status.st_mode & 07777, 0700);
}
END_TEST

START_TEST(several_at_once)
{
	struct review review[3] = {an_answer(), an_answer(), an_answer()};

	review[1].item = "K1/in_fact";
	review[2].item = "K2/in_fact";
	assert_added(review, 2);
	assert_added(review + 2, 1);
	assert_read(3);
	for (size_t i = 0; i < 3; i++)
		assert_same(&reviews.item[i], &review[i]);
}
END_TEST

/* Cut anywhere, as a kill may leave it: whole lines are read, a line cut short is said. */
START_TEST(cut_anywhere)
{
	struct review review[2] = {an_answer(), an_answer()};
	struct source all;
	const char *second;

	assert_added(review, 2);
	all = bytes_of_log();
	second = strchr(all.text, '\n') + 1;
	for (size_t length = 0; length <= all.length; length++) {
		size_t first_length = (size_t)(second - all.text);
		size_t whole = length + 1 >= all.length ? 2 : length + 1 >= first_length ? 1 : 0;
		size_t end = whole == 0 ? 0 : first_length;

		ck_assert(reviews_text(all.text, length, &arena, &reviews, &err));
		ck_assert_msg(reviews.count == whole, "cut at %zu: %zu", length, reviews.count);
		ck_assert_msg(reviews.torn == (whole == 2 || length < end ? 0 : length - end),
		              "cut at %zu: %zu torn", length, reviews.torn);
		ck_assert_uint_eq(reviews.passed_over, 0);
	}
}
END_TEST

START_TEST(goes_on_after_a_torn_line)
{
	struct review review = an_answer();
	struct source before, after;

	assert_added(&review, 1);
	before = bytes_of_log();
	put(before.text, before.length - 9);
	assert_read(0);
	ck_assert_uint_eq(reviews.torn, before.length - 9);
	assert_added(&review, 1);
	after = bytes_of_log();
	ck_assert_msg(strncmp(after.text, before.text, before.length - 9) == 0,
	              "what was torn is not as it was");
	assert_read(1);
	assert_same(&reviews.item[0], &review);
	ck_assert_uint_eq(reviews.torn, 0);
	ck_assert_uint_eq(reviews.passed_over, 1);
	ck_assert_uint_eq(reviews.first_line, 1);
}
END_TEST

START_TEST(goes_on_after_a_line_without_its_end)
{
	struct review review = an_answer();
	struct source before;

	assert_added(&review, 1);
	before = bytes_of_log();
	put(before.text, before.length - 1);
	assert_read(1);
	assert_added(&review, 1);
	assert_read(2);
	ck_assert_uint_eq(reviews.torn + reviews.passed_over, 0);
}
END_TEST

START_TEST(full_disk)
{
	struct review review[2] = {an_answer(), an_answer()};
	struct rlimit limit, before;
	struct source held;

	assert_added(review, 1);
	held = bytes_of_log();
	signal(SIGXFSZ, SIG_IGN);
	ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &before), 0);
	for (size_t more = 0; more < 2 * held.length; more += 97) {
		limit = before;
		limit.rlim_cur = held.length + more;
		/* Between the two nothing may be asserted: Check writes to a file too. */
		int lowered = setrlimit(RLIMIT_FSIZE, &limit);
		bool added = reviews_add(log_path, review, 2, &err);
		int raised = setrlimit(RLIMIT_FSIZE, &before);
		ck_assert(lowered == 0 && raised == 0);
		ck_assert_msg(!added, "%zu", more);
		ck_assert_int_eq(err.kind, ERR_IO);
		memset(&err, 0, sizeof(err));
		ck_assert_str_eq(bytes_of_log().text, held.text);
	}
	assert_added(review, 2);
	assert_read(3);
}
END_TEST

START_TEST(nowhere_to_write)
{
	struct review review = an_answer();
	FILE *file = fopen("states", "w");

	ck_assert_ptr_nonnull(file);
	fclose(file);
	ck_assert(!reviews_add(log_path, &review, 1, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_msg(strstr(err.message, "states/reviews/ann.ndjson"), "%s", err.message);
	memset(&err, 0, sizeof(err));
	ck_assert(!reviews_read(log_path, &arena, &reviews, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	unlink("states");
}
END_TEST

enum { WRITERS = 4, EACH = 50 };

static void write_many(int writer)
{
	struct review review = an_answer();
	char name[] = "w0";

	name[1] = (char)('0' + writer);
	review.learner = name;
	for (uint32_t i = 0; i < EACH; i++) {
		review.ms = i;
		if (!reviews_add(log_path, &review, 1, &err))
			_exit(1);
	}
	_exit(0);
}

START_TEST(two_writers_do_not_mix)
{
	uint32_t next[WRITERS] = {0};
	int status;

	for (int i = 0; i < WRITERS; i++) {
		pid_t child = fork();

		ck_assert_int_ge(child, 0);
		if (child == 0)
			write_many(i);
	}
	for (int i = 0; i < WRITERS; i++) {
		ck_assert_int_gt(wait(&status), 0);
		ck_assert_int_eq(status, 0);
	}
	assert_read((size_t)WRITERS * EACH);
	ck_assert_uint_eq(reviews.passed_over + reviews.torn, 0);
	for (size_t i = 0; i < reviews.count; i++) {
		uint32_t *expected = &next[reviews.item[i].learner[1] - '0'];

		ck_assert_uint_eq(reviews.item[i].ms, *expected);
		++*expected;
	}
}
END_TEST

/* -- an exam --------------------------------------------------------------------------------- */

START_TEST(the_last_answer_of_an_exam_counts)
{
	struct review review[5] = {an_answer(), an_answer(), an_answer(), an_answer(), an_answer()};

	for (size_t i = 0; i < 5; i++) {
		review[i].exam = true;
		review[i].ms = (uint32_t)i;
	}
	review[1].item = "K1/in_fact";
	review[3].attempt = "another";
	assert_added(review, 5); /* 0 and 2 are changed by 4 */
	assert_read(3);
	ck_assert_uint_eq(reviews.replaced, 2);
	ck_assert_uint_eq(reviews.item[0].ms, 1);
	ck_assert_uint_eq(reviews.item[1].ms, 3);
	ck_assert_uint_eq(reviews.item[2].ms, 4);
}
END_TEST

START_TEST(every_answer_of_practice_counts)
{
	struct review review[2] = {an_answer(), an_answer()};

	assert_added(review, 2);
	assert_read(2);
	ck_assert_uint_eq(reviews.replaced, 0);
}
END_TEST

/* -- what is no answer ----------------------------------------------------------------------- */

static const struct {
	const char *title, *from, *to; /* of the line above; NULL: the whole line is `to` */
} bad[] = {
        {"no JSON",                      NULL,                                  "at: 2026"                         },
        {"YAML, but no JSON",            "\"ms\":4200",                         "ms: 4200"                         },
        {"a list",                       NULL,                                  "[1]"                              },
        {"no line of a log",             NULL,                                  "{}"                               },
        {"two on a line",                "boxes-1\"}",                          "boxes-1\"}{}"                     },
        {"a key twice",                  "\"ms\":4200",                         "\"ms\":4200,\"ms\":1"             },
        {"no format",                    "\"format\":1,",                       ""                                 },
        {"a format that is a text",      "\"format\":1",                        "\"format\":\"1\""                 },
        {"format 0",                     "\"format\":1",                        "\"format\":0"                     },
        {"no time",                      "\"at\":",                             "\"x\":"                           },
        {"a time that is none",          "2026-11-25T",                         "2026-02-30T"                      },
        {"a time elsewhere",             "09:12:03Z",                           "09:12:03+01:00"                   },
        {"a time that is a number",      "\"2026-11-25T09:12:03Z\"",            "7"                                },
        {"no learner",                   "\"learner\":",                        "\"x\":"                           },
        {"a learner who is null",        "\"ann\"",                             "null"                             },
        {"no attempt",                   "\"attempt\":",                        "\"x\":"                           },
        {"no quiz, which is not null",   "\"quiz\":",                           "\"x\":"                           },
        {"no survey, which is not null", "\"survey\":",                         "\"x\":"                           },
        {"no seed",                      "\"seed\":",                           "\"x\":"                           },
        {"a seed that is a number",      "\"seed\":\"7\"",                      "\"seed\":7"                       },
        {"a seed below nothing",         "\"seed\":\"7\"",                      "\"seed\":\"-7\""                  },
        {"a seed with a blank",          "\"seed\":\"7\"",                      "\"seed\":\" 7\""                  },
        {"a seed past all",              "\"seed\":\"7\"",                      "\"seed\":\"18446744073709551616\""},
        {"no level",                     "\"level\":",                          "\"x\":"                           },
        {"a level above all",            "\"level\":2",                         "\"level\":5"                      },
        {"a level below nothing",        "\"level\":2",                         "\"level\":-1"                     },
        {"half a level",                 "\"level\":2",                         "\"level\":2.5"                    },
        {"no with",                      "\"with\":",                           "\"x\":"                           },
        {"no rulebook",                  "\"rulebook\":",                       "\"x\":"                           },
        {"no day",                       "\"on\":",                             "\"x\":"                           },
        {"a month",                      "\"on\":\"2026-11-25\"",               "\"on\":\"2026-11\""               },
        {"no exam",                      "\"exam\":",                           "\"x\":"                           },
        {"an exam that is a text",       "\"exam\":false",                      "\"exam\":\"no\""                  },
        {"no mark",                      "\"pass_percent\":",                   "\"x\":"                           },
        {"a mark above all",             "\"pass_percent\":70",                 "\"pass_percent\":101"             },
        {"no number of tasks",           "\"tasks\":",                          "\"x\":"                           },
        {"no item",                      "\"item\":",                           "\"x\":"                           },
        {"no family",                    "\"family\":",                         "\"x\":"                           },
        {"no topic, which is not null",  "\"topic\":",                          "\"x\":"                           },
        {"no rows",                      "\"rows\":",                           "\"x\":"                           },
        {"rows that are a text",         "[\"kitchen_mixer_sink\",\"EB_old\"]", "\"EB_old\""                       },
        {"a row that is a number",       "\"EB_old\"",                          "7"                                },
        {"no answer",                    "\"given\":",                          "\"x\":"                           },
        {"no right answer",              "\"correct\":",                        "\"x\":"                           },
        {"no grade",                     "\"grade\":",                          "\"x\":"                           },
        {"no such grade",                "\"right\"",                           "\"excellent\""                    },
        {"the grade of no answer",       "\"right\"",                           "\"none\""                         },
        {"no ms",                        "\"ms\":",                             "\"x\":"                           },
        {"ms below nothing",             "\"ms\":4200",                         "\"ms\":-1"                        },
        {"ms past all",                  "\"ms\":4200",                         "\"ms\":4294967296"                },
        {"no scheduler",                 "\"scheduler\":",                      "\"x\":"                           },
        {"a NUL",                        "\"ann\"",                             "\"a\\u0000n\""                    },
        {"not UTF-8",                    "\"ann\"",                             "\"Zo\xeb\""                       },
};

static char *replaced(const char *line, const char *from, const char *to)
{
	const char *at = from ? strstr(line, from) : line;

	ck_assert_ptr_nonnull(at);
	return arena_print(&arena, "%.*s%s%s", (int)(at - line), line, to,
	                   from ? at + strlen(from) : "\n");
}

/* Between two good ones, which are read. */
START_TEST(passed_over)
{
	struct review review = an_answer();
	const char *text;

	assert_added(&review, 1);
	const char *good = bytes_of_log().text;
	const char *line = replaced(good, bad[_i].from, bad[_i].to);
	text = arena_print(&arena, "%s%s%s", good, line, good);
	ck_assert(reviews_text(text, strlen(text), &arena, &reviews, &err));
	ck_assert_msg(reviews.count == 2 && reviews.passed_over == 1 && reviews.first_line == 2,
	              "%s: count %zu, passed over %zu, line %zu", bad[_i].title, reviews.count,
	              reviews.passed_over, reviews.first_line);
	ck_assert_uint_eq(reviews.newer, 0);
	ck_assert_uint_eq(reviews.torn, 0);
}
END_TEST

START_TEST(of_a_newer_tundish)
{
	struct review review = an_answer();
	const char *line;

	assert_added(&review, 1);
	line = replaced(bytes_of_log().text, "\"format\":1", "\"format\":2");
	ck_assert(reviews_text(line, strlen(line), &arena, &reviews, &err));
	ck_assert_uint_eq(reviews.count, 0);
	ck_assert_uint_eq(reviews.newer, 1);
	ck_assert_uint_eq(reviews.passed_over, 1);
}
END_TEST

START_TEST(a_key_more_is_no_trouble)
{
	struct review review = an_answer();
	const char *line;

	assert_added(&review, 1);
	line = replaced(bytes_of_log().text, "\"ms\":", "\"room\":{\"a\":[1]},\"ms\":");
	ck_assert(reviews_text(line, strlen(line), &arena, &reviews, &err));
	ck_assert_uint_eq(reviews.count, 1);
	assert_same(&reviews.item[0], &review);
}
END_TEST

/* -- names ----------------------------------------------------------------------------------- */

static const struct {
	const char *name, *path; /* NULL: it is no name */
} learners[] = {
        {"ann",                                                           "s/reviews/ann.ndjson"                     },
        {"Ann Smith",                                                     "s/reviews/Ann%20Smith.ndjson"             },
        {"../../etc/passwd",                                              "s/reviews/%2E.%2F..%2Fetc%2Fpasswd.ndjson"},
        {".hidden",                                                       "s/reviews/%2Ehidden.ndjson"               },
        {"a.b-c_9",                                                       "s/reviews/a.b-c_9.ndjson"                 },
        {"100%",                                                          "s/reviews/100%25.ndjson"                  },
        {"Zo\xc3\xab",                                                    "s/reviews/Zo%C3%AB.ndjson"                },
        {"",                                                              NULL                                       },
        {"a\nb",                                                          NULL                                       },
        {"a\x1b[2J",                                                      NULL                                       },
        {"Zo\xeb",                                                        NULL                                       },
        {"0123456789012345678901234567890123456789012345678901234567890", NULL                                       },
        {"012345678901234567890123456789012345678901234567890123456789",
         "s/reviews/012345678901234567890123456789012345678901234567890123456789.ndjson"                             },
};

START_TEST(names)
{
	const char *why = learner_fault(learners[_i].name);

	ck_assert_msg(!why == !!learners[_i].path, "%s: %s", learners[_i].name, why ? why : "fine");
	if (!why)
		ck_assert_str_eq(reviews_path("s", learners[_i].name, &arena), learners[_i].path);
}
END_TEST

START_TEST(all_logs)
{
	struct review review = an_answer();
	const char **path;
	size_t count;

	ck_assert(reviews_all("states", &arena, &path, &count, &err));
	ck_assert_uint_eq(count, 0);
	assert_added(&review, 1);
	ck_assert(reviews_add(reviews_path("states", "Zed", &arena), &review, 1, &err));
	put("x", 1);
	ck_assert_int_eq(rename(log_path, "states/reviews/notes.txt"), 0);
	assert_added(&review, 1);
	ck_assert(reviews_all("states", &arena, &path, &count, &err));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(path[0], "states/reviews/Zed.ndjson");
	ck_assert_str_eq(path[1], "states/reviews/ann.ndjson");
}
END_TEST

START_TEST(an_attempt_is_named_once)
{
	char one[ATTEMPT_ROOM], other[ATTEMPT_ROOM];

	reviews_attempt(one);
	reviews_attempt(other);
	ck_assert_uint_eq(strlen(one), ATTEMPT_ROOM - 1);
	ck_assert_uint_eq(strspn(one, "0123456789TZ-abcdef"), ATTEMPT_ROOM - 1);
	ck_assert_str_ne(one, other);
}
END_TEST

START_TEST(drawn)
{
	bool met[3] = {false};

	for (int i = 0; i < 200; i++) {
		uint32_t value = reviews_draw(3);

		ck_assert(value >= 1 && value <= 3);
		met[value - 1] = true;
	}
	ck_assert(met[0] && met[1] && met[2]);
	ck_assert_uint_eq(reviews_draw(1), 1);
}
END_TEST

START_TEST(no_memory)
{
	struct review review[2] = {an_answer(), an_answer()};
	long n = 0, left;

	review[0].exam = review[1].exam = true;
	assert_added(review, 2);
	do {
		memset(&err, 0, sizeof(err));
		arena_finish(&arena);
		log_path = "states/reviews/ann.ndjson";
		arena_fail_after(n++);
		bool ok = reviews_read(log_path, &arena, &reviews, &err);
		left = arena_fail_after(-1);
		ck_assert_msg(ok == (left != -1), "request %ld", n);
		ck_assert(ok || err.kind == ERR_MEMORY || err.kind == ERR_IO);
	} while (left == -1);
	ck_assert_int_gt(n, 20);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("reviews");
	TCase *tests = tcase_create("reviews");

	tcase_add_checked_fixture(tests, setup, teardown);
	tcase_add_test(tests, comes_back_as_it_went);
	tcase_add_test(tests, every_grade);
	tcase_add_test(tests, the_line);
	tcase_add_test(tests, not_utf8);
	tcase_add_test(tests, nobody_else_reads_it);
	tcase_add_test(tests, several_at_once);
	tcase_add_test(tests, cut_anywhere);
	tcase_add_test(tests, goes_on_after_a_torn_line);
	tcase_add_test(tests, goes_on_after_a_line_without_its_end);
	tcase_add_test(tests, full_disk);
	tcase_add_test(tests, nowhere_to_write);
	tcase_add_test(tests, two_writers_do_not_mix);
	tcase_add_test(tests, the_last_answer_of_an_exam_counts);
	tcase_add_test(tests, every_answer_of_practice_counts);
	tcase_add_loop_test(tests, passed_over, 0, sizeof(bad) / sizeof(bad[0]));
	tcase_add_test(tests, of_a_newer_tundish);
	tcase_add_test(tests, a_key_more_is_no_trouble);
	tcase_add_loop_test(tests, names, 0, sizeof(learners) / sizeof(learners[0]));
	tcase_add_test(tests, all_logs);
	tcase_add_test(tests, an_attempt_is_named_once);
	tcase_add_test(tests, drawn);
	tcase_add_test(tests, no_memory);
	suite_add_tcase(suite, tests);
	return suite_run(suite);
}
