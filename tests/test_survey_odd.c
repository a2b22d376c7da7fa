/*
 * Surveys written by hand in every manner there is (tests/odd), each edited 200 times at random: only lines that hold what was
 * edited change, nothing else is lost, and the result says what the survey says.
 *
 * The judge here knows nothing of splices. It holds two texts against each other by lines, and then by characters with all that
 * was edited cut out of both.
 */
#include "tundish/store/survey_write.h"

#include "tundish/store/file.h"
#include "tundish/store/rulebook_read.h"
#include "tundish/store/survey_read.h"

#include "../src/store/yaml/tree.h"
#define RANDOM_CHANGE_IN_PARTS
#include "random_change.h"
#include "suite.h"
#include "texts.h"

#include <check.h>
#include <stdlib.h>

static const char *const files[] = {
        "comments", "flow_line", "flow_lines", "crlf",   "bom",   "bom_crlf_json", "tabs",
        "emoji",    "deep",      "texts",      "theirs", "empty", "dashes",
};

enum { EDITS = 200, TOUCHED_MOST = 64, LINES_MOST = 400 };

static struct rulebook book;
static struct arena book_arena, arena;
static struct survey survey;
static struct source original;

/* Once, before the tests fork. */
static void read_book(void)
{
	const struct source *texts[] = {small_book()};
	struct faults faults;

	faults_init(&faults, &book_arena);
	ck_assert(rulebook_read(&book, texts, 1, date_day(2026, 11, 25), &faults));
}

static void forget_book(void)
{
	rulebook_finish(&book);
	arena_finish(&book_arena);
}

static void setup(void)
{
	arena_init(&arena);
	survey = (struct survey){0};
}

static void teardown(void)
{
	survey_finish(&survey);
	arena_finish(&arena);
}

static void read_into(struct survey *into, const struct source *source)
{
	struct faults faults;

	faults_init(&faults, &arena);
	if (!survey_read(into, &book, source, &faults))
		ck_abort_msg("%s\n%s", fault_text(&faults.item[0], &arena), source->text);
}

static void open_file(int number)
{
	struct err err = {0};

	ck_assert_msg(file_read(arena_print(&arena, TUNDISH_TESTS "/odd/%s.yaml", files[number]),
	                        &arena, &original, NULL, &err),
	              "%s", err.message);
	read_into(&survey, &original);
}

/* -- what an edit touches -------------------------------------------------------------------------- */

struct edit {
	const char *kind;
	struct changes changes;
	const char *touches[TOUCHED_MOST]; /* refs of items and paths of answers, before or after */
	size_t touch_count;
};

static void add_change(struct edit *edit, const char *where, const char *before, const char *after)
{
	struct changes *changes = &edit->changes;

	changes->item = arena_grow(&arena, changes->item, changes->count, &changes->room,
	                           sizeof(*changes->item));
	ck_assert_ptr_nonnull(changes->item);
	changes->item[changes->count++] = (struct change){where, before, after};
}

static void touch(struct edit *edit, const char *what)
{
	ck_assert_uint_lt(edit->touch_count, TOUCHED_MOST);
	edit->touches[edit->touch_count++] = what;
}

/* Bytes of one text, by first and past the last; sorted by nothing. */
struct cuts {
	uint32_t from[TOUCHED_MOST * 4], to[TOUCHED_MOST * 4];
	size_t count,
	        own; /* own: of what was edited, not of what goes with the last of its entries */
};

static void cut(struct cuts *cuts, const struct tree_text *text, const struct tree *node)
{
	ck_assert_uint_lt(cuts->count, TOUCHED_MOST * 4);
	cuts->from[cuts->count] = tree_entry_start(node);
	cuts->to[cuts->count++] = tree_end(text, node);
}

static const struct tree *item_of(const struct tree *node, const char *ref, size_t length)
{
	const struct tree *own = node->kind == EVENT_MAP ? tree_get(node, "ref") : NULL;

	if (own && own->kind == EVENT_SCALAR && own->length == length &&
	    memcmp(own->text, ref, length) == 0)
		return node;
	for (const struct tree *child = node->child; child; child = child->next) {
		const struct tree *found = item_of(child, ref, length);
		if (found)
			return found;
	}
	return NULL;
}

