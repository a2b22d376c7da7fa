/* Questions: what is asked, in which form, and the measured tests that are
 * worked out of numbers. */
#include "rulebook_inside.h"

#include "tundish/base/number.h"

#include <string.h>

static const char *const question_keys[] = {
        "id",    "was",  "label",  "hint",       "form",        "options", "groups",
        "scope", "at",   "unit",   "everywhere", "cannot_tell", "share",   "books",
        "least", "most", "source", "measured",   NULL};

/* -- lists ----------------------------------------------------------------------------------- */

question_index shared_question(const struct reader *reader, enum scope scope, const char *id)
{
	for (size_t i = 0; i < reader->shared_count; i++)
		if (reader->book->question[i].scope == scope &&
		    strcmp(reader->book->question[i].id, id) == 0)
			return (question_index)i;
	return QUESTION_NONE;
}

void asking_add(struct reader *reader, question_index **list, size_t *count, size_t *room,
                question_index question)
{
	question_index *grown;

	for (size_t i = 0; i < *count; i++)
		if ((*list)[i] == question)
			return;
	grown = arena_grow(&reader->book->arena, *list, *count, room, sizeof(*grown));
	if (!grown) {
		reader->no_memory = true;
		return;
	}
	*list = grown;
	grown[(*count)++] = question;
}

static struct question *new_question(struct reader *reader, const struct node *node)
{
	struct rulebook *book = reader->book;
	struct question *grown;

	if (book->question_count >= QUESTION_NONE) {
		node_fault(node, reader->faults, "more than %d questions in one book",
		           QUESTION_NONE);
		return NULL;
	}
	grown = arena_grow(&book->arena, book->question, book->question_count,
	                   &reader->question_room, sizeof(*grown));
	if (!grown) {
		reader->no_memory = true;
		return NULL;
	}
	book->question = grown;
	grown += book->question_count++;
	memset(grown, 0, sizeof(*grown));
	grown->span = node->span;
	grown->text = node->source;
	return grown;
}

/* -- options and groups ---------------------------------------------------------------------- */

static void read_option(struct reader *reader, const struct node *node, struct question *question)
{
	static const char *const known[] = {"id", "label", NULL};
	struct option *option = &question->option[question->option_count];
	const char *id;

	if (!node_is_map(node, "an option", reader->faults))
		return;
	node_known_keys(node, "an option", known, reader->faults);
	id = read_id(reader, node, "an option", false);
	if (!id)
		return;
	if (strcmp(id, "cannot_tell") == 0)
		node_fault(
		        node, reader->faults,
		        "`cannot_tell` is no option: it may be answered unless `cannot_tell: no`");
	if (question_option(question, id, strlen(id)) >= 0)
		node_fault(node, reader->faults, "the option `%.60s` is there twice", id);
	option->id = id;
	option->label = node_text(node, "label", reader->faults);
	if (!option->label)
		option->label = id;
	question->option_count++;
}

static void read_options(struct reader *reader, const struct node *node, struct question *question)
{
	const struct node *first = node_list(node, "options", reader->faults);
	size_t count = 0;

	for (const struct node *option = first; option; option = option->next)
		count++;
	if (question->form != FORM_CHOICE) {
		if (count > 0)
			node_fault(node_get(node, "options"), reader->faults,
			           "only a choice has `options`");
		return;
	}
	if (count < 2 || count > CELLS_MOST) {
		node_fault(node, reader->faults,
		           "the choice `%.60s` has %zu options: 2 to %d can be", question->id,
		           count, CELLS_MOST);
		return;
	}
	question->option = reader_take(reader, count * sizeof(*question->option));
	for (const struct node *option = first; option && question->option; option = option->next)
		read_option(reader, option, question);
}

