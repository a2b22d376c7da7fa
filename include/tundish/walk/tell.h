/**
 * @file
 * The walk in words, for who reads it line by line: no layout, no picture, no keys named. The state
 * is the one that walk_draw() shows; whoever reads it so presses keys like everybody else.
 *
 * Texts live in the arena that is given, or as long as the walk is not pressed, whichever is less.
 */
#ifndef TUNDISH_WALK_TELL_H
#define TUNDISH_WALK_TELL_H

#include "tundish/base/arena.h"
#include "tundish/walk/requests.h"
#include "tundish/walk/walk.h"

/** What may be said on a line, once its item is opened (Enter). */
enum told_takes {
	TOLD_NOTHING, /* it only opens, adds or leads on */
	TOLD_CHOICE,  /* one of a list, or what is in it */
	TOLD_TEXT,    /* a number, a date, a text */
};

/** One thing that the focus can be on. */
struct told_line {
	const char *where; /* stays the same when others come and go; NULL outside a form */
	const char *head;  /* of the group that it stands in; NULL: none */
	const char *note;  /* what stands above it in the group; NULL: nothing */
	const char *label;
	const char *value; /* in words; NULL: it can have none */
	bool answered;     /* there is a value, and it isn't `not answered` */
	bool asked;        /* the answer can still move the verdict */
	bool cannot_tell;  /* that can be said here (REQUEST_CANNOT_TELL) */
	bool nothing;      /* that nothing is fitted can be said here (REQUEST_NOTHING) */
	enum told_takes takes;
	bool opens_item; /* it leads to the form of an item, and its value is a verdict */
};

/** One thing to choose. */
struct told_choice {
	const char *id, *label;
	const char *note; /* NULL: none */
	bool ticked;
};

struct told_text {
	const char *text;
	int indent;
};

struct told_texts {
	struct told_text *item;
	size_t count;
};

/** The context that the next key arrives in. */
enum context walk_context(const struct walk *walk);

/** Whether a list of keys or words should have it: in a quiz there is nothing to save. */
bool walk_offers(const struct walk *walk, enum request request);

/** What is shown: the house, whose form, what is to be chosen, what is to be typed. */
const char *walk_title(struct walk *walk, struct arena *arena);

/** The message line. "": nothing to say. */
const char *walk_message(const struct walk *walk, bool *trouble);

/**
 * How many lines of the house or the form the focus can be on, whatever is open over them.
 * @p focus  out, may be NULL: the number of the one that it is on, from 1; 0 where there is none.
 */
size_t walk_lines(const struct walk *walk, size_t *focus);
/** The line of a number, from 1. @return false where there is none. */
bool walk_line(struct walk *walk, size_t number, struct arena *arena, struct told_line *out);

/** What the focused question of a form can be answered with, in the order of REQUEST_PICK. */
size_t walk_options(struct walk *walk, struct arena *arena, struct told_choice **out);
/** How what is typed there is to be written; NULL where nothing is typed. */
const char *walk_form_words(struct walk *walk, struct arena *arena);

/** What is to choose from in the list that is open, as narrowed: in the order of the focus. */
size_t walk_choices(const struct walk *walk, size_t *focus);
bool walk_choice(const struct walk *walk, size_t number, struct told_choice *out);
/** Whether several may be ticked. */
bool walk_several(const struct walk *walk);

/** The verdict of the point that is shown or under the focus, in one line; else NULL. */
const char *walk_verdict(struct walk *walk, struct arena *arena);
/** All there is to say of it; without a point, how the house stands. */
struct told_texts walk_whole_verdict(struct walk *walk, struct arena *arena);
/** The line that goes with every verdict. */
const char *walk_caution(void);
/** Why what has the focus is asked, how to look, how to tell what is fitted. */
struct told_texts walk_why(struct walk *walk, struct arena *arena);

#endif
