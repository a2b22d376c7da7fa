#include "tundish/assess/subject.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* -- variables -------------------------------------------------------------------------- */

struct gathering {
	const struct rulebook *book;
	question_index variable[VARIABLES_MOST];
	size_t count;
	bool too_many;
};

static void gather(struct gathering *gathering, const struct condition *condition)
{
	if (!condition)
		return;
	for (const struct condition *child = condition->child; child; child = child->next)
		gather(gathering, child);
	if (condition->form != CONDITION_TEST)
		return;
	for (size_t i = 0; i < gathering->count; i++)
		if (gathering->variable[i] == condition->question)
			return;
	if (gathering->count == VARIABLES_MOST)
		gathering->too_many = true;
	else
		gathering->variable[gathering->count++] = condition->question;
}

static bool comes_before(const struct rulebook *book, question_index a, question_index b)
{
	enum scope x = book->question[a].scope, y = book->question[b].scope;

	return x != y ? x < y : a < b;
}

static void sort_variables(struct gathering *gathering)
{
	for (size_t i = 1; i < gathering->count; i++) {
		question_index moving = gathering->variable[i];
		size_t at = i;

		for (; at > 0 && comes_before(gathering->book, moving, gathering->variable[at - 1]);
		     at--)
			gathering->variable[at] = gathering->variable[at - 1];
		gathering->variable[at] = moving;
	}
}

static struct subject *subject_create(struct gathering *gathering, size_t width, size_t row_count,
                                      const char *id, struct err *err)
{
	struct subject *subject;
	unsigned cell_count[VARIABLES_MOST];

	if (gathering->too_many) {
		err_set(err, ERR_TEXT, "the rows of '%s' test more than %d questions", id,
		        VARIABLES_MOST);
		return NULL;
	}
	subject = calloc(1, sizeof *subject);
	if (subject) {
		sort_variables(gathering);
		for (size_t i = 0; i < gathering->count; i++)
			cell_count[i] =
			        gathering->book->question[gathering->variable[i]].cell_count;
		memcpy(subject->variable, gathering->variable, sizeof subject->variable);
		subject->variable_count = gathering->count;
		subject->row_count = row_count;
		subject->row = calloc(row_count + 1, sizeof *subject->row);
		subject->store = diagram_store_create(width, cell_count, gathering->count);
	}
	if (!subject || !subject->row || !subject->store) {
		subject_destroy(subject);
		err_set(err, ERR_MEMORY, "not enough memory");
		return NULL;
	}
	return subject;
}

void subject_destroy(struct subject *subject)
{
	if (!subject)
		return;
	diagram_store_destroy(subject->store);
	free(subject->row);
	free(subject);
}

static struct subject *finished(struct subject *subject, const char *id, struct err *err)
{
	if (subject->root != DIAGRAM_NONE && subject->comes != DIAGRAM_NONE &&
	    subject->alone != DIAGRAM_NONE)
		return subject;
	if (diagram_store_nodes(subject->store) >= DIAGRAM_NODES_MOST)
		err_set(err, ERR_TEXT, "the rows of '%s' are too entangled: more than %d nodes", id,
		        DIAGRAM_NODES_MOST);
	else
		err_set(err, ERR_MEMORY, "not enough memory");
	subject_destroy(subject);
	return NULL;
}

int subject_variable(const struct subject *subject, question_index question)
{
	for (size_t i = 0; i < subject->variable_count; i++)
		if (subject->variable[i] == question)
			return (int)i;
	return -1;
}

diagram subject_condition(struct subject *subject, const struct condition *condition)
{
	diagram whole;

	if (!condition)
		return diagram_truth(true);
	if (condition->form == CONDITION_TEST) {
		int variable = subject_variable(subject, condition->question);

		assert(variable >= 0);
		return diagram_test(subject->store, (unsigned)variable, condition->holds);
	}
	if (condition->form == CONDITION_NOT)
		return diagram_not(subject->store, subject_condition(subject, condition->child));
	whole = diagram_truth(condition->form == CONDITION_ALL);
	for (const struct condition *child = condition->child; child; child = child->next) {
		diagram one = subject_condition(subject, child);

		whole = condition->form == CONDITION_ALL ? diagram_and(subject->store, whole, one)
		                                         : diagram_or(subject->store, whole, one);
	}
	return whole;
}

/* -- kinds ------------------------------------------------------------------------------ */

enum { NEEDS_WIDTH_MOST = FLUIDS_MOST * INLETS_MOST * MECHANISM_COUNT };

static size_t needs_width(const struct kind *kind)
{
	return kind->fluid_count * kind->inlet_count * MECHANISM_COUNT;
}

