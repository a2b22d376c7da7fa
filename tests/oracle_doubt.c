#include "oracle_inside.h"

/* Which questions can still move a figure, and what takes effect. */

/* -- what a subject comes to ----------------------------------------------------------------- */

/* The kind, or a protection; of either all figures, or just whether one row counts. */
struct subject_now {
	const struct item *protection; /* NULL: the kind */
	size_t row;                    /* ROW_ALL: the figures */
};
#define ROW_ALL SIZE_MAX

enum { FIGURES_MOST = sizeof(struct needs) };

static const struct row *row_of(const struct oracle *o, const struct subject_now *subject, size_t r)
{
	return subject->protection ? &o->book->type[subject->protection->of].row[r]
	                           : &o->kind->row[r];
}

static size_t row_count_of(const struct oracle *o, const struct item *protection)
{
	return protection ? o->book->type[protection->of].row_count : o->kind->row_count;
}

static bool row_counts(struct oracle *o, const struct subject_now *subject)
{
	bool counts[ROWS_MOST];

	if (subject->protection)
		return oracle_holds(o, row_of(o, subject, subject->row)->when, subject->protection);
	oracle_rows_that_count(o, counts);
	return counts[subject->row];
}

static void figures_now(struct oracle *o, const struct subject_now *subject, uint8_t *figure)
{
	const struct item *protection = subject->protection;
	struct needs needs;
	struct worth worth;

	memset(figure, 0, FIGURES_MOST);
	if (subject->row != ROW_ALL) {
		figure[0] = row_counts(o, subject);
	} else if (!protection) {
		needs = oracle_needs(o);
		memcpy(figure, needs.of, sizeof needs.of);
	} else {
		worth = oracle_own_worth(o, protection);
		memcpy(figure, worth.is, sizeof worth.is);
		figure[sizeof worth.is] =
		        oracle_paired(o, protection) &&
		        oracle_holds(o, oracle_paired(o, protection)->row.when, protection);
	}
}

static void unknowns_of(struct oracle *o, const struct condition *condition,
                        const struct item *from, bool *which)
{
	const struct item *item;

	if (!condition)
		return;
	for (const struct condition *child = condition->child; child; child = child->next)
		unknowns_of(o, child, from, which);
	if (condition->form != CONDITION_TEST)
		return;
	item = oracle_whose(o, from, o->book->question[condition->question].scope);
	which[oracle_get(o, UNKNOWN_ANSWER, item, condition->question, 0) - o->unknown] = true;
}

static void unknowns_of_subject(struct oracle *o, const struct item *protection, bool *which)
{
	struct subject_now subject = {protection, ROW_ALL};

	for (size_t r = 0; r < row_count_of(o, protection); r++)
		unknowns_of(o, row_of(o, &subject, r)->when, protection ? protection : o->point,
		            which);
	if (protection && oracle_paired(o, protection))
		unknowns_of(o, oracle_paired(o, protection)->row.when, protection, which);
}

/* Two completions that differ only in this unknown and come to different things. */
static bool moves(struct oracle *o, size_t unknown, const bool *which,
                  const struct subject_now *subject)
{
	uint8_t before[FIGURES_MOST], after[FIGURES_MOST];
	struct unknown *u = &o->unknown[unknown];

	oracle_start(o, which);
	do {
		unsigned now = u->now;
		bool differs = false;

		figures_now(o, subject, before);
		for (unsigned cell = 0; cell < CELLS_MOST && !differs; cell++) {
			if (!(u->may >> cell & 1))
				continue;
			u->now = cell;
			figures_now(o, subject, after);
			differs = memcmp(before, after, sizeof before) != 0;
		}
		u->now = now;
		if (differs)
			return true;
	} while (oracle_next(o, which));
	return false;
}

/* How many pipes could feed the inlet that a protection stands on: which of them it is may decide whose question is
 * meant. */
static size_t feeds_of(struct oracle *o, const struct item *protection)
{
	const struct item *inlet = protection ? item_above(protection, SCOPE_INLET) : NULL;
	struct unknown *feed = inlet ? oracle_feed_of(o, inlet) : NULL;

	return feed ? feed->pipe_count : 1;
}

