#include "tundish/assess/survey.h"

#include "../src/base/arena_test.h"
#include "random_change.h"
#include "suite.h"

#include <check.h>
#include <stdlib.h>

/* -- a rulebook of a few questions ---------------------------------------------------- */

enum {
	Q_NAME_OF_PREMISES,
	Q_PRESSURE,
	Q_SHARED,
	Q_PART_USE,
	Q_BRANCH_FROM,
	Q_BRANCH_PART,
	Q_ROOM_PART,
	Q_KIND,
	Q_POINT_NAME,
	Q_INSTALLED,
	Q_SAYS,
	Q_SPOUT,
	Q_HEIGHT,
	Q_GAP,
	Q_WC_LEVER,
	Q_FED_BY,
	Q_TYPE,
	Q_FITTED,
	Q_ED_MARK,
	Q_TEST_DATE,
	Q_RELIEF,
	Q_TOLD,
	Q_COUNT,
};

static struct option spouts[] = {
        {"fixed",      "fixed"     },
        {"pull_out",   "pulls out" },
        {"folds_down", "folds down"}
};
static struct option uses[] = {
        {"house", "house"},
        {"yes",   "yes"  },
        {"no",    "no"   }
};
static struct option categories[] = {
        {"1", "1"},
        {"2", "2"},
        {"3", "3"}
};
static struct option levers[] = {
        {"lever",  "lever" },
        {"button", "button"}
};
static struct term gap_right[] = {
        {1, Q_HEIGHT}
};
static struct measure gap = {
        {20, QUESTION_NONE},
        gap_right, 1
};

/* clang-format off */
static const struct question questions[Q_COUNT] = {
	[Q_NAME_OF_PREMISES] = {.id = "name", .at = "premises", .scope = SCOPE_PREMISES, .form = FORM_TEXT},
	[Q_PRESSURE] = {.id = "static_pressure_kpa", .at = "supply", .scope = SCOPE_PREMISES, .form = FORM_NUMBER,
	                .unit = "kpa", .least = 0, .most = 1600, .cannot_tell = true, .label = "Standing pressure"},
	[Q_SHARED] = {.id = "shared", .at = "supply", .scope = SCOPE_PREMISES, .form = FORM_YES_NO, .cannot_tell = true,
	              .label = "Shared?"},
	[Q_PART_USE] = {.id = "use", .at = "", .scope = SCOPE_PART, .form = FORM_CHOICE, .option = uses, .option_count = 3},
	[Q_BRANCH_FROM] = {.id = "from", .at = "", .scope = SCOPE_BRANCH, .form = FORM_FEED, .cannot_tell = true},
	[Q_BRANCH_PART] = {.id = "part", .at = "", .scope = SCOPE_BRANCH, .form = FORM_PART},
	[Q_ROOM_PART] = {.id = "part", .at = "", .scope = SCOPE_ROOM, .form = FORM_PART},
	[Q_KIND] = {.id = "kind", .at = "", .scope = SCOPE_POINT, .form = FORM_KIND, .label = "What is it?"},
	[Q_POINT_NAME] = {.id = "name", .at = "", .scope = SCOPE_POINT, .form = FORM_TEXT},
	[Q_INSTALLED] = {.id = "installed", .at = "", .scope = SCOPE_POINT, .form = FORM_DATE, .cannot_tell = true},
	[Q_SAYS] = {.id = "category", .at = "undertaker_says", .scope = SCOPE_POINT, .form = FORM_CHOICE,
	            .option = categories, .option_count = 3},
	[Q_SPOUT] = {.id = "spout", .at = "answers", .scope = SCOPE_POINT, .form = FORM_CHOICE, .option = spouts,
	             .option_count = 3, .cannot_tell = true, .label = "What spout?"},
	[Q_HEIGHT] = {.id = "height_mm", .at = "answers", .scope = SCOPE_POINT, .form = FORM_NUMBER, .unit = "mm",
	              .least = 0, .most = 500, .label = "Height"},
	[Q_GAP] = {.id = "gap", .at = "answers", .scope = SCOPE_POINT, .form = FORM_MEASURED, .measure = &gap, .label = "Gap"},
	[Q_WC_LEVER] = {.id = "lever", .at = "answers", .scope = SCOPE_POINT, .form = FORM_CHOICE, .option = levers,
	                .option_count = 2},
	[Q_FED_BY] = {.id = "fed_by", .at = "", .scope = SCOPE_INLET, .form = FORM_FEED, .cannot_tell = true},
	[Q_TYPE] = {.id = "type", .at = "", .scope = SCOPE_PROTECTION, .form = FORM_TYPE, .cannot_tell = true,
	            .label = "What is fitted?"},
	[Q_FITTED] = {.id = "fitted", .at = "", .scope = SCOPE_PROTECTION, .form = FORM_DATE},
	[Q_ED_MARK] = {.id = "mark", .at = "", .scope = SCOPE_PROTECTION, .form = FORM_YES_NO},
	[Q_TEST_DATE] = {.id = "date", .at = "", .scope = SCOPE_TEST, .form = FORM_DATE},
	[Q_RELIEF] = {.id = "relief_mbar", .at = "", .scope = SCOPE_TEST, .form = FORM_NUMBER, .unit = "mbar",
	              .least = 0, .most = 1000},
	[Q_TOLD] = {.id = "told", .at = "", .scope = SCOPE_ACTION, .form = FORM_TEXT},
};
/* clang-format on */

