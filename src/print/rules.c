#include "tundish/print/rules.h"

#include "rules_text.h"

#include "tundish/assess/weights.h"
#include "tundish/base/match.h"
#include "tundish/base/text.h"

#include <string.h>

/* -- the list ---------------------------------------------------------------------------------- */

enum {
	NAME_INDENT = 30,
};

static void one_line(struct page *page, const char *id, const char *text)
{
	page_prose(page, arena_print(page->scratch, "  %s", id), NAME_INDENT, text);
}

/* `; 2 rows of MEMORY, to be checked`, or nothing. */
static const char *memory_words(struct page *page, const struct row *row, size_t count)
{
	size_t memory = 0;
	const char *last = "";

	for (size_t i = 0; i < count; i++) {
		/* the rows of one text stand one after the other */
		if (row[i].standing == STANDING_MEMORY && strcmp(row[i].id, last) != 0) {
			memory++;
			last = row[i].id;
		}
	}
	if (memory == 0)
		return "";
	return arena_print(page->scratch, "; %zu row%s of %s", memory, memory == 1 ? "" : "s",
	                   standing_words(STANDING_MEMORY));
}

static void kind_line(struct page *page, const struct kind *kind)
{
	const char *where = kind->where ? kind->where : "";

	one_line(page, kind->id,
	         arena_print(page->scratch, "%s%s%s%s", kind->name, *where ? ": " : "", where,
	                     memory_words(page, kind->row, kind->row_count)));
}

static void type_line(struct page *page, const struct type *type)
{
	bool memory = type->standing == STANDING_MEMORY;

	one_line(page, type->id,
	         arena_print(page->scratch, "%s: good for %s%s%s%s", type->name,
	                     rules_figures(type->good_for, page->scratch), memory ? "; " : "",
	                     memory ? standing_words(STANDING_MEMORY) : "",
	                     memory_words(page, type->row, type->row_count)));
}

static void scope_lines(struct page *page, const struct rulebook *book, enum scope scope)
{
	for (size_t i = 0; i < book->scope_question_count[scope]; i++) {
		const struct question *question = &book->question[book->scope_question[scope][i]];
		one_line(page, arena_print(page->scratch, "%s.%s", scope_name(scope), question->id),
		         question->label);
	}
}

static void site_lines(struct page *page, const struct weights *weights)
{
	sink_text(page->sink, "\nSites of invented houses\n");
	for (size_t i = 0; i < weights->site_count; i++)
		one_line(page, weights->site[i].id, weights->site[i].name);
}

void rules_list(struct page *page, const struct rulebook *book)
{
	char on[11];

	date_format(book->on, on);
	page_prose(page, arena_print(page->scratch, "Rulebook %.8s, for %s", book->digest, on), 0,
	           NULL);
	sink_text(page->sink, "\nKinds of outlet or appliance\n");
	for (size_t i = 0; i < book->kind_count; i++)
		kind_line(page, &book->kind[i]);
	sink_text(page->sink, "\nTypes of protection\n");
	for (size_t i = 0; i < book->type_count; i++)
		type_line(page, &book->type[i]);
	sink_text(page->sink, "\nQuestions asked everywhere\n");
	for (enum scope scope = 0; scope < SCOPE_OUTCOME; scope++)
		scope_lines(page, book, scope);
	sink_text(page->sink, "\nUrgency, top down\n");
	for (size_t i = 0; i < book->urgency_count; i++)
		one_line(page, book->urgency[i].row.id, book->urgency[i].row.says);
	if (book->weights && book->weights->site_count > 0)
		site_lines(page, book->weights);
	sink_text(page->sink,
	          "\n`tundish rules NAME` shows one of them in full, with its sources.\n");
}

/* -- one name ---------------------------------------------------------------------------------- */

