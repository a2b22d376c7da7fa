/*
 * All completions of the unanswered questions, exactly and without walking through them one by one.
 *
 * Each subject is narrowed by itself; what is left of it are its possible leaves and its live questions. Subjects that share no
 * live question combine freely; a shared one is taken value by value.
 */
#include "work.h"

#include "figures.h"

#include <string.h>

/* -- figures over all completions ---------------------------------------------------------- */

static void widen(struct range *range, unsigned value)
{
	if (range->least == 0 || value < range->least)
		range->least = (uint8_t)value;
	if (value > range->most)
		range->most = (uint8_t)value;
}

static unsigned short_by(unsigned needs, unsigned worth)
{
	return needs > worth ? needs - worth : 0;
}

enum { FIGURES_MOST = FLUIDS_MOST * INLETS_MOST * MECHANISM_COUNT };

/** What each fluid needs; where the undertaker has decided, that alone counts, and is put into @p decided. */
static const unsigned char *needs_of(const struct work *work, diagram leaf, unsigned char *decided)
{
	const unsigned char *needs = diagram_leaf_bytes(work->kind_reading->subject->store, leaf);

	if (work->decided == 0)
		return needs;
	for (size_t i = 0; i < work->kind->inlet_count * MECHANISM_COUNT; i++)
		decided[i] =
		        needs[i] > CATEGORY_LEAST ? (unsigned char)work->decided : CATEGORY_LEAST;
	return decided;
}

static void widen_fluids(struct work *work, const unsigned char *needs)
{
	struct assessment *out = work->out;
	unsigned highest = CATEGORY_LEAST;

	for (size_t n = 0; n < out->fluid_count; n++) {
		struct fluid_verdict *fluid = &out->fluid[n];
		unsigned category = CATEGORY_LEAST;

		for (unsigned i = 0; i < work->kind->inlet_count; i++)
			for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
				unsigned needed = *needs++;

				if (needed == CATEGORY_LEAST)
					continue;
				fluid->by |= (uint8_t)(1U << m);
				fluid->inlets |= (uint8_t)(1U << i);
				category = needed > category ? needed : category;
			}
		widen(&fluid->category, category);
		highest = category > highest ? category : highest;
	}
	widen(&out->category, highest);
}

/** Byte by byte the least and the most of what is needed, or of what is worth. */
struct needs_span {
	unsigned char least[FIGURES_MOST], most[FIGURES_MOST];
};
struct worth_span {
	uint64_t least, most;
};

/** Shortfalls count from 0, so they are kept one up until the end. */
static void widen_shortfall(struct range *range, unsigned least, unsigned most)
{
	widen(range, least + 1);
	widen(range, most + 1);
}

/** Each need goes with each worth: so the least of the one meets the most of the other. */
static void widen_path(struct path *path, unsigned least, unsigned most,
                       const struct worth_span *worth)
{
	const struct {
		struct range *range;
		unsigned at;
	} figures[] = {
	        {&path->good_for, WORTH_GOOD_FOR},
	        {&path->accepted, WORTH_ACCEPTED},
	        {&path->found,    WORTH_FOUND   }
        };

	widen(&path->needs, least);
	widen(&path->needs, most);
	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
		widen(figures[i].range, figure(worth->least, figures[i].at, path->mechanism));
		widen(figures[i].range, figure(worth->most, figures[i].at, path->mechanism));
	}
	widen_shortfall(&path->on_paper,
	                short_by(least, figure(worth->most, WORTH_ACCEPTED, path->mechanism)),
	                short_by(most, figure(worth->least, WORTH_ACCEPTED, path->mechanism)));
	widen_shortfall(&path->in_fact,
	                short_by(least, figure(worth->most, WORTH_FOUND, path->mechanism)),
	                short_by(most, figure(worth->least, WORTH_FOUND, path->mechanism)));
}

/* -- one completion --------------------------------------------------------------------- */

/** What the fluids that come by one inlet need, the highest: at each figure of a worth. */
static uint64_t highest_needs(const struct work *work, const unsigned char *needs, unsigned inlet)
{
	unsigned char bytes[WORTH_FIGURES];

	memset(bytes, CATEGORY_LEAST, sizeof bytes);
	for (unsigned n = 0; n < work->out->fluid_count; n++)
		for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
			unsigned char one = needs[subject_needs_at(work->kind->inlet_count, n,
			                                           inlet, (enum mechanism)m)];

			bytes[m] = one > bytes[m] ? one : bytes[m];
		}
	for (unsigned b = MECHANISM_COUNT; b < WORTH_FIGURES; b++)
		bytes[b] = bytes[b % MECHANISM_COUNT];
	return pack(bytes);
}

