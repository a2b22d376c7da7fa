/*
 * Finding one's way in a house, and the sheet that is gone through before leaving it.
 */
#include "walk_drive.h"

#include "tundish/walk/requests.h"

#include "suite.h"

/* -- finding --------------------------------------------------------------------------------- */

/* A kitchen with a mixer, a garden with a tap; then the house, on the first row. */
#define TWO_ROOMS MIXER "Esc a 2 \"Garden\" Enter a Enter \"out\" Enter Esc Home "

/* Two more in that kitchen. Dead things in a cistern behind a gap that is kept: protected, and the circumstance is urgent. A
 * double check in its sixth year where a neighbour drinks from the same pipe: protected, a change is due, raised by one. */
#define FOULED                                                                                     \
	"1 a 1 \"cold\" Enter y 3 \"10\" Enter 1 Space Enter \"AUK3\" Enter \"200\" Enter \"15\" " \
	"Enter n "
#define WORN                                                                                       \
	"Home Enter Down Down Down Down Down y Esc ] a 1 \"oth\" Enter 3 n Space Enter \"ED\" "    \
	"Enter y 1 \"2020\" Down "

struct search {
	const char *title, *keys, *shows;
};

static const struct search searches[] = {
        {"Enter finds",                          "/ \"lying\"",                                          "Enter find  Esc cancel"             },
        {"a word of a question",                 "/ \"lying\" Enter",                                    ">* Is a hose or the spout lying"    },
        {"n: the next place that has it",        "/ \"lying\" Enter n",                                  ">* Is the hose lying in"            },
        {"and round the end",                    "/ \"lying\" Enter n n",                                ">* Is a hose or the spout lying"    },
        {"N: the place before",                  "/ \"lying\" Enter n N",                                ">* Is a hose or the spout lying"    },
        {"Esc goes back to where it began",      "/ \"lying\" Enter n Esc",                              "> Premises sheet"                   },
        {"Enter stays",                          "/ \"lying\" Enter Enter n",                            "no"                                 },
        {"another key goes on from there",       "/ \"lying\" Enter Down",                               ">* Where do hot and cold"           },
        {"the name of a point",                  "/ \"K1\" Enter",                                       ">     K1 Kitchen mixer"             },
        {"the name of a room",                   "/ \"garden\" Enter",                                   "> 2 Garden"                         },
        {"an answer",                            "Down Down Enter 4 Esc Home / \"pulls out\" Enter",
         ">  What kind of spout?                      pulls out on a hose"                                                                    },
        {"what nothing says",                    "/ \"zebra\" Enter",                                    "Nothing in the house says \"zebra\""},
        {"the last word again",                  "/ \"lying\" Enter Enter / Enter",                      ">* Is the hose lying in"            },
        {"from a form on",                       "Down Down Enter / \"worst\" Enter",                    ">* What is the worst"               },
        {"the next that is not answered",        "o",                                                    ">  Which nation's rules?"           },
        {"and on from there",                    "o o o",                                                ">  Standing pressure"               },
        {"over to the next form",                "Down Down Enter End o",                                "Garden"                             },
        {"the next undecided",                   "Space",                                                ">     K1 Kitchen mixer"             },
        {"nothing is short",                     "!",                                                    "Nothing is short or urgent"         },
        {"the next unproven",
         "] a 1 \"oth\" Enter 3 n Space Enter \"ED\" Enter y 1 \"2010\" Down Esc Home p",                ">     K2 Other, not listed"         },
        {"nothing is unproven",                  "p",                                                    "Nothing is unproven"                },
        {"the next short",                       "Down Down Enter 1 Space 2 Space 0 Space 0 Esc Home !",
         ">   ! K1 Kitchen mixer"                                                                                                             },
        {"the next urgent, though protected",    FOULED "Esc Home !",
         ">   ! K2 Cold water cistern                                       protected, now"                                                   },
        {"protected and can wait: no mark",      WORN "Esc",
         ">     K2 Other, not listed                                   protected, next job"                                                   },
        {"and is not gone to",                   WORN "Esc Home !",                                      "Nothing is short or urgent"         },
        {"the next room",                        "]",                                                    "> 1 Kitchen"                        },
        {"the room before",                      "] ] [",                                                "> 1 Kitchen"                        },
        {"a room by its number",                 "2",                                                    "> 2 Garden"                         },
        {"a room that is not there",             "7",                                                    "no room of that number"             },
        {"the next group of a form",             "Down Down Enter ]",                                    ">  What feeds it?"                  },
        {"the command list does what is chosen", ": \"redo\" Enter",                                     "Nothing to make again"              },
        {"narrowed by a word of what it does",   ": \"fold\" Esc Down Down Enter : \"fold\" Enter",
         "folded away"                                                                                                                        },
};

