/* What feeds what, and what stands in the way. */
#include "making.h"

#include <string.h>

enum { APART_OF = 8 }; /* one in so many inlets is not as the one beside it */

/* -- branches -------------------------------------------------------------------------------- */

static struct item *add_branch(struct making *making, const char *stem, const char *name,
                               const char *from, const struct item *part)
{
	const struct known_questions *known = &making->book->known;
	struct item *branch =
	        add_last(making, making->survey->premises, SCOPE_BRANCH, free_ref(making, stem));
	question_index in_part = rulebook_question(making->book, SCOPE_BRANCH, INDEX_NONE, "",
	                                           "part", sizeof("part") - 1);

	if (!branch || !put_words(making, branch, known->branch_name, FORM_TEXT, name) ||
	    !put_words(making, branch, known->branch_from, FORM_FEED, from) ||
	    (part && !put_words(making, branch, in_part, FORM_PART, part->ref)) ||
	    !answer_all(making, branch, NULL))
		return NULL;
	return branch;
}

/* One pipe comes in; each part has a branch of its own from it. */
static bool lay_mains(struct making *making)
{
	const struct item *rising = NULL;

	if (making->part_count > 1) {
		rising = add_branch(making, "rising", "rising main", "main", NULL);
		if (!rising)
			return false;
	}
	for (size_t p = 0; p < making->part_count; p++) {
		struct part_plan *part = &making->part[p];
		const char *stem =
		        rising ? arena_print(&making->scratch, "cold_%s", part->item->ref) : "cold";

		part->cold = stem ? add_branch(making, stem, "mains cold",
		                               rising ? rising->ref : "main", part->item)
		                  : NULL;
		if (!part->cold)
			return stem ? false : making_no_memory(making);
	}
	return true;
}

/* -- what is made on the premises ------------------------------------------------------------ */

/* The branch that starts at a point, begun with the first thing that it feeds. @p inlet: what is made there; NULL: what is kept. */
static struct item *branch_from(struct making *making, struct point_plan *point, const char *inlet)
{
	const struct kind *kind = &making->book->kind[point->kind];
	struct item **branch = inlet ? &point->made : &point->stored;
	const char *name =
	        inlet ? arena_print(&making->scratch, "%s (%s)", inlet, kind->name) : kind->name;

	if (!*branch)
		*branch = add_branch(making, inlet ? inlet : kind->id, name, point->item->ref,
		                     making->part[point->part].item);
	return *branch;
}

/* A maker in the same part, else in another; of several by chance. */
static struct point_plan *find_maker(struct making *making, const struct point_plan *fed,
                                     const char *inlet)
{
	struct point_plan *found = NULL;

	for (int same = 1; same >= 0 && !found; same--) {
		uint64_t count = 0;

		for (size_t p = 0; p < making->point_count; p++) {
			struct point_plan *point = &making->point[p];

			if ((point->part == fed->part) == (same == 1) &&
			    kind_makes(making, point->kind, inlet) &&
			    random_below(&making->truth, ++count) == 0)
				found = point;
		}
	}
	return found;
}

/* Where none stands in the house: off the part's cold, past a heater that is not among the outlets. */
static const struct item *feed_made(struct making *making, const struct point_plan *fed,
                                    const char *inlet)
{
	struct point_plan *maker = find_maker(making, fed, inlet);
	const struct item *cold = making->part[fed->part].cold;

	if (maker)
		return branch_from(making, maker, inlet);
	for (size_t i = 0; i < item_children(making->survey->premises, SCOPE_BRANCH); i++) {
		const struct item *branch = item_child(making->survey->premises, SCOPE_BRANCH, i);
		const char *from = item_text(branch, making->book->known.branch_from),
		           *name = item_text(branch, making->book->known.branch_name);

		if (from && name && strcmp(from, cold->ref) == 0 && strcmp(name, inlet) == 0)
			return branch;
	}
	return add_branch(making, inlet, inlet, cold->ref, making->part[fed->part].item);
}

/* -- what feeds an inlet --------------------------------------------------------------------- */

