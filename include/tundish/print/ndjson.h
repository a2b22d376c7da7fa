/**
 * @file
 * What `assess` says of a point as one line of JSON (RFC 8259): every key always there, one type a
 * key, no line break inside. The keys are a contract: they are added to, never renamed
 * (docs/assess.md).
 */
#ifndef TUNDISH_PRINT_NDJSON_H
#define TUNDISH_PRINT_NDJSON_H

#include "tundish/base/sink.h"
#include "tundish/print/assessed.h"

void ndjson_point(struct sink *sink, const struct assessed *assessed);

/** A JSON string, or `null` for NULL. Bytes that are not UTF-8 become U+FFFD. */
void ndjson_string(struct sink *sink, const char *text);

#endif
