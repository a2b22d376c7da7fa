#include "corpus.h"

#include "tundish/base/number.h"

#include <stdio.h>
#include <string.h>

enum {
	POINTS_A_ROOM = 5,
	CANNOT_TELL_PERCENT = 3,
	BARE_PERCENT = 25, /* of inlets with nothing fitted */
	TWO_PERCENT = 15,  /* of protected inlets with two in a row */
	UNDERTAKER_PERCENT = 2,
};

struct writing {
	struct corpus *corpus;
	struct sink *sink;
	uint64_t state;
};

/* splitmix64 (Steele, Lea and Flood 2014): the same on every machine, unlike rand(). */
static uint64_t draw(struct writing *w)
{
	uint64_t z = w->state += 0x9e3779b97f4a7c15u;

	z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
	z = (z ^ z >> 27) * 0x94d049bb133111ebu;
	return z ^ z >> 31;
}

static unsigned below(struct writing *w, size_t most)
{
	return (unsigned)(draw(w) % most);
}

static bool percent(struct writing *w, unsigned chance)
{
	return below(w, 100) < chance;
}

/* -- answers ----------------------------------------------------------------------------------- */

static void number(struct writing *w, const struct question *question)
{
	double stretch = question->most - question->least;
	char text[32];

	/* Most numbers on site are small against the range that makes sense. */
	double value = question->least +
	               (double)(long)(stretch * below(w, 1000) / (percent(w, 50) ? 1000 : 20000));
	number_format(value, text);
	sink_text(w->sink, text);
}

static void date(struct writing *w)
{
	unsigned year = 1990 + below(w, 36), month = 1 + below(w, 12);

	switch (below(w, 8)) {
	case 0:
		sink_text(w->sink, "before_july_1999");
		break;
	case 1:
		sink_print(w->sink, "%u-%02u-%02u", year, month, 1 + below(w, 28));
		break;
	case 2:
		sink_print(w->sink, "%u-%02u", year, month);
		break;
	default:
		sink_print(w->sink, "%u", year);
		break;
	}
}

static void value(struct writing *w, const struct question *question)
{
	static const char *const words[] = {"by the back door", "under the sink",
	                                    "Mrs. Example let us in", "left"};

	if (question->cannot_tell && percent(w, CANNOT_TELL_PERCENT))
		sink_text(w->sink, "cannot_tell");
	else if (question->form == FORM_CHOICE)
		sink_text(w->sink, question->option[below(w, question->option_count)].id);
	else if (question->form == FORM_YES_NO)
		sink_text(w->sink, percent(w, 50) ? "yes" : "no");
	else if (question->form == FORM_NUMBER)
		number(w, question);
	else if (question->form == FORM_DATE)
		date(w);
	else
		sink_text(w->sink, words[below(w, 4)]);
}

/* Whether this one is drawn as any other; kinds, types, feeds and parts are written where they
 * belong. */
