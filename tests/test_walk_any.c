/*
 * Any keys at any size: nothing is lost, all can be taken back, told of, and saved.
 */
#include "chance.h"
#include "walk_drive.h"

#include "tundish/store/survey_read.h"
#include "tundish/store/survey_write.h"

#include "suite.h"

static const char *const monkey_words[] = {
        "Up",      "Down",   "Down", "Down", "Enter", "Enter", "Tab",    "Shift-Tab", "Left",
        "Right",   "PgUp",   "PgDn", "Home", "End",   "Esc",   "Space",  "Space",     "Backspace",
        "Delete",  "Ctrl-U", "a",    "a",    "1",     "2",     "3",      "4",         "0",
        "t",       "x",      "y",    "n",    "u",     "e",     "d",      "v",         "?",
        "Ctrl-R",  "Ctrl-G", "+",    "j",    "k",     "é",     "\"ED\"", "\"kit\"",   "\"7\"",
        "\"out\"", "s",      "r",    "c",    "m",     "<",     ">",      "z",         "/",
        "N",       "!",      "o",    "p",    "]",     "[",     ":",      "\"ho\"",    "Enter",
};

enum { MONKEY_KEYS = 400 };

static void monkey(struct drive *d, struct chance *chance)
{
	size_t words = sizeof(monkey_words) / sizeof(monkey_words[0]);

	for (int i = 0; i < MONKEY_KEYS && d->leaves == 0; i++) {
		drive(d, monkey_words[chance_of(chance, words)]);
		if (chance_of(chance, 20) == 0) {
			ck_assert(screen_resize(&d->screen, (int)chance_of(chance, 40),
			                        (int)chance_of(chance, 170)));
			walk_draw(d->walk, &d->screen);
		}
		ck_assert_msg(d->screen.rows == 0 || (d->screen.cursor_row >= 0 &&
		                                      d->screen.cursor_row < d->screen.rows &&
		                                      d->screen.cursor_col >= 0 &&
		                                      d->screen.cursor_col < d->screen.cols),
		              "the cursor is off the screen");
	}
}

/* Out of whatever is open, then all the way back and forth. */
static void press_many(struct drive *d, const char *word, int times)
{
	for (int i = 0; i < times; i++)
		drive(d, word);
}

