#include "tundish/store/file.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum {
	LINKS_MOST = 40, /* as the kernel follows at most */
	NAMES_TRIED = 100,
	NAME_KEPT_MOST = 200 /* so that a long name with what is added to it stays below 255 */
};

static bool io_fault(struct err *err, const char *what, const char *path)
{
	err_set(err, ERR_IO, "can't %s %s: %s", what, path, strerror(errno));
	return false;
}

static struct file_stamp stamp_of(const struct stat *status)
{
	return (struct file_stamp){
	        .exists = true,
	        .device = (uint64_t)status->st_dev,
	        .inode = (uint64_t)status->st_ino,
	        .size = (uint64_t)status->st_size,
	        .modified_s = (int64_t)status->st_mtim.tv_sec,
	        .modified_ns = (int64_t)status->st_mtim.tv_nsec,
	};
}

static bool same_stamp(const struct file_stamp *a, const struct file_stamp *b)
{
	if (!a->exists || !b->exists)
		return a->exists == b->exists;
	return a->device == b->device && a->inode == b->inode && a->size == b->size &&
	       a->modified_s == b->modified_s && a->modified_ns == b->modified_ns;
}

/* -- reading -------------------------------------------------------------------------- */

/* Standard input says no size, and a file may grow while it is read. */
static bool read_all(int fd, struct arena *arena, size_t expected, struct source *out,
                     struct err *err)
{
	size_t count = 0, room = expected + 2; /* to see the end without growing, and a NUL */
	char *text = arena_take(arena, room);
	ssize_t got = 1;

	while (text != NULL && got != 0) {
		got = read(fd, text + count, room - 1 - count);
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return io_fault(err, "read", out->name);
		count += (size_t)got;
		if (count > FILE_BYTES_MOST) {
			err_set(err, ERR_TEXT, "%s has more than 16 MiB: that is no text of ours",
			        out->name);
			return false;
		}
		if (count == room - 1)
			text = arena_grow(arena, text, room, &room, 1);
	}
	if (text == NULL) {
		err_set(err, ERR_MEMORY, "there is no memory to read %s", out->name);
		return false;
	}
	text[count] = '\0';
	out->text = text;
	out->length = count;
	return true;
}

static bool read_open(int fd, struct arena *arena, struct source *out, struct file_stamp *stamp,
                      struct err *err)
{
	struct stat status;
	size_t expected = 0;

	if (fstat(fd, &status) != 0)
		return io_fault(err, "read", out->name);
	if (S_ISREG(status.st_mode) && status.st_size > 0)
		expected =
		        status.st_size < FILE_BYTES_MOST ? (size_t)status.st_size : FILE_BYTES_MOST;
	if (!read_all(fd, arena, expected, out, err))
		return false;
	/* as it was before: what is written while we read shows as changed later */
	if (stamp != NULL)
		*stamp = stamp_of(&status);
	return true;
}

bool file_read(const char *path, struct arena *arena, struct source *out, struct file_stamp *stamp,
               struct err *err)
{
	struct source source = {.name = path};
	bool read;
	int fd;

	if (stamp != NULL)
		*stamp = (struct file_stamp){0};
	if (strcmp(path, "-") == 0) {
		read = read_open(STDIN_FILENO, arena, &source, stamp, err);
	} else {
		fd = open(path, O_RDONLY | O_CLOEXEC);
		if (fd < 0) {
			if (stamp != NULL)
				stamp->exists = errno != ENOENT;
			return io_fault(err, "read", path);
		}
		read = read_open(fd, arena, &source, stamp, err);
		close(fd);
	}
	if (read)
		*out = source;
	return read;
}

/* -- where to write ------------------------------------------------------------------- */

/* The file that is to be replaced, and the one beside it that takes its place. */
struct replacing {
	const char *path; /* as the caller named it */
	char target[PATH_MAX], folder_path[PATH_MAX], temporary[NAME_MAX + 1];
	const char *name; /* of the target, in its folder */
	int folder, fd;
	bool made; /* the temporary file is there */
	struct stat old;
	bool existed;
	struct err *err;
};