static bool is_plain(const struct question *question, const char *at)
{
	switch (question->form) {
	case FORM_CHOICE:
	case FORM_YES_NO:
	case FORM_NUMBER:
	case FORM_DATE:
	case FORM_TEXT:
		return strcmp(question->at, at) == 0;
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return false;
}

/*
 * Answers of one map: `before key: value after` for each question that is answered. @return how
 * many were written.
 */
static size_t answers(struct writing *w, const question_index *list, size_t count, enum scope scope,
                      const char *at, const char *before, const char *after)
{
	size_t written = 0;

	for (size_t i = 0; i < count; i++) {
		const struct question *question = &w->corpus->book->question[list[i]];
		if (question->scope != scope || !is_plain(question, at))
			continue;
		w->corpus->asked++;
		if (percent(w, w->corpus->unanswered_percent))
			continue;
		sink_print(w->sink, "%s%s: ", before, question->id);
		value(w, question);
		sink_text(w->sink, after);
		w->corpus->answered++;
		written++;
	}
	return written;
}

static void scope_answers(struct writing *w, enum scope scope, const char *at, const char *before,
                          const char *after)
{
	const struct rulebook *book = w->corpus->book;

	answers(w, book->scope_question[scope], book->scope_question_count[scope], scope, at,
	        before, after);
}

/* -- items ------------------------------------------------------------------------------------- */

static void protection(struct writing *w, const char *point, const char *inlet, unsigned place)
{
	const struct rulebook *book = w->corpus->book;
	const struct type *type = &book->type[below(w, book->type_count)];

	if (strcmp(type->id, "nothing") == 0)
		type = &book->type[book->type_count - 1];
	sink_print(w->sink, "                - { ref: %s_%s_%u, type: %s", point, inlet, place,
	           type->id);
	scope_answers(w, SCOPE_PROTECTION, "", ", ", "");
	answers(w, type->question, type->question_count, SCOPE_PROTECTION, "", ", ", "");
	sink_text(w->sink, " }\n");
}

static void inlet(struct writing *w, const struct kind_inlet *inlet, const char *point)
{
	sink_print(w->sink, "            %s:\n", inlet->id);
	if (!inlet->waste)
		sink_print(w->sink, "              fed_by: %s\n", percent(w, 70) ? "cold" : "hot");
	if (percent(w, w->corpus->unanswered_percent))
		return;
	if (percent(w, BARE_PERCENT)) {
		sink_text(w->sink, "              protection: nothing\n");
		return;
	}
	sink_text(w->sink, "              protection:\n");
	protection(w, point, inlet->id, 1);
	if (percent(w, TWO_PERCENT))
		protection(w, point, inlet->id, 2);
}

static void point(struct writing *w, unsigned index)
{
	const struct rulebook *book = w->corpus->book;
	const struct kind *kind = &book->kind[below(w, book->kind_count)];
	char ref[16];

	snprintf(ref, sizeof(ref), "K%u", index + 1);
	sink_print(w->sink, "      - ref: %s\n        kind: %s\n", ref, kind->id);
	scope_answers(w, SCOPE_POINT, "", "        ", "\n");
	if (percent(w, UNDERTAKER_PERCENT)) {
		sink_text(w->sink, "        undertaker_says:\n");
		scope_answers(w, SCOPE_POINT, "undertaker_says", "          ", "\n");
	}
	sink_text(w->sink, "        answers:\n");
	scope_answers(w, SCOPE_POINT, "answers", "          ", "\n");
	answers(w, kind->question, kind->question_count, SCOPE_POINT, "answers", "          ",
	        "\n");
	sink_text(w->sink, "        inlets:\n");
	for (size_t i = 0; i < kind->inlet_count; i++)
		inlet(w, &kind->inlet[i], ref);
}

static void head(struct writing *w)
{
	sink_text(w->sink, "# An invented house, for measuring.\ntundish: 1\npremises:\n");
	scope_answers(w, SCOPE_PREMISES, "premises", "  ", "\n");
	sink_text(w->sink, "  parts:\n    - ref: flat\n");
	scope_answers(w, SCOPE_PART, "", "      ", "\n");
	sink_text(w->sink, "    - ref: shop\n");
	scope_answers(w, SCOPE_PART, "", "      ", "\n");
	sink_text(w->sink, "supply:\n");
	scope_answers(w, SCOPE_PREMISES, "supply", "  ", "\n");
	sink_text(
	        w->sink,
	        "branches:\n  - { ref: cold, from: main }\n  - { ref: hot, from: main }\nrooms:\n");
}

void corpus_survey(struct corpus *corpus, unsigned index, struct sink *sink)
{
	struct writing w = {corpus, sink, corpus->seed + index * UINT64_C(0x2545f4914f6cdd1d)};

	head(&w);
	for (unsigned i = 0; i < corpus->points; i++) {
		if (i % POINTS_A_ROOM == 0)
			sink_print(
			        sink,
			        "  - ref: room%u\n    name: Room %u\n    part: %s\n    points:\n",
			        i / POINTS_A_ROOM + 1, i / POINTS_A_ROOM + 1,
			        percent(&w, 70) ? "flat" : "shop");
		point(&w, i);
	}
}
