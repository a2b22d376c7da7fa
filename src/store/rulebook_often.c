/* How often things are met: what stands on an inlet, what feeds it, and how questions are answered. */
#include "rulebook_inside.h"

#include "tundish/base/number.h"

#include <string.h>

struct weighing {
	struct reader *reader;
	struct often *often;
	struct sight sight;
	const char *name;        /* of what it is about */
	const struct node *node; /* the whole entry */
};

/* -- what it is about ------------------------------------------------------------------------ */

/* Scopes that weights may speak of; a scope's `when` sees what is asked before. */
static const struct {
	enum scope scope;
	enum owner owner;
	bool when;
} scopes[] = {
        {SCOPE_PREMISES,   OWNER_PLACE, true },
        {SCOPE_PART,       OWNER_PLACE, true },
        {SCOPE_BRANCH,     OWNER_PLACE, true },
        {SCOPE_ROOM,       OWNER_PLACE, false},
        {SCOPE_POINT,      OWNER_KIND,  true },
        {SCOPE_INLET,      OWNER_TYPE,  false},
        {SCOPE_PROTECTION, OWNER_TYPE,  true },
        {SCOPE_TEST,       OWNER_TYPE,  true },
};

static bool of_scope(struct weighing *weighing, const char *of)
{
	for (size_t i = 0; i < LENGTH_OF(scopes); i++) {
		if (strcmp(scope_name(scopes[i].scope), of) != 0)
			continue;
		weighing->often->scope = scopes[i].scope;
		weighing->often->of = INDEX_NONE;
		weighing->sight = (struct sight){scopes[i].owner, of, NULL, 0};
		if (!scopes[i].when && node_get(weighing->node, "when"))
			node_fault(node_get(weighing->node, "when"), weighing->reader->faults,
			           "what is said of every %s has no `when`", of);
		return true;
	}
	return false;
}

static bool of_type(struct weighing *weighing, const char *of)
{
	const struct rulebook *book = weighing->reader->book;

	for (size_t t = 0; t < weighing->reader->types.count; t++) {
		if (!raw_is(weighing->reader->types.item[t].node, of))
			continue;
		weighing->often->scope = SCOPE_PROTECTION;
		weighing->often->of = (uint16_t)t;
		weighing->sight = (struct sight){OWNER_TYPE, of, book->type[t].question,
		                                 book->type[t].question_count};
		return true;
	}
	return is_among(&weighing->reader->dropped_types, of);
}

/* @return whether there is anything to read: not where it was dropped, or is not known. */
static bool read_of(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	const char *of = node_text(weighing->node, "of", reader->faults);
	uint16_t kind;

	weighing->often->of = INDEX_NONE;
	weighing->often->scope = SCOPE_COUNT;
	if (!of) {
		if (!node_get(weighing->node, "of"))
			node_fault(
			        weighing->node, reader->faults,
			        "an entry of `often` says `of` what: a kind, a type, or premises, "
			        "part, branch, point ...");
		return false;
	}
	weighing->name = of;
	if (of_scope(weighing, of) || of_type(weighing, of))
		return weighing->often->scope != SCOPE_COUNT;
	kind = named_kind(reader, weighing->node, of, node_get(weighing->node, "of")->span);
	if (kind == INDEX_NONE)
		return false;
	weighing->often->scope = SCOPE_POINT;
	weighing->often->of = kind;
	weighing->sight = (struct sight){OWNER_KIND, of, reader->book->kind[kind].question,
	                                 reader->book->kind[kind].question_count};
	return true;
}

static bool is_kind(const struct weighing *weighing)
{
	return weighing->often->scope == SCOPE_POINT && weighing->often->of != INDEX_NONE;
}

/** The text that says what the entry's questions and inlets are; NULL: the sheet. */
static const struct source *text_of(const struct weighing *weighing)
{
	const struct rulebook *book = weighing->reader->book;

	if (weighing->often->of == INDEX_NONE)
		return NULL;
	return is_kind(weighing) ? book->kind[weighing->often->of].text
	                         : book->type[weighing->often->of].text;
}

static bool is_outdated(const struct weighing *weighing)
{
	const struct source *text = text_of(weighing);

	return text && read_since(weighing->reader, text, weighing->node);
}

/* -- conditions ------------------------------------------------------------------------------ */

