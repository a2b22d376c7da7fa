#include "tundish/store/rulebook_read.h"

#include "../src/base/arena_test.h"
#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What the texts below lean on: read first, so that a row of the table is an overlay of a few
 * lines. */
static const char base_text[] =
        "about: a book for this test\n"
        "questions:\n"
        "  - { id: shared, scope: premises, form: yes_no, label: \"Shared?\" }\n"
        "  - { id: nation, scope: premises, at: premises, form: choice, label: Nation,\n"
        "      options: [ { id: england }, { id: wales } ] }\n"
        "  - { id: note, scope: part, form: text, label: Note }\n"
        "  - { id: use, scope: part, form: choice, label: Use, groups: { works: [office, salon] "
        "},\n"
        "      options: [ { id: house }, { id: office }, { id: salon } ] }\n"
        "  - { id: part, scope: room, form: part, label: Part }\n"
        "  - { id: kind, scope: point, at: '', everywhere: yes, form: kind, label: Kind }\n"
        "  - { id: installed, scope: point, at: '', everywhere: yes, form: date, label: When }\n"
        "  - { id: category, scope: point, at: undertaker_says, everywhere: yes, form: text, "
        "label: Says }\n"
        "  - { id: schedule_category, scope: point, form: choice, label: Worst,\n"
        "      options: [ { id: c1 }, { id: c2 }, { id: c3 }, { id: c4 }, { id: c5 } ] }\n"
        "  - { id: unlisted, scope: point, form: yes_no, label: Unlisted }\n"
        "  - { id: type, scope: protection, everywhere: yes, form: type, label: Type }\n"
        "  - { id: fitted, scope: protection, everywhere: yes, form: date, label: Fitted }\n"
        "  - { id: date, scope: test, everywhere: yes, form: date, label: Tested }\n"
        "  - { id: needs, scope: outcome, form: number, least: 1, most: 5 }\n"
        "kinds:\n"
        "  - id: tap\n"
        "    name: Tap\n"
        "    inlets: [ { id: cold }, { id: drain, waste: yes } ]\n"
        "    questions:\n"
        "      - { id: spout, form: choice, label: Spout, options: [ { id: fixed }, { id: hose }, "
        "{ id: low } ],\n"
        "          groups: { moves: [hose, low] } }\n"
        "      - { id: height_mm, form: number, unit: mm, least: 0, most: 500, label: Height }\n"
        "    fluids:\n"
        "      - id: sink\n"
        "        name: sink water\n"
        "        rows:\n"
        "          - { id: tap_moves, was: [tap_swings], when: { spout: moves }, category: 5, by: "
        "[back_siphonage],\n"
        "              because: It reaches in., source: Table 1, standing: published }\n"
        "          - { id: tap_high, when: { height_mm: { at_least: 20 }, part.use: works }, "
        "replaces: tap_moves,\n"
        "              category: 3, by: [back_siphonage], inlets: [cold, drain],\n"
        "              because: High., source: Table 1, standing: memory }\n"
        "        otherwise: { id: tap_else, category: none, because: Fixed., source: no source,\n"
        "                     standing: common practice }\n"
        "types:\n"
        "  - id: gap\n"
        "    name: Gap\n"
        "    is: arrangement\n"
        "    good_for: none\n"
        "    source: Table 2\n"
        "    standing: published\n"
        "    questions:\n"
        "      - { id: kept, measured: out_mm at least the most of 20 and 2 x bore_mm }\n"
        "      - { id: out_mm, form: number, unit: mm, least: 0, most: 900, label: Out }\n"
        "      - { id: bore_mm, form: number, unit: mm, least: 0, most: 90, label: Bore }\n"
        "      - { id: stops, form: yes_no, label: Stops }\n"
        "    rows:\n"
        "      - { id: gap_lost, when: { kept: no }, found: { back_siphonage: 2 }, because: Low.,\n"
        "          source: Table 2, standing: published }\n"
        "      - { id: gap_old, when: { not: { fitted: { within: 5 years } } }, due: yes, because: "
        "Old.,\n"
        "          source: no source, standing: common practice }\n"
        "urgency:\n"
        "  rows:\n"
        "    - { id: bad, urgency: now, when: { needs: { at_least: 4 } }, because: Bad., source: "
        "no source,\n"
        "        standing: common practice }\n"
        "  raise:\n"
        "    - { id: raise_shared, when: { premises.shared: yes }, because: Neighbours., source: "
        "no source,\n"
        "        standing: common practice }\n";

#define WHY "because: b, source: no source, standing: common practice"

static struct arena arena;
static struct faults faults;
static struct rulebook book;
static const struct source base = {"base.yaml", base_text, sizeof(base_text) - 1};

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

/* The base, and an overlay unless it is NULL. */
static bool read_with(const char *overlay, size_t length)
{
	static struct source over;
	const struct source *texts[] = {&base, &over};

	over = (struct source){"over.yaml", overlay, length};
	return rulebook_read(&book, texts, overlay ? 2 : 1, date_day(2026, 11, 25), &faults);
}

static const char *all_faults(void)
{
	const char *text = "";

	faults_sort(&faults);
	for (size_t i = 0; i < faults.count; i++)
		text = arena_print(&arena, "%s%s", text, fault_text(&faults.item[i], &arena));
	return text;
}

static void assert_reads(const char *overlay)
{
	ck_assert_msg(read_with(overlay, overlay ? strlen(overlay) : 0), "%s", all_faults());
	ck_assert_msg(faults.count == 0, "%s", all_faults());
}

/* -- faults ---------------------------------------------------------------------------------- */

#define KIND_TOP(id) "kinds:\n  - id: " id "\n    name: N\n    inlets: [ { id: cold } ]\n"
#define FLUID_TOP    "    fluids:\n      - id: f\n        name: F\n"
#define ELSE         "        otherwise: { id: e, category: none, " WHY " }\n"
#define TYPE_TOP                                                                                   \
	"types:\n  - id: T\n    name: N\n    is: device\n    source: S\n    standing: published\n"
#define GOOD "    good_for: 2\n"
#define ROW_WHEN(when)                                                                             \
	"rows:\n  - { kind: tap, fluid: sink, id: r, category: 2, by: back_pressure, " WHY ",\n"   \
	"      when: { " when " } }\n"
#define TYPE_WHEN(when)                                                                            \
	"rows:\n  - { type: gap, id: r, due: yes, " WHY ",\n      when: { " when " } }\n"
#define ROW(more)      "rows:\n  - { kind: tap, fluid: sink, id: r, " more " }\n"
#define QUESTION(more) "questions:\n  - { id: q, scope: part, label: L, " more " }\n"

