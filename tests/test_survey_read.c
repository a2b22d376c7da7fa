#include "tundish/store/survey_read.h"

#include "tundish/store/file.h"
#include "tundish/store/rulebook_read.h"

#include "../src/base/arena_test.h"
#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct rulebook book;
static struct arena book_arena;
static struct arena arena;
static struct faults faults;
static struct survey survey;
static struct source source;

/* Once, before the tests fork. */
static void read_book(void)
{
	const struct source *texts[] = {small_book()};
	struct faults book_faults;

	arena_init(&book_arena);
	faults_init(&book_faults, &book_arena);
	ck_assert(rulebook_read(&book, texts, 1, date_day(2026, 11, 25), &book_faults));
}

static void leave_book(void)
{
	rulebook_finish(&book);
	arena_finish(&book_arena);
}

static void setup(void)
{
	arena_init(&arena);
	faults_init(&faults, &arena);
	memset(&survey, 0, sizeof(survey));
}

static void teardown(void)
{
	survey_finish(&survey);
	arena_finish(&arena);
}

static bool read_bytes(const char *text, size_t length)
{
	source = (struct source){"house.yaml", text, length};
	return survey_read(&survey, &book, &source, &faults);
}

static bool read_text(const char *text)
{
	return read_bytes(text, strlen(text));
}

static const char *all_faults(void)
{
	const char *text = "";

	faults_sort(&faults);
	for (size_t i = 0; i < faults.count && i < 20; i++)
		text = arena_print(&arena, "%s%s", text, fault_text(&faults.item[i], &arena));
	return text;
}

/* A text with a `^` before the place where a fault is expected. */
static const char *unmarked(const char *text, size_t *place)
{
	const char *mark = strchr(text, '^');
	char *plain = arena_copy(&arena, text, strlen(text));

	ck_assert_ptr_nonnull(mark);
	*place = (size_t)(mark - text);
	memmove(plain + *place, plain + *place + 1, strlen(plain + *place));
	return plain;
}

#define TOP       "tundish: 1\n"
#define PREM(x)   TOP "premises: { " x " }\n"
#define SUPPLY(x) TOP "supply: { " x " }\n"
#define BRANCH(x) TOP "branches: [ " x " ]\n"
#define ROOM(x)   TOP "rooms: [ { ref: r, " x " } ]\n"
#define POINT(x)  TOP "rooms: [ { ref: r, points: [ { ref: K1, kind: kitchen_mixer, " x " } ] } ]\n"
#define TAP(x)    TOP "rooms: [ { ref: r, points: [ { ref: K1, kind: outside_tap, " x " } ] } ]\n"
#define DEVICE(x) TAP("protection: [ { ref: P1, " x " } ]")

struct text_row {
	const char *title, *text, *says;
};

