#include "tundish/store/file.h"
#include "tundish/store/journal.h"

#include "suite.h"

#include <check.h>
#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static char folder[] = "/tmp/tundish_journal_XXXXXX";
static struct arena arena;
static struct err err;
static struct digest before, after;

static const char beside[] = ".house.yaml.journal", aside[] = ".house.yaml.journal~";

static void setup(void)
{
	memset(&err, 0, sizeof(err));
	arena_init(&arena);
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
	before = digest_of("tundish: 1\n", 11);
	after = digest_of("tundish: 1\npremises: {}\n", 24);
}

static void teardown(void)
{
	char command[64];

	arena_finish(&arena);
	snprintf(command, sizeof(command), "rm -rf %s", folder);
	ck_assert_int_eq(system(command), 0);
}

static bool exists(const char *path)
{
	return access(path, F_OK) == 0;
}

static struct source bytes_of(const char *path)
{
	struct source source;

	ck_assert_msg(file_read(path, &arena, &source, NULL, &err), "%s", err.message);
	return source;
}

static void write_bytes(const char *path, const char *bytes, size_t length)
{
	FILE *file = fopen(path, "wb");

	ck_assert_ptr_nonnull(file);
	ck_assert_uint_eq(fwrite(bytes, 1, length, file), length);
	ck_assert_int_eq(fclose(file), 0);
}

/* Texts that a line-by-line form could stumble over. */
static struct change first_step[] =
        {
                {"rooms/kitchen",     NULL, ""},
                {"kitchen/name",      NULL,
                 "K\xc3\xbc"
                 "che\t1\\2\n3\r4"            },
                {"kitchen/points/K1", NULL, ""},
},
                     second_step[] =
                             {
                                     {"K1/answers/spout", "fixed", "hose\\n"},
},
                     third_step[] = {
                             {"K1/note", "-", NULL},
                             {"K1/other", "=", "="},
};

static const struct changes steps[] = {
        {first_step,  3, 3},
        {second_step, 1, 1},
        {third_step,  2, 2},
};

static void add_all(struct journal *journal)
{
	for (size_t i = 0; i < COUNT(steps); i++)
		ck_assert_msg(journal_add(journal, &steps[i], &err), "%s", err.message);
}

static void assert_same(const char *a, const char *b)
{
	if (a == NULL || b == NULL)
		ck_assert_ptr_eq(a, b);
	else
		ck_assert_str_eq(a, b);
}

/* The changes are the first @p step_count steps, whole. */
static void assert_steps(const struct changes *changes, size_t step_count)
{
	size_t count = 0;

	for (size_t i = 0; i < step_count; i++)
		for (size_t j = 0; j < steps[i].count; j++, count++) {
			ck_assert_uint_lt(count, changes->count);
			assert_same(changes->item[count].where, steps[i].item[j].where);
			assert_same(changes->item[count].before, steps[i].item[j].before);
			assert_same(changes->item[count].after, steps[i].item[j].after);
		}
	ck_assert_uint_eq(changes->count, count);
}

/* -- the text ------------------------------------------------------------------------------ */

static struct source written(void)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);

	add_all(journal);
	journal_destroy(journal);
	return bytes_of(beside);
}

START_TEST(what_is_written_is_read)
{
	struct source text = written();
	struct journal_text read;

	ck_assert(journal_read(text.text, text.length, &arena, &read, &err));
	assert_steps(&read.changes, COUNT(steps));
	ck_assert_str_eq(read.base.text, before.text);
	ck_assert_ptr_nonnull(strstr(read.path, "/house.yaml"));
	ck_assert_uint_eq(strlen(read.begun), 20);
	ck_assert_uint_eq(read.whole, text.length);
}
END_TEST

/* How many steps end at or before a place, found by looking for their last lines alone. */
static size_t steps_before(const struct source *text, size_t end)
{
	size_t count = 0;

	for (size_t i = 0; i + 2 < end; i++)
		if (memcmp(text->text + i, "\t.\t", 3) == 0 &&
		    memchr(text->text + i, '\n', end - i) != NULL)
			count++;
	return count;
}

START_TEST(cut_anywhere_it_replays_a_prefix)
{
	struct source text = written();
	const char *head = memchr(text.text, '\n', text.length);

	for (size_t cut = 0; cut <= text.length; cut++) {
		char *part = malloc(cut + 1);
		struct journal_text read;
		struct err why = {0};

		memcpy(part, text.text, cut);
		if (journal_read(part, cut, &arena, &read, &why)) {
			ck_assert_uint_gt(cut, (size_t)(head - text.text));
			assert_steps(&read.changes, steps_before(&text, cut));
			ck_assert_uint_le(read.whole, cut);
		} else {
			ck_assert_uint_le(cut, (size_t)(head - text.text));
			ck_assert_int_eq(why.kind, ERR_TEXT);
		}
		free(part);
	}
}
END_TEST

