#include "paper_ink.h"

enum { FOUND_INDENT = 2, TASK_INDENT = 5, CHOICE_INDENT = 13 };

static void begin(struct page *page, const char *title)
{
	page_prose(page, NULL, 0, title);
}

static void end(struct page *page)
{
	(void)page;
}

static void head(struct page *page, int level, const char *text)
{
	sink_text(page->sink, level == 2 ? "\n\n" : "\n");
	page_prose(page, NULL, 0,
	           arena_print(page->scratch, level == 2 ? "== %s ==" : "-- %s --", text));
}

static void says(struct page *page, const char *text)
{
	sink_text(page->sink, "\n");
	page_prose(page, NULL, 0, text);
}

static void fill(struct page *page, const char *label)
{
	sink_print(page->sink, "\n%s: ____________________________________\n", label);
}

static void found(struct page *page, int depth, const char *label, const char *value)
{
	page_prose(page, NULL, FOUND_INDENT * (depth + 1),
	           value && *value ? arena_print(page->scratch, "%s  %s", label, value) : label);
}

static void task(struct page *page, size_t number, const char *text)
{
	sink_text(page->sink, "\n");
	page_prose(page, arena_print(page->scratch, "%3zu.", number), TASK_INDENT, text);
}

static void task_end(struct page *page)
{
	(void)page;
}

static void shown(struct page *page, const char *text)
{
	page_prose(page, NULL, TASK_INDENT + FOUND_INDENT, text);
}

static void choice(struct page *page, char letter, const char *text)
{
	page_prose(page, arena_print(page->scratch, "     [ ]  %c", letter), CHOICE_INDENT, text);
}

static void number(struct page *page, const char *unit)
{
	sink_print(page->sink, "     ____________ %s\n", unit);
}

const struct paper_ink paper_text_ink = {
        .begin = begin,
        .end = end,
        .head = head,
        .says = says,
        .fill = fill,
        .found = found,
        .task = task,
        .task_end = task_end,
        .shown = shown,
        .choice = choice,
        .number = number,
};
