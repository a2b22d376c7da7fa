/**
 * @file
 * For tests only: a rulebook, houses invented by it, and what has to be true of each.
 */
#ifndef TUNDISH_TESTS_INVENT_HOUSES_H
#define TUNDISH_TESTS_INVENT_HOUSES_H

#include "tundish/assess/weights.h"
#include "tundish/house/verdict.h"
#include "tundish/invent/invent.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"
#include "tundish/store/survey_write.h"

#include "texts.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static struct arena arena;
static struct faults faults;
static struct rulebook book;
static struct survey survey;
static struct invented said;

static inline const char *all_faults(void)
{
	const char *text = "";

	faults_sort(&faults);
	for (size_t i = 0; i < faults.count && i < 5; i++)
		text = arena_print(&arena, "%s%s", text, fault_text(&faults.item[i], &arena));
	return text;
}

static inline void begin(void)
{
	arena_init(&arena);
	faults_init(&faults, &arena);
	memset(&book, 0, sizeof(book));
	memset(&survey, 0, sizeof(survey));
}

/* The small book of the tests, and a text over it unless it is NULL. */
static inline void setup_small_with(const char *overlay)
{
	static struct source over = {"over.yaml", NULL, 0};
	const struct source *texts[] = {small_book(), &over};

	begin();
	over.text = overlay;
	over.length = overlay ? strlen(overlay) : 0;
	ck_assert_msg(rulebook_read(&book, texts, overlay ? 2 : 1, date_day(2026, 11, 25), &faults),
	              "%s", all_faults());
}

static inline void setup_small(void)
{
	setup_small_with(NULL);
}

static inline void setup_builtin(void)
{
	static const struct source *texts[2000];
	size_t count;
	const struct source *builtin = rulebook_builtin(&count);

	begin();
	for (size_t i = 0; i < count; i++)
		texts[i] = &builtin[i];
	ck_assert_msg(rulebook_read(&book, texts, count, date_day(2026, 11, 25), &faults), "%s",
	              all_faults());
}

static inline void teardown(void)
{
	survey_finish(&survey);
	rulebook_finish(&book);
	arena_finish(&arena);
}

static inline void invent(const struct invention *wish)
{
	struct err err = {0};

	survey_finish(&survey);
	ck_assert_msg(invent_survey(&book, wish, &survey, &said, &err), "seed %llu level %u: %s",
	              (unsigned long long)wish->seed, wish->level, err.message);
}

static inline const char *written(void)
{
	const struct source empty = {"an invented house", "", 0};
	struct err err = {0};
	size_t length;
	char *text;

	ck_assert_msg(survey_write(&survey, &empty, &arena, &text, &length, &err), "%s",
	              err.message);
	return text;
}

/* -- what is true of every house ---------------------------------------------------------------- */

static inline void assert_whole(const struct invention *wish)
{
	struct survey again = {0};
	struct changes changes = {0};
	const char *text;
	struct source source = {"house.yaml", NULL, 0};

	invent(wish);
	text = written();
	source.text = text;
	source.length = strlen(text);
	ck_assert_msg(survey_read(&again, &book, &source, &faults) && faults.count == 0,
	              "seed %llu level %u: %s\n%s", (unsigned long long)wish->seed, wish->level,
	              all_faults(), text);
	ck_assert(survey_compare(&survey, &again, &arena, &changes));
	ck_assert_msg(changes.count == 0, "seed %llu: %s is read back as %s",
	              (unsigned long long)wish->seed, changes.item[0].where, changes.item[0].after);
	survey_finish(&again);
	arena_reset(&arena);
	faults_init(&faults, &arena);
}

static inline size_t walk_points(void (*visit)(const struct item *point, void *to), void *to)
{
	size_t count = 0;

	for (size_t r = 0; r < item_children(survey.premises, SCOPE_ROOM); r++) {
		const struct item *room = item_child(survey.premises, SCOPE_ROOM, r);

		for (size_t p = 0; p < item_children(room, SCOPE_POINT); p++, count++)
			visit(item_child(room, SCOPE_POINT, p), to);
	}
	return count;
}

struct judging {
	struct judge *judge;
	size_t verdict[VERDICT_COUNT], asks, points;
	const char *open; /* a point with something left to ask */
};

static inline void judge_one(const struct item *point, void *to)
{
	struct judging *judging = to;
	struct assessment out;
	struct err err = {0};

	ck_assert_msg(judge_point(judging->judge, point, &out, &err), "%s: %s", point->ref,
	              err.message);
	judging->points++;
	judging->verdict[out.verdict]++;
	judging->asks += out.ask_count;
	if (out.ask_count && !judging->open)
		judging->open = arena_print(&arena, "%s %s of %s", point->ref,
		                            out.ask[0].question == QUESTION_NONE
		                                    ? "what is fitted"
		                                    : book.question[out.ask[0].question].id,
		                            out.ask[0].item ? out.ask[0].item->ref : "?");
}

