#include "tundish/print/assessed.h"

#include <stdio.h>
#include <string.h>

const char safety_caution[] = "Supports a competent person and approves nothing: the water "
                              "undertaker decides, local rules "
                              "rule, and work on unvented hot water, gas, electrics or sealed "
                              "systems is for those licensed "
                              "for it.";

const struct kind *assessed_kind(const struct assessed *assessed)
{
	uint16_t of = assessed->assessment->point->of;

	return of == INDEX_NONE ? NULL : &assessed->survey->book->kind[of];
}

const char *assessed_room(const struct assessed *assessed)
{
	const struct item *room = item_above(assessed->assessment->point, SCOPE_ROOM);

	if (!room)
		return NULL;
	const char *name = item_text(room, assessed->survey->book->known.room_name);
	return name && *name ? name : room->ref;
}

const char *assessed_part(const struct assessed *assessed)
{
	const struct item *part = survey_part(assessed->survey, assessed->assessment->point);

	return part ? part->ref : NULL;
}

const char *assessed_fluid(const struct assessed *assessed, unsigned fluid)
{
	const struct kind *kind = assessed_kind(assessed);

	if (fluid == FLUID_UNDERTAKER)
		return "undertaker_says";
	return kind && fluid < kind->fluid_count ? kind->fluid[fluid].id : "";
}

const char *assessed_inlet(const struct assessed *assessed, unsigned index)
{
	const struct kind *kind = assessed_kind(assessed);

	return kind && index < kind->inlet_count ? kind->inlet[index].id : "";
}

/* What stands before the id of a question asked of another item than the point. */
static const char *asked_of(const struct item *item, const struct question *question)
{
	switch (item->scope) {
	case SCOPE_PREMISES:
		return *question->at ? question->at : "premises";
	case SCOPE_PART:
	case SCOPE_BRANCH:
	case SCOPE_ROOM:
	case SCOPE_POINT:
	case SCOPE_INLET:
	case SCOPE_PROTECTION:
	case SCOPE_TEST:
	case SCOPE_ACTION:
	case SCOPE_OUTCOME:
	case SCOPE_COUNT:
		break;
	}
	return item->ref;
}

static void add_word(struct ask_name *name, const char *word)
{
	name->word[name->count++] = word;
}

struct ask_name assessed_ask(const struct assessed *assessed, const struct ask *ask)
{
	const struct item *point = assessed->assessment->point, *item = ask->item;
	const struct question *question = NULL;
	struct ask_name name = {.count = 0};

	if (ask->question != QUESTION_NONE)
		question = &assessed->survey->book->question[ask->question];
	if (item->scope == SCOPE_INLET && item->parent != point)
		add_word(&name, item->parent->ref);
	if (!question)
		add_word(&name, item->ref);
	else if (item != point)
		add_word(&name, asked_of(item, question));
	add_word(&name, question ? question->id : "protection");
	return name;
}

bool assessed_repeats(const struct assessment *assessment, size_t index)
{
	const struct because *because = assessment->because;

	for (size_t i = 0; i < index; i++) {
		if (because[i].certain == because[index].certain &&
		    because[i].protection == because[index].protection &&
		    strcmp(because[i].row->id, because[index].row->id) == 0)
			return true;
	}
	return false;
}

void range_words(struct range range, char out[8])
{
	if (range.least == range.most)
		snprintf(out, 8, "%u", range.least % 10u);
	else
		snprintf(out, 8, "%u to %u", range.least % 10u, range.most % 10u);
}
