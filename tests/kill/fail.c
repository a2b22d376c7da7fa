/*
 * Preloaded under a walk: the Nth call that could touch a file fails, or the process is killed there.
 *
 *     FAIL_AT   which call, counted from 1; 0 or not set: none
 *     FAIL_HOW  kill; an errno's number: that call alone; the same with + behind it: that one and all later ones that need room
 *     FAIL_BROKEN  set: a save is one as it must not be, that empties the old file and writes the new one into it. So the
 *               harness can be seen to catch such a one
 *     FAIL_LOG  a file that the number of calls is written to at the end
 *
 * Output to the terminal is not counted: that is not what a save is made of.
 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static long calls;

static long number_of(const char *name)
{
	const char *text = getenv(name);

	return text == NULL ? 0 : strtol(text, NULL, 10);
}

/* @return whether this call is to fail; then errno is set. */
static bool fails(bool needs_room)
{
	const char *how = getenv("FAIL_HOW");
	long at = number_of("FAIL_AT"), now = ++calls;
	bool on = how != NULL && strchr(how, '+') != NULL && needs_room;

	if (at == 0 || how == NULL || (now != at && !(on && now > at)))
		return false;
	if (strcmp(how, "kill") == 0)
		kill(getpid(), SIGKILL);
	errno = (int)strtol(how, NULL, 10);
	return true;
}

__attribute__((destructor)) static void log_calls(void)
{
	const char *path = getenv("FAIL_LOG");
	FILE *file = path == NULL ? NULL : fopen(path, "w");

	if (file == NULL)
		return;
	fprintf(file, "%ld\n", calls);
	fclose(file);
}

/* A function of the C library by its name; the cast is what dlsym() is made for. */
#define REAL(type, name)                                                                           \
	static type real;                                                                          \
	if (real == NULL)                                                                          \
	*(void **)&real = dlsym(RTLD_NEXT, name)

typedef int (*open_like)(const char *, int, ...);
typedef int (*openat_like)(int, const char *, int, ...);
typedef ssize_t (*pwrite_like)(int, const void *, size_t, off_t);
typedef int (*truncate_like)(int, off_t);
typedef int (*of_fd)(int);
typedef int (*of_two_paths)(const char *, const char *);
typedef int (*of_path)(const char *);

#define OPEN(name)                                                                                 \
	int name(const char *path, int flags, ...);                                                \
	int name(const char *path, int flags, ...)                                                 \
	{                                                                                          \
		va_list args;                                                                      \
		mode_t mode;                                                                       \
		REAL(open_like, #name);                                                            \
		va_start(args, flags);                                                             \
		mode = flags & O_CREAT ? va_arg(args, mode_t) : 0;                                 \
		va_end(args);                                                                      \
		return fails((flags & O_CREAT) != 0) ? -1 : real(path, flags, mode);               \
	}

#define OPENAT(name)                                                                               \
	int name(int folder, const char *path, int flags, ...);                                    \
	int name(int folder, const char *path, int flags, ...)                                     \
	{                                                                                          \
		va_list args;                                                                      \
		mode_t mode;                                                                       \
		REAL(openat_like, #name);                                                          \
		va_start(args, flags);                                                             \
		mode = flags & O_CREAT ? va_arg(args, mode_t) : 0;                                 \
		va_end(args);                                                                      \
		return fails((flags & O_CREAT) != 0) ? -1 : real(folder, path, flags, mode);       \
	}

#define PWRITE(name)                                                                               \
	ssize_t name(int fd, const void *bytes, size_t count, off_t at);                           \
	ssize_t name(int fd, const void *bytes, size_t count, off_t at)                            \
	{                                                                                          \
		REAL(pwrite_like, #name);                                                          \
		/* what fits is written before the disk is full */                                 \
		if (fails(true)) {                                                                 \
			int reason = errno;                                                        \
			real(fd, bytes, count / 2, at);                                            \
			errno = reason;                                                            \
			return -1;                                                                 \
		}                                                                                  \
		return real(fd, bytes, count, at);                                                 \
	}

#define TRUNCATE(name)                                                                             \
	int name(int fd, off_t length);                                                            \
	int name(int fd, off_t length)                                                             \
	{                                                                                          \
		REAL(truncate_like, #name);                                                        \
		return fails(false) ? -1 : real(fd, length);                                       \
	}

#define OF_FD(name)                                                                                \
	int name(int fd);                                                                          \
	int name(int fd)                                                                           \
	{                                                                                          \
		REAL(of_fd, #name);                                                                \
		return fails(true) ? -1 : real(fd);                                                \
	}

#define OF_TWO_PATHS(name)                                                                         \
	int name(const char *from, const char *to);                                                \
	int name(const char *from, const char *to)                                                 \
	{                                                                                          \
		REAL(of_two_paths, #name);                                                         \
		return fails(false) ? -1 : real(from, to);                                         \
	}

OPEN(open)
OPEN(open64)
OPENAT(openat)
OPENAT(openat64)
PWRITE(pwrite)
PWRITE(pwrite64)
TRUNCATE(ftruncate)
TRUNCATE(ftruncate64)
OF_FD(fsync)
OF_FD(fdatasync)
OF_TWO_PATHS(rename)
OF_TWO_PATHS(link)

int unlink(const char *path)
{
	REAL(of_path, "unlink");
	return fails(false) ? -1 : real(path);
}

int close(int fd)
{
	REAL(of_fd, "close");
	if (fd <= 2)
		return real(fd);
	if (fails(false)) {
		int reason = errno;
		real(fd);
		errno = reason;
		return -1;
	}
	return real(fd);
}

/* What a rename must not be made of: the file at @p to is nothing, then half of it, then all. */
static int overwrite(int from_folder, const char *from, int to_folder, const char *to)
{
	static char text[1 << 16];
	int in = openat(from_folder, from, O_RDONLY),
	    out = openat(to_folder, to, O_WRONLY | O_TRUNC);
	ssize_t length = in < 0 ? -1 : read(in, text, sizeof(text)), half = length / 2;
	bool done = out >= 0 && length >= 0 && write(out, text, (size_t)half) == half &&
	            write(out, text + half, (size_t)(length - half)) == length - half;

	if (in >= 0)
		close(in);
	if (out >= 0)
		close(out);
	return done ? unlinkat(from_folder, from, 0) : -1;
}

static bool is_survey(const char *name)
{
	const char *dot = strrchr(name, '.');

	return dot != NULL && strcmp(dot, ".yaml") == 0;
}

int renameat(int from_folder, const char *from, int to_folder, const char *to)
{
	typedef int (*like)(int, const char *, int, const char *);
	REAL(like, "renameat");
	if (getenv("FAIL_BROKEN") != NULL && is_survey(to))
		return overwrite(from_folder, from, to_folder, to);
	return fails(false) ? -1 : real(from_folder, from, to_folder, to);
}

int unlinkat(int folder, const char *path, int flags)
{
	typedef int (*like)(int, const char *, int);
	REAL(like, "unlinkat");
	return fails(false) ? -1 : real(folder, path, flags);
}

int fchmod(int fd, mode_t mode)
{
	typedef int (*like)(int, mode_t);
	REAL(like, "fchmod");
	return fails(false) ? -1 : real(fd, mode);
}

ssize_t write(int fd, const void *bytes, size_t count)
{
	typedef ssize_t (*like)(int, const void *, size_t);
	REAL(like, "write");
	if (fd > 2 && fails(true)) {
		int reason = errno;
		ssize_t some = real(fd, bytes, count / 2);

		(void)some;
		errno = reason;
		return -1;
	}
	return real(fd, bytes, count);
}
