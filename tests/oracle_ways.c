#include "oracle_inside.h"

/* Pipes, ways up them, and where they lead. */

/* -- pipes ----------------------------------------------------------------------------------- */

/* The pipes that a feed's text names; `cannot_tell` names none. NULL is `main`. */
static size_t pipes_named(const struct oracle *o, const char *text, const struct item **pipe)
{
	size_t count = 0;

	if (!text || strcmp(text, "cannot_tell") == 0)
		return 0;
	while (*text) {
		size_t length = strcspn(text, ", ");

		assert(count < PIPES_MOST);
		pipe[count++] = strncmp(text, "main", length) == 0 && length == 4
		                        ? NULL
		                        : survey_find(o->survey, text, length);
		text += length;
		text += strspn(text, ", ");
	}
	return count;
}

static const char *feed_text(const struct oracle *o, struct inlet inlet)
{
	return inlet.item ? item_text(inlet.item, o->book->known.inlet_fed_by) : NULL;
}

static bool is_branch(const struct item *item)
{
	return item && item->scope == SCOPE_BRANCH;
}

/* What a branch comes from: another, a point that stores, or NULL for `main`, also where nothing
 * says. */
static const struct item *from_of(const struct oracle *o, const struct item *branch)
{
	const struct item *pipe[PIPES_MOST];

	return pipes_named(o, item_text(branch, o->book->known.branch_from), pipe) == 1 ? pipe[0]
	                                                                                : NULL;
}

static bool comes_from_point(const struct oracle *o, const struct item *pipe, unsigned depth);

/* Every pipe that an inlet of the point could be fed by: none that comes from the point itself; and
 * a branch with nothing at its head counts with the pipe that it comes from. */
static size_t every_pipe(const struct oracle *o, const struct item **pipe)
{
	const struct item *premises = o->survey->premises;
	size_t count = 1;

	pipe[0] = NULL;
	for (size_t i = 0; i < premises->child_count; i++) {
		const struct item *branch = premises->child[i];
		const struct item *from;

		if (!is_branch(branch) || comes_from_point(o, branch, 0))
			continue;
		from = from_of(o, branch);
		if ((!from || is_branch(from)) && item_children(branch, SCOPE_PROTECTION) == 0)
			continue;
		assert(count < PIPES_MOST);
		pipe[count++] = branch;
	}
	return count;
}

/* The pipes that an inlet is said to be fed by; `main` where nothing is said. */
static size_t pipes_said(const struct oracle *o, struct inlet inlet, const struct item **pipe)
{
	size_t count = pipes_named(o, feed_text(o, inlet), pipe);

	if (count > 0)
		return count;
	pipe[0] = NULL;
	return 1;
}

/* The pipes that could feed an inlet of the point that is judged. */
static size_t pipes_possible(const struct oracle *o, struct inlet inlet, const struct item **pipe)
{
	size_t count = pipes_named(o, feed_text(o, inlet), pipe);

	return count > 0 ? count : every_pipe(o, pipe);
}

static bool comes_from_point(const struct oracle *o, const struct item *pipe, unsigned depth)
{
	const struct item *from = pipe ? from_of(o, pipe) : NULL;

	if (!from || depth > WAY_PIPES_MOST)
		return false;
	if (is_branch(from))
		return comes_from_point(o, from, depth + 1);
	if (from == o->point)
		return true;
	for (unsigned i = 0; i < kind_of(o, from)->inlet_count; i++) {
		struct inlet inlet = inlet_of(o, from, i);
		const struct item *feed[PIPES_MOST];
		size_t count = is_waste(o, inlet) ? 0 : pipes_said(o, inlet, feed);

		for (size_t f = 0; f < count; f++)
			if (comes_from_point(o, feed[f], depth + 1))
				return true;
	}
	return false;
}

/* A point that stores and has no inlet but waste ones counts as fed by `main`. */
static bool has_supply(const struct oracle *o, const struct item *point)
{
	for (unsigned i = 0; i < kind_of(o, point)->inlet_count; i++)
		if (!is_waste(o, inlet_of(o, point, i)))
			return true;
	return false;
}

/* Whether a way goes on through this inlet of a point that stores: no waste inlet, and none that the survey lacks while it
 * has another. */
static bool goes_on(const struct oracle *o, const struct item *point, unsigned inlet)
{
	bool any_said = false;

	for (unsigned i = 0; i < kind_of(o, point)->inlet_count; i++) {
		struct inlet other = inlet_of(o, point, i);

		any_said = any_said || (other.item && !is_waste(o, other));
	}
	return !is_waste(o, inlet_of(o, point, inlet)) &&
	       (!any_said || inlet_of(o, point, inlet).item);
}

