/**
 * @file
 * One thing of the rulebook in full, for rules.c.
 */
#ifndef TUNDISH_PRINT_RULES_TEXT_H
#define TUNDISH_PRINT_RULES_TEXT_H

#include "tundish/print/rules.h"

void rules_kind(struct page *page, const struct rulebook *book, const struct kind *kind);
void rules_type(struct page *page, const struct rulebook *book, const struct type *type);
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
