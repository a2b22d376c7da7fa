/**
 * @file
 * What is wrong with a text, and where: the list a reader or checker fills instead of stopping at the first.
 */
#ifndef TUNDISH_BASE_FAULT_H
#define TUNDISH_BASE_FAULT_H

#include "tundish/base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** A text as it was read. Borrowed by everything that points into it; the owner keeps it alive. */
struct source {
	const char *name; /* as the user knows it: a path, "-" or "rulebook/kinds/wc/wc.yaml" */
	const char *text;
	size_t length;    /* bytes; at most 16 MiB, so that offsets fit in 32 bits */
};

/** Bytes of a source. {0, 0}: made in memory, has no place in a text. */
struct span {
	uint32_t at, length;
};

enum severity {
	SEVERITY_FAULT,  /* the text is not used */
	SEVERITY_NOTICE, /* used all the same, bytes kept, and named */
};

struct fault {
	enum severity severity;
	const struct source *source; /* borrowed; NULL: no text to show */
	struct span span;
	char message[240];           /* one sentence: what was found, what was expected */
};

struct faults {
	struct arena *arena; /* where the list grows; borrowed */
	struct fault *item;
	size_t count, room;
	size_t fatal;        /* how many are SEVERITY_FAULT, counting those left out */
	size_t notices;      /* how many in `item` are SEVERITY_NOTICE */
	size_t left_out;     /* past FAULTS_MOST, or for want of memory: counted only */
};

/** Past this a notice makes room for a fault: what keeps a text from being used is seen. */
enum { FAULTS_MOST = 1000 };

void faults_init(struct faults *faults, struct arena *arena);

/** Note one. The message is cut at a whole UTF-8 character when it is too long. */
void fault_add(struct faults *faults, enum severity severity, const struct source *source, struct span span,
               const char *format, ...) __attribute__((format(printf, 5, 6)));

/** Put them in the order of sources (as first met) and places; equal places keep their order. */
void faults_sort(struct faults *faults);

/** @return bytes of a byte order mark that the text begins with: 3 or 0. */
size_t source_bom(const struct source *source);

/** A place for people: line and column from 1. A column counts characters; a BOM counts for none. */
struct place {
	size_t line, column;
};

/** Line breaks are LF, CRLF and a CR alone. @p at past the end counts as the end. */
struct place source_place(const struct source *source, size_t at);

/**
 * One fault as a person reads it: `name:line:column: message`, the source line, and a caret under the place. The
 * line is cut to fit 100 columns around the caret; tabs are shown as one blank; what
 * must not reach a terminal (text_is_control) as `?`, in name and message too.
 * A fault with no place in its source is `name: message` alone, one with no source `message`.
 * A notice says so: `name:line:column: notice: message`.
 *
 * @return the text, ending in a newline, in @p arena; NULL when there is no memory.
 */
const char *fault_text(const struct fault *fault, struct arena *arena);

#endif
