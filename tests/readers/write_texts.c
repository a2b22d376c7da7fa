/*
 * Texts at random, written into surveys as the program writes them, for other readers of YAML to read back.
 *
 *     write_texts FOLDER COUNT [SEED]
 *
 * Makes FOLDER/N.yaml, each a survey that somebody wrote in a style of their own, with texts put in by survey_write and
 * amendments_write; and FOLDER/N.expected: a line `PATH TAB HEX` for each text, the bytes that it must be read as.
 */
#include "tundish/store/amendments.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"
#include "tundish/store/survey_write.h"

#include "../random_text.h"
#include "../texts.h"

#include "tundish/base/text.h"

#include <stdlib.h>

enum { TEXT_MOST = 64, TEXTS_A_FILE = 40 };

static struct rulebook book;
static struct arena book_arena, arena;

static void die(const char *what)
{
	fprintf(stderr, "write_texts: %s\n", what);
	exit(2);
}

/* -- texts ------------------------------------------------------------------------------------- */

/* What some reader or other takes for nothing, a truth, a number, a day or a key of its own. */
static const char *const words[] = {
        "y",
        "n",
        "yes",
        "no",
        "on",
        "off",
        "true",
        "false",
        "null",
        "none",
        "~",
        "nil",
        "<<",
        "=",
        "-",
        "?",
        ":",
        ".",
        "..",
        "...",
        "---",
        "--- a",
        "... a",
        ".inf",
        "-.inf",
        "+.INF",
        ".nan",
        ".NaN",
        "inf",
        "nan",
        "0",
        "-0",
        "007",
        "0o17",
        "0O17",
        "0x1F",
        "0b101",
        "1_000",
        "_1",
        "1_",
        "1e3",
        "1E3",
        "1.e+3",
        "6.02e23",
        ".5",
        "5.",
        "+5",
        "-5",
        "+.5",
        "1:30",
        "190:20:30",
        "1:30.15",
        "-1:30",
        "0.1.2",
        "12e",
        "0x",
        "08",
        "1e",
        "0b",
        "1,000",
        "1 000",
        "#",
        "a#b",
        "a #b",
        "# a",
        "a:b",
        "a: b",
        "a:",
        ": a",
        "- a",
        "-a",
        "? a",
        "?a",
        "&a",
        "*a",
        "!a",
        "!!str a",
        "%TAG",
        "@a",
        "`a",
        "|",
        "|-",
        ">",
        ">+ a",
        "[a]",
        "[",
        "]",
        "{a: b}",
        "{",
        "}",
        ",",
        "a,b",
        "a, b",
        "'",
        "''",
        "it's",
        "'a'",
        "\"",
        "\"a\"",
        "\\",
        "\\n",
        "a\\",
        " ",
        "  ",
        "\n",
        "\n\n",
        "\t",
        "\r",
        "\r\n",
        "a\n",
        "a\n\n",
        "\na",
        " a",
        "a ",
        "\ta",
        "a\t",
        "a\tb",
        "a\nb",
        "a\n b",
        "a \nb",
        "a\r\nb",
        "a\rb",
        "2026-11-25",
        "2026-1-5",
        "2019-04",
        "2026-11-25T10:00:00Z",
        "2026-11-25 10:00:00.5 +1:30",
        "10:00",
        "2026-11-25t1:2:3",
        "20261125",
};

/* What texts are made of at random: rather more of the characters that mean something. */
static const char *const pieces[] = {
        "a",
        "b",
        "Z",
        "0",
        "7",
        "_",
        "-",
        "?",
        ":",
        ",",
        "[",
        "]",
        "{",
        "}",
        "#",
        "&",
        "*",
        "!",
        "|",
        ">",
        "'",
        "\"",
        "%",
        "@",
        "`",
        "=",
        "~",
        ".",
        "+",
        "/",
        "\\",
        "<",
        "(",
        " ",
        " ",
        " ",
        "  ",
        "\n",
        "\n",
        "\t",
        "\r",
        "\r\n",
        ": ",
        " #",
        "- ",
        "\x01",
        "\x07",
        "\x08",
        "\x0b",
        "\f",
        "\x1b",
        "\x1f",
        "\x7f",
        "\xc2\x80", /* a C1 control */
        "\xc2\x85", /* NEL */
        "\xc2\x9f",
        "\xc2\xa0", /* no-break space */
        "\xc2\xad", /* soft hyphen */
        "\xc3\xbc",
        "u\xcc\x88",    /* u with a mark of its own */
        "\xe2\x80\x8b", /* no width */
        "\xe2\x80\x8e",
        "\xe2\x80\xae", /* direction of writing */
        "\xe2\x80\xa8",
        "\xe2\x80\xa9", /* LS, PS */
        "\xe3\x80\x80", /* a wide blank */
        "\xed\x9f\xbf",
        "\xee\x80\x80", /* either side of the surrogates */
        "\xef\xbb\xbf", /* BOM */
        "\xef\xbf\xbd",
        "\xef\xbf\xbe",
        "\xef\xbf\xbf",
        "\xe6\xb0\xb4",
        "\xd7\x9e",         /* another script, and one from right to left */
        "\xf0\x90\x80\x80", /* the first beyond 16 bits */
        "\xf0\x9f\x94\xa7",
        "\xf0\x9f\x91\xa9\xe2\x80\x8d\xf0\x9f\x94\xa7", /* emoji, joined */
        "\xf4\x8f\xbf\xbf",                             /* the last of all */
};

