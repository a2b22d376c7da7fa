/*
 * What would do: from a category to the types, and from a type to the kinds. By figures alone: which
 * row of a type takes something away hangs on answers that nobody has given here.
 */
#include "rules_text.h"

#include <string.h>

enum {
	BOTH = 1u << BACK_PRESSURE | 1u << BACK_SIPHONAGE,
	SERIES_INDENT = 16,
};

/* -- from a category to the types -------------------------------------------------------------- */

/* What a list is of: good for at least a category by these mechanisms, and not by those. */
struct wanted {
	uint8_t category;
	unsigned by, not_by; /* 1 << enum mechanism */
};

static bool does(const struct type *type, const struct wanted *wanted)
{
	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		bool enough = type->good_for[m] >= wanted->category;

		if ((wanted->by >> m & 1 && !enough) || (wanted->not_by >> m & 1 && enough))
			return false;
	}
	return true;
}

static void series_line(struct page *page, const struct rulebook *book, const struct type *type,
                        const struct series *series)
{
	const struct row *row = &series->row;
	const char *when = row->when ? rules_condition(book, row->when, page->scratch) : NULL;

	sink_text(page->sink, "\n");
	page_prose(page, arena_print(page->scratch, "  %s", row->id), SERIES_INDENT,
	           arena_print(page->scratch, "%s straight after %s counts as %s%s%s", type->id,
	                       series->with_id, series->counts_as_id, when ? ", when " : "",
	                       when ? when : ""));
	rules_field(page, "      because", row->says);
	rules_source(page, row->source_text, row->standing);
}

/* A pair of which one alone would do is no news. */
static size_t pairs(struct page *page, const struct rulebook *book, const struct wanted *wanted)
{
	size_t count = 0;

	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];

		for (size_t i = 0; i < type->series_count; i++) {
			const struct series *series = &type->series[i];

			if (!does(&book->type[series->counts_as], wanted) || does(type, wanted) ||
			    does(&book->type[series->with], wanted))
				continue;
			series_line(page, book, type, series);
			count++;
		}
	}
	return count;
}

static void would_do(struct page *page, const struct rulebook *book, const struct wanted *wanted)
{
	size_t count = 0;

	for (size_t t = 0; t < book->type_count; t++) {
		if (!does(&book->type[t], wanted))
			continue;
		rules_type_short(page, &book->type[t]);
		count++;
	}
	if (count + pairs(page, book, wanted) == 0)
		sink_text(page->sink, "\n  none\n");
}

static void caution(struct page *page)
{
	sink_text(page->sink, "\n");
	page_prose(page, NULL, 0,
	           "By the figures of each type. Its limits of use count too, and what is seen on "
	           "the wall: `tundish rules NAME` shows the rows that take something away.");
}

void rules_for(struct page *page, const struct rulebook *book, uint8_t category,
               enum mechanism mechanism)
{
	struct wanted wanted = {category, 1u << mechanism, 0};

	page_prose(page,
	           arena_print(page->scratch, "Good for at least fluid category %u against %s",
	                       category, mechanism_words(mechanism)),
	           0, NULL);
	would_do(page, book, &wanted);
	caution(page);
}

void rules_for_any(struct page *page, const struct rulebook *book, uint8_t category)
{
	static const struct {
		const char *words;
		unsigned by;
	} list[] = {
	        {"against back pressure and back siphonage", BOTH                },
	        {"against back pressure only",               1u << BACK_PRESSURE },
	        {"against back siphonage only",              1u << BACK_SIPHONAGE},
	};

	for (size_t i = 0; i < sizeof(list) / sizeof(list[0]); i++) {
		struct wanted wanted = {category, list[i].by, BOTH & ~list[i].by};

		if (i)
			sink_text(page->sink, "\n");
		page_prose(page,
		           arena_print(page->scratch, "Good for at least fluid category %u %s",
		                       category, list[i].words),
		           0, NULL);
		would_do(page, book, &wanted);
	}
	caution(page);
}

/* -- from a type to the kinds ------------------------------------------------------------------ */

static bool is_enough(const struct type *type, const struct row *row)
{
	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		if (row->by >> m & 1 && type->good_for[m] < row->category)
			return false;
	}
	return true;
}

/* How far a type does for a kind: rows that give something to protect against, and those of them
 * that it is good for. */
static void count_rows(const struct kind *kind, const struct type *type, size_t *needing,
                       size_t *served)
{
	*needing = *served = 0;
	for (size_t i = 0; i < kind->row_count; i++) {
		const struct row *row = &kind->row[i];

		if (row->fluid == ROW_NONE || row->category <= CATEGORY_LEAST)
			continue;
		++*needing;
		*served += is_enough(type, row);
	}
}

static const char *listed(struct arena *scratch, const char *list, const char *id)
{
	return arena_print(scratch, "%s%s%s", list ? list : "", list ? ", " : "", id);
}

void rules_serves(struct page *page, const struct rulebook *book, const struct type *type)
{
	const char *whole = NULL, *some = NULL;

	for (size_t k = 0; k < book->kind_count; k++) {
		const struct kind *kind = &book->kind[k];
		size_t needing, served;

		count_rows(kind, type, &needing, &served);
		if (served && served == needing)
			whole = listed(page->scratch, whole, kind->id);
		else if (served)
			some = listed(page->scratch, some, kind->id);
	}
	rules_heading(
	        page,
	        "What it may serve by its figures: every row of a kind (always) or some of them");
	rules_field(page, "      always", whole ? whole : "no kind");
	rules_field(page, "      at times", some ? some : "no kind");
}
