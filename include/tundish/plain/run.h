/**
 * @file
 * The walk as lines on a terminal or in a script: reads lines, heeds signals, and tells how it
 * ended. The modes of the terminal are not touched.
 */
#ifndef TUNDISH_PLAIN_RUN_H
#define TUNDISH_PLAIN_RUN_H

#include "tundish/base/err.h"
#include "tundish/plain/plain.h"

enum { PLAIN_LINE_MOST = 65536 /* bytes; a longer line is refused whole */ };

/**
 * Walk until its end or that of the input. Signals are as they were when it returns. One at a time
 * in a process.
 * @p in  a descriptor that select() can wait for.
 */
struct walk_end plain_run(struct walk *walk, const struct walk_host *host,
                          const struct plain_options *options, int in, int out, struct err *err);

#endif
