/**
 * @file
 * The survey's format as a JSON Schema (draft-07), made from the rulebook's questions, kinds and types: for editors, which
 * complete and mark as one writes. It lets through what the reader takes without a word (store/survey_read.h), typed as
 * YAML 1.1 or 1.2 would have it; what the reader only notices (an unknown key) it marks.
 *
 * A schema can't hold one item against another: that a ref is there once, or that a feed names something, is left to
 * `tundish faults`.
 */
#ifndef TUNDISH_PRINT_SCHEMA_H
#define TUNDISH_PRINT_SCHEMA_H

#include "tundish/assess/rulebook.h"
#include "tundish/base/sink.h"

void schema_survey(struct sink *sink, const struct rulebook *book);

#endif
