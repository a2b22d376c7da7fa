#include "tundish/assess/redact.h"

#include <string.h>

enum { YEAR_LENGTH = 4 };

struct redacting {
	const struct rulebook *book;
	struct survey *to;
	struct redacted *out;
};

/* `2019-04-03` and `2019-04` become `2019`; `before_july_1999` and `cannot_tell` name no day. */
static size_t shared_length(const struct question *question, const struct answer *answer)
{
	const char *text = answer->text;
	size_t length = strlen(text);

	return question->form == FORM_DATE && text[0] >= '0' && text[0] <= '9' &&
	                       length > YEAR_LENGTH
	               ? YEAR_LENGTH
	               : length;
}

static bool copy_answer(struct redacting *redacting, struct item *item, const struct answer *answer)
{
	const struct question *question = &redacting->book->question[answer->question];
	size_t length = shared_length(question, answer);
	struct arena *arena = &redacting->to->arena;
	struct answer copy = *answer;
	struct err err = {0};

	if (!question->share) {
		redacting->out->asked[answer->question]++;
		redacting->out->left_out++;
		return true;
	}
	redacting->out->kept++;
	if (length < strlen(answer->text)) {
		redacting->out->dates++;
		if (!answer_read(redacting->book, answer->question, answer->text, length, arena,
		                 &copy, &err))
			return false;
	} else {
		copy.text = arena_copy(arena, answer->text, length);
	}
	copy.span = (struct span){0, 0};
	return copy.text && survey_put(redacting->to, item, &copy);
}

static bool copy_item(struct redacting *redacting, const struct item *from, struct item *to)
{
	for (size_t i = 0; i < from->answer_count; i++) {
		if (!copy_answer(redacting, to, &from->answer[i]))
			return false;
	}
	for (size_t i = 0; i < from->child_count; i++) {
		const struct item *last = i > 0 ? to->child[i - 1] : NULL, *child = from->child[i];
		struct item *copy = survey_add(redacting->to, to, child->scope, child->ref, last);
		if (!copy || !copy_item(redacting, child, copy))
			return false;
	}
	to->nothing_said = from->nothing_said;
	to->cannot_tell = from->cannot_tell;
	return true;
}

bool survey_redact(const struct survey *from, struct survey *to, struct arena *arena,
                   struct redacted *out)
{
	struct redacting redacting = {from->book, to, out};

	*out = (struct redacted){0};
	if (!survey_init(to, from->book))
		return false;
	out->asked = arena_take(arena, from->book->question_count * sizeof(*out->asked));
	return out->asked && copy_item(&redacting, from->premises, to->premises);
}
