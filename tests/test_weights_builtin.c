/* The weights of the built-in book: what its rows look at is met, and what comes of it is worth a lesson. */
#include "invent_houses.h"
#include "suite.h"

/* -- whatever a row looks at is weighed ------------------------------------------------------- */

static bool is_weighed(const struct answer_weights *answer, const struct question *question,
                       unsigned cell)
{
	bool first = cell == 0, last = cell == question->cut_count;

	for (size_t o = 0; o < answer->option_count; o++)
		if (answer->option[o].index == cell && answer->option[o].weight > 0)
			return true;
	for (size_t s = 0; s < answer->stretch_count; s++)
		if (answer->stretch[s].weight > 0 &&
		    (first || answer->stretch[s].high >= question->cut[cell - 1]) &&
		    (last || answer->stretch[s].low < question->cut[cell]))
			return true;
	return false;
}

/* Years of age, as days on the day of the book. */
static struct stretch as_days(struct stretch age)
{
	return (struct stretch){date_years_before(book.on, (int)age.high + 1) + 1,
	                        date_years_before(book.on, (int)age.low), age.weight};
}

static bool is_aged(const struct answer_weights *answer, const struct question *question,
                    unsigned cell)
{
	bool aged = false;

	for (size_t s = 0; s < answer->stretch_count; s++) {
		struct stretch days = as_days(answer->stretch[s]);
		struct answer_weights one = {.stretch = &days, .stretch_count = 1};

		aged |= is_weighed(&one, question, cell);
	}
	return aged;
}

/* Whether any entry speaks of the answer; one that nobody weighs is as likely as the others. */
static bool may_be_met(enum scope scope, uint16_t of, question_index index, unsigned cell)
{
	const struct question *question = &book.question[index];
	bool spoken_of = false;

	for (size_t o = 0; o < book.weights->often_count; o++) {
		const struct often *often = &book.weights->often[o];
		bool own = often->scope == scope && often->of == of,
		     all = often->scope == question->scope && often->of == INDEX_NONE;

		for (size_t a = 0; (own || all) && a < often->answer_count; a++) {
			if (often->answer[a].question != index)
				continue;
			spoken_of = true;
			if (question->form == FORM_DATE
			            ? is_aged(&often->answer[a], question, cell)
			            : is_weighed(&often->answer[a], question, cell))
				return true;
		}
	}
	return !spoken_of;
}

static size_t looked_at;

static void assert_met(enum scope scope, uint16_t of, const char *id,
                       const struct condition *condition)
{
	const struct question *question;

	for (const struct condition *child = condition ? condition->child : NULL; child;
	     child = child->next)
		assert_met(scope, of, id, child);
	if (!condition || condition->form != CONDITION_TEST)
		return;
	question = &book.question[condition->question];
	if (question->form == FORM_MEASURED || question->scope == SCOPE_PART)
		return;
	for (unsigned cell = 0; cell < question->cell_count; cell++, looked_at++)
		ck_assert_msg(may_be_met(scope, of, condition->question, cell),
		              "%s: answer %u of `%s` is never met", id, cell, question->id);
}

START_TEST(every_answer_that_a_row_looks_at_is_met)
{
	for (size_t k = 0; k < book.kind_count; k++)
		for (size_t r = 0; r < book.kind[k].row_count; r++)
			assert_met(SCOPE_POINT, (uint16_t)k, book.kind[k].row[r].id,
			           book.kind[k].row[r].when);
	for (size_t t = 0; t < book.type_count; t++) {
		const struct type *type = &book.type[t];

		for (size_t r = 0; r < type->row_count; r++)
			assert_met(SCOPE_PROTECTION, (uint16_t)t, type->row[r].id,
			           type->row[r].when);
		for (size_t s = 0; s < type->series_count; s++)
			assert_met(SCOPE_PROTECTION, (uint16_t)t, type->series[s].row.id,
			           type->series[s].row.when);
	}
	ck_assert_uint_gt(looked_at, 2000);
}
END_TEST

START_TEST(every_use_has_a_site_and_every_kind_a_room)
{
	const struct question *use = &book.question[book.known.part_use];

	for (unsigned cell = 0; cell < use->cell_count; cell++) {
		bool met = false;

		for (size_t s = 0; s < book.weights->site_count; s++)
			for (size_t u = 0; u < book.weights->site[s].use_count; u++)
				met |= book.weights->site[s].use[u] == cell &&
				       book.weights->site[s].weight > 0;
		ck_assert_msg(met, "no site has a part of the use %s", use->option[cell].id);
	}
	for (size_t k = 0; k < book.kind_count; k++) {
		bool met = false;

		for (size_t r = 0; r < book.weights->room_count; r++)
			for (size_t h = 0; h < book.weights->room[r].hold_count; h++)
				met |= book.weights->room[r].holds[h].index == k &&
				       book.weights->room[r].holds[h].weight > 0;
		ck_assert_msg(met, "no room holds a %s", book.kind[k].id);
	}
}
END_TEST

/* -- what comes of it ------------------------------------------------------------------------- */

enum { HOUSES = 400, LEAST_IN_A_THOUSAND = 25 };

struct mix {
	struct judge *judge;
	size_t points, verdict[VERDICT_COUNT], urgency[URGENCY_COUNT];
};

static void count_point(const struct item *point, void *to)
{
	struct mix *mix = to;
	struct assessment out;
	struct err err = {0};

	ck_assert_msg(judge_point(mix->judge, point, &out, &err), "%s", err.message);
	mix->points++;
	mix->verdict[out.verdict]++;
	mix->urgency[out.urgency]++;
}

static void assert_not_rare(const char *name, size_t count, const struct mix *mix)
{
	printf(" %s %zu", name, (count * 100 + mix->points / 2) / mix->points);
	ck_assert_msg(count * 1000 >= mix->points * LEAST_IN_A_THOUSAND, "%s: %zu of %zu points",
	              name, count, mix->points);
}

START_TEST(no_verdict_and_no_urgency_is_rare)
{
	struct mix mix = {.judge = judge_create(&book)};
	struct err err = {0};

	ck_assert_ptr_nonnull(mix.judge);
	for (uint64_t seed = 0; seed < HOUSES; seed++) {
		invent(&(struct invention){.seed = seed, .level = LEVEL_DOUBT + seed % 2});
		ck_assert_msg(judge_survey(mix.judge, &survey, &err), "%s", err.message);
		walk_points(count_point, &mix);
	}
	printf("%d houses at levels 3 and 4, of %zu points in a hundred:", HOUSES, mix.points);
	for (unsigned v = 0; v < VERDICT_COUNT; v++)
		assert_not_rare(verdict_name((enum verdict)v), mix.verdict[v], &mix);
	for (unsigned u = 0; u < URGENCY_COUNT; u++)
		assert_not_rare(urgency_name((enum urgency)u), mix.urgency[u], &mix);
	printf("\n");
	judge_destroy(mix.judge);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("weights_builtin");
	TCase *tcase = tcase_create("builtin");

	tcase_add_checked_fixture(tcase, setup_builtin, teardown);
	tcase_set_timeout(tcase, 120);
	tcase_add_test(tcase, every_answer_that_a_row_looks_at_is_met);
	tcase_add_test(tcase, every_use_has_a_site_and_every_kind_a_room);
	tcase_add_test(tcase, no_verdict_and_no_urgency_is_rare);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
