#include "fresh.h"

#include "scalar.h"
#include "tree.h"

#include <string.h>

/* -- the tree ------------------------------------------------------------------------- */

struct fresh *fresh_add(struct arena *arena, struct fresh *parent, enum event_kind kind,
                        const char *key)
{
	struct fresh *fresh = arena_take(arena, sizeof(*fresh));

	if (fresh == NULL)
		return NULL;
	fresh->kind = kind;
	fresh->key = key;
	if (parent == NULL)
		return fresh;
	if (parent->last != NULL)
		parent->last->next = fresh;
	else
		parent->child = fresh;
	parent->last = fresh;
	return fresh;
}

struct fresh *fresh_scalar(struct arena *arena, struct fresh *parent, const char *key,
                           const char *text, bool typed)
{
	struct fresh *fresh = fresh_add(arena, parent, EVENT_SCALAR, key);

	if (fresh != NULL) {
		fresh->text = text;
		fresh->typed = typed;
	}
	return fresh;
}

struct fresh *fresh_get(const struct fresh *map, const char *key)
{
	if (map == NULL || map->kind != EVENT_MAP)
		return NULL;
	for (struct fresh *child = map->child; child != NULL; child = child->next)
		if (strcmp(child->key, key) == 0)
			return child;
	return NULL;
}

const char *fresh_ref(const struct fresh *map)
{
	const struct fresh *ref = fresh_get(map, "ref");

	return ref != NULL && ref->kind == EVENT_SCALAR ? ref->text : NULL;
}

static bool same_map(const struct fresh *a, const struct fresh *b)
{
	size_t count = 0;

	for (const struct fresh *child = b->child; child != NULL; child = child->next)
		count++;
	for (const struct fresh *child = a->child; child != NULL; child = child->next, count--)
		if (count == 0 || !fresh_same(child, fresh_get(b, child->key)))
			return false;
	return count == 0;
}

bool fresh_same(const struct fresh *a, const struct fresh *b)
{
	const struct fresh *one, *other;

	if (a == NULL || b == NULL)
		return a == b;
	if (a->kind != b->kind)
		return false;
	if (a->kind == EVENT_SCALAR)
		return strcmp(a->text, b->text) == 0;
	if (a->kind == EVENT_MAP)
		return same_map(a, b);
	for (one = a->child, other = b->child; one != NULL && other != NULL;
	     one = one->next, other = other->next)
		if (!fresh_same(one, other))
			return false;
	return one == other;
}

/* -- bytes ---------------------------------------------------------------------------- */

void bytes_add(struct bytes *bytes, const char *text, size_t count)
{
	while (!bytes->failed && bytes->count + count + 1 > bytes->room) {
		char *grown = arena_grow(bytes->arena, bytes->text, bytes->room, &bytes->room, 1);

		if (grown == NULL)
			bytes->failed = true;
		else
			bytes->text = grown;
	}
	if (bytes->failed)
		return;
	memcpy(bytes->text + bytes->count, text, count);
	bytes->count += count;
	bytes->text[bytes->count] = '\0';
}

void bytes_text(struct bytes *bytes, const char *text)
{
	bytes_add(bytes, text, strlen(text));
}

/* -- how it looks --------------------------------------------------------------------- */

void fresh_line(struct bytes *out, struct look look)
{
	bytes_text(out, look.line_break);
	for (unsigned i = 0; i < look.column; i++)
		bytes_text(out, " ");
}

static void write_scalar(struct bytes *out, const char *text, bool typed, struct look look)
{
	struct scalar_style style = {.in_flow = look.in_flow, .quote = look.quote, .typed = typed};
	const char *scalar;

	if (look.json && !(typed && text[strspn(text, "0123456789")] == '\0'))
		style.quote = '"';
	scalar = scalar_write(text, strlen(text), style, out->arena);
	if (scalar == NULL)
		out->failed = true;
	else
		bytes_text(out, scalar);
}

