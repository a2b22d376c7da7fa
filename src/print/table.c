#include "tundish/print/table.h"

#include <string.h>

enum {
	REF_COLUMNS = 10,
	KIND_COLUMNS = 23,
	VERDICT_COLUMNS = 10,
	URGENCY_COLUMNS = 9,
	RANGE_COLUMNS = 6,
	DETAIL_INDENT = 12,
	PLACES_MOST = 6,  /* named on one path; all are in NDJSON */
	REASONS_MOST = 8, /* of the rows that could still count */
	ASKS_MOST = 5,
};

/* -- headings ---------------------------------------------------------------------------------- */

void table_file(struct page *page, const char *name, const struct survey *survey)
{
	const char *ref = survey->premises->ref;
	struct arena *scratch = page->scratch;

	if (ref && *ref)
		page_prose(page, arena_print(scratch, "%s (%s)", page_safe(scratch, name), ref), 0,
		           NULL);
	else
		page_prose(page, name, 0, NULL);
	sink_text(
	        page->sink,
	        "                                                                 short by\n"
	        "  point      outlet or appliance     verdict    urgency   fluid   paper  fact\n");
}

/* "not seen", "seen in part" of a room; NULL where it was seen, or nobody said. */
static const char *room_seen(const struct survey *survey, const struct item *room)
{
	const char *seen = item_text(room, survey->book->known.room_seen);

	if (!seen || strcmp(seen, "yes") == 0)
		return NULL;
	if (strcmp(seen, "no") == 0)
		return "not seen";
	return strcmp(seen, "part") == 0 ? "seen in part" : seen;
}

void table_room(struct page *page, const struct survey *survey, const struct item *room)
{
	const char *name = item_text(room, survey->book->known.room_name);
	const struct item *part = survey_part(survey, room);
	const char *seen = room_seen(survey, room);
	bool empty = item_children(room, SCOPE_POINT) == 0;

	sink_text(page->sink, "\n");
	const char *line = arena_print(page->scratch, "%s%s%s%s%s%s",
	                               page_safe(page->scratch, name && *name ? name : room->ref),
	                               part ? ", part " : "", part ? part->ref : "",
	                               seen ? ": " : "", page_safe(page->scratch, seen),
	                               empty ? " (no outlet or appliance noted)" : "");
	page_prose(page, NULL, 0, line);
}

/* -- a point's own line ------------------------------------------------------------------------ */

static const char *kind_words(struct page *page, const struct assessed *assessed)
{
	const struct known_questions *known = &assessed->survey->book->known;
	const struct item *point = assessed->assessment->point;
	const struct kind *kind = assessed_kind(assessed);
	const char *name = item_text(point, known->point_name);
	const char *count = item_text(point, known->point_count);
	bool many = count && strcmp(count, "1") != 0;

	return arena_print(page->scratch, "%s%s%s%s%s", many ? count : "", many ? " x " : "",
	                   kind ? kind->name : "not said what it is", name ? ", " : "",
	                   name ? name : "");
}

static const char *urgency_cell(enum urgency urgency)
{
	return urgency == URGENCY_NONE ? "-" : urgency_words(urgency);
}

static void range_cell(struct page *page, struct range range)
{
	char words[8];

	range_words(range, words);
	page_cell(page, words, RANGE_COLUMNS);
}

static void point_line(struct page *page, const struct assessed *assessed)
{
	const struct assessment *a = assessed->assessment;
	char in_fact[8];

	range_words(a->in_fact, in_fact);
	sink_text(page->sink, "  ");
	page_cell(page, a->point->ref, REF_COLUMNS);
	sink_text(page->sink, " ");
	page_cell(page, kind_words(page, assessed), KIND_COLUMNS);
	sink_text(page->sink, " ");
	page_cell(page, verdict_words(a->verdict), VERDICT_COLUMNS);
	sink_text(page->sink, " ");
	page_cell(page, urgency_cell(a->urgency), URGENCY_COLUMNS);
	sink_text(page->sink, " ");
	range_cell(page, a->category);
	sink_text(page->sink, "  ");
	range_cell(page, a->on_paper);
	sink_text(page->sink, " ");
	sink_text(page->sink, in_fact);
	sink_text(page->sink, "\n");
}

/* -- below it: the path ------------------------------------------------------------------------ */

static bool same_range(struct range a, struct range b)
{
	return a.least == b.least && a.most == b.most;
}

/* The same way back with the same figures, to another place? */
static bool same_way(const struct path *a, const struct path *b)
{
	return a->fluid == b->fluid && a->inlet_index == b->inlet_index &&
	       a->mechanism == b->mechanism && same_range(a->needs, b->needs) &&
	       same_range(a->good_for, b->good_for) && same_range(a->accepted, b->accepted) &&
	       same_range(a->found, b->found) && same_range(a->on_paper, b->on_paper) &&
	       same_range(a->in_fact, b->in_fact);
}

