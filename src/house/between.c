#include "tundish/house/between.h"

#include <stdlib.h>
#include <string.h>

/* ORDER TURN */
static const char *const turn_names[TURN_COUNT] = {"worse", "new",     "better",
                                                   "gone",  "changed", "as_before"};

const char *turn_name(enum turn turn)
{
	return turn_names[turn];
}

/* Above 0 where the second is worse: a lower verdict comes first in its enum, and is worse. */
static int worsening(const struct stand *then, const struct stand *now)
{
	const int step[] = {
	        (int)then->verdict - (int)now->verdict,
	        (int)now->urgency - (int)then->urgency,
	        now->in_fact.most - then->in_fact.most,
	        now->on_paper.most - then->on_paper.most,
	        now->in_fact.least - then->in_fact.least,
	        now->on_paper.least - then->on_paper.least,
	};

	for (size_t i = 0; i < sizeof(step) / sizeof(step[0]); i++) {
		if (step[i] != 0)
			return step[i];
	}
	return 0;
}

enum turn stand_turn(const struct stand *then, const struct stand *now)
{
	int by = worsening(then, now);

	return by > 0 ? TURN_WORSE : by < 0 ? TURN_BETTER : TURN_AS_BEFORE;
}

/* -- the points -------------------------------------------------------------------------------- */

struct comparing {
	struct between *out;
	struct arena *arena;
	struct between_point **by_ref; /* sorted */
	struct err *err;
};

static bool no_memory(struct comparing *comparing)
{
	err_set(comparing->err, ERR_MEMORY, "no memory for the comparison");
	return false;
}

static const struct item *point_of(const struct survey *survey, const char *ref)
{
	const struct item *item = survey_find(survey, ref, strlen(ref));

	return item && item->scope == SCOPE_POINT ? item : NULL;
}

static size_t points_of(const struct survey *survey)
{
	const struct item *premises = survey->premises;
	size_t count = 0;

	for (size_t i = 0; i < premises->child_count; i++)
		count += item_children(premises->child[i], SCOPE_POINT);
	return count;
}

/* Each point of the later state with the one it was; of the earlier only those that are gone. */
static void pair_room(struct comparing *comparing, const struct item *room, bool later)
{
	struct between *out = comparing->out;

	for (size_t i = 0; i < room->child_count; i++) {
		const struct item *item = room->child[i];
		if (item->scope != SCOPE_POINT)
			continue;
		const struct item *other = point_of(later ? out->before : out->after, item->ref);
		if (!later && other)
			continue;
		struct between_point *point = &out->point[out->point_count++];
		point->before = later ? other : item;
		point->after = later ? item : NULL;
	}
}

static int by_ref(const void *a, const void *b)
{
	const struct between_point *const *left = a, *const *right = b;
	const struct item *one = (*left)->after ? (*left)->after : (*left)->before;
	const struct item *two = (*right)->after ? (*right)->after : (*right)->before;

	return strcmp(one->ref, two->ref);
}

static bool pair_points(struct comparing *comparing)
{
	struct between *out = comparing->out;
	const struct survey *state[] = {out->after, out->before};
	size_t most = points_of(out->before) + points_of(out->after);

	out->point = arena_take(comparing->arena, most * sizeof(*out->point));
	comparing->by_ref = arena_take(comparing->arena, most * sizeof(*comparing->by_ref));
	if (!out->point || !comparing->by_ref)
		return no_memory(comparing);
	for (size_t s = 0; s < 2; s++) {
		for (size_t i = 0; i < state[s]->premises->child_count; i++) {
			if (state[s]->premises->child[i]->scope == SCOPE_ROOM)
				pair_room(comparing, state[s]->premises->child[i], s == 0);
		}
	}
	for (size_t i = 0; i < out->point_count; i++)
		comparing->by_ref[i] = &out->point[i];
	qsort(comparing->by_ref, out->point_count, sizeof(*comparing->by_ref), by_ref);
	return true;
}

