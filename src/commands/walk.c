#include "tundish/walk/walk.h"

#include "walking.h"

#include "manner.h"

#include "tundish/store/amendments.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* -- what the walk asks for -------------------------------------------------------------------- */

static void committed(void *context, struct walk *walk, const struct changes *changes)
{
	struct walking *w = context;
	struct err err = {0};

	if (!journal_add(w->keep.journal, changes, &err))
		walk_say(walk, true, arena_print(&w->text, "%s. Save soon.", err.message));
}

/* The walk ended without a word of what becomes of the work. */
static void keep_unsaved(struct walking *w)
{
	struct err err = {0};

	if (!walk_unsaved(w->walk))
		return;
	if (journal_keep(w->keep.journal, &err)) {
		fprintf(stderr,
		        "tundish walk: what was not saved is kept in %s: `tundish walk %s` offers "
		        "it\n",
		        journal_path(w->keep.journal), w->path);
		return;
	}
	run_error(w->run, &err);
	run_error(w->run, &(struct err){ERR_IO, "what was not saved is lost"});
}

/* Everything is in the file, though the journal may hold a way there and back. */
static void let_go(struct walking *w, enum walk_leaving leaving)
{
	struct err err = {0};

	switch (leaving) {
	case WALK_LEAVING_SAVED:
		journal_saved(w->keep.journal, w->path, digest_of(w->saved.text, w->saved.length));
		break;
	case WALK_LEAVING_DISCARD:
		if (!journal_discard(w->keep.journal, &err))
			run_error(w->run, &err);
		break;
	case WALK_LEAVING_BROKEN:
		keep_unsaved(w);
		break;
	}
}

/* -- before and after -------------------------------------------------------------------------- */

/* `surveys/Elm Row 7.yaml` is `Elm_Row_7`: a word that the premises can be called by in other papers. */
static const char *ref_of_path(struct walking *w)
{
	const char *slash = strrchr(w->path, '/'), *name = slash ? slash + 1 : w->path;
	const char *dot = strrchr(name, '.');
	size_t length = dot && dot > name ? (size_t)(dot - name) : strlen(name), count = 0;
	char *ref = arena_take(&w->text, length + 1);

	for (size_t i = 0; ref && i < length; i++) {
		bool fits = (name[i] >= 'a' && name[i] <= 'z') ||
		            (name[i] >= 'A' && name[i] <= 'Z') ||
		            (name[i] >= '0' && name[i] <= '9') || name[i] == '-';
		if (fits || (count > 0 && ref[count - 1] != '_'))
			ref[count++] = fits ? name[i] : '_';
	}
	while (count > 0 && ref[count - 1] == '_')
		count--;
	if (ref)
		ref[count] = '\0';
	return count > 0 ? ref : "premises_1";
}

/* What a new file begins with. An editor is told of the schema only where one lies beside: a line that leads nowhere would be
 * worse than none. */
static bool begin_text(struct walking *w)
{
	static const char schema[] = "tundish.schema.json";
	const char *slash = strrchr(w->path, '/');
	const char *beside = arena_print(&w->text, "%.*s%s", slash ? (int)(slash - w->path) + 1 : 0,
	                                 w->path, schema);
	bool there = beside && access(beside, R_OK) == 0;
	const char *text = arena_print(&w->text, "%s%s%stundish: 1\npremises:\n  ref: %s\n",
	                               there ? "# yaml-language-server: $schema=" : "",
	                               there ? schema : "", there ? "\n" : "", ref_of_path(w));

	if (!beside || !text)
		return false;
	w->read = (struct source){w->path, text, strlen(text)};
	return true;
}

/* A new survey: better to hear now that it can't be kept there than after an hour's work. */
static bool begin_new(struct walking *w)
{
	const char *slash = strrchr(w->path, '/');
	size_t length = slash ? (size_t)(slash - w->path) + 1 : 1;
	const char *folder = arena_copy(&w->text, slash ? w->path : ".", length);
	struct err err = {0};

	if (!folder || access(folder, W_OK | X_OK) != 0) {
		err_set(&err, ERR_IO, "%s can't be made there: %s", w->path,
		        strerror(folder ? errno : ENOMEM));
		run_error(w->run, &err);
		return false;
	}
	if (!begin_text(w)) {
		run_error(w->run, &(struct err){ERR_MEMORY, "no memory for the survey"});
		return false;
	}
	if (!survey_init(&w->survey, &w->run->book)) {
		run_error(w->run, &(struct err){ERR_MEMORY, "no memory for the survey"});
		return false;
	}
	return true;
}

