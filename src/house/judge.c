#include "work.h"

#include <stdlib.h>
#include <string.h>

/* -- the judge -------------------------------------------------------------------------- */

struct judge *judge_create(const struct rulebook *book)
{
	struct judge *judge = calloc(1, sizeof *judge);
	struct err err = {0};

	if (!judge)
		return NULL;
	judge->book = book;
	judge->kind = calloc(book->kind_count + 1, sizeof(struct subject *));
	judge->type = calloc(book->type_count + 1, sizeof(struct subject *));
	judge->urgency = subject_of_urgency(book, &err);
	if (!judge->kind || !judge->type || !judge->urgency) {
		judge_destroy(judge);
		return NULL;
	}
	return judge;
}

void judge_destroy(struct judge *judge)
{
	if (!judge)
		return;
	for (size_t k = 0; judge->kind && k < judge->book->kind_count; k++)
		subject_destroy(judge->kind[k]);
	for (size_t t = 0; judge->type && t < judge->book->type_count; t++)
		subject_destroy(judge->type[t]);
	free(judge->kind);
	free(judge->type);
	subject_destroy(judge->urgency);
	reading_finish(&judge->kind_reading);
	reading_finish(&judge->urgency_reading);
	for (size_t i = 0; i < judge->spare_count; i++)
		reading_finish(&judge->spare[i]);
	free(judge->spare);
	tree_finish(&judge->tree);
	arena_finish(&judge->scratch);
	free(judge);
}

bool judge_survey(struct judge *judge, const struct survey *survey, struct err *err)
{
	judge->survey = survey;
	return tree_build(&judge->tree, survey, err);
}

struct subject *judge_kind(struct judge *judge, uint16_t kind, struct err *err)
{
	if (!judge->kind[kind]) {
		judge->kind[kind] = subject_of_kind(judge->book, &judge->book->kind[kind], err);
		if (judge->kind[kind])
			diagram_store_settled(judge->kind[kind]->store);
	}
	return judge->kind[kind];
}

struct subject *judge_type(struct judge *judge, uint16_t type, struct err *err)
{
	if (!judge->type[type]) {
		judge->type[type] = subject_of_type(judge->book, &judge->book->type[type], err);
		if (judge->type[type])
			diagram_store_settled(judge->type[type]->store);
	}
	return judge->type[type];
}

void judge_lend(struct judge *judge, struct reading *reading)
{
	if (judge->spare_count == 0)
		return;
	judge->spare_count--;
	reading->leaf = judge->spare[judge->spare_count].leaf;
	reading->leaf_room = judge->spare[judge->spare_count].leaf_room;
}

static void give_back(struct judge *judge, struct reading *reading)
{
	if (!reading->leaf)
		return;
	if (judge->spare_count == judge->spare_room) {
		size_t room = judge->spare_room ? judge->spare_room * 2 : 16;
		struct reading *grown = realloc(judge->spare, room * sizeof *grown);

		if (!grown) {
			reading_finish(reading);
			return;
		}
		judge->spare = grown;
		judge->spare_room = room;
	}
	judge->spare[judge->spare_count++] =
	        (struct reading){.leaf = reading->leaf, .leaf_room = reading->leaf_room};
	reading->leaf = NULL;
}

static void give_back_all(struct work *work)
{
	for (size_t d = 0; d < work->device_count; d++)
		give_back(work->judge, &work->device[d].reading);
	work->device_count = 0;
}

/* -- one point -------------------------------------------------------------------------- */

static void find_inlets(struct work *work)
{
	const struct item *inlet;

	for (size_t i = 0; (inlet = item_child(work->point, SCOPE_INLET, i)) != NULL; i++) {
		int index = survey_inlet_index(work->judge->survey, inlet);

		if (index >= 0)
			work->inlet[index] = inlet;
	}
	for (unsigned i = 0; i < work->kind->inlet_count; i++) {
		if (!work->kind->inlet[i].waste)
			tree_feeds(work->tree, work->point, work->inlet[i], &work->feeds[i]);
		else
			work->feeds[i] = (struct feeds){.count = 1, .answered = true};
		if (work->inlet[i])
			continue;
		work->unsaid[i] = work_stand_in(work, work->point, work->kind->inlet[i].id);
		if (work->no_memory)
			return;
	}
}

