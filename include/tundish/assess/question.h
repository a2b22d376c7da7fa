/**
 * @file
 * A question of the rulebook, the set of values an answer can stand for, and the conditions that test it.
 *
 * Never a guess: an answer is a set of cells. Unanswered is all of them; "cannot tell" is all of them too, but
 * settled. A cell is one option of a choice, one side of a yes/no, or one stretch of a number or a date between two
 * thresholds that some condition of the rulebook tests.
 */
#ifndef TUNDISH_ASSESS_QUESTION_H
#define TUNDISH_ASSESS_QUESTION_H

#include "tundish/base/date.h"
#include "tundish/base/fault.h"

#include <stdbool.h>
#include <stdint.h>

/** What a question is asked of. ORDER SCOPE: scope_names in assess/question.c, and the order of diagrams. */
enum scope {
	SCOPE_PREMISES,   /* once a survey; stored under `premises:` or `supply:` */
	SCOPE_PART,       /* a separately occupied part */
	SCOPE_BRANCH,     /* a pipe that feeds several inlets */
	SCOPE_ROOM,
	SCOPE_POINT,      /* one outlet or appliance */
	SCOPE_INLET,      /* one feed of one point */
	SCOPE_PROTECTION, /* one device or arrangement */
	SCOPE_TEST,       /* one test of a device */
	SCOPE_ACTION,     /* something done before leaving */
	SCOPE_OUTCOME,    /* figures of a verdict: tested only by the urgency table, never stored */
	SCOPE_COUNT,
};

/** What an answer looks like. ORDER FORM: form_names in assess/question.c. */
enum form {
	FORM_CHOICE,
	FORM_YES_NO,
	FORM_NUMBER,
	FORM_DATE,
	FORM_TEXT,     /* never tested */
	FORM_KIND,     /* the id of a kind: only `kind` of a point */
	FORM_TYPE,     /* the id of a type: only `type` of a protection */
	FORM_FEED,     /* `main`, the ref of a branch, or (for a branch) of a point that stores; several: not known which */
	FORM_PART,     /* the ref of a part */
	FORM_MEASURED, /* a named measured test: yes or no, worked out of numbers; never stored */
	FORM_COUNT,
};

/** A set of values of one question: bit i is cell i. */
typedef uint64_t cells;

enum {
	CELLS_MOST = 64,
	CELL_NO = 0, /* of FORM_YES_NO and FORM_MEASURED */
	CELL_YES = 1,
};

/** Index of a question in a rulebook. */
typedef uint16_t question_index;
enum { QUESTION_NONE = UINT16_MAX };

struct option {
	const char *id;    /* as written in a survey */
	const char *label; /* as shown */
};

/** A name that conditions may use for several options of one choice. */
struct group {
	const char *id;
	cells members;
};

/** One side of a measured test: factor times a question's number, or a bare number when question is QUESTION_NONE. */
struct term {
	double factor;
	question_index question;
};

/** `left at least the most of right[0], right[1] ...` */
struct measure {
	struct term left, *right;
	size_t right_count;
};

struct question {
	const char *id;      /* unique among the questions that one kind, type or scope can see */
	const char *label;   /* the question in a surveyor's words */
	const char *hint;    /* how to look or measure; NULL: none */
	const char *at;      /* the key of the map it is stored in, below the item; "" for the item's own map */
	enum scope scope;
	enum form form;
	bool cannot_tell;    /* `cannot_tell` may be answered */
	bool books;          /* only for the books: the last to be gone to, when all else is answered */
	bool share;          /* kept in a copy for training (redact.h); never a text */
	const char *unit;    /* FORM_NUMBER: as number.h knows it, or NULL for a count */
	double least, most;  /* FORM_NUMBER: the range that makes sense, both ends included */
	struct option *option;
	size_t option_count; /* FORM_CHOICE */
	struct group *group;
	size_t group_count;
	struct measure *measure; /* FORM_MEASURED */
	double *cut;             /* FORM_NUMBER, FORM_DATE (days): ascending; cell i is [cut[i-1], cut[i]) */
	size_t cut_count;
	unsigned cell_count;     /* 1 for what cannot be tested */
	const char *source_text; /* where the way of asking or the range comes from; NULL: ours */
	struct span span;
	const struct source *text;
};

const char *scope_name(enum scope scope);
const char *form_name(enum form form);

/** Whether what is written for an answer of that form stands for cells: a choice, yes or no, a number, a date. */
bool form_has_cells(enum form form);

/** All the cells of a question. */
cells question_all(const struct question *question);

/** @return the cell of a number, or of a day; what lies outside the cuts is in the first or last. */
unsigned question_cell(const struct question *question, double value);

/**
 * The cells that hold any of low..high (a number, or days). Never empty: what lies outside the cuts is in the first or
 * last cell.
 */
cells question_stretch(const struct question *question, double low, double high);

/** @return the option's cell index, or -1. */
int question_option(const struct question *question, const char *id, size_t length);

/* -- conditions ---------------------------------------------------------------------------------------------- */

enum condition_form {
	CONDITION_TEST,
	CONDITION_ALL, /* of nothing: true */
	CONDITION_ANY, /* of nothing: false */
	CONDITION_NOT, /* of its one child */
};

/** What a test compares with, before the cuts of all conditions on the question are known. */
enum threshold {
	THRESHOLD_NONE,     /* `cells` is given by options */
	THRESHOLD_AT_LEAST, /* of `bound` */
	THRESHOLD_BELOW,
};

struct condition {
	enum condition_form form;
	question_index question;     /* CONDITION_TEST */
	enum threshold threshold;
	double bound;                /* a number, or days; `within: 5 years` is "at least the day five years before" */
	cells holds;                 /* CONDITION_TEST: in which cells it is true; set when the book is settled */
	struct condition *child, *next;
	struct span span;
};

#endif