/** @p flat  not what is needed but where it comes: as of one fluid of the worst category. */
static diagram what_row_needs(struct subject *subject, const struct kind *kind,
                              const struct row *row, bool flat)
{
	uint8_t category = flat && row->category > CATEGORY_LEAST ? CATEGORY_MOST : row->category;
	unsigned fluid = flat ? 0 : (unsigned)row->fluid;
	unsigned char leaf[NEEDS_WIDTH_MOST];

	memset(leaf, CATEGORY_LEAST, sizeof leaf);
	for (unsigned i = 0; row->fluid != ROW_NONE && i < kind->inlet_count; i++)
		for (unsigned m = 0; m < MECHANISM_COUNT; m++)
			if (((row->inlets >> i) & 1) && ((row->by >> m) & 1))
				leaf[subject_needs_at(kind->inlet_count, fluid, i,
				                      (enum mechanism)m)] = category;
	return diagram_leaf(subject->store, leaf);
}

/** Where a row counts: it matches, no row that matches replaces it, and an `otherwise` only where
 * nothing else of its fluid does. */
static diagram where_row_counts(struct subject *subject, const struct kind *kind,
                                const diagram *matches, size_t r, size_t left_out)
{
	struct diagram_store *store = subject->store;
	const struct row *row = &kind->row[r];
	diagram counts = matches[r];

	for (size_t s = 0; s < kind->row_count; s++) {
		const struct row *other = &kind->row[s];

		if (s == left_out || s == r)
			continue;
		if (other->replaces == (int)r ||
		    (row->otherwise && !other->otherwise && other->fluid == row->fluid))
			counts = diagram_and(store, counts, diagram_not(store, matches[s]));
	}
	return counts;
}

static diagram kind_root(const struct kind *kind, struct subject *subject, size_t left_out,
                         diagram *row_counts, bool flat)
{
	struct diagram_store *store = subject->store;
	unsigned char leaf[NEEDS_WIDTH_MOST];
	diagram *matches = calloc(kind->row_count + 1, sizeof *matches);
	diagram nothing, root;

	if (!matches)
		return DIAGRAM_NONE;
	for (size_t r = 0; r < kind->row_count; r++)
		matches[r] = subject_condition(subject, kind->row[r].when);
	memset(leaf, CATEGORY_LEAST, sizeof leaf);
	nothing = diagram_leaf(store, leaf);
	root = nothing;
	for (size_t r = 0; r < kind->row_count; r++) {
		diagram counts;

		if (r == left_out)
			continue;
		counts = where_row_counts(subject, kind, matches, r, left_out);
		if (row_counts)
			row_counts[r] = counts;
		root = diagram_most(
		        store, root,
		        diagram_choose(store, counts,
		                       what_row_needs(subject, kind, &kind->row[r], flat),
		                       nothing));
	}
	free(matches);
	return root;
}

/** As of one fluid of the worst category; where none comes, of one that comes by every inlet and by all that the rows name. */
static diagram where_any_comes(const struct kind *kind, struct subject *subject)
{
	unsigned char leaf[NEEDS_WIDTH_MOST];
	diagram any = diagram_truth(false);
	unsigned by = 0;

	for (size_t r = 0; r < kind->row_count; r++) {
		const struct row *row = &kind->row[r];

		if (row->fluid == ROW_NONE || row->category == CATEGORY_LEAST)
			continue;
		by |= row->by;
		if (row->by && row->inlets)
			any = diagram_or(subject->store, any, subject->row[r]);
	}
	memset(leaf, CATEGORY_LEAST, sizeof leaf);
	for (unsigned i = 0; i < kind->inlet_count; i++)
		for (unsigned m = 0; m < MECHANISM_COUNT; m++)
			if (!by || ((by >> m) & 1))
				leaf[subject_needs_at(kind->inlet_count, 0, i, (enum mechanism)m)] =
				        CATEGORY_MOST;
	return diagram_choose(subject->store, any, kind_root(kind, subject, SIZE_MAX, NULL, true),
	                      diagram_leaf(subject->store, leaf));
}

struct subject *subject_of_kind(const struct rulebook *book, const struct kind *kind,
                                struct err *err)
{
	struct gathering gathering = {.book = book};
	struct subject *subject;

	for (size_t r = 0; r < kind->row_count; r++)
		gather(&gathering, kind->row[r].when);
	subject = subject_create(&gathering, needs_width(kind), kind->row_count, kind->id, err);
	if (!subject)
		return NULL;
	subject->root = kind_root(kind, subject, SIZE_MAX, subject->row, false);
	subject->comes = where_any_comes(kind, subject);
	return finished(subject, kind->id, err);
}

/* -- types ------------------------------------------------------------------------------ */

static diagram what_type_is_worth(struct subject *subject, const struct type *type)
{
	unsigned char leaf[WORTH_WIDTH];

	for (size_t m = 0; m < MECHANISM_COUNT; m++) {
		leaf[WORTH_GOOD_FOR + m] = type->good_for[m];
		leaf[WORTH_ACCEPTED + m] = type->good_for[m];
		leaf[WORTH_FOUND + m] = type->good_for[m];
		leaf[WORTH_PROVEN + m] = type->good_for[m];
	}
	leaf[WORTH_NO_SERIES] = SERIES_NONE;
	return diagram_leaf(subject->store, leaf);
}

