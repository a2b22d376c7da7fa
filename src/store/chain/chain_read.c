#include "chain.h"

#include <string.h>

struct checking {
	const struct source *source;
	struct arena *arena;
	struct faults *faults;
	struct tree_text tree;
	struct chain *out;
	bool no_memory;
};

static bool starve(struct checking *checking)
{
	checking->no_memory = true;
	fault_add(checking->faults, SEVERITY_FAULT, checking->source, (struct span){0, 0},
	          "no memory for the amendments");
	return false;
}

static const char *text_of(const struct tree *map, const char *key)
{
	const struct tree *node = tree_get(map, key);

	return node && node->kind == EVENT_SCALAR && node->length > 0 ? node->text : NULL;
}

static struct span span_of(const struct tree *node)
{
	return (struct span){tree_entry_start(node), 1};
}

/* -- one link ---------------------------------------------------------------------------------- */

/* Names what does not hold. @return false always. */
static bool broken(struct checking *checking, const struct tree *at, size_t number, const char *why)
{
	checking->out->broken = true;
	fault_add(checking->faults, SEVERITY_FAULT, checking->source, span_of(at),
	          "amendment %zu is where the chain breaks: %s", number, why);
	return false;
}

static bool read_changes(struct checking *checking, const struct tree *entry, struct amendment *out)
{
	const struct tree *changes = tree_get(entry, "changes");
	size_t count = 0;

	for (const struct tree *node = changes ? changes->child : NULL; node; node = node->next)
		count++;
	out->change = arena_take(checking->arena, count * sizeof(*out->change));
	if (!out->change)
		return starve(checking);
	for (const struct tree *node = changes ? changes->child : NULL; node; node = node->next) {
		struct change *change = &out->change[out->change_count++];
		const struct tree *before = tree_get(node, "before");
		const struct tree *after = tree_get(node, "after");
		const char *where = text_of(node, "where");
		change->where = where ? where : "";
		change->before = before ? before->text : NULL;
		change->after = after ? after->text : NULL;
	}
	return true;
}

static bool is_number(const char *text, size_t number)
{
	char expected[24];
	size_t length = sizeof(expected);

	expected[--length] = '\0';
	do {
		expected[--length] = (char)('0' + number % 10);
		number /= 10;
	} while (number > 0);
	return strcmp(text, expected + length) == 0;
}

/* @return whether it holds. */
static bool read_link(struct checking *checking, const struct tree *entry, size_t number,
                      struct amendment *out)
{
	const char *sequence = text_of(entry, "sequence");
	struct digest head;

	*out = (struct amendment){.at = text_of(entry, "at"),
	                          .who = text_of(entry, "who"),
	                          .why = text_of(entry, "why"),
	                          .head = text_of(entry, "head"),
	                          .adopted = tree_get(entry, "adopted") != NULL,
	                          .span = span_of(entry)};
	if (!sequence || !is_number(sequence, number))
		return broken(checking, entry, number, "its `sequence` is not the next number");
	if (!out->at || !out->who || !out->why || !text_of(entry, "state") || !out->head)
		return broken(checking, entry, number,
		              "it needs `at`, `who`, `why`, `state` and `head`");
	if (!chain_head(checking->out->head, entry, checking->arena, &head))
		return starve(checking);
	if (strcmp(head.text, out->head) != 0)
		return broken(checking, entry, number,
		              "what it says is not what its `head` was made of, or one before it "
		              "is missing");
	return read_changes(checking, entry, out);
}

static void look_at_time(struct checking *checking, const struct amendment *before,
                         const struct amendment *now)
{
	if (strcmp(now->at, before->at) < 0)
		fault_add(checking->faults, SEVERITY_NOTICE, checking->source, now->span,
		          "this was made before the one before it, by the clock: %s", now->at);
}

/* @return the last entry that holds, or NULL. */
static const struct tree *read_links(struct checking *checking, const struct tree *list)
{
	struct chain *out = checking->out;
	const struct tree *last = NULL;
	size_t most = 0;

	for (const struct tree *entry = list->child; entry; entry = entry->next)
		most++;
	out->amendment = arena_take(checking->arena, most * sizeof(*out->amendment));
	if (!out->amendment) {
		starve(checking);
		return NULL;
	}
	for (const struct tree *entry = list->child; entry; entry = entry->next) {
		struct amendment *amendment = &out->amendment[out->count];
		if (!read_link(checking, entry, out->count + 1, amendment))
			break;
		if (out->count > 0)
			look_at_time(checking, amendment - 1, amendment);
		out->head = amendment->head;
		out->count++;
		last = entry;
	}
	return last;
}

