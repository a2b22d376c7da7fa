#include "print_book.h"

#include "tundish/base/text.h"
#include "tundish/print/rules.h"

#include "suite.h"

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
         {"good for  2 against both", "Table of the test book, line 2 (MEMORY, to be checked)",
          "eb_fails", "as found  none", "always    no kind", "at times  kitchen_mixer"}     },
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
        {"a kind by another word",  "Sink Tap",         1, {"Kind kitchen_mixer: Kitchen mixer", "also      monobloc, sink tap", "usual     EB"}},
        {"by the start of a word",  "mono",             1, {"Kind kitchen_mixer: Kitchen mixer"}},
        {"a word of its name",      "kitchen",          1, {"Kind kitchen_mixer: Kitchen mixer"}},
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
	        "  EB                          Single check valve: good for 2 against both;\n"
	        "                              MEMORY, to be checked\n"));
}
END_TEST

/* -- what would do ---------------------------------------------------------------------------- */

enum { WEAK, BOTH_3, BOTH_4, SIPHONAGE_5, PRESSURE_4 };

/* clang-format 14 falls over nested initializers of this length. */
/* clang-format off */
static struct series weak_pair = {
        .row = {.id = "weak_pair", .says = "Two are more.", .source_text = "no source",
                .standing = STANDING_COMMON_PRACTICE, .fluid = ROW_NONE, .replaces = ROW_NONE},
        .with = WEAK,
        .counts_as = BOTH_3,
        .with_id = "weak",
        .counts_as_id = "both_3"
};

/* Back pressure, back siphonage. */
static struct type types[] = {
        [WEAK] = {.id = "weak", .name = "Weak", .good_for = {2, 2}, .series = &weak_pair,
                  .series_count = 1},
        [BOTH_3] = {.id = "both_3", .name = "Both", .good_for = {3, 3}},
        [BOTH_4] = {.id = "both_4", .name = "Both", .good_for = {4, 4}},
        [SIPHONAGE_5] = {.id = "siphonage_5", .name = "Siphonage", .good_for = {1, 5}},
        [PRESSURE_4] = {.id = "pressure_4", .name = "Pressure", .good_for = {4, 3},
                        .tell = "It hisses.", .limits = "Never in a pit.",
                        .source_text = "Table 9", .standing = STANDING_MEMORY},
};
/* clang-format on */

/* What a list names: `|` for a heading, then the first word of each entry. */
static const char *named(void)
{
	const char *text = "";

	for (const char *line = printed(); *line; line += strcspn(line, "\n") + 1) {
		if (strncmp(line, "Good for", 8) == 0)
			text = arena_print(&scratch, "%s| ", text);
		else if (strncmp(line, "  ", 2) == 0 && line[2] != ' ')
			text = arena_print(&scratch, "%s%.*s ", text, (int)strcspn(line + 2, " \n"),
			                   line + 2);
	}
	return text;
}

static const struct {
	const char *title;
	uint8_t category;
	int mechanism; /* -1: any */
	const char *names;
} enough[] = {
        {"2 by back pressure",  2, BACK_PRESSURE,  "| weak both_3 both_4 pressure_4 "                     },
        {"3, with a pair",      3, BACK_PRESSURE,  "| both_3 both_4 pressure_4 weak_pair "                },
        {"3 by siphonage",      3, BACK_SIPHONAGE, "| both_3 both_4 siphonage_5 pressure_4 weak_pair "    },
        {"just 4",              4, BACK_SIPHONAGE, "| both_4 siphonage_5 "                                },
        {"one over",            5, BACK_SIPHONAGE, "| siphonage_5 "                                       },
        {"nothing does",        5, BACK_PRESSURE,  "| none "                                              },
        {"any: nothing alone",  2, -1,             "| weak both_3 both_4 pressure_4 | none | siphonage_5 "},
        {"any: 3 and the pair", 3, -1,
         "| both_3 both_4 pressure_4 weak_pair | none | siphonage_5 "                                     },
        {"any: apart",          4, -1,             "| both_4 | pressure_4 | siphonage_5 "                 },
        {"any: 5",              5, -1,             "| none | none | siphonage_5 "                         },
};

