/* The built-in rulebook as `tundish rules` shows it: whatever is added to it must be readable. What
 * it says is none of this test's business. */
#include "tundish/base/date.h"
#include "tundish/base/text.h"
#include "tundish/print/rules.h"
#include "tundish/store/rulebook_read.h"

#include "suite.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

static struct rulebook book;
static struct arena scratch;

static void load(void)
{
	size_t count;
	const struct source *text = rulebook_builtin(&count);
	const struct source **texts = malloc(count * sizeof(*texts));
	struct faults faults;

	ck_assert_ptr_nonnull(texts);
	for (size_t i = 0; i < count; i++)
		texts[i] = &text[i];
	faults_init(&faults, &scratch);
	ck_assert(rulebook_read(&book, texts, count, date_day(2026, 11, 25), &faults));
	free(texts);
	arena_reset(&scratch);
}

static void unload(void)
{
	rulebook_finish(&book);
	arena_finish(&scratch);
}

/* -- what is held of every page ---------------------------------------------------------------- */

static void check_widths(const char *name, const char *text)
{
	for (const char *line = text; *line;) {
		size_t length = strcspn(line, "\n");

		ck_assert_msg(text_width(line, length) <= PAGE_COLUMNS, "%s: %.*s", name,
		              (int)length, line);
		line += length + (line[length] == '\n');
	}
}

static size_t count_of(const char *text, const char *what)
{
	size_t count = 0;

	for (const char *at = text; (at = strstr(at, what)) != NULL; at++)
		count++;
	return count;
}

/* Every entry, whose places and sources are as many as its things that have one. */
static void check_entry(const char *name, const char *heading, size_t sources, size_t places)
{
	struct sink sink;
	struct page page = {&sink, &scratch};

	sink_to_memory(&sink);
	ck_assert_msg(rules_entry(&page, &book, name) > 0, "%s: no such entry", name);
	const char *text = arena_copy(&scratch, sink.bytes, sink.count);
	sink_finish(&sink);
	ck_assert_msg(strstr(text, heading) != NULL, "%s: no %s", name, heading);
	ck_assert_msg(count_of(text, "\n      source    ") >= sources,
	              "%s: %zu sources are not enough for %zu", name,
	              count_of(text, "\n      source    "), sources);
	ck_assert_msg(count_of(text, "\n      in        rulebook/") >= places,
	              "%s: %zu places are not enough for %zu", name,
	              count_of(text, "\n      in        rulebook/"), places);
	check_widths(name, text);
	arena_reset(&scratch);
}

START_TEST(every_kind_is_shown_with_its_sources)
{
	ck_assert_uint_gt(book.kind_count, 90);
	for (size_t k = 0; k < book.kind_count; k++) {
		const struct kind *kind = &book.kind[k];

		check_entry(kind->id, arena_print(&scratch, "\nKind %s: %s", kind->id, kind->name),
		            kind->row_count, kind->row_count + 1);
	}
}
END_TEST

START_TEST(every_type_is_shown_with_its_sources)
{
	ck_assert_uint_gt(book.type_count, 20);
	for (size_t t = 0; t < book.type_count; t++) {
		const struct type *type = &book.type[t];
		size_t rows = type->row_count + type->series_count;

		check_entry(type->id, arena_print(&scratch, "\nType %s: ", type->id), rows + 1,
		            rows + 1);
	}
}
END_TEST

START_TEST(every_row_is_found_by_its_id)
{
	for (size_t k = 0; k < book.kind_count; k++) {
		const struct kind *kind = &book.kind[k];

		for (size_t r = 0; r < kind->row_count; r++)
			check_entry(kind->row[r].id,
			            arena_print(&scratch, "\nRow of kind %s", kind->id), 1, 1);
	}
	for (size_t t = 0; t < book.type_count; t++) {
		const struct type *type = &book.type[t];

		for (size_t r = 0; r < type->row_count; r++)
			check_entry(type->row[r].id,
			            arena_print(&scratch, "\nRow of type %s", type->id), 1, 1);
	}
	for (size_t u = 0; u < book.urgency_count; u++)
		check_entry(book.urgency[u].row.id, "\nRow of the urgency table", 1, 1);
}
END_TEST

START_TEST(every_row_decides_something)
{
	struct faults faults;

	faults_init(&faults, &scratch);
	ck_assert_msg(rulebook_check(&book, &faults), "%s", fault_text(&faults.item[0], &scratch));
}
END_TEST

START_TEST(the_lists_are_no_wider_than_a_page)
{
	struct sink sink;
	struct page page = {&sink, &scratch};

	sink_to_memory(&sink);
	rules_list(&page, &book);
	rules_counts(&page, &book);
	for (uint8_t category = CATEGORY_LEAST + 1; category <= CATEGORY_MOST; category++)
		rules_for_any(&page, &book, category);
	for (enum standing standing = 0; standing < STANDING_COUNT; standing++)
		rules_standing(&page, &book, standing);
	check_widths("the lists", arena_copy(&scratch, sink.bytes, sink.count));
	sink_finish(&sink);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("rules_builtin");
	TCase *tests = tcase_create("rules_builtin");

	tcase_add_unchecked_fixture(tests, load, unload);
	tcase_set_timeout(tests, 60);
	tcase_add_test(tests, every_kind_is_shown_with_its_sources);
	tcase_add_test(tests, every_type_is_shown_with_its_sources);
	tcase_add_test(tests, every_row_is_found_by_its_id);
	tcase_add_test(tests, every_row_decides_something);
	tcase_add_test(tests, the_lists_are_no_wider_than_a_page);
	suite_add_tcase(suite, tests);
	return suite_run(suite);
}
