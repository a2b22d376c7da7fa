#include "walk_drive.h"

#include "tundish/walk/requests.h"
#include "tundish/walk/tell.h"

#include "suite.h"

/* -- the table of requests ------------------------------------------------------------------- */

START_TEST(request_is_reached_by_each_of_its_keys)
{
	const struct request_row *row = request_row((enum request)_i);
	const char *word = row->keys;

	ck_assert_msg(row->help[0] != '\0', "%s says nothing of itself", row->id);
	while (*word != '\0') {
		size_t length = strcspn(word, " ");
		struct walk_key key;

		ck_assert_msg(walk_key_named(word, length, &key), "%s: `%.*s` is no key", row->id,
		              (int)length, word);
		for (unsigned bit = 0; bit < 8; bit++) {
			enum context context = (enum context)(1u << bit);

			if ((row->contexts & context) == 0)
				continue;
			ck_assert_msg(request_of_key(&key, context) == (enum request)_i,
			              "%s: `%.*s` means %s in %s", row->id, (int)length, word,
			              request_row(request_of_key(&key, context))->id,
			              context_name(context));
		}
		word += length;
		word += strspn(word, " ");
	}
}
END_TEST

/* What a key can do a word can: the plain mode is made from it. Only moving about in a typed line
 * has none. */
START_TEST(request_has_a_plain_word)
{
	const struct request_row *row = request_row((enum request)_i);

	ck_assert_msg(row->word[0] != '\0' || strncmp(row->id, "TEXT_", 5) == 0, "%s has no word",
	              row->id);
}
END_TEST

START_TEST(letters_are_text_where_text_is_typed)
{
	for (char c = ' '; c < 0x7f; c++) {
		struct walk_key key = {WALK_KEY_TEXT, &c, 1};

		ck_assert_msg(request_of_key(&key, IN_TEXT) == REQUEST_NONE,
		              "`%c` is a command in a field", c);
		ck_assert_msg(c == '+' || request_of_key(&key, IN_LIST) == REQUEST_NONE,
		              "`%c` is a command in a list", c);
	}
}
END_TEST

START_TEST(pasted_text_is_no_command)
{
	struct walk_key key = {WALK_KEY_PASTE, "q", 1};

	ck_assert_int_eq(request_of_key(&key, IN_HOUSE), REQUEST_NONE);
}
END_TEST

START_TEST(help_and_the_way_out_are_always_named)
{
	static const char *const keys[] = {"",        "Esc",         MIXER,
	                                   MIXER "v", MIXER "Enter", MIXER "End Enter"};
	struct drive d;

	for (size_t i = 0; i < sizeof(keys) / sizeof(keys[0]); i++) {
		drive_begin(&d, 24, 80, true);
		drive(&d, keys[i]);
		drive_expect(&d, " help", keys[i]);
		if (drive_shows(&d, "? help"))
			drive_expect(&d, "q leave", keys[i]);
		else
			drive_expect(&d, "Esc cancel", keys[i]);
		drive_end(&d);
	}
}
END_TEST

/* -- what keys do to a survey ---------------------------------------------------------------- */

struct deed {
	const char *title, *keys;
	const char *says;  /* all that the survey says then */
	const char *shows; /* on the screen; NULL: anything */
};

#define SAYS_KITCHEN "rooms/kitchen=\nkitchen/name=Kitchen\n"
#define SAYS_MIXER   SAYS_KITCHEN "kitchen/points/K1=\nK1/kind=kitchen_mixer\n"
#define SAYS_COLD    SAYS_MIXER "K1/inlets/cold=\n"
#define SAYS_FIXED   SAYS_MIXER "K1/answers/spout=fixed\nK1/answers/hose_in_sink=no\n"
#define SAYS_COLD_EB "K1/inlets/cold=\nK1/inlets/cold/protection/K1a=\nK1a/type=EB\n"
#define SAYS_TWO     SAYS_MIXER "K1/answers/spout=fixed\nK1/answers/mixes=at_outlet\n"

