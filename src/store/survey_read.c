#include "tundish/store/survey_read.h"

#include "survey_inside.h"
#include "tundish/base/number.h"
#include "tundish/base/text.h"

#include <string.h>

/** A part, branch, room, point, protection, test or action being read. */
struct open {
	struct item *item; /* NULL until its first key; not in the tree before its `ref` is known */
	struct item *parent;
	enum scope scope;
	bool named;         /* its `ref` was read, good or bad */
	struct item *inlet; /* what a kind with one inlet says on the point itself */
	struct span inlet_key;
	uint32_t at;
	size_t asides_from, references_from, fatal_from;
};

static void read_list(struct survey_reader *reader, struct item *parent, enum scope scope);

/* -- refs
 * -----------------------------------------------------------------------------------------------------------------
 */

static const struct item *last_child(const struct item *parent)
{
	return parent->child_count > 0 ? parent->child[parent->child_count - 1] : NULL;
}

/* An item that is not in the tree: its ref comes later, or is none. */
static struct item *nameless(struct survey_reader *reader, struct open *open)
{
	struct item *item;

	if (open->item)
		return open->item;
	item = arena_take(&reader->survey->arena, sizeof(*item));
	if (!item) {
		reader_starves(reader);
		return NULL;
	}
	item->scope = open->scope;
	item->ref = "";
	item->parent = open->parent;
	item->of = INDEX_NONE;
	open->item = item;
	return item;
}

/* What was read before the `ref` goes over to the item that has one. */
static void take_over(struct survey_reader *reader, const struct open *open, struct item *named)
{
	const struct item *before = open->item;

	named->child = before->child;
	named->child_count = before->child_count;
	named->child_room = before->child_room;
	named->answer = before->answer;
	named->answer_count = before->answer_count;
	named->answer_room = before->answer_room;
	named->of = before->of;
	named->cannot_tell = before->cannot_tell;
	for (size_t i = 0; i < named->child_count; i++)
		named->child[i]->parent = named;
	for (size_t i = open->asides_from; i < reader->aside_count; i++)
		if (reader->aside[i].item == before)
			reader->aside[i].item = named;
	for (size_t i = open->references_from; i < reader->reference_count; i++)
		if (reader->reference[i].item == before)
			reader->reference[i].item = named;
}

/* Room for what most have: arrays that grow by themselves start with more than an inlet ever needs.
 */
static void make_room(struct survey_reader *reader, struct item *item)
{
	static const unsigned char answers[SCOPE_COUNT] = {
	        [SCOPE_PART] = 2,  [SCOPE_BRANCH] = 2,     [SCOPE_ROOM] = 3, [SCOPE_POINT] = 8,
	        [SCOPE_INLET] = 1, [SCOPE_PROTECTION] = 4, [SCOPE_TEST] = 4, [SCOPE_ACTION] = 4,
	};
	static const unsigned char children[SCOPE_COUNT] = {[SCOPE_POINT] = 2, [SCOPE_INLET] = 1};
	struct arena *arena = &reader->survey->arena;

	item->answer = arena_take(arena, answers[item->scope] * sizeof(*item->answer));
	item->answer_room = item->answer ? answers[item->scope] : 0;
	if (children[item->scope] == 0)
		return;
	item->child = arena_take(arena, children[item->scope] * sizeof(struct item *));
	item->child_room = item->child ? children[item->scope] : 0;
}

static void refuse_ref(struct survey_reader *reader, const char *ref, const char *why)
{
	const struct survey *survey = reader->survey;
	const struct item *first = survey_find(survey, ref, strlen(ref));

	if (first)
		survey_fault(reader, reader->events.span,
		             "the ref `%.60s` is used twice: first on line %zu", ref,
		             source_place(survey->source, first->span.at).line);
	else
		survey_fault(reader, reader->events.span, "`%.60s`: %s", ref, why);
}

