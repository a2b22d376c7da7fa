/*
 * What hands expect that fill in forms all day: typing goes on from field to field, y and n answer
 * what says yes or no, a date is written as it is said, and what is taken back is named.
 */
#include "walk_drive.h"
#include "suite.h"

#define BOOKS(label)      "/ \"" label "\" Enter Enter Enter "
#define SAYS_KITCHEN      "rooms/kitchen=\nkitchen/name=Kitchen\n"
#define SAYS_MIXER        SAYS_KITCHEN "kitchen/points/K1=\nK1/kind=kitchen_mixer\n"
#define SAYS_PUT_IN(date) SAYS_MIXER "K1/installed=" date "\n"

struct deed {
	const char *title, *keys;
	const char *says;  /* all that the survey says then; NULL: anything */
	const char *shows; /* on the screen; NULL: anything */
};

static const struct deed deeds[] = {
        {"what is typed on is the next answer",
         MIXER BOOKS("Name") "\"Ann, q\" Enter \"2019\" Tab \"3\" Enter",
         SAYS_MIXER "K1/name=Ann, q\nK1/installed=2019\nK1/count=3\n",                                                                                  NULL                                                  },
        {"or the one before it",                               MIXER BOOKS("put in") "\"2019\" Shift-Tab \"q\" Enter",
         SAYS_MIXER "K1/installed=2019\nK1/name=q\n",                                                                                                   NULL                                                  },
        {"an arrow keeps it and types no more",                MIXER BOOKS("Name") "\"Ann\" Down u",                       SAYS_MIXER,
         NULL                                                                                                                                                                                                 },
        {"what is passed over stays as it is",                 MIXER BOOKS("Name") "Tab Tab Tab Esc",                      SAYS_MIXER,
         NULL                                                                                                                                                                                                 },
        {"no by n, where one option says no",                  KITCHEN "Enter / \"door\" Enter Enter n",
         SAYS_KITCHEN "kitchen/door=opens\n",                                                                                                           "no, it opens"                                        },
        {"yes by y, where one option says yes",                KITCHEN "Enter / \"door\" Enter Enter y",
         SAYS_KITCHEN "kitchen/door=key_away\n",                                                                                                        "yes, the key is away"                                },
        {"and the letters stand by the numbers",               KITCHEN "Enter / \"door\" Enter Enter",
         SAYS_KITCHEN,                                                                                                                                  "1/y yes, the key is away   2/n no, it opens   3 none"},
        {"of a yes or no too",                                 "Down Down Down Down Down",                                 "",                          "1/y yes   2/n no   t cannot tell"                    },
        {"no by its number",                                   "Down Down Down Down Down 2",                               "supply/supply_shared=no\n", NULL                                                  },
        {"y where nothing says yes",                           "Down y",                                                   "",                          "None of these is a plain yes"                        },
        {"the day first",                                      MIXER BOOKS("put in") "\"25/11/2026\" Enter",               SAYS_PUT_IN("2026-11-25"),
         NULL                                                                                                                                                                                                 },
        {"a year of two digits",                               MIXER BOOKS("put in") "\"3.4.26\" Enter",
         SAYS_PUT_IN("2026-04-03"),                                                                                                                     NULL                                                  },
        {"which is never ahead",                               MIXER BOOKS("put in") "\"3/4/98\" Enter",
         SAYS_PUT_IN("1998-04-03"),                                                                                                                     NULL                                                  },
        {"a month and a year",                                 MIXER BOOKS("put in") "\"4/2019\" Enter",                   SAYS_PUT_IN("2019-04"),
         NULL                                                                                                                                                                                                 },
        {"today",                                              MIXER BOOKS("put in") "\"Today\" Enter",                    SAYS_PUT_IN("2026-11-25"),   NULL                                                  },
        {"before the Regulations",                             MIXER BOOKS("put in") "\"b\" Enter",
         SAYS_PUT_IN("before_july_1999"),                                                                                                               NULL                                                  },
        {"undo stays in the form",                             MIXER "1 Esc a 1 \"out\" Enter u u",
         SAYS_KITCHEN "kitchen/points/K1=\nK1/kind=kitchen_mixer\n",
         "Taken back: K1 Kitchen mixer: What kind of spout? not answered again."                                                                                                                              },
        {"and where the form is gone, at what held it",        MIXER "1 Esc a 1 \"out\" Enter u",                          NULL,
         "> 1 Kitchen"                                                                                                                                                                                        },
        {"and names it",                                       MIXER "1 Esc a 1 \"out\" Enter u",                          NULL,
         "K2 Outside tap taken back. Ctrl-R makes it again."                                                                                                                                                  },
        {"in another form it stays there",                     MIXER "1 Esc Home Enter u",                                 SAYS_MIXER,
         "|  Premises sheet"                                                                                                                                                                                  },
        {"in the house it stays there",                        MIXER "1 Esc Home u",                                       SAYS_MIXER,                  "> Premises sheet"                                    },
        {"in its own form it goes to the line",                MIXER "1 Down Down Down u",                                 SAYS_MIXER,
         ">* What kind of spout?"                                                                                                                                                                             },
        {"with no more words than are needed",                 MIXER "1 u",                                                SAYS_MIXER,
         "\nTaken back: What kind of spout? not answered again."                                                                                                                                              },
        {"what was there before is said",                      "Down 2 Up 3 u",                                            NULL,
         "Taken back: Which nation's rules? Wales again."                                                                                                                                                     },
        {"redo says what it makes",                            "Down 2 u Ctrl-R",                                          "premises/nation=wales\n",
         "Made again: Which nation's rules? Wales."                                                                                                                                                           },
        {"what was removed is named when it is back",          MIXER "1 d y u",
         SAYS_MIXER "K1/answers/spout=fixed\n",                                                                                                         "K1 Kitchen mixer is there again."                    },
        {"and when it goes once more",                         MIXER "1 d y u Ctrl-R",                                     SAYS_KITCHEN,
         "K1 Kitchen mixer removed again."                                                                                                                                                                    },
        {"which inlet",                                        MIXER "/ \"What is fit\" Enter Enter 0 u",                  NULL,
         "Taken back: K1 cold: What is fitted? not answered again."                                                                                                                                           },
        {"what is fitted",                                     MIXER "/ \"What is fit\" Enter Enter Enter \"EB\" Enter u", NULL,
         "K1a EB Non-verifiable single check valve taken back."                                                                                                                                               },
        {"a point that went to another room",                  MIXER "Esc a 2 \"Larder\" Enter Up m Enter u",              NULL,
         "K1 Kitchen mixer moved back."                                                                                                                                                                       },
        {"what is looked at is not the one before it",         MIXER "Esc a 1 \"out\"",                                    SAYS_MIXER,
         "undecided if so: "                                                                                                                                                                                  },
        {"nor its way back",                                   MIXER "Esc a 1 \"out\"",                                    SAYS_MIXER,
         "what the hose lies in, by the cold inlet to "                                                                                                                                                       },
        {"another kind is looked at as a whole",               MIXER BOOKS("What is it") "Ctrl-U \"out\"",
         SAYS_MIXER,                                                                                                                                    "what the hose lies in, by the cold inlet to "        },
        {"what only may be fitted has a name",                 TO_FITTED "0 Space Enter \"AUK\"",                          NULL,
         "Ask next: AUK"                                                                                                                                                                                      },
        {"Space goes to what is short and can still be moved",
         MIXER "4 y / \"What is fit\" Enter Enter 0 Esc Home Space",                                                       NULL,
         ">   ! K1 Kitchen mixer"                                                                                                                                                                             },
        {"what is for the books waits for all else",           MIXER BOOKS("put in") "Esc o",                              SAYS_MIXER,
         ">  Which nation's rules?"                                                                                                                                                                           },
        {"the same numbers to add by, wherever the cursor is", MIXER "Home a",                                             SAYS_MIXER,
         "> 1 outlet or appliance in Kitchen\n  ^\n  2 action taken before leaving\n\n"                                                                                                                       },
        {"and what is only there at the end",                  MIXER "/ \"What is fit\" Enter Enter a",                    SAYS_MIXER,
         "  1 outlet or appliance in Kitchen\n  2 action taken before leaving\n> 3 protection, "
         "first"                                                                                                                                                                                              },
        {"in the house too, on a room",                        MIXER "Esc Up a",                                           SAYS_MIXER,
         "> 1 outlet or appliance in Kitchen\n  ^\n  2 room\n  3 part\n  4 branch"                                                                                                                            },
        {"or on none",                                         MIXER "Esc Home a",                                         SAYS_MIXER,
         "  1 outlet or appliance in Kitchen\n> 2 room\n  ^\n  3 part\n  4 branch"                                                                                                                            },
        {"a day that is none",                                 MIXER BOOKS("put in") "\"31/2/2019\" Enter",                SAYS_MIXER,                  "! "                                                  },
        {"a day after the day of the verdict",                 MIXER BOOKS("put in") "\"26/11/2026\" Enter",
         SAYS_MIXER,                                                                                                                                    "! 2026-11-26 is after today, 2026-11-25"             },
        {"on to the rooms: where one is added",                "End Enter",                                                NULL,                        "> + add a room"                                      },
        {"on to the rooms: the first",                         KITCHEN "Home Enter End Enter",                             NULL,                        "> 1 Kitchen"                                         },
        {"no is no answer to what adds",                       "End Up Up n",                                              NULL,
         "nothing to be answered on this line"                                                                                                                                                                },
        {"what is met in such a room comes first",             "Esc End Enter \"Front garden\" Enter a 1",                 NULL,
         "> 1 Outside tap"                                                                                                                                                                                    },
        {"as the rulebook has them, where none is",            "Esc End Enter \"Hall\" Enter a 1",                         NULL,
         "> 1 Kitchen mixer"                                                                                                                                                                                  },
        {"a year after it, mended",
         MIXER BOOKS("put in") "\"2099\" Enter Backspace Backspace \"19\" Enter",
         SAYS_PUT_IN("2019"),                                                                                                                           NULL                                                  },
};

