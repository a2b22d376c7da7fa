/* `invent:` of a rulebook: what is read, what is wrong, and what an overlay may do to it. */
#include "tundish/assess/weights.h"
#include "tundish/store/rulebook_read.h"

#include "../src/base/arena_test.h"
#include "suite.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define WHY          "because: b, source: no source, standing: common practice"

static const char base_text[] =
        "questions:\n"
        "  - { id: hot, scope: premises, form: choice, label: Hot, options: [ { id: combi }, { id: "
        "vented } ] }\n"
        "  - { id: use, scope: part, form: choice, label: Use, options: [ { id: house }, { id: "
        "salon } ] }\n"
        "  - { id: told, scope: branch, form: yes_no, label: Told }\n"
        "  - { id: kind, scope: point, at: '', everywhere: yes, form: kind, label: Kind }\n"
        "  - { id: name, scope: point, at: '', everywhere: yes, form: text, label: Name }\n"
        "  - { id: installed, scope: point, at: '', everywhere: yes, form: date, label: When }\n"
        "  - { id: warm, scope: point, form: yes_no, label: Warm }\n"
        "  - { id: type, scope: protection, everywhere: yes, form: type, label: Type }\n"
        "  - { id: date, scope: test, everywhere: yes, form: date, label: Tested }\n"
        "kinds:\n"
        "  - id: tap\n"
        "    name: Tap\n"
        "    inlets: [ { id: cold }, { id: hot }, { id: drain, waste: yes } ]\n"
        "    questions:\n"
        "      - { id: spout, form: choice, label: Spout, options: [ { id: fixed }, { id: hose } ] "
        "}\n"
        "      - { id: wet, form: yes_no, label: Wet }\n"
        "      - { id: height_mm, form: number, unit: mm, least: 0, most: 500, label: Height }\n"
        "      - { id: kept, measured: height_mm at least 20 }\n"
        "    fluids: [ { id: sink, name: sink, otherwise: { id: tap_else, category: none, " WHY
        " } } ]\n"
        "  - id: tank\n"
        "    name: Tank\n"
        "    stores: yes\n"
        "    inlets: [ { id: inlet } ]\n"
        "    questions: [ warm ]\n"
        "    fluids: [ { id: water, name: water, otherwise: { id: tank_else, category: none, " WHY
        " } } ]\n"
        "types:\n"
        "  - { id: ED, name: Double check, is: device, good_for: 3, source: S, standing: "
        "published,\n"
        "      questions: [ { id: mark, form: yes_no, label: Mark },\n"
        "                   { id: relief, scope: test, form: yes_no, label: Relief } ] }\n"
        "  - { id: gap, name: Gap, is: arrangement, good_for: 5, source: S, standing: published "
        "}\n";

static struct arena arena;
static struct faults faults;
static struct rulebook book;

static void setup(void)
{
	arena_init(&arena);
	faults_init(&faults, &arena);
	memset(&book, 0, sizeof(book));
}

static void teardown(void)
{
	rulebook_finish(&book);
	arena_finish(&arena);
}

/* The base, and up to two texts over it. */
static bool read_over(const char *first, const char *second)
{
	static struct source texts[3];
	const struct source *all[] = {&texts[0], &texts[1], &texts[2]};

	texts[0] = (struct source){"base.yaml", base_text, sizeof(base_text) - 1};
	texts[1] = (struct source){"over.yaml", first, strlen(first)};
	texts[2] = (struct source){"last.yaml", second ? second : "", second ? strlen(second) : 0};
	return rulebook_read(&book, all, second ? 3 : 2, date_day(2026, 11, 25), &faults);
}

static const char *all_faults(void)
{
	const char *text = "";

	faults_sort(&faults);
	for (size_t i = 0; i < faults.count; i++)
		text = arena_print(&arena, "%s%s", text, fault_text(&faults.item[i], &arena));
	return text;
}

static void assert_reads(const char *first, const char *second)
{
	ck_assert_msg(read_over(first, second), "%s", all_faults());
	ck_assert_msg(faults.count == 0, "%s", all_faults());
}

