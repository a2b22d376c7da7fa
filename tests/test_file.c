#include "tundish/store/file.h"

#include "suite.h"

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
#include <sys/types.h>
#include <sys/xattr.h>
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
	ck_assert_msg(file_replace("a", "new\n", 4, &stamp, FILE_AS_READ, &err), "%s", err.message);
	assert_holds("a", "new\n");
	/* its stamp is the new file's: no conflict with itself */
	ck_assert_msg(file_replace("a", "newer\n", 6, &stamp, FILE_AS_READ, &err), "%s",
	              err.message);
	assert_holds("a", "newer\n");
	ck_assert_msg(file_replace("a", "", 0, &stamp, FILE_AS_READ, &err), "%s", err.message);
	assert_holds("a", "");
	ck_assert_uint_eq(count_names(), 1);
}
END_TEST

START_TEST(makes_a_new_file_as_the_umask_says)
{
	struct file_stamp stamp = {0};
	struct stat status;

	umask(027);
	ck_assert_msg(file_replace("a", "x", 1, NULL, FILE_AS_READ, &err), "%s", err.message);
	ck_assert_int_eq(stat("a", &status), 0);
	ck_assert_uint_eq(status.st_mode & 07777, 0640);
	ck_assert_msg(file_replace("./b", "x", 1, &stamp, FILE_AS_READ, &err), "%s", err.message);
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
	replaced = file_replace("a", "ours", 4, &stamp,
	                        conflicts[_i].force ? FILE_FORCE : FILE_AS_READ, &err);
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
	ck_assert(!file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err));
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
}
END_TEST

static void set_times(const char *path, const struct file_stamp *stamp)
{
	struct timespec time = {stamp->modified_s, (long)stamp->modified_ns};

	ck_assert_int_eq(utimensat(AT_FDCWD, path, (struct timespec[]){time, time}, 0), 0);
}

/* The same inode, size and times: a tool that puts the times back, or a clock that is coarse. */
START_TEST(other_bytes_with_the_old_times_are_a_change)
{
	struct file_stamp stamp;

	make("a", "old");
	stamp = stamp_now("a");
	make("a", "odl");
	set_times("a", &stamp);
	ck_assert(!file_is_still("a", &stamp));
	ck_assert(!file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err));
	ck_assert_int_eq(err.kind, ERR_CONFLICT);
	assert_holds("a", "odl");
}
END_TEST

START_TEST(other_times_with_the_old_bytes_are_no_change)
{
	struct file_stamp stamp, ago = {.modified_s = 1000000000, .modified_ns = 1};

	make("a", "old");
	stamp = stamp_now("a");
	make("b", "old");
	ck_assert_int_eq(rename("b", "a"), 0);
	set_times("a", &ago);
	ck_assert(file_is_still("a", &stamp));
	ck_assert_msg(file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err), "%s", err.message);
	assert_holds("a", "new");
	ck_assert(file_is_still("a", &stamp));
}
END_TEST

START_TEST(what_was_there_can_be_kept)
{
	struct file_stamp stamp = {0};

	ck_assert(file_replace("a", "first", 5, &stamp, FILE_KEEP_OLD, &err));
	ck_assert_uint_eq(count_names(), 1);
	ck_assert(file_replace("a", "second", 6, &stamp, FILE_KEEP_OLD, &err));
	assert_holds("a~", "first");
	ck_assert(file_replace("a", "third", 5, &stamp, FILE_AS_READ, &err));
	assert_holds("a~", "first");
	ck_assert(file_replace("a", "fourth", 6, &stamp, FILE_KEEP_OLD, &err));
	assert_holds("a~", "third");
	assert_holds("a", "fourth");
	ck_assert_uint_eq(count_names(), 2);
	ck_assert_uint_eq(stamp.other_names, 0);
}
END_TEST

START_TEST(what_cannot_be_kept_is_no_failure)
{
	struct file_stamp stamp;

	make("a", "old");
	ck_assert_int_eq(mkdir("a~", 0755), 0);
	stamp = stamp_now("a");
	ck_assert_msg(file_replace("a", "new", 3, &stamp, FILE_KEEP_OLD, &err), "%s", err.message);
	assert_holds("a", "new");
	ck_assert_uint_eq(count_names(), 2);
}
END_TEST