static bool row_is(const struct row *row, const char *name)
{
	if (strcmp(row->id, name) == 0)
		return true;
	for (size_t i = 0; i < row->was_count; i++) {
		if (strcmp(row->was[i], name) == 0)
			return true;
	}
	return false;
}

static void row_heading(struct page *page, const char *of, const char *id)
{
	sink_text(page->sink, "\n");
	page_prose(page, arena_print(page->scratch, "Row of %s %s", of, id), 0, NULL);
}

static size_t kind_rows(struct page *page, const struct rulebook *book, const char *name)
{
	size_t count = 0;

	for (size_t k = 0; k < book->kind_count; k++) {
		const struct kind *kind = &book->kind[k];
		for (size_t i = 0; i < kind->row_count; i++) {
			if (!row_is(&kind->row[i], name))
				continue;
			row_heading(page, "kind", kind->id);
			rules_kind_row(page, book, kind, &kind->row[i]);
			count++;
		}
	}
	return count;
}

static size_t type_rows(struct page *page, const struct rulebook *book, const char *name)
{
	size_t count = 0;

	for (size_t t = 0; t < book->type_count; t++) {
		const struct type *type = &book->type[t];
		for (size_t i = 0; i < type->row_count; i++) {
			if (!row_is(&type->row[i], name))
				continue;
			row_heading(page, "type", type->id);
			rules_type_row(page, book, &type->row[i]);
			count++;
		}
		for (size_t i = 0; i < type->series_count; i++) {
			if (!row_is(&type->series[i].row, name))
				continue;
			row_heading(page, "type", type->id);
			rules_series(page, book, &type->series[i]);
			count++;
		}
	}
	return count;
}

static size_t urgency_rows(struct page *page, const struct rulebook *book, const char *name)
{
	size_t count = 0;

	for (size_t i = 0; i < book->urgency_count; i++) {
		if (!row_is(&book->urgency[i].row, name))
			continue;
		row_heading(page,
		            "the urgency table:", book->urgency[i].raises ? "raises" : "top down");
		rules_urgency(page, book, &book->urgency[i]);
		count++;
	}
	return count;
}

/* "part.use" names a question of one scope; "use" those of all. */
static bool question_is(const struct question *question, const char *name)
{
	const char *scope = scope_name(question->scope);
	size_t length = strlen(scope);

	if (strcmp(question->id, name) == 0)
		return true;
	return strncmp(name, scope, length) == 0 && name[length] == '.' &&
	       strcmp(name + length + 1, question->id) == 0;
}

static size_t questions(struct page *page, const struct rulebook *book, const char *name)
{
	size_t count = 0;

	for (size_t i = 0; i < book->question_count; i++) {
		if (!question_is(&book->question[i], name))
			continue;
		rules_question(page, book, &book->question[i]);
		count++;
	}
	return count;
}

/* -- kinds and types by what they are called ---------------------------------------------------- */

static enum match kind_match(const struct kind *kind, const char *name)
{
	const struct called called = {kind->id, kind->name, kind->also, kind->also_count};

	return match_called(&called, name, strlen(name));
}

static enum match type_match(const struct type *type, const char *name)
{
	const struct called called = {type->id, type->name, type->also, type->also_count};

	return match_called(&called, name, strlen(name));
}

/* Kinds and types that match from @p first to @p last, the best first; in full, or in a line each. */
static size_t
of_match(struct page *page, const struct rulebook *book, const char *name, enum match first,
         enum match last,
         void (*show_kind)(struct page *, const struct rulebook *, const struct kind *),
         void (*show_type)(struct page *, const struct rulebook *, const struct type *))
{
	size_t count = 0;

	for (enum match want = first; want <= last; want++) {
		for (size_t i = 0; i < book->kind_count; i++) {
			if (kind_match(&book->kind[i], name) != want)
				continue;
			if (show_kind)
				show_kind(page, book, &book->kind[i]);
			count++;
		}
		for (size_t i = 0; i < book->type_count; i++) {
			if (type_match(&book->type[i], name) != want)
				continue;
			if (show_type)
				show_type(page, book, &book->type[i]);
			count++;
		}
	}
	return count;
}

