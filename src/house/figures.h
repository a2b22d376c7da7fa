/* Private to src/house: the eight figures of a worth (subject.h orders them) as the bytes of one word. */
#ifndef TUNDISH_HOUSE_FIGURES_H
#define TUNDISH_HOUSE_FIGURES_H

#include "tundish/assess/subject.h"

#include <stdint.h>
#include <string.h>

#define HIGH_BITS UINT64_C(0x8080808080808080)

/** Byte by byte, all ones where a >= b. Bytes are below 128, so no byte
 * borrows from its neighbour. */
static inline uint64_t where_not_less(uint64_t a, uint64_t b)
{
	uint64_t not_less = ((a | HIGH_BITS) - b) & HIGH_BITS;

	return (not_less >> 7) * 255;
}

static inline uint64_t most_of(uint64_t a, uint64_t b)
{
	uint64_t a_wins = where_not_less(a, b);

	return (a & a_wins) | (b & ~a_wins);
}

static inline uint64_t least_of(uint64_t a, uint64_t b)
{
	uint64_t a_wins = where_not_less(a, b);

	return (b & a_wins) | (a & ~a_wins);
}

/** Byte by byte how much more a is than b: 0 where it is not. */
static inline uint64_t more_by(uint64_t a, uint64_t b)
{
	return (((a | HIGH_BITS) - b) & where_not_less(a, b)) & ~HIGH_BITS;
}

static inline uint64_t pack(const unsigned char *bytes)
{
	uint64_t figures;

	memcpy(&figures, bytes, sizeof figures);
	return figures;
}

static inline uint64_t all_figures(unsigned char category)
{
	return UINT64_C(0x0101010101010101) * category;
}

static inline unsigned figure(uint64_t figures, unsigned at, enum mechanism mechanism)
{
	unsigned char bytes[sizeof figures];

	memcpy(bytes, &figures, sizeof figures);
	return bytes[at + mechanism];
}

#endif
