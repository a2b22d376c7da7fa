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

/** Eight bytes at a time: words are short, and there are many of them in a survey. */
static uint64_t hash_bytes(uint64_t h, const char *bytes, size_t length)
{
	while (length > 0) {
		size_t taken = length < sizeof(uint64_t) ? length : sizeof(uint64_t);
		uint64_t piece = 0;

		memcpy(&piece, bytes, taken);
		h = (h ^ piece) * UINT64_C(0x9E3779B97F4A7C15);
		h ^= h >> 32;
		bytes += taken;
		length -= taken;
	}
	return h;
}

static uint32_t word_hash(unsigned sort, uint16_t owner, const char *at, const char *id,
                          size_t length)
{
	uint64_t h = (uint64_t)sort << 32 | (uint64_t)owner << 8 | (length & 255);

	h = hash_bytes(h, at, strlen(at));
	return (uint32_t)hash_bytes(h, id, length);
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
	uint32_t h = word_hash(sort, owner, at, id, length);

	for (;; h++) {
		struct word *word = &table->word[h & (table->slots - 1)];

		if (!word->id)
			return word;
		if (word->sort == sort && word->owner == owner && word->length == length &&
		    memcmp(word->id, id, length) == 0 && strcmp(word->at, at) == 0)
			return word;
	}
}

void words_add(struct rulebook *book, unsigned sort, uint16_t owner, const char *at, const char *id,
               uint16_t index)
{
	size_t length = strlen(id);
	struct word *word = find(book->words, sort, owner, at, id, length);

	if (!word->id)
		*word = (struct word){id, at, length, sort, owner, index};
}

static uint16_t lookup(const struct rulebook *book, unsigned sort, uint16_t owner, const char *at,
                       const char *id, size_t length)
{
	const struct word *word = find(book->words, sort, owner, at, id, length);

	return word->id ? word->index : INDEX_NONE;
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
