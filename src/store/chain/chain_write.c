#include "chain.h"
#include "../yaml/fresh.h"

#include "tundish/store/survey_read.h"
#include "tundish/store/survey_write.h"

#include <string.h>

struct amending {
	const struct survey *survey;
	const struct source *original;
	const struct amender *by;
	struct arena arena;
	struct chain chain; /* of the original */
	struct changes changes;
	bool adopted;
	struct err *err;
};

static const char signing_off[] = "signed off";

static bool no_memory(struct amending *amending)
{
	err_set(amending->err, ERR_MEMORY, "there is no memory to write the amendment");
	return false;
}

bool survey_signed_off(const struct survey *survey)
{
	const struct rulebook *book = survey->book;
	question_index question = rulebook_question(book, SCOPE_PREMISES, INDEX_NONE, "",
	                                            signed_off_key, strlen(signed_off_key));

	return question != QUESTION_NONE && item_answer(survey->premises, question) != NULL;
}

/* -- the entry, but for its head --------------------------------------------------------------- */

/* In place of the head, until the rest is written: as long, and as plain. */
static const char no_head[] = "ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff";

static void add_changes(struct amending *amending, struct fresh *entry)
{
	struct fresh *list = fresh_add(&amending->arena, entry, EVENT_LIST, "changes");

	for (size_t i = 0; list && i < amending->changes.count; i++) {
		const struct change *change = &amending->changes.item[i];
		struct fresh *map = fresh_add(&amending->arena, list, EVENT_MAP, NULL);
		if (!map)
			return;
		map->flow = true;
		fresh_scalar(&amending->arena, map, "where", change->where, false);
		if (change->before)
			fresh_scalar(&amending->arena, map, "before", change->before, false);
		if (change->after)
			fresh_scalar(&amending->arena, map, "after", change->after, false);
	}
}

static void add_parts(struct amending *amending, struct fresh *entry, const struct tree *root)
{
	struct arena *arena = &amending->arena;
	struct fresh *list = fresh_add(arena, entry, EVENT_LIST, "parts");
	size_t count = 0;
	struct chain_part *part = chain_parts(root, arena, &count);

	for (size_t i = 0; list && part && i < count; i++) {
		const char *text = arena_print(arena, "%s %s", part[i].name, part[i].digest);
		if (text)
			fresh_scalar(arena, list, NULL, text, false);
	}
}

const char *survey_surveyor(const struct survey *survey)
{
	static const char id[] = "surveyor";
	question_index question =
	        rulebook_question(survey->book, SCOPE_PREMISES, INDEX_NONE, "", id, sizeof(id) - 1);

	return question == QUESTION_NONE ? NULL : item_text(survey->premises, question);
}

static bool is_signing_off(const struct amending *amending)
{
	return amending->chain.count == 0 && !amending->adopted;
}

static struct fresh *new_entry(struct amending *amending, const struct tree *root)
{
	struct arena *arena = &amending->arena;
	struct fresh *entry = fresh_add(arena, NULL, EVENT_MAP, NULL);
	const char *number = arena_print(arena, "%zu", amending->chain.count + 1);
	const char *who = is_signing_off(amending) ? survey_surveyor(amending->survey) : NULL;
	struct digest state;

	if (!entry || !number || !chain_state(root, arena, &state))
		return NULL;
	fresh_scalar(arena, entry, "sequence", number, true);
	fresh_scalar(arena, entry, "at", amending->by->at, false);
	fresh_scalar(arena, entry, "who", who && *who ? who : amending->by->who, false);
	fresh_scalar(arena, entry, "why",
	             is_signing_off(amending) ? signing_off : amending->by->why, false);
	if (amending->adopted)
		fresh_scalar(arena, entry, "adopted", "yes", true);
	if (amending->changes.count > 0 && !is_signing_off(amending))
		add_changes(amending, entry);
	add_parts(amending, entry, root);
	fresh_scalar(arena, entry, "state", arena_copy(arena, state.text, DIGEST_LENGTH), false);
	fresh_scalar(arena, entry, "head", no_head, false);
	return arena->failed ? NULL : entry;
}

