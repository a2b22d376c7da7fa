/*
 * The journal's file. All lines since the last save are in memory too: so they can be written anew, in another folder, when
 * the first one fails.
 */
#include "journal_lines.h"

#include "beside.h"

#include "tundish/store/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum folder { FOLDER_BESIDE, FOLDER_STATES, FOLDER_COUNT };

struct journal {
	char survey[PATH_MAX];
	char name[FOLDER_COUNT][PATH_MAX]; /* "": can't be there */
	char *states;                      /* owned, or NULL */
	struct digest base;
	struct sink text; /* all lines */
	struct chain chain;
	int fd; /* on name[folder], or -1 */
	enum folder folder;
	size_t kept; /* bytes of the text that are durably there */
};

/* -- names ------------------------------------------------------------------------------ */

static void find_names(struct journal *journal, const char *path)
{
	for (enum folder folder = 0; folder < FOLDER_COUNT; folder++)
		journal->name[folder][0] = '\0';
	if (!beside_resolve(path, journal->survey)) {
		snprintf(journal->survey, sizeof(journal->survey), "%s", path);
		return;
	}
	if (!beside_name(journal->survey, "journal", journal->name[FOLDER_BESIDE]))
		journal->name[FOLDER_BESIDE][0] = '\0';
	if (journal->states == NULL || !beside_state_name(journal->states, journal->survey,
	                                                  "journal", journal->name[FOLDER_STATES]))
		journal->name[FOLDER_STATES][0] = '\0';
}

/* @return false when it would be too long; the caller's errno. */
static bool name_with(const char *name, const char *ending, char out[PATH_MAX])
{
	int length = snprintf(out, PATH_MAX, "%s%s", name, ending);

	errno = ENAMETOOLONG;
	return length > 0 && length < PATH_MAX;
}

struct journal *journal_create(const char *path, const char *states, struct digest file)
{
	struct journal *journal = calloc(1, sizeof(*journal));

	if (journal == NULL)
		return NULL;
	journal->fd = -1;
	journal->base = file;
	sink_to_memory(&journal->text);
	chain_begin(&journal->chain);
	if (states != NULL && (journal->states = strdup(states)) == NULL) {
		free(journal);
		return NULL;
	}
	find_names(journal, path);
	return journal;
}

static void close_file(struct journal *journal)
{
	if (journal->fd >= 0)
		close(journal->fd);
	journal->fd = -1;
}

void journal_destroy(struct journal *journal)
{
	if (journal == NULL)
		return;
	close_file(journal);
	sink_finish(&journal->text);
	free(journal->states);
	free(journal);
}

bool journal_is_kept(const struct journal *journal)
{
	return journal->kept == journal->text.count;
}

const char *journal_path(const struct journal *journal)
{
	return journal->fd < 0 ? NULL : journal->name[journal->folder];
}

/* -- writing ---------------------------------------------------------------------------- */

/* A name that may be taken: by us, or it is free. Where links can't be made, the last look decides. */
static bool take_name(const char *temporary, const char *name, bool replace)
{
	struct stat there;

	if (replace)
		return rename(temporary, name) == 0;
	if (link(temporary, name) == 0)
		return unlink(temporary) == 0;
	if (errno == EEXIST)
		return false;
	if (lstat(name, &there) == 0) {
		errno = EEXIST;
		return false;
	}
	return rename(temporary, name) == 0;
}

/*
 * A whole new file, or none. @return a descriptor on it, or -1: errno. Nobody but the owner may read it: it holds what a
 * customer's house is like.
 */
