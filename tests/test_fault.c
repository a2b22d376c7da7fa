#include "../src/base/arena_test.h"
#include "tundish/base/fault.h"
#include "tundish/base/text.h"

#include "suite.h"
#include <check.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

static struct arena arena;
static struct faults faults;

static void set_up(void)
{
	arena_init(&arena);
	faults_init(&faults, &arena);
}

static void tear_down(void)
{
	arena_fail_after(-1);
	arena_finish(&arena);
}

static struct source source_of(const char *text)
{
	return (struct source){"elm.yaml", text, strlen(text)};
}

static const struct {
	const char *title, *text;
	size_t at, line, column;
} places[] = {
        {"empty",                      "",                        0,   1, 1},
        {"first",                      "ab\ncd\n",                0,   1, 1},
        {"second",                     "ab\ncd\n",                1,   1, 2},
        {"the break",                  "ab\ncd\n",                2,   1, 3},
        {"next line",                  "ab\ncd\n",                3,   2, 1},
        {"the end",                    "ab\ncd\n",                6,   3, 1},
        {"the end without a break",    "ab\ncd",                  5,   2, 3},
        {"past the end",               "ab\ncd",                  500, 2, 3},
        {"CRLF, the CR",               "ab\r\ncd",                2,   1, 3},
        {"CRLF, the LF",               "ab\r\ncd",                3,   1, 3},
        {"CRLF, after",                "ab\r\ncd",                4,   2, 1},
        {"CRLF at the end",            "ab\r\n",                  4,   2, 1},
        {"CR alone",                   "ab\rcd",                  3,   2, 1},
        {"CR alone, twice",            "ab\r\rcd",                4,   3, 1},
        {"CR at the end",              "ab\r",                    3,   2, 1},
        {"LF CR",                      "a\n\rb",                  3,   3, 1},
        {"blank lines",                "\n\n\nx",                 3,   4, 1},
        {"blank CRLF lines",           "\r\n\r\nx",               4,   3, 1},
        {"characters, not bytes",      "\u00E9\u20AC\U0001F6B0x", 9,   1, 4},
        {"inside a character",         "\u00E9\u20ACx",           3,   1, 2},
        {"BOM",                        "\uFEFFab",                3,   1, 1},
        {"after the BOM",              "\uFEFFab",                4,   1, 2},
        {"inside the BOM",             "\uFEFFab",                1,   1, 1},
        {"BOM, second line",           "\uFEFFab\ncd",            7,   2, 2},
        {"bad bytes count one each",   "a\xFF\xFFx",              3,   1, 4},
        {"cut short at the end",       "ab\xE2\x82",              4,   1, 5},
        {"a separator breaks no line", "a\u2028b",                4,   1, 3},
};

START_TEST(place_of_a_byte)
{
	struct source source = source_of(places[_i].text);
	char *text = malloc(source.length ? source.length : 1);

	ck_assert_ptr_nonnull(text);
	memcpy(text, source.text, source.length);
	source.text = text;
	struct place place = source_place(&source, places[_i].at);

	free(text);
	ck_assert_msg(place.line == places[_i].line && place.column == places[_i].column,
	              "%s: %zu:%zu", places[_i].title, place.line, place.column);
}
END_TEST

static const struct {
	const char *title, *text;
	uint32_t at;
	const char *expected;
} shown[] = {
        {"in the middle",              "a: 1\nkind: bahth\nb: 2\n", 11,
         "elm.yaml:2:7: what\nkind: bahth\n      ^\n"                                                                   },
        {"at the end of a line",       "a: 1\nb: 2\n",              4,  "elm.yaml:1:5: what\na: 1\n    ^\n"             },
        {"at the end of the text",     "a: 1\n",                    5,  "elm.yaml:2:1: what\n\n^\n"                     },
        {"past the end",               "a: 1",                      70, "elm.yaml:1:5: what\na: 1\n    ^\n"             },
        {"CRLF is not shown",          "a: 1\r\nb: 2\r\n",          9,  "elm.yaml:2:4: what\nb: 2\n   ^\n"              },
        {"CR alone",                   "a: 1\rb: 2\rc",             8,  "elm.yaml:2:4: what\nb: 2\n   ^\n"              },
        {"tabs are one blank",         "\ta:\t1",                   4,  "elm.yaml:1:5: what\n a: 1\n    ^\n"            },
        {"controls are harmless",
         "a\x1B[2Jb \xC2\x9B"
         "c",                                                       6,  "elm.yaml:1:7: what\na?[2Jb ?c\n      ^\n"      },
        {"turned writing is harmless", "a\u202Eb",                  4,  "elm.yaml:1:3: what\na?b\n  ^\n"                },
        {"wide characters",            "\u6C34\u6C34: x",           8,  "elm.yaml:1:5: what\n\u6C34\u6C34: x\n      ^\n"},
        {"accents apart",              "e\u0301e\u0301: x",         8,  "elm.yaml:1:7: what\ne\u0301e\u0301: x\n    ^\n"},
        {"at an accent",               "ae\u0301b",                 2,  "elm.yaml:1:3: what\nae\u0301b\n ^\n"           },
        {"bad bytes",                  "a: \xFFx",                  4,  "elm.yaml:1:5: what\na: ?x\n    ^\n"            },
        {"BOM",                        "\uFEFFab",                  4,  "elm.yaml:1:2: what\nab\n ^\n"                  },
};

