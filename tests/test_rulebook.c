/* What makes a book unfit for use, each with the place that it is named at; and how numbers are cut
 * into cells. */
#include "tundish/assess/diagram.h"
#include "tundish/assess/rulebook.h"

#include "suite.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

enum {
	QUESTIONS_MOST = 80,
	ROWS_MOST = 8,
};

/* A book under construction: one kind, one type, an urgency table. */
struct making {
	struct rulebook book;
	struct source text;
	struct faults faults;
	struct arena arena; /* of the faults */
	struct question question[QUESTIONS_MOST];
	struct kind kind;
	struct type type[2];
	question_index asked_of_kind[QUESTIONS_MOST], asked_of_type[QUESTIONS_MOST];
	struct row kind_row[ROWS_MOST], type_row[ROWS_MOST];
	struct series series[2];
	struct urgency_row urgency[ROWS_MOST];
	uint32_t next_place;
};

static struct making *making;

static struct span next_span(void)
{
	making->next_place += 10;
	return (struct span){making->next_place, 4};
}

static void start(void)
{
	making = calloc(1, sizeof *making);
	ck_assert_ptr_nonnull(making);
	arena_init(&making->arena);
	arena_init(&making->book.arena);
	faults_init(&making->faults, &making->arena);
	making->text = (struct source){"book.yaml", "", 0};
	making->kind = (struct kind){
	        .id = "basin",
	        .inlet = {{"cold", "cold", false},        {"hot", "hot", false}         },
	        .inlet_count = 2,
	        .fluid = {{"grey", "grey water", {0, 0}}, {"foul", "foul water", {0, 0}}},
	        .fluid_count = 2,
	        .question = making->asked_of_kind,
	        .row = making->kind_row,
	        .span = next_span(),
	        .text = &making->text,
	};
	for (int t = 0; t < 2; t++)
		making->type[t] = (struct type){
		        .id = t == 0 ? "ED" : "EC",
		        .good_for = {3, 3},
		        .shuts_downstream = QUESTION_NONE,
		        .span = next_span(),
		        .text = &making->text,
		};
	making->type[0].question = making->asked_of_type;
	making->type[0].row = making->type_row;
	making->type[0].series = making->series;
	making->book.question = making->question;
	making->book.kind = &making->kind;
	making->book.kind_count = 1;
	making->book.type = making->type;
	making->book.type_count = 2;
	making->book.urgency = making->urgency;
	memset(&making->book.known, 0xFF, sizeof making->book.known);
}

static void end(void)
{
	rulebook_finish(&making->book);
	arena_finish(&making->arena);
	free(making);
}

/* -- questions and conditions ------------------------------------------------------------------ */

static struct option many_options[CELLS_MOST + 1];

static question_index question(enum scope scope, enum form form, size_t option_count)
{
	size_t q = making->book.question_count++;

	ck_assert_uint_lt(q, QUESTIONS_MOST);
	for (size_t i = 0; i <= CELLS_MOST; i++)
		many_options[i] = (struct option){"o", "o"};
	making->question[q] = (struct question){
	        .id = arena_print(&making->arena, "q%zu", q),
	        .label = "?",
	        .at = "",
	        .scope = scope,
	        .form = form,
	        .least = 0,
	        .most = 1000,
	        .option = many_options,
	        .option_count = option_count,
	        .span = next_span(),
	        .text = &making->text,
	};
	if (scope == SCOPE_POINT)
		making->asked_of_kind[making->kind.question_count++] = (question_index)q;
	if (scope == SCOPE_PROTECTION)
		making->asked_of_type[making->type[0].question_count++] = (question_index)q;
	return (question_index)q;
}

static struct condition *condition(enum condition_form form)
{
	struct condition *out = arena_take(&making->arena, sizeof *out);

	ck_assert_ptr_nonnull(out);
	out->form = form;
	return out;
}

static struct condition *is(question_index q, cells holds)
{
	struct condition *out = condition(CONDITION_TEST);