static int put_whole(const char *name, const char *bytes, size_t length, bool replace)
{
	char temporary[PATH_MAX];
	int fd, reason;

	if (!name_with(name, ".new", temporary))
		return -1;
	unlink(temporary);
	fd = open(temporary, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
	if (fd < 0)
		return -1;
	if (beside_write(fd, bytes, length, 0) && fsync(fd) == 0 &&
	    take_name(temporary, name, replace)) {
		if (beside_flush_folder(name) || replace)
			return fd;
		unlink(name);
	}
	reason = errno;
	unlink(temporary);
	close(fd);
	errno = reason;
	return -1;
}

/* @return false: errno. */
static bool write_anew(struct journal *journal, enum folder folder)
{
	const char *name = journal->name[folder];
	bool ours = journal->folder == folder && beside_is(name, journal->fd);
	char old[PATH_MAX];
	int fd;

	errno = EACCES;
	if (name[0] == '\0' || (folder == FOLDER_STATES && !beside_make_folder(name)))
		return false;
	fd = put_whole(name, journal->text.bytes, journal->text.count, ours);
	if (fd < 0)
		return false;
	strcpy(old, journal->name[journal->folder]);
	if (journal->folder != folder && beside_is(old, journal->fd))
		unlink(old);
	close_file(journal);
	journal->fd = fd;
	journal->folder = folder;
	journal->kept = journal->text.count;
	return true;
}

/* What is new, at the end of the file that is there. */
static bool write_on(struct journal *journal)
{
	struct stat status;

	if (journal->fd < 0)
		return false;
	if (beside_write(journal->fd, journal->text.bytes + journal->kept,
	                 journal->text.count - journal->kept, journal->kept) &&
	    fdatasync(journal->fd) == 0 && fstat(journal->fd, &status) == 0 &&
	    status.st_nlink > 0) {
		journal->kept = journal->text.count;
		return true;
	}
	/* half a line must not stand before what is written later */
	if (ftruncate(journal->fd, (off_t)journal->kept) != 0)
		return false;
	return false;
}

static bool flush(struct journal *journal, struct err *err)
{
	int reason = 0;

	if (journal->text.failed) {
		err_set(err, ERR_MEMORY, "there is no memory for the journal");
		return false;
	}
	if (write_on(journal))
		return true;
	for (enum folder folder = 0; folder < FOLDER_COUNT; folder++) {
		if (write_anew(journal, folder))
			return true;
		reason = reason == 0 ? errno : reason;
	}
	err_set(err, ERR_IO, "answers can't be kept on disk: %s", strerror(reason));
	return false;
}

static void begin_text(struct journal *journal)
{
	char begun[] = "2026-11-25T09:12:03Z";
	time_t now = time(NULL);
	struct tm parts;

	if (gmtime_r(&now, &parts) == NULL ||
	    strftime(begun, sizeof(begun), "%Y-%m-%dT%H:%M:%SZ", &parts) == 0)
		begun[0] = '\0';
	chain_begin(&journal->chain);
	journal_head(&journal->text, &journal->chain, journal->survey, begun, journal->base);
}

bool journal_add(struct journal *journal, const struct changes *step, struct err *err)
{
	if (journal->text.count > FILE_BYTES_MOST / 2) {
		err_set(err, ERR_IO, "the journal is full: save");
		return false;
	}
	if (journal->text.count == 0)
		begin_text(journal);
	journal_step(&journal->text, &journal->chain, step);
	return flush(journal, err);
}

bool journal_keep(struct journal *journal, struct err *err)
{
	return journal_is_kept(journal) || flush(journal, err);
}

void journal_saving(struct journal *journal, struct digest file)
{
	if (journal->text.count == 0)
		return;
	journal_mark(&journal->text, &journal->chain, file);
	/* without it the worst is that what was saved is offered again */
	flush(journal, &(struct err){0});
}

/* -- its end ---------------------------------------------------------------------------- */

static void begin_anew(struct journal *journal)
{
	close_file(journal);
	sink_finish(&journal->text);
	sink_to_memory(&journal->text);
	journal->kept = 0;
}

void journal_saved(struct journal *journal, const char *path, struct digest file)
{
	const char *name = journal->name[journal->folder];

	if (beside_is(name, journal->fd) && unlink(name) == 0)
		beside_flush_folder(name);
	begin_anew(journal);
	journal->base = file;
	find_names(journal, path);
}

static bool set_aside(const char *name, struct err *err)
{
	char kept[PATH_MAX];

	if (name_with(name, "~", kept) && rename(name, kept) == 0) {
		beside_flush_folder(name);
		return true;
	}
	err_set(err, ERR_IO, "%s can't be set aside: %s", name, strerror(errno));
	return false;
}

bool journal_discard(struct journal *journal, struct err *err)
{
	const char *name = journal->name[journal->folder];
	bool done = !beside_is(name, journal->fd) || set_aside(name, err);

	begin_anew(journal);
	return done;
}

/* -- what an earlier walk left ---------------------------------------------------------- */

/* The place in the changes from which on the file does not hold them; SIZE_MAX: it holds something else. */
static size_t find_fit(const struct journal_text *text, const struct digest *file)
{
	for (size_t i = text->mark_count; i > 0; i--)
		if (strcmp(text->mark[i - 1].digest.text, file->text) == 0)
			return text->mark[i - 1].change_count;
	return strcmp(text->base.text, file->text) == 0 ? 0 : SIZE_MAX;
}

static void look_at(const struct journal *journal, const struct journal_text *text,
                    struct journal_left *left)
{
	size_t from = find_fit(text, &journal->base);

	left->begun = text->begun;
	left->whole = text->whole;
	left->torn = left->length - text->whole;
	memcpy(left->link, text->link, sizeof(left->link));
	left->changes = text->changes;
	if (from == SIZE_MAX) {
		left->fit = JOURNAL_CHANGED;
		return;
	}
	left->changes.count -= from;
	if (left->changes.count > 0)
		left->changes.item += from;
	left->fit = left->changes.count == 0 ? JOURNAL_SAVED : JOURNAL_FITS;
}

static bool find_in(struct journal *journal, enum folder folder, struct arena *arena,
                    struct journal_left *out, struct err *err)
{
	const char *name = journal->name[folder];
	struct journal_text text;
	struct file_stamp stamp;
	struct source source;
	struct err why = {0};
	char half_made[PATH_MAX];

	*out = (struct journal_left){0};
	if (name[0] == '\0')
		return true;
	if (name_with(name, ".new", half_made))
		unlink(half_made);
	if (!file_read(name, arena, &source, &stamp, &why)) {
		if (!stamp.exists)
			return true;
		err_set(err, why.kind, "%s", why.message);
		return false;
	}
	out->path = arena_copy(arena, name, strlen(name));
	out->bytes = source.text;
	out->length = source.length;
	why = (struct err){0};
	if (journal_read(source.text, source.length, arena, &text, &why)) {
		look_at(journal, &text, out);
	} else {
		out->fit = JOURNAL_DAMAGED;
		out->torn = out->length;
	}
	if (out->path == NULL || why.kind == ERR_MEMORY) {
		err_set(err, ERR_MEMORY, "there is no memory to read %s", name);
		return false;
	}
	return true;
}

/* Of two, as after a kill between the writing in one folder and the taking away in the other. */
static bool says_more(const struct journal_left *a, const struct journal_left *b)
{
	static const int rank[] = {[JOURNAL_FITS] = 3,
	                           [JOURNAL_CHANGED] = 2,
	                           [JOURNAL_DAMAGED] = 1,
	                           [JOURNAL_SAVED] = 0};

	if (a->path == NULL || b->path == NULL)
		return b->path == NULL;
	if (rank[a->fit] != rank[b->fit])
		return rank[a->fit] > rank[b->fit];
	return a->changes.count >= b->changes.count;
}

bool journal_find(struct journal *journal, struct arena *arena, struct journal_left *out,
                  struct err *err)
{
	struct journal_left left[FOLDER_COUNT];

	for (enum folder folder = 0; folder < FOLDER_COUNT; folder++)
		if (!find_in(journal, folder, arena, &left[folder], err))
			return false;
	*out = left[says_more(&left[FOLDER_BESIDE], &left[FOLDER_STATES]) ? FOLDER_BESIDE
	                                                                  : FOLDER_STATES];
	return true;
}

void journal_forget(const struct journal_left *left)
{
	if (unlink(left->path) == 0)
		beside_flush_folder(left->path);
}

bool journal_set_aside(const struct journal_left *left, struct err *err)
{
	return set_aside(left->path, err);
}

/* What it begins with: as it stands where it fits; else what is left of it, on the file as it is now. */
static void adopt_text(struct journal *journal, const struct journal_left *left)
{
	if (left->fit == JOURNAL_FITS) {
		sink_bytes(&journal->text, left->bytes, left->whole);
		memcpy(journal->chain.link, left->link, sizeof(left->link));
		return;
	}
	begin_text(journal);
	journal_step(&journal->text, &journal->chain, &left->changes);
}

static bool keep_copy(const struct journal_left *left)
{
	char kept[PATH_MAX];
	int fd = -1;

	if (name_with(left->path, "~", kept))
		fd = put_whole(kept, left->bytes, left->length, true);
	if (fd >= 0)
		close(fd);
	return fd >= 0;
}

bool journal_adopt(struct journal *journal, const struct journal_left *left, bool keep,
                   struct err *err)
{
	bool in_states = strcmp(left->path, journal->name[FOLDER_STATES]) == 0;

	journal->folder = in_states ? FOLDER_STATES : FOLDER_BESIDE;
	adopt_text(journal, left);
	keep |= left->torn > 0;
	if (!keep && left->fit == JOURNAL_FITS)
		journal->fd = open(left->path, O_RDWR | O_CLOEXEC | O_NOFOLLOW);
	else if (!keep || keep_copy(left))
		journal->fd = put_whole(left->path, journal->text.bytes, journal->text.count, true);
	if (journal->fd >= 0) {
		journal->kept = journal->text.count;
		return true;
	}
	err_set(err, ERR_IO, "%s can't be gone on with: %s", left->path, strerror(errno));
	return false;
}
