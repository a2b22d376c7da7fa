/**
 * @file
 * Answers of learners for a trainer's table: CSV (RFC 4180; formulas made harmless as in csv.h) and JSON lines. The columns
 * are a contract: they are added to, never renamed (docs/quiz_file.md).
 */
#ifndef TUNDISH_PRINT_REVIEWS_H
#define TUNDISH_PRINT_REVIEWS_H

#include "tundish/base/sink.h"
#include "tundish/print/progress.h"
#include "tundish/teach/review.h"

void reviews_csv_header(struct sink *sink);
void reviews_csv(struct sink *sink, const struct review *review);
void reviews_json(struct sink *sink, const struct review *review);

/** The same for a sitting: a line an attempt, with its score. */
void scores_csv_header(struct sink *sink);
void scores_csv(struct sink *sink, const struct sitting *sitting);
void scores_json(struct sink *sink, const struct sitting *sitting);

#endif
