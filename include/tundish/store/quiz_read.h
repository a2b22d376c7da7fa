/**
 * @file
 * The text of a quiz file (format 1, docs/quiz_file.md) -> what a trainer wrote down for a class.
 */
#ifndef TUNDISH_STORE_QUIZ_READ_H
#define TUNDISH_STORE_QUIZ_READ_H

#include "tundish/base/fault.h"
#include "tundish/teach/quiz_file.h"

enum {
	QUIZ_MINUTES_MOST = 600,
	QUIZ_ROOMS_MOST = 200,   /* of an invented house: what invent.h can make */
	QUIZ_POINTS_MOST = 2000,
	QUIZ_CHOICES_MOST = 20,  /* of an own question */
};

/**
 * @p out     finished by the caller (quiz_file_finish) whatever comes back; borrows nothing from the text.
 * @p faults  every fault with its place; a notice for each unknown key that does not start with `x-`.
 * @return    true when the quiz can be used: no fault.
 *
 * Faults: what surveys are held to (survey_read.h), no `quiz: 1`, a format from the future (then nothing else is said), no
 * ref, both `survey` and `invent`, an unknown family, mode or standing, a number out of its range, a thing named twice, a
 * question with choices and a number or with neither, with a point of no known house, with no right answer, with two, with no reason or one that says no more than the answer, two questions with one
 * id, two choices with one id or one text.
 */
bool quiz_read(struct quiz_file *out, const struct source *source, struct faults *faults);

/**
 * Hold what a quiz names against the rulebook and its survey: `with` is rows, kinds and types (earlier ids count),
 * `points` and a question's `point` refs of points, `premises` a site of the rulebook's `invent`.
 *
 * @p source  what @p file was read from.
 * @p survey  the one that it names; NULL: its points can't be known, and are not looked at.
 * @return    false when something names nothing: in @p faults, with its place.
 */
bool quiz_names(const struct quiz_file *file, const struct source *source, const struct rulebook *book,
                const struct survey *survey, struct faults *faults);

#endif
