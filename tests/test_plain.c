/*
 * The walk as lines: dialogues that a person can read, what one can do the other can, and what is
 * not taken.
 */
#include "quiz_drive.h"

#include "tundish/plain/plain.h"
#include "tundish/walk/quiz.h"
#include "tundish/walk/requests.h"
#include "tundish/walk/tell.h"

#include "suite.h"

#include <dirent.h>

enum { TEXT_MOST = 1 << 17, GOLDENS_MOST = 50, GOLDENS_LEAST = 6, ROWS = 200, COLS = 80 };

enum sitting { NO_QUIZ, PRACTICE, EXAM };

struct lines {
	struct quizzed q; /* of a walk that is no quiz only its drive */
	struct walk_host host;
	struct sink out;
	struct plain *plain;
	size_t said; /* bytes of output before the last line */
};

static void on_committed(void *context, struct walk *walk, const struct changes *changes)
{
	struct drive *drive = context;

	(void)walk;
	drive->committed++;
	drive_replay(drive, changes);
}

static void on_save(void *context, struct walk *walk)
{
	struct drive *drive = context;

	drive->saves++;
	walk_saved(walk, !drive->save_fails, drive->save_fails ? "the disk is full." : NULL);
}

/* Keys go to a walk or a quiz, effects to whoever counts or hears them. */
static void sitting_begin(struct quizzed *q, enum sitting sitting, bool ascii)
{
	memset(q, 0, sizeof(*q));
	if (sitting == NO_QUIZ) {
		drive_begin_with(&q->drive, ROWS, COLS,
		                 &(struct walk_options){.name = "elm_row.yaml",
		                                        .fresh = true,
		                                        .ascii = true,
		                                        .lines = true});
		return;
	}
	quiz_begin_on(q, &drive_book, ROWS, COLS, sitting == EXAM, ascii);
	q->drive.host = &q->host;
}

static void lines_begin_in(struct lines *lines, enum sitting sitting, const char *keys, bool ascii)
{
	sitting_begin(&lines->q, sitting, ascii);
	drive(&lines->q.drive, keys);
	lines->host = lines->q.host;
	if (sitting == NO_QUIZ)
		lines->host = (struct walk_host){
		        .context = &lines->q.drive, .committed = on_committed, .save = on_save};
	sink_to_memory(&lines->out);
	lines->plain = plain_create(lines->q.drive.walk, &lines->host,
	                            &(struct plain_options){true, ascii}, &lines->out);
	ck_assert_ptr_nonnull(lines->plain);
	plain_begin(lines->plain);
	lines->said = lines->out.count;
}

static void lines_begin(struct lines *lines, const char *keys, bool ascii)
{
	lines_begin_in(lines, NO_QUIZ, keys, ascii);
}

static void lines_take(struct lines *lines, const char *line)
{
	lines->said = lines->out.count;
	plain_take(lines->plain, line, strlen(line));
}

static const char *lines_said(const struct lines *lines)
{
	return lines->out.bytes + lines->said;
}

static void lines_end(struct lines *lines)
{
	plain_destroy(lines->plain);
	sink_finish(&lines->out);
	quiz_end_drive(&lines->q);
}

/* -- dialogues ----------------------------------------------------------------------------- */

static char *names[GOLDENS_MOST];
static int name_count;

