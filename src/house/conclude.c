/* From the outcomes of all completions to the word, what to ask next, and the rows that say why. */
#include "work.h"

#include <string.h>

/* -- what to ask next ------------------------------------------------------------------- */

void work_add_ask(struct work *work, struct asks *asks, struct ask ask)
{
	struct ask *grown;

	for (size_t i = 0; i < asks->count; i++)
		if (asks->item[i].item == ask.item && asks->item[i].question == ask.question &&
		    asks->item[i].inlet_index == ask.inlet_index)
			return;
	grown = arena_grow(work->arena, asks->item, asks->count, &asks->room, sizeof *grown);
	if (!grown) {
		work->no_memory = true;
		return;
	}
	asks->item = grown;
	grown[asks->count++] = ask;
}

static void add_ask(struct work *work, struct asks *asks, const struct item *item,
                    question_index question)
{
	work_add_ask(work, asks, (struct ask){item, question, INLETS_MOST});
}

static bool unanswered(const struct item *item, question_index question)
{
	return item && !item_answer(item, question);
}

static void ask_variable(struct work *work, struct asks *asks, const struct reading *reading,
                         unsigned variable)
{
	question_index index = reading->subject->variable[variable];
	const struct question *question = &work->book->question[index];
	const struct item *item = reading->sight.of[question->scope];
	const struct measure *measure = question->measure;

	if (question->form != FORM_MEASURED) {
		if (!item && question->scope == SCOPE_TEST)
			item = reading->sight.of[SCOPE_PROTECTION];
		if (!item && question->scope == SCOPE_PART) {
			item = reading->sight.of[SCOPE_ROOM];
			index = work->book->known.room_part;
		}
		add_ask(work, asks, item, index);
		return;
	}
	if (measure->left.question != QUESTION_NONE && unanswered(item, measure->left.question))
		add_ask(work, asks, item, measure->left.question);
	for (size_t i = 0; i < measure->right_count; i++)
		if (measure->right[i].question != QUESTION_NONE &&
		    unanswered(item, measure->right[i].question))
			add_ask(work, asks, item, measure->right[i].question);
}

static bool is_open(const struct reading *reading, unsigned variable)
{
	return ((reading->live >> variable) & 1) && reading->known[variable] == KNOWN_OPEN;
}

static bool is_settled(const struct reading *reading)
{
	for (uint64_t left = reading->live; left; left &= left - 1)
		if (reading->known[__builtin_ctzll(left)] == KNOWN_SETTLED)
			return true;
	return false;
}

/** First what is shared (premises, part), then its own in the order of asking. */
static void ask_reading(struct work *work, const struct reading *reading,
                        const question_index *order, size_t order_count)
{
	for (unsigned v = 0; v < reading->subject->variable_count; v++)
		if (is_open(reading, v) &&
		    work->book->question[reading->subject->variable[v]].scope < SCOPE_POINT)
			ask_variable(work, &work->asks, reading, v);
	for (size_t i = 0; i < order_count; i++) {
		int v = subject_variable(reading->subject, order[i]);

		if (v >= 0 && is_open(reading, (unsigned)v))
			ask_variable(work, &work->asks, reading, (unsigned)v);
	}
	for (unsigned v = 0; v < reading->subject->variable_count; v++)
		if (is_open(reading, v))
			ask_variable(work, &work->asks, reading, v);
}

static void ask_device(struct work *work, const struct device *device)
{
	const struct type *type;

	if (device->form == DEVICE_READ) {
		type = &work->book->type[device->item->of];
		ask_reading(work, &device->reading, type->question, type->question_count);
		return;
	}
	if (device->form != DEVICE_UNSAID)
		return;
	if (device->item->scope == SCOPE_PROTECTION) {
		if (unanswered(device->item, work->book->known.protection_type))
			add_ask(work, &work->asks, device->item, work->book->known.protection_type);
	} else
		add_ask(work, &work->asks, device->item, QUESTION_NONE);
}

/** Ways that something could come by: what stands on others does not matter. */
static uint32_t ways_that_count(const struct work *work)
{
	uint32_t classes = 0;

	for (size_t d = 0; d < work->destination_count; d++)
		if (work->destination[d].counts)
			classes |= work->destination[d].classes;
	return classes;
}

void work_note_doubts(struct work *work)
{
	uint32_t counts = ways_that_count(work);

	ask_reading(work, work->kind_reading, work->kind->question, work->kind->question_count);
	work->fluid_doubt = work->fluid_doubt || is_settled(work->kind_reading);
	for (size_t d = 0; d < work->device_count; d++) {
		if (!(work->device[d].classes & counts))
			continue;
		ask_device(work, &work->device[d]);
		if (work->device[d].form == DEVICE_UNSEEN)
			work->presence_doubt = true;
	}
}