/* -- faults ---------------------------------------------------------------------------------- */

#define SITE(more)  "invent:\n  sites:\n    - { id: s, " more " }\n"
#define ROOM(more)  "invent:\n  rooms:\n    - { id: r, name: R, " more " }\n"
#define OFTEN(more) "invent:\n  often:\n    - { " more " }\n"

/* clang-format off */
static const struct {
	const char *title, *text, *place, *says;
} bad[] = {
	{"no map", "invent: [ x ]\n", "1:9", "`invent` is a map"},
	{"sites are no list", "invent: { sites: x }\n", "1:18", "`sites` is a list"},
	{"a site without an id", "invent: { sites: [ { name: N } ] }\n", "1:20", "a site needs an `id`"},
	{"a site twice", SITE("name: N, uses: [house]") "    - { id: s, name: N, uses: [house] }\n", "4:13",
	 "the id `s` is used twice"},
	{"a site without a name", SITE("uses: [house]"), "3:7", "has no `name`"},
	{"a site without parts", SITE("name: N"), "3:7", "the site `s` has no `uses`"},
	{"no such use", SITE("name: N, uses: [hose]"), "3:32", "`hose` is no answer to `use`: did you mean `house`?"},
	{"a use that is a list", SITE("name: N, uses: [[house]]"), "3:32", "`uses` is a list of uses"},
	{"a weight in words", SITE("name: N, weight: many, uses: [house]"), "3:33", "a weight is a whole number from 0 to 1000"},
	{"a weight below nothing", SITE("name: N, weight: -1, uses: [house]"), "3:33", "a weight is a whole number"},
	{"a weight in parts", SITE("name: N, weight: 1.5, uses: [house]"), "3:33", "a weight is a whole number"},
	{"a weight too great", SITE("name: N, weight: 1001, uses: [house]"), "3:33", "a weight is a whole number"},

	{"a room nowhere", ROOM("holds: { tap: 1 }"), "3:7", "the room `r` has no `in`"},
	{"a room in no such use", ROOM("in: { hose: 1 }, holds: { tap: 1 }"), "3:31", "`hose` is no answer"},
	{"a room that holds nothing", ROOM("in: { house: 1 }"), "3:7", "the room `r` has no `holds`"},
	{"a room that holds no such kind", ROOM("in: { house: 1 }, holds: { tp: 1 }"), "3:52",
	 "`tp` is no kind of this book: did you mean `tap`?"},
	{"a weight of a kind", ROOM("in: { house: 1 }, holds: { tap: x }"), "3:57", "a weight is"},
	{"always in no such use", ROOM("in: { house: 1 }, always: [hall], holds: { tap: 1 }"), "3:52", "`hall` is no answer"},
	{"none at most", ROOM("in: { house: 1 }, most: 0, holds: { tap: 1 }"), "3:49", "`most` is a whole number from 1"},

	{"a room that has no such kind", ROOM("in: { house: 1 }, has: [tp], holds: { tap: 1 }"), "3:49", "`tp` is no kind"},
	{"a room that has a list", ROOM("in: { house: 1 }, has: [[tap]], holds: { tap: 1 }"), "3:49", "`has` is a list of kinds"},
	{"of nothing", OFTEN("answers: { spout: { fixed: 1 } }"), "3:7", "says `of` what"},
	{"of no such thing", OFTEN("of: tep"), "3:13", "`tep` is no kind of this book: did you mean `tap`?"},
	{"of no such question", OFTEN("of: tap, answers: { spot: { fixed: 1 } }"), "3:29",
	 "`spot` is no question asked of `tap`: did you mean `spout`?"},
	{"a question of a kind, of all points", OFTEN("of: point, answers: { spout: { fixed: 1 } }"), "3:31",
	 "`spout` is no question asked of `point`"},
	{"a shared question, of a kind that does not list it", OFTEN("of: tap, answers: { warm: { yes: 1 } }"), "3:29",
	 "`warm` is no question asked of `tap`"},
	{"of no such option", OFTEN("of: tap, answers: { spout: { fixd: 1 } }"), "3:38",
	 "`fixd` is no answer to `spout`: did you mean `fixed`?"},
	{"yes or no", OFTEN("of: tap, answers: { wet: { maybe: 1 } }"), "3:36", "`maybe` is no answer to `wet`"},
	{"answers without weights", OFTEN("of: tap, answers: { spout: fixed }"), "3:36", "spout is a map"},
	{"a text", OFTEN("of: point, answers: { name: { a: 1 } }"), "3:31", "`name` is a text: weights are of a choice"},
	{"a measured test", OFTEN("of: tap, answers: { kept: { yes: 1 } }"), "3:29", "`kept` is a measured"},
	{"no stretch", OFTEN("of: tap, answers: { height_mm: { low: 1 } }"), "3:42", "`low` is no stretch of numbers"},
	{"a stretch that runs backwards", OFTEN("of: tap, answers: { height_mm: { 9 to 3: 1 } }"), "3:42", "runs backwards"},
	{"a stretch out of range", OFTEN("of: tap, answers: { height_mm: { 5 to 501: 1 } }"), "3:42",
	 "`5 to 501` is outside of 0 to 500, the range of `height_mm`"},
	{"an age without years", OFTEN("of: point, answers: { installed: { 0 to 5: 1 } }"), "3:44", "`0 to 5` is no stretch of ages"},
	{"half a year", OFTEN("of: point, answers: { installed: { 0 to 0.5 years: 1 } }"), "3:44", "is no stretch of ages"},
	{"no such type", OFTEN("of: tap, protection: { 'ED, EE': 1 }"), "3:32", "`EE` is no type of this book"},
	{"five types in a row", OFTEN("of: tap, protection: { 'ED, ED, ED, ED, ED': 1 }"), "3:32", "more than 4 types"},
	{"protection of a type", OFTEN("of: ED, protection: { ED: 1 }"), "3:29", "`protection` is weighed of a kind"},
	{"no such inlet", OFTEN("of: tap, inlets: { drainn: { ED: 1 } }"), "3:28", "`drainn` is no inlet of `tap`: did you mean `drain`?"},
	{"inlets of a scope", OFTEN("of: point, inlets: { cold: { ED: 1 } }"), "3:28", "`inlets` are those of a kind"},
	{"fed by what does not store", OFTEN("of: tap, fed_by: { tap: 1 }"), "3:28", "`tap` does not store water"},
	{"fed by of a type", OFTEN("of: ED, fed_by: { main: 1 }"), "3:25", "`fed_by` is of a kind"},
	{"makes of what does not store", OFTEN("of: tap, makes: [hot]"), "3:25", "`makes` is of a kind that stores"},
	{"from of a kind", OFTEN("of: tap, from: [main]"), "3:24", "`from` is of branches"},
	{"from what does not store", OFTEN("of: branch, from: [tap]"), "3:28", "`tap` does not store water"},
	{"from a list of lists", OFTEN("of: branch, from: [[tap]]"), "3:28", "`from` is a list of `main` and kinds"},
	{"on of a kind", OFTEN("of: tap, on: [tap]"), "3:22", "`on` is of a type, or of protections or tests"},
	{"on no such kind", OFTEN("of: ED, on: [tapp]"), "3:22", "`tapp` is no kind of this book"},
	{"on a list of lists", OFTEN("of: ED, on: [[tap]]"), "3:22", "`on` is a list of kinds"},
	{"only of a type", OFTEN("of: ED, only: { premises.hot: combi }"), "3:23", "`only` is of a kind"},
	{"most of nothing", OFTEN("of: tap, most: 0"), "3:24", "`most` is 1 at least"},
	{"only by what is not known yet", OFTEN("of: tap, only: { point.spout: fixed }"), "3:26", "of a scope that can't be tested here"},
	{"only by no such question", OFTEN("of: tap, only: { premises.hut: combi }"), "3:26", "did you mean `hot`?"},
	{"when by a measured test", OFTEN("of: tap, when: { kept: yes }, answers: { wet: { yes: 1 } }"), "3:24",
	 "a measured test is not known before"},
	{"when of inlets", OFTEN("of: inlet, when: { premises.hot: combi }"), "3:26", "has no `when`"},
	{"a question twice", OFTEN("of: tap, answers: { wet: { yes: 1 } }") "    - { of: tap, answers: { wet: { no: 1 } } }\n", "4:7",
	 "the same question is weighed twice: first in over.yaml, line 3"},
	{"protection twice", OFTEN("of: tap, protection: { ED: 1 }") "    - { of: tap, protection: { gap: 1 } }\n", "4:7",
	 "`protection` of the same inlets is weighed twice"},
	{"fed by twice", OFTEN("of: tap, fed_by: { main: 1 }") "    - { of: tap, fed_by: { tank: 1 } }\n", "4:7", "`fed_by` is weighed twice"},
	{"drops no such room", "drop: [ kitchin ]\n", "1:9", "the id of no kind, type, row, site or room"},
};

