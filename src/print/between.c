#include "tundish/print/between.h"

#include "change_words.h"
#include "tundish/print/assessed.h"
#include "tundish/print/csv.h"
#include "tundish/print/ndjson.h"

#include <string.h>

enum { INDENT = 13 };

/* -- names ------------------------------------------------------------------------------------- */

static const struct item *shown_item(const struct between_point *point)
{
	return point->after ? point->after : point->before;
}

static const struct kind *kind_of(const struct between *between, const struct item *item)
{
	return item->of == INDEX_NONE ? NULL : &between->after->book->kind[item->of];
}

static const char *room_name(const struct between *between, const struct item *item)
{
	const char *name = item_text(item->parent, between->after->book->known.room_name);

	return name && *name ? name : item->parent->ref;
}

/* -- for people -------------------------------------------------------------------------------- */

static const char *point_words(struct page *page, const struct between *between,
                               const struct item *item)
{
	const struct kind *kind = kind_of(between, item);
	const char *name = item_text(item, between->after->book->known.point_name);

	return arena_print(page->scratch, "%s, %s%s%s", room_name(between, item),
	                   kind ? kind->name : "not said what it is", name ? ", " : "",
	                   name ? name : "");
}

static const char *stand_words(struct page *page, const struct stand *stand)
{
	bool is_short = stand->on_paper.most > 0 || stand->in_fact.most > 0;
	char on_paper[8], in_fact[8];

	range_words(stand->on_paper, on_paper);
	range_words(stand->in_fact, in_fact);
	if (!is_short)
		return verdict_words(stand->verdict);
	return arena_print(page->scratch, "%s (%s on paper, %s in fact%s%s)",
	                   verdict_words(stand->verdict), on_paper, in_fact,
	                   stand->urgency == URGENCY_NONE ? "" : ", ",
	                   stand->urgency == URGENCY_NONE ? "" : urgency_words(stand->urgency));
}

static void stand_line(struct page *page, const struct between_point *point)
{
	const char *then = stand_words(page, &point->then), *now = stand_words(page, &point->now);
	const char *line = now;

	if (!point->after)
		line = arena_print(page->scratch, "was %s", then);
	else if (point->turn == TURN_WORSE || point->turn == TURN_BETTER)
		line = arena_print(page->scratch, "%s; was %s", now, then);
	page_prose(page, "", INDENT, line);
}

/* What a new point says is in the file; of one that is gone nothing is left to say. */
static void point_changes(struct page *page, const struct between *between,
                          const struct between_point *point)
{
	size_t i = point->first_change;

	if (point->turn == TURN_NEW || point->turn == TURN_GONE)
		return;
	if (i == between->change_count)
		page_prose(page, "", INDENT,
		           "Nothing was changed here: it comes from what was changed elsewhere.");
	for (; i < between->change_count; i = between->change[i].next_change)
		change_line(page, INDENT, &between->change[i].change);
}

static void point_lines(struct page *page, const struct between *between,
                        const struct between_point *point)
{
	const struct item *item = shown_item(point);

	page_prose(page, arena_print(page->scratch, "  %s", item->ref), INDENT,
	           point_words(page, between, item));
	stand_line(page, point);
	point_changes(page, between, point);
	arena_reset(page->scratch);
}

static void turn_lines(struct page *page, const struct between *between, enum turn turn)
{
	static const char *const heading[TURN_COUNT] = {[TURN_WORSE] = "Worse",
	                                                [TURN_NEW] = "New",
	                                                [TURN_BETTER] = "Better",
	                                                [TURN_GONE] = "Gone",
	                                                [TURN_CHANGED] =
	                                                        "Changed, and stands as before"};

	if (between->turn[turn] == 0)
		return;
	sink_print(page->sink, "\n%s\n", heading[turn]);
	for (size_t i = 0; i < between->point_count; i++) {
		if (between->point[i].turn == turn)
			point_lines(page, between, &between->point[i]);
	}
}

static void elsewhere_lines(struct page *page, const struct between *between)
{
	size_t i = between->first_elsewhere;

	if (i == between->change_count)
		return;
	sink_text(page->sink, "\nThe premises, parts, branches and rooms\n");
	for (; i < between->change_count; i = between->change[i].next_change) {
		change_line(page, INDENT, &between->change[i].change);
		arena_reset(page->scratch);
	}
}

void between_table(struct page *page, const struct between_shown *shown)
{
	const struct between *between = shown->between;
	const struct rulebook *book = between->after->book;
	const size_t *turn = between->turn;
	char on[11];

	page_prose(page, "Earlier", 9, shown->before);
	page_prose(page, "Later", 9, shown->after);
	for (enum turn t = 0; t < TURN_AS_BEFORE; t++)
		turn_lines(page, between, t);
	elsewhere_lines(page, between);
	sink_print(page->sink,
	           "\nPoints: %zu worse, %zu new, %zu better, %zu gone, %zu changed, %zu as "
	           "before\n",
	           turn[TURN_WORSE], turn[TURN_NEW], turn[TURN_BETTER], turn[TURN_GONE],
	           turn[TURN_CHANGED], turn[TURN_AS_BEFORE]);
	date_format(book->on, on);
	sink_print(page->sink, "Both judged by rulebook %.8s for %s.\n", book->digest, on);
	page_prose(page, NULL, 0, safety_caution);
}

