#include "tundish/store/survey_write.h"

#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "suite.h"
#include "texts.h"

#include "../src/base/arena_test.h"
#include "random_text.h"

#include <check.h>
#include <stdlib.h>

static struct rulebook book;
static struct arena book_arena, arena;
static struct survey survey;
static struct source original;

/* Once, before the tests fork. */
static void read_book(void)
{
	const struct source *texts[] = {small_book()};
	struct faults faults;

	faults_init(&faults, &book_arena);
	ck_assert(rulebook_read(&book, texts, 1, date_day(2026, 11, 25), &faults));
}

static void forget_book(void)
{
	rulebook_finish(&book);
	arena_finish(&book_arena);
}

static void setup(void)
{
	arena_init(&arena);
	ck_assert(survey_init(&survey, &book));
}

static void teardown(void)
{
	survey_finish(&survey);
	arena_finish(&arena);
}

static void read_into(struct survey *into, const struct source *source)
{
	struct faults faults;

	faults_init(&faults, &arena);
	if (!survey_read(into, &book, source, &faults))
		ck_abort_msg("%s\n%s", fault_text(&faults.item[0], &arena), source->text);
}

static void apply(const char *where, const char *after)
{
	struct change change = {where, NULL, after};
	struct err err = {0};

	ck_assert_msg(survey_apply(&survey, &change, &err), "%s: %s", where, err.message);
}

static char *written(struct err *err)
{
	char *out = NULL;
	size_t length = 0;

	if (!survey_write(&survey, &original, &arena, &out, &length, err))
		return NULL;
	ck_assert_uint_eq(strlen(out), length);
	return out;
}

/* -- cases ------------------------------------------------------------------------------ */

#define ROOM "tundish: 1\nrooms:\n  - ref: r\n    points:\n"

enum { CHANGES_MOST = 30 };

/* Changes are `where=value`; without a value it is taken away. */
static const struct {
	const char *title, *before, *changes[CHANGES_MOST], *after;
} cases[] = {
#include "survey_write_cases.h"
};

static void make_changes(const char *const *changes, size_t count)
{
	for (size_t i = 0; i < count && changes[i] != NULL; i++) {
		const char *equals = strchr(changes[i], '=');
		size_t length = equals == NULL ? strlen(changes[i]) : (size_t)(equals - changes[i]);

		apply(arena_copy(&arena, changes[i], length), equals == NULL ? NULL : equals + 1);
	}
}

START_TEST(only_what_was_answered_changes)
{
	struct err err = {0};
	const char *out;

	original = (struct source){"case.yaml", cases[_i].before, strlen(cases[_i].before)};
	read_into(&survey, &original);
	make_changes(cases[_i].changes, CHANGES_MOST);
	out = written(&err);
	ck_assert_msg(out != NULL, "%s: %s", cases[_i].title, err.message);
	ck_assert_msg(strcmp(out, cases[_i].after) == 0, "%s:\n%s\nexpected:\n%s", cases[_i].title,
	              out, cases[_i].after);
}
END_TEST

/* -- refusals --------------------------------------------------------------------------- */

static const struct {
	const char *title, *read, *there, *changes[CHANGES_MOST], *says;
	enum err_kind kind;
} refusals[] = {
        {"no survey any more",
         "tundish: 1\n",                    "tundish: 1\nrooms: [\n",
         {"premises/name=x"},
         "not YAML",                                                                              ERR_TEXT    },
        {"a branch is gone that feeds somebody",
         "tundish: 1\nbranches: [ { ref: b } ]\nrooms: [ { ref: r, points: [ { ref: k, kind: "
         "other, inlets: { "
         "feed: { fed_by: b } } } ] } ]\n", NULL,
         {"branches/b"},
         "can't be read",                                                                         ERR_CONFLICT},
        {"from lines into brackets with a comment in it",
         "tundish: 1\nrooms:\n  - ref: r\n    points:\n      - ref: k\n        # mine\n        "
         "seen: yes\n  - ref: s\n    points: "
         "[ { ref: m } ]\n",                NULL,
         {"r/points/k", "s/points/k=", "k/seen=yes"},
         "`k` moves into brackets, and its comment on line 6 can't: write that list with a dash", ERR_CONFLICT},
        {"from lines into brackets with a key of their own",
         "tundish: 1\nrooms:\n  - ref: r\n    points:\n      - ref: k\n        x-a: 1\n  - ref: "
         "s\n    points: "
         "[ { ref: m } ]\n",                NULL,
         {"r/points/k", "s/points/k="},
         "`k` moves into brackets, and its key `x-a` on line 6 can't",                            ERR_CONFLICT},
};

