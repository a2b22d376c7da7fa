#include "tundish/print/schema.h"

#include "schema_inside.h"
#include "tundish/assess/survey.h"

#include <stdio.h>
#include <string.h>

#define OWN_KEYS "{\"^x-\": true}"

/* -- lists of questions ------------------------------------------------------------------------ */

struct questions {
	const question_index *index;
	size_t count;
};

static struct questions of_scope(const struct schema *schema, enum scope scope)
{
	return (struct questions){schema->book->scope_question[scope],
	                          schema->book->scope_question_count[scope]};
}

/* What feeds an inlet may be said on the point that has no other. */
static struct questions fed_by(const struct schema *schema)
{
	const question_index *known = &schema->book->known.inlet_fed_by;

	return (struct questions){known, *known != QUESTION_NONE};
}

/* Of a list, those of a scope that are kept in the map @p at; @p known: only that they may be there. */
static void properties(struct schema *schema, struct questions list, enum scope scope,
                       const char *at, bool known)
{
	for (size_t i = 0; i < list.count; i++) {
		const struct question *question = &schema->book->question[list.index[i]];
		if (question->scope != scope || strcmp(question->at, at) != 0 ||
		    !schema_is_asked(question))
			continue;
		if (known)
			json_raw(&schema->json, question->id, "true");
		else
			schema_property(schema, list.index[i]);
	}
}

/* The next map after the @p i-th question that is not the item's own and was not met before. */
static const char *next_map(const struct schema *schema, struct questions list, enum scope scope,
                            size_t *i)
{
	for (; *i < list.count; (*i)++) {
		const struct question *question = &schema->book->question[list.index[*i]];
		bool met = question->scope != scope || !*question->at || !schema_is_asked(question);
		for (size_t j = 0; j < *i && !met; j++)
			met = schema->book->question[list.index[j]].scope == scope &&
			      strcmp(schema->book->question[list.index[j]].at, question->at) == 0;
		if (!met)
			return schema->book->question[list.index[(*i)++]].at;
	}
	return NULL;
}

static bool has_map(const struct schema *schema, struct questions list, enum scope scope,
                    const char *at)
{
	const char *map;

	for (size_t i = 0; (map = next_map(schema, list, scope, &i));) {
		if (strcmp(map, at) == 0)
			return true;
	}
	return false;
}

/* -- maps -------------------------------------------------------------------------------------- */

static void open_map(struct json *json, const char *key)
{
	json_open(json, key, '{');
	json_raw(json, "type", "[\"object\", \"null\"]");
	json_open(json, "properties", '{');
}

static void close_map(struct json *json, bool closed)
{
	json_close(json, '}');
	if (closed) {
		json_raw(json, "patternProperties", OWN_KEYS);
		json_raw(json, "additionalProperties", "false");
	}
	json_close(json, '}');
}

static void list_of(struct json *json, enum scope scope)
{
	char ref[64];

	snprintf(ref, sizeof(ref), "#/definitions/%s", scope_name(scope));
	json_open_line(json, survey_list_key(scope), '{');
	json_raw(json, "type", "[\"array\", \"null\"]");
	json_open(json, "items", '{');
	json_text(json, "$ref", ref);
	json_close(json, '}');
	json_close(json, '}');
}

static void protection_key(struct json *json)
{
	json_raw(json, "protection", "{\"$ref\": \"#/definitions/fitted\"}");
}

static void ref_key(struct json *json)
{
	json_raw(json, "ref", "{\"$ref\": \"#/definitions/ref\"}");
}

/* The keys of an item that hold no answer. */
static void own_keys(struct json *json, enum scope scope)
{
	static const enum scope lists[SCOPE_COUNT] = {[SCOPE_ROOM] = SCOPE_POINT,
	                                              [SCOPE_POINT] = SCOPE_ACTION,
	                                              [SCOPE_PROTECTION] = SCOPE_TEST};

	if (scope != SCOPE_INLET)
		ref_key(json);
	if (scope == SCOPE_BRANCH || scope == SCOPE_INLET || scope == SCOPE_POINT)
		protection_key(json);
	if (lists[scope] != SCOPE_PREMISES)
		list_of(json, lists[scope]);
}

