#include "command.h"

#include "tundish/print/assessed.h"
#include "tundish/print/page.h"

#include <stdint.h>
#include <string.h>

enum { HELP_INDENT = 20 };

#define ALWAYS      (TAKES(HELP) | TAKES(VERSION))
#define BY_THE_BOOK (TAKES(ON) | TAKES(RULEBOOK) | ALWAYS)

/* clang-format 14 falls over nested initializers of this length. */
/* clang-format off */
const struct command commands[] = {
	{
		"walk",
		"FILE",
		"walk the house room by room and keep it in FILE, which may be new",
		"Opens the form on the terminal, with the verdict beside it. The key ? shows all keys. With --plain, or where "
		"the terminal can't move its cursor, or ACCESSIBLE is set, it is the same walk as lines of text. Nothing is "
		"written before you save, and then only what you answered: the rest of the file stays as it is. What is "
		"answered and not saved is kept beside it meanwhile, and offered the next time.",
		BY_THE_BOOK | TAKES(COLOR) | TAKES(ASCII) | TAKES(THEME) | TAKES(PLAIN) | TAKES(READ_ONLY) | TAKES(UNSAVED),
		1,
		1,
		command_walk,
		0,
	},
	{
		"amend",
		"FILE",
		"change a signed-off survey; asks who and why, and keeps before and after",
		"The same walk, on a survey that was signed off. Each save is an amendment at the end of FILE, with the time, who, why, "
		"and each answer before and after; it is chained to the one before it (faults --chain). What was changed outside "
		"tundish must be taken over with --adopt first, or put back; then nothing is walked. At its end the head is printed: "
		"keep it elsewhere.",
		BY_THE_BOOK | TAKES(COLOR) | TAKES(ASCII) | TAKES(THEME) | TAKES(PLAIN) | TAKES(UNSAVED) | TAKES(WHO) | TAKES(WHY) |
			TAKES(ADOPT),
		1,
		1,
		command_amend,
		0,
	},
	{
		"assess",
		"PATH...",
		"what could come back at every point, what stands in the way, and the verdict",
		"Each PATH is a survey; - is standard input. The table is for people; csv has a line a point with the "
		"path that the verdict speaks of; ndjson has a line a point with everything.",
		BY_THE_BOOK | TAKES(FORMAT),
		1,
		SIZE_MAX,
		command_assess,
		0,
	},
	{
		"rules",
		"[NAME]",
		"what the rulebook says, with its sources",
		"NAME is a kind of outlet or appliance, a type of protection, a question or a row. Without it, the list "
		"of what there is. --for, --standing, --counts and --schema are asked one at a time, without NAME; what is MEMORY "
		"was not read in its document yet.",
		BY_THE_BOOK | TAKES(FOR) | TAKES(MECHANISM) | TAKES(STANDING) | TAKES(COUNTS) | TAKES(SCHEMA),
		0,
		1,
		command_rules,
		0,
	},
	{
		"faults",
		"PATH...",
		"every fault in surveys, rulebooks and quiz files, with its place",
		"Each PATH is a survey, a rulebook or a quiz file, told apart by their top keys; - is standard input. A fault means "
		"that the file is not used; a notice that it is, and something in it is not understood. --chain looks "
		"at the amendments of a signed-off survey as well: it names the first link that does not hold and what was "
		"changed without an amendment, and says what a chain can't show.",
		BY_THE_BOOK | TAKES(CHAIN) | TAKES(EXPECT_HEAD),
		1,
		SIZE_MAX,
		command_faults,
		0,
	},
	{
		"history",
		"FILE",
		"its amendments since it was signed off; or what became of every point",
		"Tells who changed what in a signed-off survey, when and why, as far as its chain of amendments holds. With --between "
		"it compares that survey with FILE, point by point: what got worse, what is new, what got better, what is gone, and "
		"which answers made the difference. Both are judged for the same day by the same rulebook. The status is then 1 "
		"where something is worse, or new and short. One of the two may be -, standard input.",
		BY_THE_BOOK | TAKES(BETWEEN) | TAKES(FORMAT),
		1,
		1,
		command_history,
		0,
	},
	{
		"redact",
		"FILE",
		"a copy for training, without what tells whose house it is",
		"Writes to standard output what the rulebook lists as shared: refs, kinds, types, answers to choices and numbers, "
		"conditions, dates as years. Names, notes, every other text, unknown keys, comments and amendments are left out, "
		"and counted on standard error. FILE is not changed; - is standard input.",
		BY_THE_BOOK,
		1,
		1,
		command_redact,
		0,
	},
	{
		"quiz",
		"[paper | export] [FILE]...",
		"tasks about a house with the reasons: practice, exam, paper",
		"FILE is a survey, or a quiz file of a trainer's; without one a house is invented, about what is due and what was missed. "
		"Its answers are shown, its verdicts are what you say. Each answer is kept before the next task. `quiz paper [FILE]` prints the "
		"tasks to be answered by hand, with --answers their answers; --format is text or html. `quiz export [LOG]...` "
		"prints all answers that were kept, or those of one --learner, or of the logs named; with --scores a line an attempt, with its "
		"score; the logs do not tell whether an exam was handed in; --format is csv or ndjson. "
		"--progress shows how the last attempts went and by topic what is known. Of an exam with a mark to pass, one that was not "
		"handed in did not reach it.",
		BY_THE_BOOK | TAKES(FORMAT) | TAKES(COLOR) | TAKES(ASCII) | TAKES(THEME) | TAKES(PLAIN) | TAKES(SEED) | TAKES(WITH) |
			TAKES(LEVEL) | TAKES(ROOMS) | TAKES(POINTS) | TAKES(PREMISES) | TAKES(TASKS) | TAKES(ASK) | TAKES(MODE) |
			TAKES(MINUTES) | TAKES(LEARNER) | TAKES(PROGRESS) | TAKES(ANSWERS) | TAKES(SCORES),
		0,
		SIZE_MAX,
		command_quiz,
		FORMATS(TABLE) | FORMATS(CSV) | FORMATS(NDJSON) | FORMATS(TEXT) | FORMATS(HTML),
	},
	{
		"invent",
		"--seed NUMBER",
		"an invented house, for drills, tests and load",
		"Writes a survey to standard output: a house that could be, made by chance and by how often things are met (`invent:` in the "
		"rulebook); nobody lives there. The same seed, options, day and rulebook give the same bytes on every machine; its first lines "
		"say which they were. At level 1 everything is answered; at 2 a few answers are missing; at 3 more, and some can't be told or "
		"were not seen; at 4 some mislead as well. What --with names is put in as far as it goes together; what does not is said on "
		"standard error.",
		BY_THE_BOOK | TAKES(SEED) | TAKES(LEVEL) | TAKES(PREMISES) | TAKES(ROOMS) | TAKES(POINTS) | TAKES(WITH),
		0,
		0,
		command_invent,
		0,
	},
};
/* clang-format on */

