/*
 * What a question can be answered with, and how an answer and an item are called on the screen.
 */
#include "inside.h"

#include "tundish/base/match.h"

#include "tundish/base/number.h"

#include <stdio.h>
#include <string.h>

void choice_add(struct arena *arena, struct choices *choices, const char *id, const char *label,
                const char *note)
{
	struct choice *grown =
	        arena_grow(arena, choices->item, choices->count, &choices->room, sizeof(*grown));

	if (grown == NULL || label == NULL)
		return;
	choices->item = grown;
	grown[choices->count++] = (struct choice){.id = id, .label = label, .note = note};
}

/* "EB, non-verifiable ..." where the id is a code that the trade says; else the name alone. */
static const char *type_title(const struct type *type, struct arena *arena)
{
	for (const char *c = type->id; *c != '\0'; c++)
		if (*c >= 'a' && *c <= 'z')
			return type->name;
	return arena_print(arena, "%s %s", type->id, type->name);
}

static void is_also(struct choices *choices, const char **also, size_t count)
{
	if (choices->count == 0)
		return;
	choices->item[choices->count - 1].also = also;
	choices->item[choices->count - 1].also_count = count;
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (unsigned char)c >= 0x80;
}

/* Best first: one of the places where a kind is met is the word, begins with it, has it in it. */
enum met {
	MET_THERE = MATCH_WHOLE,
	MET_PLACE = MATCH_START,
	MET_WORD = MATCH_WORD,
	MET_ELSEWHERE,
	MET_COUNT,
};

static enum met met_by(const char *where, const char *word, size_t length)
{
	enum met best = MET_ELSEWHERE;

	for (const char *place = where; *place != '\0';) {
		char text[80];
		size_t bytes = strcspn(place, ",");
		struct called called = {text, text, NULL, 0};
		enum match match;

		snprintf(text, sizeof(text), "%.*s", (int)bytes, place);
		match = match_called(&called, word, length);
		if (match < MATCH_ALSO && (enum met)match < best)
			best = (enum met)match;
		place += bytes + strspn(place + bytes, ", ");
	}
	return best;
}

/* Where the room's name says: by the best of its words. "Room" and the like say nothing. */
static enum met met_in(const struct kind *kind, const char *room)
{
	enum met best = MET_ELSEWHERE;

	while (kind->where != NULL && *room != '\0') {
		size_t length = 0;

		while (is_letter(room[length]))
			length++;
		if (length > 4) {
			enum met met = met_by(kind->where, room, length);

			best = met < best ? met : best;
		}
		room += length > 0 ? length : 1;
	}
	return best;
}

/* The room that a point is in, or is to be added to. */
static const char *room_words(struct walk *walk, const struct item *point, struct arena *arena)
{
	const struct item *room = item_above(point, SCOPE_ROOM);

	if (room == NULL && walk->purpose == FOR_NEW)
		room = item_above(walk->adding.parent, SCOPE_ROOM);
	return room == NULL ? "" : item_title(walk, room, arena);
}

/* What is met in such a room comes first, else as the rulebook has them. */
static void offer_kinds(struct walk *walk, const struct item *point, struct arena *arena,
                        struct choices *out)
{
	const struct rulebook *book = walk->book;
	const char *room = room_words(walk, point, arena);

	for (enum met met = MET_THERE; met < MET_COUNT; met++) {
		for (size_t i = 0; i < book->kind_count; i++) {
			const struct kind *kind = &book->kind[i];

			if (met_in(kind, room) != met)
				continue;
			choice_add(arena, out, kind->id, kind->name, kind->where);
			is_also(out, kind->also, kind->also_count);
		}
	}
}

static bool is_usual(const struct kind *kind, size_t type)
{
	for (size_t i = 0; kind != NULL && i < kind->usual_count; i++)
		if (kind->usual[i] == type)
			return true;
	return false;
}

static void offer_type(const struct type *type, bool usual, struct arena *arena,
                       struct choices *out)
{
	const char *note = type->tell;

	/* that nothing is fitted is said of the inlet */
	if (strcmp(type->id, "nothing") == 0)
		return;
	if (usual)
		note = arena_print(arena, "usual here%s%s", note == NULL ? "" : ". ",
		                   note == NULL ? "" : note);
	choice_add(arena, out, type->id, type_title(type, arena), note);
	is_also(out, type->also, type->also_count);
}

/* The kind whose inlet a protection is on, or will be; NULL for one on a branch or the site. */
static const struct kind *protected_kind(const struct walk *walk, const struct item *item)
{
	const struct item *point = walk->adding.point;

	if (item == NULL && walk->adding.parent != NULL)
		item = walk->adding.parent;
	if (item != NULL)
		point = item_above(item, SCOPE_POINT);
	return point != NULL && point->of < walk->book->kind_count ? &walk->book->kind[point->of]
	                                                           : NULL;
}

