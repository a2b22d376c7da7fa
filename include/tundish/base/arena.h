/**
 * @file
 * Memory that lives and dies together: a survey, a rulebook, one verdict.
 *
 * Nothing taken from an arena is freed on its own. A failed request sets `failed`, which stays set: a reader may
 * make many requests and look once at the end, as long as it checks each pointer it writes through.
 */
#ifndef TUNDISH_BASE_ARENA_H
#define TUNDISH_BASE_ARENA_H

#include <stdbool.h>
#include <stddef.h>

struct arena_block;

struct arena {
	struct arena_block *first, *current; /* owned; NULL while nothing was taken */
	bool failed;                         /* some request could not be met */
};

/** An empty arena; a zeroed struct is one too. Takes no memory yet. */
void arena_init(struct arena *arena);

/** Give all memory back. Accepts a zeroed or already finished arena. */
void arena_finish(struct arena *arena);

/** Forget everything taken, but keep the blocks for the next round. Clears `failed`. */
void arena_reset(struct arena *arena);

/** @return @p size zeroed bytes (at least 1), aligned for any object; NULL when there is no memory. */
void *arena_take(struct arena *arena, size_t size);

/** @return a NUL-terminated copy of @p length bytes at @p text; NULL when there is no memory. */
char *arena_copy(struct arena *arena, const char *text, size_t length);

/** printf into the arena. @return the text, NULL when there is no memory. */
char *arena_print(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

/**
 * Make room for one more element at the end of an array that lives in the arena.
 *
 * @p items  the array, or NULL for none yet
 * @p count  how many elements are in use
 * @p room   in/out: how many fit; doubled when full
 * @return   the array, perhaps moved (the old copy stays as it was until the arena ends); NULL when there is no
 *           memory, and then @p room is unchanged and the old array still good.
 */
void *arena_grow(struct arena *arena, void *items, size_t count, size_t *room, size_t element_size);

#endif
