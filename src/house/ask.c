/* What is worth asking next, and what takes effect by itself: circumstances, and dates that have come. */
#include "work.h"

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
	enum holds holds = reading_holds(reading, truth);
	uint64_t left = holds == HOLDS_MAYBE ? reading_decides(reading, truth) : 0;
	bool open = false;

	for (; left; left &= left - 1) {
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

void work_note_effects_of_kind(struct work *work)
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
