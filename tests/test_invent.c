/* Invented houses by the small book of the tests: whole, the same again, as asked for. */
#include "invent_houses.h"

#include "../src/base/arena_test.h"
#include "suite.h"

/* -- every house is whole -------------------------------------------------------------------- */

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

START_TEST(nothing_is_older_than_what_it_stands_on)
{
	for (uint64_t seed = 0; seed < 200; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(assert_dates_in_order, NULL);
	}
}
END_TEST

START_TEST(a_pipe_is_met_by_where_it_starts)
{
	size_t from_cistern = 0;

	teardown();
	setup_small_with(
	        "questions: [ { id: runs_on, scope: branch, form: yes_no, label: Runs on } ]\n"
	        "invent:\n"
	        "  often:\n"
	        "    - { of: branch, answers: { runs_on: { no: 1 } } }\n"
	        "    - { of: branch, from: [cistern], answers: { runs_on: { yes: 1 } } }\n");
	for (uint64_t seed = 0; seed < 50; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		for (size_t i = 0; i < item_children(survey.premises, SCOPE_BRANCH); i++) {
			const struct item *branch = item_child(survey.premises, SCOPE_BRANCH, i);
			const char *from = item_text(branch, book.known.branch_from);
			const struct item *source = survey_find(&survey, from, strlen(from));
			bool cistern = source && source->scope == SCOPE_POINT;
			question_index runs_on = rulebook_question(&book, SCOPE_BRANCH, INDEX_NONE,
			                                           "", "runs_on", 7);

			ck_assert_str_eq(item_text(branch, runs_on), cistern ? "yes" : "no");
			from_cistern += cistern;
		}
	}
	ck_assert_uint_gt(from_cistern, 20);
}
END_TEST

/* What a type says of one kind alone, and what has no answer on it. */
static void count_devices(const struct item *point, void *to)
{
	size_t(*count)[2] = to; /* one a kind: not answered, answered */
	size_t row = point->of == rulebook_kind(&book, "outside_tap", 11) ? 0 : 1;
	question_index checks = rulebook_question(&book, SCOPE_PROTECTION,
	                                          rulebook_type(&book, "ED", 2), "", "checks", 6);

	for (size_t i = 0; i < item_children(point, SCOPE_INLET); i++) {
		const struct item *inlet = item_child(point, SCOPE_INLET, i);

		for (size_t p = 0; p < item_children(inlet, SCOPE_PROTECTION); p++) {
			const struct item *device = item_child(inlet, SCOPE_PROTECTION, p);

			if (device->of == rulebook_type(&book, "ED", 2))
				count[row][item_answer(device, checks) != NULL]++;
		}
	}
}

