#include "print_house.h"

#include "tundish/base/text.h"
#include "tundish/print/csv.h"
#include "tundish/print/ndjson.h"
#include "tundish/print/table.h"

#include "suite.h"

#include <check.h>
#include <stdlib.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

/* -- what all tests stand on ------------------------------------------------------------------- */

static struct rulebook book;
static struct survey survey;
static struct arena scratch;
static struct sink sink;
static struct page page = {&sink, &scratch};

/* Sink water, 5, past a single check on the cold inlet; to the main, and to the bath. */
static struct fluid_verdict fluids[] = {
        {0, {5, 5}, 1u << BACK_SIPHONAGE, 3},
        {1, {1, 2}, 1u << BACK_PRESSURE,  1},
};
static struct path paths[] = {
        {.fluid = 0,
         .inlet_index = 0,
         .mechanism = BACK_SIPHONAGE,
         .to = "main",
         .needs = {5, 5},
         .good_for = {2, 2},
         .accepted = {2, 2},
         .found = {1, 2},
         .on_paper = {3, 3},
         .in_fact = {3, 4}},
        {.fluid = 0,
         .inlet_index = 0,
         .mechanism = BACK_SIPHONAGE,
         .to = "B1",
         .needs = {5, 5},
         .good_for = {2, 2},
         .accepted = {2, 2},
         .found = {1, 2},
         .on_paper = {3, 3},
         .in_fact = {3, 4}},
};
static struct because reasons[] = {
        {&mixer_rows[0], NULL, true },
        {&check_rows[0], NULL, false}
};
static struct ask asks[] = {
        {NULL, Q_HEIGHT,      0},
        {NULL, Q_CHECK,       0},
        {NULL, QUESTION_NONE, 1}
};
/* An inlet that the survey does not have yet, and one of another point up the way. */
static struct item hot_inlet = {.scope = SCOPE_INLET, .ref = "hot", .of = INDEX_NONE};
static struct assessment assessment;
static struct assessed assessed = {"house.yaml", &survey, &assessment};

static struct item *find(const char *ref)
{
	return survey_find(&survey, ref, strlen(ref));
}

static void set_up(void)
{
	ck_assert(test_book(&book));
	ck_assert(test_house(&survey, &book));
	sink_to_memory(&sink);
	asks[0].item = find("K1");
	asks[1].item = find("K1a");
	hot_inlet.parent = find("K1");
	asks[2].item = &hot_inlet;
	reasons[1].protection = find("K1a");
	assessment = (struct assessment){
	        .point = find("K1"),
	        .category = {5, 5},
	        .on_paper = {3, 3},
	        .in_fact = {3, 4},
	        .verdict = VERDICT_SHORT,
	        .urgency = URGENCY_NEXT_JOB,
	        .fluid = fluids,
	        .fluid_count = 2,
	        .path = paths,
	        .path_count = 2,
	        .because = reasons,
	        .because_count = 2,
	        .ask = asks,
	        .ask_count = 3
        };
}

static void tear_down(void)
{
	sink_finish(&sink);
	survey_finish(&survey);
	arena_finish(&scratch);
	rulebook_finish(&book);
}

/* All that was printed, as text. */
static const char *printed(void)
{
	return arena_copy(&scratch, sink.count ? sink.bytes : "", sink.count);
}

/* -- JSON lines -------------------------------------------------------------------------------- */

static const struct {
	const char *title, *text, *json;
} strings[] = {
        {"nothing",                  NULL,           "null"                     },
        {"empty",                    "",             "\"\""                     },
        {"plain",                    "Kitchen",      "\"Kitchen\""              },
        {"quote and backslash",      "a\"b\\c",      "\"a\\\"b\\\\c\""          },
        {"line break, tab, return",  "a\nb\tc\r",    "\"a\\nb\\tc\\r\""         },
        {"backspace and form feed",  "\b\f",         "\"\\b\\f\""               },
        {"other control characters", "\x01\x1b\x7f", "\"\\u0001\\u001b\\u007f\""},
        {"beyond ASCII as it is",
         "K\xc3\xbc"
         "che",                                      "\"K\xc3\xbc"
         "che\""                                                 },
        {"a byte that is not UTF-8",
         "a\xff"
         "b",                                        "\"a\xef\xbf\xbd"
         "b\""                                                     },
        {"a character cut short",    "a\xc3",        "\"a\xef\xbf\xbd\""        },
};

