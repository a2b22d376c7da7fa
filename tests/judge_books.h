/**
 * @file
 * For tests of the judge only: the two books it is tried on, the built-in one and the small one with what is laid over it.
 */
#ifndef TUNDISH_TESTS_JUDGE_BOOKS_H
#define TUNDISH_TESTS_JUDGE_BOOKS_H

#include "tundish/store/rulebook_read.h"

#include "texts.h"

#include <stdio.h>
#include <stdlib.h>

enum {
	ON = 20782, /* 2026-11-25 */
	TEXTS_MOST = 1000,
};

static struct book {
	struct rulebook book;
	struct arena arena;
	struct faults faults;
} builtin, small;

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

static void read_books(void)
{
	static char odd_text[16 * 1024];
	static struct source odd; /* what is laid over the small book */
	const struct source *texts[TEXTS_MOST], *two[] = {small_book(), &odd};
	size_t count;
	const struct source *all = rulebook_builtin(&count);

	if (count > TEXTS_MOST)
		abort();
	odd = text_of(TUNDISH_TESTS "/rulebook/odd.yaml", odd_text, sizeof(odd_text));
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
