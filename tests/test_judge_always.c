/* What must be so of every verdict, whatever the figures. */
#include "tundish/house/verdict.h"

#include "judge_books.h"
#include "oracle_inside.h"
#include "random_house.h"
#include "suite.h"

#include <check.h>

enum { PATHS_MOST = 256 };

static bool inside(struct range range, struct range of)
{
	return range.least >= of.least && range.most <= of.most;
}

/* What is kept of a verdict: the judge's own arrays hold until its next one. */
struct kept {
	struct assessment assessment;
	bool given_up; /* more doubt than can be weighed */
	struct path path[PATHS_MOST];
};

static void judge_now(struct judge *judge, const struct house *house, struct kept *out)
{
	struct err err = {0};

	ck_assert(judge_survey(judge, &house->survey, NULL));
	out->given_up = !judge_point(judge, house->point, &out->assessment, &err);
	if (out->given_up) {
		/* all is possible, and answering is the way out */
		ck_assert_msg(err.kind == ERR_TEXT, "%s", err.message);
		ck_assert_uint_eq(out->assessment.verdict, VERDICT_UNDECIDED);
		ck_assert(out->assessment.category.least == CATEGORY_LEAST &&
		          out->assessment.category.most == CATEGORY_MOST);
		ck_assert_uint_gt(out->assessment.ask_count, 0);
	}
	ck_assert_uint_le(out->assessment.path_count, PATHS_MOST);
	for (size_t i = 0; i < out->assessment.path_count; i++)
		out->path[i] = out->assessment.path[i];
}

static const struct path *path_like(const struct kept *kept, const struct path *path)
{
	for (size_t i = 0; i < kept->assessment.path_count; i++) {
		const struct path *other = &kept->path[i];

		if (other->fluid == path->fluid && other->inlet_index == path->inlet_index &&
		    other->mechanism == path->mechanism && strcmp(other->to, path->to) == 0)
			return other;
	}
	return NULL;
}

/* No outcome is new: the ranges lie within what they were. */
static void check_narrower(const struct kept *before, const struct kept *after, bool paths,
                           const char *title)
{
	const struct assessment *a = &after->assessment, *b = &before->assessment;

	if (after->given_up)
		return;
	ck_assert_msg(inside(a->category, b->category), "%s: category", title);
	ck_assert_msg(inside(a->on_paper, b->on_paper), "%s: on paper", title);
	ck_assert_msg(inside(a->in_fact, b->in_fact), "%s: in fact", title);
	for (size_t i = 0; paths && i < a->path_count; i++) {
		const struct path *path = &after->path[i], *was = path_like(before, path);

		ck_assert_ptr_nonnull(was);
		ck_assert_msg(inside(path->needs, was->needs) &&
		                      inside(path->good_for, was->good_for) &&
		                      inside(path->accepted, was->accepted) &&
		                      inside(path->found, was->found) &&
		                      inside(path->on_paper, was->on_paper) &&
		                      inside(path->in_fact, was->in_fact),
		              "%s: path %zu to %s", title, i, path->to);
	}
}

static struct item *of_survey(struct house *house, const struct item *item)
{
	struct item *parent;

	if (item->scope == SCOPE_PREMISES)
		return house->survey.premises;
	if (item->scope != SCOPE_INLET)
		return survey_find(&house->survey, item->ref, strlen(item->ref));
	parent = survey_find(&house->survey, item->parent->ref, strlen(item->parent->ref));
	for (size_t i = 0; i < parent->child_count; i++)
		if (parent->child[i]->scope == SCOPE_INLET &&
		    strcmp(parent->child[i]->ref, item->ref) == 0)
			return parent->child[i];
	return house_add(house, parent, SCOPE_INLET, item->ref); /* it was not there yet */
}

/* What is fitted on an inlet. */
static void answer_fitted(struct house *house, struct item *inlet, size_t step)
{
	inlet->nothing_said = false;
	if (house_in(house, 1, 6))
		inlet->cannot_tell = true;
	else if (house_in(house, 5, 6))
		house_protections(house, inlet, arena_print(&house->arena, "n%zu", step), 2);
}

