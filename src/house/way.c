/* The ways that a fluid could take from each inlet, and what stands on them. */
#include "work.h"

#include <string.h>

/* Stands for an inlet that a point up the way does not have in the survey: nothing was said of it.
 */
static const struct item inlet_unsaid = {
        .scope = SCOPE_INLET, .nothing_said = true, .of = INDEX_NONE};

static bool same_way(const struct way *a, const struct way *b)
{
	return a->holder_count == b->holder_count &&
	       memcmp(a->holder, b->holder, a->holder_count * sizeof *a->holder) == 0;
}

/** @return the class of a way, made if it is new. Past CLASSES_MOST the way counts with the first:
 * its inlet alone. */
static size_t class_of(struct work *work, const struct way *way)
{
	for (size_t c = 0; c < work->way_count; c++)
		if (same_way(&work->way[c], way))
			return c;
	if (work->way_count == CLASSES_MOST) {
		work->too_much = true;
		return 0;
	}
	work->way[work->way_count] = *way;
	return work->way_count++;
}

static void reach(struct work *work, unsigned inlet, const char *to, bool to_part,
                  const struct way *way)
{
	struct destination *destination = NULL;
	uint32_t bit = UINT32_C(1) << class_of(work, way);

	for (size_t d = 0; d < work->destination_count && !destination; d++)
		if (work->destination[d].inlet == inlet && strcmp(work->destination[d].to, to) == 0)
			destination = &work->destination[d];
	if (!destination) {
		struct destination *grown =
		        arena_grow(work->arena, work->destination, work->destination_count,
		                   &work->destination_room, sizeof *grown);

		if (!grown) {
			work->no_memory = true;
			return;
		}
		work->destination = grown;
		destination = &grown[work->destination_count++];
		*destination = (struct destination){.inlet = inlet,
		                                    .inlet_item = work->inlet[inlet],
		                                    .to = to,
		                                    .to_part = to_part};
	}
	destination->classes |= bit;
}

static void pass(struct way *way, const struct item *holder)
{
	if (holder->scope == SCOPE_BRANCH && item_children(holder, SCOPE_PROTECTION) == 0)
		return;
	if (way->holder_count < HOLDERS_MOST)
		way->holder[way->holder_count++] = holder;
	if (holder->cannot_tell)
		way->unseen = true;
}

/** Draw-offs that the fluid meets in this pipe, of parts that it has not met on its way yet. */
static uint64_t meet_draw_offs(struct work *work, unsigned inlet, size_t pipe, uint64_t met,
                               const struct way *way)
{
	for (size_t p = 0; p < work->tree->part_count && p < 64; p++) {
		const struct item *found;

		if ((met >> p) & 1)
			continue;
		found = tree_draw_off(work->tree, pipe, p, work->point);
		if (!found)
			continue;
		met |= UINT64_C(1) << p;
		if (p == work->part || p == 0)
			reach(work, inlet, found->ref, false, way);
		else
			reach(work, inlet, work->tree->part[p]->ref, true, way);
	}
	return met;
}

static void go_up(struct work *work, unsigned inlet, size_t pipe, uint64_t met, struct way way);

static void go_up_through(struct work *work, unsigned inlet, const struct item *point, uint64_t met,
                          const struct way *way)
{
	const struct item *through;
	bool any = false;

	for (size_t i = 0; (through = item_child(point, SCOPE_INLET, i)) != NULL; i++) {
		struct feeds feeds;
		struct way longer = *way;
		int index = survey_inlet_index(work->tree->survey, through);

		if (index >= 0 && point->of != INDEX_NONE &&
		    work->book->kind[point->of].inlet[index].waste)
			continue;
		any = true;
		pass(&longer, through);
		tree_feeds(work->tree, point, through, &feeds);
		if (!feeds.answered) { /* not known: nothing further up is counted on */
			go_up(work, inlet, PIPE_MAIN, met, longer);
			continue;
		}
		for (size_t f = 0; f < feeds.count; f++)
			go_up(work, inlet, feeds.pipe[f], met, longer);
	}
	if (!any) {
		struct way longer = *way;

		pass(&longer, &inlet_unsaid);
		go_up(work, inlet, PIPE_MAIN, met, longer);
	}
}

static void go_up(struct work *work, unsigned inlet, size_t pipe, uint64_t met, struct way way)
{
	for (unsigned step = 0; step < 64; step++) {
		const struct pipe *at = &work->tree->pipe[pipe];

		met = meet_draw_offs(work, inlet, pipe, met, &way);
		if (pipe == PIPE_MAIN)
			break;
		pass(&way, at->branch);
		if (at->from_point) {
			if (way.holder_count + 1 < HOLDERS_MOST) {
				go_up_through(work, inlet, at->from_point, met, &way);
				return;
			}
			break;
		}
		pipe = at->from;
	}
	reach(work, inlet, "main", false, &way);
}

/** The waste side leads into the appliance and on to whoever drinks what has passed through it. */
static void go_in(struct work *work, unsigned inlet, struct way *way)
{
	size_t before = work->destination_count;

	for (size_t i = 1; i < work->tree->pipe_count; i++) {
		if (work->tree->pipe[i].from_point != work->point)
			continue;
		meet_draw_offs(work, inlet, i, 0, way);
		if (work->destination_count > before)
			return;
	}
	reach(work, inlet, "main", false, way);
}

