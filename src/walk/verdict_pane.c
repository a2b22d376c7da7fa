/*
 * The verdict in words. It says what is needed and what stands in the way, never that something is
 * approved.
 */
#include "inside.h"

#include <string.h>

const char pane_caution[] =
        "Supports a competent person, approves nothing: the undertaker decides.";

struct item *point_shown(struct walk *walk)
{
	const struct house_row *row;
	enum view view = walk->view == VIEW_VERDICT ? walk->view_before : walk->view;

	if (view == VIEW_FORM)
		return walk->form.item != NULL && walk->form.item->scope == SCOPE_POINT
		               ? walk->form.item
		               : NULL;
	row = house_row(walk);
	return row != NULL && row->form == ROW_POINT ? row->item : NULL;
}

static void add(struct pane *pane, struct arena *arena, enum role role, int indent,
                const char *text)
{
	struct pane_line *grown =
	        arena_grow(arena, pane->line, pane->count, &pane->room, sizeof(*grown));

	if (grown == NULL || text == NULL)
		return;
	pane->line = grown;
	grown[pane->count++] = (struct pane_line){text, role, indent};
}

static void add_head(struct pane *pane, struct arena *arena, const char *text)
{
	add(pane, arena, ROLE_PLAIN, 0, "");
	add(pane, arena, ROLE_HEAD, 0, text);
}

/* -- figures in words ------------------------------------------------------------------------ */

static const char *range_words(struct range range, struct arena *arena)
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
	return arena_print(arena, "short by %s", range_words(range, arena));
}

static enum role verdict_role(enum verdict verdict)
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

static const char *verdict_line(const struct walk *walk, const struct assessment *now,
                                struct arena *arena)
{
	const char *typed = walk->verdicts.drafted ? ", if it is as marked" : "";

	if (now->verdict != VERDICT_SHORT && now->verdict != VERDICT_UNDECIDED)
		return arena_print(arena, "%s%s", verdict_words(now->verdict), typed);
	return arena_print(arena, "%s%s: on paper %s, in fact %s", verdict_words(now->verdict),
	                   typed, short_words(now->on_paper, arena),
	                   short_words(now->in_fact, arena));
}

static const char *soon_line(const struct assessment *now, struct arena *arena)
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

static const char *inlet_name(const struct walk *walk, const struct item *point, unsigned inlet)
{
	const struct kind *kind = kind_of(walk, point);

	return kind != NULL && inlet < kind->inlet_count ? kind->inlet[inlet].name : "?";
}

static const char *end_words(const struct walk *walk, const struct path *path, struct arena *arena)
{
	const struct item *item;

	if (strcmp(path->to, "main") == 0)
		return "the main";
	item = survey_find(walk->survey, path->to, strlen(path->to));
	return item == NULL ? path->to : item_title(walk, item, arena);
}

static const char *path_words(const struct walk *walk, const struct item *point,
                              const struct path *path, struct arena *arena)
{
	return arena_print(arena, "%s, by the %s inlet to %s", fluid_name(walk, point, path->fluid),
	                   inlet_name(walk, point, path->inlet_index),
	                   end_words(walk, path, arena));
}

/* Which of two paths says more: what is short in fact, then on paper, then what could be, then what
 * is needed. */
static int weight(const struct path *path)
{
	return (((path->in_fact.most * 8 + path->on_paper.most) * 8 + path->in_fact.least) * 8 +
	        path->on_paper.least) *
	               8 +
	       path->needs.most;
}

static const struct path *worst_by(const struct assessment *now, enum mechanism mechanism)
{
	const struct path *worst = NULL;

	if (now->worst < now->path_count && now->path[now->worst].mechanism == mechanism)
		return &now->path[now->worst];
	for (size_t i = 0; i < now->path_count; i++)
		if (now->path[i].mechanism == mechanism && now->path[i].needs.most > 1 &&
		    (worst == NULL || weight(&now->path[i]) > weight(worst)))
			worst = &now->path[i];
	return worst;
}

static enum role short_role(struct range range)
{
	if (range.least > 0)
		return ROLE_SHORT;
	return range.most > 0 ? ROLE_UNDECIDED : ROLE_PLAIN;
}