static size_t index_of(const struct comparing *comparing, const struct item *point)
{
	struct between_point key = {.after = point}, *wanted = &key, **found;

	found = bsearch(&wanted, comparing->by_ref, comparing->out->point_count,
	                sizeof(*comparing->by_ref), by_ref);
	return found ? (size_t)(*found - comparing->out->point) : comparing->out->point_count;
}

/* -- the changes ------------------------------------------------------------------------------- */

static const char *last_step(const char *where)
{
	const char *slash = strrchr(where, '/');

	return slash ? slash + 1 : where;
}

/* Whether a path's last step but one is the key of a list: then it names an item. */
static bool is_presence(const char *where)
{
	const char *last = last_step(where), *step = last > where ? last - 1 : where;
	size_t length;

	while (step > where && step[-1] != '/')
		step--;
	if (last == where)
		return false;
	length = (size_t)(last - 1 - step);
	for (enum scope scope = SCOPE_PART; scope < SCOPE_OUTCOME; scope++) {
		const char *key = survey_list_key(scope);
		if (key && strlen(key) == length && memcmp(key, step, length) == 0)
			return true;
	}
	return false;
}

bool change_of_presence(const struct change *change)
{
	return is_presence(change->where);
}

/* The point that holds what a path names, in one of the two states. */
static const struct item *point_at(const struct survey *survey, const struct change *change)
{
	const char *where = change->where;
	const struct item *item = survey_find(survey, where, strcspn(where, "/"));
	const struct item *last = NULL;

	if (item && item->scope == SCOPE_ROOM && is_presence(where))
		last = point_of(survey, last_step(where));
	else if (item)
		last = item_above(item, SCOPE_POINT);
	return last;
}

static bool same_text(const char *a, const char *b)
{
	return a == b || (a && b && strcmp(a, b) == 0);
}

/* The answer that a path names, of an item or one of its inlets; NULL: not answered there. */
static const char *text_at(const struct survey *survey, const struct item *item, const char *where,
                           struct arena *arena)
{
	for (size_t i = 0; i < item->answer_count; i++) {
		if (same_text(survey_where(survey, item, item->answer[i].question, arena), where))
			return item->answer[i].text;
	}
	for (size_t i = 0; i < item->child_count; i++) {
		const char *text = NULL;
		if (item->child[i]->scope == SCOPE_INLET)
			text = text_at(survey, item->child[i], where, arena);
		if (text)
			return text;
	}
	return NULL;
}

/* The item whose presence a path names, where it was there before. */
static const struct item *item_at(const struct survey *survey, const char *where,
                                  struct arena *arena)
{
	const char *last = last_step(where);
	const struct item *item = survey_find(survey, last, strlen(last));

	if (!item) { /* an inlet has no ref of its own */
		const struct item *point = survey_find(survey, where, strcspn(where, "/"));
		for (size_t i = 0; point && i < point->child_count; i++) {
			if (point->child[i]->scope == SCOPE_INLET &&
			    strcmp(point->child[i]->ref, last) == 0)
				item = point->child[i];
		}
	}
	return item && same_text(survey_where(survey, item, QUESTION_NONE, arena), where) ? item
	                                                                                  : NULL;
}

/*
 * survey_compare takes a point out of one room and puts it into another with all it holds. What it
 * held before too is no news.
 */
static bool was_so_before(struct comparing *comparing, const struct between_point *point,
                          const struct between_change *change)
{
	const struct survey *survey = comparing->out->before;
	const char *where = change->change.where;

	if (!point->before || !point->after || point->before->parent == NULL ||
	    strcmp(point->before->parent->ref, point->after->parent->ref) == 0 ||
	    change->change.before)
		return false;
	if (change->presence)
		return item_at(survey, where, comparing->arena) != NULL;
	const struct item *item = survey_find(survey, where, strcspn(where, "/"));
	return item &&
	       same_text(text_at(survey, item, where, comparing->arena), change->change.after);
}

