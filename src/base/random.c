#include "tundish/base/random.h"

#include <assert.h>
#include <string.h>

enum { ITEM_BYTES_MOST = 64 };

uint64_t random_split_mix(uint64_t *state)
{
	uint64_t mixed = *state += 0x9e3779b97f4a7c15;

	mixed = (mixed ^ (mixed >> 30)) * 0xbf58476d1ce4e5b9;
	mixed = (mixed ^ (mixed >> 27)) * 0x94d049bb133111eb;
	return mixed ^ (mixed >> 31);
}

void random_seed(struct random *random, uint64_t seed)
{
	for (size_t i = 0; i < 4; i++)
		random->state[i] = random_split_mix(&seed);
}

void random_seed_for(struct random *random, uint64_t seed, const char *use)
{
	uint64_t hash = 0xcbf29ce484222325;

	for (; *use; use++)
		hash = (hash ^ (unsigned char)*use) * 0x100000001b3;
	random_seed(random, seed ^ hash);
}

static uint64_t turned_left(uint64_t bits, unsigned by)
{
	return bits << by | bits >> (64 - by);
}

uint64_t random_next(struct random *random)
{
	uint64_t *state = random->state;
	uint64_t drawn = turned_left(state[1] * 5, 7) * 9, kept = state[1] << 17;

	state[2] ^= state[0];
	state[3] ^= state[1];
	state[1] ^= state[2];
	state[0] ^= state[3];
	state[2] ^= kept;
	state[3] = turned_left(state[3], 45);
	return drawn;
}

/* 2^64 is not a whole number of times `bound`: the first (2^64 mod bound) numbers would come once too often. */
uint64_t random_below(struct random *random, uint64_t bound)
{
	if (!bound)
		return 0;

	uint64_t too_many = (0 - bound) % bound, drawn;

	do
		drawn = random_next(random);
	while (drawn < too_many);
	return drawn % bound;
}

bool random_chance(struct random *random, uint64_t times, uint64_t of)
{
	return random_below(random, of) < times;
}

size_t random_weighted(struct random *random, const unsigned *weight, size_t count)
{
	uint64_t sum = 0;

	for (size_t i = 0; i < count; i++)
		sum += weight[i];
	if (!sum)
		return count;

	uint64_t drawn = random_below(random, sum);
	size_t i = 0;

	for (; drawn >= weight[i]; i++)
		drawn -= weight[i];
	return i;
}

void random_shuffle(struct random *random, void *items, size_t count, size_t size)
{
	unsigned char *item = items, held[ITEM_BYTES_MOST];

	assert(size <= sizeof(held));
	for (size_t left = count; left > 1; left--) {
		unsigned char *last = item + (left - 1) * size,
		              *other = item + random_below(random, left) * size;

		memcpy(held, last, size);
		memmove(last, other, size); /* perhaps the same */
		memcpy(other, held, size);
	}
}