START_TEST(a_type_is_met_by_what_it_stands_on_and_never_is_no_answer)
{
	size_t count[2][2] = {{0}};

	teardown();
	setup_small_with("invent:\n"
	                 "  often:\n"
	                 "    - of: ED\n"
	                 "      on: [outside_tap]\n"
	                 "      answers: { checks: { sound: 0 } }\n");
	for (uint64_t seed = 0; seed < 200; seed++) {
		invent(&(struct invention){.seed = seed, .level = 1});
		walk_points(count_devices, count);
	}
	ck_assert_uint_gt(count[0][0], 20);
	ck_assert_uint_eq(count[0][1], 0);
	ck_assert_uint_eq(count[1][0], 0);
	ck_assert_uint_gt(count[1][1], 20);
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

struct over_there {
	size_t taps, others;
};

static const struct item *start_of_feed(const struct item *point)
{
	const char *ref = item_text(item_child(point, SCOPE_INLET, 0), book.known.inlet_fed_by);
	const struct item *at = survey_find(&survey, ref, strlen(ref));

	while (at && at->scope == SCOPE_BRANCH) {
		ref = item_text(at, book.known.branch_from);
		at = survey_find(&survey, ref, strlen(ref));
	}
	return at;
}

static void assert_fed_from_over_there(const struct item *point, void *to)
{
	struct over_there *there = to;
	const char *kind = book.kind[point->of].id;
	const struct item *part = survey_part(&survey, point), *start;
	bool tap = strcmp(kind, "outside_tap") == 0;

	if ((!tap && strcmp(kind, "other") != 0) ||
	    strcmp(item_text(part, book.known.part_use), "hairdresser") != 0)
		return;
	start = start_of_feed(point);
	ck_assert_msg((start != NULL) == tap, "%s, a %s", point->ref, kind);
	there->taps += tap;
	there->others += !tap;
}

/* The cistern stands in the flat; what could be fed by the main as well is not fed from there. */
START_TEST(only_what_needs_it_is_fed_from_another_part)
{
	static const char *const with[] = {"cistern", "outside_tap", "other"};
	struct over_there there = {0};

	teardown();
	setup_small_with("invent:\n"
	                 "  often:\n"
	                 "    - { of: cistern, only: { part.use: house } }\n"
	                 "    - { of: outside_tap, fed_by: { cistern: 1 } }\n"
	                 "    - { of: other, fed_by: { main: 1, cistern: 99 } }\n");
	for (uint64_t seed = 0; seed < 60; seed++) {
		invent(&(struct invention){.seed = seed,
		                           .level = 1,
		                           .site = "salon_with_flat",
		                           .rooms = 6,
		                           .points = 12,
		                           .with = with,
		                           .with_count = 3});
		walk_points(assert_fed_from_over_there, &there);
	}
	ck_assert_uint_gt(there.taps, 5);
	ck_assert_uint_gt(there.others, 5);
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

/* A book may have more rooms in each house than can be wished for: they are filled, and then it is done. */
START_TEST(a_house_of_very_many_rooms_is_done)
{
	enum { ROOMS = 450 };
	static char overlay[ROOMS * 100];
	size_t length = (size_t)snprintf(overlay, sizeof(overlay), "invent:\n  rooms:\n");

	for (int i = 0; i < ROOMS; i++)
		length += (size_t)snprintf(overlay + length, sizeof(overlay) - length,
		                           "    - { id: cell_%d, name: Cell, in: { house: 1 }, "
		                           "always: [house], holds: { other: 1 } }\n",
		                           i);
	teardown();
	setup_small_with(overlay);
	invent(&(struct invention){.seed = 1, .level = 1, .site = "terrace", .points = 2000});
	ck_assert_uint_gt(item_children(survey.premises, SCOPE_ROOM), ROOMS);
	/* at most three of a kind in each */
	ck_assert_uint_ge(walk_points(nothing, NULL), ROOMS * 3);
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

/* A row that another can replace; one of a device's test; one that a spout decides; one by a date. */
START_TEST(what_is_asked_for_holds_every_time)
{
	assert_always_met("outside_tap_pool", 30);
	assert_always_met("ba_relief_low", 30);
	assert_always_met("kitchen_mixer_hose_lies_in", 30);
	assert_always_met("ed_ten_years", 30);
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

int main(void)
{
	Suite *suite = suite_create("invent");
	TCase *small = tcase_create("small");

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
	tcase_add_test(small, a_pipe_is_met_by_where_it_starts);
	tcase_add_test(small, a_type_is_met_by_what_it_stands_on_and_never_is_no_answer);
	tcase_add_test(small, hot_comes_from_one_that_makes_it);
	tcase_add_test(small, only_what_needs_it_is_fed_from_another_part);
	tcase_add_test(small, cold_and_hot_of_a_tap_are_mostly_as_one);
	tcase_add_test(small, what_must_be_there_is_and_no_more_than_may);
	tcase_add_test(small, rooms_hold_what_such_rooms_hold);
	tcase_add_test(small, so_many_rooms_and_points);
	tcase_add_test(small, a_house_of_very_many_rooms_is_done);
	tcase_add_test(small, a_site_is_what_was_asked_for);
	tcase_add_loop_test(small, what_cannot_be_wished_for, 0, COUNT(bad_wishes));
	tcase_add_test(small, a_book_without_weights_makes_no_house);
	tcase_add_test(small, everything_is_met);
	tcase_add_test(small, what_is_asked_for_holds_every_time);
	tcase_add_test(small, what_does_not_go_together_is_named);
	tcase_add_test(small, no_memory_is_an_error);
	suite_add_tcase(suite, small);
	return suite_run(suite);
}
