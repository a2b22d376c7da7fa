#include "tundish/store/lock.h"

#include "suite.h"

#include <check.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static char folder[] = "/tmp/tundish_lock_XXXXXX";
static struct lock lock;
static struct lock_holder holder;
static struct err err;

static const char path[] = "house.yaml", beside[] = ".house.yaml.lock";

static void setup(void)
{
	memset(&err, 0, sizeof(err));
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
}

static void teardown(void)
{
	char command[64];

	snprintf(command, sizeof(command), "rm -rf %s", folder);
	ck_assert_int_eq(system(command), 0);
}

static bool exists(const char *name)
{
	return access(name, F_OK) == 0;
}

static void write_lock(const char *text)
{
	FILE *file = fopen(beside, "wb");

	ck_assert_ptr_nonnull(file);
	ck_assert_int_ge(fputs(text, file), 0);
	ck_assert_int_eq(fclose(file), 0);
}

static enum lock_outcome take(bool take_over)
{
	return lock_take(&lock, path, NULL, take_over, &holder, &err);
}

START_TEST(a_lock_says_who_and_goes_away)
{
	char text[1024] = "", host[256] = "", line[300];
	FILE *file;

	ck_assert_int_eq(take(false), LOCK_TAKEN);
	file = fopen(beside, "rb");
	ck_assert_ptr_nonnull(file);
	ck_assert_uint_gt(fread(text, 1, sizeof(text) - 1, file), 0);
	fclose(file);
	ck_assert_int_eq(gethostname(host, sizeof(host) - 1), 0);
	snprintf(line, sizeof(line), "\nhost: %s\n", host);
	ck_assert_ptr_nonnull(strstr(text, line));
	snprintf(line, sizeof(line), "\npid: %ld\n", (long)getpid());
	ck_assert_ptr_nonnull(strstr(text, line));
	ck_assert_ptr_nonnull(strstr(text, "\nwho: "));
	ck_assert_ptr_nonnull(strstr(text, "\nsince: "));
	lock_release(&lock);
	ck_assert(!exists(beside));
	lock_release(&lock);
}
END_TEST

/* A process that holds the lock until it is killed. */
static pid_t hold_elsewhere(void)
{
	int ready[2];
	char byte;
	pid_t child;

	ck_assert_int_eq(pipe(ready), 0);
	child = fork();
	ck_assert_int_ge(child, 0);
	if (child == 0) {
		byte = take(false) == LOCK_TAKEN ? 'y' : 'n';
		if (write(ready[1], &byte, 1) == 1)
			pause();
		_exit(0);
	}
	ck_assert_int_eq(read(ready[0], &byte, 1), 1);
	ck_assert_int_eq(byte, 'y');
	return child;
}

START_TEST(a_live_one_is_told_of_and_left)
{
	pid_t child = hold_elsewhere();

	ck_assert_int_eq(take(false), LOCK_HELD);
	ck_assert_int_eq(holder.pid, child);
	ck_assert_str_ne(holder.who, "");
	ck_assert_uint_eq(strlen(holder.since), 20);
	ck_assert_int_eq(lock.fd, -1);
	lock_release(&lock);
	ck_assert(exists(beside));
	kill(child, SIGKILL);
	waitpid(child, NULL, 0);
	/* and now it is stale */
	ck_assert_int_eq(take(false), LOCK_TAKEN);
	lock_release(&lock);
}
END_TEST

START_TEST(one_that_was_taken_over_is_not_given_back_by_the_other)
{
	struct lock first;

	ck_assert_int_eq(take(false), LOCK_TAKEN);
	first = lock;
	ck_assert_int_eq(take(true), LOCK_TAKEN);
	lock_release(&first);
	ck_assert(exists(beside));
	lock_release(&lock);
	ck_assert(!exists(beside));
}
END_TEST

static const char *lock_text(const char *host, long pid, const char *boot, const char *started)
{
	static char text[1024];

	snprintf(text, sizeof(text),
	         "tundish-lock-1\nwho: kim\nhost: %s\npid: %ld\n%ssince: "
	         "2026-11-25T09:00:00Z\nboot: %s\n",
	         host, pid, started, boot);
	return text;
}

static pid_t dead_process(void)
{
	pid_t child = fork();

	if (child == 0)
		_exit(0);
	waitpid(child, NULL, 0);
	return child;
}