/* -- what the last one left -------------------------------------------------------------------- */

/* The digest that an amendment keeps of a part, or NULL. */
static const char *kept_part(const struct tree *parts, const char *name)
{
	size_t length = strlen(name);

	for (const struct tree *node = parts ? parts->child : NULL; node; node = node->next) {
		if (node->kind == EVENT_SCALAR && node->length == length + 1 + PART_LENGTH &&
		    memcmp(node->text, name, length) == 0 && node->text[length] == ' ')
			return node->text + length + 1;
	}
	return NULL;
}

static void outside(struct checking *checking, struct span span, const char *name, const char *what)
{
	fault_add(checking->faults, SEVERITY_FAULT, checking->source, span,
	          "`%.80s` %s since amendment %zu, and no amendment says so", name, what,
	          checking->out->count);
}

static size_t name_missing(struct checking *checking, const struct tree *parts,
                           const struct chain_part *part, size_t count)
{
	size_t named = 0;

	for (const struct tree *node = parts ? parts->child : NULL; node; node = node->next) {
		const char *blank = node->kind == EVENT_SCALAR ? strrchr(node->text, ' ') : NULL;
		size_t length = blank ? (size_t)(blank - node->text) : 0, i = 0;
		while (i < count && (strlen(part[i].name) != length ||
		                     memcmp(part[i].name, node->text, length) != 0))
			i++;
		const char *name =
		        arena_copy(checking->arena, node->text ? node->text : "", length);
		if (i < count || !name)
			continue;
		outside(checking, span_of(node), name, "was taken out");
		named++;
	}
	return named;
}

/* Each part that is not as the last amendment left it. */
static bool name_parts(struct checking *checking, const struct tree *last)
{
	const struct tree *parts = tree_get(last, "parts");
	size_t count = 0, named = 0;
	struct chain_part *part = chain_parts(checking->tree.root, checking->arena, &count);

	if (!part)
		return starve(checking);
	for (size_t i = 0; i < count; i++) {
		const char *kept = kept_part(parts, part[i].name);
		if (kept && memcmp(kept, part[i].digest, PART_LENGTH) == 0)
			continue;
		outside(checking, part[i].span, part[i].name, kept ? "was changed" : "was put in");
		named++;
	}
	named += name_missing(checking, parts, part, count);
	if (named == 0)
		outside(checking, (struct span){0, 0}, "rooms", "was put into another order");
	return true;
}

static bool check_state(struct checking *checking, const struct tree *last)
{
	struct digest state;

	if (!chain_state(checking->tree.root, checking->arena, &state))
		return starve(checking);
	if (strcmp(state.text, text_of(last, "state")) == 0)
		return true;
	checking->out->outside = true;
	return name_parts(checking, last);
}

/* -- the whole --------------------------------------------------------------------------------- */

/* A survey that was signed off has at least one amendment: the signing off itself. */
static bool look_for_lost(struct checking *checking)
{
	const struct tree *premises = tree_get(checking->tree.root, "premises");
	const struct tree *signed_off = tree_get(premises, signed_off_key);

	if (!signed_off || tree_is_empty(signed_off))
		return true;
	checking->out->outside = true;
	fault_add(checking->faults, SEVERITY_FAULT, checking->source, signed_off->key_span,
	          "signed off, and there are no amendments: they were taken out, or it was not "
	          "signed off with tundish");
	return true;
}

static bool check(struct checking *checking)
{
	const struct tree *list = tree_get(checking->tree.root, amendments_key), *last;

	if (!list || tree_is_empty(list))
		return look_for_lost(checking);
	if (list->kind != EVENT_LIST || !list->child)
		return broken(checking, list, 1, "`amendments` is no list of them"), true;
	last = read_links(checking, list);
	if (checking->no_memory)
		return false;
	return checking->out->broken || !last || check_state(checking, last);
}

bool chain_read(const struct source *source, struct arena *arena, struct chain *out,
                struct faults *faults)
{
	struct checking checking = {.source = source, .arena = arena, .faults = faults, .out = out};

	*out = (struct chain){.head = ""};
	return tree_read(&checking.tree, source, arena, faults) && check(&checking);
}