START_TEST(json_strings_are_escaped)
{
	ndjson_string(&sink, strings[_i].text);
	ck_assert_msg(strcmp(printed(), strings[_i].json) == 0, "%s: %s", strings[_i].title,
	              printed());
}
END_TEST

#define RANGE(least, most) "{\"least\": " #least ", \"most\": " #most "}"

START_TEST(a_point_is_one_line_with_the_keys_of_the_contract)
{
	static const char path_to[] = "{\"fluid\": \"sink_water\", \"inlet\": \"cold\", "
	                              "\"mechanism\": "
	                              "\"back_siphonage\", \"to\": \"%s\", \"needs\": " RANGE(5, 5) ", \"type_good_for\": " RANGE(
	                                      2,
	                                      2) ", \"accepted\": " RANGE(2,
	                                                                  2) ", "
	                                                                     "\"as_found\":"
	                                                                     " " RANGE(
	                                                                             1,
	                                                                             2) ", "
	                                                                                "\"sho"
	                                                                                "rtfal"
	                                                                                "l\": "
	                                                                                "{\"on"
	                                                                                "_pape"
	                                                                                "r\":"
	                                                                                " " RANGE(3, 3) ", \"in_fact\": " RANGE(
	                                                                                        3,
	                                                                                        4) "}}";
	struct sink expected;

	sink_to_memory(&expected);
	sink_text(&expected,
	          "{\"file\": \"house.yaml\", \"part\": \"flat\", \"room\": \"Kitchen\", "
	          "\"ref\": \"K1\", "
	          "\"kind\": \"kitchen_mixer\", \"seen\": \"yes\", \"on\": "
	          "\"2026-11-25\", "
	          "\"rulebook\": \"3f9c0a1e\", \"category\": " RANGE(
	                  5, 5) ", \"fluids\": [{\"fluid\": \"sink_water\", "
	                        "\"category\": " RANGE(5, 5) ", \"by\": [\"back_siphonage\"], "
	                                                     "\"inlets\": [\"cold\", \"hot\"]}, "
	                                                     "{\"fluid\": \"crossflow\", "
	                                                     "\"category\": " RANGE(
	                                                             1, 2) ", \"by\": "
	                                                                   "[\"back_pressure\"],"
	                                                                   " \"inlets\": "
	                                                                   "[\"cold\"]}], "
	                                                                   "\"paths\": [");
	sink_text(&expected, arena_print(&scratch, path_to, "main"));
	sink_text(&expected, ", ");
	sink_text(&expected, arena_print(&scratch, path_to, "B1"));
	sink_text(
	        &expected,
	        "], \"shortfall\": {\"on_paper\": " RANGE(3, 3) ", \"in_fact\": " RANGE(
	                3, 4) "}, \"verdict\": \"short\", \"urgency\": \"next_job\", \"because\": ["
	                      "{\"row\": \"mixer_sink\", \"says\": \"Water in the sink can touch a "
	                      "spout that "
	                      "reaches below the rim.\", \"source\": \"Table of the test book, "
	                      "line 1\", "
	                      "\"standing\": \"published\", \"holds\": \"yes\"}, "
	                      "{\"row\": \"eb_fails\", \"says\": \"A check that does not hold "
	                      "stops nothing.\", "
	                      "\"source\": \"no source\", \"standing\": \"common practice\", "
	                      "\"holds\": \"could\"}], "
	                      "\"ask_next\": [\"outlet_height_mm\", \"K1a/check\", "
	                      "\"hot/protection\"]}\n");
	sink_bytes(&expected, "", 1);
	ndjson_point(&sink, &assessed);
	ck_assert_str_eq(printed(), expected.bytes);
	sink_finish(&expected);
}
END_TEST

