#include "tundish/print/story.h"

#include "change_words.h"
#include "tundish/print/csv.h"
#include "tundish/print/ndjson.h"

enum { INDENT = 5 };

/* -- for people -------------------------------------------------------------------------------- */

static void tell(struct page *page, const struct amendment *amendment, size_t number)
{
	const char *lead = arena_print(page->scratch, "%3zu", number);

	page_prose(page, lead, INDENT,
	           arena_print(page->scratch, "%s, %s: %s", amendment->at, amendment->who,
	                       amendment->why));
	if (amendment->adopted)
		page_prose(page, "", INDENT, "took over what was changed outside tundish");
	for (size_t i = 0; i < amendment->change_count; i++)
		change_line(page, INDENT + 2, &amendment->change[i]);
	arena_reset(page->scratch);
}

void story_table(struct page *page, const struct story *story)
{
	page_prose(page, story->file, 0, NULL);
	for (size_t i = 0; i < story->count; i++)
		tell(page, &story->amendment[i], i + 1);
	if (story->broken)
		page_prose(page, "", INDENT,
		           "Here the chain breaks: what follows can't be relied on. `tundish "
		           "faults --chain` says where.");
	else if (story->outside)
		page_prose(page, "", INDENT,
		           "Then it was changed outside tundish, and no amendment says so. "
		           "`tundish faults --chain` says where.");
	else if (story->count == 0)
		page_prose(page, "", INDENT, "Not signed off: there are no amendments.");
	else
		sink_print(page->sink, "Head %s\n", story->amendment[story->count - 1].head);
}

/* -- CSV --------------------------------------------------------------------------------------- */

static void record(struct sink *sink, const struct amendment *amendment, size_t number,
                   const struct change *change)
{
	const char *cell[] = {amendment->at,
	                      amendment->who,
	                      amendment->why,
	                      amendment->adopted ? "yes" : "no",
	                      change ? change->where : NULL,
	                      change ? change->before : NULL,
	                      change ? change->after : NULL};

	sink_print(sink, "%zu", number);
	for (size_t i = 0; i < sizeof(cell) / sizeof(cell[0]); i++) {
		sink_text(sink, ",");
		csv_text(sink, cell[i]);
	}
	sink_text(sink, "\r\n");
}

void story_csv(struct sink *sink, const struct story *story)
{
	sink_text(sink, "sequence,at,who,why,adopted,where,before,after\r\n");
	for (size_t i = 0; i < story->count; i++) {
		const struct amendment *amendment = &story->amendment[i];
		if (amendment->change_count == 0)
			record(sink, amendment, i + 1, NULL);
		for (size_t c = 0; c < amendment->change_count; c++)
			record(sink, amendment, i + 1, &amendment->change[c]);
	}
}

/* -- JSON lines -------------------------------------------------------------------------------- */

void story_ndjson(struct sink *sink, const struct story *story)
{
	for (size_t i = 0; i < story->count; i++) {
		const struct amendment *amendment = &story->amendment[i];
		sink_text(sink, "{\"file\": ");
		ndjson_string(sink, story->file);
		sink_print(sink, ", \"sequence\": %zu, \"at\": ", i + 1);
		ndjson_string(sink, amendment->at);
		sink_text(sink, ", \"who\": ");
		ndjson_string(sink, amendment->who);
		sink_text(sink, ", \"why\": ");
		ndjson_string(sink, amendment->why);
		sink_print(sink, ", \"adopted\": %s, \"changes\": [",
		           amendment->adopted ? "true" : "false");
		for (size_t c = 0; c < amendment->change_count; c++) {
			sink_text(sink, c > 0 ? ", " : "");
			change_json(sink, &amendment->change[c]);
		}
		sink_text(sink, "], \"head\": ");
		ndjson_string(sink, amendment->head);
		sink_text(sink, "}\n");
	}
}
