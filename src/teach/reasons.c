/* Why the right answer is right: rows of the rulebook that decided. */
#include "make.h"

#include <string.h>

static void add(struct making *making, struct reason reason)
{
	for (size_t i = 0; i < making->reason_count; i++)
		if (strcmp(making->reason[i].id, reason.id) == 0)
			return;
	if (making->reason_count < REASONS_MOST)
		making->reason[making->reason_count++] = reason;
}

void making_reason(struct making *making, const struct row *row)
{
	add(making, (struct reason){row->says, row->source_text, row->standing, row->id});
}

static const char *category_words(struct making *making, const struct type *type,
                                  enum mechanism mechanism)
{
	unsigned category = type->good_for[mechanism];

	if (category == CATEGORY_LEAST)
		return arena_print(making->arena, "not good against %s",
		                   mechanism_words(mechanism));
	return arena_print(making->arena, "good for fluid category %u against %s", category,
	                   mechanism_words(mechanism));
}

static const char *table_words(struct making *making, const struct type *type)
{
	unsigned pressure = type->good_for[BACK_PRESSURE],
	         siphonage = type->good_for[BACK_SIPHONAGE];
	const char *one, *other;

	if (pressure == siphonage && pressure == CATEGORY_LEAST)
		return arena_print(making->arena, "%s: good for no fluid category.", type->name);
	if (pressure == siphonage)
		return arena_print(making->arena,
		                   "%s: good for fluid category %u by both mechanisms.", type->name,
		                   pressure);
	one = category_words(making, type, BACK_PRESSURE);
	other = category_words(making, type, BACK_SIPHONAGE);
	if (!one || !other)
		return NULL;
	return arena_print(making->arena, "%s: %s, %s.", type->name, other, one);
}

void making_reason_table(struct making *making, const struct type *type)
{
	const char *says = table_words(making, type);

	if (says && type->source_text)
		add(making, (struct reason){says, type->source_text, type->standing, type->id});
}

/* -- of a fluid ------------------------------------------------------------------------- */

static bool row_of_kind(const struct kind *kind, const struct row *row)
{
	for (size_t r = 0; r < kind->row_count; r++)
		if (&kind->row[r] == row)
			return true;
	return false;
}

static void rows_of_fluid(struct making *making, const struct assessment *of, unsigned fluid,
                          bool only_coming, bool certain)
{
	const struct kind *kind = &making->book->kind[of->point->of];

	for (size_t i = 0; i < of->because_count; i++) {
		const struct because *because = &of->because[i];
		const struct row *row = because->row;

		if (because->certain == certain && !because->protection && row_of_kind(kind, row) &&
		    row->fluid == (int)fluid && (!only_coming || row->category > CATEGORY_LEAST))
			making_reason(making, row);
	}
}

void reasons_of_fluid(struct making *making, const struct assessment *of, unsigned fluid,
                      bool only_coming)
{
	rows_of_fluid(making, of, fluid, only_coming, true);
	rows_of_fluid(making, of, fluid, only_coming, false);
}

/* -- of a shortfall --------------------------------------------------------------------- */

static bool lowers(const struct row *row, bool on_paper)
{
	for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
		unsigned cap = on_paper ? row->accepted[m] : row->found[m];

		if (cap < CATEGORY_MOST || row->good_for[m] < CATEGORY_MOST)
			return true;
	}
	return false;
}

static bool row_of_series(const struct type *type, const struct row *row)
{
	for (size_t s = 0; s < type->series_count; s++)
		if (&type->series[s].row == row)
			return true;
	return false;
}

/* Whose row it is has to be said: it may stand on a branch far from the point. */
static void row_of_protection(struct making *making, const struct because *because)
{
	const struct row *row = because->row;
	const char *says =
	        arena_print(making->arena, "%s: %s", because->protection->ref, row->says);

	if (says)
		add(making, (struct reason){says, row->source_text, row->standing, row->id});
}