/* `K1/answers/spout` by its keys, as far as they are there; an inlet may be written on the point. */
static void cut_path(struct cuts *cuts, const struct tree_text *text, const char *path)
{
	const struct tree *node = text->root;

	if (strncmp(path, "parts/", 6) == 0)
		path = arena_print(&arena, "premises/%s", path);
	const char *slash = strchr(path, '/');
	size_t length = slash ? (size_t)(slash - path) : strlen(path);

	if (!tree_get(node, arena_copy(&arena, path, length)))
		node = item_of(node, path, length);
	else
		slash = path - 1;
	if (!slash && node)
		cut(cuts, text, node);
	while (node && slash) {
		const char *key = slash + 1;
		slash = strchr(key, '/');
		length = slash ? (size_t)(slash - key) : strlen(key);
		const struct tree *next = node->kind == EVENT_LIST
		                                  ? item_of(node, key, length)
		                                  : tree_get(node, arena_copy(&arena, key, length));
		if (!next && !node->child)
			cut(cuts, text, node);
		if (!next && strncmp(key, "inlets/", 7) == 0) {
			slash = strchr(slash + 1, '/'); /* written on the point */
			continue;
		}
		if (next && !slash)
			cut(cuts, text, next);
		node = next;
	}
}

static void cut_folded(struct cuts *cuts, const struct tree_text *text, const char *path)
{
	const char *inlets = strstr(path, "/inlets/");
	const struct tree *point;

	if (!inlets || strchr(inlets + 8, '/'))
		return;
	point = item_of(text->root, path, (size_t)(inlets - path));
	for (const struct tree *child = point ? point->child : NULL; child; child = child->next)
		if (strcmp(child->key, "fed_by") == 0 || strcmp(child->key, "protection") == 0)
			cut(cuts, text, child);
}

/* What holds nothing but what is cut goes or comes with it: a list's last item, a map's last answer. */
static void widen(struct cuts *cuts, const struct tree_text *text, const struct tree *node)
{
	bool all = node->child != NULL;

	for (const struct tree *child = node->child; child; child = child->next) {
		bool is_cut = false;
		widen(cuts, text, child);
		for (size_t i = 0; i < cuts->count; i++)
			is_cut |= cuts->from[i] <= tree_entry_start(child) &&
			          tree_end(text, child) <= cuts->to[i];
		all &= is_cut;
	}
	if (all && node->parent)
		cut(cuts, text, node);
}

static void find_cuts(const struct edit *edit, const struct source *source, struct tree_text *text,
                      struct cuts *cuts)
{
	struct faults faults;

	faults_init(&faults, &arena);
	ck_assert(tree_read(text, source, &arena, &faults));
	cuts->count = 0;
	for (size_t i = 0; i < edit->touch_count; i++) {
		cut_path(cuts, text, edit->touches[i]);
		cut_folded(cuts, text, edit->touches[i]);
	}
	cuts->own = cuts->count;
	widen(cuts, text, text->root);
}

/* -- the judge, by characters ---------------------------------------------------------------------- */

/* What holds entries together, and may come and go with one of them. */
static bool is_glue(char c)
{
	return strchr(" ,:-\t\r\n{}[]\"", c) != NULL;
}

static bool is_cut(const struct cuts *cuts, size_t at)
{
	for (size_t i = 0; i < cuts->count; i++)
		if (cuts->from[i] <= at && at < cuts->to[i])
			return true;
	return false;
}

static bool is_comment(const struct tree_text *text, size_t at)
{
	for (size_t i = 0; i < text->comment_count; i++)
		if (text->comment[i].at <= at && at - text->comment[i].at < text->comment[i].length)
			return true;
	return false;
}

struct lines {
	const char *at[LINES_MOST];
	size_t length[LINES_MOST], count;
};

struct side {
	const struct source *source;
	struct tree_text text;
	struct cuts cuts;
	struct lines lines;
	bool same[LINES_MOST]; /* lines that the other side has too */
};

static bool counts(const struct side *side, size_t at)
{
	return !is_glue(side->source->text[at]) && !is_cut(&side->cuts, at) &&
	       !is_comment(&side->text, at);
}

