/* Invented houses: whole, the same again, as asked for; on the small book of the tests and on the built-in one. */
#include "tundish/assess/weights.h"
#include "tundish/house/verdict.h"
#include "tundish/invent/invent.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"
#include "tundish/store/survey_write.h"

#include "../src/base/arena_test.h"

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

static const char *all_faults(void)
{
	const char *text = "";

	faults_sort(&faults);
	for (size_t i = 0; i < faults.count && i < 5; i++)
		text = arena_print(&arena, "%s%s", text, fault_text(&faults.item[i], &arena));
	return text;
}

static void begin(void)
{
	arena_init(&arena);
	faults_init(&faults, &arena);
	memset(&book, 0, sizeof(book));
	memset(&survey, 0, sizeof(survey));
}

static void setup_small(void)
{
	static char text[64 * 1024];
	static struct source source = {"small.yaml", text, 0};
	const struct source *texts[] = {&source};
	FILE *file = fopen(TUNDISH_TESTS "/rulebook/small.yaml", "rb");

	begin();
	ck_assert_ptr_nonnull(file);
	source.length = fread(text, 1, sizeof(text), file);
	fclose(file);
	ck_assert_msg(rulebook_read(&book, texts, 1, date_day(2026, 11, 25), &faults), "%s",
	              all_faults());
}

static void setup_builtin(void)
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

static void teardown(void)
{
	survey_finish(&survey);
	rulebook_finish(&book);
	arena_finish(&arena);
}

static void invent(const struct invention *wish)
{
	struct err err = {0};

	survey_finish(&survey);
	ck_assert_msg(invent_survey(&book, wish, &survey, &said, &err), "seed %llu level %u: %s",
	              (unsigned long long)wish->seed, wish->level, err.message);
}

static const char *written(void)
{
	const struct source empty = {"an invented house", "", 0};
	struct err err = {0};
	size_t length;
	char *text;

	ck_assert_msg(survey_write(&survey, &empty, &arena, &text, &length, &err), "%s",
	              err.message);
	return text;
}

/* -- every house is whole -------------------------------------------------------------------- */

static void assert_whole(const struct invention *wish)
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

START_TEST(every_house_is_whole)
{
	for (uint64_t seed = 0; seed < 300; seed++)
		for (unsigned level = LEVEL_LEAST; level <= LEVEL_MOST; level++)
			assert_whole(&(struct invention){.seed = seed, .level = level});
}
END_TEST

/* The whole as text, kept: bytes that a seed gives never change but on purpose. */
static void assert_golden(const char *name, const struct invention *wish)
{
	static char kept[64 * 1024];
	const char *update = getenv("UPDATE_GOLDEN"), *text;
	char path[300];
	FILE *file;
	size_t length;

	invent(wish);
	text = written();
	snprintf(path, sizeof(path), "%s/golden/%s", TUNDISH_TESTS, name);
	file = fopen(path, update && strcmp(update, "1") == 0 ? "w" : "r");
	ck_assert_msg(file != NULL, "%s can't be opened", path);
	if (update && strcmp(update, "1") == 0) {
		fputs(text, file);
	} else {
		length = fread(kept, 1, sizeof(kept) - 1, file);
		kept[length] = '\0';
		ck_assert_msg(strcmp(text, kept) == 0, "%s is now:\n%s", name, text);
	}
	fclose(file);
}

START_TEST(a_seed_gives_the_same_bytes_for_ever)
{
	static const char *const with[] = {"outside_tap_pool_kept", "ea_pair", "ba_relief_low"};

	assert_golden("invent_1.yaml",
	              &(struct invention){.seed = 1, .level = 1, .rooms = 3, .points = 6});
	assert_golden(
	        "invent_2.yaml",
	        &(struct invention){
	                .seed = 2, .level = 2, .site = "salon_with_flat", .rooms = 4, .points = 8});
	assert_golden(
	        "invent_4.yaml",
	        &(struct invention){.seed = UINT64_MAX, .level = 4, .with = with, .with_count = 3});
}
END_TEST

START_TEST(seeds_differ)
{
	const char *first;

	invent(&(struct invention){.seed = 1, .level = 1});
	first = written();
	invent(&(struct invention){.seed = 2, .level = 1});
	ck_assert_str_ne(first, written());
}
END_TEST