static inline void judge_house(struct judging *judging)
{
	struct err err = {0};

	judging->open = NULL;
	ck_assert_msg(judge_survey(judging->judge, &survey, &err), "%s", err.message);
	walk_points(judge_one, judging);
}

static inline void assert_all_answered(uint64_t seeds)
{
	struct judging judging = {.judge = judge_create(&book)};

	ck_assert_ptr_nonnull(judging.judge);
	for (uint64_t seed = 0; seed < seeds; seed++) {
		invent(&(struct invention){.seed = seed, .level = LEVEL_LEAST});
		judge_house(&judging);
		ck_assert_msg(!judging.open, "seed %llu: %s is left to ask",
		              (unsigned long long)seed, judging.open);
	}
	judge_destroy(judging.judge);
	ck_assert(judging.verdict[VERDICT_SHORT] > 0 && judging.verdict[VERDICT_PROTECTED] > 0);
	ck_assert_uint_eq(judging.verdict[VERDICT_UNDECIDED] + judging.verdict[VERDICT_NOT_SEEN],
	                  0);
}

static inline double first_day(const struct item *item, question_index question)
{
	const struct answer *answer = item_answer(item, question);

	return answer ? answer->high : DAY_LAST;
}

static inline void assert_dates_in_order(const struct item *point, void *to)
{
	double installed = item_answer(point, book.known.point_installed)
	                           ? item_answer(point, book.known.point_installed)->low
	                           : DAY_FIRST;

	(void)to;
	for (size_t i = 0; i < point->child_count; i++)
		for (size_t p = 0; p < point->child[i]->child_count; p++) {
			const struct item *protection = point->child[i]->child[p];
			const struct item *test = item_child(protection, SCOPE_TEST, 0);
			const struct answer *fitted =
			        item_answer(protection, book.known.protection_fitted);

			ck_assert_msg(first_day(protection, book.known.protection_fitted) >=
			                      installed,
			              "%s is older than %s", protection->ref, point->ref);
			ck_assert_msg(!test || !fitted ||
			                      first_day(test, book.known.test_date) >= fitted->low,
			              "%s is older than %s", test->ref, protection->ref);
			ck_assert(!fitted || fitted->high <= book.on);
		}
}

static inline void assert_room_holds(const struct item *point, void *to)
{
	const char *room = item_above(point, SCOPE_ROOM)->ref;

	(void)to;
	for (size_t r = 0; r < book.weights->room_count; r++)
		for (size_t h = 0; h < book.weights->room[r].hold_count; h++)
			if (strncmp(book.weights->room[r].id, room,
			            strlen(book.weights->room[r].id)) == 0 &&
			    book.weights->room[r].holds[h].index == point->of)
				return;
	ck_abort_msg("%s: no %s holds it", point->ref, room);
}

/* -- what is met --------------------------------------------------------------------------------- */

/* Everything that can be met: kinds, types, rows of kinds, of types and of series. */
struct target {
	const char *id;
	uint16_t kind, type;
	const struct row *row;
	bool met;
};

struct targets {
	struct target item[4000];
	size_t count;
};

/* What asks for a category is five rows of one id: to whoever reads them they are one. */
static inline void add_target(struct targets *targets, const char *id, size_t kind, size_t type,
                              const struct row *row)
{
	const struct target *last = targets->count ? &targets->item[targets->count - 1] : NULL;

	if (last && strcmp(last->id, id) == 0)
		return;
	ck_assert_uint_lt(targets->count, COUNT(targets->item));
	targets->item[targets->count++] =
	        (struct target){id, (uint16_t)kind, (uint16_t)type, row, false};
}

static inline struct targets *all_targets(void)
{
	struct targets *targets = arena_take(&book.arena, sizeof(*targets));

	for (size_t k = 0; k < book.kind_count; k++) {
		add_target(targets, book.kind[k].id, k, INDEX_NONE, NULL);
		for (size_t r = 0; r < book.kind[k].row_count; r++)
			add_target(targets, book.kind[k].row[r].id, k, INDEX_NONE,
			           &book.kind[k].row[r]);
	}
	for (size_t t = 0; t < book.type_count; t++) {
		if (strcmp(book.type[t].id, "nothing") != 0)
			add_target(targets, book.type[t].id, INDEX_NONE, t, NULL);
		for (size_t r = 0; r < book.type[t].row_count; r++)
			add_target(targets, book.type[t].row[r].id, INDEX_NONE, t,
			           &book.type[t].row[r]);
		for (size_t s = 0; s < book.type[t].series_count; s++)
			add_target(targets, book.type[t].series[s].row.id, INDEX_NONE, t,
			           &book.type[t].series[s].row);
	}
	return targets;
}

struct meeting {
	struct judge *judge;
	struct targets *targets;
};

static inline void meet_row(struct targets *targets, const struct row *row)
{
	for (size_t i = 0; i < targets->count; i++)
		if (targets->item[i].row && strcmp(targets->item[i].id, row->id) == 0)
			targets->item[i].met = true;
}