static struct question own_questions[Q_COUNT];
static question_index mixer_asks[] = {Q_SPOUT, Q_HEIGHT, Q_GAP, Q_KIND}, wc_asks[] = {Q_WC_LEVER};
static question_index ed_asks[] = {Q_ED_MARK}, ba_asks[] = {Q_RELIEF};
static struct kind kinds[] = {
        {.id = "mixer",
         .name = "Mixer",
         .inlet = {{.id = "cold"}, {.id = "hot"}},
         .inlet_count = 2,
         .question = mixer_asks,
         .question_count = 4},
        {.id = "wc",
         .name = "WC",
         .inlet = {{.id = "feed"}},
         .inlet_count = 1,
         .question = wc_asks,
         .question_count = 1},
};
static struct type types[] = {
        {.id = "EB"          },
        { .id = "ED", .question = ed_asks, .question_count = 1},
        { .id = "BA", .question = ba_asks, .question_count = 1},
};
static question_index by_scope[SCOPE_COUNT][8];

static struct rulebook book;
static struct arena arena;
static struct survey survey;

static bool of_whole_scope(question_index question)
{
	switch (question) {
	case Q_SPOUT:
	case Q_HEIGHT:
	case Q_GAP:
	case Q_WC_LEVER:
	case Q_ED_MARK:
	case Q_RELIEF:
		return false;
	default:
		return true;
	}
}

static void make_book(void)
{
	struct faults faults;

	memset(&book, 0, sizeof(book));
	arena_init(&book.arena);
	faults_init(&faults, &book.arena);
	book.question = own_questions;
	book.question_count = Q_COUNT;
	for (question_index q = 0; q < Q_COUNT; q++) {
		own_questions[q] = questions[q];
		if (own_questions[q].label == NULL)
			own_questions[q].label = own_questions[q].id;
		if (of_whole_scope(q)) {
			enum scope scope = questions[q].scope;

			book.scope_question[scope] = by_scope[scope];
			by_scope[scope][book.scope_question_count[scope]++] = q;
		}
	}
	book.kind = kinds;
	book.kind_count = sizeof(kinds) / sizeof(kinds[0]);
	book.type = types;
	book.type_count = sizeof(types) / sizeof(types[0]);
	book.known.room_part = Q_ROOM_PART;
	book.known.point_kind = Q_KIND;
	book.known.protection_type = Q_TYPE;
	ck_assert(rulebook_settle(&book, &faults));
}

static void setup(void)
{
	make_book();
	arena_init(&arena);
	ck_assert(survey_init(&survey, &book));
}

static void teardown(void)
{
	survey_finish(&survey);
	arena_finish(&arena);
	arena_finish(&book.arena);
}

static void apply(struct survey *to, const char *where, const char *after)
{
	struct change change = {where, NULL, after};
	struct err err = {0};

	ck_assert_msg(survey_apply(to, &change, &err), "%s: %s", where, err.message);
}

static struct item *find(const char *ref)
{
	return survey_find(&survey, ref, strlen(ref));
}

