#include "tundish/store/reviews.h"

#include "../files/beside.h"
#include "reviews_line.h"
#include "tundish/base/sink.h"
#include "tundish/base/text.h"

#include <sodium.h>

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <search.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static const char ending[] = ".ndjson";

/* -- names ----------------------------------------------------------------------------------- */

const char *learner_fault(const char *name)
{
	size_t length = strlen(name);

	if (length == 0)
		return "a learner has a name";
	if (length > LEARNER_MOST)
		return "a learner's name has 60 bytes at most";
	if (!text_is_utf8(name, length, NULL))
		return "a learner's name is not UTF-8";
	for (size_t i = 0; i < length; i++)
		if (text_is_control(name + i, length - i) && !((unsigned char)name[i] & 0x80))
			return "a learner's name has no control characters";
	return NULL;
}

static bool stands_as_it_is(unsigned char byte, bool first)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
	       (byte >= '0' && byte <= '9') || byte == '_' || byte == '-' ||
	       (byte == '.' && !first);
}

const char *reviews_path(const char *states, const char *learner, struct arena *arena)
{
	char *name = arena_take(arena, strlen(learner) * 3 + 1), *at = name;

	if (!name)
		return NULL;
	for (const char *from = learner; *from; from++) {
		unsigned char byte = (unsigned char)*from;

		if (stands_as_it_is(byte, from == learner))
			*at++ = *from;
		else
			at += snprintf(at, 4, "%%%02X", byte);
	}
	return arena_print(arena, "%s/reviews/%s%s", states, name, ending);
}

static int is_log(const struct dirent *entry)
{
	size_t length = strlen(entry->d_name), tail = sizeof(ending) - 1;

	return entry->d_name[0] != '.' && length > tail &&
	       strcmp(entry->d_name + length - tail, ending) == 0;
}

static int by_bytes(const struct dirent **a, const struct dirent **b)
{
	return strcmp((*a)->d_name, (*b)->d_name);
}

bool reviews_all(const char *states, struct arena *arena, const char ***out, size_t *count,
                 struct err *err)
{
	const char *folder = arena_print(arena, "%s/reviews", states);
	struct dirent **entry = NULL;
	int found = folder ? scandir(folder, &entry, is_log, by_bytes) : 0;

	*out = NULL;
	*count = 0;
	if (found < 0 && errno != ENOENT) {
		err_set(err, ERR_IO, "%s: %s", folder, strerror(errno));
		return false;
	}
	if (found > 0)
		*out = arena_take(arena, (size_t)found * sizeof(**out));
	for (int i = 0; i < found; i++) {
		if (*out)
			(*out)[(*count)++] = arena_print(arena, "%s/%s", folder, entry[i]->d_name);
		free(entry[i]);
	}
	free(entry);
	if (arena->failed)
		err_set(err, ERR_MEMORY, "no memory for the logs");
	return !arena->failed;
}

/* -- chance ---------------------------------------------------------------------------------- */

void reviews_attempt(char out[ATTEMPT_ROOM])
{
	time_t now = time(NULL);
	struct tm parts = {0};
	char when[sizeof("20261125T091203Z")] = "";

	gmtime_r(&now, &parts);
	strftime(when, sizeof(when), "%Y%m%dT%H%M%SZ", &parts);
	snprintf(out, ATTEMPT_ROOM, "%s-%08x", when, (unsigned)randombytes_random());
}

uint32_t reviews_draw(uint32_t most)
{
	return 1 + randombytes_uniform(most);
}

/* -- adding ---------------------------------------------------------------------------------- */

static bool failed(struct err *err, const char *path)
{
	err_set(err, ERR_IO, "%s: %s", path, strerror(errno));
	return false;
}

static bool lock(int fd, int how)
{
	while (flock(fd, how) != 0)
		if (errno != EINTR)
			return false;
	return true;
}

/* Where the last line was cut short, ours must not go on with it. */
static bool ends_within_a_line(int fd, off_t size)
{
	char last = '\n';

	return size > 0 && (pread(fd, &last, 1, size - 1) != 1 || last != '\n');
}

static bool write_at_once(int fd, const char *bytes, size_t length)
{
	ssize_t written;

	do
		written = write(fd, bytes, length);
	while (written < 0 && errno == EINTR);
	if (written >= 0 && (size_t)written < length)
		errno = ENOSPC;
	return written == (ssize_t)length;
}

/* With the lock held, what is past @p size can only be ours. */
static bool append(int fd, struct sink *lines, struct err *err, const char *path)
{
	struct stat before;
	const char *bytes = lines->bytes; /* a newline, then the lines */
	size_t length = lines->count;
	int reason;

	if (!lock(fd, LOCK_EX) || fstat(fd, &before) != 0)
		return failed(err, path);
	if (!ends_within_a_line(fd, before.st_size)) {
		bytes++;
		length--;
	}
	if (write_at_once(fd, bytes, length) && fsync(fd) == 0)
		return true;
	reason = errno;
	if (ftruncate(fd, before.st_size) != 0)
		err_set(err, ERR_IO, "%s: %s, and half a line may be left at its end", path,
		        strerror(reason));
	errno = reason;
	return failed(err, path);
}

