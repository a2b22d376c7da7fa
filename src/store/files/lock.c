#include "tundish/store/lock.h"

#include "beside.h"

#include "tundish/base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <pwd.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <time.h>
#include <unistd.h>

enum {
	TEXT_MOST = 1024,
	TRIES = 50,
	EMPTY_TRIES = 10, /* looks at an empty one: whoever made it is about to write */
	WAIT_MS = 10,
};

static const char first_line[] = "tundish-lock-1\n";

/* -- who we are ------------------------------------------------------------------------- */

static void first_of_file(const char *path, char *out, size_t room)
{
	int fd = open(path, O_RDONLY | O_CLOEXEC);
	ssize_t got = fd < 0 ? 0 : read(fd, out, room - 1);

	if (fd >= 0)
		close(fd);
	out[got > 0 ? got : 0] = '\0';
}

/* When a process began, in the system's ticks: tells it from a later one of the same number. 0: not
 * known; UINT64_MAX: it has ended. */
static uint64_t start_of(long pid)
{
	enum { FIELDS_BETWEEN = 19 /* after the name in parentheses */ };
	char path[64], text[TEXT_MOST];
	const char *at;

	snprintf(path, sizeof(path), "/proc/%ld/stat", pid);
	first_of_file(path, text, sizeof(text));
	at = strrchr(text, ')');
	/* killed, and only its parent has not noticed yet */
	if (at != NULL && (strncmp(at, ") Z", 3) == 0 || strncmp(at, ") X", 3) == 0))
		return UINT64_MAX;
	for (int i = 0; at != NULL && i <= FIELDS_BETWEEN; i++)
		at = strchr(at + 1, ' ');
	return at == NULL ? 0 : strtoull(at + 1, NULL, 10);
}

static void this_process(struct lock_holder *us)
{
	const struct passwd *user = getpwuid(getuid());
	time_t now = time(NULL);
	struct tm parts;

	*us = (struct lock_holder){.pid = (long)getpid(), .started = start_of((long)getpid())};
	if (user == NULL)
		snprintf(us->who, sizeof(us->who), "%lu", (unsigned long)getuid());
	else
		snprintf(us->who, sizeof(us->who), "%s", user->pw_name);
	if (gethostname(us->host, sizeof(us->host) - 1) != 0)
		us->host[0] = '\0';
	if (gmtime_r(&now, &parts) != NULL)
		strftime(us->since, sizeof(us->since), "%Y-%m-%dT%H:%M:%SZ", &parts);
	first_of_file("/proc/sys/kernel/random/boot_id", us->boot, sizeof(us->boot));
	us->boot[strcspn(us->boot, "\n")] = '\0';
}

/* -- its text --------------------------------------------------------------------------- */

static void take_value(const char *value, size_t length, char *out, size_t room)
{
	size_t count = 0;

	while (count < length && count + 1 < room) {
		out[count] = text_is_control(value + count, 1) ? '?' : value[count];
		count++;
	}
	out[count] = '\0';
}

static void read_line(const char *line, size_t length, struct lock_holder *out)
{
	const char *colon = memchr(line, ':', length);
	const char *value = colon == NULL || colon + 1 == line + length ? NULL : colon + 2;
	size_t left = value == NULL ? 0 : (size_t)(line + length - value);
	char number[32];

	if (value == NULL)
		return;
	if (strncmp(line, "who:", 4) == 0)
		take_value(value, left, out->who, sizeof(out->who));
	else if (strncmp(line, "host:", 5) == 0)
		take_value(value, left, out->host, sizeof(out->host));
	else if (strncmp(line, "since:", 6) == 0)
		take_value(value, left, out->since, sizeof(out->since));
	else if (strncmp(line, "boot:", 5) == 0)
		take_value(value, left, out->boot, sizeof(out->boot));
	take_value(value, left, number, sizeof(number));
	if (strncmp(line, "pid:", 4) == 0)
		out->pid = strtol(number, NULL, 10);
	else if (strncmp(line, "started:", 8) == 0)
		out->started = strtoull(number, NULL, 10);
}

/* @return false when it is no lock of ours. */
static bool read_holder(int fd, struct lock_holder *out, bool *empty)
{
	char text[TEXT_MOST];
	ssize_t got = pread(fd, text, sizeof(text) - 1, 0);
	const char *line, *end;

	*out = (struct lock_holder){0};
	*empty = got == 0;
	text[got > 0 ? got : 0] = '\0';
	if (strncmp(text, first_line, sizeof(first_line) - 1) != 0)
		return false;
	for (line = text + sizeof(first_line) - 1; (end = strchr(line, '\n')) != NULL;
	     line = end + 1)
		read_line(line, (size_t)(end - line), out);
	return out->pid > 0 && out->host[0] != '\0';
}

