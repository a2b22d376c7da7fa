/* Texts -> one list of raw kinds, types, questions and rows. What comes later replaces what came
 * before, by id. */
#include "rulebook_inside.h"

#include "tundish/base/text.h"
#include "tundish/store/rulebook_read.h"

#include <stdint.h>
#include <string.h>

static const struct node *first_was(const struct node *node)
{
	const struct node *was = node_get(node, "was");

	return was && was->kind == EVENT_LIST ? was->child : NULL;
}

static bool is_one_of(const char *id, const struct node *old)
{
	for (; old; old = old->next)
		if (old->text && strcmp(old->text, id) == 0)
			return true;
	return false;
}

bool raw_is(const struct node *node, const char *id)
{
	const struct node *own = node_get(node, "id");

	return (own && own->text && strcmp(own->text, id) == 0) || is_one_of(id, first_was(node));
}

bool thing_is(const struct raw_thing *thing, const char *id)
{
	return strcmp(thing->id, id) == 0 || is_one_of(id, thing->was);
}

/* Grow an array in the scratch arena by one. @return the place, NULL when there is no memory. */
static struct raw_row *raw_rows_add(struct reader *reader, struct raw_rows *rows)
{
	struct raw_row *grown =
	        arena_grow(reader->scratch, rows->item, rows->count, &rows->room, sizeof(*grown));

	if (!grown) {
		reader->no_memory = true;
		return NULL;
	}
	rows->item = grown;
	return memset(&grown[rows->count++], 0, sizeof(*grown));
}

static struct raw_row *find_row(const struct raw_rows *rows, const char *id)
{
	for (size_t i = 0; i < rows->count; i++)
		if (raw_is(rows->item[i].node, id))
			return &rows->item[i];
	return NULL;
}

static struct raw_thing *find_thing(const struct raw_things *things, const char *id,
                                    enum scope scope)
{
	for (size_t i = 0; i < things->count; i++)
		if (things->item[i].scope == scope && thing_is(&things->item[i], id))
			return &things->item[i];
	return NULL;
}

bool is_among(const struct raw_things *things, const char *id)
{
	return find_thing(things, id, SCOPE_PREMISES) != NULL;
}

/* Built-in texts are one book: only an overlay replaces. */
bool is_builtin(const struct source *source)
{
	size_t count;
	const struct source *first = rulebook_builtin(&count);

	return (uintptr_t)source - (uintptr_t)first < count * sizeof(*first);
}

bool same_book(const struct source *one, const struct source *other)
{
	return one == other || (is_builtin(one) && is_builtin(other));
}

/** Whether @p again may take the place of @p first; else that is a fault. */
static bool may_replace(struct reader *reader, const struct node *first, const struct node *again,
                        const char *id)
{
	if (!same_book(first->source, again->source))
		return true;
	node_fault(node_get(again, "id"), reader->faults,
	           "the id `%.60s` is used twice: first in %s, line %zu", id, first->source->name,
	           source_place(first->source, first->span.at).line);
	return false;
}

/* -- drops ----------------------------------------------------------------------------------- */

static bool drop_row(struct raw_rows *rows, const char *id)
{
	struct raw_row *row = find_row(rows, id);

	if (!row)
		return false;
	rows->count--;
	memmove(row, row + 1, (size_t)(rows->item + rows->count - row) * sizeof(*row));
	return true;
}

static bool drop_thing(struct raw_things *things, const char *id)
{
	struct raw_thing *thing = find_thing(things, id, SCOPE_PREMISES);

	if (!thing)
		return false;
	things->count--;
	memmove(thing, thing + 1, (size_t)(things->item + things->count - thing) * sizeof(*thing));
	return true;
}

/* What others say of it is then no slip. */
static bool drop_known(struct reader *reader, struct raw_things *things, struct raw_things *dropped,
                       const char *id)
{
	const struct raw_thing *thing = find_thing(things, id, SCOPE_PREMISES);
	struct raw_thing *grown;

	if (!thing)
		return false;
	grown = arena_grow(reader->scratch, dropped->item, dropped->count, &dropped->room,
	                   sizeof(*grown));
	if (grown) {
		dropped->item = grown;
		grown[dropped->count++] = *thing;
	}
	reader->no_memory |= !grown;
	return drop_thing(things, id);
}

