/**
 * @file
 * Where the files that go with a survey are: beside it, or below a folder of states.
 */
#ifndef TUNDISH_SRC_STORE_BESIDE_H
#define TUNDISH_SRC_STORE_BESIDE_H

#include <limits.h>
#include <stdbool.h>
#include <stddef.h>
#include <sys/stat.h>

/** Two names of one survey give one path: absolute, links followed; the file need not be there. @return false: errno. */
bool beside_resolve(const char *path, char out[PATH_MAX]);

/** `FOLDER/.NAME.ENDING`. @return false: errno. */
bool beside_name(const char *resolved, const char *ending, char out[PATH_MAX]);

/** `STATES/DIGITS-NAME.ENDING`, where the digits stand for the whole path. @return false: errno. */
bool beside_state_name(const char *states, const char *resolved, const char *ending,
                       char out[PATH_MAX]);

/** Make the folder that @p path is in, and those above it, 0700. @return false: errno. */
bool beside_make_folder(const char *path);

/** Flush the folder that @p path is in. @return false: errno. */
bool beside_flush_folder(const char *path);

/** All of it, at @p at, whatever interrupts. @return false: errno. */
bool beside_write(int fd, const char *bytes, size_t length, size_t at);

/** Whether @p path is still the file that @p fd is open on. */
bool beside_is(const char *path, int fd);

#endif