/* A flat and a salon, a kitchen with a mixer that is fed twice. */
static void furnish(struct survey *to)
{
	static const char *const list[][2] = {
	        {"premises/name",                 "Elm Row 7"      },
	        {"supply/static_pressure_kpa",    "320"            },
	        {"supply/protection/W1",          ""               },
	        {"W1/type",                       "BA"             },
	        {"parts/flat",                    ""               },
	        {"flat/use",                      "house"          },
	        {"parts/salon",                   "flat"           },
	        {"branches/cold",                 ""               },
	        {"cold/from",                     "main"           },
	        {"cold/protection/Z1",            ""               },
	        {"Z1/type",                       "ED"             },
	        {"rooms/kitchen",                 ""               },
	        {"kitchen/part",                  "flat"           },
	        {"rooms/bath",                    "kitchen"        },
	        {"kitchen/points/K1",             ""               },
	        {"K1/kind",                       "mixer"          },
	        {"K1/answers/spout",              "fixed, pull_out"},
	        {"K1/undertaker_says/category",   "3"              },
	        {"K1/inlets/cold",                ""               },
	        {"K1/inlets/cold/fed_by",         "cold"           },
	        {"K1/inlets/cold/protection/K1a", ""               },
	        {"K1a/type",                      "BA"             },
	        {"K1/inlets/cold/protection/K1b", "K1a"            },
	        {"K1a/tests/T1",                  ""               },
	        {"T1/date",                       "2024-05-02"     },
	        {"K1a/tests/T1/relief_mbar",      "150"            },
	        {"K1/inlets/hot",                 "cold"           },
	        {"K1/inlets/hot/protection",      "cannot_tell"    },
	        {"K1/action_taken/A1",            ""               },
	        {"A1/told",                       "the tenant"     },
	        {"kitchen/points/K2",             "K1"             },
	};

	for (size_t i = 0; i < sizeof(list) / sizeof(list[0]); i++)
		apply(to, list[i][0], list[i][1]);
}

static void assert_same(const struct survey *a, const struct survey *b, const char *title)
{
	struct changes changes;

	ck_assert(survey_compare(a, b, &arena, &changes));
	if (changes.count > 0)
		ck_abort_msg("%s: %zu left, first %s: %s -> %s", title, changes.count,
		             changes.item[0].where,
		             changes.item[0].before ? changes.item[0].before : "(none)",
		             changes.item[0].after ? changes.item[0].after : "(none)");
}

/* -- refs and items ------------------------------------------------------------------- */

static const struct {
	const char *title, *ref, *fault;
} refs[] = {
        {"a new one",                    "K3",          NULL            },
        {"of all that it may hold",      "aZ09_-",      NULL            },
        {"of an inlet, which is no ref", "hot",         NULL            },
        {"empty",                        "",            "at least one"  },
        {"with a blank",                 "K 1",         "letters"       },
        {"with a slash",                 "K/1",         "letters"       },
        {"not ASCII",                    "k\xc3\xbc",   "letters"       },
        {"a list of the file",           "rooms",       "meaning"       },
        {"the main",                     "main",        "meaning"       },
        {"an answer to what feeds it",   "cannot_tell", "meaning"       },
        {"in use",                       "K1",          "something else"},
        {"used before",                  "K2",          "taken out"     },
};

START_TEST(refs_are_well_formed_and_never_used_again)
{
	const char *fault;

	furnish(&survey);
	apply(&survey, "kitchen/points/K2", NULL);
	fault = survey_ref_fault(&survey, refs[_i].ref);
	if (refs[_i].fault == NULL)
		ck_assert_msg(fault == NULL, "%s: %s", refs[_i].title, fault);
	else
		ck_assert_msg(fault != NULL && strstr(fault, refs[_i].fault) != NULL, "%s: %s",
		              refs[_i].title, fault ? fault : "no fault");
}
END_TEST

START_TEST(new_ref_is_past_all_that_were_used)
{
	furnish(&survey);
	ck_assert_str_eq(survey_new_ref(&survey, "K", &arena), "K3");
	apply(&survey, "kitchen/points/K2", NULL);
	ck_assert_str_eq(survey_new_ref(&survey, "K", &arena), "K3");
	apply(&survey, "kitchen/points/K9x", "K1");
	ck_assert_str_eq(survey_new_ref(&survey, "K", &arena), "K10");
	ck_assert_str_eq(survey_new_ref(&survey, "K1", &arena), "K11");
	ck_assert_str_eq(survey_new_ref(&survey, "Q", &arena), "Q1");
}
END_TEST

START_TEST(items_are_found_until_they_are_taken_out)
{
	char ref[16];

	furnish(&survey);
	ck_assert_ptr_null(find("hot"));
	ck_assert_ptr_null(find(""));
	ck_assert_ptr_null(survey_find(&survey, "K1a", 1));
	ck_assert_ptr_eq(survey_find(&survey, "K1a/x", 3), find("K1a"));
	apply(&survey, "kitchen/points/K1", NULL);
	ck_assert_ptr_null(find("K1"));
	ck_assert_ptr_null(find("T1"));
	for (int i = 0; i < 500; i++) { /* past the first size of the table */
		snprintf(ref, sizeof(ref), "N%d", i);
		ck_assert_ptr_nonnull(survey_add(&survey, find("kitchen"), SCOPE_POINT, ref, NULL));
	}
	ck_assert_ptr_nonnull(find("N0"));
	ck_assert_ptr_eq(item_child(find("kitchen"), SCOPE_POINT, 500), find("K2"));
	ck_assert_uint_eq(item_children(find("kitchen"), SCOPE_POINT), 501);
	ck_assert_ptr_null(item_child(find("kitchen"), SCOPE_POINT, 501));
	ck_assert_ptr_null(find("K1"));
}
END_TEST

