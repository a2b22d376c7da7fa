/*
 * What a key costs, from the press to the lines of the screen, in a large house beside a small one
 * in the same run: a walk may not get slower with the house. Printed as ratios.
 *
 *     bench_walk RULEBOOK
 *
 * Fails where a ratio is more than what it may be: twice the work, whether something is looked at,
 * answered, added, removed, copied, moved or taken back. A large screen shows more of the large
 * house, and that is in the ratio too. Only what moves other verdicts too (an answer about the
 * building, an outlet that becomes the first that a fluid gets to) goes through the house once, a
 * few thousandths of a second: that is what WHOLE may be.
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
	WHOLE = 100,
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
	unsigned
	        commits; /* how often they change the survey: that they do what they are here for */
	double most;     /* of the large house beside the small one */
};

/* From a row of the house on: the third outlet from the top, or from the end. */
static const char top[] = "Home Down Down Down", bottom[] = "End Up Up Up";

static const struct deed deeds[] = {
        {"up and down the house",       top,                                    "Up Down Up Down PgUp PgDn",               0, 2    },
        {"up and down a form",          top,                                    "Enter Down Down Up Up Tab Shift-Tab Esc", 0, 2    },
        {"an answer given and changed", top,                                    "Enter Home 1 Up 2 Up x Esc",              3, 2    },
        {"a text typed",                top,                                    "Enter Home Down Enter 1 2 3 Esc Esc",     0, 2    },
        {"a list looked through",       top,                                    "Enter Home Enter Down Up Esc Esc",        0, 2    },
        {"undo and redo",               "Home Down Down Down Enter Home 1 Esc", "u Ctrl-R",                                2, 2    },
        {"a protection in, taken back", top,                                    "Enter Home ] Down a 3 Down Enter u Esc",  2, 2    },
        {"the house summed up",         top,                                    "Home Down Up Down",                       0, 2    },
        {"the verdict read",            top,                                    "v PgDn PgUp Esc",                         0, 2    },
        {"an outlet added, taken back", bottom,                                 "a 1 Down Enter u End Up Up Up",           2, 2    },
        {"one like it, taken back",     bottom,                                 "c u End Up Up Up",                        2, 2    },
        {"one removed, put back",       bottom,                                 "d y u",                                   2, 2    },
        {"one moved up and down",       bottom,                                 "< >",                                     2, 2    },
        {"one in another room, back",   bottom,                                 "m End Up Enter u End Up Up Up",           2, 2    },
        {"one in the first room, back", bottom,                                 "m Enter u End Up Up Up",                  2, WHOLE},
        {"a room added, taken back",    bottom,                                 "a 2 X Enter u End Up Up Up",              2, 2    },
        {"a room copied, taken back",   bottom,                                 "[ c X Enter u End Up Up Up",              2, 2    },
        {"a room removed, put back",    bottom,                                 "[ d y u End Up Up Up",                    2, 2    },
        {"the first outlet copied",     top,                                    "Up c u Home Down Down Down",              2, 2    },
        {"the first outlet removed",    top,                                    "Up d y u Home Down Down Down",            2, 2    },
        {"the premises sheet answered", top,                                    "Home Enter Home Down 1 u Esc",            2, WHOLE},
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

/* @return how often the survey was changed. */
static unsigned press(struct house *house, const char *keys)
{
	struct walk_effect effect;
	unsigned commits = 0;

	while (*(keys += strspn(keys, " ")) != '\0') {
		size_t length = strcspn(keys, " ");
		struct walk_key key;

		if (!walk_key_named(keys, length, &key))
			give_up("no such key");
		walk_press(house->walk, &key);
		while (walk_next_effect(house->walk, &effect))
			commits += effect.form == WALK_COMMITTED ? 1 : 0;
		walk_draw(house->walk, &house->screen);
		keys += length;
	}
	return commits;
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
	while (walk_think(house->walk))
		;
}

static void end(struct house *house)
{
	walk_destroy(house->walk);
	screen_finish(&house->screen);
	survey_finish(&house->survey);
	sink_finish(&house->text);
}

/* What is thought while no key comes is not waited for. */
static double round_of(struct house *house, const struct deed *deed)
{
	double from = seconds(), took;
	unsigned commits = 0;

	for (int i = 0; i < REPEATS; i++)
		commits += press(house, deed->keys);
	took = seconds() - from;
	while (walk_think(house->walk))
		;
	if (commits != REPEATS * deed->commits) {
		fprintf(stderr, "%s: %u changes for %u\n", deed->title, commits,
		        REPEATS * deed->commits);
		give_up("the keys do something else");
	}
	return took;
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
			double took = round_of(&house[i], deed);

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
	        {24, 80 },
                {50, 160},
                {10, 40 }
        };
	struct arena arena = {0};
	struct rulebook book;
	bool ok = true;

	if (argc != 2)
		give_up("usage: bench_walk RULEBOOK");
	load(&book, argv[1], &arena);
	printf("key to screen, %d points beside %d: how many times the work\n", LARGE, SMALL);
	for (size_t s = 0; s < sizeof(sizes) / sizeof(sizes[0]); s++) {
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
