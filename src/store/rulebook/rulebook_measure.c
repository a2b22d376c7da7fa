/* Measured tests: questions that nobody is asked, worked out of numbers. */
#include "rulebook_inside.h"

#include "tundish/base/number.h"

#include <string.h>

/** The words of `TERM at least the most of TERM and TERM`. */
struct measure_words {
	struct reader *reader;
	const struct node *node;
	const char *next;
	enum scope scope;
	const question_index *list; /* whose numbers it may use */
	size_t list_count;
};

static bool take_word(struct measure_words *words, char *out, size_t room)
{
	size_t length;

	words->next += strspn(words->next, " \t\n");
	length = strcspn(words->next, " \t\n");
	if (length == 0 || length >= room)
		return false;
	memcpy(out, words->next, length);
	out[length] = '\0';
	words->next += length;
	return true;
}

static bool take_this(struct measure_words *words, const char *expected)
{
	const char *from = words->next;
	char word[64];

	if (take_word(words, word, sizeof(word)) && strcmp(word, expected) == 0)
		return true;
	words->next = from;
	return false;
}

static bool bad_measure(struct measure_words *words)
{
	node_fault(words->node, words->reader->faults,
	           "a measured test is `TERM at least TERM` or `TERM at least the most of TERM and "
	           "TERM`, where TERM is 20, "
	           "bore_mm or 2 x bore_mm");
	return false;
}

static bool find_number(struct measure_words *words, const char *id, question_index *out)
{
	const struct rulebook *book = words->reader->book;

	for (size_t i = 0; i < words->list_count; i++) {
		const struct question *question = &book->question[words->list[i]];

		if (question->scope != words->scope || strcmp(question->id, id) != 0)
			continue;
		*out = words->list[i];
		if (question->form == FORM_NUMBER)
			return true;
	}
	node_fault(words->node, words->reader->faults,
	           "`%.60s` is no number that is asked beside this test", id);
	return false;
}

static bool take_term(struct measure_words *words, struct term *out)
{
	char word[64];

	out->factor = 1;
	out->question = QUESTION_NONE;
	if (!take_word(words, word, sizeof(word)))
		return bad_measure(words);
	if (!number_parse(word, strlen(word), &out->factor))
		return find_number(words, word, &out->question);
	if (!take_this(words, "x"))
		return true;
	if (!take_word(words, word, sizeof(word)))
		return bad_measure(words);
	return find_number(words, word, &out->question);
}

static bool take_right(struct measure_words *words, struct measure *measure)
{
	bool several = take_this(words, "the");
	size_t room = 0;

	if (several && !(take_this(words, "most") && take_this(words, "of")))
		return bad_measure(words);
	do {
		struct term *grown = arena_grow(&words->reader->book->arena, measure->right,
		                                measure->right_count, &room, sizeof(*grown));

		if (!grown)
			return false;
		measure->right = grown;
		if (!take_term(words, &grown[measure->right_count]))
			return false;
		measure->right_count++;
	} while (several && take_this(words, "and"));
	words->next += strspn(words->next, " \t\n");
	return *words->next == '\0' ? true : bad_measure(words);
}

struct measure *read_measure(struct reader *reader, const struct node *node, enum scope scope,
                             const question_index *list, size_t list_count)
{
	const char *text = node_text(node, "measured", reader->faults);
	struct measure_words words = {reader,    node_get(node, "measured"), text, scope, list,
	                              list_count};
	struct measure *measure = reader_take(reader, sizeof(*measure));

	if (!measure)
		return NULL;
	if (!text) {
		if (!words.node)
			node_fault(node, reader->faults,
			           "a measured test says what it measures: `measured: ...`");
		return NULL;
	}
	if (!take_term(&words, &measure->left))
		return NULL;
	if (!take_this(&words, "at") || !take_this(&words, "least")) {
		bad_measure(&words);
		return NULL;
	}
	return take_right(&words, measure) ? measure : NULL;
}