/* A table, and the formatter gives up on it. */
/* clang-format off */
static const struct {
	const char *title, *text, *place, *says;
} bad[] = {
	/* not a text at all */
	{"a tab", "kinds:\n\t- id: x\n", "2:1", "a tab: indent with blanks"},
	{"an open list", "drop: [ a\n", "1:7", "`[` is never closed"},
	{"an open quote", "about: 'x\n", "1:8", "this quote is never closed"},
	{"no colon", "about: x\nkinds\n", "2:1", "a key needs a colon"},
	{"a colon too many", "about: x: y\n", "1:9", "a colon is not expected here"},
	{"an alias", "about: *x\n", "1:8", "an alias (`*x`)"},
	{"an anchor", "about: &x y\n", "1:8", "an anchor (`&x`)"},
	{"a tag", "about: !mine y\n", "1:8", "a tag (`!mine`)"},
	{"a merge key", "x-a: { <<: y }\n", "1:8", "a merge key"},
	{"a key twice", "about: x\nabout: y\n", "2:1",
	 "`about` stands here twice: first on line 1"},
	{"two documents", "about: x\n---\nabout: y\n", "2:1", "a second document"},
	{"not UTF-8", "about: caf\xE9\n", "1:11", "not UTF-8"},
	{"a list for a text", "- about: x\n", "1:1", "a text of the rulebook is a map"},
	{"kinds are no list", "kinds: { id: x }\n", "1:8", "`kinds` is a list"},
	{"a kind is no map", "kinds: [ x ]\n", "1:10", "a kind is a map"},

	/* questions */
	{"no id", "questions:\n  - { scope: part, form: text, label: L }\n", "2:5",
	 "a question needs an `id`"},
	{"an id with a capital", "questions:\n  - { id: Q, scope: part, form: text, label: L }\n",
	 "2:11", "an id is made of a-z, 0-9 and _: `Q` is not"},
	{"an id that is a list", "questions:\n  - { id: [q], scope: part, form: text, label: L }\n",
	 "2:11", "`id` is one text"},
	{"no scope", "questions:\n  - { id: q, form: text, label: L }\n", "2:5", "needs a `scope`"},
	{"no such scope", "questions:\n  - { id: q, scope: pat, form: text, label: L }\n", "2:21",
	 "`pat` is no scope: did you mean `part`?"},
	{"no label", "questions:\n  - { id: q, scope: part, form: text }\n", "2:5",
	 "has no `label`"},
	{"no form", QUESTION("hint: h"), "2:5", "has no `form`"},
	{"no such form", QUESTION("form: chioce"), "2:43", "did you mean `choice`?"},
	{"one option", QUESTION("form: choice, options: [ { id: a } ]"), "2:5",
	 "has 1 options: 2 to 64 can be"},
	{"no options", QUESTION("form: choice"), "2:5", "has 0 options"},
	{"an option twice", QUESTION("form: choice, options: [ { id: a }, { id: a } ]"), "2:73",
	 "the option `a` is there twice"},
	{"an option cannot_tell",
	 QUESTION("form: choice, options: [ { id: a }, { id: cannot_tell } ]"), "2:73",
	 "`cannot_tell` is no option"},
	{"an option without an id", QUESTION("form: choice, options: [ { id: a }, { label: b } ]"),
	 "2:73", "an option needs an `id`"},
	{"options of a number", QUESTION("form: number, least: 0, most: 1, options: [ { id: a } ]"),
	 "2:79", "only a choice has `options`"},
	{"groups of a date", QUESTION("form: date, groups: { g: [a] }"), "2:57",
	 "only a choice has `groups`"},
	{"a group of nobody",
	 QUESTION("form: choice, options: [ { id: fixed }, { id: bb } ], groups: { g: [fixd] }"),
	 "2:105", "`fixd` is no option of `q`: did you mean `fixed`?"},
	{"a group called like an option",
	 QUESTION("form: choice, options: [ { id: aa }, { id: bb } ], groups: { aa: [bb] }"),
	 "2:102", "the group `aa` has the name of an option"},
	{"a group that is a word",
	 QUESTION("form: choice, options: [ { id: aa }, { id: bb } ], groups: { g: aa }"), "2:101",
	 "a group is a list of options"},
	{"a number with no range", QUESTION("form: number, least: 0"), "2:5",
	 "needs `least` and `most`"},
	{"a range upside down", QUESTION("form: number, least: 2, most: 1"), "2:5",
	 "`least` is not below `most`"},
	{"a range in words", QUESTION("form: number, least: none, most: 1"), "2:58",
	 "`none` is not a number"},
	{"a range of a text", QUESTION("form: text, least: 1"), "2:5", "only a number has `unit`"},
	{"no such unit", QUESTION("form: number, least: 0, most: 1, unit: furlong"), "2:76",
	 "`furlong` is no unit"},
	{"a key without its unit", QUESTION("form: number, least: 0, most: 1, unit: mm"), "2:11",
	 "the key of a number ends in its unit: `q_mm`"},
	{"cannot_tell maybe", QUESTION("form: date, cannot_tell: maybe"), "2:62",
	 "`cannot_tell` is yes or no"},
	{"a shared question twice in a text",
	 "questions:\n  - { id: q, scope: part, form: text, label: L }\n"
	 "  - { id: q, scope: part, form: date, label: L }\n", "3:11", "the id `q` is used twice: first in over.yaml, line 2"},

	/* a kind's questions */
	{"no such shared question",
	 KIND_TOP("k") "    questions: [ schedule_categry ]\n" FLUID_TOP ELSE, "5:18",
	 "`schedule_categry` is no shared question of a point: did you mean `schedule_category`?"},
	{"another scope",
	 KIND_TOP("k") "    questions: [ { id: q, scope: part, form: text, label: L } ]\n" FLUID_TOP
		 ELSE, "5:34", "a question of `k` has the scope point"},
	{"asked twice",
	 KIND_TOP("k") "    questions: [ { id: q, form: text, label: L }, { id: q, form: date, "
		       "label: L } ]\n" FLUID_TOP ELSE,
	 "5:57", "`k` asks two questions of this id"},
	{"asked everywhere already",
	 KIND_TOP(
		 "k") "    questions: [ { id: installed, form: text, label: L } ]\n" FLUID_TOP ELSE,
	 "5:24", "`k` asks two questions of this id"},
	{"everywhere of one kind",
	 KIND_TOP("k") "    questions: [ { id: q, everywhere: yes, form: text, label: L } "
		       "]\n" FLUID_TOP ELSE,
	 "5:39", "only a shared question"},

	/* measured tests */
	{"a measure in other words",
	 TYPE_TOP GOOD "    questions: [ { id: m, measured: 20 over 30 } ]\n", "8:37",
	 "a measured test is `TERM at least TERM`"},
	{"a measure that goes on",
	 TYPE_TOP GOOD "    questions: [ { id: m, measured: 20 at least 30 or so } ]\n", "8:37",
	 "a measured test is `TERM at least TERM`"},
	{"a measure of nothing asked",
	 TYPE_TOP GOOD "    questions: [ { id: m, measured: 20 at least 2 x bore_mm } ]\n", "8:37",
	 "`bore_mm` is no number that is asked beside this test"},
	{"a measure of a word",
	 TYPE_TOP GOOD
	 "    questions: [ { id: d, form: date, label: D }, { id: m, measured: 20 at least d } ]\n", "8:70", "`d` is no number"},
	{"a measured test with a form",
	 TYPE_TOP GOOD "    questions: [ { id: m, form: date, measured: 20 at least 30 } ]\n",
	 "8:33", "no `form` but measured"},
	{"a shared measure whose number is not listed",
	 "questions:\n"
	 "  - { id: b_mm, scope: protection, form: number, unit: mm, least: 0, most: 9, label: B "
	 "}\n"
	 "  - { id: m, scope: protection, measured: b_mm at least 5 }\n" TYPE_TOP GOOD
	 "    questions: [ m ]\n", "5:5", "`T` lists `m` but not its number `b_mm`"},

	/* conditions */
	{"no such question", ROW_WHEN("spuot: hose"), "3:15",
	 "`spuot` names no question of tap: did you mean `spout`?"},
	{"no such question of a scope", ROW_WHEN("part.us: house"), "3:15",
	 "names no question of the scope part: did you mean `use`?"},
	{"a shared question nobody asks here", ROW_WHEN("unlisted: yes"), "3:15",
	 "list it under `questions` of tap"},
	{"a scope a kind may not test", ROW_WHEN("inlet.x: yes"), "3:15",
	 "only premises, part can, beside its own"},
	{"a scope that is none", TYPE_WHEN("roof.x: yes"), "3:15",
	 "only premises, part, branch, point, inlet, test can"},
	{"no such option", ROW_WHEN("spout: hos"), "3:22",
	 "`hos` is no value of `spout`: did you mean `hose`?"},
	{"cannot_tell tested", ROW_WHEN("spout: cannot_tell"), "3:22", "no row can test it"},
	{"neither yes nor no", TYPE_WHEN("stops: maybe"), "3:22", "`maybe` is no value of `stops`"},
	{"a choice by a threshold", ROW_WHEN("spout: { below: 3 }"), "3:22",
	 "is tested by a word or a list of words"},
	{"a list of lists", ROW_WHEN("spout: [ [hose] ]"), "3:24",
	 "is tested by a word or a list of words"},
	{"a number by a word", ROW_WHEN("height_mm: 20"), "3:26",
	 "is tested by { at_least: ... } or { below: ... }"},
	{"no such operator", ROW_WHEN("height_mm: { at_leats: 20 }"), "3:28",
	 "did you mean `at_least`?"},
	{"a number within", ROW_WHEN("height_mm: { within: 5 years }"), "3:28",
	 "`within` does not test a number"},
	{"a threshold that is no number", ROW_WHEN("height_mm: { below: low }"), "3:35",
	 "`low` is not a number"},
	{"a threshold that is a list", ROW_WHEN("height_mm: { below: [1] }"), "3:35",
	 "`below` takes one value"},
	{"a date that is none", ROW_WHEN("installed: { below: 1999-02-30 }"), "3:35",
	 "is no date to test with"},
	{"a date without a first day", ROW_WHEN("installed: { below: before_july_1999 }"), "3:35",
	 "is no date to test with"},
	{"books of neither", "questions:\n  - { id: q, scope: part, books: often, form: text, label: L }\n",
	 "2:34", "`books` is yes or no"},
	{"months", TYPE_WHEN("fitted: { within: 18 months }"), "3:33",
	 "`within` takes whole years"},
	{"a text tested", ROW_WHEN("part.note: x"), "3:15", "can't be tested: it is a text"},
	{"any of a map", ROW_WHEN("any: { spout: hose }"), "3:20", "`any` is a list of maps"},
	{"not of a word", ROW_WHEN("not: spout"), "3:20",
	 "a condition is a map of at least one test"},
	{"a condition of nothing", ROW_WHEN(""), "3:13",
	 "a condition is a map of at least one test"},
	{"urgency tests a kind's question",
	 "urgency: { rows: [ { id: u, urgency: now, " WHY ", when: { spout: hose } } ] }\n",
	 "1:109", "`spout` names no question of the outcome"},

	/* rows */
	{"a row without an id",
	 "rows:\n  - { kind: tap, fluid: sink, category: 2, by: back_pressure, " WHY "}\n", "2:5",
	 "a row needs an `id`"},
	{"a row without because",
	 ROW("category: 2, by: back_pressure, source: no source, standing: common practice"), "2:5",
	 "the row `r` has no `because`"},
	{"a row without a source",
	 ROW("category: 2, by: back_pressure, because: b, standing: common practice"), "2:5",
	 "the row `r` has no `source`"},
	{"a row without a standing",
	 ROW("category: 2, by: back_pressure, because: b, source: no source"), "2:5",
	 "the row `r` has no `standing`"},
	{"no such standing",
	 ROW("category: 2, by: back_pressure, because: b, source: S, standing: publishd"), "2:103",
	 "`publishd` is no standing: did you mean `published`?"},
	{"published without a source",
	 ROW("category: 2, by: back_pressure, because: b, source: no source, standing: published"),
	 "2:90", "what is published has a source"},
	{"memory without a source",
	 ROW("category: 2, by: back_pressure, because: b, source: no source, standing: memory"),
	 "2:90", "what is memory has a source"},
	{"common practice with a source",
	 ROW("category: 2, by: back_pressure, because: b, source: Book 7, standing: common "
	     "practice"),
	 "2:90", "common practice has `no source`"},
	{"a row without a category", ROW("by: back_pressure, " WHY), "2:5",
	 "the row `r` has no `category`"},
	{"a category of 6", ROW("category: 6, by: back_pressure, " WHY), "2:48",
	 "a fluid category is 1 to 5, or none"},
	{"a row that asks", ROW("category: ask, by: back_pressure, " WHY), "2:48",
	 "only an `otherwise` may ask"},
	{"a row without by", ROW("category: 2, " WHY), "2:5", "the row `r` has no `by`"},
	{"no such mechanism", ROW("category: 2, by: [back_presure], " WHY), "2:56",
	 "did you mean `back_pressure`?"},
	{"no such inlet", ROW("category: 2, by: back_pressure, inlets: [hot], " WHY), "2:79",
	 "`hot` is no inlet of `tap`"},
	{"it replaces nothing", ROW("category: 2, by: back_pressure, replaces: tap_move, " WHY),
	 "2:5", "names no other row of the same fluid of `tap`: did you mean `tap_moves`?"},
	{"it replaces itself", ROW("category: 2, by: back_pressure, replaces: r, " WHY), "2:5",
	 "names no other row"},
	{"it replaces a row of another fluid", KIND_TOP("k") "    fluids:\n"
	 "      - { id: f, name: F, otherwise: { id: e1, category: none, " WHY " } }\n"
	 "      - { id: g, name: G, otherwise: { id: e2, category: none, replaces: e1, " WHY " } }\n",
	 "7:38", "names no other row of the same fluid of `k`"},
	{"opens maybe", ROW("category: 2, by: back_pressure, opens: maybe, " WHY), "2:77",
	 "`opens` is yes or no"},
	{"no such urgency", ROW("category: 2, by: back_pressure, urgency: noww, " WHY), "2:79",
	 "did you mean `now`?"},
	{"was is a word", ROW("category: 2, by: back_pressure, was: old, " WHY), "2:75",
	 "`was` is a list"},
	{"a circumstance that does nothing", "rows:\n  - { kind: tap, id: c, " WHY "}\n", "2:5",
	 "the circumstance `c` says neither"},
	{"a row id twice",
	 ROW("category: 2, by: back_pressure, " WHY) "kinds:\n  - id: k\n    name: N\n"
						     "    inlets: [ { id: cold } ]\n" FLUID_TOP
						     "        otherwise: { id: r, category: "
						     "none, " WHY "}\n",
	 "10:20", "the row id `r` is used twice"},

	/* kinds */
	{"a kind without a name",
	 "kinds:\n  - id: k\n    inlets: [ { id: cold } ]\n" FLUID_TOP ELSE, "2:5",
	 "the kind `k` has no `name`"},
	{"a kind without inlets", "kinds:\n  - id: k\n    name: N\n" FLUID_TOP ELSE, "2:5",
	 "has no `inlets`"},
	{"five inlets",
	 "kinds:\n  - id: k\n    name: N\n    inlets: [ { id: a }, { id: b }, { id: c }, { id: d "
	 "}, { id: e } ]\n" FLUID_TOP ELSE,
	 "4:59", "more than 4 inlets"},
	{"an inlet twice",
	 "kinds:\n  - id: k\n    name: N\n    inlets: [ { id: a }, { id: a } ]\n" FLUID_TOP ELSE,
	 "4:26", "the inlet `a` is there twice"},
	{"a kind without fluids", KIND_TOP("k"), "2:5", "the kind `k` has no `fluids`"},
	{"a fluid without otherwise", KIND_TOP("k") FLUID_TOP, "6:9",
	 "the fluid `f` has no `otherwise`"},
	{"a fluid without a name", KIND_TOP("k") "    fluids:\n      - id: f\n" ELSE, "6:9",
	 "the fluid `f` has no `name`"},
	{"a fluid twice",
	 KIND_TOP("k") "    fluids:\n"
		       "      - { id: f, name: F, otherwise: { id: e1, category: none, " WHY
		       "} }\n"
		       "      - { id: f, name: F, otherwise: { id: e2, category: none, " WHY
		       "} }\n", "7:9", "the fluid `f` is there twice"},
	{"an otherwise with a when",
	 KIND_TOP("k") FLUID_TOP "        otherwise: { id: e, category: none, " WHY
				 ", when: { part.use: house } }\n", "8:109", "an `otherwise` has no `when`"},
	{"a kind twice in a text",
	 KIND_TOP("k") FLUID_TOP ELSE
	 "  - id: k\n    name: N\n    inlets: [ { id: cold } ]\n"
	 "    fluids:\n      - { id: f, name: F, otherwise: { id: e2, category: none, " WHY
	 "} }\n", "9:9", "the id `k` is used twice: first in over.yaml, line 2"},

	/* types */
	{"a type without good_for", TYPE_TOP, "2:5", "the type `T` has no `good_for`"},
	{"good for half", TYPE_TOP "    good_for: { back_pressure: 3 }\n", "7:15",
	 "says a figure for back_pressure and one"},
	{"good for 6", TYPE_TOP "    good_for: 6\n", "7:15", "a fluid category is 1 to 5, or none"},
	{"a type without a source",
	 "types:\n  - { id: T, name: N, is: device, good_for: 2, standing: published }\n", "2:5",
	 "the type `T` has no `source`"},
	{"what is it",
	 "types:\n  - { id: T, name: N, is: thing, good_for: 2, source: S, standing: published }\n", "2:27", "a type is a `device` or an `arrangement`"},
	{"a row that decides nothing", TYPE_TOP GOOD "    rows: [ { id: r, " WHY "} ]\n", "8:13",
	 "the row `r` decides nothing"},
	{"shut by no question", TYPE_TOP GOOD "    shuts_downstream: q\n", "8:23",
	 "`q` is no yes/no question of `T`"},
	{"a series with nobody",
	 TYPE_TOP GOOD "    series: [ { id: s, with: gpa, counts_as: gap, " WHY "} ]\n", "8:30",
	 "`gpa` is no type of this book: did you mean `gap`?"},
	{"a series that counts as nothing",
	 TYPE_TOP GOOD "    series: [ { id: s, with: gap, " WHY "} ]\n", "8:15",
	 "the series `s` has no `counts_as`"},
	{"urgency not said", "urgency: { rows: [ { id: u, " WHY "} ] }\n", "1:20",
	 "the row `u` has no `urgency`"},

	/* overlays */
	{"a row of both", "rows:\n  - { kind: tap, type: gap, id: r, " WHY "}\n", "2:5",
	 "says either `kind` or `type`"},
	{"a row of nobody", "rows:\n  - { id: r, " WHY "}\n", "2:5",
	 "says either `kind` or `type`"},
	{"a row of no kind", "rows:\n  - { kind: tpa, id: r, opens: yes, " WHY "}\n", "2:13",
	 "`tpa` is no kind of this book: did you mean `tap`?"},
	{"a row of no fluid",
	 "rows:\n  - { kind: tap, fluid: sikn, id: r, category: none, " WHY "}\n", "2:25",
	 "`sikn` is no fluid of `tap`: did you mean `sink`?"},
	{"words that are none", "kinds:\n  - id: k\n    name: N\n    also: [ { id: x } ]\n    inlets: [ { id: "
	 "cold } ]\n" FLUID_TOP ELSE, "4:13", "`also` is a list of words"},
	{"usual is no type", "kinds:\n  - id: k\n    name: N\n    inlets: [ { id: cold } ]\n    usual: [ gpa ]\n" FLUID_TOP ELSE,
	 "5:12", "`gpa` is no type of this book: did you mean `gap`?"},
	{"a drop of nothing", "drop: [ tap_highh ]\n", "1:9", "did you mean `tap_high`?"},
	{"a drop that is a map", "drop: [ { id: tap } ]\n", "1:9", "`drop` is a list of ids"},
	{"a row twice in a text",
	 ROW("category: 2, by: back_pressure, " WHY) "  - { kind: tap, fluid: sink, id: r, "
						     "category: 3, by: back_pressure, " WHY "}\n",
	 "3:35", "the id `r` is used twice"},
};
/* clang-format on */

