/**
 * @file
 * A book of one mixer and one check, made by hand, for test_print.c and test_rules.c: printing must not depend on the
 * readers.
 */
#ifndef TUNDISH_TESTS_PRINT_BOOK_H
#define TUNDISH_TESTS_PRINT_BOOK_H

#include "tundish/print/assessed.h"

#include <string.h>

/* The questions, by index. */
enum {
	Q_ROOM_NAME,
	Q_ROOM_SEEN,
	Q_KIND,
	Q_NAME,
	Q_SEEN,
	Q_COUNT,
	Q_SPOUT,
	Q_HEIGHT,
	Q_HOT,
	Q_TYPE,
	Q_CHECK,
	Q_BOOK_COUNT,
};

static struct option spouts[] = {
        {"fixed",    "fixed"              },
        {"pull_out", "pulls out on a hose"}
};

static struct question book_question[Q_BOOK_COUNT] = {
        [Q_ROOM_NAME] = {.id = "name",
                         .label = "Name of the room",
                         .at = "",
                         .scope = SCOPE_ROOM,
                         .form = FORM_TEXT                                                                       },
        [Q_ROOM_SEEN] =
                {.id = "seen",        .label = "Seen?", .at = "", .scope = SCOPE_ROOM,  .form = FORM_TEXT},
        [Q_KIND] = {.id = "kind",
                         .label = "What is it?",
                         .at = "",
                         .scope = SCOPE_POINT,
                         .form = FORM_KIND                                                                       },
        [Q_NAME] = {.id = "name",
                         .label = "Name or place",
                         .at = "",
                         .scope = SCOPE_POINT,
                         .form = FORM_TEXT                                                                       },
        [Q_SEEN] =
                {.id = "seen",        .label = "Seen?", .at = "", .scope = SCOPE_POINT, .form = FORM_TEXT},
        [Q_COUNT] = {.id = "count",
                         .label = "How many?",
                         .at = "",
                         .scope = SCOPE_POINT,
                         .form = FORM_NUMBER                                                                     },
        [Q_SPOUT] = {.id = "spout",
                         .label = "What kind of spout?",
                         .hint = "Pull at it.",
                         .at = "answers",
                         .scope = SCOPE_POINT,
                         .form = FORM_CHOICE,
                         .cannot_tell = true,
                         .option = spouts,
                         .option_count = 2},
        [Q_HEIGHT] = {.id = "outlet_height_mm",
                         .label = "How high is the outlet over the rim?",
                         .at = "answers",
                         .scope = SCOPE_POINT,
                         .form = FORM_NUMBER,
                         .unit = "mm",
                         .most = 2000},
        [Q_HOT] = {.id = "hot",
                         .label = "Hot water?",
                         .at = "supply",
                         .scope = SCOPE_PREMISES,
                         .form = FORM_TEXT                                                                            },
        [Q_TYPE] = {.id = "type",
                         .label = "What type?",
                         .at = "",
                         .scope = SCOPE_PROTECTION,
                         .form = FORM_TYPE                                                                       },
        [Q_CHECK] = {.id = "check",
                         .label = "Does the check hold?",
                         .at = "",
                         .scope = SCOPE_PROTECTION,
                         .form = FORM_YES_NO                                                                       },
};

static struct condition height_low = {
        .form = CONDITION_TEST, .question = Q_HEIGHT, .threshold = THRESHOLD_BELOW, .bound = 25};
static struct condition spout_moves = {
        .form = CONDITION_TEST, .question = Q_SPOUT, .holds = 1u << 1, .next = &height_low};
static struct condition either = {.form = CONDITION_ANY, .child = &spout_moves};
static struct condition check_fails = {
        .form = CONDITION_TEST, .question = Q_CHECK, .holds = 1u << CELL_NO};

static const char *earlier[] = {"mixer_old"};

