/**
 * @file
 * Numbers as people write them in a survey: decimal, a point, no exponent, no thousands mark, in no locale.
 */
#ifndef TUNDISH_BASE_NUMBER_H
#define TUNDISH_BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

/**
 * @return whether all of @p text is one number such as `20`, `-4`, `0.5`; then @p value is it. At most 15 digits. Not
 *         `.5`, `5.`, `+5`; nor `010`, which other readers of the same file take for octal.
 */
bool number_parse(const char *text, size_t length, double *value);

enum unit_result {
	UNIT_NONE,      /* a bare number: it is in the unit expected */
	UNIT_SAME,      /* the unit expected was written too */
	UNIT_CONVERTED, /* another unit of the same kind: @p value is in the unit expected */
	UNIT_OTHER,     /* a unit of another kind (metres where litres were expected) */
	UNIT_NAMED,     /* a fraction alone where a length was expected: the name of a size, such as a 1/2 tap, and no measure */
	UNIT_BAD,       /* not a number with a unit */
};

/**
 * A number that may have a unit written after it, as typed on site (`3.2 bar`, `3/4 in`, `20mm`).
 *
 * Known: Pa kPa MPa bar mbar psi m(head, where a pressure is expected) | mm cm m in (also `"`, and fractions of it: 3/4 in,
 * 1 1/4 in) | l/min l/s m3/h | l litres m3 | C K | s min h days years.
 *
 * A fraction alone is no measure: pipes and taps are called by it, and their bore is larger than the fraction of an inch. A conversion
 * rounds once: 0.07 bar is 7 kPa exactly. A year is 365.25 days.
 *
 * @p unit   the unit expected: "kpa", "mbar", "mm", "m", "l_min", "l_s", "l", "c", "years", ... as in question keys; NULL or
 *           "" for a count.
 * @p value  out, in the unit expected; untouched for UNIT_OTHER, UNIT_NAMED and UNIT_BAD.
 * Source: 1 bar = 100 kPa, 1 psi = 6.894757 kPa, 1 in = 25.4 mm, 1 m head = 9.804 kPa at 10 C (SI brochure; the head
 * by calculation from density 999.7 kg/m3 and g = 9.80665 m/s2).
 */
enum unit_result number_with_unit(const char *text, size_t length, const char *unit, double *value);

/** Shortest decimal that reads back the same, at most 15 digits, no exponent, never `-0`. `?` for 1e15 and more and no number. */
void number_format(double value, char out[32]);

/** A unit of the above as people write it: `l/min` for "l_min". The unit itself where it is not known; "" for NULL. */
const char *unit_words(const char *unit);

#endif