/* What stores feeds only what comes after it in the order of laying, so that no feed goes round in a circle. */
static struct point_plan *find_store(struct making *making, const struct point_plan *fed,
                                     uint16_t kind, bool same_part, const bool *laid)
{
	struct point_plan *found = NULL;
	uint64_t count = 0;

	for (size_t p = 0; p < making->point_count; p++)
		if (laid[p] && making->point[p].kind == kind &&
		    (making->point[p].part == fed->part) == same_part && &making->point[p] != fed &&
		    random_below(&making->truth, ++count) == 0)
			found = &making->point[p];
	return found;
}

/* The main, or what stores in the same part or in another. @p feed: NULL where none of what it is said to be fed by is there. */
static bool draw_feed(struct making *making, const struct point_plan *fed, bool same_part,
                      const bool *laid, const struct item **feed)
{
	const struct often *feeding = feeding_of(making, fed->item);
	size_t count = feeding ? feeding->fed_by_count : 0, drawn;
	struct point_plan **store = arena_take(&making->scratch, (count + 1) * sizeof(*store));
	unsigned *weight = arena_take(&making->scratch, (count + 1) * sizeof(*weight));

	if (!store || !weight)
		return making_no_memory(making);
	for (size_t i = 0; i < count; i++) {
		bool main = feeding->fed_by[i].index == FED_BY_MAIN;

		if (!main)
			store[i] =
			        find_store(making, fed, feeding->fed_by[i].index, same_part, laid);
		if (main ? same_part : store[i] != NULL)
			weight[i] = feeding->fed_by[i].weight;
	}
	drawn = random_weighted(&making->truth, weight, count);
	if (drawn == count)
		return true;
	*feed = store[drawn] ? branch_from(making, store[drawn], NULL)
	                     : making->part[fed->part].cold;
	return *feed != NULL;
}

/* Only what has nothing to be fed by in its own part is fed from another: a cylinder under the
 * cistern of the whole house. */
static const struct item *feed_of(struct making *making, struct point_plan *fed, const char *inlet,
                                  const bool *laid)
{
	const struct item *feed = NULL;

	if (is_made(making, inlet) && !kind_makes(making, fed->kind, inlet))
		return feed_made(making, fed, inlet);
	if (!draw_feed(making, fed, true, laid, &feed) ||
	    (!feed && !draw_feed(making, fed, false, laid, &feed)))
		return NULL;
	return feed ? feed : making->part[fed->part].cold;
}

/* -- protections ----------------------------------------------------------------------------- */

static bool tests_a_test(const struct rulebook *book, const struct condition *condition)
{
	if (!condition)
		return false;
	if (condition->form == CONDITION_TEST)
		return book->question[condition->question].scope == SCOPE_TEST;
	for (const struct condition *child = condition->child; child; child = child->next)
		if (tests_a_test(book, child))
			return true;
	return false;
}

static bool has_tests(const struct rulebook *book, const struct type *type)
{
	for (size_t i = 0; i < type->question_count; i++)
		if (book->question[type->question[i]].scope == SCOPE_TEST)
			return true;
	for (size_t r = 0; r < type->row_count; r++)
		if (tests_a_test(book, type->row[r].when))
			return true;
	return false;
}

static bool asks_test(const struct making *making, const struct type *type, const cells *may)
{
	bool asks = has_tests(making->book, type);

	for (size_t q = 0; may && q < making->book->question_count; q++)
		asks |= making->book->question[q].scope == SCOPE_TEST &&
		        may[q] != question_all(&making->book->question[q]);
	return asks;
}

static bool add_test(struct making *making, struct item *protection, cells *may)
{
	struct item *test = add_last(making, protection, SCOPE_TEST, numbered_ref(making, 'T'));

	return test && answer_all(making, test, may) && (!may || pin(making, test, may));
}

/* What shuts just behind it is seen where it is asked for. */
static bool answer_shut_downstream(struct making *making, struct item *protection,
                                   const struct type *type, uint16_t next)
{
	if (type->shuts_downstream == QUESTION_NONE || next == INDEX_NONE ||
	    !making->book->type[next].shuts)
		return true;
	return put_text(making, protection, type->shuts_downstream, "yes");
}

/* A gap is at the one spout that both pipes end in: what is measured there is measured once. */
static const struct item *same_gap(const struct making *making, const struct chain *chain,
                                   size_t index)
{
	const struct item *like = NULL;

	if (chain->like && index != chain->aimed &&
	    !making->book->type[chain->type[index]].device &&
	    index < item_children(chain->like, SCOPE_PROTECTION))
		like = item_child(chain->like, SCOPE_PROTECTION, index);
	return like && like->of == chain->type[index] ? like : NULL;
}

