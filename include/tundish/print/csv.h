/**
 * @file
 * What `assess` says of a point as one record of CSV (RFC 4180): CRLF, a header, quotes where
 * needed. The path that the verdict speaks of is in it; all paths are in NDJSON only.
 *
 * A spreadsheet takes a cell that begins with = + - @, a tab or a carriage return (after blanks
 * too) for a formula: a text cell like that gets an apostrophe in front. Columns of numbers are
 * left alone.
 */
#ifndef TUNDISH_PRINT_CSV_H
#define TUNDISH_PRINT_CSV_H

#include "tundish/base/sink.h"
#include "tundish/print/assessed.h"

void csv_header(struct sink *sink);
void csv_point(struct sink *sink, const struct assessed *assessed);

/** One text cell, quoted and made safe; nothing for NULL. No separator. */
void csv_text(struct sink *sink, const char *text);

#endif
