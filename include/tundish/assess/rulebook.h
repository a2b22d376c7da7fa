/**
 * @file
 * The rulebook as structs: what the trade knows, read from text (store/rulebook_read.h) for one day, then never
 * changed. A verdict is repeatable with the rulebook's digest and that day.
 */
#ifndef TUNDISH_ASSESS_RULEBOOK_H
#define TUNDISH_ASSESS_RULEBOOK_H

#include "tundish/assess/question.h"
#include "tundish/base/arena.h"
#include "tundish/base/fault.h"

#include <stdbool.h>
#include <stdint.h>

/** How a fluid could come back. Flags: both can apply. ORDER MECHANISM: mechanism_names in assess/rulebook.c. */
enum mechanism {
	BACK_PRESSURE,
	BACK_SIPHONAGE,
	MECHANISM_COUNT,
};

/** ORDER STANDING: standing_names, standing_in_words in assess/rulebook.c. */
enum standing {
	STANDING_PUBLISHED,
	STANDING_COMMON_PRACTICE, /* the trade's; no publication */
	STANDING_MEMORY,          /* the author's recollection of a publication: to be checked against it */
	STANDING_COUNT,
};

/** How soon. ORDER URGENCY: urgency_names, urgency_in_words in assess/rulebook.c; rising. */
enum urgency {
	URGENCY_NONE,
	URGENCY_WATCH,
	URGENCY_NEXT_JOB,
	URGENCY_DAYS,
	URGENCY_NOW,
	URGENCY_COUNT,
};

enum {
	CATEGORY_LEAST = 1, /* wholesome; also the worth of nothing */
	CATEGORY_MOST = 5,
	FLUIDS_MOST = 8,    /* of one kind */
	INLETS_MOST = 4,    /* of one kind */
	ROW_NONE = -1,
};

/** What every row carries, whatever it decides. */
struct row {
	const char *id;               /* never renamed */
	const char **was;             /* earlier ids */
	size_t was_count;
	const char *says;             /* `because:` in a surveyor's words */
	const char *source_text;      /* document, edition, clause or table; for common practice "no source" */
	enum standing standing;
	struct condition *when;        /* NULL: always */
	struct span span;
	const struct source *text;

	/* a row of a kind gives a fluid, or a circumstance, or both */
	int fluid;                    /* index into the kind's fluids, or ROW_NONE */
	uint8_t category;             /* 1 to 5; 1 means that it does not come back here */
	uint8_t by;                   /* 1 << enum mechanism */
	uint8_t inlets;               /* 1 << index of the kind's inlets */
	bool otherwise;               /* counts where no other row of its fluid does */
	const char *replaces_id;      /* NULL: none */
	int replaces;                 /* index of the row it replaces in the same kind, or ROW_NONE */
	bool opens;                   /* the path is open as it stands, or there are signs that it has happened */
	enum urgency urgency;         /* at least this urgent, whatever the figures say */

	/* a row of a type caps its figures: CATEGORY_MOST caps nothing */
	uint8_t good_for[MECHANISM_COUNT], accepted[MECHANISM_COUNT], found[MECHANISM_COUNT];
	bool unproven;                /* nobody can say that it still works */
	bool due;                     /* change, service or test is due; takes nothing away */
};

struct fluid {
	const char *id, *name;
	struct span span;
};

struct kind_inlet {
	const char *id, *name; /* cold, hot, waste, spray */
	bool waste;            /* a waste-side connection: its path leads to the drain, not from a supply */
};

/** A kind of outlet or appliance. */
struct kind {
	const char *id, *name;
	const char **was;     /* earlier ids: a survey may still use them */
	size_t was_count;
	const char **also;    /* other words that people look for it by */
	size_t also_count;
	const char *where;    /* where it is met; hint for choosing it */
	bool draw_off;        /* people drink, cook or wash from it */
	bool stores;          /* a branch may start here: a cistern, a heater, a softener */
	struct kind_inlet inlet[INLETS_MOST];
	size_t inlet_count;
	uint16_t *usual;      /* indexes of the types usually met on its inlets; nothing but an order of choosing */
	size_t usual_count;
	struct fluid fluid[FLUIDS_MOST];
	size_t fluid_count;
	question_index *question; /* in the order of asking */
	size_t question_count;
	struct row *row;
	size_t row_count;
	struct span span;
	const struct source *text;
};

/** Two of these, one straight after the other, count as another type. */
struct series {
	struct row row;       /* its condition is about the second of the two */
	uint16_t with;        /* index of the type that must stand straight before */
	uint16_t counts_as;
	const char *with_id, *counts_as_id;
};

