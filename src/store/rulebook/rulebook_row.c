/* Rows: what a kind's rows give, what a type's rows take away, and the urgency table. */
#include "rulebook_inside.h"

#include <string.h>

#define ROW_KEYS "id", "was", "when", "because", "source", "standing"

/* -- what all rows carry --------------------------------------------------------------------- */

void *reader_take(struct reader *reader, size_t size)
{
	void *memory = arena_take(&reader->book->arena, size);

	reader->no_memory |= !memory;
	return memory;
}

static bool is_id(const char *text, bool capitals)
{
	for (; *text; text++)
		if (!(*text >= 'a' && *text <= 'z') && !(*text >= '0' && *text <= '9') &&
		    *text != '_' && !(capitals && *text >= 'A' && *text <= 'Z'))
			return false;
	return true;
}

const char *read_id(struct reader *reader, const struct node *node, const char *what, bool capitals)
{
	const char *id = node_text(node, "id", reader->faults);

	if (!id) {
		if (!node_get(node, "id"))
			node_fault(node, reader->faults, "%s needs an `id`", what);
		return NULL;
	}
	if (is_id(id, capitals))
		return id;
	node_fault(node_get(node, "id"), reader->faults,
	           "an id is made of a-z%s, 0-9 and _: `%.60s` is not", capitals ? ", A-Z" : "",
	           id);
	return NULL;
}

const char *read_needed(struct reader *reader, const struct node *node, const char *what,
                        const char *key)
{
	const char *text = node_text(node, key, reader->faults);
	const struct node *id = node_get(node, "id");

	if (text)
		return text;
	if (!node_get(node, key))
		node_fault(node, reader->faults, "%s `%.60s` has no `%s`", what,
		           id && id->text ? id->text : "?", key);
	return "";
}

void read_standing(struct reader *reader, const struct node *node, const char *what,
                   const char **source_text, enum standing *standing)
{
	const char *names[] = {standing_name(STANDING_PUBLISHED),
	                       standing_name(STANDING_COMMON_PRACTICE),
	                       standing_name(STANDING_MEMORY)};
	const char *text = read_needed(reader, node, what, "standing");
	bool none, practice = strcmp(text, names[STANDING_COMMON_PRACTICE]) == 0;
	size_t i = 0;

	*source_text = read_needed(reader, node, what, "source");
	none = strcmp(*source_text, "no source") == 0;
	while (i < LENGTH_OF(names) && strcmp(text, names[i]) != 0)
		i++;
	if (i < LENGTH_OF(names))
		*standing = (enum standing)i;
	else if (text[0])
		node_fault(node_get(node, "standing"), reader->faults, "`%.60s` is no standing%s",
		           text, node_meant(text, names, LENGTH_OF(names), reader->faults));
	if (i == LENGTH_OF(names) || !(*source_text)[0])
		return;
	if (practice && !none)
		node_fault(node_get(node, "source"), reader->faults,
		           "common practice has `no source`: with one it is published or memory");
	else if (!practice && none)
		node_fault(node_get(node, "source"), reader->faults,
		           "what is %s has a source: document, edition, clause", text);
}

const char **read_words(struct reader *reader, const struct node *node, const char *key,
                        size_t *count)
{
	const struct node *first = node_list(node, key, reader->faults);
	const char **words;

	*count = 0;
	for (const struct node *word = first; word; word = word->next)
		++*count;
	if (*count == 0)
		return NULL;
	words = reader_take(reader, *count * sizeof(*words));
	*count = 0;
	for (const struct node *word = first; words && word; word = word->next) {
		if (word->kind == EVENT_SCALAR && word->text[0])
			words[(*count)++] = word->text;
		else
			node_fault(word, reader->faults, "`%s` is a list of %s", key,
			           strcmp(key, "was") == 0 ? "ids" : "words");
	}
	return words;
}

