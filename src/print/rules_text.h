/**
 * @file
 * One thing of the rulebook in full, for rules.c and those beside it.
 */
#ifndef TUNDISH_PRINT_RULES_TEXT_H
#define TUNDISH_PRINT_RULES_TEXT_H

#include "tundish/print/rules.h"

/** A line below a heading: @p lead, and @p text beside it; nothing where there is no text. */
void rules_field(struct page *page, const char *lead, const char *text);

/** An empty line, then @p words. */
void rules_heading(struct page *page, const char *words);

/** Where it is from, and how sure that is. */
void rules_source(struct page *page, const char *source, enum standing standing);

/** Which kinds a type could serve, by its own figures (rules_for.c). */
void rules_serves(struct page *page, const struct rulebook *book, const struct type *type);

void rules_kind(struct page *page, const struct rulebook *book, const struct kind *kind);
void rules_type(struct page *page, const struct rulebook *book, const struct type *type);
/** What it is good for, how to tell it, its limits of use and its source. */
void rules_type_short(struct page *page, const struct type *type);
void rules_question(struct page *page, const struct rulebook *book,
                    const struct question *question);
void rules_kind_row(struct page *page, const struct rulebook *book, const struct kind *kind,
                    const struct row *row);
void rules_type_row(struct page *page, const struct rulebook *book, const struct row *row);
void rules_series(struct page *page, const struct rulebook *book, const struct series *series);
void rules_urgency(struct page *page, const struct rulebook *book, const struct urgency_row *row);

/** `3 against both`, `none`, `3 against back siphonage, none against back pressure`. In @p scratch.
 */
const char *rules_figures(const uint8_t figures[MECHANISM_COUNT], struct arena *scratch);

#endif