START_TEST(a_bad_text_has_its_place)
{
	struct place place;
	char found[32];

	ck_assert_msg(!read_with(bad[_i].text, strlen(bad[_i].text)), "%s: no fault",
	              bad[_i].title);
	ck_assert_msg(faults.count == 1, "%s: %zu faults:\n%s", bad[_i].title, faults.count,
	              all_faults());
	ck_assert_msg(strstr(faults.item[0].message, bad[_i].says) != NULL, "%s:\n%s",
	              bad[_i].title, all_faults());
	ck_assert_str_eq(faults.item[0].source->name, "over.yaml");
	place = source_place(faults.item[0].source, faults.item[0].span.at);
	snprintf(found, sizeof(found), "%zu:%zu", place.line, place.column);
	ck_assert_msg(strcmp(found, bad[_i].place) == 0, "%s: expected at %s:\n%s", bad[_i].title,
	              bad[_i].place, all_faults());
}
END_TEST

/* clang-format off */
static const struct {
	const char *title, *text, *place, *says;
} odd[] = {
	{"a section", "kindes: []\n", "1:1", "`kindes` is no key of a text of the rulebook: did you mean `kinds`?"},
	{"of a question", QUESTION("form: text, lable: x"), "2:49", "of a question: did you mean `label`?"},
	{"of an option", QUESTION("form: choice, options: [ { id: a, lbael: x }, { id: b } ]"), "2:71", "of an option"},
	{"of a row", ROW("category: 2, by: back_pressure, beacuse: x, " WHY), "2:70", "did you mean `because`?"},
	{"of a type", TYPE_TOP GOOD "    limit: x\n", "8:5", "did you mean `limits`?"},
	{"of a fluid", KIND_TOP("k") FLUID_TOP "        colour: red\n" ELSE, "8:9", "`colour` is no key of a fluid"},
};
/* clang-format on */

