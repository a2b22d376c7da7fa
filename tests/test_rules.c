#include "print_book.h"

#include "tundish/base/text.h"
#include "tundish/print/rules.h"

#include <check.h>
#include <stdlib.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

static struct rulebook book;
static struct arena scratch;
static struct sink sink;
static struct page page = {&sink, &scratch};

static void set_up(void)
{
	ck_assert(test_book(&book));
	sink_to_memory(&sink);
}

static void tear_down(void)
{
	sink_finish(&sink);
	arena_finish(&scratch);
	rulebook_finish(&book);
}

static const char *printed(void)
{
	return arena_copy(&scratch, sink.count ? sink.bytes : "", sink.count);
}

/* -- conditions ------------------------------------------------------------------------------- */

static struct condition yes_check = {
        .form = CONDITION_TEST, .question = Q_CHECK, .holds = 1u << CELL_YES};
static struct condition no_check = {.form = CONDITION_NOT, .child = &yes_check};
static struct condition tall = {.form = CONDITION_TEST,
                                .question = Q_HEIGHT,
                                .threshold = THRESHOLD_AT_LEAST,
                                .bound = 0.5};
static struct condition any_spout = {
        .form = CONDITION_TEST, .question = Q_SPOUT, .holds = 3, .next = &tall};
static struct condition not_either = {.form = CONDITION_NOT, .child = &either};
static struct condition both = {.form = CONDITION_ALL, .child = &any_spout};
static struct condition none = {.form = CONDITION_ALL};

static const struct {
	const char *title;
	const struct condition *condition;
	const char *words;
} conditions[] = {
        {"no condition",                   NULL,        "always"                                                 },
        {"all of nothing",                 &none,       "always"                                                 },
        {"any, option, below",             &either,     "(spout is pull_out or outlet_height_mm is below 25)"    },
        {"not any",                        &not_either, "not (spout is pull_out or outlet_height_mm is below 25)"},
        {"not, yes",                       &no_check,   "check is not yes"                                       },
        {"all, several options, at least", &both,
         "(spout is fixed or pull_out and outlet_height_mm is at least 0.5)"                                     },
};

START_TEST(conditions_in_words)
{
	const char *words = rules_condition(&book, conditions[_i].condition, &scratch);

	ck_assert_msg(strcmp(words, conditions[_i].words) == 0, "%s: %s", conditions[_i].title,
	              words);
}
END_TEST

static const struct {
	const char *title, *name;
	size_t entries;
	const char *says[6];
} entries[] = {
        {"a kind",
         "kitchen_mixer",                               1,
         {"Kind kitchen_mixer: Kitchen mixer", "mixer_sink",
          "Table of the test book, line 1 (published)", "mixer_crossflow",
          "no source (common practice)", "What kind of spout?"}                             },
        {"a type",
         "EB",                                          1,
         {"good for  2 against both", "Table of the test book, line 2 (memory)", "eb_fails",
          "as found  none"}                                                                 },
        {"a question",
         "spout",                                       1,
         {"fixed, pull_out; cannot_tell", "Pull at it.", "pulls out on a hose"}             },
        {"a number",                "outlet_height_mm", 1, {"0 to 2000 mm"}                 },
        {"one id in two scopes",
         "name",                                        2,
         {"Question name of a room", "Question name of a point"}                            },
        {"a question of one scope", "room.name",        1, {"Question name of a room"}      },
        {"a row",
         "mixer_sink",                                  1,
         {"Row of kind kitchen_mixer", "fluid category 5", "by back siphonage"}             },
        {"a row by its earlier id", "mixer_old",        1, {"mixer_sink", "mixer_old"}      },
        {"a row of a type",         "eb_fails",         1, {"Row of type EB", "check is no"}},
        {"nothing",                 "kitchen_mixr",     0, {NULL}                           },
};

START_TEST(the_rulebook_by_name)
{
	size_t count = rules_entry(&page, &book, entries[_i].name);

	ck_assert_msg(count == entries[_i].entries, "%s: %zu entries", entries[_i].title, count);
	for (size_t i = 0; i < 6 && entries[_i].says[i]; i++)
		ck_assert_msg(strstr(printed(), entries[_i].says[i]) != NULL, "%s: no '%s' in:\n%s",
		              entries[_i].title, entries[_i].says[i], printed());
}
END_TEST

START_TEST(the_list_names_all_kinds_and_types)
{
	rules_list(&page, &book);
	ck_assert_ptr_nonnull(strstr(printed(), "Rulebook 3f9c0a1e, for 2026-11-25\n"));
	ck_assert_ptr_nonnull(
	        strstr(printed(), "  kitchen_mixer               Kitchen mixer: Kitchen\n"));
	ck_assert_ptr_nonnull(strstr(
	        printed(),
	        "  EB                          Single check valve: good for 2 against both\n"));
}
END_TEST

START_TEST(a_misspelt_name_finds_the_nearest)
{
	ck_assert_str_eq(rules_nearest(&book, "kitchen_mixr", &scratch), "kitchen_mixer");
	ck_assert_ptr_null(rules_nearest(&book, "zzzzzzzzzzzz", &scratch));
}
END_TEST

START_TEST(no_line_is_longer_than_80_columns)
{
	rules_list(&page, &book);
	rules_entry(&page, &book, "kitchen_mixer");
	rules_entry(&page, &book, "EB");
	for (const char *line = printed(); *line;) {
		size_t length = strcspn(line, "\n");
		ck_assert_msg(text_width(line, length) <= PAGE_COLUMNS, "%.*s", (int)length, line);
		line += length + (line[length] == '\n');
	}
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("rules");
	TCase *tests = tcase_create("rules");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_loop_test(tests, conditions_in_words, 0, COUNT(conditions));
	tcase_add_loop_test(tests, the_rulebook_by_name, 0, COUNT(entries));
	tcase_add_test(tests, the_list_names_all_kinds_and_types);
	tcase_add_test(tests, a_misspelt_name_finds_the_nearest);
	tcase_add_test(tests, no_line_is_longer_than_80_columns);
	suite_add_tcase(suite, tests);
	SRunner *runner = srunner_create(suite);
	srunner_run_all(runner, CK_ENV);
	int failed = srunner_ntests_failed(runner);
	srunner_free(runner);
	return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
