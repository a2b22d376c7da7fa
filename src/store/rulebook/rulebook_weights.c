/* How often things are met: which parts stand together, and what stands in which room. */
#include "rulebook_inside.h"

#include <stdlib.h>
#include <string.h>

/* -- what all weights share ------------------------------------------------------------------ */

size_t node_children(const struct node *node)
{
	size_t count = 0;

	for (const struct node *child = node ? node->child : NULL; child; child = child->next)
		count++;
	return count;
}

static bool whole_number(const struct node *node, unsigned long least, unsigned long most,
                         unsigned *out)
{
	size_t digits = node->kind == EVENT_SCALAR ? strspn(node->text, "0123456789") : 0;

	if (digits == 0 || digits > 4 || node->text[digits])
		return false;
	*out = (unsigned)strtoul(node->text, NULL, 10);
	return *out >= least && *out <= most;
}

unsigned read_weight(struct reader *reader, const struct node *node)
{
	unsigned weight;

	if (whole_number(node, 0, WEIGHT_MOST, &weight))
		return weight;
	node_fault(node, reader->faults, "a weight is a whole number from 0 to %d", WEIGHT_MOST);
	return 0;
}

const struct node *weighed_map(struct reader *reader, const struct node *map, const char *key)
{
	const struct node *weighed = node_get(map, key);

	if (!weighed || node_is_map(weighed, key, reader->faults))
		return weighed;
	return NULL;
}

static size_t place_in_order(const struct reader *reader, const struct source *text)
{
	for (size_t i = 0; i < reader->text_count; i++)
		if (same_book(reader->texts[i], text))
			return i;
	return 0;
}

bool read_since(const struct reader *reader, const struct source *text, const struct node *node)
{
	return place_in_order(reader, text) > place_in_order(reader, node->source);
}

static uint16_t named(struct reader *reader, const struct raw_things *things,
                      const struct raw_things *dropped, const char *what, const struct node *node,
                      const char *id, struct span place)
{
	const char **words = arena_take(reader->scratch, (things->count + 1) * sizeof(*words));

	for (size_t i = 0; i < things->count; i++) {
		if (thing_is(&things->item[i], id))
			return (uint16_t)i;
		if (words)
			words[i] = things->item[i].id;
	}
	if (!is_among(dropped, id))
		fault_add(reader->faults, SEVERITY_FAULT, node->source, place,
		          "`%.60s` is no %s of this book%s", id, what,
		          node_meant(id, words, words ? things->count : 0, reader->faults));
	return INDEX_NONE;
}

uint16_t named_kind(struct reader *reader, const struct node *node, const char *id,
                    struct span place)
{
	return named(reader, &reader->kinds, &reader->dropped_kinds, "kind", node, id, place);
}

uint16_t named_type(struct reader *reader, const struct node *node, const char *id,
                    struct span place)
{
	return named(reader, &reader->types, &reader->dropped_types, "type", node, id, place);
}

int named_cell(struct reader *reader, question_index index, const struct node *node, const char *id,
               struct span place)
{
	const struct question *question = &reader->book->question[index];
	const char *words[CELLS_MOST] = {"no", "yes"};
	size_t count = question->form == FORM_CHOICE ? question->option_count : 2;

	for (size_t i = 0; i < count && i < CELLS_MOST; i++) {
		if (question->form == FORM_CHOICE)
			words[i] = question->option[i].id;
		if (strcmp(words[i], id) == 0)
			return (int)i;
	}
	if (!read_since(reader, question->text, node))
		fault_add(reader->faults, SEVERITY_FAULT, node->source, place,
		          "`%.60s` is no answer to `%s`%s", id, question->id,
		          node_meant(id, words, count, reader->faults));
	return -1;
}

/* -- sites ----------------------------------------------------------------------------------- */

static bool asks_use(struct reader *reader, const struct node *node)
{
	question_index use = reader->book->known.part_use;

	if (use != QUESTION_NONE && reader->book->question[use].form == FORM_CHOICE)
		return true;
	node_fault(node, reader->faults,
	           "without a choice `use` asked of every part there are no sites and rooms");
	return false;
}

static void read_site_uses(struct reader *reader, const struct node *node, struct site *site)
{
	const struct node *uses = node_get(node, "uses");

	site->use = reader_take(reader, node_children(uses) + 1);
	for (const struct node *use = node_list(node, "uses", reader->faults); use && site->use;
	     use = use->next) {
		int cell = use->kind != EVENT_SCALAR
		                   ? -1
		                   : named_cell(reader, reader->book->known.part_use, use,
		                                use->text, use->span);

		if (use->kind != EVENT_SCALAR)
			node_fault(use, reader->faults, "`uses` is a list of uses of a part");
		else if (cell >= 0)
			site->use[site->use_count++] = (uint8_t)cell;
	}
	if (!uses || !uses->child)
		node_fault(node, reader->faults, "the site `%.60s` has no `uses`: of what parts?",
		           site->id);
}

static void read_site(struct reader *reader, const struct raw_thing *raw, struct site *site)
{
	static const char *const known[] = {"id", "name", "weight", "uses", NULL};
	const struct node *weight = node_get(raw->node, "weight");

	node_known_keys(raw->node, "a site", known, reader->faults);
	site->id = raw->id;
	site->name = read_needed(reader, raw->node, "the site", "name");
	site->weight = weight ? read_weight(reader, weight) : 1;
	read_site_uses(reader, raw->node, site);
}

/* -- rooms ----------------------------------------------------------------------------------- */