START_TEST(stale_is_told_from_live)
{
	char host[256] = "", boot[64] = "";
	FILE *file = fopen("/proc/sys/kernel/random/boot_id", "rb");
	const struct {
		const char *title, *text;
		enum lock_outcome outcome;
	} rows[] = {
	        {"empty: killed while it was made",   "",                         LOCK_TAKEN},
	        {"another host, though gone here",    "other",                    LOCK_HELD },
	        {"this host, no such process",        "dead",                     LOCK_TAKEN},
	        {"this host, the process is there",   "alive",                    LOCK_HELD },
	        {"this host, another of that number", "reused",                   LOCK_TAKEN},
	        {"this host before it was restarted", "boot",                     LOCK_TAKEN},
	        {"not a lock of ours",                "someone was here\n",       LOCK_HELD },
	        {"cut short",                         "tundish-lock-1\nwho: kim", LOCK_HELD },
	};

	ck_assert_int_eq(gethostname(host, sizeof(host) - 1), 0);
	if (file != NULL) {
		ck_assert_int_eq(fscanf(file, "%63s", boot), 1);
		fclose(file);
	}
	for (size_t i = 0; i < COUNT(rows); i++) {
		const char *text = rows[i].text;

		if (strcmp(text, "other") == 0)
			text = lock_text("elsewhere.example", dead_process(), boot, "");
		else if (strcmp(text, "dead") == 0)
			text = lock_text(host, dead_process(), boot, "");
		else if (strcmp(text, "alive") == 0)
			text = lock_text(host, getpid(), boot, "");
		else if (strcmp(text, "reused") == 0)
			text = lock_text(host, getpid(), boot, "started: 1\n");
		else if (strcmp(text, "boot") == 0)
			text = lock_text(host, getpid(), "11111111-2222", "");
		write_lock(text);
		ck_assert_msg(take(false) == rows[i].outcome, "%s", rows[i].title);
		lock_release(&lock);
		unlink(beside);
	}
}
END_TEST

START_TEST(what_is_shown_of_it_is_printable)
{
	write_lock("tundish-lock-1\nwho: \033[31mkim\nhost: a.example\npid: 12\n");
	ck_assert_int_eq(take(false), LOCK_HELD);
	ck_assert_str_eq(holder.who, "?[31mkim");
	ck_assert_str_eq(holder.host, "a.example");
}
END_TEST

START_TEST(many_at_once_and_one_gets_it)
{
	enum { MANY = 8, ROUNDS = 8 };

	for (int round = 0; round < ROUNDS; round++) {
		pid_t child[MANY];
		int go[2], taken = 0;

		write_lock(round % 2 ? "" : "tundish-lock-1\nhost: x");
		if (round % 3 == 0)
			unlink(beside);
		if (round % 2 == 0 && round % 3 != 0)
			continue;
		ck_assert_int_eq(pipe(go), 0);
		for (int i = 0; i < MANY; i++) {
			child[i] = fork();
			if (child[i] == 0) {
				enum lock_outcome outcome = take(false);
				char byte;

				close(go[1]);
				/* holds it until all had their try */
				if (outcome == LOCK_TAKEN && read(go[0], &byte, 1) < 0)
					_exit(3);
				_exit(outcome == LOCK_TAKEN ? 1 : 0);
			}
		}
		nanosleep(&(struct timespec){0, 400000000L}, NULL);
		close(go[1]);
		close(go[0]);
		for (int i = 0; i < MANY; i++) {
			int how;

			waitpid(child[i], &how, 0);
			taken += WEXITSTATUS(how);
		}
		ck_assert_int_eq(taken, 1);
		unlink(beside);
	}
}
END_TEST

START_TEST(two_names_of_one_file_are_one_lock)
{
	FILE *file = fopen(path, "wb");

	ck_assert_ptr_nonnull(file);
	fclose(file);
	ck_assert_int_eq(symlink(path, "other.yaml"), 0);
	ck_assert_int_eq(take(false), LOCK_TAKEN);
	struct lock second;
	ck_assert_int_eq(lock_take(&second, "./other.yaml", NULL, false, &holder, &err), LOCK_HELD);
	lock_release(&lock);
}
END_TEST

START_TEST(where_none_can_be_made)
{
	ck_assert_int_eq(lock_take(&lock, "nowhere/house.yaml", NULL, false, &holder, &err),
	                 LOCK_IMPOSSIBLE);
	ck_assert_int_eq(err.kind, ERR_IO);
	lock_release(&lock);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("lock");
	TCase *tcase = tcase_create("lock");

	tcase_add_checked_fixture(tcase, setup, teardown);
	tcase_set_timeout(tcase, 60);
	suite_add_tcase(suite, tcase);
	tcase_add_test(tcase, a_lock_says_who_and_goes_away);
	tcase_add_test(tcase, a_live_one_is_told_of_and_left);
	tcase_add_test(tcase, one_that_was_taken_over_is_not_given_back_by_the_other);
	tcase_add_test(tcase, stale_is_told_from_live);
	tcase_add_test(tcase, what_is_shown_of_it_is_printable);
	tcase_add_test(tcase, many_at_once_and_one_gets_it);
	tcase_add_test(tcase, two_names_of_one_file_are_one_lock);
	tcase_add_test(tcase, where_none_can_be_made);
	return suite_run(suite);
}