START_TEST(what_would_lose_something_is_refused)
{
	struct err err = {0};
	struct source read = {"case.yaml", refusals[_i].read, strlen(refusals[_i].read)};

	read_into(&survey, &read);
	original = read;
	if (refusals[_i].there != NULL)
		original = (struct source){"case.yaml", refusals[_i].there,
		                           strlen(refusals[_i].there)};
	make_changes(refusals[_i].changes, CHANGES_MOST);
	ck_assert_msg(written(&err) == NULL, "%s", refusals[_i].title);
	ck_assert_int_eq(err.kind, refusals[_i].kind);
	ck_assert_msg(strstr(err.message, refusals[_i].says) != NULL, "%s: %s", refusals[_i].title,
	              err.message);
}
END_TEST

/* -- quoting ---------------------------------------------------------------------------- */

/*
 * What readers of YAML 1.1 (https://yaml.org/type/: bool, null, int, float, timestamp, merge, value) or of 1.2 (core
 * schema, chapter 10.3.2) take for something else than text, and what they do not; what no plain scalar can hold.
 */
static const struct {
	const char *text, *block, *flow;
} scalars[] = {
        {"no",                   "'no'",                   "'no'"                  },
        {"No",                   "'No'",                   "'No'"                  },
        {"YES",                  "'YES'",                  "'YES'"                 },
        {"y",                    "'y'",                    "'y'"                   },
        {"off",                  "'off'",                  "'off'"                 },
        {"true",                 "'true'",                 "'true'"                },
        {"null",                 "'null'",                 "'null'"                },
        {"~",                    "'~'",                    "'~'"                   },
        {"",                     "''",                     "''"                    },
        {"012",                  "'012'",                  "'012'"                 },
        {"1_000",                "'1_000'",                "'1_000'"               },
        {"0x1F",                 "'0x1F'",                 "'0x1F'"                },
        {"0b11",                 "'0b11'",                 "'0b11'"                },
        {"0o17",                 "'0o17'",                 "'0o17'"                },
        {"12:30:45",             "'12:30:45'",             "'12:30:45'"            },
        {"-5",                   "'-5'",                   "'-5'"                  },
        {"+5",                   "'+5'",                   "'+5'"                  },
        {"1e3",                  "'1e3'",                  "'1e3'"                 },
        {".5",                   "'.5'",                   "'.5'"                  },
        {"6.",                   "'6.'",                   "'6.'"                  },
        {".inf",                 "'.inf'",                 "'.inf'"                },
        {"-.Inf",                "'-.Inf'",                "'-.Inf'"               },
        {".NaN",                 "'.NaN'",                 "'.NaN'"                },
        {"2026-11-25",           "'2026-11-25'",           "'2026-11-25'"          },
        {"2026-11-25 10:00:00",  "'2026-11-25 10:00:00'",  "'2026-11-25 10:00:00'" },
        {"2026-11-25T10:00:00Z", "'2026-11-25T10:00:00Z'", "'2026-11-25T10:00:00Z'"},
        {"<<",                   "'<<'",                   "'<<'"                  },
        {"=",                    "'='",                    "'='"                   },
        {"Norway",               "Norway",                 "Norway"                },
        {"not",                  "not",                    "not"                   },
        {"1/2 in",               "1/2 in",                 "1/2 in"                },
        {"15 mm",                "15 mm",                  "15 mm"                 },
        {"LH/204",               "LH/204",                 "LH/204"                },
        {"a: b",                 "'a: b'",                 "'a: b'"                },
        {"a:b",                  "a:b",                    "'a:b'"                 },
        {"a:",                   "'a:'",                   "'a:'"                  },
        {"a #b",                 "'a #b'",                 "'a #b'"                },
        {"a#b",                  "a#b",                    "a#b"                   },
        {"a, b",                 "a, b",                   "'a, b'"                },
        {"[a]",                  "'[a]'",                  "'[a]'"                 },
        {"a]",                   "a]",                     "'a]'"                  },
        {"{a}",                  "'{a}'",                  "'{a}'"                 },
        {"- a",                  "'- a'",                  "'- a'"                 },
        {"-a",                   "'-a'",                   "'-a'"                  },
        {"? a",                  "'? a'",                  "'? a'"                 },
        {"a?",                   "a?",                     "'a?'"                  },
        {"#a",                   "'#a'",                   "'#a'"                  },
        {"&a",                   "'&a'",                   "'&a'"                  },
        {"*a",                   "'*a'",                   "'*a'"                  },
        {"!a",                   "'!a'",                   "'!a'"                  },
        {"|",                    "'|'",                    "'|'"                   },
        {">a",                   "'>a'",                   "'>a'"                  },
        {"%a",                   "'%a'",                   "'%a'"                  },
        {"@a",                   "'@a'",                   "'@a'"                  },
        {"`a",                   "'`a'",                   "'`a'"                  },
        {"it's",                 "it's",                   "it's"                  },
        {"'it",                  "'''it'",                 "'''it'"                },
        {"\"a\"",                "'\"a\"'",                "'\"a\"'"               },
        {"a \"b\"",              "a \"b\"",                "a \"b\""               },
        {"a\\b",                 "a\\b",                   "a\\b"                  },
        {" a",                   "' a'",                   "' a'"                  },
        {"a ",                   "'a '",                   "'a '"                  },
        {"...",                  "'...'",                  "'...'"                 },
        {"---",                  "'---'",                  "'---'"                 },
        {"a\nb",                 "\"a\\nb\"",              "\"a\\nb\""             },
        {"a\tb",                 "\"a\\tb\"",              "\"a\\tb\""             },
        {"a\rb\"\\",             "\"a\\rb\\\"\\\\\"",      "\"a\\rb\\\"\\\\\""     },
        {"\x01",                 "\"\\x01\"",              "\"\\x01\""             },
        {"\x7f",                 "\"\\x7F\"",              "\"\\x7F\""             },
        {"\xc2\x85",             "\"\\x85\"",              "\"\\x85\""             },
        {"\xe2\x80\xa8",         "\"\\u2028\"",            "\"\\u2028\""           },
        {"\xe2\x80\xa9",         "\"\\u2029\"",            "\"\\u2029\""           },
        {"\xef\xbb\xbf",         "\"\\uFEFF\"",            "\"\\uFEFF\""           },
        {"K\xc3\xbc"
         "che",         "K\xc3\xbc"
         "che",                    "K\xc3\xbc"
         "che"                              },
        {"\xf0\x9f\x94\xa7",     "\xf0\x9f\x94\xa7",       "\xf0\x9f\x94\xa7"      },
};