static void no_such_option(struct reader *reader, const struct node *node,
                           const struct question *question)
{
	const char *words[CELLS_MOST];

	for (size_t i = 0; i < question->option_count; i++)
		words[i] = question->option[i].id;
	node_fault(node, reader->faults, "`%.60s` is no option of `%.60s`%s", node->text,
	           question->id,
	           node_meant(node->text, words, question->option_count, reader->faults));
}

static void read_group(struct reader *reader, const struct node *node, struct question *question)
{
	struct group *group = &question->group[question->group_count++];

	group->id = node->key;
	if (question_option(question, node->key, strlen(node->key)) >= 0)
		node_fault(node, reader->faults, "the group `%.60s` has the name of an option",
		           node->key);
	if (node->kind != EVENT_LIST || !node->child) {
		node_fault(node, reader->faults, "a group is a list of options");
		return;
	}
	for (const struct node *member = node->child; member; member = member->next) {
		int option;

		if (member->kind != EVENT_SCALAR) {
			node_fault(member, reader->faults, "a group is a list of options");
			continue;
		}
		option = question_option(question, member->text, strlen(member->text));
		if (option < 0)
			no_such_option(reader, member, question);
		else
			group->members |= (cells)1 << option;
	}
}

static void read_groups(struct reader *reader, const struct node *node, struct question *question)
{
	const struct node *groups = node_get(node, "groups");
	size_t count = 0;

	if (!groups || !node_is_map(groups, "`groups`", reader->faults))
		return;
	if (question->form != FORM_CHOICE) {
		node_fault(groups, reader->faults, "only a choice has `groups`");
		return;
	}
	for (const struct node *group = groups->child; group; group = group->next)
		count++;
	question->group = reader_take(reader, count * sizeof(*question->group));
	for (const struct node *group = groups->child; group && question->group;
	     group = group->next)
		read_group(reader, group, question);
}

/* -- numbers --------------------------------------------------------------------------------- */

static bool read_bound(struct reader *reader, const struct node *node, const char *key, double *out)
{
	const char *text = node_text(node, key, reader->faults);

	if (!text)
		return false;
	if (number_parse(text, strlen(text), out))
		return true;
	node_fault(node_get(node, key), reader->faults, "`%.60s` is not a number", text);
	return false;
}

/* A person who edits a survey sees only the key. */
static void check_unit(struct reader *reader, const struct node *node,
                       const struct question *question)
{
	static const char *const units[] = {"pa", "kpa",   "mbar", "bar", "mm",   "m",
	                                    "l",  "l_min", "l_s",  "c",   "years"};
	size_t length = strlen(question->id), unit_length = strlen(question->unit), i = 0;

	while (i < LENGTH_OF(units) && strcmp(question->unit, units[i]) != 0)
		i++;
	if (i == LENGTH_OF(units))
		node_fault(node_get(node, "unit"), reader->faults, "`%.60s` is no unit%s",
		           question->unit,
		           node_meant(question->unit, units, LENGTH_OF(units), reader->faults));
	else if (length < unit_length + 2 || question->id[length - unit_length - 1] != '_' ||
	         strcmp(question->id + length - unit_length, question->unit) != 0)
		node_fault(node_get(node, "id"), reader->faults,
		           "the key of a number ends in its unit: `%.60s_%s`", question->id,
		           question->unit);
}

static void read_number(struct reader *reader, const struct node *node, struct question *question)
{
	bool least = node_get(node, "least") != NULL, most = node_get(node, "most") != NULL;
	bool good = read_bound(reader, node, "least", &question->least) &
	            read_bound(reader, node, "most", &question->most);

	question->unit = node_text(node, "unit", reader->faults);
	if (question->form != FORM_NUMBER) {
		if (least || most || question->unit)
			node_fault(node, reader->faults,
			           "only a number has `unit`, `least` and `most`: `%.60s` is none",
			           question->id);
		return;
	}
	if (!least || !most)
		node_fault(
		        node, reader->faults,
		        "the number `%.60s` needs `least` and `most`: the range that makes sense",
		        question->id);
	else if (good && question->least >= question->most)
		node_fault(node, reader->faults, "`least` is not below `most` in `%.60s`",
		           question->id);
	if (question->unit)
		check_unit(reader, node, question);
}

