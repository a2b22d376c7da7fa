/**
 * @file
 * Names of the files that are written beside another, to take its place: `.NAME.XXXXXX.tmp`.
 */
#ifndef TUNDISH_SRC_STORE_TEMPORARY_H
#define TUNDISH_SRC_STORE_TEMPORARY_H

#include <limits.h>

enum { TEMPORARY_ROOM = NAME_MAX + 1 };

/** One that nobody else makes at the same time, most likely: O_EXCL decides. Of a long name only the start is in it. */
void temporary_name(const char *name, unsigned try, char out[TEMPORARY_ROOM]);

#endif
