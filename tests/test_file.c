#include "tundish/store/file.h"

#include <check.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[] = "/tmp/tundish_file_XXXXXX";
static struct arena arena;
static struct err err;

static void setup(void)
{
	memset(&err, 0, sizeof(err));
	arena_init(&arena);
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
	umask(022);
}

static void remove_folder(void)
{
	DIR *dir = opendir(folder);

	if (dir == NULL)
		return;
	for (struct dirent *entry; (entry = readdir(dir)) != NULL;)
		if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0)
			ck_assert(unlinkat(dirfd(dir), entry->d_name, 0) == 0 ||
			          unlinkat(dirfd(dir), entry->d_name, AT_REMOVEDIR) == 0);
	closedir(dir);
	ck_assert_int_eq(rmdir(folder), 0);
}

static void teardown(void)
{
	arena_finish(&arena);
	remove_folder();
}

static void make(const char *path, const char *text)
{
	FILE *file = fopen(path, "wb");

	ck_assert_ptr_nonnull(file);
	ck_assert_int_ge(fputs(text, file), 0);
	ck_assert_int_eq(fclose(file), 0);
}

static void assert_holds(const char *path, const char *text)
{
	struct source source;
	struct err unexpected = {0};

	ck_assert_msg(file_read(path, &arena, &source, NULL, &unexpected), "%s",
	              unexpected.message);
	ck_assert_str_eq(source.text, text);
	ck_assert_uint_eq(source.length, strlen(text));
}

static size_t count_names(void)
{
	DIR *dir = opendir(".");
	size_t count = 0;

	ck_assert_ptr_nonnull(dir);
	while (readdir(dir) != NULL)
		count++;
	closedir(dir);
	return count - 2; /* itself and the one above */
}

static struct file_stamp stamp_now(const char *path)
{
	struct file_stamp stamp;
	struct source source;

	ck_assert_msg(file_read(path, &arena, &source, &stamp, &err), "%s", err.message);
	return stamp;
}

/* -- reading -------------------------------------------------------------------------- */

START_TEST(reads_every_byte)
{
	static const size_t sizes[] = {0, 1, 2, 4095, 4096, 70000};
	size_t size = sizes[_i];
	char *text = malloc(size + 1);
	struct source source;
	struct file_stamp stamp;
	FILE *file = fopen("a", "wb");

	ck_assert(text != NULL && file != NULL);
	for (size_t i = 0; i < size; i++)
		text[i] = (char)(i % 251);
	ck_assert_uint_eq(fwrite(text, 1, size, file), size);
	fclose(file);
	ck_assert_msg(file_read("a", &arena, &source, &stamp, &err), "%s", err.message);
	ck_assert_uint_eq(source.length, size);
	ck_assert_mem_eq(source.text, text, size);
	ck_assert_int_eq(source.text[size], '\0');
	ck_assert_str_eq(source.name, "a");
	ck_assert(stamp.exists);
	ck_assert_uint_eq(stamp.size, size);
	free(text);
}
END_TEST

START_TEST(reads_standard_input)
{
	int ends[2];
	struct source source;

	ck_assert_int_eq(pipe(ends), 0);
	ck_assert_int_eq(write(ends[1], "tundish: 1\n", 11), 11);
	close(ends[1]);
	ck_assert_int_eq(dup2(ends[0], STDIN_FILENO), STDIN_FILENO);
	ck_assert(file_read("-", &arena, &source, NULL, &err));
	ck_assert_str_eq(source.text, "tundish: 1\n");
}
END_TEST

