#include "oracle_inside.h"

/* What stands in the way is worth, and what could come back, in one completion. */
/* -- what stands in the way ------------------------------------------------------------------ */

static void cap(uint8_t *figure, uint8_t by)
{
	*figure = lesser(*figure, by);
}

struct worth oracle_own_worth(struct oracle *o, const struct item *protection)
{
	const struct type *type;
	struct worth worth;

	if (protection->of == INDEX_NONE)
		return same_worth(
		        (uint8_t)(1 +
		                  oracle_get(o, UNKNOWN_WORTH, protection, QUESTION_NONE, 0)->now));
	type = &o->book->type[protection->of];
	for (int m = 0; m < MECHANISM_COUNT; m++) {
		for (int f = 0; f < FIGURE_COUNT; f++)
			worth.is[f][m] = type->good_for[m];
		for (size_t r = 0; r < type->row_count; r++) {
			const struct row *row = &type->row[r];

			if (!oracle_holds(o, row->when, protection))
				continue;
			for (int f = 0; f < FIGURE_COUNT; f++)
				cap(&worth.is[f][m], row->good_for[m]);
			cap(&worth.is[ACCEPTED][m], row->accepted[m]);
			cap(&worth.is[FOUND][m], row->found[m]);
			cap(&worth.is[PROVEN][m], row->found[m]);
			if (row->unproven)
				cap(&worth.is[PROVEN][m], CATEGORY_LEAST);
		}
	}
	return worth;
}

/* The series row that makes two neighbours one, or NULL. */
static const struct series *series_of(const struct oracle *o, const struct item *first,
                                      const struct item *second)
{
	const struct type *type;

	if (first->of == INDEX_NONE || second->of == INDEX_NONE)
		return NULL;
	type = &o->book->type[second->of];
	for (size_t s = 0; s < type->series_count; s++)
		if (type->series[s].with == first->of)
			return &type->series[s];
	return NULL;
}

/* The series row that a protection has with the one straight before it. Of three in a row the first
 * two are looked at together, then the third by itself. */
const struct series *oracle_paired(const struct oracle *o, const struct item *protection)
{
	const struct item *list = protection->parent, *before = NULL;

	for (size_t i = 0; i < list->child_count; i++) {
		const struct item *item = list->child[i];
		const struct series *series;

		if (item->scope != SCOPE_PROTECTION)
			continue;
		series = before ? series_of(o, before, item) : NULL;
		if (item == protection)
			return series;
		before = series ? NULL : item;
	}
	return NULL;
}

static void pass_one(struct worth *way, struct worth one)
{
	for (int f = 0; f < FIGURE_COUNT; f++)
		for (int m = 0; m < MECHANISM_COUNT; m++)
			way->is[f][m] = greater(way->is[f][m], one.is[f][m]);
}

static void pass_pair(struct oracle *o, struct worth *way, const struct item *first,
                      const struct item *second, const struct series *series)
{
	struct worth a = oracle_own_worth(o, first), b = oracle_own_worth(o, second);
	const struct type *as = &o->book->type[series->counts_as];

	if (!oracle_holds(o, series->row.when, second))
		return;
	for (int f = 0; f < FIGURE_COUNT; f++)
		for (int m = 0; m < MECHANISM_COUNT; m++)
			if (a.is[f][m] == o->book->type[first->of].good_for[m] &&
			    b.is[f][m] == o->book->type[second->of].good_for[m])
				way->is[f][m] = greater(way->is[f][m], as->good_for[m]);
}

/* Past all that stands on an inlet or a branch, in flow order. */
void oracle_pass_list(struct oracle *o, struct worth *way, const struct item *list)
{
	const struct item *before = NULL;

	for (size_t i = 0; i < list->child_count; i++) {
		const struct item *protection = list->child[i];

		if (protection->scope != SCOPE_PROTECTION)
			continue;
		pass_one(way, oracle_own_worth(o, protection));
		if (oracle_paired(o, protection))
			pass_pair(o, way, before, protection, oracle_paired(o, protection));
		before = protection;
	}
}

/* An inlet of which nothing, or not enough, is known: UNKNOWN_WORTH of this key. */
bool oracle_inlet_unknown(struct inlet inlet)
{
	return !inlet.item || inlet.item->nothing_said || inlet.item->cannot_tell;
}

struct unknown *oracle_inlet_worth(struct oracle *o, struct inlet inlet)
{
	return inlet.item ? oracle_find(o, UNKNOWN_WORTH, inlet.item, QUESTION_NONE, 0)
	                  : oracle_find(o, UNKNOWN_WORTH, inlet.point, QUESTION_NONE, inlet.index);
}