START_TEST(an_unknown_key_is_noticed)
{
	struct place place;
	char found[32];

	ck_assert_msg(read_with(odd[_i].text, strlen(odd[_i].text)), "%s:\n%s", odd[_i].title,
	              all_faults());
	ck_assert_msg(faults.count == 1, "%s: %zu:\n%s", odd[_i].title, faults.count, all_faults());
	ck_assert_int_eq(faults.item[0].severity, SEVERITY_NOTICE);
	ck_assert_msg(strstr(faults.item[0].message, odd[_i].says) != NULL, "%s:\n%s",
	              odd[_i].title, all_faults());
	place = source_place(faults.item[0].source, faults.item[0].span.at);
	snprintf(found, sizeof(found), "%zu:%zu", place.line, place.column);
	ck_assert_str_eq(found, odd[_i].place);
}
END_TEST

START_TEST(an_own_key_is_left_alone)
{
	assert_reads("x-mine: { a: [1, { b: 2 }] }\ntypes:\n  - { id: T, name: N, is: device, "
	             "good_for: 2, source: S,\n"
	             "      standing: published, x-price: 3 }\n");
}
END_TEST

START_TEST(sixty_four_options_and_no_more)
{
	char *text = arena_take(&arena, 4000);
	int count = 64 + _i;
	size_t used;

	used = (size_t)sprintf(
	        text, "questions:\n  - { id: q, scope: part, label: L, form: choice, options: [");
	for (int i = 0; i < count; i++)
		used += (size_t)sprintf(text + used, "%s{ id: o%d }", i ? ", " : "", i);
	sprintf(text + used, "] }\n");
	ck_assert_int_eq(read_with(text, strlen(text)), _i == 0);
	if (_i)
		ck_assert_ptr_nonnull(strstr(faults.item[0].message, "has 65 options"));
}
END_TEST