static const struct deed deeds[] = {
        {"nothing pressed",                                 "",                                                "",                                              "Begin here"                     },
        {"a choice by its number",                          "Down 2",                                          "premises/nation=wales\n",                       "Wales"                          },
        {"a choice by its first letters",                   "Down Enter \"sc\" Enter",                         "premises/nation=scotland\n",
         NULL                                                                                                                                                                                    },
        {"a choice by its number in the list",              "Down Enter 4",                                    "premises/nation=northern_ireland\n",
         NULL                                                                                                                                                                                    },
        {"a choice by going down the list",                 "Down Enter Down Enter",                           "premises/nation=wales\n",
         NULL                                                                                                                                                                                    },
        {"a list left with Esc",                            "Down Enter Down Esc",                             "",                                              "[ ]"                            },
        {"letters that nothing starts with take nothing",   "Down Enter \"xyz\" Enter Esc",                    "",                                              NULL                             },
        {"yes by y",                                        "Down Down Down Down Down y",                      "supply/supply_shared=yes\n",                    NULL                             },
        {"no by N (Caps Lock)",                             "Down Down Down Down Down N",                      "supply/supply_shared=no\n",                     NULL                             },
        {"cannot tell by t",                                "Down Down Down Down Down t",                      "supply/supply_shared=cannot_tell\n",
         "cannot tell"                                                                                                                                                                           },
        {"t where it is no answer",                         "Down t",                                          "",                                              "That is no answer here"         },
        {"a number that has no such option",                "Down 7",                                          "",                                              "There is no number 7"           },
        {"an answer taken back",                            "Down 2 Up x",                                     "",                                              NULL                             },
        {"an answer emptied",                               "\"x\" Enter Ctrl-U Enter",                        "",                                              NULL                             },
        {"text of any script",                              "Enter \"Küche 漢字\" Enter",                   "premises/name=Küche 漢字\n",                 NULL                             },
        {"text mended with the keys of a line",
         "Enter \"one two\" Ctrl-W \"2\" Ctrl-A Delete \"O\" Ctrl-E Backspace \"!\" Enter",                    "premises/name=One !\n",                         NULL                             },
        {"a command letter is text in a field",             "Enter \"q?\" Enter",                              "premises/name=q?\n",                            NULL                             },
        {"a number in its unit",                            "Down Down Down Down Down Down 3 \"20\" Enter",
         "supply/static_pressure_kpa=320\n",                                                                                                                    "320 kPa (3.2 bar)"              },
        {"a number in another unit",                        "Down Down Down Down Down Down \"3.2 bar\" Enter",
         "supply/static_pressure_kpa=320\n",                                                                                                                    NULL                             },
        {"a number out of its range is said and stays",
         "Down Down Down Down Down Down \"99999\" Enter",                                                      "",                                              "! "                             },
        {"a wrong value mended",
         "Down Down Down Down Down Down \"3200x\" Enter Backspace Backspace Enter",                            "supply/static_pressure_kpa=320\n",              NULL                             },
        {"Tab keeps what is typed",                         "Down Down Down Down Down Down 3 Tab 1",
         "supply/static_pressure_kpa=3\nsupply/stop_valve=works\n",                                                                                             NULL                             },
        {"a part",                                          "a 1 \"Flat\" Enter 1",                            "parts/flat=\nflat/name=Flat\nflat/use=house\n", NULL                             },
        {"two of one name get refs of their own",           "a 1 \"Flat\" Enter a 1 \"Flat\" Enter",
         "parts/flat=\nflat/name=Flat\nparts/flat1=flat\nflat1/name=Flat\n",                                                                                    NULL                             },
        {"a name without a letter that a ref can have",     "a 1 \"漢字\" Enter",
         "parts/part=\npart/name=漢字\n",                                                                                                                     NULL                             },
        {"a branch, and what feeds it",                     "a 2 \"cold\" Enter Enter 1",
         "branches/cold=\ncold/name=cold\ncold/from=main\n",                                                                                                    "the main"                       },
        {"a whole-site protection",                         "a 4 \"BA\" Enter",                                "supply/protection/W1=\nW1/type=BA\n",
         "BA Reduced pressure zone valve"                                                                                                                                                        },
        {"a room",                                          KITCHEN,                                           SAYS_KITCHEN,                                    "nothing in it yet"              },
        {"a name is needed",                                "Esc End Enter Enter Esc",                         "",                                              NULL                             },
        {"a point, its kind found by its first letters",    MIXER,                                             SAYS_MIXER,                                      "K1 Kitchen mixer"               },
        {"nothing fitted by 0, where it is asked",          TO_FITTED "0",
         SAYS_TWO "K1/inlets/cold=\nK1/inlets/cold/protection=nothing\n",                                                                                       "nothing"                        },
        {"whether anything is fitted can't be seen",        TO_FITTED "t",
         SAYS_TWO "K1/inlets/cold=\nK1/inlets/cold/protection=cannot_tell\n",                                                                                   "cannot tell"                    },
        {"0 on another line says where it is for",          MIXER "0",                                         SAYS_MIXER,                                      "0 says that nothing"            },
        {"what was said of an inlet, taken back",           TO_FITTED "0 Up x",                                SAYS_TWO "K1/inlets/cold=\n",
         NULL                                                                                                                                                                                    },
        {"a point by another word for it",                  KITCHEN "a Enter \"fauc\" Enter",
         SAYS_KITCHEN "kitchen/points/K1=\nK1/kind=outside_tap\n",                                                                                              "Outside tap"                    },
        {"a protection",                                    TO_FITTED "Enter \"EB\" Enter",
         SAYS_TWO "K1/inlets/cold=\nK1/inlets/cold/protection/K1a=\nK1a/type=EB\n",                                                                             "EB"                             },
        {"a second one, before the first in the flow",
         TO_FITTED "Enter \"EB\" Enter Home "
                   "Space Space Space Up Up Up a 3 \"EA\" Enter",                                              NULL,                                            NULL                             },
        {"what feeds an inlet that the survey lacks",       MIXER "Space Space Space Space Up 1",
         SAYS_MIXER "K1/inlets/cold=\nK1/inlets/cold/fed_by=main\n",                                                                                            "the main"                       },
        {"one of several, not known which",                 MIXER "Enter Down + Down + Enter",
         SAYS_MIXER "K1/answers/spout=swivel, folds_down\n",                                                                                                    "swivels or folds down"          },
        {"an action taken",                                 MIXER "a 2 1",
         SAYS_MIXER "K1/action_taken/A1=\nK1/action_taken/A1/what=isolated\n",                                                                                  "isolated"                       },
        {"another name for a room",                         KITCHEN "e Ctrl-U \"Scullery\" Enter",
         "rooms/kitchen=\nkitchen/name=Scullery\n",                                                                                                             "Scullery"                       },
        {"a name for a point",                              MIXER "e \"by the window\" Enter",
         SAYS_MIXER "K1/name=by the window\n",                                                                                                                  "K1 Kitchen mixer, by the window"},
        {"a room taken out with all it holds",              MIXER "Esc Up d y",                                "",                                              "is removed"                     },
        {"taking out asks, and no is the default",          MIXER "d Enter",                                   SAYS_MIXER,                                      "Kept."                          },
        {"undo",                                            "Down 2 u",                                        "",                                              "Taken back"                     },
        {"undo of a room with all it holds",                MIXER "1 Esc Up d y u",
         SAYS_MIXER "K1/answers/spout=fixed\n",                                                                                                                 "Kitchen mixer"                  },
        {"redo",                                            "Down 2 u Ctrl-R",                                 "premises/nation=wales\n",                       "Made again"                     },
        {"a change after undo ends redo",                   "Down 2 u 3 Ctrl-R",                               "premises/nation=scotland\n",
         "Nothing to make again"                                                                                                                                                                 },
        {"undo past the first",                             "u",                                               "",                                              "Nothing to take back"           },
        {"another like it, next to it",                     MIXER "1 n c",
         SAYS_FIXED "kitchen/points/K2=K1\nK2/kind=kitchen_mixer\nK2/answers/spout=fixed\n"
                    "K2/answers/hose_in_sink=no\n",                                                                                                             "Like K1"                        },
        {"what is said of one alone is not copied",         MIXER "1 Up Up 1 Esc e \"left\" Enter c",
         SAYS_MIXER "K1/answers/spout=fixed\nK1/seen=yes\nK1/name=left\n"
                    "kitchen/points/K2=K1\nK2/kind=kitchen_mixer\nK2/answers/spout=fixed\n",                                                                    NULL                             },
        {"nor what the undertaker said of one",             MIXER "End Up Up 3 c",
         SAYS_MIXER "K1/undertaker_says/category=3\nkitchen/points/K2=K1\n"
                    "K2/kind=kitchen_mixer\n",                                                                                                                  NULL                             },
        {"a copy has refs of its own for what is fitted",   TO_FITTED "Enter \"EB\" Enter c",
         SAYS_TWO SAYS_COLD_EB
         "kitchen/points/K2=K1\nK2/kind=kitchen_mixer\nK2/answers/spout=fixed\n"
         "K2/answers/mixes=at_outlet\nK2/inlets/cold=\n"
         "K2/inlets/cold/protection/K2a=\nK2a/type=EB\n",                                                                                                       NULL                             },
        {"the answers of the last of its kind, where open", MIXER "1 n Esc a 1 \"kit\" Enter 2 r",
         SAYS_FIXED "kitchen/points/K2=K1\nK2/kind=kitchen_mixer\nK2/answers/spout=swivel\n"
                    "K2/answers/hose_in_sink=no\n",                                                                                                             "as in K1"                       },
        {"the first of its kind has none before it",        MIXER "r",                                         SAYS_MIXER,                                      "no other one"                   },
        {"one more in a room",                              MIXER "1 Esc Up r",
         SAYS_MIXER "K1/answers/spout=fixed\nkitchen/points/K2=K1\nK2/kind=kitchen_mixer\n"
                    "K2/answers/spout=fixed\n",                                                                                                                 NULL                             },
        {"a room with all that is in it",                   MIXER "1 Esc Up c \"Scullery\" Enter",
         SAYS_MIXER "K1/answers/spout=fixed\nrooms/scullery=kitchen\nscullery/name=Scullery\n"
                    "scullery/points/S1=\nS1/kind=kitchen_mixer\nS1/answers/spout=fixed\n",                                                                     "Like Kitchen"                   },
        {"a copy undone in one",                            MIXER "1 Esc Up c \"Scullery\" Enter u",
         SAYS_MIXER "K1/answers/spout=fixed\n",                                                                                                                 NULL                             },
        {"to another room",                                 MIXER "1 Esc a 2 \"Larder\" Enter Up m Enter",
         SAYS_KITCHEN "rooms/larder=kitchen\nlarder/name=Larder\nlarder/points/K1=\n"
                      "K1/kind=kitchen_mixer\nK1/answers/spout=fixed\n",                                                                                        "is in Larder now"               },
        {"to another room and back",                        MIXER "1 Esc a 2 \"Larder\" Enter Up m Enter u",
         SAYS_MIXER "K1/answers/spout=fixed\nrooms/larder=kitchen\nlarder/name=Larder\n",                                                                       NULL                             },
        {"no other room to move to",                        MIXER "m",                                         SAYS_MIXER,                                      "There is no other room"         },
        {"a point before the one before it",                MIXER "Esc a 1 \"out\" Enter Esc <",
         SAYS_KITCHEN "kitchen/points/K2=\nK2/kind=outside_tap\nkitchen/points/K1=K2\n"
                      "K1/kind=kitchen_mixer\n",                                                                                                                "stands before"                  },
        {"and after it again",                              MIXER "Esc a 1 \"out\" Enter Esc < >",
         SAYS_MIXER "kitchen/points/K2=K1\nK2/kind=outside_tap\n",                                                                                              "stands after"                   },
        {"the first stays the first",                       MIXER "Esc <",                                     SAYS_MIXER,                                      "the first already"              },
        {"a protection nearer to the supply",               TO_FITTED "Enter \"EB\" Enter a 3 \"EA\" Enter <",
         SAYS_TWO "K1/inlets/cold=\nK1/inlets/cold/protection/K1b=\nK1b/type=EA\n"
                  "K1/inlets/cold/protection/K1a=K1b\nK1a/type=EB\n",                                                                                           NULL                             },
        {"q with nothing changed asks nothing",             "q",                                               "",                                              NULL                             },
};