START_TEST(a_flipped_byte_ends_what_is_read)
{
	struct source text = written();
	char *spoiled = arena_copy(&arena, text.text, text.length);

	for (size_t i = 0; i < text.length; i++) {
		struct journal_text read;
		size_t line = i;

		while (line > 0 && text.text[line - 1] != '\n')
			line--;
		spoiled[i] ^= 0x04;
		if (journal_read(spoiled, text.length, &arena, &read, &(struct err){0})) {
			ck_assert_uint_le(read.whole, line);
			assert_steps(&read.changes, steps_before(&text, line));
		} else {
			ck_assert_uint_eq(line, 0);
		}
		spoiled[i] = text.text[i];
	}
}
END_TEST

START_TEST(a_line_that_is_missing_ends_it_too)
{
	struct source text = written();
	char *less = arena_copy(&arena, text.text, text.length);
	char *second = strchr(less, '\n') + 1, *third = strchr(second, '\n') + 1;
	struct journal_text read;

	memmove(second, third, strlen(third) + 1);
	ck_assert(journal_read(less, strlen(less), &arena, &read, &err));
	ck_assert_uint_eq(read.changes.count, 0);
	ck_assert_uint_eq(read.whole, (size_t)(second - less));
}
END_TEST

/* -- the file ------------------------------------------------------------------------------ */

static struct journal_left found(struct digest file)
{
	struct journal *journal = journal_create("house.yaml", "states/deep", file);
	struct journal_left left;

	ck_assert_msg(journal_find(journal, &arena, &left, &err), "%s", err.message);
	journal_destroy(journal);
	return left;
}

START_TEST(only_the_owner_may_read_it)
{
	struct stat status;

	umask(0);
	written();
	ck_assert_int_eq(stat(beside, &status), 0);
	ck_assert_int_eq(status.st_mode & 0777, 0600);
	ck_assert(!exists(".house.yaml.journal.new"));
}
END_TEST

START_TEST(nothing_left_is_found_where_nothing_was)
{
	ck_assert_ptr_null(found(before).path);
}
END_TEST

START_TEST(what_was_left_fits_the_file_it_was_made_on)
{
	struct journal_left left;

	written();
	left = found(before);
	ck_assert_int_eq(left.fit, JOURNAL_FITS);
	assert_steps(&left.changes, COUNT(steps));
	left = found(after);
	ck_assert_int_eq(left.fit, JOURNAL_CHANGED);
	assert_steps(&left.changes, COUNT(steps));
}
END_TEST

START_TEST(a_save_removes_it)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);

	add_all(journal);
	ck_assert(exists(beside));
	journal_saving(journal, after);
	journal_saved(journal, "house.yaml", after);
	ck_assert(!exists(beside));
	ck_assert(journal_add(journal, &steps[1], &err));
	journal_destroy(journal);
	ck_assert_int_eq(found(after).fit, JOURNAL_FITS);
	ck_assert_int_eq(found(before).fit, JOURNAL_CHANGED);
}
END_TEST

START_TEST(a_kill_within_a_save_brings_nothing_back)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);
	struct journal_left left;

	ck_assert(journal_add(journal, &steps[0], &err));
	journal_saving(journal, after);
	journal_destroy(journal);
	/* killed after the file was replaced */
	ck_assert_int_eq(found(after).fit, JOURNAL_SAVED);
	/* and before */
	left = found(before);
	ck_assert_int_eq(left.fit, JOURNAL_FITS);
	assert_steps(&left.changes, 1);
}
END_TEST

START_TEST(after_a_save_that_failed_all_is_there)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);
	struct journal_left left;

	ck_assert(journal_add(journal, &steps[0], &err));
	journal_saving(journal, after);
	ck_assert(journal_add(journal, &steps[1], &err));
	journal_destroy(journal);
	left = found(before);
	assert_steps(&left.changes, 2);
	/* and if it had not failed after all, what came later is */
	left = found(after);
	ck_assert_int_eq(left.fit, JOURNAL_FITS);
	ck_assert_uint_eq(left.changes.count, 1);
	ck_assert_str_eq(left.changes.item[0].where, "K1/answers/spout");
}
END_TEST

START_TEST(what_is_gone_on_with_goes_on)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);
	struct journal_left left;

	ck_assert(journal_add(journal, &steps[0], &err));
	journal_destroy(journal);
	journal = journal_create("house.yaml", NULL, before);
	ck_assert(journal_find(journal, &arena, &left, &err));
	ck_assert_msg(journal_adopt(journal, &left, false, &err), "%s", err.message);
	ck_assert(journal_add(journal, &steps[1], &err) && journal_add(journal, &steps[2], &err));
	journal_destroy(journal);
	left = found(before);
	assert_steps(&left.changes, 3);
	ck_assert_uint_eq(left.torn, 0);
	ck_assert(!exists(aside));
}
END_TEST