/** What the ways to one place are worth: all, and those on which it could be seen what is fitted. */
struct ways_worth {
	uint64_t all, seen;
};

/** Of no way at all: as good as can be. */
static uint64_t worst_way(const uint64_t *state, uint32_t classes)
{
	uint64_t worst = all_figures(CATEGORY_MOST);

	for (; classes; classes &= classes - 1)
		worst = least_of(worst, state[__builtin_ctz(classes)]);
	return worst;
}

static unsigned of_either(uint64_t figures, unsigned at)
{
	unsigned pressure = figure(figures, at, BACK_PRESSURE);
	unsigned siphonage = figure(figures, at, BACK_SIPHONAGE);

	return pressure > siphonage ? pressure : siphonage;
}

/** @p needs by inlet, @p worth by destination. What needs less than another, or the same on the same
 * ways, decides nothing. */
static struct outcome weigh(const struct work *work, const uint64_t *needs,
                            const struct ways_worth *worth)
{
	uint64_t missing = 0, missing_seen = 0, needs_missing = 0;
	uint64_t needs_all = all_figures(CATEGORY_LEAST);
	struct outcome outcome;

	for (size_t d = 0; d < work->destination_count; d++) {
		uint64_t needed, here;

		if (work->destination[d].again)
			continue;
		needed = needs[work->destination[d].inlet];
		here = more_by(needed, worth[d].all);
		missing = most_of(missing, here);
		if (work->unseen)
			missing_seen = most_of(missing_seen, more_by(needed, worth[d].seen));
		needs_missing =
		        most_of(needs_missing, needed & where_not_less(here, all_figures(1)));
		needs_all = most_of(needs_all, needed);
	}
	outcome.paper = of_either(missing, WORTH_ACCEPTED);
	outcome.fact = of_either(missing, WORTH_FOUND);
	outcome.proof = of_either(missing, WORTH_PROVEN);
	outcome.is_short = outcome.fact > 0 ||
	                   of_either(work->unseen ? missing_seen : missing, WORTH_ACCEPTED) > 0;
	outcome.needs = outcome.fact > 0    ? of_either(needs_missing, WORTH_FOUND)
	                : outcome.paper > 0 ? of_either(needs_missing, WORTH_ACCEPTED)
	                                    : of_either(needs_all, WORTH_ACCEPTED);
	return outcome;
}

/* -- every completion ------------------------------------------------------------------- */

/** Every leaf of the kind: its needs by inlet, one leaf after the other. */
static void look_at_needs(struct work *work, uint64_t *needs, struct needs_span *span)
{
	const struct reading *kind = work->kind_reading;
	size_t inlets = work->kind->inlet_count;
	size_t width = work->out->fluid_count * inlets * MECHANISM_COUNT;

	memset(span->least, CATEGORY_MOST, sizeof span->least);
	memset(span->most, CATEGORY_LEAST, sizeof span->most);
	for (size_t k = 0; k < kind->leaf_count; k++) {
		unsigned char decided[FIGURES_MOST];
		const unsigned char *figures = needs_of(work, kind->leaf[k], decided);

		for (size_t i = 0; i < width; i++) {
			span->least[i] = figures[i] < span->least[i] ? figures[i] : span->least[i];
			span->most[i] = figures[i] > span->most[i] ? figures[i] : span->most[i];
		}
		widen_fluids(work, figures);
		for (unsigned i = 0; i < inlets; i++)
			*needs++ = highest_needs(work, figures, i);
	}
}

static void look_at_worth(const struct work *work, const uint64_t *state, struct ways_worth *worth,
                          struct worth_span *span)
{
	for (size_t d = 0; d < work->destination_count; d++) {
		uint32_t classes = work->destination[d].classes;

		worth[d].all = worst_way(state, classes);
		worth[d].seen = worst_way(state, classes & ~work->unseen);
		span[d].least = least_of(span[d].least, worth[d].all);
		span[d].most = most_of(span[d].most, worth[d].all);
	}
}