START_TEST(keys_make_the_survey)
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

/* -- the verdict ----------------------------------------------------------------------------- */

START_TEST(draft_moves_the_verdict_and_nothing_else)
{
	struct drive d;
	char *before, *after;

	drive_begin(&d, 24, 80, true);
	drive(&d, TO_FITTED "Enter \"AUK\" Enter");
	drive_expect(&d, "on paper 1???????????????????5", "not measured");
	before = drive_says(&d.survey);
	drive(&d, "\"9\"");
	drive_expect(&d, "short if so", "too low, as typed");
	drive(&d, "\"9\"");
	drive_expect(&d, "undecided if so", "high enough for some bores, as typed");
	after = drive_says(&d.survey);
	ck_assert_str_eq(before, after);
	drive(&d, "Esc");
	drive_expect(&d, "undecided: ", "a draft ends with its field");
	free(before);
	free(after);
	drive_end(&d);
}
END_TEST

START_TEST(list_shows_the_verdict_of_what_it_is_on)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, TO_FITTED "Enter \"ED\" Enter Down Enter");
	/* the checks of a double check: sound, then taken out */
	drive_expect(&d, "How are the checks?", "the list is open");
	drive_expect(&d, "in fact  ==========3", "sound");
	drive(&d, "Down Down");
	drive_expect(&d, "in fact  1", "both taken out");
	drive(&d, "Esc");
	drive_end(&d);
}
END_TEST

