/* The ways that a fluid could take from each inlet, and what stands on them. */
#include "work.h"

#include <string.h>

const struct item *work_stand_in(struct work *work, const struct item *point, const char *inlet_id)
{
	const struct item **grown;
	struct item *item;

	for (size_t i = 0; i < work->stand_in_count; i++)
		if (work->stand_in[i]->parent == point &&
		    strcmp(work->stand_in[i]->ref, inlet_id) == 0)
			return work->stand_in[i];
	item = arena_take(work->arena, sizeof *item);
	grown = arena_grow(work->arena, work->stand_in, work->stand_in_count, &work->stand_in_room,
	                   sizeof *grown);
	if (!item || !grown) {
		work->no_memory = true;
		return NULL;
	}
	item->scope = SCOPE_INLET;
	item->ref = inlet_id;
	/* Only looked at; the point is the survey's and is not changed through it. */
	memcpy(&item->parent, &point, sizeof point);
	item->of = INDEX_NONE;
	item->nothing_said = true;
	work->stand_in = grown;
	grown[work->stand_in_count++] = item;
	return item;
}

static bool same_way(const struct way *a, const struct way *b)
{
	return a->holder_count == b->holder_count &&
	       memcmp(a->holder, b->holder, a->holder_count * sizeof *a->holder) == 0;
}

void work_give_up(struct work *work)
{
	work->too_much = work->too_far = true;
}

