/**
 * @file
 * For tests only: changes of a survey at random, each of which can be carried out and written down.
 */
#ifndef TUNDISH_TESTS_RANDOM_CHANGE_H
#define TUNDISH_TESTS_RANDOM_CHANGE_H

#include "tundish/assess/survey.h"
#include "tundish/base/number.h"

#include <stdio.h>
#include <string.h>

/* xorshift64: the same numbers everywhere. Not zero. */
struct dice {
	uint64_t state;
};

static size_t roll(struct dice *dice, size_t sides)
{
	dice->state ^= dice->state << 13;
	dice->state ^= dice->state >> 7;
	dice->state ^= dice->state << 17;
	return (size_t)(dice->state >> 11) % sides;
}

static size_t count_items(const struct item *item)
{
	size_t count = 1;

	for (size_t i = 0; i < item->child_count; i++)
		count += count_items(item->child[i]);
	return count;
}

static struct item *nth_item(struct item *item, size_t *n)
{
	if ((*n)-- == 0)
		return item;
	for (size_t i = 0; i < item->child_count; i++) {
		struct item *found = nth_item(item->child[i], n);

		if (found != NULL)
			return found;
	}
	return NULL;
}

static struct item *any_item(const struct survey *survey, struct dice *dice)
{
	size_t n = roll(dice, count_items(survey->premises));

	return nth_item(survey->premises, &n);
}

static const char *any_text(struct dice *dice)
{
	static const char *const texts[] = {
	        "left of the door",
	        "no",
	        "a: b",
	        "# not a comment",
	        "it's so",
	        "\"so\"",
	        "12:30",
	        "null",
	        "ends in colon:",
	        "- dash",
	        "two\nlines",
	        " blanks ",
	        "{braces}",
	        "a, b",
	        "\xc3\xbc ok",
	        "0x1F",
	        "back\\slash",
	        "tab\there",
	        "\xe2\x80\xa8",
	        "\xf0\x9f\x94\xa7 tool",
	        "~",
	        "2019-04",
	        "!bang",
	        "%percent",
	        "@at",
	        "a #b",
	        "[x",
	        "1e3",
	        "last\n\n",
	        "=",
	        "<<",
	        "?",
	};

	return texts[roll(dice, sizeof(texts) / sizeof(texts[0]))];
}

/* A branch is fed only by one with a lower number: so nothing loops. */
static const char *any_feed(const struct survey *survey, struct dice *dice, const struct item *item,
                            struct arena *arena)
{
	size_t count = item_children(survey->premises, SCOPE_BRANCH);
	const struct item *branch;
	const char *ref;

	if (count == 0 || roll(dice, 3) == 0)
		return "main";
	branch = item_child(survey->premises, SCOPE_BRANCH, roll(dice, count));
	ref = branch->ref;
	if (item->scope == SCOPE_BRANCH &&
	    (strlen(ref) > strlen(item->ref) ||
	     (strlen(ref) == strlen(item->ref) && strcmp(ref, item->ref) >= 0)))
		return "main";
	return roll(dice, 4) == 0 ? arena_print(arena, "main, %s", ref) : ref;
}

static const char *any_choice(const struct question *question, struct dice *dice,
                              struct arena *arena)
{
	const char *one = question->option[roll(dice, question->option_count)].id;
	const char *other = question->option[roll(dice, question->option_count)].id;

	return strcmp(one, other) == 0 || roll(dice, 3) > 0
	               ? one
	               : arena_print(arena, "%s, %s", one, other);
}