/* Tables, and the formatter gives up on them. */
/* clang-format off */
static const struct text_row bad[] = {
	/* not YAML, or more of it than is read here */
	{"a tab", TOP "rooms:\n^\t- ref: r\n", "not YAML: a tab: indent with blanks"},
	{"an open list", TOP "rooms: ^[ { ref: r }\n", "this `[` is never closed"},
	{"an open map", TOP "rooms: [ ^{ ref: r ]\n", "this `{` is never closed"},
	{"an open quote", TOP "rooms: ^'x\n", "this quote is never closed"},
	{"no colon", TOP "^rooms\nsupply: { }\n", "a key needs a colon"},
	{"a colon too many", TOP "x-a: b^: c\n", "a colon is not expected here"},
	{"an indent of its own", TOP "premises:\n  nation: england\n ^parts: []\n",
	 "the indent of this line fits nothing above"},
	{"a control character", TOP "x-a: ^\001\n", "a control character"},
	{"not UTF-8", TOP "x-a: caf^\xE9\n", "not UTF-8"},
	{"a NUL in a text", PREM("name: ^\"a\\0b\""), "the character NUL"},
	{"not UTF-8, after a BOM", "\xEF\xBB\xBF" TOP "x-a: caf^\xE9\n", "not UTF-8"},
	{"a tab, after a BOM", "\xEF\xBB\xBF" TOP "rooms:\n^\t- ref: r\n", "a tab"},
	{"a second document", TOP "^---\ntundish: 1\n", "a second document"},
	{"an alias", TOP "x-a: ^*b\n", "an alias (`*b`)"},
	{"an anchor", TOP "x-a: ^&b c\n", "an anchor (`&b`)"},
	{"an anchor on a map", TOP "x-a: ^&b { c: d }\n", "an anchor (`&b`)"},
	{"an anchor on a list", TOP "x-a: ^&b [ c ]\n", "an anchor (`&b`)"},
	{"a tag", TOP "x-a: ^!thing c\n", "a tag (`!thing`)"},
	{"a time is no core tag", TOP "x-a: ^!!timestamp 2019\n",
	 "a tag (`tag:yaml.org,2002:timestamp`)"},
	{"a merge key", TOP "x-a: { ^<<: b }\n", "a merge key"},
	{"a key that is a list", TOP "x-a: { ^[b]: c }\n", "a key is a word"},
	{"a key that is a map", TOP "? ^{ a: b }\n: c\n", "a key is a word"},

	/* twice */
	{"a section twice", TOP "rooms: []\n^rooms: []\n",
	 "`rooms` stands here twice: first on line 2"},
	{"an answer twice", POINT("answers: { spout: fixed, ^spout: fixed }"),
	 "`spout` stands here twice"},
	{"a key twice, in quotes", ROOM("name: a, ^\"name\": b"), "`name` stands here twice"},
	{"a key twice, escaped", ROOM("name: a, ^\"n\\x61me\": b"), "`name` stands here twice"},
	{"a key twice where nobody reads", TOP "x-a: [ { b: c, ^b: d } ]\n",
	 "`b` stands here twice"},
	{"a key twice among many",
	 TOP "x-a: { a: 1, b: 1, c: 1, d: 1, e: 1, f: 1, g: 1, h: 1, i: 1, j: 1, k: 1, l: 1,"
	     " m: 1, n: 1, o: 1, p: 1, q: 1, r: 1, ^b: 2 }\n", "`b` stands here twice"},
	{"a key twice, the seventeenth", TOP "x-a: { a: 1, b: 1, c: 1, d: 1, e: 1, f: 1, g: 1, h: 1, i: 1, j: 1, k: 1, l: 1,"
	 " m: 1, n: 1, o: 1, p: 1, ^c: 2 }\n", "`c` stands here twice"},
	{"a ref twice", TOP "rooms: [ { ref: r }, { ref: ^r } ]\n",
	 "the ref `r` is used twice: first on line 2"},
	{"a ref twice, of two sorts", BRANCH("{ ref: r, from: main }") "rooms: [ { ref: ^r } ]\n",
	 "the ref `r` is used twice"},
	{"a ref twice, in itself", ROOM("points: [ { ref: ^r } ]"), "the ref `r` is used twice"},

	/* the format */
	{"no format", "^rooms: []\n", "this does not say `tundish: 1`"},
	{"a format from the future", "tundish: ^2\nroomz: [ { what: ever } ]\n",
	 "format 2 is from a newer tundish"},
	{"a format in words", "tundish: ^one\n", "`tundish` says the format of the file: 1"},
	{"a format that is a list", "tundish: ^[1]\n", "`tundish` says the format"},
	{"a format of nothing", "tundish: ^0\n", "`tundish` says the format"},
	{"a list", "^- tundish: 1\n", "a survey is a map"},
	{"a word", "^tundish\n", "a survey is a map"},

	/* shapes */
	{"rooms are a list", TOP "rooms: ^{ ref: r }\n", "`rooms` is a list: a dash before each"},
	{"a room is a map", TOP "rooms: [ ^kitchen ]\n", "a room is a map"},
	{"points are a list", ROOM("points: ^K1"), "`points` is a list"},
	{"parts are a list", PREM("parts: ^{ ref: flat }"), "`parts` is a list"},
	{"branches are a list", TOP "branches: ^cold\n", "`branches` is a list"},
	{"tests are a list", DEVICE("type: BA, tests: ^{ ref: T1 }"), "`tests` is a list"},
	{"actions are a list", POINT("action_taken: ^isolated"), "`action_taken` is a list"},
	{"premises are a map", TOP "premises: ^[ nation ]\n", "`premises` is a map"},
	{"supply is a map", TOP "supply: ^unvented\n", "`supply` is a map of answers"},
	{"answers are a map", POINT("answers: ^fixed"), "`answers` is a map of answers"},
	{"a decision is a map", POINT("undertaker_says: ^[ 3 ]"),
	 "`undertaker_says` is a map of answers"},
	{"inlets are a map", POINT("inlets: ^[ cold ]"), "`inlets` is a map"},
	{"an inlet is a map", POINT("inlets: { ^cold: main }"), "an inlet is a map"},
	{"an inlet has a plain name", POINT("inlets: { ^\"c/d\": { fed_by: main } }"),
	 "an inlet is a map"},
	{"protection is a list", TAP("protection: ^{ ref: P1 }"),
	 "`protection` is a list: a dash before each"},
	{"protection in another word", TAP("protection: ^nothin"), "did you mean `nothing`?"},
	{"protection is a map each", TAP("protection: [ ^EB ]"), "a protection is a map"},
	{"a room without a ref", TOP "rooms: [ ^{ name: Kitchen } ]\n", "a room needs a `ref`"},
	{"a room of nothing", TOP "rooms: [ ^{ } ]\n", "a room needs a `ref`"},
	{"a room with an empty ref", TOP "rooms: [ ^{ ref: , name: a } ]\n",
	 "a room needs a `ref`"},
	{"a test without a ref", DEVICE("type: BA, tests: [ ^{ date: 2024 } ]"),
	 "a test needs a `ref`"},
	{"a ref that is a list", TOP "rooms: [ { ref: ^[r] } ]\n", "a `ref` is one word"},
	{"a ref with a blank", TOP "rooms: [ { ref: ^the kitchen } ]\n",
	 "a ref is made of letters, digits, _ and -"},
	{"a ref that is taken", TOP "rooms: [ { ref: ^supply } ]\n", "has a meaning of its own"},
	{"two inlets, and one is meant", POINT("^fed_by: main"),
	 "`kitchen_mixer` has 2 inlets: write this under `inlets`"},
	{"an inlet described twice",
	 TAP("inlets: { cold: { fed_by: main } }, ^protection: nothing"),
	 "this inlet is described twice"},

	/* values */
	{"no such kind",
	 ROOM("points: [ { ref: K1, kind: ^kitchen_mixr, answers: { spout: fixed } } ]"),
	 "did you mean `kitchen_mixer`?"},
	{"no such type", DEVICE("type: ^EBB, check: sound"), "`EBB` is no answer"},
	{"no such option", POINT("answers: { spout: ^pullout }"), "did you mean `pull_out`?"},
	{"no such option, before the kind",
	 ROOM("points: [ { answers: { spout: ^pullout }, kind: kitchen_mixer, ref: K1 } ]"),
	 "did you mean `pull_out`?"},
	{"one of several is none", POINT("answers: { spout: ^[ fixed, pullout ] }"),
	 "did you mean `pull_out`?"},
	{"not a number", SUPPLY("static_pressure_kpa: ^high"), "`high` is not a number"},
	{"out of range", SUPPLY("static_pressure_kpa: ^1601"), "1601 is out of range"},
	{"below the range", SUPPLY("static_pressure_kpa: ^-1"), "-1 is out of range"},
	{"the wrong unit", SUPPLY("static_pressure_kpa: ^3 litres"),
	 "has a unit of another kind: expected kpa"},
	{"30 February", POINT("installed: ^2006-02-30"), "`2006-02-30` is not a date"},
	{"a date padded", POINT("installed: ^2006-00"), "is not a date"},
	{"neither yes nor no", POINT("answers: { hose_in_sink: ^perhaps }"),
	 "expected yes, no or cannot_tell"},
	{"cannot_tell where it makes no sense", PREM("nation: ^cannot_tell"),
	 "can't be answered with cannot_tell"},
	{"a map for a word", POINT("answers: { spout: ^{ a: b } }"),
	 "is answered by a word, not by a map"},
	{"a list in a list", POINT("answers: { spout: ^[ [ fixed ] ] }"), "is answered by words"},
	{"an empty entry", POINT("answers: { spout: ^[ fixed, '' ] }"), "is answered by words"},
	{"two answers to yes or no", POINT("answers: { hose_in_sink: ^[ yes, no ] }"),
	 "has one answer, not a list"},
	{"two names", ROOM("name: ^[ a, b ]"), "has one answer, not a list"},

	/* what names something else */
	{"a part that is none",
	 PREM("parts: [ { ref: flat }, { ref: shop } ]") "rooms: [ { ref: r, part: ^flatt } ]\n",
	 "`flatt` names no part of this survey: did you mean `flat`?"},
	{"a part that is a room", TOP "rooms: [ { ref: r, part: ^r } ]\n",
	 "`r` is a room, not a part"},
	{"a feed that is none",
	 BRANCH("{ ref: cold, from: main }") "rooms: [ { ref: r, points: [ { ref: K1, kind: "
					     "outside_tap,"
					     " fed_by: ^colt } ] } ]\n", "`colt` names no branch of this survey: did you mean `cold`?"},
	{"one feed of several is none", TAP("fed_by: ^[ main, upstairs ]"),
	 "`upstairs` names no branch"},
	{"a feed that is a room", TAP("fed_by: ^r"), "`r` is a room: it feeds nothing"},
	{"a feed that is a point", TAP("fed_by: ^K1"),
	 "`K1` is a point: give what comes from it a branch"},
	{"a branch from what stores nothing",
	 BRANCH("{ ref: b, from: ^K1 }") "rooms: [ { ref: r, points: [ { ref: K1,"
					 " kind: outside_tap } ] } ]\n", "`K1` stores no water"},
	{"a feed of a kind of word", TAP("fed_by: ^the main"), "feeds nothing"},
	{"a branch from itself", BRANCH("{ ref: a, from: ^a }"), "goes round in a loop: a from a"},
	{"a loop of branches that say their ref late", BRANCH("{ from: ^b, ref: a }, { from: a, ref: b }"),
	 "goes round in a loop: a from b from a"},
	{"a loop of three",
	 BRANCH("{ ref: a, from: ^b }, { ref: b, from: c }, { ref: c, from: a }"),
	 "goes round in a loop: a from b from c from a"},
	{"a loop that others hang from",
	 BRANCH("{ ref: d, from: a }, { ref: a, from: ^b }, { ref: b, from: a }, { ref: e, from: d "
		"}"),
	 "goes round in a loop: a from b from a"},
	{"a loop through one of several",
	 BRANCH("{ ref: a, from: ^[ main, b ] }, { ref: b, from: [ a, main ] }"),
	 "goes round in a loop: a from b from a"},
	{"a loop beside a way out", BRANCH("{ ref: c, from: main }, { ref: a, from: ^[ c, b ] }, { ref: b, from: a }"),
	 "goes round in a loop: a from b from a"},
	{"a loop through a cistern",
	 BRANCH("{ ref: a, from: ^C1 }") "rooms: [ { ref: r, points: [ { ref: C1, kind: cistern,"
					 " inlets: { inlet: { fed_by: a } } } ] } ]\n", "goes round in a loop: a from C1 from a"},
};

