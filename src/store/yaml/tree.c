#include "tree.h"

#include <string.h>

/* -- lines ---------------------------------------------------------------------------- */

/* How many bytes the line break at @p at takes; 0: there is none. */
static size_t line_break_at(const struct source *source, uint32_t at)
{
	const char *text = source->text + at;
	size_t left = source->length - at;

	if (left == 0)
		return 0;
	if (text[0] == '\n')
		return 1;
	if (text[0] == '\r')
		return left > 1 && text[1] == '\n' ? 2 : 1;
	if (left > 1 && memcmp(text, "\xC2\x85", 2) == 0)
		return 2;
	if (left > 2 &&
	    (memcmp(text, "\xE2\x80\xA8", 3) == 0 || memcmp(text, "\xE2\x80\xA9", 3) == 0))
		return 3;
	return 0;
}

static bool break_ends_at(const struct source *source, uint32_t at)
{
	for (uint32_t length = 1; length <= 3 && length <= at; length++)
		if (line_break_at(source, at - length) == length)
			return true;
	return false;
}

uint32_t line_start(const struct source *source, uint32_t at)
{
	uint32_t first = (uint32_t)source_bom(source);

	while (at > first && !break_ends_at(source, at))
		at--;
	return at;
}

uint32_t line_before(const struct source *source, uint32_t at)
{
	uint32_t start = line_start(source, at);

	if (start <= source_bom(source))
		return start;
	for (uint32_t length = 3; length > 0; length--)
		if (length <= start && line_break_at(source, start - length) == length)
			return line_start(source, start - length);
	return start;
}

uint32_t line_end(const struct source *source, uint32_t at)
{
	while (at < source->length && line_break_at(source, at) == 0)
		at++;
	return at;
}

