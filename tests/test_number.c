#include "tundish/base/number.h"

#include "suite.h"

#include <check.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof((array)[0])))

/* In memory of just its length, so that reading past the end is seen. */
static char *exact_copy(const char *text)
{
	size_t length = strlen(text);
	char *copy = malloc(length ? length : 1);

	ck_assert_ptr_nonnull(copy);
	memcpy(copy, text, length);
	return copy;
}

static const struct {
	const char *text;
	bool good;
	double value;
} numbers[] = {
        {"20",                true,  20               },
        {"-4",                true,  -4               },
        {"0.5",               true,  0.5              },
        {"0",                 true,  0                },
        {"-0",                true,  0                },
        {"0.1",               true,  0.1              },
        {"0.07",              true,  0.07             },
        {"0.000000000001",    true,  1e-12            },
        {"123456.789",        true,  123456.789       },
        {"10.0",              true,  10               },
        {"999999999999999",   true,  999999999999999.0},
        {"0.99999999999999",  true,  0.99999999999999 },
        {"1000000000000000",  false, 0                },
        {"0.999999999999999", false, 0                },
        {"",                  false, 0                },
        {"-",                 false, 0                },
        {".",                 false, 0                },
        {".5",                false, 0                },
        {"5.",                false, 0                },
        {"-.5",               false, 0                },
        {"+5",                false, 0                },
        {"--5",               false, 0                },
        {"010",               false, 0                },
        {"00",                false, 0                },
        {"00.5",              false, 0                },
        {"1e3",               false, 0                },
        {"1,5",               false, 0                },
        {"1,000",             false, 0                },
        {"1_000",             false, 0                },
        {"1.2.3",             false, 0                },
        {"0x10",              false, 0                },
        {"inf",               false, 0                },
        {"nan",               false, 0                },
        {" 5",                false, 0                },
        {"5 ",                false, 0                },
        {"5mm",               false, 0                },
        {"\xD9\xA3",          false, 0                }, /* a digit three of another script */
};

START_TEST(bare_numbers)
{
	double value = 77;
	char *text = exact_copy(numbers[_i].text);
	bool good = number_parse(text, strlen(numbers[_i].text), &value);

	free(text);
	ck_assert_msg(good == numbers[_i].good, "'%s' accepted: %d", numbers[_i].text, good);
	ck_assert_msg(value == (good ? numbers[_i].value : 77), "'%s' is %.17g", numbers[_i].text,
	              value);
	ck_assert_msg(!(value == 0 && signbit(value)), "'%s' is a negative nothing",
	              numbers[_i].text);
}
END_TEST

START_TEST(a_nul_is_no_digit)
{
	double value = 77;

	ck_assert(!number_parse("5\0", 2, &value));
	ck_assert_int_eq(number_with_unit("5 m\0m", 5, "mm", &value), UNIT_BAD);
	ck_assert(value == 77);
}
END_TEST

/* Any decimal of few digits must be the double that the C library reads. */
START_TEST(as_the_c_library_reads_it)
{
	char text[40];
	unsigned long seed = 12345;

	for (int i = 0; i < 20000; i++) {
		double value;

		seed = (seed * 1103515245UL + 12345) & 0x7FFFFFFF;
		unsigned long whole = seed % 1000000;

		seed = (seed * 1103515245UL + 12345) & 0x7FFFFFFF;
		snprintf(text, sizeof(text), "%lu.%lu", whole, seed % 1000000000);
		ck_assert_msg(number_parse(text, strlen(text), &value), "%s", text);
		ck_assert_msg(value == strtod(text, NULL), "%s is %.17g", text, value);
	}
}
END_TEST

