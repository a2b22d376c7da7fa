#include "tundish/base/date.h"

#include <assert.h>
#include <string.h>

enum {
	DAYS_PER_ERA = 146097,     /* 400 years */
	ERA_DAYS_TO_1970 = 719468, /* 0000-03-01 to 1970-01-01 */
};

static const char before_name[] = "before_july_1999";

static bool is_leap(int year)
{
	return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

static int days_in_month(int year, int month)
{
	static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

	return month == 2 && is_leap(year) ? 29 : days[month - 1];
}

/* Counted in years that begin in March, so that the leap day is the last of its year and every
 * month but it has a length by rule: 153 days to five months. */
day date_day(int year, int month, int day_of_month)
{
	assert(year >= 1 && year <= 9999 && month >= 1 && month <= 12);
	assert(day_of_month >= 1 && day_of_month <= days_in_month(year, month));
	int from_march = (month + 9) % 12;
	int march_year = month <= 2 ? year - 1 : year;
	int era = march_year / 400;
	int year_of_era = march_year % 400;
	int day_of_year = (153 * from_march + 2) / 5 + day_of_month - 1;
	int day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;

	return era * DAYS_PER_ERA + day_of_era - ERA_DAYS_TO_1970;
}

void date_parts(day d, int *year, int *month, int *day_of_month)
{
	assert(d >= DAY_FIRST && d <= DAY_LAST);
	int since = d + ERA_DAYS_TO_1970;
	int era = since / DAYS_PER_ERA;
	int day_of_era = since % DAYS_PER_ERA;
	/* Take the leap days out first; what is left has 365 a year. */
	int year_of_era =
	        (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
	int day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
	int from_march = (5 * day_of_year + 2) / 153;

	*day_of_month = day_of_year - (153 * from_march + 2) / 5 + 1;
	*month = from_march < 10 ? from_march + 3 : from_march - 9;
	*year = era * 400 + year_of_era + (*month <= 2);
}

/* All of `count` characters must be digits. */
static bool read_digits(const char *text, size_t count, int *value)
{
	int sum = 0;

	for (size_t i = 0; i < count; i++) {
		if (text[i] < '0' || text[i] > '9')
			return false;
		sum = sum * 10 + (text[i] - '0');
	}
	*value = sum;
	return true;
}

static bool read_month(const char *text, int *month)
{
	return text[4] == '-' && read_digits(text + 5, 2, month) && *month >= 1 && *month <= 12;
}

bool date_parse(const char *text, size_t length, struct days *out)
{
	int year, month, dom;

	if (length == sizeof(before_name) - 1 && memcmp(text, before_name, length) == 0) {
		*out = (struct days){DAY_FIRST, date_day(1999, 6, 30)};
		return true;
	}
	if ((length != 4 && length != 7 && length != 10) || !read_digits(text, 4, &year) ||
	    year == 0)
		return false;
	if (length == 4) {
		*out = (struct days){date_day(year, 1, 1), date_day(year, 12, 31)};
		return true;
	}
	if (!read_month(text, &month))
		return false;
	if (length == 7) {
		*out = (struct days){date_day(year, month, 1),
		                     date_day(year, month, days_in_month(year, month))};
		return true;
	}
	if (text[7] != '-' || !read_digits(text + 8, 2, &dom) || dom < 1 ||
	    dom > days_in_month(year, month))
		return false;
	out->first = out->last = date_day(year, month, dom);
	return true;
}

day date_years_before(day d, int years)
{
	int year, month, dom;

	date_parts(d, &year, &month, &dom);
	if (years >= year)
		return DAY_FIRST;
	if (years < year - 9999)
		return DAY_LAST;
	year -= years;
	if (dom > days_in_month(year, month))
		dom = days_in_month(year, month);
	return date_day(year, month, dom);
}

static char *put_digits(char *out, int value, int count)
{
	for (int i = count - 1; i >= 0; i--) {
		out[i] = (char)('0' + value % 10);
		value /= 10;
	}
	return out + count;
}

void date_format(day d, char out[11])
{
	int year, month, dom;

	date_parts(d, &year, &month, &dom);
	out = put_digits(out, year, 4);
	*out++ = '-';
	out = put_digits(out, month, 2);
	*out++ = '-';
	out = put_digits(out, dom, 2);
	*out = '\0';
}