	out->question = q;
	out->holds = holds;
	return out;
}

static struct condition *yes(question_index q)
{
	return is(q, 1 << CELL_YES);
}

static struct condition *no(question_index q)
{
	return is(q, 1 << CELL_NO);
}

static struct condition *bound(question_index q, enum threshold threshold, double value)
{
	struct condition *out = is(q, 0);

	out->threshold = threshold;
	out->bound = value;
	return out;
}

static struct condition *join(enum condition_form form, struct condition *a, struct condition *b)
{
	struct condition *out = condition(form);

	out->child = a;
	if (a)
		a->next = b;
	return out;
}

/* -- rows -------------------------------------------------------------------------------------- */

static struct row row(const char *id, struct condition *when)
{
	return (struct row){
	        .id = id,
	        .says = "so",
	        .source_text = "no source",
	        .standing = STANDING_COMMON_PRACTICE,
	        .when = when,
	        .span = next_span(),
	        .text = &making->text,
	        .fluid = ROW_NONE,
	        .replaces = ROW_NONE,
	        .good_for = {CATEGORY_MOST, CATEGORY_MOST},
	        .accepted = {CATEGORY_MOST, CATEGORY_MOST},
	        .found = {CATEGORY_MOST, CATEGORY_MOST},
	};
}

static struct row *fluid_row(const char *id, struct condition *when, int fluid, unsigned category)
{
	struct row *out = &making->kind_row[making->kind.row_count++];

	*out = row(id, when);
	out->fluid = fluid;
	out->category = (uint8_t)category;
	out->by = 1 << BACK_SIPHONAGE;
	out->inlets = 3;
	return out;
}

static struct row *type_row(const char *id, struct condition *when, unsigned found)
{
	struct row *out = &making->type_row[making->type[0].row_count++];

	*out = row(id, when);
	for (int m = 0; m < MECHANISM_COUNT; m++)
		out->found[m] = (uint8_t)found;
	return out;
}

static struct row *urgency_row(const char *id, struct condition *when, enum urgency urgency)
{
	struct urgency_row *out = &making->urgency[making->book.urgency_count++];

	out->row = row(id, when);
	out->row.urgency = urgency;
	return &out->row;
}

/* -- what is expected
 * --------------------------------------------------------------------------- */

static void expect_settled(void)
{
	bool settled = rulebook_settle(&making->book, &making->faults);

	ck_assert_msg(settled, "%s",
	              making->faults.count ? making->faults.item[0].message : "no fault");
	ck_assert_uint_eq(making->faults.count, 0);
}

/* Exactly one fault, at this place, that has these words. */
static void expect_one_fault(struct span span, const char *words)
{
	const struct fault *fault = making->faults.item;

	ck_assert_msg(making->faults.count == 1, "%zu faults: %s, %s", making->faults.count,
	              making->faults.count > 0 ? fault[0].message : "",
	              making->faults.count > 1 ? fault[1].message : "");
	ck_assert_int_eq(fault->severity, SEVERITY_FAULT);
	ck_assert_uint_eq(making->faults.fatal, 1);
	ck_assert_msg(strstr(fault->message, words) != NULL, "\"%s\" in \"%s\"", words,
	              fault->message);
	ck_assert_ptr_eq(fault->source, &making->text);
	ck_assert_uint_eq(fault->span.at, span.at);
	ck_assert_uint_eq(fault->span.length, span.length);
}

static void expect_check_fault(struct span span, const char *words)
{
	expect_settled();
	ck_assert(!rulebook_check(&making->book, &making->faults));
	expect_one_fault(span, words);
}

static void expect_sound(void)
{
	expect_settled();
	ck_assert_msg(rulebook_check(&making->book, &making->faults), "%s",
	              making->faults.count ? making->faults.item[0].message : "");
	ck_assert_uint_eq(making->faults.count, 0);
}

/* A book with nothing wrong, to which each test adds one thing. */
static question_index a, b;