static const struct {
	const char *text, *unit;
	enum unit_result result;
	double value;
} with_units[] = {
        {"320",            "kpa",   UNIT_NONE,      320     },
        {" 320 ",          "kpa",   UNIT_NONE,      320     },
        {"-4",             "c",     UNIT_NONE,      -4      },
        {"320 kPa",        "kpa",   UNIT_SAME,      320     },
        {"320kpa",         "kpa",   UNIT_SAME,      320     },
        {"3.2 bar",        "kpa",   UNIT_CONVERTED, 320     },
        {"0.07 bar",       "kpa",   UNIT_CONVERTED, 7       },
        {"0.07bar",        "mbar",  UNIT_CONVERTED, 70      },
        {"1.1 bar",        "kpa",   UNIT_CONVERTED, 110     },
        {"300000 Pa",      "kpa",   UNIT_CONVERTED, 300     },
        {"0.3 MPa",        "kpa",   UNIT_CONVERTED, 300     },
        {"35 mbar",        "kpa",   UNIT_CONVERTED, 3.5     },
        {"35 MBAR",        "mbar",  UNIT_SAME,      35      },
        {"1000 psi",       "kpa",   UNIT_CONVERTED, 6894.757},
        {"1 psi",          "pa",    UNIT_CONVERTED, 6894.757},
        {"250 kPa",        "bar",   UNIT_CONVERTED, 2.5     },
        {"10 m",           "kpa",   UNIT_CONVERTED, 98.04   },
        {"10 m head",      "kpa",   UNIT_CONVERTED, 98.04   },
        {"10 m",           "m",     UNIT_SAME,      10      },
        {"10 m",           "mm",    UNIT_CONVERTED, 10000   },
        {"25.4mm",         "mm",    UNIT_SAME,      25.4    },
        {"1.5 cm",         "mm",    UNIT_CONVERTED, 15      },
        {"22 mm",          "m",     UNIT_CONVERTED, 0.022   },
        {"1 in",           "mm",    UNIT_CONVERTED, 25.4    },
        {"3/4 in",         "mm",    UNIT_CONVERTED, 19.05   },
        {"3/4in",          "mm",    UNIT_CONVERTED, 19.05   },
        {"3/4\"",          "mm",    UNIT_CONVERTED, 19.05   },
        {"1/2",            "mm",    UNIT_NAMED,     0       },
        {"1 1/4",          "mm",    UNIT_NAMED,     0       },
        {"1 1/4 in",       "mm",    UNIT_CONVERTED, 31.75   },
        {"1   1/4\"",      "mm",    UNIT_CONVERTED, 31.75   },
        {"1/2 bar",        "kpa",   UNIT_CONVERTED, 50      },
        {"12 l/min",       "l_min", UNIT_SAME,      12      },
        {"12 L/MIN",       "l_min", UNIT_SAME,      12      },
        {"0.2 l/s",        "l_min", UNIT_CONVERTED, 12      },
        {"0.72 m3/h",      "l_min", UNIT_CONVERTED, 12      },
        {"0.72 m\u00B3/h", "l_s",   UNIT_CONVERTED, 0.2     },
        {"12 l/min",       "l_s",   UNIT_CONVERTED, 0.2     },
        {"1.5 m3",         "l",     UNIT_CONVERTED, 1500    },
        {"200 litres",     "l",     UNIT_SAME,      200     },
        {"200l",           "l",     UNIT_SAME,      200     },
        {"60 C",           "c",     UNIT_SAME,      60      },
        {"60 \u00B0C",     "c",     UNIT_SAME,      60      },
        {"333.15 K",       "c",     UNIT_CONVERTED, 60      },
        {"273.15 K",       "c",     UNIT_CONVERTED, 0       },
        {"0 K",            "c",     UNIT_CONVERTED, -273.15 },
        {"60 C",           "k",     UNIT_CONVERTED, 333.15  },
        {"2 years",        "years", UNIT_SAME,      2       },
        {"1461 days",      "years", UNIT_CONVERTED, 4       },
        {"3 min",          "s",     UNIT_CONVERTED, 180     },
        {"2 h",            "min",   UNIT_CONVERTED, 120     },
        {"7",              NULL,    UNIT_NONE,      7       },
        {"7",              "",      UNIT_NONE,      7       },
        {"7 mm",           NULL,    UNIT_OTHER,     0       },
        {"7 mm",           "",      UNIT_OTHER,     0       },
        {"10 mm",          "kpa",   UNIT_OTHER,     0       },
        {"10 m",           "l",     UNIT_OTHER,     0       },
        {"3 bar",          "l_min", UNIT_OTHER,     0       },
        {"3 l",            "l_min", UNIT_OTHER,     0       },
        {"1/2",            "kpa",   UNIT_OTHER,     0       },
        {"1/2",            "",      UNIT_OTHER,     0       },
        {"3 furlongs",     "mm",    UNIT_BAD,       0       },
        {"3 mmm",          "mm",    UNIT_BAD,       0       },
        {"3 m m",          "mm",    UNIT_BAD,       0       },
        {"3,2 bar",        "kpa",   UNIT_BAD,       0       },
        {"bar",            "kpa",   UNIT_BAD,       0       },
        {"",               "kpa",   UNIT_BAD,       0       },
        {"   ",            "kpa",   UNIT_BAD,       0       },
        {"1/3 in",         "mm",    UNIT_BAD,       0       },
        {"3/0 in",         "mm",    UNIT_BAD,       0       },
        {"0/4 in",         "mm",    UNIT_BAD,       0       },
        {"/4 in",          "mm",    UNIT_BAD,       0       },
        {"3/ in",          "mm",    UNIT_BAD,       0       },
        {"1 5/4 in",       "mm",    UNIT_BAD,       0       },
        {"3/4/5",          "mm",    UNIT_BAD,       0       },
        {"-1/2",           "mm",    UNIT_BAD,       0       },
        {"1 2",            "mm",    UNIT_BAD,       0       },
        {"3..4 mm",        "mm",    UNIT_BAD,       0       },
        {"1e3 mm",         "mm",    UNIT_BAD,       0       },
        {"3 \xB0"
         "C",     "c",     UNIT_BAD,       0       }, /* no UTF-8 */
};