static inline void meet_point(const struct item *point, void *to)
{
	struct meeting *meeting = to;
	struct assessment out;
	struct err err = {0};

	ck_assert_msg(judge_point(meeting->judge, point, &out, &err), "%s: %s", point->ref,
	              err.message);
	for (size_t i = 0; i < meeting->targets->count; i++) {
		struct target *target = &meeting->targets->item[i];

		if (target->row || target->met)
			continue;
		target->met = target->kind == point->of && target->type == INDEX_NONE;
		for (size_t c = 0; target->kind == INDEX_NONE && c < point->child_count; c++)
			for (size_t p = 0; p < point->child[c]->child_count; p++)
				target->met |= point->child[c]->child[p]->of == target->type;
	}
	for (size_t b = 0; b < out.because_count; b++)
		if (out.because[b].certain)
			meet_row(meeting->targets, out.because[b].row);
}

static inline void meet_house(struct meeting *meeting)
{
	struct err err = {0};

	ck_assert_msg(judge_survey(meeting->judge, &survey, &err), "%s", err.message);
	walk_points(meet_point, meeting);
}

static inline size_t count_of_rows(const struct targets *targets)
{
	size_t rows = 0;

	for (size_t i = 0; i < targets->count; i++)
		rows += targets->item[i].row != NULL;
	return rows;
}

static inline size_t count_met(const struct targets *targets, bool rows)
{
	size_t met = 0;

	for (size_t i = 0; i < targets->count; i++)
		met += targets->item[i].met && (targets->item[i].row != NULL) == rows;
	return met;
}

static inline void name_unmet(const struct targets *targets, const char *what)
{
	size_t named = 0;

	for (size_t i = 0; i < targets->count; i++)
		if (!targets->item[i].met)
			printf("%s%s", named++ ? ", " : what, targets->item[i].id);
	if (named)
		printf(" (%zu)\n", named);
	fflush(stdout); /* what fails next ends the process */
}

enum { SEEDS_LEAST = 1000 };

/* Seed after seed until all is met, or all kinds and types in at least so many, or the seeds are over; says after how many all kinds and types were. */
static inline void meet_by_chance(struct meeting *meeting, uint64_t seeds)
{
	size_t rows = count_of_rows(meeting->targets), things = meeting->targets->count - rows,
	       met = 0;
	uint64_t seed = 0, all_things = 0;

	while (seed < seeds && met < rows + things && (!all_things || seed < SEEDS_LEAST)) {
		invent(&(struct invention){.seed = seed,
		                           .level = LEVEL_LEAST + (unsigned)(seed % LEVEL_MOST)});
		meet_house(meeting);
		seed++;
		met = count_met(meeting->targets, false);
		all_things = met == things && !all_things ? seed : all_things;
		met += count_met(meeting->targets, true);
	}
	printf("by chance, all levels in turn: houses %llu: kinds and types %zu of %zu (all after "
	       "%llu), rows %zu of %zu\n",
	       (unsigned long long)seed, count_met(meeting->targets, false), things,
	       (unsigned long long)all_things, count_met(meeting->targets, true), rows);
}

/* Asked for by name, each until it is met, at most so many times. @return the most that one took. */
static inline uint64_t meet_by_name(struct meeting *meeting, uint64_t seeds)
{
	uint64_t most = 0, houses = 0;

	for (size_t i = 0; i < meeting->targets->count; i++) {
		struct target *target = &meeting->targets->item[i];
		uint64_t seed = 0;

		for (target->met = false; seed < seeds && !target->met; seed++, houses++) {
			invent(&(struct invention){.seed = seed,
			                           .level = LEVEL_LEAST,
			                           .with = &target->id,
			                           .with_count = 1});
			meet_house(meeting);
		}
		most = target->met && seed > most ? seed : most;
	}
	printf("by name, level 1: houses %llu, at most %llu for one: kinds and types %zu of %zu, "
	       "rows %zu of %zu\n",
	       (unsigned long long)houses, (unsigned long long)most,
	       count_met(meeting->targets, false),
	       meeting->targets->count - count_of_rows(meeting->targets),
	       count_met(meeting->targets, true), count_of_rows(meeting->targets));
	return most;
}

/* Asked for by name it holds for certain, at every level and with every seed. */
static inline void assert_always_met(const char *id, uint64_t seeds)
{
	struct meeting meeting = {judge_create(&book), all_targets()};

	for (uint64_t seed = 0; seed < seeds; seed++)
		for (unsigned level = LEVEL_LEAST; level <= LEVEL_MOST; level++) {
			struct target *target = meeting.targets->item;

			while (strcmp(target->id, id) != 0)
				target++;
			target->met = false;
			invent(&(struct invention){
			        .seed = seed, .level = level, .with = &id, .with_count = 1});
			meet_house(&meeting);
			ck_assert_msg(target->met, "%s: not met with seed %llu at level %u", id,
			              (unsigned long long)seed, level);
		}
	judge_destroy(meeting.judge);
}

#endif