/* With what was edited cut out, one text is the other, but for glue. Comments: below. */
static void assert_rest_is_kept(const char *title, const struct side *a, const struct side *b)
{
	const struct source *from = a->source, *to = b->source;
	size_t i = 0, j = 0;

	for (;;) {
		while (i < from->length && !counts(a, i))
			i++;
		while (j < to->length && !counts(b, j))
			j++;
		if (i == from->length && j == to->length)
			return;
		ck_assert_msg(i < from->length && j < to->length && from->text[i] == to->text[j],
		              "%s: byte %zu is not kept, %zu is there instead\n%s\n=>\n%s", title,
		              i, j, from->text, to->text);
		i++, j++;
	}
}

/* -- comments -------------------------------------------------------------------------------------- */

static bool same_comment(const struct side *a, size_t i, const struct side *b, size_t j)
{
	struct span one = a->text.comment[i], other = b->text.comment[j];

	return one.length == other.length &&
	       memcmp(a->source->text + one.at, b->source->text + other.at, one.length) == 0;
}

/* All are there, in their order. What is deleted takes those within it along. */
static void assert_comments_in_order(const char *title, const struct side *a, const struct side *b,
                                     bool deleted)
{
	size_t j = 0;

	for (size_t i = 0; i < a->text.comment_count; i++) {
		if (j < b->text.comment_count && same_comment(a, i, b, j)) {
			j++;
			continue;
		}
		ck_assert_msg(deleted && is_cut(&a->cuts, a->text.comment[i].at),
		              "%s: the comment at byte %u is not kept\n%s\n=>\n%s", title,
		              a->text.comment[i].at, a->source->text, b->source->text);
	}
	ck_assert_msg(j == b->text.comment_count, "%s: comments more than before\n%s", title,
	              b->source->text);
}

static bool goes_with_list(const struct side *side, size_t comment)
{
	uint32_t at = side->text.comment[comment].at;

	for (size_t i = 0; i < side->cuts.own; i++)
		if (side->cuts.from[i] <= at && at < side->cuts.to[i])
			return false;
	return is_cut(&side->cuts, at);
}

/* What is moved takes its own along: none is lost but with a list that is empty now, and none is there twice. */
static void assert_comments_anywhere(const char *title, const struct side *a, const struct side *b)
{
	bool taken[LINES_MOST + 1] = {false};

	for (size_t i = 0; i < a->text.comment_count; i++) {
		size_t j = 0;
		while (j < b->text.comment_count && (taken[j] || !same_comment(a, i, b, j)))
			j++;
		taken[j] = true;
		ck_assert_msg(j < b->text.comment_count || goes_with_list(a, i),
		              "%s: the comment at byte %u is lost\n%s\n=>\n%s", title,
		              a->text.comment[i].at, a->source->text, b->source->text);
	}
	for (size_t j = 0; j < b->text.comment_count; j++)
		ck_assert_msg(taken[j], "%s: a comment more\n%s", title, b->source->text);
}

/* -- the judge, by lines --------------------------------------------------------------------------- */

static void split(const struct source *source, struct lines *lines)
{
	const char *text = source->text, *end = text + source->length;

	lines->count = 0;
	while (text < end) {
		const char *stop = memchr(text, '\n', (size_t)(end - text));
		ck_assert_uint_lt(lines->count, LINES_MOST);
		lines->at[lines->count] = text;
		lines->length[lines->count++] = (size_t)((stop ? stop : end) - text);
		text = stop ? stop + 1 : end;
	}
}

static bool same_line(const struct lines *a, size_t i, const struct lines *b, size_t j)
{
	return a->length[i] == b->length[j] && memcmp(a->at[i], b->at[j], a->length[i]) == 0;
}