static void start_sound(void)
{
	start();
	a = question(SCOPE_POINT, FORM_YES_NO, 0);
	b = question(SCOPE_POINT, FORM_YES_NO, 0);
	fluid_row("a_four", yes(a), 0, 4);
	fluid_row("b_three", yes(b), 0, 3);
	fluid_row("grey_none", NULL, 0, 1)->otherwise = true;
	fluid_row("foul_none", NULL, 1, 2)->otherwise = true;
}

/* -- rows of a kind -------------------------------------------------------------------------- */

START_TEST(a_sound_book_has_no_fault)
{
	question_index c = question(SCOPE_PROTECTION, FORM_YES_NO, 0);

	type_row("gone", yes(c), 1);
	type_row("worn", no(c), 2);
	urgency_row("soon", yes(question(SCOPE_PREMISES, FORM_YES_NO, 0)), URGENCY_NOW);
	urgency_row("else", NULL, URGENCY_WATCH);
	expect_sound();
}
END_TEST

START_TEST(a_row_that_contradicts_itself_can_never_count)
{
	struct row *bad = fluid_row("both", join(CONDITION_ALL, yes(b), no(b)), 1, 5);

	expect_check_fault(bad->span, "'both' can never");
}
END_TEST

START_TEST(a_number_out_of_its_range_can_never_count)
{
	question_index height = question(SCOPE_POINT, FORM_NUMBER, 0);
	struct row *bad = fluid_row("high", bound(height, THRESHOLD_AT_LEAST, 1001), 1, 5);

	expect_check_fault(bad->span, "'high' can never");
}
END_TEST

START_TEST(a_row_that_is_always_replaced_can_never_count)
{
	struct row *bad = fluid_row("replaced", yes(b), 1, 5);
	size_t index = making->kind.row_count - 1;

	fluid_row("replacing", NULL, 1, 4)->replaces = (int)index;
	making->kind_row[3].otherwise = false; /* else it could never count either */
	making->kind_row[3].by = 1 << BACK_PRESSURE;
	expect_check_fault(bad->span, "'replaced' can never");
}
END_TEST

START_TEST(an_otherwise_below_a_row_that_always_holds_can_never_count)
{
	fluid_row("always", NULL, 1, 5);
	expect_check_fault(making->kind_row[3].span, "'foul_none' can never");
}
END_TEST

START_TEST(a_row_below_a_higher_one_never_decides)
{
	struct row *bad = fluid_row("lower", join(CONDITION_ALL, yes(a), yes(b)), 0, 3);

	expect_check_fault(bad->span, "'lower' never decides");
}
END_TEST

/* The same row decides when it names a mechanism, or an inlet, that the higher ones do not. */
START_TEST(a_row_decides_by_what_it_alone_names)
{
	struct row *lower = fluid_row("lower", join(CONDITION_ALL, yes(a), yes(b)), 0, 3);

	if (_i == 0) {
		lower->by = 1 << BACK_PRESSURE;
	} else {
		making->kind_row[0].inlets = 1;
		making->kind_row[1].inlets = 1;
	}
	expect_sound();
}
END_TEST

/* It is no figure: what it says is said beside another of the same effect too. */
START_TEST(a_circumstance_need_not_decide)
{
	struct row *first = &making->kind_row[making->kind.row_count++];
	struct row *second = &making->kind_row[making->kind.row_count++];

	*first = row("open", yes(a));
	first->opens = true;
	*second = row("open_too", join(CONDITION_ALL, yes(a), yes(b)));
	second->opens = true;
	expect_sound();
}
END_TEST

START_TEST(a_circumstance_must_be_able_to_hold)
{
	struct row *bad = &making->kind_row[making->kind.row_count++];

	*bad = row("open", join(CONDITION_ALL, yes(a), no(a)));
	bad->opens = true;
	expect_check_fault(bad->span, "'open' can never");
}
END_TEST

/* -- rows of a type, the series, the table of urgency ---------------------------------------- */