START_TEST(what_does_not_apply_is_null_or_empty)
{
	struct item *room = survey_add(&survey, survey.premises, SCOPE_ROOM, "hall", NULL);
	struct item *part = survey_add(&survey, survey.premises, SCOPE_PART, "shop", NULL);

	ck_assert(room && part); /* with two parts, the room is in neither until somebody says */
	assessment = (struct assessment){
	        .point = survey_add(&survey, room, SCOPE_POINT, "H1", NULL),
	        .category = {1, 5},
	        .verdict = VERDICT_UNDECIDED
        };
	ndjson_point(&sink, &assessed);
	ck_assert_str_eq(
	        printed(),
	        "{\"file\": \"house.yaml\", \"part\": null, \"room\": \"hall\", \"ref\": \"H1\", "
	        "\"kind\": null, \"seen\": null, \"on\": \"2026-11-25\", \"rulebook\": "
	        "\"3f9c0a1e\", "
	        "\"category\": " RANGE(1, 5) ", \"fluids\": [], \"paths\": [], \"shortfall\": "
	                                     "{\"on_paper\": " RANGE(0, 0) ", \"in_fact\": " RANGE(
	                                             0, 0) "}, \"verdict\": \"undecided\", "
	                                                   "\"urgency\": \"none\", \"because\": "
	                                                   "[], \"ask_next\": []}\n");
}
END_TEST

START_TEST(a_row_kept_as_several_is_given_once)
{
	struct row again = mixer_rows[0];
	struct because several[] = {
	        {&mixer_rows[0], NULL,        false},
	        {&again,         NULL,        false},
	        {&check_rows[0], find("K1a"), true },
	        {&again,         NULL,        true },
	};

	assessment.because = several;
	assessment.because_count = 4;
	ndjson_point(&sink, &assessed);
	const char *rows = strstr(printed(), "\"because\": [");
	ck_assert_ptr_nonnull(rows);
	const char *first = strstr(rows, "\"mixer_sink\"");
	ck_assert_ptr_nonnull(first);
	const char *second = strstr(first + 1, "\"mixer_sink\"");
	ck_assert_ptr_nonnull(second); /* one that could count, and one that does */
	ck_assert_ptr_null(strstr(second + 1, "\"mixer_sink\""));
	sink.count = 0;
	csv_point(&sink, &assessed);
	ck_assert_ptr_nonnull(strstr(printed(), ",mixer_sink eb_fails mixer_sink,"));
	sink.count = 0;
	table_point(&page, &assessed);
	const char *could = strstr(printed(), "      could Water in the sink");
	ck_assert_ptr_nonnull(could);
	ck_assert_ptr_null(strstr(could + 1, "      could "));
}
END_TEST

START_TEST(what_the_undertaker_decided_is_a_fluid_of_its_own)
{
	struct fluid_verdict decided = {
	        FLUID_UNDERTAKER, {3, 3},
                 3, 1
        };

	assessment.fluid = &decided;
	assessment.fluid_count = 1;
	ndjson_point(&sink, &assessed);
	ck_assert_ptr_nonnull(strstr(
	        printed(), "\"fluids\": [{\"fluid\": \"undertaker_says\", \"category\": " RANGE(
	                           3, 3) ", \"by\": [\"back_pressure\", \"back_siphonage\"]"));
}
END_TEST

/* -- CSV --------------------------------------------------------------------------------------- */

static const struct {
	const char *title, *text, *csv;
} cells_of_text[] = {
        {"nothing",              NULL,       ""                      },
        {"plain",                "Kitchen",  "Kitchen"               },
        {"comma",                "a,b",      "\"a,b\""               },
        {"quote",                "a\"b",     "\"a\"\"b\""            },
        {"line break",           "a\nb",     "\"a\nb\""              },
        {"quotes at both ends",  "\"a\"",    "\"\"\"a\"\"\""         },
        {"formula",              "=1+1",     "\"'=1+1\""             },
        {"plus",                 "+1",       "\"'+1\""               },
        {"minus",                "-5",       "\"'-5\""               },
        {"at",                   "@a",       "\"'@a\""               },
        {"tab",                  "\ta",      "\"'\ta\""              },
        {"return",               "\ra",      "\"'\ra\""              },
        {"formula after blanks", "  =1+1",   "\"'  =1+1\""           },
        {"formula with a quote", "=\"a\"",   "\"'=\"\"a\"\"\""       },
        {"equals inside",        "a=b",      "a=b"                   },
        {"not UTF-8",            "a\xff\"b", "\"a\xef\xbf\xbd\"\"b\""},
};

