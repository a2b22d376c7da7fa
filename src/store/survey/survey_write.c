#include "tundish/store/survey_write.h"

#include "../splice/splice.h"
#include "survey_fresh.h"
#include "survey_keep.h"

#include "tundish/store/survey_read.h"

#include <string.h>

/* Everything that is needed to write one text, and goes when it is written. */
struct writing {
	const struct survey *survey;
	const struct source *original;
	struct arena arena;
	struct survey old, again; /* what the original says, and the result */
	struct tree_text tree;
	struct faults faults;
	bool *gone; /* comments that went with what they stood in */
	struct bytes out;
	struct err *err;
};

static bool no_memory(struct writing *writing)
{
	err_set(writing->err, ERR_MEMORY, "there is no memory to write the survey");
	return false;
}

static bool starved(const struct writing *writing)
{
	return writing->arena.failed || writing->old.arena.failed || writing->again.arena.failed;
}

static const struct fault *first_fault(const struct faults *faults)
{
	for (size_t i = 0; i < faults->count; i++)
		if (faults->item[i].severity == SEVERITY_FAULT)
			return &faults->item[i];
	return NULL;
}

/* -- before --------------------------------------------------------------------------- */

static bool read_original(struct writing *writing)
{
	const struct source *original = writing->original;
	const struct fault *fault;

	if (survey_read(&writing->old, writing->survey->book, original, &writing->faults) &&
	    tree_read(&writing->tree, original, &writing->arena, &writing->faults)) {
		writing->gone = arena_take(&writing->arena, writing->tree.comment_count);
		return writing->gone != NULL || no_memory(writing);
	}
	fault = first_fault(&writing->faults);
	if (starved(writing) || fault == NULL)
		return no_memory(writing);
	err_set(writing->err, ERR_TEXT,
	        "%s can't be read any more (line %zu: %s): nothing was written", original->name,
	        source_place(original, fault->span.at).line, fault->message);
	return false;
}

/* @return whether anything differs; -1: no memory. */
static int differs(struct writing *writing)
{
	struct changes changes;

	if (!survey_compare(&writing->old, writing->survey, &writing->arena, &changes))
		return -1;
	return changes.count > 0;
}

/* -- writing -------------------------------------------------------------------------- */

/* Comments and `---` alone: they stay on top. */
static void write_new(struct writing *writing, const struct fresh *to)
{
	const struct source *original = writing->original;
	uint32_t end = (uint32_t)original->length;
	struct look look = {.line_break = writing->tree.line_break};

	bytes_add(&writing->out, original->text, end);
	if (end > 0 && line_start(original, end) != end)
		bytes_text(&writing->out, look.line_break);
	fresh_write(&writing->out, to, look);
	bytes_text(&writing->out, look.line_break);
}

static bool write_text(struct writing *writing)
{
	struct folded folded = {0};
	struct fresh *from, *to;

	writing->out.arena = &writing->arena;
	if (!folded_find(&folded, writing->tree.root, &writing->old, &writing->arena))
		return no_memory(writing);
	from = survey_fresh(&writing->old, &folded, &writing->arena);
	to = survey_fresh(writing->survey, &folded, &writing->arena);
	if (from == NULL || to == NULL)
		return no_memory(writing);
	if (writing->tree.root != NULL)
		return splice_text(&writing->tree, from, to, &writing->out, writing->gone,
		                   writing->err);
	write_new(writing, to);
	return !writing->out.failed || no_memory(writing);
}

/* -- after ---------------------------------------------------------------------------- */

static bool is_path_of(struct writing *writing, const struct item *item, question_index question,
                       const char *where)
{
	const char *path = survey_where(writing->survey, item, question, &writing->arena);
	size_t length = path == NULL ? 0 : strlen(path);

	if (path == NULL || strncmp(path, where, length) != 0)
		return false;
	return where[length] == '\0' || (item->scope == SCOPE_INLET && question == QUESTION_NONE &&
	                                 strcmp(where + length, "/protection") == 0);
}

/* Whether a path names the item, what it holds, or an answer of theirs. */
static bool is_below(struct writing *writing, const struct item *item, const char *where)
{
	if (is_path_of(writing, item, QUESTION_NONE, where))
		return true;
	for (size_t i = 0; i < item->answer_count; i++)
		if (is_path_of(writing, item, item->answer[i].question, where))
			return true;
	for (size_t i = 0; i < item->child_count; i++)
		if (is_below(writing, item->child[i], where))
			return true;
	return false;
}

