#include "tundish/base/text.h"

#include "suite.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

/* In memory of just its length, so that reading past the end is seen. */
static char *exact_copy(const char *text, size_t length)
{
	char *copy = malloc(length ? length : 1);

	ck_assert_ptr_nonnull(copy);
	memcpy(copy, text, length);
	return copy;
}

static const struct {
	const char *title, *text;
	int bad_at; /* -1: good */
} utf8[] = {
        {"nothing",                    "",                  -1},
        {"ASCII",                      "tap\n",             -1},
        {"two bytes",                  "caf\u00E9",         -1},
        {"three bytes",                "\u20AC",            -1},
        {"four bytes",                 "\U0001F6B0",        -1},
        {"the last code point",        "\xF4\x8F\xBF\xBF",  -1},
        {"past the last",              "\xF4\x90\x80\x80",  0 },
        {"half a surrogate pair",      "ab\xED\xA0\x80",    2 },
        {"just before the surrogates", "\xED\x9F\xBF",      -1},
        {"overlong slash",             "a\xC0\xAF",         1 },
        {"overlong of three",          "a\xE0\x80\xAF",     1 },
        {"overlong of four",           "a\xF0\x80\x80\xAF", 1 },
        {"a continuation alone",       "ab\x80",            2 },
        {"cut short at the end",       "ab\xE2\x82",        2 },
        {"cut short by a letter",      "\xE2\x82x",         0 },
        {"a byte that never is",       "x\xFF",             1 },
        {"Latin-1",                    "caf\xE9 ",          3 },
};

START_TEST(utf8_or_not)
{
	size_t length = strlen(utf8[_i].text), bad_at = 99;
	char *text = exact_copy(utf8[_i].text, length);
	bool good = text_is_utf8(text, length, &bad_at);

	ck_assert_msg(good == (utf8[_i].bad_at < 0), "%s", utf8[_i].title);
	ck_assert_msg(bad_at == (good ? 99 : (size_t)utf8[_i].bad_at), "%s: bad at %zu",
	              utf8[_i].title, bad_at);
	ck_assert(text_is_utf8(text, length, NULL) == good);
	free(text);
}
END_TEST

START_TEST(ascii_ends_where_the_first_other_byte_is)
{
	char text[40];

	memset(text, 'a', sizeof text);
	for (size_t length = 0; length < sizeof text; length++) {
		char *copy = exact_copy(text, length);

		ck_assert_uint_eq(text_ascii(copy, length), length);
		for (size_t at = 0; at < length; at++) {
			copy[at] = '\x80';
			ck_assert_uint_eq(text_ascii(copy, length), at);
			ck_assert(!text_is_utf8(copy, length, NULL));
			copy[at] = 'a';
		}
		free(copy);
	}
}
END_TEST

static const struct {
	const char *title, *text;
	size_t length;
	const char *word;
	bool is, in_any_case;
} same_words[] = {
        {"the word",            "main",       4, "main",   true,  true },
        {"part of a text",      "main, cold", 4, "main",   true,  true },
        {"capitals",            "Main",       4, "main",   false, true },
        {"shorter",             "mai",        3, "main",   false, false},
        {"longer",              "mains",      5, "main",   false, false},
        {"another",             "cold",       4, "main",   false, false},
        {"nothing",             "",           0, "main",   false, false},
        {"nothing and no word", "",           0, "",       true,  true },
        {"no letter",           "MAIN_1",     6, "main_1", false, true },
        {"a NUL past the word", "main\0x",    6, "main",   false, false},
};

START_TEST(words_that_are_the_same)
{
	char *text = exact_copy(same_words[_i].text, same_words[_i].length);
	const char *word = same_words[_i].word;

	ck_assert_msg(text_is(text, same_words[_i].length, word) == same_words[_i].is, "%s",
	              same_words[_i].title);
	ck_assert_msg(text_is_in_any_case(text, same_words[_i].length, word) ==
	                      same_words[_i].in_any_case,
	              "%s", same_words[_i].title);
	free(text);
}
END_TEST

START_TEST(nul_is_a_character)
{
	ck_assert(text_is_utf8("a\0b", 3, NULL));
	ck_assert_int_eq(text_width("a\0b", 3), 3);
}
END_TEST