START_TEST(csv_text_is_quoted_and_no_formula)
{
	csv_text(&sink, cells_of_text[_i].text);
	ck_assert_msg(strcmp(printed(), cells_of_text[_i].csv) == 0, "%s: %s",
	              cells_of_text[_i].title, printed());
}
END_TEST

/* Commas outside quotes, and one for the last field. */
static int fields(const char *record)
{
	bool quoted = false;
	int count = 1;

	for (; *record; record++) {
		quoted ^= *record == '"';
		count += *record == ',' && !quoted;
	}
	return count;
}

START_TEST(a_record_has_as_many_fields_as_the_header)
{
	csv_header(&sink);
	int in_header = fields(printed());
	for (size_t worst = 0; worst <= assessment.path_count; worst++) {
		sink.count = 0;
		assessment.worst = worst;
		csv_point(&sink, &assessed);
		ck_assert_int_eq(fields(printed()), in_header);
	}
}
END_TEST

START_TEST(a_record_is_the_point_with_its_worst_path)
{
	csv_point(&sink, &assessed);
	ck_assert_str_eq(
	        printed(),
	        "house.yaml,flat,Kitchen,K1,kitchen_mixer,yes,2026-11-25,3f9c0a1e,5,5,3,3,3,4,"
	        "short,"
	        "next_job,sink_water,cold,back_siphonage,main,5,5,2,2,2,2,1,2,mixer_sink eb_fails,"
	        "outlet_height_mm K1a/check hot/protection\r\n");
}
END_TEST

START_TEST(a_ref_in_ask_next_can_be_no_formula)
{
	struct ask ask = {survey_add(&survey, find("K1")->child[0], SCOPE_PROTECTION, "-1a", NULL),
	                  Q_CHECK, 0};

	assessment.ask = &ask;
	assessment.ask_count = 1;
	csv_point(&sink, &assessed);
	ck_assert_ptr_nonnull(strstr(printed(), ",'-1a/check\r\n"));
}
END_TEST

START_TEST(an_inlet_of_another_point_is_named_with_it)
{
	struct item other = {.scope = SCOPE_POINT, .ref = "L1", .of = INDEX_NONE};
	struct item feed = {.scope = SCOPE_INLET, .ref = "feed", .parent = &other, .of = INDEX_NONE};
	struct ask ask = {&feed, QUESTION_NONE, INLETS_MOST};

	assessment.ask = &ask;
	assessment.ask_count = 1;
	csv_point(&sink, &assessed);
	ck_assert_ptr_nonnull(strstr(printed(), ",L1/feed/protection\r\n"));
}
END_TEST

/* -- prose ------------------------------------------------------------------------------------- */

static const struct {
	const char *title, *lead;
	int indent;
	const char *text, *lines;
} proses[] = {
        {"lead and text",                  "  why",         8,  "so",                                             "  why   so\n"             },
        {"no text",                        "alone",         8,  NULL,                                             "alone\n"                  },
        {"no lead",                        NULL,            2,  "text",                                           "  text\n"                 },
        {"lead too long",                  "much_too_long", 4,  "text",                                           "much_too_long\n    text\n"},
        {"broken at a blank",              "a",             40, "1234567890 1234567890 1234567890 1234567890 12",
         "a                                       1234567890 1234567890 1234567890\n"
         "                                        1234567890 12\n"                                                                           },
        {"nothing that drives a terminal", "\x1b[2J",       8,
         "a\x07"
         "b\xc2\x9b"
         "c",                                                                                                     "?[2J    a?b?c\n"          },
        {"line breaks are blanks",         "a",             4,  "b\nc\td",                                        "a   b c d\n"              },
        {"bytes that are not UTF-8",       "a\xff",         4,  "\xc3(",                                          "a?  ?(\n"                 },
};

START_TEST(prose_keeps_its_columns)
{
	page_prose(&page, proses[_i].lead, proses[_i].indent, proses[_i].text);
	ck_assert_msg(strcmp(printed(), proses[_i].lines) == 0, "%s: %s", proses[_i].title,
	              printed());
}
END_TEST