/* A link's text put in place of its last name. */
static bool follow(struct replacing *replacing, const char *link)
{
	char joined[PATH_MAX];
	const char *slash = strrchr(replacing->target, '/');
	int folder = slash == NULL || link[0] == '/' ? 0 : (int)(slash - replacing->target) + 1;
	int length = snprintf(joined, sizeof(joined), "%.*s%s", folder, replacing->target, link);

	if (length < 0 || (size_t)length >= sizeof(joined)) {
		errno = ENAMETOOLONG;
		return io_fault(replacing->err, "write", replacing->path);
	}
	memcpy(replacing->target, joined, (size_t)length + 1);
	return true;
}

/* Through links to the file itself, which need not be there. */
static bool find_target(struct replacing *replacing)
{
	char link[PATH_MAX];

	if (strlen(replacing->path) >= sizeof(replacing->target)) {
		errno = ENAMETOOLONG;
		return io_fault(replacing->err, "write", replacing->path);
	}
	strcpy(replacing->target, replacing->path);
	for (int i = 0; i < LINKS_MOST; i++) {
		ssize_t length = readlink(replacing->target, link, sizeof(link) - 1);

		if (length < 0)
			return true;
		link[length] = '\0';
		if (!follow(replacing, link))
			return false;
	}
	errno = ELOOP;
	return io_fault(replacing->err, "write", replacing->path);
}

