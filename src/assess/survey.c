#include "tundish/assess/survey.h"

#include "survey_edit.h"

#include "tundish/base/text.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

bool survey_init(struct survey *survey, const struct rulebook *book)
{
	memset(survey, 0, sizeof(*survey));
	arena_init(&survey->arena);
	return survey_reset(survey, book);
}

bool survey_reset(struct survey *survey, const struct rulebook *book)
{
	struct arena arena = survey->arena;

	arena_reset(&arena);
	memset(survey, 0, sizeof(*survey));
	survey->arena = arena;
	survey->book = book;
	survey->premises = arena_take(&survey->arena, sizeof(*survey->premises));
	if (survey->premises == NULL)
		return false;
	survey->premises->scope = SCOPE_PREMISES;
	survey->premises->ref = "";
	survey->premises->of = INDEX_NONE;
	return true;
}

void survey_finish(struct survey *survey)
{
	arena_finish(&survey->arena);
	memset(survey, 0, sizeof(*survey));
}

/* -- refs ------------------------------------------------------------------------------- */

/* FNV-1a: short keys, no adversary (a file holds at most a million nodes). */
static uint32_t ref_hash(const char *ref, size_t length)
{
	uint32_t hash = 2166136261u;

	for (size_t i = 0; i < length; i++)
		hash = (hash ^ (unsigned char)ref[i]) * 16777619u;
	return hash;
}

/* The slot that holds the ref, or the free one where it belongs. The table is never full. */
static size_t ref_slot(struct item *const *table, size_t size, const char *ref, size_t length)
{
	size_t slot = ref_hash(ref, length) & (size - 1);

	while (table[slot] != NULL && !text_is(ref, length, table[slot]->ref))
		slot = (slot + 1) & (size - 1);
	return slot;
}

/* The item that has or had this ref. One that was taken out has no parent any more. */
static struct item *ref_holder(const struct survey *survey, const char *ref, size_t length)
{
	if (survey->by_ref_size == 0 || length == 0)
		return NULL;
	return survey->by_ref[ref_slot(survey->by_ref, survey->by_ref_size, ref, length)];
}

static bool ref_table_grow(struct survey *survey)
{
	size_t size = survey->by_ref_size == 0 ? 64 : survey->by_ref_size * 2;
	struct item **table = arena_take(&survey->arena, size * sizeof(struct item *));

	if (table == NULL)
		return false;
	for (size_t i = 0; i < survey->by_ref_size; i++) {
		struct item *item = survey->by_ref[i];

		if (item != NULL)
			table[ref_slot(table, size, item->ref, strlen(item->ref))] = item;
	}
	survey->by_ref = table;
	survey->by_ref_size = size;
	return true;
}

/* The number that stands after the stem, 0 if none; past nine digits it is no number of ours. */
static unsigned long ref_number(const char *ref, const char *stem, size_t stem_length)
{
	unsigned long number = 0;
	int digits = 0;

	if (strncmp(ref, stem, stem_length) != 0)
		return 0;
	for (ref += stem_length; *ref >= '0' && *ref <= '9'; ref++) {
		if (++digits > 9)
			return 0;
		number = number * 10 + (unsigned long)(*ref - '0');
	}
	return number;
}

static void ref_count_in(struct survey *survey, const char *ref)
{
	for (size_t i = 0; i < REF_STEMS; i++) {
		struct ref_stem *stem = &survey->stem[i];
		unsigned long number =
		        stem->text[0] == '\0' ? 0 : ref_number(ref, stem->text, strlen(stem->text));

		stem->largest = number > stem->largest ? number : stem->largest;
	}
}

/* Takes over the place of one that was taken out. */
static bool ref_enter(struct survey *survey, struct item *item)
{
	size_t slot;

	if ((survey->by_ref_count + 1) * 3 > survey->by_ref_size * 2 && !ref_table_grow(survey))
		return false;
	slot = ref_slot(survey->by_ref, survey->by_ref_size, item->ref, strlen(item->ref));
	if (survey->by_ref[slot] == NULL)
		survey->by_ref_count++;
	survey->by_ref[slot] = item;
	ref_count_in(survey, item->ref);
	return true;
}

struct item *survey_find(const struct survey *survey, const char *ref, size_t length)
{
	struct item *item = ref_holder(survey, ref, length);

	return item != NULL && item->parent != NULL ? item : NULL;
}

static bool ref_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
	       c == '_' || c == '-';
}