static const struct {
	const char *title, *text, *place, *says;
} odd[] = {
	{"an unknown key", "invent: { site: x }\n", "1:11", "`site`"},
	{"of a site", SITE("name: N, use: x, uses: [house]"), "3:25", "`use`"},
	{"of a room", ROOM("in: { house: 1 }, holds: { tap: 1 }, held: x"), "3:62", "`held`"},
	{"of an entry", OFTEN("of: tap, answer: x"), "3:18", "`answer`"},
};
/* clang-format on */

static void assert_said(const char *title, const char *place, const char *says)
{
	const char *expected = arena_print(&arena, "over.yaml:%s:", place), *text = all_faults();
	const char *found = strstr(text, expected);

	ck_assert_msg(found && strstr(found, says), "%s: expected %s %s, found\n%s", title,
	              expected, says, text);
}

START_TEST(what_is_wrong_has_its_place)
{
	ck_assert_msg(!read_over(bad[_i].text, NULL), "%s: was read", bad[_i].title);
	ck_assert_msg(faults.fatal == 1, "%s: %s", bad[_i].title, all_faults());
	assert_said(bad[_i].title, bad[_i].place, bad[_i].says);
}
END_TEST

START_TEST(what_is_odd_is_noticed)
{
	ck_assert_msg(read_over(odd[_i].text, NULL), "%s: %s", odd[_i].title, all_faults());
	ck_assert_msg(faults.count == 1, "%s: %s", odd[_i].title, all_faults());
	assert_said(odd[_i].title, odd[_i].place, odd[_i].says);
}
END_TEST