static void read_row(struct reader *reader, const struct sight *sight, const struct node *node,
                     struct row *row)
{
	row->id = read_id(reader, node, "a row", false);
	if (!row->id)
		row->id = "";
	row->was = read_words(reader, node, "was", &row->was_count);
	row->says = read_needed(reader, node, "the row", "because");
	read_standing(reader, node, "the row", &row->source_text, &row->standing);
	row->when = read_condition(reader, sight, node, "when");
	row->span = node->span;
	row->text = node->source;
	row->fluid = row->replaces = ROW_NONE;
	for (unsigned m = 0; m < MECHANISM_COUNT; m++)
		row->good_for[m] = row->accepted[m] = row->found[m] = CATEGORY_MOST;
}

static void read_row_urgency(struct reader *reader, const struct node *node, struct row *row)
{
	const char *text = node_text(node, "urgency", reader->faults), *names[URGENCY_COUNT];

	for (unsigned u = 0; u < URGENCY_COUNT; u++) {
		names[u] = urgency_name((enum urgency)u);
		if (text && strcmp(text, names[u]) == 0) {
			row->urgency = (enum urgency)u;
			return;
		}
	}
	if (text)
		node_fault(node_get(node, "urgency"), reader->faults, "`%.60s` is no urgency%s",
		           text, node_meant(text, names, URGENCY_COUNT, reader->faults));
}

/* -- figures --------------------------------------------------------------------------------- */

static bool read_figure(struct reader *reader, const struct node *node, uint8_t *out)
{
	if (node->kind == EVENT_SCALAR && strcmp(node->text, "none") == 0) {
		*out = CATEGORY_LEAST;
		return true;
	}
	if (node->kind == EVENT_SCALAR && node->text[0] >= '0' + CATEGORY_LEAST &&
	    node->text[0] <= '0' + CATEGORY_MOST && node->text[1] == '\0') {
		*out = (uint8_t)(node->text[0] - '0');
		return true;
	}
	node_fault(node, reader->faults, "a fluid category is 1 to 5, or none");
	return false;
}

static int find_mechanism(struct reader *reader, const struct node *node, const char *word)
{
	const char *names[MECHANISM_COUNT];

	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		names[m] = mechanism_name((enum mechanism)m);
		if (word && strcmp(word, names[m]) == 0)
			return (int)m;
	}
	node_fault(node, reader->faults, "back_pressure or back_siphonage is expected%s",
	           word ? node_meant(word, names, MECHANISM_COUNT, reader->faults) : "");
	return -1;
}

bool read_figures(struct reader *reader, const struct node *node, const char *key,
                  uint8_t out[MECHANISM_COUNT])
{
	const struct node *value = node_get(node, key);
	unsigned said = 0;

	if (!value)
		return false;
	if (value->kind != EVENT_MAP) {
		if (!read_figure(reader, value, &out[0]))
			return true;
		for (unsigned m = 1; m < MECHANISM_COUNT; m++)
			out[m] = out[0];
		return true;
	}
	for (const struct node *figure = value->child; figure; figure = figure->next) {
		int mechanism = find_mechanism(reader, figure, figure->key);

		if (mechanism >= 0 && read_figure(reader, figure, &out[mechanism]))
			said |= 1u << mechanism;
	}
	return said == (1u << MECHANISM_COUNT) - 1;
}

/* -- rows of a kind -------------------------------------------------------------------------- */

static void read_by(struct reader *reader, const struct node *node, struct row *row)
{
	const struct node *by = node_get(node, "by");

	for (const struct node *word = by && by->kind == EVENT_LIST ? by->child : by; word;
	     word = by->kind == EVENT_LIST ? word->next : NULL) {
		int mechanism = find_mechanism(reader, word, word->text);

		if (mechanism >= 0)
			row->by |= (uint8_t)(1u << mechanism);
	}
	if (!by && row->category > CATEGORY_LEAST)
		node_fault(node, reader->faults,
		           "the row `%.60s` has no `by`: back_pressure, back_siphonage or both",
		           row->id);
	if (!by)
		row->by = (1u << MECHANISM_COUNT) - 1;
}

