/* One value put in place of another. */
#include "../yaml/scalar.h"
#include "splice_inside.h"

#include <string.h>

/* -- one value ------------------------------------------------------------------------ */

static const char *value_text(struct splice *splice, const struct fresh *fresh, struct look look)
{
	struct bytes out = {.arena = splice->arena};

	fresh_write(&out, fresh, look);
	if (out.failed)
		splice_fail(splice);
	return out.failed ? "" : out.text;
}

static const char *print(struct splice *splice, const char *before, const char *text)
{
	const char *both = arena_print(splice->arena, "%s%s", before, text);

	if (both == NULL)
		splice_fail(splice);
	return both == NULL ? "" : both;
}

/* Lines that read the same below |: with at most one line break at the end, and none that would need an indent told. */
static bool can_be_literal(const struct splice *splice, const struct tree *node, const char *text)
{
	size_t length = strlen(text);
	uint32_t end = node->span.at + node->span.length;

	if (length < 2 || strchr(text, '\n') == NULL || text[0] == '\n' || text[0] == ' ' ||
	    (text[length - 1] == '\n' && text[length - 2] == '\n'))
		return false;
	for (const char *line = text; *line != '\0';) {
		size_t count = strcspn(line, "\n");

		if (count > 0 && !scalar_shows(line, count))
			return false;
		line += count + (line[count] == '\n');
	}
	return splice->tree->source->text[node->span.at] == '|' &&
	       line_start(splice->tree->source, end) == end;
}

/* Below | again, at the column of what stood there. */
static void literal_lines(struct splice *splice, const struct tree *node, const char *text,
                          struct bytes *out)
{
	const struct source *source = splice->tree->source;
	uint32_t at = line_next(source, node->span.at);
	struct look look = splice_look(splice, false);

	while (source->text[at + look.column] == ' ')
		look.column++;
	if (look.column <= splice_column(splice, node->key_span.at) ||
	    line_is_blank(source, at, line_end(source, at)))
		look.column = splice_column(splice, node->key_span.at) + 2;
	while (*text != '\0') {
		size_t count = strcspn(text, "\n");

		if (count > 0)
			fresh_line(out, look);
		else
			bytes_text(out, look.line_break);
		bytes_add(out, text, count);
		text += count + (text[count] == '\n');
	}
}

/* The comment after | or > stays on its line. */
static void set_literal(struct splice *splice, const struct tree *node, const struct fresh *fresh,
                        const char *scalar)
{
	const struct source *source = splice->tree->source;
	const struct span *comment =
	        tree_comment_in(splice->tree, node->span.at, line_end(source, node->span.at));
	struct bytes out = {.arena = splice->arena};
	bool lines = fresh->kind == EVENT_SCALAR && can_be_literal(splice, node, fresh->text);

	if (lines)
		bytes_text(&out, fresh->text[strlen(fresh->text) - 1] == '\n' ? "|" : "|-");
	else
		bytes_text(&out, scalar);
	if (comment != NULL) {
		uint32_t after =
		        node->span.at + (uint32_t)strcspn(source->text + node->span.at, " \t");

		bytes_add(&out, source->text + after, comment->at + comment->length - after);
	}
	if (lines)
		literal_lines(splice, node, fresh->text, &out);
	if (out.failed)
		splice_fail(splice);
	else
		splice_edit(splice, node->span.at, tree_end(splice->tree, node), out.text);
}

/* The value goes to the key's line; what stood on lines below goes, but for a comment beside the
 * last. */
static void set_lines(struct splice *splice, const struct tree *node, const char *text)
{
	const struct source *source = splice->tree->source;
	uint32_t colon = tree_after_colon(splice->tree, node), end = tree_end(splice->tree, node);
	uint32_t key_end = line_end(source, colon);
	const struct span *beside = tree_comment_in(splice->tree, end, line_end(source, end));

	splice_drop_comments(splice, key_end, end);
	splice_edit(splice, colon, colon, print(splice, " ", text));
	if (splice_ends_carried(splice, node, &end))
		beside = NULL;
	if (beside != NULL) /* on a line of its own: the key's line may have a comment already */
		splice_edit(splice, line_next(source, key_end), beside->at,
		            arena_print(splice->arena, "%*s",
		                        (int)splice_column(splice, node->key_span.at), ""));
	else
		splice_edit(splice, key_end, end, "");
}

/* A value on the key's line. */
static void set_on_line(struct splice *splice, const struct tree *node, const struct fresh *fresh,
                        const char *text)
{
	uint32_t end = tree_end(splice->tree, node);

	if (tree_is_empty(node)) {
		bool colon = end > node->key_span.at + node->key_span.length;

		splice_edit(splice, end, end, print(splice, colon ? " " : ": ", text));
	} else if (node->literal) {
		set_literal(splice, node, fresh, text);
	} else if (node->kind != EVENT_SCALAR && !node->flow) {
		set_lines(splice, node, text);
	} else {
		splice_drop_comments(splice, node->span.at, end);
		splice_edit(splice, node->span.at, end, text);
	}
}

/* Lines below the key, and below a comment that stands beside it. */
static void set_below(struct splice *splice, const struct tree *node, const struct fresh *fresh)
{
	struct look look = splice_look(splice, false);
	struct bytes out = {.arena = splice->arena};
	uint32_t colon = tree_after_colon(splice->tree, node), end = tree_end(splice->tree, node);

	look.column = splice_column(splice, node->key_span.at) + 2;
	fresh_line(&out, look);
	fresh_write(&out, fresh, look);
	if (out.failed) {
		splice_fail(splice);
		return;
	}
	splice_drop_comments(splice, colon, end);
	if (end > colon)
		splice_edit(splice, colon, end, "");
	end = line_end(splice->tree->source, end);
	splice_edit(splice, end, end, out.text);
}

void splice_set(struct splice *splice, const struct tree *node, const struct fresh *fresh)
{
	bool in_flow = tree_in_flow(node);
	struct look look = splice_look(splice, in_flow);

	if (fresh_in_lines(fresh, in_flow)) {
		set_below(splice, node, fresh);
		return;
	}
	if (fresh->kind == EVENT_SCALAR && node->quote != 0)
		look.quote = node->quote;
	set_on_line(splice, node, fresh, value_text(splice, fresh, look));
}
