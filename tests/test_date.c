#include "tundish/base/date.h"

#include "suite.h"
#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

static const struct {
	int year, month, dom;
	day expected;
} known_days[] =
        {
                {1970, 1,  1,  0        },
                {1970, 1,  2,  1        },
                {1969, 12, 31, -1       },
                {2000, 1,  1,  10957    },
                {2000, 2,  29, 11016    },
                {2000, 3,  1,  11017    },
                {1900, 3,  1,  -25508   }, /* 1900 had no 29 February */
                {1900, 2,  28, -25509   },
                {2100, 3,  1,  47541    },
                {2001, 9,  9,  11574    }, /* 1,000,000,000 seconds */
                {2038, 1,  19, 24855    }, /* 2^31 seconds */
                {1,    1,  1,  DAY_FIRST},
                {9999, 12, 31, DAY_LAST },
};

START_TEST(known_day)
{
	int year, month, dom;

	ck_assert_int_eq(date_day(known_days[_i].year, known_days[_i].month, known_days[_i].dom),
	                 known_days[_i].expected);
	date_parts(known_days[_i].expected, &year, &month, &dom);
	ck_assert_int_eq(year, known_days[_i].year);
	ck_assert_int_eq(month, known_days[_i].month);
	ck_assert_int_eq(dom, known_days[_i].dom);
}
END_TEST

/* Every day there is, against a calendar that only counts on. */
START_TEST(all_days_follow_each_other)
{
	int lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	int year = 1, month = 1, dom = 1;

	for (day d = DAY_FIRST; d <= DAY_LAST; d++) {
		int y, m, dm;

		date_parts(d, &y, &m, &dm);
		if (y != year || m != month || dm != dom || date_day(y, m, dm) != d)
			ck_abort_msg("day %d is %d-%d-%d, expected %d-%d-%d", d, y, m, dm, year,
			             month, dom);
		lengths[1] = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0 ? 29 : 28;
		if (++dom > lengths[month - 1]) {
			dom = 1;
			month++;
		}
		if (month > 12) {
			month = 1;
			year++;
		}
	}
	ck_assert_int_eq(year, 10000);
}
END_TEST

START_TEST(the_c_library_agrees)
{
	for (day d = -400000; d < 400000; d += 61) {
		time_t seconds = (time_t)d * 86400;
		struct tm tm;
		int year, month, dom;

		ck_assert_ptr_nonnull(gmtime_r(&seconds, &tm));
		date_parts(d, &year, &month, &dom);
		ck_assert_int_eq(year, tm.tm_year + 1900);
		ck_assert_int_eq(month, tm.tm_mon + 1);
		ck_assert_int_eq(dom, tm.tm_mday);
		ck_assert_int_eq(date_day(year, month, dom), d);
	}
}
END_TEST

static const struct {
	const char *text;
	const char *first, *last; /* NULL: refused */
} texts[] = {
        {"2019",             "2019-01-01", "2019-12-31"},
        {"2019-04",          "2019-04-01", "2019-04-30"},
        {"2019-02",          "2019-02-01", "2019-02-28"},
        {"2020-02",          "2020-02-01", "2020-02-29"},
        {"2000-02",          "2000-02-01", "2000-02-29"},
        {"1900-02",          "1900-02-01", "1900-02-28"},
        {"2019-04-03",       "2019-04-03", "2019-04-03"},
        {"2020-02-29",       "2020-02-29", "2020-02-29"},
        {"before_july_1999", "0001-01-01", "1999-06-30"},
        {"0001",             "0001-01-01", "0001-12-31"},
        {"9999-12-31",       "9999-12-31", "9999-12-31"},
        {"2019-02-29",       NULL,         NULL        },
        {"2019-02-30",       NULL,         NULL        },
        {"1900-02-29",       NULL,         NULL        },
        {"2019-04-31",       NULL,         NULL        },
        {"2019-13",          NULL,         NULL        },
        {"2019-00",          NULL,         NULL        },
        {"2019-01-00",       NULL,         NULL        },
        {"2019-01-32",       NULL,         NULL        },
        {"0000",             NULL,         NULL        },
        {"19",               NULL,         NULL        },
        {"20190",            NULL,         NULL        },
        {"2019-4",           NULL,         NULL        },
        {"2019-4-3",         NULL,         NULL        },
        {"2019-04-3",        NULL,         NULL        },
        {"2019/04",          NULL,         NULL        },
        {"2019-04/03",       NULL,         NULL        },
        {"2019-04-03 ",      NULL,         NULL        },
        {" 2019",            NULL,         NULL        },
        {"+201",             NULL,         NULL        },
        {"-201",             NULL,         NULL        },
        {"201a",             NULL,         NULL        },
        {"2019-0a",          NULL,         NULL        },
        {"2019-01-0:",       NULL,         NULL        },
        {"",                 NULL,         NULL        },
        {"before_july_199",  NULL,         NULL        },
        {"before_july_1998", NULL,         NULL        },
        {"Before_july_1999", NULL,         NULL        },
};

