/**
 * @file
 * A survey as structs: one tree of items, each with its answers, and the one way to change it.
 *
 * The tree is the file's own shape:
 *
 *     premises ── part ...
 *              ├─ branch ... ── protection ... ── test ...
 *              ├─ protection ...                  (whole-site, under `supply:`)
 *              └─ room ... ── point ... ─┬─ inlet ... ── protection ... ── test ...
 *                                        └─ action ...
 *
 * All that is written about an item and is no item itself is an answer to a question of the rulebook: its name, whether
 * it was seen, its kind, what feeds it, the undertaker's decision. So one loop reads, compares, edits and shows them all.
 */
#ifndef TUNDISH_ASSESS_SURVEY_H
#define TUNDISH_ASSESS_SURVEY_H

#include "tundish/assess/rulebook.h"
#include "tundish/base/err.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct answer {
	question_index question;
	bool settled;     /* "cannot tell", or one of several: nobody is asked again */
	cells may;        /* what it could be; never empty */
	double low, high; /* FORM_NUMBER: the value twice; FORM_DATE: its first and last day */
	/* As written, unquoted; several joined by ", "; "cannot_tell". A number is without its unit, in the question's own;
	   what other tools make of yes and no (True, off ...) is yes or no again. */
	const char *text;
	struct span span; /* of the value in the source */
};

struct item {
	enum scope scope;
	const char *ref;       /* unique in the survey, [a-zA-Z0-9_-]+; of an inlet its id in the kind; "" of the premises */
	struct item *parent;   /* NULL: the premises */
	struct item **child;   /* in the order of the file, scopes mixed */
	size_t child_count, child_room;
	struct answer *answer; /* in the order of the file */
	size_t answer_count, answer_room;
	uint16_t of;           /* a point's kind, a protection's type; else, or not answered yet, INDEX_NONE */
	bool nothing_said;     /* an inlet: what is fitted was not answered (no child, and no `nothing`) */
	bool cannot_tell;      /* an inlet: whether anything is fitted can't be seen */
	struct span span;      /* in the source; {0, 0}: made in memory */
};

enum { REF_STEMS = 8, REF_STEM_MOST = 32 };

/** The largest number after a stem that refs were made from: looked for in all refs once, then kept. */
struct ref_stem {
	char text[REF_STEM_MOST]; /* "": free */
	unsigned long largest;
};

struct survey {
	struct arena arena;        /* owns everything below but the source's text */
	const struct rulebook *book; /* borrowed */
	const struct source *source; /* borrowed; NULL: made in memory */
	struct item *premises;     /* never NULL */
	size_t part_count;
	const struct item *only_part; /* where there is one part, and no more */
	struct item **by_ref;      /* open addressing; all items with a ref but inlets */
	size_t by_ref_size, by_ref_count;
	struct ref_stem stem[REF_STEMS]; /* survey_new_ref() */
	size_t stem_next;
};

/** An empty survey: premises and nothing else. @p survey may hold anything. @return false when there is no memory. */
bool survey_init(struct survey *survey, const struct rulebook *book);
/** The same for one that was made before, or is zeroed: its arena's blocks are used again. */
bool survey_reset(struct survey *survey, const struct rulebook *book);
/** Free everything. Accepts a zeroed survey. */
void survey_finish(struct survey *survey);

/** The item with that ref (never an inlet), or NULL. */
struct item *survey_find(const struct survey *survey, const char *ref, size_t length);

/** The answer to a question, or NULL when it was not answered. */
struct answer *item_answer(const struct item *item, question_index question);
/** Its text, or NULL. */
const char *item_text(const struct item *item, question_index question);

/** The @p index-th child of a scope, counted from 0, or NULL. */
struct item *item_child(const struct item *item, enum scope scope, size_t index);
size_t item_children(const struct item *item, enum scope scope);

/** The nearest ancestor (or the item itself) of a scope, or NULL. */
const struct item *item_above(const struct item *item, enum scope scope);

/**
 * The part that a room, a point, an inlet or a protection belongs to: the room's `part`, or the only part there is, else
 * NULL. A branch and what stands on it belong to the branch's `part` where the rulebook asks for one, else to none.
 */
const struct item *survey_part(const struct survey *survey, const struct item *item);

/** The kind's index of an inlet, or -1 where its kind has none of that id. */
int survey_inlet_index(const struct survey *survey, const struct item *inlet);

