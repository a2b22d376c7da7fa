/* What was found in the house, as the tasks are about it: every answer of the survey, in words. */
#include "paper_ink.h"

#include "tundish/base/number.h"

#include <string.h>

/* -- answers in words -------------------------------------------------------------------------- */

static const char *item_name(const struct survey *survey, const struct item *item)
{
	const struct known_questions *known = &survey->book->known;
	const char *name = NULL;

	if (item->scope == SCOPE_PART)
		name = item_text(item, known->part_name);
	else if (item->scope == SCOPE_BRANCH)
		name = item_text(item, known->branch_name);
	else if (item->scope == SCOPE_ROOM)
		name = item_text(item, known->room_name);
	return name && *name ? name : item->ref;
}

/* Most names have the code in them. */
static const char *type_words(struct page *page, const struct type *type)
{
	if (strstr(type->name, type->id))
		return type->name;
	return arena_print(page->scratch, "type %s, %s", type->id, type->name);
}

static const char *one_word(struct page *page, const struct survey *survey,
                            const struct question *question, const char *word, size_t length)
{
	const struct rulebook *book = survey->book;
	int option = question->form == FORM_CHOICE ? question_option(question, word, length) : -1;
	uint16_t of;

	if (option >= 0)
		return question->option[option].label;
	if (question->form == FORM_KIND && (of = rulebook_kind(book, word, length)) != INDEX_NONE)
		return book->kind[of].name;
	if (question->form == FORM_TYPE && (of = rulebook_type(book, word, length)) != INDEX_NONE)
		return type_words(page, &book->type[of]);
	if (question->form == FORM_FEED || question->form == FORM_PART) {
		const struct item *item = survey_find(survey, word, length);

		if (item)
			return item_name(survey, item);
		if (length == 4 && memcmp(word, "main", 4) == 0)
			return "the main";
	}
	return arena_copy(page->scratch, word, length);
}

/* "a, b" is one of these, not known which. */
static const char *words(struct page *page, const struct survey *survey,
                         const struct question *question, const char *text)
{
	const char *joined = NULL;

	while (*text) {
		size_t length = strcspn(text, ",");
		const char *word = one_word(page, survey, question, text, length);

		joined = joined ? arena_print(page->scratch, "%s or %s", joined, word) : word;
		text += length;
		text += strspn(text, ", ");
	}
	return joined;
}

static const char *value_of(struct page *page, const struct survey *survey,
                            const struct answer *answer)
{
	const struct question *question = &survey->book->question[answer->question];

	if (strcmp(answer->text, "cannot_tell") == 0)
		return "cannot tell";
	if (strcmp(answer->text, "before_july_1999") == 0)
		return "before July 1999";
	switch (question->form) {
	case FORM_NUMBER:
		return arena_print(page->scratch, "%s%s%s", answer->text, question->unit ? " " : "",
		                   unit_words(question->unit));
	case FORM_CHOICE:
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
		return words(page, survey, question, answer->text);
	case FORM_YES_NO:
	case FORM_DATE:
	case FORM_TEXT:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	return answer->text;
}

/* -- items ------------------------------------------------------------------------------------- */

/* In the heading already. */
static bool is_in_title(const struct rulebook *book, question_index question)
{
	const struct known_questions *known = &book->known;

	return question == known->part_name || question == known->branch_name ||
	       question == known->room_name || question == known->point_kind ||
	       question == known->point_name || question == known->protection_type;
}

static void answers(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                    const struct item *item, int depth)
{
	for (size_t i = 0; i < item->answer_count; i++) {
		const struct answer *answer = &item->answer[i];

		if (!is_in_title(survey->book, answer->question))
			ink->found(page, depth, survey->book->question[answer->question].label,
			           value_of(page, survey, answer));
	}
}

static void protections(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                        const struct item *holder, int depth);

static void protection(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                       const struct item *item, int depth)
{
	const struct answer *type = item_answer(item, survey->book->known.protection_type);

	ink->found(page, depth,
	           arena_print(page->scratch,
	                       item->scope == SCOPE_TEST ? "Device test %s" : "Protection %s",
	                       item->ref),
	           item->scope == SCOPE_TEST ? ""
	           : type                    ? value_of(page, survey, type)
	                                     : "not said which");
	answers(page, ink, survey, item, depth + 1);
	protections(page, ink, survey, item, depth + 1);
}

/* In flow order; below a device its tests. */
static void protections(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                        const struct item *holder, int depth)
{
	for (size_t i = 0; i < holder->child_count; i++)
		if (holder->child[i]->scope == SCOPE_PROTECTION ||
		    holder->child[i]->scope == SCOPE_TEST)
			protection(page, ink, survey, holder->child[i], depth);
}

/* Of parts and branches: what is said of each below its name. */
static void listed(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                   enum scope scope, const char *what)
{
	for (size_t i = 0; i < survey->premises->child_count; i++) {
		const struct item *item = survey->premises->child[i];

		if (item->scope != scope)
			continue;
		ink->found(page, 0, what, item_name(survey, item));
		answers(page, ink, survey, item, 1);
		protections(page, ink, survey, item, 1);
	}
}

void paper_house(struct page *page, const struct paper_ink *ink, const struct survey *survey)
{
	ink->head(page, 2, "The house");
	answers(page, ink, survey, survey->premises, 0);
	listed(page, ink, survey, SCOPE_PART, "Part");
	listed(page, ink, survey, SCOPE_BRANCH, "Branch");
	for (size_t i = 0; i < survey->premises->child_count; i++)
		if (survey->premises->child[i]->scope == SCOPE_PROTECTION)
			protection(page, ink, survey, survey->premises->child[i], 0);
	arena_reset(page->scratch);
}

static void inlet(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                  const struct item *item)
{
	int index = survey_inlet_index(survey, item);
	const struct item *point = item->parent;
	const char *name = index < 0 ? item->ref : survey->book->kind[point->of].inlet[index].name;

	ink->found(page, 0, arena_print(page->scratch, "Inlet, %s", name),
	           item->cannot_tell                            ? "cannot tell what is fitted"
	           : item->nothing_said                         ? "not said what is fitted"
	           : item_children(item, SCOPE_PROTECTION) == 0 ? "nothing is fitted"
	                                                        : "");
	answers(page, ink, survey, item, 1);
	protections(page, ink, survey, item, 1);
}

const char *paper_point_title(struct page *page, const struct survey *survey,
                              const struct item *point)
{
	const struct rulebook *book = survey->book;
	const char *name = item_text(point, book->known.point_name);
	const struct item *room = item_above(point, SCOPE_ROOM);

	return arena_print(page->scratch, "%s: %s%s%s%s%s", point->ref,
	                   point->of == INDEX_NONE ? "not said what it is"
	                                           : book->kind[point->of].name,
	                   name ? ", " : "", name ? name : "", room ? ", " : "",
	                   room ? item_name(survey, room) : "");
}

void paper_point(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                 const struct item *point)
{
	const struct item *part = survey_part(survey, point);
	const struct item *item;

	ink->head(page, 3, paper_point_title(page, survey, point));
	if (part)
		ink->found(page, 0, "Part", item_name(survey, part));
	answers(page, ink, survey, point, 0);
	for (size_t i = 0; (item = item_child(point, SCOPE_INLET, i)) != NULL; i++)
		inlet(page, ink, survey, item);
}