START_TEST(eight_fluids_and_no_more)
{
	char *text = arena_take(&arena, 4000);
	size_t used = (size_t)sprintf(text, "%s    fluids:\n", KIND_TOP("k"));

	for (int i = 0; i < FLUIDS_MOST + _i; i++)
		used += (size_t)sprintf(
		        text + used,
		        "      - { id: f%d, name: F, otherwise: { id: e%d, category: none, " WHY
		        " } }\n",
		        i, i);
	ck_assert_int_eq(read_with(text, strlen(text)), _i == 0);
	if (_i)
		ck_assert_ptr_nonnull(strstr(faults.item[0].message, "more than 8 fluids"));
}
END_TEST

START_TEST(asking_needs_the_schedule)
{
	static const char text[] = KIND_TOP("k") FLUID_TOP
	        "        otherwise: { id: e, category: ask, by: back_siphonage, " WHY " }\n";
	struct source source = {"alone.yaml", text, sizeof(text) - 1};
	const struct source *texts[] = {&source};

	ck_assert(!rulebook_read(&book, texts, 1, 0, &faults));
	ck_assert_uint_eq(faults.count, 1);
	ck_assert_ptr_nonnull(
	        strstr(faults.item[0].message, "`category: ask` needs a shared choice"));
	ck_assert_uint_eq(source_place(&source, faults.item[0].span.at).line, 8);
}
END_TEST

/* -- what a good text gives ------------------------------------------------------------------ */

static const struct row *kind_row(const char *kind, const char *id)
{
	uint16_t k = rulebook_kind(&book, kind, strlen(kind));

	ck_assert_uint_ne(k, INDEX_NONE);
	for (size_t i = 0; i < book.kind[k].row_count; i++)
		if (strcmp(book.kind[k].row[i].id, id) == 0)
			return &book.kind[k].row[i];
	return NULL;
}

static question_index point_question(const char *kind, const char *id)
{
	return rulebook_question(&book, SCOPE_POINT, rulebook_kind(&book, kind, strlen(kind)),
	                         "answers", id, strlen(id));
}

START_TEST(a_kind_is_read_whole)
{
	const struct kind *kind;
	const struct row *row;

	assert_reads(NULL);
	kind = &book.kind[0];
	ck_assert_str_eq(kind->name, "Tap");
	ck_assert_uint_eq(kind->inlet_count, 2);
	ck_assert(!kind->inlet[0].waste && kind->inlet[1].waste);
	ck_assert_uint_eq(kind->question_count, 2);
	ck_assert_uint_eq(kind->row_count, 3);
	row = &kind->row[0];
	ck_assert_str_eq(row->id, "tap_moves");
	ck_assert_str_eq(row->was[0], "tap_swings");
	ck_assert_str_eq(row->says, "It reaches in.");
	ck_assert_str_eq(row->source_text, "Table 1");
	ck_assert_int_eq(row->standing, STANDING_PUBLISHED);
	ck_assert_uint_eq(row->category, 5);
	ck_assert_uint_eq(row->by, 1 << BACK_SIPHONAGE);
	ck_assert_msg(row->inlets == 1, "all but waste inlets unless said");
	ck_assert_int_eq(row->replaces, ROW_NONE);
	ck_assert_uint_eq(row->when->question, point_question("tap", "spout"));
	ck_assert_msg(row->when->holds == 6, "a group is its options");
	ck_assert_uint_eq(kind->row[1].inlets, 3);
	ck_assert_int_eq(kind->row[1].replaces, 0);
	ck_assert_int_eq(kind->row[1].standing, STANDING_MEMORY);
	ck_assert(kind->row[2].otherwise && !kind->row[2].when);
	ck_assert_uint_eq(kind->row[2].category, CATEGORY_LEAST);
}
END_TEST