static bool downstream(const struct oracle *o, const struct item *pipe, const struct item *of,
                       unsigned depth);

/* Whether an inlet is fed by a pipe or by one downstream of it. */
static bool fed_from(const struct oracle *o, struct inlet inlet, const struct item *pipe,
                     unsigned depth)
{
	const struct item *feed[PIPES_MOST];
	size_t count = pipes_said(o, inlet, feed);

	for (size_t i = 0; i < count; i++)
		if (downstream(o, feed[i], pipe, depth))
			return true;
	return false;
}

/* Whether a pipe is another one, or comes from it over branches and points that store. */
static bool downstream(const struct oracle *o, const struct item *pipe, const struct item *of,
                       unsigned depth)
{
	const struct item *from;

	if (pipe == of)
		return true;
	if (pipe == NULL || depth > WAY_PIPES_MOST)
		return false;
	from = from_of(o, pipe);
	if (from == NULL || is_branch(from))
		return downstream(o, from, of, depth + 1);
	if (!has_supply(o, from))
		return of == NULL;
	for (unsigned i = 0; i < kind_of(o, from)->inlet_count; i++) {
		struct inlet inlet = inlet_of(o, from, i);

		if (!is_waste(o, inlet) && fed_from(o, inlet, of, depth + 1))
			return true;
	}
	return false;
}

/* -- all unknowns of all ways ---------------------------------------------------------------- */

static void note_protection(struct oracle *o, const struct item *protection, uint8_t on_way)
{
	for (size_t p = 0; p < o->protection_count; p++)
		if (o->protection[p].item == protection) {
			o->protection[p].on_way |= on_way;
			return;
		}
	assert(o->protection_count < PROTECTIONS_MOST);
	o->protection[o->protection_count++] = (struct standing_there){protection, on_way};
}

static void add_worth(struct oracle *o, const struct item *item, unsigned inlet, bool settled,
                      uint8_t on_way)
{
	struct unknown *u = oracle_find(o, UNKNOWN_WORTH, item, QUESTION_NONE, inlet);

	if (!u)
		u = oracle_add(o, UNKNOWN_WORTH, item, QUESTION_NONE, inlet);
	u->may = ANY_WORTH;
	u->settled = settled;
	u->unanswered = !settled;
	u->on_way |= on_way;
}

static void add_protection(struct oracle *o, const struct item *protection, uint8_t on_way)
{
	const struct type *type;

	note_protection(o, protection, on_way);

	if (protection->of == INDEX_NONE) {
		add_worth(o, protection, 0,
		          item_answer(protection, o->book->known.protection_type) != NULL, on_way);
		return;
	}
	type = &o->book->type[protection->of];
	for (size_t r = 0; r < type->row_count; r++)
		oracle_add_answers(o, type->row[r].when, protection);
	if (oracle_paired(o, protection))
		oracle_add_answers(o, oracle_paired(o, protection)->row.when, protection);
}

static void add_list(struct oracle *o, const struct item *list, uint8_t on_way)
{
	for (size_t i = 0; i < list->child_count; i++)
		if (list->child[i]->scope == SCOPE_PROTECTION)
			add_protection(o, list->child[i], on_way);
}

/* What an inlet is fed by, of the point that is judged: one pipe in each completion. */
static void add_feed(struct oracle *o, struct inlet inlet)
{
	const struct item *key = inlet.item ? inlet.item : inlet.point;
	struct unknown *u = oracle_add(o, UNKNOWN_FEED, key, o->book->known.inlet_fed_by,
	                               inlet.item ? 0 : inlet.index);

	u->pipe_count = pipes_possible(o, inlet, u->pipe);
	u->may = ((cells)1 << u->pipe_count) - 1;
	u->settled = feed_text(o, inlet) != NULL;
	u->unanswered = !u->settled;
}

static void add_pipe(struct oracle *o, const struct item *pipe, uint8_t on_way);

static void add_inlet(struct oracle *o, struct inlet inlet, uint8_t on_way)
{
	if (oracle_inlet_cannot_tell(inlet))
		o->cannot_tell_on_way |= on_way;
	if (!oracle_inlet_unknown(inlet))
		add_list(o, inlet.item, on_way);
	else
		add_worth(o, inlet.item ? inlet.item : inlet.point, inlet.item ? 0 : inlet.index,
		          oracle_inlet_cannot_tell(inlet), on_way);
}

