/*
 * The verdict of a point as a pane: the word, the picture, what to ask next, why.
 */
#include "pane.h"

#include "tundish/base/text.h"

#include <string.h>

const char pane_caution[] =
        "Supports a competent person, approves nothing: the undertaker decides.";

const char pane_caution_short[] = "Supports a person, approves nothing.";

struct item *point_shown(struct walk *walk)
{
	const struct house_row *row;
	enum view view = walk->view == VIEW_VERDICT ? walk->view_before : walk->view;

	/* what is being added is not there yet, and nobody else's verdict stands for it */
	if (walk->over == OVER_LIST && walk->purpose == FOR_NEW &&
	    walk->adding.scope == SCOPE_POINT)
		return walk->draft.item;
	if (view == VIEW_FORM && walk->form.leaving)
		return form_line(walk) == NULL ? NULL : form_line(walk)->point;
	if (view == VIEW_FORM)
		return walk->form.item != NULL && walk->form.item->scope == SCOPE_POINT
		               ? walk->form.item
		               : NULL;
	row = house_row(walk);
	return row != NULL && row->form == ROW_POINT ? row->item : NULL;
}

/* -- the picture ----------------------------------------------------------------------------- */

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

static void add_paths(struct pane *pane, struct walk *walk, const struct assessment *now,
                      struct arena *arena, struct scale scale)
{
	for (int mechanism = 0; mechanism < MECHANISM_COUNT; mechanism++) {
		const struct path *path = worst_by(now, (enum mechanism)mechanism);

		if (path == NULL)
			continue;
		pane_add(pane, arena, ROLE_HEAD, 0, mechanism_words(path->mechanism));
		picture_figure(pane, arena, scale, "needed", path->needs, "");
		if (memcmp(&path->good_for, &path->accepted, sizeof(path->good_for)) != 0)
			picture_figure(pane, arena, scale, "good for", path->good_for, "as a type");
		picture_worth(pane, arena, scale, "on paper", path->accepted, path->needs,
		              path->on_paper);
		picture_worth(pane, arena, scale, "in fact", path->found, path->needs,
		              path->in_fact);
		pane_add(pane, arena, ROLE_DIM, 2, path_words(walk, now->point, path, arena));
	}
}

static void add_picture(struct pane *pane, struct walk *walk, const struct assessment *now,
                        struct arena *arena, int cols)
{
	struct scale scale = scale_of(walk, cols);

	picture_head(pane, arena, scale);
	picture_figure(pane, arena, scale, "category", now->category, "");
	add_paths(pane, walk, now, arena, scale);
}

/* -- under it -------------------------------------------------------------------------------- */

static void add_asks(struct pane *pane, struct walk *walk, const struct assessment *now,
                     struct arena *arena)
{
	enum { ASKS_SHOWN = 4 };

	if (now->ask_count == 0)
		return;
	pane_head(pane, arena, "Ask next (* in the form)");
	for (size_t i = 0; i < now->ask_count && i < ASKS_SHOWN; i++)
		pane_add(pane, arena, ROLE_PLAIN, 2, ask_words(walk, now, &now->ask[i], arena));
	if (now->ask_count > ASKS_SHOWN)
		pane_add(pane, arena, ROLE_DIM, 2,
		         arena_print(arena, "and %zu more", now->ask_count - ASKS_SHOWN));
}

static void add_because(struct pane *pane, const struct assessment *now, struct arena *arena)
{
	bool headed = false;

	for (size_t i = 0; i < now->because_count; i++) {
		const char *words = because_words(now, &now->because[i], arena);

		if (words == NULL)
			continue;
		if (!headed)
			pane_head(pane, arena, "Why");
		headed = true;
		pane_add(pane, arena, ROLE_PLAIN, 2, words);
	}
}

static void add_fluids(struct pane *pane, struct walk *walk, const struct assessment *now,
                       struct arena *arena)
{
	pane_head(pane, arena, "What could come back");
	for (size_t i = 0; i < now->fluid_count; i++)
		if (now->fluid[i].category.most > CATEGORY_LEAST)
			pane_add(pane, arena, ROLE_PLAIN, 2,
			         fluid_words(walk, now->point, &now->fluid[i], arena));
}