static bool certainly_short(const struct path *path)
{
	return path->on_paper.least > 0 || path->in_fact.least > 0;
}

static bool could_be_short(const struct path *path)
{
	return path->on_paper.most > 0 || path->in_fact.most > 0;
}

static const char *place_words(struct page *page, const struct assessed *assessed,
                               const struct path *path)
{
	const struct rulebook *book = assessed->survey->book;
	const struct item *item = survey_find(assessed->survey, path->to, strlen(path->to));

	if (strcmp(path->to, "main") == 0)
		return "the undertaker's main";
	if (path->to_part)
		return arena_print(page->scratch, "part %s", path->to);
	if (item && item->scope == SCOPE_POINT && item->of != INDEX_NONE)
		return arena_print(page->scratch, "%s (%s)", path->to, book->kind[item->of].name);
	return path->to;
}

/* All places that paths like the one at @p first lead to, joined. */
static const char *places(struct page *page, const struct assessed *assessed, size_t first)
{
	const struct assessment *a = assessed->assessment;
	const char *text = "";
	size_t count = 0;

	for (size_t i = first; i < a->path_count; i++) {
		if (!same_way(&a->path[first], &a->path[i]))
			continue;
		if (count++ < PLACES_MOST)
			text = arena_print(page->scratch, "%s%s%s", text ? text : "",
			                   count > 1 ? ", to " : "",
			                   place_words(page, assessed, &a->path[i]));
	}
	if (count > PLACES_MOST)
		text = arena_print(page->scratch, "%s and %zu more", text ? text : "",
		                   count - PLACES_MOST);
	return text ? text : "";
}

static const char *fluid_words(const struct assessed *assessed, unsigned fluid)
{
	const struct kind *kind = assessed_kind(assessed);

	if (fluid == FLUID_UNDERTAKER)
		return "what the undertaker decided on";
	return kind && fluid < kind->fluid_count ? kind->fluid[fluid].name : "what it holds";
}

static void path_line(struct page *page, const struct assessed *assessed, size_t index)
{
	const struct path *path = &assessed->assessment->path[index];
	const struct kind *kind = assessed_kind(assessed);
	char needs[8], good_for[8], accepted[8], found[8], on_paper[8], in_fact[8];

	range_words(path->needs, needs);
	range_words(path->good_for, good_for);
	range_words(path->accepted, accepted);
	range_words(path->found, found);
	range_words(path->on_paper, on_paper);
	range_words(path->in_fact, in_fact);
	const char *text = arena_print(
	        page->scratch,
	        "%s, by %s through the %s inlet, to %s: needs %s; type good for %s, accepted %s, "
	        "as found %s; short by %s on paper, %s in fact",
	        fluid_words(assessed, path->fluid), mechanism_words(path->mechanism),
	        kind && path->inlet_index < kind->inlet_count ? kind->inlet[path->inlet_index].name
	                                                      : "only",
	        places(page, assessed, index), needs, good_for, accepted, found, on_paper, in_fact);
	page_prose(page, "      path", DETAIL_INDENT, text);
}

static bool said_before(const struct assessment *a, size_t index)
{
	for (size_t i = 0; i < index; i++) {
		if (same_way(&a->path[i], &a->path[index]))
			return true;
	}
	return false;
}

/* Paths that are short for certain; where there are none, those that could be; else the one the
 * verdict speaks of. */
static void path_lines(struct page *page, const struct assessed *assessed)
{
	const struct assessment *a = assessed->assessment;
	bool certain = false, any = false;

	for (size_t i = 0; i < a->path_count; i++)
		certain = certain || certainly_short(&a->path[i]);
	for (size_t i = 0; i < a->path_count; i++) {
		bool wanted = certain ? certainly_short(&a->path[i]) : could_be_short(&a->path[i]);
		if (!wanted || said_before(a, i))
			continue;
		path_line(page, assessed, i);
		any = true;
	}
	if (!any && a->worst < a->path_count)
		path_line(page, assessed, a->worst);
}

/* -- why, and what to ask ---------------------------------------------------------------------- */

static void reason_line(struct page *page, const struct because *because, const char *lead)
{
	const struct row *row = because->row;
	const char *text = arena_print(page->scratch, "%s%s%s [%s: %s; %s]",
	                               because->protection ? because->protection->ref : "",
	                               because->protection ? ": " : "", row->says ? row->says : "",
	                               row->id, row->source_text ? row->source_text : "no source",
	                               standing_words(row->standing));

	page_prose(page, lead, DETAIL_INDENT, text);
}

/** Why a fluid does not come back is a line only where nothing else does. */
static bool worth_a_line(const struct assessment *a, size_t i)
{
	return !assessed_repeats(a, i) &&
	       (a->category.most == CATEGORY_LEAST || !because_why_not(&a->because[i]));
}

static void certain_lines(struct page *page, const struct assessment *a)
{
	for (size_t i = 0; i < a->because_count; i++) {
		if (a->because[i].certain && worth_a_line(a, i))
			reason_line(page, &a->because[i], "      why");
	}
}