START_TEST(without_a_use_there_are_no_sites)
{
	static const char text[] = "invent: { sites: [ { id: s, name: N, uses: [house] } ] }\n";
	const struct source source = {"over.yaml", text, sizeof(text) - 1}, *all[] = {&source};

	ck_assert(!rulebook_read(&book, all, 1, 0, &faults));
	assert_said("no use", "1:20", "without a choice `use`");
}
END_TEST

/* -- what is read ---------------------------------------------------------------------------- */

static const char whole[] =
        "invent:\n"
        "  sites:\n"
        "    - { id: terrace, name: Terrace, weight: 10, uses: [house] }\n"
        "    - { id: shop, name: Shop, uses: [salon, house] }\n"
        "  rooms:\n"
        "    - { id: kitchen, name: Kitchen, in: { house: 10, salon: 0 }, always: [house], most: "
        "2, has: [tap], holds: { tap: 7, tank: 1 } }\n"
        "  often:\n"
        "    - of: tap\n"
        "      when: { premises.hot: vented, spout: hose }\n"
        "      only: { part.use: house }\n"
        "      always: { hot: vented }\n"
        "      most: 3\n"
        "      protection: { nothing: 4, 'ED, gap': 2 }\n"
        "      inlets: { drain: { gap: 5 } }\n"
        "      fed_by: { main: 6, tank: 2 }\n"
        "      answers: { spout: { hose: 3, fixed: 1 }, wet: { yes: 9 }, height_mm: { 0 to 19: 1, "
        "25: 4 } }\n"
        "    - { of: tank, makes: [hot] }\n"
        "    - { of: ED, answers: { mark: { no: 1 }, test.relief: { yes: 2 } } }\n"
        "    - { of: branch, from: [tank, main], answers: { told: { yes: 1 } } }\n"
        "    - { of: point, answers: { installed: { 3 to 9 years: 5 } } }\n"
        "    - { of: ED, on: [tank, tap], answers: { mark: { yes: 1 } } }\n";