static bool answer_alike(struct making *making, struct item *protection, const struct item *like)
{
	for (size_t i = 0; like && i < like->answer_count; i++)
		if (!item_answer(protection, like->answer[i].question) &&
		    !survey_put(making->survey, protection, &like->answer[i]))
			return making_no_memory(making);
	return true;
}

/* K1a, K1b ... along the inlets of a point; Z1, Z2 ... elsewhere. */
static const char *protection_ref(struct making *making, const struct item *on)
{
	const struct item *point = item_above(on, SCOPE_POINT);
	char letter = 'a';
	const char *ref = NULL;

	for (; point && letter <= 'z'; letter++) {
		ref = arena_print(&making->scratch, "%s%c", point->ref, letter);
		if (!ref || !survey_ref_fault(making->survey, ref))
			return ref;
	}
	return numbered_ref(making, 'Z');
}

static bool add_protection(struct making *making, struct item *on, const struct chain *chain,
                           size_t index)
{
	const struct type *type = &making->book->type[chain->type[index]];
	uint16_t next = index + 1 < chain->count ? chain->type[index + 1] : INDEX_NONE;
	cells *may = index == chain->aimed ? chain->may : NULL;
	struct item *protection =
	        add_last(making, on, SCOPE_PROTECTION, protection_ref(making, on));

	return protection &&
	       put_text(making, protection, making->book->known.protection_type, type->id) &&
	       answer_shut_downstream(making, protection, type, next) &&
	       answer_alike(making, protection, same_gap(making, chain, index)) &&
	       answer_all(making, protection, may) && (!may || pin(making, protection, may)) &&
	       (!asks_test(making, type, may) || add_test(making, protection, may));
}

static bool fit(struct making *making, struct item *on, const struct chain *chain)
{
	on->nothing_said = false;
	for (size_t i = 0; i < chain->count; i++)
		if (!add_protection(making, on, chain, i))
			return false;
	return true;
}

static void draw_fitting(struct making *making, const struct fittings *fittings,
                         struct chain *chain)
{
	unsigned *weight = arena_take(&making->scratch, (fittings->count + 1) * sizeof(*weight));
	size_t drawn;

	for (size_t i = 0; weight && i < fittings->count; i++)
		weight[i] = fittings->item[i].weight;
	drawn = weight ? random_weighted(&making->truth, weight, fittings->count) : fittings->count;
	for (size_t i = 0; drawn < fittings->count && i < fittings->item[drawn].type_count; i++)
		chain->type[chain->count++] = fittings->item[drawn].type[i];
}

/* Where nothing is said: nothing, or what is usual, the first most often. */
static void draw_usual(struct making *making, const struct kind *kind, struct chain *chain)
{
	uint64_t sum = kind->usual_count * (kind->usual_count + 1) / 2 + kind->usual_count + 1,
	         drawn = random_below(&making->truth, sum);
	const struct type *type;

	for (size_t i = 0; i < kind->usual_count; i++) {
		if (drawn < kind->usual_count - i) {
			type = &making->book->type[kind->usual[i]];
			if (strcmp(type->id, "nothing") != 0)
				chain->type[chain->count++] = kind->usual[i];
			return;
		}
		drawn -= kind->usual_count - i;
	}
}

static void draw_chain(struct making *making, const struct item *point, unsigned inlet,
                       struct chain *chain)
{
	const struct kind *kind = &making->book->kind[point->of];
	const struct fittings *fittings = fittings_of(making, point, inlet);

	*chain = (struct chain){.aimed = SIZE_MAX};
	if (fittings)
		draw_fitting(making, fittings, chain);
	else if (!kind->inlet[inlet].waste)
		draw_usual(making, kind, chain);
}

static void want_chain(const struct point_plan *point, struct chain *chain)
{
	*chain = (struct chain){.may = point->may};
	if (point->wanted.before != INDEX_NONE)
		chain->type[chain->count++] = point->wanted.before;
	chain->aimed = chain->count;
	chain->type[chain->count++] = point->wanted.type;
}

/* -- points ---------------------------------------------------------------------------------- */

