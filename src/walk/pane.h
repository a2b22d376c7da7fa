/*
 * Lines of prose: the verdict, the help, what opens below a question. And what draws them.
 */
#ifndef TUNDISH_WALK_PANE_H
#define TUNDISH_WALK_PANE_H

#include "inside.h"

#include "tundish/walk/tell.h"

struct pane_line {
	const char *text;
	enum role role;
	int indent;
	bool drawn;           /* a picture: never broken, never wrapped */
	int lit_at, lit_cols; /* of a picture: a stretch with a role of its own */
	enum role lit;
};

struct pane {
	struct pane_line *line;
	size_t count, room;
};

/* pane.c */
/** One more line; nothing where @p text is NULL. */
void pane_add(struct pane *pane, struct arena *arena, enum role role, int indent, const char *text);
/** A blank line, then a head. */
void pane_head(struct pane *pane, struct arena *arena, const char *text);
/** A text broken into lines of @p cols, each a line of @p pane. */
void pane_wrap(struct pane *pane, struct arena *arena, enum role role, int indent, const char *text,
               int cols);
void pane_put(struct pane *pane, struct arena *arena, const struct pane_line *line);

/** The same for who reads it line by line: its texts that are not blank. */
struct told_texts pane_texts(const struct pane *pane, struct arena *arena);

/* picture.c: figures on a scale of the categories */
struct scale {
	int label_cols; /* what the words before the scale take */
	int step;       /* columns from one category to the next; 0: words in its place */
	bool ascii;
};
enum { SHORT_COLS = 12 /* "short 0 to 4" */ };
/** The widest scale that leaves room for the words on both sides; for @p cols 0 none at all. */
struct scale scale_of(const struct walk *walk, int cols);
/** The categories, 1 to 5. */
void picture_head(struct pane *pane, struct arena *arena, struct scale scale);
/** What is needed, or a category: the figure where it stands, or both ends of what it may be. */
void picture_figure(struct pane *pane, struct arena *arena, struct scale scale, const char *label,
                    struct range figure, const char *then);
/**
 * What stands in the way, up to its figure, and the shortfall as the distance from there to what is
 * needed: certain as far as the least that is needed, possible as far as the most.
 */
void picture_worth(struct pane *pane, struct arena *arena, struct scale scale, const char *label,
                   struct range worth, struct range needs, struct range shortfall);

/* verdict_words.c */
const char *pane_range(struct range range, struct arena *arena);
enum role verdict_role(enum verdict verdict);
const char *verdict_line(const struct walk *walk, const struct assessment *now,
                         struct arena *arena);
/** The figure and how soon, of which nothing can be left out. */
const char *verdict_brief(const struct walk *walk, const struct assessment *now,
                          struct arena *arena);
/** NULL where it is not urgent. */
const char *soon_line(const struct assessment *now, struct arena *arena);
const char *path_words(const struct walk *walk, const struct item *point, const struct path *path,
                       struct arena *arena);
const char *fluid_words(const struct walk *walk, const struct item *point,
                        const struct fluid_verdict *fluid, struct arena *arena);
/** A reason with its source and standing; NULL for one that goes without saying here. */
const char *because_words(const struct assessment *now, const struct because *because,
                          struct arena *arena);
const char *ask_words(const struct walk *walk, const struct assessment *now, const struct ask *ask,
                      struct arena *arena);

/* verdict_pane.c, verdict_fold.c */
extern const char pane_caution[];
extern const char pane_caution_short[]; /* where there is a line of 40 columns for it */
/** The whole verdict of a point, or what there is to say of a house, for a pane of @p cols. Lines
 * are not wrapped. In @p arena. */
struct pane pane_whole(struct walk *walk, struct arena *arena, int cols);
/** How many points have which verdict. */
void pane_house(struct pane *pane, struct walk *walk, struct arena *arena);
/** The verdict in one line of @p cols, as much as goes into it; 0: there is no end to it. */
struct pane pane_one_line(struct walk *walk, struct arena *arena, int cols);

/* draw_pane.c, draw_fold.c */
struct area {
	int row, col, rows, cols;
};
void draw_pane(struct walk *walk, struct screen *screen, struct area area, const struct pane *pane,
               int *top);
/** A text, with `~` at its end where there is no room for all of it. @return columns used. */
int put_cut(struct screen *screen, int row, int col, int width, enum role role, const char *text);
/** The verdict folded into a few rows. */
void draw_fold(struct walk *walk, struct screen *screen, struct area area);
/** The field being typed, with the cursor, in @p width columns. */
void draw_field(struct walk *walk, struct screen *screen, int row, int col, int width);
void draw_form(struct walk *walk, struct screen *screen, struct area area, bool active);
void draw_house(struct walk *walk, struct screen *screen, struct area area, bool active);
void draw_chooser(struct walk *walk, struct screen *screen, struct area area);
/** A line across, with words in it. */
void draw_rule(struct screen *screen, struct area area, const char *text);

/* quiz_lines.c */
/** What the task asks, and how to go about it: nothing of what comes out. */
void quiz_why(struct pane *pane, struct walk *walk, struct arena *arena);

/* quiz_draw.c: the task, in the place of the verdict */
void draw_quiz(struct walk *walk, struct screen *screen, struct area area);
/** The same under a form: as much of it as there is room for. */
void draw_quiz_fold(struct walk *walk, struct screen *screen, struct area area);
void draw_quiz_line(struct walk *walk, struct screen *screen, struct area area);
/** How many of @p area's rows it wants below the form, all of them at most. */
int quiz_rows(struct walk *walk, struct area area);

/* draw.c */
/** What is shown: the house, or whose form. */
const char *where_words(struct walk *walk);
/** Before the field of a new name. */
const char *prompt_words(struct walk *walk);

/* help.c */
/** Why the focused question is asked, and how to tell what is fitted. */
struct pane help_why(struct walk *walk, struct arena *arena);
struct pane help_lines(struct walk *walk, struct arena *arena, int cols);

#endif
