/*
 * Where no fuzzer drives a target: every file of a folder as it is, and then with changes at random, the same in every run.
 *
 *     fuzz_NAME FOLDER [CHANGED [SEED]]
 *
 * CHANGED (default 0) is how many times each file is changed. What is tried is named first where FUZZ_SHOW is set.
 */
#include "fuzz.h"

#include <dirent.h>
#include <string.h>

enum { SIZE_MOST = 1 << 20 };

static uint8_t whole[SIZE_MOST], changed[SIZE_MOST];
static uint64_t chance_state;

static size_t chance(size_t below)
{
	chance_state ^= chance_state << 13;
	chance_state ^= chance_state >> 7;
	chance_state ^= chance_state << 17;
	return (size_t)(chance_state >> 16) % below;
}

/* A piece of the file itself in place of another piece, or some bytes that mean something. */
static size_t change_once(size_t size)
{
	static const char signs[] = "\n\n:-#,[]{}&*!|>'\"%@?~ \t\r0a\x80\xff";
	size_t at = chance(size + 1), cut = chance(3) ? chance(3) : chance(size - at + 1);
	size_t from = size > 0 ? chance(size) : 0, put = chance(2) ? chance(3) : chance(64);

	if (cut > size - at)
		cut = size - at;
	if (put > size - from)
		put = size - from;
	if (size - cut + put > SIZE_MOST)
		put = 0;
	memmove(changed + at + put, changed + at + cut, size - at - cut);
	if (put <= 2)
		for (size_t i = 0; i < put; i++)
			changed[at + i] = (uint8_t)signs[chance(sizeof(signs) - 1)];
	else
		memcpy(changed + at, whole + from, put);
	return size - cut + put;
}

static void show(const char *path, size_t number)
{
	if (!getenv("FUZZ_SHOW"))
		return;
	printf("%s, change %zu\n", path, number);
	fflush(stdout);
}

static void try_file(const char *path, size_t size, size_t times, uint64_t seed)
{
	show(path, 0);
	LLVMFuzzerTestOneInput(whole, size);
	chance_state = (seed + size) * 2654435761u + 1;
	for (size_t number = 1; number <= times; number++) {
		size_t now = size;

		memcpy(changed, whole, size);
		for (size_t i = chance(4) + 1; i > 0; i--)
			now = change_once(now < size ? now : size);
		show(path, number);
		LLVMFuzzerTestOneInput(changed, now);
	}
}

int main(int argc, char **argv)
{
	struct dirent **entry;
	size_t times = argc > 2 ? strtoul(argv[2], NULL, 10) : 0, run = 0;
	uint64_t seed = argc > 3 ? strtoull(argv[3], NULL, 10) : 1;
	int count = argc >= 2 ? scandir(argv[1], &entry, NULL, alphasort) : -1;

	for (int i = 0; i < count; i++) {
		char path[4096];
		FILE *file;

		snprintf(path, sizeof(path), "%s/%s", argv[1], entry[i]->d_name);
		file = entry[i]->d_name[0] == '.' ? NULL : fopen(path, "rb");
		free(entry[i]);
		if (!file)
			continue;
		try_file(path, fread(whole, 1, sizeof(whole), file), times, seed);
		fclose(file);
		run++;
	}
	if (count >= 0)
		free(entry);
	printf("%zu files, each changed %zu times\n", run, times);
	return run > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