bool oracle_inlet_cannot_tell(struct inlet inlet)
{
	return inlet.item && inlet.item->cannot_tell;
}

void oracle_pass_inlet(struct oracle *o, struct worth *way, struct inlet inlet)
{
	const struct unknown *u;
	struct worth worth;

	if (!oracle_inlet_unknown(inlet)) {
		oracle_pass_list(o, way, inlet.item);
		return;
	}
	u = oracle_inlet_worth(o, inlet);
	assert(u);
	worth = same_worth((uint8_t)(1 + u->now));
	if (oracle_inlet_cannot_tell(inlet))
		for (int m = 0; m < MECHANISM_COUNT; m++)
			worth.is[ACCEPTED][m] = worth.is[PROVEN][m] = CATEGORY_LEAST;
	pass_one(way, worth);
}

/* -- needs ----------------------------------------------------------------------------------- */

/* The undertaker's decision: an answer with a reference and a date. */
const struct answer *oracle_decided(const struct oracle *o)
{
	const struct known_questions *known = &o->book->known;
	const struct answer *category;

	if (!item_answer(o->point, known->says_reference) ||
	    !item_answer(o->point, known->says_date))
		return NULL;
	category = item_answer(o->point, known->says_category);
	return category && !category->settled ? category : NULL;
}

static uint8_t mechanisms_of_kind(const struct kind *kind)
{
	uint8_t by = 0;

	for (size_t r = 0; r < kind->row_count; r++)
		if (kind->row[r].fluid != ROW_NONE && kind->row[r].category > CATEGORY_LEAST)
			by |= kind->row[r].by;
	return by ? by : (1 << BACK_PRESSURE | 1 << BACK_SIPHONAGE);
}

/* The rows that hold, less what they replace; a fluid's `otherwise` where none of its own holds. */
void oracle_rows_that_count(struct oracle *o, bool *counts)
{
	const struct kind *kind = o->kind;
	bool held[ROWS_MOST];

	assert(kind->row_count <= sizeof held);
	for (size_t r = 0; r < kind->row_count; r++)
		counts[r] = held[r] = oracle_holds(o, kind->row[r].when, o->point);
	for (size_t r = 0; r < kind->row_count; r++)
		if (held[r] && kind->row[r].replaces != ROW_NONE)
			counts[kind->row[r].replaces] = false;
	for (size_t r = 0; r < kind->row_count; r++) {
		if (!kind->row[r].otherwise)
			continue;
		for (size_t other = 0; other < kind->row_count; other++)
			if (held[other] && !kind->row[other].otherwise &&
			    kind->row[other].fluid == kind->row[r].fluid)
				counts[r] = false;
	}
}

size_t oracle_fluids(const struct oracle *o)
{
	return oracle_decided(o) ? 1 : o->kind->fluid_count;
}

static void need(struct needs *needs, unsigned fluid, uint8_t inlets, uint8_t by, uint8_t category)
{
	for (unsigned i = 0; i < INLETS_MOST; i++)
		for (unsigned m = 0; m < MECHANISM_COUNT; m++)
			if (inlets >> i & by >> m & 1)
				needs->of[fluid][i][m] = greater(needs->of[fluid][i][m], category);
}

struct needs oracle_needs(struct oracle *o)
{
	const struct kind *kind = o->kind;
	struct needs needs;
	bool counts[ROWS_MOST];

	memset(needs.of, CATEGORY_LEAST, sizeof needs.of);
	oracle_rows_that_count(o, counts);
	if (oracle_decided(o)) {
		uint8_t decided = (uint8_t)atoi(oracle_decided(o)->text);
		bool any = false;

		for (size_t r = 0; r < kind->row_count; r++) {
			if (!counts[r] || kind->row[r].fluid == ROW_NONE ||
			    kind->row[r].category == CATEGORY_LEAST)
				continue;
			need(&needs, 0, kind->row[r].inlets, kind->row[r].by, decided);
			any = any || (kind->row[r].inlets && kind->row[r].by);
		}
		if (!any)
			need(&needs, 0, (uint8_t)((1 << kind->inlet_count) - 1),
			     mechanisms_of_kind(kind), decided);
		return needs;
	}
	for (size_t r = 0; r < kind->row_count; r++)
		if (counts[r] && kind->row[r].fluid != ROW_NONE)
			need(&needs, (unsigned)kind->row[r].fluid, kind->row[r].inlets,
			     kind->row[r].by, kind->row[r].category);
	return needs;
}