static const struct text_row odd[] = {
	{"a section", TOP "^roms: []\n", "`roms` is no part of a survey: did you mean `rooms`?"},
	{"of premises", PREM("^nashion: england"),
	 "`nashion` is not asked of premises: did you mean `nation`?"},
	{"of the supply", SUPPLY("^heatin: sealed"), "did you mean `heating`?"},
	{"of a part", PREM("parts: [ { ref: flat, ^uses: house } ]"),
	 "`uses` is not asked of part: did you mean `use`?"},
	{"of a branch", BRANCH("{ ref: cold, ^form: main }"), "did you mean `from`?"},
	{"of a room", ROOM("^pointz: [ { ref: K1, protection: [ 1 ] } ]"),
	 "did you mean `points`?"},
	{"of a point", POINT("^instaled: 2006"),
	 "`instaled` is not asked of kitchen_mixer: did you mean `installed`?"},
	{"of a point, before its kind",
	 ROOM("points: [ { ref: K1, ^instaled: { a: [ b ] }, kind: kitchen_mixer } ]"),
	 "did you mean `installed`?"},
	{"once, whatever comes after", ROOM("points: [ { ref: K1, ^instaled: 2006, kind: kitchen_mixer }, { ref: K2, kind: outside_tap } ]"),
	 "did you mean `installed`?"},
	{"a question of another kind", POINT("answers: { ^used_for: watering }"),
	 "`used_for` is not asked of kitchen_mixer"},
	{"a question like one", POINT("answers: { ^spuot: fixed }"), "did you mean `spout`?"},
	{"an answer of a kind not known",
	 ROOM("points: [ { ref: K1, answers: { ^spout: fixed } } ]"),
	 "`spout` can't be placed: the kind is not known yet"},
	{"a feed of a kind not known", ROOM("points: [ { ref: K1, ^fed_by: main } ]"),
	 "can't be placed: the kind is not known"},
	{"an inlet it has not", POINT("inlets: { clod: ^{ fed_by: main } }"),
	 "has no inlet `clod`: did you mean `cold`?"},
	{"of an inlet", POINT("inlets: { cold: { ^feed_by: main } }"), "did you mean `fed_by`?"},
	{"of a protection", DEVICE("type: EB, ^chek: sound"),
	 "`chek` is not asked of EB: did you mean `check`?"},
	{"of a protection, before its type", DEVICE("^chek: sound, type: EB"), "did you mean `check`?"},
	{"of a test", DEVICE("type: BA, tests: [ { ref: T1, ^dat: 2024 } ]"),
	 "did you mean `date`?"},
	{"of an action", POINT("action_taken: [ { ref: A1, ^wat: isolated } ]"),
	 "did you mean `what`?"},
	{"an empty list of protections", TAP("protection: ^[]"), "an empty list says nothing"},
};