START_TEST(a_torn_end_is_told_of_and_kept)
{
	struct source text = written();
	struct journal *journal = journal_create("house.yaml", NULL, before);
	struct journal_left left;

	write_bytes(beside, text.text, text.length - 5);
	ck_assert(journal_find(journal, &arena, &left, &err));
	assert_steps(&left.changes, 2);
	ck_assert_uint_gt(left.torn, 5);
	ck_assert_msg(journal_adopt(journal, &left, false, &err), "%s", err.message);
	ck_assert(journal_add(journal, &steps[2], &err));
	journal_destroy(journal);
	left = found(before);
	assert_steps(&left.changes, 3);
	ck_assert_uint_eq(left.torn, 0);
	ck_assert_uint_eq(bytes_of(aside).length, text.length - 5);
}
END_TEST

START_TEST(what_fits_no_more_is_gone_on_with_on_the_file_as_it_is)
{
	struct journal *journal = journal_create("house.yaml", NULL, after);
	struct journal_left left;

	written();
	ck_assert(journal_find(journal, &arena, &left, &err));
	ck_assert(journal_adopt(journal, &left, true, &err));
	journal_destroy(journal);
	left = found(after);
	ck_assert_int_eq(left.fit, JOURNAL_FITS);
	assert_steps(&left.changes, 3);
	ck_assert(exists(aside));
}
END_TEST

START_TEST(what_is_no_journal_is_damaged)
{
	static const char *const texts[] = {"", "not ours\n",
	                                    "0123456789abcdef\ttundish-journal-1"};

	for (size_t i = 0; i < COUNT(texts); i++) {
		struct journal_left left;

		write_bytes(beside, texts[i], strlen(texts[i]));
		left = found(before);
		ck_assert_int_eq(left.fit, JOURNAL_DAMAGED);
		ck_assert_uint_eq(left.torn, strlen(texts[i]));
		ck_assert(journal_set_aside(&left, &err));
		ck_assert(!exists(beside) && exists(aside));
	}
}
END_TEST

START_TEST(one_generation_of_what_was_discarded_is_kept)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);

	for (size_t i = 0; i < 2; i++) {
		struct journal_text read;
		struct source text;

		ck_assert(journal_add(journal, &steps[i], &err));
		ck_assert_msg(journal_discard(journal, &err), "%s", err.message);
		ck_assert(!exists(beside));
		text = bytes_of(aside);
		ck_assert(journal_read(text.text, text.length, &arena, &read, &err));
		ck_assert_str_eq(read.changes.item[0].where, steps[i].item[0].where);
	}
	journal_destroy(journal);
}
END_TEST

/* -- trouble ------------------------------------------------------------------------------- */

static size_t count_files(const char *path)
{
	DIR *dir = opendir(path);
	size_t count = 0;

	if (dir == NULL)
		return 0;
	for (struct dirent *entry; (entry = readdir(dir)) != NULL;)
		count += entry->d_name[0] != '.';
	closedir(dir);
	return count;
}

START_TEST(a_vanished_folder_is_left_for_the_other_one)
{
	struct journal *journal;
	struct stat status;

	ck_assert_int_eq(mkdir("gone", 0755), 0);
	journal = journal_create("gone/house.yaml", "states/deep", before);
	ck_assert(journal_add(journal, &steps[0], &err));
	ck_assert_str_eq(strrchr(journal_path(journal), '/') + 1, beside);
	ck_assert_int_eq(unlink("gone/.house.yaml.journal"), 0);
	ck_assert_int_eq(rmdir("gone"), 0);
	ck_assert_msg(journal_add(journal, &steps[1], &err), "%s", err.message);
	ck_assert(journal_is_kept(journal));
	ck_assert_ptr_nonnull(strstr(journal_path(journal), "states/deep/"));
	ck_assert_int_eq(stat("states", &status), 0);
	ck_assert_int_eq(status.st_mode & 0777, 0700);
	/* the folder comes back, and all of it is found */
	ck_assert_int_eq(mkdir("gone", 0755), 0);
	journal_destroy(journal);
	journal = journal_create("gone/house.yaml", "states/deep", before);
	struct journal_left left;
	ck_assert(journal_find(journal, &arena, &left, &err));
	assert_steps(&left.changes, 2);
	journal_destroy(journal);
}
END_TEST

