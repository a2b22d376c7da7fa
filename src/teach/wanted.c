/* What the plan names in `with`: rows, kinds and types, by today's ids or earlier ones. */
#include "draw.h"

#include <string.h>

/** @return today's id of the kind or of a row of one; NULL: no kind has it. */
static const char *want_kind(struct drawing *drawing, const char *id)
{
	const struct rulebook *book = drawing->making.book;
	uint16_t named = rulebook_kind(book, id, strlen(id));
	const char *found = named == INDEX_NONE ? NULL : book->kind[named].id;

	if (found)
		drawing->kind[named] = true;
	for (size_t k = 0; k < book->kind_count; k++)
		for (size_t r = 0; r < book->kind[k].row_count; r++)
			if (row_is_called(&book->kind[k].row[r], id)) {
				drawing->kind[k] = true;
				found = book->kind[k].row[r].id;
			}
	return found;
}

static const char *row_of_type(const struct type *type, const char *id)
{
	for (size_t r = 0; r < type->row_count; r++)
		if (row_is_called(&type->row[r], id))
			return type->row[r].id;
	for (size_t s = 0; s < type->series_count; s++)
		if (row_is_called(&type->series[s].row, id))
			return type->series[s].row.id;
	return NULL;
}

static const char *want_type(struct drawing *drawing, const char *id)
{
	const struct rulebook *book = drawing->making.book;
	uint16_t named = rulebook_type(book, id, strlen(id));
	const char *found = named == INDEX_NONE ? NULL : book->type[named].id, *row;

	if (found)
		drawing->type[named] = true;
	for (size_t t = 0; t < book->type_count; t++)
		if ((row = row_of_type(&book->type[t], id)) != NULL) {
			drawing->type[t] = true;
			found = row;
		}
	return found;
}

static const char *want_urgency(const struct rulebook *book, const char *id)
{
	for (size_t u = 0; u < book->urgency_count; u++)
		if (row_is_called(&book->urgency[u].row, id))
			return book->urgency[u].row.id;
	return NULL;
}

bool find_wanted(struct drawing *drawing, struct err *err)
{
	const struct quiz_plan *plan = drawing->plan;

	drawing->with =
	        arena_take(drawing->making.arena, (plan->with_count + 1) * sizeof *drawing->with);
	if (!drawing->with) {
		err_set(err, ERR_MEMORY, "there is no memory for a quiz");
		return false;
	}
	for (size_t i = 0; i < plan->with_count; i++) {
		const char *of_kind = want_kind(drawing, plan->with[i]);
		const char *of_type = want_type(drawing, plan->with[i]);
		const char *how_soon = want_urgency(drawing->making.book, plan->with[i]);

		if (!of_kind && !of_type && !how_soon) {
			err_set(err, ERR_USAGE,
			        "`%.60s` is no row, kind or type of the rulebook: nothing can be "
			        "asked "
			        "about it",
			        plan->with[i]);
			return false;
		}
		drawing->how_soon = drawing->how_soon || how_soon;
		drawing->with[i] = of_kind ? of_kind : of_type ? of_type : how_soon;
	}
	return true;
}

bool teaches_wanted(const struct drawing *drawing, const struct task *task)
{
	for (size_t w = 0; w < drawing->plan->with_count; w++) {
		const char *id = drawing->with[w];

		if (task->topic && strcmp(task->topic, id) == 0)
			return true;
		for (size_t r = 0; r < task->reason_count; r++)
			if (strcmp(task->reason[r].id, id) == 0)
				return true;
	}
	return false;
}

static bool holds_wanted_type(const struct drawing *drawing, const struct item *item)
{
	if (item->scope == SCOPE_PROTECTION && item->of != INDEX_NONE && drawing->type[item->of])
		return true;
	for (size_t i = 0; i < item->child_count; i++)
		if (holds_wanted_type(drawing, item->child[i]))
			return true;
	return false;
}

bool spot_wanted(const struct drawing *drawing, const struct item *point)
{
	return drawing->kind[point->of] || holds_wanted_type(drawing, point);
}
