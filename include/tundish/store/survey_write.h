/**
 * @file
 * A changed survey -> its text, changing only the bytes of what was answered.
 */
#ifndef TUNDISH_STORE_SURVEY_WRITE_H
#define TUNDISH_STORE_SURVEY_WRITE_H

#include "tundish/assess/survey.h"

/**
 * The text of @p survey, made from @p original by replacing, inserting and deleting only what differs.
 *
 * Reads @p original afresh, compares, splices, reads the result and compares again: as a survey, as a tree (unknown keys
 * too) and by its comments. Line ends, BOM, indents and quoting of the rest stay; no difference gives the same bytes. A
 * scalar is written plain where YAML 1.1 and 1.2 both read it as the same text, else in single quotes, else double; a
 * number, a date and yes or no that are meant as such are plain too. Quotes that were there stay.
 *
 * When a kind or type changes, answers that are no longer asked stay in the text, and what could not be placed before
 * becomes an answer when the text is read again: these two are no conflict.
 *
 * @p original  the text as it was read; of length 0: a new file is written from nothing.
 * @p out       the new text, in @p arena, NUL-terminated; its length in @p out_length.
 * @return      false with @p err: ERR_TEXT (the original can't be used), ERR_CONFLICT (the result would lose or change
 *              something else: says what and where), ERR_MEMORY.
 */
bool survey_write(const struct survey *survey, const struct source *original, struct arena *arena, char **out,
                  size_t *out_length, struct err *err);

#endif