static void take_ref(struct survey_reader *reader, struct open *open)
{
	struct events *events = &reader->events;
	const char *why;
	struct item *item;

	if (events->kind != EVENT_SCALAR || open->named) {
		if (!open->named)
			survey_fault(reader, events->span, "a `ref` is one word");
		open->named = true;
		events_skip(events);
		return;
	}
	if (events->length == 0)
		return;
	open->named = true;
	why = survey_ref_fault(reader->survey, events->text);
	if (why) {
		refuse_ref(reader, events->text, why);
		return;
	}
	item = survey_add(reader->survey, open->parent, open->scope, events->text,
	                  last_child(open->parent));
	if (!item) {
		reader_starves(reader);
		return;
	}
	item->span.at = open->at;
	if (open->item)
		take_over(reader, open, item);
	else
		make_room(reader, item);
	open->item = item;
}

/* -- protections and inlets
 * ------------------------------------------------------------------------------------------------
 */

static void read_protection_word(struct survey_reader *reader, struct item *holder)
{
	static const char *const words[] = {"nothing", "cannot_tell"};
	const struct events *events = &reader->events;
	const char *nearest;

	if (events->length == 0)
		return;
	if (strcmp(events->text, words[0]) == 0) {
		holder->nothing_said = false;
	} else if (strcmp(events->text, words[1]) == 0) {
		holder->nothing_said = false;
		holder->cannot_tell = true;
	} else {
		nearest = text_nearest(events->text, words, 2);
		survey_fault(reader, events->span,
		             "`protection` is a list in flow order, or `nothing`, or "
		             "`cannot_tell`%s%s%s",
		             nearest ? ": did you mean `" : "", nearest ? nearest : "",
		             nearest ? "`?" : "");
	}
}

static void read_protection(struct survey_reader *reader, struct item *holder)
{
	struct span list = reader->events.span;

	if (reader->events.kind == EVENT_SCALAR) {
		read_protection_word(reader, holder);
		return;
	}
	if (reader->events.kind == EVENT_LIST && holder->scope == SCOPE_INLET) {
		size_t before = holder->child_count;
		size_t fatal = reader->faults->fatal;

		read_list(reader, holder, SCOPE_PROTECTION);
		if (holder->child_count == before && reader->faults->fatal == fatal)
			survey_notice(
			        reader, list,
			        "an empty list says nothing: write `nothing` where none is fitted");
		return;
	}
	read_list(reader, holder, SCOPE_PROTECTION);
}

static void read_inlet_entry(struct survey_reader *reader, struct item *inlet,
                             const struct key *key)
{
	if (KEY_IS(key, "protection"))
		read_protection(reader, inlet);
	else
		read_answer(reader, inlet, "", key);
}

static struct item *add_inlet(struct survey_reader *reader, struct item *point, const char *id,
                              struct span span)
{
	struct item *inlet = survey_add(reader->survey, point, SCOPE_INLET, id, last_child(point));

	if (!inlet) {
		reader_starves(reader);
		return NULL;
	}
	make_room(reader, inlet);
	inlet->span = span;
	return inlet;
}

static bool may_be_inlet(const struct key *key)
{
	for (size_t i = 0; i < key->length; i++) {
		char c = key->text[i];

		if (!(c >= 'a' && c <= 'z') && !(c >= 'A' && c <= 'Z') && !(c >= '0' && c <= '9') &&
		    c != '_' && c != '-')
			return false;
	}
	return key->length > 0;
}

static void read_inlet(struct survey_reader *reader, struct item *point, const struct key *key)
{
	struct events *events = &reader->events;
	struct item *inlet;
	struct key entry;
	char *id;

	if (key->length >= 2 && memcmp(key->text, "x-", 2) == 0) {
		events_skip(events);
		return;
	}
	if (events->kind != EVENT_MAP || !may_be_inlet(key)) {
		if (!events_is_empty(events))
			survey_fault(reader, key->span,
			             "an inlet is a map: `cold: { fed_by: main }`");
		events_skip(events);
		return;
	}
	id = arena_copy(&reader->survey->arena, key->text, key->length);
	inlet = id ? add_inlet(reader, point, id, events->span) : NULL;
	if (!inlet) {
		reader_starves(reader);
		return;
	}
	while (events_key(events, &entry))
		read_inlet_entry(reader, inlet, &entry);
	inlet->span = events_span_from(events, inlet->span.at);
}