/* Lines of both that are on the longest common run: the others are what a diff shows. */
static void compare_lines(const struct lines *a, const struct lines *b, bool *a_same, bool *b_same)
{
	static uint16_t best[LINES_MOST + 1][LINES_MOST + 1];

	memset(best, 0, sizeof(best));
	for (size_t i = a->count; i-- > 0;)
		for (size_t j = b->count; j-- > 0;) {
			uint16_t skip =
			        best[i + 1][j] > best[i][j + 1] ? best[i + 1][j] : best[i][j + 1];
			best[i][j] =
			        same_line(a, i, b, j) ? (uint16_t)(best[i + 1][j + 1] + 1) : skip;
			if (best[i][j] < skip)
				best[i][j] = skip;
		}
	for (size_t i = 0, j = 0; i < a->count && j < b->count;) {
		if (same_line(a, i, b, j) && best[i][j] == best[i + 1][j + 1] + 1)
			a_same[i++] = b_same[j++] = true;
		else if (best[i + 1][j] >= best[i][j + 1])
			i++;
		else
			j++;
	}
}

/* Whether a line holds something that was edited. A comment that moves with it stands above it. */
static bool may_change(const struct side *side, size_t line, bool moves)
{
	size_t from = (size_t)(side->lines.at[line] - side->source->text);
	size_t to = from + side->lines.length[line], first = from;

	while (first < to && strchr(" \t\r", side->source->text[first]))
		first++;
	if (first == to || (moves && is_comment(&side->text, first)))
		return true; /* blank lines and comments are counted */
	for (size_t i = 0; i < side->cuts.count; i++)
		if (side->cuts.from[i] <= to && from <= side->cuts.to[i])
			return true;
	return false;
}

/* Lines that may differ are left out, so that the rest lines up. */
static void leave_out(struct side *side, bool moves)
{
	size_t kept = 0;

	for (size_t i = 0; i < side->lines.count; i++) {
		if (may_change(side, i, moves))
			continue;
		side->lines.at[kept] = side->lines.at[i];
		side->lines.length[kept++] = side->lines.length[i];
	}
	side->lines.count = kept;
}

/*
 * A line that is not the same lost or gained glue alone, as was seen above: a comma, a dash or a bracket, where an entry begins
 * or ends beside it. There are no more such places than the line before and the line after, at either end of a move.
 */
static void assert_lines(const char *title, const struct side *a, const struct side *b, bool moves)
{
	size_t joined = 0;

	for (size_t i = 0; i < a->lines.count; i++) {
		if (a->same[i])
			continue;
		ck_assert_msg(++joined <= (moves ? 4u : 2u),
		              "%s: a line that holds nothing that was edited: %.*s\n%s\n=>\n%s",
		              title, (int)a->lines.length[i], a->lines.at[i], a->source->text,
		              b->source->text);
	}
}

static void look_at(const struct edit *edit, const struct source *source, bool moves,
                    struct side *side)
{
	side->source = source;
	find_cuts(edit, source, &side->text, &side->cuts);
	split(source, &side->lines);
	leave_out(side, moves);
	memset(side->same, 0, sizeof(side->same));
}

static void judge(const struct edit *edit, const struct source *out)
{
	static struct side before, after;
	const char *title = arena_print(&arena, "%s %s", edit->kind, edit->changes.item[0].where);
	bool deletes = strcmp(edit->kind, "delete") == 0 || strcmp(edit->kind, "unset") == 0;
	bool moves = strcmp(edit->kind, "move") == 0 || strcmp(edit->kind, "reorder") == 0;

	look_at(edit, &original, moves, &before);
	look_at(edit, out, moves, &after);
	compare_lines(&before.lines, &after.lines, before.same, after.same);
	assert_rest_is_kept(title, &before, &after);
	if (moves)
		assert_comments_anywhere(title, &before, &after);
	else
		assert_comments_in_order(title, &before, &after, deletes);
	assert_lines(title, &before, &after, moves);
	assert_lines(title, &after, &before, moves);
}

/* -- edits ----------------------------------------------------------------------------------------- */

static bool makes_another_kind(question_index question)
{
	return book.question[question].form == FORM_KIND ||
	       book.question[question].form == FORM_TYPE;
}