START_TEST(sites_and_rooms_are_read)
{
	const struct weights *weights;

	assert_reads(whole, NULL);
	weights = book.weights;
	ck_assert_uint_eq(weights->site_count, 2);
	ck_assert_str_eq(weights->site[0].name, "Terrace");
	ck_assert_uint_eq(weights->site[0].weight, 10);
	ck_assert_uint_eq(weights->site[1].weight, 1);
	ck_assert_uint_eq(weights->site[1].use_count, 2);
	ck_assert_uint_eq(weights->site[1].use[0], 1);
	ck_assert_uint_eq(weights->site[1].use[1], 0);
	ck_assert_uint_eq(weights->room_count, 1);
	ck_assert_uint_eq(weights->room[0].in_count, 2);
	ck_assert_uint_eq(weights->room[0].in[0].weight, 10);
	ck_assert_uint_eq(weights->room[0].always, 1);
	ck_assert_uint_eq(weights->room[0].most, 2);
	ck_assert_uint_eq(weights->room[0].hold_count, 2);
	ck_assert_uint_eq(weights->room[0].has_count, 1);
	ck_assert_uint_eq(weights->room[0].has[0], rulebook_kind(&book, "tap", 3));
	ck_assert_uint_eq(weights->room[0].holds[1].index, rulebook_kind(&book, "tank", 4));
}
END_TEST

START_TEST(an_entry_is_read_whole)
{
	const struct often *tap;

	assert_reads(whole, NULL);
	ck_assert_uint_eq(book.weights->often_count, 6);
	tap = &book.weights->often[0];
	ck_assert_int_eq(tap->scope, SCOPE_POINT);
	ck_assert_uint_eq(tap->of, rulebook_kind(&book, "tap", 3));
	ck_assert(tap->when && tap->when->form == CONDITION_ALL);
	ck_assert(tap->only && tap->only->question == book.known.part_use && tap->only->holds == 1);
	ck_assert(tap->always && tap->always->holds == 2);
	ck_assert_uint_eq(tap->most, 3);
	ck_assert_uint_eq(tap->fittings_count, 2);
	ck_assert_msg(tap->fittings[0].inlets == 3, "cold and hot, but not the drain");
	ck_assert_uint_eq(tap->fittings[0].item[0].type_count, 0);
	ck_assert_uint_eq(tap->fittings[0].item[1].type_count, 2);
	ck_assert_uint_eq(tap->fittings[0].item[1].type[1], rulebook_type(&book, "gap", 3));
	ck_assert_uint_eq(tap->fittings[1].inlets, 4);
	ck_assert_uint_eq(tap->fed_by_count, 2);
	ck_assert_uint_eq(tap->fed_by[0].index, FED_BY_MAIN);
	ck_assert_uint_eq(tap->fed_by[1].index, rulebook_kind(&book, "tank", 4));
	ck_assert_uint_eq(tap->answer_count, 3);
	ck_assert_uint_eq(tap->answer[0].option[0].index, 1);
	ck_assert_uint_eq(tap->answer[0].option[0].weight, 3);
	ck_assert_uint_eq(tap->answer[1].option[0].index, CELL_YES);
	ck_assert_double_eq(tap->answer[2].stretch[0].high, 19);
	ck_assert_double_eq(tap->answer[2].stretch[1].low, 25);
	ck_assert_double_eq(tap->answer[2].stretch[1].high, 25);
}
END_TEST