/** What the undertaker decided counts when it can be shown: with its reference and its date. */
static void find_decision(struct work *work)
{
	const struct known_questions *known = &work->book->known;
	const struct answer *category;

	if (known->says_category == QUESTION_NONE || known->says_reference == QUESTION_NONE ||
	    known->says_date == QUESTION_NONE)
		return;
	category = item_answer(work->point, known->says_category);
	if (!category || category->settled || !item_answer(work->point, known->says_reference) ||
	    !item_answer(work->point, known->says_date))
		return;
	work->decided = category->text[0] - '0';
	if (work->decided < CATEGORY_LEAST || work->decided > CATEGORY_MOST ||
	    category->text[1] != '\0') {
		work->decided = 0;
		return;
	}
}

static bool list_fluids(struct work *work)
{
	struct assessment *out = work->out;

	out->fluid = arena_take(work->arena, (FLUIDS_MOST + 1) * sizeof *out->fluid);
	if (!out->fluid)
		return false;
	if (work->decided != 0)
		out->fluid[out->fluid_count++].fluid = FLUID_UNDERTAKER;
	for (unsigned f = 0; work->decided == 0 && f < work->kind->fluid_count; f++)
		out->fluid[out->fluid_count++].fluid = f;
	return true;
}

static void read_kind(struct work *work, struct subject *subject)
{
	struct reading *reading = work->kind_reading;

	reading->subject = subject;
	reading->root = work->decided != 0 ? subject->comes : subject->root;
	reading->sight = (struct sight){
	        .of = {[SCOPE_PREMISES] = work->judge->survey->premises,
	               [SCOPE_PART] = work->tree->part[work->part],
	               [SCOPE_ROOM] = item_above(work->point, SCOPE_ROOM),
	               [SCOPE_POINT] = work->point}
        };
	reading_look(work->book, reading);
	work->no_memory = work->no_memory || !reading_narrow(reading);
	/* wherever it comes, nothing is needed: no question moves that */
	if (work->decided == CATEGORY_LEAST) {
		reading->leaf_count = 1;
		reading->live = 0;
	}
}

static void narrow_devices(struct work *work)
{
	for (size_t d = 0; d < work->device_count; d++)
		if (work->device[d].form == DEVICE_READ &&
		    !reading_narrow(&work->device[d].reading))
			work->no_memory = true;
}

/** Assess with each inlet fed by the pipe chosen. */
static void assess_feeds(struct work *work)
{
	work_find_ways(work);
	narrow_devices(work);
	if (work->no_memory)
		return;
	if (!work_find_paths(work)) {
		work->no_memory = true;
		return;
	}
	work_note_doubts(work);
	if (work->too_much)
		return;
	work_enumerate(work);
	work_say_why_of_devices(work);
	work_note_effects_of_devices(work);
}

enum { COMBINATIONS_MOST = FEEDS_MOST };

/** Whether anything comes out otherwise with another pipe at one inlet, and the same at all others. */
static bool feed_matters(const struct work *work, const struct outcomes *of, size_t combinations,
                         unsigned inlet)
{
	size_t step = 1, count = work->feeds[inlet].count;

	for (unsigned i = 0; i < inlet; i++)
		step *= work->feeds[i].count;
	for (size_t n = 0; n < combinations; n++)
		if (memcmp(&of[n], &of[n - n / step % count * step], sizeof *of) != 0)
			return true;
	return false;
}

/** Nothing but its own protection stands in the way there; and its feed is something that matters. */
static void take_as_supply_pipe(struct work *work, unsigned inlet)
{
	work->feeds[inlet].pipe[0] = PIPE_MAIN;
	work->feeds[inlet].count = 1;
	work->feed_matters[inlet] = true;
}

/** Where there are too many pipes or combinations, an inlet that names none counts as on the supply
 * pipe. */
static size_t cut_feeds(struct work *work)
{
	size_t combinations = 1;

	for (unsigned i = 0; i < work->kind->inlet_count; i++) {
		const struct feeds *feeds = &work->feeds[i];

		if (feeds->more && feeds->named)
			work_give_up(work);
		else if (feeds->more)
			take_as_supply_pipe(work, i);
		combinations *= feeds->count;
	}
	for (unsigned i = 0; combinations > COMBINATIONS_MOST && i < work->kind->inlet_count; i++) {
		if (work->feeds[i].named || work->feeds[i].count == 1)
			continue;
		combinations /= work->feeds[i].count;
		take_as_supply_pipe(work, i);
	}
	if (combinations > COMBINATIONS_MOST)
		work_give_up(work);
	return combinations;
}

