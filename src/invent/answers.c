/* The house is put up as planned: items, names, and an answer to everything that is asked of them. */
#include "making.h"

#include <string.h>

bool making_no_memory(struct making *making)
{
	err_set(making->err, ERR_MEMORY, "no memory for an invented house");
	return false;
}

/* -- items ----------------------------------------------------------------------------------- */

const char *free_ref(struct making *making, const char *stem)
{
	const char *ref = stem;

	for (unsigned number = 2; ref && survey_ref_fault(making->survey, ref); number++)
		ref = arena_print(&making->scratch, "%s_%u", stem, number);
	return ref;
}

const char *numbered_ref(struct making *making, char letter)
{
	unsigned *number = &making->letter[letter - 'A'];
	const char *ref;

	do
		ref = arena_print(&making->scratch, "%c%u", letter, ++*number);
	while (ref && survey_ref_fault(making->survey, ref));
	return ref;
}

struct item *add_last(struct making *making, struct item *parent, enum scope scope, const char *ref)
{
	const struct item *last =
	        parent->child_count ? parent->child[parent->child_count - 1] : NULL;
	struct item *item = ref ? survey_add(making->survey, parent, scope, ref, last) : NULL;

	if (!item)
		making_no_memory(making);
	return item;
}

bool pin(struct making *making, const struct item *item, cells *may)
{
	struct pin *grown = arena_grow(&making->scratch, making->pin, making->pin_count,
	                               &making->pin_room, sizeof(*grown));

	if (!grown)
		return making_no_memory(making);
	making->pin = grown;
	grown[making->pin_count++] = (struct pin){item, may};
	return true;
}

/* -- answers --------------------------------------------------------------------------------- */

bool put_text(struct making *making, struct item *item, question_index question, const char *text)
{
	struct answer answer;

	if (question == QUESTION_NONE)
		return true;
	if (!text)
		return making_no_memory(making);
	return answer_read(making->book, question, text, strlen(text), making->arena, &answer,
	                   making->err) &&
	       survey_put(making->survey, item, &answer);
}

bool put_words(struct making *making, struct item *item, question_index question, enum form form,
               const char *text)
{
	if (question == QUESTION_NONE || making->book->question[question].form != form)
		return true;
	return put_text(making, item, question, text);
}

static day since_of(const struct making *making, const struct item *item, question_index question)
{
	const struct known_questions *known = &making->book->known;
	day since = making->built;

	for (const struct item *at = item; at; at = at->parent) {
		question_index begins = at->scope == SCOPE_PROTECTION ? known->protection_fitted
		                        : at->scope == SCOPE_POINT    ? known->point_installed
		                                                      : QUESTION_NONE;
		const struct answer *answer = begins == question || begins == QUESTION_NONE
		                                      ? NULL
		                                      : item_answer(at, begins);

		if (answer && (day)answer->low > since)
			since = (day)answer->low;
	}
	return since;
}

/* A flushing valve has no lid: weights of which every one is never. */
static bool is_never(const struct answer_weights *weights)
{
	for (size_t i = 0; weights && i < weights->option_count; i++)
		if (weights->option[i].weight > 0)
			return false;
	for (size_t i = 0; weights && i < weights->stretch_count; i++)
		if (weights->stretch[i].weight > 0)
			return false;
	return weights && weights->option_count + weights->stretch_count > 0;
}

/* What a kind or a type asks is all answered; of what is asked everywhere, what a row looks at or the
 * weights name, and the whole of the sheet. Words are for people. */
static bool is_answered(const struct making *making, const struct item *item, question_index index,
                        bool own, cells may)
{
	const struct question *question = &making->book->question[index];
	bool sheet = item->scope == SCOPE_PREMISES || item->scope == SCOPE_PART;

	if (!form_has_cells(question->form))
		return false;
	if (may != question_all(question))
		return true;
	if (is_never(answer_weights(making, item, index)))
		return false;
	return own || (sheet && question->form != FORM_DATE) || making->tested[index] ||
	       seen_question(making->book, index) || answer_weights(making, item, index);
}

/* One alike is no count. */
static bool answer_one(struct making *making, struct item *item, question_index index, cells may)
{
	const char *text = draw_answer(making, item, index, may, since_of(making, item, index));

	if (text && index == making->book->known.point_count && strcmp(text, "1") == 0)
		return true;
	return put_text(making, item, index, text);
}

static bool answer_measured(struct making *making, struct item *item, const struct asked *asked,
                            const cells *may)
{
	for (size_t i = 0; may && i < asked->count; i++) {
		const struct question *question = &making->book->question[asked->question[i]];

		if (question->form == FORM_MEASURED && question->scope == item->scope &&
		    !draw_measured(making, item, question, may[asked->question[i]]))
			return false;
	}
	return true;
}