/* What every item of a scope may say. What a kind or type adds is looked at apart. */
static void open_item(struct schema *schema, enum scope scope, bool closed)
{
	struct json *json = &schema->json;
	struct questions list = of_scope(schema, scope);
	const char *map;

	json_open(json, scope_name(scope), '{');
	json_raw(json, "type", scope == SCOPE_INLET ? "[\"object\", \"null\"]" : "\"object\"");
	if (scope != SCOPE_INLET)
		json_raw(json, "required", "[\"ref\"]");
	json_open(json, "properties", '{');
	own_keys(json, scope);
	properties(schema, list, scope, "", false);
	for (size_t i = 0; (map = next_map(schema, list, scope, &i));) {
		open_map(json, map);
		properties(schema, list, scope, map, false);
		close_map(json, closed);
	}
	if (scope == SCOPE_POINT) {
		properties(schema, fed_by(schema), SCOPE_INLET, "", false);
		json_raw(json, "inlets",
		         "{\"type\": [\"object\", \"null\"], \"additionalProperties\": {\"$ref\": "
		         "\"#/definitions/inlet\"}}");
	}
	json_close(json, '}');
	if (closed) {
		json_raw(json, "patternProperties", OWN_KEYS);
		json_raw(json, "additionalProperties", "false");
	}
}

static void item(struct schema *schema, enum scope scope)
{
	open_item(schema, scope, true);
	json_close(&schema->json, '}');
}

/* -- what a kind or a type adds ---------------------------------------------------------------- */

static void open_when(struct json *json, const char *key, const char *id, const char **was,
                      size_t was_count)
{
	json_open(json, NULL, '{');
	json_open_line(json, "if", '{');
	json_open(json, "properties", '{');
	json_open(json, key, '{');
	json_open(json, "enum", '[');
	json_text(json, NULL, id);
	for (size_t i = 0; i < was_count; i++)
		json_text(json, NULL, was[i]);
	json_close(json, ']');
	json_close(json, '}');
	json_close(json, '}');
	json_open(json, "required", '[');
	json_text(json, NULL, key);
	json_close(json, ']');
	json_close(json, '}');
	json_open(json, "then", '{');
	json_open(json, "properties", '{');
}

static void close_when(struct json *json)
{
	close_map(json, true);
	json_close(json, '}');
}

/* Every map that either list has an answer in: what all are asked is known, the rest is told. */
static void all_maps(struct schema *schema, struct questions all, struct questions own,
                     enum scope scope)
{
	struct json *json = &schema->json;
	const char *map;

	for (size_t i = 0; (map = next_map(schema, own, scope, &i));) {
		open_map(json, map);
		properties(schema, all, scope, map, true);
		properties(schema, own, scope, map, false);
		close_map(json, true);
	}
	for (size_t i = 0; (map = next_map(schema, all, scope, &i));) {
		if (has_map(schema, own, scope, map))
			continue;
		open_map(json, map);
		properties(schema, all, scope, map, true);
		close_map(json, true);
	}
}

static void kind_inlets(struct schema *schema, const struct kind *kind)
{
	struct json *json = &schema->json;

	open_map(json, "inlets");
	for (size_t i = 0; i < kind->inlet_count; i++) {
		json_open_line(json, kind->inlet[i].id, '{');
		json_text(json, "title", kind->inlet[i].name);
		json_raw(json, "anyOf", "[{\"$ref\": \"#/definitions/inlet\"}]");
		json_close(json, '}');
	}
	close_map(json, true);
	if (kind->inlet_count == 1) {
		properties(schema, fed_by(schema), SCOPE_INLET, "", true);
		json_raw(json, "protection", "true");
	}
}

static void kind_adds(struct schema *schema, const struct kind *kind)
{
	struct json *json = &schema->json;
	struct questions all = of_scope(schema, SCOPE_POINT);
	struct questions own = {kind->question, kind->question_count};

	open_when(json, "kind", kind->id, kind->was, kind->was_count);
	json_raw(json, "ref", "true");
	json_raw(json, survey_list_key(SCOPE_ACTION), "true");
	properties(schema, all, SCOPE_POINT, "", true);
	properties(schema, own, SCOPE_POINT, "", false);
	all_maps(schema, all, own, SCOPE_POINT);
	if (!has_map(schema, all, SCOPE_POINT, "answers") &&
	    !has_map(schema, own, SCOPE_POINT, "answers")) {
		open_map(json, "answers");
		close_map(json, true);
	}
	kind_inlets(schema, kind);
	close_when(json);
}

static void type_tests(struct schema *schema, struct questions own)
{
	struct json *json = &schema->json;
	struct questions all = of_scope(schema, SCOPE_TEST);

	json_open(json, survey_list_key(SCOPE_TEST), '{');
	open_map(json, "items");
	json_raw(json, "ref", "true");
	properties(schema, all, SCOPE_TEST, "", true);
	properties(schema, own, SCOPE_TEST, "", false);
	all_maps(schema, all, own, SCOPE_TEST);
	close_map(json, true);
	json_close(json, '}');
}