static void add_path(struct pane *pane, const struct walk *walk, const struct item *point,
                     const struct path *path, struct arena *arena)
{
	add(pane, arena, ROLE_PLAIN, 0,
	    arena_print(arena, "%s needs %s", mechanism_words(path->mechanism),
	                range_words(path->needs, arena)));
	if (memcmp(&path->good_for, &path->accepted, sizeof(path->good_for)) != 0)
		add(pane, arena, ROLE_PLAIN, 2,
		    arena_print(arena, "type good for %s", range_words(path->good_for, arena)));
	add(pane, arena, short_role(path->on_paper), 2,
	    arena_print(arena, "on paper %s: %s", range_words(path->accepted, arena),
	                short_words(path->on_paper, arena)));
	add(pane, arena, short_role(path->in_fact), 2,
	    arena_print(arena, "in fact %s: %s", range_words(path->found, arena),
	                short_words(path->in_fact, arena)));
	add(pane, arena, ROLE_DIM, 2, path_words(walk, point, path, arena));
}

/* -- the parts of the pane ------------------------------------------------------------------- */

static const char *by_words(uint8_t by)
{
	if (by == (1u << BACK_PRESSURE | 1u << BACK_SIPHONAGE))
		return "back pressure, back siphonage";
	if (by == 1u << BACK_PRESSURE)
		return "back pressure";
	return by == 0 ? "no way back" : "back siphonage";
}

static void add_fluids(struct pane *pane, struct walk *walk, const struct assessment *now,
                       struct arena *arena)
{
	add_head(pane, arena, "What could come back");
	for (size_t i = 0; i < now->fluid_count; i++) {
		const struct fluid_verdict *fluid = &now->fluid[i];

		if (fluid->category.most <= CATEGORY_LEAST)
			continue;
		add(pane, arena, ROLE_PLAIN, 2,
		    arena_print(arena, "%s: %s; %s", range_words(fluid->category, arena),
		                fluid_name(walk, now->point, fluid->fluid), by_words(fluid->by)));
	}
}

static const char *because_words(const struct walk *walk, const struct because *because,
                                 struct arena *arena)
{
	const struct row *row = because->row;
	const char *who = "", *says = row->says == NULL ? row->id : row->says;

	if (because->protection != NULL)
		who = arena_print(arena, "%s: ", because->protection->ref);
	(void)walk;
	return arena_print(arena, "%s%s%s (%s; %s)", because->certain ? "" : "could be: ", who,
	                   says, row->source_text == NULL ? "no source" : row->source_text,
	                   standing_name(row->standing));
}

static void add_because(struct pane *pane, struct walk *walk, const struct assessment *now,
                        struct arena *arena)
{
	if (now->because_count == 0)
		return;
	add_head(pane, arena, "Why");
	for (size_t i = 0; i < now->because_count; i++)
		add(pane, arena, ROLE_PLAIN, 2, because_words(walk, &now->because[i], arena));
}

static const char *ask_words(const struct walk *walk, const struct assessment *now,
                             const struct ask *ask, struct arena *arena)
{
	const char *label = ask->question == QUESTION_NONE
	                            ? "What is fitted?"
	                            : walk->book->question[ask->question].label;

	if (ask->question == QUESTION_NONE || ask->item == NULL || ask->item->scope == SCOPE_INLET)
		return arena_print(arena, "%s inlet: %s",
		                   inlet_name(walk, now->point, ask_inlet(walk, ask)), label);
	if (ask->item == now->point)
		return label;
	return arena_print(arena, "%s: %s", item_title(walk, ask->item, arena), label);
}

static void add_asks(struct pane *pane, struct walk *walk, const struct assessment *now,
                     struct arena *arena)
{
	enum { ASKS_SHOWN = 4 };

	if (now->ask_count == 0)
		return;
	add_head(pane, arena, "Ask next (* in the form)");
	for (size_t i = 0; i < now->ask_count && i < ASKS_SHOWN; i++)
		add(pane, arena, ROLE_PLAIN, 2, ask_words(walk, now, &now->ask[i], arena));
	if (now->ask_count > ASKS_SHOWN)
		add(pane, arena, ROLE_DIM, 2,
		    arena_print(arena, "and %zu more", now->ask_count - ASKS_SHOWN));
}