/* -- levels ---------------------------------------------------------------------------------- */

static size_t walk_points(void (*visit)(const struct item *point, void *to), void *to)
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

static void judge_one(const struct item *point, void *to)
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

static void judge_house(struct judging *judging)
{
	struct err err = {0};

	judging->open = NULL;
	ck_assert_msg(judge_survey(judging->judge, &survey, &err), "%s", err.message);
	walk_points(judge_one, judging);
}

static void assert_all_answered(uint64_t seeds)
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

START_TEST(at_level_1_nothing_is_left_to_ask)
{
	assert_all_answered(200);
}
END_TEST

/* The more, the higher; where little is known much is undecided. */
START_TEST(each_level_leaves_more_open)
{
	size_t undecided[LEVEL_MOST + 1] = {0}, not_seen[LEVEL_MOST + 1] = {0};

	for (unsigned level = LEVEL_LEAST; level <= LEVEL_MOST; level++) {
		struct judging judging = {.judge = judge_create(&book)};

		for (uint64_t seed = 0; seed < 100; seed++) {
			invent(&(struct invention){.seed = seed, .level = level});
			judge_house(&judging);
		}
		undecided[level] = judging.verdict[VERDICT_UNDECIDED];
		not_seen[level] = judging.verdict[VERDICT_NOT_SEEN];
		judge_destroy(judging.judge);
	}
	ck_assert_uint_eq(undecided[1], 0);
	ck_assert_uint_gt(undecided[2], 0);
	ck_assert_uint_gt(undecided[3], undecided[2]);
	ck_assert_uint_eq(not_seen[2], 0);
	ck_assert_uint_gt(not_seen[3], 0);
	ck_assert_uint_gt(not_seen[4], 0);
}
END_TEST

static void note_point(const struct item *point, void *to)
{
	const char **text = to;

	*text = arena_print(&arena, "%s %s:%s", *text, point->ref, book.kind[point->of].id);
}

START_TEST(a_house_is_the_same_at_every_level)
{
	for (uint64_t seed = 0; seed < 50; seed++) {
		const char *first = NULL;

		for (unsigned level = LEVEL_LEAST; level <= LEVEL_MOST; level++) {
			const char *text = "";

			invent(&(struct invention){.seed = seed, .level = level});
			walk_points(note_point, &text);
			if (!first)
				first = text;
			ck_assert_str_eq(text, first);
		}
	}
}
END_TEST

/* What is at level 2 is a part of what is at level 1, with vaguer dates. */
static void assert_part_of(const struct survey *all)
{
	struct changes changes = {0};

	ck_assert(survey_compare(all, &survey, &arena, &changes));
	for (size_t i = 0; i < changes.count; i++) {
		const struct change *change = &changes.item[i];
		struct days was, is;

		ck_assert_msg(change->before != NULL, "%s came new", change->where);
		ck_assert_msg(!change->after ||
		                      (date_parse(change->before, strlen(change->before), &was) &&
		                       date_parse(change->after, strlen(change->after), &is)),
		              "%s: %s became %s", change->where, change->before, change->after);
	}
}

START_TEST(level_2_only_takes_away)
{
	for (uint64_t seed = 0; seed < 30; seed++) {
		struct survey all;

		invent(&(struct invention){.seed = seed, .level = 1});
		all = survey;
		memset(&survey, 0, sizeof(survey));
		invent(&(struct invention){.seed = seed, .level = 2});
		assert_part_of(&all);
		survey_finish(&all);
	}
}
END_TEST

/* -- it makes sense -------------------------------------------------------------------------- */

static double first_day(const struct item *item, question_index question)
{
	const struct answer *answer = item_answer(item, question);

	return answer ? answer->high : DAY_LAST;
}

static void assert_dates_in_order(const struct item *point, void *to)
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

START_TEST(nothing_is_older_than_what_it_stands_on)
{
	for (uint64_t seed = 0; seed < 200; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(assert_dates_in_order, NULL);
	}
}
END_TEST

