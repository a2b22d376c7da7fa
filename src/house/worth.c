/*
 * What protections are worth. Worths are folded into sets of distinct states, one figure a way, so that devices that make no
 * difference cost nothing.
 */
#include "work.h"

#include "figures.h"

#include <string.h>

enum { WORTHS_MOST = 256 };

struct worths {
	struct worth item[WORTHS_MOST];
	size_t count;
};

static void add_worth(struct work *work, struct worths *worths, struct worth worth)
{
	for (size_t i = 0; i < worths->count; i++) {
		const struct worth *had = &worths->item[i];

		if (had->figures == worth.figures && had->series == worth.series)
			return;
	}
	if (worths->count == WORTHS_MOST)
		work->too_much = true;
	else
		worths->item[worths->count++] = worth;
}

static void worths_of_reading(struct work *work, const struct reading *reading,
                              struct worths *worths)
{
	for (size_t i = 0; i < reading->leaf_count; i++) {
		const unsigned char *leaf =
		        diagram_leaf_bytes(reading->subject->store, reading->leaf[i]);

		add_worth(work, worths, (struct worth){pack(leaf), leaf[WORTH_NO_SERIES]});
	}
}

/** Something that was not seen or not said: any figure that a device could have, on paper too where
 * it may still be told. */
static void worths_of_anything(struct work *work, enum device_form form, struct worths *worths)
{
	for (unsigned char category = CATEGORY_LEAST; category <= CATEGORY_MOST; category++) {
		unsigned char bytes[WORTH_FIGURES];

		memset(bytes, category, sizeof bytes);
		if (form == DEVICE_UNSEEN) {
			memset(bytes + WORTH_ACCEPTED, CATEGORY_LEAST, MECHANISM_COUNT);
			memset(bytes + WORTH_PROVEN, CATEGORY_LEAST, MECHANISM_COUNT);
		}
		add_worth(work, worths, (struct worth){pack(bytes), SERIES_NONE});
	}
}

static void worths_of(struct work *work, const struct device *device, struct worths *worths)
{
	worths->count = 0;
	if (device->form == DEVICE_READ)
		worths_of_reading(work, &device->reading, worths);
	else
		worths_of_anything(work, device->form, worths);
}

/** Two that stand as a published series count as the type that the row names, as far as each still
 * is what its type is good for. */
static uint64_t series_figures(const struct rulebook *book, const struct device *first,
                               const struct device *second, struct worth a, struct worth b)
{
	unsigned char bytes[WORTH_FIGURES];
	const struct type *type_a, *type_b = &book->type[second->item->of];
	const struct series *series;

	if (b.series == SERIES_NONE || first->form != DEVICE_READ)
		return 0;
	series = &type_b->series[SERIES_NONE - 1 - b.series];
	if (series->with != first->item->of)
		return 0;
	type_a = &book->type[first->item->of];
	for (unsigned at = 0; at < WORTH_FIGURES; at += MECHANISM_COUNT)
		for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
			bool both =
			        figure(a.figures, at, (enum mechanism)m) >= type_a->good_for[m] &&
			        figure(b.figures, at, (enum mechanism)m) >= type_b->good_for[m];

			bytes[at + m] =
			        both ? book->type[series->counts_as].good_for[m] : CATEGORY_LEAST;
		}
	return pack(bytes);
}

static void pair_worths(struct work *work, const struct device *first, const struct device *second,
                        const struct worths *a, const struct worths *b, struct worths *out)
{
	out->count = 0;
	for (size_t i = 0; i < a->count; i++)
		for (size_t j = 0; j < b->count; j++) {
			struct worth x = a->item[i], y = b->item[j];
			uint64_t together = series_figures(work->book, first, second, x, y);

			add_worth(work, out,
			          (struct worth){most_of(most_of(x.figures, y.figures), together),
			                         SERIES_NONE});
		}
}

/* -- all together, way by way ----------------------------------------------------------- */

uint64_t *states_at(const struct states *states, size_t i)
{
	return states->word + i * states->stride;
}

/* Mostly of one or two words: shorter than a call of memcmp. */
static bool same_state(const uint64_t *a, const uint64_t *b, size_t stride)
{
	size_t c = 0;

	while (c < stride && a[c] == b[c])
		c++;
	return c == stride;
}

static void add_state(struct work *work, struct states *states, const uint64_t *state)
{
	uint64_t *grown;

	for (size_t i = states->count; i-- > 0;)
		if (same_state(states_at(states, i), state, states->stride))
			return;
	if (states->count == STATES_MOST) {
		work->too_much = true;
		return;
	}
	grown = arena_grow(work->arena, states->word, states->count, &states->room,
	                   states->stride * sizeof *grown);
	if (!grown) {
		work->no_memory = true;
		return;
	}
	states->word = grown;
	memcpy(states_at(states, states->count++), state, states->stride * sizeof *state);
}

static void fold(struct work *work, struct states *states, const struct worths *worths,
                 uint32_t classes)
{
	struct states folded = {.stride = states->stride};
	uint64_t state[CLASSES_MOST];

	for (size_t i = 0; i < states->count; i++)
		for (size_t j = 0; j < worths->count; j++) {
			const uint64_t *before = states_at(states, i);

			for (size_t c = 0; c < states->stride; c++)
				state[c] = (classes >> c) & 1
				                   ? most_of(before[c], worths->item[j].figures)
				                   : before[c];
			add_state(work, &folded, state);
		}
	*states = folded;
}

struct states work_fold_devices(struct work *work)
{
	struct states states = {.stride = work->way_count};
	struct worths worths[3];
	uint64_t nothing[CLASSES_MOST];

	for (size_t c = 0; c < work->way_count; c++)
		nothing[c] = all_figures(CATEGORY_LEAST);
	add_state(work, &states, nothing);
	for (size_t d = 0; d < work->device_count; d++) {
		const struct device *device = &work->device[d];
		const struct worths *whole = &worths[0];

		worths_of(work, device, &worths[0]);
		if (d + 1 < work->device_count && work->device[d + 1].pairs) {
			worths_of(work, &work->device[d + 1], &worths[1]);
			pair_worths(work, device, &work->device[d + 1], &worths[0], &worths[1],
			            &worths[2]);
			whole = &worths[2];
			d++;
		}
		fold(work, &states, whole, device->classes);
	}
	return states;
}
