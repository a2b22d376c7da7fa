/**
 * @file
 * Files: read whole, replaced whole or not at all.
 */
#ifndef TUNDISH_STORE_FILE_H
#define TUNDISH_STORE_FILE_H

#include "tundish/base/arena.h"
#include "tundish/base/err.h"
#include "tundish/base/fault.h"

#include <stdbool.h>
#include <stdint.h>

enum { FILE_BYTES_MOST = 16 * 1024 * 1024 };

/** What a file was when it was read: to see later that someone else has changed it. */
struct file_stamp {
	bool exists;
	uint64_t device, inode, size;
	int64_t modified_s, modified_ns;
	unsigned char sha256[32]; /* of all its bytes: what decides */
	/* after file_replace: names (hard links) that the file had beside this one. They still hold what was there before. */
	uint64_t other_names;
};

/**
 * Read all of @p path (`-`: standard input) into @p arena.
 *
 * @p out    name borrowed from @p path; text NUL-terminated past its length.
 * @p stamp  may be NULL. After a failure its `exists` says whether something is there that could not be read.
 * @return   false with @p err (ERR_IO; past FILE_BYTES_MOST ERR_TEXT; ERR_MEMORY).
 */
bool file_read(const char *path, struct arena *arena, struct source *out, struct file_stamp *stamp, struct err *err);

/** How a file is replaced. Flags. */
enum file_how {
	FILE_AS_READ = 0,       /* only if it still holds what it held */
	FILE_FORCE = 1 << 0,    /* whatever it is now */
	FILE_KEEP_OLD = 1 << 1, /* what was there stays as `NAME~`, in place of an earlier one; where the file system has no
	                           links it does not, and that is no failure */
};

/**
 * Replace @p path by @p bytes: a temporary file beside it, O_EXCL, written, fsynced, renamed over it, the folder fsynced.
 *
 * A symbolic link stays and its target is replaced; mode, and where allowed owner, group, access control lists and
 * extended attributes, stay. Where a group or a list can't be kept, no group may do more than others. A new file gets mode 0666 less
 * the umask.
 * @p stamp  in: what it was when it was read; NULL or not `exists`: it is not there yet. out: what it is now.
 * @p how    flags of enum file_how. Without FILE_FORCE it is ERR_CONFLICT when it holds something else now; when only its times
 *           are others, that is none.
 * @return   false with @p err (ERR_IO, ERR_CONFLICT), the old file then byte for byte as it was and no temporary file left.
 *           One ERR_IO is later than that, and says so: the file is replaced, but its folder could not be flushed.
 */
bool file_replace(const char *path, const char *bytes, size_t length, struct file_stamp *stamp, unsigned how,
                  struct err *err);

/** Whether @p path holds what it held when it was stamped, or is still not there. */
bool file_is_still(const char *path, const struct file_stamp *stamp);

/** A temporary file that file_replace did not come to rename: its process was killed. */
struct file_left {
	const char *path;
	uint64_t size;
	int64_t modified_s;
};

/**
 * Those beside @p path, which need not be there, by name. Nobody may be saving it meanwhile: hold its lock.
 * @return how many; @p out in @p arena. None where the folder can't be read.
 */
size_t file_find_left(const char *path, struct arena *arena, struct file_left **out);

#endif
