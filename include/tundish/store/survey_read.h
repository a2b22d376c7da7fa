/**
 * @file
 * The text of a survey (format 1, docs/survey.md) -> a survey, straight from events.
 */
#ifndef TUNDISH_STORE_SURVEY_READ_H
#define TUNDISH_STORE_SURVEY_READ_H

#include "tundish/assess/survey.h"

/**
 * @p survey  out: zeroed, or one that was read before, whose memory is used again. Finished by the caller whatever comes back.
 * @p source  must outlive the survey, which borrows from its text.
 * @p faults  every fault with its place; notices for unknown keys (not `x-`) and for questions the kind does not ask.
 * @return    true when the survey can be used: no fault. An empty text, or one of comments alone, is an empty survey.
 *
 * Faults: not YAML, not UTF-8 (UTF-16 too), a second document, an alias, an anchor, a tag but the core ones, a merge key, a
 * duplicate key or ref, a value outside its domain, an unknown kind or type, a feed that names nothing or loops, no
 * `tundish: 1`, a format from the future (then nothing else is said), a missing ref, an inlet described twice, more than
 * 16 MiB, 64 levels, 1 M nodes or 64 KiB a value.
 *
 * An inlet that its kind does not have is kept, and noticed. Keys may stand in any order: what is said before the `kind` or
 * the `type` waits for it. `protection: []` says nothing, and is noticed; so is what can't be placed for want of a kind.
 */
bool survey_read(struct survey *survey, const struct rulebook *book, const struct source *source, struct faults *faults);

#endif
