/**
 * @file
 * What was changed in a survey after it was signed off: `amendments:` at its end, append-only, each chained to the one before
 * it by SHA-256. docs/survey.md lays down the form.
 *
 * The first one is the signing off. Each holds the state that it left, so that what was changed without one is seen; the head of
 * the last stands for all. Whoever can write the file can write the whole chain anew: it shows what happened to a file, and
 * against intent only together with a head that was kept elsewhere.
 */
#ifndef TUNDISH_STORE_AMENDMENTS_H
#define TUNDISH_STORE_AMENDMENTS_H

#include "tundish/assess/amendment.h"
#include "tundish/base/sink.h"

struct chain {
	struct amendment *amendment; /* those before the first broken link */
	size_t count;
	const char *head; /* of the last of them; "" where there is none */
	bool broken;      /* a link does not hold: named in the faults */
	bool outside;     /* the links hold, but what the file says is not what the last one left */
};

/**
 * Read the amendments of a text and hold them against it.
 *
 * @p faults  the first link that does not hold; where the text was changed without one, each part of it that was; a notice
 *            where a time is before the one before it.
 * @return    false when the text can't be read or there is no memory (in the faults too). A text without amendments
 *            is a chain of none.
 */
bool chain_read(const struct source *source, struct arena *arena, struct chain *out, struct faults *faults);

/**
 * survey_write, and the amendment that goes with it: where @p original has amendments, what differs is one more of them;
 * where it has none and @p survey has a day of signing off, that is the first. Else no more than survey_write does.
 *
 * @p by    who answers for it. Of a signing off: only `at` is looked at, and `who` where the survey names no surveyor.
 * @return  false with @p err; beside what survey_write says ERR_CONFLICT where the chain of @p original does not hold,
 *          where it was changed outside (it must be adopted first), or where `amendments:` can't be added to as it is written.
 */
bool amendments_write(const struct survey *survey, const struct source *original, const struct amender *by,
                      struct arena *arena, char **out, size_t *out_length, struct err *err);

/**
 * Take over what was changed outside: the text as it is, with one amendment more that says so.
 * @return false with @p err: ERR_USAGE where nothing was changed outside, ERR_CONFLICT where a link is broken; ERR_TEXT,
 *         ERR_MEMORY.
 */
bool amendments_adopt(const struct survey *survey, const struct source *original, const struct amender *by,
                      struct arena *arena, char **out, size_t *out_length, struct err *err);

/**
 * The bytes that the state of a text is the digest of: its canonical form without `amendments`.
 * @return false with @p err: ERR_TEXT, ERR_MEMORY.
 */
bool amendments_canonical(const struct source *source, struct sink *out, struct err *err);

/** Who surveyed, as the survey says; NULL: it does not. */
const char *survey_surveyor(const struct survey *survey);

/** Whether a survey says that it was signed off. */
bool survey_signed_off(const struct survey *survey);

#endif
