#include "keep.h"

#include "tundish/base/text.h"
#include "tundish/store/survey_read.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* -- asking ------------------------------------------------------------------------------------ */

static bool can_ask(void)
{
	return isatty(STDIN_FILENO) && isatty(STDOUT_FILENO);
}

/* The first letter of a line, `\n` of an empty one, 0 at the end of the input. No byte more is
 * taken: the rest is for the walk. */
static char read_letter(void)
{
	char first = 0, byte = 0;
	ssize_t got;

	while ((got = read(STDIN_FILENO, &byte, 1)) != 0) {
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return 0;
		if (byte == '\n')
			return first == 0 ? '\n' : first;
		if (first == 0 && byte != ' ')
			first = byte;
	}
	return 0;
}

/* @return one of @p letters; the first of them on an empty line; `q` at the end of the input. */
static char ask(struct keep *keep, const char *letters)
{
	for (;;) {
		char letter;

		sink_print(&keep->run->out, "Which? [%c] ", letters[0]);
		if (!sink_flush(&keep->run->out, &(struct err){0}))
			return 'q';
		letter = read_letter();
		if (letter == 0)
			return 'q';
		if (letter == '\n')
			return letters[0];
		if (letter >= 'A' && letter <= 'Z')
			letter = (char)(letter - 'A' + 'a');
		if (strchr(letters, letter) != NULL)
			return letter;
		sink_print(&keep->run->out, "That is none of these letters.\n");
	}
}

static bool no_memory(struct keep *keep)
{
	run_error(keep->run, &(struct err){ERR_MEMORY, "no memory for what is kept"});
	return false;
}

/* -- the lock ---------------------------------------------------------------------------------- */

const char *keep_states(struct arena *arena)
{
	const char *states = getenv("XDG_STATE_HOME"), *home = getenv("HOME");

	if (states != NULL && states[0] == '/')
		return arena_print(arena, "%s/tundish", states);
	if (home != NULL && home[0] == '/')
		return arena_print(arena, "%s/.local/state/tundish", home);
	return NULL;
}

static const char *holder_words(struct keep *keep, const struct lock_holder *holder)
{
	const char *words;

	if (holder->host[0] == '\0')
		return "somebody: the lock beside it does not say who";
	words = arena_print(keep->arena, "%s on %s, process %ld, since %s", holder->who,
	                    holder->host, holder->pid, holder->since);
	return words == NULL ? holder->host : words;
}

static bool lock_take_over(struct keep *keep)
{
	struct lock_holder holder;
	struct err err = {0};

	if (lock_take(&keep->lock, keep->path, keep->states, true, &holder, &err) == LOCK_TAKEN)
		return true;
	err_set(&err, ERR_IO, "%s can't be taken over", keep->path);
	run_error(keep->run, &err);
	return false;
}

static bool ask_locked(struct keep *keep, const struct lock_holder *holder)
{
	struct err err = {0};
	const char *who = holder_words(keep, holder);
	char letter;

	if (!can_ask()) {
		err_set(&err, ERR_IO,
		        "%s is open already, by %s; look at it with --read-only, or try again "
		        "later",
		        keep->path, who);
		run_error(keep->run, &err);
		return false;
	}
	sink_print(&keep->run->out,
	           "%s is open already, by\n%s.\n"
	           "  o  open read-only\n"
	           "  t  take over: only if that walk is surely gone\n"
	           "  q  quit\n",
	           keep->path, who);
	letter = ask(keep, "otq");
	keep->read_only = letter == 'o';
	return letter == 'o' || (letter == 't' && lock_take_over(keep));
}

/* -- what killed saves left ------------------------------------------------------------------- */

static void remove_left(struct keep *keep, const struct file_left *left, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		struct err err = {0};

		if (unlink(left[i].path) == 0 || errno == ENOENT)
			continue;
		err_set(&err, ERR_IO, "%s can't be removed: %s", left[i].path, strerror(errno));
		run_error(keep->run, &err);
	}
}

/* Files that a save wrote and was killed before it put them in place. The survey is whole, and what was answered is in the journal: they
 * are of no use, but nobody removes them unasked. */
static void tell_of_left(struct keep *keep)
{
	struct sink *out = &keep->run->out;
	struct file_left *left;
	size_t count = file_find_left(keep->path, keep->arena, &left);

	if (count == 0)
		return;
	if (!can_ask() || keep->run->options.unsaved != UNSAVED_ASK) {
		keep->note =
		        arena_print(keep->arena, "A save was killed, and left %s", left[0].path);
		return;
	}
	sink_print(out, "%s: a save was killed before its end, and left:\n", keep->path);
	for (size_t i = 0; i < count; i++)
		sink_print(out, "  %s, %llu bytes\n", left[i].path,
		           (unsigned long long)left[i].size);
	sink_text(out, "The file itself is whole.\n"
	               "  k  keep them\n"
	               "  r  remove them\n");
	if (ask(keep, "kr") == 'r')
		remove_left(keep, left, count);
}

