/*
 * Why this is asked, and the keys: from the rulebook and the table of requests.
 */
#include "inside.h"

#include <string.h>

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

/* What the focused question asks, how to look, and where that way of asking comes from. */
static void add_question(struct pane *pane, struct walk *walk, struct arena *arena)
{
	const struct line *line = form_line(walk);
	const struct question *question;

	if (line == NULL || line->form != LINE_ANSWER || walk->view != VIEW_FORM)
		return;
	question = &walk->book->question[line->question];
	add(pane, arena, ROLE_HEAD, 0, question->label);
	add(pane, arena, ROLE_PLAIN, 2, question->hint);
	add(pane, arena, ROLE_PLAIN, 2, form_words(question, arena));
	if (question->source_text != NULL)
		add(pane, arena, ROLE_DIM, 2,
		    arena_print(arena, "Source: %s", question->source_text));
	add(pane, arena, ROLE_PLAIN, 2,
	    line_is_asked(walk, line) ? "It can still move this verdict."
	    : line->point != NULL     ? "As it stands, it can't move this verdict."
	                              : "It is asked once for all outlets and appliances.");
	add(pane, arena, ROLE_PLAIN, 0, "");
}

/* How to tell by eye what is fitted, and where it may be used. */
static void add_type(struct pane *pane, struct walk *walk, struct arena *arena)
{
	const struct line *line = form_line(walk);
	const struct item *item = line == NULL || walk->view != VIEW_FORM ? NULL : line->item;
	const struct type *type;

	if (item == NULL || item->scope != SCOPE_PROTECTION || item->of >= walk->book->type_count)
		return;
	type = &walk->book->type[item->of];
	add(pane, arena, ROLE_HEAD, 0, item_title(walk, item, arena));
	add(pane, arena, ROLE_PLAIN, 2, type->tell);
	add(pane, arena, ROLE_PLAIN, 2, type->limits);
	if (type->source_text != NULL)
		add(pane, arena, ROLE_DIM, 2,
		    arena_print(arena, "%s; %s", type->source_text, standing_name(type->standing)));
	add(pane, arena, ROLE_PLAIN, 0, "");
}

/* The keys on the left, what they do beside them, however many lines that takes. */
static void add_key(struct pane *pane, struct arena *arena, const struct request_row *row, int cols)
{
	enum { KEYS_COLS = 21 };
	const char *keys = row->keys;
	struct pane wrapped = {0};

	pane_wrap(&wrapped, arena, ROLE_PLAIN, 0, row->help, cols - KEYS_COLS);
	for (size_t i = 0; i < wrapped.count; i++) {
		add(pane, arena, ROLE_PLAIN, 2,
		    arena_print(arena, "%-18s %s", keys, wrapped.line[i].text));
		keys = "";
	}
}

static void add_keys(struct pane *pane, enum context context, struct arena *arena, int cols)
{
	add(pane, arena, ROLE_HEAD, 0, arena_print(arena, "Keys in %s", context_name(context)));
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if ((row->contexts & context) != 0)
			add_key(pane, arena, row, cols);
	}
	add(pane, arena, ROLE_PLAIN, 0, "");
}

struct pane help_lines(struct walk *walk, struct arena *arena, int cols)
{
	struct pane pane = {0};
	enum context context;

	walk->over = walk->over_before;
	context = walk_context(walk);
	walk->over = OVER_HELP;
	add_question(&pane, walk, arena);
	add_type(&pane, walk, arena);
	add_keys(&pane, context, arena, cols);
	add(&pane, arena, ROLE_HEAD, 0, "How to read the screen");
	add(&pane, arena, ROLE_PLAIN, 2, ">  the next key acts on this line");
	add(&pane, arena, ROLE_PLAIN, 2, "*  the answer can still move the verdict");
	add(&pane, arena, ROLE_PLAIN, 2, "!  what was typed is not a value, or a verdict is short");
	add(&pane, arena, ROLE_PLAIN, 2, "[ ]  not answered yet");
	add(&pane, arena, ROLE_PLAIN, 0, "");
	if (context != IN_TEXT)
		add_keys(&pane, IN_TEXT, arena, cols);
	if (context != IN_LIST)
		add_keys(&pane, IN_LIST, arena, cols);
	return pane;
}
