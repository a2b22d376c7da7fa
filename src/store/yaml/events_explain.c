/* What libyaml refuses, in plain words and at the place to look at. */
#include "events.h"

#include <string.h>

/* clang-format off */
static const struct {
	const char *problem; /* libyaml's; compared by its beginning */
	const char *says;
	bool at_context; /* the place to look at is where the thing began */
} plain_words[] = {
	{"found unexpected end of stream", "this quote is never closed", true},
	{"found unexpected document indicator", "this quote is never closed", true},
	{"did not find expected ',' or ']'",
	 "this `[` is never closed, or a comma is missing in it", true},
	{"did not find expected ',' or '}'",
	 "this `{` is never closed, or a comma is missing in it", true},
	{"could not find expected ':'", "a key needs a colon and a blank after it", true},
	{"mapping values are not allowed",
	 "a colon is not expected here: quote a text that holds `: `, or mend the indent", false},
	{"did not find expected key", "the indent of this line fits nothing above it", false},
	{"did not find expected '-' indicator",
	 "a list goes on with a dash at the same indent", false},
	{"block sequence entries are not allowed", "a list can't start on this line", false},
	{"found a tab character", "a tab: indent with blanks", false},
	{"found unknown escape character",
	 "no such escape: use single quotes, or double the backslash", false},
};
/* clang-format on */

static void syntax_fault(struct events *events)
{
	const yaml_parser_t *parser = &events->parser;
	const yaml_mark_t *mark = &parser->problem_mark;
	const char *problem = parser->problem ? parser->problem : "no reason given";
	struct span span = {events_byte(events, mark->index), 0};
	const char *text = events->source->text;

	if (span.at < events->source->length && text[span.at] == '\t' &&
	    strncmp(problem, "found character that cannot start", 33) == 0) {
		fault_add(events->faults, SEVERITY_FAULT, events->source, span,
		          "not YAML: a tab: indent with blanks");
		return;
	}
	for (size_t i = 0; i < sizeof(plain_words) / sizeof(plain_words[0]); i++) {
		if (strncmp(problem, plain_words[i].problem, strlen(plain_words[i].problem)) != 0)
			continue;
		if (plain_words[i].at_context)
			span.at = events_byte(events, parser->context_mark.index);
		fault_add(events->faults, SEVERITY_FAULT, events->source, span, "not YAML: %s",
		          plain_words[i].says);
		return;
	}
	fault_add(events->faults, SEVERITY_FAULT, events->source, span, "not YAML: %s", problem);
}

static bool looks_like_utf16(const struct source *source)
{
	const unsigned char *text = (const unsigned char *)source->text;

	if (source->length < 2)
		return false;
	return (text[0] == 0xFF && text[1] == 0xFE) || (text[0] == 0xFE && text[1] == 0xFF) ||
	       (text[0] == 0) != (text[1] == 0);
}

/* Reader errors have an offset in bytes, and no mark. */
static void reader_fault(struct events *events)
{
	size_t offset = events->parser.problem_offset + source_bom(events->source);
	struct span span = {0, 0};

	if (looks_like_utf16(events->source)) {
		fault_add(events->faults, SEVERITY_FAULT, events->source, span,
		          "this looks like UTF-16: save it as UTF-8");
		return;
	}
	span.at = (uint32_t)(offset < events->source->length ? offset : events->source->length);
	if (events->parser.problem && strstr(events->parser.problem, "control characters"))
		fault_add(events->faults, SEVERITY_FAULT, events->source, span,
		          "a control character can't stand in a text");
	else
		fault_add(events->faults, SEVERITY_FAULT, events->source, span,
		          "not UTF-8 from here on");
}

void events_explain(struct events *events)
{
	struct span nowhere = {0, 0};

	switch (events->parser.error) {
	case YAML_MEMORY_ERROR:
		fault_add(events->faults, SEVERITY_FAULT, events->source, nowhere,
		          "no memory to read this");
		break;
	case YAML_READER_ERROR:
		reader_fault(events);
		break;
	case YAML_NO_ERROR:
	case YAML_SCANNER_ERROR:
	case YAML_PARSER_ERROR:
	case YAML_COMPOSER_ERROR:
	case YAML_WRITER_ERROR:
	case YAML_EMITTER_ERROR:
		syntax_fault(events);
		break;
	}
}