static int find_inlet(struct reader *reader, const struct node *node, const struct kind *kind)
{
	const char *names[INLETS_MOST];

	for (size_t i = 0; i < kind->inlet_count; i++) {
		names[i] = kind->inlet[i].id;
		if (node->text && strcmp(node->text, names[i]) == 0)
			return (int)i;
	}
	node_fault(
	        node, reader->faults, "`%.60s` is no inlet of `%.60s`%s",
	        node->text ? node->text : "?", kind->id,
	        node_meant(node->text ? node->text : "", names, kind->inlet_count, reader->faults));
	return -1;
}

static void read_inlets(struct reader *reader, const struct node *node, const struct kind *kind,
                        struct row *row)
{
	const struct node *inlets = node_get(node, "inlets");

	for (const struct node *word = inlets && inlets->kind == EVENT_LIST ? inlets->child
	                                                                    : inlets;
	     word; word = inlets->kind == EVENT_LIST ? word->next : NULL) {
		int inlet = find_inlet(reader, word, kind);

		if (inlet >= 0)
			row->inlets |= (uint8_t)(1u << inlet);
	}
	for (size_t i = 0; !inlets && i < kind->inlet_count; i++)
		if (!kind->inlet[i].waste)
			row->inlets |= (uint8_t)(1u << i);
}

static int find_fluid(const struct kind *kind, const char *id)
{
	for (size_t i = 0; i < kind->fluid_count; i++)
		if (strcmp(kind->fluid[i].id, id) == 0)
			return (int)i;
	return ROW_NONE;
}

static bool asks_category(const struct node *node)
{
	const struct node *category = node_get(node, "category");

	return category && category->text && strcmp(category->text, "ask") == 0;
}

static void read_fluid_row(struct reader *reader, const struct raw_row *raw,
                           const struct kind *kind, struct row *row)
{
	const struct node *category = node_get(raw->node, "category");

	row->fluid = find_fluid(kind, raw->fluid);
	row->otherwise = raw->otherwise;
	row->category = CATEGORY_LEAST;
	if (!category)
		node_fault(raw->node, reader->faults, "the row `%.60s` has no `category`", row->id);
	else if (asks_category(raw->node))
		row->category = CATEGORY_MOST;
	else
		read_figure(reader, category, &row->category);
	if (asks_category(raw->node) && !raw->otherwise)
		node_fault(category, reader->faults,
		           "only an `otherwise` may ask for the category");
	if (raw->otherwise && node_get(raw->node, "when"))
		node_fault(node_get(raw->node, "when"), reader->faults,
		           "an `otherwise` has no `when`: it holds where no other row does");
	read_by(reader, raw->node, row);
	read_inlets(reader, raw->node, kind, row);
	row->replaces_id = node_text(raw->node, "replaces", reader->faults);
}

static void read_kind_row(struct reader *reader, const struct raw_row *raw,
                          const struct sight *sight, const struct kind *kind, struct row *row)
{
	static const char *const of_fluid[] = {ROW_KEYS, "kind",     "fluid", "category", "by",
	                                       "inlets", "replaces", "opens", "urgency",  NULL};
	static const char *const circumstance[] = {ROW_KEYS, "kind", "opens", "urgency", NULL};

	node_known_keys(raw->node, raw->fluid ? "a fluid's row" : "a circumstance",
	                raw->fluid ? of_fluid : circumstance, reader->faults);
	read_row(reader, sight, raw->node, row);
	row->opens = node_yes(raw->node, "opens", false, reader->faults);
	read_row_urgency(reader, raw->node, row);
	if (raw->fluid)
		read_fluid_row(reader, raw, kind, row);
	else if (!row->opens && row->urgency == URGENCY_NONE)
		node_fault(raw->node, reader->faults,
		           "the circumstance `%.60s` says neither `opens: yes` nor an `urgency`",
		           row->id);
}