static void add_point(struct pane *pane, struct walk *walk, struct item *point, struct arena *arena)
{
	const struct assessment *now = verdict_now(walk, point);

	add(pane, arena, ROLE_HEAD, 0, item_title(walk, point, arena));
	if (now == NULL) {
		add(pane, arena, ROLE_ERROR, 0, walk->verdicts.err.message);
		return;
	}
	add(pane, arena, verdict_role(now->verdict), 0, verdict_line(walk, now, arena));
	add(pane, arena, ROLE_PLAIN, 0, soon_line(now, arena));
	add(pane, arena, ROLE_PLAIN, 0,
	    arena_print(arena, "Fluid category %s", range_words(now->category, arena)));
	if (now->lawful_old)
		add(pane, arena, ROLE_PLAIN, 0,
		    "Put in before July 1999: would not be accepted today; no order to change.");
	if (now->due)
		add(pane, arena, ROLE_PLAIN, 0, "A change, service or test is due.");
	add_fluids(pane, walk, now, arena);
	add_head(pane, arena, "What stands in the way");
	for (int mechanism = 0; mechanism < MECHANISM_COUNT; mechanism++) {
		const struct path *path = worst_by(now, (enum mechanism)mechanism);

		if (path != NULL)
			add_path(pane, walk, point, path, arena);
	}
	add_asks(pane, walk, now, arena);
	add_because(pane, walk, now, arena);
}

static void add_house(struct pane *pane, struct walk *walk, struct arena *arena)
{
	size_t count[VERDICT_COUNT] = {0}, points = 0;

	for (size_t i = 0; i < walk->house.count; i++) {
		struct house_row *row = &walk->house.row[i];

		if (row->form != ROW_POINT)
			continue;
		verdict_row(walk, row);
		count[row->verdict]++;
		points++;
	}
	add(pane, arena, ROLE_HEAD, 0, "How the house stands");
	if (points == 0)
		add(pane, arena, ROLE_PLAIN, 0, "No outlet or appliance yet.");
	for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
		if (count[verdict] > 0)
			add(pane, arena, verdict_role((enum verdict)verdict), 0,
			    arena_print(arena, "%zu %s", count[verdict],
			                verdict_words((enum verdict)verdict)));
}

struct pane pane_whole(struct walk *walk, struct arena *arena)
{
	struct pane pane = {0};
	struct item *point = point_shown(walk);

	if (point != NULL)
		add_point(&pane, walk, point, arena);
	else
		add_house(&pane, walk, arena);
	return pane;
}

/* -- folded ---------------------------------------------------------------------------------- */

static const char *joined(struct arena *arena, const char *first, const char *then)
{
	return then == NULL ? first : arena_print(arena, "%s. %s", first, then);
}

static void fold_point(struct pane *pane, struct walk *walk, struct item *point,
                       struct arena *arena)
{
	const struct assessment *now = verdict_now(walk, point);
	const struct path *path;

	if (now == NULL) {
		add(pane, arena, ROLE_ERROR, 0, walk->verdicts.err.message);
		return;
	}
	add(pane, arena, verdict_role(now->verdict), 0,
	    joined(arena, verdict_line(walk, now, arena), soon_line(now, arena)));
	path = now->worst < now->path_count ? &now->path[now->worst] : NULL;
	if (path != NULL)
		add(pane, arena, ROLE_PLAIN, 0,
		    arena_print(arena, "%s needs %s; on paper %s, in fact %s: %s",
		                mechanism_words(path->mechanism), range_words(path->needs, arena),
		                range_words(path->accepted, arena), range_words(path->found, arena),
		                path_words(walk, point, path, arena)));
	else
		add(pane, arena, ROLE_PLAIN, 0,
		    arena_print(arena, "Fluid category %s", range_words(now->category, arena)));
	if (now->ask_count > 0)
		add(pane, arena, ROLE_PLAIN, 0,
		    arena_print(arena, "Ask next: %s", ask_words(walk, now, &now->ask[0], arena)));
	if (now->because_count > 0)
		add(pane, arena, ROLE_PLAIN, 0,
		    arena_print(arena, "Why: %s", because_words(walk, &now->because[0], arena)));
}

struct pane pane_folded(struct walk *walk, struct arena *arena)
{
	struct pane pane = {0};
	struct item *point = point_shown(walk);

	if (point != NULL)
		fold_point(&pane, walk, point, arena);
	else
		add_house(&pane, walk, arena);
	return pane;
}
