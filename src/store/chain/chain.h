/**
 * @file
 * What the reader and the writer of amendments share: the digests that links are made of.
 */
#ifndef TUNDISH_STORE_CHAIN_H
#define TUNDISH_STORE_CHAIN_H

#include "canonical.h"

#include "tundish/store/amendments.h"
#include "tundish/store/journal.h"

enum {
	DIGEST_LENGTH = 64,
	PART_LENGTH = 16, /* of the digest of a part, which only says where to look */
};

extern const char amendments_key[], signed_off_key[];

/** SHA-256 of a heading and a canonical form. @return false when there is no memory. */
bool chain_state(const struct tree *root, struct arena *arena, struct digest *out);
bool chain_head(const char *before, const struct tree *amendment, struct arena *arena,
                struct digest *out);

/** A part of a text: a key at the top, or a room. */
struct chain_part {
	const char *name; /* "supply", "rooms/kitchen" */
	char digest[PART_LENGTH + 1];
	struct span span;
};

/** All parts in the order of the text. @return NULL when there is no memory. */
struct chain_part *chain_parts(const struct tree *root, struct arena *arena, size_t *count);

#endif