/** Every combination of pipes that the inlets could be fed from. */
static void assess_all_feeds(struct work *work)
{
	struct outcomes of[COMBINATIONS_MOST], all = {0};
	size_t combinations = cut_feeds(work);

	for (size_t n = 0; n < combinations && !work->too_much && !work->no_memory; n++) {
		size_t rest = n;

		for (unsigned i = 0; i < work->kind->inlet_count; i++) {
			work->feed[i] = work->feeds[i].pipe[rest % work->feeds[i].count];
			rest /= work->feeds[i].count;
		}
		give_back_all(work);
		memset(&work->outcomes, 0, sizeof work->outcomes);
		assess_feeds(work);
		of[n] = work->outcomes;
		outcomes_join(&all, &of[n]);
	}
	work->outcomes = all;
	if (work->too_much || work->no_memory)
		return;
	for (unsigned i = 0; i < work->kind->inlet_count; i++)
		if (!work->feed_matters[i])
			work->feed_matters[i] = feed_matters(work, of, combinations, i);
}

static void ask_feeds(struct work *work)
{
	for (unsigned i = 0; i < work->kind->inlet_count; i++) {
		if (!work->feed_matters[i])
			continue;
		if (work->feeds[i].answered)
			work->fluid_doubt = true;
		else
			work_add_ask(work, &work->asks,
			             (struct ask){work->inlet[i] ? work->inlet[i] : work->unsaid[i],
			                          work->book->known.inlet_fed_by, i});
	}
}

/** Nothing can be said yet, or not within reason: every figure is possible. */
static void say_nothing(struct work *work, question_index ask)
{
	struct assessment *out = work->out;

	out->category = (struct range){CATEGORY_LEAST, CATEGORY_MOST};
	out->on_paper = (struct range){0, CATEGORY_MOST - CATEGORY_LEAST};
	out->in_fact = out->on_paper;
	out->path_count = out->worst = 0;
	out->because_count = 0;
	out->verdict = VERDICT_UNDECIDED;
	out->urgency = URGENCY_NONE;
	out->ask_count = 0;
	if (ask == QUESTION_NONE)
		return;
	out->ask = arena_take(work->arena, sizeof *out->ask);
	if (out->ask)
		out->ask[out->ask_count++] = (struct ask){work->point, ask, INLETS_MOST};
	else
		work->no_memory = true;
}

static void assess(struct work *work, struct err *err)
{
	struct subject *subject = judge_kind(work->judge, work->point->of, err);

	if (!subject) {
		work->too_much = true;
		return;
	}
	work->kind = &work->book->kind[work->point->of];
	work->part = tree_part(work->tree, work->point);
	find_inlets(work);
	find_decision(work);
	if (!list_fluids(work) || work->no_memory) {
		work->no_memory = true;
		return;
	}
	read_kind(work, subject);
	if (!work->no_memory)
		assess_all_feeds(work);
	if (!work->too_much && !work->no_memory) {
		ask_feeds(work);
		work_conclude(work);
	}
	give_back_all(work);
}

bool judge_point(struct judge *judge, const struct item *point, struct assessment *out,
                 struct err *err)
{
	struct work work = {.judge = judge,
	                    .book = judge->book,
	                    .tree = &judge->tree,
	                    .arena = &judge->scratch,
	                    .point = point,
	                    .out = out,
	                    .kind_reading = &judge->kind_reading};

	arena_reset(&judge->scratch);
	memset(out, 0, sizeof *out);
	out->point = point;
	if (point->of == INDEX_NONE)
		say_nothing(&work, judge->book->known.point_kind);
	else
		assess(&work, err);
	if (work.no_memory || work.too_much) {
		say_nothing(&work, QUESTION_NONE);
		if (!work.no_memory) { /* answering them is the way out */
			out->ask = work.asks.item;
			out->ask_count = work.asks.count;
		}
		err_set(err, work.no_memory ? ERR_MEMORY : ERR_TEXT,
		        work.no_memory ? "not enough memory"
		        : work.too_far ? "'%s': its water comes by more ways or past more protection than can be followed"
		                       : "'%s': more is open than can be weighed; answer more of "
		                         "its questions",
		        point->ref);
		return false;
	}
	return true;
}