START_TEST(what_is_usual_is_offered_first)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, KITCHEN "a Enter \"bib\" Enter Space Space Space Space Space Enter");
	drive_expect(&d, "What is fitted?", "the list is open");
	drive_expect(&d, "> 1 ED Non-verifiable double check valve   usual here", "the first");
	drive_expect(&d, "  2 AUK3 Higher-risk tap gap   usual here", "in the kind's order");
	drive_expect(&d, "  3 Plain stop valve", "then the rest");
	drive(&d, "\"ED\" Down");
	drive_expect(&d, "> ED Non-verifiable double check valve   usual here", "each once");
	drive_end(&d);
}
END_TEST

START_TEST(what_may_be_fitted_moves_the_verdict_before_it_is_taken)
{
	struct drive d;
	char *before, *after;

	drive_begin(&d, 24, 80, true);
	drive(&d, TO_FITTED);
	before = drive_says(&d.survey);
	drive(&d, "Enter \"ED\"");
	drive_expect(&d, "short if so", "a type is looked at");
	drive_expect(&d, "in fact  1?????????3!!!!!!!!!|", "on an inlet that the survey lacks");
	drive(&d, "Backspace \"B\"");
	drive_expect(&d, "in fact  1????2!!!!!!!!!!!!!!|", "another one");
	after = drive_says(&d.survey);
	ck_assert_str_eq(before, after);
	drive(&d, "Esc");
	drive_expect(&d, "in fact  1???????????????????5", "nothing stays of it");
	drive(&d, "Enter \"ED\" Enter");
	drive_expect(&d, "K1a", "the ref is still free");
	free(before);
	free(after);
	drive_end(&d);
}
END_TEST