START_TEST(somebody_elses_is_never_written_over)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);

	write_bytes(beside, "theirs", 6);
	ck_assert(!journal_add(journal, &steps[0], &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert(!journal_is_kept(journal));
	ck_assert_uint_eq(bytes_of(beside).length, 6);
	/* it goes away: nothing of what was told before is missing */
	ck_assert_int_eq(unlink(beside), 0);
	ck_assert(journal_add(journal, &steps[1], &err));
	journal_destroy(journal);
	struct journal_left left = found(before);
	assert_steps(&left.changes, 2);
}
END_TEST

/* Check writes a file of its own at each assertion: none while the limit holds. */
static bool limit_files(rlim_t most)
{
	struct rlimit limit;

	if (getrlimit(RLIMIT_FSIZE, &limit) != 0)
		return false;
	limit.rlim_cur = most;
	return setrlimit(RLIMIT_FSIZE, &limit) == 0;
}

START_TEST(a_full_disk_leaves_what_is_whole)
{
	struct journal *journal = journal_create("house.yaml", NULL, before);
	struct journal_left left;
	bool limited, added, kept, freed;
	size_t length;

	signal(SIGXFSZ, SIG_IGN);
	ck_assert(journal_add(journal, &steps[0], &err));
	length = bytes_of(beside).length;
	limited = limit_files(length + 20);
	added = journal_add(journal, &steps[1], &err);
	kept = journal_is_kept(journal);
	freed = limit_files(RLIM_INFINITY);
	ck_assert(limited && freed && !added && !kept);
	ck_assert_ptr_nonnull(strstr(err.message, "can't be kept on disk"));
	ck_assert_uint_eq(bytes_of(beside).length, length);
	left = found(before);
	assert_steps(&left.changes, 1);
	ck_assert_uint_eq(left.torn, 0);
	/* room again: the next step brings the earlier one along */
	err = (struct err){0};
	ck_assert(journal_add(journal, &steps[2], &err));
	ck_assert(journal_is_kept(journal));
	left = found(before);
	assert_steps(&left.changes, 3);
	journal_destroy(journal);
}
END_TEST

START_TEST(of_two_the_one_that_says_more)
{
	struct source one, all = written();
	struct journal *journal;
	struct journal_left left;

	/* as after a kill on the way from one folder to the other */
	ck_assert_int_eq(unlink(beside), 0);
	journal = journal_create("house.yaml", NULL, before);
	ck_assert(journal_add(journal, &steps[0], &err));
	journal_destroy(journal);
	one = bytes_of(beside);
	ck_assert_int_eq(rename(beside, "kept"), 0);
	ck_assert_int_eq(mkdir(beside, 0700), 0); /* so that the first folder can't be used */
	journal = journal_create("house.yaml", "states/deep", before);
	add_all(journal);
	journal_destroy(journal);
	ck_assert_int_eq(rmdir(beside), 0);
	ck_assert_uint_eq(count_files("states/deep"), 1);
	write_bytes(beside, one.text, one.length);
	left = found(before);
	assert_steps(&left.changes, 3);
	write_bytes(beside, all.text, all.length);
	left = found(before);
	ck_assert_ptr_null(strstr(left.path, "states"));
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("journal");
	TCase *text = tcase_create("text"), *file = tcase_create("file"),
	      *trouble = tcase_create("trouble");

	tcase_add_checked_fixture(text, setup, teardown);
	tcase_add_checked_fixture(file, setup, teardown);
	tcase_add_checked_fixture(trouble, setup, teardown);
	suite_add_tcase(suite, text);
	suite_add_tcase(suite, file);
	suite_add_tcase(suite, trouble);
	tcase_add_test(text, what_is_written_is_read);
	tcase_add_test(text, cut_anywhere_it_replays_a_prefix);
	tcase_add_test(text, a_flipped_byte_ends_what_is_read);
	tcase_add_test(text, a_line_that_is_missing_ends_it_too);
	tcase_add_test(file, only_the_owner_may_read_it);
	tcase_add_test(file, nothing_left_is_found_where_nothing_was);
	tcase_add_test(file, what_was_left_fits_the_file_it_was_made_on);
	tcase_add_test(file, a_save_removes_it);
	tcase_add_test(file, a_kill_within_a_save_brings_nothing_back);
	tcase_add_test(file, after_a_save_that_failed_all_is_there);
	tcase_add_test(file, what_is_gone_on_with_goes_on);
	tcase_add_test(file, a_torn_end_is_told_of_and_kept);
	tcase_add_test(file, what_fits_no_more_is_gone_on_with_on_the_file_as_it_is);
	tcase_add_test(file, what_is_no_journal_is_damaged);
	tcase_add_test(file, one_generation_of_what_was_discarded_is_kept);
	tcase_add_test(trouble, a_vanished_folder_is_left_for_the_other_one);
	tcase_add_test(trouble, somebody_elses_is_never_written_over);
	tcase_add_test(trouble, a_full_disk_leaves_what_is_whole);
	tcase_add_test(trouble, of_two_the_one_that_says_more);
	return suite_run(suite);
}
