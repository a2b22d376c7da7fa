/**
 * @file
 * The lines of a journal, written: what journal.c puts into its file and journal_lines.c reads back.
 */
#ifndef TUNDISH_SRC_STORE_JOURNAL_LINES_H
#define TUNDISH_SRC_STORE_JOURNAL_LINES_H

#include "tundish/base/sink.h"
#include "tundish/store/journal.h"

/** Hash of a line and all before it: what the next one is chained to. */
struct chain {
	unsigned char link[32];
};

void chain_begin(struct chain *chain);

/** Each adds whole lines to a sink in memory. */
void journal_head(struct sink *sink, struct chain *chain, const char *path, const char *begun,
                  struct digest base);
void journal_step(struct sink *sink, struct chain *chain, const struct changes *step);
void journal_mark(struct sink *sink, struct chain *chain, struct digest file);

#endif