START_TEST(numbers_with_units)
{
	double value = 77;
	char *text = exact_copy(with_units[_i].text);
	enum unit_result result =
	        number_with_unit(text, strlen(with_units[_i].text), with_units[_i].unit, &value);

	free(text);
	ck_assert_msg(result == with_units[_i].result, "'%s' for %s: %d", with_units[_i].text,
	              with_units[_i].unit ? with_units[_i].unit : "NULL", (int)result);
	bool untouched = result == UNIT_OTHER || result == UNIT_NAMED || result == UNIT_BAD;

	ck_assert_msg(value == (untouched ? 77 : with_units[_i].value), "'%s' for %s: %.17g",
	              with_units[_i].text, with_units[_i].unit ? with_units[_i].unit : "NULL",
	              value);
}
END_TEST

static const struct {
	double value;
	const char *text;
} formats[] = {
        {0,                  "0"               },
        {-0.0,               "0"               },
        {1,                  "1"               },
        {-4,                 "-4"              },
        {10,                 "10"              },
        {100,                "100"             },
        {0.5,                "0.5"             },
        {0.1,                "0.1"             },
        {2.3,                "2.3"             },
        {-273.15,            "-273.15"         },
        {6.894757,           "6.894757"        },
        {1e14,               "100000000000000" },
        {999999999999999,    "999999999999999" },
        {-999999999999999,   "-999999999999999"},
        {123456789.123456,   "123456789.123456"},
        {1.0 / 3,            "0.33333333333333"},
        {200.0 / 3,          "66.6666666666667"},
        {0.1 + 0.2,          "0.3"             },
        {100 * 0.07,         "7"               },
        {1e-12,              "0.000000000001"  },
        {1e-20,              "0"               },
        {-1e-20,             "0"               },
        {9.9999999999999999, "10"              },
        {999999999999999.5,  "?"               },
        {1e15,               "?"               },
        {-1e300,             "?"               },
        {INFINITY,           "?"               },
        {NAN,                "?"               },
};

START_TEST(formatted)
{
	char text[32];

	memset(text, 'x', sizeof(text));
	number_format(formats[_i].value, text);
	ck_assert_msg(strcmp(text, formats[_i].text) == 0, "%.17g: '%s', expected '%s'",
	              formats[_i].value, text, formats[_i].text);
}
END_TEST

/* What was typed with few digits comes back as it was typed. */
START_TEST(there_and_back)
{
	for (int whole = -300; whole < 300; whole++) {
		for (int cents = 0; cents < 100; cents++) {
			char typed[32], text[32];
			double value;

			snprintf(typed, sizeof(typed), "%d.%02d1", whole, cents);
			ck_assert(number_parse(typed, strlen(typed), &value));
			number_format(value, text);
			ck_assert_str_eq(text, typed[0] == '-' && value == 0 ? "0" : typed);
		}
	}
}
END_TEST

/* Few machines have a locale with a decimal comma to try: so this stands in for the C library's
 * own, and writes one. */
static bool comma_locale;
static int commas_written;

int snprintf(char *out, size_t size, const char *format, ...)
{
	va_list values;

	va_start(values, format);
	int length = vsnprintf(out, size, format, values);

	va_end(values);
	char *point = comma_locale && strchr(format, 'f') ? strchr(out, '.') : NULL;

	if (point) {
		*point = ',';
		commas_written++;
	}
	return length;
}

START_TEST(no_locale)
{
	char text[32];
	double value = 77;

	comma_locale = true;
	number_format(-1234.5, text);
	comma_locale = false;
	ck_assert_int_gt(commas_written, 0);
	ck_assert_str_eq(text, "-1234.5");
	ck_assert(!number_parse("1234,5", 6, &value));
	ck_assert(value == 77);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("number");
	TCase *tcase = tcase_create("number");

	tcase_set_timeout(tcase, 20);
	tcase_add_loop_test(tcase, bare_numbers, 0, COUNT(numbers));
	tcase_add_test(tcase, a_nul_is_no_digit);
	tcase_add_test(tcase, as_the_c_library_reads_it);
	tcase_add_loop_test(tcase, numbers_with_units, 0, COUNT(with_units));
	tcase_add_loop_test(tcase, formatted, 0, COUNT(formats));
	tcase_add_test(tcase, there_and_back);
	tcase_add_test(tcase, no_locale);
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
