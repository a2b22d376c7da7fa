/**
 * @file
 * JSON with a line a value, or in one line where that reads better.
 */
#ifndef TUNDISH_SRC_PRINT_SCHEMA_JSON_H
#define TUNDISH_SRC_PRINT_SCHEMA_JSON_H

#include "tundish/base/sink.h"

struct json {
	struct sink *sink; /* borrowed */
	int depth;
	int line_from; /* from this depth on all in one line; 0: not now */
	bool some;     /* something stands before in the same brackets */
};

/** @p key is NULL within a list. */
void json_open(struct json *json, const char *key, char bracket);
/** The same, with all that is in it on one line. */
void json_open_line(struct json *json, const char *key, char bracket);
void json_close(struct json *json, char bracket);

void json_text(struct json *json, const char *key, const char *text);
void json_number(struct json *json, const char *key, double number);
/** JSON as it is. */
void json_raw(struct json *json, const char *key, const char *raw);

#endif