static void widen_paths(struct work *work, const struct needs_span *needs,
                        const struct worth_span *worth)
{
	for (size_t i = 0; i < work->slot_count; i++) {
		const struct slot *slot = &work->slot[i];

		widen_path(&work->out->path[slot->path], needs->least[slot->needs_at],
		           needs->most[slot->needs_at], &worth[slot->destination]);
	}
}

/** Subjects that share no live question any more: every leaf of one goes with every state of the
 * others. */
static void combine(struct work *work)
{
	size_t leaves = work->kind_reading->leaf_count, inlets = work->kind->inlet_count;
	size_t places = work->destination_count;
	struct states states = work_fold_devices(work);
	uint64_t *needs = arena_take(work->arena, (leaves * inlets + 1) * sizeof *needs);
	struct ways_worth *worth = arena_take(work->arena, (places + 1) * sizeof *worth);
	struct worth_span *worth_span = arena_take(work->arena, (places + 1) * sizeof *worth_span);
	struct needs_span needs_span;

	if (!needs || !worth || !worth_span) {
		work->no_memory = true;
		return;
	}
	look_at_needs(work, needs, &needs_span);
	for (size_t d = 0; d < places; d++)
		worth_span[d] = (struct worth_span){all_figures(CATEGORY_MOST), 0};
	for (size_t s = 0; s < states.count; s++) {
		work->steps += leaves;
		work->too_much = work->too_much || work->steps > STEPS_MOST;
		if (work->too_much || work->no_memory)
			return;
		look_at_worth(work, states_at(&states, s), worth, worth_span);
		for (size_t k = 0; k < leaves; k++) {
			struct outcome outcome = weigh(work, &needs[k * inlets], worth);

			outcomes_add(&work->outcomes, &outcome);
		}
	}
	widen_paths(work, &needs_span, worth_span);
}

/* -- shared questions, value by value --------------------------------------------------- */

static struct reading *reading_at(struct work *work, size_t i)
{
	if (i == 0)
		return work->kind_reading;
	return work->device[i - 1].form == DEVICE_READ ? &work->device[i - 1].reading : NULL;
}

/** Nobody said what part they are in; but it is one, since they are in one room or on one branch. */
static bool same_part_unknown(const struct sight *a, const struct sight *b)
{
	if (a->of[SCOPE_ROOM] != b->of[SCOPE_ROOM])
		return false;
	return a->of[SCOPE_ROOM] ||
	       (a->of[SCOPE_BRANCH] && a->of[SCOPE_BRANCH] == b->of[SCOPE_BRANCH]);
}

/** Whether the variable of @p a is the same question of the same item in @p b: @return its variable
 * there, or -1. */
static int same_question(const struct rulebook *book, const struct reading *a, unsigned variable,
                         const struct reading *b)
{
	question_index question = a->subject->variable[variable];
	enum scope scope = book->question[question].scope;
	int there = subject_variable(b->subject, question);

	if (there < 0 || a->sight.of[scope] != b->sight.of[scope])
		return -1;
	if (!a->sight.of[scope] &&
	    !(scope == SCOPE_PART && same_part_unknown(&a->sight, &b->sight)))
		return -1; /* no test of the one, no test of the other: two things unknown */
	return there;
}

struct shared {
	const struct reading *reading;
	unsigned variable;
};

static bool find_shared(struct work *work, struct shared *out)
{
	for (size_t i = 0; i <= work->device_count; i++) {
		const struct reading *a = reading_at(work, i);

		for (size_t j = i + 1; a && a->live && j <= work->device_count; j++) {
			const struct reading *b = reading_at(work, j);

			for (uint64_t left = b ? a->live : 0; left; left &= left - 1) {
				unsigned variable = (unsigned)__builtin_ctzll(left);
				int there = same_question(work->book, a, variable, b);

				if (there < 0 || !((b->live >> there) & 1))
					continue;
				*out = (struct shared){a, variable};
				return true;
			}
		}
	}
	return false;
}

/** Give the question these cells wherever it is asked, and narrow what asks it. */
static void fix(struct work *work, const struct reading *owner, unsigned variable, cells value)
{
	for (size_t i = 0; i <= work->device_count; i++) {
		struct reading *reading = reading_at(work, i);
		int there = reading ? same_question(work->book, owner, variable, reading) : -1;

		if (there < 0)
			continue;
		reading->may[there] = value;
		if (!reading_narrow(reading))
			work->no_memory = true;
	}
}

