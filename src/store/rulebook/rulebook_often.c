/* How often things are met: of what, where it stands, and what else is said of it. */
#include "rulebook_often.h"

#include <string.h>

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
		if (!thing_is(&weighing->reader->types.item[t], of))
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

bool weighs_kind(const struct weighing *weighing)
{
	return weighing->often->scope == SCOPE_POINT && weighing->often->of != INDEX_NONE;
}

/** The text that says what the entry's questions and inlets are; NULL: the sheet. */
static const struct source *text_of(const struct weighing *weighing)
{
	const struct rulebook *book = weighing->reader->book;

	if (weighing->often->of == INDEX_NONE)
		return NULL;
	return weighs_kind(weighing) ? book->kind[weighing->often->of].text
	                             : book->type[weighing->often->of].text;
}

bool weighs_outdated(const struct weighing *weighing)
{
	const struct source *text = text_of(weighing);

	return text && read_since(weighing->reader, text, weighing->node);
}

/* A question of the sheet may have been written anew by any text that came since. */
static bool may_be_outdated(const struct weighing *weighing)
{
	const struct reader *reader = weighing->reader;
	const struct source *last = reader->texts[reader->text_count - 1];

	return weighs_outdated(weighing) ||
	       (is_builtin(weighing->node->source) && read_since(reader, last, weighing->node));
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
	if (may_be_outdated(weighing))
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

/* -- where it stands ------------------------------------------------------------------------- */

static void read_stands(struct weighing *weighing)
{
	static const char *const keys[] = {"only", "always", "most"};
	const struct sight place = {OWNER_PLACE, "the premises", NULL, 0};
	const struct node *most = node_get(weighing->node, "most");
	struct often *often = weighing->often;

	for (size_t i = 0; !weighs_kind(weighing) && i < LENGTH_OF(keys); i++)
		if (node_get(weighing->node, keys[i]))
			node_fault(node_get(weighing->node, keys[i]), weighing->reader->faults,
			           "`%s` is of a kind", keys[i]);
	if (!weighs_kind(weighing))
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
		    again->when || first->from || again->from || first->on || again->on ||
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
	static const char *const known[] = {"of",      "when",       "only",   "always", "most",
	                                    "answers", "protection", "inlets", "makes",  "fed_by",
	                                    "from",    "on",         NULL};
	struct weighing weighing = {.reader = reader, .often = often, .node = node};

	node_known_keys(node, "an entry of `often`", known, reader->faults);
	often->span = node->span;
	often->text = node->source;
	if (!read_of(&weighing))
		return false;
	often->when = read_weights_condition(&weighing, &weighing.sight, "when");
	read_stands(&weighing);
	weigh_answers(&weighing);
	weigh_protection(&weighing);
	weigh_makes(&weighing);
	weigh_fed_by(&weighing);
	weigh_from(&weighing);
	weigh_on(&weighing);
	/* without its condition it would be said of everything */
	return (often->when || !node_get(node, "when")) &&
	       (often->from_count || !node_get(node, "from")) &&
	       (often->on_count || !node_get(node, "on"));
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
