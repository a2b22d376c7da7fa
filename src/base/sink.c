#include "tundish/base/sink.h"

#include <errno.h>
#include <poll.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum {
	FD_BUFFER = 64 * 1024,
	MEMORY_FIRST = 4 * 1024,
	PRINT_SHORT = 512, /* longer prints are made on the heap first */
};

void sink_to_fd(struct sink *sink, int fd)
{
	*sink = (struct sink){.fd = fd};
}

void sink_to_memory(struct sink *sink)
{
	*sink = (struct sink){.fd = -1};
}

static bool fail(struct sink *sink, int reason)
{
	if (!sink->failed) {
		sink->failed = true;
		sink->reason = reason;
	}
	return false;
}

/* A descriptor shared with another program may have been made non-blocking by it: then wait, as if
 * it were not. */
static bool wait_to_write(int fd)
{
	struct pollfd wanted = {.fd = fd, .events = POLLOUT};

	return poll(&wanted, 1, -1) > 0 || errno == EINTR;
}

static bool write_all(struct sink *sink, const char *bytes, size_t count)
{
	while (count > 0) {
		ssize_t written = write(sink->fd, bytes, count);

		if (written >= 0) {
			bytes += written;
			count -= (size_t)written;
		} else if (errno == EAGAIN) {
			if (!wait_to_write(sink->fd))
				return fail(sink, errno);
		} else if (errno != EINTR) {
			return fail(sink, errno);
		}
	}
	return true;
}

static bool write_out(struct sink *sink)
{
	size_t count = sink->count;

	sink->count = 0;
	return write_all(sink, sink->bytes, count);
}

static bool set_room(struct sink *sink, size_t room)
{
	char *bytes = realloc(sink->bytes, room);

	if (!bytes)
		return fail(sink, ENOMEM);
	sink->bytes = bytes;
	sink->room = room;
	return true;
}

static void keep_in_memory(struct sink *sink, const char *bytes, size_t count)
{
	if (count > SIZE_MAX / 4 - sink->count) {
		fail(sink, ENOMEM);
		return;
	}
	size_t need = sink->count + count + 1; /* a NUL behind them */
	size_t room = sink->room ? sink->room : MEMORY_FIRST;

	while (room < need)
		room *= 2;
	if (room != sink->room && !set_room(sink, room))
		return;
	memcpy(sink->bytes + sink->count, bytes, count);
	sink->count += count;
	sink->bytes[sink->count] = '\0';
}

static void pass_to_fd(struct sink *sink, const char *bytes, size_t count)
{
	if (!sink->room && !set_room(sink, FD_BUFFER))
		return;
	if (count > sink->room - sink->count && !write_out(sink))
		return;
	if (count >= sink->room) {
		write_all(sink, bytes, count);
		return;
	}
	memcpy(sink->bytes + sink->count, bytes, count);
	sink->count += count;
}

void sink_bytes_slowly(struct sink *sink, const char *bytes, size_t count)
{
	if (sink->failed || count == 0)
		return;
	if (sink->fd < 0)
		keep_in_memory(sink, bytes, count);
	else
		pass_to_fd(sink, bytes, count);
}

void sink_text(struct sink *sink, const char *text)
{
	sink_bytes(sink, text, strlen(text));
}

void sink_print(struct sink *sink, const char *format, ...)
{
	char text[PRINT_SHORT];
	char *longer = NULL;
	va_list values, again;

	va_start(values, format);
	va_copy(again, values);
	int length = vsnprintf(text, sizeof(text), format, values);

	va_end(values);
	if (length < 0) {
		fail(sink, errno);
	} else if ((size_t)length < sizeof(text)) {
		sink_bytes(sink, text, (size_t)length);
	} else if ((longer = malloc((size_t)length + 1))) {
		vsnprintf(longer, (size_t)length + 1, format, again);
		sink_bytes(sink, longer, (size_t)length);
		free(longer);
	} else {
		fail(sink, ENOMEM);
	}
	va_end(again);
}

bool sink_flush(struct sink *sink, struct err *err)
{
	if (!sink->failed && sink->fd >= 0 && sink->count > 0)
		write_out(sink);
	if (!sink->failed)
		return true;
	if (sink->reason == ENOMEM)
		err_set(err, ERR_MEMORY, "there is not enough memory for the output");
	else
		err_set(err, ERR_IO, "the output could not be written: %s", strerror(sink->reason));
	return false;
}

void sink_finish(struct sink *sink)
{
	free(sink->bytes);
	*sink = (struct sink){.fd = sink->fd};
}