static void read_inlets(struct survey_reader *reader, struct item *point)
{
	struct events *events = &reader->events;
	struct key key;

	if (events->kind == EVENT_MAP) {
		while (events_key(events, &key))
			read_inlet(reader, point, &key);
		return;
	}
	if (!events_is_empty(events))
		survey_fault(reader, events->span,
		             "`inlets` is a map: the inlet's name, and what is said of it");
	events_skip(events);
}

/* A kind with one inlet says on the point what others say under `inlets`. */
static void read_only_inlet(struct survey_reader *reader, struct open *open, const struct key *key)
{
	if (events_is_empty(&reader->events))
		return;
	if (!open->inlet) {
		open->inlet = add_inlet(reader, open->item, "", key->span);
		open->inlet_key = key->span;
	}
	if (open->inlet)
		read_inlet_entry(reader, open->inlet, key);
}

static void name_only_inlet(struct survey_reader *reader, struct open *open)
{
	struct item *point = open->item, *inlet = open->inlet;
	const struct kind *kind =
	        point->of < reader->book->kind_count ? &reader->book->kind[point->of] : NULL;

	if (kind && kind->inlet_count == 1) {
		for (size_t i = 0; i < point->child_count; i++)
			if (point->child[i]->scope == SCOPE_INLET && point->child[i] != inlet &&
			    strcmp(point->child[i]->ref, kind->inlet[0].id) == 0)
				survey_fault(
				        reader, open->inlet_key,
				        "this inlet is described twice: here and under `inlets`");
		inlet->ref = kind->inlet[0].id;
		return;
	}
	if (kind)
		survey_fault(reader, open->inlet_key,
		             "`%.60s` has %zu inlets: write this under `inlets`", kind->id,
		             kind->inlet_count);
	else if (reader->faults->fatal == open->fatal_from)
		survey_notice(reader, open->inlet_key,
		              "this can't be placed: the kind is not known yet");
	for (size_t i = 0; i < point->child_count; i++) {
		if (point->child[i] != inlet)
			continue;
		memmove(&point->child[i], &point->child[i + 1],
		        (point->child_count - i - 1) * sizeof(struct item *));
		point->child_count--;
		break;
	}
}

static void check_inlets(struct survey_reader *reader, const struct item *point)
{
	const struct kind *kind;
	const char *words[INLETS_MOST], *nearest;

	if (point->of >= reader->book->kind_count)
		return;
	kind = &reader->book->kind[point->of];
	for (size_t i = 0; i < kind->inlet_count; i++)
		words[i] = kind->inlet[i].id;
	for (size_t i = 0; i < point->child_count; i++) {
		if (point->child[i]->scope != SCOPE_INLET ||
		    survey_inlet_index(reader->survey, point->child[i]) >= 0)
			continue;
		nearest = text_nearest(point->child[i]->ref, words, kind->inlet_count);
		survey_notice(reader, point->child[i]->span, "`%.60s` has no inlet `%.60s`%s%s%s",
		              kind->id, point->child[i]->ref, nearest ? ": did you mean `" : "",
		              nearest ? nearest : "", nearest ? "`?" : "");
	}
}

/* -- items
 * -------------------------------------------------------------------------------------------------------------------
 */