static const char number_signs[] = "0123456789.-+eExXoObB_: TZtz";

#define COUNT(table) (sizeof(table) / sizeof((table)[0]))

static void change_case(char *text, size_t how)
{
	for (size_t i = 0; text[i]; i++) {
		bool small = text[i] >= 'a' && text[i] <= 'z';
		if (small && (how == 1 || (how == 2 && i == 0)))
			text[i] = (char)(text[i] - 'a' + 'A');
	}
}

static void put_character(uint32_t c, char *out)
{
	if (c < 0x80) {
		snprintf(out, TEXT_MOST, "%c", (int)c);
	} else if (c < 0x800) {
		snprintf(out, TEXT_MOST, "%c%c", (int)(c >> 6 | 0xC0), (int)((c & 0x3F) | 0x80));
	} else {
		snprintf(out, TEXT_MOST, "%c%c%c", (int)(c >> 12 | 0xE0),
		         (int)((c >> 6 & 0x3F) | 0x80), (int)((c & 0x3F) | 0x80));
	}
}

/* All words in three cases, then all characters up to the end of the Latin ones, then at random. */
static const char *nth_text(size_t n, struct dice *dice, char *out)
{
	size_t left = n;

	if (left < 3 * COUNT(words)) {
		snprintf(out, TEXT_MOST, "%s", words[left / 3]);
		change_case(out, left % 3);
		return out;
	}
	left -= 3 * COUNT(words);
	if (left < 2 * 0x24F) {
		/* alone, and within a word */
		put_character((uint32_t)left / 2 + 1, out + left % 2);
		if (left % 2 == 1) {
			out[0] = 'a';
			strcat(out, "b");
		}
		return out;
	}
	out[0] = '\0';
	for (size_t i = roll(dice, 8) + 1; i > 0; i--) {
		size_t how = roll(dice, 6);
		char one[2] = {number_signs[roll(dice, sizeof(number_signs) - 1)], 0};
		const char *more = how == 0   ? words[roll(dice, COUNT(words))]
		                   : how == 1 ? one
		                              : pieces[roll(dice, COUNT(pieces))];
		if (strlen(out) + strlen(more) < TEXT_MOST - 1)
			strcat(out, more);
	}
	return out;
}

/* -- surveys ----------------------------------------------------------------------------------- */

static void expect(FILE *file, const char *path, const char *text)
{
	fprintf(file, "%s\t", path);
	for (; *text; text++)
		fprintf(file, "%02x", (unsigned char)*text);
	fputc('\n', file);
}

static void apply(struct survey *survey, const char *where, const char *before, const char *after)
{
	struct change change = {where, before, after};
	struct err err = {0};

	if (!survey_apply(survey, &change, &err))
		die(err.message);
}

/* A house with rooms to put names into; some have one already, in somebody's own style. */
static struct source make_original(struct dice *dice)
{
	struct survey survey = {0};
	size_t comments;
	struct source source;

	if (!survey_init(&survey, &book))
		die("no memory");
	for (size_t i = roll(dice, 40); i > 0; i--) {
		struct change change = random_change(&survey, dice, &arena);
		apply(&survey, change.where, change.before, change.after);
	}
	for (int i = 0; i < TEXTS_A_FILE; i++) {
		const char *last = i == 0 ? "" : arena_print(&arena, "N%d", i - 1);
		apply(&survey, arena_print(&arena, "rooms/N%d", i), NULL, last);
		if (roll(dice, 3) > 0)
			apply(&survey, arena_print(&arena, "N%d/name", i), NULL, any_text(dice));
	}
	source = random_text(&survey, dice, &arena, &comments);
	survey_finish(&survey);
	return source;
}

static struct survey read_survey(const struct source *source)
{
	struct survey survey = {0};
	struct faults faults;

	faults_init(&faults, &arena);
	if (!survey_read(&survey, &book, source, &faults))
		die(fault_text(&faults.item[0], &arena));
	return survey;
}

