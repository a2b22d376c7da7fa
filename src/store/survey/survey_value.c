/* Answers of a survey: from the value at hand to struct answer. */
#include "survey_inside.h"

#include "tundish/base/text.h"

#include <string.h>

enum { WORDS_MOST = 128, SHOWN_MOST = 60 };

#define SHOWN(key) (int)((key)->length < SHOWN_MOST ? (key)->length : SHOWN_MOST), (key)->text

void reader_starves(struct survey_reader *reader)
{
	reader->no_memory = true;
	events_stop(&reader->events);
}

/* What decides which questions it is asked: its kind, its type, or its device's. */
static uint16_t owner_of(const struct item *item)
{
	return item->scope == SCOPE_TEST ? item->parent->of : item->of;
}

static bool has_owner(const struct item *item)
{
	return item->scope == SCOPE_POINT || item->scope == SCOPE_PROTECTION ||
	       item->scope == SCOPE_TEST;
}

const char *map_of_answers(const struct survey_reader *reader, enum scope scope,
                           const struct key *key)
{
	const struct rulebook *book = reader->book;

	for (size_t i = 0; key->length > 0 && i < book->question_count; i++) {
		const char *at = book->question[i].at;

		if (book->question[i].scope == scope && text_is(key->text, key->length, at))
			return at;
	}
	return NULL;
}

/* -- what nobody asks ------------------------------------------------------------------------ */

/* The keys of a scope that are no questions. */
static const char *const *keys_of(enum scope scope)
{
	/* clang-format off */
	static const char *const keys[SCOPE_COUNT][6] = {
		[SCOPE_PREMISES] = {"ref", "parts"},
		[SCOPE_PART] = {"ref"},
		[SCOPE_BRANCH] = {"ref", "protection"},
		[SCOPE_ROOM] = {"ref", "points"},
		[SCOPE_POINT] = {"ref", "inlets", "answers", "action_taken", "protection"},
		[SCOPE_INLET] = {"protection"},
		[SCOPE_PROTECTION] = {"ref", "tests"},
		[SCOPE_TEST] = {"ref"},
		[SCOPE_ACTION] = {"ref"},
	};
	/* clang-format on */

	return keys[scope];
}

static const char *nearest_key(struct survey_reader *reader, const struct item *item,
                               const char *at, const struct key *key)
{
	const char *word = arena_copy(&reader->survey->arena, key->text, key->length),
	           *words[WORDS_MOST];
	struct asked asked;
	size_t count = 0;

	for (const char *const *own = keys_of(item->scope); at[0] == '\0' && *own; own++)
		words[count++] = *own;
	if (!word || !survey_asked(reader->survey, item, &reader->survey->arena, &asked))
		return NULL;
	for (size_t i = 0; i < asked.count && count < WORDS_MOST; i++)
		if (strcmp(reader->book->question[asked.question[i]].at, at) == 0)
			words[count++] = reader->book->question[asked.question[i]].id;
	return text_nearest(word, words, count);
}

static const char *who_asks(const struct survey_reader *reader, const struct item *item)
{
	uint16_t owner = owner_of(item);

	if (item->scope == SCOPE_POINT && owner < reader->book->kind_count)
		return reader->book->kind[owner].id;
	if (has_owner(item) && item->scope != SCOPE_POINT && owner < reader->book->type_count)
		return reader->book->type[owner].id;
	return scope_name(item->scope);
}

/* A notice: this key is nothing here. */
static void unknown_key(struct survey_reader *reader, const struct item *item, const char *at,
                        const struct key *key)
{
	const char *nearest;

	if (key->length >= 2 && memcmp(key->text, "x-", 2) == 0)
		return;
	if (at[0] != '\0' && has_owner(item) && owner_of(item) == INDEX_NONE) {
		survey_notice(reader, key->span, "`%.*s` can't be placed: the %s is not known yet",
		              SHOWN(key), item->scope == SCOPE_POINT ? "kind" : "type");
		return;
	}
	nearest = nearest_key(reader, item, at, key);
	survey_notice(reader, key->span, "`%.*s` is not asked of %s%s%s%s", SHOWN(key),
	              who_asks(reader, item), nearest ? ": did you mean `" : "",
	              nearest ? nearest : "", nearest ? "`?" : "");
}

/* -- values ---------------------------------------------------------------------------------- */

/** The words of a list, as one text. */
struct joined {
	char *text;
	size_t length, room;
};

