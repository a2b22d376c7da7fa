/**
 * @file
 * What a file carries beside its bytes and its mode: access control lists and extended attributes.
 */
#ifndef TUNDISH_SRC_STORE_ATTRIBUTES_H
#define TUNDISH_SRC_STORE_ATTRIBUTES_H

#include <stdbool.h>

/**
 * Give @p to, which was just made, what @p from has, as far as that is allowed; an access control list that it
 * took over from its folder goes.
 * @return false where an access control list could not be kept: who may read it is then not what it was.
 */
bool attributes_copy(int from, int to);

#endif
