/* The slow checks of a rulebook: what only its diagrams can tell. */
#include "tundish/assess/subject.h"

#include <string.h>

struct checking {
	const struct rulebook *book;
	struct faults *faults;
};

static void say(const struct checking *checking, const struct row *row, const char *what)
{
	fault_add(checking->faults, SEVERITY_FAULT, row->text, row->span, "row '%s' %s", row->id,
	          what);
}

/** The cells that answers can have: a number stays in its range. */
static void possible(const struct rulebook *book, const struct subject *subject, cells *may)
{
	for (size_t v = 0; v < subject->variable_count; v++)
		may[v] = question_all(&book->question[subject->variable[v]]);
}

static bool can_match(struct subject *subject, diagram truth, const cells *may)
{
	diagram leaf[2];
	struct narrowed narrowed = {.leaf = leaf, .leaf_room = 2};

	if (!diagram_narrow(subject->store, truth, may, &narrowed))
		return true;
	return narrowed.leaf_count == 2 || leaf[0] == diagram_truth(true);
}

/** A circumstance, a date that has come, or in words that a fluid does not come back: it moves no
 * figure and need not. */
static bool says_by_itself(const struct row *row)
{
	return row->opens || row->due || row->urgency > URGENCY_NONE ||
	       (row->fluid != ROW_NONE && row->category == CATEGORY_LEAST);
}

static void check_kind(const struct checking *checking, const struct kind *kind)
{
	struct err err = {0};
	struct subject *subject = subject_of_kind(checking->book, kind, &err);
	cells may[VARIABLES_MOST];

	if (!subject) {
		fault_add(checking->faults, SEVERITY_FAULT, kind->text, kind->span, "%s",
		          err.message);
		return;
	}
	possible(checking->book, subject, may);
	for (size_t r = 0; r < kind->row_count; r++) {
		const struct row *row = &kind->row[r];

		if (!can_match(subject, subject->row[r], may))
			say(checking, row,
			    "can never count: nothing fulfils its conditions, or others always "
			    "come first");
		else if (says_by_itself(row))
			continue;
		else if (subject_without_kind_row(kind, subject, r) == subject->root)
			say(checking, row, "never decides: without it every figure is the same");
	}
	subject_destroy(subject);
}

static void check_type(const struct checking *checking, const struct type *type)
{
	struct err err = {0};
	struct subject *subject = subject_of_type(checking->book, type, &err);
	cells may[VARIABLES_MOST];

	if (!subject) {
		fault_add(checking->faults, SEVERITY_FAULT, type->text, type->span, "%s",
		          err.message);
		return;
	}
	possible(checking->book, subject, may);
	for (size_t r = 0; r < type->row_count; r++) {
		if (!can_match(subject, subject->row[r], may))
			say(checking, &type->row[r],
			    "can never match: nothing fulfils its conditions");
		else if (!says_by_itself(&type->row[r]) &&
		         subject_without_type_row(type, subject, r) == subject->root)
			say(checking, &type->row[r],
			    "never decides: without it every figure is the same");
	}
	for (size_t s = 0; s < type->series_count; s++)
		if (!can_match(subject, subject->row[type->row_count + s], may))
			say(checking, &type->series[s].row,
			    "can never match: nothing fulfils its conditions");
	subject_destroy(subject);
}

/** A row of the table decides where it matches and no earlier one does. */
static void check_urgency(const struct checking *checking)
{
	struct err err = {0};
	struct subject *subject = subject_of_urgency(checking->book, &err);
	diagram taken = diagram_truth(false);
	cells may[VARIABLES_MOST];

	if (!subject) {
		fault_add(checking->faults, SEVERITY_FAULT, NULL, (struct span){0, 0}, "%s",
		          err.message);
		return;
	}
	possible(checking->book, subject, may);
	for (size_t u = 0; u < checking->book->urgency_count; u++) {
		const struct urgency_row *row = &checking->book->urgency[u];
		diagram left = subject->row[u];

		if (!row->raises) {
			left = diagram_and(subject->store, left,
			                   diagram_not(subject->store, taken));
			taken = diagram_or(subject->store, taken, subject->row[u]);
		}
		if (!can_match(subject, left, may))
			say(checking, &row->row,
			    "never decides: earlier rows of the table take all that it matches");
	}
	subject_destroy(subject);
}

bool rulebook_check(const struct rulebook *book, struct faults *faults)
{
	struct checking checking = {book, faults};
	size_t before = faults->fatal;

	for (size_t k = 0; k < book->kind_count; k++)
		check_kind(&checking, &book->kind[k]);
	for (size_t t = 0; t < book->type_count; t++)
		check_type(&checking, &book->type[t]);
	if (book->urgency_count > 0)
		check_urgency(&checking);
	return faults->fatal == before;
}