static void take_feed(struct oracle *o, const struct item *protection, size_t pipe)
{
	const struct item *inlet = protection ? item_above(protection, SCOPE_INLET) : NULL;
	struct unknown *feed = inlet ? oracle_feed_of(o, inlet) : NULL;

	if (feed)
		feed->now = (unsigned)pipe;
}

/* @return false: too many completions. */
static bool mark_movers(struct oracle *o, const struct subject_now *subject, size_t most,
                        bool *moving)
{
	for (size_t pipe = 0; pipe < feeds_of(o, subject->protection); pipe++) {
		bool which[UNKNOWNS_MOST] = {false};

		take_feed(o, subject->protection, pipe);
		unknowns_of_subject(o, subject->protection, which);
		if (oracle_completions(o, which, most) > most)
			return false;
		for (size_t i = 0; i < o->unknown_count; i++)
			if (which[i] && oracle_cells_in(o->unknown[i].may) > 1 && !moving[i])
				moving[i] = moves(o, i, which, subject);
	}
	return true;
}

/* -- does it matter which pipe feeds an inlet ------------------------------------------------ */

void oracle_note_outcome(struct oracle *o, struct all_that_came *all, const struct outcome *outcome)
{
	struct came came = {
	        .outcome = {
	                    [CAME_ON_PAPER] = outcome->on_paper,
	                    [CAME_IN_FACT] = outcome->in_fact,
	                    [CAME_UNPROVEN] = outcome->unproven,
	                    [CAME_NEEDS] = outcome->needs_to_show,
	                    [CAME_SHORT] = outcome->something_short,
	                    }
        };
	size_t feeds = 0;

	for (size_t i = 0; i < o->unknown_count; i++)
		if (o->unknown[i].form == UNKNOWN_FEED)
			came.feed[feeds++] = (uint8_t)o->unknown[i].now;
	for (size_t i = 0; i < all->count; i++)
		if (memcmp(&all->item[i], &came, sizeof came) == 0)
			return;
	if ((all->count & (all->count - 1)) == 0) {
		all->item = realloc(all->item, (all->count * 2 + 1) * sizeof *all->item);
		assert(all->item);
	}
	all->item[all->count++] = came;
}

static bool came_too(const struct all_that_came *all, const struct came *came)
{
	for (size_t i = 0; i < all->count; i++)
		if (memcmp(&all->item[i], came, sizeof *came) == 0)
			return true;
	return false;
}

/* Something that comes with one pipe does not come with another, all other feeds being the same. */
static bool feed_moves(const struct all_that_came *all, size_t feed, size_t pipe_count)
{
	for (size_t i = 0; i < all->count; i++)
		for (size_t pipe = 0; pipe < pipe_count; pipe++) {
			struct came other = all->item[i];

			other.feed[feed] = (uint8_t)pipe;
			if (!came_too(all, &other))
				return true;
		}
	return false;
}

/* -- what to ask ----------------------------------------------------------------------------- */

static void ask_of(struct oracle *o, const struct item *item, question_index question,
                   unsigned inlet)
{
	struct oracle_verdict *out = o->out;

	for (size_t i = 0; i < out->ask_count; i++)
		if (out->ask[i].item == item && out->ask[i].question == question &&
		    out->ask[i].inlet == inlet)
			return;
	assert(out->ask_count < ORACLE_ASK_MOST);
	out->ask[out->ask_count++] = (struct oracle_ask){item, question, inlet};
}

static void ask_number(struct oracle *o, const struct item *item, const struct term *term)
{
	if (term->question != QUESTION_NONE && !item_answer(item, term->question))
		ask_of(o, item, term->question, 0);
}

static void ask(struct oracle *o, const struct unknown *u)
{
	const struct question *question =
	        u->question == QUESTION_NONE ? NULL : &o->book->question[u->question];

	if (u->form == UNKNOWN_WORTH && u->item->scope == SCOPE_PROTECTION) {
		ask_of(o, u->item, o->book->known.protection_type, 0);
	} else if (question && question->form == FORM_MEASURED) {
		ask_number(o, u->item, &question->measure->left);
		for (size_t i = 0; i < question->measure->right_count; i++)
			ask_number(o, u->item, &question->measure->right[i]);
	} else if (question && question->scope == SCOPE_PART && u->item->scope == SCOPE_ROOM) {
		ask_of(o, u->item, o->book->known.room_part, 0);
	} else {
		ask_of(o, u->item, u->question, u->inlet);
	}
}