static bool join(struct survey_reader *reader, struct joined *joined, const char *text,
                 size_t length)
{
	struct arena *arena = &reader->survey->arena;
	size_t needed = joined->length + length + 3;

	if (needed > joined->room) {
		char *larger = arena_take(arena, needed * 2);

		if (!larger) {
			reader_starves(reader);
			return false;
		}
		if (joined->length > 0)
			memcpy(larger, joined->text, joined->length);
		joined->text = larger;
		joined->room = needed * 2;
	}
	if (joined->length > 0) {
		memcpy(joined->text + joined->length, ", ", 2);
		joined->length += 2;
	}
	memcpy(joined->text + joined->length, text, length);
	joined->length += length;
	joined->text[joined->length] = '\0';
	return true;
}

static void read_list(struct survey_reader *reader, struct value *out)
{
	struct events *events = &reader->events;
	struct joined joined = {0};
	size_t count = 0;

	out->span = events->span;
	while (events_item(events)) {
		if (events->kind != EVENT_SCALAR || events->length == 0) {
			out->form = VALUE_NO_WORDS;
			events_skip(events);
		} else if (join(reader, &joined, events->text, events->length)) {
			count++;
		}
	}
	out->span = events_span_from(events, out->span.at);
	out->text = joined.text;
	out->length = joined.length;
	out->several = count > 1;
}

/* @return false where nothing was said. */
static bool read_value(struct survey_reader *reader, struct value *out)
{
	struct events *events = &reader->events;

	*out = (struct value){.span = events->span};
	if (events->kind == EVENT_SCALAR) {
		out->text = events->text;
		out->length = events->length;
	} else if (events->kind == EVENT_LIST) {
		read_list(reader, out);
	} else if (events->kind == EVENT_MAP) {
		out->form = VALUE_IS_MAP;
		events_skip(events);
	}
	return out->length > 0 || out->form != VALUE_FINE;
}

static void note_reference(struct survey_reader *reader, struct item *item, question_index question)
{
	struct reference *grown =
	        arena_grow(&reader->survey->arena, reader->reference, reader->reference_count,
	                   &reader->reference_room, sizeof(*grown));

	if (!grown) {
		reader_starves(reader);
		return;
	}
	reader->reference = grown;
	grown[reader->reference_count++] = (struct reference){item, question};
}

/* Most answers are one word that the rulebook or the survey knows: these need no reading and no
 * copy. */