static void type_adds(struct schema *schema, const struct type *type)
{
	struct json *json = &schema->json;
	struct questions all = of_scope(schema, SCOPE_PROTECTION);
	struct questions own = {type->question, type->question_count};

	open_when(json, "type", type->id, type->was, type->was_count);
	json_raw(json, "ref", "true");
	properties(schema, all, SCOPE_PROTECTION, "", true);
	properties(schema, own, SCOPE_PROTECTION, "", false);
	all_maps(schema, all, own, SCOPE_PROTECTION);
	type_tests(schema, own);
	close_when(json);
}

static void points(struct schema *schema)
{
	open_item(schema, SCOPE_POINT, false);
	json_open(&schema->json, "allOf", '[');
	for (size_t i = 0; i < schema->book->kind_count; i++)
		kind_adds(schema, &schema->book->kind[i]);
	json_raw(&schema->json, NULL, "true");
	json_close(&schema->json, ']');
	json_close(&schema->json, '}');
}

static void protections(struct schema *schema)
{
	open_item(schema, SCOPE_PROTECTION, false);
	json_open(&schema->json, "allOf", '[');
	for (size_t i = 0; i < schema->book->type_count; i++)
		type_adds(schema, &schema->book->type[i]);
	json_raw(&schema->json, NULL, "true");
	json_close(&schema->json, ']');
	json_close(&schema->json, '}');
}

/* -- the whole --------------------------------------------------------------------------------- */

static void premises(struct schema *schema)
{
	struct json *json = &schema->json;
	struct questions list = of_scope(schema, SCOPE_PREMISES);
	const char *map;

	open_map(json, "premises");
	json_raw(json, "ref", "{\"type\": [\"string\", \"number\", \"null\"]}");
	list_of(json, SCOPE_PART);
	properties(schema, list, SCOPE_PREMISES, "", false);
	close_map(json, true);
	for (size_t i = 0; (map = next_map(schema, list, SCOPE_PREMISES, &i));) {
		open_map(json, map);
		properties(schema, list, SCOPE_PREMISES, map, false);
		if (strcmp(map, "supply") == 0)
			protection_key(json);
		close_map(json, true);
	}
	if (!has_map(schema, list, SCOPE_PREMISES, "supply")) {
		open_map(json, "supply");
		protection_key(json);
		close_map(json, true);
	}
}

static void definitions(struct schema *schema)
{
	struct json *json = &schema->json;

	json_open(json, "definitions", '{');
	json_raw(json, "ref",
	         "{\"anyOf\": [{\"type\": \"string\", \"pattern\": \"^[A-Za-z0-9_-]+$\"}, "
	         "{\"type\": \"integer\"}]}");
	json_raw(json, "fitted",
	         "{\"anyOf\": [{\"type\": \"array\", \"items\": {\"$ref\": "
	         "\"#/definitions/protection\"}}, {\"enum\": [\"nothing\", \"cannot_tell\"]}, "
	         "{\"type\": \"null\"}]}");
	schema_listed_questions(schema);
	item(schema, SCOPE_PART);
	item(schema, SCOPE_BRANCH);
	item(schema, SCOPE_ROOM);
	points(schema);
	item(schema, SCOPE_INLET);
	protections(schema);
	open_item(schema, SCOPE_TEST, false); /* a type may ask more of its tests */
	json_close(json, '}');
	item(schema, SCOPE_ACTION);
	json_close(json, '}');
}

void schema_survey(struct sink *sink, const struct rulebook *book)
{
	struct schema schema = {{.sink = sink}, book};
	struct json *json = &schema.json;

	json_open(json, NULL, '{');
	json_text(json, "$schema", "http://json-schema.org/draft-07/schema#");
	json_text(json, "title", "A survey of tundish, format 1");
	json_raw(json, "type", "[\"object\", \"null\"]");
	json_raw(json, "required", "[\"tundish\"]");
	definitions(&schema);
	json_open(json, "properties", '{');
	json_raw(json, "tundish", "{\"title\": \"The format of the file\", \"enum\": [1, \"1\"]}");
	premises(&schema);
	list_of(json, SCOPE_BRANCH);
	list_of(json, SCOPE_ROOM);
	json_raw(json, "amendments",
	         "{\"description\": \"Written by tundish alone\", \"type\": [\"array\", \"null\"], "
	         "\"items\": {\"type\": \"object\", \"required\": [\"sequence\", \"at\", \"who\", "
	         "\"why\", \"state\", \"head\"]}}");
	close_map(json, true);
	sink_text(sink, "\n");
}