static bool drop_row_of(const struct raw_things *things, const char *id)
{
	for (size_t i = 0; i < things->count; i++)
		if (drop_row(&things->item[i].rows, id) || drop_row(&things->item[i].series, id))
			return true;
	return false;
}

struct words {
	const char **item;
	size_t count, room;
};

static void add_word(struct reader *reader, struct words *words, const struct node *node)
{
	const struct node *id = node_get(node, "id");
	const char **grown;

	if (!id || !id->text)
		return;
	grown = arena_grow(reader->scratch, words->item, words->count, &words->room,
	                   sizeof(*grown));
	if (!grown)
		return;
	words->item = grown;
	words->item[words->count++] = id->text;
}

static void add_words(struct reader *reader, struct words *words, const struct raw_things *things)
{
	for (size_t i = 0; i < things->count; i++) {
		add_word(reader, words, things->item[i].node);
		for (size_t r = 0; r < things->item[i].rows.count; r++)
			add_word(reader, words, things->item[i].rows.item[r].node);
	}
}

static void drops_nothing(struct reader *reader, const struct node *drop)
{
	struct words words = {0};

	add_words(reader, &words, &reader->kinds);
	add_words(reader, &words, &reader->types);
	add_words(reader, &words, &reader->sites);
	add_words(reader, &words, &reader->rooms);
	node_fault(drop, reader->faults,
	           "`%.60s` is the id of no kind, type, row, site or room that could be dropped%s",
	           drop->text, node_meant(drop->text, words.item, words.count, reader->faults));
}

static void merge_drops(struct reader *reader, const struct node *root)
{
	for (const struct node *drop = node_list(root, "drop", reader->faults); drop;
	     drop = drop->next) {
		if (drop->kind != EVENT_SCALAR) {
			node_fault(drop, reader->faults, "`drop` is a list of ids");
			continue;
		}
		if (!drop_known(reader, &reader->kinds, &reader->dropped_kinds, drop->text) &&
		    !drop_known(reader, &reader->types, &reader->dropped_types, drop->text) &&
		    !drop_row_of(&reader->kinds, drop->text) &&
		    !drop_row_of(&reader->types, drop->text) &&
		    !drop_row(&reader->urgency, drop->text) &&
		    !drop_row(&reader->raise, drop->text) &&
		    !drop_thing(&reader->sites, drop->text) &&
		    !drop_thing(&reader->rooms, drop->text))
			drops_nothing(reader, drop);
	}
}

/* -- kinds, types, questions ----------------------------------------------------------------- */

static struct raw_thing *place_thing(struct reader *reader, struct raw_things *things,
                                     const struct node *node, const char *id, enum scope scope)
{
	struct raw_thing *thing = find_thing(things, id, scope), *grown;

	if (thing && !may_replace(reader, thing->node, node, id))
		return NULL;
	if (!thing) {
		grown = arena_grow(reader->scratch, things->item, things->count, &things->room,
		                   sizeof(*grown));
		if (!grown) {
			reader->no_memory = true;
			return NULL;
		}
		things->item = grown;
		thing = &grown[things->count++];
	}
	*thing = (struct raw_thing){.node = node, .id = id, .was = first_was(node), .scope = scope};
	return thing;
}

static void add_row(struct reader *reader, struct raw_rows *rows, const struct node *node,
                    const char *fluid, bool otherwise)
{
	struct raw_row *row;

	if (!node_is_map(node, "a row", reader->faults))
		return;
	row = raw_rows_add(reader, rows);
	if (row)
		*row = (struct raw_row){node, fluid, otherwise};
}

static void add_list(struct reader *reader, struct raw_rows *rows, const struct node *map,
                     const char *key, const char *fluid)
{
	for (const struct node *row = node_list(map, key, reader->faults); row; row = row->next)
		add_row(reader, rows, row, fluid, false);
}

