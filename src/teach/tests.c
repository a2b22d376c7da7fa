/* What a device test says of the device: its type's diagram, narrowed to readings that are drawn. docs/quiz.md has the rule. */
#include "make.h"

#include "tundish/base/random.h"

#include <string.h>

enum {
	TESTS_A_TYPE = 3, /* at most */
	READINGS_MOST = 8,
};

/* What a device is worth, from the best down; 2 to 4: no more than that category. */
enum worth_said { SAID_WORKS, SAID_UNPROVEN, SAID_4, SAID_3, SAID_2, SAID_NOTHING, SAID_COUNT };

static const char *const said_ids[SAID_COUNT] = {"works", "unproven", "4", "3", "2", "nothing"};
static const char *const said_texts[SAID_COUNT] = {
        "It works: in fact it is worth all that its type is",
        "Nobody can say that it still works",
        "In fact it is worth no more than fluid category 4",
        "In fact it is worth no more than fluid category 3",
        "In fact it is worth no more than fluid category 2",
        "It is to be taken as nothing at all",
};

/* A test that is being drawn. */
struct reading {
	struct making *making;
	struct bench *bench;
	struct random *random;
	const char *id;
	const char *shown[READINGS_MOST + 1];
	size_t count;
};

/* -- drawing the readings --------------------------------------------------------------- */

/** As the best would be, half of the time; else anything. */
static bool draw_cell(struct reading *reading, size_t variable, unsigned *cell)
{
	struct bench *bench = reading->bench;
	const struct question *question =
	        &bench->book->question[bench->subject->variable[variable]];
	struct stretch stretch;

	if (!bench_best_cell(bench, variable, SCOPE_TEST, cell))
		return false;
	if (random_chance(reading->random, 1, 2))
		*cell = (unsigned)random_below(reading->random, question->cell_count);
	return cell_stretch(bench->book, question, *cell, &stretch);
}

/** Mostly on one of the two thresholds of its cell, or just beside it. */
static long draw_value(struct reading *reading, const struct question *question, unsigned cell)
{
	struct stretch stretch = {0, 0};
	uint64_t wide;
	bool low = cell > 0, high = cell < question->cut_count;

	if (!cell_stretch(reading->bench->book, question, cell, &stretch))
		return 0;
	wide = (uint64_t)(stretch.high - stretch.low) + 1;
	if ((!low && !high) || random_chance(reading->random, 1, 3))
		return stretch.low + (long)random_below(reading->random, wide);
	if (low && high)
		low = random_chance(reading->random, 1, 2);
	return low ? stretch.low : stretch.high;
}

static bool draw_reading(struct reading *reading, size_t variable)
{
	struct bench *bench = reading->bench;
	const struct question *question =
	        &bench->book->question[bench->subject->variable[variable]];
	struct arena *arena = reading->making->arena;
	const char *text, *line;
	unsigned cell = 0;

	if (!draw_cell(reading, variable, &cell))
		return false;
	text = drawn_text(arena, question, cell, draw_value(reading, question, cell));
	line = text ? said_line(arena, question, text) : NULL;
	if (!line)
		return false;
	bench->may[variable] = (cells)1 << cell;
	reading->shown[reading->count++] = line;
	reading->id =
	        arena_print(arena, "%s%s%s", reading->id, reading->count == 2 ? "/" : "-", text);
	return reading->id != NULL;
}

/** Of what can still move a figure, in the order of the rulebook: a test that nobody could read has no readings. */
static bool draw_readings(struct reading *reading)
{
	struct bench *bench = reading->bench;
	struct bench_sight sight;

	for (size_t v = 0; v < bench->subject->variable_count; v++) {
		const struct question *question =
		        &bench->book->question[bench->subject->variable[v]];

		if (question->scope != SCOPE_TEST)
			continue;
		if (!bench_look(bench, &sight))
			return false;
		if (!((sight.live >> v) & 1))
			continue;
		if (reading->count == READINGS_MOST || !draw_reading(reading, v))
			return false;
	}
	return reading->count > 1;
}

/* -- what they say ---------------------------------------------------------------------- */

static enum worth_said worth_of(const struct type *type, const struct bench_sight *sight)
{
	unsigned most = CATEGORY_LEAST;
	bool works = true, proven = true;

	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		unsigned found = sight->figure[WORTH_FOUND + m];

