#include "tundish/store/rulebook_read.h"

#include "rulebook_inside.h"

#include <sodium.h>
#include <stdlib.h>
#include <string.h>

/* -- kinds ----------------------------------------------------------------------------------- */

static void read_inlet(struct reader *reader, const struct node *node, struct kind *kind)
{
	static const char *const known[] = {"id", "name", "waste", NULL};
	struct kind_inlet *inlet = &kind->inlet[kind->inlet_count];

	if (!node_is_map(node, "an inlet", reader->faults))
		return;
	node_known_keys(node, "an inlet", known, reader->faults);
	inlet->id = read_id(reader, node, "an inlet", false);
	if (!inlet->id)
		return;
	for (size_t i = 0; i < kind->inlet_count; i++)
		if (strcmp(kind->inlet[i].id, inlet->id) == 0)
			node_fault(node, reader->faults, "the inlet `%.60s` is there twice",
			           inlet->id);
	inlet->name = node_text(node, "name", reader->faults);
	if (!inlet->name)
		inlet->name = inlet->id;
	inlet->waste = node_yes(node, "waste", false, reader->faults);
	kind->inlet_count++;
}

static void read_kind_inlets(struct reader *reader, const struct node *node, struct kind *kind)
{
	size_t count = 0;

	for (const struct node *inlet = node_list(node, "inlets", reader->faults); inlet;
	     inlet = inlet->next) {
		if (++count > INLETS_MOST) {
			node_fault(inlet, reader->faults,
			           "the kind `%.60s` has more than %d inlets", kind->id,
			           INLETS_MOST);
			return;
		}
		read_inlet(reader, inlet, kind);
	}
	if (count == 0)
		node_fault(node, reader->faults,
		           "the kind `%.60s` has no `inlets`: what is it fed by?", kind->id);
}

static void read_fluid(struct reader *reader, const struct node *node, struct kind *kind)
{
	static const char *const known[] = {"id", "name", "rows", "otherwise", NULL};
	struct fluid *fluid = &kind->fluid[kind->fluid_count];

	node_known_keys(node, "a fluid", known, reader->faults);
	for (size_t i = 0; i < kind->fluid_count; i++)
		if (raw_is(node, kind->fluid[i].id))
			node_fault(node, reader->faults, "the fluid `%.60s` is there twice",
			           kind->fluid[i].id);
	fluid->id = node_text(node, "id", reader->faults);
	fluid->name = read_needed(reader, node, "the fluid", "name");
	fluid->span = node->span;
	if (fluid->id)
		kind->fluid_count++;
}

static void read_fluids(struct reader *reader, const struct node *node, struct kind *kind)
{
	const struct node *fluids = node_get(node, "fluids");

	if (!fluids || !fluids->child) {
		node_fault(node, reader->faults,
		           "the kind `%.60s` has no `fluids`: what could come back?", kind->id);
		return;
	}
	/* What is no list, no map or has no id was found when the texts were merged. */
	for (const struct node *fluid = fluids->child; fluid; fluid = fluid->next) {
		if (fluid->kind != EVENT_MAP)
			continue;
		if (kind->fluid_count == FLUIDS_MOST) {
			node_fault(fluid, reader->faults,
			           "the kind `%.60s` has more than %d fluids", kind->id,
			           FLUIDS_MOST);
			return;
		}
		read_fluid(reader, fluid, kind);
	}
}

static void read_kind(struct reader *reader, const struct raw_thing *raw, struct kind *kind)
{
	static const char *const known[] = {
	        "id",     "was",   "also",      "name",   "where",         "draw_off", "stores",
	        "inlets", "usual", "questions", "fluids", "circumstances", NULL};
	const struct node *node = raw->node;

	node_known_keys(node, "a kind", known, reader->faults);
	kind->id = raw->id;
	kind->was = read_words(reader, node, "was", &kind->was_count);
	kind->also = read_words(reader, node, "also", &kind->also_count);
	kind->name = read_needed(reader, node, "the kind", "name");
	kind->where = node_text(node, "where", reader->faults);
	kind->draw_off = node_yes(node, "draw_off", false, reader->faults);
	kind->stores = node_yes(node, "stores", false, reader->faults);
	kind->span = node->span;
	kind->text = node->source;
	read_kind_inlets(reader, node, kind);
	read_usual(reader, node, kind);
	read_fluids(reader, node, kind);
	read_own_questions(reader, node, raw->id, SCOPE_POINT, &kind->question,
	                   &kind->question_count);
	read_kind_rows(reader, raw, kind);
}