/* -- one question ---------------------------------------------------------------------------- */

static void read_form(struct reader *reader, const struct node *node, struct question *question)
{
	const char *text = node_text(node, "form", reader->faults), *names[FORM_COUNT];

	question->form = node_get(node, "measured") ? FORM_MEASURED : FORM_TEXT;
	for (unsigned f = 0; f < FORM_COUNT; f++) {
		names[f] = form_name((enum form)f);
		if (!text || strcmp(text, names[f]) != 0)
			continue;
		if (question->form == FORM_MEASURED && f != FORM_MEASURED)
			node_fault(node_get(node, "form"), reader->faults,
			           "a measured test has no `form` but measured");
		else
			question->form = (enum form)f;
		return;
	}
	if (text)
		node_fault(node_get(node, "form"), reader->faults,
		           "`%.60s` is no form of question%s", text,
		           node_meant(text, names, FORM_COUNT, reader->faults));
	else if (question->form != FORM_MEASURED)
		node_fault(node, reader->faults,
		           "the question `%.60s` has no `form`: choice, yes_no, number ...",
		           question->id);
}

/* Where an answer is kept when the rulebook does not say. */
static const char *kept_at(const struct node *node, enum scope scope, struct faults *faults)
{
	const char *text = node_text(node, "at", faults);

	if (text)
		return scope == SCOPE_PREMISES && strcmp(text, "premises") == 0 ? "" : text;
	for (const struct node *entry = node->child; entry; entry = entry->next)
		if (strcmp(entry->key, "at") == 0 && entry->kind == EVENT_SCALAR &&
		    !entry->span.length)
			break;
		else if (strcmp(entry->key, "at") == 0)
			return "";
	if (scope == SCOPE_POINT)
		return "answers";
	return scope == SCOPE_PREMISES ? "supply" : "";
}

/* What a kind or type lists is of the trade, and tells nothing of whose house it is; what is asked
 * everywhere may. */
static void read_share(struct reader *reader, const struct node *node, struct question *question,
                       bool listed)
{
	bool text = question->form == FORM_TEXT;

	question->share = node_yes(node, "share", listed && !text, reader->faults);
	if (question->share && text)
		node_fault(node_get(node, "share"), reader->faults,
		           "a text can tell whose it is: `%.60s` can't be shared", question->id);
}

static void read_question(struct reader *reader, const struct node *node, const char *id,
                          enum scope scope, bool listed)
{
	struct question *question = new_question(reader, node);

	if (!question)
		return;
	node_known_keys(node, "a question", question_keys, reader->faults);
	question->id = id;
	question->scope = scope;
	question->label = node_text(node, "label", reader->faults);
	question->hint = node_text(node, "hint", reader->faults);
	question->source_text = node_text(node, "source", reader->faults);
	question->at = kept_at(node, scope, reader->faults);
	read_form(reader, node, question);
	question->cannot_tell =
	        node_yes(node, "cannot_tell", question->form != FORM_TEXT, reader->faults);
	read_share(reader, node, question, listed);
	/* what can only be noted is for the books, but of the premises: who was there, who may agree */
	question->books = node_yes(node, "books",
	                           question->form == FORM_TEXT && question->scope != SCOPE_PREMISES,
	                           reader->faults);
	if (!question->label) {
		question->label = id;
		if (question->form != FORM_MEASURED && scope != SCOPE_OUTCOME)
			node_fault(node, reader->faults,
			           "the question `%.60s` has no `label`: how is it asked?", id);
	}
	read_options(reader, node, question);
	read_groups(reader, node, question);
	read_number(reader, node, question);
}

/* -- shared ones ----------------------------------------------------------------------------- */