START_TEST(reset_forgets_everything)
{
	furnish(&survey);
	ck_assert(survey_reset(&survey, &book));
	ck_assert_ptr_null(find("K1"));
	ck_assert_ptr_null(survey_ref_fault(&survey, "K1"));
	furnish(&survey);
	ck_assert_ptr_nonnull(find("K1"));
}
END_TEST

static const struct {
	const char *title, *ref, *part;
} parts[] = {
        {"room",             "kitchen", "flat" },
        {"point",            "K1",      "flat" },
        {"protection",       "K1a",     "flat" },
        {"test",             "T1",      "flat" },
        {"no answer",        "bath",    ""     },
        {"a branch without", "cold",    ""     },
        {"on a branch",      "Z1",      ""     },
        {"the part itself",  "salon",   "salon"},
};

START_TEST(part_is_the_rooms)
{
	const struct item *part;

	furnish(&survey);
	part = survey_part(&survey, find(parts[_i].ref));
	ck_assert_msg(strcmp(part == NULL ? "" : part->ref, parts[_i].part) == 0, "%s: %s",
	              parts[_i].title, part == NULL ? "none" : part->ref);
}
END_TEST

START_TEST(only_part_is_everybodys_but_a_branchs)
{
	furnish(&survey);
	apply(&survey, "parts/salon", NULL);
	ck_assert_ptr_eq(survey_part(&survey, find("bath")), find("flat"));
	ck_assert_ptr_eq(survey_part(&survey, find("W1")), find("flat"));
	ck_assert_ptr_null(survey_part(&survey, find("Z1")));
	apply(&survey, "cold/part", "flat");
	ck_assert_ptr_eq(survey_part(&survey, find("Z1")), find("flat"));
}
END_TEST

START_TEST(inlets_are_the_kinds)
{
	struct item *inlet;

	furnish(&survey);
	inlet = item_child(find("K1"), SCOPE_INLET, 1);
	ck_assert_int_eq(survey_inlet_index(&survey, inlet), 1);
	apply(&survey, "K1/kind", "wc");
	ck_assert_int_eq(survey_inlet_index(&survey, inlet), -1);
	apply(&survey, "K1/kind", NULL);
	ck_assert_int_eq(survey_inlet_index(&survey, inlet), -1);
}
END_TEST

/* The ids that an item is asked, in order. */
static const char *asked_ids(const struct item *item)
{
	struct asked asked;
	const char *ids = "";

	ck_assert(survey_asked(&survey, item, &arena, &asked));
	for (size_t i = 0; i < asked.count; i++)
		ids = arena_print(&arena, "%s %s", ids, book.question[asked.question[i]].id);
	return ids;
}

START_TEST(asked_are_the_scopes_then_the_kinds)
{
	furnish(&survey);
	ck_assert_str_eq(asked_ids(survey.premises), " name static_pressure_kpa shared");
	ck_assert_str_eq(asked_ids(find("K1")), " kind name installed category spout height_mm");
	ck_assert_str_eq(asked_ids(find("K2")), " kind name installed category");
	ck_assert_str_eq(asked_ids(find("Z1")), " type fitted mark");
	ck_assert_str_eq(asked_ids(find("T1")), " date relief_mbar");
	apply(&survey, "K1a/type", NULL);
	ck_assert_str_eq(asked_ids(find("T1")), " date");
}
END_TEST

/* -- answers -------------------------------------------------------------------------- */