/** A type of protection: an arrangement or a device. */
struct type {
	const char *id, *name;
	const char **was;                /* earlier ids: a survey may still use them */
	size_t was_count;
	const char **also;               /* other words that people look for it by */
	size_t also_count;
	bool device;                     /* mechanical; else an arrangement */
	bool shuts;                      /* can be shut: voids what must discharge freely just upstream */
	uint8_t good_for[MECHANISM_COUNT]; /* the published table; CATEGORY_LEAST: not acceptable for any */
	const char *source_text;
	enum standing standing;
	const char *tell;                /* how to tell it by eye */
	const char *limits;              /* limits of use in words */
	question_index shuts_downstream; /* a yes/no of its own that is `yes` where a type that `shuts` stands just
	                                    downstream on the same inlet; QUESTION_NONE: it does not care */
	question_index *question;
	size_t question_count;
	struct row *row;
	size_t row_count;
	struct series *series;
	size_t series_count;
	struct span span;
	const struct source *text;
};

/** The urgency table: top down, the first that holds; then `raise` rows lift it by one, once. */
struct urgency_row {
	struct row row;
	bool raises; /* one up, never above URGENCY_NOW; only from URGENCY_WATCH on */
};

enum { INDEX_NONE = UINT16_MAX };

/** Questions that code itself looks at; QUESTION_NONE where a book lacks one. ORDER KNOWN: known_ids in assess/rulebook.c. */
struct known_questions {
	question_index part_name, part_use, part_seen;
	question_index branch_name, branch_from;
	question_index room_name, room_part, room_seen;
	question_index point_kind, point_name, point_seen, point_installed, point_count;
	question_index says_category, says_reference, says_date;
	question_index inlet_fed_by;
	question_index protection_type, protection_fitted;
	question_index test_date;
	question_index outcome_needs, outcome_on_paper, outcome_in_fact, outcome_open, outcome_unproven, outcome_due,
		outcome_verdict;
};

struct weights;    /* how often things are met; assess/weights.h */
struct word_table; /* text -> what a survey may say; assess/rulebook.c */

struct rulebook {
	struct arena arena;       /* owns everything below */
	day on;                   /* ages are cut against this day */
	char digest[17];          /* of all its texts, in order: first 64 bits of their SHA-256, hexadecimal */
	struct question *question;
	size_t question_count;
	struct kind *kind;
	size_t kind_count;
	struct type *type;
	size_t type_count;
	struct urgency_row *urgency;
	size_t urgency_count;
	struct known_questions known;
	question_index *scope_question[SCOPE_COUNT]; /* asked of every item of a scope, in order */
	size_t scope_question_count[SCOPE_COUNT];
	struct weights *weights; /* never NULL in a book that can be used; all empty where nothing was said */
	struct word_table *words;
};

const char *mechanism_name(enum mechanism mechanism); /* "back_pressure" */
const char *mechanism_words(enum mechanism mechanism); /* "back pressure" */
const char *standing_name(enum standing standing);    /* "published", "common practice", "memory" */
const char *standing_words(enum standing standing);   /* the same for people, but "MEMORY, to be checked": seen at a glance */
const char *urgency_name(enum urgency urgency);       /* "next_job" */
const char *urgency_words(enum urgency urgency);      /* "next job": the name as people read it, everywhere the same */

/** Whether a row has that id, or had it once. */
bool row_is_called(const struct row *row, const char *id);

/** @return index, or INDEX_NONE. */
uint16_t rulebook_kind(const struct rulebook *book, const char *id, size_t length);
uint16_t rulebook_type(const struct rulebook *book, const char *id, size_t length);

/**
 * The question that key @p id names below an item of @p scope in the map @p at ("" is the item's own).
 *
 * @p owner  for SCOPE_POINT the kind's, for SCOPE_PROTECTION and SCOPE_TEST the type's index (INDEX_NONE: not known;
 *           then only what every item of the scope is asked).
 * @return   its index, or QUESTION_NONE.
 */
question_index rulebook_question(const struct rulebook *book, enum scope scope, uint16_t owner, const char *at,
                                 const char *id, size_t length);

/**
 * Make a book that has all its texts ready: resolve what conditions name, cut numbers and dates at the thresholds,
 * expand `otherwise: ask`, check what can be checked without diagrams. Adds to @p faults.
 *
 * @return false when there is a fault: the book must not be used.
 */
bool rulebook_settle(struct rulebook *book, struct faults *faults);

/**
 * The slow checks, for `faults` and for tests: rows that can never match or never decide, and what is too entangled
 * (more than 65,536 nodes). @return false when there is a fault.
 */
bool rulebook_check(const struct rulebook *book, struct faults *faults);

/** Free everything. Accepts a zeroed book. */
void rulebook_finish(struct rulebook *book);

#endif