/* Those of a point, a protection or a test are asked only where a kind or type lists them. */
static bool asked_everywhere(struct reader *reader, const struct node *node, enum scope scope)
{
	bool listed = scope == SCOPE_POINT || scope == SCOPE_PROTECTION || scope == SCOPE_TEST;

	return node_yes(node, "everywhere", !listed, reader->faults) || !listed;
}

static void measure_shared(struct reader *reader)
{
	struct rulebook *book = reader->book;

	for (size_t i = 0; i < reader->shared_count; i++) {
		enum scope scope = book->question[i].scope;
		question_index *list = NULL;
		size_t count = 0, room = 0;

		if (book->question[i].form != FORM_MEASURED)
			continue;
		for (size_t other = 0; other < reader->shared_count; other++)
			if (book->question[other].scope == scope)
				asking_add(reader, &list, &count, &room, (question_index)other);
		book->question[i].measure =
		        read_measure(reader, reader->questions.item[i].node, scope, list, count);
	}
}

void read_shared_questions(struct reader *reader)
{
	struct rulebook *book = reader->book;
	size_t room[SCOPE_COUNT] = {0};

	reader->everywhere = arena_take(reader->scratch, reader->questions.count + 1);
	if (!reader->everywhere) {
		reader->no_memory = true;
		return;
	}
	for (size_t i = 0; i < reader->questions.count; i++) {
		const struct raw_thing *raw = &reader->questions.item[i];

		bool everywhere = asked_everywhere(reader, raw->node, raw->scope);
		read_question(reader, raw->node, raw->id, raw->scope, !everywhere);
		if (book->question_count != i + 1)
			return;
		reader->shared_count = i + 1;
		reader->everywhere[i] = everywhere;
		if (reader->everywhere[i])
			asking_add(reader, &book->scope_question[raw->scope],
			           &book->scope_question_count[raw->scope], &room[raw->scope],
			           (question_index)i);
	}
	measure_shared(reader);
}

/* -- a kind's or a type's own ---------------------------------------------------------------- */

struct asking {
	struct reader *reader;
	const char *owner_id;
	enum scope scope; /* of those that do not say */
	question_index *list;
	size_t count, room;
};

static void no_shared(struct asking *asking, const struct node *node)
{
	struct reader *reader = asking->reader;
	const char **words =
	        arena_take(reader->scratch, (reader->shared_count + 1) * sizeof(*words));
	size_t count = 0;

	for (size_t i = 0; words && i < reader->shared_count; i++) {
		enum scope scope = reader->book->question[i].scope;

		if (scope == asking->scope ||
		    (scope == SCOPE_TEST && asking->scope == SCOPE_PROTECTION))
			words[count++] = reader->book->question[i].id;
	}
	node_fault(node, reader->faults, "`%.60s` is no shared question of a %s%s", node->text,
	           scope_name(asking->scope),
	           node_meant(node->text, words, words ? count : 0, reader->faults));
}

static void list_shared(struct asking *asking, const struct node *node)
{
	question_index question = shared_question(asking->reader, asking->scope, node->text);

	if (question == QUESTION_NONE && asking->scope == SCOPE_PROTECTION)
		question = shared_question(asking->reader, SCOPE_TEST, node->text);
	if (question == QUESTION_NONE)
		no_shared(asking, node);
	else
		asking_add(asking->reader, &asking->list, &asking->count, &asking->room, question);
}

/* The scope that an own question says: only a type's may be of another, a test. */
static bool own_scope(struct asking *asking, const struct node *node, enum scope *scope)
{
	const char *text = node_text(node, "scope", asking->reader->faults);

	*scope = asking->scope;
	if (!text || strcmp(text, scope_name(asking->scope)) == 0)
		return true;
	*scope = SCOPE_TEST;
	if (asking->scope == SCOPE_PROTECTION && strcmp(text, scope_name(SCOPE_TEST)) == 0)
		return true;
	node_fault(node_get(node, "scope"), asking->reader->faults,
	           "a question of `%.60s` has the scope %s", asking->owner_id,
	           asking->scope == SCOPE_POINT ? "point" : "protection or test");
	return false;
}