static const struct text_row fine[] = {
	{"nothing", "", ""},
	{"a comment", "# a survey to be\n", ""},
	{"dashes", "---\n", ""},
	{"dashes and dots", "---\ntundish: 1\n...\n", ""},
	{"a BOM", "\xEF\xBB\xBF" TOP "supply: {}\n", ""},
	{"CRLF", "tundish: 1\r\nrooms:\r\n  - ref: r\r\n", ""},
	{"a version line", "%YAML 1.2\n---\ntundish: 1\n", ""},
	{"core tags",
	 TOP
	 "x-a: [ !!str b, !!int 1, !!float 1.5, !!bool yes, !!null , !!map { }, !!seq [ ], ! c ]\n", ""},
	{"own keys, of any shape",
	 TOP "x-a: { b: [ { c: d } ] }\npremises: { x-b: [ ], ref: elm }\nsupply: { x-c: d }\n"
	     "branches: [ { x-d: e, ref: b } ]\n"
	     "rooms: [ { x-e: f, ref: r, points: [ { x-f: { g: [ h ] }, ref: K1, kind: "
	     "outside_tap, x-g: h, answers: { x-h: [ { i: j } ] },"
	     " inlets: { x-i: j, cold: { x-j: [ k ] } }, action_taken: [ { ref: A1, x-k: l } ] } ] "
	     "} ]\n", ""},
	{"empty everywhere", TOP "premises:\nsupply:\nbranches:\nrooms:\namendments:\n", ""},
	{"empty in a room", TOP "rooms:\n  - ref: r\n    name:\n    part:\n    points:\n", ""},
	{"empty in a point",
	 TOP "rooms:\n  - ref: r\n    points:\n      - ref: K1\n        kind:\n        answers:\n"
	     "        inlets:\n        installed:\n        fed_by:\n        protection:\n        "
	     "action_taken:\n"
	     "        undertaker_says:\n", ""},
	{"an empty answer, an empty inlet",
	 POINT("answers: { spout: }, inlets: { cold: , hot: { fed_by: , protection: } }"), ""},
	{"amendments of any shape",
	 TOP "amendments: [ { who: A, when: 2026-11-25, before: [ { x: y } ] } ]\n", ""},
	{"JSON",
	 "{\"tundish\": 1, \"rooms\": [{\"ref\": \"r\", \"name\": \"Caf\\u00e9\", \"points\": "
	 "[]}]}", ""},
	{"a chain of branches",
	 BRANCH("{ ref: c, from: b }, { ref: b, from: [ a, main ] }, { ref: a, from: cannot_tell "
		"}"),
	 ""},
	{"a branch from a cistern, fed by another",
	 BRANCH("{ ref: a, from: C1 }, { ref: b, from: main }") "rooms: [ { ref: r, points: [ { "
								"ref: C1, kind: cistern, inlets: { "
								"inlet: { fed_by: b } } },"
								" { ref: K1, kind: outside_tap, "
								"fed_by: [ a, b ] } ] } ]\n", ""},
	{"a branch from a point not known yet",
	 BRANCH("{ ref: a, from: K1 }") "rooms: [ { ref: r, points: [ { ref: K1 } ] } ]\n", ""},
};
/* clang-format on */