static bool tests_measured(const struct rulebook *book, const struct condition *condition)
{
	if (!condition)
		return false;
	if (condition->form == CONDITION_TEST &&
	    book->question[condition->question].form == FORM_MEASURED)
		return true;
	for (const struct condition *child = condition->child; child; child = child->next)
		if (tests_measured(book, child))
			return true;
	return false;
}

/* A text that came since may have done away with a question: then nothing is said of it. */
static struct condition *read_weights_condition(struct weighing *weighing,
                                                const struct sight *sight, const char *key)
{
	struct reader *reader = weighing->reader;
	struct faults unheard, *heard = reader->faults;
	struct condition *condition;

	faults_init(&unheard, reader->scratch);
	if (is_outdated(weighing))
		reader->faults = &unheard;
	condition = read_condition(reader, sight, weighing->node, key);
	reader->faults = heard;
	/* without one of its tests it would be another condition */
	if (unheard.fatal > 0)
		return NULL;
	if (tests_measured(reader->book, condition))
		node_fault(node_get(weighing->node, key), reader->faults,
		           "a measured test is not known before its numbers are: it can't be used "
		           "here");
	return condition;
}

/* -- answers --------------------------------------------------------------------------------- */

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

	if (is_outdated(weighing))
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

static void read_answer_weights(struct weighing *weighing, const struct node *node,
                                struct answer_weights *answer)
{
	const struct question *question = &weighing->reader->book->question[answer->question];

	switch (question->form) {
	case FORM_CHOICE:
	case FORM_YES_NO:
		read_options_weights(weighing, node, answer);
		return;
	case FORM_NUMBER:
	case FORM_DATE:
		answer->stretch = reader_take(weighing->reader,
		                              (node_children(node) + 1) * sizeof(*answer->stretch));
		for (const struct node *stretch = node->child; stretch && answer->stretch;
		     stretch = stretch->next)
			read_stretch(weighing, stretch, answer);
		return;
	case FORM_TEXT:
	case FORM_KIND:
	case FORM_TYPE:
	case FORM_FEED:
	case FORM_PART:
	case FORM_MEASURED:
	case FORM_COUNT:
		break;
	}
	fault_add(weighing->reader->faults, SEVERITY_FAULT, node->source, node->key_span,
	          "`%.60s` is a %s: weights are of a choice, a yes_no, a number or a date",
	          node->key, form_name(question->form));
}

static void read_answers(struct weighing *weighing)
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

/* -- what is fitted -------------------------------------------------------------------------- */

/* `ED, ED`: in flow order. @return whether all of them are known. */
static bool read_fitting(struct weighing *weighing, const struct node *node,
                         struct fitting *fitting)
{
	const char *at = node->key;

	if (strcmp(at, "nothing") == 0)
		return true;
	while (*at) {
		size_t length = strcspn(at, ",");
		const char *id = arena_copy(weighing->reader->scratch, at, length);
		uint16_t type =
		        id ? named_type(weighing->reader, node, id, node->key_span) : INDEX_NONE;

		if (type == INDEX_NONE)
			return false;
		if (fitting->type_count == FITTING_TYPES_MOST) {
			fault_add(weighing->reader->faults, SEVERITY_FAULT, node->source,
			          node->key_span, "more than %d types one after the other",
			          FITTING_TYPES_MOST);
			return false;
		}
		fitting->type[fitting->type_count++] = type;
		at += length;
		at += strspn(at, ", ");
	}
	return fitting->type_count > 0;
}

static void read_fittings(struct weighing *weighing, const struct node *map, uint8_t inlets)
{
	struct often *often = weighing->often;
	struct fittings *fittings = &often->fittings[often->fittings_count++];

	fittings->inlets = inlets;
	fittings->item =
	        reader_take(weighing->reader, (node_children(map) + 1) * sizeof(*fittings->item));
	for (const struct node *node = map->child; node && fittings->item; node = node->next) {
		struct fitting fitting = {.weight = read_weight(weighing->reader, node)};

		if (read_fitting(weighing, node, &fitting))
			fittings->item[fittings->count++] = fitting;
	}
}

static int inlet_of(const struct kind *kind, const char *id)
{
	for (size_t i = 0; i < kind->inlet_count; i++)
		if (strcmp(kind->inlet[i].id, id) == 0)
			return (int)i;
	return -1;
}