static bool is_taken(const struct asking *asking, enum scope scope, const char *id)
{
	const struct rulebook *book = asking->reader->book;
	question_index shared = shared_question(asking->reader, scope, id);

	for (size_t i = 0; i < asking->count; i++)
		if (book->question[asking->list[i]].scope == scope &&
		    strcmp(book->question[asking->list[i]].id, id) == 0)
			return true;
	return shared != QUESTION_NONE && asking->reader->everywhere[shared];
}

static void add_own(struct asking *asking, const struct node *node)
{
	struct reader *reader = asking->reader;
	const char *id = read_id(reader, node, "a question", false);
	size_t before = reader->book->question_count;
	enum scope scope;

	if (!id || !own_scope(asking, node, &scope))
		return;
	if (is_taken(asking, scope, id)) {
		node_fault(node_get(node, "id"), reader->faults,
		           "`%.60s` asks two questions of this id", asking->owner_id);
		return;
	}
	if (node_get(node, "everywhere"))
		node_fault(node_get(node, "everywhere"), reader->faults,
		           "only a shared question can be asked `everywhere`");
	read_question(reader, node, id, scope, true);
	if (reader->book->question_count > before)
		asking_add(reader, &asking->list, &asking->count, &asking->room,
		           (question_index)before);
}

/* After the whole list: a test may stand before the numbers it measures. */
static void measure_own(struct asking *asking, const struct node *questions)
{
	struct rulebook *book = asking->reader->book;

	for (size_t i = 0; i < asking->count; i++) {
		struct question *question = &book->question[asking->list[i]];

		if (question->form != FORM_MEASURED ||
		    asking->list[i] < asking->reader->shared_count)
			continue;
		for (const struct node *node = questions; node; node = node->next)
			if (node->span.at == question->span.at)
				question->measure =
				        read_measure(asking->reader, node, question->scope,
				                     asking->list, asking->count);
	}
}

/* A shared measured test is worked out of shared numbers: whoever lists it asks those too. */
static void check_listed(struct asking *asking, const struct node *owner)
{
	const struct rulebook *book = asking->reader->book;

	for (size_t i = 0; i < asking->count; i++) {
		const struct measure *measure = book->question[asking->list[i]].measure;

		for (size_t t = 0; measure && t <= measure->right_count; t++) {
			const struct term *term = t == 0 ? &measure->left : &measure->right[t - 1];
			size_t at = 0;

			while (at < asking->count && asking->list[at] != term->question)
				at++;
			if (term->question == QUESTION_NONE || at < asking->count)
				continue;
			if (term->question >= asking->reader->shared_count ||
			    !asking->reader->everywhere[term->question])
				node_fault(owner, asking->reader->faults,
				           "`%.60s` lists `%.60s` but not its number `%.60s`",
				           asking->owner_id, book->question[asking->list[i]].id,
				           book->question[term->question].id);
		}
	}
}

void read_own_questions(struct reader *reader, const struct node *owner, const char *owner_id,
                        enum scope scope, question_index **out, size_t *out_count)
{
	struct asking asking = {.reader = reader, .owner_id = owner_id, .scope = scope};
	const struct node *questions = node_list(owner, "questions", reader->faults);

	for (const struct node *node = questions; node; node = node->next) {
		if (node->kind == EVENT_SCALAR)
			list_shared(&asking, node);
		else if (node_is_map(node, "a question, unless it is the id of a shared one, ",
		                     reader->faults))
			add_own(&asking, node);
	}
	measure_own(&asking, questions);
	check_listed(&asking, owner);
	*out = asking.list;
	*out_count = asking.count;
}