START_TEST(a_bad_text_has_its_place)
{
	size_t place;
	const char *text = unmarked(bad[_i].text, &place);

	ck_assert_msg(!read_text(text), "%s: no fault", bad[_i].title);
	ck_assert_msg(faults.count == 1, "%s: %zu faults:\n%s", bad[_i].title, faults.count,
	              all_faults());
	ck_assert_msg(faults.item[0].severity == SEVERITY_FAULT, "%s", bad[_i].title);
	ck_assert_msg(strstr(faults.item[0].message, bad[_i].says) != NULL,
	              "%s: expected \"%s\":\n%s", bad[_i].title, bad[_i].says, all_faults());
	ck_assert_msg(faults.item[0].span.at == place, "%s: expected at byte %zu:\n%s",
	              bad[_i].title, place, all_faults());
}
END_TEST

START_TEST(an_odd_text_is_noticed_and_used)
{
	size_t place;
	const char *text = unmarked(odd[_i].text, &place);

	ck_assert_msg(read_text(text), "%s:\n%s", odd[_i].title, all_faults());
	ck_assert_msg(faults.count == 1, "%s: %zu:\n%s", odd[_i].title, faults.count, all_faults());
	ck_assert_msg(faults.item[0].severity == SEVERITY_NOTICE, "%s", odd[_i].title);
	ck_assert_msg(strstr(faults.item[0].message, odd[_i].says) != NULL,
	              "%s: expected \"%s\":\n%s", odd[_i].title, odd[_i].says, all_faults());
	ck_assert_msg(faults.item[0].span.at == place, "%s: expected at byte %zu:\n%s",
	              odd[_i].title, place, all_faults());
}
END_TEST

START_TEST(a_fine_text_is_used_without_a_word)
{
	ck_assert_msg(read_text(fine[_i].text) && faults.count == 0, "%s:\n%s", fine[_i].title,
	              all_faults());
}
END_TEST

START_TEST(utf_16_is_refused)
{
	static const struct {
		const char *title, *bytes;
		size_t length;
	} texts[] = {
	        {"little end first, marked",     "\xFF\xFEt\0u\0n\0", 8},
	        {"big end first, marked",        "\xFE\xFF\0t\0u\0n", 8},
	        {"little end first, not marked", "t\0u\0n\0d\0",      8},
	        {"big end first, not marked",    "\0t\0u\0n\0d",      8},
	};

	ck_assert_msg(!read_bytes(texts[_i].bytes, texts[_i].length), "%s", texts[_i].title);
	ck_assert_msg(faults.count == 1, "%s: %s", texts[_i].title, all_faults());
	ck_assert_msg(strstr(faults.item[0].message, "looks like UTF-16") != NULL, "%s: %s",
	              texts[_i].title, all_faults());
}
END_TEST

/* -- what a good text gives ------------------------------------------------------------------ */

/* In an order nobody would write: what decides comes after what it decides. */
static const char house[] =
        "rooms:\n"
        "  - points:\n"
        "      - answers: { spout: pull_out, hose_in_sink: cannot_tell, mixes: [in_body, "
        "at_outlet] }\n"
        "        inlets:\n"
        "          cold: { protection: [ { tests: [ { relief_opens_mbar: 200, ref: T1, date: "
        "2024-05-02 } ], ref: P1,\n"
        "                                  consent: yes, type: BA, fitted: 2019-04 },\n"
        "                                { ref: P2, type: cannot_tell } ], fed_by: cold }\n"
        "          hot: { fed_by: [loft, cold] }\n"
        "        kind: kitchen_mixer\n"
        "        installed: before_july_1999\n"
        "        undertaker_says: { category: 3, reference: \"No. 7: \\u00fc\", date: 2025-02-11 "
        "}\n"
        "        ref: K1\n"
        "        action_taken: [ { ref: A1, what: isolated, when: 2026-11-25, told: the tenant } "
        "]\n"
        "      - { ref: K2, kind: outside_tap, protection: nothing, fed_by: main }\n"
        "      - { ref: K3, kind: outside_tap, protection: cannot_tell }\n"
        "      - { ref: K4, kind: outside_tap, fed_by: cannot_tell }\n"
        "      - { ref: L1, kind: cistern, inlets: { inlet: { fed_by: cold } } }\n"
        "    ref: kitchen\n"
        "    part: flat\n"
        "branches:\n"
        "  - { ref: cold, from: main }\n"
        "  - { ref: loft, from: L1, protection: [ { ref: Z1, type: ED } ] }\n"
        "supply: { static_pressure_kpa: 3.2 bar, protection: [ { ref: W1, type: BA } ] }\n"
        "premises: { nation: england, parts: [ { ref: flat, use: house } ], ref: elm_row }\n"
        "tundish: 1\n";

static const struct item *find(const char *ref)
{
	const struct item *item = survey_find(&survey, ref, strlen(ref));

	ck_assert_msg(item != NULL, "no %s", ref);
	return item;
}

static const struct answer *answer_of(const struct item *item, const char *at, const char *id)
{
	uint16_t owner = item->scope == SCOPE_TEST ? item->parent->of : item->of;
	question_index question = rulebook_question(&book, item->scope, owner, at, id, strlen(id));
	const struct answer *answer = item_answer(item, question);

	ck_assert_msg(question != QUESTION_NONE, "no question %s", id);
	ck_assert_msg(answer != NULL, "no answer to %s", id);
	return answer;
}

static void assert_span(struct span span, const char *text)
{
	ck_assert_msg(span.length == strlen(text) &&
	                      memcmp(source.text + span.at, text, span.length) == 0,
	              "expected `%s`, found `%.*s`", text, (int)span.length, source.text + span.at);
}