static void no_such_inlet(struct weighing *weighing, const struct kind *kind,
                          const struct node *node)
{
	const char *words[INLETS_MOST];

	for (size_t i = 0; i < kind->inlet_count; i++)
		words[i] = kind->inlet[i].id;
	if (!is_outdated(weighing))
		fault_add(
		        weighing->reader->faults, SEVERITY_FAULT, node->source, node->key_span,
		        "`%.60s` is no inlet of `%s`%s", node->key, kind->id,
		        node_meant(node->key, words, kind->inlet_count, weighing->reader->faults));
}

/* `protection` is of all inlets but waste ones, or of a branch or the whole site; `inlets` of single ones. */
static void read_protection(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	const struct node *all = weighed_map(reader, weighing->node, "protection"),
	                  *single = weighed_map(reader, weighing->node, "inlets");
	const struct kind *kind =
	        is_kind(weighing) ? &reader->book->kind[weighing->often->of] : NULL;
	uint8_t inlets = kind ? 0 : 1;

	weighing->often->fittings =
	        reader_take(reader, (node_children(single) + 1) * sizeof(struct fittings));
	if (!weighing->often->fittings)
		return;
	for (size_t i = 0; kind && i < kind->inlet_count; i++)
		if (!kind->inlet[i].waste)
			inlets |= (uint8_t)(1u << i);
	if (all && (kind || weighing->often->scope == SCOPE_PREMISES ||
	            weighing->often->scope == SCOPE_BRANCH))
		read_fittings(weighing, all, inlets);
	else if (all)
		node_fault(all, reader->faults,
		           "`protection` is weighed of a kind, a branch or the premises");
	if (single && !kind)
		node_fault(single, reader->faults, "`inlets` are those of a kind");
	for (const struct node *node = single && kind ? single->child : NULL; node;
	     node = node->next) {
		int inlet = inlet_of(kind, node->key);

		if (inlet < 0)
			no_such_inlet(weighing, kind, node);
		else if (node_is_map(node, node->key, reader->faults))
			read_fittings(weighing, node, (uint8_t)(1u << inlet));
	}
}

/* -- what feeds it --------------------------------------------------------------------------- */

/* @return the kind that stores, or FED_BY_MAIN; @p known: false, after a fault. */
static uint16_t named_start(struct reader *reader, const struct node *node, const char *id,
                            struct span place, bool *known)
{
	uint16_t kind = FED_BY_MAIN;

	*known = strcmp(id, "main") == 0;
	if (!*known)
		kind = named_kind(reader, node, id, place);
	if (kind == INDEX_NONE)
		return kind;
	*known = reader->book->kind[kind].stores;
	if (!*known)
		fault_add(reader->faults, SEVERITY_FAULT, node->source, place,
		          "`%.60s` does not store water: no branch starts there", id);
	return kind;
}

static void read_fed_by(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	struct often *often = weighing->often;
	const struct node *map = weighed_map(reader, weighing->node, "fed_by");

	if (map && often->scope != SCOPE_POINT)
		node_fault(map, reader->faults, "`fed_by` is of a kind, or of every point");
	if (!map || often->scope != SCOPE_POINT)
		return;
	often->fed_by = reader_take(reader, (node_children(map) + 1) * sizeof(*often->fed_by));
	for (const struct node *node = map->child; node && often->fed_by; node = node->next) {
		bool known;
		uint16_t start = named_start(reader, node, node->key, node->key_span, &known);
		unsigned weight = read_weight(reader, node);

		if (known)
			often->fed_by[often->fed_by_count++] = (struct weighed){start, weight};
	}
}

static void read_from(struct weighing *weighing)
{
	struct reader *reader = weighing->reader;
	struct often *often = weighing->often;
	const struct node *from = node_get(weighing->node, "from");

	if (from && often->scope != SCOPE_BRANCH)
		node_fault(from, reader->faults, "`from` is of branches");
	if (!from || often->scope != SCOPE_BRANCH)
		return;
	often->from = reader_take(reader, (node_children(from) + 1) * sizeof(*often->from));
	for (const struct node *node = node_list(weighing->node, "from", reader->faults);
	     node && often->from; node = node->next) {
		bool known = false;
		uint16_t start = node->kind != EVENT_SCALAR ? INDEX_NONE
		                                            : named_start(reader, node, node->text,
		                                                          node->span, &known);

		if (node->kind != EVENT_SCALAR)
			node_fault(node, reader->faults,
			           "`from` is a list of `main` and kinds that store");
		else if (known)
			often->from[often->from_count++] = start;
	}
}