bool keep_begin(struct keep *keep, struct run *run, const char *path, struct arena *arena)
{
	struct lock_holder holder;
	struct err err = {0};

	*keep = (struct keep){.run = run, .path = path, .arena = arena, .lock = {.fd = -1}};
	keep->states = keep_states(arena);
	keep->read_only = run->options.read_only;
	if (keep->read_only)
		return true;
	switch (lock_take(&keep->lock, path, keep->states, false, &holder, &err)) {
	case LOCK_TAKEN:
		tell_of_left(keep);
		break;
	case LOCK_HELD:
		return ask_locked(keep, &holder);
	case LOCK_IMPOSSIBLE:
		keep->note = arena_copy(arena, err.message, strlen(err.message));
		break;
	}
	return true;
}

void keep_look_only(struct keep *keep, const char *note)
{
	lock_release(&keep->lock);
	keep->read_only = true;
	keep->note = note;
}

void keep_move(struct keep *keep, const char *path)
{
	struct lock_holder holder;
	struct lock lock;

	keep->path = path;
	if (lock_take(&lock, path, keep->states, false, &holder, &(struct err){0}) != LOCK_TAKEN)
		return;
	lock_release(&keep->lock);
	keep->lock = lock;
}

void keep_end(struct keep *keep)
{
	journal_destroy(keep->journal);
	keep->journal = NULL;
	lock_release(&keep->lock);
}

/* -- what was left ----------------------------------------------------------------------------- */

/* Apply all that can be. @return how many could not. */
static size_t apply(struct survey *survey, const struct changes *changes)
{
	size_t failed = 0;

	for (size_t i = 0; i < changes->count; i++)
		failed += !survey_apply(survey, &changes->item[i], &(struct err){0});
	return failed;
}

static void print_value(struct sink *sink, const char *value)
{
	size_t length = value == NULL ? 0 : strlen(value), took;

	if (value == NULL)
		sink_text(sink, "(nothing)");
	else if (length == 0)
		sink_text(sink, "(there)");
	for (size_t i = 0; i < length; i += took) {
		took = text_cluster(value + i, length - i, NULL);
		if (took == 0)
			took = 1;
		if (text_is_control(value + i, took))
			sink_text(sink, "?");
		else
			sink_bytes(sink, value + i, took);
	}
}

/* What the journal says was there before its first change of that. */
static const struct change *first_change(const struct changes *changes, const char *where)
{
	for (size_t i = 0; i < changes->count; i++)
		if (strcmp(changes->item[i].where, where) == 0)
			return &changes->item[i];
	return NULL;
}

