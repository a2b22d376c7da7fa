/*
 * A quiz in the walk, over a house of every verdict, with tasks made by hand: what is asked and what is right is written here, not
 * worked out, so that nothing in it tells a verdict.
 */
#ifndef TUNDISH_TESTS_QUIZ_DRIVE_H
#define TUNDISH_TESTS_QUIZ_DRIVE_H

#include "walk_drive.h"

#include "tundish/store/survey_read.h"
#include "tundish/walk/host.h"

enum { QUIZ_TASKS = 7, HEARD_MOST = 4096 };

struct quizzed {
	struct drive drive;
	struct arena arena;
	struct quiz quiz;
	struct attempt attempt;
	struct task task[QUIZ_TASKS];
	struct walk_host host;
	char heard[HEARD_MOST]; /* what the host was told, in order */
};

static struct source quiz_house;

static void quiz_load(void)
{
	static char text[1 << 14];

	drive_load();
	quiz_house = text_of(TUNDISH_TESTS "/rulebook/quiz_house.yaml", text, sizeof(text));
}

static void quiz_survey(struct survey *survey, const struct rulebook *book)
{
	struct arena arena = {0};
	struct faults faults;

	faults_init(&faults, &arena);
	ck_assert_msg(survey_read(survey, book, &quiz_house, &faults), "the house of the quiz: %s",
	              faults.count > 0 ? faults.item[0].message : "?");
	ck_assert_msg(faults.count == 0, "the house of the quiz: %s",
	              faults.count > 0 ? faults.item[0].message : "?");
	arena_finish(&arena);
}

/* Four tasks about the mixer, one about a tap, two about nothing in the house. No choice is a word of a verdict. */
static void quiz_tasks_of(struct quizzed *q)
{
	static struct task_choice amounts[] = {
	        {"enough", "As good as it has to be",    GRADE_DANGEROUS, false},
	        {"less",   "Two categories too little",  GRADE_DANGEROUS, false},
	        {"least",  "Four categories too little", GRADE_RIGHT,     false},
	        {"open",   "It can't be said yet",       GRADE_WRONG,     false},
	};
	static struct task_choice fluids[] = {
	        {"2", "It comes back, and is of category 2", GRADE_DANGEROUS, false},
	        {"4", "It comes back, and is of category 4", GRADE_DANGEROUS, false},
	        {"5", "It comes back, and is of category 5", GRADE_RIGHT,     false},
	};
	static struct task_choice ways[] = {
	        {"siphonage", "By back siphonage alone", GRADE_RIGHT,     false},
	        {"pressure",  "By back pressure alone",  GRADE_DANGEROUS, false},
	        {"both",      "By both",                 GRADE_CAUTIOUS,  false},
	};
	static struct task_choice types[] = {
	        {"AUK3", "AUK3 Higher-risk tap gap",                GRADE_RIGHT, false},
	        {"DB",   "DB Pipe interrupter with moving element", GRADE_WRONG, false},
	        {"ED",   "ED Non-verifiable double check valve",    GRADE_WRONG, false},
	        {"none", "None of these",                           GRADE_WRONG, true },
	};
	static struct task_choice first[] = {
	        {"tell", "Tell everybody on it", GRADE_RIGHT,     false},
	        {"shut", "Shut it.",             GRADE_DANGEROUS, false},
	};
	static struct reason sink = {"Sink water can carry germs from food.",
	                             "Table of the test book line 1", STANDING_PUBLISHED,
	                             "kitchen_mixer_sink"},
	                     bare = {"There is nothing in the way.", "no source",
	                             STANDING_COMMON_PRACTICE, NULL},
	                     gap = {"Air between the spout and the rim.",
	                            "Table of the test book line 11", STANDING_PUBLISHED, "AUK3"},
	                     own = {"Somebody may be rinsing bleach off.", NULL,
	                            STANDING_COMMON_PRACTICE, NULL};
	static const char *tells[] = {"Air between the spout and the rim.", "No part of it moves."};
	const struct survey *survey = &q->drive.survey;
	const struct item *mixer = survey_find(survey, "K1", 2),
	                  *tap = survey_find(survey, "G1", 2);
	const struct task tasks[QUIZ_TASKS] = {
	        {.id = "K1/category/sink_water",
	         .family = FAMILY_CATEGORY,
	         .point = mixer,
	         .asks = "Water from the sink: does it come back here, and of which category is "
	                 "it?",	                   .choice = fluids,
	         .choice_count = 3,
	         .in_order = true,
	         .reason = &sink,
	         .reason_count = 1},
	        {.id = "K1/mechanism/sink_water",
	         .family = FAMILY_MECHANISM,
	         .point = mixer,
	         .asks = "By which way could water from the sink come back?",
	         .choice = ways,
	         .choice_count = 3,
	         .reason = &sink,
	         .reason_count = 1},
	        {.id = "K1/on_paper",
	         .family = FAMILY_ON_PAPER,
	         .point = mixer,
	         .asks = "How does what is fitted on the cold inlet stand on paper?",
	         .choice = amounts,
	         .choice_count = 4,
	         .in_order = true,
	         .reason = &bare,
	         .reason_count = 1},
	        {.id = "G1/in_fact",
	         .family = FAMILY_IN_FACT,
	         .point = tap,
	         .asks = "How does what is fitted stand in fact?",
	         .choice = amounts,
	         .choice_count = 4,
	         .in_order = true,
	         .reason = &bare,
	         .reason_count = 1},
	        {.id = "type/AUK3",
	         .family = FAMILY_TYPE,
	         .asks = "Which type is this?",
	         .shown = tells,
	         .shown_count = 2,
	         .choice = types,
	         .choice_count = 4,
	         .reason = &gap,
	         .reason_count = 1},
	        {.id = "gap/AUK3/15",
	         .family = FAMILY_GAP,
	         .unit = "mm",
	         .least = 0,
	         .most = 2000,
	         .right = 30,
	         .asks = "A higher-risk tap gap over a bore of 15 mm: what is the least height?",
	         .reason = &gap,
	         .reason_count = 1},
	        {.id = "own_meter",
	         .family = FAMILY_OWN,
	         .asks = "What do you do before you shut the stop valve of a shop?",
	         .choice = first,
	         .choice_count = 2,
	         .reason = &own,
	         .reason_count = 1	                                                },
	};

	memcpy(q->task, tasks, sizeof(tasks));
	q->quiz = (struct quiz){.survey = survey, .task = q->task, .task_count = QUIZ_TASKS};
}

