/**
 * @file
 * A quiz file with the survey that it names, for `quiz` and for `faults`.
 */
#ifndef TUNDISH_COMMANDS_QUIZ_LOAD_H
#define TUNDISH_COMMANDS_QUIZ_LOAD_H

#include "command.h"

#include "tundish/invent/invent.h"
#include "tundish/teach/quiz_file.h"

struct quiz_load {
	struct quiz_file file;
	struct source survey_text;
	struct survey survey; /* what `survey` names; else none */
	bool has_survey;
	struct survey invented; /* only to look at its points */
};

/** The house that a quiz file lets invent: as its plan wishes, which it borrows from. What is not said is 0, but the level. */
struct invention quiz_load_wish(const struct quiz_file *file);

/**
 * The survey that a quiz names (or the house, where it fixes the seed and names points of it), and whether all that the quiz names is there, by run->book. What is wrong is in @p faults,
 * at its place in the quiz.
 *
 * @p source  what load->file was read from; its name says which folder the survey's path is relative to.
 * @p text    for the survey's text, which lives as long as load->survey.
 * @return    false where something is wrong.
 */
bool quiz_load_names(struct run *run, struct quiz_load *load, const struct source *source,
                     struct arena *text, struct faults *faults);

/** Accepts a zeroed one. */
void quiz_load_finish(struct quiz_load *load);

#endif
