#include "tundish/base/number.h"

#include "tundish/base/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { DIGITS_MOST = 15 }; /* any number of so many digits survives the way through a double */

/* A number as it was written: whole / divisor, both exact, so that a factor can be taken in before
 * the one rounding (0.07 bar is 7 kPa, and not 7.000000000000001). */
struct decimal {
	double whole, divisor;
};

enum unit_kind { UNIT_PRESSURE, UNIT_LENGTH, UNIT_FLOW, UNIT_VOLUME, UNIT_TEMPERATURE, UNIT_TIME };

/* Value in the kind's smallest = written * factor / parts + offset / parts. */
struct unit {
	const char *word; /* lower case; as it is typed, or as a question's key ends */
	enum unit_kind kind;
	double factor, parts, offset;
};

/* Smallest: Pa, 0.1 mm, l/h, l, K, s. A word of two kinds stands twice. */
static const struct unit units[] = {
  /* clang-format off */
	{"pa",         UNIT_PRESSURE,         1,    1, 0},
	{"mbar",       UNIT_PRESSURE,       100,    1, 0},
	{"kpa",        UNIT_PRESSURE,      1000,    1, 0},
	{"bar",        UNIT_PRESSURE,    100000,    1, 0},
	{"mpa",        UNIT_PRESSURE,   1000000,    1, 0},
	{"psi",        UNIT_PRESSURE,   6894757, 1000, 0},
	{"m",          UNIT_PRESSURE,      9804,    1, 0}, /* of head, at 10 C */
	{"m head",     UNIT_PRESSURE,      9804,    1, 0},
	{"mm",         UNIT_LENGTH,          10,    1, 0},
	{"cm",         UNIT_LENGTH,         100,    1, 0},
	{"m",          UNIT_LENGTH,       10000,    1, 0},
	{"in",         UNIT_LENGTH,         254,    1, 0},
	{"\"",         UNIT_LENGTH,         254,    1, 0},
	{"l/min",      UNIT_FLOW,            60,    1, 0},
	{"l_min",      UNIT_FLOW,            60,    1, 0},
	{"l/s",        UNIT_FLOW,          3600,    1, 0},
	{"l_s",        UNIT_FLOW,          3600,    1, 0},
	{"m3/h",       UNIT_FLOW,          1000,    1, 0},
	{"m\u00B3/h",  UNIT_FLOW,          1000,    1, 0},
	{"m3_h",       UNIT_FLOW,          1000,    1, 0},
	{"l",          UNIT_VOLUME,           1,    1, 0},
	{"litre",      UNIT_VOLUME,           1,    1, 0},
	{"litres",     UNIT_VOLUME,           1,    1, 0},
	{"m3",         UNIT_VOLUME,        1000,    1, 0},
	{"m\u00B3",    UNIT_VOLUME,        1000,    1, 0},
	{"c",          UNIT_TEMPERATURE,    100,  100, 27315},
	{"\u00B0c",    UNIT_TEMPERATURE,    100,  100, 27315},
	{"k",          UNIT_TEMPERATURE,    100,  100, 0},
	{"s",          UNIT_TIME,             1,    1, 0},
	{"min",        UNIT_TIME,            60,    1, 0},
	{"h",          UNIT_TIME,          3600,    1, 0},
	{"day",        UNIT_TIME,         86400,    1, 0},
	{"days",       UNIT_TIME,         86400,    1, 0},
	{"year",       UNIT_TIME,      31557600,    1, 0}, /* of 365.25 days */
	{"years",      UNIT_TIME,      31557600,    1, 0},
  /* clang-format on */
};

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* A run of digits goes into `whole`. */
static size_t take_digits(const char *text, size_t length, double *whole)
{
	size_t at = 0;

	while (at < length && is_digit(text[at])) {
		*whole = *whole * 10 + (text[at] - '0');
		at++;
	}
	return at;
}

/* @return bytes of the number that @p text starts with; 0: none. */
static size_t take_decimal(const char *text, size_t length, struct decimal *out)
{
	bool minus = length > 0 && text[0] == '-';
	size_t at = minus;
	struct decimal read = {0, 1};
	size_t before = take_digits(text + at, length - at, &read.whole);
	size_t after = 0;

	/* A leading 0 is octal to some readers of the same file. */
	if (before == 0 || (before > 1 && text[at] == '0'))
		return 0;
	at += before;
	if (at < length && text[at] == '.') {
		after = take_digits(text + at + 1, length - at - 1, &read.whole);
		if (after == 0)
			return 0;
		at += 1 + after;
	}
	if (before + after > DIGITS_MOST)
		return 0;
	while (after-- > 0)
		read.divisor *= 10;
	if (minus && read.whole > 0)
		read.whole = -read.whole;
	*out = read;
	return at;
}

bool number_parse(const char *text, size_t length, double *value)
{
	struct decimal read;

	if (length == 0 || take_decimal(text, length, &read) != length)
		return false;
	*value = read.whole / read.divisor;
	return true;
}

/* `3/4` or `1 1/4`, as bores are named: halves down to sixty-fourths. @return its bytes; 0: there
 * is none. */
