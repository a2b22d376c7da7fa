#include "rules_text.h"

#include "tundish/base/number.h"

#include <string.h>

enum {
	FIELD_INDENT = 16,
};

void rules_field(struct page *page, const char *lead, const char *text)
{
	if (text && *text)
		page_prose(page, lead, FIELD_INDENT, text);
}

void rules_heading(struct page *page, const char *words)
{
	sink_text(page->sink, "\n");
	page_prose(page, words, 0, NULL);
}

static const char *words_joined(const char *const *words, size_t count, struct arena *scratch)
{
	const char *text = NULL;

	for (size_t i = 0; i < count; i++)
		text = arena_print(scratch, "%s%s%s", text ? text : "", text ? ", " : "", words[i]);
	return text;
}

/* -- sources ----------------------------------------------------------------------------------- */

/* Where the text of it stands, so that one who corrects the book finds it. */
static const char *place_words(struct page *page, const struct source *text, struct span span)
{
	if (!text)
		return NULL;
	return arena_print(page->scratch, "%s:%zu", page_safe(page->scratch, text->name),
	                   source_place(text, span.at).line);
}

void rules_source(struct page *page, const char *source, enum standing standing)
{
	rules_field(page, "      source",
	            arena_print(page->scratch, "%s (%s)", source ? source : "no source",
	                        standing_words(standing)));
}

static void row_body(struct page *page, const struct rulebook *book, const struct row *row)
{
	rules_field(page, "      when",
	            row->otherwise ? "no other row of it holds"
	                           : rules_condition(book, row->when, page->scratch));
	rules_field(page, "      because", row->says);
	if (row->opens)
		rules_field(page, "      opens", "the path is open as it stands, or has been");
	if (row->urgency != URGENCY_NONE)
		rules_field(page, "      urgency",
		            arena_print(page->scratch, "%s at least", urgency_words(row->urgency)));
	rules_source(page, row->source_text, row->standing);
	for (size_t i = 0; i < row->was_count; i++)
		rules_field(page, "      was", row->was[i]);
	rules_field(page, "      in", place_words(page, row->text, row->span));
}

/* -- figures ----------------------------------------------------------------------------------- */

static const char *figure_words(uint8_t figure, struct arena *scratch)
{
	const char *words = figure <= CATEGORY_LEAST ? "none" : arena_print(scratch, "%u", figure);

	return words ? words : "";
}

const char *rules_figures(const uint8_t figures[MECHANISM_COUNT], struct arena *scratch)
{
	const char *pressure = figure_words(figures[BACK_PRESSURE], scratch);
	const char *siphonage = figure_words(figures[BACK_SIPHONAGE], scratch);

	if (figures[BACK_PRESSURE] == figures[BACK_SIPHONAGE])
		return figures[BACK_PRESSURE] <= CATEGORY_LEAST
		               ? "none"
		               : arena_print(scratch, "%s against both", pressure);
	return arena_print(scratch, "%s against back pressure, %s against back siphonage", pressure,
	                   siphonage);
}

/* CATEGORY_MOST caps nothing. */
static bool caps(const uint8_t figures[MECHANISM_COUNT])
{
	return figures[BACK_PRESSURE] < CATEGORY_MOST || figures[BACK_SIPHONAGE] < CATEGORY_MOST;
}

/* -- questions --------------------------------------------------------------------------------- */

static const char *number_words(const struct question *question, struct arena *scratch)
{
	char least[32], most[32];

	number_format(question->least, least);
	number_format(question->most, most);
	return arena_print(scratch, "%s to %s%s%s", least, most, question->unit ? " " : "",
	                   question->unit ? question->unit : "");
}

static const char *term_words(const struct rulebook *book, const struct term *term,
                              struct arena *scratch)
{
	char factor[32];

	number_format(term->factor, factor);
	if (term->question == QUESTION_NONE || term->question >= book->question_count)
		return arena_print(scratch, "%s", factor);
	const char *id = book->question[term->question].id;
	return strcmp(factor, "1") == 0 ? id : arena_print(scratch, "%s x %s", factor, id);
}

static const char *measure_words(const struct rulebook *book, const struct measure *measure,
                                 struct arena *scratch)
{
	const char *text =
	        arena_print(scratch, "%s at least %s", term_words(book, &measure->left, scratch),
	                    measure->right_count > 1 ? "the most of " : "");

	for (size_t i = 0; i < measure->right_count; i++)
		text = arena_print(scratch, "%s%s%s", text ? text : "", i ? " and " : "",
		                   term_words(book, &measure->right[i], scratch));
	return text;
}