/* Names are taken below the folder as it was opened, even if somebody moves it meanwhile. */
static bool open_folder(struct replacing *replacing)
{
	char *slash = strrchr(replacing->target, '/');

	if (slash == NULL)
		strcpy(replacing->folder_path, ".");
	else
		snprintf(replacing->folder_path, sizeof(replacing->folder_path), "%.*s",
		         (int)(slash - replacing->target) + 1, replacing->target);
	replacing->name = slash == NULL ? replacing->target : slash + 1;
	replacing->folder = open(replacing->folder_path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (replacing->folder < 0)
		return io_fault(replacing->err, "write", replacing->path);
	if (replacing->name[0] != '\0')
		return true;
	errno = EISDIR;
	return io_fault(replacing->err, "write", replacing->path);
}

static bool look_at_old(struct replacing *replacing, const struct file_stamp *stamp, bool force)
{
	static const struct file_stamp nothing;
	struct file_stamp now = nothing;

	replacing->existed = fstatat(replacing->folder, replacing->name, &replacing->old,
	                             AT_SYMLINK_NOFOLLOW) == 0;
	if (!replacing->existed && errno != ENOENT)
		return io_fault(replacing->err, "write", replacing->path);
	if (replacing->existed && !S_ISREG(replacing->old.st_mode)) {
		err_set(replacing->err, ERR_IO, "can't write %s: it is not an ordinary file",
		        replacing->path);
		return false;
	}
	if (replacing->existed)
		now = stamp_of(&replacing->old);
	if (force || same_stamp(stamp == NULL ? &nothing : stamp, &now))
		return true;
	if (stamp == NULL || !stamp->exists)
		err_set(replacing->err, ERR_CONFLICT, "%s is there already: nothing was written",
		        replacing->path);
	else
		err_set(replacing->err, ERR_CONFLICT,
		        "%s was %s since it was read: nothing was written", replacing->path,
		        replacing->existed ? "changed" : "taken away");
	return false;
}

/* -- the file beside it --------------------------------------------------------------- */

/* Only has to differ from what others make at the same time: O_EXCL decides. */
static void temporary_name(struct replacing *replacing, unsigned try)
{
	static const char letters[] = "abcdefghijklmnopqrstuvwxyz0123456789";
	struct timespec now = {0, 0};
	uint64_t number;
	char random[7];

	clock_gettime(CLOCK_REALTIME, &now);
	number = (uint64_t)now.tv_nsec * 1000003u + (uint64_t)now.tv_sec * 7919u +
	         (uint64_t)getpid() * 104729u + try;
	for (size_t i = 0; i < 6; i++, number /= 36)
		random[i] = letters[number % 36];
	random[6] = '\0';
	snprintf(replacing->temporary, sizeof(replacing->temporary), ".%.*s.%s.tmp", NAME_KEPT_MOST,
	         replacing->name, random);
}

static bool make_temporary(struct replacing *replacing)
{
	/* nobody may read it before it has the old one's owner and mode */
	mode_t mode = replacing->existed ? 0600 : 0666;

	for (unsigned try = 0; try < NAMES_TRIED; try++) {
		temporary_name(replacing, try);
		replacing->fd = openat(replacing->folder, replacing->temporary,
		                       O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
		if (replacing->fd >= 0) {
			replacing->made = true;
			return true;
		}
		if (errno != EEXIST)
			break;
	}
	return io_fault(replacing->err, "write beside", replacing->path);
}

/* Where the group can't be kept, another one must not get what only the old one had. */
static bool keep_owner_and_mode(struct replacing *replacing)
{
	mode_t mode = replacing->old.st_mode & 07777;
	struct stat made;

	if (!replacing->existed)
		return true;
	if (fstat(replacing->fd, &made) != 0)
		return io_fault(replacing->err, "write beside", replacing->path);
	if ((made.st_uid != replacing->old.st_uid || made.st_gid != replacing->old.st_gid) &&
	    fchown(replacing->fd, replacing->old.st_uid, replacing->old.st_gid) != 0 &&
	    made.st_gid != replacing->old.st_gid &&
	    fchown(replacing->fd, (uid_t)-1, replacing->old.st_gid) != 0)
		mode = (mode & ~(mode_t)070) | (mode & (mode_t)07) << 3;
	if (fchmod(replacing->fd, mode) != 0)
		return io_fault(replacing->err, "keep the mode of", replacing->path);
	return true;
}

static bool write_all(struct replacing *replacing, const char *bytes, size_t length)
{
	while (length > 0) {
		ssize_t written = write(replacing->fd, bytes, length);

		if (written < 0 && errno == EINTR)
			continue;
		if (written < 0)
			return io_fault(replacing->err, "write", replacing->path);
		bytes += written;
		length -= (size_t)written;
	}
	return true;
}

static bool make_durable(struct replacing *replacing, struct file_stamp *out)
{
	struct stat status;
	int closed;

	if (fsync(replacing->fd) != 0 || fstat(replacing->fd, &status) != 0)
		return io_fault(replacing->err, "write", replacing->path);
	closed = close(replacing->fd);
	replacing->fd = -1;
	if (closed != 0)
		return io_fault(replacing->err, "write", replacing->path);
	*out = stamp_of(&status);
	return true;
}

static bool take_its_place(struct replacing *replacing)
{
	if (renameat(replacing->folder, replacing->temporary, replacing->folder, replacing->name) !=
	    0)
		return io_fault(replacing->err, "replace", replacing->path);
	replacing->made = false;
	/* some file systems have no such thing as a folder's flush */
	if (fsync(replacing->folder) == 0 || errno == EINVAL || errno == ENOTSUP)
		return true;
	err_set(replacing->err, ERR_IO,
	        "%s is written, but its folder can't be flushed (%s): a power cut may lose it",
	        replacing->path, strerror(errno));
	return false;
}

static bool replace(struct replacing *replacing, const char *bytes, size_t length,
                    struct file_stamp *stamp, bool force)
{
	struct file_stamp made;
	bool done;

	if (!find_target(replacing) || !open_folder(replacing) ||
	    !look_at_old(replacing, stamp, force) || !make_temporary(replacing) ||
	    !write_all(replacing, bytes, length) || !keep_owner_and_mode(replacing) ||
	    !make_durable(replacing, &made))
		return false;
	/* again: a large file on a slow disk takes its time */
	if (!look_at_old(replacing, stamp, force))
		return false;
	done = take_its_place(replacing);
	/* it may be in its place though the folder's flush failed */
	if (stamp != NULL && !replacing->made)
		*stamp = made;
	return done;
}

bool file_replace(const char *path, const char *bytes, size_t length, struct file_stamp *stamp,
                  bool force, struct err *err)
{
	struct replacing replacing = {.path = path, .folder = -1, .fd = -1, .err = err};
	bool done = replace(&replacing, bytes, length, stamp, force);

	if (replacing.fd >= 0)
		close(replacing.fd);
	if (replacing.made)
		unlinkat(replacing.folder, replacing.temporary, 0);
	if (replacing.folder >= 0)
		close(replacing.folder);
	return done;
}
