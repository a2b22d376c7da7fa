/* The rows that say why. */
#include "work.h"

#include <string.h>

void work_add_because(struct work *work, const struct row *row, const struct item *protection,
                      enum holds holds)
{
	struct assessment *out = work->out;
	struct because *grown;

	for (size_t i = 0; i < out->because_count; i++)
		if (out->because[i].row == row && out->because[i].protection == protection)
			return;
	grown = arena_grow(work->arena, out->because, out->because_count, &work->because_room,
	                   sizeof *grown);
	if (!grown) {
		work->no_memory = true;
		return;
	}
	out->because = grown;
	grown[out->because_count++] = (struct because){row, protection, holds == HOLDS_ALWAYS};
}

static const struct fluid_verdict *fluid_of(const struct work *work, int fluid)
{
	for (size_t i = 0; i < work->out->fluid_count; i++)
		if (fluid >= 0 && work->out->fluid[i].fluid == (unsigned)fluid)
			return &work->out->fluid[i];
	return NULL;
}

/** Whether one row by itself makes sure that the fluid is of its category. */
static bool given_for_certain(const struct work *work, const struct fluid_verdict *fluid)
{
	const struct reading *reading = work->kind_reading;

	for (size_t r = 0; r < work->kind->row_count; r++) {
		const struct row *row = &work->kind->row[r];

		if (row->fluid == (int)fluid->fluid && row->category >= fluid->category.least &&
		    reading_holds(reading, reading->subject->row[r]) == HOLDS_ALWAYS)
			return true;
	}
	return false;
}

/** Certain rows give the least, as long as none above them is certain; others count where they
 * could give more, or where it is one of them, whichever it is. */
static bool worth_saying(const struct work *work, const struct row *row, enum holds holds)
{
	const struct fluid_verdict *fluid = fluid_of(work, row->fluid);

	if (holds == HOLDS_NEVER)
		return false;
	if (row->fluid == ROW_NONE || row->opens || row->urgency > URGENCY_NONE)
		return true;
	if (!fluid)
		return false; /* the undertaker decided: the rows did not */
	if (holds == HOLDS_ALWAYS)
		return row->category >= fluid->category.least;
	return row->category > fluid->category.least ||
	       (row->category == fluid->category.most && !given_for_certain(work, fluid));
}

/** Before finish_figures: counted one up. */
static unsigned shortfall_of(const struct path *path)
{
	return (unsigned)(path->on_paper.most > path->in_fact.most ? path->on_paper.most
	                                                           : path->in_fact.most) -
	       1;
}

/**
 * The ways that lead to what is, or could be, short; where nothing is, all that something could come
 * by; where nothing comes, all there are.
 */
static uint32_t ways_that_decide(const struct work *work)
{
	uint32_t is_short = 0, counts = 0;

	for (size_t i = 0; i < work->slot_count; i++) {
		uint32_t classes = work->destination[work->slot[i].destination].classes;

		counts |= classes;
		if (shortfall_of(&work->out->path[work->slot[i].path]) > 0)
			is_short |= classes;
	}
	return is_short ? is_short : counts ? counts : UINT32_MAX;
}

static void say_why_of_device(struct work *work, const struct device *device)
{
	const struct type *type = &work->book->type[device->item->of];

	for (size_t r = 0; r < device->reading.subject->row_count; r++) {
		const struct row *row = r < type->row_count
		                                ? &type->row[r]
		                                : &type->series[r - type->row_count].row;
		enum holds holds = reading_holds(&device->reading, device->reading.subject->row[r]);

		if (holds != HOLDS_NEVER && (r < type->row_count || device->pairs))
			work_add_because(work, row, device->item, holds);
	}
}

void work_say_why_of_devices(struct work *work)
{
	uint32_t decide = ways_that_decide(work);

	for (size_t d = 0; d < work->device_count; d++)
		if (work->device[d].form == DEVICE_READ && (work->device[d].classes & decide))
			say_why_of_device(work, &work->device[d]);
}

/** First what is said of the fluid on the worst path, then the rest. */
static void say_rows_of_kind(struct work *work, bool of_worst)
{
	const struct assessment *out = work->out;
	const struct reading *reading = work->kind_reading;

	for (size_t r = 0; r < work->kind->row_count; r++) {
		const struct row *row = &work->kind->row[r];
		bool worst = out->worst < out->path_count && row->fluid != ROW_NONE &&
		             out->path[out->worst].fluid == (unsigned)row->fluid;
		enum holds holds;

		if (worst != of_worst)
			continue;
		holds = reading_holds(reading, reading->subject->row[r]);
		if (worth_saying(work, row, holds))
			work_add_because(work, row, NULL, holds);
	}
}

/** The kind's rows come first, though its devices were read before. */
void work_say_why_of_kind(struct work *work)
{
	struct because *devices = work->out->because;
	size_t count = work->out->because_count;

	work->out->because = NULL;
	work->out->because_count = work->because_room = 0;
	say_rows_of_kind(work, true);
	say_rows_of_kind(work, false);
	for (size_t i = 0; i < count; i++)
		work_add_because(work, devices[i].row, devices[i].protection,
		                 devices[i].certain ? HOLDS_ALWAYS : HOLDS_MAYBE);
}