static void read_house(void)
{
	ck_assert_msg(read_text(house) && faults.count == 0, "%s", all_faults());
}

START_TEST(the_tree_is_as_written)
{
	const struct item *k1;

	read_house();
	k1 = find("K1");
	ck_assert_uint_eq(survey.premises->child_count, 5);
	ck_assert_ptr_eq(find("kitchen")->parent, survey.premises);
	ck_assert_ptr_eq(k1->parent, find("kitchen"));
	ck_assert_uint_eq(find("kitchen")->child_count, 5);
	ck_assert_ptr_eq(find("kitchen")->child[0], k1);
	ck_assert_ptr_eq(find("kitchen")->child[1], find("K2"));
	ck_assert_uint_eq(k1->child_count, 3);
	ck_assert_str_eq(k1->child[0]->ref, "cold");
	ck_assert_ptr_eq(k1->child[0]->parent, k1);
	ck_assert_ptr_eq(find("P1")->parent, k1->child[0]);
	ck_assert_ptr_eq(k1->child[0]->child[1], find("P2"));
	ck_assert_ptr_eq(find("T1")->parent, find("P1"));
	ck_assert_int_eq(find("A1")->scope, SCOPE_ACTION);
	ck_assert_ptr_eq(find("Z1")->parent, find("loft"));
	ck_assert_ptr_eq(find("W1")->parent, survey.premises);
	ck_assert_ptr_eq(survey_find(&survey, "cold", 4), find("cold"));
	ck_assert_int_eq(find("cold")->scope, SCOPE_BRANCH);
	ck_assert_str_eq(book.kind[k1->of].id, "kitchen_mixer");
	ck_assert_str_eq(book.type[find("P1")->of].id, "BA");
	ck_assert_uint_eq(find("P2")->of, INDEX_NONE);
}
END_TEST

START_TEST(answers_are_sets_of_values)
{
	const struct item *k1;
	const struct answer *answer;

	read_house();
	k1 = find("K1");
	answer = answer_of(k1, "answers", "spout");
	ck_assert_uint_eq(answer->may, 8);
	ck_assert(!answer->settled);
	ck_assert_str_eq(answer->text, "pull_out");
	answer = answer_of(k1, "answers", "mixes");
	ck_assert_uint_eq(answer->may, 3);
	ck_assert_msg(answer->settled, "one of several: nobody is asked again");
	ck_assert_str_eq(answer->text, "in_body, at_outlet");
	answer = answer_of(k1, "answers", "hose_in_sink");
	ck_assert_uint_eq(answer->may, 3);
	ck_assert(answer->settled);
	answer = answer_of(k1, "", "installed");
	ck_assert_double_eq(answer->high, date_day(1999, 6, 30));
	answer = answer_of(k1, "undertaker_says", "reference");
	ck_assert_str_eq(answer->text, "No. 7: \xC3\xBC");
	answer = answer_of(find("T1"), "", "relief_opens_mbar");
	ck_assert_double_eq(answer->low, 200);
	ck_assert_str_eq(answer_of(find("P1"), "", "fitted")->text, "2019-04");
	answer = answer_of(survey.premises, "supply", "static_pressure_kpa");
	ck_assert_double_eq(answer->low, 320);
	ck_assert_str_eq(answer->text, "320");
	ck_assert_str_eq(answer_of(survey.premises, "", "nation")->text, "england");
	ck_assert_str_eq(answer_of(k1->child[1], "", "fed_by")->text, "loft, cold");
}
END_TEST

START_TEST(what_is_known_of_an_inlet)
{
	static const struct {
		const char *ref;
		bool nothing_said, cannot_tell;
	} rows[] = {
	        {"K2", false, false},
	        {"K3", false, true },
	        {"K4", true,  false},
	};

	read_house();
	for (size_t i = 0; i < 3; i++) {
		const struct item *inlet = item_child(find(rows[i].ref), SCOPE_INLET, 0);

		ck_assert_str_eq(inlet->ref, "cold");
		ck_assert_msg(inlet->nothing_said == rows[i].nothing_said, "%s", rows[i].ref);
		ck_assert_msg(inlet->cannot_tell == rows[i].cannot_tell, "%s", rows[i].ref);
		ck_assert_uint_eq(inlet->child_count, 0);
	}
	ck_assert_uint_eq(item_children(find("K2"), SCOPE_INLET), 1);
	ck_assert_msg(!find("K1")->child[0]->nothing_said, "protections are something said");
	ck_assert(find("K1")->child[1]->nothing_said);
}
END_TEST

START_TEST(each_thing_knows_its_bytes)
{
	const struct item *k1;

	read_house();
	k1 = find("K1");
	assert_span(answer_of(k1, "answers", "mixes")->span, "[in_body, at_outlet]");
	assert_span(answer_of(k1, "undertaker_says", "reference")->span, "\"No. 7: \\u00fc\"");
	assert_span(answer_of(find("P1"), "", "type")->span, "BA");
	assert_span(find("K2")->span,
	            "{ ref: K2, kind: outside_tap, protection: nothing, fed_by: main }");
	assert_span(find("P2")->span, "{ ref: P2, type: cannot_tell }");
	assert_span(k1->child[1]->span, "{ fed_by: [loft, cold] }");
	assert_span(survey.premises->span,
	            "{ nation: england, parts: [ { ref: flat, use: house } ], ref: elm_row }");
	ck_assert_int_eq(strncmp(house + k1->span.at, "answers: {", 10), 0);
	ck_assert_int_eq(
	        strncmp(house + k1->span.at + k1->span.length - 14, "the tenant } ]\n", 15), 0);
}
END_TEST