static void offer_types(const struct walk *walk, const struct item *item, struct arena *arena,
                        struct choices *out)
{
	const struct rulebook *book = walk->book;
	const struct kind *kind = protected_kind(walk, item);

	for (size_t i = 0; kind != NULL && i < kind->usual_count; i++)
		offer_type(&book->type[kind->usual[i]], true, arena, out);
	for (size_t i = 0; i < book->type_count; i++)
		if (!is_usual(kind, i))
			offer_type(&book->type[i], false, arena, out);
}

static void offer_children(struct walk *walk, const struct item *parent, enum scope scope,
                           const struct item *but, struct arena *arena, struct choices *out)
{
	for (size_t i = 0; i < parent->child_count; i++) {
		const struct item *child = parent->child[i];

		if (child->scope == scope && child != but)
			choice_add(arena, out, child->ref, item_title(walk, child, arena), NULL);
	}
}

/* A branch may also start at a point that stores water. */
static void offer_stores(struct walk *walk, struct arena *arena, struct choices *out)
{
	const struct item *premises = walk->survey->premises;

	for (size_t i = 0; i < premises->child_count; i++) {
		const struct item *room = premises->child[i];

		for (size_t j = 0; room->scope == SCOPE_ROOM && j < room->child_count; j++) {
			const struct item *point = room->child[j];

			if (point->scope == SCOPE_POINT && point->of < walk->book->kind_count &&
			    walk->book->kind[point->of].stores)
				choice_add(arena, out, point->ref, item_title(walk, point, arena),
				           item_title(walk, room, arena));
		}
	}
}

static void offer_feeds(struct walk *walk, const struct item *item, enum scope scope,
                        struct arena *arena, struct choices *out)
{
	choice_add(arena, out, "main", "the undertaker's main", NULL);
	offer_children(walk, walk->survey->premises, SCOPE_BRANCH, item, arena, out);
	if (scope == SCOPE_BRANCH)
		offer_stores(walk, arena, out);
}

struct choices options_of(struct walk *walk, const struct item *item, question_index question,
                          struct arena *arena)
{
	const struct rulebook *book = walk->book;
	const struct question *asked = &book->question[question];
	struct choices out = {0};

	switch (asked->form) {
	case FORM_CHOICE:
		for (size_t i = 0; i < asked->option_count; i++)
			choice_add(arena, &out, asked->option[i].id, asked->option[i].label, NULL);
		break;
	case FORM_YES_NO:
		choice_add(arena, &out, "yes", "yes", NULL);
		choice_add(arena, &out, "no", "no", NULL);
		break;
	case FORM_KIND:
		offer_kinds(walk, item, arena, &out);
		break;
	case FORM_TYPE:
		offer_types(walk, item, arena, &out);
		break;
	case FORM_FEED:
		offer_feeds(walk, item, asked->scope, arena, &out);
		break;
	case FORM_PART:
		offer_children(walk, walk->survey->premises, SCOPE_PART, NULL, arena, &out);
		break;
	case FORM_NUMBER:
	case FORM_DATE:
	case FORM_TEXT:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return out;
}

/* "no" and "no, it was not", but not "none". */
static bool begins_with_word(const char *text, const char *word)
{
	size_t length = strlen(word);
	char next = strncmp(text, word, length) == 0 ? text[length] : 'x';

	return !(next >= 'a' && next <= 'z') && next != '_';
}

const char *option_by_word(const struct question *question, const char *word)
{
	const char *found = NULL;

	if (question->form == FORM_YES_NO)
		return word;
	if (question->form != FORM_CHOICE)
		return NULL;
	if (question_option(question, word, strlen(word)) >= 0)
		return word;
	for (size_t i = 0; i < question->option_count; i++) {
		if (!begins_with_word(question->option[i].label, word))
			continue;
		if (found != NULL)
			return NULL;
		found = question->option[i].id;
	}
	return found;
}

/* -- forms in words -------------------------------------------------------------------------- */

static const char *number_words(const struct question *question, struct arena *arena)
{
	char least[32], most[32];

	number_format(question->least, least);
	number_format(question->most, most);
	if (question->unit == NULL)
		return arena_print(arena, "a number, %s to %s", least, most);
	return arena_print(arena, "in %s, %s to %s; with its unit, others are understood too",
	                   unit_words(question->unit), least, most);
}

const char *form_words(const struct question *question, struct arena *arena)
{
	if (question->form == FORM_NUMBER)
		return number_words(question, arena);
	if (question->form == FORM_DATE)
		return "a year, month or day: 2019, 4/2019, 3/4/2019, today; b for before July "
		       "1999";
	return NULL;
}

/* -- answers in words ------------------------------------------------------------------------ */

/* What one word of an answer is called: an option's label, a name. */
static const char *word_title(struct walk *walk, const struct question *question, const char *word,
                              size_t length, struct arena *arena)
{
	const struct rulebook *book = walk->book;
	const struct item *item;
	int option;

	if (question->form == FORM_CHOICE) {
		option = question_option(question, word, length);
		if (option >= 0)
			return question->option[option].label;
	}
	if (question->form == FORM_KIND && rulebook_kind(book, word, length) != INDEX_NONE)
		return book->kind[rulebook_kind(book, word, length)].name;
	if (question->form == FORM_TYPE && rulebook_type(book, word, length) != INDEX_NONE)
		return type_title(&book->type[rulebook_type(book, word, length)], arena);
	if (question->form == FORM_FEED && length == 4 && memcmp(word, "main", 4) == 0)
		return "the main";
	if (question->form == FORM_FEED || question->form == FORM_PART) {
		item = survey_find(walk->survey, word, length);
		if (item != NULL)
			return item_title(walk, item, arena);
	}
	return arena_copy(arena, word, length);
}

/* "a, b" is one of these, not known which. */
static const char *words_title(struct walk *walk, const struct question *question, const char *text,
                               struct arena *arena)
{
	const char *joined = NULL;

