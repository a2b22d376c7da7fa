/* What names something else in the survey: parts, and feeds, which must not go round in a loop. */
#include "survey_inside.h"

#include "tundish/base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/** Water of one branch or point that comes from another. */
struct edge {
	const struct item *from, *to;
	struct span span; /* of the answer that says so */
};

/** A branch or a point that is fed by another. */
struct fed {
	const struct item *item;
	size_t open;     /* edges that do not yet lead to an end */
	size_t first;    /* its edges, sorted by `from` */
	unsigned walked; /* the number of the walk that came by */
};

struct feeds {
	struct survey_reader *reader;
	bool points_feed; /* a branch starts at a point: else no loop goes through one */
	struct edge *edge;
	size_t edge_count, edge_room;
	struct fed *fed; /* by address */
	size_t fed_count;
};

/* -- names ----------------------------------------------------------------------------------- */

static bool may_store(const struct survey_reader *reader, const struct item *item)
{
	return item->scope == SCOPE_POINT &&
	       (item->of >= reader->book->kind_count || reader->book->kind[item->of].stores);
}

/** Whether @p target can be what an answer of @p item to a question of that form names. */
static bool fits(const struct survey_reader *reader, const struct item *item, enum form form,
                 const struct item *target)
{
	if (form == FORM_PART)
		return target->scope == SCOPE_PART;
	return target->scope == SCOPE_BRANCH ||
	       (item->scope == SCOPE_BRANCH && may_store(reader, target));
}

static const char *nearest_ref(const struct survey_reader *reader, const struct item *item,
                               enum form form, const char *word)
{
	const struct survey *survey = reader->survey;
	const char **words =
	        arena_take(&reader->survey->arena, (survey->by_ref_count + 1) * sizeof(*words));
	size_t count = 0;

	if (!words)
		return NULL;
	if (form == FORM_FEED)
		words[count++] = "main";
	for (size_t i = 0; i < survey->by_ref_size; i++)
		if (survey->by_ref[i] && fits(reader, item, form, survey->by_ref[i]) &&
		    count <= survey->by_ref_count)
			words[count++] = survey->by_ref[i]->ref;
	return text_nearest(word, words, count);
}

static void names_nothing(struct survey_reader *reader, const struct item *item, enum form form,
                          const char *word, struct span span)
{
	const struct item *other = survey_find(reader->survey, word, strlen(word));
	const char *nearest;

	if (other && form == FORM_PART) {
		survey_fault(reader, span, "`%.60s` is a %s, not a part", word,
		             scope_name(other->scope));
	} else if (other && other->scope == SCOPE_POINT && item->scope == SCOPE_BRANCH) {
		survey_fault(reader, span, "`%.60s` stores no water: no branch can start there",
		             word);
	} else if (other && other->scope == SCOPE_POINT) {
		survey_fault(reader, span,
		             "`%.60s` is a point: give what comes from it a branch of its own",
		             word);
	} else if (other) {
		survey_fault(reader, span, "`%.60s` is a %s: it feeds nothing", word,
		             scope_name(other->scope));
	} else {
		nearest = nearest_ref(reader, item, form, word);
		survey_fault(reader, span, "`%.60s` names no %s of this survey%s%s%s", word,
		             form == FORM_PART ? "part" : "branch",
		             nearest ? ": did you mean `" : "", nearest ? nearest : "",
		             nearest ? "`?" : "");
	}
}

static void add_edge(struct feeds *feeds, const struct item *item, const struct item *to,
                     struct span span)
{
	struct edge *grown = arena_grow(&feeds->reader->survey->arena, feeds->edge,
	                                feeds->edge_count, &feeds->edge_room, sizeof(*grown));

	if (!grown) {
		feeds->reader->no_memory = true;
		return;
	}
	feeds->edge = grown;
	grown[feeds->edge_count++] =
	        (struct edge){item->scope == SCOPE_INLET ? item->parent : item, to, span};
}

static void check_word(struct feeds *feeds, const struct item *item, enum form form,
                       const char *text, size_t length, struct span span)
{
	struct survey_reader *reader = feeds->reader;
	const struct item *target;
	const char *word;

	if (form == FORM_FEED && text_is(text, length, "main"))
		return;
	target = survey_find(reader->survey, text, length);
	if (!target || !fits(reader, item, form, target)) {
		word = arena_copy(&reader->survey->arena, text, length);
		if (word)
			names_nothing(reader, item, form, word, span);
		return;
	}
	feeds->points_feed |= target->scope == SCOPE_POINT;
	if (form == FORM_FEED && (item->scope == SCOPE_BRANCH || feeds->points_feed))
		add_edge(feeds, item, target, span);
}

static void check_answer(struct feeds *feeds, const struct item *item, enum form form,
                         const struct answer *answer)
{
	const char *next = answer->text;

	if (strcmp(next, "cannot_tell") == 0)
		return;
	while (*next) {
		size_t length = strcspn(next, ",");

		check_word(feeds, item, form, next, length, answer->span);
		next += length + strspn(next + length, ", ");
	}
}

/* Branches first: they say whether points can be on a loop. */
static void check_of_scope(struct feeds *feeds, bool branches)
{
	const struct survey_reader *reader = feeds->reader;

	for (size_t i = 0; i < reader->reference_count; i++) {
		const struct reference *reference = &reader->reference[i];
		const struct answer *answer;

		if ((reference->item->scope == SCOPE_BRANCH) != branches)
			continue;
		answer = item_answer(reference->item, reference->question);
		if (answer)
			check_answer(feeds, reference->item,
			             reader->book->question[reference->question].form, answer);
	}
}