START_TEST(answers_stand_in_the_order_of_the_file)
{
	static const char *const order[] = {"spout",     "hose_in_sink", "mixes",     "kind",
	                                    "installed", "category",     "reference", "date"};
	const struct item *k1;

	read_house();
	k1 = find("K1");
	ck_assert_uint_eq(k1->answer_count, 8);
	for (size_t i = 0; i < 8; i++)
		ck_assert_str_eq(book.question[k1->answer[i].question].id, order[i]);
}
END_TEST

/* libyaml counts characters; places are bytes. */
START_TEST(places_are_bytes_whatever_the_text)
{
	static const char text[] =
	        "\xEF\xBB\xBF# caf\xC3\xA9 \xF0\x9F\x94\xA7\r\n" TOP "rooms:\r\n"
	        "  - { ref: r, name: 'Ma\xC3\xAEtre \xE2\x80\x94 bath', points: [ { ref: K1, name: "
	        "\xC3\xBC } ] }\r\n"
	        "  - ref: s\r\n    name: |\r\n      one\r\n      tw\xC3\xB6\r\n\r\n  - ref: t\r\n";

	ck_assert_msg(read_text(text) && faults.count == 0, "%s", all_faults());
	assert_span(answer_of(find("r"), "", "name")->span, "'Ma\xC3\xAEtre \xE2\x80\x94 bath'");
	ck_assert_str_eq(answer_of(find("r"), "", "name")->text, "Ma\xC3\xAEtre \xE2\x80\x94 bath");
	assert_span(answer_of(find("K1"), "", "name")->span, "\xC3\xBC");
	assert_span(find("K1")->span, "{ ref: K1, name: \xC3\xBC }");
	ck_assert_str_eq(answer_of(find("s"), "", "name")->text, "one\ntw\xC3\xB6\n");
	assert_span(find("t")->span, "ref: t");
}
END_TEST

START_TEST(a_survey_is_read_over_an_earlier_one)
{
	read_house();
	ck_assert_msg(read_text(TOP "rooms: [ { ref: K1 } ]\n"), "%s", all_faults());
	ck_assert_int_eq(find("K1")->scope, SCOPE_ROOM);
	ck_assert_uint_eq(survey.premises->child_count, 1);
	ck_assert_ptr_null(survey_find(&survey, "P1", 2));
	ck_assert_ptr_eq(survey.source, &source);
}
END_TEST

START_TEST(one_text_many_faults)
{
	ck_assert(!read_text(
	        TOP
	        "rooms:\n  - ref: r\n    seen: perhaps\n    points:\n      - kind: kitchen_mixr\n"
	        "      - { ref: K2, kind: kitchen_mixer, installed: soon, answers: { spout: x } "
	        "}\n"));
	ck_assert_msg(faults.fatal == 5, "%s", all_faults());
}
END_TEST

/* -- limits ---------------------------------------------------------------------------------- */

static char *large(size_t size)
{
	char *text = malloc(size + 1);

	ck_assert_ptr_nonnull(text);
	text[size] = '\0';
	return text;
}

static void assert_limit(bool good, const char *says)
{
	ck_assert_msg((faults.count == 0) == good, "%s", all_faults());
	if (!good)
		ck_assert_msg(faults.fatal == 1 && strstr(faults.item[0].message, says), "%s",
		              all_faults());
}

START_TEST(sixty_four_levels)
{
	/* The text's own map is the first level, the last one holds nothing. */
	int levels = 64 + _i;
	char text[400] = TOP "x-a: ";

	for (int i = 1; i < levels; i++)
		strcat(text, "[");
	for (int i = 1; i < levels; i++)
		strcat(text, "]");
	ck_assert_int_eq(read_text(text), _i == 0);
	assert_limit(_i == 0, "more than 64 levels");
}
END_TEST

START_TEST(a_million_values)
{
	/* The map, two keys, one value, the list, and its entries. */
	size_t entries = 1000000 - 5 + (size_t)_i, used;
	char *text = large(entries * 2 + 40);

	used = (size_t)sprintf(text, TOP "x-a: [");
	for (size_t i = 0; i < entries; i++, used += 2)
		memcpy(text + used, "a,", 2);
	strcpy(text + used, "]\n");
	ck_assert_int_eq(read_text(text), _i == 0);
	assert_limit(_i == 0, "more than 1,000,000 values");
	free(text);
}
END_TEST

START_TEST(sixteen_mebibytes)
{
	size_t size = FILE_BYTES_MOST + (size_t)_i;
	char *text = large(size);

	memset(text, '#', size);
	memcpy(text, TOP, sizeof(TOP) - 1);
	ck_assert_int_eq(read_bytes(text, size), _i == 0);
	assert_limit(_i == 0, "more than 16 MiB");
	free(text);
}
END_TEST

START_TEST(sixty_four_kibibytes_a_value)
{
	size_t size = 64 * 1024 + (size_t)_i;
	char *text = large(size + 40);
	size_t used = (size_t)sprintf(text, TOP "x-a: ");

	memset(text + used, 'a', size);
	strcpy(text + used + size, "\n");
	ck_assert_int_eq(read_text(text), _i == 0);
	assert_limit(_i == 0, "more than 64 KiB");
	free(text);
}
END_TEST

