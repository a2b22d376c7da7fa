/* Any bytes as a journal, and any bytes as the lines of one whose links are right: no crash, what is whole is read the same when the rest is cut off, and it never grows beyond
 * its text. */
#include "fuzz.h"

#include "tundish/store/journal.h"

#include <sodium.h>

#include <string.h>

static void promise_text(const char *text, size_t most)
{
	PROMISE(!text || strlen(text) <= most);
}

static void promise_same(const char *a, const char *b)
{
	PROMISE(!a == !b && (!a || strcmp(a, b) == 0));
}

/* What is torn adds nothing. */
static void promise_prefix(const struct journal_text *all, const char *text, struct arena *arena)
{
	struct journal_text cut;
	struct err err = {0};

	PROMISE(journal_read(text, all->whole, arena, &cut, &err));
	PROMISE(cut.whole == all->whole && cut.changes.count == all->changes.count &&
	        memcmp(cut.link, all->link, sizeof(cut.link)) == 0);
	for (size_t i = 0; i < cut.changes.count; i++) {
		promise_same(cut.changes.item[i].where, all->changes.item[i].where);
		promise_same(cut.changes.item[i].before, all->changes.item[i].before);
		promise_same(cut.changes.item[i].after, all->changes.item[i].after);
	}
}

static void try_text(const char *text, size_t size, struct arena *arena)
{
	struct journal_text out;
	struct err err = {0};

	if (!journal_read(text, size, arena, &out, &err)) {
		PROMISE(err.kind == ERR_TEXT && err.message[0]);
		return;
	}
	PROMISE(out.whole > 0 && out.whole <= size && text[out.whole - 1] == '\n');
	for (size_t i = 0; i < out.changes.count; i++) {
		promise_text(out.changes.item[i].where, size);
		promise_text(out.changes.item[i].before, size);
		promise_text(out.changes.item[i].after, size);
	}
	for (size_t i = 0; i < out.mark_count; i++)
		PROMISE(out.mark[i].change_count <= out.changes.count &&
		        (i == 0 || out.mark[i - 1].change_count <= out.mark[i].change_count));
	promise_prefix(&out, text, arena);
}

/* No fuzzer finds a hash: each line is given the link that it should have. */
static void try_lines(const char *text, size_t size, struct arena *arena)
{
	enum { LINK_BYTES = 8, LINK_ROOM = 2 * LINK_BYTES + 1 };
	unsigned char link[crypto_hash_sha256_BYTES] = {0};
	const char *end = text + size;
	size_t lines = 1, count = 0;
	char *out;

	for (size_t i = 0; i < size; i++)
		lines += text[i] == '\n';
	out = arena_take(arena, size + lines * (LINK_ROOM + 1));
	PROMISE(out);
	while (text < end) {
		const char *stop = memchr(text, '\n', (size_t)(end - text));
		size_t length = (size_t)((stop ? stop : end) - text);
		crypto_hash_sha256_state state;

		crypto_hash_sha256_init(&state);
		crypto_hash_sha256_update(&state, link, sizeof(link));
		crypto_hash_sha256_update(&state, (const unsigned char *)text, length);
		crypto_hash_sha256_final(&state, link);
		sodium_bin2hex(out + count, LINK_ROOM, link, LINK_BYTES);
		out[count + LINK_ROOM - 1] = '\t';
		memcpy(out + count + LINK_ROOM, text, length);
		count += LINK_ROOM + length;
		out[count++] = '\n';
		text += length + 1;
	}
	try_text(out, count, arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct arena arena;

	arena_reset(&arena);
	try_text((const char *)data, size, &arena);
	try_lines((const char *)data, size, &arena);
	return 0;
}