START_TEST(a_row_of_a_type_that_can_never_match)
{
	question_index c = question(SCOPE_PROTECTION, FORM_CHOICE, 3);
	struct row *bad = type_row("neither", join(CONDITION_ALL, is(c, 1), is(c, 6)), 1);

	expect_check_fault(bad->span, "'neither' can never match");
}
END_TEST

START_TEST(a_row_of_a_type_that_lowers_nothing)
{
	question_index c = question(SCOPE_PROTECTION, FORM_YES_NO, 0);
	struct row *bad = type_row("three", yes(c), 3); /* the type is good for 3 in any case */

	expect_check_fault(bad->span, "'three' never decides");
}
END_TEST

START_TEST(a_row_of_a_type_decides_by_each_of_its_effects)
{
	question_index c = question(SCOPE_PROTECTION, FORM_YES_NO, 0);
	struct row *effect = type_row("effect", yes(c), CATEGORY_MOST);

	if (_i == 0)
		effect->good_for[BACK_PRESSURE] = 2;
	else if (_i == 1)
		effect->accepted[BACK_SIPHONAGE] = 1;
	else if (_i == 2)
		effect->unproven = true;
	else if (_i == 3)
		effect->due = true;
	else
		effect->urgency = URGENCY_WATCH;
	expect_sound();
}
END_TEST

START_TEST(a_series_that_can_never_match)
{
	question_index c = question(SCOPE_PROTECTION, FORM_YES_NO, 0);
	struct series *series = &making->series[making->type[0].series_count++];

	series->row = row("pair", join(CONDITION_ALL, yes(c), no(c)));
	series->counts_as = 1;
	expect_check_fault(series->row.span, "'pair' can never match");
}
END_TEST

START_TEST(a_line_of_the_urgency_table_below_one_that_takes_all)
{
	question_index needs = question(SCOPE_OUTCOME, FORM_NUMBER, 0);
	struct row *bad;

	making->question[needs].least = 1;
	making->question[needs].most = 5;
	urgency_row("four", bound(needs, THRESHOLD_AT_LEAST, 4), URGENCY_NOW);
	urgency_row("three", bound(needs, THRESHOLD_AT_LEAST, 3), URGENCY_DAYS);
	bad = urgency_row("five", bound(needs, THRESHOLD_AT_LEAST, 5), URGENCY_WATCH);
	expect_check_fault(bad->span, "'five' never decides");
}
END_TEST

/* -- too much for one diagram ---------------------------------------------------------------- */

/* p0..p19, then q0..q19: "some p without its q" has to remember 20 answers on the way down. */
static struct condition *some_without_its_own(enum scope scope)
{
	question_index p[20], q[20];
	struct condition *out = condition(CONDITION_ANY);

	for (size_t i = 0; i < 20; i++)
		p[i] = question(scope, FORM_YES_NO, 0);
	for (size_t i = 0; i < 20; i++)
		q[i] = question(scope, FORM_YES_NO, 0);
	for (size_t i = 0; i < 20; i++) {
		struct condition *pair = join(CONDITION_ALL, yes(p[i]), no(q[i]));

		pair->next = out->child;
		out->child = pair;
	}
	return out;
}

START_TEST(rows_of_a_kind_too_entangled)
{
	fluid_row("entangled", some_without_its_own(SCOPE_POINT), 1, 5);
	expect_check_fault(making->kind.span, "entangled");
}
END_TEST

START_TEST(rows_of_a_type_too_entangled)
{
	type_row("entangled", some_without_its_own(SCOPE_PROTECTION), 1);
	expect_check_fault(making->type[0].span, "entangled");
}
END_TEST

/* Simple rows, but more questions than a diagram has variables. */
START_TEST(more_than_sixty_four_questions_tested)
{
	struct condition *any = condition(CONDITION_ANY);

	for (size_t i = 0; i < VARIABLES_MOST + (size_t)_i - 2; i++) {
		struct condition *test = yes(question(SCOPE_POINT, FORM_YES_NO, 0));

		test->next = any->child;
		any->child = test;
	}
	fluid_row("any_of_them", any, 1, 5);
	if (_i == 0)
		expect_sound();
	else
		expect_check_fault(making->kind.span, "");
}
END_TEST

