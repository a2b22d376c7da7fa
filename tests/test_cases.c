/* Cases of the trade (tests/cases): each outlet says in `x-expect` what must come out. Expected
 * figures are those of the source that the row names, worked out by hand: what is needed less what
 * the type is good for. */
#include "tundish/assess/subject.h"
#include "tundish/base/date.h"
#include "tundish/house/verdict.h"
#include "tundish/store/file.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	FILES_MOST = 200,
	IDS_MOST = 4000,
	BODY_MOST = 2000,
};

/* What an outlet's `x-expect` says, blanks and line ends made one blank. */
struct expectation {
	char ref[40], body[BODY_MOST];
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

/* -- reading the cases
 * ------------------------------------------------------------------------------- */

static int by_name(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

/** Before any test runs: Check wants to know how many there are. */
static void list_cases(void)
{
	DIR *folder = opendir(CASES);
	struct dirent *entry;

	while (folder && (entry = readdir(folder)) != NULL && path_count < FILES_MOST) {
		size_t length = strlen(entry->d_name), room = sizeof CASES + length + 1;

		if (length < 5 || strcmp(entry->d_name + length - 5, ".yaml") != 0)
			continue;
		path[path_count] = malloc(room);
		if (!path[path_count])
			break;
		snprintf(path[path_count++], room, "%s/%s", CASES, entry->d_name);
	}
	if (folder)
		closedir(folder);
	qsort(path, path_count, sizeof *path, by_name);
}

static void load(void)
{
	size_t count;
	const struct source *text = rulebook_builtin(&count);
	const struct source **texts = malloc(count * sizeof *texts);
	struct faults faults;

	ck_assert_ptr_nonnull(texts);
	for (size_t i = 0; i < count; i++)
		texts[i] = &text[i];
	faults_init(&faults, &arena);
	if (!rulebook_read(&book, texts, count, date_day(2026, 11, 25), &faults))
		ck_abort_msg("%s",
		             faults.count > 0 ? fault_text(&faults.item[0], &arena) : "no memory");
	free(texts);
	judge = judge_create(&book);
	ck_assert_ptr_nonnull(judge);
}

static void unload(void)
{
	judge_destroy(judge);
	rulebook_finish(&book);
	arena_finish(&arena);
}

/** The last `- ref: WORD` before @p at. */
static void ref_before(const char *text, const char *at, char *ref, size_t room)
{
	static const char mark[] = "- ref: ";

	while (at > text && strncmp(at, mark, sizeof mark - 1) != 0)
		at--;
	at += sizeof mark - 1;
	snprintf(ref, room, "%.*s", (int)strcspn(at, "\n"), at);
}

/** The next expectation from @p from on. @return where it ends, NULL when there is none. */
static const char *next_expectation(const char *text, const char *from, struct expectation *out)
{
	const char *at = strstr(from, "x-expect: {");
	size_t length = 0;
	int depth = 0;

	if (!at)
		return NULL;
	ref_before(text, at, out->ref, sizeof out->ref);
	for (at = strchr(at, '{'); *at; at++) {
		char c = *at == '\n' ? ' ' : *at;

		depth += (c == '{') - (c == '}');
		if (depth == 0)
			break;
		ck_assert_uint_lt(length + 1, BODY_MOST);
		if (c != ' ' || (length > 0 && out->body[length - 1] != ' '))
			out->body[length++] = c;
	}
	out->body[length] = '\0';
	return at;
}

/* -- comparing
 * ---------------------------------------------------------------------------------------- */

/** The text of `key: VALUE`, or NULL. A list without its brackets. */
static const char *value_of(const struct expectation *expected, const char *key, char *out,
                            size_t room)
{
	char mark[40];
	const char *at;

	snprintf(mark, sizeof mark, " %s: ", key);
	at = strstr(expected->body, mark);
	if (!at)
		return NULL;
	at += strlen(mark);
	if (*at == '[')
		snprintf(out, room, "%.*s", (int)strcspn(at + 1, "]"), at + 1);
	else
		snprintf(out, room, "%.*s", (int)strcspn(at, ",}"), at);
	while (*out && out[strlen(out) - 1] == ' ')
		out[strlen(out) - 1] = '\0';
	return out;
}

static void same_range(const char *name, const struct expectation *expected, const char *key,
                       struct range range)
{
	char want[40], got[40];

	ck_assert_msg(value_of(expected, key, want, sizeof want) != NULL, "%s: %s says no %s", name,
	              expected->ref, key);
	if (range.least == range.most)
		snprintf(got, sizeof got, "%d", range.least);
	else
		snprintf(got, sizeof got, "%d to %d", range.least, range.most);
	ck_assert_msg(strcmp(want, got) == 0, "%s: %s: %s should be %s and is %s", name,
	              expected->ref, key, want, got);
}

static void same_word(const char *name, const struct expectation *expected, const char *key,
                      const char *got, bool must)
{
	char want[40];
	bool said = value_of(expected, key, want, sizeof want) != NULL;

	ck_assert_msg(said || !must, "%s: %s says no %s", name, expected->ref, key);
	ck_assert_msg(!said || strcmp(want, got) == 0, "%s: %s: %s should be %s and is %s", name,
	              expected->ref, key, want, got);
}

static bool names_row(const struct assessment *assessment, const char *id, bool certainly)
{
	for (size_t i = 0; i < assessment->because_count; i++)
		if (strcmp(assessment->because[i].row->id, id) == 0 &&
		    (assessment->because[i].certain || !certainly))
			return true;
	return false;
}

static void same_rows(const char *name, const struct expectation *expected,
                      const struct assessment *assessment)
{
	char list[BODY_MOST];

	if (value_of(expected, "rows", list, sizeof list))
		for (char *id = strtok(list, ", "); id; id = strtok(NULL, ", "))
			ck_assert_msg(names_row(assessment, id, true),
			              "%s: %s: row %s should count", name, expected->ref, id);
	if (value_of(expected, "not", list, sizeof list))
		for (char *id = strtok(list, ", "); id; id = strtok(NULL, ", "))
			ck_assert_msg(!names_row(assessment, id, false),
			              "%s: %s: row %s should not count", name, expected->ref, id);
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
	same_range(name, expected, "category", assessment.category);
	same_range(name, expected, "on_paper", assessment.on_paper);
	same_range(name, expected, "in_fact", assessment.in_fact);
	same_word(name, expected, "verdict", verdict_name(assessment.verdict), true);
	same_word(name, expected, "urgency", urgency_name(assessment.urgency), false);
	same_rows(name, expected, &assessment);
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
	struct faults faults;
	struct err err = {0};
	struct expectation expected = {.body = ""};
	size_t count = 0;

	faults_init(&faults, &arena);
	ck_assert_msg(file_read(path[_i], &arena, &source, NULL, &err), "%s: %s", name,
	              err.message);
	ck_assert(survey_read(&survey, &book, &source, &faults) || faults.count > 0);
	ck_assert_msg(faults.count == 0, "%s",
	              faults.count > 0 ? fault_text(&faults.item[0], &arena) : "");
	ck_assert(judge_survey(judge, &survey));
	for (at = source.text; (at = next_expectation(source.text, at, &expected)) != NULL; count++)
		check_outlet(name, &survey, &expected);
	ck_assert_msg(count == count_outlets(survey.premises) && count > 0,
	              "%s: an outlet says not what to expect", name);
	survey_finish(&survey);
}
END_TEST

/* -- every row has a case, and one on the other side
 * --------------------------------------------------- */

static void note_list(const struct expectation *expected, const char *key, struct ids *ids)
{
	char list[BODY_MOST];

	if (!value_of(expected, key, list, sizeof list))
		return;
	for (char *id = strtok(list, ", "); id; id = strtok(NULL, ", ")) {
		ck_assert_uint_lt(ids->count, IDS_MOST);
		ids->id[ids->count] = arena_copy(&arena, id, strlen(id));
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
	struct expectation expected = {.body = ""};
	struct source source;
	struct err err = {0};

	for (size_t f = 0; f < path_count; f++) {
		ck_assert(file_read(path[f], &arena, &source, NULL, &err));
		for (const char *at = source.text;
		     (at = next_expectation(source.text, at, &expected)) != NULL;) {
			note_list(&expected, "rows", hit);
			note_list(&expected, "not", missed);
		}
	}
}

/** Rows of one id count always when together they leave nothing out: such a row has no other side.
 */
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
	ck_assert_msg(missing == 0,
	              "%zu rows of the rulebook have no case or none on their other side", missing);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("cases");
	TCase *tcase = tcase_create("cases");
	SRunner *runner;
	int failed;

	list_cases();
	tcase_set_timeout(tcase, 60);
	tcase_add_unchecked_fixture(tcase, load, unload);
	tcase_add_test(tcase, there_are_cases);
	tcase_add_loop_test(tcase, cases_come_out_as_they_say, 0, (int)path_count);
	tcase_add_test(tcase, every_row_has_a_case_and_an_other_side);
	suite_add_tcase(suite, tcase);
	runner = srunner_create(suite);
	srunner_run_all(runner, CK_ENV);
	failed = srunner_ntests_failed(runner);
	srunner_free(runner);
	while (path_count > 0)
		free(path[--path_count]);
	return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