START_TEST(line_and_caret)
{
	struct source source = source_of(shown[_i].text);

	fault_add(&faults, SEVERITY_FAULT, &source, (struct span){shown[_i].at, 1}, "what");
	const char *text = fault_text(&faults.item[0], &arena);

	ck_assert_msg(strcmp(text, shown[_i].expected) == 0, "%s:\n%s", shown[_i].title, text);
}
END_TEST

static void put_times(char **to, const char *text, size_t times)
{
	size_t length = strlen(text);

	while (times-- > 0) {
		memcpy(*to, text, length);
		*to += length;
	}
}

static const char *text_at(const struct source *source, size_t at)
{
	faults_init(&faults, &arena);
	fault_add(&faults, SEVERITY_FAULT, source, (struct span){(uint32_t)at, 1}, "m");
	return fault_text(&faults.item[0], &arena);
}

/* A line of the same cluster again and again, with an X at the place, so that the caret can be seen
 * to be under it. */
static void check_cut(const char *shift, const char *cluster, size_t before, size_t after)
{
	char *line = malloc((before + after) * strlen(cluster) + 10), *end = line;

	ck_assert_ptr_nonnull(line);
	put_times(&end, cluster, before);
	put_times(&end, shift, 1);
	size_t at = (size_t)(end - line);

	put_times(&end, "X", 1);
	put_times(&end, cluster, after);
	struct source source = {"n", line, (size_t)(end - line)};
	const char *text = text_at(&source, at);
	const char *shown_line = strchr(text, '\n') + 1;
	const char *caret_line = strchr(shown_line, '\n') + 1;
	size_t length = (size_t)(caret_line - shown_line) - 1;
	const char *mark = memchr(shown_line, 'X', length);
	size_t caret = strspn(caret_line, " ");

	ck_assert_msg(mark != NULL, "%zu, %zu: the place is not in\n%s", before, after, text);
	ck_assert_msg(text_is_utf8(shown_line, length, NULL), "%zu, %zu", before, after);
	ck_assert_msg(text_width(shown_line, (size_t)(mark - shown_line)) == (int)caret,
	              "%zu, %zu: the caret is elsewhere:\n%s", before, after, text);
	ck_assert_msg(text_width(shown_line, length) <= 100, "%zu, %zu: too wide:\n%s", before,
	              after, text);
	ck_assert_str_eq(caret_line + caret, "^\n");
	free(line);
	arena_reset(&arena);
}

static const char *const cells_of[] = {"a", "\u00E9", "\u6C34", "e\u0301", "\U0001F6B0"};

/* With one narrow cell before the place, the edge cuts wide cells in half. */
START_TEST(long_lines_are_cut_around_the_caret)
{
	static const size_t lengths[] = {99, 100, 101, 103, 160, 900, 2000};

	for (size_t i = 0; i < sizeof(lengths) / sizeof(lengths[0]); i++) {
		size_t last = lengths[i] - 1;

		for (size_t at = 0; at<last; at += at> 210 ? 67 : 1) {
			check_cut("", cells_of[_i], at, last - at);
			check_cut("a", cells_of[_i], at, last - at);
		}
		check_cut("", cells_of[_i], last, 0);
	}
}
END_TEST

START_TEST(a_line_of_100_is_shown_whole_and_101_is_marked)
{
	char line[102];
	struct source source = {"n", line, 100};

	memset(line, 'a', sizeof(line));
	ck_assert_ptr_null(strstr(text_at(&source, 5), "..."));
	source.length = 101;
	ck_assert_ptr_nonnull(strstr(text_at(&source, 5), "aaa...\n     ^\n"));
	ck_assert_ptr_nonnull(strstr(text_at(&source, 99), "\n...aaa"));
}
END_TEST

/* Where nothing takes a column: still only so many bytes, and characters stay whole (7 bytes the
 * pair, so that no round number of bytes comes out at a boundary by luck). */