/* Answers one of the questions asked. @return false: it is one that changes who is who, not what is so. */
static bool answer_one(struct house *house, const struct ask *ask, size_t step)
{
	const struct known_questions *known = &house->book->known;
	struct item *item = of_survey(house, ask->item);
	const struct question *question;

	if (ask->question == QUESTION_NONE) {
		ck_assert_msg(item->nothing_said, "what is fitted is known");
		answer_fitted(house, item, step);
		return true;
	}
	ck_assert_msg(!item_answer(item, ask->question), "it was answered");
	question = &house->book->question[ask->question];
	if (question->scope == SCOPE_TEST && item->scope == SCOPE_PROTECTION) {
		item = house_add(house, item, SCOPE_TEST,
		                 arena_print(&house->arena, "%stn%zu", item->ref, step));
		house_put(house, item, ask->question, house_text(house, question));
	} else if (ask->question == known->inlet_fed_by) {
		house_put(house, item, ask->question, house_pipe(house, true, true));
	} else if (ask->question == known->protection_type) {
		house_put(house, item, ask->question,
		          house->book->type[chance_of(house->chance, house->book->type_count)].id);
	} else if (ask->question == known->room_part) {
		house_put(house, item, ask->question, "cannot_tell");
	} else {
		house_put(house, item, ask->question, house_text(house, question));
	}
	/* a date may make another test the latest */
	return ask->question != known->test_date;
}

/* Answer what is asked, one after the other, until nothing is. */
static size_t answer_all(struct judge *judge, struct house *house, const char *title)
{
	static struct kept before, after;
	size_t step = 0;

	judge_now(judge, house, &before);
	while (before.assessment.ask_count > 0) {
		const struct assessment *now = &before.assessment;
		const struct ask ask = now->ask[chance_of(house->chance, now->ask_count)];

		ck_assert_msg(step++ < 300, "%s: there is no end of asking", title);
		if (answer_one(house, &ask, step)) {
			judge_now(judge, house, &after);
			/* who is met first is another matter, once it is known on which pipe */
			check_narrower(&before, &after,
			               ask.question != house->book->known.inlet_fed_by &&
			                       !before.given_up,
			               title);
		} else {
			judge_now(judge, house, &after);
		}
		before = after;
	}
	ck_assert_msg(before.assessment.verdict != VERDICT_UNDECIDED, "%s: undecided, and no ask",
	              title);
	return step;
}

START_TEST(answering_narrows_and_comes_to_an_end)
{
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);
	size_t steps = 0, houses = 0;

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < 300 * scale(); n++) {
		struct chance chance = {n + 77000000000};
		struct house house;
		char title[60];

		snprintf(title, sizeof title, "seed %zu", n);
		house_make(&house, book, &chance, &book->kind[n % book->kind_count], INDEX_NONE,
		           n % 2 ? 20 : 60);
		steps += answer_all(judge, &house, title);
		houses++;
		house_end(&house);
	}
	printf("answering all: %zu houses, %zu answers\n", houses, steps);
	judge_destroy(judge);
}
END_TEST

/* Which rows of a protection hold, all of its questions having one answer. */
static uint64_t rows_held(const struct house *house, const struct item *protection)
{
	const struct type *type = &house->book->type[protection->of];
	struct oracle *o = calloc(1, sizeof *o);
	uint64_t held = 0;

	ck_assert_ptr_nonnull(o);
	*o = (struct oracle){.survey = &house->survey, .book = house->book, .point = house->point};
	for (size_t r = 0; r < type->row_count; r++)
		oracle_add_answers(o, type->row[r].when, protection);
	oracle_start(o, NULL);
	for (size_t r = 0; r < type->row_count && r < 64; r++)
		if (oracle_holds(o, type->row[r].when, protection))
			held |= UINT64_C(1) << r;
	if (oracle_completions(o, NULL, 1) > 1)
		held = UINT64_MAX; /* not all are answered */
	free(o);
	return held;
}

static bool no_higher(struct range range, struct range was)
{
	return range.least <= was.least && range.most <= was.most;
}

static void check_no_higher(const struct kept *before, const struct kept *after, const char *title)
{
	for (size_t i = 0; i < after->assessment.path_count; i++) {
		const struct path *path = &after->path[i], *was = path_like(before, path);

		ck_assert_ptr_nonnull(was);
		ck_assert_msg(no_higher(path->good_for, was->good_for) &&
		                      no_higher(path->accepted, was->accepted) &&
		                      no_higher(path->found, was->found),
		              "%s: more rows hold, and a figure rose on the way to %s", title,
		              path->to);
	}
}

/* Give one question of a protection another answer. */
static void answer_otherwise(struct house *house, struct item *protection)
{
	const struct type *type = &house->book->type[protection->of];
	question_index q;

	if (type->question_count == 0)
		return;
	q = type->question[chance_of(house->chance, type->question_count)];
	if (house->book->question[q].scope == SCOPE_PROTECTION &&
	    house->book->question[q].form < FORM_TEXT)
		house_put(house, protection, q, house_text(house, &house->book->question[q]));
}