static bool same(const char *a, const char *b)
{
	return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

static void print_difference(struct keep *keep, const struct change *change)
{
	struct sink *out = &keep->run->out;
	const struct change *first = first_change(&keep->left.changes, change->where);

	sink_print(out, "  %s: ", change->where);
	print_value(out, change->before);
	sink_text(out, " -> ");
	print_value(out, change->after);
	if (first != NULL && !same(first->before, change->before)) {
		sink_text(out, "   (changed in the file too: it was ");
		print_value(out, first->before);
		sink_text(out, ")");
	}
	sink_text(out, "\n");
}

static bool read_again(struct keep *keep, const struct survey *survey, const struct source *source,
                       struct survey *out)
{
	struct faults faults;

	if (source->length == 0)
		return survey_init(out, survey->book);
	faults_init(&faults, keep->arena);
	return survey_read(out, survey->book, source, &faults);
}

/* The file as it is, against it with what was left. */
static void show_differences(struct keep *keep, const struct survey *survey,
                             const struct source *source)
{
	struct survey other = {0};
	struct changes changes = {0};
	size_t failed;

	if (!read_again(keep, survey, source, &other)) {
		no_memory(keep);
		survey_finish(&other);
		return;
	}
	failed = apply(&other, &keep->left.changes);
	if (!survey_compare(survey, &other, keep->arena, &changes))
		no_memory(keep);
	for (size_t i = 0; i < changes.count; i++)
		print_difference(keep, &changes.item[i]);
	if (changes.count == 0)
		sink_text(&keep->run->out, "  The file says all of it already.\n");
	if (failed > 0)
		sink_print(&keep->run->out, "  %zu of %zu can't be made any more.\n", failed,
		           keep->left.changes.count);
	survey_finish(&other);
}

static void recover(struct keep *keep, struct survey *survey)
{
	const struct journal_left *left = &keep->left;
	size_t failed = apply(survey, &left->changes);
	struct err err = {0};
	bool all = left->fit == JOURNAL_FITS && failed == 0;

	keep->recovered = true;
	keep->note = failed > 0
	                     ? arena_print(keep->arena,
	                                   "Recovered, but %zu of %zu changes could not be made: "
	                                   "all are in %s~",
	                                   failed, left->changes.count, left->path)
	                     : "Recovered. Nothing is in the file before you save.";
	if (!journal_adopt(keep->journal, left, !all, &err))
		keep->note = arena_copy(keep->arena, err.message, strlen(err.message));
}

static bool discard(struct keep *keep)
{
	struct err err = {0};

	if (!journal_set_aside(&keep->left, &err)) {
		run_error(keep->run, &err);
		return false;
	}
	keep->note = arena_print(keep->arena, "What was discarded is in %s~", keep->left.path);
	return true;
}

static void say_left(struct keep *keep)
{
	const struct journal_left *left = &keep->left;
	struct sink *out = &keep->run->out;
	size_t count = left->changes.count;

	sink_print(out, "%s: an earlier walk, begun %s, was not saved.\n", keep->path, left->begun);
	sink_print(out, "It left %zu change%s in %s\n", count, count == 1 ? "" : "s", left->path);
	if (left->torn > 0)
		sink_print(out, "Its last %zu bytes are torn and can't be read.\n", left->torn);
	if (left->fit == JOURNAL_CHANGED)
		sink_text(out, "The file was changed by another hand since.\n");
}

static bool ask_left(struct keep *keep, struct survey *survey, const struct source *source)
{
	/* what stands first is what an empty line means */
	const char *letters = keep->left.fit == JOURNAL_CHANGED ? "orvdq" : "rvdoq";
	char letter;

	say_left(keep);
	sink_print(&keep->run->out,
	           "  r  recover: go on with them; the file is not touched before you save\n"
	           "  v  view the differences\n"
	           "  d  discard them; the last that were discarded stay, as that name and ~\n"
	           "  o  open read-only, as the file is\n"
	           "  q  quit\n");
	while ((letter = ask(keep, letters)) == 'v')
		show_differences(keep, survey, source);
	if (letter == 'r')
		recover(keep, survey);
	keep->read_only = letter == 'o';
	return letter == 'd' ? discard(keep) : letter != 'q';
}

static bool refuse_left(struct keep *keep)
{
	struct err err = {0};

	err_set(&err, ERR_USAGE,
	        "%s: an earlier walk left %zu change%s not saved; run it on a terminal, "
	        "or with --unsaved recover, --unsaved discard or --read-only",
	        keep->path, keep->left.changes.count, keep->left.changes.count == 1 ? "" : "s");
	run_error(keep->run, &err);
	return false;
}

/* Nothing of it can be offered. */
static bool put_away(struct keep *keep)
{
	const struct journal_left *left = &keep->left;

	if (left->torn == 0) {
		journal_forget(left);
		return true;
	}
	if (!discard(keep))
		return false;
	keep->note = arena_print(keep->arena, "%zu bytes of an earlier walk can't be read: %s~",
	                         left->torn, left->path);
	return true;
}

static bool decide(struct keep *keep, struct survey *survey, const struct source *source)
{
	switch (keep->run->options.unsaved) {
	case UNSAVED_RECOVER:
		recover(keep, survey);
		return true;
	case UNSAVED_DISCARD:
		return discard(keep);
	case UNSAVED_ASK:
		break;
	}
	return can_ask() ? ask_left(keep, survey, source) : refuse_left(keep);
}

bool keep_recover(struct keep *keep, struct survey *survey, const struct source *source,
                  bool exists)
{
	struct digest file = digest_of(exists ? source->text : NULL, source->length);
	struct err err = {0};

	if (keep->read_only)
		return true;
	keep->journal = journal_create(keep->path, keep->states, file);
	if (keep->journal == NULL)
		return no_memory(keep);
	/* another's perhaps: then it stays, and ours is made elsewhere */
	if (!journal_find(keep->journal, keep->arena, &keep->left, &err)) {
		keep->left = (struct journal_left){0};
		keep->note = arena_copy(keep->arena, err.message, strlen(err.message));
	}
	if (keep->left.path == NULL)
		return true;
	if (keep->left.changes.count == 0)
		return put_away(keep);
	return decide(keep, survey, source);
}