static const char *options_words(const struct question *question, struct arena *scratch)
{
	const char *text = "";

	for (size_t i = 0; i < question->option_count; i++)
		text = arena_print(scratch, "%s%s%s", text ? text : "", i ? ", " : "",
		                   question->option[i].id);
	return text;
}

static const char *answers_words(const struct rulebook *book, const struct question *question,
                                 struct arena *scratch)
{
	const char *text = "";

	switch (question->form) {
	case FORM_CHOICE:
		text = options_words(question, scratch);
		break;
	case FORM_YES_NO:
		text = "yes, no";
		break;
	case FORM_NUMBER:
		text = number_words(question, scratch);
		break;
	case FORM_DATE:
		text = "a year, a month, a day or before_july_1999";
		break;
	case FORM_TEXT:
		text = "words";
		break;
	case FORM_KIND:
		text = "the id of a kind";
		break;
	case FORM_TYPE:
		text = "the id of a type";
		break;
	case FORM_FEED:
		text = "main, or the ref of what feeds it";
		break;
	case FORM_PART:
		text = "the ref of a part";
		break;
	case FORM_MEASURED:
		text = question->measure ? measure_words(book, question->measure, scratch) : "";
		return arena_print(scratch, "worked out: %s", text ? text : "");
	case FORM_COUNT:
		break;
	}
	return arena_print(scratch, "%s%s", text ? text : "",
	                   question->cannot_tell ? "; cannot_tell" : "");
}

static void question_lines(struct page *page, const struct rulebook *book,
                           const struct question *question)
{
	page_prose(page, arena_print(page->scratch, "  %s", question->id), FIELD_INDENT,
	           question->label);
	page_prose(page, NULL, FIELD_INDENT, answers_words(book, question, page->scratch));
	if (question->hint)
		page_prose(page, NULL, FIELD_INDENT, question->hint);
}

void rules_question(struct page *page, const struct rulebook *book, const struct question *question)
{
	const char *where =
	        *question->at ? arena_print(page->scratch, ", under %s", question->at) : "";

	rules_heading(page, arena_print(page->scratch, "Question %s of a %s%s", question->id,
	                                scope_name(question->scope), where));
	question_lines(page, book, question);
	page_prose(page, "      share", FIELD_INDENT,
	           question->share ? "kept in a copy for training, a date only as its year"
	                           : "left out of a copy for training");
	for (size_t i = 0; i < question->option_count; i++)
		page_prose(page, arena_print(page->scratch, "    %s", question->option[i].id), 24,
		           question->option[i].label);
	rules_field(page, "      source", question->source_text);
	rules_field(page, "      in", place_words(page, question->text, question->span));
}

static void questions(struct page *page, const struct rulebook *book, const question_index *list,
                      size_t count)
{
	if (count)
		rules_heading(page, "Questions, in the order of asking");
	for (size_t i = 0; i < count; i++) {
		if (list[i] < book->question_count)
			question_lines(page, book, &book->question[list[i]]);
	}
}

/* -- kinds ------------------------------------------------------------------------------------- */

static const char *inlets_words(const struct kind *kind, uint8_t inlets, struct arena *scratch)
{
	const char *text = NULL;

	for (size_t i = 0; i < kind->inlet_count; i++) {
		if (!(inlets & 1u << i))
			continue;
		text = arena_print(scratch, "%s%s%s%s", text ? text : "", text ? ", " : "",
		                   kind->inlet[i].name,
		                   kind->inlet[i].waste ? " (waste side)" : "");
	}
	return text ? text : "none";
}

/* What is usually met on its inlets. */
static const char *usual_words(const struct rulebook *book, const struct kind *kind,
                               struct arena *scratch)
{
	const char *text = NULL;

	for (size_t i = 0; i < kind->usual_count; i++)
		text = arena_print(scratch, "%s%s%s", text ? text : "", text ? ", " : "",
		                   book->type[kind->usual[i]].id);
	return text;
}

static const char *by_words(uint8_t by)
{
	switch (by) {
	case 1u << BACK_PRESSURE:
		return "back pressure";
	case 1u << BACK_SIPHONAGE:
		return "back siphonage";
	case 1u << BACK_PRESSURE | 1u << BACK_SIPHONAGE:
		return "back pressure and back siphonage";
	default:
		return "neither mechanism";
	}
}