START_TEST(other_names_are_told_of)
{
	struct file_stamp stamp;

	make("a", "old");
	ck_assert_int_eq(link("a", "b"), 0);
	ck_assert_int_eq(link("a", "c"), 0);
	stamp = stamp_now("a");
	ck_assert_msg(file_replace("a", "new", 3, &stamp, FILE_KEEP_OLD, &err), "%s", err.message);
	ck_assert_uint_eq(stamp.other_names, 2);
	assert_holds("b", "old");
	ck_assert(file_replace("a", "newer", 5, &stamp, FILE_AS_READ, &err));
	ck_assert_uint_eq(stamp.other_names, 0);
}
END_TEST

/* An access control list as the kernel keeps it: the owner and one more may read and write, the group nothing. */
static const unsigned char acl[] = {
        2,  0, 0, 0,                         /* version */
        1,  0, 6, 0, 0xff, 0xff, 0xff, 0xff, /* the owner */
        2,  0, 6, 0, 0x39, 0x30, 0,    0,    /* user 12345 */
        4,  0, 0, 0, 0xff, 0xff, 0xff, 0xff, /* the group */
        16, 0, 6, 0, 0xff, 0xff, 0xff, 0xff, /* at most */
        32, 0, 0, 0, 0xff, 0xff, 0xff, 0xff, /* others */
};

START_TEST(lists_and_attributes_stay)
{
	struct file_stamp stamp;
	char value[100];

	make("a", "old");
	if (setxattr("a", "user.note", "mine", 4, 0) != 0) {
		ck_assert_int_eq(errno, ENOTSUP);
		return;
	}
	stamp = stamp_now("a");
	ck_assert_msg(file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err), "%s", err.message);
	ck_assert_int_eq(getxattr("a", "user.note", value, sizeof(value)), 4);
	ck_assert_mem_eq(value, "mine", 4);
	if (setxattr("a", "system.posix_acl_access", acl, sizeof(acl), 0) != 0)
		return;
	ck_assert_msg(file_replace("a", "newer", 5, &stamp, FILE_AS_READ, &err), "%s", err.message);
	ck_assert_int_eq(getxattr("a", "system.posix_acl_access", value, sizeof(value)),
	                 sizeof(acl));
	ck_assert_mem_eq(value, acl, sizeof(acl));
}
END_TEST

START_TEST(a_list_of_the_folder_is_not_taken_over)
{
	struct file_stamp stamp;
	struct stat status;
	char value[100];

	make("a", "old");
	ck_assert_int_eq(chmod("a", 0640), 0);
	if (setxattr(".", "system.posix_acl_default", acl, sizeof(acl), 0) != 0)
		return;
	stamp = stamp_now("a");
	ck_assert_msg(file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err), "%s", err.message);
	ck_assert_int_lt(getxattr("a", "system.posix_acl_access", value, sizeof(value)), 0);
	ck_assert_int_eq(stat("a", &status), 0);
	ck_assert_int_eq(status.st_mode & 0777, 0640);
}
END_TEST

/* -- what killed saves left --------------------------------------------------------------- */

START_TEST(what_was_left_is_found)
{
	static const char *const others[] = {".a.yaml.abc12.tmp",  ".a.yaml.abc1234.tmp",
	                                     ".a.yaml.ABC123.tmp", ".b.yaml.abc123.tmp",
	                                     "a.yaml.abc123.tmp",  ".a.yaml.abc123.tmp~",
	                                     ".a.yaml.lock",       ".a.yaml.journal"};
	struct file_left *left;

	ck_assert_uint_eq(file_find_left("a.yaml", &arena, &left), 0);
	for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++)
		make(others[i], "x");
	ck_assert_int_eq(mkdir(".a.yaml.folder.tmp", 0755), 0);
	ck_assert_uint_eq(file_find_left("a.yaml", &arena, &left), 0);
	make(".a.yaml.zz9999.tmp", "half of i");
	make(".a.yaml.abc123.tmp", "");
	ck_assert_uint_eq(file_find_left("a.yaml", &arena, &left), 2);
	ck_assert_str_eq(strrchr(left[0].path, '/'), "/.a.yaml.abc123.tmp");
	ck_assert_uint_eq(left[0].size, 0);
	ck_assert_str_eq(strrchr(left[1].path, '/'), "/.a.yaml.zz9999.tmp");
	ck_assert_uint_eq(left[1].size, 9);
	/* beside what a link leads to */
	ck_assert_int_eq(mkdir("deep", 0755), 0);
	make("a.yaml", "x");
	ck_assert_int_eq(symlink("../a.yaml", "deep/link.yaml"), 0);
	ck_assert_uint_eq(file_find_left("deep/link.yaml", &arena, &left), 2);
	ck_assert_int_eq(unlink("deep/link.yaml"), 0);
	ck_assert_uint_eq(file_find_left("nowhere/a.yaml", &arena, &left), 0);
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
	ck_assert_msg(file_replace("first", "new", 3, &stamp, FILE_AS_READ, &err), "%s",
	              err.message);
	assert_holds("deep/a", "new");
	ck_assert_int_eq(lstat("first", &status), 0);
	ck_assert(S_ISLNK(status.st_mode));
	ck_assert_int_eq(lstat("deep/b", &status), 0);
	ck_assert(S_ISLNK(status.st_mode));
	/* one that leads nowhere yet: there it is made */
	ck_assert_int_eq(unlink("deep/a"), 0);
	ck_assert_msg(file_replace("first", "again", 5, NULL, FILE_AS_READ, &err), "%s",
	              err.message);
	assert_holds("deep/a", "again");
	ck_assert_int_eq(unlink("deep/a"), 0);
	ck_assert_int_eq(unlink("deep/b"), 0);
}
END_TEST

