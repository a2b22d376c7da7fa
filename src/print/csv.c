#include "tundish/print/csv.h"

#include "tundish/base/text.h"

#include <string.h>

static const char header[] =
        "file,part,room,ref,kind,seen,on,rulebook,category_least,category_most,"
        "on_paper_least,on_paper_most,in_fact_least,in_fact_most,verdict,urgency,"
        "fluid,inlet,mechanism,to,needs_least,needs_most,type_good_for_least,type_good_for_most,"
        "accepted_least,accepted_most,as_found_least,as_found_most,because,ask_next\r\n";

void csv_header(struct sink *sink)
{
	sink_text(sink, header);
}

/* Spreadsheets skip blanks before they look for a formula. */
static bool looks_like_formula(const char *text)
{
	text += strspn(text, " ");
	return *text && strchr("=+-@\t\r", *text);
}

/* The inside of a quoted cell: each quote doubled, bytes that are not UTF-8 replaced. */
static void doubled(struct sink *sink, const char *text)
{
	size_t length = strlen(text), from = 0, bad_at = length;

	if (text_is_utf8(text, length, &bad_at))
		bad_at = length;
	for (size_t i = 0; i < bad_at; i++) {
		if (text[i] == '"') {
			sink_bytes(sink, text + from, i - from + 1);
			from = i;
		}
	}
	sink_bytes(sink, text + from, bad_at - from);
	if (bad_at < length) {
		sink_text(sink, "\xef\xbf\xbd");
		doubled(sink, text + bad_at + 1);
	}
}

void csv_text(struct sink *sink, const char *text)
{
	if (!text)
		return;
	bool formula = looks_like_formula(text);
	size_t length = strlen(text);
	if (!formula && !strpbrk(text, ",\"\r\n") && text_is_utf8(text, length, NULL)) {
		sink_bytes(sink, text, length);
		return;
	}
	sink_text(sink, formula ? "\"'" : "\"");
	doubled(sink, text);
	sink_text(sink, "\"");
}

static void text_cell(struct sink *sink, const char *text)
{
	csv_text(sink, text);
	sink_text(sink, ",");
}

static void range_cells(struct sink *sink, struct range range)
{
	char text[] = "0,0,";

	text[0] = (char)('0' + range.least % 10);
	text[2] = (char)('0' + range.most % 10);
	sink_bytes(sink, text, 4);
}

static void which_point(struct sink *sink, const struct assessed *assessed)
{
	const struct rulebook *book = assessed->survey->book;
	const struct item *point = assessed->assessment->point;
	const struct kind *kind = assessed_kind(assessed);
	char on[11];

	date_format(book->on, on);
	text_cell(sink, assessed->file);
	text_cell(sink, assessed_part(assessed));
	text_cell(sink, assessed_room(assessed));
	text_cell(sink, point->ref);
	text_cell(sink, kind ? kind->id : NULL);
	text_cell(sink, item_text(point, book->known.point_seen));
	text_cell(sink, on);
	sink_bytes(sink, book->digest, strnlen(book->digest, 8));
	sink_text(sink, ",");
}

static void worst_path(struct sink *sink, const struct assessed *assessed)
{
	const struct assessment *a = assessed->assessment;

	if (a->worst >= a->path_count) {
		sink_text(sink, ",,,,,,,,,,,,");
		return;
	}
	const struct path *path = &a->path[a->worst];
	text_cell(sink, assessed_fluid(assessed, path->fluid));
	text_cell(sink, assessed_inlet(assessed, path->inlet_index));
	text_cell(sink, mechanism_name(path->mechanism));
	text_cell(sink, path->to);
	range_cells(sink, path->needs);
	range_cells(sink, path->good_for);
	range_cells(sink, path->accepted);
	range_cells(sink, path->found);
}

void csv_point(struct sink *sink, const struct assessed *assessed)
{
	const struct assessment *a = assessed->assessment;

	which_point(sink, assessed);
	range_cells(sink, a->category);
	range_cells(sink, a->on_paper);
	range_cells(sink, a->in_fact);
	text_cell(sink, verdict_name(a->verdict));
	text_cell(sink, urgency_name(a->urgency));
	worst_path(sink, assessed);
	for (size_t i = 0; i < a->because_count; i++) {
		if (assessed_repeats(a, i))
			continue;
		sink_text(sink, i ? " " : "");
		sink_text(sink, a->because[i].row->id);
	}
	sink_text(sink, ",");
	for (size_t i = 0; i < a->ask_count; i++) {
		struct ask_name name = assessed_ask(assessed, &a->ask[i]);
		bool formula = i == 0 && looks_like_formula(name.word[0]);

		sink_text(sink, i ? " " : formula ? "'" : "");
		for (unsigned w = 0; w < name.count; w++) {
			sink_text(sink, w ? "/" : "");
			sink_text(sink, name.word[w]);
		}
	}
	sink_text(sink, "\r\n");
}
