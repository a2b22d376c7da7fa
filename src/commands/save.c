/* Saving under a walk: to its file, or elsewhere where that can't be. */
#include "walking.h"

#include "tundish/store/amendments.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* "FILE.mine" beside "FILE". */
static const char *beside(struct walking *w, const char *ending)
{
	const char *path = arena_print(&w->text, "%s.%s", w->path, ending);

	return path ? path : w->path;
}

/* Who goes on in the walk in which it was signed off is the surveyor. */
static struct amender amender_now(struct walking *w)
{
	const char *surveyor = survey_surveyor(&w->survey);
	struct amender by = {surveyor && *surveyor ? surveyor : "not said",
	                     "in the walk in which it was signed off", NULL};

	if (w->by)
		by = *w->by;
	by.at = amend_time(&w->text);
	return by;
}

/* The journal hears of it first: a kill after the file is replaced must not bring back what is in
 * it. */
static bool write_to(struct walking *w, const char *path, struct file_stamp *stamp, struct err *err)
{
	char *text = NULL;
	size_t length = 0;
	struct digest digest;
	struct amender by = amender_now(w);

	if (!by.at) {
		err_set(err, ERR_MEMORY, "no memory for the survey");
		return false;
	}
	if (!amendments_write(&w->survey, &w->saved, &by, &w->text, &text, &length, err))
		return false;
	digest = digest_of(text, length);
	journal_saving(w->keep.journal, digest);
	if (!file_replace(path, text, length, stamp, w->saved_once ? FILE_AS_READ : FILE_KEEP_OLD,
	                  err))
		return false;
	w->saved_once = true;
	w->saved.text = text;
	w->saved.length = length;
	journal_saved(w->keep.journal, path, digest);
	return true;
}

/* "~/NAME": the line has no room for more. */
static const char *from_home(struct walking *w, const char *path)
{
	const char *home = getenv("HOME"), *words = NULL;
	size_t length = home ? strlen(home) : 0;

	if (length > 1 && strncmp(path, home, length) == 0 && path[length] == '/')
		words = arena_print(&w->text, "~%s", path + length);
	return words ? words : path;
}

/*
 * Somebody changed the file since it was read. Theirs stays; a second save puts ours beside it, and
 * from then on the walk keeps that one.
 */
static bool save_as(struct walking *w, const char *path, struct err *err)
{
	struct file_stamp none = {0};

	if (!write_to(w, path, &none, err))
		return false;
	w->stamp = none;
	w->path = path;
	w->conflict = w->refused = false;
	keep_move(&w->keep, path);
	walk_rename(w->walk, from_home(w, path));
	return true;
}

static void save_mine(struct walking *w)
{
	struct err err = {0};
	const char *mine = beside(w, "mine");

	if (save_as(w, mine, &err))
		walk_saved(w->walk, true,
		           arena_print(&w->text, "Saved as %s; later saves go there too.", mine));
	else
		walk_saved(w->walk, false, err.message);
}

/* One line of the screen: the name without its folder. */
static const char *say_conflict(struct walking *w)
{
	const char *mine = beside(w, "mine"), *slash = strrchr(mine, '/');

	return arena_print(&w->text, "the file has changed. Save again to write %s",
	                   slash ? slash + 1 : mine);
}

/*
 * A name that is free in the home folder, or NULL. Where the disk is full or the folder is gone or
 * may not be written, a second save goes there.
 */
static const char *elsewhere(struct walking *w)
{
	enum { NAMES_MOST = 100 };
	const char *home = getenv("HOME"), *slash = strrchr(w->path, '/');
	const char *name = slash ? slash + 1 : w->path, *path;
	struct stat there;

	if (!home || home[0] != '/')
		return NULL;
	path = arena_print(&w->text, "%s/%s", home, name);
	for (int n = 2; path && n <= NAMES_MOST; n++) {
		if (lstat(path, &there) != 0 && errno == ENOENT)
			return path;
		path = arena_print(&w->text, "%s/%s.%d", home, name, n);
	}
	return NULL;
}

static void say_refused(struct walking *w, const struct err *err)
{
	const char *other = elsewhere(w), *why = strrchr(err->message, ':');

	why = why && why[1] == ' ' ? why + 2 : err->message;
	walk_saved(w->walk, false,
	           other ? arena_print(&w->text, "%s. s again writes %s; Ctrl-O: elsewhere", why,
	                               from_home(w, other))
	                 : arena_print(&w->text, "%s. Ctrl-O saves it elsewhere", why));
}

/* @return whether it was saved in another place. */
static bool save_elsewhere(struct walking *w)
{
	const char *other = elsewhere(w);
	struct err err = {0};

	if (!other || !save_as(w, other, &err))
		return false;
	walk_saved(w->walk, true,
	           arena_print(&w->text, "Saved as %s; later saves go there too.",
	                       from_home(w, other)));
	return true;
}

void walking_save(void *context, struct walk *walk)
{
	struct walking *w = context;
	struct err err = {0};

	if (w->conflict) {
		save_mine(w);
		return;
	}
	if (write_to(w, w->path, &w->stamp, &err)) {
		w->refused = false;
		walk_saved(walk, true,
		           w->stamp.other_names > 0 ? "Saved. Its other names (hard links) still "
		                                      "hold the old text."
		                                    : NULL);
		return;
	}
	if (err.kind == ERR_IO && w->refused && save_elsewhere(w))
		return;
	w->refused = err.kind == ERR_IO;
	/* The splice may refuse too, on a file that nobody touched: beside it is then no better. */
	w->conflict = err.kind == ERR_CONFLICT && !file_is_still(w->path, &w->stamp);
	if (w->refused)
		say_refused(w, &err);
	else
		walk_saved(walk, false, w->conflict ? say_conflict(w) : err.message);
}

/* -- to a file whose path was typed ------------------------------------------------------------ */

/* `~` as a shell takes it, and else from the folder that tundish was started in; in a folder, the file's own name. */
static const char *typed_path(struct walking *w, const char *typed)
{
	const char *home = getenv("HOME"), *path = typed, *slash = strrchr(w->path, '/');
	char folder[PATH_MAX];
	struct stat there;

	if (typed[0] == '~' && (typed[1] == '/' || typed[1] == '\0') && home && home[0] == '/')
		path = arena_print(&w->text, "%s%s", home, typed + 1);
	else if (typed[0] != '/' && getcwd(folder, sizeof(folder)))
		path = arena_print(&w->text, "%s/%s", folder, typed);
	else
		path = arena_copy(&w->text, typed, strlen(typed));
	if (path && stat(path, &there) == 0 && S_ISDIR(there.st_mode))
		path = arena_print(&w->text, "%s%s%s", path,
		                   path[strlen(path) - 1] == '/' ? "" : "/",
		                   slash ? slash + 1 : w->path);
	return path;
}

static bool is_this_file(const struct walking *w, const char *path)
{
	struct stat here, there;

	return stat(w->path, &here) == 0 && stat(path, &there) == 0 &&
	       here.st_dev == there.st_dev && here.st_ino == there.st_ino;
}

void walking_save_as(void *context, struct walk *walk, const char *typed)
{
	struct walking *w = context;
	const char *path = typed_path(w, typed);
	struct err err = {0};

	if (path && is_this_file(w, path))
		walking_save(w, walk);
	else if (path && save_as(w, path, &err))
		walk_saved(walk, true,
		           arena_print(&w->text, "Saved as %s; later saves go there too.",
		                       from_home(w, path)));
	else
		walk_saved(walk, false, path ? err.message : "there is no memory for the path.");
}
