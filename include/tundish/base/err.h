/**
 * @file
 * The one cause why a call failed: files, arguments, memory. (Readers of texts fill a list: fault.h.)
 */
#ifndef TUNDISH_BASE_ERR_H
#define TUNDISH_BASE_ERR_H

#include <stddef.h>

enum err_kind {
	ERR_NONE,
	ERR_USAGE,    /* what was asked for makes no sense */
	ERR_IO,       /* could not read or write */
	ERR_TEXT,     /* a text is not what it should be */
	ERR_CONFLICT, /* the file changed underneath, or a result would lose something: nothing was written */
	ERR_MEMORY,
};

/** A zeroed struct is "no error". The first error set wins. */
struct err {
	enum err_kind kind;
	char message[400]; /* one sentence: what was found, what was expected */
};

/** Set @p err unless it already holds an error. Accepts NULL (then does nothing). Never allocates. */
void err_set(struct err *err, enum err_kind kind, const char *format, ...) __attribute__((format(printf, 3, 4)));

#endif