static int by_name(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

static void list_goldens(void)
{
	DIR *folder = opendir(TUNDISH_TESTS "/golden");
	struct dirent *entry;

	while (folder != NULL && (entry = readdir(folder)) != NULL) {
		const char *dot = strrchr(entry->d_name, '.');

		if (dot != NULL && strcmp(dot, ".plain") == 0 && name_count < GOLDENS_MOST)
			names[name_count++] = strdup(entry->d_name);
	}
	if (folder != NULL)
		closedir(folder);
	qsort(names, (size_t)name_count, sizeof(names[0]), by_name);
}

static char *read_all(const char *path)
{
	char *text = malloc(TEXT_MOST);
	FILE *file = fopen(path, "r");

	ck_assert_msg(file != NULL, "%s can't be read", path);
	ck_assert_ptr_nonnull(text);
	text[fread(text, 1, TEXT_MOST - 1, file)] = '\0';
	fclose(file);
	return text;
}

/* What was typed is what stands behind the prompts. */
static void type_again(struct lines *lines, const char *dialogue)
{
	for (const char *line = dialogue; line != NULL && *line != '\0';) {
		size_t length = strcspn(line, "\n");

		/* the last prompt of a session that was not left */
		if (line[length] == '\0')
			return;
		if (strncmp(line, "> ", 2) == 0)
			plain_take(lines->plain, line + 2, length - 2);
		line += length + 1;
	}
}

START_TEST(dialogue_is_as_it_was)
{
	char path[1024];
	const char *update = getenv("UPDATE_GOLDEN");
	struct lines lines;
	char *text, *body;

	snprintf(path, sizeof(path), "%s/golden/%s", TUNDISH_TESTS, names[_i]);
	text = read_all(path);
	body = strstr(text, "----\n");
	ck_assert_msg(body != NULL, "%s has no ----", names[_i]);
	body += 5;
	lines_begin_in(&lines,
	               strstr(text, "\nquiz: practice\n") != NULL ? PRACTICE
	               : strstr(text, "\nquiz: exam\n") != NULL   ? EXAM
	                                                          : NO_QUIZ,
	               "", strstr(text, "\nsigns: ascii\n") != NULL);
	type_again(&lines, body);
	if (update != NULL && strcmp(update, "1") == 0) {
		FILE *file = fopen(path, "w");

		ck_assert_ptr_nonnull(file);
		fwrite(text, 1, (size_t)(body - text), file);
		fputs(lines.out.bytes, file);
		fclose(file);
	} else {
		ck_assert_msg(strcmp(lines.out.bytes, body) == 0, "%s is now:\n%s", names[_i],
		              lines.out.bytes);
	}
	free(text);
	lines_end(&lines);
}
END_TEST

START_TEST(there_are_goldens_at_all)
{
	ck_assert_int_ge(name_count, GOLDENS_LEAST);
}
END_TEST

/* -- what one can do the other can ----------------------------------------------------------- */

#define KITCHEN   "Esc End Enter \"Kitchen\" Enter "
#define MIXER     KITCHEN "a Enter \"kit\" Enter "
#define AT(label) "/ \"" label "\" Enter Enter "
#define PRESSURE  AT("Standing")
#define SHARED    AT("shared")
#define FITTED    AT("What is fit")

/* Where a word is tried against its key. */
static const struct state {
	const char *title;
	enum context context;
	const char *keys;
	enum sitting sitting;
} states[] = {
        {"the house, on an outlet",                   IN_HOUSE,      MIXER "1 y Esc",              NO_QUIZ },
        {"the house, on a room",                      IN_HOUSE,      MIXER "1 y Esc Up",           NO_QUIZ },
        {"the house, something undone",               IN_HOUSE,      MIXER "1 y u Esc",            NO_QUIZ },
        {"a form, on a choice",                       IN_FORM,       MIXER "1",                    NO_QUIZ },
        {"a form, on a yes or no",                    IN_FORM,       MIXER "1 Down",               NO_QUIZ },
        {"a form, on what is fitted",                 IN_FORM,       MIXER FITTED,                 NO_QUIZ },
        {"a form, something undone",                  IN_FORM,       MIXER "1 y u",                NO_QUIZ },
        {"the premises sheet",                        IN_FORM,       SHARED "y Up",                NO_QUIZ },
        {"a list, narrowed",                          IN_LIST,       MIXER "Enter \"s\"",          NO_QUIZ },
        {"a list, of several",                        IN_LIST,       MIXER "Enter Down",           NO_QUIZ },
        {"a field with something typed",              IN_TEXT,       "Enter \"ab\"",               NO_QUIZ },
        {"the name of a new room",                    IN_TEXT,       "Esc End Enter \"ab\"",       NO_QUIZ },
        {"asked about taking out",                    IN_QUESTION,   MIXER "Esc d",                NO_QUIZ },
        {"asked about leaving",                       IN_QUESTION,   "Down 1 q",                   NO_QUIZ },
        {"just after something was found",            IN_FOUND,      MIXER "/ \"seen\" Enter",     NO_QUIZ },
        {"a task, none marked",                       IN_TASK,       "",                           PRACTICE},
        {"a task, one marked",                        IN_TASK,       "Down Down",                  PRACTICE},
        {"a task that was answered",                  IN_TASK,       "1",                          PRACTICE},
        {"a task whose number is typed",              IN_TASK,       "] ] ] ] ]",                  PRACTICE},
        {"the last task, all others answered",        IN_TASK,
         "1 Space 1 Space 1 Space 1 Space 1 Space \"30\" Enter Space 1",                           PRACTICE},
        {"a task of an exam, answered",               IN_TASK,       "1 [",                        EXAM    },
        {"the result",                                IN_TASK,       "1 f y",                      EXAM    },
        {"the form of a task",                        IN_LOOK_FORM,  "Esc Down",                   PRACTICE},
        {"the form of one whose verdict may be read", IN_LOOK_FORM,  "1 Space 1 Space 1 Esc Down",
         PRACTICE                                                                                          },
        {"the house of a quiz",                       IN_LOOK_HOUSE, "Esc Esc Down",               PRACTICE},
        {"the house of a quiz that is over",          IN_LOOK_HOUSE, "f y Esc Down",               PRACTICE},
        {"the number of a task",                      IN_TEXT,       "] ] ] ] ] Enter \"3\"",      EXAM    },
        {"asked about handing in",                    IN_QUESTION,   "1 f",                        EXAM    },
        {"asked about leaving a quiz",                IN_QUESTION,   "1 q",                        PRACTICE},
        {"the list of tasks",                         IN_LIST,       "1 t",                        EXAM    },
        {"found in a quiz",                           IN_FOUND,      "Esc / \"seen\" Enter",       PRACTICE},
};
enum { STATES = sizeof(states) / sizeof(states[0]) };

/* Only the line that is typed into has these: a line comes whole. */
static bool only_edits(const struct request_row *row)
{
	return strncmp(row->id, "TEXT_", 5) == 0;
}

/* Of several keys with one word the word is the first's; these are such others. */
static bool is_another_key(enum request request)
{
	static const enum request others[] = {
	        REQUEST_SAVE_ANYWHERE, REQUEST_UP_LETTER,     REQUEST_DOWN_LETTER,
	        REQUEST_KEEP_NEXT,     REQUEST_KEEP_PREVIOUS, REQUEST_HELP_ANYWHERE,
	        REQUEST_INTERRUPT,     REQUEST_KEEP_DOWN,     REQUEST_KEEP_UP,
	};

	for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++)
		if (others[i] == request)
			return true;
	return false;
}

