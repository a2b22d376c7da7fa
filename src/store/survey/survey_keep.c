#include "survey_keep.h"

#include <stdlib.h>
#include <string.h>

/* -- unknown keys --------------------------------------------------------------------- */

/* A scalar, or an empty list or map, that the survey does not know. */
struct unknown {
	const char *path, *value;
	const char *ref, *inlet; /* the item it stands in; NULL: the premises, no inlet */
	uint32_t at;
};

struct collecting {
	const struct rulebook *book;
	const struct question **question; /* sorted by scope, map and id */
	struct arena *arena;
	struct unknown *unknown;
	size_t count, room;
	bool failed;
};

/* Where in the survey's shape a map stands. */
struct spot {
	enum scope scope;
	const char *at; /* a map of answers; "" the item's own */
	const char *ref, *inlet, *path;
};

static int compare_places(enum scope scope, const char *at, const char *id,
                          const struct question *question)
{
	int order = strcmp(at, question->at);

	if (scope != question->scope)
		return scope < question->scope ? -1 : 1;
	return order != 0 ? order : strcmp(id, question->id);
}

static int by_place(const void *a, const void *b)
{
	const struct question *one = *(const struct question *const *)a;

	return compare_places(one->scope, one->at, one->id, *(const struct question *const *)b);
}

/* Asked by whatever kind or type: when that changes, an answer may become unknown, or known. */
static bool is_question(const struct collecting *collecting, enum scope scope, const char *at,
                        const char *id)
{
	size_t low = 0, high = collecting->book->question_count;

	while (low < high) {
		size_t middle = low + (high - low) / 2;
		int order = compare_places(scope, at, id, collecting->question[middle]);

		if (order == 0)
			return true;
		if (order < 0)
			high = middle;
		else
			low = middle + 1;
	}
	return false;
}

static bool is_answer_map(const struct collecting *collecting, enum scope scope, const char *key)
{
	for (size_t i = 0; i < collecting->book->question_count; i++)
		if (collecting->question[i]->scope == scope &&
		    strcmp(collecting->question[i]->at, key) == 0)
			return true;
	return false;
}

static const char *below(struct collecting *collecting, const char *path, const char *name)
{
	const char *joined =
	        arena_print(collecting->arena, "%s%s%s", path, path[0] == '\0' ? "" : "/", name);

	if (joined == NULL)
		collecting->failed = true;
	return joined == NULL ? "" : joined;
}

static void note(struct collecting *collecting, const struct tree *node, const struct spot *spot,
                 const char *path)
{
	struct unknown *grown = arena_grow(collecting->arena, collecting->unknown,
	                                   collecting->count, &collecting->room, sizeof(*grown));

	if (grown == NULL) {
		collecting->failed = true;
		return;
	}
	collecting->unknown = grown;
	grown[collecting->count++] = (struct unknown){
	        .path = path,
	        .value = node->kind == EVENT_SCALAR ? node->text
	                 : node->kind == EVENT_LIST ? "[]"
	                                            : "{}",
	        .ref = spot->ref,
	        .inlet = spot->inlet,
	        .at = tree_entry_start(node),
	};
}

static void note_all(struct collecting *collecting, const struct tree *node,
                     const struct spot *spot, const char *path)
{
	size_t number = 0;

	if (node->child == NULL)
		note(collecting, node, spot, path);
	for (const struct tree *child = node->child; child != NULL && !collecting->failed;
	     child = child->next) {
		const char *name = child->key != NULL
		                           ? child->key
		                           : arena_print(collecting->arena, "%zu", number++);

		if (name == NULL)
			collecting->failed = true;
		else
			note_all(collecting, child, spot, below(collecting, path, name));
	}
}

static void collect_map(struct collecting *collecting, const struct tree *map, struct spot spot);

static void collect_list(struct collecting *collecting, const struct tree *list, enum scope scope,
                         const struct spot *parent)
{
	for (const struct tree *item = list->child; item != NULL && !collecting->failed;
	     item = item->next) {
		const struct tree *ref = tree_get(item, "ref");

		if (ref == NULL || ref->kind != EVENT_SCALAR)
			note_all(collecting, item, parent,
			         below(collecting, parent->path, survey_list_key(scope)));
		else
			collect_map(collecting, item,
			            (struct spot){scope, "", ref->text, NULL, ref->text});
	}
}

static void collect_inlets(struct collecting *collecting, const struct tree *inlets,
                           const struct spot *point)
{
	struct spot spot = {SCOPE_INLET, "", point->ref, NULL, NULL};
	const char *path = below(collecting, point->path, "inlets");

	for (const struct tree *inlet = inlets->child; inlet != NULL && !collecting->failed;
	     inlet = inlet->next) {
		spot.inlet = inlet->key;
		spot.path = below(collecting, path, inlet->key);
		if (inlet->kind == EVENT_MAP && strncmp(inlet->key, "x-", 2) != 0)
			collect_map(collecting, inlet, spot);
		else if (!tree_is_empty(inlet))
			note_all(collecting, inlet, &spot, spot.path);
	}
}