/* -- cells ----------------------------------------------------------------------------------- */

START_TEST(sixty_four_options_and_one_more)
{
	question_index many = question(SCOPE_POINT, FORM_CHOICE, CELLS_MOST + (size_t)_i);

	fluid_row("last", is(many, (cells)1 << 63), 1, 5);
	if (_i == 0) {
		expect_sound();
		ck_assert_uint_eq(making->question[many].cell_count, CELLS_MOST);
	} else {
		ck_assert(!rulebook_settle(&making->book, &making->faults));
		expect_one_fault(making->question[many].span, "65 values");
	}
}
END_TEST

START_TEST(sixty_four_stretches_and_one_more)
{
	question_index height = question(SCOPE_POINT, FORM_NUMBER, 0);
	struct condition *any = condition(CONDITION_ANY);

	for (int i = 0; i < CELLS_MOST - 1 + _i; i++) {
		struct condition *all =
		        join(CONDITION_ALL, bound(height, THRESHOLD_AT_LEAST, 10 * i + 10),
		             i % 2 ? yes(a) : yes(b));

		all->next = any->child;
		any->child = all;
	}
	fluid_row("ladder", any, 1, 5);
	if (_i == 0) {
		expect_settled();
		ck_assert_uint_eq(making->question[height].cell_count, CELLS_MOST);
		ck_assert_uint_eq(question_all(&making->question[height]), ~(cells)0);
	} else {
		ck_assert(!rulebook_settle(&making->book, &making->faults));
		expect_one_fault(making->question[height].span, "65 values");
	}
}
END_TEST

/* Three thresholds of two rows, one of them twice, given out of order. */
START_TEST(thresholds_cut_a_number_once_each_and_in_order)
{
	question_index height = question(SCOPE_POINT, FORM_NUMBER, 0);
	struct condition *high = bound(height, THRESHOLD_AT_LEAST, 300);
	struct condition *low = bound(height, THRESHOLD_BELOW, 20);
	struct condition *middle = bound(height, THRESHOLD_AT_LEAST, 150);
	struct condition *not_high = bound(height, THRESHOLD_BELOW, 300);

	fluid_row("high", high, 1, 5);
	fluid_row("low", low, 1, 4);
	fluid_row("middle", join(CONDITION_ALL, middle, not_high), 1, 3);
	expect_sound();
	ck_assert_uint_eq(making->question[height].cut_count, 3);
	ck_assert_uint_eq(making->question[height].cell_count, 4);
	ck_assert(making->question[height].cut[0] == 20 && making->question[height].cut[1] == 150 &&
	          making->question[height].cut[2] == 300);
	ck_assert_uint_eq(low->holds, 1);      /* 0001 */
	ck_assert_uint_eq(middle->holds, 12);  /* 1100 */
	ck_assert_uint_eq(high->holds, 8);     /* 1000 */
	ck_assert_uint_eq(not_high->holds, 7); /* 0111 */
}
END_TEST

/* -- measured tests -------------------------------------------------------------------------- */

static struct term right[1];
static struct measure measure;

static question_index measured(question_index height, question_index bore)
{
	question_index out = question(SCOPE_PROTECTION, FORM_MEASURED, 0);

	right[0] = (struct term){2, bore};
	measure = (struct measure){
	        {1, height},
                right, 1
        };
	making->question[out].measure = &measure;
	return out;
}

START_TEST(a_measured_number_tested_by_another_row)
{
	question_index height = question(SCOPE_PROTECTION, FORM_NUMBER, 0);
	question_index bore = question(SCOPE_PROTECTION, FORM_NUMBER, 0);
	question_index kept = measured(height, bore);

	type_row("lost", no(kept), 1);
	type_row("low", bound(_i ? bore : height, THRESHOLD_BELOW, 20), 2);
	ck_assert(!rulebook_settle(&making->book, &making->faults));
	expect_one_fault(making->question[kept].span, "tests too");
}
END_TEST