START_TEST(what_kinds_share_can_be_said_of_all_points)
{
	const struct kind *tank;

	assert_reads(OFTEN("of: point, answers: { warm: { yes: 2, no: 5 } }"), NULL);
	tank = &book.kind[rulebook_kind(&book, "tank", 4)];
	ck_assert_uint_eq(tank->question_count, 1);
	ck_assert_int_eq(book.weights->often[0].of, INDEX_NONE);
	ck_assert_int_eq(book.weights->often[0].answer[0].question, tank->question[0]);
	ck_assert_uint_eq(book.weights->often[0].answer[0].option[1].weight, 5);
}
END_TEST

START_TEST(kinds_that_store_types_and_scopes)
{
	const struct often *often;

	assert_reads(whole, NULL);
	often = book.weights->often;
	ck_assert_uint_eq(often[1].make_count, 1);
	ck_assert_str_eq(often[1].makes[0], "hot");
	ck_assert_int_eq(often[2].scope, SCOPE_PROTECTION);
	ck_assert_int_eq(book.question[often[2].answer[1].question].scope, SCOPE_TEST);
	ck_assert_int_eq(often[3].scope, SCOPE_BRANCH);
	ck_assert_uint_eq(often[3].from_count, 2);
	ck_assert_uint_eq(often[3].from[0], rulebook_kind(&book, "tank", 4));
	ck_assert_uint_eq(often[3].from[1], FED_BY_MAIN);
	ck_assert_uint_eq(often[4].of, INDEX_NONE);
	ck_assert_double_eq(often[4].answer[0].stretch[0].low, 3);
	ck_assert_double_eq(often[4].answer[0].stretch[0].high, 9);
	ck_assert_uint_eq(often[2].on_count, 0);
	ck_assert_uint_eq(often[5].on_count, 2);
	ck_assert_uint_eq(often[5].on[0], rulebook_kind(&book, "tank", 4));
	ck_assert_uint_eq(often[5].on[1], rulebook_kind(&book, "tap", 3));
}
END_TEST

/* No verdict reads it: thresholds of weights cut nothing. */
START_TEST(weights_cut_no_cells)
{
	assert_reads(OFTEN("of: tap, when: { height_mm: { at_least: 77 } }, answers: { wet: { yes: "
	                   "1 } }"),
	             NULL);
	for (size_t q = 0; q < book.question_count; q++)
		ck_assert_msg(book.question[q].cut_count == 0, "%s", book.question[q].id);
}
END_TEST

START_TEST(a_book_without_weights_has_empty_ones)
{
	assert_reads("about: nothing\n", NULL);
	ck_assert(book.weights && book.weights->site_count == 0 && book.weights->often_count == 0);
}
END_TEST

/* -- overlays -------------------------------------------------------------------------------- */

START_TEST(an_overlay_replaces_sites_and_rooms)
{
	assert_reads(
	        whole,
	        "drop: [terrace]\ninvent:\n  sites: [ { id: shop, name: Kiosk, uses: [salon] } ]\n"
	        "  rooms: [ { id: kitchen, name: Galley, in: { salon: 1 }, holds: { tap: 1 } } "
	        "]\n");
	ck_assert_uint_eq(book.weights->site_count, 1);
	ck_assert_str_eq(book.weights->site[0].name, "Kiosk");
	ck_assert_uint_eq(book.weights->room_count, 1);
	ck_assert_str_eq(book.weights->room[0].name, "Galley");
}
END_TEST

START_TEST(an_overlay_weighs_again)
{
	assert_reads(whole, OFTEN("of: ED, answers: { mark: { yes: 1 } }"));
	ck_assert_uint_eq(book.weights->often_count, 7);
}
END_TEST