START_TEST(a_line_without_width_stays_short)
{
	enum { PAIRS = 40000 };
	char *line = malloc(PAIRS * 7), *end = line;
	size_t at = PAIRS / 2 * 7;

	ck_assert_ptr_nonnull(line);
	put_times(&end, "\u20D0\U000E0100", PAIRS);
	struct source source = {"n", line, (size_t)(end - line)};

	for (size_t i = 0; i <= 3; i += 3) {
		const char *text = text_at(&source, at + i);

		ck_assert_uint_lt(strlen(text), 1500);
		ck_assert(text_is_utf8(text, strlen(text), NULL));
		ck_assert_ptr_null(strchr(text, '?'));
	}
	free(line);
}
END_TEST

START_TEST(a_fault_without_a_text_is_its_message)
{
	fault_add(&faults, SEVERITY_FAULT, NULL, (struct span){0}, "no %s", "place");
	ck_assert_str_eq(fault_text(&faults.item[0], &arena), "no place\n");
}
END_TEST

START_TEST(a_fault_without_a_place_names_its_source)
{
	struct source source = source_of("a: 1\n");

	fault_add(&faults, SEVERITY_FAULT, &source, (struct span){0, 0}, "as a whole");
	ck_assert_str_eq(fault_text(&faults.item[0], &arena), "elm.yaml: as a whole\n");
	fault_add(&faults, SEVERITY_FAULT, &source, (struct span){0, 1}, "its start");
	ck_assert_str_eq(fault_text(&faults.item[1], &arena), "elm.yaml:1:1: its start\na: 1\n^\n");
}
END_TEST

START_TEST(a_notice_says_so)
{
	struct source source = source_of("a: 1\n");

	fault_add(&faults, SEVERITY_NOTICE, &source, (struct span){3, 1}, "odd");
	ck_assert_str_eq(fault_text(&faults.item[0], &arena),
	                 "elm.yaml:1:4: notice: odd\na: 1\n   ^\n");
	fault_add(&faults, SEVERITY_NOTICE, NULL, (struct span){0}, "odd");
	ck_assert_str_eq(fault_text(&faults.item[1], &arena), "notice: odd\n");
}
END_TEST

START_TEST(names_and_messages_are_harmless_on_a_terminal)
{
	struct source source = {"a\x1B[1m\xFF.yaml", "x: 1", 4};

	fault_add(&faults, SEVERITY_FAULT, &source, (struct span){3, 1}, "\x1B]0;%s\a \xC2\x9B",
	          "x\ny");
	ck_assert_str_eq(fault_text(&faults.item[0], &arena),
	                 "a?[1m?.yaml:1:4: ?]0;x?y? ?\nx: 1\n   ^\n");
}
END_TEST

START_TEST(a_long_message_is_cut_at_a_whole_character)
{
	char text[400];

	memset(text, 'x', sizeof(text));
	memcpy(text + 237, "\u20AC", 3);
	text[399] = '\0';
	fault_add(&faults, SEVERITY_FAULT, NULL, (struct span){0}, "%s", text);
	ck_assert_uint_eq(strlen(faults.item[0].message), 237);
	fault_add(&faults, SEVERITY_FAULT, NULL, (struct span){0}, "%s", text + 1);
	ck_assert_uint_eq(strlen(faults.item[1].message), 239);
}
END_TEST

static void add_many(enum severity severity, int count)
{
	for (int i = 0; i < count; i++)
		fault_add(&faults, severity, NULL, (struct span){0}, "%s %d",
		          severity == SEVERITY_FAULT ? "fault" : "notice", i);
}

START_TEST(faults_and_notices_are_counted_past_the_most)
{
	add_many(SEVERITY_FAULT, FAULTS_MOST - 5);
	add_many(SEVERITY_NOTICE, 8);
	ck_assert_uint_eq(faults.count, FAULTS_MOST);
	ck_assert_uint_eq(faults.left_out, 3);
	ck_assert_uint_eq(faults.fatal, FAULTS_MOST - 5);
	ck_assert_uint_eq(faults.notices, 5);
	ck_assert_str_eq(faults.item[FAULTS_MOST - 1].message, "notice 4");
	faults_sort(&faults);
	ck_assert_str_eq(faults.item[FAULTS_MOST - 1].message, "notice 4");
}
END_TEST

START_TEST(a_notice_makes_room_for_a_fault)
{
	add_many(SEVERITY_NOTICE, FAULTS_MOST + 2);
	add_many(SEVERITY_FAULT, 3);
	add_many(SEVERITY_NOTICE, 1);
	ck_assert_uint_eq(faults.count, FAULTS_MOST);
	ck_assert_uint_eq(faults.left_out, 6);
	ck_assert_uint_eq(faults.fatal, 3);
	ck_assert_uint_eq(faults.notices, FAULTS_MOST - 3);
	ck_assert_str_eq(faults.item[FAULTS_MOST - 4].message, "notice 996");
	ck_assert_str_eq(faults.item[FAULTS_MOST - 1].message, "fault 2");
	add_many(SEVERITY_FAULT, FAULTS_MOST);
	ck_assert_uint_eq(faults.notices, 0);
	ck_assert_uint_eq(faults.left_out, FAULTS_MOST + 6);
	ck_assert_str_eq(faults.item[FAULTS_MOST - 1].message, "fault 996");
}
END_TEST

