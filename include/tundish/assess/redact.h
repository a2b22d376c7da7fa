/**
 * @file
 * A survey without what tells whose it is: for training, and to show to a stranger.
 *
 * By an allow-list, which is the rulebook's own: only questions that say `share` are kept (question.h), a date only as its
 * year. Refs stay as they are, since answers name them. What is not listed is not kept, whatever it is.
 */
#ifndef TUNDISH_ASSESS_REDACT_H
#define TUNDISH_ASSESS_REDACT_H

#include "tundish/assess/survey.h"

struct redacted {
	size_t kept;   /* answers kept */
	size_t dates;  /* of these: cut to their year */
	size_t *asked; /* by question: how many of its answers were left out; in the arena given */
	size_t left_out;
};

/**
 * Copy what may be shared.
 *
 * @p to   out, finished by the caller whatever comes back. By the same book as @p from; owns its texts.
 * @return false when there is no memory.
 */
bool survey_redact(const struct survey *from, struct survey *to, struct arena *arena, struct redacted *out);

#endif