static bool shares_word(enum request request, enum context context)
{
	const struct request_row *row = request_row(request);
	bool anywhere = row->contexts == IN_ALL;

	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *other = request_row((enum request)i);

		if (i == (int)request || (other->contexts & context) == 0 ||
		    strcmp(other->word, row->word) != 0)
			continue;
		/* what is meant for one place wins over what is meant for any, else the first */
		if ((other->contexts == IN_ALL) == anywhere ? i < (int)request : anywhere)
			return true;
	}
	return false;
}

/* A page is what fits a screen; an interrupt is a signal, and tested as one. */
static bool differs_by_nature(enum request request)
{
	return request == REQUEST_PAGE_UP || request == REQUEST_PAGE_DOWN ||
	       request == REQUEST_INTERRUPT;
}

START_TEST(each_request_has_a_key_and_a_word)
{
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		ck_assert_msg(row->keys[0] != '\0', "%s has no key", row->id);
		ck_assert_msg(only_edits(row) == (row->word[0] == '\0'), "%s: word `%s`", row->id,
		              row->word);
		for (unsigned context = 1; context < IN_ALL; context <<= 1) {
			if ((row->contexts & context) == 0 || row->word[0] == '\0' ||
			    !shares_word((enum request)i, (enum context)context))
				continue;
			ck_assert_msg(is_another_key((enum request)i),
			              "%s: `%s` is the word of another in %s", row->id, row->word,
			              context_name((enum context)context));
		}
	}
}
END_TEST