static size_t times_shown(const struct drive *drive, const char *words)
{
	char *text = drive_text(drive);
	size_t times = 0;

	for (const char *at = text; (at = strstr(at, words)) != NULL; at++)
		times++;
	free(text);
	return times;
}

START_TEST(space_visits_what_can_move_the_verdict)
{
	struct drive d;

	drive_begin(&d, 50, 80, true);
	drive(&d, MIXER);
	drive_expect(&d, ">* What kind of spout?", "first");
	drive(&d, "Space");
	drive_expect(&d, ">* Is a hose", "second");
	drive(&d, "Space 2 Space");
	drive_expect(&d, ">* What is fitted", "the same source can't move it any more");
	ck_assert_uint_eq(times_shown(&d, "* What is fitted"), 2);
	drive(&d, "0");
	ck_assert_uint_eq(times_shown(&d, "* What is fitted"), 1);
	drive_expect(&d, " * What is fitted, from the supply on?      [ ]", "the other inlet");
	drive(&d, "Space 0 Space 1 Space Space");
	drive_expect(&d, "No question left here can move the verdict.", "the end");
	drive_end(&d);
	drive_begin(&d, 50, 80, true);
	drive(&d, MIXER "1 Esc Enter");
	drive_expect(&d, ">* Where do hot and cold mix?", "a form opens where it left off");
	drive_end(&d);
}
END_TEST

START_TEST(house_follows_what_is_answered_and_taken_back)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, TO_FITTED "0 Space 0 Esc Up");
	drive_expect(&d, "1 short", "both are bare");
	ck_assert_uint_eq(times_shown(&d, "undecided"), 0);
	drive(&d, "u u Esc Up");
	drive_expect(&d, "1 undecided", "the last is open again");
	ck_assert_uint_eq(times_shown(&d, "1 short"), 0);
	drive(&d, "Ctrl-R Ctrl-R Esc Up");
	drive_expect(&d, "1 short", "and bare again");
	drive_end(&d);
}
END_TEST

/* 40 columns: number and name from the fifth on, two blanks, and of the part what there is room for. */
START_TEST(name_of_a_room_goes_before_its_part)
{
	struct drive d;

	drive_begin(&d, 24, 40, true);
	drive(&d, "Esc a \"part\" Enter \"Restaurant or canteen or take-away\" Enter Esc "
	          "a \"part\" Enter \"flat\" Enter Esc End Enter \"Plant room\" Enter "
	          "a Enter \"kit\" Enter Esc Up Enter Down 1 Esc");
	drive_expect(&d, "> 1 Plant room  Restaurant or canteen o~\n", "the part is cut");
	drive(&d, "e Ctrl-U \"Room for the tanks below the stairs\" Enter");
	drive_expect(&d, "> 1 Room for the tanks below ~  Restaur~\n", "both are");
	drive_end(&d);
}
END_TEST

/* What stands on a cistern's inlet stands in the way of what it feeds. */
START_TEST(what_is_fitted_on_a_cistern_moves_what_it_feeds)
{
	static const char fed[] = "/ \"feeds\" Enter Enter Enter \"tank\" Enter 0 "
	                          "Enter \"tank\" Enter 0 ";
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, KITCHEN "a Enter \"cis\" Enter Esc Home Enter a 2 \"tank\" Enter "
	                  "Enter \"K1\" Enter Esc Home ] a 1 \"kit\" Enter 1 Down 2");
	drive(&d, fed);
	drive(&d, "Esc");
	drive_expect(&d, "Ask next: K1 Cold water cistern:", "the cistern's own inlet");
	drive(&d, "Enter");
	ck_assert_uint_eq(times_shown(&d, "* What is fitted"), 0);
	drive(&d, "Space");
	drive_expect(&d, "Kitchen: K1 Cold water cistern", "Space leads there");
	drive_expect(&d, ">* What is fitted, from the supply on?", "on what is asked");
	drive(&d, "0 Esc");
	drive_expect(&d, "Kitchen: K2 Kitchen mixer", "and Esc back");
	drive(&d, "Esc Up");
	drive_expect(&d, "short by 4", "nothing on it");
	drive(&d, "Enter / \"fitted, from\" Enter Enter x Enter \"EC\" Enter Esc");
	drive_expect(&d, "short by 3", "a double check, not tested");
	drive(&d, "u u Esc");
	drive_expect(&d, "short by 4", "taken back");
	drive_end(&d);
}
END_TEST

