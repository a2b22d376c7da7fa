#include "temporary.h"

#include "beside.h"

#include "tundish/store/file.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum {
	NAME_KEPT_MOST = 200, /* so that a long name with what is added to it stays below 255 */
	DIGITS = 6,
};

static const char letters[] = "abcdefghijklmnopqrstuvwxyz0123456789", ending[] = ".tmp";

void temporary_name(const char *name, unsigned try, char out[TEMPORARY_ROOM])
{
	struct timespec now = {0, 0};
	uint64_t number;
	char random[DIGITS + 1];

	clock_gettime(CLOCK_REALTIME, &now);
	number = (uint64_t)now.tv_nsec * 1000003u + (uint64_t)now.tv_sec * 7919u +
	         (uint64_t)getpid() * 104729u + try;
	for (size_t i = 0; i < DIGITS; i++, number /= 36)
		random[i] = letters[number % 36];
	random[DIGITS] = '\0';
	snprintf(out, TEMPORARY_ROOM, ".%.*s.%s%s", NAME_KEPT_MOST, name, random, ending);
}

/* Whether @p entry is such a name for @p name. */
static bool is_temporary_of(const char *entry, const char *name)
{
	size_t kept = strnlen(name, NAME_KEPT_MOST);

	return strlen(entry) == 1 + kept + 1 + DIGITS + sizeof(ending) - 1 && entry[0] == '.' &&
	       memcmp(entry + 1, name, kept) == 0 && entry[1 + kept] == '.' &&
	       strspn(entry + kept + 2, letters) == DIGITS &&
	       strcmp(entry + kept + 2 + DIGITS, ending) == 0;
}

/* -- what was left ----------------------------------------------------------------------------- */

static int by_path(const void *a, const void *b)
{
	const struct file_left *one = a, *other = b;

	return strcmp(one->path, other->path);
}

size_t file_find_left(const char *path, struct arena *arena, struct file_left **out)
{
	char target[PATH_MAX];
	const char *slash = beside_resolve(path, target) ? strrchr(target, '/') : NULL;
	size_t count = 0, room = 0;
	const char *folder = slash == NULL ? NULL
	                     : slash == target
	                             ? "/"
	                             : arena_copy(arena, target, (size_t)(slash - target));
	DIR *entries = folder == NULL ? NULL : opendir(folder);

	*out = NULL;
	for (struct dirent *entry; entries != NULL && (entry = readdir(entries)) != NULL;) {
		struct file_left *grown;
		struct stat status;
		const char *name = NULL;

		if (!is_temporary_of(entry->d_name, slash + 1) ||
		    fstatat(dirfd(entries), entry->d_name, &status, AT_SYMLINK_NOFOLLOW) != 0 ||
		    !S_ISREG(status.st_mode))
			continue;
		grown = arena_grow(arena, *out, count, &room, sizeof(*grown));
		if (grown != NULL) {
			*out = grown;
			name = arena_print(arena, "%s/%s", slash == target ? "" : folder,
			                   entry->d_name);
		}
		if (name == NULL)
			break;
		grown[count++] =
		        (struct file_left){name, (uint64_t)status.st_size, status.st_mtime};
	}
	if (entries != NULL)
		closedir(entries);
	if (count > 1)
		qsort(*out, count, sizeof(**out), by_path);
	return count;
}