/* @return whether the key was one of those that hold no answer. */
static bool read_part_of(struct survey_reader *reader, struct open *open, const struct key *key)
{
	switch (open->scope) {
	case SCOPE_BRANCH:
		if (!KEY_IS(key, "protection"))
			return false;
		read_protection(reader, open->item);
		return true;
	case SCOPE_ROOM:
		if (!KEY_IS(key, "points"))
			return false;
		read_list(reader, open->item, SCOPE_POINT);
		return true;
	case SCOPE_POINT:
		if (KEY_IS(key, "answers"))
			read_answers(reader, open->item, "answers");
		else if (KEY_IS(key, "inlets"))
			read_inlets(reader, open->item);
		else if (KEY_IS(key, "action_taken"))
			read_list(reader, open->item, SCOPE_ACTION);
		else if (KEY_IS(key, "fed_by") || KEY_IS(key, "protection"))
			read_only_inlet(reader, open, key);
		else
			return false;
		return true;
	case SCOPE_PROTECTION:
		if (!KEY_IS(key, "tests"))
			return false;
		read_list(reader, open->item, SCOPE_TEST);
		return true;
	case SCOPE_PREMISES:
	case SCOPE_PART:
	case SCOPE_INLET:
	case SCOPE_TEST:
	case SCOPE_ACTION:
	case SCOPE_OUTCOME:
	case SCOPE_COUNT:
		break;
	}
	return false;
}

static void read_entries(struct survey_reader *reader, struct open *open)
{
	struct key key;

	while (events_key(&reader->events, &key)) {
		if (KEY_IS(&key, "ref")) {
			take_ref(reader, open);
			continue;
		}
		if (!nameless(reader, open))
			return;
		if (!read_part_of(reader, open, &key))
			read_answer(reader, open->item, "", &key);
	}
}

static void finish_item(struct survey_reader *reader, struct open *open)
{
	if (!open->named)
		survey_fault(reader, ((struct span){open->at, 0}),
		             "a %s needs a `ref`: a word of its own in this survey",
		             scope_name(open->scope));
	if (!open->item)
		return;
	if (open->scope == SCOPE_POINT || open->scope == SCOPE_PROTECTION)
		settle_asides(reader, open->item, open->asides_from,
		              reader->faults->fatal > open->fatal_from);
	if (open->inlet)
		name_only_inlet(reader, open);
	if (open->scope == SCOPE_POINT)
		check_inlets(reader, open->item);
	open->item->span = events_span_from(&reader->events, open->at);
}

static void read_item(struct survey_reader *reader, struct item *parent, enum scope scope)
{
	struct open open = {.parent = parent,
	                    .scope = scope,
	                    .at = reader->events.span.at,
	                    .asides_from = reader->aside_count,
	                    .references_from = reader->reference_count,
	                    .fatal_from = reader->faults->fatal};

	if (reader->events.kind != EVENT_MAP) {
		survey_fault(reader, reader->events.span,
		             "a %s is a map: `ref` and what is said of it", scope_name(scope));
		events_skip(&reader->events);
		return;
	}
	read_entries(reader, &open);
	if (!reader->events.broken)
		finish_item(reader, &open);
}

static void read_list(struct survey_reader *reader, struct item *parent, enum scope scope)
{
	struct events *events = &reader->events;

	if (events->kind == EVENT_LIST) {
		while (events_item(events))
			read_item(reader, parent, scope);
		return;
	}
	if (!events_is_empty(events))
		survey_fault(reader, events->span, "`%s` is a list: a dash before each",
		             survey_list_key(scope));
	events_skip(events);
}

/* -- the whole
 * ---------------------------------------------------------------------------------------------------------------
 */

static void read_version(struct survey_reader *reader)
{
	struct events *events = &reader->events;
	double version = 0;

	reader->version_said = true;
	if (events->kind != EVENT_SCALAR || !number_parse(events->text, events->length, &version) ||
	    version < 1) {
		survey_fault(reader, events->span, "`tundish` says the format of the file: 1");
		events_skip(events);
	} else if (version > 1) {
		survey_fault(reader, events->span,
		             "format %.20s is from a newer tundish: this one reads format 1 and "
		             "leaves the file alone",
		             events->text);
		events_stop(events);
	}
}