void rules_kind_row(struct page *page, const struct rulebook *book, const struct kind *kind,
                    const struct row *row)
{
	const char *gives = NULL;

	if (row->fluid != ROW_NONE && row->category <= CATEGORY_LEAST)
		gives = arena_print(page->scratch, "%s does not come back",
		                    kind->fluid[row->fluid].name);
	else if (row->fluid != ROW_NONE)
		gives = arena_print(page->scratch, "fluid category %u: %s, by %s; inlets: %s",
		                    row->category, kind->fluid[row->fluid].name, by_words(row->by),
		                    inlets_words(kind, row->inlets, page->scratch));
	page_prose(page, arena_print(page->scratch, "  %s", row->id), 0, NULL);
	rules_field(page, "      gives", gives);
	row_body(page, book, row);
	rules_field(page, "      replaces", row->replaces_id);
}

void rules_kind(struct page *page, const struct rulebook *book, const struct kind *kind)
{
	rules_heading(page, arena_print(page->scratch, "Kind %s: %s", kind->id, kind->name));
	rules_field(page, "      also", words_joined(kind->also, kind->also_count, page->scratch));
	rules_field(page, "      where", kind->where);
	rules_field(page, "      inlets", inlets_words(kind, UINT8_MAX, page->scratch));
	rules_field(page, "      usual", usual_words(book, kind, page->scratch));
	rules_field(page, "      draw-off", kind->draw_off ? "yes" : "no");
	if (kind->stores)
		rules_field(page, "      stores", "water; a branch may start here");
	rules_field(page, "      in", place_words(page, kind->text, kind->span));
	questions(page, book, kind->question, kind->question_count);
	rules_heading(page, "Rows: of those that hold for one fluid the highest category counts");
	for (size_t i = 0; i < kind->row_count; i++)
		rules_kind_row(page, book, kind, &kind->row[i]);
}

/* -- types ------------------------------------------------------------------------------------- */

void rules_type_row(struct page *page, const struct rulebook *book, const struct row *row)
{
	page_prose(page, arena_print(page->scratch, "  %s", row->id), 0, NULL);
	if (caps(row->good_for))
		rules_field(page, "      good for", rules_figures(row->good_for, page->scratch));
	if (caps(row->accepted))
		rules_field(page, "      accepted", rules_figures(row->accepted, page->scratch));
	if (caps(row->found))
		rules_field(page, "      as found", rules_figures(row->found, page->scratch));
	if (row->unproven)
		rules_field(page, "      unproven", "nobody can say that it still works");
	if (row->due)
		rules_field(page, "      due", "change, service or test");
	row_body(page, book, row);
}

void rules_series(struct page *page, const struct rulebook *book, const struct series *series)
{
	(void)book;
	page_prose(page, arena_print(page->scratch, "  %s", series->row.id), 0, NULL);
	rules_field(page, "      gives",
	            arena_print(page->scratch, "straight after type %s it counts as type %s",
	                        series->with_id, series->counts_as_id));
	row_body(page, book, &series->row);
}

static void type_body(struct page *page, const struct type *type)
{
	rules_field(page, "      good for", rules_figures(type->good_for, page->scratch));
	rules_field(page, "      tell", type->tell);
	rules_field(page, "      limits", type->limits);
	rules_source(page, type->source_text, type->standing);
}

void rules_type_short(struct page *page, const struct type *type)
{
	sink_text(page->sink, "\n");
	page_prose(page, arena_print(page->scratch, "  %s", type->id), FIELD_INDENT, type->name);
	type_body(page, type);
}

void rules_type(struct page *page, const struct rulebook *book, const struct type *type)
{
	rules_heading(page, arena_print(page->scratch, "Type %s: %s", type->id, type->name));
	rules_field(page, "      also", words_joined(type->also, type->also_count, page->scratch));
	rules_field(page, "      is", type->device ? "a device" : "an arrangement");
	type_body(page, type);
	rules_field(page, "      in", place_words(page, type->text, type->span));
	rules_serves(page, book, type);
	questions(page, book, type->question, type->question_count);
	if (type->row_count + type->series_count)
		rules_heading(page, "Rows: each caps what it is worth; those that hold all count");
	for (size_t i = 0; i < type->row_count; i++)
		rules_type_row(page, book, &type->row[i]);
	for (size_t i = 0; i < type->series_count; i++)
		rules_series(page, book, &type->series[i]);
}

void rules_urgency(struct page *page, const struct rulebook *book, const struct urgency_row *row)
{
	page_prose(page, arena_print(page->scratch, "  %s", row->row.id), 0, NULL);
	if (row->raises)
		rules_field(page, "      gives", "one step more urgent");
	row_body(page, book, &row->row);
}