static void reason_lines(struct page *page, const struct assessment *a)
{
	size_t could = 0;

	certain_lines(page, a);
	for (size_t i = 0; i < a->because_count; i++) {
		if (!a->because[i].certain && worth_a_line(a, i) && could++ < REASONS_MOST)
			reason_line(page, &a->because[i], "      could");
	}
	if (could > REASONS_MOST)
		page_prose(page, "      could", DETAIL_INDENT,
		           arena_print(page->scratch,
		                       "and %zu rows more; --format ndjson names them all",
		                       could - REASONS_MOST));
}

static const char *inlet_words(struct page *page, const struct assessed *assessed,
                               const struct item *inlet)
{
	const struct item *point = inlet->parent;
	int index = survey_inlet_index(assessed->survey, inlet);
	const char *name =
	        index >= 0 ? assessed->survey->book->kind[point->of].inlet[index].name : inlet->ref;

	if (point == assessed->assessment->point)
		return arena_print(page->scratch, "What is fitted on the %s inlet?", name);
	return arena_print(page->scratch, "What is fitted on the %s inlet of %s?", name,
	                   point->ref);
}

static const char *ask_words(struct page *page, const struct assessed *assessed,
                             const struct ask *ask)
{
	struct ask_name name = assessed_ask(assessed, ask);
	const char *label;

	if (ask->question != QUESTION_NONE)
		label = assessed->survey->book->question[ask->question].label;
	else
		label = inlet_words(page, assessed, ask->item);
	return arena_print(page->scratch, "%s [%s%s%s%s%s]", label ? label : "", name.word[0],
	                   name.count > 1 ? "/" : "", name.count > 1 ? name.word[1] : "",
	                   name.count > 2 ? "/" : "", name.count > 2 ? name.word[2] : "");
}

static void ask_lines(struct page *page, const struct assessed *assessed)
{
	const struct assessment *a = assessed->assessment;

	for (size_t i = 0; i < a->ask_count && i < ASKS_MOST; i++)
		page_prose(page, "      ask", DETAIL_INDENT, ask_words(page, assessed, &a->ask[i]));
	if (a->ask_count > ASKS_MOST)
		page_prose(page, "      ask", DETAIL_INDENT,
		           arena_print(page->scratch, "and %zu questions more",
		                       a->ask_count - ASKS_MOST));
}

/* -- what was done about it --------------------------------------------------------------------- */

static const char *answer_words(const struct rulebook *book, const struct answer *answer)
{
	const struct question *question = &book->question[answer->question];
	int option = question->form == FORM_CHOICE
	                     ? question_option(question, answer->text, strlen(answer->text))
	                     : -1;

	return option < 0 ? answer->text : question->option[option].label;
}

static void action_lines(struct page *page, const struct assessed *assessed)
{
	const struct item *point = assessed->assessment->point;

	for (size_t i = 0; i < point->child_count; i++) {
		const struct item *action = point->child[i];
		const char *words = "";

		if (action->scope != SCOPE_ACTION)
			continue;
		for (size_t a = 0; words && a < action->answer_count; a++)
			words = arena_print(
			        page->scratch, "%s%s%s", words, a ? "; " : "",
			        answer_words(assessed->survey->book, &action->answer[a]));
		if (words && *words)
			page_prose(page, "      done", DETAIL_INDENT, words);
	}
}

void table_point(struct page *page, const struct assessed *assessed)
{
	const struct assessment *a = assessed->assessment;

	point_line(page, assessed);
	if (a->verdict != VERDICT_PROTECTED) {
		path_lines(page, assessed);
		reason_lines(page, a);
		ask_lines(page, assessed);
	} else if (verdict_leaves_work(a->verdict, a->urgency)) {
		certain_lines(page, a);
	}
	action_lines(page, assessed);
	if (a->lawful_old)
		page_prose(page, "      note", DETAIL_INDENT,
		           "fitted before 1 July 1999: would not be accepted today; no order to "
		           "change");
	if (a->due)
		page_prose(page, "      note", DETAIL_INDENT,
		           "a change, service or test could be due");
}

/* -- the last lines ---------------------------------------------------------------------------- */

void table_end(struct page *page, const struct rulebook *book, const struct tally *tally)
{
	char on[11];
	const char *counts = arena_print(page->scratch, "%zu point%s: ", tally->points,
	                                 tally->points == 1 ? "" : "s");

	for (enum verdict v = 0; v < VERDICT_COUNT; v++)
		counts = arena_print(page->scratch, "%s%s%zu %s", counts ? counts : "",
		                     v ? ", " : "", tally->verdict[v], verdict_words(v));
	date_format(book->on, on);
	sink_text(page->sink, "\n");
	page_prose(page, NULL, 0, counts);
	page_prose(page, NULL, 0,
	           arena_print(page->scratch, "Judged by rulebook %.8s for %s.", book->digest, on));
	page_prose(page, NULL, 0, safety_caution);
}
