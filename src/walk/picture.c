/*
 * The picture of a verdict: every figure on one scale of the categories, so that a shortfall is
 * what it is, a distance.
 *
 *                1   2   3   4   5
 *     needed     .   .   .   .   5        the figure where it stands
 *     on paper   ====2!!!!!!!!!!!|        up to 2 stands; from there to what is needed it does not
 *     in fact    1????????---5---|        could be 1 to 5
 *
 * Figures are the marks themselves: they are read aloud, and need no key. What is no ASCII takes
 * one column on every terminal, East Asian ones too.
 */
#include "pane.h"

#include <string.h>

enum mark {
	MARK_NONE,
	MARK_STEP,   /* a category where nothing else stands */
	MARK_STANDS, /* stands in the way */
	MARK_COULD,  /* could be */
	MARK_SHORT,  /* certainly short */
	MARK_MAYBE,  /* could be short */
	MARK_NEEDED, /* up to here it would have to stand */
	MARK_COUNT,
};

static const char *const marks[MARK_COUNT][2] = {
        [MARK_NONE] = {" ",   " "},
          [MARK_STEP] = {".",   "."},
          [MARK_STANDS] = {"▬", "="},
        [MARK_COULD] = {"-",   "-"},
          [MARK_SHORT] = {"░", "!"},
          [MARK_MAYBE] = {"?",   "?"},
        [MARK_NEEDED] = {"▐", "|"},
};

static const char *const digits[] = {"?", "1", "2", "3", "4", "5"};

enum { STEP_LEAST = 4, STEP_MOST = 8, COLS_MOST = (CATEGORY_MOST - 1) * STEP_MOST + 1 };

/* A row of the scale, a text a column. */
struct marks_row {
	const char *at[COLS_MOST];
	int cols;
};

static int place(struct scale scale, unsigned category)
{
	return ((int)category - 1) * scale.step;
}

static struct marks_row blank_row(struct scale scale)
{
	struct marks_row row = {.cols = place(scale, CATEGORY_MOST) + 1};

	for (int i = 0; i < row.cols; i++)
		row.at[i] = marks[i % scale.step == 0 ? MARK_STEP : MARK_NONE][scale.ascii];
	return row;
}

static void fill(struct marks_row *row, struct scale scale, int from, int to, enum mark mark)
{
	for (int i = from; i < to; i++)
		row->at[i] = marks[mark][scale.ascii];
}

static void put_figure(struct marks_row *row, struct scale scale, struct range figure)
{
	row->at[place(scale, figure.least)] = digits[figure.least];
	row->at[place(scale, figure.most)] = digits[figure.most];
}

static const char *row_text(const struct marks_row *row, struct arena *arena)
{
	char text[COLS_MOST * 4 + 1];
	size_t length = 0;

	for (int i = 0; i < row->cols; i++) {
		size_t bytes = strlen(row->at[i]);

		memcpy(text + length, row->at[i], bytes);
		length += bytes;
	}
	return arena_copy(arena, text, length);
}

static struct pane_line line_of(struct arena *arena, struct scale scale, const char *label,
                                const struct marks_row *row, const char *then)
{
	const char *text = row_text(row, arena);

	text = text == NULL ? NULL
	                    : arena_print(arena, "%-*s%s%s%s", scale.label_cols, label, text,
	                                  then[0] == '\0' ? "" : " ", then);
	return (struct pane_line){.text = text, .role = ROLE_PLAIN, .drawn = true};
}

struct scale scale_of(const struct walk *walk, int cols)
{
	struct scale scale = {.label_cols = 9, .ascii = walk->options.ascii};

	if (cols == 0)
		return scale;
	scale.step = (cols - scale.label_cols - SHORT_COLS - 2) / (CATEGORY_MOST - 1);
	if (scale.step < STEP_LEAST)
		scale.step = STEP_LEAST;
	if (scale.step > STEP_MOST)
		scale.step = STEP_MOST;
	return scale;
}

void picture_head(struct pane *pane, struct arena *arena, struct scale scale)
{
	struct marks_row row;
	struct pane_line line;

	if (scale.step == 0)
		return;
	row = blank_row(scale);
	for (unsigned category = CATEGORY_LEAST; category <= CATEGORY_MOST; category++)
		row.at[place(scale, category)] = digits[category];
	line = line_of(arena, scale, "", &row, "");
	line.role = ROLE_DIM;
	pane_put(pane, arena, &line);
}

void picture_figure(struct pane *pane, struct arena *arena, struct scale scale, const char *label,
                    struct range figure, const char *then)
{
	struct marks_row row;
	struct pane_line line;

	if (scale.step == 0) {
		pane_add(pane, arena, ROLE_PLAIN, 0,
		         arena_print(arena, "%s: %s%s%s", label, pane_range(figure, arena),
		                     then[0] == '\0' ? "" : " ", then));
		return;
	}
	row = blank_row(scale);
	fill(&row, scale, place(scale, figure.least), place(scale, figure.most), MARK_COULD);
	put_figure(&row, scale, figure);
	line = line_of(arena, scale, label, &row, then);
	pane_put(pane, arena, &line);
}

static const char *distance_words(struct range shortfall, struct arena *arena)
{
	if (shortfall.most == 0)
		return "enough";
	if (shortfall.least == shortfall.most)
		return arena_print(arena, "short by %u", shortfall.most);
	return arena_print(arena, "short %u to %u", shortfall.least, shortfall.most);
}

/* Ends may hang together so that there is no shortfall between them: then none is drawn. */
static void fill_shortfall(struct marks_row *row, struct scale scale, struct range worth,
                           struct range needs, struct range shortfall)
{
	int least = place(scale, worth.least), most = place(scale, worth.most),
	    need = place(scale, needs.least), needs_most = place(scale, needs.most);

	if (shortfall.most == 0)
		return;
	if (needs_most > least)
		fill(row, scale, least, needs_most, MARK_MAYBE);
	if (most < need)
		fill(row, scale, most, need, MARK_SHORT);
}

void picture_worth(struct pane *pane, struct arena *arena, struct scale scale, const char *label,
                   struct range worth, struct range needs, struct range shortfall)
{
	const char *then = distance_words(shortfall, arena);
	struct marks_row row;
	struct pane_line line;

	if (scale.step == 0) {
		pane_add(pane, arena, ROLE_PLAIN, 0,
		         arena_print(arena, "%s: %s, %s", label, pane_range(worth, arena), then));
		return;
	}
	row = blank_row(scale);
	fill(&row, scale, 0, place(scale, worth.least), MARK_STANDS);
	fill(&row, scale, place(scale, worth.least), place(scale, worth.most), MARK_COULD);
	fill_shortfall(&row, scale, worth, needs, shortfall);
	if (needs.least > CATEGORY_LEAST)
		fill(&row, scale, place(scale, needs.least), place(scale, needs.least) + 1,
		     MARK_NEEDED);
	fill(&row, scale, place(scale, needs.most), place(scale, needs.most) + 1, MARK_NEEDED);
	put_figure(&row, scale, worth);
	line = line_of(arena, scale, label, &row, then == NULL ? "" : then);
	if (shortfall.most > 0) {
		line.lit_at = scale.label_cols + place(scale, worth.least) + 1;
		line.lit_cols = scale.label_cols + row.cols - line.lit_at + 1 + SHORT_COLS;
		line.lit = shortfall.least > 0 ? ROLE_SHORT : ROLE_UNDECIDED;
	}
	pane_put(pane, arena, &line);
}