/* -- types ----------------------------------------------------------------------------------- */

static void read_shuts_downstream(struct reader *reader, const struct node *node, struct type *type)
{
	const char *id = node_text(node, "shuts_downstream", reader->faults);
	const struct rulebook *book = reader->book;

	type->shuts_downstream = QUESTION_NONE;
	for (size_t i = 0; id && i < type->question_count; i++) {
		const struct question *question = &book->question[type->question[i]];

		if (question->scope == SCOPE_PROTECTION && question->form == FORM_YES_NO &&
		    strcmp(question->id, id) == 0)
			type->shuts_downstream = type->question[i];
	}
	if (id && type->shuts_downstream == QUESTION_NONE)
		node_fault(node_get(node, "shuts_downstream"), reader->faults,
		           "`%.60s` is no yes/no question of `%.60s`", id, type->id);
}

static void read_good_for(struct reader *reader, const struct node *node, struct type *type)
{
	for (unsigned m = 0; m < MECHANISM_COUNT; m++)
		type->good_for[m] = CATEGORY_LEAST;
	if (!node_get(node, "good_for"))
		node_fault(node, reader->faults,
		           "the type `%.60s` has no `good_for`: for which category, or none?",
		           type->id);
	else if (!read_figures(reader, node, "good_for", type->good_for))
		node_fault(node_get(node, "good_for"), reader->faults,
		           "`good_for` says a figure for back_pressure and one for back_siphonage");
}

static void read_type(struct reader *reader, const struct raw_thing *raw, struct type *type)
{
	static const char *const known[] = {"id",        "was",      "also",   "name",
	                                    "is",        "good_for", "source", "standing",
	                                    "tell",      "limits",   "shuts",  "shuts_downstream",
	                                    "questions", "rows",     "series", NULL};
	const struct node *node = raw->node;
	const char *is = read_needed(reader, node, "the type", "is");

	node_known_keys(node, "a type", known, reader->faults);
	type->id = raw->id;
	type->was = read_words(reader, node, "was", &type->was_count);
	type->also = read_words(reader, node, "also", &type->also_count);
	type->name = read_needed(reader, node, "the type", "name");
	type->device = strcmp(is, "device") == 0;
	if (!type->device && is[0] && strcmp(is, "arrangement") != 0)
		node_fault(node_get(node, "is"), reader->faults,
		           "a type is a `device` or an `arrangement`");
	type->shuts = node_yes(node, "shuts", false, reader->faults);
	type->tell = node_text(node, "tell", reader->faults);
	type->limits = node_text(node, "limits", reader->faults);
	type->span = node->span;
	type->text = node->source;
	read_good_for(reader, node, type);
	read_standing(reader, node, "the type", &type->source_text, &type->standing);
	read_own_questions(reader, node, raw->id, SCOPE_PROTECTION, &type->question,
	                   &type->question_count);
	read_shuts_downstream(reader, node, type);
	read_type_rows(reader, raw, type);
	read_series(reader, raw, type);
}

/* -- ids of rows, over the whole book -------------------------------------------------------- */

struct row_ids {
	const struct row **row;
	size_t count;
};

static int by_id_and_place(const void *a, const void *b)
{
	const struct row *one = *(const struct row *const *)a,
	                 *other = *(const struct row *const *)b;
	int order = strcmp(one->id, other->id);

	if (order != 0)
		return order;
	return one->span.at < other->span.at ? -1 : one->span.at > other->span.at;
}

static void add_ids(struct row_ids *ids, const struct row *row, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (row[i].id[0])
			ids->row[ids->count++] = &row[i];
}