/* -- where it goes ----------------------------------------------------------------------------- */

static bool cannot_add(struct amending *amending)
{
	err_set(amending->err, ERR_CONFLICT,
	        "`amendments` can't be added to as it is written: it is a list with a dash before "
	        "each, at the left edge of the file; nothing was written");
	return false;
}

/* The text with the entry in it, after the last one, or below a new key at the end. */
static bool insert_entry(struct amending *amending, const struct tree_text *tree,
                         struct fresh *entry, struct bytes *out)
{
	const struct source *source = tree->source;
	const struct tree *list = tree_get(tree->root, amendments_key);
	const struct tree *last = list && list->last ? list->last : tree->root;
	struct look look = {.line_break = tree->line_break};
	uint32_t end = tree_end(tree, last), at = line_next(source, end);

	if (tree->root->flow || (list && (list->flow || !list->last)))
		return cannot_add(amending);
	bytes_add(out, source->text, at);
	if (at == line_end(source, end))
		bytes_text(out, look.line_break);
	if (list) {
		uint32_t column = last->dash - line_start(source, last->dash);
		for (uint32_t i = 0; i < column; i++)
			bytes_text(out, " ");
		bytes_text(out, "- ");
		look.column = column + 2;
	} else {
		bytes_text(out, amendments_key);
		bytes_text(out, ":");
		bytes_text(out, look.line_break);
		bytes_text(out, "  - ");
		look.column = 4;
	}
	fresh_write(out, entry, look);
	bytes_text(out, look.line_break);
	bytes_add(out, source->text + at, source->length - at);
	return !out->failed || no_memory(amending);
}

/* -- its head ---------------------------------------------------------------------------------- */

static bool read_tree(struct amending *amending, const struct source *source,
                      struct tree_text *tree)
{
	if (!tree_read_whole(tree, source, &amending->arena, amending->err))
		return false;
	if (tree->root)
		return true;
	err_set(amending->err, ERR_TEXT, "%s can't be read: it says nothing", source->name);
	return false;
}

/* The head of the last entry, put where its place was kept. */
static bool put_head(struct amending *amending, struct bytes *text)
{
	struct source source = {amending->original->name, text->text, text->count};
	struct tree_text tree;
	struct digest head;

	if (!read_tree(amending, &source, &tree))
		return false;
	const struct tree *list = tree_get(tree.root, amendments_key);
	const struct tree *place = list ? tree_get(list->last, "head") : NULL;
	if (!place || place->span.length != DIGEST_LENGTH || strcmp(place->text, no_head) != 0)
		return cannot_add(amending);
	if (!chain_head(amending->chain.head, list->last, &amending->arena, &head))
		return no_memory(amending);
	memcpy(text->text + place->span.at, head.text, DIGEST_LENGTH);
	return true;
}

/* Read again: the chain holds, with one link more, and the rest is as it was. */
static bool check_result(struct amending *amending, const struct bytes *text)
{
	struct source source = {amending->original->name, text->text, text->count};
	struct chain chain;
	struct faults faults;

	faults_init(&faults, &amending->arena);
	if (!chain_read(&source, &amending->arena, &chain, &faults) || chain.broken ||
	    chain.outside || chain.count != amending->chain.count + 1)
		return amending->arena.failed ? no_memory(amending) : cannot_add(amending);
	return true;
}

/* -- all of it --------------------------------------------------------------------------------- */

static bool add_amendment(struct amending *amending, const struct source *text, struct arena *arena,
                          char **out, size_t *out_length)
{
	struct bytes bytes = {.arena = &amending->arena};
	struct tree_text tree;
	struct fresh *entry;

	if (!read_tree(amending, text, &tree))
		return false;
	entry = new_entry(amending, tree.root);
	if (!entry)
		return no_memory(amending);
	if (!insert_entry(amending, &tree, entry, &bytes) || !put_head(amending, &bytes) ||
	    !check_result(amending, &bytes))
		return false;
	*out = arena_copy(arena, bytes.text, bytes.count);
	*out_length = bytes.count;
	return *out || no_memory(amending);
}

