#include "beside.h"

#include <sodium.h>

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum {
	STATE_DIGITS = 16,
	STATE_NAME_MOST = 100, /* of the survey's own name: only for people to recognise */
};

static bool too_long(void)
{
	errno = ENAMETOOLONG;
	return false;
}

/* The last name of a path, and the bytes before it. */
static const char *name_of(const char *path, size_t *folder_length)
{
	const char *slash = strrchr(path, '/');

	*folder_length = slash == NULL ? 0 : (size_t)(slash - path) + 1;
	return path + *folder_length;
}

bool beside_resolve(const char *path, char out[PATH_MAX])
{
	char folder[PATH_MAX], resolved[PATH_MAX];
	size_t length;
	const char *name = name_of(path, &length);
	int count;

	if (realpath(path, out) != NULL)
		return true;
	if (length >= sizeof(folder))
		return too_long();
	memcpy(folder, path, length);
	folder[length] = '\0';
	if (realpath(length == 0 ? "." : folder, resolved) == NULL)
		return false;
	count = snprintf(out, PATH_MAX, "%s/%s", strcmp(resolved, "/") == 0 ? "" : resolved, name);
	return (count > 0 && count < PATH_MAX) || too_long();
}

bool beside_name(const char *resolved, const char *ending, char out[PATH_MAX])
{
	size_t length;
	const char *name = name_of(resolved, &length);
	int count = snprintf(out, PATH_MAX, "%.*s.%s.%s", (int)length, resolved, name, ending);

	return (count > 0 && count < PATH_MAX) || too_long();
}

bool beside_state_name(const char *states, const char *resolved, const char *ending,
                       char out[PATH_MAX])
{
	unsigned char hash[crypto_hash_sha256_BYTES];
	char digits[STATE_DIGITS + 1];
	size_t length;
	const char *name = name_of(resolved, &length);
	int count;

	crypto_hash_sha256(hash, (const unsigned char *)resolved, strlen(resolved));
	sodium_bin2hex(digits, sizeof(digits), hash, STATE_DIGITS / 2);
	count = snprintf(out, PATH_MAX, "%s/%s-%.*s.%s", states, digits, STATE_NAME_MOST, name,
	                 ending);
	return (count > 0 && count < PATH_MAX) || too_long();
}

bool beside_make_folder(const char *path)
{
	char folder[PATH_MAX];
	struct stat status;
	size_t length = strlen(path);

	if (length >= sizeof(folder))
		return too_long();
	memcpy(folder, path, length + 1);
	for (char *slash = strchr(folder + 1, '/'); slash != NULL; slash = strchr(slash + 1, '/')) {
		*slash = '\0';
		if (mkdir(folder, 0700) != 0 &&
		    (stat(folder, &status) != 0 || !S_ISDIR(status.st_mode)))
			return false;
		*slash = '/';
	}
	return true;
}

bool beside_flush_folder(const char *path)
{
	char folder[PATH_MAX];
	size_t length;
	bool flushed;
	int fd, reason;

	name_of(path, &length);
	if (length >= sizeof(folder))
		return too_long();
	memcpy(folder, path, length);
	folder[length] = '\0';
	fd = open(length == 0 ? "." : folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (fd < 0)
		return false;
	/* some file systems have no such thing as a folder's flush */
	flushed = fsync(fd) == 0 || errno == EINVAL || errno == ENOTSUP;
	reason = errno;
	close(fd);
	errno = reason;
	return flushed;
}

bool beside_write(int fd, const char *bytes, size_t length, size_t at)
{
	while (length > 0) {
		ssize_t written = pwrite(fd, bytes, length, (off_t)at);

		if (written < 0 && errno == EINTR)
			continue;
		if (written < 0)
			return false;
		bytes += written;
		at += (size_t)written;
		length -= (size_t)written;
	}
	return true;
}

bool beside_is(const char *path, int fd)
{
	struct stat named, open_one;

	return fd >= 0 && lstat(path, &named) == 0 && fstat(fd, &open_one) == 0 &&
	       named.st_dev == open_one.st_dev && named.st_ino == open_one.st_ino;
}