static size_t take_fraction(const char *text, size_t length, struct decimal *out)
{
	double whole = 0, part = 0, of = 0;
	size_t at = take_digits(text, length, &part);
	size_t first = at, count;

	if (at > 0 && at < length && text[at] == ' ') {
		whole = part;
		part = 0;
		while (at < length && text[at] == ' ')
			at++;
		count = take_digits(text + at, length - at, &part);
		if (count == 0)
			return 0;
		at += count;
	}
	if (first == 0 || first > 3 || part < 1 || at >= length || text[at] != '/')
		return 0;
	count = take_digits(text + at + 1, length - at - 1, &of);
	bool power = of == 2 || of == 4 || of == 8 || of == 16 || of == 32 || of == 64;

	if (!power || count > 2 || part > 999 || (whole > 0 && part >= of))
		return 0;
	*out = (struct decimal){whole * of + part, of};
	return at + 1 + count;
}

/* The unit of that name, of the kind of @p like if there is such a one (`m` is head or length). */
static const struct unit *find_unit(const char *text, size_t length, const struct unit *like)
{
	const struct unit *found = NULL;

	for (size_t i = 0; i < sizeof(units) / sizeof(units[0]); i++) {
		if (!text_is_in_any_case(text, length, units[i].word))
			continue;
		if (like && units[i].kind == like->kind)
			return &units[i];
		/* Without a hint `m` as a question's unit is a length. */
		if (!found || units[i].kind == UNIT_LENGTH)
			found = &units[i];
	}
	return found;
}

static double convert(struct decimal d, const struct unit *from, const struct unit *to)
{
	double over = d.whole * from->factor + from->offset * d.divisor;
	double under = d.divisor * from->parts;

	/* smallest = over / under; value = (smallest * parts - offset) / factor */
	return (over * to->parts - to->offset * under) / (under * to->factor);
}

static void trim(const char **text, size_t *length)
{
	while (*length > 0 && **text == ' ') {
		++*text;
		--*length;
	}
	while (*length > 0 && (*text)[*length - 1] == ' ')
		--*length;
}

static bool same_unit(const struct unit *a, const struct unit *b)
{
	return a->kind == b->kind && a->factor == b->factor && a->parts == b->parts &&
	       a->offset == b->offset;
}

enum unit_result number_with_unit(const char *text, size_t length, const char *unit, double *value)
{
	const struct unit *expected, *written;
	struct decimal read;

	trim(&text, &length);
	if (number_parse(text, length, value))
		return UNIT_NONE;
	expected = unit ? find_unit(unit, strlen(unit), NULL) : NULL;
	size_t used = take_fraction(text, length, &read);
	bool is_fraction = used > 0;

	if (!is_fraction)
		used = take_decimal(text, length, &read);
	if (used == 0)
		return UNIT_BAD;
	text += used;
	length -= used;
	trim(&text, &length);
	if (is_fraction && length == 0)
		return expected && expected->kind == UNIT_LENGTH ? UNIT_NAMED : UNIT_OTHER;
	written = find_unit(text, length, expected);
	if (!written)
		return UNIT_BAD;
	if (!expected || written->kind != expected->kind)
		return UNIT_OTHER;
	if (same_unit(written, expected)) {
		*value = read.whole / read.divisor;
		return UNIT_SAME;
	}
	*value = convert(read, written, expected);
	return UNIT_CONVERTED;
}

/* The C library writes the point of the locale: whatever stands between the digits is read over. */
static void write_fixed(double value, int decimals, char out[64])
{
	char text[64];
	size_t used = 0;
	bool point = false;

	snprintf(text, sizeof(text), "%.*f", decimals, value);
	for (const char *c = text; *c; c++) {
		if (is_digit(*c)) {
			out[used++] = *c;
		} else if (!point) {
			out[used++] = '.';
			point = true;
		}
	}
	out[used] = '\0';
}

static void cut_zeros(char *text)
{
	size_t length = strlen(text);

	if (!strchr(text, '.'))
		return;
	while (text[length - 1] == '0')
		length--;
	if (text[length - 1] == '.')
		length--;
	text[length] = '\0';
}

void number_format(double value, char out[32])
{
	char text[64] = "?";
	double size = fabs(value);
	int decimals_most = DIGITS_MOST - 1;
	double back;

	if (!(size < 999999999999999.5)) { /* not a number, too */
		memcpy(out, "?", 2);
		return;
	}
	for (double tens = 10; size >= tens && decimals_most > 0; tens *= 10)
		decimals_most--;
	for (int decimals = 0; decimals <= decimals_most; decimals++) {
		write_fixed(size, decimals, text);
		if (number_parse(text, strlen(text), &back) && back == size)
			break;
	}
	cut_zeros(text);
	bool minus = value < 0 && strcmp(text, "0") != 0;

	snprintf(out, 32, "%s%.30s", minus ? "-" : "", text);
}

const char *unit_words(const char *unit)
{
	static const char *const words[][2] = {
	        {"pa",    "Pa"    },
                {"kpa",   "kPa"   },
                {"mbar",  "mbar"  },
                {"bar",   "bar"   },
	        {"mm",    "mm"    },
                {"m",     "m"     },
                {"l",     "litres"},
                {"l_min", "l/min" },
	        {"l_s",   "l/s"   },
                {"c",     "C"     },
                {"years", "years" },
	};

	for (size_t i = 0; unit != NULL && i < sizeof(words) / sizeof(words[0]); i++)
		if (strcmp(unit, words[i][0]) == 0)
			return words[i][1];
	return unit == NULL ? "" : unit;
}
