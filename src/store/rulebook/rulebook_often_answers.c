/* How often things are met: how questions are answered. */
#include "rulebook_often.h"

#include "tundish/base/number.h"

#include <string.h>

/* A question that several kinds or types share is one question: said of their whole scope, it is
 * meant wherever one of them lists it. */
static question_index shared_by_some(const struct reader *reader, enum scope scope,
                                     const char *name)
{
	for (size_t i = 0; i < reader->shared_count; i++)
		if (reader->book->question[i].scope == scope &&
		    strcmp(reader->book->question[i].id, name) == 0)
			return (question_index)i;
	return QUESTION_NONE;
}

static question_index asked_of(const struct weighing *weighing, const char *name)
{
	const struct reader *reader = weighing->reader;
	const struct rulebook *book = reader->book;
	enum scope scope = weighing->often->scope;

	if (scope == SCOPE_PROTECTION && strncmp(name, "test.", 5) == 0) {
		scope = SCOPE_TEST;
		name += 5;
	}
	for (size_t i = 0; i < weighing->sight.question_count; i++) {
		const struct question *question = &book->question[weighing->sight.question[i]];

		if (question->scope == scope && strcmp(question->id, name) == 0)
			return weighing->sight.question[i];
	}
	for (size_t i = 0; i < book->scope_question_count[scope]; i++)
		if (strcmp(book->question[book->scope_question[scope][i]].id, name) == 0)
			return book->scope_question[scope][i];
	return weighing->often->of == INDEX_NONE ? shared_by_some(reader, scope, name)
	                                         : QUESTION_NONE;
}

static void no_such_question(struct weighing *weighing, const struct node *node)
{
	const struct rulebook *book = weighing->reader->book;
	enum scope scope = weighing->often->scope;
	size_t count = 0, most = weighing->sight.question_count + book->scope_question_count[scope];
	const char **words = arena_take(weighing->reader->scratch, (most + 1) * sizeof(*words));

	if (weighs_outdated(weighing))
		return;
	for (size_t i = 0; words && i < weighing->sight.question_count; i++)
		words[count++] = book->question[weighing->sight.question[i]].id;
	for (size_t i = 0; words && i < book->scope_question_count[scope]; i++)
		words[count++] = book->question[book->scope_question[scope][i]].id;
	fault_add(weighing->reader->faults, SEVERITY_FAULT, node->source, node->key_span,
	          "`%.60s` is no question asked of `%.60s`%s", node->key, weighing->name,
	          node_meant(node->key, words, count, weighing->reader->faults));
}

static void read_options_weights(struct weighing *weighing, const struct node *node,
                                 struct answer_weights *answer)
{
	answer->option =
	        reader_take(weighing->reader, (node_children(node) + 1) * sizeof(*answer->option));
	for (const struct node *option = node->child; option && answer->option;
	     option = option->next) {
		int cell = named_cell(weighing->reader, answer->question, option, option->key,
		                      option->key_span);
		unsigned weight = read_weight(weighing->reader, option);

		if (cell >= 0)
			answer->option[answer->option_count++] =
			        (struct weighed){(uint16_t)cell, weight};
	}
}

/* `5 to 20`, or `15` alone. */
static bool two_numbers(const char *text, double *low, double *high)
{
	const char *to = strstr(text, " to ");
	size_t length = to ? (size_t)(to - text) : strlen(text);

	if (!number_parse(text, length, low))
		return false;
	*high = *low;
	return !to || number_parse(to + 4, strlen(to + 4), high);
}

/* `0 to 5 years` */
static bool two_ages(struct weighing *weighing, const char *text, double *low, double *high)
{
	size_t length = strlen(text), unit = sizeof(" years") - 1;
	const char *numbers;

	if (length <= unit || strcmp(text + length - unit, " years") != 0)
		return false;
	numbers = arena_copy(weighing->reader->scratch, text, length - unit);
	return numbers && two_numbers(numbers, low, high) && *low >= 0 && *high < 1000 &&
	       *low == (double)(int)*low && *high == (double)(int)*high;
}

static void read_stretch(struct weighing *weighing, const struct node *node,
                         struct answer_weights *answer)
{
	const struct question *question = &weighing->reader->book->question[answer->question];
	struct stretch stretch = {.weight = read_weight(weighing->reader, node)};
	bool date = question->form == FORM_DATE;
	const char *wrong = NULL;

	if (date ? !two_ages(weighing, node->key, &stretch.low, &stretch.high)
	         : !two_numbers(node->key, &stretch.low, &stretch.high))
		wrong = date ? "is no stretch of ages: `0 to 5 years`"
		             : "is no stretch of numbers: `5 to 20`";
	else if (stretch.low > stretch.high)
		wrong = "runs backwards";
	if (wrong && read_since(weighing->reader, question->text, node))
		return;
	if (wrong)
		fault_add(weighing->reader->faults, SEVERITY_FAULT, node->source, node->key_span,
		          "`%.60s` %s", node->key, wrong);
	else if (!date && (stretch.low < question->least || stretch.high > question->most)) {
		char least[32], most[32];

		number_format(question->least, least);
		number_format(question->most, most);
		if (!read_since(weighing->reader, question->text, node))
			fault_add(weighing->reader->faults, SEVERITY_FAULT, node->source,
			          node->key_span,
			          "`%.60s` is outside of %s to %s, the range of `%s`", node->key,
			          least, most, question->id);
	} else {
		answer->stretch[answer->stretch_count++] = stretch;
	}
}

static void read_stretches(struct weighing *weighing, const struct node *node,
                           struct answer_weights *answer)
{
	answer->stretch =
	        reader_take(weighing->reader, (node_children(node) + 1) * sizeof(*answer->stretch));
	for (const struct node *stretch = node->child; stretch && answer->stretch;
	     stretch = stretch->next)
		read_stretch(weighing, stretch, answer);
}

static void read_answer_weights(struct weighing *weighing, const struct node *node,
                                struct answer_weights *answer)
{
	const struct question *question = &weighing->reader->book->question[answer->question];

	if (question->form == FORM_CHOICE || question->form == FORM_YES_NO)
		read_options_weights(weighing, node, answer);
	else if (form_has_cells(question->form))
		read_stretches(weighing, node, answer);
	else if (!read_since(weighing->reader, question->text, node))
		fault_add(weighing->reader->faults, SEVERITY_FAULT, node->source, node->key_span,
		          "`%.60s` is a %s: weights are of a choice, a yes_no, a number or a date",
		          node->key, form_name(question->form));
}

void weigh_answers(struct weighing *weighing)
{
	struct often *often = weighing->often;
	const struct node *answers = weighed_map(weighing->reader, weighing->node, "answers");

	often->answer = reader_take(weighing->reader,
	                            (node_children(answers) + 1) * sizeof(*often->answer));
	for (const struct node *node = answers ? answers->child : NULL; node && often->answer;
	     node = node->next) {
		question_index question = asked_of(weighing, node->key);

		if (question == QUESTION_NONE) {
			no_such_question(weighing, node);
		} else if (node_is_map(node, node->key, weighing->reader->faults)) {
			often->answer[often->answer_count] =
			        (struct answer_weights){.question = question};
			read_answer_weights(weighing, node, &often->answer[often->answer_count++]);
		}
	}
}