/** @return the class of a way, made if it is new; 0 when that gives up, or finds no memory. */
static size_t class_of(struct work *work, const struct way *way)
{
	struct way *grown;

	for (size_t c = 0; c < work->way_count; c++)
		if (same_way(&work->way[c], way))
			return c;
	if (work->way_count == CLASSES_MOST) {
		work_give_up(work);
		return 0;
	}
	grown = arena_grow(work->arena, work->way, work->way_count, &work->way_room, sizeof *grown);
	if (!grown) {
		work->no_memory = true;
		return 0;
	}
	work->way = grown;
	grown[work->way_count] = *way;
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

static void pass(struct work *work, struct way *way, const struct item *holder)
{
	if (holder->scope == SCOPE_BRANCH && item_child(holder, SCOPE_PROTECTION, 0) == NULL)
		return;
	if (way->holder_count == HOLDERS_MOST)
		work_give_up(work);
	else
		way->holder[way->holder_count++] = holder;
	if (holder->cannot_tell)
		way->unseen = true;
}

static bool has_passed(const struct way *way, const struct item *holder)
{
	for (size_t h = 0; h < way->holder_count; h++)
		if (way->holder[h] == holder)
			return true;
	return false;
}

/* -- parts already met on a way: bit 0 the point's own or none, bit p part p ------------------ */

static size_t met_words(const struct work *work)
{
	return (work->tree->part_count + 63) / 64;
}

/** @return a set to go on with; NULL (and no_memory) when there is none. */
static uint64_t *met_copy(struct work *work, const uint64_t *met)
{
	size_t size = met_words(work) * sizeof *met;
	uint64_t *copy = arena_take(work->arena, size);

	if (!copy)
		work->no_memory = true;
	else if (met)
		memcpy(copy, met, size);
	return copy;
}

/** @return whether it was not in the set before. */
static bool meet(uint64_t *met, size_t part)
{
	uint64_t bit = UINT64_C(1) << part % 64;
	bool first = !(met[part / 64] & bit);

	met[part / 64] |= bit;
	return first;
}

/** The first in the file of the point's own part or of none. */
static struct draw_off own_draw_off(const struct work *work, size_t pipe)
{
	struct draw_off none = tree_draw_off(work->tree, pipe, 0, work->point);
	struct draw_off own = tree_draw_off(work->tree, pipe, work->part, work->point);

	return !own.point || (none.point && none.order < own.order) ? none : own;
}

/** Draw-offs that the fluid meets in this pipe, of parts that it has not met on its way yet. */
static void meet_draw_offs(struct work *work, unsigned inlet, size_t pipe, uint64_t *met,
                           const struct way *way)
{
	struct draw_off own = own_draw_off(work, pipe);

	if (own.point && meet(met, 0))
		reach(work, inlet, own.point->ref, false, way);
	for (size_t p = 1; p < work->tree->part_count; p++)
		if (p != work->part && tree_draw_off(work->tree, pipe, p, work->point).point &&
		    meet(met, p))
			reach(work, inlet, work->tree->part[p]->ref, true, way);
}

static void go_up(struct work *work, unsigned inlet, size_t pipe, uint64_t *met, struct way way);

static bool has_supply(const struct kind *kind)
{
	for (size_t i = 0; i < kind->inlet_count; i++)
		if (!kind->inlet[i].waste)
			return true;
	return false;
}

/** Past what stands on one inlet of a point that stores, into each pipe that it names. A loop is cut
 * where it closes, as in the tree. */
static void go_up_inlet(struct work *work, unsigned inlet, const struct item *through,
                        const uint64_t *met, struct way way)
{
	struct feeds feeds = {.named = false};

	if (!through)
		return;
	if (!has_passed(&way, through)) {
		pass(work, &way, through);
		tree_named_feeds(work->tree, through, &feeds);
	}
	if (feeds.more)
		work_give_up(work);
	if (!feeds.named) { /* not known: nothing further up is counted on */
		feeds.pipe[0] = PIPE_MAIN;
		feeds.count = 1;
	}
	for (size_t f = 0; f < feeds.count; f++) {
		uint64_t *own = met_copy(work, met);

		if (own)
			go_up(work, inlet, feeds.pipe[f], own, way);
	}
}

/** One that the survey lacks while it has another is not piped; where it has none, each is one of
 * which nothing was said. */
static void go_up_through(struct work *work, unsigned inlet, const struct item *point,
                          const uint64_t *met, const struct way *way)
{
	const struct kind *kind = point->of == INDEX_NONE ? NULL : &work->book->kind[point->of];
	bool any = false;

	for (unsigned i = 0; i < INLETS_MOST; i++) {
		const struct item *through = tree_supply_inlet(work->tree, point, i);

		any = any || through;
		go_up_inlet(work, inlet, through, met, *way);
	}
	for (unsigned i = 0; !any && kind && i < kind->inlet_count; i++)
		if (!kind->inlet[i].waste)
			go_up_inlet(work, inlet, work_stand_in(work, point, kind->inlet[i].id), met,
			            *way);
	if (!kind) /* what it is was not answered: some inlet */
		go_up_inlet(work, inlet, work_stand_in(work, point, "inlet"), met, *way);
	else if (!any && !has_supply(kind)) { /* nobody can be asked where its water comes from */
		uint64_t *own = met_copy(work, met);

		if (own)
			go_up(work, inlet, PIPE_MAIN, own, *way);
	}
}

static void go_up(struct work *work, unsigned inlet, size_t pipe, uint64_t *met, struct way way)
{
	const struct tree *tree = work->tree;

	for (;;) {
		if (++work->passed > PASSED_MOST)
			work_give_up(work);
		if (work->too_much || work->no_memory)
			return;
		meet_draw_offs(work, inlet, pipe, met, &way);
		if (pipe == PIPE_MAIN)
			break;
		pass(work, &way, tree->pipe[pipe].item);
		pipe = tree->pipe[pipe].up[0];
		if (pipe >= tree->branch_end) {
			go_up_through(work, inlet, tree->pipe[pipe].item, met, &way);
			return;
		}
	}
	reach(work, inlet, "main", false, &way);
}

/** The waste side leads into the appliance and on to whoever drinks what has passed through it. */
static void go_in(struct work *work, unsigned inlet, uint64_t *met, struct way *way)
{
	size_t inside = tree_inside(work->tree, work->point), before = work->destination_count;

	for (size_t i = 1; inside != PIPE_MAIN && i < work->tree->branch_end; i++) {
		if (work->tree->pipe[i].up[0] != inside)
			continue;
		meet_draw_offs(work, inlet, i, met, way);
		if (work->destination_count > before)
			return;
	}
	reach(work, inlet, "main", false, way);
}

/* -- what stands on them ---------------------------------------------------------------- */

static struct device *new_device(struct work *work, enum device_form form, const struct item *item,
                                 uint32_t classes)
{
	struct device *grown, *device;

	if (work->device_count == DEVICES_MOST) {
		work_give_up(work);
		return NULL;
	}
	grown = arena_grow(work->arena, work->device, work->device_count, &work->device_room,
	                   sizeof *grown);
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
	const struct item *latest = NULL;
	double newest = 0;

	for (size_t i = 0; i < protection->child_count; i++) {
		const struct item *test = protection->child[i];
		const struct answer *date = item_answer(test, book->known.test_date);
		double day_of_it = date ? date->low : (double)DAY_FIRST;

		if (!latest || day_of_it >= newest) {
			latest = test;
			newest = day_of_it;
		}
	}
	return latest;
}

/** The branch that feeds an inlet, where one does: of the point's own as it is taken now. */
static const struct item *branch_of(const struct work *work, const struct item *inlet)
{
	struct feeds feeds;

	for (unsigned i = 0; i < work->kind->inlet_count; i++)
		if (work->inlet[i] == inlet)
			return work->tree->pipe[work->feed[i]].item;
	tree_named_feeds(work->tree, inlet, &feeds);
	return feeds.count == 1 ? work->tree->pipe[feeds.pipe[0]].item : NULL;
}

static struct sight sight_of(const struct work *work, const struct item *holder,
                             const struct item *protection)
{
	struct sight sight = {
	        .of = {[SCOPE_PREMISES] = work->tree->survey->premises,
	               [SCOPE_PART] = survey_part(work->tree->survey, holder),
	               [SCOPE_PROTECTION] = protection}
        };
	if (holder->scope == SCOPE_BRANCH) {
		sight.of[SCOPE_BRANCH] = holder;
	} else {
		sight.of[SCOPE_BRANCH] = branch_of(work, holder);
		sight.of[SCOPE_INLET] = holder;
		sight.of[SCOPE_POINT] = holder->parent;
		sight.of[SCOPE_ROOM] = item_above(holder, SCOPE_ROOM);
	}
	sight.of[SCOPE_TEST] = latest_test(work->book, protection);
	return sight;
}

/** Whether something that shuts stands later; what is of no known type might. */
static enum holds shuts_after(const struct rulebook *book, const struct item *holder, size_t child)
{
	enum holds shuts = HOLDS_NEVER;

	for (size_t c = child + 1; c < holder->child_count; c++) {
		const struct item *later = holder->child[c];

		if (later->scope != SCOPE_PROTECTION)
			continue;
		if (later->of == INDEX_NONE)
			shuts = HOLDS_MAYBE;
		else if (book->type[later->of].shuts)
			return HOLDS_ALWAYS;
	}
	return shuts;
}

#define NOTHING_BEFORE SIZE_MAX

/** Of three in a row the first two are looked at together, then the third by itself. */
static bool pairs_with(const struct work *work, const struct type *type, size_t before)
{
	const struct device *device;

	if (before == NOTHING_BEFORE)
		return false;
	device = &work->device[before];
	if (device->form != DEVICE_READ || device->pairs)
		return false;
	for (size_t s = 0; s < type->series_count; s++)
		if (type->series[s].with == device->item->of)
			return true;
	return false;
}

static void read_device(struct work *work, const struct item *holder, size_t child,
                        uint32_t classes, size_t before)
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
	device->pairs = pairs_with(work, type, before);
	device->reading.subject = judge_type(work->judge, protection->of, &err);
	if (!device->reading.subject) {
		work->no_memory = work->no_memory || err.kind == ERR_MEMORY;
		work->too_much = true;
		device->form = DEVICE_UNSAID;
		return;
	}
	device->reading.root =
	        device->pairs ? device->reading.subject->root : device->reading.subject->alone;
	judge_lend(work->judge, &device->reading);
	device->reading.sight = sight_of(work, holder, protection);
	reading_look(work->book, &device->reading);
	reading_force(&device->reading, type->shuts_downstream,
	              shuts_after(work->book, holder, child));
}

static void read_holder(struct work *work, const struct item *holder, uint32_t classes)
{
	size_t before = NOTHING_BEFORE;

	if (holder->nothing_said || holder->cannot_tell) {
		new_device(work, holder->cannot_tell ? DEVICE_UNSEEN : DEVICE_UNSAID, holder,
		           classes);
		return;
	}
	for (size_t c = 0; c < holder->child_count; c++) {
		if (holder->child[c]->scope != SCOPE_PROTECTION)
			continue;
		read_device(work, holder, c, classes, before);
		before = work->device_count - 1;
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
		uint64_t *met = met_copy(work, NULL);

		if (!met)
			return;
		pass(work, &way, work->inlet[i] ? work->inlet[i] : work->unsaid[i]);
		if (work->kind->inlet[i].waste)
			go_in(work, i, met, &way);
		else
			go_up(work, i, work->feed[i], met, way);
	}
	read_holders(work);
}