static void merge_kind(struct reader *reader, const struct node *node)
{
	const char *id = read_id(reader, node, "a kind", false);
	struct raw_thing *kind =
	        id ? place_thing(reader, &reader->kinds, node, id, SCOPE_PREMISES) : NULL;

	if (!kind)
		return;
	for (const struct node *fluid = node_list(node, "fluids", reader->faults); fluid;
	     fluid = fluid->next) {
		const struct node *otherwise = node_get(fluid, "otherwise");
		const char *fluid_id = node_is_map(fluid, "a fluid", reader->faults)
		                               ? read_id(reader, fluid, "a fluid", false)
		                               : NULL;

		if (!fluid_id)
			continue;
		add_list(reader, &kind->rows, fluid, "rows", fluid_id);
		if (otherwise)
			add_row(reader, &kind->rows, otherwise, fluid_id, true);
		else
			node_fault(fluid, reader->faults,
			           "the fluid `%.60s` has no `otherwise`: what holds where no row "
			           "matches?",
			           fluid_id);
	}
	add_list(reader, &kind->rows, node, "circumstances", NULL);
}

static void merge_type(struct reader *reader, const struct node *node)
{
	const char *id = read_id(reader, node, "a type", true);
	struct raw_thing *type =
	        id ? place_thing(reader, &reader->types, node, id, SCOPE_PREMISES) : NULL;

	if (!type)
		return;
	add_list(reader, &type->rows, node, "rows", NULL);
	add_list(reader, &type->series, node, "series", NULL);
}

static bool read_scope(struct reader *reader, const struct node *node, enum scope *scope)
{
	const char *text = node_text(node, "scope", reader->faults), *names[SCOPE_COUNT];

	for (unsigned s = 0; s < SCOPE_COUNT; s++) {
		names[s] = scope_name((enum scope)s);
		if (text && strcmp(text, names[s]) == 0) {
			*scope = (enum scope)s;
			return true;
		}
	}
	if (text)
		node_fault(node_get(node, "scope"), reader->faults, "`%.60s` is no scope%s", text,
		           node_meant(text, names, SCOPE_COUNT, reader->faults));
	else
		node_fault(node, reader->faults,
		           "a shared question needs a `scope`: premises, part, branch ...");
	return false;
}

static void merge_question(struct reader *reader, const struct node *node)
{
	const char *id = read_id(reader, node, "a question", false);
	enum scope scope;

	if (id && read_scope(reader, node, &scope))
		place_thing(reader, &reader->questions, node, id, scope);
}

/* -- single rows, and the urgency table ------------------------------------------------------ */

static void place_row(struct reader *reader, struct raw_rows *rows, const struct node *node,
                      const char *fluid)
{
	const char *id = read_id(reader, node, "a row", false);
	struct raw_row *row = id ? find_row(rows, id) : NULL;

	if (!id)
		return;
	if (!row) {
		add_row(reader, rows, node, fluid, false);
		return;
	}
	if (!may_replace(reader, row->node, node, id))
		return;
	/* An `otherwise` stays one, as long as it speaks of the same fluid. */
	row->otherwise = row->otherwise && fluid && strcmp(fluid, row->fluid) == 0;
	row->fluid = fluid;
	row->node = node;
}

static struct raw_thing *named_thing(struct reader *reader, const struct raw_things *things,
                                     const struct node *row, const char *key)
{
	const char *id = node_text(row, key, reader->faults);
	struct raw_thing *thing = id ? find_thing(things, id, SCOPE_PREMISES) : NULL;
	struct words words = {0};

	if (thing || !id)
		return thing;
	for (size_t i = 0; i < things->count; i++)
		add_word(reader, &words, things->item[i].node);
	node_fault(node_get(row, key), reader->faults, "`%.60s` is no %s of this book%s", id, key,
	           node_meant(id, words.item, words.count, reader->faults));
	return NULL;
}