static void add_change(struct comparing *comparing, const struct change *change)
{
	struct between *out = comparing->out;
	struct between_change *added = &out->change[out->change_count];
	const struct item *point = point_at(out->after, change);

	if (!point)
		point = point_at(out->before, change);
	*added = (struct between_change){.change = *change, .presence = is_presence(change->where)};
	added->point = point ? index_of(comparing, point) : out->point_count;
	if (added->point < out->point_count &&
	    was_so_before(comparing, &out->point[added->point], added))
		return;
	out->change_count++;
}

/* Lists of changes, a point each, in their order: from the last to the first. */
static void link_changes(struct between *out)
{
	out->first_elsewhere = out->change_count;
	for (size_t i = 0; i < out->point_count; i++)
		out->point[i].first_change = out->change_count;
	for (size_t i = out->change_count; i-- > 0;) {
		struct between_change *change = &out->change[i];
		size_t *first = change->point < out->point_count
		                        ? &out->point[change->point].first_change
		                        : &out->first_elsewhere;
		change->next_change = *first;
		*first = i;
	}
}

static bool find_changes(struct comparing *comparing)
{
	struct between *out = comparing->out;
	struct changes changes;

	if (!survey_compare(out->before, out->after, comparing->arena, &changes))
		return no_memory(comparing);
	out->change = arena_take(comparing->arena, changes.count * sizeof(*out->change));
	if (!out->change)
		return no_memory(comparing);
	for (size_t i = 0; i < changes.count; i++)
		add_change(comparing, &changes.item[i]);
	if (comparing->arena->failed)
		return no_memory(comparing);
	link_changes(out);
	return true;
}

/* -- the verdicts ------------------------------------------------------------------------------ */

static bool stand_of(struct judge *judge, const struct item *point, struct stand *out,
                     struct err *err)
{
	struct assessment a;
	struct err doubt = {0};

	if (!judge_point(judge, point, &a, &doubt) && doubt.kind == ERR_MEMORY) {
		*err = doubt;
		return false;
	}
	*out = (struct stand){a.verdict, a.urgency, a.category, a.on_paper, a.in_fact};
	return true;
}

static bool judge_state(struct comparing *comparing, struct judge *judge, bool later)
{
	struct between *out = comparing->out;

	if (!judge_survey(judge, later ? out->after : out->before, comparing->err))
		return false;
	for (size_t i = 0; i < out->point_count; i++) {
		struct between_point *point = &out->point[i];
		const struct item *item = later ? point->after : point->before;
		if (item &&
		    !stand_of(judge, item, later ? &point->now : &point->then, comparing->err))
			return false;
	}
	return true;
}

static void settle_turns(struct between *out)
{
	for (size_t i = 0; i < out->point_count; i++) {
		struct between_point *point = &out->point[i];
		if (!point->before)
			point->turn = TURN_NEW;
		else if (!point->after)
			point->turn = TURN_GONE;
		else
			point->turn = stand_turn(&point->then, &point->now);
		if (point->turn == TURN_AS_BEFORE && point->first_change < out->change_count)
			point->turn = TURN_CHANGED;
		out->turn[point->turn]++;
	}
}

bool between_compare(const struct survey *before, const struct survey *after, struct arena *arena,
                     struct between *out, struct err *err)
{
	struct comparing comparing = {.out = out, .arena = arena, .err = err};
	struct judge *judge;
	bool ok;

	*out = (struct between){.before = before, .after = after};
	if (!pair_points(&comparing) || !find_changes(&comparing))
		return false;
	judge = judge_create(before->book);
	ok = judge ? judge_state(&comparing, judge, false) && judge_state(&comparing, judge, true)
	           : no_memory(&comparing);
	judge_destroy(judge);
	if (ok)
		settle_turns(out);
	return ok;
}