static void resolve_replaces(struct reader *reader, const struct kind *kind, struct row *row)
{
	const char **words;
	size_t count = 0;
	const struct node place = {.span = row->span, .source = row->text};

	for (size_t i = 0; i < kind->row_count; i++) {
		const struct row *other = &kind->row[i];
		bool is = strcmp(other->id, row->replaces_id) == 0;

		for (size_t w = 0; w < other->was_count; w++)
			is |= strcmp(other->was[w], row->replaces_id) == 0;
		if (is && other != row && other->fluid == row->fluid) {
			row->replaces = (int)i;
			return;
		}
	}
	words = arena_take(reader->scratch, (kind->row_count + 1) * sizeof(*words));
	for (size_t i = 0; words && i < kind->row_count; i++)
		if (kind->row[i].fluid == row->fluid && &kind->row[i] != row)
			words[count++] = kind->row[i].id;
	node_fault(&place, reader->faults,
	           "`replaces: %.60s` names no other row of the same fluid of `%.60s`%s",
	           row->replaces_id, kind->id,
	           node_meant(row->replaces_id, words, count, reader->faults));
}

/**
 * `category: ask` stands for one row a category, each where the Schedule's own words say so:
 * unanswered is then 1 to 5.
 */
static void expand_ask(struct reader *reader, const struct node *node, struct kind *kind)
{
	question_index ask = shared_question(reader, SCOPE_POINT, "schedule_category");
	const struct row asking = kind->row[kind->row_count - 1];
	size_t room = kind->question_count;

	if (ask == QUESTION_NONE || reader->book->question[ask].form != FORM_CHOICE ||
	    reader->book->question[ask].option_count != CATEGORY_MOST) {
		node_fault(node, reader->faults,
		           "`category: ask` needs a shared choice `schedule_category` of a point, "
		           "with 5 options");
		return;
	}
	asking_add(reader, &kind->question, &kind->question_count, &room, ask);
	kind->row_count--;
	for (unsigned category = CATEGORY_LEAST; category <= CATEGORY_MOST; category++) {
		struct row *row = &kind->row[kind->row_count++];

		*row = asking;
		row->category = (uint8_t)category;
		row->when =
		        condition_of_option(reader, ask, category - CATEGORY_LEAST, asking.span);
	}
}

void read_kind_rows(struct reader *reader, const struct raw_thing *raw, struct kind *kind)
{
	struct sight sight = {OWNER_KIND, kind->id, kind->question, kind->question_count};
	size_t count = raw->rows.count;

	for (size_t i = 0; i < raw->rows.count; i++)
		count += asks_category(raw->rows.item[i].node) ? CATEGORY_MOST - CATEGORY_LEAST : 0;
	kind->row = reader_take(reader, (count + 1) * sizeof(*kind->row));
	for (size_t i = 0; kind->row && i < raw->rows.count; i++) {
		const struct raw_row *row = &raw->rows.item[i];

		read_kind_row(reader, row, &sight, kind, &kind->row[kind->row_count++]);
		if (row->fluid && asks_category(row->node))
			expand_ask(reader, node_get(row->node, "category"), kind);
	}
	for (size_t i = 0; i < kind->row_count; i++)
		if (kind->row[i].replaces_id)
			resolve_replaces(reader, kind, &kind->row[i]);
}

/* -- rows of a type -------------------------------------------------------------------------- */

static void read_type_row(struct reader *reader, const struct node *node, const struct sight *sight,
                          struct row *row)
{
	static const char *const known[] = {ROW_KEYS,   "type", "good_for", "accepted", "found",
	                                    "unproven", "due",  "urgency",  NULL};

	node_known_keys(node, "a type's row", known, reader->faults);
	read_row(reader, sight, node, row);
	read_figures(reader, node, "good_for", row->good_for);
	read_figures(reader, node, "accepted", row->accepted);
	read_figures(reader, node, "found", row->found);
	row->unproven = node_yes(node, "unproven", false, reader->faults);
	row->due = node_yes(node, "due", false, reader->faults);
	read_row_urgency(reader, node, row);
	if (!node_get(node, "good_for") && !node_get(node, "accepted") &&
	    !node_get(node, "found") && !row->unproven && !row->due && row->urgency == URGENCY_NONE)
		node_fault(node, reader->faults,
		           "the row `%.60s` decides nothing: good_for, accepted, found, unproven, "
		           "due or urgency",
		           row->id);
}

