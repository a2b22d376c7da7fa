/*
 * The rulebook's rows seen from their sources: what is of one standing, and how much of each there
 * is.
 */
#include "rules_text.h"

#include <stdlib.h>
#include <string.h>

enum {
	ROW_INDENT = 34,
	COUNT_COLUMNS = 22,
};

/* A row or a type: what says something of the trade and names where it has that from. */
struct listed {
	const char *id, *source, *says;
	const char *of,
	        *of_id; /* "kind" and its id; NULL for a type itself and the urgency table */
	enum standing standing;
	size_t order; /* as in the book */
};

struct list {
	struct arena *arena;
	struct listed *item;
	size_t count, room;
};

/* -- everything that has a source -------------------------------------------------------------- */

static bool is_of_same_text(const struct listed *a, const struct row *row, const char *of_id)
{
	return a->of_id == of_id && strcmp(a->id, row->id) == 0;
}

/* One row of the text may be several here, one after the other. */
static void list_row(struct list *list, const struct row *row, const char *of, const char *of_id)
{
	if (list->count && is_of_same_text(&list->item[list->count - 1], row, of_id))
		return;
	struct listed *grown =
	        arena_grow(list->arena, list->item, list->count, &list->room, sizeof(*grown));
	if (!grown)
		return;
	list->item = grown;
	list->item[list->count] =
	        (struct listed){.id = row->id,
	                        .source = row->source_text ? row->source_text : "no source",
	                        .says = row->says ? row->says : "",
	                        .of = of,
	                        .of_id = of_id,
	                        .standing = row->standing,
	                        .order = list->count};
	list->count++;
}

static void list_type(struct list *list, const struct type *type)
{
	struct row own = {.id = type->id,
	                  .source_text = type->source_text,
	                  .standing = type->standing,
	                  .says = arena_print(list->arena, "%s: good for %s", type->name,
	                                      rules_figures(type->good_for, list->arena))};

	list_row(list, &own, "type", NULL);
}

static void list_rows(struct list *list, const struct rulebook *book)
{
	for (size_t k = 0; k < book->kind_count; k++) {
		for (size_t i = 0; i < book->kind[k].row_count; i++)
			list_row(list, &book->kind[k].row[i], "kind", book->kind[k].id);
	}
	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];

		for (size_t i = 0; i < type->row_count; i++)
			list_row(list, &type->row[i], "type", type->id);
		for (size_t i = 0; i < type->series_count; i++)
			list_row(list, &type->series[i].row, "type", type->id);
	}
	for (size_t i = 0; i < book->urgency_count; i++)
		list_row(list, &book->urgency[i].row, "urgency", NULL);
}

/* -- one standing, by source ------------------------------------------------------------------- */

static int by_source(const void *a, const void *b)
{
	const struct listed *left = a, *right = b;
	int order = strcmp(left->source, right->source);

	if (order != 0)
		return order;
	return left->order < right->order ? -1 : left->order > right->order;
}

static void listed_line(struct page *page, const struct listed *item)
{
	const char *of = item->of_id ? item->of_id : "";

	page_prose(
	        page, arena_print(page->scratch, "  %s", item->id), ROW_INDENT,
	        arena_print(page->scratch, "%s%s%s: %s", item->of, *of ? " " : "", of, item->says));
}

void rules_standing(struct page *page, const struct rulebook *book, enum standing standing)
{
	struct list list = {.arena = page->scratch};
	const char *source = NULL;
	size_t count = 0;

	for (size_t t = 0; t < book->type_count; t++)
		list_type(&list, &book->type[t]);
	list_rows(&list, book);
	for (size_t i = 0; i < list.count; i++)
		count += list.item[i].standing == standing;
	if (list.count)
		qsort(list.item, list.count, sizeof(*list.item), by_source);
	page_prose(page,
	           arena_print(page->scratch, "Of standing %s, by source: %zu",
	                       standing_words(standing), count),
	           0, NULL);
	for (size_t i = 0; i < list.count; i++) {
		const struct listed *item = &list.item[i];

		if (item->standing != standing)
			continue;
		if (!source || strcmp(source, item->source) != 0) {
			sink_text(page->sink, "\n");
			page_prose(page, NULL, 0, item->source);
		}
		source = item->source;
		listed_line(page, item);
	}
}

/* -- how much there is ------------------------------------------------------------------------- */

static void count_line(struct page *page, const char *what, size_t count, const char *more)
{
	page_prose(page, arena_print(page->scratch, "%s", what), COUNT_COLUMNS,
	           arena_print(page->scratch, "%zu%s", count, more ? more : ""));
}

/* `: 3 published, 2 common practice, 1 memory`. */
static const char *by_standing(const struct list *list, struct arena *scratch)
{
	size_t count[STANDING_COUNT] = {0};
	const char *text = "";

	for (size_t i = 0; i < list->count; i++)
		count[list->item[i].standing]++;
	for (enum standing s = 0; text && s < STANDING_COUNT; s++)
		text = arena_print(scratch, "%s%s %zu %s", text, s ? "," : ":", count[s],
		                   standing_name(s));
	return text;
}

void rules_counts(struct page *page, const struct rulebook *book)
{
	struct list types = {.arena = page->scratch}, rows = {.arena = page->scratch};

	for (size_t t = 0; t < book->type_count; t++)
		list_type(&types, &book->type[t]);
	list_rows(&rows, book);
	count_line(page, "kinds", book->kind_count, NULL);
	count_line(page, "types", types.count, by_standing(&types, page->scratch));
	count_line(page, "questions", book->question_count, NULL);
	count_line(page, "rows", rows.count, by_standing(&rows, page->scratch));
}