/* -- CSV --------------------------------------------------------------------------------------- */

static void csv_stand(struct sink *sink, const struct item *item, const struct stand *stand)
{
	if (!item) {
		sink_text(sink, ",,,,,,");
		return;
	}
	sink_print(sink, ",%s,%s,%u,%u,%u,%u", verdict_name(stand->verdict),
	           urgency_name(stand->urgency), stand->on_paper.least, stand->on_paper.most,
	           stand->in_fact.least, stand->in_fact.most);
}

static size_t change_count(const struct between *between, size_t first)
{
	size_t count = 0;

	for (; first < between->change_count; first = between->change[first].next_change)
		count++;
	return count;
}

void between_csv(struct sink *sink, const struct between_shown *shown)
{
	const struct between *between = shown->between;

	sink_text(sink,
	          "turn,room,ref,kind,verdict_before,urgency_before,on_paper_least_before,"
	          "on_paper_most_before,in_fact_least_before,in_fact_most_before,verdict_after,"
	          "urgency_after,on_paper_least_after,on_paper_most_after,in_fact_least_after,"
	          "in_fact_most_after,changes\r\n");
	for (size_t i = 0; i < between->point_count; i++) {
		const struct between_point *point = &between->point[i];
		const struct item *item = shown_item(point);
		const struct kind *kind = kind_of(between, item);
		sink_print(sink, "%s,", turn_name(point->turn));
		csv_text(sink, room_name(between, item));
		sink_text(sink, ",");
		csv_text(sink, item->ref);
		sink_print(sink, ",%s", kind ? kind->id : "");
		csv_stand(sink, point->before, &point->then);
		csv_stand(sink, point->after, &point->now);
		sink_print(sink, ",%zu\r\n", change_count(between, point->first_change));
	}
}

/* -- JSON lines -------------------------------------------------------------------------------- */

static void json_stand(struct sink *sink, const char *key, const struct item *item,
                       const struct stand *stand)
{
	sink_print(sink, ", \"%s\": ", key);
	if (!item) {
		sink_text(sink, "null");
		return;
	}
	sink_print(sink,
	           "{\"verdict\": \"%s\", \"urgency\": \"%s\", \"category\": {\"least\": %u, "
	           "\"most\": %u}, \"on_paper\": {\"least\": %u, \"most\": %u}, \"in_fact\": "
	           "{\"least\": %u, \"most\": %u}}",
	           verdict_name(stand->verdict), urgency_name(stand->urgency),
	           stand->category.least, stand->category.most, stand->on_paper.least,
	           stand->on_paper.most, stand->in_fact.least, stand->in_fact.most);
}

static void json_changes(struct sink *sink, const struct between *between, size_t i)
{
	const char *separator = "";

	sink_text(sink, ", \"changes\": [");
	for (; i < between->change_count; i = between->change[i].next_change) {
		sink_text(sink, separator);
		change_json(sink, &between->change[i].change);
		separator = ", ";
	}
	sink_text(sink, "]}\n");
}

static void json_start(struct sink *sink, const struct between_shown *shown, const char *turn)
{
	const struct rulebook *book = shown->between->after->book;
	char on[11];

	date_format(book->on, on);
	sink_text(sink, "{\"earlier\": ");
	ndjson_string(sink, shown->before);
	sink_text(sink, ", \"later\": ");
	ndjson_string(sink, shown->after);
	sink_print(sink, ", \"on\": \"%s\", \"rulebook\": \"%.8s\", \"turn\": \"%s\"", on,
	           book->digest, turn);
}

static void json_point(struct sink *sink, const struct between_shown *shown,
                       const struct between_point *point)
{
	const struct item *item = shown_item(point);
	const struct kind *kind = kind_of(shown->between, item);

	json_start(sink, shown, turn_name(point->turn));
	sink_text(sink, ", \"room\": ");
	ndjson_string(sink, room_name(shown->between, item));
	sink_text(sink, ", \"ref\": ");
	ndjson_string(sink, item->ref);
	sink_text(sink, ", \"kind\": ");
	ndjson_string(sink, kind ? kind->id : NULL);
	json_stand(sink, "before", point->before, &point->then);
	json_stand(sink, "after", point->after, &point->now);
	json_changes(sink, shown->between, point->first_change);
}

void between_ndjson(struct sink *sink, const struct between_shown *shown)
{
	const struct between *between = shown->between;

	for (size_t i = 0; i < between->point_count; i++)
		json_point(sink, shown, &between->point[i]);
	if (between->first_elsewhere == between->change_count)
		return;
	json_start(sink, shown, "elsewhere");
	sink_text(sink, ", \"room\": null, \"ref\": null, \"kind\": null, \"before\": null, "
	                "\"after\": null");
	json_changes(sink, between, between->first_elsewhere);
}
