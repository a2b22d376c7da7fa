/**
 * @file
 * A quiz as it was asked for: out of a trainer's file, a survey, or a house invented for it. What the options say goes before what the
 * file says.
 */
#ifndef TUNDISH_COMMANDS_QUIZ_SET_H
#define TUNDISH_COMMANDS_QUIZ_SET_H

#include "quiz_load.h"

enum {
	DRILL_TASKS = 12,        /* of a quiz without a file, unless --count says */
	DRILL_ROOMS = 3,         /* ... and of the house that is invented for it */
	DRILL_POINTS = 6,
	SEED_DRAWN_MOST = 999999999, /* so that it can be read out and typed */
};

struct quiz_set {
	struct run *run;
	const char *file;      /* as it was named; NULL: none */
	struct arena arena;    /* texts, and the quiz */
	struct source text;    /* of the file */
	bool of_trainer;       /* the file is a quiz file: `load` holds it */
	struct quiz_load load;
	struct survey survey;  /* the file itself, or invented */
	struct survey *house;  /* the one that it is about */
	const char *survey_name; /* NULL: invented, or there is none */
	unsigned level;        /* of an invented house; 0: it is none */
	const char *with;      /* as --with takes it */
	struct quiz_plan plan;
	struct quiz quiz;
	bool exam;
	unsigned pass_percent, minutes; /* 0: none */
};

/** Read the file, and the rulebook for its day. @return false: said why, status raised. */
bool quiz_set_read(struct quiz_set *set, struct run *run, const char *file);

/**
 * The house, and the quiz about it.
 * @p due   what to ask first where nothing else says so; may be NULL.
 * @return  false: said why, status raised.
 */
bool quiz_set_make(struct quiz_set *set, const char *const *due, size_t due_count);

/** What it is called: the title, the file, or what was invented. */
const char *quiz_set_title(const struct quiz_set *set);

/** The command that makes the same quiz again; @p of is "quiz" or "quiz paper". NULL: no memory. */
const char *quiz_set_again(struct quiz_set *set, const char *of);

/** Accepts a zeroed one. */
void quiz_set_finish(struct quiz_set *set);

#endif
