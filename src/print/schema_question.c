/* One question of a survey, as the schema has it. */
#include "schema_inside.h"

#include "tundish/assess/survey.h"

#include <stdio.h>
#include <string.h>

/* What other tools take a word for. */
static const char *also(const char *word)
{
	if (strcmp(word, "yes") == 0)
		return "true";
	if (strcmp(word, "no") == 0)
		return "false";
	return *word && word[strspn(word, "0123456789")] == '\0' ? word : NULL;
}

static void word(struct json *json, const char *id, const char *label)
{
	json_open_line(json, NULL, '{');
	if (also(id)) {
		json_open(json, "enum", '[');
		json_text(json, NULL, id);
		json_raw(json, NULL, also(id));
		json_close(json, ']');
	} else {
		json_text(json, "const", id);
	}
	if (label)
		json_text(json, "description", label);
	json_close(json, '}');
}

static void cannot_tell(struct json *json, const struct question *question)
{
	if (question->cannot_tell)
		word(json, "cannot_tell", "looked, and it can't be told");
}

/* One of several: what is known is that it is one of these. */
static void several_options(struct json *json, const struct question *question)
{
	json_open_line(json, NULL, '{');
	json_text(json, "type", "array");
	json_number(json, "minItems", 1);
	json_open(json, "items", '{');
	json_open(json, "enum", '[');
	for (size_t i = 0; i < question->option_count; i++) {
		const char *id = question->option[i].id;
		json_text(json, NULL, id);
		if (also(id))
			json_raw(json, NULL, also(id));
	}
	json_close(json, ']');
	json_close(json, '}');
	json_close(json, '}');
}

static void number_forms(struct json *json, const struct question *question)
{
	json_open_line(json, NULL, '{');
	json_text(json, "type", "number");
	json_number(json, "minimum", question->least);
	json_number(json, "maximum", question->most);
	json_close(json, '}');
	json_raw(json, NULL, "{\"type\": \"string\", \"pattern\": \"^-?[0-9]\"}");
}

static void date_forms(struct json *json)
{
	json_raw(json, NULL, "{\"type\": \"integer\", \"minimum\": 1000, \"maximum\": 9999}");
	json_raw(json, NULL,
	         "{\"type\": \"string\", \"pattern\": \"^[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?$\"}");
	word(json, "before_july_1999", "lawful old work, or older");
}

static void kind_words(const struct schema *schema, struct json *json)
{
	const struct rulebook *book = schema->book;

	for (size_t i = 0; i < book->kind_count; i++) {
		word(json, book->kind[i].id, book->kind[i].name);
		for (size_t w = 0; w < book->kind[i].was_count; w++)
			word(json, book->kind[i].was[w], "an earlier word");
	}
}

static void type_words(const struct schema *schema, struct json *json)
{
	const struct rulebook *book = schema->book;

	for (size_t i = 0; i < book->type_count; i++) {
		word(json, book->type[i].id, book->type[i].name);
		for (size_t w = 0; w < book->type[i].was_count; w++)
			word(json, book->type[i].was[w], "an earlier word");
	}
	json_raw(json, NULL,
	         "{\"type\": \"array\", \"minItems\": 1, \"items\": {\"type\": \"string\"}}");
}

static void forms(struct schema *schema, const struct question *question)
{
	struct json *json = &schema->json;

	switch (question->form) {
	case FORM_CHOICE:
		for (size_t i = 0; i < question->option_count; i++)
			word(json, question->option[i].id, question->option[i].label);
		several_options(json, question);
		break;
	case FORM_YES_NO:
		word(json, "yes", NULL);
		word(json, "no", NULL);
		break;
	case FORM_NUMBER:
		number_forms(json, question);
		break;
	case FORM_DATE:
		date_forms(json);
		break;
	case FORM_TEXT:
		json_raw(json, NULL, "{\"type\": [\"string\", \"number\", \"boolean\"]}");
		break;
	case FORM_KIND:
		kind_words(schema, json);
		break;
	case FORM_TYPE:
		type_words(schema, json);
		break;
	case FORM_FEED:
		json_raw(json, NULL, "{\"$ref\": \"#/definitions/ref\"}");
		json_raw(json, NULL,
		         "{\"type\": \"array\", \"minItems\": 1, \"items\": {\"$ref\": "
		         "\"#/definitions/ref\"}}");
		break;
	case FORM_PART:
		json_raw(json, NULL, "{\"$ref\": \"#/definitions/ref\"}");
		break;
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	cannot_tell(json, question);
	json_raw(json, NULL, NULL_TOO);
}

bool schema_is_asked(const struct question *question)
{
	return question->form != FORM_MEASURED;
}

static size_t listed_in(const question_index *list, size_t count, question_index question)
{
	for (size_t i = 0; i < count; i++) {
		if (list[i] == question)
			return 1;
	}
	return 0;
}

/* What several kinds or types list is told once. */
static bool listed_often(const struct schema *schema, question_index question)
{
	const struct rulebook *book = schema->book;
	size_t often = 0;

	for (size_t i = 0; i < book->kind_count && often < 2; i++)
		often += listed_in(book->kind[i].question, book->kind[i].question_count, question);
	for (size_t i = 0; i < book->type_count && often < 2; i++)
		often += listed_in(book->type[i].question, book->type[i].question_count, question);
	return often > 1;
}

static void definition_name(char name[96], const char *before, const struct question *question)
{
	snprintf(name, 96, "%s%s.%.64s", before, scope_name(question->scope), question->id);
}

static void tell(struct schema *schema, const char *key, const struct question *question)
{
	struct json *json = &schema->json;

	json_open(json, key, '{');
	json_text(json, "title", question->label);
	if (question->hint)
		json_text(json, "description", question->hint);
	json_open(json, "anyOf", '[');
	forms(schema, question);
	json_close(json, ']');
	json_close(json, '}');
}

void schema_property(struct schema *schema, question_index index)
{
	const struct question *question = &schema->book->question[index];
	char name[96];

	if (!listed_often(schema, index)) {
		tell(schema, question->id, question);
		return;
	}
	definition_name(name, "#/definitions/", question);
	json_open_line(&schema->json, question->id, '{');
	json_text(&schema->json, "$ref", name);
	json_close(&schema->json, '}');
}

void schema_listed_questions(struct schema *schema)
{
	char name[96];

	for (size_t i = 0; i < schema->book->question_count; i++) {
		const struct question *question = &schema->book->question[i];
		if (!schema_is_asked(question) || !listed_often(schema, (question_index)i))
			continue;
		definition_name(name, "", question);
		tell(schema, name, question);
	}
}
