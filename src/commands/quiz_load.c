#include "quiz_load.h"

#include "tundish/store/quiz_read.h"
#include "tundish/store/survey_read.h"

#include <string.h>

/* Beside the quiz file, wherever that is. NULL: no memory. */
static const char *survey_path(const struct quiz_load *load, const struct source *source,
                               struct arena *arena)
{
	const char *slash = strrchr(source->name, '/');
	int length = slash ? (int)(slash - source->name) + 1 : 0;

	if (load->file.survey[0] == '/')
		length = 0;
	return arena_print(arena, "%.*s%s", length, source->name, load->file.survey);
}

static bool load_survey(struct run *run, struct quiz_load *load, const struct source *source,
                        struct arena *text, struct faults *faults)
{
	const char *path = survey_path(load, source, text);
	struct faults of_survey;
	struct err err = {0};

	faults_init(&of_survey, text);
	if (!path)
		err_set(&err, ERR_MEMORY, "no memory for the survey");
	else if (file_read(path, text, &load->survey_text, NULL, &err) &&
	         !survey_read(&load->survey, &run->book, &load->survey_text, &of_survey))
		err_set(&err, ERR_TEXT, "%s can't be used: `tundish faults` names its %zu faults",
		        path, of_survey.fatal);
	load->has_survey = err.kind == ERR_NONE;
	if (!load->has_survey)
		fault_add(faults, SEVERITY_FAULT, source, load->file.survey_span, "%s",
		          err.message);
	return load->has_survey;
}

struct invention quiz_load_wish(const struct quiz_file *file)
{
	return (struct invention){
	        .seed = file->plan.seed,
	        .level = file->level ? file->level : LEVEL_LEAST,
	        .rooms = file->rooms,
	        .points = file->points,
	        .site = file->premises,
	        .with = file->plan.with,
	        .with_count = file->plan.with_count,
	};
}

static bool names_points(const struct quiz_plan *plan)
{
	bool names = plan->point_count > 0;

	for (size_t i = 0; i < plan->own_count; i++)
		names |= plan->own_point[i] != NULL;
	return names;
}

/* NULL: its points can't be known, or what it wishes for names nothing, which is said then. */
static const struct survey *house_of(struct run *run, struct quiz_load *load)
{
	struct invention wish = quiz_load_wish(&load->file);
	struct invented said;

	if (load->has_survey)
		return &load->survey;
	if (load->file.survey || !names_points(&load->file.plan))
		return NULL;
	return invent_survey(&run->book, &wish, &load->invented, &said, &(struct err){0})
	               ? &load->invented
	               : NULL;
}

bool quiz_load_names(struct run *run, struct quiz_load *load, const struct source *source,
                     struct arena *text, struct faults *faults)
{
	bool ok = !load->file.survey || load_survey(run, load, source, text, faults);

	return quiz_names(&load->file, source, &run->book, house_of(run, load), faults) && ok;
}

void quiz_load_finish(struct quiz_load *load)
{
	quiz_file_finish(&load->file);
	survey_finish(&load->survey);
	survey_finish(&load->invented);
	*load = (struct quiz_load){0};
}