/** A question asked of an item: its scope's, and those of its kind or type. In the order of asking. */
struct asked {
	question_index *question; /* in the arena given */
	size_t count;
};
bool survey_asked(const struct survey *survey, const struct item *item, struct arena *arena, struct asked *out);

/**
 * What an answer's text means.
 *
 * Fills @p out (text copied into @p arena). @return false with @p err in a surveyor's words: what was found, what was
 * expected (the options, the nearest word; the unit and range; how a date is written).
 */
bool answer_read(const struct rulebook *book, question_index question, const char *text, size_t length,
                 struct arena *arena, struct answer *out, struct err *err);

/** Whether an answer is a date after the day that the book was read for: it is kept, but tells nothing. */
bool answer_is_ahead(const struct rulebook *book, const struct answer *answer);

/* -- building (readers) and changing (everyone else) ----------------------------------------------------------- */

/**
 * Put a new item under @p parent, after the child @p after (NULL: first of all). Copies @p ref. A new inlet is
 * `nothing_said`; its first protection ends that, and `cannot_tell` too.
 * @return the item, NULL when there is no memory. The ref must be free and well formed: survey_ref_fault.
 */
struct item *survey_add(struct survey *survey, struct item *parent, enum scope scope, const char *ref,
                        const struct item *after);

/** NULL when @p ref may name a new item; else one sentence why not, in static memory. */
const char *survey_ref_fault(const struct survey *survey, const char *ref);

/** A ref nobody uses or ever used in this survey: @p stem with the least number that is free after the largest used. */
const char *survey_new_ref(struct survey *survey, const char *stem, struct arena *arena);

/** Put an answer in, in place of the earlier one if any. @return false when there is no memory. */
bool survey_put(struct survey *survey, struct item *item, const struct answer *answer);

/**
 * One change of a survey; all four of walk, undo, journal and amendment are lists of these.
 *
 * `where` is a path of refs and keys, never a position:
 *
 *     premises/nation  supply/hot           an answer of the premises, with the map it is kept in
 *     K1/name  K1/answers/spout             an answer of the item with that ref
 *     K1/undertaker_says/category           in a map of its own
 *     K1/inlets/cold/fed_by                 an answer of an inlet
 *     K1a/fitted  K1a/tests/T1/relief       of a protection; of a test, which has a ref of its own: T1/relief does too
 *     K1/inlets/cold/protection             `nothing_said` (NULL), `cannot_tell`: what the surveyor knows of it
 *     rooms/kitchen  kitchen/points/K1  parts/flat  branches/cold      an item's presence
 *     K1/inlets/cold  K1/inlets/cold/protection/K1a  cold/protection/Z1  supply/protection/W1
 *     K1a/tests/T1  K1/action_taken/A1
 *
 * Of an answer, before and after are its text; NULL: not answered. Of an item's presence they are the ref of the sibling
 * of the same scope that it stands after, "" for the first; NULL: is not there. An item goes with all it holds: the list
 * that undoes it puts the item first and then its answers.
 */
struct change {
	const char *where;
	const char *before, *after;
};

struct changes {
	struct change *item;
	size_t count, room;
};

/**
 * Carry out one change. @p before is not compared. An answer that makes an item of another kind leaves the other answers
 * as they are. @return false with @p err (ERR_USAGE: where names nothing, or the value is not one; ERR_MEMORY), the
 * survey then unchanged.
 */
bool survey_apply(struct survey *survey, const struct change *change, struct err *err);

/**
 * What turns @p from into @p to, by refs and keys: removals first, then items in the order of the file, each followed by its
 * answers. Texts are copied into @p arena. Two surveys that say the same give no changes.
 * @return false when there is no memory.
 */
bool survey_compare(const struct survey *from, const struct survey *to, struct arena *arena, struct changes *out);

/** The change that takes @p change back: a list of one, or for a removed item all that puts it back. Call before applying. */
bool survey_inverse(const struct survey *survey, const struct change *change, struct arena *arena, struct changes *out);

/** The path of an answer, or of the item's presence when @p question is QUESTION_NONE. In @p arena. */
const char *survey_where(const struct survey *survey, const struct item *item, question_index question,
                         struct arena *arena);

/** The key of the list that holds items of a scope below @p parent: "rooms", "points", "inlets", "protection"... */
const char *survey_list_key(enum scope scope);

#endif