static const struct {
	const char *title, *text;
	size_t whole;
} cuts[] = {
        {"nothing",                   "",             0},
        {"ASCII",                     "abc",          3},
        {"whole two",                 "ab\u00E9",     4},
        {"half of two",               "ab\xC3",       2},
        {"whole three",               "\u20AC",       3},
        {"two of three",              "a\xE2\x82",    1},
        {"one of three",              "a\xE2",        1},
        {"whole four",                "\U0001F6B0",   4},
        {"three of four",             "\xF0\x9F\x9A", 0},
        {"one of four after another", "\u00E9\xF0",   2},
};

START_TEST(cut_at_a_whole_character)
{
	size_t length = strlen(cuts[_i].text);
	char *text = exact_copy(cuts[_i].text, length);

	ck_assert_msg(text_whole(text, length) == cuts[_i].whole, "%s: %zu", cuts[_i].title,
	              text_whole(text, length));
	free(text);
}
END_TEST

static const struct {
	const char *title, *text;
	size_t bytes;
	int width;
} clusters[] = {
        {"nothing",                      "",                                            0,  0},
        {"a letter",                     "ab",                                          1,  1},
        {"a letter alone",               "a",                                           1,  1},
        {"letter with accent, composed", "\u00E9x",                                     2,  1},
        {"letter with accent, apart",    "e\u0301x",                                    3,  1},
        {"two accents",                  "e\u0301\u0323x",                              5,  1},
        {"wide",                         "\u6C34x",                                     3,  2},
        {"tap",                          "\U0001F6B0x",                                 4,  2},
        {"family",                       "\U0001F468\u200D\U0001F469\u200D\U0001F467x", 18, 2},
        {"skin",                         "\U0001F44D\U0001F3FDx",                       8,  2},
        {"flag",                         "\U0001F1EC\U0001F1E7\U0001F1EB\U0001F1F7",    8,  2},
        {"Hangul from parts",            "\u1112\u1161\u11ABx",                         9,  2},
        {"half width",                   "\uFF71x",                                     3,  1},
        {"full width",                   "\uFF21x",                                     3,  2},
        {"tab",                          "\tx",                                         1,  1},
        {"escape",                       "\x1B[0m",                                     1,  1},
        {"delete",                       "\x7Fx",                                       1,  1},
        {"C1",                           "\xC2\x85x",                                   2,  1},
        {"CR LF",                        "\r\nx",                                       2,  1},
        {"CR",                           "\rx",                                         1,  1},
        {"LF",                           "\n\u0301",                                    1,  1},
        {"line separator",               "\u2028x",                                     3,  1},
        {"right to left override",       "\u202Ex",                                     3,  1},
        {"zero width space",             "\u200Bx",                                     3,  0},
        {"an accent alone",              "\u0301",                                      2,  0},
        {"not given out yet",            "\u0378x",                                     2,  1},
        {"private use",                  "\uE000x",                                     3,  1},
        {"a bad byte",                   "\xFFx",                                       1,  1},
        {"a letter before a bad byte",   "e\xCC",                                       1,  1},
};

START_TEST(first_cluster)
{
	size_t length = strlen(clusters[_i].text);
	char *text = exact_copy(clusters[_i].text, length);
	int width = 99;
	size_t bytes = text_cluster(text, length, &width);

	ck_assert_msg(bytes == clusters[_i].bytes, "%s: %zu bytes", clusters[_i].title, bytes);
	ck_assert_msg(width == clusters[_i].width, "%s: width %d", clusters[_i].title, width);
	ck_assert(text_cluster(text, length, NULL) == bytes);
	free(text);
}
END_TEST

static const struct {
	const char *title, *text;
	bool control;
} controls[] = {
        {"nothing",        "",         false},
        {"letter",         "a",        false},
        {"blank",          " ",        false},
        {"accented",       "\u00E9",   false},
        {"no-break space", "\u00A0",   false},
        {"tab",            "\t",       true },
        {"escape",         "\x1B",     true },
        {"delete",         "\x7F",     true },
        {"C1",             "\xC2\x9B", true },
        {"override",       "\u202E",   true },
        {"isolate",        "\u2067",   true },
        {"paragraph",      "\u2029",   true },
        {"joiner",         "\u200D",   false},
        {"bad byte",       "\x9B",     true },
};

