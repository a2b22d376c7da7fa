/**
 * @file
 * One assessed point as all printers see it, and the names they share.
 */
#ifndef TUNDISH_PRINT_ASSESSED_H
#define TUNDISH_PRINT_ASSESSED_H

#include "tundish/house/verdict.h"

/** Everything borrowed. */
struct assessed {
	const char *file; /* as the user named it; need not be UTF-8 */
	const struct survey *survey;
	const struct assessment *assessment;
};

/** The one line that goes with every verdict. */
extern const char safety_caution[];

/** The point's kind, or NULL while it has none. */
const struct kind *assessed_kind(const struct assessed *assessed);

/** What the room is called: its name, else its ref; NULL where the point is in no room. */
const char *assessed_room(const struct assessed *assessed);

/** The ref of the part, or NULL where it is not known. */
const char *assessed_part(const struct assessed *assessed);

/** The id of a fluid of this point; "undertaker_says" for what the undertaker decided. */
const char *assessed_fluid(const struct assessed *assessed, unsigned fluid);

/** The id of one of the kind's inlets; "" where there is no such. */
const char *assessed_inlet(const struct assessed *assessed, unsigned index);

/**
 * Where a question worth asking is answered, as words with a `/` between.
 *
 * Of the point's own questions just the id; else before it the ref of the protection, branch, part,
 * room or test, the id of the inlet, or `premises`, `supply`; before the id of an inlet of another
 * point that point's ref. What is fitted on an inlet is `cold`, `protection`.
 */
struct ask_name {
	const char *word[3];
	unsigned count;
};
struct ask_name assessed_ask(const struct assessed *assessed, const struct ask *ask);

/**
 * Whether the reason at @p index was given before: the rulebook may keep one row of its text as
 * several (`category: ask`).
 */
bool assessed_repeats(const struct assessment *assessment, size_t index);

/** `3`, or `3 to 5`, into @p out, which holds at least 8 bytes. */
void range_words(struct range range, char out[8]);

#endif