static void read_makes(struct weighing *weighing)
{
	struct often *often = weighing->often;
	const struct node *makes = node_get(weighing->node, "makes");

	if (!makes)
		return;
	if (!is_kind(weighing) || !weighing->reader->book->kind[often->of].stores)
		node_fault(makes, weighing->reader->faults,
		           "`makes` is of a kind that stores water: a branch starts there");
	else
		often->makes =
		        read_words(weighing->reader, weighing->node, "makes", &often->make_count);
}

/* -- where it stands ------------------------------------------------------------------------- */

static void read_stands(struct weighing *weighing)
{
	static const char *const keys[] = {"only", "always", "most"};
	const struct sight place = {OWNER_PLACE, "the premises", NULL, 0};
	const struct node *most = node_get(weighing->node, "most");
	struct often *often = weighing->often;

	for (size_t i = 0; !is_kind(weighing) && i < LENGTH_OF(keys); i++)
		if (node_get(weighing->node, keys[i]))
			node_fault(node_get(weighing->node, keys[i]), weighing->reader->faults,
			           "`%s` is of a kind", keys[i]);
	if (!is_kind(weighing))
		return;
	often->only = read_weights_condition(weighing, &place, "only");
	often->always = read_weights_condition(weighing, &place, "always");
	if (most)
		often->most = read_weight(weighing->reader, most);
	if (most && often->most == 0)
		node_fault(most, weighing->reader->faults, "`most` is 1 at least");
}

/* -- the whole ------------------------------------------------------------------------------- */

static bool says_what(const struct often *one, const struct often *other, const char **what)
{
	for (size_t a = 0; a < one->answer_count; a++)
		for (size_t b = 0; b < other->answer_count; b++)
			if (one->answer[a].question == other->answer[b].question)
				*what = "the same question";
	for (size_t a = 0; a < one->fittings_count; a++)
		for (size_t b = 0; b < other->fittings_count; b++)
			if (one->fittings[a].inlets == other->fittings[b].inlets)
				*what = "`protection` of the same inlets";
	if (one->fed_by && other->fed_by)
		*what = "`fed_by`";
	return *what != NULL;
}

/* What an overlay says again takes the place; twice in one book it was meant otherwise. */
static void check_not_twice(struct reader *reader, const struct weights *weights,
                            const struct often *again)
{
	for (const struct often *first = weights->often; first < again; first++) {
		const char *what = NULL;

		if (first->scope != again->scope || first->of != again->of || first->when ||
		    again->when || first->from || again->from ||
		    !same_book(first->text, again->text) || !says_what(first, again, &what))
			continue;
		fault_add(
		        reader->faults, SEVERITY_FAULT, again->text, again->span,
		        "%s is weighed twice: first in %s, line %zu; a second time needs a `when`",
		        what, first->text->name, source_place(first->text, first->span.at).line);
		return;
	}
}

static bool read_entry(struct reader *reader, const struct node *node, struct often *often)
{
	static const char *const known[] = {"of",    "when",    "only",       "always",
	                                    "most",  "answers", "protection", "inlets",
	                                    "makes", "fed_by",  "from",       NULL};
	struct weighing weighing = {.reader = reader, .often = often, .node = node};

	node_known_keys(node, "an entry of `often`", known, reader->faults);
	often->span = node->span;
	often->text = node->source;
	if (!read_of(&weighing))
		return false;
	often->when = read_weights_condition(&weighing, &weighing.sight, "when");
	read_stands(&weighing);
	read_answers(&weighing);
	read_protection(&weighing);
	read_makes(&weighing);
	read_fed_by(&weighing);
	read_from(&weighing);
	/* without its condition it would be said of everything */
	return (often->when || !node_get(node, "when")) &&
	       (often->from_count || !node_get(node, "from"));
}

void read_often(struct reader *reader, struct weights *weights)
{
	weights->often = reader_take(reader, (reader->often.count + 1) * sizeof(*weights->often));
	for (size_t i = 0; weights->often && i < reader->often.count; i++) {
		struct often *often = &weights->often[weights->often_count];

		memset(often, 0, sizeof(*often));
		if (!read_entry(reader, reader->often.item[i].node, often))
			continue;
		check_not_twice(reader, weights, often);
		weights->often_count++;
	}
}