START_TEST(what_would_do)
{
	book.type = types;
	book.type_count = COUNT(types);
	if (enough[_i].mechanism < 0)
		rules_for_any(&page, &book, enough[_i].category);
	else
		rules_for(&page, &book, enough[_i].category, (enum mechanism)enough[_i].mechanism);
	ck_assert_msg(strcmp(named(), enough[_i].names) == 0, "%s: %s", enough[_i].title, named());
}
END_TEST

START_TEST(what_would_do_is_told_with_its_limits)
{
	book.type = types;
	book.type_count = COUNT(types);
	rules_for(&page, &book, 4, BACK_PRESSURE);
	ck_assert_ptr_nonnull(strstr(printed(),
	                             "Good for at least fluid category 4 against back pressure\n"
	                             "\n"
	                             "  both_4        Both\n"));
	ck_assert_ptr_nonnull(strstr(
	        printed(), "  pressure_4    Pressure\n"
	                   "      good for  4 against back pressure, 3 against back siphonage\n"
	                   "      tell      It hisses.\n"
	                   "      limits    Never in a pit.\n"
	                   "      source    Table 9 (MEMORY, to be checked)\n"));
}
END_TEST

/* mixer_sink needs 5 by siphonage, mixer_crossflow 2 by pressure. */
static const struct {
	const char *title;
	uint8_t good_for[MECHANISM_COUNT];
	const char *says;
} served[] = {
        {"both rows",            {2, 5}, "always    kitchen_mixer\n      at times  no kind"},
        {"one of them",          {1, 5}, "always    no kind\n      at times  kitchen_mixer"},
        {"the other, only just", {2, 4}, "always    no kind\n      at times  kitchen_mixer"},
        {"neither",              {1, 4}, "always    no kind\n      at times  no kind"      },
};

START_TEST(what_a_type_may_serve)
{
	struct type type = types[BOTH_3];

	memcpy(type.good_for, served[_i].good_for, sizeof(type.good_for));
	book.type = &type;
	book.type_count = 1;
	rules_entry(&page, &book, "EB"); /* found by the index of the book it was settled with */
	ck_assert_msg(strstr(printed(), served[_i].says) != NULL, "%s:\n%s", served[_i].title,
	              printed());
}
END_TEST

/* -- sources and counts ------------------------------------------------------------------------ */

static const struct {
	const char *title;
	enum standing standing;
	const char *text;
} standings[] = {
        {"a row",                              STANDING_PUBLISHED,
         "Of standing published, by source: 1\n"
         "\n"
         "Table of the test book, line 1\n"
         "  mixer_sink                      kind kitchen_mixer: Water in the sink can\n"
         "                                  touch a spout that reaches below the rim.\n"},
        {"no source, several kinds and types", STANDING_COMMON_PRACTICE,
         "Of standing common practice, by source: 2\n"
         "\n"
         "no source\n"
         "  mixer_crossflow                 kind kitchen_mixer: Hot and cold meet in the\n"
         "                                  body.\n"
         "  eb_fails                        type EB: A check that does not hold stops\n"
         "                                  nothing.\n"                                 },
        {"a type itself",                      STANDING_MEMORY,
         "Of standing MEMORY, to be checked, by source: 1\n"
         "\n"
         "Table of the test book, line 2\n"
         "  EB                              type: Single check valve: good for 2 against\n"
         "                                  both\n"                                     },
};

START_TEST(rows_by_their_source)
{
	rules_standing(&page, &book, standings[_i].standing);
	ck_assert_msg(strcmp(printed(), standings[_i].text) == 0, "%s:\n%s", standings[_i].title,
	              printed());
}
END_TEST