/* Which items a key of an item holds, or SCOPE_COUNT. */
static enum scope list_of(const struct spot *spot, const char *key)
{
	static const struct {
		enum scope parent, child;
	} lists[] = {
	        {SCOPE_PREMISES,   SCOPE_PART      },
                {SCOPE_BRANCH,     SCOPE_PROTECTION},
	        {SCOPE_ROOM,       SCOPE_POINT     },
                {SCOPE_POINT,      SCOPE_ACTION    },
	        {SCOPE_INLET,      SCOPE_PROTECTION},
                {SCOPE_PROTECTION, SCOPE_TEST      },
	        {SCOPE_POINT,      SCOPE_PROTECTION},
	};

	for (size_t i = 0; i < sizeof(lists) / sizeof(lists[0]); i++)
		if (lists[i].parent == spot->scope && spot->at[0] == '\0' &&
		    strcmp(key, survey_list_key(lists[i].child)) == 0)
			return lists[i].child;
	if (spot->scope == SCOPE_PREMISES && strcmp(spot->at, "supply") == 0 &&
	    strcmp(key, survey_list_key(SCOPE_PROTECTION)) == 0)
		return SCOPE_PROTECTION;
	return SCOPE_COUNT;
}

static void collect_key(struct collecting *collecting, const struct tree *node,
                        const struct spot *spot)
{
	enum scope list = list_of(spot, node->key);
	bool own = spot->at[0] == '\0';
	struct spot inside = *spot;

	if (own && strcmp(node->key, "ref") == 0 && spot->scope != SCOPE_PREMISES)
		return;
	if (list != SCOPE_COUNT && node->kind == EVENT_LIST) {
		collect_list(collecting, node, list, spot);
	} else if (list == SCOPE_PROTECTION ||
	           is_question(collecting, spot->scope, spot->at, node->key) ||
	           (spot->scope == SCOPE_POINT && own && strcmp(node->key, "fed_by") == 0)) {
		return;
	} else if (spot->scope == SCOPE_POINT && own && strcmp(node->key, "inlets") == 0) {
		collect_inlets(collecting, node, spot);
	} else if (own && node->kind == EVENT_MAP &&
	           is_answer_map(collecting, spot->scope, node->key)) {
		inside.at = node->key;
		inside.path = below(collecting, spot->path, node->key);
		collect_map(collecting, node, inside);
	} else if (!tree_is_empty(node)) {
		note_all(collecting, node, spot, below(collecting, spot->path, node->key));
	}
}

static void collect_map(struct collecting *collecting, const struct tree *map, struct spot spot)
{
	for (const struct tree *node = map->child; node != NULL && !collecting->failed;
	     node = node->next)
		collect_key(collecting, node, &spot);
}

static void collect_root(struct collecting *collecting, const struct tree *root)
{
	struct spot premises = {SCOPE_PREMISES, "", NULL, NULL, "premises"};
	struct spot supply = {SCOPE_PREMISES, "supply", NULL, NULL, "supply"};
	struct spot top = {SCOPE_PREMISES, "", NULL, NULL, ""};

	for (const struct tree *node = root->child; node != NULL && !collecting->failed;
	     node = node->next) {
		if (strcmp(node->key, "tundish") == 0)
			continue;
		if (strcmp(node->key, "premises") == 0)
			collect_map(collecting, node, premises);
		else if (strcmp(node->key, "supply") == 0)
			collect_map(collecting, node, supply);
		else if (strcmp(node->key, survey_list_key(SCOPE_BRANCH)) == 0)
			collect_list(collecting, node, SCOPE_BRANCH, &top);
		else if (strcmp(node->key, survey_list_key(SCOPE_ROOM)) == 0)
			collect_list(collecting, node, SCOPE_ROOM, &top);
		else if (node->kind == EVENT_MAP &&
		         is_answer_map(collecting, SCOPE_PREMISES, node->key))
			collect_map(
			        collecting, node,
			        (struct spot){SCOPE_PREMISES, node->key, NULL, NULL, node->key});
		else if (!tree_is_empty(node))
			note_all(collecting, node, &top, node->key);
	}
}

static int by_path(const void *a, const void *b)
{
	const struct unknown *one = a, *other = b;
	int order = strcmp(one->path, other->path);

	return order != 0 ? order : strcmp(one->value, other->value);
}