static const struct {
	const char *title, *text, *cell;
} page_cells[] = {
        {"short",           "ab",                                               "ab    "},
        {"just fits",       "abcdef",                                           "abcdef"},
        {"cut",             "abcdefg",                                          "abcde~"},
        {"wide characters", "\xe6\xb0\xb4\xe6\xb0\xb4\xe6\xb0\xb4\xe6\xb0\xb4",
         "\xe6\xb0\xb4\xe6\xb0\xb4~ "                                                   },
};

START_TEST(cells_take_their_columns)
{
	page_cell(&page, page_cells[_i].text, 6);
	ck_assert_msg(strcmp(printed(), page_cells[_i].cell) == 0, "%s: '%s'", page_cells[_i].title,
	              printed());
}
END_TEST

/* -- the table --------------------------------------------------------------------------------- */

static const char table_expected[] =
        "house.yaml\n"
        "                                                                 short by\n"
        "  point      outlet or appliance     verdict    urgency   fluid   paper  fact\n"
        "\n"
        "Kitchen, part flat\n"
        "  K1         Kitchen mixer           short      next job  5       3      3 to 4\n"
        "      path  water from the sink, by back siphonage through the cold inlet, to\n"
        "            the undertaker's main, to B1: needs 5; type good for 2, accepted 2,\n"
        "            as found 1 to 2; short by 3 on paper, 3 to 4 in fact\n"
        "      why   Water in the sink can touch a spout that reaches below the rim.\n"
        "            [mixer_sink: Table of the test book, line 1; published]\n"
        "      could K1a: A check that does not hold stops nothing. [eb_fails: no source;\n"
        "            common practice]\n"
        "      ask   How high is the outlet over the rim? [outlet_height_mm]\n"
        "      ask   Does the check hold? [K1a/check]\n"
        "      ask   What is fitted on the hot inlet? [hot/protection]\n"
        "\n"
        "1 point: 1 short, 0 undecided, 0 not seen, 0 unproven, 0 protected\n"
        "Judged by rulebook 3f9c0a1e for 2026-11-25.\n"
        "Supports a competent person and approves nothing: the water undertaker decides,\n"
        "local rules rule, and work on unvented hot water, gas, electrics or sealed\n"
        "systems is for those licensed for it.\n";

START_TEST(the_table_says_path_reason_source_and_what_to_ask)
{
	struct tally tally = {.files = 1, .points = 1, .verdict = {[VERDICT_SHORT] = 1}};

	table_file(&page, "house.yaml", &survey);
	table_room(&page, &survey, find("kitchen"));
	table_point(&page, &assessed);
	table_end(&page, &book, &tally);
	ck_assert_str_eq(printed(), table_expected);
}
END_TEST

START_TEST(a_protected_point_is_one_line)
{
	assessment.verdict = VERDICT_PROTECTED;
	assessment.urgency = URGENCY_NONE;
	assessment.on_paper = assessment.in_fact = (struct range){0, 0};
	table_point(&page, &assessed);
	ck_assert_str_eq(
	        printed(),
	        "  K1         Kitchen mixer           protected  -         5       0      0\n");
}
END_TEST

START_TEST(paths_that_could_be_short_give_way_to_those_that_are)
{
	struct path several[] = {paths[0], paths[0], paths[0]};

	several[1].to = "B1";
	several[1].on_paper = several[1].in_fact = (struct range){0, 2};
	several[2].to = "B2";
	several[2].on_paper = several[2].in_fact = (struct range){0, 0};
	assessment.path = several;
	assessment.path_count = 3;
	table_point(&page, &assessed);
	ck_assert_ptr_nonnull(strstr(printed(), "undertaker's main"));
	ck_assert_ptr_null(strstr(printed(), "B1"));
	sink.count = 0;
	several[0].on_paper = several[0].in_fact = (struct range){0, 1};
	table_point(&page, &assessed);
	ck_assert_ptr_nonnull(strstr(printed(), "undertaker's main"));
	ck_assert_ptr_nonnull(strstr(printed(), "B1"));
	ck_assert_ptr_null(strstr(printed(), "B2"));
}
END_TEST

START_TEST(old_lawful_work_and_due_dates_are_noted)
{
	assessment.lawful_old = assessment.due = true;
	table_point(&page, &assessed);
	ck_assert_ptr_nonnull(strstr(
	        printed(), "      note  fitted before 1 July 1999: would not be accepted today"));
	ck_assert_ptr_nonnull(
	        strstr(printed(), "      note  a change, service or test could be due\n"));
}
END_TEST

