/**
 * @file
 * Dates as people know them: a day, a month, a year, or only "before July 1999". No clock here.
 */
#ifndef TUNDISH_BASE_DATE_H
#define TUNDISH_BASE_DATE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Days from 1970-01-01 in the Gregorian calendar; years 1 to 9999. */
typedef int32_t day;

enum {
	DAY_FIRST = -719162, /* 0001-01-01 */
	DAY_LAST = 2932896,  /* 9999-12-31 */
};

/** Every day that a date could be, both ends included. */
struct days {
	day first, last;
};

day date_day(int year, int month, int day_of_month);
void date_parts(day d, int *year, int *month, int *day_of_month);

/**
 * Read `2019`, `2019-04`, `2019-04-03` or `before_july_1999` (DAY_FIRST to 1999-06-30).
 * Never padded: `2019` is all its days. @return false for anything else, 2019-02-30 too; then @p out is untouched.
 */
bool date_parse(const char *text, size_t length, struct days *out);

/** The same day of the month @p years earlier; 29 February becomes the 28th. Not before DAY_FIRST. */
day date_years_before(day d, int years);

/** `2019-04-03` into @p out. */
void date_format(day d, char out[11]);

#endif
