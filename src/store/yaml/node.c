#include "node.h"

#include "tundish/base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* -- reading --------------------------------------------------------------------------------- */

struct reading {
	struct events events;
	struct arena *nodes, *texts;
};

static struct node *read_value(struct reading *reading);

static void read_map(struct reading *reading, struct node *map)
{
	struct node **end = &map->child;
	struct key key;

	while (events_key(&reading->events, &key)) {
		struct node *value = read_value(reading);

		if (!value)
			return;
		value->key = arena_copy(reading->texts, key.text, key.length);
		value->key_span = key.span;
		if (!value->key)
			events_stop(&reading->events);
		*end = value;
		end = &value->next;
	}
}

static void read_list(struct reading *reading, struct node *list)
{
	struct node **end = &list->child;

	while (events_item(&reading->events)) {
		struct node *value = read_value(reading);

		if (!value)
			return;
		*end = value;
		end = &value->next;
	}
}

/* Recursion ends at EVENTS_DEPTH_MOST. */
static struct node *read_value(struct reading *reading)
{
	struct events *events = &reading->events;
	struct node *node = arena_take(reading->nodes, sizeof(*node));

	if (!node) {
		events_stop(events);
		return NULL;
	}
	node->kind = events->kind;
	node->span = events->span;
	node->source = events->source;
	if (node->kind == EVENT_SCALAR) {
		node->text = arena_copy(reading->texts, events->text, events->length);
		if (!node->text) {
			events_stop(events);
			return NULL;
		}
		return node;
	}
	if (node->kind == EVENT_MAP)
		read_map(reading, node);
	else
		read_list(reading, node);
	node->span = events_span_from(events, node->span.at);
	return node;
}

struct node *node_read(const struct source *source, struct arena *nodes, struct arena *texts,
                       struct faults *faults)
{
	struct reading reading = {.nodes = nodes, .texts = texts};
	struct node *root = NULL;

	if (events_open(&reading.events, source, nodes, faults)) {
		root = read_value(&reading);
		events_end(&reading.events);
		if (reading.events.broken)
			root = NULL;
	}
	events_close(&reading.events);
	if (nodes->failed || texts->failed) {
		fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
		          "no memory to read this");
		return NULL;
	}
	/* An empty scalar: a text of `---` alone. */
	return root && root->kind == EVENT_SCALAR && root->text[0] == '\0' ? NULL : root;
}

/* -- reading by key -------------------------------------------------------------------------- */

void node_fault(const struct node *node, struct faults *faults, const char *format, ...)
{
	char message[sizeof(((struct fault *)0)->message) * 2];
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(message, sizeof(message), format, arguments);
	va_end(arguments);
	fault_add(faults, SEVERITY_FAULT, node->source, node->span, "%s", message);
}

const char *node_meant(const char *word, const char *const *words, size_t count,
                       struct faults *faults)
{
	const char *nearest = text_nearest(word, words, count);
	const char *says =
	        nearest ? arena_print(faults->arena, ": did you mean `%s`?", nearest) : NULL;

	return says ? says : "";
}

/* Most keys differ in their first byte: that spares the call, and a tenth of the program's start. */
static bool same_key(const char *a, const char *b)
{
	return a[0] == b[0] && strcmp(a, b) == 0;
}

const struct node *node_get(const struct node *map, const char *key)
{
	if (!map || map->kind != EVENT_MAP)
		return NULL;
	for (const struct node *entry = map->child; entry; entry = entry->next) {
		if (!entry->key || !same_key(entry->key, key))
			continue;
		if (entry->kind == EVENT_SCALAR && entry->text[0] == '\0')
			return NULL;
		return entry;
	}
	return NULL;
}

const char *node_text(const struct node *map, const char *key, struct faults *faults)
{
	const struct node *value = node_get(map, key);

	if (!value)
		return NULL;
	if (value->kind != EVENT_SCALAR) {
		node_fault(value, faults, "`%s` is one text, not a list or a map", key);
		return NULL;
	}
	return value->text;
}

bool node_yes(const struct node *map, const char *key, bool absent, struct faults *faults)
{
	const struct node *value = node_get(map, key);

	if (!value)
		return absent;
	if (value->kind == EVENT_SCALAR && strcmp(value->text, "yes") == 0)
		return true;
	if (value->kind != EVENT_SCALAR || strcmp(value->text, "no") != 0)
		node_fault(value, faults, "`%s` is yes or no", key);
	return false;
}

const struct node *node_list(const struct node *map, const char *key, struct faults *faults)
{
	const struct node *value = node_get(map, key);

	if (!value)
		return NULL;
	if (value->kind != EVENT_LIST) {
		node_fault(value, faults, "`%s` is a list", key);
		return NULL;
	}
	return value->child;
}

bool node_is_map(const struct node *node, const char *what, struct faults *faults)
{
	if (node->kind == EVENT_MAP)
		return true;
	node_fault(node, faults, "%s is a map", what);
	return false;
}

void node_known_keys(const struct node *map, const char *what, const char *const *known,
                     struct faults *faults)
{
	size_t count = 0;

	while (known[count])
		count++;
	for (const struct node *entry = map->child; entry; entry = entry->next) {
		bool found = strncmp(entry->key, "x-", 2) == 0;

		for (size_t i = 0; !found && i < count; i++)
			found = same_key(entry->key, known[i]);
		if (!found)
			fault_add(faults, SEVERITY_NOTICE, entry->source, entry->key_span,
			          "`%.60s` is no key of %s%s", entry->key, what,
			          node_meant(entry->key, known, count, faults));
	}
}
