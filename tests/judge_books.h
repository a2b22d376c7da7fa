/**
 * @file
 * For tests of the judge only: the two books it is tried on, the built-in one and the small one with what is laid over it.
 */
#ifndef TUNDISH_TESTS_JUDGE_BOOKS_H
#define TUNDISH_TESTS_JUDGE_BOOKS_H

#include "tundish/store/rulebook_read.h"

#include <stdio.h>
#include <stdlib.h>

enum {
	ON = 20782, /* 2026-11-25 */
	TEXT_MOST = 1 << 17,
	TEXTS_MOST = 1000,
};

static struct book {
	struct rulebook book;
	struct arena arena;
	struct faults faults;
} builtin, small;

/* The small book and what is laid over it. */
static char small_text[2][TEXT_MOST];
static struct source small_source[2] = {
        {"small.yaml", small_text[0], 0},
        {"odd.yaml",   small_text[1], 0}
};

static void read_book(struct book *book, const struct source *const *texts, size_t count)
{
	arena_init(&book->arena);
	faults_init(&book->faults, &book->arena);
	if (!rulebook_read(&book->book, texts, count, ON, &book->faults)) {
		for (size_t i = 0; i < book->faults.count; i++)
			fprintf(stderr, "%s", fault_text(&book->faults.item[i], &book->arena));
		abort();
	}
}

static void read_text(const char *path, struct source *source, char *text)
{
	FILE *file = fopen(path, "rb");

	if (!file) {
		perror(path);
		abort();
	}
	source->length = fread(text, 1, TEXT_MOST - 1, file);
	fclose(file);
}

static void read_books(void)
{
	const struct source *texts[TEXTS_MOST], *two[] = {&small_source[0], &small_source[1]};
	size_t count;
	const struct source *all = rulebook_builtin(&count);

	if (count > TEXTS_MOST)
		abort();
	read_text(TUNDISH_TESTS "/rulebook/small.yaml", &small_source[0], small_text[0]);
	read_text(TUNDISH_TESTS "/rulebook/odd.yaml", &small_source[1], small_text[1]);
	read_book(&small, two, 2);
	for (size_t i = 0; i < count; i++)
		texts[i] = &all[i];
	read_book(&builtin, texts, count);
}

static void finish_books(void)
{
	rulebook_finish(&small.book);
	rulebook_finish(&builtin.book);
	arena_finish(&small.arena);
	arena_finish(&builtin.arena);
}

/* The built-in one is 1, the small one 0. */
static inline const struct rulebook *book_of(int index)
{
	return index ? &builtin.book : &small.book;
}

/* How many times as long as usual a run is to be: TUNDISH_JUDGE_SCALE. */
static inline size_t scale(void)
{
	const char *text = getenv("TUNDISH_JUDGE_SCALE");
	int n = text ? atoi(text) : 1;

	return n > 0 ? (size_t)n : 1;
}

#endif