static struct row mixer_rows[] = {
        {.id = "mixer_sink",
         .was = earlier,
         .was_count = 1,
         .says = "Water in the sink can touch a spout that reaches below the rim.",
         .source_text = "Table of the test book, line 1",
         .standing = STANDING_PUBLISHED,
         .when = &either,
         .category = 5,
         .by = 1u << BACK_SIPHONAGE,
         .inlets = 3,
         .replaces = ROW_NONE},
        {.id = "mixer_crossflow",
         .says = "Hot and cold meet in the body.",
         .source_text = "no source",
         .standing = STANDING_COMMON_PRACTICE,
         .fluid = 1,
         .category = 2,
         .by = 1u << BACK_PRESSURE,
         .inlets = 1,
         .otherwise = true,
         .replaces = ROW_NONE},
};

static struct row check_rows[] = {
        {.id = "eb_fails",
         .says = "A check that does not hold stops nothing.",
         .source_text = "no source",
         .standing = STANDING_COMMON_PRACTICE,
         .when = &check_fails,
         .fluid = ROW_NONE,
         .good_for = {5, 5},
         .accepted = {5, 5},
         .found = {1, 1},
         .replaces = ROW_NONE},
};

static question_index mixer_questions[] = {Q_SPOUT, Q_HEIGHT};
static question_index check_questions[] = {Q_CHECK};
static question_index room_questions[] = {Q_ROOM_NAME, Q_ROOM_SEEN};
static question_index point_questions[] = {Q_KIND, Q_NAME, Q_SEEN, Q_COUNT};
static question_index premises_questions[] = {Q_HOT};
static question_index protection_questions[] = {Q_TYPE};

static const char *mixer_also[] = {"monobloc", "sink tap"};
static uint16_t mixer_usual[] = {0};

static struct kind book_kind[] = {
        {.id = "kitchen_mixer",
         .name = "Kitchen mixer",
         .also = mixer_also,
         .also_count = 2,
         .usual = mixer_usual,
         .usual_count = 1,
         .where = "Kitchen",
         .draw_off = true,
         .inlet = {{"cold", "cold", false}, {"hot", "hot", false}},
         .inlet_count = 2,
         .fluid = {{"sink_water", "water from the sink", {0, 0}},
                   {"crossflow", "the other side's water", {0, 0}}},
         .fluid_count = 2,
         .question = mixer_questions,
         .question_count = 2,
         .row = mixer_rows,
         .row_count = 2}
};

static struct type book_type[] = {
        {.id = "EB",
         .name = "Single check valve",
         .device = true,
         .good_for = {2, 2},
         .source_text = "Table of the test book, line 2",
         .standing = STANDING_MEMORY,
         .tell = "One body, one arrow.",
         .shuts_downstream = QUESTION_NONE,
         .question = check_questions,
         .question_count = 1,
         .row = check_rows,
         .row_count = 1}
};

/* Ready to use; finish with rulebook_finish. */
static bool test_book(struct rulebook *book)
{
	struct faults faults;

	*book = (struct rulebook){.question = book_question,
	                          .question_count = Q_BOOK_COUNT,
	                          .kind = book_kind,
	                          .kind_count = 1,
	                          .type = book_type,
	                          .type_count = 1,
	                          .digest = "3f9c0a1e5b6d7788"};
	memset(&book->known, 0xff, sizeof(book->known)); /* QUESTION_NONE each */
	book->known.room_name = Q_ROOM_NAME;
	book->known.room_seen = Q_ROOM_SEEN;
	book->known.point_kind = Q_KIND;
	book->known.point_name = Q_NAME;
	book->known.point_seen = Q_SEEN;
	book->known.point_count = Q_COUNT;
	book->known.protection_type = Q_TYPE;
	book->scope_question[SCOPE_ROOM] = room_questions;
	book->scope_question_count[SCOPE_ROOM] = 2;
	book->scope_question[SCOPE_POINT] = point_questions;
	book->scope_question_count[SCOPE_POINT] = 4;
	book->scope_question[SCOPE_PREMISES] = premises_questions;
	book->scope_question_count[SCOPE_PREMISES] = 1;
	book->scope_question[SCOPE_PROTECTION] = protection_questions;
	book->scope_question_count[SCOPE_PROTECTION] = 1;
	book->on = date_day(2026, 11, 25);
	faults_init(&faults, &book->arena);
	return rulebook_settle(book, &faults);
}

#endif
