#include "tundish/store/file.h"

#include "attributes.h"
#include "temporary.h"

#include <sodium.h>

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
	if (stamp == NULL)
		return true;
	/* as it was before: what is written while we read shows as changed later */
	*stamp = stamp_of(&status);
	crypto_hash_sha256(stamp->sha256, (const unsigned char *)out->text, out->length);
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
	char target[PATH_MAX], folder_path[PATH_MAX], temporary[TEMPORARY_ROOM];
	const char *name; /* of the target, in its folder */
	int folder, fd;
	bool made; /* the temporary file is there */
	unsigned how;
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

/* @return false where it can't be read to its end. */
static bool hash_file(int fd, unsigned char *sha256)
{
	crypto_hash_sha256_state state;
	unsigned char bytes[16 * 1024];
	ssize_t got;

	crypto_hash_sha256_init(&state);
	while ((got = read(fd, bytes, sizeof(bytes))) != 0) {
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return false;
		crypto_hash_sha256_update(&state, bytes, (size_t)got);
	}
	crypto_hash_sha256_final(&state, sha256);
	return true;
}

/* Its bytes decide: another's tool may put the times back, or write the same again. Where they can't be read, the rest does. */
static bool holds_the_same(int folder, const char *name, const struct stat *status,
                           const struct file_stamp *stamp)
{
	struct file_stamp now = stamp_of(status);
	int fd = now.size == stamp->size ? openat(folder, name, O_RDONLY | O_NONBLOCK | O_CLOEXEC)
	                                 : -1;
	bool read = fd >= 0 && hash_file(fd, now.sha256);

	if (fd >= 0)
		close(fd);
	if (read)
		return memcmp(now.sha256, stamp->sha256, sizeof(now.sha256)) == 0;
	return same_stamp(stamp, &now);
}

bool file_is_still(const char *path, const struct file_stamp *stamp)
{
	struct stat status;
	bool exists = stat(path, &status) == 0;

	if (!exists || !stamp->exists)
		return exists == stamp->exists;
	return holds_the_same(AT_FDCWD, path, &status, stamp);
}

static bool as_read(const struct replacing *replacing, const struct file_stamp *stamp)
{
	bool was = stamp != NULL && stamp->exists;

	if (!was || !replacing->existed)
		return was == replacing->existed;
	return holds_the_same(replacing->folder, replacing->name, &replacing->old, stamp);
}

static bool look_at_old(struct replacing *replacing, const struct file_stamp *stamp)
{
	replacing->existed = fstatat(replacing->folder, replacing->name, &replacing->old,
	                             AT_SYMLINK_NOFOLLOW) == 0;
	if (!replacing->existed && errno != ENOENT)
		return io_fault(replacing->err, "write", replacing->path);
	if (replacing->existed && !S_ISREG(replacing->old.st_mode)) {
		err_set(replacing->err, ERR_IO, "can't write %s: it is not an ordinary file",
		        replacing->path);
		return false;
	}
	if (replacing->how & FILE_FORCE || as_read(replacing, stamp))
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

static bool make_temporary(struct replacing *replacing)
{
	/* nobody may read it before it has the old one's owner and mode */
	mode_t mode = replacing->existed ? 0600 : 0666;

	for (unsigned try = 0; try < NAMES_TRIED; try++) {
		temporary_name(replacing->name, try, replacing->temporary);
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

/* @return false where who may read it can't be kept as it was. */
static bool keep_attributes(struct replacing *replacing)
{
	int old = openat(replacing->folder, replacing->name,
	                 O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
	bool kept = old >= 0 && attributes_copy(old, replacing->fd);

	if (old >= 0)
		close(old);
	return kept;
}

/* Where the group can't be kept, another one must not get what only the old one had. */
static bool keep_owner_and_mode(struct replacing *replacing)
{
	mode_t mode = replacing->old.st_mode & 07777;
	mode_t narrowed = (mode & ~(mode_t)070) | (mode & (mode_t)07) << 3;
	struct stat made;

	if (!replacing->existed)
		return true;
	if (fstat(replacing->fd, &made) != 0)
		return io_fault(replacing->err, "write beside", replacing->path);
	if ((made.st_uid != replacing->old.st_uid || made.st_gid != replacing->old.st_gid) &&
	    fchown(replacing->fd, replacing->old.st_uid, replacing->old.st_gid) != 0 &&
	    made.st_gid != replacing->old.st_gid &&
	    fchown(replacing->fd, (uid_t)-1, replacing->old.st_gid) != 0)
		mode = narrowed;
	if (fchmod(replacing->fd, mode) != 0 ||
	    (!keep_attributes(replacing) && fchmod(replacing->fd, narrowed) != 0))
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

/* A second name for it, put in place of an earlier one at once. Nothing depends on it. */
static void keep_old(const struct replacing *replacing)
{
	char link[TEMPORARY_ROOM], kept[NAME_MAX + 1];
	int length = snprintf(kept, sizeof(kept), "%s~", replacing->name);

	if (!replacing->existed || length < 0 || (size_t)length >= sizeof(kept))
		return;
	temporary_name(replacing->name, NAMES_TRIED, link);
	if (linkat(replacing->folder, replacing->name, replacing->folder, link, 0) != 0)
		return;
	(void)!renameat(replacing->folder, link, replacing->folder, kept);
	/* two names of one file are left as they are */
	unlinkat(replacing->folder, link, 0);
}

/* Names that it has beside its own and the one that is ours. */
static uint64_t other_names(const struct replacing *replacing)
{
	uint64_t names = replacing->existed ? (uint64_t)replacing->old.st_nlink - 1 : 0;
	char kept[NAME_MAX + 1];
	struct stat status;

	snprintf(kept, sizeof(kept), "%s~", replacing->name);
	if (names > 0 && fstatat(replacing->folder, kept, &status, AT_SYMLINK_NOFOLLOW) == 0 &&
	    status.st_ino == replacing->old.st_ino && status.st_dev == replacing->old.st_dev)
		names--;
	return names;
}

static bool take_its_place(struct replacing *replacing)
{
	if (replacing->how & FILE_KEEP_OLD)
		keep_old(replacing);
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
                    struct file_stamp *stamp)
{
	struct file_stamp made;
	bool done;

	if (!find_target(replacing) || !open_folder(replacing) || !look_at_old(replacing, stamp) ||
	    !make_temporary(replacing) || !write_all(replacing, bytes, length) ||
	    !keep_owner_and_mode(replacing) || !make_durable(replacing, &made))
		return false;
	/* again: a large file on a slow disk takes its time */
	if (!look_at_old(replacing, stamp))
		return false;
	made.other_names = other_names(replacing);
	crypto_hash_sha256(made.sha256, (const unsigned char *)bytes, length);
	done = take_its_place(replacing);
	/* it may be in its place though the folder's flush failed */
	if (stamp != NULL && !replacing->made)
		*stamp = made;
	return done;
}

bool file_replace(const char *path, const char *bytes, size_t length, struct file_stamp *stamp,
                  unsigned how, struct err *err)
{
	struct replacing replacing = {.path = path, .folder = -1, .fd = -1, .how = how, .err = err};
	bool done = replace(&replacing, bytes, length, stamp);

	if (replacing.fd >= 0)
		close(replacing.fd);
	if (replacing.made)
		unlinkat(replacing.folder, replacing.temporary, 0);
	if (replacing.folder >= 0)
		close(replacing.folder);
	return done;
}
