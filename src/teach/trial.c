#include "make.h"

static bool copy_item(struct survey *to, const struct item *from, struct item *item)
{
	for (size_t i = 0; i < from->answer_count; i++)
		if (!survey_put(to, item, &from->answer[i]))
			return false;
	for (size_t i = 0; i < from->child_count; i++) {
		const struct item *child = from->child[i];
		const struct item *last = i > 0 ? item->child[i - 1] : NULL;
		struct item *copy = survey_add(to, item, child->scope, child->ref, last);

		if (!copy || !copy_item(to, child, copy))
			return false;
	}
	item->nothing_said = from->nothing_said;
	item->cannot_tell = from->cannot_tell;
	return true;
}

static bool whole(struct making *making, bool done)
{
	making->no_memory = making->no_memory || !done;
	return done;
}

bool trial_take_up(struct making *making)
{
	struct err err = {0};

	return whole(making, judge_survey(making->trial.judge, &making->trial.survey, &err));
}

bool trial_judge(struct making *making, const struct item *point, struct assessment *out)
{
	struct err err = {0};

	if (judge_point(making->trial.judge, point, out, &err))
		return true;
	making->no_memory = making->no_memory || err.kind == ERR_MEMORY;
	return false;
}

bool trial_clean(struct making *making)
{
	struct trial *trial = &making->trial;
	const struct survey *from = making->survey;

	if (trial->clean)
		return true;
	making->no_memory = making->no_memory || trial->survey.arena.failed; /* forgotten below */
	if (!trial->judge)
		trial->judge = judge_create(from->book);
	trial->clean = whole(making, trial->judge && survey_reset(&trial->survey, from->book) &&
	                                     copy_item(&trial->survey, from->premises,
	                                               trial->survey.premises)) &&
	               trial_take_up(making);
	return trial->clean;
}

void trial_end(struct trial *trial)
{
	judge_destroy(trial->judge);
	survey_finish(&trial->survey);
	*trial = (struct trial){0};
}