const char *ref_shape_fault(const char *ref, size_t length)
{
	static const char *const taken[] = {"main",  "premises", "supply",      "parts",
	                                    "rooms", "branches", "cannot_tell", "nothing"};

	if (length == 0)
		return "a ref has at least one letter or digit";
	for (size_t i = 0; i < length; i++)
		if (!ref_letter(ref[i]))
			return "a ref is made of letters, digits, _ and -";
	for (size_t i = 0; i < sizeof(taken) / sizeof(taken[0]); i++)
		if (text_is(ref, length, taken[i]))
			return "this word has a meaning of its own and can't be a ref";
	return NULL;
}

const char *survey_ref_fault(const struct survey *survey, const char *ref)
{
	size_t length = strlen(ref);
	const char *fault = ref_shape_fault(ref, length);
	const struct item *holder;

	if (fault != NULL)
		return fault;
	holder = ref_holder(survey, ref, length);
	if (holder == NULL)
		return NULL;
	return holder->parent != NULL ? "this ref names something else in the survey"
	                              : "this ref named something that was taken out";
}

/* K7a counts for K too: the K7 that it stood on may have gone in an earlier session. */
static unsigned long ref_largest(const struct survey *survey, const char *stem)
{
	size_t stem_length = strlen(stem);
	unsigned long largest = 0;

	for (size_t i = 0; i < survey->by_ref_size; i++) {
		unsigned long number =
		        survey->by_ref[i] == NULL
		                ? 0
		                : ref_number(survey->by_ref[i]->ref, stem, stem_length);

		largest = number > largest ? number : largest;
	}
	return largest;
}

/* The stem, kept in place of the one that was kept first; NULL where it is too long to keep. */
static const struct ref_stem *ref_stem_kept(struct survey *survey, const char *text)
{
	struct ref_stem *stem;

	for (size_t i = 0; i < REF_STEMS; i++)
		if (strcmp(survey->stem[i].text, text) == 0)
			return &survey->stem[i];
	if (strlen(text) >= REF_STEM_MOST)
		return NULL;
	stem = &survey->stem[survey->stem_next++ % REF_STEMS];
	memcpy(stem->text, text, strlen(text) + 1);
	stem->largest = ref_largest(survey, text);
	return stem;
}

const char *survey_new_ref(struct survey *survey, const char *stem, struct arena *arena)
{
	const struct ref_stem *kept = ref_stem_kept(survey, stem);
	unsigned long largest = kept != NULL ? kept->largest : ref_largest(survey, stem);
	const char *ref;

	do {
		ref = arena_print(arena, "%s%lu", stem, ++largest);
	} while (ref != NULL && ref_holder(survey, ref, strlen(ref)) != NULL);
	return ref;
}

/* -- looking ---------------------------------------------------------------------------- */

struct answer *item_answer(const struct item *item, question_index question)
{
	if (question == QUESTION_NONE)
		return NULL;
	for (size_t i = 0; i < item->answer_count; i++)
		if (item->answer[i].question == question)
			return &item->answer[i];
	return NULL;
}

const char *item_text(const struct item *item, question_index question)
{
	const struct answer *answer = item_answer(item, question);

	return answer == NULL ? NULL : answer->text;
}

struct item *item_child(const struct item *item, enum scope scope, size_t index)
{
	for (size_t i = 0; i < item->child_count; i++)
		if (item->child[i]->scope == scope && index-- == 0)
			return item->child[i];
	return NULL;
}

size_t item_children(const struct item *item, enum scope scope)
{
	size_t count = 0;

	for (size_t i = 0; i < item->child_count; i++)
		count += item->child[i]->scope == scope;
	return count;
}

const struct item *item_above(const struct item *item, enum scope scope)
{
	while (item != NULL && item->scope != scope)
		item = item->parent;
	return item;
}

struct item *item_named(const struct item *parent, enum scope scope, const char *ref, size_t length)
{
	for (size_t i = 0; i < parent->child_count; i++) {
		struct item *child = parent->child[i];

		if (child->scope == scope && text_is(ref, length, child->ref))
			return child;
	}
	return NULL;
}

size_t item_place(const struct item *item)
{
	size_t i = item->parent->child_count;

	while (i > 0 && item->parent->child[i - 1] != item)
		i--;
	assert(i > 0);
	return i - 1;
}

const char *item_stands_after(const struct item *item)
{
	for (size_t i = item_place(item); i > 0; i--)
		if (item->parent->child[i - 1]->scope == item->scope)
			return item->parent->child[i - 1]->ref;
	return "";
}

uint16_t item_owner(const struct item *item)
{
	return item->scope == SCOPE_TEST && item->parent != NULL ? item->parent->of : item->of;
}

