/**
 * @file
 * The walk as lines: a line in is an answer or a command, lines out say what became of it and what
 * is asked next. The model is the walk that the screen shows; this only presses its keys, so what
 * one can do the other can.
 *
 * A line that is the plain word of a request (walk/requests.h), or one of its keys, is that request.
 * `b` goes back, `j N` jumps, `?` explains, `s` saves, `q` leaves, `list` reads all that is here. An
 * empty line goes on. Any other line is an answer; with `=` before it, it is one whatever it says.
 */
#ifndef TUNDISH_PLAIN_PLAIN_H
#define TUNDISH_PLAIN_PLAIN_H

#include "tundish/base/sink.h"
#include "tundish/walk/host.h"

#include <stdbool.h>
#include <stddef.h>

struct plain;

struct plain_options {
	bool echo;  /* repeat each line that is read: nobody sees it typed */
	bool ascii; /* write nothing but ASCII */
};

/** @p walk, @p host and @p out are borrowed. @return NULL when there is no memory. */
struct plain *plain_create(struct walk *walk, const struct walk_host *host,
                           const struct plain_options *options, struct sink *out);
void plain_destroy(struct plain *plain);

/** Say where the walk is and ask the first question. */
void plain_begin(struct plain *plain);

/** Take one line, without its end; any bytes. Says what became of it and asks the next question,
 * unless the walk was left. */
void plain_take(struct plain *plain, const char *line, size_t length);

/** A line that could not be taken: say why, and ask again. */
void plain_refuse(struct plain *plain, const char *why);

/** An interrupt (Ctrl-C): asks, and a second one in a row leaves. */
void plain_interrupt(struct plain *plain);
/** It was stopped and goes on: say once more where one is, and ask. */
void plain_resume(struct plain *plain);

/** Some time has passed: let the host say so (its `tick`), and ask again where that gave something to say. */
void plain_tick(struct plain *plain);

/** Whether the walk was left, and how. */
bool plain_left(const struct plain *plain, enum walk_leaving *leaving);

#endif
