/**
 * @file
 * What a paper is made of, and the two ways to put that down: text and HTML say the same.
 */
#ifndef TUNDISH_PRINT_PAPER_INK_H
#define TUNDISH_PRINT_PAPER_INK_H

#include "tundish/print/paper.h"

struct paper_ink {
	void (*begin)(struct page *page, const char *title);
	void (*end)(struct page *page);
	/** @p level 2: a chapter; 3: a room, or an outlet or appliance. */
	void (*head)(struct page *page, int level, const char *text);
	void (*says)(struct page *page, const char *text);
	/** A line to write on. */
	void (*fill)(struct page *page, const char *label);
	/** What was found: a question and its answer, @p depth 0 to 2 steps in. */
	void (*found)(struct page *page, int depth, const char *label, const char *value);
	/** A task or an answer begins, and ends. */
	void (*task)(struct page *page, size_t number, const char *text);
	void (*task_end)(struct page *page);
	void (*shown)(struct page *page, const char *text);
	void (*choice)(struct page *page, char letter, const char *text);
	/** Where a number is written, in @p unit. */
	void (*number)(struct page *page, const char *unit);
};

extern const struct paper_ink paper_text_ink, paper_html_ink;

/** paper_house.c: what is known of the house as a whole. */
void paper_house(struct page *page, const struct paper_ink *ink, const struct survey *survey);
/** ... and of one point: its heading, and what was found. */
void paper_point(struct page *page, const struct paper_ink *ink, const struct survey *survey,
                 const struct item *point);
/** `K1, Kitchen mixer, in the kitchen`. In the page's scratch. */
const char *paper_point_title(struct page *page, const struct survey *survey, const struct item *point);

#endif