/* An answer that is there, but that nobody asks for. */
static bool is_stale(struct writing *writing, const struct item *item, const char *where)
{
	struct asked asked;

	for (size_t i = 0; i < item->child_count; i++)
		if (item->child[i]->scope == SCOPE_TEST && is_stale(writing, item->child[i], where))
			return true;
	for (size_t i = 0; i < item->answer_count; i++) {
		if (!is_path_of(writing, item, item->answer[i].question, where))
			continue;
		if (!survey_asked(writing->survey, item, &writing->arena, &asked))
			return false;
		for (size_t j = 0; j < asked.count; j++)
			if (asked.question[j] == item->answer[i].question)
				return false;
		return true;
	}
	return false;
}

/*
 * When a kind or type changes, two things may differ and are right: an answer that nobody asks for
 * any more stands in the text, but is not read; and what could not be placed before has got a
 * meaning.
 */
static bool follows_from_kind(struct writing *writing, const struct item *item,
                              const struct change *change)
{
	const struct item *old = survey_find(&writing->old, item->ref, strlen(item->ref));
	const struct item *again = survey_find(&writing->again, item->ref, strlen(item->ref));

	for (size_t i = 0; i < item->child_count; i++)
		if (follows_from_kind(writing, item->child[i], change))
			return true;
	if ((item->scope != SCOPE_POINT && item->scope != SCOPE_PROTECTION) || again == NULL)
		return false;
	if (change->after == NULL)
		return is_stale(writing, item, change->where);
	return change->before == NULL && old != NULL && old->of != item->of &&
	       is_below(writing, again, change->where) && !is_below(writing, old, change->where);
}

static bool says_what_it_should(struct writing *writing)
{
	struct changes changes;

	if (!survey_compare(writing->survey, &writing->again, &writing->arena, &changes))
		return no_memory(writing);
	for (size_t i = 0; i < changes.count; i++) {
		const struct change *change = &changes.item[i];

		if (follows_from_kind(writing, writing->survey->premises, change))
			continue;
		err_set(writing->err, ERR_CONFLICT,
		        "`%.100s` would read `%.60s` instead of `%.60s` after saving: nothing was "
		        "written",
		        change->where, change->after == NULL ? "(nothing)" : change->after,
		        change->before == NULL ? "(nothing)" : change->before);
		return false;
	}
	return true;
}

static bool read_result(struct writing *writing, struct tree_text *tree,
                        const struct source *source)
{
	struct faults faults;
	const struct fault *fault;

	faults_init(&faults, &writing->arena);
	if (survey_read(&writing->again, writing->survey->book, source, &faults) &&
	    tree_read(tree, source, &writing->arena, &faults))
		return true;
	fault = first_fault(&faults);
	if (starved(writing) || fault == NULL)
		return no_memory(writing);
	err_set(writing->err, ERR_CONFLICT,
	        "saving would make a file that can't be read (line %zu: %s): nothing was written",
	        source_place(source, fault->span.at).line, fault->message);
	return false;
}

static bool check_result(struct writing *writing)
{
	struct source source = {writing->original->name, writing->out.text, writing->out.count};
	struct tree_text tree;

	return read_result(writing, &tree, &source) && says_what_it_should(writing) &&
	       keeps_unknown(&writing->tree, &tree, writing->survey, &writing->arena,
	                     writing->err) &&
	       keeps_comments(&writing->tree, writing->gone, &tree, &writing->arena, writing->err);
}

static bool write_all(struct writing *writing)
{
	int difference;

	if (!read_original(writing))
		return false;
	difference = differs(writing);
	if (difference < 0)
		return no_memory(writing);
	if (difference == 0 && writing->tree.root != NULL) {
		writing->out.arena = &writing->arena;
		bytes_add(&writing->out, writing->original->text, writing->original->length);
		return !writing->out.failed || no_memory(writing);
	}
	return write_text(writing) && check_result(writing);
}

bool survey_write(const struct survey *survey, const struct source *original, struct arena *arena,
                  char **out, size_t *out_length, struct err *err)
{
	struct writing writing = {.survey = survey, .original = original, .err = err};
	bool written;

	arena_init(&writing.arena);
	faults_init(&writing.faults, &writing.arena);
	written = write_all(&writing);
	if (written) {
		*out = arena_copy(arena, writing.out.text, writing.out.count);
		*out_length = writing.out.count;
		written = *out != NULL || no_memory(&writing);
	}
	survey_finish(&writing.old);
	survey_finish(&writing.again);
	arena_finish(&writing.arena);
	return written;
}
