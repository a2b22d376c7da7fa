/**
 * @file
 * For tests only: the text of a survey in a style at random, as people and other tools may have written it.
 */
#ifndef TUNDISH_TESTS_RANDOM_TEXT_H
#define TUNDISH_TESTS_RANDOM_TEXT_H

#include "../src/store/yaml/scalar.h"
#include "../src/store/survey/survey_fresh.h"
#include "random_change.h"

/* How one text is written. */
struct manner {
	struct dice *dice;
	struct arena *arena;
	struct bytes out;
	const char *line_break;
	unsigned step;      /* columns that a map stands deeper than its key */
	bool dash_at_key;   /* lists at the column of their key */
	unsigned dash_room; /* blanks after a dash */
	size_t flow_of;     /* one of so many lists and maps is in brackets */
	size_t comment_of;  /* one of so many places has a comment; 0: none */
	size_t comments;    /* made: each has its number */
};

static void write_comment(struct manner *manner, const char *before)
{
	if (manner->comment_of == 0 || roll(manner->dice, manner->comment_of) != 0)
		return;
	bytes_text(&manner->out,
	           arena_print(manner->arena, "%s# c%zu.", before, ++manner->comments));
}

static void write_line(struct manner *manner, unsigned column)
{
	bytes_text(&manner->out, manner->line_break);
	for (unsigned i = 0; i < column; i++)
		bytes_text(&manner->out, " ");
}

/* A line of its own with a comment, or a blank one. */
static void write_between(struct manner *manner, unsigned column)
{
	size_t before = manner->comments;

	if (manner->comment_of == 0)
		return;
	if (roll(manner->dice, 12) == 0)
		bytes_text(&manner->out, manner->line_break);
	write_line(manner, column);
	write_comment(manner, "");
	if (manner->comments == before) /* none: the line was for what comes */
		manner->out.count -= column + strlen(manner->line_break);
}

static bool can_be_literal(const char *text)
{
	size_t length = strlen(text);

	return length > 0 && text[0] != ' ' && text[0] != '\n' && strstr(text, "\n\n") == NULL &&
	       strchr(text, '\t') == NULL && strstr(text, "\xe2\x80\xa8") == NULL;
}

static void write_literal(struct manner *manner, const char *text, unsigned column)
{
	size_t length = strlen(text);

	bytes_text(&manner->out, text[length - 1] == '\n' ? "|" : "|-");
	write_comment(manner, " ");
	for (const char *line = text; *line != '\0';) {
		size_t count = strcspn(line, "\n");

		write_line(manner, column);
		bytes_add(&manner->out, line, count);
		line += count + (line[count] == '\n');
	}
}

static void write_scalar_somehow(struct manner *manner, const struct fresh *fresh, bool in_flow,
                                 unsigned column)
{
	struct scalar_style style = {.in_flow = in_flow, .typed = fresh->typed};

	if (!in_flow && fresh->key != NULL && can_be_literal(fresh->text) &&
	    roll(manner->dice, 6) == 0) {
		write_literal(manner, fresh->text, column);
		return;
	}
	if (roll(manner->dice, 5) == 0)
		style.quote = roll(manner->dice, 2) ? '"' : '\'';
	bytes_text(&manner->out,
	           scalar_write(fresh->text, strlen(fresh->text), style, manner->arena));
	if (!in_flow)
		write_comment(manner, "  ");
}

static void write_key(struct manner *manner, const char *key)
{
	const char *quote = roll(manner->dice, 12) == 0 ? "\"" : "";

	bytes_text(&manner->out, arena_print(manner->arena, "%s%s%s:", quote, key, quote));
}

static void write_in_flow(struct manner *manner, const struct fresh *fresh, unsigned column)
{
	bool lines = roll(manner->dice, 4) == 0, tight = roll(manner->dice, 4) == 0;
	bool map = fresh->kind == EVENT_MAP;

	bytes_text(&manner->out, map ? "{" : "[");
	for (const struct fresh *child = fresh->child; child != NULL; child = child->next) {
		if (lines) {
			write_comment(manner, " ");
			write_line(manner, column + 2);
		} else if (!tight) {
			bytes_text(&manner->out, " ");
		}
		if (map) {
			write_key(manner, child->key);
			bytes_text(&manner->out, " ");
		}
		if (child->kind == EVENT_SCALAR)
			write_scalar_somehow(manner, child, true, column + 2);
		else
			write_in_flow(manner, child, column + 2);
		if (child->next != NULL || roll(manner->dice, 8) == 0)
			bytes_text(&manner->out, ",");
	}
	if (lines) {
		write_comment(manner, " ");
		write_line(manner, column + 1);
	} else if (!tight) {
		bytes_text(&manner->out, " ");
	}
	bytes_text(&manner->out, map ? "}" : "]");
}

static void write_in_lines(struct manner *manner, const struct fresh *fresh, unsigned column);