START_TEST(keys_do_what_hands_expect)
{
	const struct deed *deed = &deeds[_i];
	struct drive d;
	char *says;

	drive_begin(&d, 24, 80, true);
	drive(&d, deed->keys);
	says = drive_says(&d.survey);
	if (deed->says != NULL)
		ck_assert_msg(strcmp(says, deed->says) == 0, "%s: says\n%snot\n%s", deed->title,
		              says, deed->says);
	free(says);
	if (deed->shows != NULL)
		drive_expect(&d, deed->shows, deed->title);
	drive_end(&d);
}
END_TEST

/* -- where there is little room -------------------------------------------------------------- */

static const struct small {
	const char *title, *keys;
	int rows, cols;
	const char *shows;
} smalls[] = {
        {"the file and that it is not saved", MIXER,                                12, 45,
         "Kitchen: K1 Kit~  |  elm_row.yaml (not saved)"                                                                              },
        {"the figure and how soon",           MIXER "4 y 1 n 1 Enter \"EB\" Enter", 12, 45,
         "\nshort 4, now\n"                                                                                                           },
        {"what it could come to",             MIXER,                                12, 45, "\nundecided: short 0 to 4\n"             },
        {"a cut is marked",                   TO_FITTED "Enter",                    24, 40, "2 AUK3 Higher-risk tap gap   Air betw~\n"},
        {"the marked one is whole",           TO_FITTED "Enter \"AUK\"",            24, 40,
         "> AUK3 Higher-risk tap gap\n  ^\n  Air between"                                                                             },
};

START_TEST(little_room_keeps_what_counts)
{
	const struct small *row = &smalls[_i];
	struct drive d;

	drive_begin(&d, row->rows, row->cols, true);
	drive(&d, row->keys);
	drive_expect(&d, row->shows, row->title);
	drive_end(&d);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("walk hands");
	TCase *hands = tcase_create("hands");

	tcase_add_unchecked_fixture(hands, drive_load, drive_unload);
	tcase_add_loop_test(hands, keys_do_what_hands_expect, 0,
	                    (int)(sizeof(deeds) / sizeof(deeds[0])));
	tcase_add_loop_test(hands, little_room_keeps_what_counts, 0,
	                    (int)(sizeof(smalls) / sizeof(smalls[0])));
	suite_add_tcase(suite, hands);
	return suite_run(suite);
}