static bool collect(struct collecting *collecting, const struct tree_text *tree)
{
	size_t count = collecting->book->question_count;

	collecting->question = arena_take(collecting->arena, count * sizeof(struct question *));
	if (collecting->question == NULL)
		return false;
	for (size_t i = 0; i < count; i++)
		collecting->question[i] = &collecting->book->question[i];
	qsort(collecting->question, count, sizeof(struct question *), by_place);
	if (tree->root != NULL)
		collect_root(collecting, tree->root);
	if (collecting->count > 1)
		qsort(collecting->unknown, collecting->count, sizeof(*collecting->unknown),
		      by_path);
	return !collecting->failed;
}

/* Its item was taken out, and it with it. */
static bool went_with_item(const struct survey *survey, const struct unknown *unknown)
{
	const struct item *item;

	if (unknown->ref == NULL)
		return false;
	item = survey_find(survey, unknown->ref, strlen(unknown->ref));
	if (item == NULL)
		return true;
	if (unknown->inlet == NULL)
		return false;
	for (size_t i = 0; i < item->child_count; i++)
		if (item->child[i]->scope == SCOPE_INLET &&
		    strcmp(item->child[i]->ref, unknown->inlet) == 0)
			return false;
	return strncmp(unknown->inlet, "x-", 2) != 0;
}

static bool lost(const struct tree_text *tree, const struct unknown *unknown, const char *verb,
                 struct err *err)
{
	err_set(err, ERR_CONFLICT,
	        "saving would %s `%.120s` (line %zu), which nobody changed: nothing was written",
	        verb, unknown->path, source_place(tree->source, unknown->at).line);
	return false;
}

bool keeps_unknown(const struct tree_text *before, const struct tree_text *after,
                   const struct survey *survey, struct arena *arena, struct err *err)
{
	struct collecting was = {.book = survey->book, .arena = arena},
	                  is = {.book = survey->book, .arena = arena};
	size_t i = 0, j = 0;

	if (!collect(&was, before) || !collect(&is, after)) {
		err_set(err, ERR_MEMORY, "there is no memory to write the survey");
		return false;
	}
	while (i < was.count || j < is.count) {
		int order = i == was.count  ? 1
		            : j == is.count ? -1
		                            : by_path(&was.unknown[i], &is.unknown[j]);

		if (order > 0)
			return lost(after, &is.unknown[j], "add", err);
		if (order < 0 && !went_with_item(survey, &was.unknown[i]))
			return lost(before, &was.unknown[i], "change or lose", err);
		i++;
		j += order == 0;
	}
	return true;
}

/* -- comments ------------------------------------------------------------------------- */

struct comment {
	const char *text;
	uint32_t length, at;
};

static int by_text(const void *a, const void *b)
{
	const struct comment *one = a, *other = b;

	if (one->length != other->length)
		return one->length < other->length ? -1 : 1;
	return memcmp(one->text, other->text, one->length);
}

static struct comment *sorted_comments(const struct tree_text *tree, const bool *gone,
                                       struct arena *arena, size_t *count)
{
	struct comment *comments = arena_take(arena, tree->comment_count * sizeof(*comments));

	*count = 0;
	for (size_t i = 0; comments != NULL && i < tree->comment_count; i++)
		if (gone == NULL || !gone[i])
			comments[(*count)++] =
			        (struct comment){tree->source->text + tree->comment[i].at,
			                         tree->comment[i].length, tree->comment[i].at};
	if (*count > 1)
		qsort(comments, *count, sizeof(*comments), by_text);
	return comments;
}

/* What was taken for gone may have moved with its item: then there are more than were to be. */
bool keeps_comments(const struct tree_text *before, const bool *gone, const struct tree_text *after,
                    struct arena *arena, struct err *err)
{
	size_t count = 0, left = 0, j = 0;
	struct comment *was = sorted_comments(before, gone, arena, &count);
	struct comment *is = sorted_comments(after, NULL, arena, &left);

	if (was == NULL || is == NULL) {
		err_set(err, ERR_MEMORY, "there is no memory to write the survey");
		return false;
	}
	for (size_t i = 0; i < count; i++, j++) {
		while (j < left && by_text(&is[j], &was[i]) < 0)
			j++;
		if (j < left && by_text(&is[j], &was[i]) == 0)
			continue;
		err_set(err, ERR_CONFLICT,
		        "saving would lose the comment on line %zu: `%.*s`: nothing was written",
		        source_place(before->source, was[i].at).line,
		        was[i].length < 80 ? (int)was[i].length : 80, was[i].text);
		return false;
	}
	if (left <= before->comment_count)
		return true;
	err_set(err, ERR_CONFLICT,
	        "saving would make a comment of what is none: nothing was written");
	return false;
}