START_TEST(controls_are_told)
{
	ck_assert_msg(text_is_control(controls[_i].text, strlen(controls[_i].text)) ==
	                      controls[_i].control,
	              "%s", controls[_i].title);
}
END_TEST

START_TEST(width_is_the_sum)
{
	const char *text = "caf\u00E9 \u6C34e\u0301\U0001F6B0";

	ck_assert_int_eq(text_width(text, strlen(text)), 5 + 2 + 1 + 2);
	ck_assert_int_eq(text_width("", 0), 0);
}
END_TEST

static const struct {
	const char *text;
	int columns;
	size_t fits, wraps;
} lines[] = {
        {"the bath tap",    12,  12, 12},
        {"the bath tap",    11,  11, 8 },
        {"the bath tap",    8,   8,  8 },
        {"the bath tap",    7,   7,  3 },
        {"the bath tap",    3,   3,  3 },
        {"the bath tap",    2,   2,  2 },
        {"the bath tap",    1,   1,  1 },
        {"the bath tap",    0,   0,  1 },
        {"the bath tap",    -5,  0,  1 },
        {"the bath tap",    100, 12, 12},
        {"the   bath",      4,   4,  3 },
        {"the   bath",      6,   6,  3 },
        {"the   bath",      9,   9,  3 },
        {"tap   ",          10,  6,  3 },
        {"tap   ",          4,   4,  3 },
        {"one\ntwo",        20,  7,  3 },
        {"one \n two",      20,  9,  3 },
        {"one two\nthree",  20,  13, 7 },
        {"one two\nthree",  5,   5,  3 },
        {"",                10,  0,  0 },
        {"",                0,   0,  0 },
        {"   ",             10,  3,  3 },
        {"\u6C34\u6C34",    3,   3,  3 },
        {"\u6C34\u6C34",    1,   0,  3 },
        {"a\u6C34b",        2,   1,  1 },
        {"e\u0301e\u0301",  1,   3,  3 },
        {"caf\u00E9 bar",   4,   5,  5 },
        {"15\u00A0mm pipe", 6,   7,  6 },
};

START_TEST(lines_fit_and_wrap)
{
	size_t length = strlen(lines[_i].text);
	char *text = exact_copy(lines[_i].text, length);
	size_t fits = text_fit(text, length, lines[_i].columns);
	size_t wraps = text_wrap(text, length, lines[_i].columns);

	ck_assert_msg(fits == lines[_i].fits, "'%s' in %d: fits %zu", lines[_i].text,
	              lines[_i].columns, fits);
	ck_assert_msg(wraps == lines[_i].wraps, "'%s' in %d: wraps %zu", lines[_i].text,
	              lines[_i].columns, wraps);
	free(text);
}
END_TEST

/* However narrow: wrapping comes to an end, loses no letter, and no line is too long but for a
 * single cluster. */
START_TEST(wrapping_ends_and_keeps_all_letters)
{
	const char *text = "Lift the spout, \u6C34\u6C34\u6C34 look  under the rim:\n\n  nothing "
	                   "e\u0301 must touch.";
	size_t length = strlen(text), at = 0, letters = 0, kept = 0, rounds = 0;

	for (size_t i = 0; i < length; i++)
		letters += text[i] != ' ' && text[i] != '\n';
	while (at < length && rounds++ < 500) {
		while (at < length && (text[at] == ' ' || text[at] == '\n'))
			at++;
		size_t bytes = text_wrap(text + at, length - at, _i);

		for (size_t i = 0; i < bytes; i++)
			kept += text[at + i] != ' ' && text[at + i] != '\n';
		ck_assert(bytes == text_cluster(text + at, length - at, NULL) ||
		          text_width(text + at, bytes) <= _i);
		at += bytes;
	}
	ck_assert_uint_eq(at, length);
	ck_assert_uint_eq(kept, letters);
}
END_TEST

static const char *const words[] = {"kitchen_mixer",  "bath", "bidet", "basin", "back_pressure",
                                    "back_siphonage", "ED",   "EB",    "hose",  "tap"};

