/**
 * @file
 * The options of all commands, in one table: it is what is parsed, what --help prints and what the
 * man page is held to.
 */
#ifndef TUNDISH_COMMANDS_OPTIONS_H
#define TUNDISH_COMMANDS_OPTIONS_H

#include "tundish/assess/rulebook.h"
#include "tundish/base/arena.h"
#include "tundish/base/date.h"
#include "tundish/base/err.h"
#include "tundish/screen/run.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* X(id, name, argument, help); an argument of NULL: takes none. */
#define OPTIONS(X)                                                                                 \
	X(ON, "on", "DATE", "the day of the verdict, such as 2026-11-25 (default: today)")         \
	X(RULEBOOK, "rulebook", "FILE", "lay this over the built-in rulebook; may be repeated")    \
	X(FORMAT, "format", "NAME", "table, csv or ndjson (default: table); of paper: text, html") \
	X(COLOR, "color", "WHEN", "auto, always or never (default: auto; NO_COLOR is heeded)")     \
	X(ASCII, "ascii", NULL, "draw with ASCII only")                                            \
	X(FOR, "for", "CATEGORY", "the types good for at least this fluid category, 2 to 5")       \
	X(MECHANISM, "mechanism", "NAME", "with --for: back_pressure or back_siphonage alone")     \
	X(STANDING, "standing", "NAME", "the rows that are published, common_practice or memory")  \
	X(COUNTS, "counts", NULL, "how many kinds, types, questions and rows there are")           \
	X(SCHEMA, "schema", NULL, "a JSON Schema of the survey's format, for your editor")         \
	X(THEME, "theme", "NAME", "any, mono (for the sun), light or dark (default: any)")         \
	X(PLAIN, "plain", NULL, "lines in, lines out: for screen readers and scripts")             \
	X(READ_ONLY, "read-only", NULL, "look at it only: nothing is changed, kept or locked")     \
	X(UNSAVED, "unsaved", "WHAT", "recover or discard what an earlier walk did not save")      \
	X(BETWEEN, "between", "FILE", "the earlier state, to be compared with the later one")      \
	X(CHAIN, "chain", NULL, "hold the amendments against each other and the survey")           \
	X(EXPECT_HEAD, "expect-head", "HEAD", "with --chain: the head that was kept elsewhere")    \
	X(WHO, "who", "NAME", "who amends it (else it is asked)")                                  \
	X(WHY, "why", "TEXT", "why it is amended (else it is asked)")                              \
	X(ADOPT, "adopt", NULL, "take over what was changed outside tundish")                      \
	X(SEED, "seed", "NUMBER", "what chance goes by: the same number gives the same again")     \
	X(ROOMS, "rooms", "NUMBER", "about how many rooms, 1 to 200 (default: by chance)")         \
	X(POINTS, "points", "NUMBER", "about how many outlets and appliances, 1 to 2000")          \
	X(PREMISES, "premises", "SITE", "the parts that stand together: a site of the rulebook")   \
	X(LEVEL, "level", "NUMBER",                                                                \
	  "1, all answered, to 4, much missing and misleading (default: 1)")                       \
	X(WITH, "with", "ID,ID", "kinds, types and rows that are to be met; may be repeated")      \
	X(TASKS, "count", "NUMBER", "how many tasks at most, 1 to 1000")                           \
	X(ASK, "ask", "NAME,NAME", "what is asked: category, on_paper, in_fact ...")               \
	X(MODE, "mode", "NAME", "practice (reasons at once; the default) or exam (at the end)")    \
	X(MINUTES, "minutes", "NUMBER", "a limit of time, 1 to 600 (default: none)")               \
	X(LEARNER, "learner", "NAME", "whose answers they are (default: your login name)")         \
	X(PROGRESS, "progress", NULL, "what is known, shaky and not seen yet, by topic")           \
	X(ANSWERS, "answers", NULL, "of paper: the sheet of the answers, not of the tasks")        \
	X(SCORES, "scores", NULL, "of export: a line an attempt, with its score")                  \
	X(HELP, "help", NULL, "show this and end")                                                 \
	X(VERSION, "version", NULL, "show the version and end")

enum option_id {
#define OPTION_ID(id, name, argument, help) OPTION_##id,
	OPTIONS(OPTION_ID)
#undef OPTION_ID
	        OPTION_COUNT,
};

/** One flag an option, for the set that a command takes. */
#define TAKES(id) (UINT64_C(1) << OPTION_##id)

struct option_row {
	const char *name, *argument, *help;
};

extern const struct option_row option_rows[OPTION_COUNT];

/** ORDER FORMAT: format_names in options.c. */
enum format {
	FORMAT_TABLE,
	FORMAT_CSV,
	FORMAT_NDJSON,
	FORMAT_TEXT,
	FORMAT_HTML,
	FORMAT_COUNT,
};
/** One flag a format, for the set that a command has. */
#define FORMATS(id) (1u << FORMAT_##id)

/** ORDER COLOR: color_names in options.c. */
enum color {
	COLOR_AUTO,
	COLOR_ALWAYS,
	COLOR_NEVER,
	COLOR_COUNT,
};

/** What becomes of an earlier walk's work. ORDER UNSAVED: unsaved_names in options.c. */
enum unsaved {
	UNSAVED_RECOVER,
	UNSAVED_DISCARD,
	UNSAVED_ASK, /* not given */
	UNSAVED_COUNT = UNSAVED_ASK,
};

/** What was asked for. Texts are borrowed from the arguments, lists live in the arena given. */
struct options {
	bool help, version, ascii, counts, plain, read_only;
	enum unsaved unsaved;
	bool on_given;
	day on;
	bool format_given;
	enum format format;
	enum color color;
	enum screen_theme theme;
	uint8_t category; /* --for; 0: not given */
	bool mechanism_given;
	enum mechanism mechanism;
	bool standing_given;
	enum standing standing;
	bool schema, chain, adopt;
	const char *who, *why;   /* NULL: not given */
	const char *expect_head; /* NULL: not given */
	const char *between;     /* --between; NULL: not given */
	bool seed_given;
	uint64_t seed;
	unsigned rooms, points, level; /* 0: not given */
	const char *premises;          /* NULL: not given */
	const char **with;             /* --with, its commas taken apart */
	size_t with_count;
	bool with_given, mode_given;
	size_t tasks;                  /* --count; 0: not given */
	unsigned families;             /* 1 << enum family; 0: not given */
	unsigned minutes;              /* 0: not given */
	bool exam, progress, answers, scores;
	const char *learner; /* NULL: not given */
	const char **rulebook;
	size_t rulebook_count;
	const char **operand;
	size_t operand_count;
};

/**
 * Read the arguments of a command that takes the options @p takes, and of --format @p formats. Options and operands may be
 * mixed; `--` ends the options; `-` is an operand. No abbreviations: a later option could make them
 * mean something else.
 *
 * @return false with @p err (ERR_USAGE, one sentence that names the nearest known word;
 * ERR_MEMORY).
 */
bool options_read(int count, char *const *argument, uint64_t takes, unsigned formats, struct arena *arena,
                  struct options *out, struct err *err);

#endif