START_TEST(a_map_of_tests_is_all_of_them)
{
	const struct condition *when, *height, *use;

	assert_reads(NULL);
	when = kind_row("tap", "tap_high")->when;
	ck_assert_int_eq(when->form, CONDITION_ALL);
	height = when->child;
	use = height->next;
	ck_assert_ptr_null(use->next);
	ck_assert_int_eq(height->threshold, THRESHOLD_AT_LEAST);
	ck_assert_double_eq(height->bound, 20);
	ck_assert_uint_eq(book.question[height->question].cut_count, 1);
	ck_assert_uint_eq(height->holds, 2);
	ck_assert_uint_eq(use->question, book.known.part_use);
	ck_assert_uint_eq(use->holds, 6);
	ck_assert_int_eq(strncmp(base_text + height->span.at, "height_mm: { at_least: 20 }",
	                         height->span.length),
	                 0);
}
END_TEST

START_TEST(below_is_what_at_least_is_not)
{
	const struct condition *both;

	assert_reads(ROW_WHEN("height_mm: { at_least: 10, below: 30 }"));
	both = kind_row("tap", "r")->when;
	ck_assert_int_eq(both->form, CONDITION_ALL);
	ck_assert_int_eq(both->child->threshold, THRESHOLD_AT_LEAST);
	ck_assert_int_eq(both->child->next->threshold, THRESHOLD_BELOW);
	/* cut at 10, at 20 (by the base) and at 30 */
	ck_assert_uint_eq(both->child->holds, 14);
	ck_assert_uint_eq(both->child->next->holds, 7);
}
END_TEST

START_TEST(all_any_and_not)
{
	const struct condition *any, *all, *not ;

	assert_reads(ROW_WHEN("any: [ { spout: hose }, { all: [ { spout: low }, { not: { "
	                      "premises.shared: no } } ] } ]"));
	any = kind_row("tap", "r")->when;
	ck_assert_int_eq(any->form, CONDITION_ANY);
	ck_assert_uint_eq(any->child->holds, 2);
	all = any->child->next;
	ck_assert_int_eq(all->form, CONDITION_ALL);
	not = all->child->next;
	ck_assert_int_eq(not ->form, CONDITION_NOT);
	ck_assert_uint_eq(not ->child->holds, 1 << CELL_NO);
	ck_assert_ptr_null(any->next);
}
END_TEST

START_TEST(the_day_decides_what_is_within)
{
	const struct condition *within;

	assert_reads("rows:\n  - { type: gap, id: r, due: yes, " WHY
	             ", when: { fitted: { within: 1 year } } }\n");
	within = book.type[0].row[2].when;
	ck_assert_int_eq(within->threshold, THRESHOLD_AT_LEAST);
	ck_assert_double_eq(within->bound, date_day(2025, 11, 25));
}
END_TEST

START_TEST(a_type_is_read_whole)
{
	const struct type *type;
	const struct measure *measure;
	const struct condition *old;

	assert_reads(NULL);
	type = &book.type[0];
	ck_assert(!type->device && !type->shuts);
	ck_assert_uint_eq(type->good_for[BACK_PRESSURE], CATEGORY_LEAST);
	ck_assert_uint_eq(type->shuts_downstream, QUESTION_NONE);
	ck_assert_uint_eq(type->row[0].found[BACK_PRESSURE], CATEGORY_MOST);
	ck_assert_uint_eq(type->row[0].found[BACK_SIPHONAGE], 2);
	ck_assert_uint_eq(type->row[0].accepted[BACK_SIPHONAGE], CATEGORY_MOST);
	measure = book.question[type->row[0].when->question].measure;
	ck_assert_str_eq(book.question[measure->left.question].id, "out_mm");
	ck_assert_uint_eq(measure->right_count, 2);
	ck_assert_double_eq(measure->right[0].factor, 20);
	ck_assert_uint_eq(measure->right[0].question, QUESTION_NONE);
	ck_assert_double_eq(measure->right[1].factor, 2);
	ck_assert_str_eq(book.question[measure->right[1].question].id, "bore_mm");
	old = type->row[1].when;
	ck_assert_int_eq(old->form, CONDITION_NOT);
	ck_assert_double_eq(old->child->bound, date_day(2021, 11, 25));
	ck_assert_uint_eq(old->child->question, book.known.protection_fitted);
	ck_assert(type->row[1].due && !type->row[1].unproven);
}
END_TEST

START_TEST(urgency_and_known_questions)
{
	assert_reads(NULL);
	ck_assert_uint_eq(book.urgency_count, 2);
	ck_assert_int_eq(book.urgency[0].row.urgency, URGENCY_NOW);
	ck_assert(!book.urgency[0].raises && book.urgency[1].raises);
	ck_assert_uint_eq(book.urgency[0].row.when->question, book.known.outcome_needs);
	ck_assert_str_eq(book.question[book.known.point_kind].id, "kind");
	ck_assert_str_eq(book.question[book.known.says_category].at, "undertaker_says");
	ck_assert_uint_eq(book.known.says_date, QUESTION_NONE);
	ck_assert_msg(book.known.branch_from == QUESTION_NONE, "this book has none");
	ck_assert_msg(book.scope_question_count[SCOPE_POINT] == 3,
	              "kind, installed, category: what is everywhere");
	ck_assert_msg(book.scope_question_count[SCOPE_PREMISES] == 2, "all of the premises");
	ck_assert_str_eq(book.question[book.scope_question[SCOPE_PREMISES][0]].at, "supply");
	ck_assert_str_eq(book.question[book.scope_question[SCOPE_PREMISES][1]].at, "");
	ck_assert_str_eq(book.question[point_question("tap", "spout")].at, "answers");
}
END_TEST

static bool is_for_the_books(enum scope scope, const char *id)
{
	question_index question =
	        rulebook_question(&book, scope, INDEX_NONE, "", id, strlen(id));

	ck_assert_uint_ne(question, QUESTION_NONE);
	return book.question[question].books;
}

START_TEST(what_is_for_the_books)
{
	assert_reads("questions:\n"
	             "  - { id: m, scope: part, form: text, label: L }\n"
	             "  - { id: n, scope: part, books: no, form: text, label: L }\n"
	             "  - { id: o, scope: part, form: yes_no, label: L }\n"
	             "  - { id: p, scope: part, books: yes, form: yes_no, label: L }\n"
	             "  - { id: q, scope: premises, at: \"\", form: text, label: L }\n");
	ck_assert(is_for_the_books(SCOPE_PART, "m") && !is_for_the_books(SCOPE_PART, "n"));
	ck_assert(!is_for_the_books(SCOPE_PART, "o") && is_for_the_books(SCOPE_PART, "p"));
	ck_assert_msg(!is_for_the_books(SCOPE_PREMISES, "q"), "who was there, who may agree");
}
END_TEST

START_TEST(what_is_asked_everywhere)
{
	/* Only of points, protections and tests is `everywhere` a question. */
	assert_reads(
	        "questions:\n  - { id: q, scope: part, everywhere: no, form: text, label: L }\n"
	        "  - { id: q, scope: test, form: text, label: L }\n");
	ck_assert_uint_ne(rulebook_question(&book, SCOPE_PART, INDEX_NONE, "", "q", 1),
	                  QUESTION_NONE);
	ck_assert_uint_eq(rulebook_question(&book, SCOPE_TEST, INDEX_NONE, "", "q", 1),
	                  QUESTION_NONE);
}
END_TEST