static void add_verdict(struct pane *pane, struct walk *walk, const struct assessment *now,
                        struct arena *arena, int cols)
{
	pane_add(pane, arena, verdict_role(now->verdict), 0, verdict_line(walk, now, arena));
	pane_add(pane, arena, ROLE_PLAIN, 0, soon_line(now, arena));
	add_picture(pane, walk, now, arena, cols);
	if (now->lawful_old)
		pane_add(pane, arena, ROLE_PLAIN, 0,
		         "Put in before July 1999: would not be accepted today; no order to "
		         "change.");
	if (now->due)
		pane_add(pane, arena, ROLE_PLAIN, 0, "A change, service or test is due.");
	add_asks(pane, walk, now, arena);
	add_because(pane, now, arena);
	add_fluids(pane, walk, now, arena);
}

static void add_point(struct pane *pane, struct walk *walk, struct item *point, struct arena *arena,
                      int cols)
{
	const struct assessment *now = verdict_now(walk, point);
	bool drafted = draft_speaks(walk);

	pane_add(pane, arena, ROLE_HEAD, 0, item_title(walk, point, arena));
	if (now != NULL)
		add_verdict(pane, walk, now, arena, cols);
	else
		pane_add(pane, arena, ROLE_ERROR, 0, walk->verdicts.err.message);
	if (drafted)
		draft_take(walk);
}

/* -- the house ------------------------------------------------------------------------------- */

/* Of a very large house not all is looked at straight after a change. */
static const char *so_far(const struct walk *walk, const struct tally *all, struct arena *arena)
{
	if (all->points == walk->house.points)
		return "";
	return arena_print(arena, " (%zu of %zu looked at so far)", all->points,
	                   walk->house.points);
}

void pane_house(struct pane *pane, struct walk *walk, struct arena *arena)
{
	const struct tally *all = verdict_tally(walk);

	pane_add(pane, arena, ROLE_HEAD, 0,
	         arena_print(arena, "How the house stands%s", so_far(walk, all, arena)));
	if (all->points == 0)
		pane_add(pane, arena, ROLE_PLAIN, 0, "No outlet or appliance yet.");
	if (all->left > 0)
		pane_add(pane, arena, ROLE_SHORT, 0,
		         arena_print(arena,
		                     "%zu urgent, and nothing done about it yet: see l, before "
		                     "leaving",
		                     all->left));
	for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
		if (all->count[verdict] > 0)
			pane_add(pane, arena, verdict_role((enum verdict)verdict), 0,
			         arena_print(arena, "%zu %s", all->count[verdict],
			                     verdict_words((enum verdict)verdict)));
}

/* Short ones first, as there may be no room for the rest. */
static const char *house_line(struct walk *walk, struct arena *arena)
{
	const struct tally *all = verdict_tally(walk);
	const char *line = NULL;

	for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
		if (all->count[verdict] > 0)
			line = arena_print(arena, "%s%s%zu %s", line == NULL ? "" : line,
			                   line == NULL ? "" : ", ", all->count[verdict],
			                   verdict_words((enum verdict)verdict));
	return line == NULL ? "No outlet or appliance yet."
	                    : arena_print(arena, "%s%s", line, so_far(walk, all, arena));
}

struct pane pane_whole(struct walk *walk, struct arena *arena, int cols)
{
	struct pane pane = {0};
	struct item *point = point_shown(walk);

	if (point != NULL)
		add_point(&pane, walk, point, arena, cols);
	else
		pane_house(&pane, walk, arena);
	return pane;
}

/* The figures and the urgency never give way to words. */
static const char *one_line(const struct walk *walk, const struct assessment *now,
                            struct arena *arena, int cols)
{
	const char *line = verdict_line(walk, now, arena), *soon = soon_line(now, arena);

	if (soon != NULL)
		line = arena_print(arena, "%s. %s", line, soon);
	return cols == 0 || (line != NULL && text_width(line, strlen(line)) <= cols)
	               ? line
	               : verdict_brief(walk, now, arena);
}

struct pane pane_one_line(struct walk *walk, struct arena *arena, int cols)
{
	struct item *point = point_shown(walk);
	const struct assessment *now = point == NULL ? NULL : verdict_now(walk, point);
	struct pane pane = {0};

	if (point == NULL)
		pane_add(&pane, arena, ROLE_HEAD, 0, house_line(walk, arena));
	else if (now == NULL)
		pane_add(&pane, arena, ROLE_ERROR, 0, walk->verdicts.err.message);
	else
		pane_add(&pane, arena, verdict_role(now->verdict), 0,
		         one_line(walk, now, arena, cols));
	return pane;
}