static const char *known_word(const struct survey_reader *reader, const struct question *question,
                              const struct value *value, cells *may)
{
	const struct rulebook *book = reader->book;
	const struct item *branch;
	uint16_t index;
	int cell;

	switch (question->form) {
	case FORM_CHOICE:
		cell = question_option(question, value->text, value->length);
		*may = cell < 0 ? 0 : (cells)1 << cell;
		return cell < 0 ? NULL : question->option[cell].id;
	case FORM_YES_NO:
		cell = strcmp(value->text, "yes") == 0 ? CELL_YES : CELL_NO;
		*may = (cells)1 << cell;
		return cell == CELL_YES ? "yes" : strcmp(value->text, "no") == 0 ? "no" : NULL;
	case FORM_KIND:
		index = rulebook_kind(book, value->text, value->length);
		return index == INDEX_NONE ? NULL : book->kind[index].id;
	case FORM_TYPE:
		index = rulebook_type(book, value->text, value->length);
		return index == INDEX_NONE ? NULL : book->type[index].id;
	case FORM_FEED:
		branch = survey_find(reader->survey, value->text, value->length);
		return branch ? branch->ref : strcmp(value->text, "main") == 0 ? "main" : NULL;
	case FORM_NUMBER:
	case FORM_DATE:
	case FORM_TEXT:
	case FORM_PART:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return NULL;
}

static bool read_word(const struct survey_reader *reader, question_index index,
                      const struct value *value, struct answer *out)
{
	const struct question *question = &reader->book->question[index];
	struct answer answer = {.question = index, .may = question_all(question)};

	answer.text = known_word(reader, question, value, &answer.may);
	if (!answer.text)
		return false;
	*out = answer;
	return true;
}

static void put_value(struct survey_reader *reader, struct item *item, question_index index,
                      const struct value *value)
{
	const struct question *question = &reader->book->question[index];
	enum form form = question->form;
	struct answer answer;

	if (value->form != VALUE_FINE) {
		survey_fault(reader, value->span, "\"%.80s\" is answered by %s", question->label,
		             value->form == VALUE_IS_MAP ? "a word, not by a map"
		                                         : "words: this list holds more");
		return;
	}
	if (value->several && form != FORM_CHOICE && form != FORM_FEED && form != FORM_TYPE) {
		survey_fault(reader, value->span, "\"%.80s\" has one answer, not a list",
		             question->label);
		return;
	}
	if (!read_word(reader, index, value, &answer) &&
	    !answer_read(reader->book, index, value->text, value->length, &reader->survey->arena,
	                 &answer, &reader->err)) {
		survey_fault(reader, value->span, "%s", reader->err.message);
		reader->err = (struct err){0};
		return;
	}
	answer.span = value->span;
	if (answer_is_ahead(reader->book, &answer)) {
		char on[11];

		date_format(reader->book->on, on);
		survey_notice(reader, value->span,
		              "`%.*s` is after %s, the day of the verdict: it counts as not known",
		              (int)value->length, value->text, on);
	}
	if (!survey_put(reader->survey, item, &answer))
		reader_starves(reader);
	else if (form == FORM_FEED || form == FORM_PART)
		note_reference(reader, item, index);
}

static void put_aside(struct survey_reader *reader, struct item *item, const char *at,
                      const struct key *key, const struct value *value)
{
	struct arena *arena = &reader->survey->arena;
	struct aside *grown = arena_grow(arena, reader->aside, reader->aside_count,
	                                 &reader->aside_room, sizeof(*grown));
	const char *text = arena_copy(arena, value->text, value->length);

	if (!grown || !text) {
		reader_starves(reader);
		return;
	}
	reader->aside = grown;
	grown += reader->aside_count++;
	*grown = (struct aside){item, at, *key, *value};
	grown->value.text = text;
}

/* What every item of the scope is asked stands in its own map; what its kind or type asks, in a map
 * below. */
static question_index find_question(const struct survey_reader *reader, const struct item *item,
                                    const char *at, const struct key *key)
{
	question_index found = QUESTION_NONE;

	if (at[0] == '\0')
		found = rulebook_question(reader->book, item->scope, INDEX_NONE, at, key->text,
		                          key->length);
	if (found == QUESTION_NONE)
		found = rulebook_question(reader->book, item->scope, owner_of(item), at, key->text,
		                          key->length);
	return found;
}

void read_answer(struct survey_reader *reader, struct item *item, const char *at,
                 const struct key *key)
{
	question_index question = find_question(reader, item, at, key);
	struct value value;

	if (question == QUESTION_NONE && at[0] == '\0') {
		const char *map = map_of_answers(reader, item->scope, key);

		if (map) {
			read_answers(reader, item, map);
			return;
		}
	}
	if (question == QUESTION_NONE && !(has_owner(item) && owner_of(item) == INDEX_NONE)) {
		unknown_key(reader, item, at, key);
		events_skip(&reader->events);
		return;
	}
	if (!read_value(reader, &value))
		return;
	if (question == QUESTION_NONE)
		put_aside(reader, item, at, key, &value);
	else
		put_value(reader, item, question, &value);
}

void read_answers(struct survey_reader *reader, struct item *item, const char *at)
{
	struct events *events = &reader->events;
	struct key key;

	if (events->kind == EVENT_MAP) {
		while (events_key(events, &key))
			read_answer(reader, item, at, &key);
		return;
	}
	if (!events_is_empty(events))
		survey_fault(reader, events->span, "`%s` is a map of answers", at);
	events_skip(events);
}

/* Answers stand in the order of the file. */
static void sort_answers(struct item *item)
{
	for (size_t i = 1; i < item->answer_count; i++) {
		struct answer moving = item->answer[i];
		size_t to = i;

		for (; to > 0 && item->answer[to - 1].span.at > moving.span.at; to--)
			item->answer[to] = item->answer[to - 1];
		item->answer[to] = moving;
	}
}

void settle_asides(struct survey_reader *reader, struct item *item, size_t from, bool quiet)
{
	for (size_t i = from; i < reader->aside_count; i++) {
		struct aside *aside = &reader->aside[i];
		question_index question =
		        find_question(reader, aside->item, aside->at, &aside->key);

		if (question != QUESTION_NONE)
			put_value(reader, aside->item, question, &aside->value);
		else if (!quiet)
			unknown_key(reader, aside->item, aside->at, &aside->key);
	}
	for (size_t i = from; i < reader->aside_count; i++)
		if (reader->aside[i].item != item)
			sort_answers(reader->aside[i].item);
	if (reader->aside_count > from)
		sort_answers(item);
	reader->aside_count = from;
}