START_TEST(a_loop_of_links_ends)
{
	ck_assert_int_eq(symlink("b", "a"), 0);
	ck_assert_int_eq(symlink("a", "b"), 0);
	ck_assert(!file_replace("a", "x", 1, NULL, FILE_FORCE, &err));
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
	ck_assert_msg(file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err), "%s", err.message);
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
	ck_assert_msg(file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err), "%s", err.message);
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
	ck_assert(!file_replace("a", "new", 3, &stamp, FILE_AS_READ, &err));
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
	ck_assert(!file_replace("a", big, 100000, &stamp, FILE_AS_READ, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_ptr_nonnull(strstr(err.message, strerror(EFBIG)));
	assert_holds("a", "old");
	ck_assert_uint_eq(count_names(), 1);
	/* and what was read before is still what is there */
	ck_assert(file_replace("a", "new", 3, &stamp, FILE_AS_READ, &(struct err){0}));
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
	ck_assert_msg(!file_replace(impossible[_i].path, "x", 1, NULL, FILE_FORCE, &err), "%s",
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
	ck_assert(!file_replace("a", "x", 1, NULL, FILE_AS_READ, &err));
	ck_assert_int_eq(err.kind, ERR_IO);
	ck_assert_int_eq(chdir(folder), 0);
}
END_TEST

START_TEST(a_name_as_long_as_can_be)
{
	char name[256];

	memset(name, 'n', 255);
	name[255] = '\0';
	ck_assert_msg(file_replace(name, "x", 1, NULL, FILE_AS_READ, &err), "%s", err.message);
	assert_holds(name, "x");
	ck_assert_uint_eq(count_names(), 1);
}
END_TEST

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

int main(void)
{
	Suite *suite = suite_create("file");
	TCase *tcase = tcase_create("file");

	tcase_add_checked_fixture(tcase, setup, teardown);
	tcase_add_loop_test(tcase, reads_every_byte, 0, 6);
	tcase_add_test(tcase, reads_standard_input);
	tcase_add_test(tcase, refuses_what_it_cannot_read);
	tcase_add_test(tcase, sixteen_mebibytes_are_the_most);
	tcase_add_test(tcase, replaces_and_knows_its_own);
	tcase_add_test(tcase, makes_a_new_file_as_the_umask_says);
	tcase_add_loop_test(tcase, what_changed_underneath_stays, 0, ROWS(conflicts));
	tcase_add_test(tcase, replaced_by_another_of_the_same_size_is_a_change);
	tcase_add_test(tcase, other_bytes_with_the_old_times_are_a_change);
	tcase_add_test(tcase, other_times_with_the_old_bytes_are_no_change);
	tcase_add_test(tcase, what_was_there_can_be_kept);
	tcase_add_test(tcase, what_cannot_be_kept_is_no_failure);
	tcase_add_test(tcase, other_names_are_told_of);
	tcase_add_test(tcase, lists_and_attributes_stay);
	tcase_add_test(tcase, a_list_of_the_folder_is_not_taken_over);
	tcase_add_test(tcase, what_was_left_is_found);
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
	return suite_run(suite);
}
