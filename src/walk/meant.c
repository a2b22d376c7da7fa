/*
 * What is typed as people say and write it, as the survey keeps it: "b" and on for before July
 * 1999, "today", and a date with its day first.
 */
#include "inside.h"

#include "tundish/base/date.h"
#include "tundish/base/text.h"

#include <string.h>

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* Whether a text is the start of a word; `_` may stand for a blank. */
static bool begins_word(const char *text, size_t length, const char *word)
{
	for (size_t i = 0; i < length; i++)
		if (word[i] == '\0' ||
		    (text_small(text[i]) != word[i] && !(text[i] == '_' && word[i] == ' ')))
			return false;
	return length > 0;
}

/* Numbers with `/` or `.` between them, as many as there are: 25/11/2026, 25.11.26, 11/2026.
 * @return how many, 0 where it is anything else; @p digits: of the last one. */
static size_t parted(const char *text, size_t length, int part[3], size_t *digits)
{
	size_t count = 0, i = 0;

	while (count < 3) {
		size_t from = i;

		part[count] = 0;
		while (i < length && is_digit(text[i]) && i - from < 4)
			part[count] = part[count] * 10 + (text[i++] - '0');
		*digits = i - from;
		if (*digits == 0)
			return 0;
		count++;
		if (i == length)
			return count;
		if ((text[i] != '/' && text[i] != '.') || *digits > 2)
			return 0;
		i++;
	}
	return 0;
}

/* Of two digits the latest year that is not ahead: what was fitted in 98 is no longer new. */
static int whole_year(int year, size_t digits, day on)
{
	int now, month, day_of_month;

	if (digits != 2)
		return year;
	date_parts(on, &now, &month, &day_of_month);
	year += now / 100 * 100;
	return year > now ? year - 100 : year;
}

/* As they are written in Britain: the day, the month, the year. What is no date stays as it is. */
static const char *day_first(const char *text, size_t length, day on, struct arena *arena)
{
	int part[3], year;
	size_t digits = 0, count = parted(text, length, part, &digits);
	const char *written;
	struct days days;

	if (count < 2 || (digits != 4 && (count == 2 || digits != 2)))
		return NULL;
	year = whole_year(part[count - 1], digits, on);
	written = count == 2 ? arena_print(arena, "%04d-%02d", year, part[0])
	                     : arena_print(arena, "%04d-%02d-%02d", year, part[1], part[0]);
	return written != NULL && date_parse(written, strlen(written), &days) ? written : NULL;
}

const char *meant(struct walk *walk, const struct question *question, const char *text)
{
	size_t length;
	const char *start = text + strspn(text, " "), *kept;
	char today[11];

	length = strlen(start);
	while (length > 0 && start[length - 1] == ' ')
		length--;
	if (question->form != FORM_DATE)
		return text;
	if (begins_word(start, length, "before july 1999"))
		return "before_july_1999";
	if (length == strlen("today") && begins_word(start, length, "today")) {
		date_format(walk->book->on, today);
		kept = arena_copy(&walk->scratch, today, strlen(today));
	} else {
		kept = day_first(start, length, walk->book->on, &walk->scratch);
	}
	return kept == NULL ? text : kept;
}