/* -- loops ----------------------------------------------------------------------------------- */

static int by_address(const struct item *a, const struct item *b)
{
	return (uintptr_t)a < (uintptr_t)b ? -1 : (uintptr_t)a > (uintptr_t)b;
}

static int by_from(const void *a, const void *b)
{
	return by_address(((const struct edge *)a)->from, ((const struct edge *)b)->from);
}

static int by_to(const void *a, const void *b)
{
	return by_address(((const struct edge *)a)->to, ((const struct edge *)b)->to);
}

static int by_item(const void *a, const void *b)
{
	return by_address(((const struct fed *)a)->item, ((const struct fed *)b)->item);
}

/* NULL: nothing feeds it, so no loop goes through it. */
static struct fed *find_fed(const struct feeds *feeds, const struct item *item)
{
	struct fed wanted = {.item = item};

	return bsearch(&wanted, feeds->fed, feeds->fed_count, sizeof(wanted), by_item);
}

static bool number_fed(struct feeds *feeds)
{
	feeds->fed =
	        arena_take(&feeds->reader->survey->arena, feeds->edge_count * sizeof(*feeds->fed));
	if (!feeds->fed) {
		feeds->reader->no_memory = true;
		return false;
	}
	qsort(feeds->edge, feeds->edge_count, sizeof(*feeds->edge), by_from);
	for (size_t i = 0; i < feeds->edge_count; i++) {
		if (i == 0 || feeds->edge[i].from != feeds->edge[i - 1].from)
			feeds->fed[feeds->fed_count++] = (struct fed){feeds->edge[i].from, 0, i, 0};
		feeds->fed[feeds->fed_count - 1].open++;
	}
	return true;
}

/** The first of the edges, sorted by `to`, that lead to @p item. */
static size_t first_to(const struct edge *edge, size_t count, const struct item *item)
{
	size_t low = 0, high = count;

	while (low < high) {
		size_t middle = low + (high - low) / 2;

		if (by_address(edge[middle].to, item) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* Take away, again and again, what all leads to an end: what is left goes round, or comes from what
 * does. */
static bool peel(struct feeds *feeds)
{
	struct arena *arena = &feeds->reader->survey->arena;
	struct edge *back = arena_take(arena, feeds->edge_count * sizeof(*back));
	const struct item **ended = arena_take(arena, 2 * feeds->edge_count * sizeof(*ended));
	size_t ended_count = 0;

	if (!back || !ended) {
		feeds->reader->no_memory = true;
		return false;
	}
	memcpy(back, feeds->edge, feeds->edge_count * sizeof(*back));
	qsort(back, feeds->edge_count, sizeof(*back), by_to);
	for (size_t i = 0; i < feeds->edge_count; i++)
		if ((i == 0 || back[i].to != back[i - 1].to) && !find_fed(feeds, back[i].to))
			ended[ended_count++] = back[i].to;
	while (ended_count > 0) {
		const struct item *item = ended[--ended_count];

		for (size_t i = first_to(back, feeds->edge_count, item);
		     i < feeds->edge_count && back[i].to == item; i++) {
			struct fed *from = find_fed(feeds, back[i].from);

			if (from && --from->open == 0)
				ended[ended_count++] = from->item;
		}
	}
	return true;
}

/* An edge of @p fed to something that was not peeled away; there is one as long as it was not
 * itself. */
static const struct edge *open_edge(const struct feeds *feeds, const struct fed *fed)
{
	for (size_t i = fed->first; i < feeds->edge_count && feeds->edge[i].from == fed->item;
	     i++) {
		const struct fed *to = find_fed(feeds, feeds->edge[i].to);

		if (to && to->open > 0)
			return &feeds->edge[i];
	}
	return NULL;
}

static void say_loop(const struct feeds *feeds, const struct fed *start)
{
	const struct fed *at = start;
	const struct edge *edge = NULL, *first = NULL;
	char way[160];
	size_t used = 0;

	do {
		edge = open_edge(feeds, at);
		if (!edge)
			return;
		if (!first || edge->span.at < first->span.at)
			first = edge;
		at = find_fed(feeds, edge->to);
	} while (at != start);
	at = find_fed(feeds, first->from);
	for (edge = NULL; used < sizeof(way) - 80 && (!edge || edge->to != first->from);
	     at = find_fed(feeds, edge->to)) {
		used += (size_t)snprintf(way + used, sizeof(way) - used, "%.60s from ",
		                         at->item->ref);
		edge = open_edge(feeds, at);
		if (!edge)
			return;
	}
	survey_fault(feeds->reader, first->span, "this feed goes round in a loop: %s%s", way,
	             edge && edge->to == first->from ? first->from->ref : "...");
}

static void find_loops(struct feeds *feeds)
{
	for (unsigned walk = 1; walk <= feeds->fed_count; walk++) {
		struct fed *fed = &feeds->fed[walk - 1];

		while (fed && fed->open > 0 && fed->walked == 0) {
			const struct edge *edge = open_edge(feeds, fed);

			fed->walked = walk;
			fed = edge ? find_fed(feeds, edge->to) : NULL;
		}
		if (fed && fed->open > 0 && fed->walked == walk)
			say_loop(feeds, fed);
	}
}

void check_references(struct survey_reader *reader)
{
	struct feeds feeds = {.reader = reader};

	check_of_scope(&feeds, true);
	check_of_scope(&feeds, false);
	if (feeds.edge_count > 0 && number_fed(&feeds) && peel(&feeds))
		find_loops(&feeds);
}