static inline void quiz_hear(struct quizzed *q, const char *what, size_t task, const char *worth)
{
	size_t length = strlen(q->heard);

	snprintf(q->heard + length, HEARD_MOST - length, "%s %zu%s%s\n", what, task + 1,
	         worth[0] == '\0' ? "" : " ", worth);
}

static void quiz_on_shown(void *context, struct walk *walk, size_t task)
{
	(void)walk;
	quiz_hear(context, "shown", task, "");
}

static void quiz_on_answered(void *context, struct walk *walk, size_t task, enum grade grade)
{
	(void)walk;
	quiz_hear(context, "answered", task, grade_name(grade));
}

static void quiz_on_handed_in(void *context, struct walk *walk)
{
	(void)walk;
	quiz_hear(context, "handed in", 0, "");
}

static void quiz_on_save(void *context, struct walk *walk)
{
	struct quizzed *q = context;

	(void)walk;
	(void)q;
}

static void quiz_on_committed(void *context, struct walk *walk, const struct changes *changes)
{
	struct quizzed *q = context;

	(void)walk;
	(void)changes;
	(void)q;
}

static void quiz_begin_on(struct quizzed *q, const struct rulebook *book, int rows, int cols,
                          bool exam, bool ascii)
{
	memset(q, 0, sizeof(*q));
	quiz_survey(&q->drive.survey, book);
	ck_assert(screen_init(&q->drive.screen, rows, cols));
	quiz_tasks_of(q);
	ck_assert(attempt_begin(&q->attempt, &q->quiz, &q->arena));
	q->attempt.exam = exam;
	q->attempt.pass_percent = 70;
	q->host = (struct walk_host){
	        .context = q,
	        .committed = quiz_on_committed,
	        .save = quiz_on_save,
	        .shown = quiz_on_shown,
	        .answered = quiz_on_answered,
	        .handed_in = quiz_on_handed_in,
	};
	q->drive.walk = walk_create(&q->drive.survey, &(struct walk_options){
	                                                      .name = "elm_row.yaml",
	                                                      .ascii = ascii,
	                                                      .attempt = &q->attempt,
	                                              });
	ck_assert_ptr_nonnull(q->drive.walk);
}

static inline void quiz_begin_drive(struct quizzed *q, int rows, int cols, bool exam)
{
	quiz_begin_on(q, &drive_book, rows, cols, exam, true);
}

static void quiz_end_drive(struct quizzed *q)
{
	drive_end(&q->drive);
	arena_finish(&q->arena);
}

#endif