START_TEST(asking_is_one_row_a_category)
{
	const struct kind *kind;

	assert_reads(KIND_TOP("k") FLUID_TOP
	             "        otherwise: { id: e, category: ask, by: back_siphonage, " WHY " }\n");
	kind = &book.kind[rulebook_kind(&book, "k", 1)];
	ck_assert_uint_eq(kind->row_count, 5);
	for (unsigned i = 0; i < 5; i++) {
		ck_assert_uint_eq(kind->row[i].category, i + 1);
		ck_assert(kind->row[i].otherwise);
		ck_assert_uint_eq(kind->row[i].when->holds, 1u << i);
		ck_assert_uint_eq(kind->row[i].by, 1 << BACK_SIPHONAGE);
	}
	ck_assert_uint_eq(kind->question_count, 1);
	ck_assert_uint_eq(kind->question[0], kind->row[0].when->question);
}
END_TEST

START_TEST(a_series_names_types)
{
	const struct type *type;

	assert_reads(
	        TYPE_TOP GOOD
	        "    questions: [ { id: shut_below, form: yes_no, label: L } ]\n"
	        "    shuts_downstream: shut_below\n"
	        "    series: [ { id: s, with: T, counts_as: gap, when: { shut_below: no }, " WHY
	        " } ]\n");
	type = &book.type[rulebook_type(&book, "T", 1)];
	ck_assert(type->device);
	ck_assert_uint_eq(type->good_for[BACK_PRESSURE], 2);
	ck_assert_str_eq(book.question[type->shuts_downstream].id, "shut_below");
	ck_assert_uint_eq(type->series_count, 1);
	ck_assert_uint_eq(type->series[0].with, rulebook_type(&book, "T", 1));
	ck_assert_uint_eq(type->series[0].counts_as, rulebook_type(&book, "gap", 3));
}
END_TEST

/* -- overlays -------------------------------------------------------------------------------- */

START_TEST(an_overlay_replaces_a_row)
{
	const struct row *row;

	assert_reads("rows:\n  - { kind: tap, fluid: sink, id: tap_moves, category: 4, by: "
	             "back_pressure, " WHY " }\n");
	row = kind_row("tap", "tap_moves");
	ck_assert_uint_eq(row->category, 4);
	ck_assert_str_eq(row->text->name, "over.yaml");
	ck_assert_uint_eq(book.kind[0].row_count, 3);
	ck_assert_msg(kind_row("tap", "tap_high")->replaces == (int)(row - book.kind[0].row),
	              "found again by its id");
}
END_TEST

START_TEST(an_overlay_replaces_a_row_by_its_earlier_id)
{
	assert_reads("rows:\n  - { kind: tap, fluid: sink, id: tap_swings, category: 4, by: "
	             "back_pressure, was: [tap_moves],\n"
	             "      " WHY " }\n");
	ck_assert_ptr_null(kind_row("tap", "tap_moves"));
	ck_assert_uint_eq(kind_row("tap", "tap_swings")->category, 4);
	ck_assert_uint_eq(book.kind[0].row_count, 3);
}
END_TEST

START_TEST(an_otherwise_stays_one)
{
	assert_reads("rows:\n  - { kind: tap, fluid: sink, id: tap_else, category: 2, by: "
	             "back_pressure, " WHY " }\n");
	ck_assert(kind_row("tap", "tap_else")->otherwise);
	ck_assert_uint_eq(kind_row("tap", "tap_else")->category, 2);
}
END_TEST

START_TEST(an_overlay_adds_and_drops)
{
	assert_reads("drop: [ tap_high, gap_old, bad ]\nrows:\n  - { kind: tap, id: new, opens: "
	             "yes, urgency: days, " WHY " }\n"
	             "  - { type: gap, id: gap_new, accepted: none, " WHY " }\n");
	ck_assert_ptr_null(kind_row("tap", "tap_high"));
	ck_assert_int_eq(kind_row("tap", "new")->fluid, ROW_NONE);
	ck_assert(kind_row("tap", "new")->opens);
	ck_assert_int_eq(kind_row("tap", "new")->urgency, URGENCY_DAYS);
	ck_assert_uint_eq(book.type[0].row_count, 2);
	ck_assert_str_eq(book.type[0].row[1].id, "gap_new");
	ck_assert_uint_eq(book.type[0].row[1].accepted[BACK_PRESSURE], CATEGORY_LEAST);
	ck_assert_uint_eq(book.urgency_count, 1);
}
END_TEST

START_TEST(an_overlay_replaces_a_kind_and_a_question)
{
	assert_reads("questions:\n  - { id: shared, scope: premises, form: yes_no, label: Really? "
	             "}\n" KIND_TOP("tap") FLUID_TOP ELSE);
	ck_assert_uint_eq(book.kind_count, 1);
	ck_assert_str_eq(book.kind[0].name, "N");
	ck_assert_str_eq(book.kind[0].text->name, "over.yaml");
	ck_assert_uint_eq(book.kind[0].row_count, 1);
	ck_assert_str_eq(book.question[0].label, "Really?");
}
END_TEST

#define WITH_WORDS                                                                                 \
	"kinds:\n  - id: k\n    name: N\n    also: [spigot, cock]\n    inlets: [ { id: cold } ]\n"    \
	"    usual: [gap]\n" FLUID_TOP ELSE

START_TEST(a_kind_has_other_words_and_usual_types)
{
	uint16_t k;

	assert_reads(WITH_WORDS);
	k = rulebook_kind(&book, "k", 1);
	ck_assert_uint_eq(book.kind[k].also_count, 2);
	ck_assert_str_eq(book.kind[k].also[1], "cock");
	ck_assert_uint_eq(book.kind[k].usual_count, 1);
	ck_assert_str_eq(book.type[book.kind[k].usual[0]].id, "gap");
	ck_assert_uint_eq(book.kind[0].also_count + book.kind[0].usual_count, 0);
}
END_TEST

/* Who drops a type need not go through all kinds that it is usual on. */
START_TEST(a_dropped_type_is_not_usual)
{
	uint16_t k;

	assert_reads("drop: [ gap ]\n" WITH_WORDS);
	k = rulebook_kind(&book, "k", 1);
	ck_assert_uint_eq(book.kind[k].usual_count, 0);
}
END_TEST

START_TEST(a_dropped_kind_is_gone)
{
	assert_reads("drop: [ tap, gap ]\n");
	ck_assert_uint_eq(book.kind_count, 0);
	ck_assert_uint_eq(book.type_count, 0);
	ck_assert_uint_eq(rulebook_kind(&book, "tap", 3), INDEX_NONE);
}
END_TEST

/* -- the whole ------------------------------------------------------------------------------- */