START_TEST(every_reader_takes_it_for_the_same_text)
{
	const char *text = scalars[_i].text;
	struct scalar_style style = {0};

	ck_assert_str_eq(scalar_write(text, strlen(text), style, &arena), scalars[_i].block);
	style.in_flow = true;
	ck_assert_str_eq(scalar_write(text, strlen(text), style, &arena), scalars[_i].flow);
}
END_TEST

static const struct {
	const char *text, *typed;
} typed_scalars[] = {
        {"320",              "320"             },
        {"-4.5",             "-4.5"            },
        {"0",                "0"               },
        {"0.5",              "0.5"             },
        {"2019-04-03",       "2019-04-03"      },
        {"2019-04",          "2019-04"         },
        {"before_july_1999", "before_july_1999"},
        {"yes",              "yes"             },
        {"no",               "no"              },
        {"007",              "'007'"           },
        {"1_0",              "'1_0'"           },
        {"5.",               "'5.'"            },
};

/* A number, a date, yes or no that is meant as one stays one for everybody. */
START_TEST(numbers_dates_and_truths_are_plain)
{
	const char *text = typed_scalars[_i].text;
	struct scalar_style style = {.typed = true};

	ck_assert_str_eq(scalar_write(text, strlen(text), style, &arena), typed_scalars[_i].typed);
}
END_TEST

