/**
 * @file
 * One walk at a time on a survey: a lock beside it, `.NAME.lock`, that says who holds it.
 *
 * Made with O_EXCL, and held by flock() too, which ends with the process. It is stale when this host wrote it, nobody
 * holds it, and the process is gone or the host was started again. Of another host nothing is ever assumed.
 */
#ifndef TUNDISH_STORE_LOCK_H
#define TUNDISH_STORE_LOCK_H

#include "tundish/base/err.h"

#include <limits.h>
#include <stdbool.h>
#include <stdint.h>

struct lock_holder {
	char who[64], host[256], since[32]; /* printable; "" where the lock does not say */
	char boot[64];                      /* which start of the host */
	long pid;
	uint64_t started; /* of the process, as the system counts; 0: not known */
};

struct lock {
	int fd;              /* -1: not held */
	char path[PATH_MAX]; /* of the lock */
};

enum lock_outcome {
	LOCK_TAKEN,      /* it is ours; a stale one was in nobody's way */
	LOCK_HELD,       /* by another: see the holder */
	LOCK_IMPOSSIBLE, /* no lock can be made: see err */
};

/**
 * Take the lock of the survey at @p path.
 *
 * @p states     a folder to use where nothing can be written beside the survey (as of journal_create); NULL: none.
 * @p take_over  even if another holds it: the user said so.
 */
enum lock_outcome lock_take(struct lock *lock, const char *path, const char *states, bool take_over,
                            struct lock_holder *holder, struct err *err);

/** Give it back. Nothing if it is not held, or another took it over. */
void lock_release(struct lock *lock);

#endif
