/**
 * @file
 * What answer.c, change.c and survey.c share about the inside of a survey.
 */
#ifndef TUNDISH_SRC_ASSESS_SURVEY_EDIT_H
#define TUNDISH_SRC_ASSESS_SURVEY_EDIT_H

#include "tundish/assess/survey.h"

/** Why @p ref (@p length bytes) can't be a ref whatever the survey says, or NULL. */
const char *ref_shape_fault(const char *ref, size_t length);

/**
 * Whether an item of scope @p child may stand below one of scope @p parent.
 * ORDER SCOPE: the file's own shape, in assess/survey.h.
 */
bool scope_holds(enum scope parent, enum scope child);

/** The place of @p item among its parent's children. */
size_t item_place(const struct item *item);

/** The ref of the sibling of the same scope that @p item stands after; "" for the first. */
const char *item_stands_after(const struct item *item);

/** The child of a scope with that ref, an inlet's id too, or NULL. */
struct item *item_named(const struct item *parent, enum scope scope, const char *ref,
                        size_t length);

/** What decides which questions it is asked beside its scope's: its kind, its type, or its
 * device's. */
uint16_t item_owner(const struct item *item);

/** Take an item out with all it holds. Their refs stay known as used. */
void survey_take_out(struct survey *survey, struct item *item);

/** Put a child that is there after another (NULL: first of all). */
void item_move(struct item *item, const struct item *after);

/** Take an answer away; nothing if there is none. */
void item_forget(const struct survey *survey, struct item *item, question_index question);

/** What a path of a change names. */
enum target_form {
	TARGET_ANSWER,
	TARGET_PRESENCE,
	TARGET_KNOWN, /* what is known of an inlet's protection */
};

struct target {
	enum target_form form;
	struct item *item;       /* whose answer; the parent of the item; the inlet */
	question_index question; /* TARGET_ANSWER */
	enum scope scope;        /* TARGET_PRESENCE */
	const char *ref;         /* TARGET_PRESENCE: points into the path */
	size_t ref_length;
};

/** @return false when the path names nothing. */
bool change_target(const struct survey *survey, const char *where, struct target *out);
/** The item of the target's list that has the ref, or NULL. */
struct item *target_child(const struct survey *survey, const struct target *target, const char *ref,
                          size_t length);

/** What is known of an inlet on which nothing stands: NULL, "cannot_tell" or "nothing". */
const char *inlet_known(const struct item *inlet);

#endif