START_TEST(what_cannot_move_the_verdict_folds_away)
{
	struct drive d;

	drive_begin(&d, 50, 80, true);
	drive(&d, MIXER "3 Down 2 Space 0 Space 0 Home");
	drive_expect(&d, "When was it put in?", "shown");
	drive_expect(&d, "Do hot and cold come", "shown");
	drive(&d, "z");
	ck_assert_uint_eq(times_shown(&d, "When was it put in?"), 0);
	ck_assert_uint_eq(times_shown(&d, "Do hot and cold come"), 0);
	drive_expect(&d, "What kind of spout?", "answered: stays");
	drive_expect(&d, "* Is a hose", "can move it: stays");
	ck_assert_uint_eq(times_shown(&d, "The undertaker says"), 0);
	drive(&d, "Down Down Down Down");
	drive_expect(&d, ">  What is fitted", "nothing hidden gets the focus");
	drive(&d, "z");
	drive_expect(&d, "Do hot and cold come", "shown again");
	drive_end(&d);
}
END_TEST

START_TEST(space_leads_to_the_premises_where_the_verdict_hangs_on_them)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d,
	      "a 1 \"Flat\" Enter Esc End Enter \"Garden\" Enter a Enter \"out\" Enter 1 Space n "
	      "Space 0 Space");
	drive_expect(&d, "Premises sheet", "the part's use decides");
	drive_expect(&d, ">    What is it used as?", "the part's use decides");
	drive(&d, "1 Esc");
	drive_expect(&d, "G1 Outside tap", "and back to the tap");
	drive_expect(&d, "needed   .    .    3", "and back to the tap");
	drive_end(&d);
}
END_TEST

START_TEST(every_verdict_carries_the_caution)
{
	static const int sizes[][2] = {
	        {24, 80 },
                {30, 100},
                {50, 160}
        };
	struct drive d;

	for (size_t i = 0; i < 3; i++) {
		drive_begin(&d, sizes[i][0], sizes[i][1], true);
		drive(&d, MIXER);
		drive_expect(&d, "approves", "form");
		drive_expect(&d, "the undertaker decides", "form");
		drive(&d, "v");
		drive_expect(&d, "the undertaker decides", "verdict");
		drive_end(&d);
	}
}
END_TEST

/* -- saving and leaving ---------------------------------------------------------------------- */

struct leaving {
	const char *title, *keys;
	bool save_fails;
	size_t saves, leaves;
	enum walk_leaving how;
	const char *shows;
};

static const struct leaving leavings[] = {
        {"nothing changed",                            "q",                                false, 0, 1, WALK_LEAVING_SAVED,   NULL           },
        {"asks where something is not saved",          "Down 2 q",                         false, 0, 0, 0,                    "Not saved yet"},
        {"the default stays",                          "Down 2 q Enter",                   false, 0, 0, 0,                    "Stayed"       },
        {"Esc stays",                                  "Down 2 q Esc",                     false, 0, 0, 0,                    "Stayed"       },
        {"another letter is no answer",                "Down 2 q x",                       false, 0, 0, 0,                    "Not saved yet"},
        {"save, then leave",                           "Down 2 q s",                       false, 1, 1, WALK_LEAVING_SAVED,   NULL           },
        {"a failed save does not leave",               "Down 2 q s",                       true,  1, 0, 0,
         "Not saved: the disk is full"                                                                                                       },
        {"discard",                                    "Down 2 q d",                       false, 0, 1, WALK_LEAVING_DISCARD, NULL           },
        {"saved, then leave",                          "Down 2 s q",                       false, 1, 1, WALK_LEAVING_SAVED,   NULL           },
        {"a failed save stays unsaved",                "Down 2 s q",                       true,  1, 0, 0,                    "Not saved yet"},
        {"undo back to the saved state",               "Down 2 s Down Down Down y u q",    false, 1, 1,
         WALK_LEAVING_SAVED,                                                                                                  NULL           },
        {"a changed past is not the saved state",      "Down 2 s u 3 q",                   false, 1, 0, 0,
         "Not saved yet"                                                                                                                     },
        {"Ctrl-S in a field saves and leaves it open", "Enter \"abc\" Ctrl-S \"d\" Enter", false, 1,
         0,                                                                                             0,                    "abcd"         },
        {"one Ctrl-C asks",                            "Down 2 Ctrl-C",                    false, 0, 0, 0,                    "Not saved yet"},
        {"two leave at once",                          "Down 2 Ctrl-C Ctrl-C",             false, 0, 1, WALK_LEAVING_BROKEN,  NULL           },
        {"Ctrl-C in a field keeps what is typed",      "Enter \"abc\" Ctrl-C \"d\" Enter", false, 0, 0,
         0,                                                                                                                   "abcd"         },
};

