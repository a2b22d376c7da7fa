/* Private to src/house: one subject of the rulebook read against what a survey says: its diagram narrowed to the answers. */
#ifndef TUNDISH_HOUSE_READING_H
#define TUNDISH_HOUSE_READING_H

#include "tundish/assess/subject.h"
#include "tundish/assess/survey.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Whom the questions of each scope are asked of; NULL: nobody here. */
struct sight {
	const struct item *of[SCOPE_COUNT];
};

/* What is known of one variable. */
enum known {
	KNOWN_ANSWERED, /* one cell, or a set that is all the same */
	KNOWN_SETTLED,  /* more than one cell, and nobody is asked again */
	KNOWN_OPEN,     /* more than one cell, and worth asking */
};

struct reading {
	struct subject *subject; /* NULL: a set of leaves that needs no rules, given by the caller */
	struct sight sight;
	cells may[VARIABLES_MOST];
	uint8_t known[VARIABLES_MOST];
	diagram root;   /* which of the subject's counts */
	uint64_t live;
	diagram *leaf;
	size_t leaf_count, leaf_room; /* `leaf` is malloc'ed and kept for the next use */
};

/* The cells that a question can have, given the answers of @p item (NULL: nobody answers). */
cells reading_cells(const struct rulebook *book, question_index question, const struct sight *sight, enum known *known);

/* Look up every variable. */
void reading_look(const struct rulebook *book, struct reading *reading);

/* Narrow to `may`: fills `live` and the leaves. False when there is no memory. */
bool reading_narrow(struct reading *reading);

/* Whether a truth of the subject (a row's) holds under `may`. */
enum holds reading_holds(const struct reading *reading, diagram truth);

/* The variables that can still decide it. */
uint64_t reading_decides(const struct reading *reading, diagram truth);

/* A yes/no (QUESTION_NONE: none) that structure says is yes, or might be, whatever was answered. After reading_look. */
void reading_force(struct reading *reading, question_index question, enum holds yes);

void reading_finish(struct reading *reading);

#endif