static unsigned char lesser(unsigned char a, unsigned char b)
{
	return a < b ? a : b;
}

static diagram what_row_leaves(struct subject *subject, const struct row *row)
{
	unsigned char leaf[WORTH_WIDTH];

	for (size_t m = 0; m < MECHANISM_COUNT; m++) {
		unsigned char found = lesser(row->good_for[m], row->found[m]);

		leaf[WORTH_GOOD_FOR + m] = row->good_for[m];
		leaf[WORTH_ACCEPTED + m] = lesser(row->good_for[m], row->accepted[m]);
		leaf[WORTH_FOUND + m] = found;
		leaf[WORTH_PROVEN + m] = row->unproven ? CATEGORY_LEAST : found;
	}
	leaf[WORTH_NO_SERIES] = SERIES_NONE;
	return diagram_leaf(subject->store, leaf);
}

static diagram all_left(struct subject *subject)
{
	unsigned char leaf[WORTH_WIDTH];

	memset(leaf, CATEGORY_MOST, WORTH_FIGURES);
	leaf[WORTH_NO_SERIES] = SERIES_NONE;
	return diagram_leaf(subject->store, leaf);
}

static diagram with_series(const struct type *type, struct subject *subject, diagram root)
{
	for (size_t s = 0; s < type->series_count; s++) {
		unsigned char leaf[WORTH_WIDTH];
		diagram holds = subject_condition(subject, type->series[s].row.when);

		memset(leaf, CATEGORY_MOST, WORTH_FIGURES);
		leaf[WORTH_NO_SERIES] = (unsigned char)(SERIES_NONE - 1 - s);
		root = diagram_least(subject->store, root,
		                     diagram_choose(subject->store, holds,
		                                    diagram_leaf(subject->store, leaf),
		                                    all_left(subject)));
		subject->row[type->row_count + s] = holds;
	}
	return root;
}

static diagram type_root(const struct type *type, struct subject *subject, size_t left_out)
{
	struct diagram_store *store = subject->store;
	diagram root = what_type_is_worth(subject, type);

	for (size_t r = 0; r < type->row_count; r++) {
		diagram matches;

		if (r == left_out)
			continue;
		matches = subject_condition(subject, type->row[r].when);
		subject->row[r] = matches;
		root = diagram_least(store, root,
		                     diagram_choose(store, matches,
		                                    what_row_leaves(subject, &type->row[r]),
		                                    all_left(subject)));
	}
	return root;
}

struct subject *subject_of_type(const struct rulebook *book, const struct type *type,
                                struct err *err)
{
	struct gathering gathering = {.book = book};
	struct subject *subject;

	for (size_t r = 0; r < type->row_count; r++)
		gather(&gathering, type->row[r].when);
	for (size_t s = 0; s < type->series_count; s++)
		gather(&gathering, type->series[s].row.when);
	subject = subject_create(&gathering, WORTH_WIDTH, type->row_count + type->series_count,
	                         type->id, err);
	if (!subject)
		return NULL;
	subject->alone = type_root(type, subject, SIZE_MAX);
	subject->root = with_series(type, subject, subject->alone);
	return finished(subject, type->id, err);
}

diagram subject_without_kind_row(const struct kind *kind, struct subject *subject, size_t row)
{
	return kind_root(kind, subject, row, NULL, false);
}

diagram subject_without_type_row(const struct type *type, struct subject *subject, size_t row)
{
	return with_series(type, subject, type_root(type, subject, row));
}

/* -- the urgency table ------------------------------------------------------------------ */

/** The table from the bottom up: each row in turn takes what it matches from those below it. */
static diagram urgency_chain(const struct rulebook *book, struct subject *subject)
{
	unsigned char leaf = URGENCY_NONE;
	diagram root = diagram_leaf(subject->store, &leaf);

	for (size_t u = book->urgency_count; u-- > 0;) {
		const struct urgency_row *row = &book->urgency[u];

		if (row->raises)
			continue;
		leaf = (unsigned char)row->row.urgency;
		root = diagram_choose(subject->store, subject->row[u],
		                      diagram_leaf(subject->store, &leaf), root);
	}
	return root;
}

struct subject *subject_of_urgency(const struct rulebook *book, struct err *err)
{
	struct gathering gathering = {.book = book};
	struct subject *subject;

	for (size_t u = 0; u < book->urgency_count; u++)
		gather(&gathering, book->urgency[u].row.when);
	subject = subject_create(&gathering, 1, book->urgency_count, "urgency", err);
	if (!subject)
		return NULL;
	for (size_t u = 0; u < book->urgency_count; u++)
		subject->row[u] = subject_condition(subject, book->urgency[u].row.when);
	subject->root = urgency_chain(book, subject);
	return finished(subject, "urgency", err);
}