/* -- what stands on them ---------------------------------------------------------------- */

static struct device *new_device(struct work *work, enum device_form form, const struct item *item,
                                 uint32_t classes)
{
	struct device *grown = arena_grow(work->arena, work->device, work->device_count,
	                                  &work->device_room, sizeof *grown);
	struct device *device;

	if (!grown) {
		work->no_memory = true;
		return NULL;
	}
	work->device = grown;
	device = &grown[work->device_count++];
	memset(device, 0, sizeof *device);
	device->form = form;
	device->item = item;
	device->classes = classes;
	return device;
}

static const struct item *latest_test(const struct rulebook *book, const struct item *protection)
{
	const struct item *latest = NULL, *test;
	double newest = 0;

	for (size_t i = 0; (test = item_child(protection, SCOPE_TEST, i)) != NULL; i++) {
		const struct answer *date = item_answer(test, book->known.test_date);
		double day_of_it = date ? date->low : (double)DAY_FIRST;

		if (!latest || day_of_it >= newest) {
			latest = test;
			newest = day_of_it;
		}
	}
	return latest;
}

static struct sight sight_of(const struct work *work, const struct item *holder,
                             const struct item *protection)
{
	struct sight sight = {
	        .of = {[SCOPE_PREMISES] = work->tree->survey->premises,
	               [SCOPE_PART] = survey_part(work->tree->survey, holder),
	               [SCOPE_PROTECTION] = protection}
        };
	const struct item *fed_by = NULL;

	if (holder->scope == SCOPE_BRANCH) {
		fed_by = holder;
	} else {
		sight.of[SCOPE_INLET] = holder;
		sight.of[SCOPE_POINT] = holder->parent;
		sight.of[SCOPE_ROOM] = item_above(holder, SCOPE_ROOM);
		for (unsigned i = 0; i < work->kind->inlet_count; i++)
			if (work->inlet[i] == holder)
				fed_by = work->tree->pipe[work->feed[i]].branch;
	}
	sight.of[SCOPE_BRANCH] = fed_by;
	sight.of[SCOPE_TEST] = latest_test(work->book, protection);
	return sight;
}

static bool shuts_after(const struct rulebook *book, const struct item *holder, size_t child)
{
	for (size_t c = child + 1; c < holder->child_count; c++) {
		const struct item *later = holder->child[c];

		if (later->scope == SCOPE_PROTECTION && later->of != INDEX_NONE &&
		    book->type[later->of].shuts)
			return true;
	}
	return false;
}

static void read_device(struct work *work, const struct item *holder, size_t child,
                        uint32_t classes, bool follows)
{
	const struct item *protection = holder->child[child];
	const struct type *type;
	struct device *device;
	struct err err = {0};

	if (protection->of == INDEX_NONE) {
		new_device(work, DEVICE_UNSAID, protection, classes);
		return;
	}
	type = &work->book->type[protection->of];
	device = new_device(work, DEVICE_READ, protection, classes);
	if (!device)
		return;
	device->pairs = follows && type->series_count > 0;
	device->reading.subject = judge_type(work->judge, protection->of, &err);
	if (!device->reading.subject) {
		work->no_memory = work->no_memory || err.kind == ERR_MEMORY;
		work->too_much = true;
		device->form = DEVICE_UNSAID;
		return;
	}
	judge_lend(work->judge, &device->reading);
	device->reading.sight = sight_of(work, holder, protection);
	reading_look(work->book, &device->reading,
	             shuts_after(work->book, holder, child) ? type->shuts_downstream
	                                                    : QUESTION_NONE);
}

static void read_holder(struct work *work, const struct item *holder, uint32_t classes)
{
	bool follows = false;

	if (holder->nothing_said || holder->cannot_tell) {
		new_device(work, holder->cannot_tell ? DEVICE_UNSEEN : DEVICE_UNSAID, holder,
		           classes);
		return;
	}
	for (size_t c = 0; c < holder->child_count; c++) {
		if (holder->child[c]->scope != SCOPE_PROTECTION)
			continue;
		read_device(work, holder, c, classes, follows);
		follows = true;
	}
}

static void read_holders(struct work *work)
{
	for (size_t c = 0; c < work->way_count; c++) {
		for (size_t h = 0; h < work->way[c].holder_count; h++) {
			const struct item *holder = work->way[c].holder[h];
			uint32_t classes = 0;
			bool first = true;

			for (size_t other = 0; other < work->way_count; other++) {
				for (size_t g = 0; g < work->way[other].holder_count; g++) {
					if (work->way[other].holder[g] != holder)
						continue;
					if (other < c || (other == c && g < h))
						first = false;
					classes |= UINT32_C(1) << other;
				}
			}
			if (first)
				read_holder(work, holder, classes);
		}
	}
}

void work_find_ways(struct work *work)
{
	work->way_count = 0;
	work->destination_count = 0;
	work->device_count = 0;
	for (unsigned i = 0; i < work->kind->inlet_count; i++) {
		struct way way = {.holder_count = 0};

		pass(&way, work->inlet[i] ? work->inlet[i] : work->unsaid[i]);
		if (work->kind->inlet[i].waste)
			go_in(work, i, &way);
		else
			go_up(work, i, work->feed[i], 0, way);
	}
	read_holders(work);
}