START_TEST(nothing_of_a_standing_is_said)
{
	book.type_count = 0;
	rules_standing(&page, &book, STANDING_MEMORY);
	ck_assert_str_eq(printed(), "Of standing MEMORY, to be checked, by source: 0\n");
}
END_TEST

START_TEST(counts_by_standing)
{
	rules_counts(&page, &book);
	ck_assert_str_eq(printed(),
	                 "kinds                 1\n"
	                 "types                 1: 0 published, 0 common practice, 1 memory\n"
	                 "questions             11\n"
	                 "rows                  3: 1 published, 2 common practice, 0 memory\n");
}
END_TEST

START_TEST(the_rows_of_one_text_count_once)
{
	struct row rows[] = {mixer_rows[0], mixer_rows[1], mixer_rows[1], mixer_rows[1]};
	struct kind kinds[] = {book.kind[0], book.kind[0]};

	kinds[0].row = rows;
	kinds[0].row_count = COUNT(rows);
	kinds[1].id = "other"; /* ids are looked at within one kind */
	kinds[1].row = rows + 1;
	kinds[1].row_count = 1;
	book.kind = kinds;
	book.kind_count = 2;
	book.type_count = 0;
	rules_counts(&page, &book);
	ck_assert_ptr_nonnull(strstr(
	        printed(), "rows                  3: 1 published, 2 common practice, 0 memory\n"));
}
END_TEST

START_TEST(a_misspelt_name_finds_the_nearest)
{
	ck_assert_str_eq(rules_nearest(&book, "kitchen_mixr", &scratch), "kitchen_mixer");
	ck_assert_ptr_null(rules_nearest(&book, "zzzzzzzzzzzz", &scratch));
}
END_TEST

/* -- words of the book ------------------------------------------------------------------------- */

/* One word a thing: what people read is what is written in files, but for the underscore. */
START_TEST(urgency_reads_as_it_is_written)
{
	for (enum urgency urgency = 0; urgency < URGENCY_COUNT; urgency++) {
		const char *name = urgency_name(urgency);
		char *words = arena_copy(&scratch, name, strlen(name));

		for (char *at = words; *at; at++)
			*at = *at == '_' ? ' ' : *at;
		ck_assert_str_eq(urgency_words(urgency), words);
	}
}
END_TEST

START_TEST(only_memory_is_put_otherwise_for_people)
{
	ck_assert_str_eq(standing_words(STANDING_PUBLISHED), standing_name(STANDING_PUBLISHED));
	ck_assert_str_eq(standing_words(STANDING_COMMON_PRACTICE),
	                 standing_name(STANDING_COMMON_PRACTICE));
	ck_assert_str_eq(standing_words(STANDING_MEMORY), "MEMORY, to be checked");
}
END_TEST

START_TEST(no_line_is_longer_than_80_columns)
{
	rules_list(&page, &book);
	rules_entry(&page, &book, "kitchen_mixer");
	rules_entry(&page, &book, "EB");
	rules_for_any(&page, &book, 2);
	for (enum standing standing = 0; standing < STANDING_COUNT; standing++)
		rules_standing(&page, &book, standing);
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
	tcase_add_loop_test(tests, what_would_do, 0, COUNT(enough));
	tcase_add_test(tests, what_would_do_is_told_with_its_limits);
	tcase_add_loop_test(tests, what_a_type_may_serve, 0, COUNT(served));
	tcase_add_loop_test(tests, rows_by_their_source, 0, COUNT(standings));
	tcase_add_test(tests, nothing_of_a_standing_is_said);
	tcase_add_test(tests, counts_by_standing);
	tcase_add_test(tests, the_rows_of_one_text_count_once);
	tcase_add_test(tests, a_misspelt_name_finds_the_nearest);
	tcase_add_test(tests, urgency_reads_as_it_is_written);
	tcase_add_test(tests, only_memory_is_put_otherwise_for_people);
	tcase_add_test(tests, no_line_is_longer_than_80_columns);
	suite_add_tcase(suite, tests);
	return suite_run(suite);
}