static void take_value_by_value(struct work *work, struct shared shared)
{
	struct reading whose = *shared.reading; /* its cells change below */
	cells all = whose.may[shared.variable];

	for (cells left = all; left && !work->too_much && !work->no_memory; left &= left - 1) {
		fix(work, &whose, shared.variable, left & ~(left - 1));
		work_enumerate(work);
	}
	fix(work, &whose, shared.variable, all);
}

void work_enumerate(struct work *work)
{
	struct shared shared;

	if (find_shared(work, &shared))
		take_value_by_value(work, shared);
	else
		combine(work);
}

/* -- paths ------------------------------------------------------------------------------ */

/** The path that an earlier combination of feeds has made; else a new one. */
static size_t find_path(struct work *work, const struct path *like)
{
	struct assessment *out = work->out;
	struct path *grown;

	for (size_t i = 0; i < work->earlier_paths; i++) {
		const struct path *path = &out->path[i];

		if (path->fluid == like->fluid && path->inlet_index == like->inlet_index &&
		    path->mechanism == like->mechanism && strcmp(path->to, like->to) == 0)
			return i;
	}
	grown = arena_grow(work->arena, out->path, out->path_count, &work->path_room,
	                   sizeof *grown);
	if (!grown) {
		work->no_memory = true;
		return 0;
	}
	out->path = grown;
	out->path[out->path_count] = *like;
	return out->path_count++;
}

static void add_slot(struct work *work, size_t d, size_t n, enum mechanism mechanism)
{
	const struct destination *destination = &work->destination[d];
	struct path path = {.fluid = work->out->fluid[n].fluid,
	                    .inlet = destination->inlet_item,
	                    .inlet_index = destination->inlet,
	                    .mechanism = mechanism,
	                    .to = destination->to,
	                    .to_part = destination->to_part};
	struct slot *slot = &work->slot[work->slot_count++];

	slot->destination = d;
	slot->needs_at = subject_needs_at(work->kind->inlet_count, (unsigned)n, destination->inlet,
	                                  mechanism);
	slot->path = find_path(work, &path);
	work->destination[d].counts = true;
}

/** What could be needed at most, whatever the answers: a path where nothing ever comes is none. */
static void most_needed(const struct work *work, unsigned char *most, size_t width)
{
	const struct reading *kind = work->kind_reading;

	memset(most, CATEGORY_LEAST, width);
	for (size_t k = 0; k < kind->leaf_count; k++) {
		unsigned char decided[FIGURES_MOST];
		const unsigned char *needs = needs_of(work, kind->leaf[k], decided);

		for (size_t i = 0; i < width; i++)
			most[i] = needs[i] > most[i] ? needs[i] : most[i];
	}
}

/** Places that are reached from one inlet on the same ways are weighed once. */
static void mark_again(struct work *work)
{
	for (size_t d = 1; d < work->destination_count; d++) {
		struct destination *one = &work->destination[d];

		for (size_t i = 0; i < d && !one->again; i++)
			one->again = work->destination[i].inlet == one->inlet &&
			             work->destination[i].classes == one->classes;
	}
}

bool work_find_paths(struct work *work)
{
	size_t inlets = work->kind->inlet_count, fluids = work->out->fluid_count;
	unsigned char most[FIGURES_MOST];

	most_needed(work, most, fluids * inlets * MECHANISM_COUNT);
	work->slot_count = 0;
	work->earlier_paths = work->out->path_count;
	work->slot = arena_take(work->arena, (work->destination_count * fluids * MECHANISM_COUNT +
	                                      1) * sizeof *work->slot);
	if (!work->slot)
		return false;
	for (size_t d = 0; d < work->destination_count; d++)
		for (size_t n = 0; n < fluids; n++)
			for (unsigned m = 0; m < MECHANISM_COUNT; m++) {
				size_t at = subject_needs_at(inlets, (unsigned)n,
				                             work->destination[d].inlet,
				                             (enum mechanism)m);

				if (most[at] > CATEGORY_LEAST)
					add_slot(work, d, n, (enum mechanism)m);
			}
	mark_again(work);
	work->unseen = 0;
	for (size_t c = 0; c < work->way_count; c++)
		if (work->way[c].unseen)
			work->unseen |= UINT32_C(1) << c;
	return !work->no_memory;
}