/* In the small book a cistern makes hot water: whatever has a hot inlet is fed from one, and no cold inlet is. */
static void assert_feeds(const struct item *point, void *to)
{
	size_t *from_cistern = to;

	for (size_t i = 0; i < item_children(point, SCOPE_INLET); i++) {
		const struct item *inlet = item_child(point, SCOPE_INLET, i);
		const char *ref = item_text(inlet, book.known.inlet_fed_by);
		const struct item *branch = ref ? survey_find(&survey, ref, strlen(ref)) : NULL;
		const char *name = branch ? item_text(branch, book.known.branch_name) : NULL,
		           *from = branch ? item_text(branch, book.known.branch_from) : NULL;
		const struct item *source = from ? survey_find(&survey, from, strlen(from)) : NULL;
		bool hot = strcmp(inlet->ref, "hot") == 0;

		if (!ref) {
			ck_assert_str_eq(inlet->ref, "overflow");
			continue;
		}
		ck_assert_ptr_nonnull(branch);
		ck_assert_msg((strncmp(name, "hot", 3) == 0) == hot, "%s %s is fed by %s",
		              point->ref, inlet->ref, name);
		*from_cistern += hot && source && source->scope == SCOPE_POINT;
	}
}

START_TEST(hot_comes_from_one_that_makes_it)
{
	size_t from_cistern = 0;

	for (uint64_t seed = 0; seed < 200; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(assert_feeds, &from_cistern);
	}
	ck_assert_uint_gt(from_cistern, 50);
}
END_TEST

struct sides {
	size_t pairs, same, gaps, same_gap, checks, same_day;
};

static const char *said_of(const struct item *protection, const char *id)
{
	for (size_t i = 0; i < protection->answer_count; i++)
		if (strcmp(book.question[protection->answer[i].question].id, id) == 0)
			return protection->answer[i].text;
	return "";
}

static void compare_protection(const struct item *cold, const struct item *hot, struct sides *sides)
{
	if (strcmp(book.type[cold->of].id, "AUK3") == 0) {
		sides->gaps++;
		sides->same_gap += strcmp(said_of(cold, "outlet_height_mm"),
		                          said_of(hot, "outlet_height_mm")) == 0;
	} else {
		sides->checks++;
		sides->same_day += strcmp(said_of(cold, "fitted"), said_of(hot, "fitted")) == 0;
	}
}

static void compare_sides(const struct item *point, void *to)
{
	struct sides *sides = to;
	const struct item *cold, *hot;
	size_t count;
	bool same;

	if (strcmp(book.kind[point->of].id, "kitchen_mixer") != 0 ||
	    item_children(point, SCOPE_INLET) != 2)
		return;
	cold = item_child(point, SCOPE_INLET, 0);
	hot = item_child(point, SCOPE_INLET, 1);
	count = item_children(cold, SCOPE_PROTECTION);
	same = count == item_children(hot, SCOPE_PROTECTION);
	for (size_t i = 0; same && i < count; i++)
		same = item_child(cold, SCOPE_PROTECTION, i)->of ==
		       item_child(hot, SCOPE_PROTECTION, i)->of;
	sides->pairs++;
	sides->same += same;
	for (size_t i = 0; same && i < count; i++)
		compare_protection(item_child(cold, SCOPE_PROTECTION, i),
		                   item_child(hot, SCOPE_PROTECTION, i), sides);
}

/* One in eight is drawn apart, and may come out the same all the same. */
START_TEST(cold_and_hot_of_a_tap_are_mostly_as_one)
{
	struct sides sides = {0};

	for (uint64_t seed = 0; seed < 300; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(compare_sides, &sides);
	}
	ck_assert_uint_gt(sides.pairs, 200);
	ck_assert_uint_gt(sides.same * 100, sides.pairs * 85);
	ck_assert_uint_lt(sides.same, sides.pairs);
	ck_assert_msg(sides.same_gap * 100 > sides.gaps * 85, "one spout is measured once");
	ck_assert_msg(sides.same_day * 100 < sides.checks * 30, "checks are of a day each");
}
END_TEST

static void count_kind(const struct item *point, void *to)
{
	size_t *count = to;

	count[point->of]++;
}