START_TEST(finds)
{
	const struct search *row = &searches[_i];
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, TWO_ROOMS);
	drive(&d, row->keys);
	drive_expect(&d, row->shows, row->title);
	drive_end(&d);
}
END_TEST

START_TEST(all_that_a_view_can_do_is_in_its_list)
{
	struct drive d;

	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);
		char keys[100];

		if ((row->contexts & IN_HOUSE) == 0 || i == REQUEST_ROOM || i == REQUEST_COMMANDS ||
		    i == REQUEST_INTERRUPT)
			continue;
		drive_begin(&d, 24, 80, true);
		snprintf(keys, sizeof(keys), "Esc : \"%s: \"", row->word);
		drive(&d, keys);
		drive_expect(&d, row->word, row->id);
		ck_assert_msg(!drive_shows(&d, "(none"), "%s is not listed", row->id);
		drive_end(&d);
	}
}
END_TEST

/* -- before leaving -------------------------------------------------------------------------- */

#define URGENT        MIXER "4 y 1 n 1 Enter \"EB\" Enter "
#define SAYS_ISOLATED "K1/action_taken/A1=\nK1/action_taken/A1/what=isolated\n"

struct parting {
	const char *title, *keys;
	const char *says; /* among what the survey says then; NULL: anything */
	const char *shows;
};

static const struct parting partings[] = {
        {"what was done, from a form",            URGENT "w 1",                                                      SAYS_ISOLATED, "isolated"                                 },
        {"from the house",                        URGENT "Esc w 1",                                                  SAYS_ISOLATED, "Noted for K1"                             },
        {"from the whole verdict",                URGENT "v w 1",                                                    SAYS_ISOLATED, "Noted for K1"                             },
        {"from the sheet itself",                 URGENT "l w 1",                                                    SAYS_ISOLATED, ">    When?"                               },
        {"and who was told",                      URGENT "l w 1 Down Enter \"tenant\" Enter",
         "K1/action_taken/A1/told=tenant\n",                                                                                        "tenant"                                   },
        {"on a room nothing was done",            URGENT "Esc Up w",                                                 NULL,          "Go to an outlet"                          },
        {"the house says that something is left", URGENT "Esc Up",                                                   NULL,          "1 urgent, and nothing"                    },
        {"the sheet has it first",                URGENT "l",                                                        NULL,
         "-- Urgent: before you leave --\n>  K1 Kitchen mixer, Kitchen"                                                                                                        },
        {"its form is opened from there",         URGENT "l Enter",                                                  NULL,          "Kitchen: K1 Kitchen mixer"                },
        {"and left to there",                     URGENT "l Enter Esc",                                              NULL,          "|  before leaving"                        },
        {"then the house",                        URGENT "l Enter Esc Esc",                                          NULL,          "|  the house"                             },
        {"undone from where one is",              URGENT "l w 1 Esc u",                                              NULL,          "What was done about"                      },
        {"nothing urgent",                        MIXER "l",                                                         NULL,          "Nothing."                                 },
        {"what is still to be asked",             MIXER "l",                                                         NULL,          "Undecided: something is still"            },
        {"who refused",                           URGENT "l / \"refused\" Enter Enter Enter \"loft: tenant\" Enter",
         "premises/refused=loft: tenant\n",                                                                                         NULL                                       },
        {"signed off",                            URGENT "l End Up Enter \"2026-11-25\" Enter",
         "premises/signed_off=2026-11-25\n",                                                                                        "2026-11-25"                               },
        {"the more urgent first",
         KITCHEN "a Enter \"oth\" Enter 3 n Space Enter \"EB\" Enter 1 "
                 "Esc a 1 \"kit\" Enter 1 Down 2 Space 0 Space 0 l",                                                 NULL,          "-- Short --\n>  K2 Kitchen mixer, Kitchen"},
        {"urgent, though protected",              TWO_ROOMS FOULED "l",                                              NULL,
         "-- Urgent: before you leave --\n>  K2 Cold water cistern, Kitchen           protected, "
         "now"                                                                                                                                                                 },
        {"protected, but not all done, the last", TWO_ROOMS WORN "l",                                                NULL,
         "undecided\n-- Protected, but not all is done --\n   K2 Other, not listed, Kitchen        "
         "    protected, next job\n-- Who"                                                                                                                                     },
        {"a room that was not seen",              URGENT "Esc Up Enter Down Down 3 l",                               NULL,          "Not seen"                                 },
};