bool answer_all(struct making *making, struct item *item, const cells *may)
{
	struct asked asked;

	if (!survey_asked(making->survey, item, &making->scratch, &asked))
		return making_no_memory(making);
	for (size_t i = 0; i < asked.count; i++) {
		question_index index = asked.question[i];
		cells allowed = may ? may[index] : question_all(&making->book->question[index]);

		if (item_answer(item, index) || making->book->question[index].scope != item->scope)
			continue;
		if (is_answered(making, item, index, is_own_question(making->book, index),
		                allowed) &&
		    !answer_one(making, item, index, allowed))
			return false;
	}
	return answer_measured(making, item, &asked, may);
}

/* -- premises, parts, rooms ------------------------------------------------------------------ */

static bool put_up_premises(struct making *making)
{
	struct item *premises = making->survey->premises;
	const struct rulebook *book = making->book;
	char on[11];

	date_format(book->on, on);
	return put_words(making, premises,
	                 rulebook_question(book, SCOPE_PREMISES, INDEX_NONE, "", "name", 4),
	                 FORM_TEXT,
	                 arena_print(&making->scratch, "Invented house %llu",
	                             (unsigned long long)making->wish->seed)) &&
	       put_words(making, premises,
	                 rulebook_question(book, SCOPE_PREMISES, INDEX_NONE, "", "visited", 7),
	                 FORM_DATE, on) &&
	       answer_all(making, premises, making->may) && pin(making, premises, making->may);
}

static bool add_part(struct making *making, struct part_plan *part)
{
	const struct rulebook *book = making->book;
	const struct option *use = &book->question[book->known.part_use].option[part->use];
	const char *stem = arena_print(&making->scratch, "part_%s", use->id);

	part->item = stem ? add_last(making, making->survey->premises, SCOPE_PART,
	                             free_ref(making, stem))
	                  : NULL;
	return part->item &&
	       put_words(making, part->item, book->known.part_name, FORM_TEXT, use->label) &&
	       put_text(making, part->item, book->known.part_use, use->id);
}

/* Which of its sort it is, from 1. */
static size_t number_of_room(const struct making *making, const struct room_plan *room)
{
	size_t number = 1;

	for (const struct room_plan *other = making->room; other < room; other++)
		number += other->sort == room->sort;
	return number;
}

static bool put_up_room(struct making *making, struct room_plan *room)
{
	const struct rulebook *book = making->book;
	size_t number = number_of_room(making, room);
	const char *name = room->sort->name;

	room->item = add_last(making, making->survey->premises, SCOPE_ROOM,
	                      free_ref(making, room->sort->id));
	if (number > 1)
		name = arena_print(&making->scratch, "%s %zu", name, number);
	return room->item &&
	       put_words(making, room->item, book->known.room_name, FORM_TEXT, name) &&
	       put_words(making, room->item, book->known.room_part, FORM_PART,
	                 making->part[room->part].item->ref) &&
	       answer_all(making, room->item, NULL);
}

static bool put_up_point(struct making *making, struct point_plan *point)
{
	const struct room_plan *room = &making->room[point->room];
	char letter = room->sort->id[0];

	/* by hand: what is a capital must not go by the locale */
	letter = letter >= 'a' && letter <= 'z' ? (char)(letter - 'a' + 'A') : 'P';
	point->item = add_last(making, room->item, SCOPE_POINT, numbered_ref(making, letter));
	return point->item &&
	       put_text(making, point->item, making->book->known.point_kind,
	                making->book->kind[point->kind].id) &&
	       answer_all(making, point->item, point->may) &&
	       (!point->may || pin(making, point->item, point->may));
}

/* Room by room, as a surveyor walks. The premises and parts are there already: what stands where goes by them. */
bool put_up(struct making *making)
{
	for (size_t r = 0; r < making->room_count; r++) {
		if (!put_up_room(making, &making->room[r]))
			return false;
		for (size_t p = 0; p < making->point_count; p++)
			if (making->point[p].room == r && !put_up_point(making, &making->point[p]))
				return false;
	}
	return true;
}

/* The use of the parts first: what is met on the sheet goes by it. */
bool put_up_parts(struct making *making)
{
	for (size_t p = 0; p < making->part_count; p++)
		if (!add_part(making, &making->part[p]))
			return false;
	if (!put_up_premises(making))
		return false;
	for (size_t p = 0; p < making->part_count; p++) {
		struct part_plan *part = &making->part[p];

		if (!answer_all(making, part->item, part->may) ||
		    !pin(making, part->item, part->may))
			return false;
	}
	return true;
}
