/**
 * @file
 * A quiz on paper: the house as it was found, the tasks to be answered by hand, and, on a sheet of its own, the answers with
 * their reasons. As text, or as one file of HTML that asks for nothing from anywhere and prints well.
 */
#ifndef TUNDISH_PRINT_PAPER_H
#define TUNDISH_PRINT_PAPER_H

#include "tundish/print/page.h"
#include "tundish/teach/quiz.h"

enum paper_form { PAPER_TEXT, PAPER_HTML };

enum paper_sheet {
	PAPER_TASKS,   /* for the learner: nothing in it tells what is right */
	PAPER_ANSWERS, /* for the trainer */
};

/** Everything borrowed. */
struct paper {
	const struct quiz *quiz;
	const char *title;
	uint64_t seed;
	const char *again;     /* how the same quiz is made again; on the sheet of the answers alone */
	unsigned pass_percent; /* 0: there is no mark to pass */
	unsigned minutes;      /* 0: there is no limit */
};

/** Choices have letters, A to T; a number has a line to write on. The page's scratch is used up and reset. */
void paper_print(struct page *page, const struct paper *paper, enum paper_form form, enum paper_sheet sheet);

#endif