static bool edit_answer(struct edit *edit, struct dice *dice, const char *kind, bool there,
                        bool stays)
{
	const struct item *item = any_item(&survey, dice);
	struct asked asked;
	question_index question;
	const char *before, *after;

	if (!survey_asked(&survey, item, &arena, &asked) || asked.count == 0)
		return false;
	question = asked.question[roll(dice, asked.count)];
	before = item_text(item, question);
	after = stays ? any_value(&survey, item, question, dice, &arena) : NULL;
	if ((before != NULL) != there || (after != NULL) != stays ||
	    (there && makes_another_kind(question)) ||
	    (before && after && strcmp(before, after) == 0))
		return false;
	if (strcmp(kind, "name") == 0 && strcmp(book.question[question].id, "name") != 0)
		return false;
	edit->kind = kind;
	add_change(edit, survey_where(&survey, item, question, &arena), before, after);
	touch(edit, edit->changes.item[0].where);
	return true;
}

static bool edit_set(struct edit *edit, struct dice *dice)
{
	return edit_answer(edit, dice, "set", true, true);
}

static bool edit_insert(struct edit *edit, struct dice *dice)
{
	return edit_answer(edit, dice, "insert", false, true);
}

static bool edit_unset(struct edit *edit, struct dice *dice)
{
	return edit_answer(edit, dice, "unset", true, false);
}

static bool edit_name(struct edit *edit, struct dice *dice)
{
	return edit_answer(edit, dice, "name", true, true);
}

/* An item's list is on its inlet, if it is one of protections: what the inlet said of it goes. */
static void touch_item(struct edit *edit, const struct item *item)
{
	const struct item *parent = item->parent;

	touch(edit, survey_where(&survey, item, QUESTION_NONE, &arena));
	if (parent->scope == SCOPE_INLET && item_children(parent, SCOPE_PROTECTION) <= 1)
		touch(edit, arena_print(&arena, "%s/inlets/%s/protection", parent->parent->ref,
		                        parent->ref));
}

static struct item *any_item_of(struct dice *dice, unsigned scopes)
{
	for (int i = 0; i < 60; i++) {
		struct item *item = any_item(&survey, dice);
		if (item && item->parent && scopes >> item->scope & 1)
			return item;
	}
	return NULL;
}

static bool edit_delete(struct edit *edit, struct dice *dice)
{
	const struct item *item = any_item_of(dice, ~0u);

	if (!item || is_named(&survey, survey.premises, item->ref))
		return false;
	edit->kind = "delete";
	add_change(edit, survey_where(&survey, item, QUESTION_NONE, &arena), "", NULL);
	touch_item(edit, item);
	return true;
}

static bool edit_add(struct edit *edit, struct dice *dice)
{
	const struct item *parent = any_item(&survey, dice);
	struct change change;

	if (!change_add(&survey, parent, dice, &arena, &change))
		return false;
	edit->kind = "add";
	add_change(edit, change.where, NULL, change.after);
	touch(edit, change.where);
	if (parent->scope == SCOPE_INLET)
		touch(edit, arena_print(&arena, "%s/inlets/%s/protection", parent->parent->ref,
		                        parent->ref));
	return true;
}

static size_t place_of(const struct item *item)
{
	size_t place = 0;

	while (item_child(item->parent, item->scope, place) != item)
		place++;
	return place;
}

/* Two neighbours that change places: either may be the one that was moved. */
static bool edit_reorder(struct edit *edit, struct dice *dice)
{
	const struct item *item = any_item_of(dice, ~(1u << SCOPE_INLET)), *other;
	size_t from, to, count;

	if (!item || (count = item_children(item->parent, item->scope)) < 2)
		return false;
	from = place_of(item);
	to = roll(dice, count);
	if (from == to)
		return false;
	other = item_child(item->parent, item->scope, to);
	edit->kind = "reorder";
	add_change(edit, survey_where(&survey, item, QUESTION_NONE, &arena), "",
	           to > from ? other->ref
	           : to > 0  ? item_child(item->parent, item->scope, to - 1)->ref
	                     : "");
	touch_item(edit, item);
	if (to + 1 == from || from + 1 == to)
		touch_item(edit, other);
	return true;
}

static const char *presence(const struct item *parent, const struct item *item, const char *ref)
{
	return presence_of_new(parent, item->scope, ref, &arena);
}

