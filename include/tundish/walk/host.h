/**
 * @file
 * What whoever shows the walk, on a screen or as lines, asks of the caller, and how it tells of the
 * end.
 */
#ifndef TUNDISH_WALK_HOST_H
#define TUNDISH_WALK_HOST_H

#include "tundish/walk/walk.h"

/** How the caller carries out effects. None may write to the terminal: what is to be said goes
 * through walk_say(). */
struct walk_host {
	void *context; /* given back to each */
	/** Keep the changes that were just applied (the journal). NULL: not wanted. */
	void (*committed)(void *context, struct walk *walk, const struct changes *changes);
	/** Save, and tell with walk_saved(). Must not be NULL. */
	void (*save)(void *context, struct walk *walk);
	/** The same to the file at @p path, as typed. NULL: there is no other file. */
	void (*save_as)(void *context, struct walk *walk, const char *path);
	/* Of a quiz (walk/quiz.h); each may be NULL. */
	void (*shown)(void *context, struct walk *walk, size_t task);
	void (*answered)(void *context, struct walk *walk, size_t task, enum grade grade);
	void (*handed_in)(void *context, struct walk *walk);
	/** Called at least every @p tick_ms while the walk runs, also where no key comes: to say how
	 * much time is left. NULL: there is no limit, and nothing is done unasked. */
	void (*tick)(void *context, struct walk *walk);
	unsigned tick_ms;
};

/** Hand one effect to the host, but WALK_LEAVE and WALK_MONO, which whoever runs the walk carries
 * out. */
void walk_host_carry_out(const struct walk_host *host, struct walk *walk,
                         const struct walk_effect *effect);

enum walk_end_form {
	WALK_END_LEFT,   /* the walk ended: see `leaving` */
	WALK_END_SIGNAL, /* HUP or TERM: see `signal`; the caller keeps unsaved work, then raises it
	                    again */
	WALK_END_LOST,   /* nothing more can be read or shown: the terminal is gone */
	WALK_END_INPUT,  /* plain: the end of the input, without the word to leave */
	WALK_END_FAILED, /* it could not begin: see err */
};

struct walk_end {
	enum walk_end_form form;
	enum walk_leaving leaving;
	int signal;
};

#endif