static const struct item *part_named(const struct survey *survey, const char *ref)
{
	const struct item *part = ref == NULL ? NULL : survey_find(survey, ref, strlen(ref));

	return part != NULL && part->scope == SCOPE_PART ? part : NULL;
}

const struct item *survey_part(const struct survey *survey, const struct item *item)
{
	const struct item *room = item_above(item, SCOPE_ROOM);
	const struct item *branch = item_above(item, SCOPE_BRANCH);
	const struct item *part = item_above(item, SCOPE_PART);
	const struct rulebook *book = survey->book;

	if (part != NULL)
		return part;
	if (branch != NULL)
		return part_named(survey,
		                  item_text(branch, rulebook_question(book, SCOPE_BRANCH,
		                                                      INDEX_NONE, "", "part", 4)));
	if (room != NULL)
		part = part_named(survey, item_text(room, book->known.room_part));
	return part != NULL ? part : survey->only_part;
}

int survey_inlet_index(const struct survey *survey, const struct item *inlet)
{
	const struct kind *kind;

	if (inlet->parent == NULL || inlet->parent->of >= survey->book->kind_count)
		return -1;
	kind = &survey->book->kind[inlet->parent->of];
	for (size_t i = 0; i < kind->inlet_count; i++)
		if (strcmp(kind->inlet[i].id, inlet->ref) == 0)
			return (int)i;
	return -1;
}

/* -- what an item is asked -------------------------------------------------------------- */

struct asking {
	const struct rulebook *book;
	enum scope scope;
	struct arena *arena;
	struct asked *out;
	size_t room;
};

static bool ask(struct asking *asking, question_index question)
{
	const struct question *asked = &asking->book->question[question];
	struct asked *out = asking->out;
	question_index *grown;

	if (asked->scope != asking->scope || asked->form == FORM_MEASURED)
		return true;
	for (size_t i = 0; i < out->count; i++)
		if (out->question[i] == question)
			return true;
	grown = arena_grow(asking->arena, out->question, out->count, &asking->room,
	                   sizeof(*out->question));
	if (grown == NULL)
		return false;
	out->question = grown;
	out->question[out->count++] = question;
	return true;
}

static bool ask_all(struct asking *asking, const question_index *question, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (!ask(asking, question[i]))
			return false;
	return true;
}

bool survey_asked(const struct survey *survey, const struct item *item, struct arena *arena,
                  struct asked *out)
{
	const struct rulebook *book = survey->book;
	struct asking asking = {.book = book, .scope = item->scope, .arena = arena, .out = out};
	uint16_t owner = item_owner(item);

	*out = (struct asked){0};
	if (!ask_all(&asking, book->scope_question[item->scope],
	             book->scope_question_count[item->scope]))
		return false;
	if (item->scope == SCOPE_POINT && owner < book->kind_count)
		return ask_all(&asking, book->kind[owner].question,
		               book->kind[owner].question_count);
	if ((item->scope == SCOPE_PROTECTION || item->scope == SCOPE_TEST) &&
	    owner < book->type_count)
		return ask_all(&asking, book->type[owner].question,
		               book->type[owner].question_count);
	return true;
}

/* -- building --------------------------------------------------------------------------- */

bool scope_holds(enum scope parent, enum scope child)
{
	static const unsigned holds[SCOPE_COUNT] = {
	        [SCOPE_PREMISES] = 1u << SCOPE_PART | 1u << SCOPE_BRANCH | 1u << SCOPE_ROOM |
	                           1u << SCOPE_PROTECTION,
	        [SCOPE_BRANCH] = 1u << SCOPE_PROTECTION,
	        [SCOPE_ROOM] = 1u << SCOPE_POINT,
	        [SCOPE_POINT] = 1u << SCOPE_INLET | 1u << SCOPE_ACTION,
	        [SCOPE_INLET] = 1u << SCOPE_PROTECTION,
	        [SCOPE_PROTECTION] = 1u << SCOPE_TEST,
	};

	return holds[parent] >> child & 1u;
}

const char *survey_list_key(enum scope scope)
{
	static const char *const key[SCOPE_COUNT] = {
	        [SCOPE_PREMISES] = "",
	        [SCOPE_PART] = "parts",
	        [SCOPE_BRANCH] = "branches",
	        [SCOPE_ROOM] = "rooms",
	        [SCOPE_POINT] = "points",
	        [SCOPE_INLET] = "inlets",
	        [SCOPE_PROTECTION] = "protection",
	        [SCOPE_TEST] = "tests",
	        [SCOPE_ACTION] = "action_taken",
	        [SCOPE_OUTCOME] = "",
	};

	return scope < SCOPE_COUNT ? key[scope] : "";
}