/** @p enough: then what lowers something on the way does not decide */
static void rows_of_protections(struct making *making, const struct assessment *of, bool on_paper,
                                bool certain, bool enough)
{
	for (size_t i = 0; i < of->because_count; i++) {
		const struct because *because = &of->because[i];
		const struct item *protection = because->protection;

		if (!protection || because->certain != certain)
			continue;
		if (row_of_series(&making->book->type[protection->of], because->row) ||
		    (!enough && lowers(because->row, on_paper)))
			row_of_protection(making, because);
	}
}

static void tables_of(struct making *making, const struct item *list)
{
	const struct item *protection;

	for (size_t i = 0; list && (protection = item_child(list, SCOPE_PROTECTION, i)); i++)
		if (protection->of != INDEX_NONE)
			making_reason_table(making, &making->book->type[protection->of]);
}

/** What an answer says feeds a thing, if it names one branch; NULL: nothing, several, the main or a point. */
static const struct item *branch_named(const struct making *making, const struct item *item,
                                       question_index question)
{
	const struct answer *answer =
	        question == QUESTION_NONE ? NULL : item_answer(item, question);
	const struct item *named;

	if (!answer || answer->settled)
		return NULL;
	named = survey_find(making->survey, answer->text, strlen(answer->text));
	return named && named->scope == SCOPE_BRANCH ? named : NULL;
}

enum { BRANCHES_MOST = 64 }; /* one above the other */

static void tables_on_way(struct making *making, const struct item *inlet)
{
	const struct known_questions *known = &making->book->known;
	const struct item *branch;

	tables_of(making, inlet);
	branch = branch_named(making, inlet, known->inlet_fed_by);
	for (size_t i = 0; branch && i < BRANCHES_MOST; i++) {
		tables_of(making, branch);
		branch = branch_named(making, branch, known->branch_from);
	}
}

void reasons_of_shortfall(struct making *making, const struct assessment *of, bool on_paper)
{
	const struct path *worst = of->worst < of->path_count ? &of->path[of->worst] : NULL;
	bool enough = (on_paper ? of->on_paper.most : of->in_fact.most) == 0;

	if (worst) {
		reasons_of_fluid(making, of, worst->fluid, true);
		if (worst->inlet)
			tables_on_way(making, worst->inlet);
	}
	rows_of_protections(making, of, on_paper, true, enough);
	rows_of_protections(making, of, on_paper, false, enough);
	if (making->reason_count > 0)
		return;
	for (unsigned f = 0; f < FLUIDS_MOST; f++)
		reasons_of_fluid(making, of, f, false);
}

/* -- how soon --------------------------------------------------------------------------- */

static bool row_of_urgency(const struct rulebook *book, const struct row *row)
{
	for (size_t u = 0; u < book->urgency_count; u++)
		if (&book->urgency[u].row == row)
			return true;
	return false;
}

static bool moves_urgency(const struct making *making, const struct because *because)
{
	const struct row *row = because->row;

	if (because->protection)
		return row->due || row->unproven || row->urgency > URGENCY_NONE;
	return row_of_urgency(making->book, row) || row->opens || row->urgency > URGENCY_NONE;
}

static void row_as_it_is_said(struct making *making, const struct because *because)
{
	if (because->protection)
		row_of_protection(making, because);
	else
		making_reason(making, because->row);
}

static void rows_of_urgency(struct making *making, const struct assessment *of, bool table)
{
	for (size_t i = 0; i < of->because_count; i++)
		if (row_of_urgency(making->book, of->because[i].row) == table &&
		    moves_urgency(making, &of->because[i]))
			row_as_it_is_said(making, &of->because[i]);
}

void reasons_of_urgency(struct making *making, const struct assessment *of)
{
	rows_of_urgency(making, of, true);
	rows_of_urgency(making, of, false);
	if (making->reason_count == 0) {
		reasons_of_shortfall(making, of, false);
		reasons_of_shortfall(making, of, true);
	}
}