START_TEST(want_of_memory_is_counted)
{
	arena_fail_after(0);
	fault_add(&faults, SEVERITY_FAULT, NULL, (struct span){0}, "lost");
	ck_assert_uint_eq(faults.count, 0);
	ck_assert_uint_eq(faults.left_out, 1);
	ck_assert_uint_eq(faults.fatal, 1);
	ck_assert(arena.failed);
	fault_add(&faults, SEVERITY_NOTICE, NULL, (struct span){0}, "kept");
	ck_assert_uint_eq(faults.count, 1);
	arena_fail_after(0);
	ck_assert_ptr_null(fault_text(&faults.item[0], &arena));
}
END_TEST

START_TEST(sorted_by_source_as_first_met_then_place)
{
	static const struct {
		int source; /* -1: none */
		uint32_t at;
		const char *message;
	} rows[] = {
	        {1,  30, "d"},
                {0,  7,  "f"},
                {1,  10, "a"},
                {-1, 0,  "h"},
                {1,  20, "b"},
	        {1,  20, "c"},
                {0,  3,  "e"},
                {0,  7,  "g"},
                {-1, 0,  "i"},
	};
	struct source sources[] = {source_of("x"), source_of("y")};
	char order[COUNT(rows) + 1] = "";

	for (int i = 0; i < COUNT(rows); i++)
		fault_add(&faults, SEVERITY_FAULT,
		          rows[i].source < 0 ? NULL : &sources[rows[i].source],
		          (struct span){rows[i].at, 1}, "%s", rows[i].message);
	for (int twice = 0; twice < 2; twice++) {
		faults_sort(&faults);
		for (int i = 0; i < COUNT(rows); i++)
			order[i] = faults.item[i].message[0];
		ck_assert_str_eq(order, "abcdefghi");
	}
}
END_TEST

START_TEST(sorting_many_loses_none_and_keeps_equals_in_order)
{
	struct source source = source_of("x");
	uint32_t seed = (uint32_t)_i + 1;

	for (int i = 0; i < 700; i++) {
		seed = seed * 1664525u + 1013904223u;
		fault_add(&faults, SEVERITY_FAULT, &source, (struct span){seed >> 26, (uint32_t)i},
		          "%d", i);
	}
	faults_sort(&faults);
	bool met[700] = {0};

	for (size_t i = 0; i < 700; i++) {
		struct span span = faults.item[i].span;

		ck_assert_int_eq(atoi(faults.item[i].message), (int)span.length);
		ck_assert(!met[span.length]);
		met[span.length] = true;
		if (i == 0)
			continue;
		struct span before = faults.item[i - 1].span;

		ck_assert(before.at < span.at ||
		          (before.at == span.at && before.length < span.length));
	}
}
END_TEST

START_TEST(sorting_nothing)
{
	faults_sort(&faults);
	ck_assert_uint_eq(faults.count, 0);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("fault");
	TCase *tcase = tcase_create("fault");

	tcase_set_timeout(tcase, 20);
	tcase_add_checked_fixture(tcase, set_up, tear_down);
	tcase_add_loop_test(tcase, place_of_a_byte, 0, COUNT(places));
	tcase_add_loop_test(tcase, line_and_caret, 0, COUNT(shown));
	tcase_add_loop_test(tcase, long_lines_are_cut_around_the_caret, 0, COUNT(cells_of));
	tcase_add_test(tcase, a_line_of_100_is_shown_whole_and_101_is_marked);
	tcase_add_test(tcase, a_line_without_width_stays_short);
	tcase_add_test(tcase, a_fault_without_a_text_is_its_message);
	tcase_add_test(tcase, a_fault_without_a_place_names_its_source);
	tcase_add_test(tcase, a_notice_says_so);
	tcase_add_test(tcase, names_and_messages_are_harmless_on_a_terminal);
	tcase_add_test(tcase, a_long_message_is_cut_at_a_whole_character);
	tcase_add_test(tcase, faults_and_notices_are_counted_past_the_most);
	tcase_add_test(tcase, a_notice_makes_room_for_a_fault);
	tcase_add_test(tcase, want_of_memory_is_counted);
	tcase_add_test(tcase, sorted_by_source_as_first_met_then_place);
	tcase_add_loop_test(tcase, sorting_many_loses_none_and_keeps_equals_in_order, 0, 5);
	tcase_add_test(tcase, sorting_nothing);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