uint32_t line_next(const struct source *source, uint32_t at)
{
	at = line_end(source, at);
	return at + (uint32_t)line_break_at(source, at);
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

bool line_is_blank(const struct source *source, uint32_t from, uint32_t to)
{
	while (from < to && is_blank(source->text[from]))
		from++;
	return from >= to;
}

static const char *own_line_break(const struct source *source)
{
	uint32_t end = line_end(source, 0);

	if (end < source->length && source->text[end] == '\r')
		return line_break_at(source, end) == 2 ? "\r\n" : "\r";
	return "\n";
}

/* -- reading -------------------------------------------------------------------------- */

struct growing {
	struct tree_text *tree;
	struct arena *arena;
	struct events events;
	bool no_memory;
};

static struct tree *read_value(struct growing *growing, struct tree *parent);

static void note_span(struct growing *growing, struct span **list, size_t *count, size_t *room,
                      struct span span)
{
	struct span *grown = arena_grow(growing->arena, *list, *count, room, sizeof(span));

	if (grown == NULL) {
		growing->no_memory = true;
		return;
	}
	*list = grown;
	grown[(*count)++] = span;
}

static void note_scalar(struct growing *growing, struct span span)
{
	struct tree_text *tree = growing->tree;

	if (span.length > 0)
		note_span(growing, &tree->scalar, &tree->scalar_count, &tree->scalar_room, span);
}

static void append(struct tree *parent, struct tree *child)
{
	child->parent = parent;
	child->prev = parent->last;
	if (parent->last != NULL)
		parent->last->next = child;
	else
		parent->child = child;
	parent->last = child;
}

static void read_map(struct growing *growing, struct tree *map)
{
	struct key key;

	while (events_key(&growing->events, &key)) {
		struct tree *value;

		note_scalar(growing, key.span);
		value = read_value(growing, map);
		if (value == NULL)
			return;
		value->key_span = key.span;
		value->key = arena_copy(growing->arena, key.text, key.length);
		if (value->key == NULL) {
			growing->no_memory = true;
			return;
		}
	}
}

static void read_list(struct growing *growing, struct tree *list)
{
	while (events_item(&growing->events))
		if (read_value(growing, list) == NULL)
			return;
}

static void read_scalar(struct growing *growing, struct tree *node)
{
	const struct events *events = &growing->events;

	node->text = arena_copy(growing->arena, events->text, events->length);
	node->length = events->length;
	if (node->text == NULL)
		growing->no_memory = true;
	switch (events->raw.data.scalar.style) {
	case YAML_SINGLE_QUOTED_SCALAR_STYLE:
		node->quote = '\'';
		break;
	case YAML_DOUBLE_QUOTED_SCALAR_STYLE:
		node->quote = '"';
		break;
	case YAML_LITERAL_SCALAR_STYLE:
	case YAML_FOLDED_SCALAR_STYLE:
		node->literal = true;
		break;
	case YAML_ANY_SCALAR_STYLE:
	case YAML_PLAIN_SCALAR_STYLE:
		break;
	}
	note_scalar(growing, node->span);
}

/* Recursion ends at EVENTS_DEPTH_MOST. */
static struct tree *read_value(struct growing *growing, struct tree *parent)
{
	struct events *events = &growing->events;
	struct tree *node = arena_take(growing->arena, sizeof(*node));

	if (node == NULL) {
		growing->no_memory = true;
		return NULL;
	}
	if (parent != NULL)
		append(parent, node);
	node->kind = events->kind;
	node->span = events->span;
	node->flow = events->flow && events->kind != EVENT_SCALAR;
	if (node->kind == EVENT_MAP)
		read_map(growing, node);
	else if (node->kind == EVENT_LIST)
		read_list(growing, node);
	else
		read_scalar(growing, node);
	if (node->flow)
		node->span = events_span_from(events, node->span.at);
	return growing->no_memory ? NULL : node;
}

/* The comment that a line holds from @p from on: between scalars a # can be nothing else. */
static void note_comment(struct growing *growing, uint32_t at, uint32_t end)
{
	struct tree_text *tree = growing->tree;
	const char *text = tree->source->text;

	while (end > at && is_blank(text[end - 1]))
		end--;
	note_span(growing, &tree->comment, &tree->comment_count, &tree->comment_room,
	          (struct span){at, end - at});
}

/* `|` and `>` may have a comment after them on their line. */
static void note_head_comment(struct growing *growing, struct span scalar)
{
	const struct source *source = growing->tree->source;
	uint32_t end;

	if (source->text[scalar.at] != '|' && source->text[scalar.at] != '>')
		return;
	end = line_end(source, scalar.at);
	for (uint32_t at = scalar.at + 1; at < end; at++)
		if (source->text[at] == '#' && is_blank(source->text[at - 1])) {
			note_comment(growing, at, end);
			return;
		}
}

static void find_comments(struct growing *growing)
{
	const struct tree_text *tree = growing->tree;
	const struct source *source = tree->source;
	size_t scalar = 0;

	for (uint32_t at = 0; at < source->length;) {
		if (scalar < tree->scalar_count && at >= tree->scalar[scalar].at) {
			struct span span = tree->scalar[scalar++];

			note_head_comment(growing, span);
			if (span.at + span.length > at)
				at = span.at + span.length;
		} else if (source->text[at] == '#') {
			note_comment(growing, at, line_end(source, at));
			at = line_end(source, at);
		} else {
			at++;
		}
	}
}

/* Between entries stand only blanks, comments and the dash; before the first perhaps a tag. */
static void find_dashes(const struct tree_text *tree, struct tree *node)
{
	const struct source *source = tree->source;
	uint32_t at = node->span.at;

	for (struct tree *child = node->child; child != NULL; child = child->next) {
		find_dashes(tree, child);
		if (node->kind != EVENT_LIST || node->flow)
			continue;
		while (at < child->span.at && source->text[at] != '-')
			at = source->text[at] == '#' || source->text[at] == '!'
			             ? line_end(source, at)
			             : at + 1;
		child->dash = at;
		at = child->kind == EVENT_SCALAR ? child->span.at + child->span.length
		                                 : tree_end(tree, child);
	}
}

bool tree_read(struct tree_text *tree, const struct source *source, struct arena *arena,
               struct faults *faults)
{
	struct growing growing = {.tree = tree, .arena = arena};
	size_t before = faults->fatal;

	*tree = (struct tree_text){.source = source, .line_break = own_line_break(source)};
	if (events_open(&growing.events, source, arena, faults)) {
		tree->root = read_value(&growing, NULL);
		events_end(&growing.events);
	}
	events_close(&growing.events);
	if (faults->fatal == before && !growing.no_memory) {
		find_comments(&growing);
		if (tree->root != NULL)
			find_dashes(tree, tree->root);
	}
	if (growing.no_memory)
		fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
		          "no memory to read this");
	/* a text of `---` alone */
	if (tree->root != NULL && tree_is_empty(tree->root))
		tree->root = NULL;
	return faults->fatal == before;
}