static size_t count_rows(const struct rulebook *book)
{
	size_t count = book->urgency_count;

	for (size_t k = 0; k < book->kind_count; k++)
		count += book->kind[k].row_count;
	for (size_t t = 0; t < book->type_count; t++)
		count += book->type[t].row_count + book->type[t].series_count;
	return count;
}

static void collect_ids(struct row_ids *ids, const struct rulebook *book)
{
	for (size_t k = 0; k < book->kind_count; k++)
		add_ids(ids, book->kind[k].row, book->kind[k].row_count);
	for (size_t t = 0; t < book->type_count; t++) {
		add_ids(ids, book->type[t].row, book->type[t].row_count);
		for (size_t s = 0; s < book->type[t].series_count; s++)
			add_ids(ids, &book->type[t].series[s].row, 1);
	}
	for (size_t u = 0; u < book->urgency_count; u++)
		add_ids(ids, &book->urgency[u].row, 1);
}

/* The rows that `category: ask` stands for share an id: they are one row in the text. */
static void check_row_ids(struct reader *reader)
{
	struct row_ids ids = {0};

	ids.row = arena_take(reader->scratch, (count_rows(reader->book) + 1) * sizeof(*ids.row));
	if (!ids.row) {
		reader->no_memory = true;
		return;
	}
	collect_ids(&ids, reader->book);
	if (ids.count > 1)
		qsort(ids.row, ids.count, sizeof(*ids.row), by_id_and_place);
	for (size_t i = 1; i < ids.count; i++) {
		const struct row *first = ids.row[i - 1], *again = ids.row[i];

		if (strcmp(first->id, again->id) == 0 &&
		    (first->text != again->text || first->span.at != again->span.at))
			fault_add(reader->faults, SEVERITY_FAULT, again->text, again->span,
			          "the row id `%.60s` is used twice: first in %s, line %zu",
			          again->id, first->text->name,
			          source_place(first->text, first->span.at).line);
	}
}

/* -- the whole ------------------------------------------------------------------------------- */

static void know(struct reader *reader)
{
	static const struct question_name {
		enum scope scope;
		const char *id;
		size_t offset;
	} names[] = {
#define KNOWN(scope, id, field) {scope, id, offsetof(struct known_questions, field)}
	        KNOWN(SCOPE_PART, "name", part_name),
	        KNOWN(SCOPE_PART, "use", part_use),
	        KNOWN(SCOPE_PART, "seen", part_seen),
	        KNOWN(SCOPE_BRANCH, "name", branch_name),
	        KNOWN(SCOPE_BRANCH, "from", branch_from),
	        KNOWN(SCOPE_ROOM, "name", room_name),
	        KNOWN(SCOPE_ROOM, "part", room_part),
	        KNOWN(SCOPE_ROOM, "seen", room_seen),
	        KNOWN(SCOPE_POINT, "kind", point_kind),
	        KNOWN(SCOPE_POINT, "name", point_name),
	        KNOWN(SCOPE_POINT, "seen", point_seen),
	        KNOWN(SCOPE_POINT, "installed", point_installed),
	        KNOWN(SCOPE_POINT, "count", point_count),
	        KNOWN(SCOPE_POINT, "category", says_category),
	        KNOWN(SCOPE_POINT, "reference", says_reference),
	        KNOWN(SCOPE_POINT, "date", says_date),
	        KNOWN(SCOPE_INLET, "fed_by", inlet_fed_by),
	        KNOWN(SCOPE_PROTECTION, "type", protection_type),
	        KNOWN(SCOPE_PROTECTION, "fitted", protection_fitted),
	        KNOWN(SCOPE_TEST, "date", test_date),
	        KNOWN(SCOPE_OUTCOME, "needs", outcome_needs),
	        KNOWN(SCOPE_OUTCOME, "on_paper", outcome_on_paper),
	        KNOWN(SCOPE_OUTCOME, "in_fact", outcome_in_fact),
	        KNOWN(SCOPE_OUTCOME, "open", outcome_open),
	        KNOWN(SCOPE_OUTCOME, "unproven", outcome_unproven),
	        KNOWN(SCOPE_OUTCOME, "due", outcome_due),
	        KNOWN(SCOPE_OUTCOME, "verdict", outcome_verdict),
#undef KNOWN
	};

	for (size_t i = 0; i < LENGTH_OF(names); i++) {
		question_index found = shared_question(reader, names[i].scope, names[i].id);
		question_index *field =
		        (question_index *)(void *)((char *)&reader->book->known + names[i].offset);

		/* A decision is kept in a map of its own: elsewhere the
		 * word means something else. */
		if (names[i].offset >= offsetof(struct known_questions, says_category) &&
		    names[i].offset <= offsetof(struct known_questions, says_date) &&
		    found != QUESTION_NONE &&
		    strcmp(reader->book->question[found].at, "undertaker_says") != 0)
			found = QUESTION_NONE;
		*field = found;
	}
}

