/* Inlets, and what stands on them. */
#include "survey_inside.h"

#include "tundish/base/text.h"

#include <string.h>

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

void read_protection(struct survey_reader *reader, struct item *holder)
{
	struct span list = reader->events.span;

	if (reader->events.kind == EVENT_SCALAR) {
		read_protection_word(reader, holder);
		return;
	}
	if (reader->events.kind == EVENT_LIST && holder->scope == SCOPE_INLET) {
		size_t before = holder->child_count;
		size_t fatal = reader->faults->fatal;

		read_items(reader, holder, SCOPE_PROTECTION);
		if (holder->child_count == before && reader->faults->fatal == fatal)
			survey_notice(
			        reader, list,
			        "an empty list says nothing: write `nothing` where none is fitted");
		return;
	}
	read_items(reader, holder, SCOPE_PROTECTION);
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

void read_inlets(struct survey_reader *reader, struct item *point)
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
void read_only_inlet(struct survey_reader *reader, struct open *open, const struct key *key)
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

void name_only_inlet(struct survey_reader *reader, struct open *open)
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

void check_inlets(struct survey_reader *reader, const struct item *point)
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