START_TEST(each_context_is_tried)
{
	unsigned tried = IN_VERDICT | IN_HELP; /* read out and left at once */

	for (int i = 0; i < STATES; i++)
		tried |= states[i].context;
	ck_assert_uint_eq(tried, IN_ALL);
	/* what can be asked only where lines never rest is but to leave there */
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if ((row->contexts & ~(unsigned)(IN_VERDICT | IN_HELP)) == 0)
			ck_assert_msg(i == REQUEST_CLOSE, "%s", row->id);
	}
}
END_TEST

static char *shown(struct drive *drive)
{
	/* the keys pressed may be more, and their last message is another */
	walk_say(drive->walk, false, "");
	walk_draw(drive->walk, &drive->screen);
	return drive_text(drive);
}

static void press_key(struct drive *drive, enum request request, bool numbered)
{
	const struct request_row *row = request_row(request);
	const char *keys = numbered ? "1" : row->keys;
	struct arena arena = {0};
	struct told_task task;
	struct walk_key key;

	ck_assert(walk_key_named(keys, strcspn(keys, " "), &key));
	drive_key(drive, &key);
	if ((walk_context(drive->walk) & (IN_VERDICT | IN_HELP)) != 0 ||
	    (walk_task(drive->walk, &arena, &task) && task.pane == QUIZ_LESSON)) {
		ck_assert(walk_key_named("Esc", 3, &key));
		drive_key(drive, &key);
	}
	arena_finish(&arena);
}

static void compare(const struct state *state, enum request request)
{
	const struct request_row *row = request_row(request);
	bool numbered = request == REQUEST_PICK || request == REQUEST_ROOM;
	char word[64], *a, *b, *a_says, *b_says;
	enum walk_leaving leaving;
	struct quizzed by_keys;
	struct drive *keys = &by_keys.drive;
	struct lines lines;

	sitting_begin(&by_keys, state->sitting, true);
	drive(keys, state->keys);
	ck_assert_msg(walk_context(keys->walk) == state->context, "%s: it is %s", state->title,
	              context_name(walk_context(keys->walk)));
	press_key(keys, request, numbered);
	lines_begin_in(&lines, state->sitting, state->keys, true);
	snprintf(word, sizeof(word), "%s%s", row->word, numbered ? " 1" : "");
	lines_take(&lines, word);
	a = shown(keys);
	b = shown(&lines.q.drive);
	ck_assert_msg(strcmp(a, b) == 0, "%s, %s: by key\n%s\nby word `%s`\n%s", state->title,
	              row->id, a, word, b);
	a_says = drive_says(&keys->survey);
	b_says = drive_says(&lines.q.drive.survey);
	ck_assert_msg(strcmp(a_says, b_says) == 0, "%s, %s: by key %s, by word %s", state->title,
	              row->id, a_says, b_says);
	ck_assert_msg(keys->saves == lines.q.drive.saves, "%s, %s", state->title, row->id);
	ck_assert_msg(plain_left(lines.plain, &leaving) == (keys->leaves > 0), "%s, %s",
	              state->title, row->id);
	ck_assert_msg(keys->leaves == 0 || keys->leaving == leaving, "%s, %s", state->title,
	              row->id);
	ck_assert_msg(strcmp(by_keys.heard, lines.q.heard) == 0,
	              "%s, %s: the host heard by key\n%s\nby word\n%s", state->title, row->id,
	              by_keys.heard, lines.q.heard);
	free(a);
	free(b);
	free(a_says);
	free(b_says);
	quiz_end_drive(&by_keys);
	lines_end(&lines);
}

START_TEST(word_does_what_its_key_does)
{
	const struct state *state = &states[_i];
	size_t compared = 0;

	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if ((row->contexts & state->context) == 0 || row->word[0] == '\0' ||
		    shares_word((enum request)i, state->context) ||
		    differs_by_nature((enum request)i))
			continue;
		compare(state, (enum request)i);
		compared++;
	}
	ck_assert_msg(compared > 3, "%s: %zu requests", state->title, compared);
}
END_TEST

/* -- lines ----------------------------------------------------------------------------------- */

