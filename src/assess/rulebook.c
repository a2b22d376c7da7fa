#include "tundish/assess/rulebook.h"

#include "words.h"

#include <string.h>

/* ORDER MECHANISM */
static const char *const mechanism_names[MECHANISM_COUNT] = {"back_pressure", "back_siphonage"};
static const char *const mechanism_in_words[MECHANISM_COUNT] = {"back pressure", "back siphonage"};

/* ORDER STANDING */
static const char *const standing_names[STANDING_COUNT] = {"published", "common practice",
                                                           "memory"};
static const char *const standing_in_words[STANDING_COUNT] = {"published", "common practice",
                                                              "MEMORY, to be checked"};

/* ORDER URGENCY */
static const char *const urgency_names[URGENCY_COUNT] = {"none", "watch", "next_job", "days",
                                                         "now"};
static const char *const urgency_in_words[URGENCY_COUNT] = {"none", "watch", "next job", "days",
                                                            "now"};

const char *mechanism_name(enum mechanism mechanism)
{
	return mechanism_names[mechanism];
}

const char *mechanism_words(enum mechanism mechanism)
{
	return mechanism_in_words[mechanism];
}

const char *standing_name(enum standing standing)
{
	return standing_names[standing];
}

const char *standing_words(enum standing standing)
{
	return standing_in_words[standing];
}

const char *urgency_name(enum urgency urgency)
{
	return urgency_names[urgency];
}

const char *urgency_words(enum urgency urgency)
{
	return urgency_in_words[urgency];
}

/* -- looking words up ------------------------------------------------------------------- */

/**
 * At most eight bytes as one number. Two reads that may overlap: bytes that are copied together one
 * by one and then read as one word make the processor wait.
 */
static uint64_t number_of(const char *bytes, size_t length)
{
	uint64_t whole = 0;
	uint32_t first, last;

	if (length >= sizeof whole) {
		memcpy(&whole, bytes, sizeof whole);
	} else if (length >= sizeof first) {
		memcpy(&first, bytes, sizeof first);
		memcpy(&last, bytes + length - sizeof last, sizeof last);
		whole = (uint64_t)last << 32 | first;
	} else if (length > 0) {
		whole = (uint64_t)(unsigned char)bytes[0] |
		        (uint64_t)(unsigned char)bytes[length / 2] << 8 |
		        (uint64_t)(unsigned char)bytes[length - 1] << 16;
	}
	return whole;
}

/** Eight bytes at a time: words are short, and there are many of them in a survey. */
static uint64_t hash_bytes(uint64_t h, const char *bytes, size_t length)
{
	size_t taken = 0;

	while (taken < length) {
		h = (h ^ number_of(bytes + taken, length - taken)) * UINT64_C(0x9E3779B97F4A7C15);
		h ^= h >> 32;
		taken += sizeof h;
	}
	return h;
}

static uint32_t word_hash(unsigned sort, uint16_t owner, const char *at, const char *id,
                          size_t length)
{
	uint64_t h = (uint64_t)sort << 32 | (uint64_t)owner << 16 | (length & 255) << 8;

	return (uint32_t)hash_bytes(h | (unsigned char)at[0], id, length);
}

bool words_init(struct rulebook *book, size_t most)
{
	struct word_table *table = arena_take(&book->arena, sizeof *table);
	size_t slots = 64;

	while (slots < most * 2)
		slots *= 2;
	if (!table)
		return false;
	table->word = arena_take(&book->arena, slots * sizeof *table->word);
	table->slots = slots;
	book->words = table;
	return table->word != NULL;
}

static struct word *find(const struct word_table *table, unsigned sort, uint16_t owner,
                         const char *at, const char *id, size_t length)
{
	uint32_t hash = word_hash(sort, owner, at, id, length);

	for (uint32_t slot = hash;; slot++) {
		struct word *word = &table->word[slot & (table->slots - 1)];

		if (!word->id)
			return word;
		if (word->hash == hash && word->sort == sort && word->owner == owner &&
		    word->length == length && memcmp(word->id, id, length) == 0 &&
		    strcmp(word->at, at) == 0)
			return word;
	}
}

void words_add(struct rulebook *book, unsigned sort, uint16_t owner, const char *at, const char *id,
               uint16_t index)
{
	size_t length = strlen(id);
	struct word *word = find(book->words, sort, owner, at, id, length);

	if (!word->id)
		*word = (struct word){.id = id,
		                      .at = at,
		                      .hash = word_hash(sort, owner, at, id, length),
		                      .length = (uint32_t)length,
		                      .sort = (uint16_t)sort,
		                      .owner = owner,
		                      .index = index};
}

static uint16_t lookup(const struct rulebook *book, unsigned sort, uint16_t owner, const char *at,
                       const char *id, size_t length)
{
	const struct word *word = find(book->words, sort, owner, at, id, length);

	return word->id ? word->index : INDEX_NONE;
}

bool row_is_called(const struct row *row, const char *id)
{
	for (size_t i = 0; i < row->was_count; i++)
		if (strcmp(row->was[i], id) == 0)
			return true;
	return strcmp(row->id, id) == 0;
}

uint16_t rulebook_kind(const struct rulebook *book, const char *id, size_t length)
{
	return lookup(book, WORD_KIND, INDEX_NONE, "", id, length);
}

uint16_t rulebook_type(const struct rulebook *book, const char *id, size_t length)
{
	return lookup(book, WORD_TYPE, INDEX_NONE, "", id, length);
}

question_index rulebook_question(const struct rulebook *book, enum scope scope, uint16_t owner,
                                 const char *at, const char *id, size_t length)
{
	question_index found = QUESTION_NONE;

	if (owner != INDEX_NONE)
		found = lookup(book, scope, owner, at, id, length);
	return found != QUESTION_NONE ? found : lookup(book, scope, INDEX_NONE, at, id, length);
}

void rulebook_finish(struct rulebook *book)
{
	arena_finish(&book->arena);
	memset(book, 0, sizeof *book);
}