static const char *named_fluid(struct reader *reader, const struct raw_thing *kind,
                               const struct node *row)
{
	const char *id = node_text(row, "fluid", reader->faults);
	const struct node *fluids = node_get(kind->node, "fluids");
	struct words words = {0};

	for (const struct node *fluid = fluids ? fluids->child : NULL; id && fluid;
	     fluid = fluid->next) {
		if (raw_is(fluid, id))
			return node_get(fluid, "id")->text;
		add_word(reader, &words, fluid);
	}
	if (id)
		node_fault(node_get(row, "fluid"), reader->faults, "`%.60s` is no fluid of `%s`%s",
		           id, kind->id, node_meant(id, words.item, words.count, reader->faults));
	return NULL;
}

static void merge_single_row(struct reader *reader, const struct node *row)
{
	bool of_type = node_get(row, "type") != NULL;
	struct raw_thing *owner;
	const char *fluid = NULL;

	if (of_type == (node_get(row, "kind") != NULL)) {
		node_fault(row, reader->faults, "a row of an overlay says either `kind` or `type`");
		return;
	}
	owner = of_type ? named_thing(reader, &reader->types, row, "type")
	                : named_thing(reader, &reader->kinds, row, "kind");
	if (!owner)
		return;
	if (!of_type && node_get(row, "fluid")) {
		fluid = named_fluid(reader, owner, row);
		if (!fluid)
			return;
	}
	place_row(reader, &owner->rows, row, fluid);
}

static void merge_urgency(struct reader *reader, const struct node *root)
{
	static const char *const known[] = {"rows", "raise", NULL};
	const struct node *urgency = node_get(root, "urgency");

	if (!urgency || !node_is_map(urgency, "`urgency`", reader->faults))
		return;
	node_known_keys(urgency, "`urgency`", known, reader->faults);
	for (const struct node *row = node_list(urgency, "rows", reader->faults); row;
	     row = row->next)
		if (node_is_map(row, "a row", reader->faults))
			place_row(reader, &reader->urgency, row, NULL);
	for (const struct node *row = node_list(urgency, "raise", reader->faults); row;
	     row = row->next)
		if (node_is_map(row, "a row", reader->faults))
			place_row(reader, &reader->raise, row, NULL);
}

static void merge_site(struct reader *reader, const struct node *node)
{
	const char *id = read_id(reader, node, "a site", false);

	if (id)
		place_thing(reader, &reader->sites, node, id, SCOPE_PREMISES);
}

static void merge_room(struct reader *reader, const struct node *node)
{
	const char *id = read_id(reader, node, "a room", false);

	if (id)
		place_thing(reader, &reader->rooms, node, id, SCOPE_PREMISES);
}

static void merge_often(struct reader *reader, const struct node *node)
{
	add_row(reader, &reader->often, node, NULL, false);
}

static void merge_each(struct reader *reader, const struct node *root, const char *key,
                       const char *what, void (*merge)(struct reader *, const struct node *))
{
	for (const struct node *node = node_list(root, key, reader->faults); node;
	     node = node->next)
		if (node_is_map(node, what, reader->faults))
			merge(reader, node);
}

static void merge_invent(struct reader *reader, const struct node *root)
{
	static const char *const known[] = {"sites", "rooms", "often", NULL};
	const struct node *invent = node_get(root, "invent");

	if (!invent || !node_is_map(invent, "`invent`", reader->faults))
		return;
	node_known_keys(invent, "`invent`", known, reader->faults);
	merge_each(reader, invent, "sites", "a site", merge_site);
	merge_each(reader, invent, "rooms", "a room", merge_room);
	merge_each(reader, invent, "often", "an entry of `often`", merge_often);
}

void merge_text(struct reader *reader, const struct node *root)
{
	static const char *const known[] = {"about", "questions", "kinds",  "types", "urgency",
	                                    "rows",  "drop",      "invent", NULL};

	if (!node_is_map(root, "a text of the rulebook", reader->faults))
		return;
	node_known_keys(root, "a text of the rulebook", known, reader->faults);
	merge_drops(reader, root);
	merge_each(reader, root, "questions", "a shared question", merge_question);
	merge_each(reader, root, "kinds", "a kind", merge_kind);
	merge_each(reader, root, "types", "a type", merge_type);
	merge_urgency(reader, root);
	merge_each(reader, root, "rows", "a row", merge_single_row);
	merge_invent(reader, root);
}
