/* Private to src/teach: making tasks. A task is begun, filled, and kept only if it is whole. */
#ifndef TUNDISH_TEACH_MAKE_H
#define TUNDISH_TEACH_MAKE_H

#include "tundish/assess/subject.h"
#include "tundish/house/verdict.h"
#include "tundish/teach/quiz.h"

enum {
	CHOICES_MOST = 8, /* of one task that the survey gives */
	REASONS_MOST = 8,
};

/** A copy of the survey to try things on. Zeroed, it is one that was not begun. */
struct trial {
	struct survey survey;
	struct judge *judge;
	bool clean; /* says what the survey says: who changes more than an answer, or does not put it back, unsets it */
};

/** How a type is fitted new and well: the answers to its own questions that leave most of it. */
struct fitting {
	bool tried, made; /* the second: it could be worked out */
	struct fitted {
		question_index question; /* of a protection or a test */
		const char *text;
	} * answer;
	size_t answer_count;
	bool accepted; /* on paper against something, or good for nothing at all: somebody would put it in */
};

struct making {
	const struct survey *survey;
	const struct rulebook *book;
	struct arena *arena; /* the quiz's: its `failed` says that there was no memory */
	bool no_memory;      /* for what does not live in the arena */
	unsigned families;   /* 1 << enum family */
	uint64_t seed;
	struct judge *
	        judge; /* of the survey itself: what it said of a point holds while its tasks are made */
	struct trial trial;
	struct fitting *fitting; /* of each type of the book */
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
/** Whether what was last kept, of tasks of no point, has one of that id: chance may draw the same again. */
bool making_has(const struct making *making, const char *id);
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

/* -- values.c: a value for a cell -------------------------------------------------------- */

/** Whole numbers, or days, both ends included. */
struct stretch {
	long low, high;
};

/** @return false where no whole number, or no day up to the day of the book, is in that cell. */
bool cell_stretch(const struct rulebook *book, const struct question *question, unsigned cell,
                  struct stretch *out);
/** As a survey says it; @p value counts for numbers and dates alone. NULL: no memory, or a form that has no such text. */
const char *drawn_text(struct arena *arena, const struct question *question, unsigned cell,
                       long value);
/** The question and what was said, as people read it: the option's label, the number with its unit. */
const char *said_line(struct arena *arena, const struct question *question, const char *text);
/** Put an answer in. @return false where it is none, or there is no memory. */
bool value_put(struct survey *survey, struct item *item, question_index question, const char *text);

/* -- bench.c: one type by itself, on the bench ------------------------------------------- */

struct bench {
	const struct rulebook *book;
	const struct type *type;
	struct subject *subject; /* NULL: too entangled, or no memory */
	cells may[VARIABLES_MOST];
};

/** What the type could be worth at most, all that is still possible counted. */
struct bench_sight {
	unsigned char figure[WORTH_FIGURES];
	unsigned score; /* the sum of its figures */
	uint64_t live;  /* bit v: variable v can still move a figure */
};

/** @return false where it can't be; then @p making knows if that was for want of memory. */
bool bench_begin(struct bench *bench, struct making *making, const struct type *type);
void bench_end(struct bench *bench);
bool bench_look(struct bench *bench, struct bench_sight *out);
/** Of a variable, the cell that leaves most: of equals, the one that leaves most to the questions of @p then; then the first. */
bool bench_best_cell(struct bench *bench, size_t variable, enum scope then, unsigned *cell);
/** Whether a row of the type counts for certain. */
bool bench_row_holds(const struct bench *bench, size_t row);

/* -- fitting.c -------------------------------------------------------------------------- */

/** Worked out once for each type. NULL: it can't be, or there is no memory. */
const struct fitting *fitting_of(struct making *making, const struct type *type);
/** Put its answers on a protection, and on a test of it. @return false when there is no memory. */
bool fitting_put(const struct fitting *fitting, struct survey *survey, struct item *protection,
                 struct item *test);

/* -- trial.c ---------------------------------------------------------------------------- */

/** Make the trial say what the quiz's survey says. @return false when there is no memory. */
bool trial_clean(struct making *making);
/** After a change of more than answers. @return false when it can't be judged, or there is no memory. */
bool trial_take_up(struct making *making);
/** Judge a point of it. @return false where it can't be, or there is no memory. */
bool trial_judge(struct making *making, const struct item *point, struct assessment *out);
void trial_end(struct trial *trial);

/* -- the families ----------------------------------------------------------------------- */

void make_of_fluids(struct making *making, const struct assessment *of); /* category, mechanism */
void make_of_figures(struct making *making,
                     const struct assessment *of); /* on_paper, in_fact, urgency */
void make_remedy(struct making *making, const struct assessment *of);
void make_spoiled(struct making *making, const struct assessment *of);
void make_of_type(struct making *making, const struct type *type); /* type, gap, test */
void make_type(struct making *making, const struct type *type);
void make_gaps(struct making *making, const struct type *type);
void make_tests(struct making *making, const struct type *type);

#endif