static void read_premises(struct survey_reader *reader)
{
	struct item *premises = reader->survey->premises;
	struct events *events = &reader->events;
	uint32_t at = events->span.at;
	struct key key;

	if (events->kind != EVENT_MAP) {
		if (!events_is_empty(events))
			survey_fault(reader, events->span, "`premises` is a map");
		events_skip(events);
		return;
	}
	while (events_key(events, &key)) {
		if (KEY_IS(&key, "parts"))
			read_list(reader, premises, SCOPE_PART);
		else if (KEY_IS(&key, "ref"))
			events_skip(events); /* nothing refers to it */
		else
			read_answer(reader, premises, "", &key);
	}
	premises->span = events_span_from(events, at);
}

static void read_supply(struct survey_reader *reader)
{
	struct item *premises = reader->survey->premises;
	struct events *events = &reader->events;
	struct key key;

	if (events->kind != EVENT_MAP) {
		read_answers(reader, premises, "supply");
		return;
	}
	while (events_key(events, &key)) {
		if (KEY_IS(&key, "protection"))
			read_protection(reader, premises);
		else
			read_answer(reader, premises, "supply", &key);
	}
}

static void unknown_section(struct survey_reader *reader, const struct key *key)
{
	static const char *const words[] = {"tundish",  "premises", "supply",
	                                    "branches", "rooms",    "amendments"};
	const char *word, *nearest;

	if (key->length >= 2 && memcmp(key->text, "x-", 2) == 0)
		return;
	word = arena_copy(&reader->survey->arena, key->text, key->length);
	nearest = word ? text_nearest(word, words, sizeof(words) / sizeof(words[0])) : NULL;
	survey_notice(reader, key->span, "`%.60s` is no part of a survey%s%s%s", word ? word : "",
	              nearest ? ": did you mean `" : "", nearest ? nearest : "",
	              nearest ? "`?" : "");
}

static void read_section(struct survey_reader *reader, const struct key *key)
{
	struct item *premises = reader->survey->premises;
	const char *map;

	if (KEY_IS(key, "tundish")) {
		read_version(reader);
	} else if (KEY_IS(key, "premises")) {
		read_premises(reader);
	} else if (KEY_IS(key, "supply")) {
		read_supply(reader);
	} else if (KEY_IS(key, "branches")) {
		read_list(reader, premises, SCOPE_BRANCH);
	} else if (KEY_IS(key, "rooms")) {
		read_list(reader, premises, SCOPE_ROOM);
	} else if ((map = map_of_answers(reader, SCOPE_PREMISES, key)) != NULL) {
		read_answers(reader, premises, map);
	} else {
		if (!KEY_IS(key, "amendments"))
			unknown_section(reader, key);
		events_skip(&reader->events);
	}
}

static void read_text(struct survey_reader *reader)
{
	struct events *events = &reader->events;
	struct key key;

	if (events->kind != EVENT_MAP) {
		if (!events_is_empty(events))
			survey_fault(reader, events->span,
			             "a survey is a map: `tundish: 1`, `premises`, `rooms` ...");
		events_skip(events);
		return;
	}
	while (events_key(events, &key))
		read_section(reader, &key);
	if (!events->broken && !reader->version_said)
		survey_fault(reader, ((struct span){0, 0}),
		             "this does not say `tundish: 1`: is it a survey?");
}

bool survey_read(struct survey *survey, const struct rulebook *book, const struct source *source,
                 struct faults *faults)
{
	struct survey_reader reader = {.survey = survey, .book = book, .faults = faults};
	size_t before = faults->fatal;

	if (!survey_reset(survey, book)) {
		fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
		          "no memory for the survey");
		return false;
	}
	survey->source = source;
	if (events_open(&reader.events, source, &survey->arena, faults)) {
		read_text(&reader);
		events_end(&reader.events);
	}
	events_close(&reader.events);
	if (!reader.events.broken)
		check_references(&reader);
	if (reader.no_memory || survey->arena.failed)
		fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
		          "no memory for the survey");
	return faults->fatal == before;
}
