/**
 * @file
 * One line of a learner's log: an answer, with all that another way of reckoning or a trainer's table may want to know of it.
 */
#ifndef TUNDISH_TEACH_REVIEW_H
#define TUNDISH_TEACH_REVIEW_H

#include "tundish/teach/task.h"

#include <stdint.h>

/** Texts are valid UTF-8; NULL where it says so. */
struct review {
	const char *at;        /* UTC, such as 2026-11-25T09:12:03Z */
	const char *learner;
	const char *attempt;   /* the same for all answers of one sitting, and never used again */
	const char *quiz;      /* ref of the quiz file, or NULL */
	const char *survey;    /* what it was called, or NULL: invented from the seed */
	uint64_t seed;
	unsigned level;        /* 0: not invented */
	const char *with;      /* as `--with` takes it; "" none */
	const char *rulebook;  /* digest */
	const char *on;        /* the day of the verdicts, ISO 8601 */
	bool exam;
	unsigned pass_percent; /* 0: none */
	size_t tasks;          /* of the whole attempt */
	const char *item;      /* the task's id */
	const char *family;
	const char *topic;     /* or NULL */
	const char **row;      /* ids of the task's reasons */
	size_t row_count;
	const char *given, *correct; /* ids, or numbers as text */
	enum grade grade;
	uint32_t ms;
	const char *scheduler; /* BOXES_NAME */
};

#endif
