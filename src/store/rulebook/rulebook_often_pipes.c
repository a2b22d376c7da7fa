/* How often things are met: what stands on an inlet, and what feeds it. */
#include "rulebook_often.h"

#include <string.h>

/* -- what is fitted -------------------------------------------------------------------------- */

/* `ED, ED`: in flow order. @return whether all of them are known. */
static bool read_fitting(struct weighing *weighing, const struct node *node,
                         struct fitting *fitting)
{
	const char *at = node->key;

	if (strcmp(at, "nothing") == 0)
		return true;
	while (*at) {
		size_t length = strcspn(at, ",");
		const char *id = arena_copy(weighing->reader->scratch, at, length);
		uint16_t type =
		        id ? named_type(weighing->reader, node, id, node->key_span) : INDEX_NONE;

		if (type == INDEX_NONE)
			return false;
		if (fitting->type_count == FITTING_TYPES_MOST) {
			fault_add(weighing->reader->faults, SEVERITY_FAULT, node->source,
			          node->key_span, "more than %d types one after the other",
			          FITTING_TYPES_MOST);
			return false;
		}
		fitting->type[fitting->type_count++] = type;
		at += length;
		at += strspn(at, ", ");
	}
	return fitting->type_count > 0;
}

static void read_fittings(struct weighing *weighing, const struct node *map, uint8_t inlets)
{
	struct often *often = weighing->often;
	struct fittings *fittings = &often->fittings[often->fittings_count++];

	fittings->inlets = inlets;
	fittings->item =
	        reader_take(weighing->reader, (node_children(map) + 1) * sizeof(*fittings->item));
	for (const struct node *node = map->child; node && fittings->item; node = node->next) {
		struct fitting fitting = {.weight = read_weight(weighing->reader, node)};

		if (read_fitting(weighing, node, &fitting))
			fittings->item[fittings->count++] = fitting;
	}
}

static int inlet_of(const struct kind *kind, const char *id)
{
	for (size_t i = 0; i < kind->inlet_count; i++)
		if (strcmp(kind->inlet[i].id, id) == 0)
			return (int)i;
	return -1;
}

static void no_such_inlet(struct weighing *weighing, const struct kind *kind,
                          const struct node *node)
{
	const char *words[INLETS_MOST];

	for (size_t i = 0; i < kind->inlet_count; i++)
		words[i] = kind->inlet[i].id;
	if (!weighs_outdated(weighing))
		fault_add(
		        weighing->reader->faults, SEVERITY_FAULT, node->source, node->key_span,
		        "`%.60s` is no inlet of `%s`%s", node->key, kind->id,
		        node_meant(node->key, words, kind->inlet_count, weighing->reader->faults));
}

/* `protection` is of all inlets but waste ones, or of a branch or the whole site; `inlets` of single ones. */
void weigh_protection(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	const struct node *all = weighed_map(reader, weighing->node, "protection"),
	                  *single = weighed_map(reader, weighing->node, "inlets");
	const struct kind *kind =
	        weighs_kind(weighing) ? &reader->book->kind[weighing->often->of] : NULL;
	uint8_t inlets = kind ? 0 : 1;

	weighing->often->fittings =
	        reader_take(reader, (node_children(single) + 1) * sizeof(struct fittings));
	if (!weighing->often->fittings)
		return;
	for (size_t i = 0; kind && i < kind->inlet_count; i++)
		if (!kind->inlet[i].waste)
			inlets |= (uint8_t)(1u << i);
	if (all && (kind || weighing->often->scope == SCOPE_PREMISES ||
	            weighing->often->scope == SCOPE_BRANCH))
		read_fittings(weighing, all, inlets);
	else if (all)
		node_fault(all, reader->faults,
		           "`protection` is weighed of a kind, a branch or the premises");
	if (single && !kind)
		node_fault(single, reader->faults, "`inlets` are those of a kind");
	for (const struct node *node = single && kind ? single->child : NULL; node;
	     node = node->next) {
		int inlet = inlet_of(kind, node->key);

		if (inlet < 0)
			no_such_inlet(weighing, kind, node);
		else if (node_is_map(node, node->key, reader->faults))
			read_fittings(weighing, node, (uint8_t)(1u << inlet));
	}
}

