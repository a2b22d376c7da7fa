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

bool trial_take_up(struct trial *trial)
{
	struct err err = {0};

	return judge_survey(trial->judge, &trial->survey, &err);
}

bool trial_clean(struct trial *trial, const struct survey *from)
{
	if (trial->clean)
		return true;
	if (!trial->judge)
		trial->judge = judge_create(from->book);
	trial->clean = trial->judge && survey_reset(&trial->survey, from->book) &&
	               copy_item(&trial->survey, from->premises, trial->survey.premises) &&
	               trial_take_up(trial);
	return trial->clean;
}

void trial_end(struct trial *trial)
{
	judge_destroy(trial->judge);
	survey_finish(&trial->survey);
	*trial = (struct trial){0};
}