START_TEST(a_number_of_two_measured_tests)
{
	question_index height = question(SCOPE_PROTECTION, FORM_NUMBER, 0);
	question_index bore = question(SCOPE_PROTECTION, FORM_NUMBER, 0);
	question_index other = question(SCOPE_PROTECTION, FORM_NUMBER, 0);
	question_index kept = measured(height, bore);
	question_index second = question(SCOPE_PROTECTION, FORM_MEASURED, 0);
	/* each number that the two could share, on each side */
	struct term second_right[] = {
	        {3, _i == 1   ? bore
	            : _i == 3 ? height
	                      : other}
        };
	struct measure second_measure = {
	        {1, _i == 0   ? height
	            : _i == 2 ? bore
	                      : other},
	        second_right,
	        1
        };

	making->question[second].measure = &second_measure;
	type_row("lost", no(kept), 1);
	type_row("lost_too", no(second), 2);
	ck_assert(!rulebook_settle(&making->book, &making->faults));
	expect_one_fault(making->question[kept].span, "tests too");
}
END_TEST

/* A number that several types ask for may be measured in one and tested in another: one of each. */
START_TEST(a_measured_number_may_be_tested_by_another_type)
{
	question_index height = question(SCOPE_PROTECTION, FORM_NUMBER, 0);
	question_index bore = question(SCOPE_PROTECTION, FORM_NUMBER, 0);
	question_index kept = measured(height, bore);
	struct row elsewhere = row("low", bound(height, THRESHOLD_BELOW, 20));

	elsewhere.found[BACK_SIPHONAGE] = 1;
	type_row("lost", no(kept), 1);
	making->type[1].question = making->asked_of_type;
	making->type[1].question_count = 1; /* the height */
	making->type[1].row = &elsewhere;
	making->type[1].row_count = 1;
	expect_sound();
}
END_TEST

/* -- stretches ------------------------------------------------------------------------------- */

static double three_cuts[] = {10, 20, 30};

static const struct {
	const char *title;
	size_t cut_count;
	double low, high;
	cells expected;
} stretches[] = {
        {"no cut: one cell",                      0, -5,       5,        1 },
        {"below the first cut",                   3, 0,        9.99,     1 },
        {"on a cut is the cell above it",         3, 10,       10,       2 },
        {"just below a cut is the cell below it", 3, 9.999999, 9.999999, 1 },
        {"over one cut",                          3, 9,        10,       3 },
        {"up to a cut, not over it",              3, 10,       19.9,     2 },
        {"over two cuts",                         3, 15,       30,       14},
        {"all of it",                             3, -1e9,     1e9,      15},
        {"above the last",                        3, 30,       1e9,      8 },
        {"far below",                             3, -1e9,     -1e8,     1 },
        {"far above",                             3, 1e8,      1e9,      8 },
};

START_TEST(a_stretch_is_the_cells_that_it_meets)
{
	struct question number = {.form = FORM_NUMBER,
	                          .cut = three_cuts,
	                          .cut_count = stretches[_i].cut_count,
	                          .cell_count = (unsigned)stretches[_i].cut_count + 1};

	ck_assert_msg(question_stretch(&number, stretches[_i].low, stretches[_i].high) ==
	                      stretches[_i].expected,
	              "%s", stretches[_i].title);
}
END_TEST

START_TEST(the_sixty_fourth_cell_can_be_reached)
{
	double cut[CELLS_MOST - 1];
	struct question number = {.form = FORM_NUMBER,
	                          .cut = cut,
	                          .cut_count = CELLS_MOST - 1,
	                          .cell_count = CELLS_MOST,
	                          .least = 0,
	                          .most = 1000};

	for (int i = 0; i < CELLS_MOST - 1; i++)
		cut[i] = i + 1;
	ck_assert_uint_eq(question_stretch(&number, 63, 63), (cells)1 << 63);
	ck_assert_uint_eq(question_stretch(&number, 62, 63), (cells)3 << 62);
	ck_assert_uint_eq(question_stretch(&number, 0, 1000), ~(cells)0);
	ck_assert_uint_eq(question_stretch(&number, 0, 0), 1);
	ck_assert_uint_eq(question_all(&number), ~(cells)0);
}
END_TEST