/* Without its text it is a lock all the same: nobody else is told who holds it. */
static void write_holder(int fd)
{
	struct lock_holder us;
	char text[TEXT_MOST];
	int length;

	this_process(&us);
	length = snprintf(text, sizeof(text),
	                  "%swho: %s\nhost: %s\npid: %ld\nstarted: %llu\nsince: %s\nboot: %s\n",
	                  first_line, us.who, us.host, us.pid, (unsigned long long)us.started,
	                  us.since, us.boot);
	if (length > 0 && (size_t)length < sizeof(text) &&
	    beside_write(fd, text, (size_t)length, 0))
		fsync(fd);
}

/* -- stale or live ---------------------------------------------------------------------- */

/* Nobody holds it by flock(); is its process gone too? */
static bool is_gone(const struct lock_holder *holder)
{
	struct lock_holder us;
	uint64_t started;

	this_process(&us);
	if (strcmp(us.host, holder->host) != 0)
		return false;
	if (us.boot[0] != '\0' && holder->boot[0] != '\0' && strcmp(us.boot, holder->boot) != 0)
		return true;
	if (kill((pid_t)holder->pid, 0) != 0 && errno == ESRCH)
		return true;
	started = start_of(holder->pid);
	if (started == UINT64_MAX)
		return true;
	return started != 0 && holder->started != 0 && started != holder->started;
}

/* Where the file system has no such locks, the text alone decides. */
static bool hold(int fd)
{
	return flock(fd, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK;
}

enum look { LOOK_LIVE, LOOK_STALE, LOOK_AGAIN };

static enum look look_at(int fd, struct lock_holder *holder, int try)
{
	bool empty, readable = read_holder(fd, holder, &empty);

	if (!hold(fd))
		return LOOK_LIVE;
	if (empty)
		return try < EMPTY_TRIES ? LOOK_AGAIN : LOOK_STALE;
	return readable && is_gone(holder) ? LOOK_STALE : LOOK_LIVE;
}

/* -- taking ----------------------------------------------------------------------------- */

static void wait_a_little(void)
{
	struct timespec time = {0, WAIT_MS * 1000000L};

	nanosleep(&time, NULL);
}

/* @return whether a new one was made and is ours; else errno. */
static bool make(struct lock *lock)
{
	int fd = open(lock->path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0644);

	if (fd < 0)
		return false;
	/* a quick one may have thought it stale before we held it */
	if (!hold(fd) || !beside_is(lock->path, fd)) {
		close(fd);
		errno = EEXIST;
		return false;
	}
	write_holder(fd);
	lock->fd = fd;
	return true;
}

/* One that is there. @return whether another is to be made in its place. */
static bool replaceable(struct lock *lock, bool take_over, struct lock_holder *holder, int try,
                        bool *held)
{
	int fd = open(lock->path, O_RDONLY | O_NOFOLLOW | O_CLOEXEC);
	enum look look;
	bool gone = false;

	if (fd < 0) {
		*held = errno != ENOENT;
		return false;
	}
	look = look_at(fd, holder, try);
	*held = look == LOOK_LIVE && !take_over;
	/* while it is held here, another that finds it stale too has to wait, and then sees it gone */
	if ((look == LOOK_STALE || take_over) && beside_is(lock->path, fd))
		gone = unlink(lock->path) == 0;
	close(fd);
	return gone;
}

/* @return LOCK_IMPOSSIBLE: errno. */
static enum lock_outcome take_here(struct lock *lock, bool take_over, struct lock_holder *holder)
{
	bool held = false;

	for (int try = 0; try < TRIES; try++) {
		if (make(lock))
			return LOCK_TAKEN;
		if (errno != EEXIST)
			return LOCK_IMPOSSIBLE;
		if (!replaceable(lock, take_over, holder, try, &held)) {
			if (held)
				return LOCK_HELD;
			wait_a_little();
		}
	}
	return LOCK_HELD;
}

enum lock_outcome lock_take(struct lock *lock, const char *path, const char *states, bool take_over,
                            struct lock_holder *holder, struct err *err)
{
	char resolved[PATH_MAX];
	enum lock_outcome outcome = LOCK_IMPOSSIBLE;
	int reason = 0;

	*holder = (struct lock_holder){0};
	lock->fd = -1;
	if (beside_resolve(path, resolved)) {
		if (beside_name(resolved, "lock", lock->path))
			outcome = take_here(lock, take_over, holder);
		reason = errno;
		if (outcome == LOCK_IMPOSSIBLE && states != NULL &&
		    beside_state_name(states, resolved, "lock", lock->path) &&
		    beside_make_folder(lock->path))
			outcome = take_here(lock, take_over, holder);
	} else {
		reason = errno;
	}
	if (outcome == LOCK_IMPOSSIBLE)
		err_set(err, ERR_IO, "%s can't be locked: %s", path, strerror(reason));
	return outcome;
}

void lock_release(struct lock *lock)
{
	if (lock->fd < 0)
		return;
	if (beside_is(lock->path, lock->fd))
		unlink(lock->path);
	close(lock->fd);
	lock->fd = -1;
}