static const struct taken {
	const char *title, *keys; /* pressed before */
	const char *lines[4];     /* then typed */
	const char *told;         /* stands in what is said to the last of them; NULL: any */
	const char *not_told;     /* does not */
	const char *says;         /* all that the survey says; NULL: any */
} takings[] = {
        {"a text",                                 "",                    {"Elm Row 7"},                       "2 of ",                              "!",    "premises/name=Elm Row 7\n"},
        {"a text that is a command",               "",                    {"= list"},                          "2 of ",                              "!",    "premises/name=list\n"     },
        {"a text with blanks around it",
         "",                                                              {"  Elm Row 7 \r"},
         "2 of ",                                                                                                                                    "!",
         "premises/name=Elm Row 7\n"                                                                                                                                                    },
        {"a sign of equality alone is a text",     "",                    {"="},                               "2 of ",                              "!",    "premises/name==\n"        },
        {"a choice by its number",                 "Down",                {"2"},                               "= Wales",                            "!",    "premises/nation=wales\n"  },
        {"a choice by its name",                   "Down",                {"wales"},                           NULL,                                 "= W",  "premises/nation=wales\n"  },
        {"a choice by the start of its name",
         "Down",                                                          {"sco"},
         "= Scotland",                                                                                                                               "!",
         "premises/nation=scotland\n"                                                                                                                                                   },
        {"a choice by what several begin with",    MIXER,                 {"f"},                               "  2 folds down",                     "!",    NULL                       },
        {"then by its number among those",         MIXER,                 {"f", "2"},                          "= folds down",                       "!",    NULL                       },
        {"a number of what was narrowed away",     MIXER,                 {"f", "3"},                          "! There is no number 3 here",        NULL,   NULL                       },
        {"no such choice",                         "Down",                {"france"},                          "! Nothing to choose here is called", NULL,   ""                         },
        {"is asked again",                         "Down",                {"france"},                          "2 of ",                              NULL,   ""                         },
        {"a number of no choice",                  "Down",                {"9"},                               "! There is no number", NULL,   ""                         },
        {"a number with another unit",
         PRESSURE,                                                        {"2.5 bar"},
         "= 250 kPa (2.5 bar)",                                                                                                                      "!",
         "supply/static_pressure_kpa=250\n"                                                                                                                                             },
        {"a number out of its range",              PRESSURE,              {"99999"},                           "! ",                                 NULL,   ""                         },
        {"a number that is none",                  PRESSURE,              {"a lot"},                           "! ",                                 NULL,   ""                         },
        {"a wrong number is asked again",
         PRESSURE,                                                        {"a lot"},
         "Standing pressure: not answered",                                                                                                          NULL,
         ""                                                                                                                                                                             },
        {"and mended",
         PRESSURE,                                                        {"a lot", "300"},
         "= 300 kPa",                                                                                                                                "!",
         "supply/static_pressure_kpa=300\n"                                                                                                                                             },
        {"cannot tell of a number",
         PRESSURE,                                                        {"cannot tell"},
         NULL,                                                                                                                                       "!",
         "supply/static_pressure_kpa=cannot_tell\n"                                                                                                                                     },
        {"cannot tell of a choice",
         SHARED,                                                          {"cannot tell"},
         NULL,                                                                                                                                       "!",
         "supply/supply_shared=cannot_tell\n"                                                                                                                                           },
        {"an answer is taken back by its word",    "Down 2 Up",           {"clear"},                           "2 of ",                              "!",    ""                         },
        {"undo and redo",
         "Down 2",                                                        {"undo", "redo"},
         "Made again",                                                                                                                               NULL,
         "premises/nation=wales\n"                                                                                                                                                      },
        {"an empty line goes on",                  "",                    {""},                                "2 of ",                              "!",    ""                         },
        {"an empty line says that it is the last",
         "End",                                                           {""},
         "This is the last line here.",                                                                                                              NULL,
         ""                                                                                                                                                                             },
        {"j N jumps",                              "",                    {"j 4"},                             "4 of ",                              "!",    ""                         },
        {"j N back",                               "End",                 {"J 1"},                             "1 of ",                              "!",    ""                         },
        {"j to no line",                           "",                    {"j 400"},                           "! There is no number 400 here.",     NULL,   ""                         },
        {"b goes back",                            "",                    {"b"},                               "== the house ==",                    "!",    ""                         },
        {"b in the house",                         "Esc",                 {"b"},                               "This is the house",                  "!",    ""                         },
        {"b leaves a field as it was",             "Enter \"ab\"",        {"b"},                               "1 of ",                              "!",    ""                         },
        {"b leaves a list as it was",              MIXER "Enter",         {"b"},                               "What kind of spout?",                "!",    NULL                       },
        {"b stays",                                "Down 1 q",            {"b"},                               "Stayed",                             "!",    "premises/nation=england\n"},
        {"a number opens an item of the house",
         MIXER "Esc",
         {"1"},
         "== Premises sheet ==",                                                                                                                     "!",
         NULL                                                                                                                                                                           },
        {"a number of no item",                    MIXER "Esc",           {"77"},                              "! There is no number 77 here.",      NULL,   NULL                       },
        {"a word that is none, in the house",
         MIXER "Esc",
         {"hlep"},
         "! `hlep` is no command here",                                                                                                              NULL,
         NULL                                                                                                                                                                           },
        {"? says why, and the words",              SHARED,                {"?"},                               "  undo: ",                           "!",    ""                         },
        {"? says how to look",                     SHARED,                {"?"},                               "Shut the outside stop valve",        "!",    ""                         },
        {"the verdict, with its caution",          MIXER,                 {"verdict"},                         "approves nothing",                   "!",    NULL                       },
        {"figures in words",                       MIXER,                 {"verdict"},                         "in fact: 1",                         "!",    NULL                       },
        {"it moves with an answer",                MIXER "1 y 1 " FITTED, {"EB"},                              "Verdict: ",                          "!",    NULL                       },
        {"one of several",                         MIXER,                 {"1, 3"},                            "= fixed or folds down",              "!",    NULL                       },
        {"several where there is one to choose",
         SHARED,                                                          {"1, 2"},
         "! Nothing to choose here is called",                                                                                                       NULL,
         ""                                                                                                                                                                             },
        {"nothing is fitted",                      MIXER FITTED,          {"nothing"},                         NULL,                                 "!",    NULL                       },
        {"what is fitted, by its code",            MIXER FITTED,          {"EB"},                              "= EB ",                              "!",    NULL                       },
        {"adding by its line",
         "Esc",                                                           {"add", "room", "Scullery", "list"},
         "Scullery: nothing in it yet",                                                                                                              "!",
         NULL                                                                                                                                                                           },
        {"finding in one line",                    MIXER,                 {"/hose"},                           "hose",                               "!",    NULL                       },
        {"finding by its word in one line",        MIXER,                 {"find hose"},                       "hose",                               "!",    NULL                       },
        {"what was found is answered at once",
         "",                                                              {"/Standing", "3 bar"},
         "= 300 kPa",                                                                                                                                "!",
         "supply/static_pressure_kpa=300\n"                                                                                                                                             },
        {"b goes back to where finding began",     "Down",                {"/Standing", "b"},                  "2 of ",                              "!",    ""                         },
        {"pick without a number",                  MIXER,                 {"pick"},                            "! It takes a number",                NULL,   NULL                       },
        {"s saves",                                "Down 2",              {"s"},                               "Saved.",                             "!",    "premises/nation=wales\n"  },
        {"q asks",                                 "Down 2",              {"q"},                               "Not saved yet",                      "!",    "premises/nation=wales\n"  },
        {"q asks from a field too",
         "Down 2 Up Up Enter \"ab\"",                                     {"q"},
         "Not saved yet",                                                                                                                            "!",
         "premises/nation=wales\n"                                                                                                                                                      },
        {"what is no answer to that",
         "Down 2 q",                                                      {"perhaps"},
         "! ",                                                                                                                                       NULL,
         "premises/nation=wales\n"                                                                                                                                                      },
        {"no UTF-8",                               "",                    {"\xff\xfe"},                        "! That is no text in UTF-8",         NULL,   ""                         },
        {"control characters are no text",         "",                    {"a\033[31mb"},                      NULL,                                 "\033", NULL                       },
};