START_TEST(refuses_what_it_cannot_read)
{
	struct source source = {.name = "untouched"};
	struct file_stamp stamp = {.exists = true};

	ck_assert(!file_read("none", &arena, &source, &stamp, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_ptr_nonnull(strstr(err.message, "none"));
	ck_assert(!stamp.exists);
	ck_assert_str_eq(source.name, "untouched");
	err.kind = ERR_NONE;
	ck_assert(!file_read(".", &arena, &source, &stamp, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	err.kind = ERR_NONE;
	ck_assert(!file_read("none/a", &arena, &source, &stamp, &err));
	make("a", "");
	ck_assert(!file_read("a/b", &arena, &source, &stamp, &err));
	ck_assert(stamp.exists);
}
END_TEST

START_TEST(sixteen_mebibytes_are_the_most)
{
	struct source source;

	make("a", "");
	ck_assert_int_eq(truncate("a", FILE_BYTES_MOST), 0);
	ck_assert(file_read("a", &arena, &source, NULL, &err));
	ck_assert_uint_eq(source.length, FILE_BYTES_MOST);
	ck_assert_int_eq(truncate("a", FILE_BYTES_MOST + 1), 0);
	ck_assert(!file_read("a", &arena, &source, NULL, &err));
	ck_assert_int_eq(err.kind, ERR_TEXT);
}
END_TEST

/* -- replacing ------------------------------------------------------------------------ */

START_TEST(replaces_and_knows_its_own)
{
	struct file_stamp stamp;

	make("a", "old\n");
	stamp = stamp_now("a");
	ck_assert_msg(file_replace("a", "new\n", 4, &stamp, false, &err), "%s", err.message);
	assert_holds("a", "new\n");
	/* its stamp is the new file's: no conflict with itself */
	ck_assert_msg(file_replace("a", "newer\n", 6, &stamp, false, &err), "%s", err.message);
	assert_holds("a", "newer\n");
	ck_assert_msg(file_replace("a", "", 0, &stamp, false, &err), "%s", err.message);
	assert_holds("a", "");
	ck_assert_uint_eq(count_names(), 1);
}
END_TEST

START_TEST(makes_a_new_file_as_the_umask_says)
{
	struct file_stamp stamp = {0};
	struct stat status;

	umask(027);
	ck_assert_msg(file_replace("a", "x", 1, NULL, false, &err), "%s", err.message);
	ck_assert_int_eq(stat("a", &status), 0);
	ck_assert_uint_eq(status.st_mode & 07777, 0640);
	ck_assert_msg(file_replace("./b", "x", 1, &stamp, false, &err), "%s", err.message);
	ck_assert(stamp.exists);
	assert_holds("b", "x");
}
END_TEST

static const struct {
	const char *title;
	bool made, read, changed, removed, force;
	const char *says; /* NULL: replaced */
} conflicts[] = {
        {"as it was",             true,  true,  false, false, false, NULL           },
        {"changed",               true,  true,  true,  false, false, "changed since"},
        {"changed, forced",       true,  true,  true,  false, true,  NULL           },
        {"gone",                  true,  true,  false, true,  false, "taken away"   },
        {"gone, forced",          true,  true,  false, true,  true,  NULL           },
        {"there already",         true,  false, false, false, false, "there already"},
        {"there already, forced", true,  false, false, false, true,  NULL           },
        {"new",                   false, false, false, false, false, NULL           },
};

START_TEST(what_changed_underneath_stays)
{
	struct file_stamp stamp = {0};
	bool replaced;

	if (conflicts[_i].made)
		make("a", "old");
	if (conflicts[_i].read)
		stamp = stamp_now("a");
	if (conflicts[_i].changed)
		make("a", "theirs");
	if (conflicts[_i].removed)
		ck_assert_int_eq(unlink("a"), 0);
	replaced = file_replace("a", "ours", 4, &stamp, conflicts[_i].force, &err);
	ck_assert_msg(replaced == (conflicts[_i].says == NULL), "%s: %s", conflicts[_i].title,
	              err.message);
	if (replaced) {
		assert_holds("a", "ours");
		return;
	}
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
	ck_assert_msg(strstr(err.message, conflicts[_i].says) != NULL, "%s: %s",
	              conflicts[_i].title, err.message);
	if (!conflicts[_i].removed)
		assert_holds("a", conflicts[_i].changed ? "theirs" : "old");
	ck_assert_uint_eq(count_names(), conflicts[_i].removed ? 0 : 1);
}
END_TEST

START_TEST(replaced_by_another_of_the_same_size_is_a_change)
{
	struct file_stamp stamp;

	make("a", "old");
	stamp = stamp_now("a");
	make("b", "odl");
	ck_assert_int_eq(utimensat(AT_FDCWD, "b",
	                           (struct timespec[]){
	                                   {stamp.modified_s, (long)stamp.modified_ns},
	                                   {stamp.modified_s, (long)stamp.modified_ns}
        },
	                           0),
	                 0);
	ck_assert_int_eq(rename("b", "a"), 0);
	ck_assert(!file_replace("a", "new", 3, &stamp, false, &err));
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
}
END_TEST

START_TEST(written_within_the_same_second_is_a_change)
{
	struct timespec times[2] = {
	        {1000000000, 1},
                {1000000000, 1}
        };
	struct file_stamp stamp;

	make("a", "old");
	ck_assert_int_eq(utimensat(AT_FDCWD, "a", times, 0), 0);
	stamp = stamp_now("a");
	times[1].tv_nsec = 2;
	ck_assert_int_eq(utimensat(AT_FDCWD, "a", times, 0), 0);
	ck_assert(!file_replace("a", "new", 3, &stamp, false, &err));
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
}
END_TEST

START_TEST(links_stay_and_their_target_is_replaced)
{
	struct stat status;
	struct file_stamp stamp;

	ck_assert_int_eq(mkdir("deep", 0755), 0);
	make("deep/a", "old");
	ck_assert_int_eq(symlink("deep/b", "first"), 0);
	ck_assert_int_eq(symlink("a", "deep/b"), 0);
	stamp = stamp_now("first");
	ck_assert_msg(file_replace("first", "new", 3, &stamp, false, &err), "%s", err.message);
	assert_holds("deep/a", "new");
	ck_assert_int_eq(lstat("first", &status), 0);
	ck_assert(S_ISLNK(status.st_mode));
	ck_assert_int_eq(lstat("deep/b", &status), 0);
	ck_assert(S_ISLNK(status.st_mode));
	/* one that leads nowhere yet: there it is made */
	ck_assert_int_eq(unlink("deep/a"), 0);
	ck_assert_msg(file_replace("first", "again", 5, NULL, false, &err), "%s", err.message);
	assert_holds("deep/a", "again");
	ck_assert_int_eq(unlink("deep/a"), 0);
	ck_assert_int_eq(unlink("deep/b"), 0);
}
END_TEST

START_TEST(a_loop_of_links_ends)
{
	ck_assert_int_eq(symlink("b", "a"), 0);
	ck_assert_int_eq(symlink("a", "b"), 0);
	ck_assert(!file_replace("a", "x", 1, NULL, true, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
}
END_TEST

START_TEST(mode_and_owner_stay)
{
	struct stat before, after;
	struct file_stamp stamp;

	make("a", "old");
	ck_assert_int_eq(chmod("a", 0640), 0);
	if (geteuid() == 0)
		ck_assert_int_eq(chown("a", 4711, 4712), 0);
	ck_assert_int_eq(stat("a", &before), 0);
	stamp = stamp_now("a");
	ck_assert_msg(file_replace("a", "new", 3, &stamp, false, &err), "%s", err.message);
	ck_assert_int_eq(stat("a", &after), 0);
	ck_assert_uint_eq(after.st_mode, before.st_mode);
	ck_assert_uint_eq(after.st_uid, before.st_uid);
	ck_assert_uint_eq(after.st_gid, before.st_gid);
}
END_TEST

static bool lose_root(void)
{
	return geteuid() != 0 || (setegid(4713) == 0 && seteuid(4713) == 0);
}

static bool be_root_again(void)
{
	return getuid() != 0 || (seteuid(0) == 0 && setegid(0) == 0);
}

/* The group is another one now: it gets what everybody gets, not what the old group had. */
START_TEST(another_group_gets_no_more_than_all)
{
	struct stat after;
	struct file_stamp stamp;

	if (geteuid() != 0)
		return;
	make("a", "old");
	ck_assert_int_eq(chown("a", 0, 4712), 0);
	ck_assert_int_eq(chmod("a", 0664), 0);
	ck_assert_int_eq(chmod(".", 0777), 0);
	stamp = stamp_now("a");
	ck_assert(lose_root());
	ck_assert_msg(file_replace("a", "new", 3, &stamp, false, &err), "%s", err.message);
	ck_assert_int_eq(stat("a", &after), 0);
	ck_assert_uint_eq(after.st_mode & 07777, 0644);
	ck_assert(be_root_again());
}
END_TEST

START_TEST(a_folder_that_takes_nothing)
{
	struct file_stamp stamp;

	make("a", "old");
	stamp = stamp_now("a");
	ck_assert_int_eq(chmod(".", 0555), 0);
	ck_assert(lose_root());
	ck_assert(!file_replace("a", "new", 3, &stamp, false, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	assert_holds("a", "old");
	ck_assert_uint_eq(count_names(), 1);
	ck_assert(be_root_again());
	ck_assert_int_eq(chmod(".", 0755), 0);
}
END_TEST

START_TEST(a_full_disk_leaves_the_old)
{
	struct rlimit limit = {4096, 4096};
	struct file_stamp stamp;
	char *big = malloc(100000);

	ck_assert_ptr_nonnull(big);
	memset(big, 'x', 100000);
	make("a", "old");
	stamp = stamp_now("a");
	signal(SIGXFSZ, SIG_IGN);
	ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
	ck_assert(!file_replace("a", big, 100000, &stamp, false, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_ptr_nonnull(strstr(err.message, strerror(EFBIG)));
	assert_holds("a", "old");
	ck_assert_uint_eq(count_names(), 1);
	/* and what was read before is still what is there */
	ck_assert(file_replace("a", "new", 3, &stamp, false, &(struct err){0}));
	free(big);
}
END_TEST

static const struct {
	const char *title, *path;
} impossible[] = {
        {"a folder that is not there", "none/a" },
        {"a folder itself",            "deep"   },
        {"a folder with its slash",    "deep/"  },
        {"a file as a folder",         "plain/a"},
        {"no ordinary file",           "pipe"   },
        {"nothing",                    ""       },
};

START_TEST(refuses_what_it_cannot_replace)
{
	ck_assert_int_eq(mkdir("deep", 0755), 0);
	make("plain", "old");
	ck_assert_int_eq(mkfifo("pipe", 0600), 0);
	ck_assert_msg(!file_replace(impossible[_i].path, "x", 1, NULL, true, &err), "%s",
	              impossible[_i].title);
	ck_assert_int_eq(err.kind, ERR_IO);
	assert_holds("plain", "old");
	ck_assert_uint_eq(count_names(), 3);
}
END_TEST

START_TEST(a_folder_that_goes_away)
{
	char gone[sizeof(folder) + 8];

	snprintf(gone, sizeof(gone), "%s/gone", folder);
	ck_assert_int_eq(mkdir(gone, 0755), 0);
	ck_assert_int_eq(chdir(gone), 0);
	ck_assert_int_eq(rmdir(gone), 0);
	ck_assert(!file_replace("a", "x", 1, NULL, false, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_int_eq(chdir(folder), 0);
}
END_TEST

START_TEST(a_name_as_long_as_can_be)
{
	char name[256];

	memset(name, 'n', 255);
	name[255] = '\0';
	ck_assert_msg(file_replace(name, "x", 1, NULL, false, &err), "%s", err.message);
	assert_holds(name, "x");
	ck_assert_uint_eq(count_names(), 1);
}
END_TEST

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

int main(void)
{
	Suite *suite = suite_create("file");
	TCase *tcase = tcase_create("file");
	SRunner *runner;
	int failed;

	tcase_add_checked_fixture(tcase, setup, teardown);
	tcase_add_loop_test(tcase, reads_every_byte, 0, 6);
	tcase_add_test(tcase, reads_standard_input);
	tcase_add_test(tcase, refuses_what_it_cannot_read);
	tcase_add_test(tcase, sixteen_mebibytes_are_the_most);
	tcase_add_test(tcase, replaces_and_knows_its_own);
	tcase_add_test(tcase, makes_a_new_file_as_the_umask_says);
	tcase_add_loop_test(tcase, what_changed_underneath_stays, 0, ROWS(conflicts));
	tcase_add_test(tcase, replaced_by_another_of_the_same_size_is_a_change);
	tcase_add_test(tcase, written_within_the_same_second_is_a_change);
	tcase_add_test(tcase, links_stay_and_their_target_is_replaced);
	tcase_add_test(tcase, a_loop_of_links_ends);
	tcase_add_test(tcase, mode_and_owner_stay);
	tcase_add_test(tcase, another_group_gets_no_more_than_all);
	tcase_add_test(tcase, a_folder_that_takes_nothing);
	tcase_add_test(tcase, a_full_disk_leaves_the_old);
	tcase_add_loop_test(tcase, refuses_what_it_cannot_replace, 0, ROWS(impossible));
	tcase_add_test(tcase, a_folder_that_goes_away);
	tcase_add_test(tcase, a_name_as_long_as_can_be);
	suite_add_tcase(suite, tcase);
	runner = srunner_create(suite);
	srunner_run_all(runner, CK_ENV);
	failed = srunner_ntests_failed(runner);
	srunner_free(runner);
	return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