START_TEST(what_was_done_about_it_is_said)
{
	struct item *action = survey_add(&survey, find("K1"), SCOPE_ACTION, "A1", NULL);

	ck_assert_ptr_nonnull(action);
	ck_assert(test_answer(&survey, action, Q_NAME, "the tenant, by telephone"));
	table_point(&page, &assessed);
	ck_assert_ptr_nonnull(strstr(printed(), "      done  the tenant, by telephone\n"));
}
END_TEST

START_TEST(a_name_with_control_characters_drives_no_terminal)
{
	ck_assert(test_answer(&survey, find("K1"), Q_NAME, "\x1b[2Jleft"));
	ck_assert(test_answer(&survey, find("kitchen"), Q_ROOM_NAME, "\x1b]0;x\x07"));
	table_file(&page,
	           "a\x1b"
	           "b",
	           &survey);
	table_room(&page, &survey, find("kitchen"));
	table_point(&page, &assessed);
	ck_assert_ptr_null(strchr(printed(), '\x1b'));
	ck_assert_ptr_null(strchr(printed(), '\x07'));
}
END_TEST

START_TEST(a_room_says_when_it_was_not_seen_or_is_empty)
{
	struct item *loft =
	        survey_add(&survey, survey.premises, SCOPE_ROOM, "loft", find("kitchen"));

	ck_assert(loft && test_answer(&survey, loft, Q_ROOM_SEEN, "no"));
	table_room(&page, &survey, loft);
	ck_assert_str_eq(printed(), "\nloft, part flat: not seen (no outlet or appliance noted)\n");
}
END_TEST

START_TEST(many_alike_are_counted)
{
	ck_assert(test_answer(&survey, find("K1"), Q_COUNT, "28"));
	table_point(&page, &assessed);
	ck_assert_ptr_nonnull(strstr(printed(), "28 x Kitchen mixer"));
}
END_TEST

START_TEST(no_line_is_longer_than_80_columns)
{
	table_file(&page, "house.yaml", &survey);
	table_point(&page, &assessed);
	for (const char *line = printed(); *line;) {
		size_t length = strcspn(line, "\n");
		ck_assert_msg(text_width(line, length) <= PAGE_COLUMNS, "%.*s", (int)length, line);
		line += length + (line[length] == '\n');
	}
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("print");
	TCase *tests = tcase_create("print");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_loop_test(tests, json_strings_are_escaped, 0, COUNT(strings));
	tcase_add_test(tests, a_point_is_one_line_with_the_keys_of_the_contract);
	tcase_add_test(tests, what_does_not_apply_is_null_or_empty);
	tcase_add_test(tests, a_row_kept_as_several_is_given_once);
	tcase_add_test(tests, what_the_undertaker_decided_is_a_fluid_of_its_own);
	tcase_add_loop_test(tests, csv_text_is_quoted_and_no_formula, 0, COUNT(cells_of_text));
	tcase_add_test(tests, a_record_has_as_many_fields_as_the_header);
	tcase_add_test(tests, a_record_is_the_point_with_its_worst_path);
	tcase_add_test(tests, a_ref_in_ask_next_can_be_no_formula);
	tcase_add_test(tests, an_inlet_of_another_point_is_named_with_it);
	tcase_add_loop_test(tests, prose_keeps_its_columns, 0, COUNT(proses));
	tcase_add_loop_test(tests, cells_take_their_columns, 0, COUNT(page_cells));
	tcase_add_test(tests, the_table_says_path_reason_source_and_what_to_ask);
	tcase_add_test(tests, a_protected_point_is_one_line);
	tcase_add_test(tests, paths_that_could_be_short_give_way_to_those_that_are);
	tcase_add_test(tests, old_lawful_work_and_due_dates_are_noted);
	tcase_add_test(tests, what_was_done_about_it_is_said);
	tcase_add_test(tests, a_name_with_control_characters_drives_no_terminal);
	tcase_add_test(tests, a_room_says_when_it_was_not_seen_or_is_empty);
	tcase_add_test(tests, many_alike_are_counted);
	tcase_add_test(tests, no_line_is_longer_than_80_columns);
	suite_add_tcase(suite, tests);
	return suite_run(suite);
}
