/* Items of a survey: each a map with a `ref`, in lists. The order of its keys is free. */
#include "survey_inside.h"

#include <string.h>

/* -- refs ------------------------------------------------------------------------------------ */

const struct item *last_child(const struct item *parent)
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

/* Room for what most have: arrays that grow by themselves start with more than
 * an inlet ever needs. */
void make_room(struct survey_reader *reader, struct item *item)
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

/* -- items ----------------------------------------------------------------------------------- */

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
		read_items(reader, open->item, SCOPE_POINT);
		return true;
	case SCOPE_POINT:
		if (KEY_IS(key, "answers"))
			read_answers(reader, open->item, "answers");
		else if (KEY_IS(key, "inlets"))
			read_inlets(reader, open->item);
		else if (KEY_IS(key, "action_taken"))
			read_items(reader, open->item, SCOPE_ACTION);
		else if (KEY_IS(key, "fed_by") || KEY_IS(key, "protection"))
			read_only_inlet(reader, open, key);
		else
			return false;
		return true;
	case SCOPE_PROTECTION:
		if (!KEY_IS(key, "tests"))
			return false;
		read_items(reader, open->item, SCOPE_TEST);
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

void read_items(struct survey_reader *reader, struct item *parent, enum scope scope)
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
