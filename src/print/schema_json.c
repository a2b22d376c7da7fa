#include "schema_json.h"

#include "tundish/base/number.h"
#include "tundish/print/ndjson.h"

static void begin_line(struct json *json)
{
	if (json->depth == 0)
		return;
	sink_text(json->sink, "\n");
	for (int i = 0; i < json->depth; i++)
		sink_text(json->sink, " ");
}

static void begin(struct json *json, const char *key)
{
	if (json->some)
		sink_text(json->sink, json->line_from ? ", " : ",");
	if (!json->line_from)
		begin_line(json);
	if (key) {
		ndjson_string(json->sink, key);
		sink_text(json->sink, ": ");
	}
	json->some = true;
}

void json_open(struct json *json, const char *key, char bracket)
{
	begin(json, key);
	sink_bytes(json->sink, &bracket, 1);
	json->depth++;
	json->some = false;
}

void json_open_line(struct json *json, const char *key, char bracket)
{
	json_open(json, key, bracket);
	if (!json->line_from)
		json->line_from = json->depth;
}

void json_close(struct json *json, char bracket)
{
	json->depth--;
	if (!json->line_from && json->some) {
		sink_text(json->sink, "\n");
		for (int i = 0; i < json->depth; i++)
			sink_text(json->sink, " ");
	}
	if (json->depth < json->line_from)
		json->line_from = 0;
	sink_bytes(json->sink, &bracket, 1);
	json->some = true;
}

void json_text(struct json *json, const char *key, const char *text)
{
	begin(json, key);
	ndjson_string(json->sink, text);
}

void json_number(struct json *json, const char *key, double number)
{
	char text[32];

	begin(json, key);
	number_format(number, text);
	sink_text(json->sink, text);
}

void json_raw(struct json *json, const char *key, const char *raw)
{
	begin(json, key);
	sink_text(json->sink, raw);
}