static bool load(struct walking *w, bool *fresh)
{
	struct stat unused;

	*fresh = stat(w->path, &unused) != 0 && errno == ENOENT;
	if (*fresh ? !begin_new(w)
	           : !run_load_survey(w->run, w->path, &w->text, &w->read, &w->stamp, &w->survey))
		return false;
	w->saved = w->read;
	if (!*fresh && !w->by && survey_signed_off(&w->survey))
		keep_look_only(&w->keep,
		               "It is signed off: read-only. `tundish amend` changes it.");
	return keep_recover(&w->keep, &w->survey, &w->read, !*fresh);
}

static bool begin(struct walking *w, enum manner manner)
{
	bool fresh;

	if (!keep_begin(&w->keep, w->run, w->path, &w->text) || !load(w, &fresh))
		return false;
	w->walk = walk_create(&w->survey, &(struct walk_options){
	                                          .name = w->path,
	                                          .fresh = fresh || w->read.length == 0,
	                                          .ascii = wants_ascii(&w->run->options),
	                                          .lines = manner == MANNER_PLAIN,
	                                          .unsaved = w->keep.recovered,
	                                          .read_only = w->keep.read_only,
	                                  });
	if (w->walk && w->keep.note)
		walk_say(w->walk, false, w->keep.note);
	if (!w->walk)
		run_error(w->run, &(struct err){ERR_MEMORY, "no memory for the walk"});
	return w->walk != NULL;
}

static void ended(struct walking *w, struct walk_end end, const struct err *err)
{
	bool unsaved = walk_unsaved(w->walk);

	switch (end.form) {
	case WALK_END_LEFT:
		if (!w->keep.read_only)
			let_go(w, end.leaving);
		break;
	case WALK_END_SIGNAL:
		keep_unsaved(w);
		keep_end(&w->keep);
		signal(end.signal, SIG_DFL);
		raise(end.signal);
		break;
	case WALK_END_INPUT:
		keep_unsaved(w);
		if (unsaved)
			run_error(w->run,
			          &(struct err){ERR_IO, "the input ended before it was saved"});
		break;
	case WALK_END_LOST:
		keep_unsaved(w);
		run_error(w->run, &(struct err){ERR_IO, "the terminal is gone"});
		break;
	case WALK_END_FAILED:
		run_error(w->run, err);
		break;
	}
}

static void walk_the_house(struct walking *w, enum manner manner)
{
	struct walk_host host = {.context = w,
	                         .committed = committed,
	                         .save = walking_save,
	                         .save_as = walking_save_as};
	struct err err = {0};
	struct walk_end end;

	end = manner_run(manner, &w->run->options, w->walk, &host, &err);
	ended(w, end, &err);
}

void walk_file(struct run *run, const struct amender *by)
{
	struct walking w = {.run = run, .path = run->options.operand[0], .by = by};
	enum manner manner;

	if (strcmp(w.path, "-") == 0) {
		run_error(run, &(struct err){ERR_USAGE,
		                             "the walk keeps a file: standard input is none"});
		return;
	}
	manner = manner_of(
	        run, arena_print(&run->arena, "read the verdicts with `tundish assess %s`", w.path));
	if (manner == MANNER_NONE || (!by && !run_load_book(run)))
		return;
	if (begin(&w, manner))
		walk_the_house(&w, manner);
	walk_destroy(w.walk);
	if (by && w.saved.text != w.read.text)
		amend_say_head(run, &w.saved);
	keep_end(&w.keep);
	survey_finish(&w.survey);
	arena_finish(&w.text);
}

void command_walk(struct run *run)
{
	walk_file(run, NULL);
}