static const struct {
	const char *title;
	question_index question;
	const char *text, *kept; /* kept NULL: refused, and then `says` is in the message */
	const char *says;
	cells may;
	bool settled;
	double low, high;
} answers[] = {
        {"one option",                          Q_SPOUT,      "pull_out",              "pull_out",              NULL,                                   2, false, 0,    0       },
        {"blanks around",                       Q_SPOUT,      "  fixed\t",             "fixed",                 NULL,                                   1, false, 0,    0       },
        {"one of several",                      Q_SPOUT,      "fixed,folds_down",      "fixed, folds_down",     NULL,                                   5, true,  0,    0       },
        {"cannot tell a choice",                Q_SPOUT,      "cannot_tell",           "cannot_tell",           NULL,                                   7, true,  0,    0       },
        {"as another tool writes a word",       Q_PART_USE,   "True",                  "yes",                   NULL,                                   2, false, 0,    0       },
        {"no option",                           Q_SPOUT,      "pullout",               NULL,                    "did you mean `pull_out`",              0, false, 0,    0       },
        {"far from any",                        Q_SPOUT,      "zzzzzzzz",              NULL,                    "expected fixed, pull_out, folds_down", 0,
         false,                                                                                                                                                   0,    0       },
        {"an empty one of several",             Q_SPOUT,      "fixed,",                NULL,                    "is no answer",                         0, false, 0,    0       },
        {"empty",                               Q_SPOUT,      " ",                     NULL,                    "empty",                                0, false, 0,    0       },
        {"yes",                                 Q_SHARED,     "yes",                   "yes",                   NULL,                                   2, false, 0,    0       },
        {"as another tool writes it",           Q_SHARED,     "False",                 "no",                    NULL,                                   1, false, 0,    0       },
        {"neither",                             Q_SHARED,     "maybe",                 NULL,                    "expected yes, no or cannot_tell",      0, false, 0,    0       },
        {"cannot tell where it makes no sense", Q_HEIGHT,     "cannot_tell",           NULL,                    "can't be answered",
         0,                                                                                                                                                false, 0,    0       },
        {"a number",                            Q_PRESSURE,   "320",                   "320",                   NULL,                                   1, false, 320,  320     },
        {"a number with its unit",              Q_PRESSURE,   "320 kPa",               "320",                   NULL,                                   1, false, 320,  320     },
        {"a number in another unit",            Q_PRESSURE,   "3.2 bar",               "320",                   NULL,                                   1, false, 320,  320     },
        {"no more exact than it was read",      Q_PRESSURE,   "45 psi",                "310.3",                 NULL,                                   1, false, 310.3, 310.3  },
        {"a number that cannot be told",        Q_PRESSURE,   "cannot_tell",           "cannot_tell",           NULL,                                   1, true,  0,
         1600                                                                                                                                                                   },
        {"another kind of unit",                Q_PRESSURE,   "3 l",                   NULL,                    "expected kpa",                         0, false, 0,    0       },
        {"the name of a size",                  Q_HEIGHT,     "1/2",                   NULL,                    "name of a size and no measure",         0, false, 0,    0       },
        {"out of range",                        Q_PRESSURE,   "1601",                  NULL,                    "expected 0 to 1600 kpa",               0, false, 0,    0       },
        {"at the end of the range",             Q_PRESSURE,   "1600",                  "1600",                  NULL,                                   1, false, 1600, 1600    },
        {"no number",                           Q_PRESSURE,   "low",                   NULL,                    "not a number",                         0, false, 0,    0       },
        {"a day",                               Q_INSTALLED,  "1970-01-02",            "1970-01-02",            NULL,                                   1, false, 1,    1       },
        {"a year",                              Q_INSTALLED,  "1970",                  "1970",                  NULL,                                   1, false, 0,    364     },
        {"a date that cannot be told",          Q_INSTALLED,  "cannot_tell",           "cannot_tell",           NULL,                                   1, true,
         DAY_FIRST,                                                                                                                                                     DAY_LAST},
        {"no date",                             Q_INSTALLED,  "2019-13",               NULL,                    "a day (2019-04-03)",                   0, false, 0,    0       },
        {"text",                                Q_POINT_NAME, " by: the #door, left ", " by: the #door, left ", NULL,                                   1, false, 0,
         0                                                                                                                                                                      },
        {"text of nothing",                     Q_POINT_NAME, "",                      "",                      NULL,                                   1, false, 0,    0       },
        {"text that is no UTF-8",               Q_POINT_NAME, "\xff",                  NULL,                    "not text",                             0, false, 0,    0       },
        {"a kind",                              Q_KIND,       "wc",                    "wc",                    NULL,                                   1, false, 0,    0       },
        {"no kind",                             Q_KIND,       "mixr",                  NULL,                    "did you mean `mixer`",                 0, false, 0,    0       },
        {"a type",                              Q_TYPE,       "EB",                    "EB",                    NULL,                                   1, false, 0,    0       },
        {"one of several types",                Q_TYPE,       "EB, ED",                "EB, ED",                NULL,                                   1, true,  0,    0       },
        {"a type that cannot be told",          Q_TYPE,       "cannot_tell",           "cannot_tell",           NULL,                                   1, true,  0,    0       },
        {"no type",                             Q_TYPE,       "ZZ",                    NULL,                    "is no answer",                         0, false, 0,    0       },
        {"a feed",                              Q_FED_BY,     "main",                  "main",                  NULL,                                   1, false, 0,    0       },
        {"one of several feeds",                Q_FED_BY,     "cold ,loft",            "cold, loft",            NULL,                                   1, true,  0,    0       },
        {"no feed",                             Q_FED_BY,     "a b",                   NULL,                    "feeds nothing",                        0, false, 0,    0       },
        {"a part",                              Q_ROOM_PART,  "flat",                  "flat",                  NULL,                                   1, false, 0,    0       },
        {"no part",                             Q_ROOM_PART,  "a b",                   NULL,                    "names no part",                        0, false, 0,    0       },
        {"measured",                            Q_GAP,        "yes",                   NULL,                    "worked out",                           0, false, 0,    0       },
};