/* Of a point that stores, on the way. */
static void add_point(struct oracle *o, const struct item *point, uint8_t on_way)
{
	for (unsigned i = 0; i < kind_of(o, point)->inlet_count; i++) {
		struct inlet inlet = inlet_of(o, point, i);
		const struct item *pipe[PIPES_MOST];
		size_t count;

		if (!goes_on(o, point, i))
			continue;
		add_inlet(o, inlet, on_way);
		count = pipes_said(o, inlet, pipe);
		for (size_t p = 0; p < count; p++)
			add_pipe(o, pipe[p], on_way);
	}
}

static void add_pipe(struct oracle *o, const struct item *pipe, uint8_t on_way)
{
	const struct item *from;

	if (!pipe)
		return;
	add_list(o, pipe, on_way);
	from = from_of(o, pipe);
	if (from && !is_branch(from))
		add_point(o, from, on_way);
	else
		add_pipe(o, from, on_way);
}

struct unknown *oracle_feed_of(struct oracle *o, const struct item *inlet)
{
	return oracle_find(o, UNKNOWN_FEED, inlet, o->book->known.inlet_fed_by, 0);
}

const struct item *oracle_feeding_branch(const struct oracle *o, const struct item *inlet)
{
	const struct item *pipe[PIPES_MOST];

	for (size_t i = 0; i < o->unknown_count; i++)
		if (o->unknown[i].form == UNKNOWN_FEED && o->unknown[i].item == inlet)
			return o->unknown[i].pipe[o->unknown[i].now];
	return pipes_named(o, item_text(inlet, o->book->known.inlet_fed_by), pipe) == 1 ? pipe[0]
	                                                                                : NULL;
}

/* Fed by each pipe in turn: what stands on it may look at the branch that feeds it. */
static void add_own_inlet(struct oracle *o, struct inlet inlet, uint8_t on_way)
{
	size_t feed = o->unknown_count;

	add_feed(o, inlet);
	for (size_t p = 0; p < o->unknown[feed].pipe_count; p++) {
		o->unknown[feed].now = (unsigned)p;
		add_inlet(o, inlet, on_way);
		add_pipe(o, o->unknown[feed].pipe[p], on_way);
	}
}

void oracle_add_ways(struct oracle *o)
{
	for (unsigned i = 0; i < o->kind->inlet_count; i++) {
		struct inlet inlet = inlet_of(o, o->point, i);

		if (is_waste(o, inlet))
			add_inlet(o, inlet, (uint8_t)(1 << i));
		else
			add_own_inlet(o, inlet, (uint8_t)(1 << i));
	}
}

/* -- ways and goals -------------------------------------------------------------------------- */

/* One way up from an inlet, as far as it has come. */
struct way {
	unsigned inlet; /* of the point */
	struct worth worth;
	bool cannot_tell; /* past an inlet of which it can't be told what is fitted */
	bool own_met;
	const struct item *part_met[PIPES_MOST];
	size_t part_met_count;
	unsigned length;
};

static void least_of(struct worth *least, const struct worth *way)
{
	for (int f = 0; f < FIGURE_COUNT; f++)
		for (int m = 0; m < MECHANISM_COUNT; m++)
			least->is[f][m] = lesser(least->is[f][m], way->is[f][m]);
}

static void reach(struct goals *goals, const struct way *way, const char *to, bool to_part)
{
	struct goal *goal = NULL;

	for (size_t i = 0; i < goals->count && !goal; i++)
		if (goals->goal[i].inlet == way->inlet && goals->goal[i].to_part == to_part &&
		    strcmp(goals->goal[i].to, to) == 0)
			goal = &goals->goal[i];
	if (!goal) {
		assert(goals->count < GOALS_MOST);
		goal = &goals->goal[goals->count++];
		*goal = (struct goal){
		        .inlet = way->inlet, .to = to, .to_part = to_part, .worth = way->worth};
	}
	least_of(&goal->worth, &way->worth);
	if (way->cannot_tell)
		return;
	if (!goal->some_told)
		goal->told = way->worth;
	goal->some_told = true;
	least_of(&goal->told, &way->worth);
}

static bool draws_from(const struct oracle *o, const struct item *point, const struct item *pipe)
{
	for (unsigned i = 0; i < kind_of(o, point)->inlet_count; i++) {
		struct inlet inlet = inlet_of(o, point, i);

		if (!is_waste(o, inlet) && fed_from(o, inlet, pipe, 0))
			return true;
	}
	return false;
}

