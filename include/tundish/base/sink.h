/**
 * @file
 * Where printed bytes go: a file descriptor or memory. Buffered; the first failure sticks and is asked for once.
 */
#ifndef TUNDISH_BASE_SINK_H
#define TUNDISH_BASE_SINK_H

#include "tundish/base/err.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

struct sink {
	int fd;       /* -1: keep everything in memory */
	char *bytes;  /* owned; in memory with a NUL behind them, NULL while nothing was written */
	size_t count, room;
	bool failed;  /* something could not be written; later bytes are dropped */
	int reason;   /* errno of the failure */
};

void sink_to_fd(struct sink *sink, int fd);
void sink_to_memory(struct sink *sink);

/** What sink_bytes does where there is no room, or something failed. */
void sink_bytes_slowly(struct sink *sink, const char *bytes, size_t count);

/** Here, since most pieces are short and known when compiling: then it is a few moves. */
static inline void sink_bytes(struct sink *sink, const char *bytes, size_t count)
{
	if (sink->failed || count >= sink->room - sink->count) {
		sink_bytes_slowly(sink, bytes, count);
		return;
	}
	memcpy(sink->bytes + sink->count, bytes, count);
	sink->count += count;
	sink->bytes[sink->count] = '\0';
}

void sink_text(struct sink *sink, const char *text);
void sink_print(struct sink *sink, const char *format, ...) __attribute__((format(printf, 2, 3)));

/** Write out what is held back. @return false with @p err (ERR_IO or ERR_MEMORY) if any byte since the start was lost. */
bool sink_flush(struct sink *sink, struct err *err);

/** Free the buffer; flushes nothing, closes nothing. Accepts a zeroed sink. */
void sink_finish(struct sink *sink);

#endif