START_TEST(answer_means)
{
	struct answer answer = {.text = "untouched"};
	struct err err = {0};
	bool read = answer_read(&book, answers[_i].question, answers[_i].text,
	                        strlen(answers[_i].text), &arena, &answer, &err);

	ck_assert_msg(read == (answers[_i].kept != NULL), "%s: %s", answers[_i].title, err.message);
	if (!read) {
		ck_assert_msg(strstr(err.message, answers[_i].says) != NULL, "%s: %s",
		              answers[_i].title, err.message);
		ck_assert_int_eq(err.kind, ERR_USAGE);
		ck_assert_str_eq(answer.text, "untouched");
		return;
	}
	ck_assert_msg(strcmp(answer.text, answers[_i].kept) == 0, "%s: %s", answers[_i].title,
	              answer.text);
	ck_assert_msg(answer.may == answers[_i].may, "%s: cells %llx", answers[_i].title,
	              (unsigned long long)answer.may);
	ck_assert_msg(answer.settled == answers[_i].settled, "%s: settled", answers[_i].title);
	ck_assert_double_eq(answer.low, answers[_i].low);
	ck_assert_double_eq(answer.high, answers[_i].high);
}
END_TEST

/* -- paths and changes ---------------------------------------------------------------- */

static const struct {
	const char *where;
	const char *after;
	const char *as; /* the path that survey_where gives; NULL: the same */
} wheres[] = {
        {"premises/name",                        "x",      NULL               },
        {"supply/shared",                        "yes",    NULL               },
        {"K1/name",                              "x",      NULL               },
        {"K1/answers/spout",                     "fixed",  NULL               },
        {"K1/answers/lever",                     "button", NULL               }, /* asked of another kind only */
        {"K1/undertaker_says/category",          "2",      NULL               },
        {"K1/inlets/cold/fed_by",                "main",   NULL               },
        {"K1a/fitted",                           "2019",   NULL               },
        {"K1/inlets/cold/protection/K1a/fitted", "2019",   "K1a/fitted"       },
        {"K1a/tests/T1/date",                    "2020",   NULL               },
        {"T1/date",                              "2020",   "K1a/tests/T1/date"},
        {"K1/action_taken/A1/told",              "x",      NULL               },
        {"Z1/mark",                              "yes",    NULL               },
        {"rooms/loft",                           "bath",   NULL               },
        {"kitchen/points/K3",                    "K1",     NULL               },
        {"parts/shop",                           "",       NULL               },
        {"branches/hot_flow",                    "cold",   NULL               },
        {"K2/inlets/cold",                       "",       NULL               },
        {"K1/inlets/cold/protection/K1c",        "K1a",    NULL               },
        {"cold/protection/Z2",                   "",       NULL               },
        {"supply/protection/W2",                 "W1",     NULL               },
        {"Z1/tests/T2",                          "",       NULL               },
        {"K1/action_taken/A2",                   "A1",     NULL               },
};

START_TEST(paths_lead_there_and_back)
{
	struct survey before = {0};
	struct changes changes;

	furnish(&survey);
	ck_assert(survey_init(&before, &book));
	furnish(&before);
	apply(&survey, wheres[_i].where, wheres[_i].after);
	ck_assert(survey_compare(&before, &survey, &arena, &changes));
	ck_assert_msg(changes.count == 1, "%s: %zu changes", wheres[_i].where, changes.count);
	ck_assert_str_eq(changes.item[0].where,
	                 wheres[_i].as != NULL ? wheres[_i].as : wheres[_i].where);
	ck_assert_str_eq(changes.item[0].after, wheres[_i].after);
	survey_finish(&before);
}
END_TEST

