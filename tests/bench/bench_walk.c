/*
 * What a key costs, from the press to the lines of the screen, in a large house beside a small one
 * in the same run: a walk may not get slower with the house. Printed as ratios.
 *
 *     bench_walk RULEBOOK
 *
 * Fails where a ratio is more than what it may be: twice the work for all that is asked and looked
 * at. What makes the house another one (a point added or taken out) goes through all of it once:
 * a few thousandths of a second. Screens are of a size that the small house fills too: what a
 * larger one shows more of is not what is measured.
 */
#include "corpus.h"

#include "tundish/store/file.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"
#include "tundish/walk/walk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
	SMALL = 10,
	LARGE = 10000,
	SEED = 7,
	ROUNDS = 9,  /* the best counts: everything else is noise of the machine */
	REPEATS = 8, /* of the keys in a round */
};

struct house {
	struct sink text;
	struct source source;
	struct survey survey;
	struct walk *walk;
	struct screen screen;
};

/* What is done over and over; it ends where it began. */
struct deed {
	const char *title;
	const char *before; /* keys that lead there */
	const char *keys;
	double most; /* of the large house beside the small one */
};

static const struct deed deeds[] = {
        {"up and down the house",           "Esc Esc PgDn PgDn", "Up Down Up Down PgUp PgDn",     2 },
        {"up and down a form",              "Enter",             "Down Down Up Up Tab Shift-Tab", 2 },
        {"an answer given and changed",     "Enter Home",        "1 Up 2 Up x",                   2 },
        {"a number typed",                  "Enter Home",        "Enter 1 2 3 Esc",               2 },
        {"a list looked through",           "Enter Home Down",   "Enter Down Down Up Esc",        2 },
        {"undo and redo",                   "Enter Home 1 Up 2", "u Ctrl-R",                      2 },
        {"a protection put in, taken back", "Enter Home ]",      "a 1 Down Enter u",              2 },
        {"the house summed up",             "Home Down",         "Up Down",                       2 },
        {"one more like it, taken back",    "",                  "c u Esc",                       60},
        {"the verdict read",                "",                  "v PgDn PgUp Esc",               2 },
};

static void give_up(const char *what)
{
	fprintf(stderr, "bench_walk: %s\n", what);
	exit(EXIT_FAILURE);
}

static double seconds(void)
{
	struct timespec now;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void press(struct house *house, const char *keys)
{
	struct walk_effect effect;

	while (*(keys += strspn(keys, " ")) != '\0') {
		size_t length = strcspn(keys, " ");
		struct walk_key key;

		if (!walk_key_named(keys, length, &key))
			give_up("no such key");
		walk_press(house->walk, &key);
		while (walk_next_effect(house->walk, &effect))
			;
		walk_draw(house->walk, &house->screen);
		keys += length;
	}
}

static void begin(struct house *house, const struct rulebook *book, unsigned points, int rows,
                  int cols)
{
	struct corpus corpus = {
	        .book = book, .seed = SEED, .points = points, .unanswered_percent = 15};
	struct arena arena = {0};
	struct faults faults;

	memset(house, 0, sizeof(*house));
	sink_to_memory(&house->text);
	corpus_survey(&corpus, 0, &house->text);
	house->source = (struct source){"house.yaml", house->text.bytes, house->text.count};
	faults_init(&faults, &arena);
	if (!survey_read(&house->survey, book, &house->source, &faults))
		give_up(faults.count > 0 ? faults.item[0].message : "the house can't be read");
	arena_finish(&arena);
	house->walk = walk_create(&house->survey, &(struct walk_options){.name = "house.yaml"});
	if (house->walk == NULL || !screen_init(&house->screen, rows, cols))
		give_up("no memory");
	/* the middle of the small one is as deep in the large one: what is drawn is alike */
	press(house, "Home Down Down Down");
}

static void end(struct house *house)
{
	walk_destroy(house->walk);
	screen_finish(&house->screen);
	survey_finish(&house->survey);
	sink_finish(&house->text);
}

static double round_of(struct house *house, const char *keys)
{
	double from = seconds();

	for (int i = 0; i < REPEATS; i++)
		press(house, keys);
	return seconds() - from;
}

/* Rounds of both by turns, so that what slows the machine slows both. */
static double ratio_of(const struct rulebook *book, const struct deed *deed, int rows, int cols,
                       double *small)
{
	struct house house[2];
	double best[2] = {1e9, 1e9};

	begin(&house[0], book, SMALL, rows, cols);
	begin(&house[1], book, LARGE, rows, cols);
	press(&house[0], deed->before);
	press(&house[1], deed->before);
	for (int round = 0; round < ROUNDS; round++) {
		for (int i = 0; i < 2; i++) {
			double took = round_of(&house[i], deed->keys);

			best[i] = took < best[i] ? took : best[i];
		}
	}
	end(&house[0]);
	end(&house[1]);
	*small = best[0];
	return best[1] / best[0];
}

static void load(struct rulebook *book, const char *path, struct arena *arena)
{
	static struct source source;
	const struct source *sources[] = {&source};
	struct faults faults;
	struct err err = {0};

	faults_init(&faults, arena);
	if (!file_read(path, arena, &source, NULL, &err))
		give_up(err.message);
	if (!rulebook_read(book, sources, 1, date_day(2026, 11, 25), &faults))
		give_up("the rulebook has a fault");
}

int main(int argc, char **argv)
{
	static const int sizes[][2] = {
	        {24, 80},
                {10, 40}
        };
	struct arena arena = {0};
	struct rulebook book;
	bool ok = true;

	if (argc != 2)
		give_up("usage: bench_walk RULEBOOK");
	load(&book, argv[1], &arena);
	printf("key to screen, %d points beside %d: how many times the work\n", LARGE, SMALL);
	for (size_t s = 0; s < 2; s++) {
		for (size_t i = 0; i < sizeof(deeds) / sizeof(deeds[0]); i++) {
			double small, ratio = ratio_of(&book, &deeds[i], sizes[s][0], sizes[s][1],
			                               &small);

			printf("  %3dx%d  %-28s %5.2f  (may be %.0f; %.0f us in the small one)\n",
			       sizes[s][1], sizes[s][0], deeds[i].title, ratio, deeds[i].most,
			       small * 1e6 / REPEATS);
			ok = ok && ratio <= deeds[i].most;
		}
	}
	rulebook_finish(&book);
	arena_finish(&arena);
	return ok ? EXIT_SUCCESS : EXIT_FAILURE;
}
