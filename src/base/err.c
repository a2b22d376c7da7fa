#include "tundish/base/err.h"

#include "tundish/base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void err_set(struct err *err, enum err_kind kind, const char *format, ...)
{
	va_list values;

	if (!err || err->kind != ERR_NONE)
		return;
	err->kind = kind;
	va_start(values, format);
	if (vsnprintf(err->message, sizeof(err->message), format, values) < 0)
		err->message[0] = '\0';
	va_end(values);
	err->message[text_whole(err->message, strlen(err->message))] = '\0';
}
