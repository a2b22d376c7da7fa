/*
 * What a verdict says, in words. It says what is needed and what stands in the way, never that
 * something is approved.
 */
#include "pane.h"

#include <string.h>

/* -- figures in words ------------------------------------------------------------------------ */

const char *pane_range(struct range range, struct arena *arena)
{
	if (range.least == range.most)
		return arena_print(arena, "%u", range.least);
	return arena_print(arena, "%u to %u", range.least, range.most);
}

static const char *short_words(struct range range, struct arena *arena)
{
	if (range.most == 0)
		return "enough";
	if (range.least == 0)
		return arena_print(arena, "could be short by %u", range.most);
	return arena_print(arena, "short by %s", pane_range(range, arena));
}

enum role verdict_role(enum verdict verdict)
{
	switch (verdict) {
	case VERDICT_SHORT:
		return ROLE_SHORT;
	case VERDICT_UNDECIDED:
	case VERDICT_NOT_SEEN:
	case VERDICT_UNPROVEN:
		return ROLE_UNDECIDED;
	case VERDICT_PROTECTED:
	case VERDICT_COUNT:
		break;
	}
	return ROLE_PROTECTED;
}

const char *verdict_line(const struct walk *walk, const struct assessment *now, struct arena *arena)
{
	const char *typed = walk->verdicts.drafted ? " if so" : "";

	if (now->verdict != VERDICT_SHORT && now->verdict != VERDICT_UNDECIDED)
		return arena_print(arena, "%s%s", verdict_words(now->verdict), typed);
	return arena_print(arena, "%s%s: on paper %s, in fact %s", verdict_words(now->verdict),
	                   typed, short_words(now->on_paper, arena),
	                   short_words(now->in_fact, arena));
}

const char *verdict_brief(const struct walk *walk, const struct assessment *now,
                          struct arena *arena)
{
	unsigned most =
	        now->in_fact.most > now->on_paper.most ? now->in_fact.most : now->on_paper.most;
	const char *typed = walk->verdicts.drafted ? " if so" : "";
	const char *figure = "", *soon = "";

	if (now->verdict == VERDICT_SHORT)
		figure = arena_print(arena, " %u", most);
	else if (now->verdict == VERDICT_UNDECIDED && most > 0)
		figure = arena_print(arena, ": short 0 to %u", most);
	if (now->urgency != URGENCY_NONE)
		soon = arena_print(arena, ", %s", urgency_words(now->urgency));
	return arena_print(arena, "%s%s%s%s", verdict_words(now->verdict), figure, typed, soon);
}

const char *soon_line(const struct assessment *now, struct arena *arena)
{
	if (now->urgency == URGENCY_NONE)
		return NULL;
	return arena_print(arena, "How soon: %s", urgency_words(now->urgency));
}

/* -- paths ----------------------------------------------------------------------------------- */

static const struct kind *kind_of(const struct walk *walk, const struct item *point)
{
	return point->of < walk->book->kind_count ? &walk->book->kind[point->of] : NULL;
}

static const char *fluid_name(const struct walk *walk, const struct item *point, unsigned fluid)
{
	const struct kind *kind = kind_of(walk, point);

	if (fluid == FLUID_UNDERTAKER)
		return "what the undertaker decided";
	return kind != NULL && fluid < kind->fluid_count ? kind->fluid[fluid].name : "not known";
}

/* "the cold inlet"; of one that is called so, "the inlet". */
static const char *inlet_words(const struct walk *walk, const struct item *point, unsigned inlet,
                               struct arena *arena)
{
	const struct kind *kind = kind_of(walk, point);
	const char *name =
	        kind != NULL && inlet < kind->inlet_count ? kind->inlet[inlet].name : "?";
	size_t length = strlen(name);

	if (length >= 5 && strcmp(name + length - 5, "inlet") == 0)
		return name;
	return arena_print(arena, "%s inlet", name);
}

static const char *end_words(const struct walk *walk, const struct path *path, struct arena *arena)
{
	const struct item *item;

	if (strcmp(path->to, "main") == 0)
		return "the main";
	item = survey_find(walk->survey, path->to, strlen(path->to));
	return item == NULL ? path->to : item_title(walk, item, arena);
}

const char *path_words(const struct walk *walk, const struct item *point, const struct path *path,
                       struct arena *arena)
{
	return arena_print(arena, "%s, by the %s to %s", fluid_name(walk, point, path->fluid),
	                   inlet_words(walk, point, path->inlet_index, arena),
	                   end_words(walk, path, arena));
}

/* -- fluids, reasons, questions -------------------------------------------------------------- */

static const char *by_words(uint8_t by)
{
	if (by == (1u << BACK_PRESSURE | 1u << BACK_SIPHONAGE))
		return "back pressure, back siphonage";
	if (by == 1u << BACK_PRESSURE)
		return "back pressure";
	return by == 0 ? "no way back" : "back siphonage";
}

const char *fluid_words(const struct walk *walk, const struct item *point,
                        const struct fluid_verdict *fluid, struct arena *arena)
{
	return arena_print(arena, "%s: %s; %s", pane_range(fluid->category, arena),
	                   fluid_name(walk, point, fluid->fluid), by_words(fluid->by));
}

const char *because_words(const struct assessment *now, const struct because *because,
                          struct arena *arena)
{
	const struct row *row = because->row;
	const char *who = "", *says = row->says == NULL ? row->id : row->says;

	/* why something does not come back is worth saying where nothing does */
	if (because_why_not(because) && now->category.most > CATEGORY_LEAST)
		return NULL;
	if (because->protection != NULL && because->protection->ref[0] != '\0')
		who = arena_print(arena, "%s: ", because->protection->ref);
	return arena_print(arena, "%s%s%s (%s; %s)", because->certain ? "" : "could be: ", who,
	                   says, row->source_text == NULL ? "no source" : row->source_text,
	                   standing_words(row->standing));
}

const char *ask_words(const struct walk *walk, const struct assessment *now, const struct ask *ask,
                      struct arena *arena)
{
	const struct item *home = ask_home(walk, ask);
	const char *whose = "", *label = ask->question == QUESTION_NONE
	                                         ? "What is fitted?"
	                                         : walk->book->question[ask->question].label;

	if (home->scope == SCOPE_POINT && home != now->point)
		whose = arena_print(arena, "%s: ", item_title(walk, home, arena));
	if (ask->item->scope == SCOPE_INLET)
		return arena_print(arena, "%s%s: %s", whose,
		                   inlet_words(walk, home, ask_inlet(walk, ask), arena), label);
	if (ask->item == home && whose[0] != '\0')
		return arena_print(arena, "%s%s", whose, label);
	if (ask->item == now->point)
		return label;
	return arena_print(arena, "%s: %s", item_title(walk, ask->item, arena), label);
}
