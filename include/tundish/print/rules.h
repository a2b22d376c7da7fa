/**
 * @file
 * What the rulebook says, for people: the list of kinds and types, and one kind, type, question or
 * row with its sources.
 */
#ifndef TUNDISH_PRINT_RULES_H
#define TUNDISH_PRINT_RULES_H

#include "tundish/assess/rulebook.h"
#include "tundish/print/page.h"

/** Every kind and type in a line, and how to go on. */
void rules_list(struct page *page, const struct rulebook *book);

/**
 * Everything that goes by @p name: a kind, a type, questions, a row (by an earlier id too).
 *
 * @return how many things were printed; 0: no such name.
 */
size_t rules_entry(struct page *page, const struct rulebook *book, const char *name);

/** The name that was probably meant, or NULL. */
const char *rules_nearest(const struct rulebook *book, const char *name, struct arena *scratch);

/** A condition in words: `spout is pull_out and outlet_height_mm is below 25`; "always" for NULL.
 * In @p scratch. */
const char *rules_condition(const struct rulebook *book, const struct condition *condition,
                            struct arena *scratch);

#endif
