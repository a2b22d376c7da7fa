/* Houses whose figures were worked out with a pencil from docs/assessment.md and tests/rulebook/small.yaml. */
#include "tundish/base/sink.h"
#include "tundish/house/verdict.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	ON = 20782, /* 2026-11-25 */
	LINES_MOST = 6,
};

/*
 * `house` is what stands in the survey after the premises sheet; P1 is judged. Each line of `says` is a line of what
 * comes out; one with `!` before it is no beginning of any.
 */
struct hand_case {
	const char *title, *parts, *house;
	const char *says[LINES_MOST];
};

#define FLAT          "{ ref: flat, use: house }"
#define FLAT_AND_SHOP "{ ref: flat, use: house }, { ref: shop, use: office }"

/* clang-format off */
/* An outside tap at a house, for watering: 3 by back-siphonage, nothing by back pressure. */
#define WATERING "answers: { used_for: watering, raised: no, hose_lies_in: no }"
#define ROOM(points)                                                                               \
	"rooms: [ { ref: yard, part: flat, points: [ " points " ] } ]\n"
#define TAP(inlets) "{ ref: P1, kind: outside_tap, inlets: { cold: { " inlets " } }, " WATERING " }"
#define SOUND_ED(ref) "{ ref: " ref ", type: ED, mark: yes, checks: sound, fitted: 2024 }"
#define SOUND_EB(ref) "{ ref: " ref ", type: EB, check: sound }"
#define KEPT_GAP(ref) "{ ref: " ref ", type: AUK3, outlet_height_mm: 60, bore_mm: 15, thread: no }"
#define KITCHEN(ref, pipe)                                                                         \
	"{ ref: " ref ", kind: kitchen_mixer, inlets: { cold: { fed_by: " pipe                     \
	", protection: nothing }, hot: { fed_by: " pipe ", protection: nothing } } }"
#define CISTERN(inlet)                                                                             \
	"{ ref: L1, kind: cistern, inlets: { inlet: { " inlet " } }, answers: { lid: yes, water: " \
	"clean, water_c: 10, overflow_ends: in_sight } }"

