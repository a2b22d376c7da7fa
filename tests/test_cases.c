/* Cases of the trade (tests/cases, tests/cases/situations): each outlet says in `x-expect` what
 * must come out. Expected figures are those of the source that is named, worked out by hand.
 * tests/cases/README.md is for whoever adds one. */
#include "expect_check.h"
#include "tundish/assess/subject.h"
#include "tundish/base/date.h"
#include "tundish/house/verdict.h"
#include "tundish/print/rules.h"
#include "tundish/store/file.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "suite.h"

#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	FILES_MOST = 500,
	IDS_MOST = 8000,
};

/* Rows that some case names. */
struct ids {
	const char *id[IDS_MOST];
	size_t count;
};

static struct rulebook book;
static struct judge *judge;
static struct arena arena;
static char *path[FILES_MOST];
static size_t path_count;

/* -- reading the cases ----------------------------------------------------------------------- */

static int by_name(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

static bool take_file(const char *folder, const char *name)
{
	size_t length = strlen(name), room = strlen(folder) + length + 2;

	if (length < 5 || strcmp(name + length - 5, ".yaml") != 0)
		return true;
	if (path_count == FILES_MOST || (path[path_count] = malloc(room)) == NULL)
		return false;
	snprintf(path[path_count++], room, "%s/%s", folder, name);
	return true;
}

/** Before any test runs: Check wants to know how many there are. */
static bool list_cases(const char *folder)
{
	DIR *open = opendir(folder);
	struct dirent *entry;
	bool ok = open != NULL;

	if (!open)
		perror(folder);
	while (ok && (entry = readdir(open)) != NULL)
		ok = take_file(folder, entry->d_name);
	if (open)
		closedir(open);
	return ok;
}

/** The built-in book with @p overlay, unless NULL, laid over it. */
static void load_book(struct rulebook *out, const struct source *overlay)
{
	size_t count;
	const struct source *text = rulebook_builtin(&count);
	const struct source **texts = malloc((count + 1) * sizeof *texts);
	struct faults faults;

	ck_assert_ptr_nonnull(texts);
	for (size_t i = 0; i < count; i++)
		texts[i] = &text[i];
	if (overlay)
		texts[count++] = overlay;
	faults_init(&faults, &arena);
	if (!rulebook_read(out, texts, count, date_day(2026, 11, 25), &faults))
		ck_abort_msg("%s",
		             faults.count > 0 ? fault_text(&faults.item[0], &arena) : "no memory");
	free(texts);
}

static void load(void)
{
	load_book(&book, NULL);
	judge = judge_create(&book);
	ck_assert_ptr_nonnull(judge);
}

static void unload(void)
{
	judge_destroy(judge);
	rulebook_finish(&book);
	arena_finish(&arena);
}

static void read_survey_by(const struct rulebook *by, struct judge *its_judge, const char *file,
                           struct survey *survey, struct source *source)
{
	const char *name = strrchr(file, '/') + 1;
	struct faults faults;
	struct err err = {0};

	faults_init(&faults, &arena);
	ck_assert_msg(file_read(file, &arena, source, NULL, &err), "%s: %s", name, err.message);
	ck_assert(survey_read(survey, by, source, &faults) || faults.count > 0);
	ck_assert_msg(faults.count == 0, "%s",
	              faults.count > 0 ? fault_text(&faults.item[0], &arena) : "");
	ck_assert(judge_survey(its_judge, survey, NULL));
}

static void read_survey(const char *file, struct survey *survey, struct source *source)
{
	read_survey_by(&book, judge, file, survey, source);
}

static void check_outlet(const char *name, const struct survey *survey,
                         const struct expectation *expected)
{
	const struct item *point = survey_find(survey, expected->ref, strlen(expected->ref));
	struct assessment assessment;
	struct err err = {0};

	ck_assert_msg(point && point->scope == SCOPE_POINT, "%s: no outlet %s", name,
	              expected->ref);
	ck_assert_msg(judge_point(judge, point, &assessment, &err), "%s: %s: %s", name,
	              expected->ref, err.message);
	expect_check(&(struct assessed){name, survey, &assessment}, expected);
}

static size_t count_outlets(const struct item *item)
{
	size_t count = item->scope == SCOPE_POINT;

	for (size_t i = 0; i < item->child_count; i++)
		count += count_outlets(item->child[i]);
	return count;
}

START_TEST(there_are_cases)
{
	ck_assert_uint_gt(path_count, 0);
}
END_TEST

START_TEST(cases_come_out_as_they_say)
{
	const char *name = strrchr(path[_i], '/') + 1, *at;
	struct survey survey = {0};
	struct source source;
	struct expectation expected;
	size_t count = 0;

	read_survey(path[_i], &survey, &source);
	for (at = source.text; (at = expect_next(source.text, at, &expected)) != NULL; count++)
		check_outlet(name, &survey, &expected);
	ck_assert_msg(count == count_outlets(survey.premises) && count > 0,
	              "%s: an outlet says not what to expect", name);
	ck_assert_msg(!strstr(path[_i], "/situations/") || strstr(source.text, "x-source: "),
	              "%s: says not where its figures come from", name);
	survey_finish(&survey);
}
END_TEST

/* -- the demos show every word --------------------------------------------------------------- */

static void note_words(const struct item *item, bool *verdicts, bool *urgencies)
{
	struct assessment assessment;
	struct err err = {0};

	for (size_t i = 0; i < item->child_count; i++)
		note_words(item->child[i], verdicts, urgencies);
	if (item->scope != SCOPE_POINT)
		return;
	ck_assert_msg(judge_point(judge, item, &assessment, &err), "%s: %s", item->ref,
	              err.message);
	verdicts[assessment.verdict] = true;
	urgencies[assessment.urgency] = true;
}

START_TEST(the_demos_show_every_word)
{
	static const char *const demo[] = {"house", "salon_with_flat", "school"};
	bool verdicts[VERDICT_COUNT] = {false}, urgencies[URGENCY_COUNT] = {false};

	for (size_t i = 0; i < sizeof demo / sizeof *demo; i++) {
		struct survey survey = {0};
		struct source source;
		char file[1000];

		snprintf(file, sizeof file, "%s/%s.yaml", DEMOS, demo[i]);
		read_survey(file, &survey, &source);
		note_words(survey.premises, verdicts, urgencies);
		survey_finish(&survey);
	}
	for (unsigned v = 0; v < VERDICT_COUNT; v++)
		ck_assert_msg(verdicts[v], "nothing in the demos is %s",
		              verdict_name((enum verdict)v));
	for (unsigned u = 0; u < URGENCY_COUNT; u++)
		ck_assert_msg(urgencies[u], "nothing in the demos is %s",
		              urgency_name((enum urgency)u));
}
END_TEST

/* -- every row of the urgency table decides a case ------------------------------------------- */

static bool is_other(struct judge *other, const struct survey *survey,
                     const struct expectation *expected)
{
	const struct item *point = survey_find(survey, expected->ref, strlen(expected->ref));
	struct assessment assessment;
	struct piece urgency;
	struct err err = {0};

	if (!piece_value(expected->whole, "urgency", &urgency))
		return false;
	ck_assert_ptr_nonnull(point);
	ck_assert_msg(judge_point(other, point, &assessment, &err), "%s", err.message);
	return !piece_is(urgency, urgency_name(assessment.urgency));
}

/** Whether some case comes out otherwise by another book. */
static bool any_other(const struct rulebook *by, struct judge *other)
{
	bool any = false;

	for (size_t f = 0; f < path_count && !any; f++) {
		struct survey survey = {0};
		struct source source;
		struct expectation expected;

		read_survey_by(by, other, path[f], &survey, &source);
		for (const char *at = source.text;
		     !any && (at = expect_next(source.text, at, &expected)) != NULL;)
			any = is_other(other, &survey, &expected);
		survey_finish(&survey);
	}
	return any;
}

/* No verdict names the row that its urgency is from: it is taken away, and a case must notice. */
START_TEST(every_row_of_the_urgency_table_decides_a_case)
{
	for (size_t u = 0; u < book.urgency_count; u++) {
		const char *id = book.urgency[u].row.id;
		const char *text = arena_print(&arena, "drop: [%s]\n", id);
		struct source overlay = {"overlay", text, strlen(text)};
		struct rulebook less = {0};
		struct judge *other;

		load_book(&less, &overlay);
		ck_assert_uint_eq(less.urgency_count, book.urgency_count - 1);
		other = judge_create(&less);
		ck_assert_ptr_nonnull(other);
		ck_assert_msg(any_other(&less, other), "row %s decides no case", id);
		judge_destroy(other);
		rulebook_finish(&less);
	}
}
END_TEST

/* -- every row has a case, and one on the other side ----------------------------------------- */

static void note_list(const struct expectation *expected, const char *key, struct ids *ids)
{
	struct piece list, id;

	if (!piece_value(expected->whole, key, &list))
		return;
	for (size_t i = 0; piece_entry(list, i, &id); i++) {
		ck_assert_uint_lt(ids->count, IDS_MOST);
		ids->id[ids->count] = arena_copy(&arena, id.at, id.length);
		ck_assert_ptr_nonnull(ids->id[ids->count++]);
	}
}

static bool is_noted(const struct ids *ids, const char *id)
{
	for (size_t i = 0; i < ids->count; i++)
		if (strcmp(ids->id[i], id) == 0)
			return true;
	return false;
}

static void note_all(struct ids *hit, struct ids *missed)
{
	struct expectation expected;
	struct source source;
	struct err err = {0};

	for (size_t f = 0; f < path_count; f++) {
		ck_assert(file_read(path[f], &arena, &source, NULL, &err));
		for (const char *at = source.text;
		     (at = expect_next(source.text, at, &expected)) != NULL;) {
			note_list(&expected, "rows", hit);
			note_list(&expected, "not", missed);
		}
	}
}

/** Rows of one id count always when together they leave nothing out: such a row
 * has no other side. */
static bool always(struct subject *subject, const struct row *row, size_t row_count, size_t index)
{
	diagram any = diagram_truth(false);

	for (size_t r = 0; r < row_count; r++)
		if (strcmp(row[r].id, row[index].id) == 0)
			any = diagram_or(subject->store, any, subject->row[r]);
	return any == diagram_truth(true);
}

static size_t count_missing(struct subject *subject, const struct row *row, size_t row_count,
                            const struct ids *hit, const struct ids *missed)
{
	size_t missing = 0;

	ck_assert_ptr_nonnull(subject);
	for (size_t r = 0; r < row_count; r++) {
		bool has = is_noted(hit, row[r].id);
		bool has_other = is_noted(missed, row[r].id) || always(subject, row, row_count, r);

		if (has && has_other)
			continue;
		fprintf(stderr, "row %s has no case%s\n", row[r].id,
		        has ? " on its other side" : "");
		missing++;
	}
	subject_destroy(subject);
	return missing;
}

/* What the book holds, as `tundish rules --counts` says it, and what is left to do. */
static void print_counts(size_t missing)
{
	struct sink sink;
	struct page page = {&sink, &arena};

	sink_to_memory(&sink);
	rules_counts(&page, &book);
	if (missing == 0)
		sink_text(&sink, "rows without a case   none\n");
	else
		sink_print(&sink, "rows without a case   %zu\n", missing);
	fwrite(sink.bytes, 1, sink.count, stdout);
	fflush(stdout);
	sink_finish(&sink);
}

START_TEST(every_row_has_a_case_and_an_other_side)
{
	static struct ids hit, missed;
	struct err err = {0};
	size_t missing = 0;

	note_all(&hit, &missed);
	for (size_t k = 0; k < book.kind_count; k++)
		missing += count_missing(subject_of_kind(&book, &book.kind[k], &err),
		                         book.kind[k].row, book.kind[k].row_count, &hit, &missed);
	for (size_t t = 0; t < book.type_count; t++) {
		const struct type *type = &book.type[t];

		missing += count_missing(subject_of_type(&book, type, &err), type->row,
		                         type->row_count, &hit, &missed);
		for (size_t s = 0; s < type->series_count; s++)
			missing += !is_noted(&hit, type->series[s].row.id) ||
			           !is_noted(&missed, type->series[s].row.id);
	}
	print_counts(missing);
	ck_assert_msg(missing == 0,
	              "%zu rows of the rulebook have no case or none on their other side", missing);
}
END_TEST

static void free_paths(void)
{
	while (path_count > 0)
		free(path[--path_count]);
}

static Suite *suite_of_cases(void)
{
	Suite *suite = suite_create("cases");
	TCase *tcase = tcase_create("cases");

	tcase_set_timeout(tcase, 60);
	tcase_add_unchecked_fixture(tcase, load, unload);
	tcase_add_test(tcase, there_are_cases);
	tcase_add_loop_test(tcase, cases_come_out_as_they_say, 0, (int)path_count);
	tcase_add_test(tcase, the_demos_show_every_word);
	tcase_add_test(tcase, every_row_of_the_urgency_table_decides_a_case);
	tcase_add_test(tcase, every_row_has_a_case_and_an_other_side);
	suite_add_tcase(suite, tcase);
	return suite;
}

int main(void)
{
	int status;

	if (!list_cases(CASES) || !list_cases(CASES "/situations")) {
		free_paths();
		return EXIT_FAILURE;
	}
	qsort(path, path_count, sizeof *path, by_name);
	status = suite_run(suite_of_cases());
	free_paths();
	return status;
}
