/**
 * @file
 * An amendment: what was changed in a survey after it was signed off, and who answers for it. store/amendments.h reads and
 * writes them.
 */
#ifndef TUNDISH_ASSESS_AMENDMENT_H
#define TUNDISH_ASSESS_AMENDMENT_H

#include "tundish/assess/survey.h"

/** Who answers for a change. All are texts of valid UTF-8, none empty. */
struct amender {
	const char *who, *why;
	const char *at; /* UTC, such as 2026-11-25T09:12:03Z */
};

struct amendment {
	const char *at, *who, *why;
	struct change *change;
	size_t change_count;
	bool adopted;     /* it took over what was changed outside */
	const char *head; /* 64 hexadecimal digits */
	struct span span;
};

#endif
