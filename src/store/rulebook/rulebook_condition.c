/* Conditions: `when:` maps -> trees of tests whose questions are found by name. */
#include "rulebook_inside.h"

#include "tundish/base/number.h"

#include <string.h>

/* Which scopes a row of each owner may test, and which is its own. */
/* clang-format off */
static const struct {
	enum scope own;
	unsigned may;
	const char *list;
} views[] = {
	[OWNER_KIND] = {SCOPE_POINT,
	                1u << SCOPE_POINT | 1u << SCOPE_PREMISES | 1u << SCOPE_PART,
	                "premises, part"},
	[OWNER_TYPE] = {SCOPE_PROTECTION,
	                1u << SCOPE_PROTECTION | 1u << SCOPE_PREMISES | 1u << SCOPE_PART |
	                1u << SCOPE_BRANCH | 1u << SCOPE_POINT | 1u << SCOPE_INLET | 1u << SCOPE_TEST,
	                "premises, part, branch, point, inlet, test"},
	[OWNER_URGENCY] = {SCOPE_OUTCOME,
	                   1u << SCOPE_OUTCOME | 1u << SCOPE_PREMISES | 1u << SCOPE_PART |
	                   1u << SCOPE_POINT,
	                   "premises, part, point"},
	[OWNER_PLACE] = {SCOPE_PREMISES,
	                 1u << SCOPE_PREMISES | 1u << SCOPE_PART,
	                 "part"},
};
/* clang-format on */

static struct condition *read_all(struct reader *reader, const struct sight *sight,
                                  const struct node *map);

static struct condition *new_condition(struct reader *reader, enum condition_form form,
                                       const struct node *node)
{
	struct condition *condition = reader_take(reader, sizeof(*condition));

	if (!condition)
		return NULL;
	condition->form = form;
	condition->question = QUESTION_NONE;
	condition->span = node->key ? node->key_span : node->span;
	if (node->key)
		condition->span.length = node->span.at + node->span.length - node->key_span.at;
	return condition;
}

struct condition *condition_of_option(struct reader *reader, question_index question, unsigned cell,
                                      struct span span)
{
	struct condition *condition = reader_take(reader, sizeof(*condition));

	if (!condition)
		return NULL;
	condition->form = CONDITION_TEST;
	condition->question = question;
	condition->holds = (cells)1 << cell;
	condition->span = span;
	return condition;
}

/* -- names ----------------------------------------------------------------------------------- */

/** Whether a row of that owner sees a shared question of a scope that it does not list. */
static bool sees_shared(const struct reader *reader, const struct sight *sight,
                        question_index question)
{
	enum scope scope = reader->book->question[question].scope;
	bool listed = scope == views[sight->owner].own ||
	              (sight->owner == OWNER_TYPE && scope == SCOPE_TEST);

	return !listed || reader->everywhere[question] || sight->owner == OWNER_URGENCY ||
	       sight->owner == OWNER_PLACE;
}

static void unknown_name(struct reader *reader, const struct sight *sight, const struct node *node,
                         enum scope scope, const char *name)
{
	const struct rulebook *book = reader->book;
	const char **words =
	        arena_take(reader->scratch,
	                   (reader->shared_count + sight->question_count + 1) * sizeof(*words));
	size_t count = 0;

	for (size_t i = 0; words && i < sight->question_count; i++)
		if (book->question[sight->question[i]].scope == scope)
			words[count++] = book->question[sight->question[i]].id;
	for (size_t i = 0; words && i < reader->shared_count; i++)
		if (book->question[i].scope == scope &&
		    sees_shared(reader, sight, (question_index)i))
			words[count++] = book->question[i].id;
	fault_add(reader->faults, SEVERITY_FAULT, node->source, node->key_span,
	          "`%.60s` names no question of %s%.60s%s", node->key,
	          scope == views[sight->owner].own ? "" : "the scope ",
	          scope == views[sight->owner].own ? sight->id : scope_name(scope),
	          node_meant(name, words, words ? count : 0, reader->faults));
}

/* The part of a name before its point decides the scope. */
static bool name_scope(struct reader *reader, const struct sight *sight, const struct node *node,
                       enum scope *scope, const char **name)
{
	const char *point = strchr(node->key, '.');
	size_t length = point ? (size_t)(point - node->key) : 0;

	*scope = views[sight->owner].own;
	*name = node->key;
	if (!point)
		return true;
	*name = point + 1;
	for (unsigned s = 0; s < SCOPE_COUNT; s++) {
		const char *scope_word = scope_name((enum scope)s);

		if (strlen(scope_word) != length || memcmp(scope_word, node->key, length) != 0)
			continue;
		*scope = (enum scope)s;
		if (views[sight->owner].may >> s & 1)
			return true;
	}
	fault_add(reader->faults, SEVERITY_FAULT, node->source, node->key_span,
	          "`%.60s` is of a scope that can't be tested here: only %s can, beside its own",
	          node->key, views[sight->owner].list);
	return false;
}