static void read_room_in(struct reader *reader, const struct node *node, struct room_sort *room)
{
	const struct node *in = weighed_map(reader, node, "in");

	room->in = reader_take(reader, (node_children(in) + 1) * sizeof(*room->in));
	for (const struct node *use = in ? in->child : NULL; use && room->in; use = use->next) {
		int cell = named_cell(reader, reader->book->known.part_use, use, use->key,
		                      use->key_span);
		unsigned weight = read_weight(reader, use);

		if (cell >= 0)
			room->in[room->in_count++] = (struct weighed){(uint16_t)cell, weight};
	}
	if (!in || !in->child)
		node_fault(node, reader->faults,
		           "the room `%.60s` has no `in`: in a part of which use?", room->id);
}

static void read_room_always(struct reader *reader, const struct node *node, struct room_sort *room)
{
	for (const struct node *use = node_list(node, "always", reader->faults); use;
	     use = use->next) {
		int cell;

		if (use->kind != EVENT_SCALAR) {
			node_fault(use, reader->faults, "`always` is a list of uses of a part");
			continue;
		}
		cell = named_cell(reader, reader->book->known.part_use, use, use->text, use->span);
		if (cell >= 0)
			room->always |= (cells)1 << cell;
	}
}

static void read_room_holds(struct reader *reader, const struct node *node, struct room_sort *room)
{
	const struct node *holds = weighed_map(reader, node, "holds");

	room->holds = reader_take(reader, (node_children(holds) + 1) * sizeof(*room->holds));
	for (const struct node *kind = holds ? holds->child : NULL; kind && room->holds;
	     kind = kind->next) {
		uint16_t index = named_kind(reader, kind, kind->key, kind->key_span);
		unsigned weight = read_weight(reader, kind);

		if (index != INDEX_NONE)
			room->holds[room->hold_count++] = (struct weighed){index, weight};
	}
	if (!holds || !holds->child)
		node_fault(node, reader->faults, "the room `%.60s` has no `holds`: of which kinds?",
		           room->id);
}

static void read_room_has(struct reader *reader, const struct node *node, struct room_sort *room)
{
	const struct node *has = node_get(node, "has");

	room->has = reader_take(reader, (node_children(has) + 1) * sizeof(*room->has));
	for (const struct node *kind = node_list(node, "has", reader->faults); kind && room->has;
	     kind = kind->next) {
		uint16_t index = kind->kind == EVENT_SCALAR
		                         ? named_kind(reader, kind, kind->text, kind->span)
		                         : INDEX_NONE;

		if (kind->kind != EVENT_SCALAR)
			node_fault(kind, reader->faults, "`has` is a list of kinds");
		else if (index != INDEX_NONE)
			room->has[room->has_count++] = index;
	}
}

static void read_room(struct reader *reader, const struct raw_thing *raw, struct room_sort *room)
{
	static const char *const known[] = {"id",   "name", "in",    "always",
	                                    "most", "has",  "holds", NULL};
	const struct node *most = node_get(raw->node, "most");

	node_known_keys(raw->node, "a room", known, reader->faults);
	room->id = raw->id;
	room->name = read_needed(reader, raw->node, "the room", "name");
	room->span = raw->node->span;
	room->text = raw->node->source;
	room->most = 1;
	if (most && !whole_number(most, 1, WEIGHT_MOST, &room->most))
		node_fault(most, reader->faults, "`most` is a whole number from 1 to %d",
		           WEIGHT_MOST);
	read_room_in(reader, raw->node, room);
	read_room_always(reader, raw->node, room);
	read_room_has(reader, raw->node, room);
	read_room_holds(reader, raw->node, room);
}

/* -- the whole ------------------------------------------------------------------------------- */

static bool some_room_holds(const struct weights *weights, size_t kind)
{
	for (size_t r = 0; r < weights->room_count; r++)
		for (size_t h = 0; h < weights->room[r].hold_count; h++)
			if (weights->room[r].holds[h].index == kind &&
			    weights->room[r].holds[h].weight > 0)
				return true;
	return false;
}

/* Only of a kind from a text that weighs rooms itself: a surveyor who adds a kind of their own need
 * not teach it. */
static void check_every_kind_has_a_room(struct reader *reader, const struct weights *weights)
{
	const struct rulebook *book = reader->book;

	for (size_t k = 0; k < book->kind_count; k++) {
		const struct kind *kind = &book->kind[k];
		bool weighs = false;

		for (size_t r = 0; r < weights->room_count; r++)
			weighs |= same_book(weights->room[r].text, kind->text);
		if (weighs && !some_room_holds(weights, k))
			fault_add(reader->faults, SEVERITY_NOTICE, kind->text, kind->span,
			          "no room under `invent` holds the kind `%.60s`: it is met only "
			          "where it is asked for",
			          kind->id);
	}
}

void read_weights(struct reader *reader)
{
	struct weights *weights = reader_take(reader, sizeof(*weights));
	const struct raw_things *sites = &reader->sites, *rooms = &reader->rooms;

	reader->book->weights = weights;
	if (!weights)
		return;
	weights->site = reader_take(reader, (sites->count + 1) * sizeof(*weights->site));
	weights->room = reader_take(reader, (rooms->count + 1) * sizeof(*weights->room));
	for (size_t i = 0; weights->site && i < sites->count; i++)
		if (asks_use(reader, sites->item[i].node))
			read_site(reader, &sites->item[i], &weights->site[weights->site_count++]);
	for (size_t i = 0; weights->room && i < rooms->count; i++)
		if (asks_use(reader, rooms->item[i].node))
			read_room(reader, &rooms->item[i], &weights->room[weights->room_count++]);
	read_often(reader, weights);
	check_every_kind_has_a_room(reader, weights);
}
