/* How soon: the urgency table, looked at for each outcome. */
#include "work.h"

#include <string.h>

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
	diagram truth = reading->subject->row[u];
	enum holds holds;

	if (!work->book->urgency[u].raises)
		return false;
	holds = reading_holds(reading, truth);
	if (holds != HOLDS_MAYBE)
		return holds == HOLDS_ALWAYS;
	for (uint64_t live = reading_decides(reading, truth); live; live &= live - 1)
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
static void say_how_soon(struct work *work, struct reading *reading, size_t decides, bool most)
{
	struct outcome outcome = outcome_at(decides);
	enum urgency level;

	look_at_outcome(work, reading, &outcome);
	level = table_says(work, reading, most);
	for (size_t u = 0; level > URGENCY_NONE && u < work->book->urgency_count; u++) {
		const struct urgency_row *row = &work->book->urgency[u];
		enum holds holds = reading_holds(reading, reading->subject->row[u]);

		if (row->raises || holds == HOLDS_NEVER || row->row.urgency != level)
			continue;
		work_add_because(work, &row->row, NULL, holds);
		break;
	}
	for (size_t u = 0;
	     level > URGENCY_NONE && level < URGENCY_NOW && u < work->book->urgency_count; u++)
		if (raises(work, reading, u, most))
			work_add_because(work, &work->book->urgency[u].row, NULL, HOLDS_ALWAYS);
}

void work_find_urgency(struct work *work)
{
	struct reading *reading = &work->judge->urgency_reading;
	const struct item *point = work->point;
	question_index verdict = work->book->known.outcome_verdict;
	bool most =
	        work->out->verdict != VERDICT_UNDECIDED && work->out->verdict != VERDICT_UNPROVEN;
	const struct outcomes *all = &work->outcomes;
	unsigned found = URGENCY_NONE, end = most ? URGENCY_NOW : URGENCY_NONE;
	size_t decides = OUTCOMES;

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
	for (size_t i = outcomes_next(all, 0); i < OUTCOMES; i = outcomes_next(all, i + 1)) {
		struct outcome outcome = outcome_at(i);
		unsigned one = urgency_of(work, reading, &outcome, most);

		if (decides == OUTCOMES || (most ? one > found : one < found)) {
			found = one;
			decides = i;
		}
		if (found == end)
			break;
	}
	work->out->urgency = (enum urgency)found;
	if (found < work->at_least)
		work->out->urgency = work->at_least; /* its row is among the reasons already */
	else
		say_how_soon(work, reading, decides, most);
}