/* `always: { premises.hot: vented }` and `most: 2` of the cistern. */
START_TEST(what_must_be_there_is_and_no_more_than_may)
{
	uint16_t cistern = rulebook_kind(&book, "cistern", 7);
	question_index hot =
	        rulebook_question(&book, SCOPE_PREMISES, INDEX_NONE, "supply", "hot", 3);
	size_t vented = 0;

	for (uint64_t seed = 0; seed < 300; seed++) {
		size_t count[64] = {0};
		bool is_vented;

		/* in a part of which no room can hold one there is none */
		invent(&(struct invention){.seed = seed, .level = 1, .site = "terrace"});
		walk_points(count_kind, count);
		is_vented = strcmp(item_text(survey.premises, hot), "vented") == 0;
		vented += is_vented;
		ck_assert_uint_le(count[cistern], 2);
		ck_assert_msg(count[cistern] > 0 || !is_vented, "seed %llu",
		              (unsigned long long)seed);
	}
	ck_assert_uint_gt(vented, 50);
}
END_TEST

static void assert_room_holds(const struct item *point, void *to)
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

START_TEST(rooms_hold_what_such_rooms_hold)
{
	for (uint64_t seed = 0; seed < 200; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(assert_room_holds, NULL);
	}
}
END_TEST

/* -- wishes ---------------------------------------------------------------------------------- */

static void nothing(const struct item *point, void *to)
{
	(void)point;
	(void)to;
}

START_TEST(so_many_rooms_and_points)
{
	static const unsigned wishes[][2] = {
	        {1,   1   },
                {1,   12  },
                {7,   7   },
                {20,  90  },
                {200, 2000}
        };

	for (size_t i = 0; i < COUNT(wishes); i++) {
		invent(&(struct invention){.seed = i,
		                           .level = 1,
		                           .site = "terrace",
		                           .rooms = wishes[i][0],
		                           .points = wishes[i][1]});
		/* a cistern that has to be there takes a loft, and a house has a kitchen */
		ck_assert_uint_ge(item_children(survey.premises, SCOPE_ROOM), wishes[i][0]);
		ck_assert_uint_le(item_children(survey.premises, SCOPE_ROOM),
		                  wishes[i][0] < 2 ? 2 : wishes[i][0]);
		/* in a room is at most three of each kind that it holds */
		ck_assert_msg(walk_points(nothing, NULL) == wishes[i][1] ||
		                      wishes[i][1] > wishes[i][0] * 3,
		              "%zu of %u points", walk_points(nothing, NULL), wishes[i][1]);
	}
}
END_TEST

START_TEST(a_site_is_what_was_asked_for)
{
	for (uint64_t seed = 0; seed < 20; seed++) {
		const struct item *salon, *flat;

		invent(&(struct invention){.seed = seed, .level = 1, .site = "salon_with_flat"});
		ck_assert_str_eq(said.site, "salon_with_flat");
		ck_assert_uint_eq(item_children(survey.premises, SCOPE_PART), 2);
		salon = item_child(survey.premises, SCOPE_PART, 0);
		flat = item_child(survey.premises, SCOPE_PART, 1);
		ck_assert_str_eq(item_text(salon, book.known.part_use), "hairdresser");
		ck_assert_str_eq(item_text(flat, book.known.part_use), "house");
	}
}
END_TEST

static const struct {
	const char *title;
	struct invention wish;
	const char *says;
} bad_wishes[] = {
        {"no level",         {.level = 0},                                           "a level is 1 to 4, not 0"       },
        {"a level too high", {.level = 5},                                           "a level is 1 to 4, not 5"       },
        {"too many rooms",   {.level = 1, .rooms = 201},                             "201 rooms are more than the 200"},
        {"too many points",
         {.level = 1, .points = 2001},
         "2001 outlets and appliances are more than the 2000"                                                         },
        {"no such site",
         {.level = 1, .site = "terace"},
         "terace is no site of the rulebook; did you mean terrace?"                                                   },
        {"no such thing",
         {.level = 1, .with = (const char *const[]){"outside_tp"}, .with_count = 1},
         "outside_tp is no kind, type or row of the rulebook; did you mean outside_tap?"                              },
};

START_TEST(what_cannot_be_wished_for)
{
	struct err err = {0};

	ck_assert_msg(!invent_survey(&book, &bad_wishes[_i].wish, &survey, &said, &err), "%s",
	              bad_wishes[_i].title);
	ck_assert_int_eq(err.kind, ERR_USAGE);
	ck_assert_msg(strstr(err.message, bad_wishes[_i].says) != NULL, "%s: %s",
	              bad_wishes[_i].title, err.message);
}
END_TEST