START_TEST(parts)
{
	const struct parting *row = &partings[_i];
	struct drive d;
	char *says;

	drive_begin(&d, 40, 80, true);
	drive(&d, row->keys);
	says = drive_says(&d.survey);
	if (row->says != NULL)
		ck_assert_msg(strstr(says, row->says) != NULL, "%s: says\n%s", row->title, says);
	free(says);
	drive_expect(&d, row->shows == NULL ? "" : row->shows, row->title);
	drive_end(&d);
}
END_TEST

struct going {
	const char *title, *keys;
	size_t leaves;
	const char *shows; /* NULL: it is over */
};

static const struct going goings[] = {
        {"urgent though protected: asked",       TWO_ROOMS FOULED "s q",   0,
         "1 urgent, nothing done yet."                                                                        },
        {"protected and can wait: no question",  TWO_ROOMS WORN "s q",     1, NULL                            },
        {"all done and saved: no question",      MIXER "s q",              1, NULL                            },
        {"urgent and saved: asked",              URGENT "s q",             0,
         "1 urgent, nothing done yet. l looks, y leaves"                                                      },
        {"urgent and not saved: both are asked", URGENT "q",               0,
         "1 urgent, nothing done; not saved. l looks, s"                                                      },
        {"Enter stays",                          URGENT "s q Enter",       0, "Stayed."                       },
        {"l looks",                              URGENT "s q l",           0, "-- Urgent: before you leave --"},
        {"y leaves all the same",                URGENT "s q y",           1, NULL                            },
        {"y is no answer while it is not saved", URGENT "q y",             0,
         "1 urgent, nothing done; not saved."                                                                 },
        {"s saves and leaves",                   URGENT "q s",             1, NULL                            },
        {"d discards",                           URGENT "q d",             1, NULL                            },
        {"something was done about it",          URGENT "w Enter s q",     1, NULL                            },
        {"a second interrupt goes at once",      URGENT "s Ctrl-C Ctrl-C", 1, NULL                            },
        {"no l where nothing is urgent",         MIXER "q l",              0, "Not saved yet."                },
};

START_TEST(goes)
{
	const struct going *row = &goings[_i];
	struct drive d;

	drive_begin(&d, 40, 80, true);
	drive(&d, row->keys);
	ck_assert_msg(d.leaves == row->leaves, "%s: left %zu times", row->title, d.leaves);
	if (row->shows != NULL)
		drive_expect(&d, row->shows, row->title);
	drive_end(&d);
}
END_TEST

static Suite *find_suite(void)
{
	Suite *suite = suite_create("walk: finding");
	TCase *find = tcase_create("finding"), *leave = tcase_create("before leaving");

	tcase_add_unchecked_fixture(find, drive_load, drive_unload);
	tcase_add_unchecked_fixture(leave, drive_load, drive_unload);
	tcase_add_loop_test(find, finds, 0, sizeof(searches) / sizeof(searches[0]));
	tcase_add_test(find, all_that_a_view_can_do_is_in_its_list);
	tcase_add_loop_test(leave, parts, 0, sizeof(partings) / sizeof(partings[0]));
	tcase_add_loop_test(leave, goes, 0, sizeof(goings) / sizeof(goings[0]));
	suite_add_tcase(suite, find);
	suite_add_tcase(suite, leave);
	return suite;
}

int main(void)
{
	return suite_run(find_suite());
}