/* -- circumstances, and dates that have come ---------------------------------------------- */

/** Certain, or in doubt that nobody will settle: then the worse is taken. What was not asked yet
 * does not count, and is asked. */
static bool takes_effect(struct work *work, const struct reading *reading, diagram truth)
{
	uint64_t live;
	enum holds holds = reading_holds(reading, truth, &live);
	bool open = false;

	for (uint64_t left = live; left; left &= left - 1) {
		unsigned variable = (unsigned)__builtin_ctzll(left);

		if (reading->known[variable] != KNOWN_OPEN)
			continue;
		ask_variable(work, &work->later, reading, variable);
		open = true;
	}
	return holds == HOLDS_ALWAYS || (holds == HOLDS_MAYBE && !open);
}

static void note_effect(struct work *work, const struct reading *reading, const struct row *row,
                        size_t r)
{
	if (!row->opens && !row->due && row->urgency == URGENCY_NONE)
		return;
	if (!takes_effect(work, reading, reading->subject->row[r]))
		return;
	work->open = work->open || row->opens;
	work->due = work->due || row->due;
	if (row->urgency > work->at_least)
		work->at_least = row->urgency;
}

static void note_effects_of_kind(struct work *work)
{
	for (size_t r = 0; r < work->kind->row_count; r++)
		note_effect(work, work->kind_reading, &work->kind->row[r], r);
}

void work_note_effects_of_devices(struct work *work)
{
	uint32_t counts = ways_that_count(work);

	for (size_t d = 0; d < work->device_count; d++) {
		const struct device *device = &work->device[d];

		if (device->form != DEVICE_READ || !(device->classes & counts))
			continue;
		for (size_t r = 0; r < work->book->type[device->item->of].row_count; r++)
			note_effect(work, &device->reading,
			            &work->book->type[device->item->of].row[r], r);
	}
}

/* -- the word --------------------------------------------------------------------------- */

enum seen { SEEN_ALL, SEEN_IN_PART, SEEN_NOT };

static enum seen seen_of(const struct item *item, question_index question)
{
	const char *text = item && question != QUESTION_NONE ? item_text(item, question) : NULL;

	if (!text)
		return SEEN_ALL;
	return strcmp(text, "no") == 0     ? SEEN_NOT
	       : strcmp(text, "part") == 0 ? SEEN_IN_PART
	                                   : SEEN_ALL;
}

static enum seen worse(enum seen a, enum seen b)
{
	return a > b ? a : b;
}

/** What was not seen of a room or a part was not seen of what is in it. */
static enum seen point_seen(const struct work *work)
{
	const struct known_questions *known = &work->book->known;
	enum seen seen = seen_of(work->point, known->point_seen);
	enum seen room = seen_of(item_above(work->point, SCOPE_ROOM), known->room_seen);
	enum seen part = seen_of(work->tree->part[work->part], known->part_seen);

	if (item_answer(work->point, known->point_seen))
		return seen; /* said of the point itself: that counts */
	return worse(room == SEEN_NOT ? room : SEEN_ALL, part == SEEN_NOT ? part : SEEN_ALL);
}

static enum verdict word_for(const struct work *work, enum seen seen)
{
	bool possible = false, certain = true, unproven = false;

	for (size_t i = 0; i < work->outcomes.count; i++) {
		const struct outcome *outcome = &work->outcomes.item[i];

		possible = possible || outcome->paper > 0 || outcome->fact > 0;
		certain = certain && outcome->is_short;
		unproven = unproven || outcome->proof > 0;
	}
	if (certain && work->outcomes.count > 0)
		return VERDICT_SHORT;
	if (seen == SEEN_NOT)
		return VERDICT_NOT_SEEN;
	if (possible) {
		if (work->asks.count > 0)
			return VERDICT_UNDECIDED;
		if (work->fluid_doubt)
			return VERDICT_SHORT;
		return work->presence_doubt ? VERDICT_NOT_SEEN : VERDICT_UNPROVEN;
	}
	if (seen == SEEN_IN_PART)
		return VERDICT_NOT_SEEN;
	return unproven ? VERDICT_UNPROVEN : VERDICT_PROTECTED;
}

/* -- why -------------------------------------------------------------------------------- */

