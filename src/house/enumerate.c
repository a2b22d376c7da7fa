/*
 * All completions of the unanswered questions, exactly and without walking through them one by one.
 *
 * Each subject is narrowed by itself; what is left of it are its possible leaves and its live questions. Subjects that share no
 * live question combine freely; a shared one is taken value by value.
 */
#include "work.h"

#include "figures.h"

#include <string.h>

/* -- one completion --------------------------------------------------------------------- */

static void widen(struct range *range, unsigned value)
{
	if (range->least == 0 || value < range->least)
		range->least = (uint8_t)value;
	if (value > range->most)
		range->most = (uint8_t)value;
}

/** Shortfalls count from 0, so they are kept one up until the end. */
static void widen_shortfall(struct range *range, unsigned value)
{
	widen(range, value + 1);
}

static unsigned short_by(unsigned needs, unsigned worth)
{
	return needs > worth ? needs - worth : 0;
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

/** The highest need where something is short in fact, else on paper, else at all. */
struct highest {
	unsigned in_fact, on_paper, at_all;
};

static void raise_to(unsigned *highest, unsigned value)
{
	*highest = value > *highest ? value : *highest;
}

/** @p seen  of the ways on which it could be seen what is fitted: what is not on paper there counts. */
static void weigh_path(struct path *path, unsigned needs, uint64_t worth, uint64_t seen,
                       struct outcome *outcome, struct highest *highest)
{
	unsigned good_for = figure(worth, WORTH_GOOD_FOR, path->mechanism);
	unsigned accepted = figure(worth, WORTH_ACCEPTED, path->mechanism);
	unsigned found = figure(worth, WORTH_FOUND, path->mechanism);
	unsigned proven = figure(worth, WORTH_PROVEN, path->mechanism);
	unsigned paper = short_by(needs, accepted), fact = short_by(needs, found);
	unsigned proof = short_by(needs, proven);

	widen(&path->needs, needs);
	widen(&path->good_for, good_for);
	widen(&path->accepted, accepted);
	widen(&path->found, found);
	widen_shortfall(&path->on_paper, paper);
	widen_shortfall(&path->in_fact, fact);
	outcome->paper = (uint8_t)(paper > outcome->paper ? paper : outcome->paper);
	outcome->fact = (uint8_t)(fact > outcome->fact ? fact : outcome->fact);
	outcome->proof = (uint8_t)(proof > outcome->proof ? proof : outcome->proof);
	if (fact > 0 || needs > figure(seen, WORTH_ACCEPTED, path->mechanism))
		outcome->is_short = true;
	raise_to(&highest->at_all, needs);
	if (paper > 0)
		raise_to(&highest->on_paper, needs);
	if (fact > 0)
		raise_to(&highest->in_fact, needs);
}

/** Of no way at all: as good as can be. */
static uint64_t worst_way(const uint64_t *state, uint32_t classes)
{
	uint64_t worst = all_figures(CATEGORY_MOST);

	for (; classes; classes &= classes - 1)
		worst = least_of(worst, state[__builtin_ctz(classes)]);
	return worst;
}

static void add_outcome(struct work *work, struct outcomes *to, const struct outcome *outcome)
{
	struct outcome *grown;

	for (size_t i = to->count; i-- > 0;)
		if (memcmp(&to->item[i], outcome, sizeof *outcome) == 0)
			return;
	grown = arena_grow(work->arena, to->item, to->count, &to->room, sizeof *grown);
	if (!grown) {
		work->no_memory = true;
		return;
	}
	to->item = grown;
	to->item[to->count++] = *outcome;
}

void work_add_outcomes(struct work *work, struct outcomes *to, const struct outcomes *from)
{
	for (size_t i = 0; i < from->count; i++)
		add_outcome(work, to, &from->item[i]);
}

static void weigh(struct work *work, const unsigned char *needs, const uint64_t *state)
{
	struct outcome outcome;
	struct highest highest = {CATEGORY_LEAST, CATEGORY_LEAST, CATEGORY_LEAST};
	const struct destination *destination = NULL;
	uint64_t worth = 0, seen = 0;

	memset(&outcome, 0, sizeof outcome);
	for (size_t i = 0; i < work->slot_count; i++) {
		const struct slot *slot = &work->slot[i];

		if (destination != &work->destination[slot->destination]) {
			destination = &work->destination[slot->destination];
			worth = worst_way(state, destination->classes);
			seen = worst_way(state, destination->classes & ~work->unseen);
		}
		weigh_path(&work->out->path[slot->path], needs[slot->needs_at], worth, seen,
		           &outcome, &highest);
	}
	outcome.needs = (uint8_t)(highest.in_fact > CATEGORY_LEAST    ? highest.in_fact
	                          : highest.on_paper > CATEGORY_LEAST ? highest.on_paper
	                                                              : highest.at_all);
	add_outcome(work, &work->outcomes, &outcome);
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

/** Subjects that share no live question any more: every leaf of one goes with every state of the
 * others. */
static void combine(struct work *work)
{
	struct states states = work_fold_devices(work);
	const struct reading *kind = work->kind_reading;

	for (size_t k = 0; k < kind->leaf_count; k++) {
		unsigned char decided[FIGURES_MOST];
		const unsigned char *needs = needs_of(work, kind->leaf[k], decided);

		widen_fluids(work, needs);
		for (size_t s = 0; s < states.count; s++) {
			if (++work->steps > STEPS_MOST)
				work->too_much = true;
			if (work->too_much || work->no_memory)
				return;
			weigh(work, needs, states_at(&states, s));
		}
	}
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
	work->unseen = 0;
	for (size_t c = 0; c < work->way_count; c++)
		if (work->way[c].unseen)
			work->unseen |= UINT32_C(1) << c;
	return !work->no_memory;
}