START_TEST(line_is_taken)
{
	const struct taken *row = &takings[_i];
	struct lines lines;
	char *says;

	lines_begin(&lines, row->keys, false);
	for (size_t i = 0; i < 4 && row->lines[i] != NULL; i++)
		lines_take(&lines, row->lines[i]);
	if (row->told != NULL)
		ck_assert_msg(strstr(lines_said(&lines), row->told) != NULL,
		              "%s: `%s` is not in\n%s", row->title, row->told, lines_said(&lines));
	if (row->not_told != NULL)
		ck_assert_msg(strstr(lines_said(&lines), row->not_told) == NULL,
		              "%s: `%s` is in\n%s", row->title, row->not_told, lines_said(&lines));
	says = drive_says(&lines.q.drive.survey);
	if (row->says != NULL)
		ck_assert_msg(strcmp(says, row->says) == 0, "%s: the survey says\n%s", row->title,
		              says);
	free(says);
	lines_end(&lines);
}
END_TEST

/* A name that fills the field and one byte more: cut, it would be another name. */
START_TEST(text_too_long_is_not_cut)
{
	struct lines lines;
	char text[1026], *says;

	memset(text, 'a', sizeof(text) - 1);
	text[sizeof(text) - 1] = '\0';
	lines_begin(&lines, "", false);
	lines_take(&lines, text);
	ck_assert_msg(strstr(lines_said(&lines), "! The field is full") != NULL, "%s",
	              lines_said(&lines));
	says = drive_says(&lines.q.drive.survey);
	ck_assert_str_eq(says, "");
	free(says);
	text[1024] = '\0';
	lines_take(&lines, text);
	says = drive_says(&lines.q.drive.survey);
	ck_assert_uint_eq(strlen(says), strlen("premises/name=\n") + 1024);
	free(says);
	lines_end(&lines);
}
END_TEST