START_TEST(a_book_without_weights_makes_no_house)
{
	struct err err = {0};

	book.weights = NULL;
	ck_assert(!invent_survey(&book, &(struct invention){.level = 1}, &survey, &said, &err));
	ck_assert_msg(strstr(err.message, "no sites and rooms") != NULL, "%s", err.message);
}
END_TEST

/* -- what is asked for is met ---------------------------------------------------------------- */

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
static void add_target(struct targets *targets, const char *id, size_t kind, size_t type,
                       const struct row *row)
{
	const struct target *last = targets->count ? &targets->item[targets->count - 1] : NULL;

	if (last && strcmp(last->id, id) == 0)
		return;
	ck_assert_uint_lt(targets->count, COUNT(targets->item));
	targets->item[targets->count++] =
	        (struct target){id, (uint16_t)kind, (uint16_t)type, row, false};
}

static struct targets *all_targets(void)
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

static void meet_row(struct targets *targets, const struct row *row)
{
	for (size_t i = 0; i < targets->count; i++)
		if (targets->item[i].row && strcmp(targets->item[i].id, row->id) == 0)
			targets->item[i].met = true;
}

static void meet_point(const struct item *point, void *to)
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

static void meet_house(struct meeting *meeting)
{
	struct err err = {0};

	ck_assert_msg(judge_survey(meeting->judge, &survey, &err), "%s", err.message);
	walk_points(meet_point, meeting);
}

static size_t count_of_rows(const struct targets *targets)
{
	size_t rows = 0;

	for (size_t i = 0; i < targets->count; i++)
		rows += targets->item[i].row != NULL;
	return rows;
}

static size_t count_met(const struct targets *targets, bool rows)
{
	size_t met = 0;

	for (size_t i = 0; i < targets->count; i++)
		met += targets->item[i].met && (targets->item[i].row != NULL) == rows;
	return met;
}

static void name_unmet(const struct targets *targets, const char *what)
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
static void meet_by_chance(struct meeting *meeting, uint64_t seeds)
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
static uint64_t meet_by_name(struct meeting *meeting, uint64_t seeds)
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

START_TEST(everything_is_met)
{
	struct meeting meeting = {judge_create(&book), all_targets()};

	meet_by_chance(&meeting, 400);
	name_unmet(meeting.targets, "not met by chance: ");
	ck_assert_uint_eq(count_met(meeting.targets, false) + count_met(meeting.targets, true),
	                  meeting.targets->count);
	ck_assert_uint_le(meet_by_name(&meeting, 20), 20);
	name_unmet(meeting.targets, "not met by name: ");
	ck_assert_uint_eq(count_met(meeting.targets, false) + count_met(meeting.targets, true),
	                  meeting.targets->count);
	judge_destroy(meeting.judge);
}
END_TEST

/* Two that can't be had together: the first wins, the other is named. */
START_TEST(what_does_not_go_together_is_named)
{
	static const char *const with[] = {"outside_tap_garden", "outside_tap_business",
	                                   "open_now"};

	for (uint64_t seed = 0; seed < 10; seed++) {
		invent(&(struct invention){.seed = seed,
		                           .level = 1,
		                           .site = "terrace",
		                           .with = with,
		                           .with_count = 3});
		ck_assert_uint_eq(said.left_out_count, 2);
		ck_assert_str_eq(said.left_out[0], "outside_tap_business");
		ck_assert_msg(strcmp(said.left_out[1], "open_now") == 0,
		              "nobody can aim at an urgency");
	}
	/* where nobody names a site, it is one that has room for both */
	invent(&(struct invention){.seed = 1, .level = 1, .with = with, .with_count = 2});
	ck_assert_str_eq(said.site, "salon_with_flat");
	ck_assert_uint_eq(said.left_out_count, 0);
}
END_TEST

