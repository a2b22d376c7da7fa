/**
 * @file
 * A learner's log: every answer ever given, a line of JSON each, append-only (docs/quiz_file.md has the keys).
 *
 * It is `reviews/NAME.ndjson` below a folder of states that the caller names, mode 0600. Nothing in it is ever changed or
 * removed, whatever a kill left there: what can't be read is passed over, and said.
 */
#ifndef TUNDISH_STORE_REVIEWS_H
#define TUNDISH_STORE_REVIEWS_H

#include "tundish/base/arena.h"
#include "tundish/base/err.h"
#include "tundish/teach/review.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
	LEARNER_MOST = 60,   /* bytes of a learner's name */
	ATTEMPT_ROOM = 26,   /* of an attempt's id, with its NUL */
	REVIEW_FORMAT = 1,
};

/** NULL when a learner may be called so; else one sentence why not, in static memory. */
const char *learner_fault(const char *name);

/**
 * Where a learner's log is. Letters, digits, `_`, `-` and `.` stand in its name as they are, every other byte, and a
 * dot at the start, as %XX: two learners never share a log.
 * @return in @p arena; NULL when there is no memory.
 */
const char *reviews_path(const char *states, const char *learner, struct arena *arena);

/** The paths of all logs below @p states, sorted; none where there is no such folder. @return false with @p err (ERR_IO, ERR_MEMORY). */
bool reviews_all(const char *states, struct arena *arena, const char ***out, size_t *count, struct err *err);

/** An id for an attempt: the time, and 32 bits of chance, such as `20261125T091203Z-4f2a9c01`. */
void reviews_attempt(char out[ATTEMPT_ROOM]);
/** A number that nobody could foretell, 1 to @p most, which is at least 1. */
uint32_t reviews_draw(uint32_t most);

/**
 * Put answers at the end of a log, durably: in one write, all of them or none, under a lock, so that two writers never mix.
 * Makes the log and its folders when needed. After a line that a kill cut short they begin on a line of their own.
 *
 * @p review  texts are valid UTF-8.
 * @return    false with @p err (ERR_IO; ERR_TEXT: not UTF-8; ERR_MEMORY), the log then as it was.
 */
bool reviews_add(const char *path, const struct review *review, size_t count, struct err *err);

struct reviews {
	struct review *item; /* in the order of the log; in the arena */
	size_t count;
	size_t replaced;    /* answers of an exam that were changed later on in it: only the last is among the items */
	size_t passed_over; /* whole lines that are no answers */
	size_t newer;       /* those of them that a newer tundish wrote */
	size_t first_line;  /* the first of them, from 1; 0: there is none */
	size_t torn;        /* bytes of a last line that was cut short; 0: there is none */
};

/** What a log's text says. @return false with @p err: ERR_MEMORY. */
bool reviews_text(const char *text, size_t length, struct arena *arena, struct reviews *out, struct err *err);

/** Read a log; one that is not there is empty. @return false with @p err (ERR_IO, ERR_MEMORY). */
bool reviews_read(const char *path, struct arena *arena, struct reviews *out, struct err *err);

#endif