struct item *survey_add(struct survey *survey, struct item *parent, enum scope scope,
                        const char *ref, const struct item *after)
{
	struct item *item = arena_take(&survey->arena, sizeof(*item));
	struct item **child = arena_grow(&survey->arena, parent->child, parent->child_count,
	                                 &parent->child_room, sizeof(struct item *));
	size_t at = after == NULL ? 0 : item_place(after) + 1;

	assert(scope_holds(parent->scope, scope));
	if (child == NULL || item == NULL)
		return NULL;
	parent->child = child;
	item->scope = scope;
	item->of = INDEX_NONE;
	item->parent = parent;
	item->nothing_said = scope == SCOPE_INLET;
	item->ref = arena_copy(&survey->arena, ref, strlen(ref));
	if (item->ref == NULL || (scope != SCOPE_INLET && !ref_enter(survey, item)))
		return NULL;
	memmove(&child[at + 1], &child[at], (parent->child_count - at) * sizeof(struct item *));
	child[at] = item;
	parent->child_count++;
	if (scope == SCOPE_PROTECTION)
		parent->nothing_said = parent->cannot_tell = false;
	if (scope == SCOPE_PART)
		survey->only_part = ++survey->part_count == 1 ? item : NULL;
	return item;
}

void item_move(struct item *item, const struct item *after)
{
	struct item **child = item->parent->child;
	size_t count = item->parent->child_count, from = item_place(item), to;

	memmove(&child[from], &child[from + 1], (count - from - 1) * sizeof(struct item *));
	item->parent->child_count--;
	to = after == NULL ? 0 : item_place(after) + 1;
	memmove(&child[to + 1], &child[to], (count - 1 - to) * sizeof(struct item *));
	child[to] = item;
	item->parent->child_count++;
}

/* Without a parent its ref no longer finds it, but is still known as used. */
static void item_orphan(struct item *item)
{
	for (size_t i = 0; i < item->child_count; i++)
		item_orphan(item->child[i]);
	item->child_count = 0;
	item->parent = NULL;
}

void survey_take_out(struct survey *survey, struct item *item)
{
	struct item *parent = item->parent;
	size_t at = item_place(item);

	memmove(&parent->child[at], &parent->child[at + 1],
	        (parent->child_count - at - 1) * sizeof(struct item *));
	parent->child_count--;
	/* that nothing is fitted has to be said: it does not follow from an item taken out */
	if (item->scope == SCOPE_PROTECTION && parent->scope == SCOPE_INLET &&
	    item_children(parent, SCOPE_PROTECTION) == 0)
		parent->nothing_said = true;
	if (item->scope == SCOPE_PART)
		survey->only_part =
		        --survey->part_count == 1 ? item_child(parent, SCOPE_PART, 0) : NULL;
	item_orphan(item);
}

/* A point's kind and a protection's type are answers too; `of` follows them. */
static void item_settle_of(const struct survey *survey, struct item *item, question_index question,
                           const char *text)
{
	enum form form = survey->book->question[question].form;

	if (form == FORM_KIND && item->scope == SCOPE_POINT)
		item->of =
		        text == NULL ? INDEX_NONE : rulebook_kind(survey->book, text, strlen(text));
	if (form == FORM_TYPE && item->scope == SCOPE_PROTECTION)
		item->of =
		        text == NULL ? INDEX_NONE : rulebook_type(survey->book, text, strlen(text));
}

bool survey_put(struct survey *survey, struct item *item, const struct answer *answer)
{
	struct answer *place = item_answer(item, answer->question);

	if (place == NULL) {
		struct answer *grown = arena_grow(&survey->arena, item->answer, item->answer_count,
		                                  &item->answer_room, sizeof(*grown));

		if (grown == NULL)
			return false;
		item->answer = grown;
		place = &grown[item->answer_count++];
	}
	*place = *answer;
	item_settle_of(survey, item, answer->question, answer->text);
	return true;
}

void item_forget(const struct survey *survey, struct item *item, question_index question)
{
	struct answer *answer = item_answer(item, question);
	size_t after;

	if (answer == NULL)
		return;
	after = item->answer_count - (size_t)(answer - item->answer) - 1;
	memmove(answer, answer + 1, after * sizeof(*answer));
	item->answer_count--;
	item_settle_of(survey, item, question, NULL);
}