static bool read_chain(struct amending *amending)
{
	struct faults faults;

	faults_init(&faults, &amending->arena);
	if (!chain_read(amending->original, &amending->arena, &amending->chain, &faults)) {
		err_set(amending->err, amending->arena.failed ? ERR_MEMORY : ERR_TEXT,
		        "%s can't be read: %s", amending->original->name,
		        faults.count ? faults.item[0].message : "no memory");
		return false;
	}
	if (!amending->chain.broken)
		return true;
	err_set(amending->err, ERR_CONFLICT,
	        "the chain of amendments is broken (`tundish faults --chain` says where): nothing "
	        "was written");
	return false;
}

/* What the original said, against what is to be written. */
static bool find_changes(struct amending *amending, struct survey *old)
{
	struct faults faults;

	faults_init(&faults, &amending->arena);
	if (!survey_read(old, amending->survey->book, amending->original, &faults) ||
	    !survey_compare(old, amending->survey, &amending->arena, &amending->changes))
		return no_memory(amending);
	return true;
}

/* @return whether an amendment goes with the text. */
static bool wants_amendment(const struct amending *amending)
{
	if (amending->chain.count > 0)
		return amending->changes.count > 0;
	return survey_signed_off(amending->survey);
}

static bool write_text(struct amending *amending, struct arena *arena, char **out,
                       size_t *out_length)
{
	struct source text = {.name = amending->original->name};
	char *written = NULL;

	if (!survey_write(amending->survey, amending->original, arena, &written, &text.length,
	                  amending->err))
		return false;
	text.text = written;
	if (wants_amendment(amending))
		return add_amendment(amending, &text, arena, out, out_length);
	*out = written;
	*out_length = text.length;
	return true;
}

bool amendments_write(const struct survey *survey, const struct source *original,
                      const struct amender *by, struct arena *arena, char **out, size_t *out_length,
                      struct err *err)
{
	struct amending amending = {.survey = survey, .original = original, .by = by, .err = err};
	struct survey old = {0};
	bool ok = read_chain(&amending) && find_changes(&amending, &old);

	if (ok && amending.chain.outside && amending.chain.count > 0) {
		err_set(err, ERR_CONFLICT,
		        "the file was changed outside tundish since its last amendment: see "
		        "`tundish faults --chain`, then `tundish amend --adopt`; nothing was "
		        "written");
		ok = false;
	}
	ok = ok && write_text(&amending, arena, out, out_length);
	survey_finish(&old);
	arena_finish(&amending.arena);
	return ok;
}

bool amendments_adopt(const struct survey *survey, const struct source *original,
                      const struct amender *by, struct arena *arena, char **out, size_t *out_length,
                      struct err *err)
{
	struct amending amending = {
	        .survey = survey, .original = original, .by = by, .adopted = true, .err = err};
	bool ok = read_chain(&amending);

	if (ok && !amending.chain.outside) {
		err_set(err, ERR_USAGE, "nothing was changed outside: there is nothing to adopt");
		ok = false;
	}
	ok = ok && add_amendment(&amending, original, arena, out, out_length);
	arena_finish(&amending.arena);
	return ok;
}

bool amendments_canonical(const struct source *source, struct sink *out, struct err *err)
{
	struct arena arena = {0};
	struct tree_text tree;
	bool ok = tree_read_whole(&tree, source, &arena, err);

	if (ok && !canonical_write(tree.root, amendments_key, &arena, out)) {
		err_set(err, ERR_MEMORY, "there is no memory for the canonical form");
		ok = false;
	}
	arena_finish(&arena);
	return ok;
}