START_TEST(the_digest_is_of_the_texts)
{
	struct source one = {"a", "about: x\n", 9}, renamed = {"b", "about: x\n", 9},
	              other = {"a", "about: y\n", 9};
	struct source head = {"a", "about:", 6}, tail = {"a", " x\n", 3};
	const struct source *texts[][2] = {
	        {&one,     NULL },
                {&renamed, NULL },
                {&other,   NULL },
                {&head,    &tail}
        };
	char digest[4][17], hashes[300];
	const struct source many = {"a", hashes, sizeof(hashes)}, *longer = &many;

	for (size_t i = 0; i < 4; i++) {
		rulebook_finish(&book);
		rulebook_read(&book, texts[i], texts[i][1] ? 2 : 1, 0, &faults);
		ck_assert_uint_eq(strlen(book.digest), 16);
		memcpy(digest[i], book.digest, sizeof(digest[i]));
	}
	/* SHA-256 of 09 00 00 00 00 00 00 00 and the nine bytes, worked out by another program */
	ck_assert_str_eq(digest[0], "d109364ea17ba69c");
	ck_assert_str_eq(digest[0], digest[1]);
	ck_assert_str_ne(digest[0], digest[2]);
	ck_assert_str_ne(digest[0], digest[3]);
	memset(hashes, '#', sizeof(hashes));
	rulebook_finish(&book);
	rulebook_read(&book, &longer, 1, 0, &faults);
	ck_assert_str_eq(book.digest, "a338e527cedfaccf");
}
END_TEST

START_TEST(nothing_is_a_book_too)
{
	struct source empty = {"empty.yaml", "", 0}, comment = {"c.yaml", "# nothing\n", 10},
	              dashes = {"d.yaml", "---\n", 4};
	const struct source *texts[] = {&empty, &comment, &dashes};

	ck_assert_msg(rulebook_read(&book, texts, 3, 0, &faults), "%s", all_faults());
	ck_assert_uint_eq(book.kind_count, 0);
	ck_assert_uint_eq(book.known.point_kind, QUESTION_NONE);
}
END_TEST

START_TEST(the_built_in_book_has_no_fault)
{
	size_t count;
	const struct source *builtin = rulebook_builtin(&count), *texts[1000];

	ck_assert_uint_gt(count, 0);
	ck_assert_uint_le(count, 1000);
	for (size_t i = 0; i < count; i++) {
		texts[i] = &builtin[i];
		ck_assert_int_eq(strncmp(builtin[i].name, "rulebook/", 9), 0);
		ck_assert(builtin[i].text[builtin[i].length] == 0);
	}
	ck_assert_msg(rulebook_read(&book, texts, count, date_day(2026, 11, 25), &faults), "%s",
	              all_faults());
	ck_assert_msg(faults.count == 0, "%s", all_faults());
}
END_TEST

START_TEST(built_in_texts_do_not_replace_each_other)
{
	size_t count;
	const struct source *builtin = rulebook_builtin(&count), *texts[2];

	for (size_t i = 0;
	     i < count && strcmp(builtin[i].name, "rulebook/protections/checks.yaml") != 0; i++)
		texts[0] = texts[1] = &builtin[i + 1];
	/* The same text twice: each of its ids is used twice. */
	ck_assert(!rulebook_read(&book, texts, 2, 0, &faults));
	ck_assert_ptr_nonnull(strstr(all_faults(), "is used twice: first in rulebook/"));
}
END_TEST

START_TEST(the_small_book_of_the_tests_has_no_fault)
{
	const struct source *texts[] = {small_book()};

	ck_assert_msg(rulebook_read(&book, texts, 1, date_day(2026, 11, 25), &faults), "%s",
	              all_faults());
	ck_assert_msg(faults.count == 0, "%s", all_faults());
}
END_TEST

/* Every request for memory fails once; none may crash, and none may give a book
 * that is not whole. */
START_TEST(no_memory_is_a_fault)
{
	long left = 0;

	for (long n = 0; left >= -1 && n < 100000; n += 1 + n / 40) {
		bool good;

		rulebook_finish(&book);
		faults_init(&faults, &arena);
		arena_fail_after(n);
		good = read_with(NULL, 0);
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

static Suite *suite(void)
{
	Suite *all = suite_create("rulebook_read");
	TCase *wrong = tcase_create("wrong"), *right = tcase_create("right"),
	      *whole = tcase_create("whole");

	tcase_add_checked_fixture(wrong, setup, teardown);
	tcase_add_loop_test(wrong, a_bad_text_has_its_place, 0,
	                    (int)(sizeof(bad) / sizeof(bad[0])));
	tcase_add_loop_test(wrong, an_unknown_key_is_noticed, 0,
	                    (int)(sizeof(odd) / sizeof(odd[0])));
	tcase_add_loop_test(wrong, sixty_four_options_and_no_more, 0, 2);
	tcase_add_loop_test(wrong, eight_fluids_and_no_more, 0, 2);
	tcase_add_test(wrong, an_own_key_is_left_alone);
	tcase_add_test(wrong, asking_needs_the_schedule);
	suite_add_tcase(all, wrong);
	tcase_add_checked_fixture(right, setup, teardown);
	tcase_add_test(right, a_kind_is_read_whole);
	tcase_add_test(right, a_map_of_tests_is_all_of_them);
	tcase_add_test(right, below_is_what_at_least_is_not);
	tcase_add_test(right, all_any_and_not);
	tcase_add_test(right, the_day_decides_what_is_within);
	tcase_add_test(right, a_type_is_read_whole);
	tcase_add_test(right, what_is_asked_everywhere);
	tcase_add_test(right, what_is_for_the_books);
	tcase_add_test(right, urgency_and_known_questions);
	tcase_add_test(right, asking_is_one_row_a_category);
	tcase_add_test(right, a_series_names_types);
	tcase_add_test(right, an_overlay_replaces_a_row);
	tcase_add_test(right, an_overlay_replaces_a_row_by_its_earlier_id);
	tcase_add_test(right, an_otherwise_stays_one);
	tcase_add_test(right, an_overlay_adds_and_drops);
	tcase_add_test(right, an_overlay_replaces_a_kind_and_a_question);
	tcase_add_test(right, a_kind_has_other_words_and_usual_types);
	tcase_add_test(right, a_dropped_type_is_not_usual);
	tcase_add_test(right, a_dropped_kind_is_gone);
	suite_add_tcase(all, right);
	tcase_add_checked_fixture(whole, setup, teardown);
	tcase_add_test(whole, the_digest_is_of_the_texts);
	tcase_add_test(whole, nothing_is_a_book_too);
	tcase_add_test(whole, the_built_in_book_has_no_fault);
	tcase_add_test(whole, built_in_texts_do_not_replace_each_other);
	tcase_add_test(whole, the_small_book_of_the_tests_has_no_fault);
	tcase_add_test(whole, no_memory_is_a_fault);
	suite_add_tcase(all, whole);
	return all;
}

int main(void)
{
	return suite_run(suite());
}