static const struct hand_case cases[] = {
        /* -- what stands in the way -- */
        {"EB and ED: the better of the two counts",
         FLAT, ROOM(TAP("fed_by: main, protection: [ " SOUND_EB("a") ", " SOUND_ED("b") " ]")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0",
          "hose_water cold back_siphonage to main: needs 3..3, good for 3..3, accepted 3..3, found "
          "3..3"}},
        {"EB and EB: two of these are still not a double check",
         FLAT, ROOM(TAP("fed_by: main, protection: [ " SOUND_EB("a") ", " SOUND_EB("b") " ]")),
         {"P1 short, next_job, category 3..3, on paper 1..1, in fact 1..1",
          "hose_water cold back_siphonage to main: needs 3..3, good for 2..2, accepted 2..2, found "
          "2..2"}},
        {"EA and EA close together count as EC",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: EA }, { ref: b, type: EA, close_to_next: yes } ]")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0"}},
        {"EA and EA apart do not",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: EA }, { ref: b, type: EA, close_to_next: no } ]")),
         {"P1 short, next_job, category 3..3, on paper 1..1, in fact 1..1"}},
        {"EA and EA with a valve between them do not stand straight after one another",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: EA }, { ref: v, type: plain_valve }, { ref: b, type: EA, "
                        "close_to_next: yes } ]")),
         {"P1 short, next_job, category 3..3, on paper 1..1, in fact 1..1"}},
        {"what stands before a pair does not break it up",
         FLAT, ROOM(TAP("fed_by: main, protection: [ " SOUND_EB("e") ", { ref: a, type: EA }, { ref: b, type: EA, "
                        "close_to_next: yes } ]")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0"}},
        {"of three the first two are a pair, the third is by itself",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: EA }, { ref: b, type: EA, close_to_next: no }, { ref: c, "
                        "type: EA, close_to_next: yes } ]")),
         {"P1 short, next_job, category 3..3, on paper 1..1, in fact 1..1"}},
        {"nothing fitted",
         FLAT, ROOM(TAP("fed_by: main, protection: nothing")),
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2",
          "hose_water cold back_siphonage to main: needs 3..3, good for 1..1, accepted 1..1, found "
          "1..1"}},
        {"one of two checks taken out: short in fact only",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: ED, mark: yes, checks: one_removed, fitted: 2024 } ]")),
         {"P1 short, next_job, category 3..3, on paper 0..0, in fact 1..1",
          "hose_water cold back_siphonage to main: needs 3..3, good for 3..3, accepted 3..3, found "
          "2..2"}},
        {"no mark: short on paper only",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: ED, mark: no, checks: sound, fitted: 2024 } ]")),
         {"P1 short, next_job, category 3..3, on paper 2..2, in fact 0..0",
          "hose_water cold back_siphonage to main: needs 3..3, good for 3..3, accepted 1..1, found "
          "3..3", "!lawful"}},
        {"the same in work of before July 1999 is lawful old work",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: outside_tap, installed: before_july_1999, inlets: { "
         "cold: { fed_by: main, protection: [ { ref: a, type: ED, mark: no, checks: sound, fitted: 2024 } ] } }, " WATERING
         " } ] } ]\n",
         {"P1 short, next_job, category 3..3, on paper 2..2, in fact 0..0", "lawful old work"}},
        {"over ten years old: right type, right place, nobody can say",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: ED, mark: yes, checks: sound, fitted: 2014 } ]")),
         {"P1 unproven, watch, category 3..3, on paper 0..0, in fact 0..0", "due"}},
        {"its year is the one in which it turns ten: it could be either",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: ED, mark: yes, checks: sound, fitted: 2016 } ]")),
         {"P1 unproven, watch, category 3..3, on paper 0..0, in fact 0..0", "!ask"}},
        {"a gap that is measured, and kept",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: AUK3, outlet_height_mm: 25, bore_mm: 12.5, thread: no } ]")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0"}},
        {"a gap of which the bore is not known: it could be lost",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: AUK3, outlet_height_mm: 30, thread: no } ]")),
         {"P1 undecided, none, category 3..3, on paper 0..2, in fact 0..2", "ask bore_mm of a",
          "!ask outlet_height_mm"}},
        {"a gap too small for any bore",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: AUK3, outlet_height_mm: 19, thread: no } ]")),
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2", "!ask bore_mm"}},
        {"a valve after a DB: it can't let air in",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: DB, valve_after: no, height_mm: 400 }, { ref: v, type: "
                        "plain_valve } ]")),
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2"}},
        {"a valve before a DB does it no harm",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: v, type: plain_valve }, { ref: a, type: DB, valve_after: no, "
                        "height_mm: 300 } ]")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0",
          "hose_water cold back_siphonage to main: needs 3..3, good for 4..4, accepted 4..4, found "
          "4..4"}},
        {"something of no known type after a DB might shut",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: DB, valve_after: no, height_mm: 300 }, { ref: u, type: "
                        "cannot_tell } ]")),
         {"P1 unproven, none, category 3..3, on paper 0..2, in fact 0..2",
          "hose_water cold back_siphonage to main: needs 3..3, good for 1..5, accepted 1..5, found "
          "1..5"}},
        {"a BA with no test on record could be worth nothing",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: BA, consent: yes } ]")),
         {"P1 undecided, none, category 3..3, on paper 0..2, in fact 0..2", "ask relief_opens_mbar of a"}},
        {"of a BA's tests the latest counts, wherever it stands",
         FLAT, ROOM(TAP("fed_by: main, protection: [ { ref: a, type: BA, consent: yes, tests: [ { ref: t1, date: 2026-05, "
                        "relief_opens_mbar: 150 }, { ref: t2, date: 2025-05, relief_opens_mbar: 100 } ] } ]")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0"}},

        /* -- ways -- */
        {"a device for the whole site never counts",
         FLAT, "supply: { supply_shared: no, protection: [ { ref: w, type: BA, consent: yes, tests: [ { ref: wt, date: 2026-05, "
               "relief_opens_mbar: 150 } ] } ] }\n" ROOM(TAP("fed_by: main, protection: nothing")),
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2"}},
        {"a zone's device does not protect who drinks in the zone",
         FLAT, "branches: [ { ref: garden, from: main, protection: [ " SOUND_ED("z") " ] } ]\n"
               ROOM(TAP("fed_by: garden, protection: nothing") ", " KITCHEN("K1", "garden")),
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2",
          "hose_water cold back_siphonage to K1: needs 3..3, good for 1..1, accepted 1..1, found "
          "1..1",
          "hose_water cold back_siphonage to main: needs 3..3, good for 3..3, accepted 3..3, found "
          "3..3"}},
        {"who drinks further up the pipe is protected by it",
         FLAT, "branches: [ { ref: garden, from: main, protection: [ " SOUND_ED("z") " ] } ]\n"
               ROOM(TAP("fed_by: garden, protection: nothing") ", " KITCHEN("K1", "main")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0",
          "hose_water cold back_siphonage to K1: needs 3..3, good for 3..3, accepted 3..3, found "
          "3..3"}},
        {"who drinks further down the pipe is met in it",
         FLAT, "branches: [ { ref: garden, from: main, protection: [ " SOUND_ED("z") " ] }, { ref: shed, from: garden, protection: [ "
               SOUND_ED("y") " ] } ]\n" ROOM(TAP("fed_by: garden, protection: nothing") ", " KITCHEN("K1", "shed")),
         {"hose_water cold back_siphonage to K1: needs 3..3, good for 1..1, accepted 1..1, found "
          "1..1"}},
        {"the gap of a cistern ends the way back to the main",
         FLAT, "branches: [ { ref: loft, from: L1 } ]\n" ROOM(TAP("fed_by: loft, protection: nothing") ", "
               CISTERN("fed_by: main, protection: [ " KEPT_GAP("g") " ]") ", " KITCHEN("K1", "main")),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0",
          "hose_water cold back_siphonage to main: needs 3..3, good for 5..5, accepted 5..5, found "
          "5..5",
          "hose_water cold back_siphonage to K1: needs 3..3, good for 5..5, accepted 5..5, found "
          "5..5"}},
        {"but not to a neighbour on the same distributing pipe",
         FLAT, "branches: [ { ref: loft, from: L1 } ]\n" ROOM(TAP("fed_by: loft, protection: nothing") ", "
               CISTERN("fed_by: main, protection: [ " KEPT_GAP("g") " ]") ", " KITCHEN("K1", "loft")),
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2",
          "hose_water cold back_siphonage to K1: needs 3..3, good for 1..1, accepted 1..1, found "
          "1..1",
          "hose_water cold back_siphonage to main: needs 3..3, good for 5..5, accepted 5..5, found "
          "5..5"}},
        {"a cistern of whose inlet nothing was said could be worth anything",
         FLAT, "branches: [ { ref: loft, from: L1 } ]\n" ROOM(TAP("fed_by: loft, protection: nothing") ", " CISTERN("fed_by: main")),
         {"P1 undecided, none, category 3..3, on paper 0..2, in fact 0..2", "ask what is fitted of inlet"}},
        {"two parts on one supply pipe: each is met",
         FLAT_AND_SHOP, "rooms: [ { ref: yard, part: flat, points: [ " TAP("fed_by: main, protection: [ " SOUND_EB("a") " ]") ", "
                        KITCHEN("K1", "main") " ] }, { ref: back, part: shop, points: [ " KITCHEN("K2", "main") " ] } ]\n",
         {"P1 short, next_job, category 3..3, on paper 1..1, in fact 1..1",
          "hose_water cold back_siphonage to K1: needs 3..3, good for 2..2, accepted 2..2, found "
          "2..2",
          "hose_water cold back_siphonage to shop: needs 3..3, good for 2..2, accepted 2..2, found "
          "2..2",
          "hose_water cold back_siphonage to main: needs 3..3, good for 2..2, accepted 2..2, found "
          "2..2", "!hose_water cold back_siphonage to K2"}},
        {"of a part's draw-offs the first in the file is the place",
         FLAT, "branches: [ { ref: b, from: main } ]\n" ROOM(TAP("fed_by: main, protection: nothing") ", " KITCHEN("K2", "b") ", "
               KITCHEN("K1", "main")),
         {"hose_water cold back_siphonage to K2: needs 3..3, good for 1..1, accepted 1..1, found "
          "1..1", "!hose_water cold back_siphonage to K1"}},
        {"a mixer fed twice: what crosses in it goes up each way by itself",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: kitchen_mixer, inlets: { cold: { fed_by: main, "
         "protection: [ " SOUND_EB("a") " ] }, hot: { fed_by: main, protection: nothing } }, answers: { mixes: in_body, "
         "same_source: no, spout: fixed, hose_in_sink: no } } ] } ]\n",
         {"P1 short, days, category 5..5, on paper 4..4, in fact 4..4",
          "crossflow cold back_pressure to main: needs 2..2, good for 2..2, accepted 2..2, found "
          "2..2",
          "crossflow hot back_pressure to main: needs 2..2, good for 1..1, accepted 1..1, found "
          "1..1",
          "sink_water cold back_siphonage to main: needs 5..5, good for 2..2, accepted 2..2, found "
          "2..2", "!sink_water cold back_pressure"}},
        {"the need that is shown is that of what is short in fact",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: kitchen_mixer, inlets: { cold: { fed_by: main, "
         "protection: [ { ref: a, type: AUK3, outlet_height_mm: 60, bore_mm: 15, thread: yes } ] }, hot: { fed_by: main, "
         "protection: [ { ref: b, type: AUK3, outlet_height_mm: 60, bore_mm: 15, thread: yes } ] } }, answers: { mixes: in_body, "
         "same_source: no, spout: fixed, hose_in_sink: no } } ] } ]\n",
         {"P1 short, next_job, category 5..5, on paper 4..4, in fact 1..1"}},
        {"what comes in by the waste side goes to who draws from the cistern",
         FLAT, "branches: [ { ref: loft, from: P1 } ]\nrooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: cistern, inlets: { "
         "inlet: { fed_by: main, protection: [ " KEPT_GAP("g") " ] }, overflow: { protection: nothing } }, answers: { lid: yes, water: "
         "clean, water_c: 10, overflow_ends: in_drain } }, " KITCHEN("K1", "loft") ", " KITCHEN("K2", "main") " ] } ]\n",
         {"P1 short, days, category 5..5, on paper 4..4, in fact 4..4",
          "drain_water overflow back_pressure to K1: needs 5..5, good for 1..1, accepted 1..1, found "
          "1..1",
          "stored_water inlet back_siphonage to main: needs 3..3, good for 5..5, accepted 5..5, found "
          "5..5", "!drain_water overflow back_pressure to main", "!drain_water overflow back_pressure to K2"}},
        {"where nobody draws from it, it counts to the main",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: cistern, inlets: { inlet: { fed_by: main, protection: [ "
         KEPT_GAP("g") " ] }, overflow: { protection: nothing } }, answers: { lid: yes, water: clean, water_c: 10, overflow_ends: "
         "in_drain } } ] } ]\n",
         {"drain_water overflow back_pressure to main: needs 5..5, good for 1..1, accepted 1..1, found "
          "1..1"}},

        /* -- what is not known -- */
        {"which pipe feeds it was not said",
         FLAT, "branches: [ { ref: garden, from: main, protection: [ " SOUND_ED("z") " ] } ]\n" ROOM(TAP("protection: nothing")),
         {"P1 undecided, none, category 3..3, on paper 0..2, in fact 0..2", "ask fed_by of cold",
          "hose_water cold back_siphonage to main: needs 3..3, good for 1..3, accepted 1..3, found "
          "1..3"}},
        {"one of two pipes, and nobody can say which: the worst counts",
         FLAT, "branches: [ { ref: garden, from: main, protection: [ " SOUND_ED("z") " ] } ]\n"
               ROOM(TAP("fed_by: [main, garden], protection: nothing")),
         {"P1 short, days, category 3..3, on paper 0..2, in fact 0..2", "!ask"}},
        {"two pipes that make no difference are no question",
         FLAT, "branches: [ { ref: garden, from: main } ]\n" ROOM(TAP("protection: nothing")),
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2", "!ask"}},
        {"nothing was said of the inlet",
         FLAT, ROOM(TAP("fed_by: main")),
         {"P1 undecided, none, category 3..3, on paper 0..2, in fact 0..2", "ask what is fitted of cold"}},
        {"it can't be told what is fitted: worth nothing on paper, and not certainly short",
         FLAT, ROOM(TAP("fed_by: main, protection: cannot_tell")),
         {"P1 not_seen, days, category 3..3, on paper 2..2, in fact 0..2", "!ask",
          "hose_water cold back_siphonage to main: needs 3..3, good for 1..5, accepted 1..1, found "
          "1..5"}},
        {"what it is used for was not said",
         FLAT, ROOM("{ ref: P1, kind: outside_tap, inlets: { cold: { fed_by: main, protection: nothing } }, answers: { raised: no, "
                    "hose_lies_in: no } }"),
         {"P1 undecided, none, category 1..5, on paper 0..4, in fact 0..4", "ask used_for of P1", "ask schedule_category of P1"}},
        {"what it is used for can't be told: the worst counts",
         FLAT, ROOM("{ ref: P1, kind: outside_tap, inlets: { cold: { fed_by: main, protection: nothing } }, answers: { used_for: "
                    "cannot_tell, gap_and_trigger: no, schedule_category: cannot_tell, raised: no, hose_lies_in: no } }"),
         {"P1 short, days, category 1..5, on paper 0..4, in fact 0..4", "!ask"}},
        {"whose house it is was not said",
         FLAT_AND_SHOP, "rooms: [ { ref: yard, points: [ " TAP("fed_by: main, protection: [ " SOUND_ED("a") " ]") " ] } ]\n",
         {"P1 undecided, none, category 3..5, on paper 0..2, in fact 0..2", "ask part of yard"}},

        /* -- seen, decided, and how soon -- */
        {"not seen: nothing is asked, and nothing is certain",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: outside_tap, seen: no } ] } ]\n",
         {"P1 not_seen, days, category 1..5, on paper 0..4, in fact 0..4", "!ask"}},
        {"not seen, but what somebody said of it is short in any case",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: outside_tap, seen: no, inlets: { cold: { fed_by: main, "
               "protection: nothing } }, " WATERING " } ] } ]\n",
         {"P1 short, days, category 3..3, on paper 2..2, in fact 2..2"}},
        {"its room was not seen, but it says of itself that it was",
         FLAT, "rooms: [ { ref: yard, part: flat, seen: no, points: [ { ref: P1, kind: outside_tap, seen: yes, inlets: { cold: { "
               "fed_by: main, protection: [ " SOUND_ED("a") " ] } }, " WATERING " } ] } ]\n",
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0"}},
        {"its room was not seen",
         FLAT, "rooms: [ { ref: yard, part: flat, seen: no, points: [ " TAP("fed_by: main, protection: [ " SOUND_ED("a") " ]")
               " ] } ]\n",
         {"P1 not_seen, watch, category 3..3, on paper 0..0, in fact 0..0"}},
        {"a part of it was seen, and what was seen is right",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1, kind: outside_tap, seen: part, inlets: { cold: { fed_by: "
               "main, protection: [ " SOUND_ED("a") " ] } }, " WATERING " } ] } ]\n",
         {"P1 not_seen, watch, category 3..3, on paper 0..0, in fact 0..0"}},
        {"the undertaker decided for less",
         FLAT, ROOM("{ ref: P1, kind: outside_tap, inlets: { cold: { fed_by: main, protection: [ " SOUND_ED("a") " ] } }, answers: { "
                    "used_for: animals, raised: no, hose_lies_in: no }, undertaker_says: { category: 3, reference: LH/204, date: 2025-02-11 } }"),
         {"P1 protected, none, category 3..3, on paper 0..0, in fact 0..0", "!ask", "!hose_water", "!back_pressure",
          "the undertaker's cold back_siphonage to main: needs 3..3, good for 3..3, accepted 3..3, "
          "found 3..3"}},
        {"without a date it is hearsay",
         FLAT, ROOM("{ ref: P1, kind: outside_tap, inlets: { cold: { fed_by: main, protection: [ " SOUND_ED("a") " ] } }, answers: { "
                    "used_for: animals, raised: no, hose_lies_in: no }, undertaker_says: { category: 3, reference: LH/204 } }"),
         {"P1 short, days, category 5..5, on paper 2..2, in fact 2..2"}},
        {"the hose lies in it now",
         FLAT, ROOM("{ ref: P1, kind: outside_tap, inlets: { cold: { fed_by: main, protection: nothing } }, answers: { used_for: "
                    "animals, raised: no, hose_lies_in: yes } }"),
         {"P1 short, now, category 5..5, on paper 4..4, in fact 4..4"}},
        {"whether it does was not asked yet",
         FLAT, ROOM("{ ref: P1, kind: outside_tap, inlets: { cold: { fed_by: main, protection: nothing } }, answers: { used_for: "
                    "animals, raised: no } }"),
         {"P1 short, days, category 5..5, on paper 4..4, in fact 4..4", "ask hose_lies_in of P1"}},
        {"whether it does can't be told: the worse is taken",
         FLAT, ROOM("{ ref: P1, kind: outside_tap, inlets: { cold: { fed_by: main, protection: nothing } }, answers: { used_for: "
                    "animals, raised: no, hose_lies_in: cannot_tell } }"),
         {"P1 short, now, category 5..5, on paper 4..4, in fact 4..4", "!ask"}},
        {"somebody else drinks from the supply: one up",
         FLAT, "supply: { supply_shared: yes }\n" ROOM(TAP("fed_by: main, protection: [ " SOUND_EB("a") " ]")),
         {"P1 short, days, category 3..3, on paper 1..1, in fact 1..1"}},
        {"not yet said what it is",
         FLAT, "rooms: [ { ref: yard, part: flat, points: [ { ref: P1 } ] } ]\n",
         {"P1 undecided, none, category 1..5, on paper 0..4, in fact 0..4", "ask kind of P1"}},
};

/* clang-format on */

/* -- what comes out, in lines ------------------------------------------------------------------ */

static struct rulebook book;
static struct arena arena;

static void read_book(void)
{
	const struct source *only = small_book();
	struct faults faults;

	arena_init(&arena);
	faults_init(&faults, &arena);
	ck_assert(rulebook_read(&book, &only, 1, ON, &faults));
}

static void finish_book(void)
{
	rulebook_finish(&book);
	arena_finish(&arena);
}

static void print_range(struct sink *out, const char *what, struct range range)
{
	sink_print(out, "%s %d..%d", what, range.least, range.most);
}

static void print_path(struct sink *out, const struct kind *kind, const struct path *path)
{
	sink_print(out, "%s %s %s to %s",
	           path->fluid == FLUID_UNDERTAKER ? "the undertaker's"
	                                           : kind->fluid[path->fluid].id,
	           kind->inlet[path->inlet_index].id, mechanism_name(path->mechanism), path->to);
	print_range(out, ": needs", path->needs);
	print_range(out, ", good for", path->good_for);
	print_range(out, ", accepted", path->accepted);
	print_range(out, ", found", path->found);
	sink_text(out, "\n");
}

static void print_assessment(struct sink *out, const struct assessment *assessment)
{
	const struct item *point = assessment->point;

	sink_print(out, "%s %s, %s", point->ref, verdict_name(assessment->verdict),
	           urgency_name(assessment->urgency));
	print_range(out, ", category", assessment->category);
	print_range(out, ", on paper", assessment->on_paper);
	print_range(out, ", in fact", assessment->in_fact);
	sink_text(out, "\n");
	for (size_t i = 0; i < assessment->path_count; i++)
		print_path(out, &book.kind[point->of], &assessment->path[i]);
	for (size_t i = 0; i < assessment->ask_count; i++)
		sink_print(out, "ask %s of %s\n",
		           assessment->ask[i].question == QUESTION_NONE
		                   ? "what is fitted"
		                   : book.question[assessment->ask[i].question].id,
		           assessment->ask[i].item->ref);
	if (assessment->lawful_old)
		sink_text(out, "lawful old work\n");
	if (assessment->due)
		sink_text(out, "due\n");
}

static const char *survey_text(const struct hand_case *hand)
{
	bool sheet = strncmp(hand->house, "supply:", 7) == 0;

	return arena_print(&arena, "tundish: 1\npremises: { ref: x, parts: [ %s ] }\n%s%s",
	                   hand->parts, sheet ? "" : "supply: { supply_shared: no }\n",
	                   hand->house);
}

static char *judge_text(const struct hand_case *hand, struct sink *out)
{
	const char *text = survey_text(hand);
	struct source source = {"survey.yaml", text, strlen(text)};
	struct survey survey = {0};
	struct faults faults;
	struct assessment assessment;
	struct err err = {0};
	struct judge *judge = judge_create(&book);

	faults_init(&faults, &arena);
	ck_assert_msg(survey_read(&survey, &book, &source, &faults), "%s: %s", hand->title,
	              faults.count ? fault_text(&faults.item[0], &arena) : "");
	ck_assert(judge && judge_survey(judge, &survey, NULL));
	ck_assert(judge_point(judge, survey_find(&survey, "P1", 2), &assessment, &err));
	sink_to_memory(out);
	print_assessment(out, &assessment);
	judge_destroy(judge);
	survey_finish(&survey);
	return out->bytes;
}

/* Whether a line is there: the whole, or one that begins so. */
static bool has_line(const char *text, const char *line, bool whole)
{
	size_t length = strlen(line);

	for (; *text; text += strcspn(text, "\n") + 1)
		if (strncmp(text, line, length) == 0 && (!whole || text[length] == '\n'))
			return true;
	return false;
}

START_TEST(as_worked_out_by_hand)
{
	const struct hand_case *hand = &cases[_i];
	struct sink out;
	const char *text = judge_text(hand, &out);

	for (size_t i = 0; i < LINES_MOST && hand->says[i]; i++) {
		const char *line = hand->says[i];

		if (line[0] == '!')
			ck_assert_msg(!has_line(text, line + 1, false), "%s: not \"%s\" in\n%s",
			              hand->title, line + 1, text);
		else
			ck_assert_msg(has_line(text, line, true), "%s: \"%s\" in\n%s", hand->title,
			              line, text);
	}
	sink_finish(&out);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("judge_by_hand");
	TCase *by_hand = tcase_create("by_hand");

	tcase_add_unchecked_fixture(by_hand, read_book, finish_book);
	tcase_add_loop_test(by_hand, as_worked_out_by_hand, 0, (int)(sizeof cases / sizeof *cases));
	suite_add_tcase(s, by_hand);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