static question_index resolve(struct reader *reader, const struct sight *sight,
                              const struct node *node)
{
	const struct rulebook *book = reader->book;
	question_index shared;
	enum scope scope;
	const char *name;

	if (!name_scope(reader, sight, node, &scope, &name))
		return QUESTION_NONE;
	for (size_t i = 0; i < sight->question_count; i++)
		if (book->question[sight->question[i]].scope == scope &&
		    strcmp(book->question[sight->question[i]].id, name) == 0)
			return sight->question[i];
	shared = shared_question(reader, scope, name);
	if (shared == QUESTION_NONE) {
		unknown_name(reader, sight, node, scope, name);
	} else if (!sees_shared(reader, sight, shared)) {
		fault_add(reader->faults, SEVERITY_FAULT, node->source, node->key_span,
		          "`%.60s` is a shared question: list it under `questions` of %.60s, or it "
		          "is never asked",
		          node->key, sight->id);
		return QUESTION_NONE;
	}
	return shared;
}

/* -- values ---------------------------------------------------------------------------------- */

static bool no_value(struct reader *reader, const struct node *value,
                     const struct question *question)
{
	const char *words[CELLS_MOST * 2];
	size_t count = 0;

	if (strcmp(value->text, "cannot_tell") == 0) {
		node_fault(value, reader->faults,
		           "`cannot_tell` stands for every value: no row can test it");
		return false;
	}
	for (size_t i = 0; i < question->option_count; i++)
		words[count++] = question->option[i].id;
	for (size_t i = 0; i < question->group_count && count < LENGTH_OF(words); i++)
		words[count++] = question->group[i].id;
	if (question->form != FORM_CHOICE) {
		words[count++] = "yes";
		words[count++] = "no";
	}
	node_fault(value, reader->faults, "`%.60s` is no value of `%.60s`%s", value->text,
	           question->id, node_meant(value->text, words, count, reader->faults));
	return false;
}

static bool cells_of_word(struct reader *reader, const struct node *value,
                          const struct question *question, cells *out)
{
	int option;

	if (question->form != FORM_CHOICE) {
		if (strcmp(value->text, "yes") == 0)
			*out |= (cells)1 << CELL_YES;
		else if (strcmp(value->text, "no") == 0)
			*out |= (cells)1 << CELL_NO;
		else
			return no_value(reader, value, question);
		return true;
	}
	option = question_option(question, value->text, strlen(value->text));
	if (option >= 0) {
		*out |= (cells)1 << option;
		return true;
	}
	for (size_t i = 0; i < question->group_count; i++) {
		if (strcmp(question->group[i].id, value->text) != 0)
			continue;
		*out |= question->group[i].members;
		return true;
	}
	return no_value(reader, value, question);
}

static struct condition *test_words(struct reader *reader, const struct node *node,
                                    question_index index)
{
	const struct question *question = &reader->book->question[index];
	struct condition *test = new_condition(reader, CONDITION_TEST, node);
	const struct node *value = node->kind == EVENT_LIST ? node->child : node;

	if (!test)
		return NULL;
	test->question = index;
	if (!value || node->kind == EVENT_MAP) {
		node_fault(node, reader->faults, "`%.60s` is tested by a word or a list of words",
		           question->id);
		return NULL;
	}
	for (; value; value = node->kind == EVENT_LIST ? value->next : NULL) {
		if (value->kind != EVENT_SCALAR) {
			node_fault(value, reader->faults,
			           "`%.60s` is tested by a word or a list of words", question->id);
			return NULL;
		}
		if (!cells_of_word(reader, value, question, &test->holds))
			return NULL;
	}
	return test;
}

/* -- thresholds ------------------------------------------------------------------------------ */

static bool date_bound(struct reader *reader, const struct node *node, double *out)
{
	struct days days;

	if (date_parse(node->text, strlen(node->text), &days) && days.first > DAY_FIRST) {
		*out = days.first;
		return true;
	}
	node_fault(node, reader->faults, "`%.60s` is no date to test with: 1999-07-01", node->text);
	return false;
}

static bool number_bound(struct reader *reader, const struct node *node, double *out)
{
	if (number_parse(node->text, strlen(node->text), out))
		return true;
	node_fault(node, reader->faults, "`%.60s` is not a number", node->text);
	return false;
}

/* `5 years`, against the day of the verdict */
static bool years_bound(struct reader *reader, const struct node *node, double *out)
{
	size_t digits = strspn(node->text, "0123456789");
	const char *unit = node->text + digits + strspn(node->text + digits, " ");
	double years = 0;

	if (digits > 0 && digits < 5 && (strcmp(unit, "years") == 0 || strcmp(unit, "year") == 0) &&
	    number_parse(node->text, digits, &years)) {
		*out = date_years_before(reader->book->on, (int)years);
		return true;
	}
	node_fault(node, reader->faults, "`within` takes whole years: `5 years`");
	return false;
}