const size_t command_count = sizeof(commands) / sizeof(commands[0]);

/* The walk leaves verdicts to whoever walks; of a quiz an exam has one of its own. @p takes 0: of all commands. */
static void exit_status(struct page *page, uint64_t takes)
{
	bool walks = (takes & TAKES(PLAIN)) != 0;
	const char *done = takes & TAKES(MODE) ? "0 done; 1 an exam's mark was not reached"
	                   : walks ? "0 done, whatever is short"
	                           : "0 done and nothing short; 1 done, and something is short";

	sink_text(page->sink, "\n");
	page_prose(page, "Exit status:", HELP_INDENT,
	           arena_print(page->scratch,
	                       "%s; 2 wrong use; 3 a file is bad; 4 could not read or write%s.",
	                       done, walks ? "; 128 and more: ended by that signal" : ""));
}

static void option_line(struct page *page, const struct option_row *row)
{
	const char *lead =
	        arena_print(page->scratch, "  --%s%s%s", row->name, row->argument ? " " : "",
	                    row->argument ? row->argument : "");

	page_prose(page, lead, HELP_INDENT, row->help);
}

void help_command(struct sink *sink, const struct command *command)
{
	struct arena scratch = {0};
	struct page page = {sink, &scratch};

	sink_print(sink, "Usage: tundish %s [OPTION]... %s\n\n", command->name, command->operands);
	page_prose(&page, NULL, 0,
	           arena_print(&scratch, "Command %s: %s.", command->name, command->summary));
	page_prose(&page, NULL, 0, command->more);
	sink_text(sink, "\n");
	for (enum option_id id = 0; id < OPTION_COUNT; id++) {
		if (command->takes >> id & 1)
			option_line(&page, &option_rows[id]);
	}
	exit_status(&page, command->takes);
	arena_finish(&scratch);
}

void help_all(struct sink *sink)
{
	struct arena scratch = {0};
	struct page page = {sink, &scratch};

	sink_text(
	        sink,
	        "tundish: a survey of every place where drinking water meets something else.\n\n");
	for (size_t i = 0; i < command_count; i++)
		page_prose(&page,
		           arena_print(&scratch, "  tundish %s %s", commands[i].name,
		                       commands[i].operands),
		           26, commands[i].summary);
	page_prose(&page, "  tundish help COMMAND", 26,
	           "the same as tundish COMMAND --help: its options");
	exit_status(&page, 0);
	sink_text(sink, "\n");
	page_prose(&page, NULL, 0, safety_caution);
	arena_finish(&scratch);
}
