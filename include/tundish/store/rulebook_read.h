/**
 * @file
 * Texts of the rulebook -> one rulebook. The built-in texts are read first, then the overlays, in order; an overlay
 * replaces questions, rows, types and kinds by id, adds new ones, or `drop:`s them. The language: docs/rulebook.md.
 */
#ifndef TUNDISH_STORE_RULEBOOK_READ_H
#define TUNDISH_STORE_RULEBOOK_READ_H

#include "tundish/assess/rulebook.h"

/** The texts compiled in; @p count is set. They live as long as the program. */
const struct source *rulebook_builtin(size_t *count);

/**
 * Read @p texts as one book for the day @p on, and settle it (rulebook_settle).
 *
 * @p book    out; finished by the caller whatever comes back.
 * @p faults  every fault with its place; a notice for each unknown key that does not start with `x-`.
 * @return    true when the book can be used. The texts must outlive it.
 */
bool rulebook_read(struct rulebook *book, const struct source *const *texts, size_t count, day on,
                   struct faults *faults);

#endif
