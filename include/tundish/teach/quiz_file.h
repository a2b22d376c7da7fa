/**
 * @file
 * What a trainer wrote down for a class: which points, what is asked of them, the mark to pass, own tasks. store/quiz_read.h reads
 * it.
 *
 *     quiz: 1
 *     ref: spring_course
 *     title: Spring course, second evening
 *     survey: salon_with_flat.yaml      # beside this file; or
 *     invent: { rooms: 4, points: 8, premises: terraced_house, level: 2 }
 *     on: 2026-11-25                    # the day that verdicts are for, so that the right answers stay
 *     seed: 7
 *     mode: exam                        # or practice
 *     pass_percent: 70
 *     minutes: 20                       # only where somebody asks for it
 *     ask: [category, on_paper, in_fact]
 *     points: [K1, S2]
 *     with: [EB, kitchen_mixer]
 *     count: 20
 *     questions:
 *       - id: own_meter
 *         ask: What do you do before you shut the stop valve of a shop?
 *         choices: [ { id: tell, text: Tell everybody on it., right: yes }, { id: shut, text: Shut it., grade: dangerous } ]
 *         because: Somebody may be rinsing bleach off.
 *         source: no source
 *       - id: own_gap
 *         ask: How high has the spout to be over the rim?
 *         point: K1                       # shown beside it
 *         number: { right: 30, least: 0, most: 500, unit: mm }      # instead of choices: less is dangerous, more cautious
 *         because: Twice the bore.
 */
#ifndef TUNDISH_TEACH_QUIZ_FILE_H
#define TUNDISH_TEACH_QUIZ_FILE_H

#include "tundish/base/date.h"
#include "tundish/base/fault.h"
#include "tundish/teach/quiz.h"

struct quiz_file {
	struct arena arena; /* owns everything below */
	const char *ref, *title;
	const char *survey;     /* path as written, relative to the quiz's own folder; NULL: invented */
	unsigned rooms, points, level; /* of what is invented; 0: not said */
	const char *premises;   /* of what is invented; NULL: not said */
	bool has_on, has_seed, exam;
	day on;
	unsigned pass_percent, minutes; /* 0: none */
	struct quiz_plan plan;  /* its lists and own tasks point into the arena; `seed` counts where has_seed */
	struct span *point_span, *with_span, *own_point_span; /* where each was written: to say which names nothing */
	struct span survey_span, premises_span;
};

/** Free everything. Accepts a zeroed one. */
void quiz_file_finish(struct quiz_file *file);

#endif