START_TEST(leaves_as_asked)
{
	const struct leaving *row = &leavings[_i];
	struct drive d;

	drive_begin(&d, 24, 80, true);
	d.save_fails = row->save_fails;
	drive(&d, row->keys);
	ck_assert_msg(d.saves == row->saves, "%s: saved %zu times", row->title, d.saves);
	ck_assert_msg(d.leaves == row->leaves, "%s: left %zu times", row->title, d.leaves);
	if (row->leaves > 0)
		ck_assert_msg(d.leaving == row->how, "%s: left as %d", row->title, (int)d.leaving);
	if (row->shows != NULL)
		drive_expect(&d, row->shows, row->title);
	drive_end(&d);
}
END_TEST

static const struct {
	const char *title, *keys, *path; /* path: NULL where it is not asked for */
	bool fails;
	const char *shows;
} elsewhere[] = {
        {"begins with where it is",      "Ctrl-O",                                NULL,             false, "Save to: elm_row.yaml"},
        {"Enter saves",                  "Ctrl-O",                                NULL,             false, "Enter save  "         },
        {"one that is typed",            "Down 2 Ctrl-O Ctrl-U \"o.yaml\" Enter", "o.yaml",         false, "Saved."               },
        {"what is there may be changed", "Down 2 Ctrl-O Home \"a/\" Enter",       "a/elm_row.yaml", false,
         "Saved."                                                                                                                 },
        {"a blank is no path",           "Ctrl-O Ctrl-U \"  \" Enter",            NULL,             false, NULL                   },
        {"Esc leaves it",                "Ctrl-O \"x\" Esc",                      NULL,             false, NULL                   },
        {"one that is there stays",      "Down 2 Ctrl-O \"x\" Enter",             "elm_row.yamlx",  true,
         "Not saved: it is there already"                                                                                         },
        {"then it asks before leaving",  "Down 2 Ctrl-O \"x\" Enter q",           "elm_row.yamlx",  true,
         "Not saved yet"                                                                                                          },
};

START_TEST(saves_elsewhere_as_asked)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	d.save_fails = elsewhere[_i].fails;
	drive(&d, elsewhere[_i].keys);
	ck_assert_msg(d.saves_as == (elsewhere[_i].path != NULL), "%s: asked %zu times",
	              elsewhere[_i].title, d.saves_as);
	if (elsewhere[_i].path != NULL)
		ck_assert_str_eq(d.saved_as, elsewhere[_i].path);
	if (elsewhere[_i].shows != NULL)
		drive_expect(&d, elsewhere[_i].shows, elsewhere[_i].title);
	drive_end(&d);
}
END_TEST

START_TEST(another_name_is_shown)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	walk_rename(d.walk, "elsewhere.yaml");
	drive(&d, "Down");
	drive_expect(&d, "tundish  elsewhere.yaml", "the title");
	drive_end(&d);
}
END_TEST

/* -- text ------------------------------------------------------------------------------------- */

START_TEST(paste_is_one_line_of_text)
{
	static const char pasted[] = "a\r\nb\tc\x1b[201~d\x01";
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, "Enter");
	drive_key(&d, &(struct walk_key){WALK_KEY_PASTE, pasted, sizeof(pasted) - 1});
	drive_expect(&d, "a b c[201~d", "pasted");
	drive(&d, "Enter");
	drive_end(&d);
}
END_TEST

START_TEST(full_field_refuses_visibly)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, "Enter");
	for (int i = 0; i < 1100; i++)
		drive_key(&d, &(struct walk_key){WALK_KEY_TEXT, "x", 1});
	drive_expect(&d, "The field is full", "full");
	drive(&d, "Enter");
	ck_assert_uint_eq(
	        strlen(item_text(d.survey.premises, d.survey.premises->answer[0].question)), 1024);
	drive_end(&d);
}
END_TEST

