/**
 * @file
 * For tests only: a small survey at random, about one point of a given kind.
 *
 * Parts, branches (some with protection, some that start at a point that stores), neighbours that
 * draw off, and the point with answers that are there, not there, `cannot_tell` or several. Never a
 * loop of feeds.
 */
#ifndef TUNDISH_TESTS_RANDOM_HOUSE_H
#define TUNDISH_TESTS_RANDOM_HOUSE_H

#include "chance.h"

#include "tundish/assess/survey.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	HOUSE_PIPES_MOST = 6,
};

struct house {
	const struct rulebook *book;
	struct survey survey;
	struct arena arena;
	struct chance *chance;
	size_t said;        /* of 100 questions so many are answered */
	uint16_t likely;    /* a type that protections often are; INDEX_NONE: any */
	struct item *point; /* the one to judge */
	const char *pipe[HOUSE_PIPES_MOST + 1]; /* `main` and the branches */
	bool from_point[HOUSE_PIPES_MOST + 1];  /* it comes from the point that is judged */
	bool from_cistern[HOUSE_PIPES_MOST + 1];
	size_t pipe_count;
	size_t part_count;
};

static inline bool house_in(struct house *house, size_t hits, size_t of)
{
	return chance_in(house->chance, hits, of);
}

static inline void house_put(struct house *house, struct item *item, question_index question,
                             const char *text)
{
	struct answer answer;
	struct err err = {0};

	if (question == QUESTION_NONE)
		return;
	if (!answer_read(house->book, question, text, strlen(text), &house->survey.arena, &answer,
	                 &err) ||
	    !survey_put(&house->survey, item, &answer)) {
		fprintf(stderr, "a house could not be made: %s\n", err.message);
		abort();
	}
}

static inline struct item *house_add(struct house *house, struct item *parent, enum scope scope,
                                     const char *ref)
{
	const struct item *last =
	        parent->child_count ? parent->child[parent->child_count - 1] : NULL;
	struct item *item = survey_add(&house->survey, parent, scope, ref, last);

	if (!item)
		abort();
	return item;
}

/* -- answers -------------------------------------------------------------------------------- */

/* Often on a threshold or just beside it. */
static inline double house_number(struct house *house, const struct question *question)
{
	double range = question->most - question->least, value;

	if (question->cut_count > 0 && house_in(house, 3, 4)) {
		value = question->cut[chance_of(house->chance, question->cut_count)] +
		        (double)chance_of(house->chance, 3) - 1;
		if (value >= question->least && value <= question->most)
			return value;
	}
	value = question->least +
	        (double)chance_of(house->chance, (size_t)(range < 60 ? range : 60) + 1);
	return value;
}

static inline const char *house_date(struct house *house)
{
	size_t year = 2012 + chance_of(house->chance, 15), month = 1 + chance_of(house->chance, 12);

	switch (chance_of(house->chance, 5)) {
	case 0:
		return "before_july_1999";
	case 1:
		return arena_print(&house->arena, "%zu", year);
	case 2:
		return arena_print(&house->arena, "%zu-%02zu", year, month);
	case 3:
		return arena_print(&house->arena, "%zu-11-%02zu", year,
		                   24 + chance_of(house->chance, 3)); /* about the day */
	default:
		return arena_print(&house->arena, "%zu-%02zu-15", year, month);
	}
}

/* One option, or now and then one of two. */
static inline const char *house_choice(struct house *house, const struct question *question)
{
	size_t a = chance_of(house->chance, question->option_count);
	size_t b = chance_of(house->chance, question->option_count);

	if (a == b || !house_in(house, 1, 8))
		return question->option[a].id;
	return arena_print(&house->arena, "%s, %s", question->option[a].id, question->option[b].id);
}