static struct condition *read_threshold(struct reader *reader, const struct node *node,
                                        question_index index)
{
	static const char *const words[] = {"at_least", "below", "within"};
	const struct question *question = &reader->book->question[index];
	struct condition *test = new_condition(reader, CONDITION_TEST, node);
	bool good;

	if (!test)
		return NULL;
	test->question = index;
	test->threshold = strcmp(node->key, "below") == 0 ? THRESHOLD_BELOW : THRESHOLD_AT_LEAST;
	if (node->kind != EVENT_SCALAR) {
		node_fault(node, reader->faults, "`%.60s` takes one value", node->key);
		return NULL;
	}
	if (strcmp(node->key, "within") == 0 && question->form == FORM_DATE) {
		good = years_bound(reader, node, &test->bound);
	} else if (strcmp(node->key, "at_least") == 0 || strcmp(node->key, "below") == 0) {
		good = question->form == FORM_DATE ? date_bound(reader, node, &test->bound)
		                                   : number_bound(reader, node, &test->bound);
	} else {
		fault_add(reader->faults, SEVERITY_FAULT, node->source, node->key_span,
		          "`%.60s` does not test a %s: at_least and below do%s%s", node->key,
		          form_name(question->form),
		          question->form == FORM_DATE ? ", and within" : "",
		          node_meant(node->key, words, question->form == FORM_DATE ? 3 : 2,
		                     reader->faults));
		good = false;
	}
	return good ? test : NULL;
}

/* A number or a date: one entry, or two that must both hold. */
static struct condition *test_thresholds(struct reader *reader, const struct node *node,
                                         question_index index)
{
	const struct question *question = &reader->book->question[index];
	struct condition *all = new_condition(reader, CONDITION_ALL, node), **end;

	if (!all)
		return NULL;
	if (node->kind != EVENT_MAP || !node->child) {
		node_fault(node, reader->faults,
		           "the %s `%.60s` is tested by { at_least: ... } or { below: ... }",
		           form_name(question->form), question->id);
		return NULL;
	}
	end = &all->child;
	for (const struct node *entry = node->child; entry; entry = entry->next) {
		*end = read_threshold(reader, entry, index);
		if (!*end)
			return NULL;
		(*end)->span = all->span;
		end = &(*end)->next;
	}
	return all->child->next ? all : all->child;
}

/* -- trees ----------------------------------------------------------------------------------- */

static struct condition *read_test(struct reader *reader, const struct sight *sight,
                                   const struct node *node)
{
	question_index index = resolve(reader, sight, node);

	if (index == QUESTION_NONE)
		return NULL;
	switch (reader->book->question[index].form) {
	case FORM_CHOICE:
	case FORM_YES_NO:
	case FORM_MEASURED:
		return test_words(reader, node, index);
	case FORM_NUMBER:
	case FORM_DATE:
		return test_thresholds(reader, node, index);
	case FORM_TEXT:
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
	case FORM_COUNT:
		break;
	}
	fault_add(reader->faults, SEVERITY_FAULT, node->source, node->key_span,
	          "`%.60s` can't be tested: it is a %s", node->key,
	          form_name(reader->book->question[index].form));
	return NULL;
}

static struct condition *read_several(struct reader *reader, const struct sight *sight,
                                      const struct node *node, enum condition_form form)
{
	struct condition *condition = new_condition(reader, form, node), **end;

	if (!condition)
		return NULL;
	end = &condition->child;
	if (node->kind != EVENT_LIST || !node->child) {
		node_fault(node, reader->faults, "`%s` is a list of maps like `when` itself",
		           node->key);
		return NULL;
	}
	for (const struct node *map = node->child; map; map = map->next) {
		*end = read_all(reader, sight, map);
		if (*end)
			end = &(*end)->next;
	}
	return condition;
}

static struct condition *read_entry(struct reader *reader, const struct sight *sight,
                                    const struct node *node)
{
	struct condition *negation;

	if (strcmp(node->key, "all") == 0)
		return read_several(reader, sight, node, CONDITION_ALL);
	if (strcmp(node->key, "any") == 0)
		return read_several(reader, sight, node, CONDITION_ANY);
	if (strcmp(node->key, "not") != 0)
		return read_test(reader, sight, node);
	negation = new_condition(reader, CONDITION_NOT, node);
	if (!negation)
		return NULL;
	negation->child = read_all(reader, sight, node);
	return negation->child ? negation : NULL;
}

/* All entries of a map; a single one stands for itself. Depth is bounded by that of the text. */
static struct condition *read_all(struct reader *reader, const struct sight *sight,
                                  const struct node *map)
{
	struct condition *all = new_condition(reader, CONDITION_ALL, map), **end;

	if (!all)
		return NULL;
	end = &all->child;
	if (map->kind != EVENT_MAP || !map->child) {
		node_fault(map, reader->faults, "a condition is a map of at least one test");
		return NULL;
	}
	for (const struct node *entry = map->child; entry; entry = entry->next) {
		*end = read_entry(reader, sight, entry);
		if (*end)
			end = &(*end)->next;
	}
	if (all->child && !all->child->next)
		return all->child;
	return all->child ? all : NULL;
}

struct condition *read_condition(struct reader *reader, const struct sight *sight,
                                 const struct node *map, const char *key)
{
	const struct node *condition = node_get(map, key);

	return condition ? read_all(reader, sight, condition) : NULL;
}