	while (*text != '\0') {
		size_t length = strcspn(text, ",");
		const char *title = word_title(walk, question, text, length, arena);

		joined = joined == NULL ? title : arena_print(arena, "%s or %s", joined, title);
		text += length;
		text += strspn(text, ", ");
	}
	return joined;
}

static const char *number_title(const struct question *question, const struct answer *answer,
                                struct arena *arena)
{
	char value[32], bar[32];

	number_format(answer->low, value);
	if (question->unit == NULL)
		return arena_print(arena, "%s", value);
	if (strcmp(question->unit, "kpa") == 0) {
		number_format(answer->low / 100, bar);
		return arena_print(arena, "%s kPa (%s bar)", value, bar);
	}
	return arena_print(arena, "%s %s", value, unit_words(question->unit));
}

const char *value_text(struct walk *walk, const struct item *item, question_index question,
                       struct arena *arena)
{
	const struct question *asked = &walk->book->question[question];
	const struct answer *answer = item == NULL ? NULL : item_answer(item, question);

	if (answer == NULL)
		return NULL;
	if (strcmp(answer->text, "cannot_tell") == 0)
		return "cannot tell";
	switch (asked->form) {
	case FORM_NUMBER:
		return number_title(asked, answer, arena);
	case FORM_DATE:
		return strcmp(answer->text, "before_july_1999") == 0 ? "before July 1999"
		                                                     : answer->text;
	case FORM_CHOICE:
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
		return words_title(walk, asked, answer->text, arena);
	case FORM_YES_NO:
	case FORM_TEXT:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return answer->text;
}

/* -- what items are called ------------------------------------------------------------------- */

static const char *named(const struct item *item, question_index name)
{
	const char *text = item_text(item, name);

	return text == NULL || text[0] == '\0' ? item->ref : text;
}

static const char *point_title(const struct walk *walk, const struct item *point,
                               struct arena *arena)
{
	const char *name = item_text(point, walk->book->known.point_name);
	const char *kind = point->of < walk->book->kind_count ? walk->book->kind[point->of].name
	                                                      : "not said what it is";

	if (point->ref[0] == '\0') /* only looked at */
		return kind;
	if (name == NULL || name[0] == '\0')
		return arena_print(arena, "%s %s", point->ref, kind);
	return arena_print(arena, "%s %s, %s", point->ref, kind, name);
}

static const char *inlet_title(const struct walk *walk, const struct item *inlet,
                               struct arena *arena)
{
	int index = survey_inlet_index(walk->survey, inlet);

	if (index < 0)
		return arena_print(arena, "inlet %s", inlet->ref);
	return walk->book->kind[inlet->parent->of].inlet[index].name;
}

const char *item_title(const struct walk *walk, const struct item *item, struct arena *arena)
{
	const struct known_questions *known = &walk->book->known;
	const char *title = item->ref;

	switch (item->scope) {
	case SCOPE_PREMISES:
		title = "Premises sheet";
		break;
	case SCOPE_PART:
		title = named(item, known->part_name);
		break;
	case SCOPE_BRANCH:
		title = named(item, known->branch_name);
		break;
	case SCOPE_ROOM:
		title = named(item, known->room_name);
		break;
	case SCOPE_POINT:
		title = point_title(walk, item, arena);
		break;
	case SCOPE_INLET:
		title = inlet_title(walk, item, arena);
		break;
	case SCOPE_PROTECTION:
		if (item->of < walk->book->type_count)
			title = type_title(&walk->book->type[item->of], arena);
		/* one that is only looked at has no ref yet */
		if (item->ref[0] != '\0' && item->of < walk->book->type_count)
			title = arena_print(arena, "%s %s", item->ref, title);
		break;
	case SCOPE_TEST:
	case SCOPE_ACTION:
	case SCOPE_OUTCOME:
	case SCOPE_COUNT:
		break;
	}
	return title == NULL ? item->ref : title;
}