static const struct {
	const char *title, *where, *after, *says;
} refused[] = {
        {"no such item",                    "K9/name",                   "x",       "names nothing"       },
        {"no such question",                "K1/colour",                 "x",       "names nothing"       },
        {"a question in another map",       "K1/spout",                  "x",       "names nothing"       },
        {"empty",                           "",                          "x",       "names nothing"       },
        {"an empty name",                   "K1//name",                  "x",       "names nothing"       },
        {"a name at the end",               "K1/name/",                  "x",       "names nothing"       },
        {"an item alone",                   "K1",                        "x",       "names nothing"       },
        {"a list alone",                    "kitchen/points",            "x",       "names nothing"       },
        {"too deep",                        "a/b/c/d/e/f/g/h/i/j",       "x",       "names nothing"       },
        {"a list that it has not",          "kitchen/tests/T9",          "",        "names nothing"       },
        {"no such value",                   "K1/answers/spout",          "bent",    "is no answer"        },
        {"a ref in use",                    "bath/points/K1",            "",        "names something else"},
        {"a bad ref",                       "rooms/a b",                 "",        "letters"             },
        {"after what is not there",         "rooms/loft",                "K1",      "to stand after"      },
        {"after itself",                    "rooms/bath",                "bath",    "to stand after"      },
        {"out, and not there",              "rooms/loft",                NULL,      "there is no `loft`"  },
        {"known where something is fitted", "K1/inlets/cold/protection", "nothing",
         "take that out"                                                                                  },
        {"known as what",                   "K1/inlets/hot/protection",  "EB",      "expected nothing"    },
};

START_TEST(refused_changes_change_nothing)
{
	struct change change = {refused[_i].where, NULL, refused[_i].after};
	struct survey before = {0};
	struct err err = {0};

	furnish(&survey);
	ck_assert(survey_init(&before, &book));
	furnish(&before);
	ck_assert_msg(!survey_apply(&survey, &change, &err), "%s", refused[_i].title);
	ck_assert_int_eq(err.kind, ERR_USAGE);
	ck_assert_msg(strstr(err.message, refused[_i].says) != NULL, "%s: %s", refused[_i].title,
	              err.message);
	assert_same(&before, &survey, refused[_i].title);
	survey_finish(&before);
}
END_TEST

START_TEST(an_inlet_says_what_is_known_of_it)
{
	struct item *inlet;

	furnish(&survey);
	inlet = item_child(find("K1"), SCOPE_INLET, 0);
	ck_assert(!inlet->nothing_said && !inlet->cannot_tell);
	apply(&survey, "K1/inlets/cold/protection/K1a", NULL);
	ck_assert(!inlet->nothing_said);
	apply(&survey, "K1/inlets/cold/protection/K1b", NULL);
	ck_assert(inlet->nothing_said); /* that nothing is fitted would be a guess */
	apply(&survey, "K1/inlets/cold/protection", "nothing");
	ck_assert(!inlet->nothing_said && !inlet->cannot_tell);
	apply(&survey, "K1/inlets/cold/protection", "cannot_tell");
	ck_assert(inlet->cannot_tell && !inlet->nothing_said);
	apply(&survey, "K1/inlets/cold/protection/K1a", "");
	ck_assert(!inlet->nothing_said && !inlet->cannot_tell);
}
END_TEST

START_TEST(compare_tells_an_item_and_then_its_answers)
{
	static const char *const expected[] = {
	        "kitchen/points/K2", "K1/kind", "K1/answers/spout",
	        "bath/points/K7",    "K7/kind", "K7/answers/height_mm",
	};
	struct survey before = {0};
	struct changes changes;

	furnish(&survey);
	ck_assert(survey_init(&before, &book));
	furnish(&before);
	apply(&survey, "kitchen/points/K2", NULL);
	apply(&survey, "K1/answers/spout", NULL);
	apply(&survey, "K1/kind", "wc");
	apply(&survey, "bath/points/K7", "");
	apply(&survey, "K7/answers/height_mm", "12");
	apply(&survey, "K7/kind", "mixer");
	ck_assert(survey_compare(&before, &survey, &arena, &changes));
	ck_assert_uint_eq(changes.count, 6);
	for (size_t i = 0; i < changes.count; i++)
		ck_assert_str_eq(changes.item[i].where, expected[i]);
	ck_assert_str_eq(changes.item[1].before, "mixer");
	ck_assert_ptr_null(changes.item[2].after);
	survey_finish(&before);
}
END_TEST

START_TEST(compare_moves_as_few_as_it_can)
{
	struct survey before = {0};
	struct changes changes;
	char ref[32], stands_after[32] = "";

	ck_assert(survey_init(&before, &book));
	for (int i = 0; i < 8; i++) {
		snprintf(ref, sizeof(ref), "rooms/r%d", i);
		apply(&survey, ref, stands_after);
		apply(&before, ref, stands_after);
		snprintf(stands_after, sizeof(stands_after), "r%d", i);
	}
	apply(&survey, "rooms/r1", "r5");
	apply(&survey, "rooms/r7", "");
	ck_assert(survey_compare(&before, &survey, &arena, &changes));
	ck_assert_uint_eq(changes.count, 2);
	ck_assert_str_eq(changes.item[0].where, "rooms/r7");
	ck_assert_str_eq(changes.item[0].before, "r6");
	ck_assert_str_eq(changes.item[0].after, "");
	ck_assert_str_eq(changes.item[1].where, "rooms/r1");
	ck_assert_str_eq(changes.item[1].after, "r5");
	survey_finish(&before);
}
END_TEST