/* To another room, or another inlet: it goes with all that it holds. */
static bool edit_move(struct edit *edit, struct dice *dice)
{
	const struct item *item = any_item_of(dice, 1u << SCOPE_POINT | 1u << SCOPE_PROTECTION);
	const struct item *parent =
	        !item ? NULL
	              : any_item_of(dice, item->scope == SCOPE_POINT ? 1u << SCOPE_ROOM
	                                                             : 1u << SCOPE_INLET);
	struct change gone;
	struct changes back = {0};

	if (!parent || item->parent == parent || is_named(&survey, survey.premises, item->ref))
		return false;
	edit->kind = "move";
	gone = (struct change){survey_where(&survey, item, QUESTION_NONE, &arena), "", NULL};
	ck_assert(survey_inverse(&survey, &gone, &arena, &back));
	add_change(edit, gone.where, "", NULL);
	add_change(edit, presence(parent, item, item->ref), NULL,
	           any_place(parent, item->scope, dice));
	for (size_t i = 1; i < back.count; i++)
		add_change(edit, back.item[i].where, back.item[i].before, back.item[i].after);
	touch_item(edit, item);
	touch(edit, presence(parent, item, item->ref));
	if (parent->scope == SCOPE_INLET)
		touch(edit, arena_print(&arena, "%s/inlets/%s/protection", parent->parent->ref,
		                        parent->ref));
	return true;
}

static void copy_item(struct edit *edit, const struct item *item, const char *where,
                      const char *path, const char *after, size_t *number)
{
	const char *last_of[SCOPE_COUNT];

	for (size_t i = 0; i < SCOPE_COUNT; i++)
		last_of[i] = "";
	add_change(edit, where, NULL, after);
	for (size_t i = 0; i < item->answer_count; i++) {
		const char *own = survey_where(&survey, item, item->answer[i].question, &arena);
		/* what follows the item's own path: `K1`, or `K1/inlets/cold` */
		size_t skip = item->scope == SCOPE_INLET
		                      ? strlen(item->parent->ref) + 8 + strlen(item->ref)
		                      : strlen(item->ref);
		const char *rest = strstr(own, item->ref);
		rest = item->scope == SCOPE_INLET ? own + skip : rest + skip;
		add_change(edit, arena_print(&arena, "%s%s", path, rest), NULL,
		           item->answer[i].text);
	}
	for (size_t i = 0; i < item->child_count; i++) {
		const struct item *child = item->child[i];
		bool inlet = child->scope == SCOPE_INLET;
		const char *ref = inlet ? child->ref : arena_print(&arena, "copy%zu", ++*number);
		const char *below =
		        arena_print(&arena, "%s/%s/%s", path, survey_list_key(child->scope), ref);
		copy_item(edit, child, below, inlet ? below : ref, last_of[child->scope], number);
		last_of[child->scope] = ref;
	}
	if (item->scope == SCOPE_INLET && item->cannot_tell)
		add_change(edit, arena_print(&arena, "%s/protection", path), NULL, "cannot_tell");
}

/* Left by an earlier edit. */
static bool has_copies(void)
{
	for (size_t i = 0; i < survey.by_ref_size; i++)
		if (survey.by_ref[i] && strncmp(survey.by_ref[i]->ref, "copy", 4) == 0)
			return true;
	return false;
}

/* Once more, with refs of its own, after itself. */
static bool edit_copy(struct edit *edit, struct dice *dice)
{
	const struct item *item = any_item_of(dice, 1u << SCOPE_POINT);
	size_t number = 0;

	if (!item || has_copies())
		return false;
	edit->kind = "copy";
	copy_item(edit, item, presence(item->parent, item, "copy"), "copy", item->ref, &number);
	touch(edit, edit->changes.item[0].where);
	return true;
}

static bool (*const edits[])(struct edit *, struct dice *) = {
        edit_set, edit_insert,  edit_unset, edit_name, edit_delete,
        edit_add, edit_reorder, edit_move,  edit_copy,
};
enum { EDIT_KINDS = sizeof(edits) / sizeof(edits[0]) };

static struct edit any_edit(struct dice *dice, size_t kind)
{
	/* not every file has two of everything */
	for (int i = 0; i < 2000; i++) {
		struct edit edit = {0};
		if (edits[i < 1000 ? kind : roll(dice, EDIT_KINDS)](&edit, dice))
			return edit;
	}
	ck_abort_msg("nothing to edit");
	return (struct edit){0};
}

