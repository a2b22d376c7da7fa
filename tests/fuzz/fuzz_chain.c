/* Any bytes as a survey with amendments, and any bytes whose links are made right: no crash, what does not hold is named once with
 * its place, what holds is read the same twice, and a link that was made right breaks when a word of it is another. */
#include "fuzz.h"

#include "tundish/store/amendments.h"

#include "../../src/store/chain/chain.h"
#include "../../src/store/yaml/tree.h"

#include <string.h>

static void promise_text(const char *text, size_t most)
{
	PROMISE(text && *text && strlen(text) <= most);
}

static struct chain read_chain(const struct source *source, struct arena *arena, bool *read)
{
	struct faults faults;
	struct chain chain;

	faults_init(&faults, arena);
	*read = chain_read(source, arena, &chain, &faults);
	promise_faults(&faults);
	PROMISE(*read || faults.fatal > 0);
	PROMISE(!*read || (chain.broken || chain.outside) == (faults.fatal > 0));
	PROMISE(!chain.broken || !chain.outside);
	return chain;
}

static void try_text(const struct source *source, struct arena *arena)
{
	bool read, again;
	struct chain chain = read_chain(source, arena, &read);
	struct chain other = read_chain(source, arena, &again);

	PROMISE(read == again);
	if (!read)
		return;
	PROMISE(chain.count == other.count && chain.broken == other.broken &&
	        chain.outside == other.outside && strcmp(chain.head, other.head) == 0);
	for (size_t i = 0; i < chain.count; i++) {
		const struct amendment *amendment = &chain.amendment[i];

		promise_text(amendment->at, source->length);
		promise_text(amendment->who, source->length);
		promise_text(amendment->why, source->length);
		PROMISE(strlen(amendment->head) == DIGEST_LENGTH);
		for (size_t j = 0; j < amendment->change_count; j++)
			PROMISE(amendment->change[j].where);
	}
	if (chain.count > 0)
		PROMISE(strcmp(chain.head, chain.amendment[chain.count - 1].head) == 0);
}

/* -- links made right -------------------------------------------------------------------------- */

static bool put_digest(char *text, const struct tree *place, const struct digest *digest)
{
	if (!place || place->kind != EVENT_SCALAR || place->span.length != DIGEST_LENGTH)
		return false;
	memcpy(text + place->span.at, digest->text, DIGEST_LENGTH);
	return true;
}

/* The number of entries whose `head` was put right, from the first on. */
static size_t make_right(char *text, size_t size, struct arena *arena)
{
	struct source source = {"input.yaml", text, size};
	const char *head = "";
	size_t count = 0;

	for (;;) {
		struct tree_text tree;
		struct faults faults;
		struct digest digest;
		const struct tree *entry;

		faults_init(&faults, arena);
		if (!tree_read(&tree, &source, arena, &faults) || !tree.root)
			return count;
		entry = tree_get(tree.root, amendments_key);
		entry = entry && entry->kind == EVENT_LIST ? entry->child : NULL;
		for (size_t i = 0; entry && i < count; i++)
			entry = entry->next;
		if (!entry || entry->kind != EVENT_MAP)
			return count;
		if (!entry->next && chain_state(tree.root, arena, &digest))
			put_digest(text, tree_get(entry, "state"), &digest);
		if (!tree_read(&tree, &source, arena, &faults))
			return count;
		entry = tree_get(tree.root, amendments_key)->child;
		for (size_t i = 0; i < count; i++)
			entry = entry->next;
		PROMISE(chain_head(head, entry, arena, &digest));
		if (!put_digest(text, tree_get(entry, "head"), &digest))
			return count;
		head = arena_copy(arena, digest.text, DIGEST_LENGTH);
		PROMISE(head);
		count++;
	}
}

/* Another byte in the reason of the first amendment. */
static void spoil_first(char *text, size_t size, struct arena *arena)
{
	struct source source = {"input.yaml", text, size};
	struct tree_text tree;
	struct faults faults;
	const struct tree *why;

	faults_init(&faults, arena);
	PROMISE(tree_read(&tree, &source, arena, &faults));
	why = tree_get(tree_get(tree.root, amendments_key)->child, "why");
	text[why->span.at + (why->quote != 0)] ^= 1;
}

static void try_right(const uint8_t *data, size_t size, struct arena *arena)
{
	char *text = arena_copy(arena, (const char *)data, size);
	struct source source = {"input.yaml", text, size};
	size_t right;
	struct chain chain;
	bool read;

	PROMISE(text);
	right = make_right(text, size, arena);
	try_text(&source, arena);
	chain = read_chain(&source, arena, &read);
	if (!read || chain.count == 0)
		return;
	PROMISE(chain.count <= right);
	spoil_first(text, size, arena);
	chain = read_chain(&source, arena, &read);
	PROMISE(!read || chain.broken);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	enum { SIZE_MOST = 1 << 16 }; /* it is read once for each link */
	static struct arena arena;
	struct source source = {"input.yaml", (const char *)data, size};

	arena_reset(&arena);
	try_text(&source, &arena);
	if (size <= SIZE_MOST)
		try_right(data, size, &arena);
	return 0;
}