/* A machine that fills cold has no hot hose, a WC without a spray no spray's pipe: an inlet is left out where nothing comes
 * through it and something does through another, a drain where nothing does. What stores has its first one all the same. */
static bool is_there(const struct making *making, const struct point_plan *point, unsigned index)
{
	const struct kind *kind = &making->book->kind[point->kind];

	if (anything_may_come(making, point->item, index) || (index == 0 && kind->stores) ||
	    (point->is_wanted && point->wanted.inlet == index))
		return true;
	for (unsigned other = 0; other < kind->inlet_count; other++)
		if (other != index && !kind->inlet[other].waste &&
		    anything_may_come(making, point->item, other))
			return false;
	return !kind->inlet[index].waste;
}

/* What was drawn for an inlet, for the next one of the same point. */
struct beside {
	const struct fittings *fittings;
	struct chain chain;
	const struct item *inlet;
};

/* Who put a check on the cold of a tap mostly put one on the hot as well. */
static void draw_beside(struct making *making, const struct item *point, unsigned index,
                        struct beside *beside, struct chain *chain)
{
	const struct fittings *fittings = fittings_of(making, point, index);

	if (fittings && fittings == beside->fittings &&
	    random_below(&making->truth, APART_OF) != 0) {
		*chain = beside->chain;
		chain->like = beside->inlet;
		return;
	}
	draw_chain(making, point, index, chain);
	beside->fittings = fittings;
	beside->chain = *chain;
}

static bool lay_inlet(struct making *making, struct point_plan *point, unsigned index,
                      const bool *laid, struct beside *beside)
{
	const struct kind_inlet *inlet = &making->book->kind[point->kind].inlet[index];
	bool wanted = point->is_wanted && point->wanted.inlet == index;
	struct item *item = add_last(making, point->item, SCOPE_INLET, inlet->id);
	const struct item *feed;
	struct chain chain;

	if (!item)
		return false;
	if (!inlet->waste) {
		feed = feed_of(making, point, inlet->id, laid);
		if (!feed || !put_words(making, item, making->book->known.inlet_fed_by, FORM_FEED,
		                        feed->ref))
			return false;
	}
	draw_beside(making, point->item, index, beside, &chain);
	beside->inlet = item;
	if (wanted)
		want_chain(point, &chain);
	else if (!inlet->waste && !trick_chain(making, point, index, &chain))
		return false;
	return answer_all(making, item, wanted ? point->may : NULL) && fit(making, item, &chain);
}

static bool lay_point(struct making *making, size_t p, bool *laid)
{
	const struct kind *kind = &making->book->kind[making->point[p].kind];
	struct beside beside = {NULL, {.aimed = SIZE_MAX}, NULL};

	for (unsigned inlet = 0; inlet < kind->inlet_count; inlet++)
		if (is_there(making, &making->point[p], inlet) &&
		    !lay_inlet(making, &making->point[p], inlet, laid, &beside))
			return false;
	laid[p] = true;
	return true;
}

/* Cisterns and the like, then heaters, then what draws from them. */
static unsigned turn_of(const struct making *making, const struct point_plan *point)
{
	const struct kind *kind = &making->book->kind[point->kind];

	return !kind->stores ? 2 : makes_any(making, point->kind) ? 1 : 0;
}

/* A zone valve on a branch, a device for the whole site: only where weights say so. */
static bool fit_shared(struct making *making, struct item *on)
{
	const struct fittings *fittings = fittings_of(making, on, 0);
	struct chain chain = {.aimed = SIZE_MAX};

	if (!fittings)
		return true;
	draw_fitting(making, fittings, &chain);
	return fit(making, on, &chain);
}

bool lay_pipes(struct making *making)
{
	struct item *premises = making->survey->premises;
	bool *laid = arena_take(&making->scratch, making->point_count + 1);

	if (!laid)
		return making_no_memory(making);
	if (!lay_mains(making))
		return false;
	for (unsigned turn = 0; turn < 3; turn++)
		for (size_t p = 0; p < making->point_count; p++)
			if (turn_of(making, &making->point[p]) == turn &&
			    !lay_point(making, p, laid))
				return false;
	for (size_t i = 0; i < item_children(premises, SCOPE_BRANCH); i++)
		if (!fit_shared(making, item_child(premises, SCOPE_BRANCH, i)))
			return false;
	return fit_shared(making, premises);
}