/* Cells that lie wholly outside the range that makes sense are no values of a number. */
START_TEST(all_the_cells_of_a_number_are_those_in_its_range)
{
	struct question number = {.form = FORM_NUMBER,
	                          .cut = three_cuts,
	                          .cut_count = 3,
	                          .cell_count = 4,
	                          .least = 10,
	                          .most = 29};
	struct question date = {
	        .form = FORM_DATE, .cut = three_cuts, .cut_count = 3, .cell_count = 4};

	ck_assert_uint_eq(question_all(&number), 6);
	number.most = 30;
	ck_assert_uint_eq(question_all(&number), 14);
	number.least = 9;
	ck_assert_uint_eq(question_all(&number), 15);
	ck_assert_uint_eq(question_all(&date), 15);
}
END_TEST

/* -- the suite ------------------------------------------------------------------------------- */

static Suite *suite(void)
{
	Suite *s = suite_create("rulebook");
	TCase *rows = tcase_create("rows");
	TCase *cells_case = tcase_create("cells");
	int stretch_count = (int)(sizeof stretches / sizeof *stretches);

	tcase_add_checked_fixture(rows, start_sound, end);
	tcase_set_timeout(rows, 30);
	tcase_add_test(rows, a_sound_book_has_no_fault);
	tcase_add_test(rows, a_row_that_contradicts_itself_can_never_count);
	tcase_add_test(rows, a_number_out_of_its_range_can_never_count);
	tcase_add_test(rows, a_row_that_is_always_replaced_can_never_count);
	tcase_add_test(rows, an_otherwise_below_a_row_that_always_holds_can_never_count);
	tcase_add_test(rows, a_row_below_a_higher_one_never_decides);
	tcase_add_loop_test(rows, a_row_decides_by_what_it_alone_names, 0, 2);
	tcase_add_test(rows, a_circumstance_need_not_decide);
	tcase_add_test(rows, a_circumstance_must_be_able_to_hold);
	tcase_add_test(rows, a_row_of_a_type_that_can_never_match);
	tcase_add_test(rows, a_row_of_a_type_that_lowers_nothing);
	tcase_add_loop_test(rows, a_row_of_a_type_decides_by_each_of_its_effects, 0, 5);
	tcase_add_test(rows, a_series_that_can_never_match);
	tcase_add_test(rows, a_line_of_the_urgency_table_below_one_that_takes_all);
	tcase_add_test(rows, rows_of_a_kind_too_entangled);
	tcase_add_test(rows, rows_of_a_type_too_entangled);
	tcase_add_loop_test(rows, more_than_sixty_four_questions_tested, 0, 2);
	tcase_add_loop_test(rows, sixty_four_options_and_one_more, 0, 2);
	tcase_add_loop_test(rows, sixty_four_stretches_and_one_more, 0, 2);
	tcase_add_test(rows, thresholds_cut_a_number_once_each_and_in_order);
	tcase_add_loop_test(rows, a_measured_number_tested_by_another_row, 0, 2);
	tcase_add_loop_test(rows, a_number_of_two_measured_tests, 0, 4);
	tcase_add_test(rows, a_measured_number_may_be_tested_by_another_type);
	tcase_add_loop_test(cells_case, a_stretch_is_the_cells_that_it_meets, 0, stretch_count);
	tcase_add_test(cells_case, the_sixty_fourth_cell_can_be_reached);
	tcase_add_test(cells_case, all_the_cells_of_a_number_are_those_in_its_range);
	suite_add_tcase(s, rows);
	suite_add_tcase(s, cells_case);
	return s;
}

int main(void)
{
	return suite_run(suite());
}