/* The field stands where messages do: what is said to it is said above it, in any room. */
START_TEST(what_is_said_to_a_field_is_seen)
{
	static const struct {
		int rows, cols;
		const char *keys, *says;
	} rows[] = {
	        {24, 80,  "Ctrl-O Ctrl-U Enter",        "! It needs a name; Esc leaves it."},
	        {10, 40,  "Ctrl-O Ctrl-U Enter",        "! It needs a name; Esc leaves it."},
	        {50, 160, "Ctrl-O Ctrl-U \"  \" Enter", "! It needs a name; Esc leaves it."},
	        {10, 40,  "Enter",                      "Name of the new room:"            },
	        {10, 40,  "Enter Enter",                "! It needs a name; Esc leaves it."},
	};

	for (size_t i = 0; i < sizeof(rows) / sizeof(rows[0]); i++) {
		struct drive d;

		drive_begin(&d, rows[i].rows, rows[i].cols, false);
		drive(&d, "Home Down Down");
		drive(&d, rows[i].keys);
		ck_assert_int_eq(walk_context(d.walk), IN_TEXT);
		drive_expect(&d, rows[i].says, rows[i].keys);
		drive(&d, "\"x\"");
		ck_assert_msg(!drive_shows(&d, "It needs a name"), "gone with the next key");
		drive_end(&d);
	}
}
END_TEST

START_TEST(one_press_deletes_what_looks_like_one_character)
{
	static const char *const clusters[] = {"é", "e\xcc\x81", "漢", "👩‍🔧"};
	struct drive d;

	for (size_t i = 0; i < 4; i++) {
		drive_begin(&d, 24, 80, true);
		drive(&d, "Enter \"ab\"");
		drive_key(&d, &(struct walk_key){WALK_KEY_PASTE, clusters[i], strlen(clusters[i])});
		drive(&d, "Backspace Enter");
		ck_assert_str_eq(d.survey.premises->answer[0].text, "ab");
		drive_end(&d);
	}
}
END_TEST

START_TEST(what_is_named_elsewhere_is_not_removed)
{
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, "a 2 \"cold\" Enter " MIXER "Space Space Space Space Up 2");
	drive_expect(&d, "cold", "fed by the branch");
	drive(&d, "Esc Home Enter ] ] ] d");
	drive_expect(&d, "change that first", "the branch feeds something");
	drive_end(&d);
}
END_TEST

static Suite *walk_suite(void)
{
	Suite *suite = suite_create("walk");
	TCase *table = tcase_create("requests"), *keys = tcase_create("keys"),
	      *verdict = tcase_create("verdict"), *leave = tcase_create("leaving"),
	      *text = tcase_create("text");
	TCase *all[] = {table, keys, verdict, leave, text};

	for (size_t i = 0; i < sizeof(all) / sizeof(all[0]); i++) {
		tcase_add_unchecked_fixture(all[i], drive_load, drive_unload);
		suite_add_tcase(suite, all[i]);
	}
	tcase_add_loop_test(table, request_is_reached_by_each_of_its_keys, 0, REQUEST_COUNT);
	tcase_add_loop_test(table, request_has_a_plain_word, 0, REQUEST_COUNT);
	tcase_add_test(table, letters_are_text_where_text_is_typed);
	tcase_add_test(table, pasted_text_is_no_command);
	tcase_add_test(table, help_and_the_way_out_are_always_named);
	tcase_add_loop_test(keys, keys_make_the_survey, 0, sizeof(deeds) / sizeof(deeds[0]));
	tcase_add_test(keys, what_is_named_elsewhere_is_not_removed);
	tcase_add_test(verdict, draft_moves_the_verdict_and_nothing_else);
	tcase_add_test(verdict, list_shows_the_verdict_of_what_it_is_on);
	tcase_add_test(verdict, what_is_usual_is_offered_first);
	tcase_add_test(verdict, what_may_be_fitted_moves_the_verdict_before_it_is_taken);
	tcase_add_test(verdict, space_visits_what_can_move_the_verdict);
	tcase_add_test(verdict, house_follows_what_is_answered_and_taken_back);
	tcase_add_test(verdict, name_of_a_room_goes_before_its_part);
	tcase_add_test(verdict, what_is_fitted_on_a_cistern_moves_what_it_feeds);
	tcase_add_test(verdict, what_cannot_move_the_verdict_folds_away);
	tcase_add_test(verdict, space_leads_to_the_premises_where_the_verdict_hangs_on_them);
	tcase_add_test(verdict, every_verdict_carries_the_caution);
	tcase_add_loop_test(leave, saves_elsewhere_as_asked, 0,
	                    sizeof(elsewhere) / sizeof(elsewhere[0]));
	tcase_add_test(leave, another_name_is_shown);
	tcase_add_loop_test(leave, leaves_as_asked, 0, sizeof(leavings) / sizeof(leavings[0]));
	tcase_add_test(text, paste_is_one_line_of_text);
	tcase_add_test(text, full_field_refuses_visibly);
	tcase_add_test(text, what_is_said_to_a_field_is_seen);
	tcase_add_test(text, one_press_deletes_what_looks_like_one_character);
	return suite;
}

int main(void)
{
	return suite_run(walk_suite());
}