		works = works && found == type->good_for[m];
		proven = proven && sight->figure[WORTH_PROVEN + m] == found;
		most = found > most ? found : most;
	}
	if (works)
		return proven ? SAID_WORKS : SAID_UNPROVEN;
	if (most == CATEGORY_LEAST)
		return SAID_NOTHING;
	return (enum worth_said)(SAID_4 + (4 - (most < 4 ? most : 4)));
}

static unsigned best_of_table(const struct type *type)
{
	unsigned pressure = type->good_for[BACK_PRESSURE],
	         siphonage = type->good_for[BACK_SIPHONAGE];

	return pressure > siphonage ? pressure : siphonage;
}

static void worth_choices(struct making *making, const struct type *type, enum worth_said right)
{
	for (unsigned s = 0; s < SAID_COUNT; s++) {
		if (s >= SAID_4 && s <= SAID_2 && 4 - (s - SAID_4) >= best_of_table(type))
			continue; /* no less than it ever was */
		making_choice(making, said_ids[s], said_texts[s],
		              s == right  ? GRADE_RIGHT
		              : s < right ? GRADE_DANGEROUS
		                          : GRADE_CAUTIOUS);
	}
}

static void worth_reasons(struct making *making, const struct bench *bench)
{
	for (size_t r = 0; r < bench->type->row_count; r++) {
		const struct row *row = &bench->type->row[r];
		bool lowers = row->unproven;

		for (unsigned m = 0; m < MECHANISM_COUNT; m++)
			lowers = lowers || row->good_for[m] < CATEGORY_MOST ||
			         row->found[m] < CATEGORY_MOST;
		if (lowers && bench_row_holds(bench, r))
			making_reason(making, row);
	}
	making_reason_table(making, bench->type);
}

/* -- the task --------------------------------------------------------------------------- */

static bool say_today(struct reading *reading)
{
	char today[11];

	date_format(reading->bench->book->on, today);
	reading->shown[reading->count++] =
	        arena_print(reading->making->arena, "Today is %s", today);
	return reading->shown[0] != NULL;
}

static void make_test(struct making *making, struct bench *bench, struct random *random)
{
	struct task task = making_begin(making, FAMILY_TEST, NULL);
	struct reading reading = {.making = making, .bench = bench, .random = random};
	struct bench_sight sight;

	reading.id = arena_print(making->arena, "test/%s", bench->type->id);
	if (!reading.id || !say_today(&reading) || !draw_readings(&reading) ||
	    !bench_look(bench, &sight) || making_has(making, reading.id))
		return;
	task.id = reading.id;
	task.asks =
	        arena_print(making->arena,
	                    "%s. A test of it reads as follows, and all else about it is in order. "
	                    "What is it worth as it was found?",
	                    bench->type->name);
	task.in_order = true;
	task.topic = bench->type->id;
	task.shown = arena_take(making->arena, sizeof reading.shown);
	if (!task.shown)
		return;
	memcpy(task.shown, reading.shown, reading.count * sizeof *task.shown);
	task.shown_count = reading.count;
	worth_choices(making, bench->type, worth_of(bench->type, &sight));
	worth_reasons(making, bench);
	making_keep(making, &task);
}

/** All but the test is as it should be, and such that the test counts. */
static bool all_else_in_order(struct bench *bench)
{
	for (size_t v = 0; v < bench->subject->variable_count; v++) {
		unsigned cell;

		if (bench->book->question[bench->subject->variable[v]].scope == SCOPE_TEST)
			continue;
		if (!bench_best_cell(bench, v, SCOPE_TEST, &cell))
			return false;
		bench->may[v] = (cells)1 << cell;
	}
	return true;
}

static bool is_tested(const struct rulebook *book, const struct type *type)
{
	for (size_t q = 0; q < type->question_count; q++)
		if (book->question[type->question[q]].scope == SCOPE_TEST)
			return true;
	return false;
}

void make_tests(struct making *making, const struct type *type)
{
	const char *use = arena_print(making->arena, "test/%s", type->id);
	struct bench bench;
	cells may[VARIABLES_MOST];
	struct random random;

	if (!use || !is_tested(making->book, type) || !bench_begin(&bench, making, type))
		return;
	random_seed_for(&random, making->seed, use);
	if (all_else_in_order(&bench)) {
		memcpy(may, bench.may, sizeof may);
		for (size_t i = 0; i < TESTS_A_TYPE; i++) {
			memcpy(bench.may, may, sizeof may);
			make_test(making, &bench, &random);
		}
	}
	bench_end(&bench);
}