/* -- what feeds it --------------------------------------------------------------------------- */

/* @return the kind that stores, or FED_BY_MAIN; @p known: false, after a fault. */
static uint16_t named_start(struct reader *reader, const struct node *node, const char *id,
                            struct span place, bool *known)
{
	uint16_t kind = FED_BY_MAIN;

	*known = strcmp(id, "main") == 0;
	if (!*known)
		kind = named_kind(reader, node, id, place);
	if (kind == INDEX_NONE)
		return kind;
	*known = reader->book->kind[kind].stores;
	if (!*known)
		fault_add(reader->faults, SEVERITY_FAULT, node->source, place,
		          "`%.60s` does not store water: no branch starts there", id);
	return kind;
}

void weigh_fed_by(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	struct often *often = weighing->often;
	const struct node *map = weighed_map(reader, weighing->node, "fed_by");

	if (map && often->scope != SCOPE_POINT)
		node_fault(map, reader->faults, "`fed_by` is of a kind, or of every point");
	if (!map || often->scope != SCOPE_POINT)
		return;
	often->fed_by = reader_take(reader, (node_children(map) + 1) * sizeof(*often->fed_by));
	for (const struct node *node = map->child; node && often->fed_by; node = node->next) {
		bool known;
		uint16_t start = named_start(reader, node, node->key, node->key_span, &known);
		unsigned weight = read_weight(reader, node);

		if (known)
			often->fed_by[often->fed_by_count++] = (struct weighed){start, weight};
	}
}

void weigh_from(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	struct often *often = weighing->often;
	const struct node *from = node_get(weighing->node, "from");

	if (from && often->scope != SCOPE_BRANCH)
		node_fault(from, reader->faults, "`from` is of branches");
	if (!from || often->scope != SCOPE_BRANCH)
		return;
	often->from = reader_take(reader, (node_children(from) + 1) * sizeof(*often->from));
	for (const struct node *node = node_list(weighing->node, "from", reader->faults);
	     node && often->from; node = node->next) {
		bool known = false;
		uint16_t start = node->kind != EVENT_SCALAR ? INDEX_NONE
		                                            : named_start(reader, node, node->text,
		                                                          node->span, &known);

		if (node->kind != EVENT_SCALAR)
			node_fault(node, reader->faults,
			           "`from` is a list of `main` and kinds that store");
		else if (known)
			often->from[often->from_count++] = start;
	}
}

/* A kind that an overlay dropped is left out: nothing stands on it. */
void weigh_on(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	struct often *often = weighing->often;
	const struct node *on = node_get(weighing->node, "on");
	bool stands = often->scope == SCOPE_PROTECTION || often->scope == SCOPE_TEST;

	if (on && !stands)
		node_fault(on, reader->faults, "`on` is of a type, or of protections or tests");
	if (!on || !stands)
		return;
	often->on = reader_take(reader, (node_children(on) + 1) * sizeof(*often->on));
	for (const struct node *node = node_list(weighing->node, "on", reader->faults);
	     node && often->on; node = node->next) {
		uint16_t kind = node->kind == EVENT_SCALAR
		                        ? named_kind(reader, node, node->text, node->span)
		                        : INDEX_NONE;

		if (node->kind != EVENT_SCALAR)
			node_fault(node, reader->faults, "`on` is a list of kinds");
		else if (kind != INDEX_NONE)
			often->on[often->on_count++] = kind;
	}
}

void weigh_makes(struct weighing *weighing)
{
	struct often *often = weighing->often;
	const struct node *makes = node_get(weighing->node, "makes");

	if (!makes)
		return;
	if (!weighs_kind(weighing) || !weighing->reader->book->kind[often->of].stores)
		node_fault(makes, weighing->reader->faults,
		           "`makes` is of a kind that stores water: a branch starts there");
	else
		often->makes =
		        read_words(weighing->reader, weighing->node, "makes", &often->make_count);
}
