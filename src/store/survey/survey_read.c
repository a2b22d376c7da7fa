#include "tundish/store/survey_read.h"

#include "survey_inside.h"
#include "tundish/base/number.h"
#include "tundish/base/text.h"

#include <string.h>

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
			read_items(reader, premises, SCOPE_PART);
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
		read_items(reader, premises, SCOPE_BRANCH);
	} else if (KEY_IS(key, "rooms")) {
		read_items(reader, premises, SCOPE_ROOM);
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
