/*
 * The verdict folded into a few rows under the form: the word, the picture of the worst path, and
 * beside it what to ask next and why.
 */
#include "pane.h"

#include <string.h>

enum { PICTURE_COLS = 46, PICTURE_ROWS = 3 };

static const char *joined(struct arena *arena, const char *first, const char *then)
{
	return then == NULL ? first : arena_print(arena, "%s. %s", first, then);
}

static struct pane picture(struct walk *walk, const struct assessment *now, const struct path *path)
{
	struct scale scale = scale_of(walk, PICTURE_COLS);
	struct arena *arena = &walk->scratch;
	struct pane pane = {0};

	if (path == NULL) {
		picture_head(&pane, arena, scale);
		picture_figure(&pane, arena, scale, "category", now->category, "");
		return pane;
	}
	picture_figure(&pane, arena, scale, "needed", path->needs,
	               mechanism_words(path->mechanism));
	picture_worth(&pane, arena, scale, "on paper", path->accepted, path->needs, path->on_paper);
	picture_worth(&pane, arena, scale, "in fact", path->found, path->needs, path->in_fact);
	return pane;
}

static const char *first_reason(const struct assessment *now, struct arena *arena)
{
	for (size_t i = 0; i < now->because_count; i++) {
		const char *words = because_words(now, &now->because[i], arena);

		if (words != NULL)
			return arena_print(arena, "Why: %s", words);
	}
	return NULL;
}

static struct pane beside(struct walk *walk, const struct assessment *now)
{
	struct arena *arena = &walk->scratch;
	struct pane pane = {0};

	if (now->ask_count > 0)
		pane_add(&pane, arena, ROLE_PLAIN, 0,
		         arena_print(arena, "Ask next: %s",
		                     ask_words(walk, now, &now->ask[0], arena)));
	pane_add(&pane, arena, ROLE_PLAIN, 0, first_reason(now, arena));
	return pane;
}

static void draw_verdict_of(struct walk *walk, struct screen *screen, struct area area,
                            struct item *point)
{
	const struct assessment *now = verdict_now(walk, point);
	bool drafted;
	struct area left = {area.row + 1, area.col, PICTURE_ROWS, PICTURE_COLS};
	struct area right = {area.row + 1, area.col + PICTURE_COLS + 1, PICTURE_ROWS,
	                     area.cols - PICTURE_COLS - 1};
	struct area last = {area.row + 1 + PICTURE_ROWS, area.col, 1, area.cols};
	struct pane word = {0}, drawn, said, way = {0};
	const struct path *path;
	int top = 0;

	if (now == NULL) {
		pane_add(&word, &walk->scratch, ROLE_ERROR, 0, walk->verdicts.err.message);
		draw_pane(walk, screen, area, &word, &top);
		return;
	}
	path = now->worst < now->path_count ? &now->path[now->worst] : NULL;
	drafted = draft_speaks(walk);
	pane_add(&word, &walk->scratch, verdict_role(now->verdict), 0,
	         joined(&walk->scratch, verdict_line(walk, now, &walk->scratch),
	                soon_line(now, &walk->scratch)));
	drawn = picture(walk, now, path);
	said = beside(walk, now);
	if (path != NULL)
		pane_add(&way, &walk->scratch, ROLE_DIM, 0,
		         path_words(walk, point, path, &walk->scratch));
	if (drafted)
		draft_take(walk);
	draw_pane(walk, screen, (struct area){area.row, area.col, 1, area.cols}, &word, &top);
	draw_pane(walk, screen, left, &drawn, &top);
	draw_pane(walk, screen, right, &said, &top);
	draw_pane(walk, screen, last, &way, &top);
}

void draw_fold(struct walk *walk, struct screen *screen, struct area area)
{
	struct item *point = point_shown(walk);
	struct area inside = {area.row + 1, area.col, area.rows - 2, area.cols};
	struct pane house = {0};
	int top = 0;

	draw_rule(screen, area, " Verdict ");
	if (point != NULL) {
		draw_verdict_of(walk, screen, inside, point);
	} else {
		pane_house(&house, walk, &walk->scratch);
		draw_pane(walk, screen, inside, &house, &top);
	}
	screen_put(screen, area.row + area.rows - 1, area.col, area.cols, ROLE_DIM, pane_caution,
	           strlen(pane_caution));
}
