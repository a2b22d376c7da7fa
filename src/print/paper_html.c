/* One file: no script, no font, picture or style from anywhere else, so that it opens and prints without a network. */
#include "paper_ink.h"

#include <string.h>

static const char top[] =
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
        "'unsafe-inline'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>";
static const char style[] =
        "</title>\n<style>\n"
        "body { font: 11pt/1.4 sans-serif; color: #000; background: #fff; max-width: 46em; "
        "margin: 1em auto; padding: 0 1em; }\n"
        "h2 { border-bottom: 1px solid #000; }\n"
        "h2, h3 { break-after: avoid; }\n"
        "p { margin: .4em 0; }\n"
        ".found { margin: 0; }\n"
        ".in1 { padding-left: 1.5em; }\n"
        ".in2, .in3 { padding-left: 3em; }\n"
        ".line { margin: 1em 0; }\n"
        ".line span { display: inline-block; min-width: 20em; border-bottom: 1px solid #000; }\n"
        ".task { break-inside: avoid; margin: 1.2em 0; }\n"
        ".shown { padding-left: 1.5em; }\n"
        "@page { margin: 18mm; }\n"
        "@media print { body { margin: 0; padding: 0; max-width: none; } }\n"
        "</style>\n</head>\n<body>\n<h1>";

/* Safe in a text, and in an attribute in double quotes. */
static void escaped(struct page *page, const char *text)
{
	text = page_safe(page->scratch, text);
	while (*text) {
		size_t plain = strcspn(text, "&<>\"'");

		sink_bytes(page->sink, text, plain);
		text += plain;
		switch (*text) {
		case '&':
			sink_text(page->sink, "&amp;");
			break;
		case '<':
			sink_text(page->sink, "&lt;");
			break;
		case '>':
			sink_text(page->sink, "&gt;");
			break;
		case '"':
			sink_text(page->sink, "&quot;");
			break;
		case '\'':
			sink_text(page->sink, "&#39;");
			break;
		default:
			return;
		}
		text++;
	}
}

static void element(struct page *page, const char *open, const char *text, const char *close)
{
	sink_text(page->sink, open);
	escaped(page, text);
	sink_text(page->sink, close);
}

static void begin(struct page *page, const char *title)
{
	sink_text(page->sink, top);
	escaped(page, title);
	sink_text(page->sink, style);
	element(page, "", title, "</h1>\n");
}

static void end(struct page *page)
{
	sink_text(page->sink, "</body>\n</html>\n");
}

static void head(struct page *page, int level, const char *text)
{
	if (level == 2)
		element(page, "<h2>", text, "</h2>\n");
	else
		element(page, "<h3>", text, "</h3>\n");
}

static void says(struct page *page, const char *text)
{
	element(page, "<p>", text, "</p>\n");
}

static void fill(struct page *page, const char *label)
{
	element(page, "<p class=\"line\">", label, ": <span>&nbsp;</span></p>\n");
}

static void found(struct page *page, int depth, const char *label, const char *value)
{
	sink_print(page->sink, "<p class=\"found in%d\">", depth);
	escaped(page, label);
	if (value && *value)
		element(page, " <b>", value, "</b>");
	sink_text(page->sink, "</p>\n");
}

static void task(struct page *page, size_t number, const char *text)
{
	sink_print(page->sink, "<div class=\"task\">\n<p><b>%zu.</b> ", number);
	element(page, "", text, "</p>\n");
}

static void task_end(struct page *page)
{
	sink_text(page->sink, "</div>\n");
}

static void shown(struct page *page, const char *text)
{
	element(page, "<p class=\"shown\">", text, "</p>\n");
}

static void choice(struct page *page, char letter, const char *text)
{
	sink_print(page->sink, "<p class=\"shown\">&#9744; <b>%c</b> ", letter);
	element(page, "", text, "</p>\n");
}

static void number(struct page *page, const char *unit)
{
	element(page, "<p class=\"line\"><span>&nbsp;</span> ", unit, "</p>\n");
}

const struct paper_ink paper_html_ink = {
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
