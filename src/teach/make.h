/* Private to src/teach: making tasks. A task is begun, filled, and kept only if it is whole. */
#ifndef TUNDISH_TEACH_MAKE_H
#define TUNDISH_TEACH_MAKE_H

#include "tundish/house/verdict.h"
#include "tundish/teach/quiz.h"

enum {
	CHOICES_MOST = 8, /* of one task that the survey gives */
	REASONS_MOST = 8,
};

struct making {
	const struct survey *survey;
	const struct rulebook *book;
	struct arena *arena; /* the quiz's: its `failed` says that there was no memory */
	unsigned families;   /* 1 << enum family */
	uint64_t seed;
	struct judge *
	        judge; /* of the survey itself: what it said of a point holds while its tasks are made */
	struct task *task;
	size_t count, room;
	struct task_choice choice[CHOICES_MOST]; /* of the task that is being made */
	size_t choice_count;
	struct reason reason[REASONS_MOST];
	size_t reason_count;
};

#define CANNOT_SAY "cannot_say" /* the id of `cannot be said yet` */

/* -- make.c ----------------------------------------------------------------------------- */

bool making_wants(const struct making *making, enum family family);

/** Begin a task; its choices and reasons are collected in @p making. Texts must be static, the book's, or in the arena. */
struct task making_begin(struct making *making, enum family family, const struct item *point);
void making_choice(struct making *making, const char *id, const char *text, enum grade grade);
/** Keep it, if there is one right answer and a reason. */
void making_keep(struct making *making, struct task *task);

/* -- reasons.c -------------------------------------------------------------------------- */

/** Each once; what comes after REASONS_MOST is left out. */
void making_reason(struct making *making, const struct row *row);
void making_reason_table(struct making *making, const struct type *type);

/** The rows about one fluid of the point's kind, those that are certain first. @p only_coming: not why it does not come. */
void reasons_of_fluid(struct making *making, const struct assessment *of, unsigned fluid,
                      bool only_coming);

/** What a shortfall is made of: what is needed on the way that counts, what stands there, what lowers it. */
void reasons_of_shortfall(struct making *making, const struct assessment *of, bool on_paper);
void reasons_of_urgency(struct making *making, const struct assessment *of);

/* -- the families ----------------------------------------------------------------------- */

void make_of_fluids(struct making *making, const struct assessment *of); /* category, mechanism */
void make_of_figures(struct making *making,
                     const struct assessment *of); /* on_paper, in_fact, urgency */

#endif
