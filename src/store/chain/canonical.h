/**
 * @file
 * The canonical form of a survey's tree: what a text says, in bytes that stay the same however it is written. It is laid
 * down in docs/survey.md, frozen by a fixture, and never changed: digests hang on it.
 */
#ifndef TUNDISH_STORE_CANONICAL_H
#define TUNDISH_STORE_CANONICAL_H

#include "../yaml/tree.h"

#include "tundish/base/sink.h"

/**
 * Write @p node; NULL counts as nothing written.
 * @p without  a key of @p node itself that is left out, or NULL.
 * @return false when there is no memory (in @p arena, which holds what is needed meanwhile).
 */
bool canonical_write(const struct tree *node, const char *without, struct arena *arena, struct sink *out);

#endif