static bool of_scalars(const struct fresh *list)
{
	for (const struct fresh *child = list->child; child != NULL; child = child->next)
		if (child->kind != EVENT_SCALAR)
			return false;
	return list->kind == EVENT_LIST;
}

/* `[a, b]`, `[ { ref: a } ]`, `{ ref: a }` */
static void write_flow(struct bytes *out, const struct fresh *fresh, struct look look)
{
	const char *room = of_scalars(fresh) || fresh->child == NULL ? "" : " ";

	look.in_flow = true;
	bytes_text(out, fresh->kind == EVENT_MAP ? "{" : "[");
	bytes_text(out, room);
	for (const struct fresh *child = fresh->child; child != NULL; child = child->next) {
		fresh_write_entry(out, child, look);
		if (child->next != NULL)
			bytes_text(out, ", ");
	}
	bytes_text(out, room);
	bytes_text(out, fresh->kind == EVENT_MAP ? "}" : "]");
}

/* What stood on lines can't go between brackets with its comments. */
static bool holds_lines(const struct fresh *fresh)
{
	if (fresh->lines != NULL)
		return true;
	for (const struct fresh *child = fresh->child; child != NULL; child = child->next)
		if (holds_lines(child))
			return true;
	return false;
}

bool fresh_in_lines(const struct fresh *fresh, bool in_flow)
{
	return fresh->kind != EVENT_SCALAR && !in_flow && fresh->child != NULL &&
	       fresh->verbatim == NULL && (!fresh->flow || holds_lines(fresh));
}

void fresh_reindent(struct bytes *out, const char *text, size_t length, unsigned from, unsigned to)
{
	struct source source = {.text = text, .length = length};

	for (uint32_t at = 0; at < length;) {
		uint32_t end = line_end(&source, at), next = line_next(&source, at), cut = 0;

		if (at > 0 && !line_is_blank(&source, at, end)) {
			while (cut < from && text[at + cut] == ' ')
				cut++;
			for (unsigned i = from - cut; i < to; i++)
				bytes_text(out, " ");
		}
		bytes_add(out, text + at + cut, (next < length ? next : end) - at - cut);
		at = next;
	}
}

static void write_lines(struct bytes *out, const struct fresh *fresh, struct look look)
{
	struct look inside = look;

	if (fresh->kind == EVENT_LIST)
		inside.column += 2;
	for (const struct fresh *child = fresh->child; child != NULL; child = child->next) {
		if (child != fresh->child)
			fresh_line(out, look);
		if (child->lines != NULL) {
			fresh_reindent(out, child->lines, strlen(child->lines), child->lines_column,
			               look.column);
			continue;
		}
		if (fresh->kind == EVENT_LIST)
			bytes_text(out, "- ");
		fresh_write_entry(out, child, inside);
	}
}

void fresh_write(struct bytes *out, const struct fresh *fresh, struct look look)
{
	if (fresh->verbatim != NULL)
		bytes_text(out, fresh->verbatim);
	else if (fresh->kind == EVENT_SCALAR)
		write_scalar(out, fresh->text, fresh->typed, look);
	else if (fresh_in_lines(fresh, look.in_flow))
		write_lines(out, fresh, look);
	else
		write_flow(out, fresh, look);
}

/* `:` and the value: on the same line, or on lines of its own below at two columns more. */
static void write_after_key(struct bytes *out, const struct fresh *fresh, struct look look)
{
	bytes_text(out, ":");
	if (fresh_in_lines(fresh, look.in_flow)) {
		look.column += 2;
		fresh_line(out, look);
	} else {
		bytes_text(out, " ");
	}
	fresh_write(out, fresh, look);
}

void fresh_write_entry(struct bytes *out, const struct fresh *fresh, struct look look)
{
	if (fresh->key == NULL) {
		fresh_write(out, fresh, look);
		return;
	}
	write_scalar(out, fresh->key, false, look);
	write_after_key(out, fresh, look);
}