static void kind_in_line(struct page *page, const struct rulebook *book, const struct kind *kind)
{
	(void)book;
	kind_line(page, kind);
}

static void type_in_line(struct page *page, const struct rulebook *book, const struct type *type)
{
	(void)book;
	type_line(page, type);
}

/* One is shown in full; several in a line each, to choose from. */
static size_t called(struct page *page, const struct rulebook *book, const char *name,
                     enum match first, enum match last)
{
	size_t count = of_match(page, book, name, first, last, NULL, NULL);

	if (count == 1)
		return of_match(page, book, name, first, last, rules_kind, rules_type);
	if (count == 0)
		return 0;
	sink_text(page->sink, "\n");
	page_prose(page,
	           arena_print(page->scratch, "What `%s` may mean", page_safe(page->scratch, name)),
	           0, NULL);
	return of_match(page, book, name, first, last, kind_in_line, type_in_line);
}

static bool is_id(const struct rulebook *book, const char *name)
{
	return rulebook_kind(book, name, strlen(name)) != INDEX_NONE ||
	       rulebook_type(book, name, strlen(name)) != INDEX_NONE;
}

static size_t by_id(struct page *page, const struct rulebook *book, const char *name)
{
	uint16_t kind = rulebook_kind(book, name, strlen(name));
	uint16_t type = rulebook_type(book, name, strlen(name));

	if (kind != INDEX_NONE)
		rules_kind(page, book, &book->kind[kind]);
	if (type != INDEX_NONE)
		rules_type(page, book, &book->type[type]);
	return (size_t)(kind != INDEX_NONE) + (size_t)(type != INDEX_NONE);
}

/* An id is what it is, whatever else is called so; then what is called just so; then what is in part. */
size_t rules_entry(struct page *page, const struct rulebook *book, const char *name)
{
	size_t count = is_id(book, name) ? by_id(page, book, name)
	                                 : called(page, book, name, MATCH_WHOLE, MATCH_WHOLE);

	count += questions(page, book, name);
	count += kind_rows(page, book, name);
	count += type_rows(page, book, name);
	count += urgency_rows(page, book, name);
	if (count == 0 && name[0] != '\0')
		count = called(page, book, name, MATCH_START, MATCH_ALSO);
	if (count == 0 && name[0] != '\0')
		count = called(page, book, name, MATCH_WITHIN, MATCH_WITHIN);
	return count;
}

/* -- the name that was meant ------------------------------------------------------------------- */

struct names {
	struct arena *arena;
	const char **name;
	size_t count, room;
};

static void add(struct names *names, const char *name)
{
	const char **grown =
	        arena_grow(names->arena, names->name, names->count, &names->room, sizeof(*grown));

	if (!grown)
		return;
	names->name = grown;
	names->name[names->count++] = name;
}

const char *rules_nearest(const struct rulebook *book, const char *name, struct arena *scratch)
{
	struct names names = {.arena = scratch};

	for (size_t k = 0; k < book->kind_count; k++)
		add(&names, book->kind[k].id);
	for (size_t t = 0; t < book->type_count; t++)
		add(&names, book->type[t].id);
	for (size_t i = 0; i < book->question_count; i++)
		add(&names, book->question[i].id);
	for (size_t k = 0; k < book->kind_count; k++) {
		for (size_t i = 0; i < book->kind[k].row_count; i++)
			add(&names, book->kind[k].row[i].id);
	}
	for (size_t t = 0; t < book->type_count; t++) {
		for (size_t i = 0; i < book->type[t].row_count; i++)
			add(&names, book->type[t].row[i].id);
	}
	for (size_t i = 0; i < book->urgency_count; i++)
		add(&names, book->urgency[i].row.id);
	return text_nearest(name, names.name, names.count);
}
