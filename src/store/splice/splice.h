/**
 * @file
 * A text that said one thing -> the same text saying another, with only the bytes changed that have
 * to.
 */
#ifndef TUNDISH_STORE_SPLICE_H
#define TUNDISH_STORE_SPLICE_H

#include "../yaml/fresh.h"
#include "../yaml/tree.h"

#include "tundish/base/err.h"

/**
 * @p tree  the text; its root is a map.
 * @p from  what of it we understand, as it stands there. What is in the text and not here stays as
 * it is.
 * @p to    what it is to say instead; items that move are marked in it.
 * @p gone  out, one for each of the tree's comments: it stood inside of something that was taken
 * out or replaced.
 * @return  false with @p err (ERR_CONFLICT, ERR_MEMORY). The result still has to be held against
 * what was wanted.
 */
bool splice_text(const struct tree_text *tree, const struct fresh *from, struct fresh *to,
                 struct bytes *out, bool *gone, struct err *err);

#endif
