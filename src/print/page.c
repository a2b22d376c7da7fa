#include "tundish/print/page.h"

#include "tundish/base/text.h"

#include <string.h>

/* What a terminal could take for an order: C0, DEL, and C1 (U+0080 to U+009F,
 * two bytes from 0xc2). */
static bool is_control(const char *text, size_t length)
{
	unsigned char first = (unsigned char)text[0];

	if (first < 0x20 || first == 0x7f)
		return true;
	return first == 0xc2 && length > 1 && (unsigned char)text[1] < 0xa0;
}

static bool is_safe(const char *text, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		if (is_control(text + i, length - i))
			return false;
	}
	return text_is_utf8(text, length, NULL);
}

static size_t character_length(const char *text, size_t length)
{
	size_t most = length < 4 ? length : 4;

	for (size_t n = 1; n <= most; n++) {
		if (text_is_utf8(text, n, NULL))
			return n;
	}
	return 0;
}

const char *page_safe(struct arena *scratch, const char *text)
{
	if (!text)
		return "";
	size_t length = strlen(text);
	if (is_safe(text, length))
		return text;
	char *copy = arena_take(scratch, length + 1);
	if (!copy)
		return "";
	size_t count = 0;
	for (size_t at = 0; at < length;) {
		size_t n = character_length(text + at, length - at);
		bool blank = strchr("\n\r\t", text[at]) != NULL;
		if (n == 0 || is_control(text + at, length - at)) {
			copy[count++] = blank ? ' ' : '?';
		} else {
			memcpy(copy + count, text + at, n);
			count += n;
		}
		at += n ? n : 1;
	}
	copy[count] = '\0';
	return copy;
}

static void blanks(struct sink *sink, int count)
{
	static const char many[PAGE_COLUMNS + 1] = "                                        "
	                                           "                                        ";

	if (count > 0)
		sink_bytes(sink, many, (size_t)(count < PAGE_COLUMNS ? count : PAGE_COLUMNS));
}

void page_prose(struct page *page, const char *lead, int indent, const char *text)
{
	const char *left = page_safe(page->scratch, lead);
	const char *rest = page_safe(page->scratch, text);
	int width = text_width(left, strlen(left));

	rest += strspn(rest, " ");
	sink_text(page->sink, left);
	if (*rest && width > 0 && width >= indent) {
		sink_text(page->sink, "\n");
		width = 0;
	}
	while (*rest) {
		size_t length = text_wrap(rest, strlen(rest), PAGE_COLUMNS - indent);
		blanks(page->sink, indent - width);
		sink_bytes(page->sink, rest, length);
		rest += length;
		rest += strspn(rest, " ");
		width = 0;
		if (*rest)
			sink_text(page->sink, "\n");
	}
	sink_text(page->sink, "\n");
}

void page_cell(struct page *page, const char *text, int columns)
{
	const char *safe = page_safe(page->scratch, text);
	size_t length = strlen(safe);
	int width = text_width(safe, length);

	if (width > columns) {
		length = text_fit(safe, length, columns - 1);
		width = text_width(safe, length) + 1;
		sink_bytes(page->sink, safe, length);
		sink_text(page->sink, "~");
	} else {
		sink_bytes(page->sink, safe, length);
	}
	blanks(page->sink, columns - width);
}