static int by_text(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

/* An answer that was taken out and put in again stands last: the lines in any order. */
static char *sorted_and_freed(char *text)
{
	static char *line[10000];
	char *sorted = calloc(1, strlen(text) + 2);
	size_t count = 0;

	for (char *at = strtok(text, "\n"); at != NULL && count < 10000; at = strtok(NULL, "\n"))
		line[count++] = at;
	qsort(line, count, sizeof(line[0]), by_text);
	for (size_t i = 0; i < count; i++) {
		strcat(sorted, line[i]);
		strcat(sorted, "\n");
	}
	free(text);
	return sorted;
}

START_TEST(undo_takes_any_keys_back_and_redo_makes_them_again)
{
	struct chance chance = {(uint64_t)_i + 1};
	struct drive d;
	char *before, *all, *none, *again;

	drive_begin(&d, 30, 100, _i % 2 == 0);
	drive(&d, _i % 3 == 0 ? MIXER : KITCHEN);
	monkey(&d, &chance);
	drive(&d, "n Esc Esc Esc Esc");
	before = drive_says(&d.survey);
	press_many(&d, "Ctrl-R", MONKEY_KEYS + 20);
	all = drive_says(&d.survey);
	press_many(&d, "u", MONKEY_KEYS + 20);
	none = drive_says(&d.survey);
	press_many(&d, "Ctrl-R", MONKEY_KEYS + 20);
	again = drive_says(&d.survey);
	all = sorted_and_freed(all);
	again = sorted_and_freed(again);
	ck_assert_msg(none[0] == '\0', "seed %d: not all was taken back:\n%s", _i + 1, none);
	ck_assert_msg(strcmp(all, again) == 0, "seed %d:\n%sis not\n%s", _i + 1, again, all);
	free(before);
	free(all);
	free(none);
	free(again);
	drive_end(&d);
}
END_TEST

/* The journal's promise: the changes that were told of, applied to what there was, make the survey.
 */
START_TEST(committed_changes_replayed_make_the_survey)
{
	struct chance chance = {(uint64_t)_i + 100};
	struct survey replayed;
	struct drive d;
	char *told, *made;

	ck_assert(survey_init(&replayed, &drive_book));
	drive_begin(&d, 24, 80, true);
	d.replay = &replayed;
	drive(&d, MIXER);
	monkey(&d, &chance);
	told = drive_says(&replayed);
	made = drive_says(&d.survey);
	ck_assert_msg(strcmp(told, made) == 0, "seed %d: told\n%smade\n%s", _i + 100, told, made);
	free(told);
	free(made);
	drive_end(&d);
	survey_finish(&replayed);
}
END_TEST

/* An answer that its item is not asked any more since it became another kind: kept in the file, and
 * not read. */
static bool is_forgotten(const struct survey *survey, const struct change *change)
{
	const char *id = strrchr(change->where, '/');
	const struct item *item = survey_find(survey, change->where, strcspn(change->where, "/"));
	struct arena arena = {0};
	struct asked asked;
	bool is_asked = false;

	if (change->after != NULL || id == NULL || item == NULL ||
	    !survey_asked(survey, item, &arena, &asked))
		return false;
	for (size_t i = 0; i < asked.count; i++)
		is_asked |= strcmp(drive_book.question[asked.question[i]].id, id + 1) == 0;
	arena_finish(&arena);
	return !is_asked;
}

/* And the file has to take whatever the walk can make. */
START_TEST(what_any_keys_made_is_written_and_read_again)
{
	struct chance chance = {(uint64_t)_i + 200};
	struct source nothing = {"new.yaml", "", 0}, written = {"new.yaml", NULL, 0};
	struct survey again = {0};
	struct arena arena = {0};
	struct faults faults;
	struct err err = {0};
	struct changes differs;
	struct drive d;
	char *text;

	faults_init(&faults, &arena);
	drive_begin(&d, 24, 80, true);
	drive(&d, _i % 2 == 0 ? TO_FITTED "Enter \"EB\" Enter" : MIXER);
	for (int round = 0; round < 4 && d.leaves == 0; round++) {
		monkey(&d, &chance);
		ck_assert_msg(
		        survey_write(&d.survey, &nothing, &arena, &text, &written.length, &err),
		        "seed %d: %s", _i + 200, err.message);
		written.text = text;
		ck_assert_msg(survey_read(&again, &drive_book, &written, &faults),
		              "seed %d: %s\n%s", _i + 200,
		              faults.count > 0 ? faults.item[0].message : "?", text);
		ck_assert(survey_compare(&d.survey, &again, &arena, &differs));
		for (size_t i = 0; i < differs.count; i++)
			ck_assert_msg(is_forgotten(&d.survey, &differs.item[i]),
			              "seed %d: %s was %s, read as %s", _i + 200,
			              differs.item[i].where, differs.item[i].before,
			              differs.item[i].after);
		nothing = written;
	}
	survey_finish(&again);
	drive_end(&d);
	arena_finish(&arena);
}
END_TEST

/* What changed is listed and judged anew, and nothing else: it has to come to the same as all of it
 * anew. */
START_TEST(house_is_listed_as_if_looked_at_anew)
{
	struct chance chance = {(uint64_t)_i + 300};
	struct walk *fresh;
	struct screen screen;
	struct drive d;
	char kept[400], anew[400];

	drive_begin(&d, 24, 100, true);
	drive(&d, MIXER);
	monkey(&d, &chance);
	drive(&d, "n Esc Esc Esc Esc Esc Home");
	ck_assert(screen_resize(&d.screen, 300, 120) && screen_init(&screen, 300, 120));
	fresh = walk_create(&d.survey, &(struct walk_options){.name = "house.yaml"});
	ck_assert_ptr_nonnull(fresh);
	walk_draw(d.walk, &d.screen);
	walk_draw(fresh, &screen);
	for (int row = 1; row < 298 && d.leaves == 0; row++) {
		screen_line(&d.screen, row, kept);
		screen_line(&screen, row, anew);
		ck_assert_msg(strcmp(kept, anew) == 0, "seed %d, row %d:\n%s\nis, anew:\n%s",
		              _i + 300, row, kept, anew);
	}
	walk_destroy(fresh);
	screen_finish(&screen);
	drive_end(&d);
}
END_TEST

/* What is in sight follows from the keys, not from when somebody looked. */
START_TEST(it_does_not_matter_when_it_is_drawn)
{
	size_t words = sizeof(monkey_words) / sizeof(monkey_words[0]);
	struct chance chance = {(uint64_t)_i + 400};
	struct drive seen, unseen;
	char a[800], b[800];

	drive_begin(&seen, 12, 60, true);
	drive_begin(&unseen, 12, 60, true);
	drive(&seen, MIXER);
	drive(&unseen, MIXER);
	for (int i = 0; i < 150; i++) {
		const char *word = monkey_words[chance_of(&chance, words)];
		struct walk_key key;

		drive(&seen, word);
		if (word[0] == '"' || !walk_key_named(word, strlen(word), &key)) {
			drive(&unseen, word);
			continue;
		}
		walk_press(unseen.walk, &key);
		drive_effects(&unseen);
	}
	walk_draw(unseen.walk, &unseen.screen);
	for (int row = 0; row < 12; row++) {
		screen_line(&seen.screen, row, a);
		screen_line(&unseen.screen, row, b);
		ck_assert_msg(strcmp(a, b) == 0, "seed %d, row %d:\n%s\nundrawn:\n%s", _i + 400,
		              row, a, b);
	}
	drive_end(&seen);
	drive_end(&unseen);
}
END_TEST

enum { MANY_POINTS = 600 };

static void put_points(struct survey *survey)
{
	struct item *room = survey_add(survey, survey->premises, SCOPE_ROOM, "hall", NULL);
	char ref[16];

	ck_assert_ptr_nonnull(room);
	for (int i = 0; i < MANY_POINTS; i++) {
		snprintf(ref, sizeof(ref), "P%d", i);
		ck_assert_ptr_nonnull(survey_add(survey, room, SCOPE_POINT, ref, NULL));
	}
}

/* No key waits for all of a very large house: what is not looked at yet is said, and follows. */
START_TEST(a_very_large_house_is_summed_up_bit_by_bit)
{
	struct drive d = {0};

	ck_assert(survey_init(&d.survey, &drive_book) && screen_init(&d.screen, 24, 100));
	put_points(&d.survey);
	d.walk = walk_create(&d.survey, &(struct walk_options){.name = "hall.yaml"});
	ck_assert_ptr_nonnull(d.walk);
	walk_draw(d.walk, &d.screen);
	drive_expect(&d, "(250 of 600 looked", "at first");
	ck_assert(!walk_think(d.walk) || !walk_think(d.walk));
	walk_draw(d.walk, &d.screen);
	drive_expect(&d, "600 undecided", "all of it, without a key");
	drive_end(&d);
}
END_TEST

static void put_many(struct survey *survey, enum scope scope, char letter, int count)
{
	char ref[16];

	for (int i = 0; i < count; i++) {
		snprintf(ref, sizeof(ref), "%c%d", letter, i);
		ck_assert_ptr_nonnull(survey_add(survey, survey->premises, scope, ref, NULL));
	}
}

/* Instead of a verdict, wherever one would stand. */
START_TEST(a_house_that_cannot_be_followed_says_so)
{
	struct drive d = {0};

	ck_assert(survey_init(&d.survey, &drive_book) && screen_init(&d.screen, 24, 100));
	put_points(&d.survey);
	put_many(&d.survey, SCOPE_PART, 'f', 2000);
	put_many(&d.survey, SCOPE_BRANCH, 'b', 2100);
	d.walk = walk_create(&d.survey, &(struct walk_options){.name = "hall.yaml"});
	ck_assert_ptr_nonnull(d.walk);
	drive(&d, "Down Down Down Up");
	drive_expect(&d, "for 2000 parts: more than can be", "why there is no verdict");
	drive(&d, "Up Enter Esc l");
	drive_expect(&d, "Undecided: something is still to be asked",
	             "nothing is called protected");
	drive_end(&d);
}
END_TEST

START_TEST(any_size_loses_nothing_typed)
{
	static const int sizes[][2] = {
	        {40, 10 },
                {1,  1  },
                {2,  5  },
                {0,  0  },
                {50, 200},
                {9,  80 },
                {24, 39 }
        };
	struct drive d;

	drive_begin(&d, 24, 80, true);
	drive(&d, "Enter \"ab\"");
	for (size_t i = 0; i < sizeof(sizes) / sizeof(sizes[0]); i++) {
		ck_assert(screen_resize(&d.screen, sizes[i][0], sizes[i][1]));
		drive(&d, "\"c\"");
	}
	ck_assert(screen_resize(&d.screen, 24, 80));
	drive(&d, "Enter");
	drive_expect(&d, "abccccccc", "typed at any size");
	drive_end(&d);
}
END_TEST

START_TEST(too_small_a_screen_says_so_and_waits)
{
	struct drive d;

	drive_begin(&d, 9, 39, true);
	drive(&d, "Down 2");
	drive_expect(&d, "too small", "notice");
	drive(&d, "q");
	drive_expect(&d, "Not saved yet", "what is asked is seen");
	drive(&d, "n");
	ck_assert(screen_resize(&d.screen, 24, 80));
	drive(&d, "");
	drive_expect(&d, "Wales", "and it waited");
	drive_end(&d);
}
END_TEST

static Suite *any_suite(void)
{
	Suite *suite = suite_create("walk: any keys");
	TCase *any = tcase_create("any keys");

	tcase_add_unchecked_fixture(any, drive_load, drive_unload);
	tcase_set_timeout(any, 60);
	tcase_add_loop_test(any, undo_takes_any_keys_back_and_redo_makes_them_again, 0, 12);
	tcase_add_loop_test(any, committed_changes_replayed_make_the_survey, 0, 12);
	tcase_add_loop_test(any, what_any_keys_made_is_written_and_read_again, 0, 12);
	tcase_add_loop_test(any, house_is_listed_as_if_looked_at_anew, 0, 40);
	tcase_add_loop_test(any, it_does_not_matter_when_it_is_drawn, 0, 12);
	tcase_add_test(any, a_very_large_house_is_summed_up_bit_by_bit);
	tcase_add_test(any, a_house_that_cannot_be_followed_says_so);
	tcase_add_test(any, any_size_loses_nothing_typed);
	tcase_add_test(any, too_small_a_screen_says_so_and_waits);
	suite_add_tcase(suite, any);
	return suite;
}

int main(void)
{
	return suite_run(any_suite());
}
