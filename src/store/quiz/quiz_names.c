/* What a quiz file names, held against the rulebook and the survey. */
#include "quiz_inside.h"

#include "tundish/assess/weights.h"

#include <string.h>

struct names {
	const char **item;
	size_t count, room;
	struct arena *arena;
};

static void add(struct names *names, const char *id)
{
	const char **grown =
	        arena_grow(names->arena, names->item, names->count, &names->room, sizeof(*grown));

	if (!grown)
		return;
	names->item = grown;
	grown[names->count++] = id;
}

static void add_rows(struct names *names, const struct row *row, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		add(names, row[i].id);
		for (size_t w = 0; w < row[i].was_count; w++)
			add(names, row[i].was[w]);
	}
}

/* All that can be learned: kinds, types, and their rows. */
static void add_book(struct names *names, const struct rulebook *book)
{
	for (size_t i = 0; i < book->kind_count; i++) {
		const struct kind *kind = &book->kind[i];

		add(names, kind->id);
		for (size_t w = 0; w < kind->was_count; w++)
			add(names, kind->was[w]);
		add_rows(names, kind->row, kind->row_count);
	}
	for (size_t i = 0; i < book->type_count; i++) {
		const struct type *type = &book->type[i];

		add(names, type->id);
		for (size_t w = 0; w < type->was_count; w++)
			add(names, type->was[w]);
		add_rows(names, type->row, type->row_count);
		for (size_t s = 0; s < type->series_count; s++)
			add_rows(names, &type->series[s].row, 1);
	}
}

static void add_points(struct names *names, const struct survey *survey)
{
	const struct item *premises = survey->premises;

	for (size_t i = 0; i < premises->child_count; i++) {
		const struct item *room = premises->child[i];

		for (size_t p = 0; room->scope == SCOPE_ROOM && p < room->child_count; p++)
			if (room->child[p]->scope == SCOPE_POINT)
				add(names, room->child[p]->ref);
	}
}

static void add_sites(struct names *names, const struct weights *weights)
{
	for (size_t i = 0; weights && i < weights->site_count; i++)
		add(names, weights->site[i].id);
}

static bool is_there(const struct names *names, const char *word)
{
	for (size_t i = 0; i < names->count; i++)
		if (strcmp(names->item[i], word) == 0)
			return true;
	return false;
}

/* Hold each of @p word against all @p names. */
static void hold(const struct names *names, const char *const *word, const struct span *span,
                 size_t count, const char *what, const struct source *source, struct faults *faults)
{
	for (size_t i = 0; i < count; i++)
		if (!is_there(names, word[i]))
			fault_add(faults, SEVERITY_FAULT, source, span[i], "`%.60s` is no %s%s",
			          word[i], what,
			          node_meant(word[i], names->item, names->count, faults));
}

bool quiz_names(const struct quiz_file *file, const struct source *source,
                const struct rulebook *book, const struct survey *survey, struct faults *faults)
{
	const struct quiz_plan *plan = &file->plan;
	struct arena arena = {0};
	struct names taught = {.arena = &arena}, points = {.arena = &arena},
	             sites = {.arena = &arena};
	size_t before = faults->fatal;

	if (plan->with_count > 0)
		add_book(&taught, book);
	hold(&taught, plan->with, file->with_span, plan->with_count,
	     "row, kind or type of the rulebook", source, faults);
	if (survey)
		add_points(&points, survey);
	if (survey)
		hold(&points, plan->point, file->point_span, plan->point_count,
		     "point of the survey", source, faults);
	for (size_t i = 0; survey && i < plan->own_count; i++)
		if (plan->own_point[i])
			hold(&points, &plan->own_point[i], &file->own_point_span[i], 1,
			     "point of the survey", source, faults);
	if (file->premises) {
		add_sites(&sites, book->weights);
		hold(&sites, &file->premises, &file->premises_span, 1,
		     "site that the rulebook can invent", source, faults);
	}
	if (arena.failed)
		fault_add(faults, SEVERITY_FAULT, source, (struct span){0, 0},
		          "no memory for the quiz");
	arena_finish(&arena);
	return faults->fatal == before;
}