/* Another answer of the first protection on the first inlet. @return whether more rows hold of it than before. */
static bool compare_states(struct judge *judge, struct house *house, const char *title)
{
	static struct kept before, after;
	struct item *protection = survey_find(&house->survey, "c0p0", 4);
	uint64_t held, now;

	if (!protection || protection->of == INDEX_NONE)
		return false;
	held = rows_held(house, protection);
	judge_now(judge, house, &before);
	answer_otherwise(house, protection);
	now = rows_held(house, protection);
	judge_now(judge, house, &after);
	if (held == UINT64_MAX || now == UINT64_MAX || held == now || before.given_up ||
	    after.given_up)
		return false;
	if ((now & held) == held)
		check_no_higher(&before, &after, title);
	else if ((now & held) == now)
		check_no_higher(&after, &before, title);
	else
		return false;
	return true;
}

START_TEST(worse_state_is_never_worth_more)
{
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);
	size_t compared = 0;

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < 1500 * scale(); n++) {
		struct chance chance = {n + 88000000000};
		struct house house;
		char title[60];

		snprintf(title, sizeof title, "seed %zu", n);
		house_make(&house, book, &chance, &book->kind[n % book->kind_count],
		           (uint16_t)(n % book->type_count), 100);
		compared += compare_states(judge, &house, title);
		house_end(&house);
	}
	printf("states better or worse: %zu\n", compared);
	ck_assert_uint_gt(compared, 40);
	judge_destroy(judge);
}
END_TEST

static void say_of_point(struct house *house)
{
	house_say(house, house->point, 50);
	for (size_t i = 0; i < house->point->child_count; i++)
		for (size_t p = 0; p < house->point->child[i]->child_count; p++)
			house_say(house, house->point->child[i]->child[p], 50);
}

static bool same_range(struct range a, struct range b)
{
	return a.least == b.least && a.most == b.most;
}

/* An answer of a point or a protection needs no new look at the tree of branches. */
START_TEST(answers_need_no_new_tree)
{
	static struct kept fresh;
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < 200 * scale(); n++) {
		struct chance chance = {n + 99000000000};
		struct house house;
		struct assessment old;
		struct err err = {0};

		house_make(&house, book, &chance, &book->kind[n % book->kind_count], INDEX_NONE,
		           50);
		ck_assert(judge_survey(judge, &house.survey, NULL));
		say_of_point(&house);
		judge_point(judge, house.point, &old, &err);
		judge_now(judge, &house, &fresh);
		ck_assert_uint_eq(old.verdict, fresh.assessment.verdict);
		ck_assert_uint_eq(old.urgency, fresh.assessment.urgency);
		ck_assert(same_range(old.on_paper, fresh.assessment.on_paper));
		ck_assert(same_range(old.in_fact, fresh.assessment.in_fact));
		house_end(&house);
	}
	judge_destroy(judge);
}
END_TEST

static bool has_reason(const struct assessment *of, const struct kind *kind, unsigned fluid)
{
	for (size_t i = 0; i < of->because_count; i++) {
		const struct row *row = of->because[i].row;

		if (row >= kind->row && row < kind->row + kind->row_count &&
		    row->fluid == (int)fluid)
			return true;
	}
	return false;
}

/* Also where it is one of two rows and nobody can say which. */
START_TEST(no_category_is_without_a_reason)
{
	const struct rulebook *book = book_of(_i);
	struct judge *judge = judge_create(book);
	size_t fluids = 0;

	ck_assert_ptr_nonnull(judge);
	for (size_t n = 0; n < 400 * scale(); n++) {
		struct chance chance = {n + 55000000000};
		const struct kind *kind = &book->kind[n % book->kind_count];
		struct house house;
		struct assessment of;
		struct err err = {0};

		house_make(&house, book, &chance, kind, INDEX_NONE, 50 + 10 * (n % 6));
		ck_assert(judge_survey(judge, &house.survey, NULL));
		if (judge_point(judge, house.point, &of, &err))
			for (size_t i = 0; i < of.fluid_count; i++) {
				unsigned fluid = of.fluid[i].fluid;

				if (fluid == FLUID_UNDERTAKER)
					continue;
				fluids++;
				ck_assert_msg(has_reason(&of, kind, fluid),
				              "%s, %zu: no reason for %s", kind->id, n,
				              kind->fluid[fluid].id);
			}
		house_end(&house);
	}
	ck_assert_uint_gt(fluids, 500);
	judge_destroy(judge);
}
END_TEST

static Suite *suite(void)
{
	Suite *s = suite_create("judge_always");
	TCase *always = tcase_create("always");

	tcase_add_unchecked_fixture(always, read_books, finish_books);
	tcase_set_timeout(always, 120.0 * (double)scale());
	tcase_add_loop_test(always, answering_narrows_and_comes_to_an_end, 0, 2);
	tcase_add_loop_test(always, worse_state_is_never_worth_more, 0, 2);
	tcase_add_loop_test(always, answers_need_no_new_tree, 0, 2);
	tcase_add_loop_test(always, no_category_is_without_a_reason, 0, 2);
	suite_add_tcase(s, always);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
