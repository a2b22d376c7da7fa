#include "change_words.h"

#include "tundish/house/between.h"
#include "tundish/print/ndjson.h"

static const char *presence_words(const struct change *change)
{
	if (!change->before)
		return "put in";
	return change->after ? "put elsewhere in its list" : "taken out";
}

void change_line(struct page *page, int indent, const struct change *change)
{
	const char *line;

	if (change_of_presence(change))
		line = arena_print(page->scratch, "%s: %s", change->where, presence_words(change));
	else
		line = arena_print(page->scratch, "%s: %s, was %s", change->where,
		                   change->after ? change->after : "not answered",
		                   change->before ? change->before : "not answered");
	page_prose(page, "", indent, line);
}

void change_json(struct sink *sink, const struct change *change)
{
	sink_text(sink, "{\"where\": ");
	ndjson_string(sink, change->where);
	sink_text(sink, ", \"before\": ");
	ndjson_string(sink, change->before);
	sink_text(sink, ", \"after\": ");
	ndjson_string(sink, change->after);
	sink_text(sink, "}");
}