static bool make_lines(struct sink *lines, const struct review *review, size_t count,
                       struct err *err)
{
	sink_text(lines, "\n");
	for (size_t i = 0; i < count; i++) {
		char *line = review_line(&review[i]);

		if (!line) {
			err_set(err, ERR_TEXT, "an answer can't be written down: it is not UTF-8");
			return false;
		}
		sink_text(lines, line);
		free(line);
	}
	if (lines->failed)
		err_set(err, ERR_MEMORY, "no memory for the answer");
	return !lines->failed;
}

/* @return -1 with err. */
static int open_log(const char *path, struct err *err)
{
	int fd = open(path, O_RDWR | O_APPEND | O_CLOEXEC);

	if (fd < 0 && errno == ENOENT && beside_make_folder(path)) {
		fd = open(path, O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, 0600);
		if (fd >= 0 && !beside_flush_folder(path)) {
			failed(err, path);
			close(fd);
			return -1;
		}
	}
	if (fd < 0)
		failed(err, path);
	return fd;
}

bool reviews_add(const char *path, const struct review *review, size_t count, struct err *err)
{
	struct sink lines;
	bool added = false;
	int fd;

	sink_to_memory(&lines);
	if (make_lines(&lines, review, count, err)) {
		fd = open_log(path, err);
		added = fd >= 0 && append(fd, &lines, err, path);
		if (fd >= 0)
			close(fd);
	}
	sink_finish(&lines);
	return added;
}

/* -- reading --------------------------------------------------------------------------------- */

static int by_task(const void *left, const void *right)
{
	const struct review *a = left, *b = right;
	int attempt = strcmp(a->attempt, b->attempt);

	return attempt ? attempt : strcmp(a->item, b->item);
}

/* In an exam an answer can be changed until the end: the last one counts, at its own place. */
static bool drop_replaced(struct reviews *reviews)
{
	void *root = NULL, **found;
	size_t kept = reviews->count;
	bool ok = true;

	for (size_t i = reviews->count; i-- > 0 && ok;) {
		struct review *review = &reviews->item[i];

		found = review->exam ? tsearch(review, &root, by_task) : NULL;
		ok = !review->exam || found;
		/* A mark that no answer has. */
		if (found && *found != review)
			review->grade = GRADE_NONE;
	}
	while (root)
		tdelete(*(void **)root, &root, by_task);
	kept = 0;
	for (size_t i = 0; i < reviews->count; i++)
		if (reviews->item[i].grade != GRADE_NONE)
			reviews->item[kept++] = reviews->item[i];
	reviews->replaced = reviews->count - kept;
	reviews->count = kept;
	return ok;
}

struct log {
	struct reviews *out;
	struct arena *arena;
	size_t room, line;
};

static void pass_over(struct log *log, enum review_line_is what)
{
	log->out->passed_over++;
	log->out->newer += what == REVIEW_LINE_NEWER;
	if (log->out->first_line == 0)
		log->out->first_line = log->line;
}

/* @return false when there is no memory. */
static bool take_line(struct log *log, const char *text, size_t length, bool ended)
{
	struct reviews *out = log->out;
	struct review *grown =
	        arena_grow(log->arena, out->item, out->count, &log->room, sizeof(*grown));
	enum review_line_is what;

	log->line++;
	if (!grown)
		return false;
	out->item = grown;
	if (length == 0)
		return true;
	what = review_line_read(text, length, log->arena, &grown[out->count]);
	if (what == REVIEW_LINE_WHOLE)
		out->count++;
	else if (!ended && what == REVIEW_LINE_NONE)
		out->torn = length;
	else
		pass_over(log, what);
	return !log->arena->failed;
}

bool reviews_text(const char *text, size_t length, struct arena *arena, struct reviews *out,
                  struct err *err)
{
	const char *end = text + length;
	struct log log = {out, arena, 0, 0};
	bool ok = true;

	*out = (struct reviews){0};
	while (ok && text < end) {
		const char *stop = memchr(text, '\n', (size_t)(end - text));

		ok = take_line(&log, text, (size_t)((stop ? stop : end) - text), stop != NULL);
		text = stop ? stop + 1 : end;
	}
	if (!ok || !drop_replaced(out)) {
		err_set(err, ERR_MEMORY, "no memory for the log");
		return false;
	}
	return true;
}

/* All of an open log. With the lock no answer is seen that is only half written. */
static char *read_all(int fd, struct arena *arena, size_t *length)
{
	struct stat status;
	size_t size;
	char *bytes;

	if (!lock(fd, LOCK_SH) || fstat(fd, &status) != 0)
		return NULL;
	size = (size_t)status.st_size;
	bytes = arena_take(arena, size);
	errno = bytes ? 0 : ENOMEM;
	*length = 0;
	while (bytes && *length < size) {
		ssize_t got = read(fd, bytes + *length, size - *length);

		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return NULL;
		if (got == 0)
			break;
		*length += (size_t)got;
	}
	return bytes;
}

bool reviews_read(const char *path, struct arena *arena, struct reviews *out, struct err *err)
{
	struct arena scratch = {0};
	size_t length = 0;
	int fd = open(path, O_RDONLY | O_CLOEXEC);
	char *bytes = NULL;
	bool ok;

	*out = (struct reviews){0};
	if (fd < 0)
		return errno == ENOENT || failed(err, path);
	bytes = read_all(fd, &scratch, &length);
	ok = bytes ? reviews_text(bytes, length, arena, out, err) : failed(err, path);
	close(fd);
	arena_finish(&scratch);
	return ok;
}