START_TEST(no_memory_is_an_error)
{
	static const char *const with[] = {"outside_tap_pool_kept", "ea_pair"};
	const struct invention wish = {.seed = 3, .level = 4, .with = with, .with_count = 2};
	long left = 0;

	for (long n = 0; left >= -1 && n < 100000; n += 1 + n / 40) {
		struct err err = {0};
		bool good;

		survey_finish(&survey);
		arena_fail_after(n);
		good = invent_survey(&book, &wish, &survey, &said, &err);
		left = arena_fail_after(-1);
		if (left >= 0) {
			ck_assert_msg(good, "%s", err.message);
			return;
		}
		ck_assert_msg(!good && err.kind == ERR_MEMORY, "request %ld failed: %s", n,
		              err.message);
	}
	ck_abort_msg("never done");
}
END_TEST

START_TEST(every_house_of_the_built_in_book_is_whole)
{
	for (uint64_t seed = 0; seed < 40; seed++)
		for (unsigned level = LEVEL_LEAST; level <= LEVEL_MOST; level++)
			assert_whole(&(struct invention){.seed = seed, .level = level});
}
END_TEST

START_TEST(at_level_1_nothing_of_the_built_in_book_is_left_to_ask)
{
	assert_all_answered(100);
}
END_TEST

START_TEST(dates_and_rooms_of_the_built_in_book_make_sense)
{
	for (uint64_t seed = 0; seed < 60; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(assert_dates_in_order, NULL);
		walk_points(assert_room_holds, NULL);
	}
}
END_TEST

/* By chance every kind and type; asked for by name every row too: none goes untaught. */
START_TEST(everything_of_the_built_in_book_is_met)
{
	const char *more = getenv("TUNDISH_SEEDS");
	struct meeting meeting = {judge_create(&book), all_targets()};

	meet_by_chance(&meeting, more ? strtoull(more, NULL, 10) : 4000);
	name_unmet(meeting.targets, "not met by chance: ");
	ck_assert_uint_eq(count_met(meeting.targets, false) + count_of_rows(meeting.targets),
	                  meeting.targets->count);
	meet_by_name(&meeting, 40);
	name_unmet(meeting.targets, "not met by name: ");
	ck_assert_uint_eq(count_met(meeting.targets, false) + count_met(meeting.targets, true),
	                  meeting.targets->count);
	judge_destroy(meeting.judge);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("invent");
	TCase *small = tcase_create("small"), *builtin = tcase_create("builtin");

	tcase_add_checked_fixture(small, setup_small, teardown);
	tcase_set_timeout(small, 60);
	tcase_add_test(small, every_house_is_whole);
	tcase_add_test(small, a_seed_gives_the_same_bytes_for_ever);
	tcase_add_test(small, seeds_differ);
	tcase_add_test(small, at_level_1_nothing_is_left_to_ask);
	tcase_add_test(small, each_level_leaves_more_open);
	tcase_add_test(small, a_house_is_the_same_at_every_level);
	tcase_add_test(small, level_2_only_takes_away);
	tcase_add_test(small, nothing_is_older_than_what_it_stands_on);
	tcase_add_test(small, hot_comes_from_one_that_makes_it);
	tcase_add_test(small, cold_and_hot_of_a_tap_are_mostly_as_one);
	tcase_add_test(small, what_must_be_there_is_and_no_more_than_may);
	tcase_add_test(small, rooms_hold_what_such_rooms_hold);
	tcase_add_test(small, so_many_rooms_and_points);
	tcase_add_test(small, a_site_is_what_was_asked_for);
	tcase_add_loop_test(small, what_cannot_be_wished_for, 0, COUNT(bad_wishes));
	tcase_add_test(small, a_book_without_weights_makes_no_house);
	tcase_add_test(small, everything_is_met);
	tcase_add_test(small, what_does_not_go_together_is_named);
	tcase_add_test(small, no_memory_is_an_error);
	suite_add_tcase(suite, small);
	tcase_add_checked_fixture(builtin, setup_builtin, teardown);
	tcase_set_timeout(builtin, 280);
	tcase_add_test(builtin, every_house_of_the_built_in_book_is_whole);
	tcase_add_test(builtin, at_level_1_nothing_of_the_built_in_book_is_left_to_ask);
	tcase_add_test(builtin, dates_and_rooms_of_the_built_in_book_make_sense);
	tcase_add_test(builtin, everything_of_the_built_in_book_is_met);
	suite_add_tcase(suite, builtin);
	SRunner *runner = srunner_create(suite);

	srunner_run_all(runner, CK_ENV);
	int failed = srunner_ntests_failed(runner);

	srunner_free(runner);
	return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