static inline const char *house_text(struct house *house, const struct question *question)
{
	if (question->cannot_tell && question->form < FORM_TEXT && house_in(house, 1, 8))
		return "cannot_tell";
	switch (question->form) {
	case FORM_CHOICE:
		return house_choice(house, question);
	case FORM_YES_NO:
		return house_in(house, 1, 2) ? "yes" : "no";
	case FORM_NUMBER:
		return arena_print(&house->arena, "%.0f", house_number(house, question));
	case FORM_DATE:
		return house_date(house);
	case FORM_TEXT:
		return "some words";
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return NULL; /* holds the house together: put by itself */
}

/* Of what is not answered yet, answer as many of 100. */
static inline void house_say(struct house *house, struct item *item, size_t said)
{
	struct asked asked;
	const struct known_questions *known = &house->book->known;

	if (!survey_asked(&house->survey, item, &house->arena, &asked))
		abort();
	for (size_t i = 0; i < asked.count; i++) {
		question_index q = asked.question[i];
		const char *text;

		if (q == known->point_seen || q == known->room_seen || q == known->part_seen ||
		    q == known->says_category || q == known->says_reference ||
		    q == known->says_date || item_answer(item, q) || !house_in(house, said, 100))
			continue;
		text = house_text(house, &house->book->question[q]);
		if (text && house->book->question[q].form != FORM_TEXT)
			house_put(house, item, q, text);
	}
}

static inline void house_seen(struct house *house, struct item *item, question_index seen)
{
	static const char *const said[] = {"yes", "part", "no"};

	if (seen != QUESTION_NONE && house_in(house, 1, 6))
		house_put(house, item, seen, said[chance_of(house->chance, 3)]);
}

/* -- protections ------------------------------------------------------------------------------ */

static inline void house_protection(struct house *house, struct item *list, const char *ref)
{
	struct item *item = house_add(house, list, SCOPE_PROTECTION, ref);
	size_t type = house->likely != INDEX_NONE && house_in(house, 1, 2)
	                      ? house->likely
	                      : chance_of(house->chance, house->book->type_count);

	if (house_in(house, 14, 15))
		house_put(house, item, house->book->known.protection_type,
		          house->book->type[type].id);
	else if (house_in(house, 1, 2))
		house_put(house, item, house->book->known.protection_type, "cannot_tell");
	house_say(house, item, house->said);
	for (size_t tests = chance_of(house->chance, 8); tests > 4; tests--)
		house_say(house,
		          house_add(house, item, SCOPE_TEST,
		                    arena_print(&house->arena, "%st%zu", ref, tests)),
		          house->said);
}

static inline void house_protections(struct house *house, struct item *list, const char *stem,
                                     size_t most)
{
	for (size_t count = chance_of(house->chance, most + 1), i = 0; i < count; i++)
		house_protection(house, list, arena_print(&house->arena, "%sp%zu", stem, i));
}

/* Its protections; or that there is none, that it can't be told, or not a word. */
static inline void house_fit(struct house *house, struct item *inlet, const char *stem, size_t most)
{
	switch (chance_of(house->chance, 10)) {
	case 0:
		return;
	case 1:
		inlet->nothing_said = false;
		inlet->cannot_tell = true;
		return;
	case 2:
		inlet->nothing_said = false;
		return;
	default:
		house_protections(house, inlet, stem, most);
		if (most > 0 && inlet->child_count == 0)
			inlet->nothing_said = house_in(house, 1, 4);
	}
}

/* -- pipes and points
 * --------------------------------------------------------------------------- */

static inline const char *house_pipe(struct house *house, bool not_from_point,
                                     bool not_from_cistern)
{
	size_t i;

	do {
		i = chance_of(house->chance, house->pipe_count);
	} while ((not_from_point && house->from_point[i]) ||
	         (not_from_cistern && house->from_cistern[i]));
	return house->pipe[i]; /* `main` is neither */
}

/* The kinds that do something, from a random one on; NULL: none does. */
static inline const struct kind *house_kind(struct house *house, bool draws, bool stores)
{
	size_t count = house->book->kind_count, start = chance_of(house->chance, count);

	for (size_t i = 0; i < count; i++) {
		const struct kind *kind = &house->book->kind[(start + i) % count];

		if ((!draws || kind->draw_off) && (!stores || kind->stores))
			return kind;
	}
	return NULL;
}

static inline struct item *house_point(struct house *house, struct item *room,
                                       const struct kind *kind, const char *ref)
{
	struct item *point = house_add(house, room, SCOPE_POINT, ref);

	house_put(house, point, house->book->known.point_kind, kind->id);
	house_seen(house, point, house->book->known.point_seen);
	house_say(house, point, house->said);
	return point;
}

static inline void house_branch(struct house *house, const char *ref, const char *from)
{
	struct item *branch = house_add(house, house->survey.premises, SCOPE_BRANCH, ref);
	bool from_point = false, from_cistern = false;

	for (size_t i = 0; i < house->pipe_count; i++)
		if (strcmp(house->pipe[i], from) == 0) {
			from_point = house->from_point[i];
			from_cistern = house->from_cistern[i];
		}
	from_point |= strcmp(from, "P1") == 0;
	from_cistern |= strcmp(from, "L1") == 0;
	if (strcmp(from, "main") != 0 ||
	    house_in(house, 3, 4)) /* what does not say so comes from it */
		house_put(house, branch, house->book->known.branch_from, from);
	house_say(house, branch, house->said);
	if (house_in(house, 1, 3))
		house_protections(house, branch, ref, 2);
	house->from_point[house->pipe_count] = from_point;
	house->from_cistern[house->pipe_count] = from_cistern;
	house->pipe[house->pipe_count++] = ref;
}

/* What feeds the inlets of a point that stands beside the way. */
static inline void house_feed(struct house *house, struct item *point, const char *stem,
                              bool free_of_loops, size_t protections)
{
	const struct kind *kind = &house->book->kind[point->of];

	for (size_t i = 0; i < kind->inlet_count; i++) {
		struct item *inlet;
		const char *pipe = house_pipe(house, free_of_loops, free_of_loops);

		if (house_in(house, 1, 12))
			continue; /* the survey does not have it yet */
		inlet = house_add(house, point, SCOPE_INLET, kind->inlet[i].id);
		if (house_in(house, 1, 8))
			pipe = arena_print(&house->arena, "%s, %s", pipe,
			                   house_pipe(house, free_of_loops, free_of_loops));
		else if (house_in(house, 1, 8))
			pipe = house_in(house, 1, 2) ? "cannot_tell" : NULL;
		if (pipe && !kind->inlet[i].waste)
			house_put(house, inlet, house->book->known.inlet_fed_by, pipe);
		house_fit(house, inlet, arena_print(&house->arena, "%s%zu", stem, i), protections);
	}
}

/* What feeds the point to be judged: one pipe, or one of several, or it can't be told, or nobody
 * said. */
static inline void house_feed_point(struct house *house)
{
	const struct kind *kind = &house->book->kind[house->point->of];
	question_index fed_by = house->book->known.inlet_fed_by;

	for (size_t i = 0; i < kind->inlet_count; i++) {
		struct item *inlet;
		const char *pipe = house_pipe(house, true, false);
		if (house_in(house, 1, 12))
			continue; /* the survey does not have it yet */
		inlet = house_add(house, house->point, SCOPE_INLET, kind->inlet[i].id);
		house_fit(house, inlet, arena_print(&house->arena, "c%zu", i), 3);
		if (house_in(house, 1, 8))
			pipe = arena_print(&house->arena, "%s, %s", pipe,
			                   house_pipe(house, true, false));
		else if (house_in(house, 1, 8))
			pipe = house_in(house, 1, 2) ? "cannot_tell" : NULL;
		if (pipe && !kind->inlet[i].waste)
			house_put(house, inlet, fed_by, pipe);
	}
}

static inline void house_decide(struct house *house)
{
	const struct known_questions *known = &house->book->known;
	static const char *const category[] = {"1", "2", "3", "4", "5", "3, 5"};

	if (!house_in(house, 1, 10))
		return;
	house_put(house, house->point, known->says_category, category[chance_of(house->chance, 6)]);
	if (house_in(house, 3, 4))
		house_put(house, house->point, known->says_reference, "LH/204");
	if (house_in(house, 3, 4))
		house_put(house, house->point, known->says_date, "2025-02-11");
}

static inline struct item *house_room(struct house *house, const char *ref)
{
	struct item *room = house_add(house, house->survey.premises, SCOPE_ROOM, ref);

	if (house->part_count > 0 && house_in(house, 3, 4))
		house_put(house, room, house->book->known.room_part,
		          house->part_count < 2 || house_in(house, 2, 3) ? "flat" : "shop");
	house_seen(house, room, house->book->known.room_seen);
	return room;
}

static inline void house_pipes(struct house *house, bool cistern)
{
	static const char *const refs[] = {"b1", "b2", "b3", "b4"};
	const struct kind *kind = &house->book->kind[house->point->of];

	house->pipe[0] = "main";
	house->pipe_count = 1;
	for (size_t i = chance_of(house->chance, 4); i < 4; i++) {
		const char *from = house_pipe(house, false, false);

		if (cistern && house_in(house, 1, 3))
			from = "L1";
		else if (kind->stores && house_in(house, 1, 2))
			from = "P1";
		house_branch(house, refs[i], from);
	}
}

/** Ended by house_end. @p said: of 100 questions so many are answered. */
static inline void house_make(struct house *house, const struct rulebook *book,
                              struct chance *chance, const struct kind *kind, uint16_t likely,
                              size_t said)
{
	struct item *kitchen, *loft, *first = NULL, *cistern = NULL, *second = NULL;

	*house = (struct house){.book = book, .chance = chance, .said = said, .likely = likely};
	arena_init(&house->arena);
	if (!survey_init(&house->survey, book))
		abort();
	house_say(house, house->survey.premises, said);
	house->part_count = house_in(house, 1, 8) ? 0 : 1 + chance_of(chance, 2);
	for (size_t i = 0; i < house->part_count; i++) {
		struct item *part = house_add(house, house->survey.premises, SCOPE_PART,
		                              i == 0 ? "flat" : "shop");

		house_say(house, part, said);
		house_seen(house, part, book->known.part_seen);
	}
	if (house_in(house, 1, 3)) /* whole-site: never counts */
		house_protections(house, house->survey.premises, "w", 1);
	kitchen = house_room(house, "kitchen");
	loft = house_room(house, "loft");
	if (house_kind(house, true, false) && house_in(house, 2, 3))
		first = house_point(house, house_in(house, 1, 2) ? kitchen : loft,
		                    house_kind(house, true, false), "K1");
	house->point = house_point(house, kitchen, kind, "P1");
	if (house_kind(house, false, true) && house_in(house, 1, 2))
		cistern = house_point(house, loft, house_kind(house, false, true), "L1");
	if (house_kind(house, true, false) && house_in(house, 1, 2))
		second = house_point(house, loft, house_kind(house, true, false), "K2");
	house_pipes(house, cistern != NULL);
	if (first)
		house_feed(house, first, "a", false, 1);
	if (second)
		house_feed(house, second, "e", false, 1);
	if (cistern)
		house_feed(house, cistern, "d", true, 1);
	house_feed_point(house);
	house_decide(house);
}

static inline void house_end(struct house *house)
{
	survey_finish(&house->survey);
	arena_finish(&house->arena);
}

/* Of an item and all below it, answer as many of 100 questions more. */
static inline void house_say_more(struct house *house, struct item *item, size_t said)
{
	house_say(house, item, said);
	for (size_t i = 0; i < item->child_count; i++)
		house_say_more(house, item->child[i], said);
}

/** The survey in few words, to see what went wrong. */
static inline void house_print(const struct house *house, const struct item *item, int depth)
{
	fprintf(stderr, "%*s%s %s%s%s:", depth * 2, "", scope_name(item->scope), item->ref,
	        item->nothing_said ? " (nothing said)" : "",
	        item->cannot_tell ? " (cannot tell)" : "");
	for (size_t i = 0; i < item->answer_count; i++)
		fprintf(stderr, " %s=%s", house->book->question[item->answer[i].question].id,
		        item->answer[i].text);
	fprintf(stderr, "\n");
	for (size_t i = 0; i < item->child_count; i++)
		house_print(house, item->child[i], depth + 1);
}

#endif
