/*
 * Why this is asked, and the keys: from the rulebook and the table of requests.
 */
#include "pane.h"

#include <string.h>

/* What the focused question asks, how to look, and where that way of asking comes from. */
static void add_question(struct pane *pane, struct walk *walk, struct arena *arena)
{
	const struct line *line = form_line(walk);
	const struct question *question;

	if (line == NULL || line->form != LINE_ANSWER || walk->view != VIEW_FORM)
		return;
	question = &walk->book->question[line->question];
	pane_add(pane, arena, ROLE_HEAD, 0, question->label);
	pane_add(pane, arena, ROLE_PLAIN, 2, question->hint);
	pane_add(pane, arena, ROLE_PLAIN, 2, form_words(question, arena));
	if (question->source_text != NULL)
		pane_add(pane, arena, ROLE_DIM, 2,
		         arena_print(arena, "Source: %s", question->source_text));
	pane_add(pane, arena, ROLE_PLAIN, 2,
	         quiz_on(walk)               ? NULL
	         : line_is_asked(walk, line) ? "It can still move this verdict."
	         : line->point != NULL       ? "As it stands, it can't move this verdict."
	                                     : "It is asked once for all outlets and appliances.");
	pane_add(pane, arena, ROLE_PLAIN, 0, "");
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
	pane_add(pane, arena, ROLE_HEAD, 0, item_title(walk, item, arena));
	pane_add(pane, arena, ROLE_PLAIN, 2, type->tell);
	pane_add(pane, arena, ROLE_PLAIN, 2, type->limits);
	if (type->source_text != NULL)
		pane_add(pane, arena, ROLE_DIM, 2,
		         arena_print(arena, "%s; %s", type->source_text,
		                     standing_words(type->standing)));
	pane_add(pane, arena, ROLE_PLAIN, 0, "");
}

/* The keys on the left, what they do beside them, however many lines that takes. */
static void add_key(struct pane *pane, struct arena *arena, const struct request_row *row, int cols)
{
	enum { KEYS_COLS = 21 };
	const char *keys = row->keys;
	struct pane wrapped = {0};

	pane_wrap(&wrapped, arena, ROLE_PLAIN, 0, row->help, cols - KEYS_COLS);
	for (size_t i = 0; i < wrapped.count; i++) {
		pane_add(pane, arena, ROLE_PLAIN, 2,
		         arena_print(arena, "%-18s %s", keys, wrapped.line[i].text));
		keys = "";
	}
}

static void add_keys(struct pane *pane, const struct walk *walk, enum context context,
                     struct arena *arena, int cols)
{
	pane_add(pane, arena, ROLE_HEAD, 0,
	         arena_print(arena, "Keys in %s", context_name(context)));
	for (int i = 0; i < REQUEST_COUNT; i++) {
		const struct request_row *row = request_row((enum request)i);

		if ((row->contexts & context) != 0 && walk_offers(walk, (enum request)i))
			add_key(pane, arena, row, cols);
	}
	pane_add(pane, arena, ROLE_PLAIN, 0, "");
}

struct pane help_why(struct walk *walk, struct arena *arena)
{
	struct pane pane = {0};

	if (quiz_on(walk) && walk->view == VIEW_VERDICT)
		quiz_why(&pane, walk, arena);
	add_question(&pane, walk, arena);
	add_type(&pane, walk, arena);
	return pane;
}

struct pane help_lines(struct walk *walk, struct arena *arena, int cols)
{
	struct pane pane = help_why(walk, arena);
	enum context context;

	walk->over = walk->over_before;
	context = walk_context(walk);
	walk->over = OVER_HELP;
	add_keys(&pane, walk, context, arena, cols);
	pane_add(&pane, arena, ROLE_HEAD, 0, "How to read the screen");
	pane_add(&pane, arena, ROLE_PLAIN, 2, ">  the next key acts on this line");
	if (!quiz_on(walk)) /* where it would tell something of the verdict */
		pane_add(&pane, arena, ROLE_PLAIN, 2, "*  the answer can still move the verdict");
	pane_add(&pane, arena, ROLE_PLAIN, 2,
	         "!  what was typed is not a value, or a verdict is short");
	pane_add(&pane, arena, ROLE_PLAIN, 2, "[ ]  not answered yet");
	pane_add(&pane, arena, ROLE_PLAIN, 0, "");
	if (context != IN_TEXT)
		add_keys(&pane, walk, IN_TEXT, arena, cols);
	if (context != IN_LIST)
		add_keys(&pane, walk, IN_LIST, arena, cols);
	return pane;
}