/* The text stands in memory of just its length: nothing past it may be read. */
START_TEST(date_texts)
{
	const char *title = texts[_i].text;
	size_t length = strlen(title);
	char *text = malloc(length ? length : 1);
	struct days days = {-7, 7};
	char first[11], last[11];

	ck_assert_ptr_nonnull(text);
	memcpy(text, title, length);
	bool good = date_parse(text, length, &days);

	free(text);
	ck_assert_msg(good == (texts[_i].first != NULL), "'%s' accepted: %d", title, good);
	if (!good) {
		ck_assert_msg(days.first == -7 && days.last == 7, "'%s' touched the result", title);
		return;
	}
	date_format(days.first, first);
	date_format(days.last, last);
	ck_assert_msg(strcmp(first, texts[_i].first) == 0, "'%s' begins %s", title, first);
	ck_assert_msg(strcmp(last, texts[_i].last) == 0, "'%s' ends %s", title, last);
}
END_TEST

static const struct {
	const char *from;
	int years;
	const char *expected;
} earlier[] = {
        {"2026-11-25", 5,               "2021-11-25"},
        {"2024-02-29", 5,               "2019-02-28"},
        {"2024-02-29", 4,               "2020-02-29"},
        {"2024-02-29", 24,              "2000-02-29"},
        {"2000-02-29", 100,             "1900-02-28"},
        {"2024-02-29", 0,               "2024-02-29"},
        {"2019-03-31", 1,               "2018-03-31"},
        {"0005-06-01", 4,               "0001-06-01"},
        {"0005-06-01", 5,               "0001-01-01"},
        {"2019-06-01", 2147483647,      "0001-01-01"},
        {"2019-06-01", -7980,           "9999-06-01"},
        {"2019-06-01", -7981,           "9999-12-31"},
        {"2019-06-01", -1,              "2020-06-01"},
        {"2019-06-01", -2147483647 - 1, "9999-12-31"},
};

START_TEST(years_before)
{
	struct days from;
	char text[11];

	ck_assert(date_parse(earlier[_i].from, 10, &from));
	date_format(date_years_before(from.first, earlier[_i].years), text);
	ck_assert_msg(strcmp(text, earlier[_i].expected) == 0, "%d years before %s: %s",
	              earlier[_i].years, earlier[_i].from, text);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("date");
	TCase *tcase = tcase_create("date");

	tcase_set_timeout(tcase, 20);
	tcase_add_loop_test(tcase, known_day, 0, COUNT(known_days));
	tcase_add_test(tcase, all_days_follow_each_other);
	tcase_add_test(tcase, the_c_library_agrees);
	tcase_add_loop_test(tcase, date_texts, 0, COUNT(texts));
	tcase_add_loop_test(tcase, years_before, 0, COUNT(earlier));
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