/* -- at random -------------------------------------------------------------------------- */

static void change_at_random(struct dice *dice, size_t times)
{
	while (times-- > 0) {
		struct change change = random_change(&survey, dice, &arena);
		struct err err = {0};

		ck_assert_msg(survey_apply(&survey, &change, &err), "%s: %s", change.where,
		              err.message);
	}
}

/* A survey of some size, then its text, then the survey again as that text says it. */
static size_t make_original(struct dice *dice, size_t size)
{
	size_t comments;

	change_at_random(dice, size);
	original = random_text(&survey, dice, &arena, &comments);
	read_into(&survey, &original);
	return comments;
}

START_TEST(no_change_no_byte)
{
	struct dice dice = {(uint64_t)_i * 7919 + 13};
	struct err err = {0};
	const char *out;

	make_original(&dice, roll(&dice, 120));
	out = written(&err);
	ck_assert_msg(out != NULL, "%s", err.message);
	ck_assert_str_eq(out, original.text);
}
END_TEST

static void assert_reads_the_same(const char *out, const char *title)
{
	struct source source = {"written.yaml", out, strlen(out)};
	struct survey again = {0};
	struct changes changes;

	ck_assert(survey_init(&again, &book));
	read_into(&again, &source);
	ck_assert(survey_compare(&survey, &again, &arena, &changes));
	ck_assert_msg(changes.count == 0, "%s: %s\n%s\n=>\n%s", title, changes.item[0].where,
	              original.text, out);
	survey_finish(&again);
}

static bool changes_kind(const struct change *change)
{
	size_t length = strlen(change->where);

	return (length > 5 && (strcmp(change->where + length - 5, "/kind") == 0 ||
	                       strcmp(change->where + length - 5, "/type") == 0)) &&
	       change->where[0] != 's';
}

/* Not the kind of what has answers: that is another test. */
static void edit_at_random(struct dice *dice, size_t times)
{
	while (times > 0) {
		struct change change = random_change(&survey, dice, &arena);
		struct err err = {0};

		if (changes_kind(&change))
			continue;
		ck_assert(survey_apply(&survey, &change, &err));
		times--;
	}
}

START_TEST(changed_text_says_what_the_survey_says)
{
	struct dice dice = {(uint64_t)_i * 104729 + 17};
	struct err err = {0};
	const char *out;

	make_original(&dice, 40 + roll(&dice, 120));
	edit_at_random(&dice, 1 + roll(&dice, 25));
	out = written(&err);
	ck_assert_msg(out != NULL, "%s\n%s", err.message, original.text);
	assert_reads_the_same(out, "changed");
}
END_TEST

START_TEST(another_kind_can_be_saved)
{
	struct dice dice = {(uint64_t)_i * 1299709 + 19};
	struct err err = {0};

	make_original(&dice, 40 + roll(&dice, 120));
	change_at_random(&dice, 1 + roll(&dice, 25));
	ck_assert_msg(written(&err) != NULL, "%s\n%s", err.message, original.text);
}
END_TEST

/* Lines that one text has and the other has not, from where they first differ to where they last do. */
static size_t lines_between(const char *text, const char *other)
{
	size_t start = 0, length = strlen(text), other_length = strlen(other), lines = 1;

	while (text[start] != '\0' && text[start] == other[start])
		start++;
	while (length > start && other_length > start &&
	       text[length - 1] == other[other_length - 1])
		length--, other_length--;
	for (size_t i = start; i < length; i++)
		lines += text[i] == '\n';
	return lines;
}

static bool only_sets(const struct change *change)
{
	return change->after != NULL && change->before != NULL &&
	       strchr(change->before, ',') == NULL && strchr(change->before, '\n') == NULL &&
	       !changes_kind(change) && strcmp(change->before, "") != 0;
}