static void add_because(struct work *work, const struct row *row, const struct item *protection,
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

/** Certain rows give the least, as long as none above them is certain; others count where they
 * could give more. */
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
	return row->category > fluid->category.least;
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
	uint64_t live;

	for (size_t r = 0; r < device->reading.subject->row_count; r++) {
		const struct row *row = r < type->row_count
		                                ? &type->row[r]
		                                : &type->series[r - type->row_count].row;
		enum holds holds =
		        reading_holds(&device->reading, device->reading.subject->row[r], &live);

		if (holds != HOLDS_NEVER && (r < type->row_count || device->pairs))
			add_because(work, row, device->item, holds);
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
	uint64_t live;

	for (size_t r = 0; r < work->kind->row_count; r++) {
		const struct row *row = &work->kind->row[r];
		bool worst = out->worst < out->path_count && row->fluid != ROW_NONE &&
		             out->path[out->worst].fluid == (unsigned)row->fluid;
		enum holds holds;

		if (worst != of_worst)
			continue;
		holds = reading_holds(reading, reading->subject->row[r], &live);
		if (worth_saying(work, row, holds))
			add_because(work, row, NULL, holds);
	}
}

/** The kind's rows come first, though its devices were read before. */
static void say_why_of_kind(struct work *work)
{
	struct because *devices = work->out->because;
	size_t count = work->out->because_count;

	work->out->because = NULL;
	work->out->because_count = work->because_room = 0;
	say_rows_of_kind(work, true);
	say_rows_of_kind(work, false);
	for (size_t i = 0; i < count; i++)
		add_because(work, devices[i].row, devices[i].protection,
		            devices[i].certain ? HOLDS_ALWAYS : HOLDS_MAYBE);
}

/* -- urgency ---------------------------------------------------------------------------- */

static void set_outcome(const struct work *work, struct reading *reading, question_index question,
                        double value)
{
	int variable =
	        question == QUESTION_NONE ? -1 : subject_variable(reading->subject, question);
	const struct question *asked;

	if (variable < 0)
		return;
	asked = &work->book->question[question];
	if (asked->form == FORM_NUMBER)
		reading->may[variable] = question_stretch(asked, value, value);
	else
		reading->may[variable] = (cells)1 << (unsigned)value;
}

static void look_at_outcome(const struct work *work, struct reading *reading,
                            const struct outcome *outcome)
{
	const struct known_questions *known = &work->book->known;

	set_outcome(work, reading, known->outcome_needs, outcome->needs);
	set_outcome(work, reading, known->outcome_on_paper, outcome->paper);
	set_outcome(work, reading, known->outcome_in_fact, outcome->fact);
	set_outcome(work, reading, known->outcome_open, work->open);
	set_outcome(work, reading, known->outcome_unproven, outcome->proof > 0);
	set_outcome(work, reading, known->outcome_due, work->due);
}

/** What was not asked yet does not raise; settled doubt does, where the most urgent counts. */
static bool raises(const struct work *work, const struct reading *reading, size_t u, bool most)
{
	uint64_t live;
	enum holds holds;

	if (!work->book->urgency[u].raises)
		return false;
	holds = reading_holds(reading, reading->subject->row[u], &live);
	if (holds != HOLDS_MAYBE)
		return holds == HOLDS_ALWAYS;
	for (; live; live &= live - 1)
		if (reading->known[__builtin_ctzll(live)] == KNOWN_OPEN)
			return false;
	return most;
}

static bool any_raises(const struct work *work, const struct reading *reading, bool most)
{
	for (size_t u = 0; u < work->book->urgency_count; u++)
		if (raises(work, reading, u, most))
			return true;
	return false;
}

/** The table's word for the outcome looked at, before anything raises it: the most urgent it could be, or the least. */
static enum urgency table_says(struct work *work, struct reading *reading, bool most)
{
	unsigned found = most ? URGENCY_NONE : URGENCY_NOW;

	if (!reading_narrow(reading)) {
		work->no_memory = true;
		return URGENCY_NONE;
	}
	for (size_t i = 0; i < reading->leaf_count; i++) {
		unsigned one = *diagram_leaf_bytes(reading->subject->store, reading->leaf[i]);

		if (most ? one > found : one < found)
			found = one;
	}
	return (enum urgency)found;
}

static enum urgency urgency_of(struct work *work, struct reading *reading,
                               const struct outcome *outcome, bool most)
{
	enum urgency urgency;

	look_at_outcome(work, reading, outcome);
	urgency = table_says(work, reading, most);
	if (urgency > URGENCY_NONE && urgency < URGENCY_NOW && any_raises(work, reading, most))
		urgency++;
	return urgency;
}

/** The row of the table that decided, and what raised it. */
static void say_how_soon(struct work *work, struct reading *reading, const struct outcome *outcome,
                         bool most)
{
	enum urgency level;

	look_at_outcome(work, reading, outcome);
	level = table_says(work, reading, most);
	for (size_t u = 0; level > URGENCY_NONE && u < work->book->urgency_count; u++) {
		const struct urgency_row *row = &work->book->urgency[u];
		uint64_t live;
		enum holds holds = reading_holds(reading, reading->subject->row[u], &live);

		if (row->raises || holds == HOLDS_NEVER || row->row.urgency != level)
			continue;
		add_because(work, &row->row, NULL, holds);
		break;
	}
	for (size_t u = 0;
	     level > URGENCY_NONE && level < URGENCY_NOW && u < work->book->urgency_count; u++)
		if (raises(work, reading, u, most))
			add_because(work, &work->book->urgency[u].row, NULL, HOLDS_ALWAYS);
}

static void find_urgency(struct work *work)
{
	struct reading *reading = &work->judge->urgency_reading;
	const struct item *point = work->point;
	question_index verdict = work->book->known.outcome_verdict;
	bool most =
	        work->out->verdict != VERDICT_UNDECIDED && work->out->verdict != VERDICT_UNPROVEN;
	unsigned found = URGENCY_NONE;
	size_t decides = 0;

	reading->subject = work->judge->urgency;
	reading->root = reading->subject->root;
	reading->sight = (struct sight){
	        .of = {[SCOPE_PREMISES] = work->tree->survey->premises,
	               [SCOPE_PART] = work->tree->part[work->part],
	               [SCOPE_ROOM] = item_above(point, SCOPE_ROOM),
	               [SCOPE_POINT] = point}
        };
	reading_look(work->book, reading);
	if (verdict != QUESTION_NONE) {
		const char *name = verdict_name(work->out->verdict);
		int option = question_option(&work->book->question[verdict], name, strlen(name));

		if (option >= 0)
			set_outcome(work, reading, verdict, option);
	}
	for (size_t i = 0; i < work->outcomes.count; i++) {
		unsigned one = urgency_of(work, reading, &work->outcomes.item[i], most);

		if (i == 0 || (most ? one > found : one < found)) {
			found = one;
			decides = i;
		}
	}
	work->out->urgency = (enum urgency)found;
	if (found < work->at_least)
		work->out->urgency = work->at_least; /* its row is among the reasons already */
	else if (work->outcomes.count > 0)
		say_how_soon(work, reading, &work->outcomes.item[decides], most);
}

/* -- the whole -------------------------------------------------------------------------- */

static void lower(struct range *range)
{
	range->least--;
	range->most--;
}

static void finish_figures(struct work *work)
{
	struct assessment *out = work->out;

	for (size_t i = 0; i < out->path_count; i++) {
		lower(&out->path[i].on_paper);
		lower(&out->path[i].in_fact);
	}
	out->on_paper = out->in_fact = (struct range){CATEGORY_MOST, 0};
	for (size_t i = 0; i < work->outcomes.count; i++) {
		const struct outcome *outcome = &work->outcomes.item[i];

		if (outcome->paper < out->on_paper.least)
			out->on_paper.least = outcome->paper;
		if (outcome->paper > out->on_paper.most)
			out->on_paper.most = outcome->paper;
		if (outcome->fact < out->in_fact.least)
			out->in_fact.least = outcome->fact;
		if (outcome->fact > out->in_fact.most)
			out->in_fact.most = outcome->fact;
	}
}

static unsigned greater(unsigned a, unsigned b)
{
	return a > b ? a : b;
}

/** What is certainly short comes before what could be, more before less, in
 * fact before on paper. */
static unsigned rank(const struct path *path)
{
	unsigned certain = greater(path->on_paper.least, path->in_fact.least);
	unsigned possible = greater(path->on_paper.most, path->in_fact.most);

	return ((certain * 8 + possible) * 8 + path->in_fact.most) * 8 + path->needs.most;
}

static void find_worst(struct assessment *out)
{
	out->worst = out->path_count;
	for (size_t i = 0; i < out->path_count; i++)
		if (out->worst == out->path_count ||
		    rank(&out->path[i]) > rank(&out->path[out->worst]))
			out->worst = i;
}

/** 1 July 1999: the day the Regulations came into force (SI 1999/1148 reg. 1). */
static bool certainly_old(const struct work *work)
{
	question_index question = work->book->known.point_installed;
	const struct answer *installed =
	        question == QUESTION_NONE ? NULL : item_answer(work->point, question);

	return installed && !installed->settled && installed->high < date_day(1999, 7, 1);
}

/** First what can move a figure. */
static void list_asks(struct work *work)
{
	for (size_t i = 0; i < work->later.count; i++)
		work_add_ask(work, &work->asks, work->later.item[i]);
	work->out->ask = work->asks.item;
	work->out->ask_count = work->asks.count;
}

void work_conclude(struct work *work)
{
	struct assessment *out = work->out;
	enum seen seen = point_seen(work);

	finish_figures(work);
	find_worst(out);
	say_why_of_kind(work);
	note_effects_of_kind(work);
	out->due = work->due;
	out->verdict = word_for(work, seen);
	if (seen != SEEN_NOT)
		list_asks(work);
	out->lawful_old =
	        out->verdict == VERDICT_SHORT && out->in_fact.most == 0 && certainly_old(work);
	find_urgency(work);
}
