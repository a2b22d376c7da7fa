#include "tundish/base/arena.h"

#include "arena_test.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* With TUNDISH_ARENA_MALLOC each piece is a block of its own, of its exact size, and
 * nothing is kept for reuse: so the address sanitizer sees the edges of pieces, and their
 * use after a reset. */

enum {
	ALIGN = 16,
	BLOCK_FIRST = 16 * 1024,
	BLOCK_MOST = 1 << 20, /* of those that grow by themselves; a bigger piece gets its own */
	GROW_FIRST = 8,
};

struct arena_block {
	struct arena_block *next;
	size_t room, used; /* bytes; `used` means something only up to the arena's current block */
	_Alignas(ALIGN) unsigned char bytes[];
};

#define PIECE_MOST (SIZE_MAX / 2)

static long failure_in = -1;

long arena_fail_after(long n)
{
	long left = failure_in;

	failure_in = n;
	return left;
}

static bool must_fail(void)
{
	if (failure_in < 0)
		return false;
	return failure_in-- == 0;
}

void arena_init(struct arena *arena)
{
	*arena = (struct arena){0};
}

void arena_finish(struct arena *arena)
{
	struct arena_block *block = arena->first;

	while (block) {
		struct arena_block *next = block->next;

		free(block);
		block = next;
	}
	arena_init(arena);
}

static struct arena_block *block_create(size_t room)
{
	struct arena_block *block = malloc(sizeof(*block) + room);

	if (block) {
		block->next = NULL;
		block->room = room;
		block->used = 0;
	}
	return block;
}

#ifdef TUNDISH_ARENA_MALLOC

void arena_reset(struct arena *arena)
{
	arena_finish(arena);
}

static void *take(struct arena *arena, size_t size)
{
	struct arena_block *block = block_create(size);

	if (!block)
		return NULL;
	block->next = arena->first;
	arena->first = block;
	arena->current = block;
	return block->bytes;
}

#else

void arena_reset(struct arena *arena)
{
	arena->failed = false;
	arena->current = arena->first;
	if (arena->first)
		arena->first->used = 0;
}

/* A block kept from an earlier round that is too small gives way to a bigger one: so rounds that
 * differ do not make the chain longer and longer. */
static struct arena_block *next_block(struct arena *arena, size_t size)
{
	struct arena_block **link = arena->current ? &arena->current->next : &arena->first;
	struct arena_block *old = *link;
	size_t room = arena->current ? arena->current->room : BLOCK_FIRST / 2;

	if (old && old->room >= size) {
		old->used = 0;
		return old;
	}
	room = room < BLOCK_MOST / 2 ? room * 2 : BLOCK_MOST;
	struct arena_block *block = block_create(size > room ? size : room);

	if (!block)
		return NULL;
	if (old) {
		block->next = old->next;
		free(old);
	}
	*link = block;
	return block;
}

static void *take(struct arena *arena, size_t size)
{
	struct arena_block *block = arena->current;

	size = (size + ALIGN - 1) / ALIGN * ALIGN;
	if (!block || block->room - block->used < size) {
		block = next_block(arena, size);
		if (!block)
			return NULL;
		arena->current = block;
	}
	void *piece = block->bytes + block->used;

	block->used += size;
	return piece;
}

#endif

static void *fail(struct arena *arena)
{
	arena->failed = true;
	return NULL;
}

static void *take_unset(struct arena *arena, size_t size)
{
	if (must_fail() || size > PIECE_MOST)
		return fail(arena);
	void *piece = take(arena, size ? size : 1);

	return piece ? piece : fail(arena);
}

void *arena_take(struct arena *arena, size_t size)
{
	void *piece = take_unset(arena, size);

	return piece ? memset(piece, 0, size ? size : 1) : NULL;
}

char *arena_copy(struct arena *arena, const char *text, size_t length)
{
	if (length >= PIECE_MOST)
		return fail(arena);
	char *copy = take_unset(arena, length + 1);

	if (!copy)
		return NULL;
	if (length)
		memcpy(copy, text, length);
	copy[length] = '\0';
	return copy;
}

char *arena_print(struct arena *arena, const char *format, ...)
{
	char *text = NULL;
	va_list measured, printed;

	va_start(measured, format);
	va_copy(printed, measured);
	int length = vsnprintf(NULL, 0, format, measured);

	va_end(measured);
	if (length < 0)
		fail(arena);
	else
		text = take_unset(arena, (size_t)length + 1);
	if (text)
		vsnprintf(text, (size_t)length + 1, format, printed);
	va_end(printed);
	return text;
}

void *arena_grow(struct arena *arena, void *items, size_t count, size_t *room, size_t element_size)
{
	size_t had = items ? *room : 0;

	if (count < had)
		return items;
	size_t more = had < GROW_FIRST / 2 ? GROW_FIRST : had * 2;

	if (had > PIECE_MOST / 2 || more > PIECE_MOST / element_size)
		return fail(arena);
	void *grown = arena_take(arena, more * element_size);

	if (!grown)
		return NULL;
	if (had)
		memcpy(grown, items, count * element_size);
	*room = more;
	return grown;
}