/* An answer put in place of another: its line changes, all comments stay, in their order. */
START_TEST(one_answer_changes_one_line)
{
	struct dice dice = {(uint64_t)_i * 15485863 + 23};
	struct change change;
	struct err err = {0};
	const char *out, *place;
	size_t comments = make_original(&dice, 40 + roll(&dice, 120));
	char comment[32];
	struct item *item;

	do
		change = random_change(&survey, &dice, &arena);
	while (!only_sets(&change) && roll(&dice, 2000) > 0);
	if (!only_sets(&change))
		return;
	ck_assert(survey_apply(&survey, &change, &err));
	item = survey_find(&survey, change.where, strcspn(change.where, "/"));
	if (item != NULL && item->scope != SCOPE_POINT &&
	    strncmp(change.before, change.after, 1) == 0)
		return;
	out = written(&err);
	ck_assert_msg(out != NULL, "%s\n%s", err.message, original.text);
	ck_assert_msg(lines_between(original.text, out) <= 2, "%s: %s -> %s\n%s\n=>\n%s",
	              change.where, change.before, change.after, original.text, out);
	place = out;
	for (size_t i = 1; i <= comments; i++) {
		snprintf(comment, sizeof(comment), "# c%zu.", i);
		place = strstr(place, comment);
		ck_assert_msg(place != NULL, "%s: %s is lost\n%s\n=>\n%s", change.where, comment,
		              original.text, out);
	}
}
END_TEST

/* From nothing on, saved again and again. */
START_TEST(text_grows_by_what_was_said)
{
	struct dice dice = {(uint64_t)_i * 32452843 + 29};
	struct err err = {0};
	const char *out;

	original = (struct source){"new.yaml", "", 0};
	for (int round = 0; round < 8; round++) {
		edit_at_random(&dice, 1 + roll(&dice, 12));
		out = written(&err);
		ck_assert_msg(out != NULL, "%s\n%s", err.message, original.text);
		assert_reads_the_same(out, "grown");
		ck_assert_int_eq(out[strlen(out) - 1], '\n');
		original = (struct source){"new.yaml", out, strlen(out)};
	}
}
END_TEST

/* -- without memory --------------------------------------------------------------------- */

START_TEST(no_memory_is_said)
{
	struct dice dice = {4711};
	const char *out = NULL;

	make_original(&dice, 40);
	edit_at_random(&dice, 5);
	for (long n = 0; out == NULL; n++) {
		struct err err = {0};

		arena_fail_after(n);
		out = written(&err);
		if (arena_fail_after(-1) == -1 && out != NULL)
			ck_abort_msg("request %ld failed, and nobody saw it", n);
		ck_assert(out != NULL || err.kind == ERR_MEMORY);
	}
	assert_reads_the_same(out, "with memory");
}
END_TEST

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

int main(void)
{
	Suite *suite = suite_create("survey_write");
	TCase *tcase = tcase_create("survey_write");

	tcase_add_unchecked_fixture(tcase, read_book, forget_book);
	tcase_add_checked_fixture(tcase, setup, teardown);
	tcase_set_timeout(tcase, 20);
	tcase_add_loop_test(tcase, only_what_was_answered_changes, 0, ROWS(cases));
	tcase_add_loop_test(tcase, what_would_lose_something_is_refused, 0, ROWS(refusals));
	tcase_add_loop_test(tcase, every_reader_takes_it_for_the_same_text, 0, ROWS(scalars));
	tcase_add_loop_test(tcase, numbers_dates_and_truths_are_plain, 0, ROWS(typed_scalars));
	tcase_add_loop_test(tcase, no_change_no_byte, 0, 40);
	tcase_add_loop_test(tcase, changed_text_says_what_the_survey_says, 0, 100);
	tcase_add_loop_test(tcase, another_kind_can_be_saved, 0, 40);
	tcase_add_loop_test(tcase, one_answer_changes_one_line, 0, 60);
	tcase_add_loop_test(tcase, text_grows_by_what_was_said, 0, 20);
	tcase_add_test(tcase, no_memory_is_said);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