static const struct {
	const char *word, *nearest;
} misspelt[] = {
        {"kitchen_mixer",   "kitchen_mixer" },
        {"kitchen_mixr",    "kitchen_mixer" },
        {"kitchenmixer",    "kitchen_mixer" },
        {"Kitchen-Mixer",   "kitchen_mixer" },
        {"kithcen_mixer",   "kitchen_mixer" },
        {"bahth",           "bath"          },
        {"abth",            "bath"          },
        {"bsth",            "bath"          },
        {"bstx",            NULL            },
        {"back_presure",    "back_pressure" },
        {"back_siphnage",   "back_siphonage"},
        {"ed",              "ED"            },
        {"EC",              NULL            },
        {"basit",           "basin"         },
        {"bidit",           "bidet"         },
        {"hsoe",            "hose"          },
        {"tab",             "tap"           },
        {"washing_machine", NULL            },
        {"",                NULL            },
};

START_TEST(nearest_word)
{
	const char *nearest = text_nearest(misspelt[_i].word, words, COUNT(words));

	ck_assert_msg(nearest == misspelt[_i].nearest ||
	                      (nearest && misspelt[_i].nearest &&
	                       strcmp(nearest, misspelt[_i].nearest) == 0),
	              "'%s': %s", misspelt[_i].word, nearest ? nearest : "none");
}
END_TEST

START_TEST(the_first_of_equals_wins)
{
	static const char *const both[] = {"cold", "gold", "bold"};
	char endless[500];

	ck_assert_ptr_eq(text_nearest("told", both, 3), both[0]);
	ck_assert_ptr_eq(text_nearest("Gold", both, 3), both[1]);
	ck_assert_ptr_null(text_nearest("told", both, 0));
	memset(endless, 'c', sizeof(endless) - 1);
	endless[sizeof(endless) - 1] = '\0';
	ck_assert_ptr_null(text_nearest(endless, both, 3));
}
END_TEST

struct start {
	const char *text, *with;
	size_t length;
	bool starts;
};

static const struct start starts[] = {
        {"Kitchen tap",  "kitchen",      7, true },
        {"kitchen tap",  "KITCHEN Z",    8, true },
        {"kitchen tap",  "KITCHEN Z",    9, false},
        {"kit",          "kitchen",      7, false},
        {"kit",          "kit",          3, true },
        {"",             "kit",          0, true },
        {"",             "kit",          1, false},
        {"[2]",          "{2]",          3, false},
        {"\xc3\x84rmel", "\xc3\xa4rmel", 6, false},
};

/* `[` and `{` differ as A and a do, and so does Ä from ä: none of them is a letter of ASCII. */
START_TEST(starts_in_any_case)
{
	const struct start *row = &starts[_i];

	ck_assert_msg(text_starts(row->text, row->with, row->length) == row->starts,
	              "'%s' with %zu of '%s'", row->text, row->length, row->with);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("text");
	TCase *tcase = tcase_create("text");

	tcase_add_loop_test(tcase, utf8_or_not, 0, COUNT(utf8));
	tcase_add_test(tcase, ascii_ends_where_the_first_other_byte_is);
	tcase_add_loop_test(tcase, words_that_are_the_same, 0, COUNT(same_words));
	tcase_add_test(tcase, nul_is_a_character);
	tcase_add_loop_test(tcase, cut_at_a_whole_character, 0, COUNT(cuts));
	tcase_add_loop_test(tcase, first_cluster, 0, COUNT(clusters));
	tcase_add_loop_test(tcase, controls_are_told, 0, COUNT(controls));
	tcase_add_test(tcase, width_is_the_sum);
	tcase_add_loop_test(tcase, lines_fit_and_wrap, 0, COUNT(lines));
	tcase_add_loop_test(tcase, wrapping_ends_and_keeps_all_letters, 0, 30);
	tcase_add_loop_test(tcase, nearest_word, 0, COUNT(misspelt));
	tcase_add_test(tcase, the_first_of_equals_wins);
	tcase_add_loop_test(tcase, starts_in_any_case, 0, COUNT(starts));
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