static FILE *open_file(const char *folder, size_t number, const char *ending)
{
	FILE *file = fopen(arena_print(&arena, "%s/%zu.%s", folder, number, ending), "wb");

	if (!file)
		die(folder);
	return file;
}

static void put_file(const char *folder, size_t number, const char *text, size_t length)
{
	FILE *file = open_file(folder, number, "yaml");

	if (fwrite(text, 1, length, file) != length || fclose(file) != 0)
		die(folder);
}

/* Names of rooms, put into what somebody wrote. */
static void write_names(const char *folder, size_t number, size_t first, struct dice *dice)
{
	FILE *expected = open_file(folder, number, "expected");
	struct source original = make_original(dice);
	struct survey survey = read_survey(&original);
	struct err err = {0};
	char *out = NULL, text[TEXT_MOST];
	size_t length;

	for (size_t i = 0; i < TEXTS_A_FILE; i++) {
		nth_text(first + i, dice, text);
		apply(&survey, arena_print(&arena, "N%zu/name", i), NULL, text);
		expect(expected, arena_print(&arena, "rooms/N%zu/name", i), text);
	}
	if (!survey_write(&survey, &original, &arena, &out, &length, &err))
		die(err.message);
	put_file(folder, number, out, length);
	survey_finish(&survey);
	if (fclose(expected) != 0)
		die(folder);
}

/* Who, why, before and after in amendments, one on the other. */
static void write_amendments(const char *folder, size_t number, size_t first, struct dice *dice)
{
	static const char signed_off[] = "tundish: 1\nrooms:\n  - ref: R0\n";
	FILE *expected = open_file(folder, number, "expected");
	struct source source = {"amended.yaml", signed_off, sizeof(signed_off) - 1};
	struct survey survey = read_survey(&source);
	struct amender by = {"K. Sample", "first", "2026-11-25T09:00:00Z"};
	char text[TEXT_MOST], last[TEXT_MOST] = "";
	char *out = NULL;
	struct err err = {0};

	apply(&survey, "premises/signed_off", NULL, "2026-11-25");
	for (size_t i = 0; i < TEXTS_A_FILE / 4; i++) {
		if (!amendments_write(&survey, &source, &by, &arena, &out, &source.length, &err))
			die(err.message);
		source.text = out;
		if (i > 0) {
			const char *entry = arena_print(&arena, "amendments/%zu", i);
			expect(expected, arena_print(&arena, "%s/who", entry), by.who);
			expect(expected, arena_print(&arena, "%s/why", entry), by.why);
			if (*last)
				expect(expected, arena_print(&arena, "%s/changes/0/before", entry),
				       last);
			expect(expected, arena_print(&arena, "%s/changes/0/after", entry), text);
			strcpy(last, text);
		}
		nth_text(first + i, dice, text);
		by.who = arena_print(&arena, "%s",
		                     nth_text(first + i + 7, dice, (char[TEXT_MOST]){0}));
		by.why = arena_print(&arena, "%s",
		                     nth_text(first + i + 11, dice, (char[TEXT_MOST]){0}));
		if (strcmp(text, last) == 0)
			strcat(text, "x");
		apply(&survey, "R0/name", NULL, text);
	}
	put_file(folder, number, out, source.length);
	survey_finish(&survey);
	if (fclose(expected) != 0)
		die(folder);
}

/* -- all of it --------------------------------------------------------------------------------- */

static void read_book(void)
{
	static const char signing[] =
	        "questions:\n  - { id: signed_off, scope: premises, at: premises, "
	        "form: date, label: Signed off on }\n";
	static const struct source overlay = {"signing.yaml", signing, sizeof(signing) - 1};
	const struct source *texts[] = {small_book(), &overlay};
	struct faults faults;

	faults_init(&faults, &book_arena);
	if (!rulebook_read(&book, texts, 2, date_day(2026, 11, 25), &faults))
		die(fault_text(&faults.item[0], &book_arena));
}

int main(int argc, char **argv)
{
	size_t count = argc > 2 ? strtoul(argv[2], NULL, 10) : 0, number = 0;
	struct dice dice = {(argc > 3 ? strtoull(argv[3], NULL, 10) : 1) * 2654435761u + 1};

	if (count == 0) {
		fprintf(stderr, "usage: write_texts FOLDER COUNT [SEED]\n");
		return 2;
	}
	read_book();
	for (size_t first = 0; first < count; first += TEXTS_A_FILE) {
		write_names(argv[1], number++, first, &dice);
		if (first % (4 * TEXTS_A_FILE) == 0)
			write_amendments(argv[1], number++, first, &dice);
		arena_reset(&arena);
	}
	rulebook_finish(&book);
	arena_finish(&book_arena);
	arena_finish(&arena);
	return EXIT_SUCCESS;
}