/* -- at random ------------------------------------------------------------------------ */

static void change_at_random(struct survey *changed, struct dice *dice, size_t times)
{
	while (times-- > 0) {
		struct change change = random_change(changed, dice, &arena);
		struct err err = {0};

		ck_assert_msg(survey_apply(changed, &change, &err), "%s -> %s: %s", change.where,
		              change.after ? change.after : "(none)", err.message);
	}
}

static void apply_all(struct survey *to, const struct changes *changes)
{
	for (size_t i = 0; i < changes->count; i++)
		apply(to, changes->item[i].where, changes->item[i].after);
}

START_TEST(what_differs_carried_out_is_no_difference)
{
	struct dice dice = {(uint64_t)_i * 7919 + 1};
	struct survey other = {0};
	struct changes changes;

	ck_assert(survey_init(&other, &book));
	furnish(&survey);
	furnish(&other);
	change_at_random(&survey, &dice, roll(&dice, 60));
	change_at_random(&other, &dice, roll(&dice, 60));
	ck_assert(survey_compare(&survey, &other, &arena, &changes));
	apply_all(&survey, &changes);
	assert_same(&survey, &other, "forth");
	assert_same(&other, &survey, "back");
	survey_finish(&other);
}
END_TEST

START_TEST(undone_changes_leave_nothing)
{
	struct dice dice = {(uint64_t)_i * 104729 + 1};
	struct survey before = {0};
	struct changes undo[80];
	size_t count = 10 + roll(&dice, 70);

	ck_assert(survey_init(&before, &book));
	furnish(&survey);
	furnish(&before);
	for (size_t i = 0; i < count; i++) {
		struct change change = random_change(&survey, &dice, &arena);
		struct err err = {0};

		ck_assert(survey_inverse(&survey, &change, &arena, &undo[i]));
		ck_assert_msg(survey_apply(&survey, &change, &err), "%s", err.message);
	}
	while (count-- > 0)
		apply_all(&survey, &undo[count]);
	assert_same(&before, &survey, "undone");
	survey_finish(&before);
}
END_TEST

START_TEST(no_memory_is_said)
{
	struct changes changes;
	struct survey empty = {0};
	bool compared = false;

	furnish(&survey);
	for (long n = 0; !compared; n++) {
		ck_assert(survey_init(&empty, &book));
		arena_fail_after(n);
		compared = survey_compare(&empty, &survey, &arena, &changes);
		ck_assert(compared == (arena_fail_after(-1) != -1));
		survey_finish(&empty);
	}
	ck_assert_uint_gt(changes.count, 20);
	for (size_t i = 0; i < changes.count; i++) {
		struct err err = {0};

		arena_fail_after(0);
		/* to take away or refuse needs none */
		if (!survey_apply(&survey, &changes.item[i], &err))
			ck_assert(err.kind == ERR_MEMORY || changes.item[i].before == NULL);
		arena_fail_after(-1);
	}
	assert_same(&survey, &survey, "still sound");
}
END_TEST

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

int main(void)
{
	Suite *suite = suite_create("survey");
	TCase *tcase = tcase_create("survey");

	tcase_add_checked_fixture(tcase, setup, teardown);
	tcase_add_loop_test(tcase, refs_are_well_formed_and_never_used_again, 0, ROWS(refs));
	tcase_add_test(tcase, new_ref_is_past_all_that_were_used);
	tcase_add_test(tcase, items_are_found_until_they_are_taken_out);
	tcase_add_test(tcase, reset_forgets_everything);
	tcase_add_loop_test(tcase, part_is_the_rooms, 0, ROWS(parts));
	tcase_add_test(tcase, only_part_is_everybodys_but_a_branchs);
	tcase_add_test(tcase, inlets_are_the_kinds);
	tcase_add_test(tcase, asked_are_the_scopes_then_the_kinds);
	tcase_add_loop_test(tcase, answer_means, 0, ROWS(answers));
	tcase_add_loop_test(tcase, paths_lead_there_and_back, 0, ROWS(wheres));
	tcase_add_loop_test(tcase, refused_changes_change_nothing, 0, ROWS(refused));
	tcase_add_test(tcase, an_inlet_says_what_is_known_of_it);
	tcase_add_test(tcase, compare_tells_an_item_and_then_its_answers);
	tcase_add_test(tcase, compare_moves_as_few_as_it_can);
	tcase_add_loop_test(tcase, what_differs_carried_out_is_no_difference, 0, 60);
	tcase_add_loop_test(tcase, undone_changes_leave_nothing, 0, 60);
	tcase_add_test(tcase, no_memory_is_said);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