static void meet_draw_off(const struct oracle *o, struct goals *goals, struct way *way,
                          const struct item *point, const struct way *before)
{
	const struct item *part = survey_part(o->survey, point);

	if (!part || part == survey_part(o->survey, o->point)) {
		if (!way->own_met)
			reach(goals, way, point->ref, false);
		way->own_met = true;
		return;
	}
	for (size_t i = 0; i < before->part_met_count; i++)
		if (before->part_met[i] == part)
			return;
	reach(goals, way, part->ref, true);
	assert(way->part_met_count < PIPES_MOST);
	way->part_met[way->part_met_count++] = part;
}

/* The draw-offs of a pipe and of what is downstream of it. @return whether there are any. */
static bool meet_pipe(const struct oracle *o, struct goals *goals, struct way *way,
                      const struct item *pipe)
{
	const struct item *premises = o->survey->premises;
	struct way before = *way;
	bool any = false;

	for (size_t r = 0; r < premises->child_count; r++) {
		const struct item *room = premises->child[r];

		if (room->scope != SCOPE_ROOM)
			continue;
		for (size_t p = 0; p < room->child_count; p++) {
			const struct item *point = room->child[p];

			if (point == o->point || point->of == INDEX_NONE ||
			    !kind_of(o, point)->draw_off || !draws_from(o, point, pipe))
				continue;
			any = true;
			meet_draw_off(o, goals, way, point, &before);
		}
	}
	return any;
}

static void go_up(struct oracle *o, struct goals *goals, struct way *way, struct inlet inlet);

/* Into a pipe, past its head, and on. */
static void enter_pipe(struct oracle *o, struct goals *goals, struct way *way,
                       const struct item *pipe)
{
	const struct item *from;

	if (++way->length > WAY_PIPES_MOST)
		return;
	meet_pipe(o, goals, way, pipe);
	if (!pipe) {
		reach(goals, way, "main", false);
		return;
	}
	oracle_pass_list(o, &way->worth, pipe);
	from = from_of(o, pipe);
	if (!from || is_branch(from) || !has_supply(o, from)) {
		enter_pipe(o, goals, way, is_branch(from) ? from : NULL);
		return;
	}
	for (unsigned i = 0; i < kind_of(o, from)->inlet_count; i++) {
		struct way one = *way;

		if (goes_on(o, from, i))
			go_up(o, goals, &one, inlet_of(o, from, i));
	}
}

/* Past what stands on an inlet into the pipe that feeds it; of a point on the way into each that it
 * names. */
static void go_up(struct oracle *o, struct goals *goals, struct way *way, struct inlet inlet)
{
	const struct item *pipe[PIPES_MOST];
	size_t count = pipes_said(o, inlet, pipe);

	oracle_pass_inlet(o, &way->worth, inlet);
	way->cannot_tell |= oracle_inlet_cannot_tell(inlet);
	if (inlet.point == o->point) {
		const struct unknown *feed =
		        oracle_get(o, UNKNOWN_FEED, inlet.item ? inlet.item : inlet.point,
		                   o->book->known.inlet_fed_by, inlet.item ? 0 : inlet.index);

		enter_pipe(o, goals, way, feed->pipe[feed->now]);
		return;
	}
	for (size_t i = 0; i < count; i++) {
		struct way one = *way;

		enter_pipe(o, goals, &one, pipe[i]);
	}
}

/* From a waste inlet: into the point, and out by the first of its branches that somebody draws
 * from. */
static void go_in(struct oracle *o, struct goals *goals, struct way *way, struct inlet inlet)
{
	const struct item *premises = o->survey->premises;

	oracle_pass_inlet(o, &way->worth, inlet);
	way->cannot_tell |= oracle_inlet_cannot_tell(inlet);
	for (size_t b = 0; b < premises->child_count; b++) {
		const struct item *branch = premises->child[b];

		if (is_branch(branch) && from_of(o, branch) == o->point &&
		    meet_pipe(o, goals, way, branch))
			return;
	}
	reach(goals, way, "main", false);
}

void oracle_goals(struct oracle *o, struct goals *out)
{
	out->count = 0;
	for (unsigned i = 0; i < o->kind->inlet_count; i++) {
		struct way way = {.inlet = i};
		struct inlet inlet = inlet_of(o, o->point, i);

		way.worth = same_worth(CATEGORY_LEAST);
		if (is_waste(o, inlet))
			go_in(o, out, &way, inlet);
		else
			go_up(o, out, &way, inlet);
	}
}
