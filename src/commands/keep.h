/**
 * @file
 * What a walk keeps beside its file, and what it asks about that before it begins: the lock, and the journal of an earlier
 * walk.
 */
#ifndef TUNDISH_COMMANDS_KEEP_H
#define TUNDISH_COMMANDS_KEEP_H

#include "command.h"

#include "tundish/store/journal.h"
#include "tundish/store/lock.h"

struct keep {
	struct run *run;
	const char *path;
	struct arena *arena;
	const char *states; /* NULL: there is nowhere */
	struct lock lock;
	struct journal *journal; /* NULL: read-only */
	struct journal_left left;
	bool read_only, recovered;
	const char *note; /* to be said when the walk begins, or NULL */
};

/** The folder of states: $XDG_STATE_HOME/tundish, or ~/.local/state/tundish. NULL: there is nowhere, or no memory. */
const char *keep_states(struct arena *arena);

/** Take the lock, or ask what to do. @return false: said why, status raised, or the user wants to go. */
bool keep_begin(struct keep *keep, struct run *run, const char *path, struct arena *arena);

/**
 * Look for what an earlier walk left, and ask. Then @p survey, read from @p source, may hold it.
 * @p exists  whether the file does. @return as keep_begin().
 */
bool keep_recover(struct keep *keep, struct survey *survey, const struct source *source,
                  bool exists);

/** Give the lock back: nothing is going to be changed, for the reason @p note, which lives as long as the walk. */
void keep_look_only(struct keep *keep, const char *note);

/** The walk has gone over to another file: that is locked now. */
void keep_move(struct keep *keep, const char *path);

/** Close and give back. What is in the journal stays. */
void keep_end(struct keep *keep);

#endif
