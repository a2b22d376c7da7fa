/**
 * @file
 * For tests only: texts of the folder of the tests, TUNDISH_TESTS, and the small book among them.
 */
#ifndef TUNDISH_TESTS_TEXTS_H
#define TUNDISH_TESTS_TEXTS_H

#include "tundish/base/fault.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/**
 * Reads a file whole into @p text of @p size bytes and ends it with a 0.
 * @return the text, by the last part of @p path; aborts where there is no such file, or no room for all of it.
 */
static inline struct source text_of(const char *path, char *text, size_t size)
{
	FILE *file = fopen(path, "rb");
	size_t length;

	if (!file) {
		perror(path);
		abort();
	}
	length = fread(text, 1, size, file);
	fclose(file);
	if (length == size) {
		fprintf(stderr, "%s: no room for it in %zu bytes\n", path, size);
		abort();
	}
	text[length] = '\0';
	return (struct source){strrchr(path, '/') + 1, text, length};
}

/** rulebook/small.yaml, read when it is first asked for. */
static inline const struct source *small_book(void)
{
	static char text[64 * 1024];
	static struct source source;

	if (!source.text)
		source = text_of(TUNDISH_TESTS "/rulebook/small.yaml", text, sizeof(text));
	return &source;
}

#endif
