/**
 * @file
 * A walk and the file under it.
 */
#ifndef TUNDISH_COMMANDS_WALKING_H
#define TUNDISH_COMMANDS_WALKING_H

#include "command.h"
#include "keep.h"

#include "tundish/walk/walk.h"

struct walking {
	struct run *run;
	struct walk *walk;
	struct survey survey;
	struct arena text;   /* the file's text, and each later one that was saved */
	struct source read;  /* what the survey was read from; lives as long as it */
	struct source saved; /* what stands in the file now: what a save is spliced into */
	struct file_stamp stamp;
	const char *path; /* where a save goes */
	bool saved_once;  /* what was there before this walk is kept */
	bool conflict;    /* the last save found that somebody else had changed the file */
	bool refused;     /* the last save found that nothing can be written there */
	struct keep keep;
	const struct amender *by; /* who answers for what is changed after the signing off; NULL: a
	                             walk, which can only look then */
};

/* -- save.c: as struct walk_host wants them; the context is a struct walking -- */

void walking_save(void *context, struct walk *walk);
void walking_save_as(void *context, struct walk *walk, const char *typed);

#endif