START_TEST(interrupt_asks_and_twice_leaves)
{
	enum walk_leaving leaving;
	struct lines lines;

	lines_begin(&lines, "Down 2", false);
	plain_interrupt(lines.plain);
	ck_assert(!plain_left(lines.plain, &leaving));
	ck_assert_ptr_nonnull(strstr(lines_said(&lines), "Not saved yet"));
	plain_interrupt(lines.plain);
	ck_assert(plain_left(lines.plain, &leaving));
	ck_assert_int_eq(leaving, WALK_LEAVING_BROKEN);
	lines_end(&lines);
}
END_TEST

START_TEST(who_goes_on_is_asked_again)
{
	struct lines lines;
	const char *said;
	size_t before;

	lines_begin(&lines, "Down 2", false);
	before = strlen(lines_said(&lines));
	plain_resume(lines.plain);
	said = lines_said(&lines) + before;
	ck_assert_msg(strstr(said, " of ") != NULL, "%s", said);
	ck_assert_str_eq(said + strlen(said) - 3, "\n> ");
	lines_end(&lines);
}
END_TEST

START_TEST(failed_save_is_said_and_nothing_left)
{
	enum walk_leaving leaving;
	struct lines lines;

	lines_begin(&lines, "Down 2", false);
	lines.q.drive.save_fails = true;
	lines_take(&lines, "q");
	lines_take(&lines, "save");
	ck_assert(!plain_left(lines.plain, &leaving));
	ck_assert_msg(strstr(lines_said(&lines), "! Not saved: the disk is full.") != NULL, "%s",
	              lines_said(&lines));
	lines_end(&lines);
}
END_TEST

/* ASCII alone, whatever was answered. */
START_TEST(ascii_stays_ascii)
{
	struct lines lines;

	lines_begin(&lines, "", true);
	lines_take(&lines, "K\xc3\xbc"
	                   "che \xf0\x9f\x94\xa7");
	lines_take(&lines, "list");
	for (size_t i = 0; i < lines.out.count; i++)
		ck_assert_msg((unsigned char)lines.out.bytes[i] < 0x80, "byte %02x",
		              (unsigned char)lines.out.bytes[i]);
	ck_assert_ptr_nonnull(strstr(lines_said(&lines), "K?che ?"));
	lines_end(&lines);
}
END_TEST

static unsigned minutes_left;

static void on_tick(void *context, struct walk *walk)
{
	(void)context;
	walk_quiz_time(walk, minutes_left);
}