static void make(const struct edit *edit)
{
	for (size_t i = 0; i < edit->changes.count; i++) {
		struct err err = {0};
		ck_assert_msg(survey_apply(&survey, &edit->changes.item[i], &err), "%s %s: %s",
		              edit->kind, edit->changes.item[i].where, err.message);
	}
}

static void assert_says_the_same(const struct edit *edit, const struct source *out)
{
	struct survey again = {0};
	struct changes changes;

	read_into(&again, out);
	ck_assert(survey_compare(&survey, &again, &arena, &changes));
	ck_assert_msg(changes.count == 0, "%s %s: %s\n%s\n=>\n%s", edit->kind,
	              edit->changes.item[0].where, changes.item[0].where, original.text, out->text);
	survey_finish(&again);
}

/* From lines into brackets comments and keys of one's own can't be taken along; it says so. */
static bool may_be_refused(const struct edit *edit, const struct err *err)
{
	return err->kind == ERR_CONFLICT && strcmp(edit->kind, "move") == 0 &&
	       strstr(err->message, "moves into brackets");
}

/* @return whether it could be saved. */
static bool save(const struct edit *edit, struct source *out)
{
	struct err err = {0};
	char *text = NULL;

	*out = (struct source){"written.yaml", NULL, 0};
	if (survey_write(&survey, &original, &arena, &text, &out->length, &err)) {
		out->text = text;
		return true;
	}
	ck_assert_msg(may_be_refused(edit, &err), "%s %s: %s\n%s", edit->kind,
	              edit->changes.item[0].where, err.message, original.text);
	return false;
}

/* -- the tests ------------------------------------------------------------------------------------- */

START_TEST(unchanged_it_is_the_same_bytes)
{
	struct source out;

	open_file(_i);
	ck_assert(save(&(struct edit){0}, &out));
	ck_assert_msg(out.length == original.length &&
	                      memcmp(out.text, original.text, out.length) == 0,
	              "%s", files[_i]);
}
END_TEST

/* Each on the file as it was. */
START_TEST(an_edit_changes_its_own_lines)
{
	struct dice dice = {(uint64_t)_i * 7919 + 101};
	size_t done[EDIT_KINDS] = {0}, refused = 0;

	for (size_t i = 0; i < EDITS; i++) {
		struct source out;
		arena_reset(&arena);
		open_file(_i);
		struct edit edit = any_edit(&dice, i % EDIT_KINDS);
		make(&edit);
		if (!save(&edit, &out)) {
			refused++;
			continue;
		}
		done[i % EDIT_KINDS]++;
		assert_says_the_same(&edit, &out);
		judge(&edit, &out);
	}
	printf("%s: %d edits, %zu refused\n", files[_i], EDITS, refused);
	ck_assert_uint_le(refused, EDITS / EDIT_KINDS);
}
END_TEST

/* Each on what the one before left. */
START_TEST(edits_on_edits)
{
	struct dice dice = {(uint64_t)_i * 104729 + 211};

	open_file(_i);
	for (size_t i = 0; i < EDITS; i++) {
		struct edit edit = any_edit(&dice, roll(&dice, EDIT_KINDS));
		struct source out;
		make(&edit);
		if (!save(&edit, &out)) {
			read_into(&survey, &original);
			continue;
		}
		assert_says_the_same(&edit, &out);
		if (out.length < 12000) /* the judge's lines have an end */
			judge(&edit, &out);
		original = out;
		read_into(&survey, &original);
	}
}
END_TEST

#define COUNT(table) ((int)(sizeof(table) / sizeof((table)[0])))

int main(void)
{
	Suite *suite = suite_create("survey_odd");
	TCase *tcase = tcase_create("survey_odd");

	tcase_add_unchecked_fixture(tcase, read_book, forget_book);
	tcase_add_checked_fixture(tcase, setup, teardown);
	tcase_set_timeout(tcase, 60);
	tcase_add_loop_test(tcase, unchanged_it_is_the_same_bytes, 0, COUNT(files));
	tcase_add_loop_test(tcase, an_edit_changes_its_own_lines, 0, COUNT(files));
	tcase_add_loop_test(tcase, edits_on_edits, 0, COUNT(files));
	suite_add_tcase(suite, tcase);
	return suite_run(suite);
}