static void make_book(struct reader *reader)
{
	struct rulebook *book = reader->book;

	if (reader->kinds.count >= INDEX_NONE || reader->types.count >= INDEX_NONE) {
		fault_add(reader->faults, SEVERITY_FAULT, NULL, (struct span){0, 0},
		          "more than %d kinds or types", INDEX_NONE);
		return;
	}
	read_shared_questions(reader);
	know(reader);
	book->kind = reader_take(reader, (reader->kinds.count + 1) * sizeof(*book->kind));
	book->type = reader_take(reader, (reader->types.count + 1) * sizeof(*book->type));
	for (size_t i = 0; book->kind && i < reader->kinds.count; i++)
		read_kind(reader, &reader->kinds.item[i], &book->kind[book->kind_count++]);
	for (size_t i = 0; book->type && i < reader->types.count; i++)
		read_type(reader, &reader->types.item[i], &book->type[book->type_count++]);
	read_urgency(reader);
	read_weights(reader);
	check_row_ids(reader);
}

/* Texts in order, each after its length: no two books of the same bytes cut differently are the
 * same. */
static void digest(struct rulebook *book, const struct source *const *texts, size_t count)
{
	crypto_hash_sha256_state state;
	unsigned char hash[crypto_hash_sha256_BYTES], length[8];

	crypto_hash_sha256_init(&state);
	for (size_t i = 0; i < count; i++) {
		for (unsigned byte = 0; byte < sizeof(length); byte++)
			length[byte] = (unsigned char)((uint64_t)texts[i]->length >> (8 * byte));
		crypto_hash_sha256_update(&state, length, sizeof(length));
		crypto_hash_sha256_update(&state, (const unsigned char *)texts[i]->text,
		                          texts[i]->length);
	}
	crypto_hash_sha256_final(&state, hash);
	sodium_bin2hex(book->digest, sizeof(book->digest), hash, (sizeof(book->digest) - 1) / 2);
}

/* A text that breaks off takes with it what others lean on: then its own fault is all there is to
 * say. */
static void read_texts(struct reader *reader, const struct source *const *texts, size_t count)
{
	bool broken = false;

	for (size_t i = 0; i < count; i++) {
		size_t before = reader->faults->fatal;
		struct node *root =
		        node_read(texts[i], reader->scratch, &reader->book->arena, reader->faults);

		if (root)
			merge_text(reader, root);
		else
			broken |= reader->faults->fatal > before;
	}
	if (!broken)
		make_book(reader);
	if (reader->no_memory || reader->book->arena.failed || reader->scratch->failed)
		fault_add(reader->faults, SEVERITY_FAULT, NULL, (struct span){0, 0},
		          "no memory for the rulebook");
}

bool rulebook_read(struct rulebook *book, const struct source *const *texts, size_t count, day on,
                   struct faults *faults)
{
	struct arena scratch;
	struct reader reader = {.book = book,
	                        .faults = faults,
	                        .texts = texts,
	                        .text_count = count,
	                        .scratch = &scratch};
	size_t before = faults->fatal;

	memset(book, 0, sizeof(*book));
	arena_init(&book->arena);
	arena_init(&scratch);
	book->on = on;
	digest(book, texts, count);
	read_texts(&reader, texts, count);
	arena_finish(&scratch);
	return faults->fatal == before && rulebook_settle(book, faults);
}