static void write_value_somehow(struct manner *manner, const struct fresh *fresh, unsigned column)
{
	bool flow = fresh->child == NULL || roll(manner->dice, manner->flow_of) == 0;

	if (fresh->key != NULL && (flow || fresh->kind == EVENT_SCALAR))
		bytes_text(&manner->out, " ");
	if (fresh->kind == EVENT_SCALAR) {
		write_scalar_somehow(manner, fresh, false, column + manner->step);
	} else if (flow) {
		write_in_flow(manner, fresh, column);
		write_comment(manner, " ");
	} else if (fresh->key == NULL) {
		write_in_lines(manner, fresh, column);
	} else {
		unsigned deeper =
		        fresh->kind == EVENT_LIST && manner->dash_at_key ? 0 : manner->step;

		write_comment(manner, "   ");
		write_between(manner, column + deeper);
		write_line(manner, column + deeper);
		write_in_lines(manner, fresh, column + deeper);
	}
}

static void write_in_lines(struct manner *manner, const struct fresh *fresh, unsigned column)
{
	for (const struct fresh *child = fresh->child; child != NULL; child = child->next) {
		if (child != fresh->child) {
			write_between(manner, column);
			write_line(manner, column);
		}
		if (fresh->kind == EVENT_MAP) {
			write_key(manner, child->key);
			write_value_somehow(manner, child, column);
			continue;
		}
		bytes_text(&manner->out, "-");
		for (unsigned i = 0; i < manner->dash_room; i++)
			bytes_text(&manner->out, " ");
		write_value_somehow(manner, child, column + 1 + manner->dash_room);
	}
}

/* Keys of the person's own, here and there; and any order of keys. */
static void make_it_theirs(struct fresh *fresh, struct dice *dice, struct arena *arena,
                           size_t *count)
{
	static const char *const texts[] = {"my own", "two\nlines\n", "12:30", "#5"};

	for (struct fresh *child = fresh->child; child != NULL; child = child->next)
		make_it_theirs(child, dice, arena, count);
	if (fresh->kind != EVENT_MAP || fresh->child == NULL)
		return;
	if (roll(dice, 6) == 0)
		fresh_scalar(arena, fresh, arena_print(arena, "x-%zu", ++*count),
		             texts[roll(dice, 4)], false);
	if (roll(dice, 20) == 0) {
		struct fresh *list =
		        fresh_add(arena, fresh, EVENT_LIST, arena_print(arena, "x-%zu", ++*count));

		fresh_scalar(arena, list, NULL, "one", false);
		fresh_scalar(arena, list, NULL, "other", false);
	}
	if (roll(dice, 4) == 0 && fresh->child->next != NULL) { /* the first goes last */
		struct fresh *first = fresh->child;

		fresh->child = first->next;
		first->next = NULL;
		fresh->last->next = first;
		fresh->last = first;
	}
}

static bool chance_fold(const struct survey *survey, const struct item *point, struct dice *dice)
{
	return point->of != INDEX_NONE && survey->book->kind[point->of].inlet_count == 1 &&
	       item_children(point, SCOPE_INLET) == 1 && roll(dice, 2) == 0;
}

static void fold_some(const struct survey *survey, const struct item *item, struct dice *dice,
                      struct folded *folded, struct arena *arena)
{
	if (item->scope == SCOPE_POINT && chance_fold(survey, item, dice)) {
		folded->ref = arena_grow(arena, folded->ref, folded->count, &folded->room,
		                         sizeof(*folded->ref));
		folded->ref[folded->count++] = item->ref;
	}
	for (size_t i = 0; i < item->child_count; i++)
		fold_some(survey, item->child[i], dice, folded, arena);
}

static int by_ref_text(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static struct manner any_manner(struct dice *dice, struct arena *arena)
{
	return (struct manner){
	        .dice = dice,
	        .arena = arena,
	        .out = {.arena = arena},
	        .line_break = roll(dice, 4) == 0 ? "\r\n" : "\n",
	        .step = (unsigned)roll(dice, 4) + 1,
	        .dash_at_key = roll(dice, 3) == 0,
	        .dash_room = (unsigned)roll(dice, 3) + 1,
	        .flow_of = roll(dice, 5) + 1,
	        .comment_of = (size_t[]){ 0, 3, 9, 30}
                  [roll(dice, 4)],
	};
}

/* The text, and how many comments `# cN.` it has. */
static struct source random_text(const struct survey *survey, struct dice *dice,
                                 struct arena *arena, size_t *comments)
{
	struct folded folded = {0};
	struct manner manner = any_manner(dice, arena);
	struct fresh *root;
	size_t count = 0;

	fold_some(survey, survey->premises, dice, &folded, arena);
	if (folded.count > 1)
		qsort(folded.ref, folded.count, sizeof(*folded.ref), by_ref_text);
	root = survey_fresh(survey, &folded, arena);
	make_it_theirs(root, dice, arena, &count);
	if (roll(dice, 8) == 0)
		bytes_text(&manner.out, "\xEF\xBB\xBF");
	write_comment(&manner, "");
	if (manner.comments > 0)
		write_line(&manner, 0);
	if (roll(dice, 8) == 0) {
		bytes_text(&manner.out, "---");
		write_line(&manner, 0);
	}
	if (roll(dice, 10) == 0)
		write_in_flow(&manner, root, 0);
	else
		write_in_lines(&manner, root, 0);
	if (roll(dice, 5) != 0)
		write_line(&manner, 0);
	if (roll(dice, 4) == 0) {
		write_line(&manner, 0);
		write_comment(&manner, "");
	}
	*comments = manner.comments;
	return (struct source){"random.yaml", manner.out.text, manner.out.count};
}

#endif
