/*
 * The message line, and what keys are called in it.
 */
#include "inside.h"

#include "tundish/base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static void say_args(struct walk *walk, const char *format, va_list args)
{
	size_t bad;

	vsnprintf(walk->message, sizeof(walk->message), format, args);
	/* never half a character at the end */
	if (!text_is_utf8(walk->message, strlen(walk->message), &bad))
		walk->message[bad] = '\0';
}

void say(struct walk *walk, const char *format, ...)
{
	va_list args;

	walk->trouble = false;
	va_start(args, format);
	say_args(walk, format, args);
	va_end(args);
}

void say_trouble(struct walk *walk, const char *format, ...)
{
	va_list args;

	walk->trouble = true;
	va_start(args, format);
	say_args(walk, format, args);
	va_end(args);
}

void walk_say(struct walk *walk, bool trouble, const char *message)
{
	if (trouble)
		say_trouble(walk, "%s", message);
	else
		say(walk, "%s", message);
}

const char *key_words(struct walk *walk, enum request request)
{
	const struct request_row *row = request_row(request);

	if (walk->options.lines)
		return arena_print(&walk->scratch, "\"%s\"", row->word);
	return arena_copy(&walk->scratch, row->keys, strcspn(row->keys, " "));
}