bool tree_read_whole(struct tree_text *tree, const struct source *source, struct arena *arena,
                     struct err *err)
{
	struct faults faults;

	faults_init(&faults, arena);
	if (tree_read(tree, source, arena, &faults))
		return true;
	err_set(err, arena->failed ? ERR_MEMORY : ERR_TEXT, "%s can't be read: %s", source->name,
	        faults.count ? faults.item[0].message : "no memory");
	return false;
}

/* -- looking -------------------------------------------------------------------------- */

struct tree *tree_get(const struct tree *map, const char *key)
{
	if (map == NULL || map->kind != EVENT_MAP)
		return NULL;
	for (struct tree *child = map->child; child != NULL; child = child->next)
		if (strcmp(child->key, key) == 0)
			return child;
	return NULL;
}

bool tree_is_empty(const struct tree *node)
{
	return node->kind == EVENT_SCALAR && node->span.length == 0;
}

bool tree_in_flow(const struct tree *node)
{
	for (node = node->parent; node != NULL; node = node->parent)
		if (node->flow)
			return true;
	return false;
}

uint32_t tree_entry_start(const struct tree *node)
{
	if (node->key != NULL)
		return node->key_span.at;
	if (node->parent != NULL && !node->parent->flow)
		return node->dash;
	return node->span.at;
}

const struct tree *tree_last_leaf(const struct tree *node)
{
	while (node->kind != EVENT_SCALAR && !node->flow && node->last != NULL)
		node = node->last;
	return node;
}

uint32_t tree_after_colon(const struct tree_text *tree, const struct tree *node)
{
	const struct source *source = tree->source;
	uint32_t end = node->key_span.at + node->key_span.length, at = end;

	while (at < source->length && is_blank(source->text[at]))
		at++;
	return at < source->length && source->text[at] == ':' ? at + 1 : end;
}

/* The end mark below | or > is past the blank lines that follow. */
static uint32_t literal_end(const struct source *source, const struct tree *node)
{
	uint32_t last = line_end(source, node->span.at), end = node->span.at + node->span.length;

	for (uint32_t at = line_next(source, last); at < end; at = line_next(source, at))
		if (!line_is_blank(source, at, line_end(source, at)))
			last = line_end(source, at);
	return last;
}

uint32_t tree_end(const struct tree_text *tree, const struct tree *node)
{
	node = tree_last_leaf(node);
	if (node->literal)
		return literal_end(tree->source, node);
	if (!tree_is_empty(node))
		return node->span.at + node->span.length;
	if (node->key != NULL)
		return tree_after_colon(tree, node);
	return node->parent != NULL && !node->parent->flow ? node->dash + 1 : node->span.at;
}

const struct span *tree_comment_in(const struct tree_text *tree, uint32_t from, uint32_t to)
{
	size_t low = 0, high = tree->comment_count;

	while (low < high) {
		size_t middle = low + (high - low) / 2;

		if (tree->comment[middle].at < from)
			low = middle + 1;
		else
			high = middle;
	}
	return low < tree->comment_count && tree->comment[low].at < to ? &tree->comment[low] : NULL;
}
