#include "make.h"

#include <string.h>

enum { LEAVES_MOST = 2048 };

bool bench_begin(struct bench *bench, struct making *making, const struct type *type)
{
	const struct rulebook *book = making->book;
	struct err err = {0};

	*bench = (struct bench){.book = book, .type = type};
	bench->subject = subject_of_type(book, type, &err);
	making->no_memory = making->no_memory || err.kind == ERR_MEMORY;
	if (!bench->subject)
		return false;
	for (size_t v = 0; v < bench->subject->variable_count; v++)
		bench->may[v] = question_all(&book->question[bench->subject->variable[v]]);
	return true;
}

void bench_end(struct bench *bench)
{
	subject_destroy(bench->subject);
	bench->subject = NULL;
}

bool bench_look(struct bench *bench, struct bench_sight *out)
{
	struct diagram_store *store = bench->subject->store;
	diagram leaf[LEAVES_MOST];
	struct narrowed narrowed = {.leaf = leaf, .leaf_room = LEAVES_MOST};

	*out = (struct bench_sight){0};
	if (!diagram_narrow(store, bench->subject->alone, bench->may, &narrowed) ||
	    narrowed.overflow)
		return false;
	for (size_t i = 0; i < narrowed.leaf_count; i++) {
		const unsigned char *figure = diagram_leaf_bytes(store, leaf[i]);
		unsigned score = 0;

		for (size_t f = 0; f < WORTH_FIGURES; f++)
			score += figure[f];
		if (score <= out->score)
			continue;
		out->score = score;
		memcpy(out->figure, figure, WORTH_FIGURES);
	}
	out->live = narrowed.live;
	return true;
}

static unsigned live_of_scope(const struct bench *bench, uint64_t live, enum scope scope)
{
	unsigned count = 0;

	for (size_t v = 0; v < bench->subject->variable_count; v++)
		count += ((live >> v) & 1) &&
		         bench->book->question[bench->subject->variable[v]].scope == scope;
	return count;
}

bool bench_best_cell(struct bench *bench, size_t variable, enum scope then, unsigned *cell)
{
	const struct question *question =
	        &bench->book->question[bench->subject->variable[variable]];
	cells before = bench->may[variable];
	unsigned best = 0, best_live = 0;
	bool found = false;

	for (unsigned c = 0; c < question->cell_count; c++) {
		struct bench_sight sight;
		struct stretch stretch;
		unsigned live;

		if (!((before >> c) & 1) || !cell_stretch(bench->book, question, c, &stretch))
			continue;
		bench->may[variable] = (cells)1 << c;
		if (!bench_look(bench, &sight))
			break;
		live = live_of_scope(bench, sight.live, then);
		if (found && (sight.score < best || (sight.score == best && live <= best_live)))
			continue;
		found = true;
		best = sight.score;
		best_live = live;
		*cell = c;
	}
	bench->may[variable] = before;
	return found;
}

bool bench_row_holds(const struct bench *bench, size_t row)
{
	diagram leaf[2] = {0, 0};
	struct narrowed narrowed = {.leaf = leaf, .leaf_room = 2};

	return diagram_narrow(bench->subject->store, bench->subject->row[row], bench->may,
	                      &narrowed) &&
	       narrowed.leaf_count == 1 && leaf[0] == diagram_truth(true);
}