/* Time that passes says something where there is something to say, and asks again; at its end the result is read. */
START_TEST(time_is_told_and_ends_it)
{
	static const struct {
		unsigned minutes;
		const char *says; /* NULL: nothing at all */
	} ticks[] = {
	        {20, NULL	                                   },
	        {6,  NULL	                                   },
	        {5,  "\n5 minutes left.\nTask 1 of 7."              },
	        {5,  NULL	                                   },
	        {1,  "\n1 minute left.\nTask 1 of 7."               },
	        {0,  "\nTime is up: handed in as it stands.\nResult"},
	        {0,  NULL	                                   },
	};
	struct lines lines;

	lines_begin_in(&lines, EXAM, "", false);
	lines.host.tick = on_tick;
	for (size_t i = 0; i < sizeof(ticks) / sizeof(ticks[0]); i++) {
		lines.said = lines.out.count;
		minutes_left = ticks[i].minutes;
		plain_tick(lines.plain);
		if (ticks[i].says == NULL)
			ck_assert_msg(lines.out.count == lines.said, "%u: %s", ticks[i].minutes,
			              lines_said(&lines));
		else
			ck_assert_msg(strncmp(lines_said(&lines), ticks[i].says,
			                      strlen(ticks[i].says)) == 0,
			              "%u: %s", ticks[i].minutes, lines_said(&lines));
	}
	ck_assert(lines.q.attempt.over);
	lines_end(&lines);
}
END_TEST

/* What is committed makes the same survey, as from the screen: nothing goes past the journal. */
START_TEST(all_changes_are_committed)
{
	static const char *const script[] = {
	        "Elm Row 7", "wales", "b",    "add",  "room", "Hall", "add",       "1",    "kitch",
	        "fixed",     "y",     "undo", "redo", "b",    "1",    "/Standing", "stay", "3 bar"};
	struct survey replay;
	struct lines lines;
	char *says, *replayed;

	ck_assert(survey_init(&replay, &drive_book));
	lines_begin(&lines, "", false);
	lines.q.drive.replay = &replay;
	for (size_t i = 0; i < sizeof(script) / sizeof(script[0]); i++)
		lines_take(&lines, script[i]);
	says = drive_says(&lines.q.drive.survey);
	replayed = drive_says(&replay);
	ck_assert_str_eq(says, replayed);
	ck_assert_ptr_nonnull(strstr(says, "static_pressure_kpa=300"));
	ck_assert_ptr_nonnull(strstr(says, "kind=kitchen_mixer"));
	free(says);
	free(replayed);
	lines_end(&lines);
	survey_finish(&replay);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("plain");
	TCase *goldens = tcase_create("dialogues"), *parity = tcase_create("parity"),
	      *taken = tcase_create("lines");
	TCase *cases[] = {goldens, parity, taken};
	int status;

	list_goldens();
	for (size_t i = 0; i < 3; i++) {
		tcase_add_unchecked_fixture(cases[i], quiz_load, drive_unload);
		suite_add_tcase(suite, cases[i]);
	}
	tcase_set_timeout(parity, 60);
	tcase_add_test(goldens, there_are_goldens_at_all);
	tcase_add_loop_test(goldens, dialogue_is_as_it_was, 0, name_count);
	tcase_add_test(parity, each_request_has_a_key_and_a_word);
	tcase_add_test(parity, each_context_is_tried);
	tcase_add_loop_test(parity, word_does_what_its_key_does, 0, STATES);
	tcase_add_loop_test(taken, line_is_taken, 0, sizeof(takings) / sizeof(takings[0]));
	tcase_add_test(taken, text_too_long_is_not_cut);
	tcase_add_test(taken, interrupt_asks_and_twice_leaves);
	tcase_add_test(taken, who_goes_on_is_asked_again);
	tcase_add_test(taken, failed_save_is_said_and_nothing_left);
	tcase_add_test(taken, ascii_stays_ascii);
	tcase_add_test(taken, all_changes_are_committed);
	tcase_add_test(taken, time_is_told_and_ends_it);
	status = suite_run(suite);
	for (int i = 0; i < name_count; i++)
		free(names[i]);
	return status;
}