/* Who corrects a kind need not know of weights. */
START_TEST(what_was_dropped_or_written_anew_is_no_fault)
{
	assert_reads(whole, "drop: [tank, ED]\n");
	ck_assert_uint_eq(book.weights->room[0].hold_count, 1);
	ck_assert_uint_eq(book.weights->often[0].fittings[0].count, 1);
	ck_assert_uint_eq(book.weights->often[0].fed_by_count, 1);
	ck_assert_uint_eq(book.weights->often_count, 3);
	teardown();
	setup();
	assert_reads(whole,
	             "kinds:\n  - id: tap\n    name: Tap\n    inlets: [ { id: feed } ]\n"
	             "    fluids: [ { id: f, name: f, otherwise: { id: e, category: none, " WHY
	             " } } ]\n"
	             "questions:\n  - { id: use, scope: part, form: choice, label: Use,\n"
	             "      options: [ { id: salon }, { id: yard } ] }\n");
	ck_assert_msg(book.weights->often_count == 5, "its `when` asked what is asked no more");
	ck_assert_uint_eq(book.weights->room[0].in_count, 1);
	teardown();
	setup();
	/* asked in another way */
	assert_reads(whole,
	             "questions:\n"
	             "  - { id: told, scope: branch, form: text, label: Told }\n"
	             "  - { id: installed, scope: point, at: '', everywhere: yes, form: number, "
	             "least: 1, most: 5, label: When }\n");
	ck_assert_uint_eq(book.weights->often[4].answer[0].stretch_count, 0);
}
END_TEST

START_TEST(an_overlay_that_names_what_never_was_is_at_fault)
{
	ck_assert(!read_over(whole, OFTEN("of: tap, answers: { spot: { fixed: 1 } }")));
	ck_assert_msg(strstr(all_faults(), "last.yaml:3:29:"), "%s", all_faults());
}
END_TEST

START_TEST(a_kind_beside_rooms_that_no_room_holds_is_noticed)
{
	static const char tub[] =
	        "kinds:\n  - id: tub\n    name: Tub\n    inlets: [ { id: feed } ]\n"
	        "    fluids: [ { id: f, name: f, otherwise: { id: e, category: none, " WHY
	        " } } ]\n";

	assert_reads(whole, tub);
	teardown();
	setup();
	ck_assert(
	        read_over(whole, arena_print(&arena, "%s%s", tub,
	                                     ROOM("in: { house: 1 }, holds: { tap: 1, tub: 0 }"))));
	ck_assert_msg(faults.count == 1 && strstr(all_faults(), "last.yaml:2:5: notice: no room"),
	              "%s", all_faults());
}
END_TEST

START_TEST(no_memory_is_a_fault)
{
	long left = 0;

	for (long n = 0; left >= -1 && n < 100000; n += 1 + n / 60) {
		bool good;

		rulebook_finish(&book);
		faults_init(&faults, &arena);
		arena_fail_after(n);
		good = read_over(whole, NULL);
		left = arena_fail_after(-1);
		if (left >= 0) {
			ck_assert_msg(good, "%s", all_faults());
			return;
		}
		ck_assert_msg(!good, "request %ld failed and the book was used", n);
	}
	ck_abort_msg("never done");
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("weights");
	TCase *tcase = tcase_create("weights");

	tcase_add_checked_fixture(tcase, setup, teardown);
	tcase_set_timeout(tcase, 20);
	tcase_add_loop_test(tcase, what_is_wrong_has_its_place, 0, COUNT(bad));
	tcase_add_loop_test(tcase, what_is_odd_is_noticed, 0, COUNT(odd));
	tcase_add_test(tcase, without_a_use_there_are_no_sites);
	tcase_add_test(tcase, sites_and_rooms_are_read);
	tcase_add_test(tcase, an_entry_is_read_whole);
	tcase_add_test(tcase, what_kinds_share_can_be_said_of_all_points);
	tcase_add_test(tcase, kinds_that_store_types_and_scopes);
	tcase_add_test(tcase, weights_cut_no_cells);
	tcase_add_test(tcase, a_book_without_weights_has_empty_ones);
	tcase_add_test(tcase, an_overlay_replaces_sites_and_rooms);
	tcase_add_test(tcase, an_overlay_weighs_again);
	tcase_add_test(tcase, what_was_dropped_or_written_anew_is_no_fault);
	tcase_add_test(tcase, an_overlay_that_names_what_never_was_is_at_fault);
	tcase_add_test(tcase, a_kind_beside_rooms_that_no_room_holds_is_noticed);
	tcase_add_test(tcase, no_memory_is_a_fault);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
