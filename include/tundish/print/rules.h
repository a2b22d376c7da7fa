/**
 * @file
 * What the rulebook says, for people: the list of kinds and types, one kind, type, question or row
 * with its sources, what would do against a fluid category, and what is yet to be checked.
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

/**
 * The types that are good for at least @p category (2 to 5) by @p mechanism, and the pairs of types
 * that count as one: by the figures of the type itself, each with its limits of use, how to tell it
 * and its source. What its rows take away is not looked at.
 */
void rules_for(struct page *page, const struct rulebook *book, uint8_t category,
               enum mechanism mechanism);

/** The same, apart: good against both mechanisms, and against only one of them. */
void rules_for_any(struct page *page, const struct rulebook *book, uint8_t category);

/**
 * Every row and type of one standing, by what it names as its source: for memory, what must still
 * be checked and against what. A source is a paragraph that begins at the left edge (docs/sources.awk
 * reads it).
 */
void rules_standing(struct page *page, const struct rulebook *book, enum standing standing);

/** Kinds, types, questions, and rows by standing. The rows of one text (`category: ask`) are one. */
void rules_counts(struct page *page, const struct rulebook *book);

/** The name that was probably meant, or NULL. */
const char *rules_nearest(const struct rulebook *book, const char *name, struct arena *scratch);

/** A condition in words: `spout is pull_out and outlet_height_mm is below 25`; "always" for NULL.
 * In @p scratch. */
const char *rules_condition(const struct rulebook *book, const struct condition *condition,
                            struct arena *scratch);

#endif