void read_type_rows(struct reader *reader, const struct raw_thing *raw, struct type *type)
{
	struct sight sight = {OWNER_TYPE, type->id, type->question, type->question_count};

	type->row = reader_take(reader, (raw->rows.count + 1) * sizeof(*type->row));
	for (size_t i = 0; type->row && i < raw->rows.count; i++)
		read_type_row(reader, raw->rows.item[i].node, &sight,
		              &type->row[type->row_count++]);
}

static uint16_t find_type(struct reader *reader, const struct node *node, const char *key,
                          const char *id)
{
	const struct raw_things *types = &reader->types;
	const char **words = arena_take(reader->scratch, (types->count + 1) * sizeof(*words));

	for (size_t i = 0; i < types->count; i++) {
		if (thing_is(&types->item[i], id))
			return (uint16_t)i;
		if (words)
			words[i] = types->item[i].id;
	}
	if (id[0])
		node_fault(node_get(node, key), reader->faults, "`%.60s` is no type of this book%s",
		           id, node_meant(id, words, words ? types->count : 0, reader->faults));
	return INDEX_NONE;
}

void read_usual(struct reader *reader, const struct node *node, struct kind *kind)
{
	size_t count = 0;
	const char **ids = read_words(reader, node, "usual", &count);

	kind->usual = reader_take(reader, (count + 1) * sizeof(*kind->usual));
	for (size_t i = 0; kind->usual && i < count; i++) {
		uint16_t type;

		/* an overlay that drops a type need not name every kind that has it */
		if (is_among(&reader->dropped_types, ids[i]) && !is_among(&reader->types, ids[i]))
			continue;
		type = find_type(reader, node, "usual", ids[i]);
		if (type != INDEX_NONE)
			kind->usual[kind->usual_count++] = type;
	}
}

static void read_series_row(struct reader *reader, const struct node *node,
                            const struct sight *sight, struct series *series)
{
	static const char *const known[] = {ROW_KEYS, "with", "counts_as", NULL};

	node_known_keys(node, "a series", known, reader->faults);
	read_row(reader, sight, node, &series->row);
	series->with_id = read_needed(reader, node, "the series", "with");
	series->counts_as_id = read_needed(reader, node, "the series", "counts_as");
	series->with = find_type(reader, node, "with", series->with_id);
	series->counts_as = find_type(reader, node, "counts_as", series->counts_as_id);
}

void read_series(struct reader *reader, const struct raw_thing *raw, struct type *type)
{
	struct sight sight = {OWNER_TYPE, type->id, type->question, type->question_count};

	type->series = reader_take(reader, (raw->series.count + 1) * sizeof(*type->series));
	for (size_t i = 0; type->series && i < raw->series.count; i++)
		read_series_row(reader, raw->series.item[i].node, &sight,
		                &type->series[type->series_count++]);
}

/* -- the urgency table ----------------------------------------------------------------------- */

static void read_urgency_row(struct reader *reader, const struct node *node,
                             struct urgency_row *row)
{
	static const char *const known[] = {ROW_KEYS, "urgency", NULL};
	static const char *const known_raise[] = {ROW_KEYS, NULL};
	static const struct sight sight = {OWNER_URGENCY, "the outcome", NULL, 0};

	node_known_keys(node, row->raises ? "a row that raises" : "a row of the urgency table",
	                row->raises ? known_raise : known, reader->faults);
	read_row(reader, &sight, node, &row->row);
	if (row->raises)
		return;
	read_needed(reader, node, "the row", "urgency");
	read_row_urgency(reader, node, &row->row);
}

void read_urgency(struct reader *reader)
{
	struct rulebook *book = reader->book;
	size_t count = reader->urgency.count + reader->raise.count;

	book->urgency = reader_take(reader, (count + 1) * sizeof(*book->urgency));
	for (size_t i = 0; book->urgency && i < count; i++) {
		struct urgency_row *row = &book->urgency[book->urgency_count++];

		row->raises = i >= reader->urgency.count;
		read_urgency_row(reader,
		                 row->raises ? reader->raise.item[i - reader->urgency.count].node
		                             : reader->urgency.item[i].node,
		                 row);
	}
}