/* -- what takes effect ----------------------------------------------------------------------- */

/* Certain, or possible with nothing but settled doubt left; what could still be answered is asked. */
static bool takes_effect(struct oracle *o, const struct subject_now *subject)
{
	bool which[UNKNOWNS_MOST] = {false}, unanswered = false, ever = false, always = true;

	unknowns_of_subject(o, subject->protection, which);
	oracle_start(o, which);
	do {
		bool counts = row_counts(o, subject);

		ever |= counts;
		always &= counts;
	} while (oracle_next(o, which));
	for (size_t i = 0; i < o->unknown_count; i++)
		if (which[i] && o->unknown[i].unanswered && moves(o, i, which, subject)) {
			ask(o, &o->unknown[i]);
			unanswered = true;
		}
	return always || (ever && !unanswered);
}

static void note_effects(struct oracle *o, const struct item *protection)
{
	for (size_t r = 0; r < row_count_of(o, protection); r++) {
		struct subject_now subject = {protection, r};
		const struct row *row = row_of(o, &subject, r);

		bool effect = false;

		if (!row->opens && !row->due && row->urgency == URGENCY_NONE)
			continue;
		for (size_t pipe = 0; pipe < feeds_of(o, protection); pipe++) {
			take_feed(o, protection, pipe);
			effect |= takes_effect(o, &subject);
		}
		if (!effect)
			continue;
		o->open |= row->opens;
		o->due |= row->due;
		if (row->urgency > o->at_least)
			o->at_least = row->urgency;
	}
}

/* -- the whole ------------------------------------------------------------------------------- */

static bool find_movers(struct oracle *o, size_t most, bool *moving, bool *moving_fluid)
{
	struct subject_now kind = {NULL, ROW_ALL};

	if (!mark_movers(o, &kind, most, moving_fluid))
		return false;
	memcpy(moving, moving_fluid, UNKNOWNS_MOST * sizeof *moving);
	for (size_t p = 0; p < o->protection_count; p++) {
		struct subject_now subject = {o->protection[p].item, ROW_ALL};

		if (subject.protection->of == INDEX_NONE ||
		    !(o->protection[p].on_way & o->inlets_that_count))
			continue;
		if (!mark_movers(o, &subject, most, moving))
			return false;
	}
	return true;
}

/* What is fitted, or which pipe feeds it, is a question too. */
static void mark_others(struct oracle *o, const struct all_that_came *all, bool *moving,
                        bool *moving_fluid)
{
	size_t feeds = 0;

	for (size_t i = 0; i < o->unknown_count; i++) {
		const struct unknown *u = &o->unknown[i];

		if (u->form == UNKNOWN_WORTH)
			moving[i] = u->on_way & o->inlets_that_count;
		if (u->form == UNKNOWN_FEED)
			moving[i] = moving_fluid[i] = feed_moves(all, feeds++, u->pipe_count);
	}
}

bool oracle_find_doubt(struct oracle *o, size_t most, const struct all_that_came *all,
                       struct doubt *doubt)
{
	bool moving[UNKNOWNS_MOST] = {false}, moving_fluid[UNKNOWNS_MOST] = {false};

	*doubt = (struct doubt){.cannot_tell = o->cannot_tell_on_way & o->inlets_that_count};
	if (!find_movers(o, most, moving, moving_fluid))
		return false;
	mark_others(o, all, moving, moving_fluid);
	for (size_t i = 0; i < o->unknown_count; i++) {
		const struct unknown *u = &o->unknown[i];

		if (moving[i] && u->unanswered) {
			doubt->unanswered_moves = true;
			ask(o, u);
		}
		if (moving_fluid[i] && u->settled)
			doubt->settled_moves_fluid = true;
	}
	note_effects(o, NULL);
	for (size_t p = 0; p < o->protection_count; p++)
		if (o->protection[p].item->of != INDEX_NONE &&
		    o->protection[p].on_way & o->inlets_that_count)
			note_effects(o, o->protection[p].item);
	return true;
}