/* Whatever a map's keys are: no quadratic case. The time-out is the test. */
START_TEST(many_keys_with_one_twice)
{
	size_t count = 100000, used;
	char *text = large(count * 24 + 100);

	used = (size_t)sprintf(text, TOP "x-a:\n");
	for (size_t i = 0; i < count; i++)
		used += (size_t)sprintf(text + used, "  aaaaaaaa%06zuaaaa: b\n", i);
	used += (size_t)sprintf(text + used, "  aaaaaaaa%06daaaa: b\n", 7);
	ck_assert(!read_text(text));
	assert_limit(false, "`aaaaaaaa000007aaaa` stands here twice: first on line 10");
	free(text);
}
END_TEST

static const char *const hostile[] = {"[",   "{",   "- ",   "? ",    "[[",   "a: &a ",  "!a ",
                                      "'",   "\"",  "*a ",  "\n",    " ",    "&a *a ",  ": ",
                                      "[a,", "{a:", "|\n ", "---\n", "%a\n", "\xC3\xA9"};

START_TEST(a_hostile_text_ends)
{
	const char *piece = hostile[_i];
	size_t size = 1024 * 1024, length = strlen(piece);
	char *text = large(size);

	for (size_t i = 0; i < size; i++)
		text[i] = piece[i % length];
	/* Blanks alone say nothing, and that is no fault. */
	ck_assert_int_eq(read_bytes(text, size), piece[0] == ' ' || piece[0] == '\n');
	free(text);
}
END_TEST

START_TEST(a_long_chain_of_branches)
{
	size_t count = 30000, used;
	char *text = large(count * 40 + 100);

	used = (size_t)sprintf(text, TOP "branches:\n");
	for (size_t i = 0; i < count; i++)
		used += (size_t)sprintf(text + used, "  - { ref: b%zu, from: b%zu }\n", i,
		                        (i + 1) % (count + (size_t)_i));
	sprintf(text + used, "  - { ref: b%zu, from: main }\n", count);
	ck_assert_int_eq(read_text(text), _i == 1);
	assert_limit(_i == 1, "goes round in a loop: b0 from b1 from");
	free(text);
}
END_TEST

/* Every request for memory fails once: a fault, no crash, and never half a survey that passes for a
 * whole one. */
START_TEST(no_memory_is_a_fault)
{
	long left = 0;

	for (long n = 0; n < 100000; n++) {
		bool good;

		survey_finish(&survey);
		faults_init(&faults, &arena);
		arena_fail_after(n);
		good = read_text(house);
		left = arena_fail_after(-1);
		if (left >= 0) {
			ck_assert_msg(good, "%s", all_faults());
			ck_assert_msg(n > 50, "only %ld requests?", n);
			return;
		}
		ck_assert_msg(!good, "request %ld failed and the survey was used", n);
	}
	ck_abort_msg("never done");
}
END_TEST

#define ROWS(table) (int)(sizeof(table) / sizeof((table)[0]))

static Suite *suite(void)
{
	Suite *all = suite_create("survey_read");
	TCase *texts = tcase_create("texts"), *tree = tcase_create("tree"),
	      *limits = tcase_create("limits");

	tcase_add_unchecked_fixture(texts, read_book, leave_book);
	tcase_add_checked_fixture(texts, setup, teardown);
	tcase_add_loop_test(texts, a_bad_text_has_its_place, 0, ROWS(bad));
	tcase_add_loop_test(texts, an_odd_text_is_noticed_and_used, 0, ROWS(odd));
	tcase_add_loop_test(texts, a_fine_text_is_used_without_a_word, 0, ROWS(fine));
	tcase_add_loop_test(texts, utf_16_is_refused, 0, 4);
	suite_add_tcase(all, texts);
	tcase_add_unchecked_fixture(tree, read_book, leave_book);
	tcase_add_checked_fixture(tree, setup, teardown);
	tcase_add_test(tree, the_tree_is_as_written);
	tcase_add_test(tree, answers_are_sets_of_values);
	tcase_add_test(tree, what_is_known_of_an_inlet);
	tcase_add_test(tree, each_thing_knows_its_bytes);
	tcase_add_test(tree, answers_stand_in_the_order_of_the_file);
	tcase_add_test(tree, places_are_bytes_whatever_the_text);
	tcase_add_test(tree, a_survey_is_read_over_an_earlier_one);
	tcase_add_test(tree, one_text_many_faults);
	suite_add_tcase(all, tree);
	tcase_add_unchecked_fixture(limits, read_book, leave_book);
	tcase_add_checked_fixture(limits, setup, teardown);
	tcase_set_timeout(limits, 20);
	tcase_add_loop_test(limits, sixty_four_levels, 0, 2);
	tcase_add_loop_test(limits, a_million_values, 0, 2);
	tcase_add_loop_test(limits, sixteen_mebibytes, 0, 2);
	tcase_add_loop_test(limits, sixty_four_kibibytes_a_value, 0, 2);
	tcase_add_test(limits, many_keys_with_one_twice);
	tcase_add_loop_test(limits, a_hostile_text_ends, 0, ROWS(hostile));
	tcase_add_loop_test(limits, a_long_chain_of_branches, 0, 2);
	tcase_add_test(limits, no_memory_is_a_fault);
	suite_add_tcase(all, limits);
	return all;
}

int main(void)
{
	return suite_run(suite());
}
