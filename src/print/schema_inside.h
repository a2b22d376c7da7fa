/**
 * @file
 * What the two files of the schema share: schema_question.c writes one question, schema.c the maps that hold them.
 */
#ifndef TUNDISH_SRC_PRINT_SCHEMA_INSIDE_H
#define TUNDISH_SRC_PRINT_SCHEMA_INSIDE_H

#include "schema_json.h"

#include "tundish/assess/rulebook.h"

/* An empty value counts as no key (docs/survey.md): so null may stand everywhere. */
#define NULL_TOO "{\"type\": \"null\"}"

struct schema {
	struct json json;
	const struct rulebook *book;
};

/** Whether a survey can answer it. */
bool schema_is_asked(const struct question *question);

/** The question as a property of the map that is open, by its id. */
void schema_property(struct schema *schema, question_index index);

/** The definitions that properties refer to where a question is asked more than once. */
void schema_listed_questions(struct schema *schema);

#endif