/* An answer of the question's form, or NULL where there can be none now. */
static const char *any_value(const struct survey *survey, const struct item *item,
                             question_index index, struct dice *dice, struct arena *arena)
{
	static const char *const dates[] = {"2019", "2019-04", "2019-04-03", "before_july_1999"};
	const struct rulebook *book = survey->book;
	const struct question *question = &book->question[index];
	size_t parts = item_children(survey->premises, SCOPE_PART);
	char number[32];

	if (question->cannot_tell && roll(dice, 6) == 0)
		return "cannot_tell";
	switch (question->form) {
	case FORM_CHOICE:
		return any_choice(question, dice, arena);
	case FORM_YES_NO:
		return roll(dice, 2) ? "yes" : "no";
	case FORM_NUMBER:
		number_format(
		        question->least +
		                (double)roll(dice, (size_t)(question->most - question->least) + 1),
		        number);
		return arena_copy(arena, number, strlen(number));
	case FORM_DATE:
		return dates[roll(dice, 4)];
	case FORM_TEXT:
		return any_text(dice);
	case FORM_KIND:
		return book->kind[roll(dice, book->kind_count)].id;
	case FORM_TYPE:
		return book->type[roll(dice, book->type_count)].id;
	case FORM_FEED:
		return any_feed(survey, dice, item, arena);
	case FORM_PART:
		return parts == 0
		               ? NULL
		               : item_child(survey->premises, SCOPE_PART, roll(dice, parts))->ref;
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return NULL;
}

/* Whether an answer somewhere below names this ref: what it names must not go. */
static bool is_named(const struct survey *survey, const struct item *item, const char *ref)
{
	for (size_t i = 0; i < item->answer_count; i++) {
		enum form form = survey->book->question[item->answer[i].question].form;

		if ((form == FORM_FEED || form == FORM_PART) &&
		    strstr(item->answer[i].text, ref) != NULL)
			return true;
	}
	for (size_t i = 0; i < item->child_count; i++)
		if (is_named(survey, item->child[i], ref))
			return true;
	return false;
}

static enum scope any_child_scope(const struct item *parent, struct dice *dice)
{
	switch (parent->scope) {
	case SCOPE_PREMISES:
		return (enum scope[]){SCOPE_PART, SCOPE_BRANCH, SCOPE_ROOM,
		                      SCOPE_PROTECTION}[roll(dice, 4)];
	case SCOPE_ROOM:
		return SCOPE_POINT;
	case SCOPE_POINT:
		return roll(dice, 3) == 0 ? SCOPE_ACTION : SCOPE_INLET;
	case SCOPE_BRANCH:
	case SCOPE_INLET:
		return SCOPE_PROTECTION;
	case SCOPE_PROTECTION:
		return SCOPE_TEST;
	case SCOPE_PART:
	case SCOPE_TEST:
	case SCOPE_ACTION:
	case SCOPE_OUTCOME:
	case SCOPE_COUNT:
		break;
	}
	return SCOPE_COUNT;
}

static const char *any_place(const struct item *parent, enum scope scope, struct dice *dice)
{
	size_t count = item_children(parent, scope), place = roll(dice, count + 1);

	return place == 0 ? "" : item_child(parent, scope, place - 1)->ref;
}

static const char *presence_of_new(const struct item *parent, enum scope scope, const char *ref,
                                   struct arena *arena)
{
	const char *list = survey_list_key(scope);

	if (parent->scope == SCOPE_PREMISES)
		return arena_print(arena, "%s%s/%s", scope == SCOPE_PROTECTION ? "supply/" : "",
		                   list, ref);
	if (parent->scope == SCOPE_INLET)
		return arena_print(arena, "%s/inlets/%s/%s/%s", parent->parent->ref, parent->ref,
		                   list, ref);
	return arena_print(arena, "%s/%s/%s", parent->ref, list, ref);
}

static bool change_add(struct survey *survey, const struct item *parent, struct dice *dice,
                       struct arena *arena, struct change *out)
{
	static const char *const stem[SCOPE_COUNT] = {
	        [SCOPE_PART] = "P",  [SCOPE_BRANCH] = "B",     [SCOPE_ROOM] = "R",
	        [SCOPE_POINT] = "K", [SCOPE_PROTECTION] = "D", [SCOPE_TEST] = "T",
	        [SCOPE_ACTION] = "A"};
	const struct rulebook *book = survey->book;
	enum scope scope = any_child_scope(parent, dice);
	const char *ref;

	if (scope == SCOPE_COUNT)
		return false;
	if (scope == SCOPE_INLET) {
		if (parent->of == INDEX_NONE)
			return false;
		ref = book->kind[parent->of]
		              .inlet[roll(dice, book->kind[parent->of].inlet_count)]
		              .id;
		for (size_t i = 0; i < parent->child_count; i++)
			if (strcmp(parent->child[i]->ref, ref) == 0)
				return false;
	} else {
		ref = survey_new_ref(survey, stem[scope], arena);
	}
	out->where = presence_of_new(parent, scope, ref, arena);
	out->before = NULL;
	out->after = any_place(parent, scope, dice);
	return true;
}

/* A test that takes only some of these says so. */
#ifndef RANDOM_CHANGE_IN_PARTS

static bool change_answer(const struct survey *survey, const struct item *item, struct dice *dice,
                          struct arena *arena, struct change *out)
{
	struct asked asked;
	question_index question;

	if (!survey_asked(survey, item, arena, &asked) || asked.count == 0)
		return false;
	question = asked.question[roll(dice, asked.count)];
	out->where = survey_where(survey, item, question, arena);
	out->before = item_text(item, question);
	out->after = out->before != NULL && roll(dice, 4) == 0
	                     ? NULL
	                     : any_value(survey, item, question, dice, arena);
	return out->before != NULL || out->after != NULL;
}

static bool change_presence(const struct survey *survey, const struct item *item, struct dice *dice,
                            struct arena *arena, struct change *out)
{
	if (item->parent == NULL || is_named(survey, survey->premises, item->ref))
		return false;
	out->where = survey_where(survey, item, QUESTION_NONE, arena);
	out->before = "";
	out->after = NULL;
	if (roll(dice, 2) == 0 || item->scope == SCOPE_INLET)
		return true;
	out->after = any_place(item->parent, item->scope, dice);
	return strcmp(out->after, item->ref) != 0;
}

static bool change_known(const struct item *item, struct dice *dice, struct arena *arena,
                         struct change *out)
{
	if (item->scope != SCOPE_INLET || item->child_count > 0)
		return false;
	out->where = arena_print(arena, "%s/inlets/%s/protection", item->parent->ref, item->ref);
	out->before = NULL;
	out->after = (const char *[]){NULL, "nothing", "cannot_tell"}[roll(dice, 3)];
	return true;
}

/* One change that survey_apply carries out. The texts live in @p arena or in the survey. */
static struct change random_change(struct survey *survey, struct dice *dice,
                                   struct arena *arena)
{
	struct change change;

	for (;;) {
		const struct item *item = any_item(survey, dice);

		switch (roll(dice, 8)) {
		case 0:
		case 1:
			if (change_add(survey, item, dice, arena, &change))
				return change;
			break;
		case 2:
			if (roll(dice, 2) == 0 &&
			    change_presence(survey, item, dice, arena, &change))
				return change;
			break;
		case 3:
			if (change_known(item, dice, arena, &change))
				return change;
			break;
		default:
			if (change_answer(survey, item, dice, arena, &change))
				return change;
			break;
		}
	}
}

#endif

#endif
