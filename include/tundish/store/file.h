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
};

/**
 * Read all of @p path (`-`: standard input) into @p arena.
 *
 * @p out    name borrowed from @p path; text NUL-terminated past its length.
 * @p stamp  may be NULL. After a failure its `exists` says whether something is there that could not be read.
 * @return   false with @p err (ERR_IO; past FILE_BYTES_MOST ERR_TEXT; ERR_MEMORY).
 */
bool file_read(const char *path, struct arena *arena, struct source *out, struct file_stamp *stamp, struct err *err);

/**
 * Replace @p path by @p bytes: a temporary file beside it, O_EXCL, written, fsynced, renamed over it, the folder fsynced.
 *
 * A symbolic link stays and its target is replaced; mode, and owner and group where allowed, stay. A new file gets mode
 * 0666 less the umask.
 * @p stamp  in: what it was when it was read; NULL or not `exists`: it is not there yet. out: what it is now.
 * @p force  replace it even if it is something else now. Else that is ERR_CONFLICT.
 * @return   false with @p err (ERR_IO, ERR_CONFLICT), the old file then byte for byte as it was and no temporary file left.
 *           One ERR_IO is later than that, and says so: the file is replaced, but its folder could not be flushed.
 */
bool file_replace(const char *path, const char *bytes, size_t length, struct file_stamp *stamp, bool force,
                  struct err *err);

#endif
